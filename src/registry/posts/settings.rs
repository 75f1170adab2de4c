//! Setting up a post and changing how it works.

use diesel::prelude::*;

use super::{Post, Travel, check, find, told, ways};
use crate::clinical::{HeightMethod, LabourProtocol};
use crate::registry::change::Change;
use crate::registry::error::{RegistryError, Result};
use crate::registry::ids::PostId;
use crate::registry::schema::{mothers, posts, travel};
use crate::registry::vocabulary::Role;

/// Everything the keeper sets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PostSettings {
    /// 2 to 4 capital letters, unique.
    pub code: String,
    /// 1 to 60 characters, unique.
    pub name: String,
    /// A name of the time zone database.
    pub time_zone: String,
    /// At most 16 characters without spaces, so that it fits a phone message.
    pub phone: Option<String>,
    /// How it judges the progress of labour.
    pub labour_protocol: LabourProtocol,
    /// How it judges the fundal height.
    pub height_method: HeightMethod,
    /// Staff skilled in breech birth are there.
    pub skilled_breech: bool,
    /// Staff skilled in twin birth are there.
    pub skilled_twins: bool,
    /// 0 to 23, local.
    pub day_from: i32,
    /// 0 to 23, local, not `day_from`.
    pub night_from: i32,
    /// At most 60 characters.
    pub reply_address: Option<String>,
    /// Each hospital once.
    pub ways: Vec<Travel>,
}

/// Opens a post.
///
/// # Errors
/// `RefusedField` beside the field at fault; `Refused` to all but keepers.
pub fn add(change: &mut Change<'_>, settings: &PostSettings) -> Result<PostId> {
    refuse_others(change)?;
    let id = PostId::made(change.now());
    check::refuse_unfit(change.db(), id, settings)?;
    change.forget();
    diesel::insert_into(posts::table)
        .values(&row(id, settings, 1))
        .execute(change.db())?;
    store_ways(change, id, &settings.ways)?;
    change.tell(
        "post opened",
        "post",
        id.code(),
        format!("{}, {}", settings.code, settings.name),
    )?;
    Ok(id)
}

/// Changes the settings; `reason` stands in the trail beside what was and what is.
///
/// # Errors
/// `Missing`; `Stale`; `RefusedField` beside the field at fault; `Refused` to all but keepers.
pub fn amend(
    change: &mut Change<'_>,
    id: PostId,
    revision: i32,
    settings: &PostSettings,
    reason: &str,
) -> Result<()> {
    refuse_others(change)?;
    let before = find(change.db(), id)?;
    if before.revision != revision {
        return Err(RegistryError::Stale {
            current_revision: before.revision,
        });
    }
    check::refuse_unfit(change.db(), id, settings)?;
    let has_mothers: i64 = mothers::table
        .filter(mothers::post_id.eq(id))
        .count()
        .get_result(change.db())?;
    if has_mothers > 0 && settings.code != before.code {
        return Err(RegistryError::field(
            "code",
            "The letters stand on cards already; they stay.",
        ));
    }
    let ways_before = ways(change.db(), id)?;
    let after = row(id, settings, revision + 1);
    let told = told::differences(
        change.db(),
        (&before, &ways_before),
        (&after, &sorted(&settings.ways)),
    )?;
    change.forget();
    diesel::update(posts::table.find(id))
        .set((
            (
                posts::code.eq(&after.code),
                posts::name.eq(&after.name),
                posts::time_zone.eq(&after.time_zone),
            ),
            (
                posts::phone.eq(&after.phone),
                posts::labour_protocol.eq(after.labour_protocol),
            ),
            (
                posts::height_method.eq(after.height_method),
                posts::skilled_breech.eq(after.skilled_breech),
            ),
            (
                posts::skilled_twins.eq(after.skilled_twins),
                posts::day_from.eq(after.day_from),
            ),
            (
                posts::night_from.eq(after.night_from),
                posts::reply_address.eq(&after.reply_address),
            ),
            posts::revision.eq(after.revision),
        ))
        .execute(change.db())?;
    store_ways(change, id, &settings.ways)?;
    change.tell(
        "post amended",
        "post",
        id.code(),
        format!("{}: {told}; {}", after.code, reason.trim()),
    )
}

/// Closes a post; its register stays readable.
///
/// # Errors
/// `Missing`; `Refused` to all but keepers.
pub fn stop(change: &mut Change<'_>, id: PostId) -> Result<()> {
    refuse_others(change)?;
    let post = find(change.db(), id)?;
    let now = change.now();
    change.forget();
    diesel::update(posts::table.find(id))
        .set(posts::stopped_at.eq(now))
        .execute(change.db())?;
    change.tell("post closed", "post", id.code(), post.code)
}

fn refuse_others(change: &Change<'_>) -> Result<()> {
    if change.may(&[Role::Keeper]) {
        Ok(())
    } else {
        Err(RegistryError::refused("Only the keeper changes posts."))
    }
}

fn row(id: PostId, settings: &PostSettings, revision: i32) -> Post {
    let settings = settings.clone();
    Post {
        id,
        code: settings.code,
        name: settings.name.trim().to_owned(),
        time_zone: settings.time_zone,
        phone: settings.phone,
        labour_protocol: settings.labour_protocol,
        height_method: settings.height_method,
        skilled_breech: settings.skilled_breech,
        skilled_twins: settings.skilled_twins,
        day_from: settings.day_from,
        night_from: settings.night_from,
        reply_address: settings.reply_address,
        revision,
        stopped_at: None,
    }
}

fn sorted(ways: &[Travel]) -> Vec<Travel> {
    let mut ways = ways.to_vec();
    ways.sort_by_key(|way| way.hospital_id);
    ways.dedup_by_key(|way| way.hospital_id);
    ways
}

fn store_ways(change: &mut Change<'_>, post: PostId, ways: &[Travel]) -> Result<()> {
    change.forget();
    diesel::delete(travel::table.filter(travel::post_id.eq(post))).execute(change.db())?;
    for way in sorted(ways) {
        diesel::insert_into(travel::table)
            .values((
                travel::post_id.eq(post),
                travel::hospital_id.eq(way.hospital_id),
                travel::day_minutes.eq(way.day_minutes),
                travel::night_minutes.eq(way.night_minutes),
            ))
            .execute(change.db())?;
    }
    Ok(())
}
