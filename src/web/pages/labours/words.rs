//! What a labour comes to, in the words of its pages.

use chrono::TimeDelta;

use super::super::hers::{Hers, short};
use crate::clinical::{DueItem, LabourPicture, LabourRow, LabourState, Moment, Stage, Urgency};
use crate::registry::flags::{self, Flag};
use crate::registry::labours::{self, Labour, StoredRow};
use crate::registry::{self, Db, LabourId, PostId};
use crate::web::error::PageError;
use crate::web::spoken;
use crate::web::state::House;

/// One woman in labour, judged now.
pub(super) struct Judged {
    pub(super) labour: Labour,
    pub(super) hers: Hers,
    pub(super) flags: Vec<Flag>,
}

impl Judged {
    pub(super) fn of(
        db: &mut Db,
        post: PostId,
        labour: Labour,
        now: Moment,
    ) -> registry::Result<Self> {
        let hers = Hers::read(db, post, labour.pregnancy, now)?;
        let flags = flags::standing(db, labour.pregnancy)?;
        Ok(Self {
            labour,
            hers,
            flags,
        })
    }

    /// Time has passed a limit that no flag in the register tells of yet.
    pub(super) fn is_behind(&self) -> bool {
        let known = |said: &crate::clinical::Flag| {
            self.flags
                .iter()
                .any(|flag| flag.rule == said.rule && flag.urgency == said.urgency)
        };
        self.labour.closed_at.is_none() && !self.hers.assessment.flags.iter().all(known)
    }

    pub(super) fn picture(&self) -> Option<&LabourPicture> {
        self.hers.assessment.labour.as_ref()
    }

    /// The flag that says most.
    pub(super) fn worst(&self) -> Option<&Flag> {
        self.flags.first()
    }

    pub(super) fn urgency(&self) -> Option<Urgency> {
        self.worst().map(|flag| flag.urgency)
    }

    pub(super) fn first_due(&self) -> Option<&DueItem> {
        self.picture()?.due.iter().min_by_key(|due| due.at)
    }

    /// Urgency, then what is overdue, then the time to leave.
    pub(super) fn pressing(&self) -> (u8, Moment, Moment) {
        let rank = match self.urgency() {
            Some(Urgency::Now) => 0,
            Some(Urgency::Soon | Urgency::Review) => 1,
            Some(Urgency::Recheck) => 2,
            None => 3,
        };
        let far = Moment::MAX;
        let due = self.first_due().map_or(far, |due| due.at);
        (
            rank,
            due,
            self.picture().and_then(|it| it.leave_by).unwrap_or(far),
        )
    }

    /// `Active labour, 6 cm since 12:00`.
    pub(super) fn state(&self, now: Moment) -> String {
        let post = &self.hers.post;
        let Some(labour) = self.picture() else {
            return "Not in labour".to_owned();
        };
        let stage = match labour.stage {
            None => "In labour, not examined inside yet",
            Some(Stage::Latent) => "Early labour",
            Some(Stage::Active) => "Active labour",
            Some(Stage::Second) => "Second stage",
        };
        match (labour.highest_cm, labour.first_recorded_at) {
            (Some(cm), Some(at)) => {
                format!("{stage}, {cm}\u{a0}cm since {}", short(post, at, now))
            }
            _ => stage.to_owned(),
        }
    }

    /// How long until she must leave, in words: figure and explanation.
    pub(super) fn to_leave(&self, now: Moment) -> (String, String) {
        let post = &self.hers.post;
        let Some(labour) = self.picture() else {
            return ("–".to_owned(), String::new());
        };
        let arrival = labour
            .arrival_at
            .map(|at| format!("arrival {} when she leaves now", short(post, at, now)));
        let limit = labour
            .limits
            .first()
            .map(|limit| format!("limit {}", short(post, limit.at, now)));
        let both: Vec<_> = [arrival, limit].into_iter().flatten().collect();
        let near = if labour.birth_near {
            ". Birth may come before arrival: call first"
        } else {
            ""
        };
        if self.urgency() == Some(Urgency::Now) {
            return ("Leave now".to_owned(), format!("{}{near}", both.join(", ")));
        }
        match (labour.state, labour.leave_by) {
            (LabourState::InTime, Some(leave_by)) => {
                let left = TimeDelta::max(leave_by - now, TimeDelta::zero());
                let words = format!(
                    "leave by {}, {}{near}",
                    short(post, leave_by, now),
                    both.last().map_or("", String::as_str)
                );
                (spoken::span(left), words)
            }
            (LabourState::Late, _) => (
                "Decide now".to_owned(),
                format!(
                    "if she does not progress, the limit comes before she could arrive; {}{near}",
                    both.join(", ")
                ),
            ),
            (LabourState::NoTravelTime, _) => {
                ("travel time not set".to_owned(), limit_words(both.last()))
            }
            (LabourState::NoLimit | LabourState::InTime, _) => (
                "no limit yet".to_owned(),
                near.trim_start_matches(". ").to_owned(),
            ),
        }
    }
}

/// A limit by the rule that it raises, in words.
pub(super) fn rule_words(rule: &str) -> &str {
    match rule {
        "slow-dilatation" => "at this dilatation",
        "active-stage-long" => "active stage",
        "past-action" => "action line",
        "latent-long" => "early labour",
        "second-stage-long" => "second stage",
        "waters-long" => "waters broken 24 h",
        other => other,
    }
}

fn limit_words(limit: Option<&String>) -> String {
    limit.cloned().unwrap_or_default()
}

/// `in 10 min`, `now` or `1 min overdue`; the second part says whether it is overdue.
pub(super) fn due_words(due: &DueItem, now: Moment) -> (String, bool) {
    if due.overdue {
        (format!("{} overdue", spoken::span(now - due.at)), true)
    } else if due.at - now < TimeDelta::minutes(1) {
        ("due now".to_owned(), false)
    } else {
        (format!("in {}", spoken::span(due.at - now)), false)
    }
}

/// Records of a post with their judgement; where a limit has passed unseen its flag is raised first.
pub(super) async fn judged(
    house: &House,
    by: registry::By,
    post: PostId,
    wanted: Option<LabourId>,
    now: Moment,
) -> Result<Vec<Judged>, PageError> {
    let read = move |db: &mut Db| {
        let labours = match wanted {
            Some(id) => vec![labours::one(db, post, id)?],
            None => labours::in_labour(db, post)?,
        };
        labours
            .into_iter()
            .map(|labour| Judged::of(db, post, labour, now))
            .collect::<registry::Result<Vec<_>>>()
    };
    let found = house.read(read).await?;
    let behind: Vec<_> = found
        .iter()
        .filter(|it| it.is_behind())
        .map(|it| it.labour.pregnancy)
        .collect();
    if behind.is_empty() {
        return Ok(found);
    }
    for pregnancy in behind {
        house
            .write(by.clone(), move |change| {
                labours::judge_now(change, pregnancy)
            })
            .await?;
    }
    house.read(read).await
}

/// What a row says beside its own columns.
pub(super) fn and_more(row: &StoredRow) -> String {
    let mut parts = beside_the_columns(&row.row.found);
    parts.extend(row.row.note.clone());
    parts.extend(row.reason.as_ref().map(|why| format!("amended: {why}")));
    if parts.is_empty() {
        "–".to_owned()
    } else {
        parts.join(", ")
    }
}

/// What was found beside dilatation, fifths, heart, contractions and liquor.
pub(in crate::web::pages) fn beside_the_columns(found: &LabourRow) -> Vec<String> {
    let mut parts: Vec<String> = Vec::new();
    parts.extend(found.pulse.map(|it| format!("pulse {it}")));
    match (found.systolic, found.diastolic) {
        (None, None) => {}
        (systolic, diastolic) => {
            let part = |it: Option<u16>| it.map_or_else(|| "?".to_owned(), |it| it.to_string());
            parts.push(format!("{}/{}", part(systolic), part(diastolic)));
        }
    }
    parts.extend(
        found
            .temperature_tenths
            .map(|it| format!("{}\u{a0}°C", spoken::tenths(i32::from(it)))),
    );
    parts.extend(
        found
            .urine_protein
            .map(|it| format!("urine protein {}", it.words())),
    );
    parts.extend(
        found
            .felt_inside
            .map(|it| format!("felt inside: {}", it.words())),
    );
    parts.extend(
        found
            .occiput
            .map(|it| format!("back of the head {}", it.words())),
    );
    parts.extend(found.moulding.map(|it| format!("moulding {it}")));
    parts.extend(found.caput.map(|it| format!("caput {it}")));
    parts.extend(
        found
            .deceleration
            .map(|it| format!("heart slows around contractions: {}", it.words())),
    );
    parts.extend(
        found
            .pushing
            .map(|it| if it { "pushing" } else { "not pushing" }.to_owned()),
    );
    parts.extend(found.danger_signs.iter().map(|it| it.words().to_owned()));
    parts.extend(
        found
            .obstruction_signs
            .iter()
            .map(|it| it.words().to_owned()),
    );
    parts
}
