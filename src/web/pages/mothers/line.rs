//! One mother on a line of the list.

use super::list::gestation_words;
use crate::clinical::{Day, Urgency};
use crate::registry::PregnancyEnding;
use crate::registry::mothers::{Course, Line};
use crate::registry::posts::Post;
use crate::web::spoken;

/// What the list says about her.
pub(super) struct Row {
    pub(super) id: String,
    pub(super) name: String,
    pub(super) number: String,
    pub(super) village: String,
    pub(super) course: String,
    pub(super) next: String,
    /// She should have come: the words stand in a heavy tag.
    pub(super) missed: bool,
    pub(super) urgency: Option<Urgency>,
    pub(super) flags: String,
}

pub(super) fn row(line: Line, post: &Post, today: Day) -> Row {
    let (next, missed) = next(&line, today);
    let urgency = line.flags.first().map(|flag| flag.urgency);
    let more = line.flags.len().saturating_sub(1);
    Row {
        id: line.mother.id.to_string(),
        number: post
            .register_number(line.mother.number)
            .replace(' ', "\u{a0}"),
        village: line
            .mother
            .village
            .clone()
            .unwrap_or_else(|| "–".to_owned()),
        course: course(line.course.as_ref(), post, today),
        next,
        missed,
        urgency,
        flags: match (urgency, more) {
            (None, _) => "No open flag".to_owned(),
            (Some(_), 0) => String::new(),
            (Some(_), more) => format!("and {more} more"),
        },
        name: line.mother.name,
    }
}

fn course(course: Option<&Course>, post: &Post, today: Day) -> String {
    let Some(course) = course else {
        return "–".to_owned();
    };
    let Some(ended) = course.ended_at else {
        return gestation_words(course.due_date, today);
    };
    let on = spoken::day(post.day(ended));
    match course.ending {
        Some(PregnancyEnding::Birth) => format!("gave birth {on}"),
        Some(ending) => format!("{}, {on}", ending.words()),
        None => format!("ended {on}"),
    }
}

fn next(line: &Line, today: Day) -> (String, bool) {
    if line
        .course
        .as_ref()
        .is_none_or(|course| course.ended_at.is_some())
    {
        return ("–".to_owned(), false);
    }
    if line.in_labour {
        return ("in labour".to_owned(), false);
    }
    if let Some(hospital) = &line.referred_to {
        return (format!("referred to {hospital}"), false);
    }
    match line.next_visit_on.map(|on| (on, (today - on).num_days())) {
        None => ("not set".to_owned(), true),
        Some((_, 0)) => ("today".to_owned(), false),
        Some((on, ..0)) => (spoken::short_day(on), false),
        Some((_, past)) => (format!("{} past", spoken::count(past, "day", "days")), true),
    }
}
