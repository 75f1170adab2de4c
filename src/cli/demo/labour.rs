//! The rows of a labour at the post, from the first examination to the birth.

use chrono::TimeDelta;

use super::chance::{Chance, whole};
use super::story::{Life, Lying, Story};
use crate::clinical::{FeltInside, LabourRow, Liquor, Moment, Occiput};

/// A labour as it would go if nobody were sent away.
#[derive(Debug, Clone)]
pub(super) struct Course {
    /// When regular pains began, as she tells.
    pub began_at: Moment,
    /// In order of time; the first is the examination with which the record is opened.
    pub rows: Vec<LabourRow>,
}

/// One examination: minutes after the first, centimetres, fifths.
struct Examination(i64, u8, u8);

/// The labour that ends with a birth at `born_at`.
pub(super) fn course(story: &Story, born_at: Moment, chance: &mut Chance) -> Course {
    let first_birth = story.births_before == 0;
    let examinations = if story.slow_labour {
        stopped(chance)
    } else {
        usual(first_birth, chance)
    };
    let pushing = chance.between(
        if first_birth { 25 } else { 10 },
        if first_birth { 55 } else { 25 },
    );
    let length = examinations.last().map_or(0, |last| last.0) + pushing;
    let first = born_at - TimeDelta::minutes(length);
    let breaks_from = u8::try_from(chance.between(5, 9)).unwrap_or(8);
    let green = chance.happens(0.05);
    let mut rows = Vec::new();
    for (place, Examination(after, cm, fifths)) in examinations.iter().enumerate() {
        let mut row = LabourRow::at(first + TimeDelta::minutes(*after));
        figures(&mut row, story, chance);
        row.dilatation_cm = Some(*cm);
        row.fifths = Some(*fifths).filter(|_| story.lying(story.ends_at) == Lying::Head);
        inside(&mut row, story, *cm, chance);
        row.liquor = Some(match (*cm >= breaks_from, green) {
            (false, _) => Liquor::Intact,
            (true, true) => Liquor::Meconium1,
            (true, false) => Liquor::Clear,
        });
        if *cm == 10 {
            row.pushing = Some(true);
        }
        // Between two examinations somebody listens once.
        let next = examinations.get(place + 1).map(|it| it.0);
        let between = next
            .filter(|next| next - after > 150)
            .map(|next| after + (next - after) / 2);
        rows.push(row);
        rows.extend(
            between.map(|minute| listened(story, first + TimeDelta::minutes(minute), chance)),
        );
    }
    let began_at = first - TimeDelta::minutes(chance.between(60, 260));
    Course { began_at, rows }
}

/// About an hour a centimetre or less, the head coming down all the while.
fn usual(first_birth: bool, chance: &mut Chance) -> Vec<Examination> {
    let found = u8::try_from(chance.between(4, 6)).unwrap_or(5);
    let pace = chance.between(
        if first_birth { 42 } else { 28 },
        if first_birth { 57 } else { 48 },
    );
    let minutes = |cm: u8| i64::from(cm - found) * pace;
    let mut examined = vec![Examination(0, found, 3)];
    for (cm, fifths) in [(8, 2), (10, 1)] {
        examined.push(Examination(minutes(cm), cm, fifths));
    }
    examined
}

/// Stops at six centimetres and goes on in the end.
fn stopped(chance: &mut Chance) -> Vec<Examination> {
    let wait = chance.between(305, 340);
    vec![
        Examination(0, 5, 4),
        Examination(205, 6, 3),
        Examination(205 + wait, 6, 3),
        Examination(205 + wait + 200, 10, 1),
    ]
}

fn listened(story: &Story, at: Moment, chance: &mut Chance) -> LabourRow {
    let mut row = LabourRow::at(at);
    heard(&mut row, story, chance);
    row.pulse = Some(u8::try_from(whole(chance.around(88.0, 6.0), 66, 112)).unwrap_or(88));
    row
}

fn heard(row: &mut LabourRow, story: &Story, chance: &mut Chance) {
    if story.life == Life::DiesBeforeLabour {
        row.heart_sought = Some(true);
        return;
    }
    let count = whole(chance.around(139.0, 6.0), 122, 157);
    row.fetal_hearts.push(u8::try_from(count).unwrap_or(139));
    row.contractions_in_10_min = Some(u8::try_from(chance.between(3, 4)).unwrap_or(3));
    row.contraction_seconds = Some(whole(chance.around(44.0, 5.0), 40, 58));
}

fn figures(row: &mut LabourRow, story: &Story, chance: &mut Chance) {
    heard(row, story, chance);
    let systolic = whole(chance.around(118.0, 6.0), 98, 138);
    row.systolic = Some(systolic);
    row.diastolic = Some(whole(chance.around(74.0, 4.0), 62, 88));
    row.pulse = Some(u8::try_from(whole(chance.around(88.0, 6.0), 66, 112)).unwrap_or(88));
    row.temperature_tenths = Some(whole(chance.around(369.0, 2.0), 362, 376));
}

fn inside(row: &mut LabourRow, story: &Story, cm: u8, chance: &mut Chance) {
    match story.lying(story.ends_at) {
        Lying::Head => {
            row.felt_inside = Some(FeltInside::Vertex);
            row.occiput = Some(match chance.unit() {
                draw if draw < 0.08 => Occiput::Posterior,
                draw if draw < 0.3 && cm < 9 => Occiput::Transverse,
                _ => Occiput::Anterior,
            });
            row.moulding = Some(u8::from(chance.happens(0.3)));
            row.caput = Some(u8::from(chance.happens(0.25)));
        }
        Lying::Breech => row.felt_inside = Some(FeltInside::Breech),
        Lying::Across => row.felt_inside = Some(FeltInside::Shoulder),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]
    use super::super::{calendar, rates::Rates, tables::District};
    use super::*;

    #[test]
    fn a_labour_runs_forward_to_ten_centimetres_and_ends_before_the_birth() {
        let now = "2026-11-25T09:00:00".parse().unwrap();
        let (district, rates) = (District::read().unwrap(), Rates::read().unwrap());
        for place in calendar::courses((&district, &rates), 300, now, &Chance::new(3)) {
            let born_at = place.story.ends_on().and_hms_opt(3, 20, 0).unwrap();
            let labour = course(&place.story, born_at, &mut Chance::new(11));
            assert!(labour.rows.is_sorted_by_key(|row| row.at));
            assert!(
                labour
                    .rows
                    .iter()
                    .filter_map(|row| row.dilatation_cm)
                    .is_sorted()
            );
            assert_eq!(
                labour
                    .rows
                    .iter()
                    .filter_map(|row| row.dilatation_cm)
                    .next_back(),
                Some(10)
            );
            assert!(
                labour.rows.last().unwrap().at < born_at && labour.began_at < labour.rows[0].at
            );
        }
    }
}
