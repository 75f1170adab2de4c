//! A case in words, as somebody would tell it at the bedside; what was felt stays what was felt.

use chrono_tz::Tz;

use super::exercises::Exercise;
use crate::clinical::{Basis, LabourRow, Mother, Post, Visit, date_pregnancy, gestation_text};
use crate::registry::visits::Findings;
use crate::web::form::Sense;
use crate::web::pages::labours::words::beside_the_columns;
use crate::web::pages::visits::seen::Seen;
use crate::web::pages::visits::tapes;
use crate::web::pages::visits::words::{Group, entries};
use crate::web::spoken;

/// Cases live on a day of their own, by its clock.
pub(super) fn sense(exercise: &Exercise) -> Sense {
    Sense {
        now: exercise.case.on,
        zone: Tz::UTC,
    }
}

/// Term and words.
type Facts = Vec<(String, String)>;

/// What is told before she is asked.
pub(super) struct Told {
    pub(super) woman: Facts,
    pub(super) found: Facts,
    /// “Found”, with its time where more was found later.
    pub(super) when: String,
    /// Earlier visits, the oldest first.
    pub(super) before: Facts,
    /// Rows of the labour.
    pub(super) since: Facts,
    pub(super) seen: Seen,
    /// Gestation in days at the last visit.
    pub(super) gestation: Option<i64>,
}

impl Told {
    /// `None` for a case without a visit, which the file does not hold.
    pub(super) fn of(exercise: &Exercise) -> Option<Self> {
        let case = &exercise.case;
        let last = exercise.visit()?;
        let sense = sense(exercise);
        let dated = date_pregnancy(&case.dating, case.on.date());
        let all: Vec<Findings> = exercise
            .earlier()
            .into_iter()
            .chain([last])
            .map(found)
            .collect();
        let course = tapes::course(&all, &dated, case.post.fundal_height_method, &sense);
        let seen = Seen::of("case", &found(last), &course, sense.zone);
        let at = |visit: &Visit| {
            let day = spoken::moment(visit.at, sense.zone);
            match dated.gestation_on(visit.at.date()) {
                Some(days) => format!("{day}, at {}", gestation_text(days)),
                None => day,
            }
        };
        let earlier = exercise.earlier().into_iter();
        let today = spoken::moment(case.on, sense.zone);
        let row = |row: &LabourRow| (spoken::time(row.at, sense.zone), row_words(row));
        Some(Self {
            woman: vec![
                // Answers name days: “check again on 1 Oct” says nothing to whoever does not know today's.
                ("Day of the case".to_owned(), today),
                ("She".to_owned(), mother_words(&case.mother)),
                ("Gestation".to_owned(), gestation_words(exercise)),
                ("The post".to_owned(), post_words(&case.post)),
            ],
            found: found_words(&seen),
            when: if last.at == case.on {
                "Found".to_owned()
            } else {
                format!("Found at {}", spoken::time(last.at, sense.zone))
            },
            before: earlier.map(|it| (at(it), visit_words(it))).collect(),
            since: case.labour.iter().map(row).collect(),
            gestation: dated.gestation_on(last.at.date()).map(i64::from),
            seen,
        })
    }
}

fn found(visit: &Visit) -> Findings {
    Findings {
        visit: visit.clone(),
        ..Findings::at(visit.at)
    }
}

/// Every place of the hands, also where nobody felt; of the rest what was recorded.
fn found_words(seen: &Seen) -> Facts {
    let places = ["fundus", "right", "left", "front", "lower"];
    let mut found = Facts::new();
    for it in &seen.entries {
        let hands = it.group == Group::Hands;
        match &it.said {
            Some(said) if hands || it.name == "fundal_height_cm" => {
                found.push((it.label.to_owned(), said.clone()));
            }
            None if places.contains(&it.name) => {
                found.push((it.label.to_owned(), "not examined".to_owned()));
            }
            _ => {}
        }
    }
    let also = seen.also().into_iter();
    found.extend(also.map(|(label, said)| (label.to_owned(), said)));
    found
}

fn visit_words(visit: &Visit) -> String {
    let entries = entries(&found(visit), Tz::UTC);
    let said = entries.iter().filter(|it| it.group != Group::When);
    let said = said.filter_map(|it| Some(format!("{}: {}", it.label, it.said.as_deref()?)));
    said.collect::<Vec<_>>().join("; ")
}

fn row_words(row: &LabourRow) -> String {
    let mut parts = Vec::new();
    parts.extend(row.dilatation_cm.map(|cm| format!("{cm}\u{a0}cm")));
    parts.extend(
        row.fifths
            .map(|fifths| format!("{fifths}/5 above the brim")),
    );
    parts.extend(
        row.fetal_hearts
            .iter()
            .map(|heart| format!("heart {heart}")),
    );
    let contractions = (row.contractions_in_10_min, row.contraction_seconds);
    parts.extend(match contractions {
        (Some(count), Some(seconds)) => Some(format!(
            "{count} contractions in 10\u{a0}min of {seconds}\u{a0}s"
        )),
        (Some(count), None) => Some(format!("{count} contractions in 10\u{a0}min")),
        _ => None,
    });
    parts.extend(row.liquor.map(|liquor| liquor.words().to_owned()));
    parts.extend(beside_the_columns(row));
    parts.join(", ")
}

fn mother_words(mother: &Mother) -> String {
    let mut parts = Vec::new();
    parts.extend(mother.age_years.map(|age| format!("{age} years")));
    parts.push(match mother.births_before {
        None => "births before not known".to_owned(),
        Some(0) => "first baby".to_owned(),
        Some(births) => format!("{} before", spoken::count(births.into(), "birth", "births")),
    });
    let caesareans = mother.previous_caesareans.filter(|count| *count > 0);
    parts.extend(caesareans.map(|count| spoken::count(count.into(), "caesarean", "caesareans")));
    parts.extend(mother.history.iter().map(|it| it.words().to_owned()));
    parts.join(", ")
}

fn gestation_words(exercise: &Exercise) -> String {
    let dated = date_pregnancy(&exercise.case.dating, exercise.case.on.date());
    let Some(known) = &dated.gestation else {
        let why = dated.reason.map_or("no date was told", |it| it.words());
        return format!("not known: {why}");
    };
    let basis = match known.basis {
        Basis::Lmp => "by her last period",
        Basis::Scan => "by a scan",
    };
    let scan = if known.suboptimal {
        "no scan before 22 weeks"
    } else {
        "an early scan agrees"
    };
    let babies = match dated.babies {
        None => String::new(),
        Some(1) => "; it showed one baby".to_owned(),
        Some(babies) => format!("; it showed {babies} babies"),
    };
    format!("{}, {basis}, {scan}{babies}", known.text())
}

fn post_words(post: &Post) -> String {
    let skill = match (post.skilled_breech, post.skilled_twins) {
        (true, true) => "staff skilled in breech and twin birth",
        (true, false) => "staff skilled in breech birth",
        (false, true) => "staff skilled in twin birth",
        (false, false) => "nobody skilled in breech or twin birth",
    };
    match post.travel_minutes {
        Some(minutes) => {
            format!("{minutes}\u{a0}minutes from a hospital that can operate; {skill}")
        }
        None => skill.to_owned(),
    }
}
