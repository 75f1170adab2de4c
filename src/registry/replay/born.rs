//! What was born of a pregnancy, without a name.

use diesel::prelude::*;

use super::super::connection::Db;
use super::super::error::Result;
use super::super::findings::small;
use super::super::ids::{BirthId, PregnancyId};
use super::super::schema::{births, newborns};
use super::super::vocabulary::{BirthPresentation, NewbornState, Sex};
use crate::clinical::{Dating, Day, date_pregnancy};

/// A birth by its newest revision.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Born {
    /// Gestation on the day of the first baby, 0 to 308; absent when unknown.
    pub gestation_days: Option<u16>,
    /// In the order of birth.
    pub babies: Vec<Baby>,
}

/// One baby.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Baby {
    /// What came first.
    pub presentation: BirthPresentation,
    /// As seen.
    pub sex: Option<Sex>,
    /// Grams.
    pub weight_g: Option<u16>,
    /// It showed life.
    pub alive: bool,
}

type Row = (BirthPresentation, Option<Sex>, Option<i32>, NewbornState);

pub(super) fn of(db: &mut Db, pregnancy: PregnancyId, dating: &Dating) -> Result<Option<Born>> {
    let birth: Option<(BirthId, i32, Day)> = births::table
        .filter(births::pregnancy_id.eq(pregnancy))
        .filter(births::entered_in_error.eq(false))
        .select((births::id, births::revision, births::born_on))
        .first(db)
        .optional()?;
    let Some((id, revision, born_on)) = birth else {
        return Ok(None);
    };
    let rows: Vec<Row> = newborns::table
        .filter(newborns::birth_id.eq(id))
        .filter(newborns::revision.eq(revision))
        .order(newborns::position)
        .select((
            newborns::presentation,
            newborns::sex,
            newborns::weight_g,
            newborns::state,
        ))
        .load(db)?;
    let baby = |(presentation, sex, weight_g, state): Row| {
        Ok(Baby {
            presentation,
            sex,
            weight_g: small("birth weight", weight_g)?,
            alive: state == NewbornState::Alive,
        })
    };
    Ok(Some(Born {
        gestation_days: date_pregnancy(dating, born_on)
            .gestation
            .map(|known| known.days),
        babies: rows.into_iter().map(baby).collect::<Result<_>>()?,
    }))
}
