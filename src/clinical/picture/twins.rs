//! Signs of more than one baby.

use crate::clinical::fundal_height::{JUDGED_FROM, Z97};
use crate::clinical::palpation::{Felt, felt};
use crate::clinical::record::Record;
use crate::clinical::{HeightScore, Moment, Visit};

/// Two people who count at the same time and differ by this much hear two hearts [R OU-L8.7.2].
const TWO_HEARTS: u8 = 10;
/// Above it size is a sign where no date is known, tenths of a centimetre [R BUC09].
const LARGE_WITHOUT_DATES: u16 = 400;

/// What was found.
#[expect(
    clippy::struct_excessive_bools,
    reason = "five signs that are there or not, each named by the reference"
)]
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct TwinSigns {
    pub(crate) felt: Felt,
    /// Lowest and highest of counts taken at the same time.
    pub(crate) hearts: Option<(Moment, u8, u8)>,
    pub(crate) above_97th: bool,
    pub(crate) above_40_cm: bool,
    pub(crate) belly_large: bool,
    pub(crate) small_parts: bool,
    pub(crate) two_soft_poles: bool,
}

impl TwinSigns {
    pub(crate) fn of<'a>(
        v: Option<&Visit>,
        tape: Option<u16>,
        g: Option<u16>,
        height: Option<HeightScore>,
        mut examined: impl Iterator<Item = Record<'a>>,
    ) -> Self {
        let palpation = v.and_then(|visit| visit.palpation.as_ref());
        let felt = palpation.map(felt).unwrap_or_default();
        let said = |sign: Option<bool>| sign == Some(true);
        Self {
            felt,
            hearts: examined.find_map(two_hearts),
            above_97th: g.is_some_and(|days| days >= JUDGED_FROM)
                && height.is_some_and(|score| score.z > Z97),
            above_40_cm: g.is_none() && tape.is_some_and(|tenths| tenths > LARGE_WITHOUT_DATES),
            belly_large: palpation.is_some_and(|found| said(found.belly_unusually_large)),
            small_parts: palpation.is_some_and(|found| said(found.many_small_parts)),
            two_soft_poles: felt.heads == 0 && felt.breeches == 2,
        }
    }

    pub(crate) fn two_heads(&self) -> bool {
        self.felt.heads >= 2
    }

    pub(crate) fn three_poles(&self) -> bool {
        self.felt.heads + self.felt.breeches >= 3
    }

    /// One of these is enough.
    pub(crate) fn strong(&self) -> bool {
        self.two_heads() || self.three_poles() || self.hearts.is_some()
    }

    /// All three measure size: one sign together [O].
    pub(crate) fn size(&self) -> bool {
        self.above_97th || self.above_40_cm || self.belly_large
    }

    /// How many of the three lesser signs there are.
    pub(crate) fn suggestive(&self) -> usize {
        [self.size(), self.small_parts, self.two_soft_poles]
            .iter()
            .filter(|sign| **sign)
            .count()
    }
}

fn two_hearts(record: Record<'_>) -> Option<(Moment, u8, u8)> {
    let (least, most) = (
        *record.hearts().iter().min()?,
        *record.hearts().iter().max()?,
    );
    (most - least >= TWO_HEARTS).then(|| (record.at(), least, most))
}
