//! Whether the waters are broken, since when, and whether somebody contradicted it.

use crate::clinical::Moment;
use crate::clinical::record::{Line, Record, run_start};

/// The waters over the whole line: broken waters do not close [O].
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct WatersPicture {
    pub(crate) broken: bool,
    /// When they broke; unless told, at least since then.
    pub(crate) since: Option<Moment>,
    /// She told the time.
    pub(crate) told: bool,
    /// The last record that said broken.
    pub(crate) said_at: Option<Moment>,
    /// Foul by the last waters record or by any record that is examined now [O: the wider].
    pub(crate) foul_at: Option<Moment>,
    /// Said broken, later said intact.
    pub(crate) contradicted: Option<(Moment, Moment)>,
}

impl WatersPicture {
    pub(crate) fn of<'a>(
        line: &Line<'a>,
        examined: impl DoubleEndedIterator<Item = Record<'a>>,
        told: Option<Moment>,
    ) -> Self {
        let said = || {
            line.all()
                .iter()
                .rev()
                .filter_map(|record| Some((record.at(), record.says_broken()?, *record)))
        };
        let last = said().next();
        let broken_now = last.is_some_and(|(_, broken, _)| broken);
        let run = run_start(said().map(|(at, broken, _)| (at, broken)));
        let foul_last = last.filter(|(_, _, record)| record.says_foul());
        Self {
            broken: told.is_some() || broken_now,
            since: told.or(run),
            told: told.is_some(),
            said_at: said().find(|(_, broken, _)| *broken).map(|(at, ..)| at),
            foul_at: foul_last.map(|(at, ..)| at).or_else(|| {
                examined
                    .rev()
                    .find(|record| record.says_foul())
                    .map(Record::at)
            }),
            contradicted: contradicted(said().map(|(at, broken, _)| (at, broken)), told),
        }
    }

    pub(crate) fn foul(&self) -> bool {
        self.foul_at.is_some()
    }
}

/// The last `intact` that follows a `broken`, with the last `broken` before it.
fn contradicted(
    backwards: impl Iterator<Item = (Moment, bool)>,
    told: Option<Moment>,
) -> Option<(Moment, Moment)> {
    let mut intact = None;
    for (at, broken) in backwards {
        match (broken, intact) {
            (false, None) => intact = Some(at),
            (true, Some(intact)) => return Some((at, intact)),
            _ => {}
        }
    }
    let intact = intact?;
    told.filter(|told| *told <= intact)
        .map(|told| (told, intact))
}
