//! Babies of the births of the month, as the newest revisions have them.

use diesel::prelude::*;

use super::super::connection::Db;
use super::super::error::Result;
use super::super::schema::{birth_details, births, mothers, newborns, pregnancies};
use super::super::vocabulary::{
    BirthPlace, BirthPresentation, Mode, MotherOutcome, NewbornState, Onset, PregnancyEnding, Sex,
};
use super::dates::{Scans, days};
use super::{BabyLine, BabyLines, Span};
use crate::clinical::{Day, Moment};

type Birth = (String, String, Day, Onset, MotherOutcome, Option<Day>);
type Pregnancy = (Option<Day>, Option<bool>, Option<i32>, Option<i32>);
type Baby = (
    i32,
    Day,
    Option<Moment>,
    BirthPlace,
    Mode,
    BirthPresentation,
    Option<Sex>,
    Option<i32>,
    NewbornState,
);
type Later = (bool, Option<Day>, Option<Moment>, Option<bool>, Option<Day>);
type Row = (Birth, Pregnancy, Baby, Later);

pub(super) fn of(db: &mut Db, span: &Span, lines: &mut BabyLines) -> Result<()> {
    let newest = birth_details::birth_id
        .eq(births::id)
        .and(birth_details::revision.eq(births::revision));
    let of_that_revision = newborns::birth_id
        .eq(births::id)
        .and(newborns::revision.eq(births::revision));
    let rows: Vec<Row> = births::table
        .inner_join(birth_details::table.on(newest))
        .inner_join(newborns::table.on(of_that_revision))
        .inner_join(pregnancies::table)
        .inner_join(mothers::table.on(mothers::id.eq(births::mother_id)))
        .filter(births::post_id.eq(span.post))
        .filter(
            births::born_on
                .ge(span.first_day)
                .and(births::born_on.lt(span.day_after)),
        )
        .filter(
            births::entered_at
                .le(span.as_of)
                .and(births::entered_in_error.eq(false)),
        )
        .filter(mothers::entered_in_error.eq(false))
        .filter(
            pregnancies::ending
                .is_null()
                .or(pregnancies::ending.ne(PregnancyEnding::EnteredInError)),
        )
        .order((births::born_on, births::id, newborns::position))
        .select((
            (
                births::id,
                births::pregnancy_id,
                births::born_on,
                birth_details::onset,
                birth_details::mother_outcome,
                birth_details::mother_died_on,
            ),
            (
                pregnancies::lmp,
                pregnancies::lmp_certain,
                pregnancies::births_before,
                pregnancies::previous_caesareans,
            ),
            (
                newborns::position,
                newborns::born_on,
                newborns::born_at,
                newborns::place,
                newborns::mode,
                newborns::presentation,
                newborns::sex,
                newborns::weight_g,
                newborns::state,
            ),
            (
                newborns::died,
                newborns::died_on,
                newborns::died_at,
                newborns::lethal_malformation,
                newborns::seen_alive_on,
            ),
        ))
        .load(db)?;
    let pregnancies: Vec<String> = rows.iter().map(|row| row.0.1.clone()).collect();
    let scans = Scans::of(db, &pregnancies)?;
    // The order puts the babies of one birth side by side, the first one first.
    for birth in rows.chunk_by(|one, other| one.0.0 == other.0.0) {
        push(birth, span, &scans, lines);
    }
    Ok(())
}

fn push(birth: &[Row], span: &Span, scans: &Scans, lines: &mut BabyLines) {
    let last_born_on = birth.iter().map(|row| row.2.1).max();
    let first_place = birth.first().map(|row| row.2.3.code());
    for (of_birth, of_pregnancy, baby, later) in birth {
        let (id, pregnancy, first_born_on, onset, mother_outcome, mother_died_on) = of_birth;
        let (lmp, lmp_certain, births_before, previous_caesareans) = *of_pregnancy;
        let (position, born_on, born_at, place, mode, presentation, sex, weight_g, state) = *baby;
        let (died, died_on, died_at, lethal_malformation, seen_alive_on) = *later;
        lines.push(BabyLine {
            birth: Some(id.clone()),
            pregnancy: Some(pregnancy.clone()),
            post: Some(span.code.clone()),
            position: Some(i64::from(position)),
            babies: i64::try_from(birth.len()).ok(),
            first_born_on: Some(*first_born_on),
            first_place,
            last_born_on,
            born_on: Some(born_on),
            born_at,
            days_old: Some(span.days_since(born_on)),
            place: Some(place.code()),
            mode: Some(mode.code()),
            presentation: Some(presentation.code()),
            sex: sex.map(Sex::code),
            weight_g: weight_g.map(i64::from),
            state: Some(state.code()),
            died: Some(died),
            died_on,
            died_at,
            lethal_malformation,
            seen_alive_on,
            gestation_days: days(&scans.date(pregnancy, lmp, lmp_certain, *first_born_on)),
            onset: Some(onset.code()),
            mother_outcome: Some(mother_outcome.code()),
            mother_died_on: *mother_died_on,
            births_before: births_before.map(i64::from),
            previous_caesareans: previous_caesareans.map(i64::from),
        });
    }
}
