//! What no post can be set to.

use diesel::prelude::*;

use super::settings::PostSettings;
use crate::registry::connection::Db;
use crate::registry::error::{RegistryError, Result};
use crate::registry::ids::PostId;
use crate::registry::schema::{hospitals, posts};

/// Refuses settings that cannot be, each beside its field.
///
/// # Errors
/// `RefusedField` for the first that is at fault; `Broken` when the database fails.
pub fn refuse_unfit(db: &mut Db, id: PostId, settings: &PostSettings) -> Result<()> {
    let refuse = |field, why: &str| Err(RegistryError::field(field, why));
    let too_long =
        |text: &str, most: usize| text.chars().count() > most || text.chars().any(char::is_control);
    if !(2..=4).contains(&settings.code.len())
        || !settings.code.chars().all(|it| it.is_ascii_uppercase())
    {
        return refuse("code", "Use 2 to 4 capital letters.");
    }
    if settings.name.trim().is_empty() || too_long(&settings.name, 60) {
        return refuse("name", "Write the name, at most 60 characters.");
    }
    if settings.time_zone.parse::<chrono_tz::Tz>().is_err() {
        return refuse("time_zone", "This is no time zone; choose one of the list.");
    }
    if settings
        .phone
        .as_ref()
        .is_some_and(|phone| too_long(&phone.replace(' ', ""), 16))
    {
        return refuse(
            "phone",
            "Use at most 16 characters beside spaces, so that it fits a phone message.",
        );
    }
    if settings
        .reply_address
        .as_ref()
        .is_some_and(|address| too_long(address, 60))
    {
        return refuse("reply_address", "Use at most 60 characters.");
    }
    if !(0..24).contains(&settings.day_from) || !(0..24).contains(&settings.night_from) {
        return refuse("day_from", "Use whole hours from 0 to 23.");
    }
    if settings.day_from == settings.night_from {
        return refuse("night_from", "Day and night must begin at different hours.");
    }
    for way in &settings.ways {
        let fine = |minutes: i32| (1..=1440).contains(&minutes);
        if !fine(way.day_minutes) || !fine(way.night_minutes) {
            return refuse(
                "travel",
                "Write minutes, door to door, from 1 to 1440; 1440 is a whole day.",
            );
        }
        let known: i64 = hospitals::table
            .find(way.hospital_id)
            .count()
            .get_result(db)?;
        if known == 0 {
            return Err(RegistryError::Missing("hospital"));
        }
    }
    let others = posts::table.filter(posts::id.ne(id));
    let same_code: i64 = others
        .filter(posts::code.eq(&settings.code))
        .count()
        .get_result(db)?;
    let same_name: i64 = others
        .filter(posts::name.eq(settings.name.trim()))
        .count()
        .get_result(db)?;
    if same_code > 0 {
        return refuse("code", "Another post has these letters.");
    }
    if same_name > 0 {
        return refuse("name", "Another post has this name.");
    }
    Ok(())
}
