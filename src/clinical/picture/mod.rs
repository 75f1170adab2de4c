//! Everything that the rules ask about one case, computed once: the words of the reference as values.

mod gates;
mod growth;
mod presenting;
mod telling;
mod twins;
mod waters;

use super::dating::{Dated, date_pregnancy};
use super::fundal_height;
use super::labour::Labour;
use super::palpation::read_palpation;
use super::record::{Line, Record};
use super::speech::Clock;
use super::{Case, HeightScore, Moment, Palpation, Visit};
use chrono::Duration;

pub(crate) use gates::{FELT_TAPE, NEAR, NEAR_TAPE};
pub(crate) use growth::{Growth, Pair, Way};
pub(crate) use presenting::{Presenting, Told};
pub(crate) use telling::sites;
pub(crate) use twins::TwinSigns;
pub(crate) use waters::WatersPicture;

/// One case at one moment.
#[derive(Debug)]
pub(crate) struct Picture<'a> {
    pub(crate) case: &'a Case,
    /// The moment of judgement.
    pub(crate) on: Moment,
    pub(crate) clock: Clock,
    pub(crate) line: Line<'a>,
    pub(crate) dated: Dated,
    /// The last visit, however old.
    pub(crate) v: Option<&'a Visit>,
    /// Gestation of the last visit; without one, that of today.
    pub(crate) g: Option<u16>,
    /// Gestation today.
    pub(crate) today: Option<u16>,
    /// By the hands at the last visit.
    pub(crate) palpation: Option<Palpation>,
    /// Fundal height of the last visit, tenths of a centimetre.
    pub(crate) tape: Option<u16>,
    pub(crate) height: Option<HeightScore>,
    pub(crate) presenting: Presenting,
    pub(crate) waters: WatersPicture,
    pub(crate) twins: TwinSigns,
    /// Only in labour.
    pub(crate) labour: Option<Labour>,
    outside: Option<Record<'a>>,
    outside_is_current: bool,
}

impl<'a> Picture<'a> {
    /// Reads the case as it was known at `on`.
    pub(crate) fn of(case: &'a Case, on: Moment) -> Self {
        let line = Line::of(case, on);
        let dated = date_pregnancy(&case.dating, on.date());
        let v = line.last_visit();
        let today = dated.gestation.as_ref().map(|known| known.days);
        let g = match v {
            Some(visit) => dated.gestation_on(visit.at.date()),
            None => today,
        };
        let palpation = v
            .and_then(|visit| visit.palpation.as_ref())
            .and_then(read_palpation);
        let tape = v.and_then(|visit| visit.fundal_height_tenths);
        let height = tape.and_then(|tenths| fundal_height::height_score(tenths, g));
        let labour = Labour::of(
            line.labour(),
            case.post.labour_protocol,
            case.labour_began_at.filter(|at| *at <= on),
            case.mother.births_before,
        );
        let presenting = Presenting::of(palpation.as_ref(), v, line.labour());
        let outside = line.visit_outside();
        let outside_is_current = match (outside, &labour) {
            (Some(visit), Some(labour)) => labour.from - visit.at() <= Duration::hours(24),
            _ => true,
        };
        let examined = || outside.into_iter().chain(line.labour().iter().copied());
        let waters = WatersPicture::of(
            &line,
            examined(),
            case.waters_broke_at.filter(|at| *at <= on),
        );
        let twins = TwinSigns::of(v, tape, g, height, examined());
        Self {
            case,
            on,
            clock: Clock::new(on, case.post.clock_minutes_ahead),
            dated,
            v,
            g,
            today,
            palpation,
            tape,
            height,
            presenting,
            waters,
            twins,
            labour,
            outside,
            outside_is_current,
            line,
        }
    }

    /// The records of this labour.
    pub(crate) fn labour_records(&self) -> &[Record<'a>] {
        self.line.labour()
    }

    /// The last visit and the records of this labour, but not a visit of more than a day before it.
    pub(crate) fn current(&self) -> impl DoubleEndedIterator<Item = Record<'a>> + '_ {
        self.outside
            .filter(|_| self.outside_is_current)
            .into_iter()
            .chain(self.line.labour().iter().copied())
    }

    /// The last visit stands among the current records.
    pub(crate) fn visit_is_current(&self) -> bool {
        self.v.is_some() && (self.outside.is_none() || self.outside_is_current)
    }

    /// The last value among the current records, with its time.
    pub(crate) fn last<T>(&self, found: impl Fn(Record<'a>) -> Option<T>) -> Option<(Moment, T)> {
        self.current()
            .rev()
            .find_map(|record| Some((record.at(), found(record)?)))
    }

    /// The last value of this labour, with its time.
    pub(crate) fn last_in_labour<T>(
        &self,
        found: impl Fn(Record<'a>) -> Option<T>,
    ) -> Option<(Moment, T)> {
        self.labour_records()
            .iter()
            .rev()
            .find_map(|record| Some((record.at(), found(*record)?)))
    }

    /// The last current record with a pressure.
    pub(crate) fn pressure(&self) -> Option<Record<'a>> {
        self.current()
            .rev()
            .find(|record| record.systolic().is_some() || record.diastolic().is_some())
    }

    /// The records of the line before one of them, in order.
    pub(crate) fn records_before(&self, record: Record<'_>) -> &[Record<'a>] {
        let all = self.line.all();
        let place = all.iter().rposition(|other| other.is(record));
        &all[..place.unwrap_or(0)]
    }

    /// All diastolics of the line up to a record, that one included.
    pub(crate) fn diastolics_until(&self, record: Record<'_>) -> Vec<(Moment, u16)> {
        self.records_before(record)
            .iter()
            .copied()
            .chain(std::iter::once(record))
            .filter_map(|record| Some((record.at(), record.diastolic()?)))
            .collect()
    }

    pub(crate) fn growth(&self) -> Option<Growth> {
        let asked = self.labour.is_none() && !self.twins_known();
        growth::growth(self).filter(|_| asked)
    }
}
