//! Whether she is in the register already.

use diesel::prelude::*;

use super::fold::{digits, folded};
use super::{Born, Mother, Person};
use crate::clinical::Day;
use crate::registry::connection::Db;
use crate::registry::error::Result;
use crate::registry::ids::PostId;
use crate::registry::schema::mothers;

/// Fewer figures are no telephone number, and would be everybody's.
const FIGURES_OF_A_PHONE: usize = 5;

/// Mothers of this post with the same name and year of birth (an age: give or take a year), or the same telephone.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn possible_doubles(
    db: &mut Db,
    post: PostId,
    person: &Person,
    today: Day,
) -> Result<Vec<Mother>> {
    let of_post = || {
        mothers::table.filter(
            mothers::post_id
                .eq(post)
                .and(mothers::entered_in_error.eq(false)),
        )
    };
    let mut alike: Vec<Mother> = of_post()
        .filter(mothers::name_folded.eq(folded(&person.name)))
        .order(mothers::id)
        .limit(50)
        .select(Mother::as_select())
        .load(db)?;
    alike.retain(|known| born_alike(person.born, known, today));
    let phone = person
        .phone
        .as_deref()
        .and_then(digits)
        .filter(|it| it.len() >= FIGURES_OF_A_PHONE);
    if let Some(phone) = phone {
        let same_phone: Vec<Mother> = of_post()
            .filter(mothers::phone_digits.eq(phone))
            .order(mothers::id)
            .limit(20)
            .select(Mother::as_select())
            .load(db)?;
        for mother in same_phone {
            if !alike.contains(&mother) {
                alike.push(mother);
            }
        }
    }
    Ok(alike)
}

/// What is not known differs from nothing.
fn born_alike(born: Born, known: &Mother, today: Day) -> bool {
    use chrono::Datelike as _;
    let year = |born: Born| match born {
        Born::Year(year) => Some((year, 0)),
        Born::Age { years, told_on } => Some((told_on.year() - i32::from(years), 1)),
        Born::Unknown => None,
    };
    let told = match born {
        Born::Age { years, .. } => Born::Age {
            years,
            told_on: today,
        },
        other => other,
    };
    match (year(told), year(known.born())) {
        (Some((one, loose)), Some((other, also_loose))) => {
            (one - other).abs() <= loose.max(also_loose)
        }
        _ => true,
    }
}
