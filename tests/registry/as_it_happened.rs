//! A register that dice wrote as things happened, judged again: nothing differs.

use brimline::clinical::{
    DangerSign, Dating, Moment, Movements, PalpationFindings, PastEvent, Pole, Protein, Scan, Side,
    Waters,
};
use brimline::registry::labours::add_row;
use brimline::registry::pregnancies::Facts;
use brimline::registry::replay::Trial;
use brimline::registry::visits::Findings;
use chrono::TimeDelta;

use crate::house::{House, at};
use crate::labours::dilated;
use crate::women::person;

/// A small generator; the same numbers each time.
struct Dice(u64);

impl Dice {
    fn below(&mut self, sides: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % sides
    }

    fn once_in(&mut self, sides: u64) -> bool {
        self.below(sides) == 0
    }

    fn one<T: Copy>(&mut self, of: &[T]) -> Option<T> {
        let place = usize::try_from(self.below(of.len() as u64 + 1)).unwrap();
        of.get(place).copied()
    }

    fn between(&mut self, least: u16, most: u16) -> u16 {
        least + u16::try_from(self.below(u64::from(most - least) + 1)).unwrap()
    }

    fn facts(&mut self, opened: Moment) -> Facts {
        let lmp = opened.date() - TimeDelta::days(i64::from(self.between(60, 150)));
        let scan = Scan {
            on: opened.date(),
            gestation_days: Some(self.between(70, 140)),
            edd: None,
            babies: self.one(&[1, 1, 2]),
        };
        let births_before = self.one(&[0, 0, 1, 3, 8]);
        let has_history = births_before.is_some_and(|births| births > 0) && self.once_in(3);
        Facts {
            dating: Dating {
                lmp: (!self.once_in(6)).then_some(lmp),
                lmp_certain: None,
                scans: if self.once_in(2) { vec![scan] } else { vec![] },
            },
            births_before,
            previous_caesareans: births_before
                .map(|births| u8::from(births > 0 && self.once_in(4))),
            history: if has_history {
                self.one(PastEvent::ALL).into_iter().collect()
            } else {
                Vec::new()
            },
            ..Facts::default()
        }
    }

    fn findings(&mut self, now: Moment, weeks: u16) -> Findings {
        let mut found = Findings::at(now);
        let visit = &mut found.visit;
        if !self.once_in(5) {
            visit.palpation = Some(PalpationFindings {
                fundus: self.one(Pole::ALL),
                left: self.one(Side::ALL),
                right: self.one(Side::ALL),
                lower: self.one(Pole::ALL),
                many_small_parts: self.once_in(9).then_some(true),
                ..PalpationFindings::default()
            });
        }
        if !self.once_in(4) {
            visit.fundal_height_tenths = Some((weeks * 10 + self.between(0, 80)).max(140) - 40);
        }
        visit.movements = self.one(Movements::ALL);
        visit.waters = self.one(&[
            Waters::Intact,
            Waters::Intact,
            Waters::Intact,
            Waters::Broken,
        ]);
        if self.once_in(2) {
            visit.systolic = Some(self.between(86, 172));
            visit.diastolic = Some(self.between(50, 80));
            visit.pulse = Some(u8::try_from(self.between(60, 125)).unwrap());
            visit.temperature_tenths = Some(self.between(362, 386));
        }
        visit.urine_protein = self.one(&[Protein::None, Protein::None, Protein::One, Protein::Two]);
        if self.once_in(2) {
            visit.fetal_hearts = vec![u8::try_from(self.between(96, 184)).unwrap()];
        }
        if self.once_in(12) {
            visit.danger_signs = self.one(DangerSign::ALL).into_iter().collect();
        }
        found
    }
}

#[test]
fn in_a_register_written_as_things_happened_judging_again_raises_the_same_in_every_category() {
    let house = House::new();
    let mut dice = Dice(2026);
    let opened = at("2026-02-02T08:00");
    for number in 0_i64..60 {
        let opened = opened + TimeDelta::minutes(number * 7);
        let text = opened.format("%Y-%m-%dT%H:%M").to_string();
        let her = house.registers(
            &text,
            person(&format!("Ada Number {number}")),
            dice.facts(opened),
        );
        let mut now = opened + TimeDelta::days(20);
        let mut weeks = 16;
        while weeks < 40 && !dice.once_in(12) {
            house.visits(her.pregnancy, dice.findings(now, weeks));
            let days = dice.between(10, 35);
            weeks += days / 7;
            // At any hour, so that the way is by day and by night.
            now += TimeDelta::days(i64::from(days))
                + TimeDelta::minutes(i64::from(dice.between(0, 900)));
        }
        if dice.once_in(2) {
            let text = now.format("%Y-%m-%dT%H:%M").to_string();
            let labour = house.opens_labour(her.pregnancy, dilated(&text, 3));
            for hours in [2, 5, 9, 14] {
                let text = (now + TimeDelta::hours(hours))
                    .format("%Y-%m-%dT%H:%M")
                    .to_string();
                let mut row = dilated(&text, u8::try_from(dice.between(3, 6)).unwrap());
                row.found.fetal_hearts = vec![u8::try_from(dice.between(100, 175)).unwrap()];
                row.found.contractions_in_10_min = Some(u8::try_from(dice.between(1, 6)).unwrap());
                row.found.systolic = Some(dice.between(90, 150));
                row.found.diastolic = Some(dice.between(50, 85));
                house
                    .nurse(&text, |change| add_row(change, labour, &row, None))
                    .unwrap();
            }
        }
    }
    let found = house.replayed(&Trial::default());
    assert!(found.pregnancies > 50 && found.visits > 150, "{found:?}");
    let categories: std::collections::BTreeSet<_> =
        found.lines.iter().map(|line| line.category).collect();
    assert!(categories.len() > 14, "{categories:?}");
    let differing: Vec<_> = found
        .lines
        .iter()
        .filter(|line| line.then != line.both || line.now != line.both)
        .collect();
    assert!(differing.is_empty(), "{differing:#?}");
    assert_eq!(found.differs_as_saved, 0);
}
