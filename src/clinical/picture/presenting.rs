//! What presents: the hands, changed by what was felt inside.

use crate::clinical::record::Record;
use crate::clinical::{FeltInside, Lie, Moment, Palpation, Presentation, Visit};
use chrono::Duration;

/// Who decided lie and presentation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Told {
    Hands,
    Inside,
}

/// Lie and presentation as the rules read them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Presenting {
    pub(crate) lie: Lie,
    pub(crate) presentation: Presentation,
    pub(crate) told: Told,
    /// The last record of this labour that felt a part inside.
    pub(crate) inside: Option<(Moment, FeltInside)>,
    /// Hands and fingers contradict each other within an hour.
    pub(crate) clash: bool,
}

impl Presenting {
    pub(crate) fn of(hands: Option<&Palpation>, v: Option<&Visit>, labour: &[Record<'_>]) -> Self {
        let (hands_lie, hands_presentation) = hands
            .map_or((Lie::Unknown, Presentation::Unknown), |hands| {
                (hands.lie, hands.presentation)
            });
        let by_hands = Self {
            lie: hands_lie,
            presentation: hands_presentation,
            told: Told::Hands,
            inside: inside(labour),
            clash: false,
        };
        let Some((at, part)) = by_hands.inside else {
            return by_hands;
        };
        let (lie, presentation) = meaning(part);
        let near_in_time = v.is_some_and(|visit| (at - visit.at).abs() <= Duration::hours(1));
        let hands_know = hands_presentation != Presentation::Unknown;
        let later = v.is_none_or(|visit| at > visit.at);
        let clash = near_in_time && hands_know && hands_presentation != presentation;
        if !hands_know || near_in_time || later {
            // Inside is surer, but a lie can change: only near in time or later than the hands [O].
            Self {
                lie,
                presentation,
                told: Told::Inside,
                clash,
                ..by_hands
            }
        } else {
            by_hands
        }
    }
}

/// The cord and “not sure” say nothing of the part that presents.
fn inside(labour: &[Record<'_>]) -> Option<(Moment, FeltInside)> {
    labour.iter().rev().find_map(|record| {
        let felt = record.row()?.felt_inside?;
        (!matches!(felt, FeltInside::Cord | FeltInside::Unsure)).then_some((record.at(), felt))
    })
}

fn meaning(part: FeltInside) -> (Lie, Presentation) {
    match part {
        FeltInside::Breech => (Lie::Longitudinal, Presentation::Breech),
        FeltInside::Shoulder => (Lie::Transverse, Presentation::Shoulder),
        _ => (Lie::Longitudinal, Presentation::Cephalic),
    }
}
