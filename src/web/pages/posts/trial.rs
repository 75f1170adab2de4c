//! What other settings would change: the post's own women of the last year judged again, counted, before anything is saved.

use super::form::PostForm;
use super::{PostPage, Stored};
use crate::clinical::Urgency;
use crate::registry::replay::Trial;
use crate::registry::{PostId, posts};
use crate::reporting::replay::{Against, Group, Line, Question, Replay, replay};
use crate::web::answer::{self, Answer};
use crate::web::audience::Keeper;
use crate::web::form::{CheckedForm, Faults, Sense, Typed};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

/// What the page looks back on.
const MONTHS: u32 = 12;
/// More women than a post sees in a year; a few seconds of one reader's time.
const MOST: usize = 2_000;

/// What the section of the page says.
pub(super) struct TrialView {
    pub(super) said: String,
    pub(super) lines: Vec<TrialLine>,
}

pub(super) struct TrialLine {
    pub(super) category: &'static str,
    pub(super) urgency: Option<Urgency>,
    pub(super) cells: Vec<TrialCell>,
}

pub(super) struct TrialCell {
    pub(super) label: &'static str,
    pub(super) women: u64,
    pub(super) fared: String,
}

/// Over the cells.
const HEADS: [&str; 5] = [
    "As saved",
    "As typed",
    "Both",
    "Only as saved",
    "Only as typed",
];

impl TrialView {
    fn of_nothing() -> Self {
        Self {
            said: "What you typed judges like the saved settings; no flag would change.".to_owned(),
            lines: Vec::new(),
        }
    }

    fn of(found: &Replay) -> Self {
        let moved: Vec<&Line> = found.lines.iter().filter(|line| line.moves()).collect();
        let figure = |number| spoken::figure(i64::try_from(number).unwrap_or(i64::MAX));
        let looked_at = format!(
            "{} pregnancies seen in the last {MONTHS} months, {} visits.",
            figure(found.pregnancies),
            figure(found.visits)
        );
        Self {
            said: if moved.is_empty() {
                format!("No flag would have been another one: {looked_at}")
            } else {
                format!("These flags would have been others: {looked_at}")
            },
            lines: moved.into_iter().map(TrialLine::of).collect(),
        }
    }

    pub(super) fn heads(&self) -> [&'static str; 5] {
        HEADS
    }
}

impl TrialLine {
    fn of(line: &Line) -> Self {
        let cell = |(label, group): (&'static str, Group)| TrialCell {
            label,
            women: group.women,
            fared: match line.sign() {
                Some(sign) if group.known > 0 => {
                    format!(
                        "of {} births known, {} {sign}",
                        group.known, group.came_true
                    )
                }
                _ => String::new(),
            },
        };
        Self {
            category: line.category.words(),
            urgency: line.urgency,
            cells: HEADS.into_iter().zip(line.groups()).map(cell).collect(),
        }
    }
}

/// `POST /posts/{id}/try`
pub(in crate::web) async fn try_out(
    _: Keeper,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<PostId>,
    CheckedForm(typed): CheckedForm<Typed>,
) -> Answer {
    let stored = house.read(move |db| Stored::load(db, id)).await?;
    let mut form = PostForm::read(&typed, &stored.hospitals);
    if let Some((settings, _)) = form.settings() {
        let trial = Trial::of(&settings, &stored.post, &stored.ways);
        let question = Question {
            posts: vec![id],
            until: sense.now,
            months: MONTHS,
            most: Some(MOST),
            against: Against::Saved,
            trial,
        };
        let looked = house
            .read(move |db| {
                posts::refuse_unfit(db, id, &settings)?;
                if question.trial.is_empty() {
                    return Ok(None);
                }
                replay(db, &question, |_, _| {}).map(Some)
            })
            .await;
        match looked {
            Ok(found) => {
                let mut page = PostPage::new(shell, &sense, form, Faults::default(), Some(&stored));
                page.trial = Some(
                    found
                        .as_ref()
                        .map_or_else(TrialView::of_nothing, TrialView::of),
                );
                return answer::page(&page);
            }
            Err(error) => form.refuse(error)?,
        }
    }
    let faults = form.faults();
    answer::refused(&PostPage::new(shell, &sense, form, faults, Some(&stored)))
}
