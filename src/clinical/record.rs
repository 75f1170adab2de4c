//! Visits and labour rows in one order of time, and which of them count as what.

use super::{
    Case, DangerSign, LabourRow, Liquor, Moment, PalpationFindings, Protein, Visit, Waters,
};

/// A visit or a labour row.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Record<'a> {
    Visit(&'a Visit),
    Row(&'a LabourRow),
}

macro_rules! either {
    ($record:ident . $field:ident) => {
        match $record {
            Record::Visit(visit) => visit.$field,
            Record::Row(row) => row.$field,
        }
    };
}

impl<'a> Record<'a> {
    /// The very same record, not one that says the same.
    pub(crate) fn is(self, other: Record<'_>) -> bool {
        match (self, other) {
            (Self::Visit(one), Record::Visit(other)) => std::ptr::eq(one, other),
            (Self::Row(one), Record::Row(other)) => std::ptr::eq(one, other),
            _ => false,
        }
    }

    pub(crate) fn at(self) -> Moment {
        either!(self.at)
    }

    pub(crate) fn hearts(self) -> &'a [u8] {
        match self {
            Self::Visit(visit) => &visit.fetal_hearts,
            Self::Row(row) => &row.fetal_hearts,
        }
    }

    pub(crate) fn has_count(self) -> bool {
        !self.hearts().is_empty()
    }

    /// The heart was sought, with a count or without.
    pub(crate) fn heart_asked(self) -> bool {
        self.has_count() || either!(self.heart_sought) == Some(true)
    }

    pub(crate) fn systolic(self) -> Option<u16> {
        either!(self.systolic)
    }

    pub(crate) fn diastolic(self) -> Option<u16> {
        either!(self.diastolic)
    }

    /// Systolic 140 or more, or diastolic 90 or more.
    pub(crate) fn pressure_raised(self) -> bool {
        self.systolic().is_some_and(|mmhg| mmhg >= 140)
            || self.diastolic().is_some_and(|mmhg| mmhg >= 90)
    }

    pub(crate) fn pulse(self) -> Option<u8> {
        either!(self.pulse)
    }

    pub(crate) fn temperature(self) -> Option<u16> {
        either!(self.temperature_tenths)
    }

    pub(crate) fn protein(self) -> Option<Protein> {
        either!(self.urine_protein)
    }

    pub(crate) fn signs(self) -> &'a [DangerSign] {
        match self {
            Self::Visit(visit) => &visit.danger_signs,
            Self::Row(row) => &row.danger_signs,
        }
    }

    pub(crate) fn visit(self) -> Option<&'a Visit> {
        match self {
            Self::Visit(visit) => Some(visit),
            Self::Row(_) => None,
        }
    }

    pub(crate) fn row(self) -> Option<&'a LabourRow> {
        match self {
            Self::Visit(_) => None,
            Self::Row(row) => Some(row),
        }
    }

    pub(crate) fn palpation(self) -> Option<&'a PalpationFindings> {
        self.visit()?.palpation.as_ref()
    }

    /// Fifths of the head above the brim, from hands or labour row alike.
    pub(crate) fn fifths(self) -> Option<u8> {
        match self {
            Self::Visit(_) => self.palpation()?.fifths,
            Self::Row(row) => row.fifths,
        }
    }

    pub(crate) fn dilatation(self) -> Option<u8> {
        self.row()?.dilatation_cm
    }

    /// What it says of the waters; absent when it says nothing.
    pub(crate) fn says_broken(self) -> Option<bool> {
        match self {
            Self::Visit(visit) => visit.waters.map(|waters| waters != Waters::Intact),
            Self::Row(row) => {
                let foul = row.liquor_foul == Some(true);
                match row.liquor {
                    Some(liquor) => Some(foul || liquor != Liquor::Intact),
                    None => foul.then_some(true),
                }
            }
        }
    }

    pub(crate) fn says_foul(self) -> bool {
        match self {
            Self::Visit(visit) => visit.waters == Some(Waters::BrokenFoul),
            Self::Row(row) => row.liquor_foul == Some(true),
        }
    }
}

/// All records at or before the moment of judgement, in order.
#[derive(Debug)]
pub(crate) struct Line<'a> {
    records: Vec<Record<'a>>,
    last_visit: Option<usize>,
    labour_from: Option<usize>,
}

impl<'a> Line<'a> {
    /// At equal times visits stand before rows, and the later in the file is the later.
    pub(crate) fn of(case: &'a Case, on: Moment) -> Self {
        let visits = case.visits.iter().map(Record::Visit);
        let rows = case.labour.iter().map(Record::Row);
        let mut records: Vec<Record<'a>> =
            Vec::with_capacity(case.visits.len() + case.labour.len());
        records.extend(visits.chain(rows).filter(|record| record.at() <= on));
        records.sort_by_key(|record| record.at());
        let last_visit = records.iter().rposition(|record| record.visit().is_some());
        let first_row = records.iter().position(|record| record.row().is_some());
        let labour_from = match (first_row, first_of_the_run(&records)) {
            (Some(row), Some(visit)) => Some(row.min(visit)),
            (row, visit) => row.or(visit),
        };
        Self {
            records,
            last_visit,
            labour_from,
        }
    }

    pub(crate) fn all(&self) -> &[Record<'a>] {
        &self.records
    }

    /// The last visit, however old.
    pub(crate) fn last_visit(&self) -> Option<&'a Visit> {
        self.records[self.last_visit?].visit()
    }

    /// Visits before the last one.
    pub(crate) fn earlier_visits(&self) -> impl DoubleEndedIterator<Item = &'a Visit> + '_ {
        self.records[..self.last_visit.unwrap_or(0)]
            .iter()
            .filter_map(|record| record.visit())
    }

    /// All visits in order.
    pub(crate) fn visits(&self) -> impl DoubleEndedIterator<Item = &'a Visit> + '_ {
        self.records.iter().filter_map(|record| record.visit())
    }

    /// The records of this labour; none when she is not in labour.
    pub(crate) fn labour(&self) -> &[Record<'a>] {
        self.labour_from
            .map_or(&[][..], |from| &self.records[from..])
    }

    /// The last visit where it stands before this labour, or alone.
    pub(crate) fn visit_outside(&self) -> Option<Record<'a>> {
        let at = self.last_visit?;
        self.labour_from
            .is_none_or(|from| at < from)
            .then(|| self.records[at])
    }
}

/// The first visit of the unbroken run of visits in labour that ends with the last visit.
fn first_of_the_run(records: &[Record<'_>]) -> Option<usize> {
    let in_run = |record: &Record<'_>| record.visit().is_none_or(|visit| visit.in_labour);
    records
        .iter()
        .enumerate()
        .rev()
        .take_while(|(_, record)| in_run(record))
        .filter(|(_, record)| record.visit().is_some())
        .last()
        .map(|(at, _)| at)
}

/// When the run began that ends with the last of `backwards`: each item is a moment and whether the test holds.
pub(crate) fn run_start(backwards: impl Iterator<Item = (Moment, bool)>) -> Option<Moment> {
    backwards
        .take_while(|(_, holds)| *holds)
        .last()
        .map(|(at, _)| at)
}
