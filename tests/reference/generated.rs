//! Cases made from a number: always the same for the same number, and wild enough to reach every rule.

use brimline::clinical::{
    Case, DangerSign, Deceleration, FeltInside, Front, Head, HeightMethod, LabourProtocol,
    LabourRow, Liquor, Moment, Movements, ObstructionSign, Occiput, PalpationFindings, PastEvent,
    Pole, Protein, Scan, Side, Visit, Waters, palpation_faults,
};
use chrono::Duration;

/// A stream of numbers (`SplitMix64`, Steele et al. 2014) [M].
pub(crate) struct Numbers(u64);

impl Numbers {
    pub(crate) fn from(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// From `least` to `most`, both included.
    pub(crate) fn whole(&mut self, least: i64, most: i64) -> i64 {
        let span = u64::try_from(most - least + 1).unwrap();
        least + i64::try_from(self.next() % span).unwrap()
    }

    fn small<T: TryFrom<i64>>(&mut self, least: i64, most: i64) -> T {
        T::try_from(self.whole(least, most)).ok().unwrap()
    }

    /// True so often in a hundred.
    pub(crate) fn often(&mut self, percent: i64) -> bool {
        self.whole(1, 100) <= percent
    }

    fn one_of<T: Copy>(&mut self, choices: &[T]) -> T {
        choices[usize::try_from(self.whole(0, i64::try_from(choices.len()).unwrap() - 1)).unwrap()]
    }

    fn maybe<T>(&mut self, percent: i64, make: impl FnOnce(&mut Self) -> T) -> Option<T> {
        self.often(percent).then(|| make(self))
    }
}

/// The case of a number.
pub(crate) fn case(seed: u64) -> Case {
    let n = &mut Numbers::from(seed);
    let on = super::telling::moment("2026-09-10T09:00") + Duration::minutes(n.whole(0, 1440));
    let mut case = Case::new(on);
    case.mother.births_before = n.maybe(80, |n| n.small(0, 8));
    case.mother.age_years = n.maybe(70, |n| n.small(12, 44));
    case.mother.previous_caesareans = n.maybe(15, |n| n.small(0, 2)).filter(|some| {
        case.mother
            .births_before
            .is_none_or(|births| births >= *some)
    });
    case.mother.history = n
        .maybe(20, |n| vec![n.one_of(PastEvent::ALL)])
        .unwrap_or_default();
    dates(&mut case, n);
    case.post.skilled_breech = n.often(10);
    case.post.skilled_twins = n.often(10);
    case.post.travel_minutes = n.maybe(70, |n| n.small(0, 300));
    case.post.labour_protocol = n.one_of(LabourProtocol::ALL);
    case.post.fundal_height_method = n.one_of(HeightMethod::ALL);
    let labours = n.often(45);
    for _ in 0..n.whole(0, 4) {
        let days = n.one_of(&[0, 0, 1, 7, 13, 14, 20, 21, 27, 28, 35]);
        let at = on - Duration::days(days) - Duration::minutes(n.whole(0, 400));
        case.visits.push(visit(at, labours && days == 0, n));
    }
    if labours {
        for _ in 0..n.whole(1, 8) {
            let at = on - Duration::minutes(n.whole(-20, 900));
            case.labour.push(row(at, n));
        }
        case.labour_began_at = n.maybe(40, |n| on - Duration::minutes(n.whole(0, 1200)));
    }
    case.waters_broke_at = n.maybe(12, |n| on - Duration::minutes(n.whole(0, 1800)));
    case
}

fn dates(case: &mut Case, n: &mut Numbers) {
    let today = case.on.date();
    let days = n.one_of(&[
        140, 167, 168, 195, 196, 223, 224, 237, 238, 251, 252, 258, 259, 265, 266, 280, 286, 287,
        293, 294, 308, 309,
    ]);
    case.dating.lmp = n.maybe(80, |_| today - Duration::days(days));
    case.dating.lmp_certain = n.maybe(40, |n| n.often(80));
    for _ in 0..n.whole(0, 2) {
        let on = today - Duration::days(n.whole(0, 230));
        let true_days = days - (today - on).num_days();
        case.dating.scans.push(Scan {
            on,
            gestation_days: n
                .maybe(80, |n| true_days + n.whole(-25, 25))
                .filter(|days| (35..=294).contains(days))
                .and_then(|days| u16::try_from(days).ok()),
            edd: None,
            babies: n.maybe(60, |n| if n.often(85) { 1 } else { 2 }),
        });
    }
}

/// Hands that mostly find something usual.
pub(crate) fn hands(n: &mut Numbers) -> PalpationFindings {
    let mut found = PalpationFindings {
        fundus: n.maybe(90, |n| n.one_of(Pole::ALL)),
        left: n.maybe(90, |n| n.one_of(Side::ALL)),
        right: n.maybe(90, |n| n.one_of(Side::ALL)),
        front: n.maybe(85, |n| n.one_of(Front::ALL)),
        lower: n.maybe(90, |n| n.one_of(Pole::ALL)),
        fifths: n.maybe(60, |n| n.small(0, 5)),
        head: n.maybe(40, |n| n.one_of(Head::ALL)),
        many_small_parts: n.maybe(10, |n| n.often(70)),
        belly_unusually_large: n.maybe(10, |n| n.often(70)),
    };
    if n.often(50) {
        found.fundus = Some(Pole::SoftIrregular);
        found.lower = Some(Pole::HardRound);
    }
    if palpation_faults(&found).is_err() {
        found.fifths = None;
        found.head = None;
    }
    found
}

/// Fills what visits and rows share.
macro_rules! figures {
    ($record:ident, $n:ident) => {
        let base: i64 = $n.one_of(&[100, 109, 110, 119, 120, 140, 159, 160, 161, 168, 181]);
        $record.fetal_hearts = match $n.whole(0, 9) {
            0..=3 => vec![u8::try_from(base).unwrap()],
            4 => vec![140, $n.small(130, 155)],
            _ => Vec::new(),
        };
        $record.heart_sought = ($record.fetal_hearts.is_empty() && $n.often(12)).then_some(true);
        $record.systolic = $n.maybe(45, |n| n.one_of(&[78, 85, 89, 90, 110, 139, 140, 150, 160]));
        $record.diastolic = $n
            .maybe(45, |n| n.one_of(&[50, 60, 70, 74, 85, 89, 90, 95, 110]))
            .filter(|low| $record.systolic.is_none_or(|high| *low < high));
        $record.pulse = $n.maybe(40, |n| {
            n.one_of(&[70, 88, 100, 101, 109, 110, 119, 120, 130])
        });
        $record.temperature_tenths = $n.maybe(25, |n| n.one_of(&[365, 370, 375, 379, 380, 390]));
        $record.urine_protein = $n.maybe(25, |n| n.one_of(Protein::ALL));
        $record.danger_signs = $n
            .maybe(8, |n| vec![n.one_of(DangerSign::ALL)])
            .unwrap_or_default();
    };
}

fn visit(at: Moment, may_labour: bool, n: &mut Numbers) -> Visit {
    let mut visit = Visit::at(at);
    figures!(visit, n);
    visit.in_labour = may_labour && n.often(50);
    visit.palpation = n.maybe(70, hands);
    visit.fundal_height_tenths = n.maybe(70, |n| n.small(190, 410));
    visit.movements = n.maybe(60, |n| n.one_of(Movements::ALL));
    visit.waters = n.maybe(40, |n| n.one_of(Waters::ALL));
    visit
}

fn row(at: Moment, n: &mut Numbers) -> LabourRow {
    let mut row = LabourRow::at(at);
    figures!(row, n);
    row.dilatation_cm = n.maybe(60, |n| n.small(2, 10));
    row.fifths = n.maybe(50, |n| n.small(0, 5));
    row.felt_inside = n.maybe(20, |n| n.one_of(FeltInside::ALL));
    row.occiput = n.maybe(20, |n| n.one_of(Occiput::ALL));
    row.moulding = n.maybe(35, |n| n.small(0, 3));
    row.caput = n.maybe(30, |n| n.small(0, 3));
    row.liquor = n.maybe(40, |n| n.one_of(Liquor::ALL));
    row.liquor_foul = n.maybe(10, |n| n.often(50));
    row.deceleration = n.maybe(15, |n| n.one_of(Deceleration::ALL));
    row.contractions_in_10_min = n.maybe(50, |n| n.small(0, 8));
    row.contraction_seconds = n.maybe(40, |n| n.small(10, 75));
    row.pushing = n.maybe(25, |n| n.often(70));
    row.obstruction_signs = n
        .maybe(12, |n| vec![n.one_of(ObstructionSign::ALL)])
        .unwrap_or_default();
    row
}
