//! Facts that date a pregnancy, gathered for the pregnancies of a month.

use std::collections::HashMap;

use diesel::prelude::*;

use super::super::connection::Db;
use super::super::error::Result;
use super::super::schema::scans;
use crate::clinical::{Dated, Dating, Day, Scan, date_pregnancy};

/// Few enough for one query's parameters on either database.
const AT_ONCE: usize = 500;

type Row = (String, Day, Option<i32>, Option<Day>, Option<i32>);

/// Scans by pregnancy, in the order in which they were given.
#[derive(Default)]
pub(super) struct Scans(HashMap<String, Vec<Scan>>);

impl Scans {
    /// The scans of these pregnancies.
    pub(super) fn of(db: &mut Db, pregnancies: &[String]) -> Result<Self> {
        let mut found = Self::default();
        for some in pregnancies.chunks(AT_ONCE) {
            let rows = scans::table
                .filter(scans::pregnancy_id.eq_any(some))
                .order((scans::pregnancy_id, scans::position, scans::id))
                .select((
                    scans::pregnancy_id,
                    scans::scanned_on,
                    scans::gestation_days,
                    scans::due_date,
                    scans::babies,
                ))
                .load_iter::<Row, _>(db)?;
            for row in rows {
                let (pregnancy, on, gestation_days, edd, babies) = row?;
                let scan = Scan {
                    on,
                    gestation_days: narrow(gestation_days),
                    edd,
                    babies: narrow(babies),
                };
                found.0.entry(pregnancy).or_default().push(scan);
            }
        }
        Ok(found)
    }

    /// What the last period and the scans come to on a day.
    pub(super) fn date(
        &self,
        pregnancy: &str,
        lmp: Option<Day>,
        lmp_certain: Option<bool>,
        on: Day,
    ) -> Dated {
        let scans = self.0.get(pregnancy).cloned().unwrap_or_default();
        date_pregnancy(
            &Dating {
                lmp,
                lmp_certain,
                scans,
            },
            on,
        )
    }
}

/// Gestation in days on the day for which it was dated; absent when unknown.
pub(super) fn days(dated: &Dated) -> Option<i64> {
    dated.gestation.as_ref().map(|known| i64::from(known.days))
}

/// A stored number in the width of the clinical facts; what does not fit could not have been written and counts as not told.
pub(super) fn narrow<T: TryFrom<i32>>(stored: Option<i32>) -> Option<T> {
    stored.and_then(|number| T::try_from(number).ok())
}
