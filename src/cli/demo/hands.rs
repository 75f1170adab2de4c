//! What hands, tape, ear and cuff find at a visit, made from what is true and with the errors of every day.

use super::chance::{Chance, whole};
use super::rates::Rates;
use super::story::{Life, Lying, Story};
use crate::clinical::{
    DangerSign, Front, Head, Moment, Movements, PalpationFindings, Pole, Protein, Side, Visit,
    Waters,
};

/// The median height of the tape at some weeks, cm (Papageorghiou, BMJ 2016;355:i5662, table; read between by us).
const TAPE: &[(f64, f64)] = &[
    (16.0, 15.8),
    (20.0, 19.8),
    (24.0, 23.8),
    (28.0, 27.7),
    (32.0, 31.4),
    (36.0, 34.9),
    (40.0, 38.0),
    (42.0, 39.3),
];

/// Findings of a woman who is `days` pregnant and not in labour.
pub(super) fn visit(
    story: &Story,
    rates: &Rates,
    days: u16,
    at: Moment,
    chance: &mut Chance,
) -> Visit {
    let mut visit = Visit::at(at);
    let dead = story.life == Life::DiesBeforeLabour && days + 4 > story.ends_at;
    cuff(story, days, &mut visit, chance);
    if days >= 140 {
        heart(story, days, dead, &mut visit, chance);
        let less = chance.happens(rates.moves_less);
        visit.movements = Some(match (dead, less) {
            (true, _) => Movements::None,
            (_, true) => Movements::Reduced,
            _ => Movements::Normal,
        });
        if !chance.happens(rates.tape_forgotten) {
            visit.fundal_height_tenths = Some(tape(story, days, chance));
        }
    }
    if days >= 196 {
        visit.palpation = Some(palpation(story, rates, days, chance));
    }
    if days >= 252 && chance.happens(0.7) {
        visit.waters = Some(Waters::Intact);
    }
    if chance.happens(rates.sign_of_danger) {
        let signs = [
            DangerSign::Bleeding,
            DangerSign::SevereHeadache,
            DangerSign::SevereAbdominalPain,
            DangerSign::BlurredVision,
            DangerSign::TooWeakToStand,
        ];
        visit.danger_signs.extend(chance.one_of(&signs).copied());
    }
    visit
}

fn cuff(story: &Story, days: u16, visit: &mut Visit, chance: &mut Chance) {
    if chance.happens(0.97) {
        let raised = story
            .pressure_from
            .filter(|from| days >= *from)
            .map_or(0.0, |from| (24.0 + f64::from(days - from) * 0.35).min(48.0));
        let systolic = whole(chance.around(113.0 + raised, 7.0), 86, 200);
        let diastolic = whole(chance.around(71.0 + raised * 0.72, 5.5), 50, 124);
        visit.systolic = Some(systolic);
        visit.diastolic = Some(diastolic.min(systolic - 12));
    }
    if chance.happens(0.85) {
        visit.pulse = Some(u8::try_from(whole(chance.around(83.0, 8.0), 58, 108)).unwrap_or(83));
    }
    if chance.happens(0.55) {
        visit.temperature_tenths = Some(whole(chance.around(367.0, 2.5), 358, 376));
    }
    let kidneys = story.protein && story.pressure_from.is_some_and(|from| days >= from + 7);
    if kidneys || chance.happens(0.6) {
        visit.urine_protein = Some(match (kidneys, chance.unit()) {
            (true, draw) if draw < 0.5 => Protein::One,
            (true, draw) if draw < 0.75 => Protein::Two,
            (false, draw) if draw < 0.01 => Protein::One,
            (_, draw) if draw > 0.92 => Protein::Trace,
            _ => Protein::None,
        });
    }
}

fn heart(story: &Story, days: u16, dead: bool, visit: &mut Visit, chance: &mut Chance) {
    let missed = days < 175 && chance.happens(0.15);
    if dead || missed {
        visit.heart_sought = Some(true);
        return;
    }
    let count = u8::try_from(whole(chance.around(141.0, 6.5), 116, 159)).unwrap_or(141);
    visit.fetal_hearts.push(count);
    if story.twins() && days >= 168 && chance.happens(0.5) {
        visit
            .fetal_hearts
            .push(if count > 140 { count - 13 } else { count + 14 });
    }
}

/// Tenths of a centimetre, in halves: the hint of the form asks for halves.
fn tape(story: &Story, days: u16, chance: &mut Chance) -> u16 {
    let weeks = f64::from(days) / 7.0;
    let spread = 0.99 + 0.026 * weeks;
    let size = story.babies.first().map_or(0.0, |baby| baby.size);
    let grown = ((weeks - 22.0) / 12.0).clamp(0.0, 1.0);
    let mut height = between(TAPE, weeks) + 0.8 * size * spread * grown + chance.around(0.0, 0.7);
    if story.twins() {
        height += 4.5 * grown;
    }
    if story.lying(days) == Lying::Across {
        height -= 1.5;
    }
    whole(height * 2.0, 24, 96) * 5
}

fn palpation(story: &Story, rates: &Rates, days: u16, chance: &mut Chance) -> PalpationFindings {
    let mut felt = PalpationFindings {
        front: Some(front(chance)),
        ..PalpationFindings::default()
    };
    let (back, limbs) = (Side::LongSmooth, Side::SmallLumps);
    (felt.left, felt.right) = if story.back_left {
        (Some(back), Some(limbs))
    } else {
        (Some(limbs), Some(back))
    };
    (felt.fundus, felt.lower) = match (story.lying(days), chance.happens(rates.wrong_pole)) {
        (Lying::Head, false) | (Lying::Breech, true) => {
            (Some(Pole::SoftIrregular), Some(Pole::HardRound))
        }
        (Lying::Breech, false) | (Lying::Head, true) => {
            (Some(Pole::HardRound), Some(Pole::SoftIrregular))
        }
        (Lying::Across, _) => {
            (felt.left, felt.right) = if story.back_left {
                (Some(Side::HardRound), Some(Side::SoftIrregular))
            } else {
                (Some(Side::SoftIrregular), Some(Side::HardRound))
            };
            (Some(Pole::Empty), Some(Pole::Empty))
        }
    };
    if story.twins() {
        if chance.happens(0.5) {
            felt.left = Some(Side::HardRound);
        }
        felt.many_small_parts = Some(chance.happens(0.7));
        felt.belly_unusually_large = Some(chance.happens(0.5));
    }
    unsure(&mut felt, rates, chance);
    if felt.lower == Some(Pole::HardRound) {
        let fifths = fifths(story, days, chance);
        felt.fifths = Some(fifths);
        felt.head = (fifths > 2).then_some(if fifths >= 4 {
            Head::Mobile
        } else {
            Head::Fixed
        });
    }
    felt
}

/// First babies come down weeks before labour, later ones with it (half engage only from 38 weeks, Weekes and Flynn 1975).
fn fifths(story: &Story, days: u16, chance: &mut Chance) -> u8 {
    let weeks = f64::from(days) / 7.0;
    let down = if story.births_before == 0 {
        (weeks - 34.0) * 0.55
    } else {
        (weeks - 36.0) * 0.3
    };
    let fifths = whole(chance.around(4.9 - down.max(0.0), 0.5), 1, 5);
    u8::try_from(fifths).unwrap_or(5)
}

fn front(chance: &mut Chance) -> Front {
    match chance.unit() {
        draw if draw < 0.12 => Front::SmallLumps,
        draw if draw < 0.45 => Front::LongSmooth,
        _ => Front::Nothing,
    }
}

fn unsure(felt: &mut PalpationFindings, rates: &Rates, chance: &mut Chance) {
    for pole in [&mut felt.fundus, &mut felt.lower] {
        if chance.happens(rates.site_unsure) {
            *pole = Some(Pole::Unsure);
        }
    }
    for side in [&mut felt.left, &mut felt.right] {
        if chance.happens(rates.site_unsure) {
            *side = Some(Side::Unsure);
        }
    }
    if chance.happens(rates.site_unsure) {
        felt.front = Some(Front::Unsure);
    }
}

/// A line drawn between the points of a table; flat beyond its ends.
pub(super) fn between(table: &[(f64, f64)], at: f64) -> f64 {
    let over = table.iter().position(|point| point.0 >= at);
    match over {
        Some(0) => table[0].1,
        Some(next) => {
            let ((x0, y0), (x1, y1)) = (table[next - 1], table[next]);
            y0 + (y1 - y0) * (at - x0) / (x1 - x0)
        }
        None => table.last().map_or(0.0, |point| point.1),
    }
}
