//! The ten groups by which caesareans are compared (Robson).
//!
//! Groups: table 1 of PMC7679201. What counts as a birth before, and that waters broken first and oxytocin then is
//! induced: WHO, Robson classification, implementation manual, 2017 \[M\]. Missing answers: our own choice \[O\].

/// What was born first, as the groups ask it; face and brow are cephalic.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FirstPart {
    /// Head first.
    Cephalic,
    /// Breech.
    Breech,
    /// Shoulder: transverse or oblique.
    Across,
}

/// How labour began.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Beginning {
    /// By itself.
    Spontaneous,
    /// Induced.
    Induced,
    /// A caesarean before labour.
    CaesareanBeforeLabour,
}

/// What the groups ask of a birth; absent is not known.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Birth {
    /// Number of babies.
    pub babies: Option<i64>,
    /// What came first.
    pub first_part: Option<FirstPart>,
    /// On the day of birth.
    pub gestation_days: Option<i64>,
    /// Caesareans before this birth.
    pub previous_caesareans: Option<i64>,
    /// Births before this one, from 22w+0d or 500 g.
    pub births_before: Option<i64>,
    /// How labour began.
    pub beginning: Option<Beginning>,
}

/// 37w+0d.
const TERM_DAYS: i64 = 259;

/// The group, 1 to 10; absent when it cannot be told. The first row that holds decides.
#[must_use]
pub fn group(birth: &Birth) -> Option<u8> {
    if birth.babies? >= 2 {
        return Some(8);
    }
    let first = birth.births_before.map(|before| before == 0);
    let scarred = birth.previous_caesareans.map(|before| before >= 1);
    match birth.first_part? {
        FirstPart::Across => Some(9),
        FirstPart::Breech => breech(first, scarred),
        FirstPart::Cephalic if birth.gestation_days? < TERM_DAYS => Some(10),
        FirstPart::Cephalic => cephalic_at_term(first, scarred, birth.beginning),
    }
}

/// A caesarean before proves a birth before.
fn breech(first: Option<bool>, scarred: Option<bool>) -> Option<u8> {
    match (first, scarred) {
        (_, Some(true)) | (Some(false), _) => Some(7),
        (Some(true), _) => Some(6),
        (None, _) => None,
    }
}

fn cephalic_at_term(
    first: Option<bool>,
    scarred: Option<bool>,
    beginning: Option<Beginning>,
) -> Option<u8> {
    if scarred == Some(true) {
        return Some(5);
    }
    let first = first?;
    if !first {
        scarred?; // an unknown scar may make it group 5
    }
    let spontaneous = beginning? == Beginning::Spontaneous;
    Some(match (first, spontaneous) {
        (true, true) => 1,
        (true, false) => 2,
        (false, true) => 3,
        (false, false) => 4,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const FIRST_PARTS: [Option<FirstPart>; 4] = [
        Some(FirstPart::Cephalic),
        Some(FirstPart::Breech),
        Some(FirstPart::Across),
        None,
    ];
    const BEGINNINGS: [Option<Beginning>; 4] = [
        Some(Beginning::Spontaneous),
        Some(Beginning::Induced),
        Some(Beginning::CaesareanBeforeLabour),
        None,
    ];

    /// All 1296 combinations of babies, presentation, gestation, caesareans, births and beginning.
    fn every_birth() -> Vec<Birth> {
        let mut births = Vec::new();
        for babies in [Some(1), Some(2), None] {
            for first_part in FIRST_PARTS {
                for gestation_days in [Some(258), Some(259), None] {
                    for previous_caesareans in [Some(0), Some(1), None] {
                        for births_before in [Some(0), Some(1), None] {
                            for beginning in BEGINNINGS {
                                births.push(Birth {
                                    babies,
                                    first_part,
                                    gestation_days,
                                    previous_caesareans,
                                    births_before,
                                    beginning,
                                });
                            }
                        }
                    }
                }
            }
        }
        births
    }

    /// How many fall into groups 1 to 10, and how many into none.
    fn totals<'a>(births: impl Iterator<Item = &'a Birth>) -> [u32; 11] {
        let mut totals = [0; 11];
        for birth in births {
            totals[group(birth).map_or(10, |group| usize::from(group) - 1)] += 1;
        }
        totals
    }

    #[test]
    fn every_combination_falls_into_a_group_or_openly_into_none() {
        let births = every_birth();
        assert_eq!(births.len(), 1296);
        assert_eq!(
            totals(births.iter()),
            [2, 4, 1, 2, 12, 24, 60, 432, 108, 36, 615]
        );
    }

    #[test]
    fn nothing_that_is_fully_known_is_left_out() {
        let births = every_birth();
        let known = births.iter().filter(|it| {
            it.babies.is_some()
                && it.first_part.is_some()
                && it.gestation_days.is_some()
                && it.previous_caesareans.is_some()
                && it.births_before.is_some()
                && it.beginning.is_some()
        });
        assert_eq!(totals(known), [1, 2, 1, 2, 6, 6, 18, 72, 24, 12, 0]);
    }

    #[test]
    fn a_first_birth_needs_no_answer_about_caesareans() {
        let birth = Birth {
            babies: Some(1),
            first_part: Some(FirstPart::Cephalic),
            gestation_days: Some(280),
            births_before: Some(0),
            beginning: Some(Beginning::Spontaneous),
            previous_caesareans: None,
        };
        assert_eq!(group(&birth), Some(1));
        assert_eq!(
            group(&Birth {
                births_before: Some(2),
                ..birth
            }),
            None
        );
        assert_eq!(
            group(&Birth {
                previous_caesareans: Some(1),
                ..birth
            }),
            Some(5),
            "a caesarean proves a birth"
        );
    }
}
