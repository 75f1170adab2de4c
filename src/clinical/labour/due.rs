//! What has to be examined again, and when; a list, never a flag.

use super::{Labour, is_contraction_record};
use crate::clinical::record::Record;
use crate::clinical::{DueItem, DueWhat, Liquor, Moment, Stage};
use chrono::Duration;

/// In the order of the reference (4.6). `heart_abnormal` and `right_of_alert`: the rule is raised.
pub(crate) fn due(
    labour: &Labour,
    records: &[Record<'_>],
    on: Moment,
    heart_abnormal: bool,
    right_of_alert: bool,
) -> Vec<DueItem> {
    let close_watch = heart_abnormal || meconium(records);
    let warm =
        last(records, |record| record.temperature()).is_some_and(|(_, tenths)| tenths >= 375);
    DueWhat::ALL
        .iter()
        .filter_map(|what| {
            let mut minutes = interval(*what, labour, right_of_alert)?;
            match what {
                DueWhat::FetalHeart if close_watch => minutes = minutes.min(15),
                DueWhat::Temperature if warm => minutes = minutes.min(120),
                _ => {}
            }
            let seen = records
                .iter()
                .rev()
                .find(|record| has(**record, *what))
                .map(|record| record.at());
            let mut at = seen.map_or(on, |at| at + Duration::minutes(minutes));
            if *what == DueWhat::Dilatation && labour.stage == Some(Stage::Active) {
                // Looked at before the limit of this centimetre, not after it [O].
                if let Some((_, since, limit)) = labour.centimetre_limit() {
                    at = at.min(since + limit);
                }
            }
            Some(DueItem {
                what: *what,
                at,
                overdue: on > at,
            })
        })
        .collect()
}

fn last<T>(
    records: &[Record<'_>],
    found: impl Fn(&Record<'_>) -> Option<T>,
) -> Option<(Moment, T)> {
    records
        .iter()
        .rev()
        .find_map(|record| Some((record.at(), found(record)?)))
}

fn meconium(records: &[Record<'_>]) -> bool {
    last(records, |record| record.row()?.liquor).is_some_and(|(_, liquor)| {
        matches!(
            liquor,
            Liquor::Meconium1 | Liquor::Meconium2 | Liquor::Meconium3
        )
    })
}

/// Minutes; absent where the stage does not list it. No dilatation recorded counts as latent.
fn interval(what: DueWhat, labour: &Labour, right_of_alert: bool) -> Option<i64> {
    let partograph = labour.is_partograph();
    let minutes = match (what, labour.stage.unwrap_or(Stage::Latent)) {
        (DueWhat::FetalHeart | DueWhat::Contractions, Stage::Latent) => 60,
        (DueWhat::FetalHeart | DueWhat::Contractions, Stage::Active) => 30,
        (DueWhat::FetalHeart, Stage::Second) => 5,
        (DueWhat::Contractions, Stage::Second) => 15,
        (DueWhat::Dilatation | DueWhat::Urine, Stage::Second) => return None,
        (DueWhat::Dilatation, Stage::Active) if right_of_alert => 120,
        (DueWhat::Fifths, Stage::Second) => {
            if partograph {
                30
            } else {
                15
            }
        }
        (DueWhat::Pulse, Stage::Active | Stage::Second) if partograph => 30,
        (DueWhat::Temperature, Stage::Active | Stage::Second) if partograph => 120,
        _ => 240,
    };
    Some(minutes)
}

fn has(record: Record<'_>, what: DueWhat) -> bool {
    match what {
        DueWhat::FetalHeart => record.has_count(),
        DueWhat::Contractions => is_contraction_record(record),
        DueWhat::Dilatation => record.dilatation().is_some(),
        DueWhat::Fifths => record.fifths().is_some(),
        DueWhat::Pulse => record.pulse().is_some(),
        DueWhat::Pressure => record.systolic().is_some() || record.diastolic().is_some(),
        DueWhat::Temperature => record.temperature().is_some(),
        DueWhat::Urine => record.protein().is_some(),
    }
}
