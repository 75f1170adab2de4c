//! A head that does not come down, and how long she has pushed.

use crate::clinical::Moment;
use crate::clinical::record::Record;
use chrono::Duration;

/// Two counts of fifths, the later not lower.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Descent {
    pub(crate) first: (Moment, u8),
    pub(crate) last: (Moment, u8),
}

/// About one fifth in 4 h is expected from 7 cm on [R OU-L4; O the 7 cm]; answers the pair that did not move.
pub(crate) fn arrest(records: &[Record<'_>]) -> Option<Descent> {
    let mut largest = None;
    let mut counts: Vec<(Moment, u8)> = Vec::new();
    for record in records {
        largest = largest.max(record.dilatation());
        if let (Some(7..), Some(fifths)) = (largest, record.fifths()) {
            counts.push((record.at(), fifths));
        }
    }
    let last = *counts.last()?;
    let first = *counts
        .iter()
        .find(|(at, fifths)| last.0 - *at >= Duration::hours(4) && last.1 >= *fifths)?;
    (last.1 >= 1).then_some(Descent { first, last })
}

/// The clock of pushing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Pushing {
    pub(crate) since: Moment,
    /// Fifths that did not fall over half an hour or more of it.
    pub(crate) no_descent: Option<Descent>,
}

/// Runs while the last word on pushing is yes, from the first record at 10 cm or without an examination.
pub(crate) fn pushing(records: &[Record<'_>]) -> Option<Pushing> {
    let told = |record: &Record<'_>| record.row().and_then(|row| row.pushing);
    let since = records
        .iter()
        .rev()
        .filter(|record| told(record).is_some())
        .take_while(|record| told(record) == Some(true))
        .filter(|record| record.dilatation().is_none_or(|cm| cm >= 10))
        .last()?
        .at();
    let mut fifths = records
        .iter()
        .filter(|record| record.at() >= since)
        .filter_map(|record| Some((record.at(), record.fifths()?)));
    let no_descent = fifths.next().and_then(|first| {
        let last = fifths.next_back()?;
        let stays = last.0 - first.0 >= Duration::minutes(30) && last.1 >= first.1 && last.1 >= 1;
        stays.then_some(Descent { first, last })
    });
    Some(Pushing { since, no_descent })
}
