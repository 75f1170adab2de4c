//! Setting up a post and changing how it works.

use diesel::prelude::*;

use super::{Post, Travel, find, ways};
use crate::clinical::{HeightMethod, LabourProtocol};
use crate::registry::change::Change;
use crate::registry::error::{RegistryError, Result};
use crate::registry::ids::PostId;
use crate::registry::schema::{hospitals, mothers, posts, travel};
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
    check(change, id, settings)?;
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
    check(change, id, settings)?;
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
    let told = differences(&before, &after, ways_before != sorted(&settings.ways));
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

fn check(change: &mut Change<'_>, id: PostId, settings: &PostSettings) -> Result<()> {
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
            .get_result(change.db())?;
        if known == 0 {
            return Err(RegistryError::Missing("hospital"));
        }
    }
    let others = posts::table.filter(posts::id.ne(id));
    let same_code: i64 = others
        .filter(posts::code.eq(&settings.code))
        .count()
        .get_result(change.db())?;
    let same_name: i64 = others
        .filter(posts::name.eq(settings.name.trim()))
        .count()
        .get_result(change.db())?;
    if same_code > 0 {
        return refuse("code", "Another post has these letters.");
    }
    if same_name > 0 {
        return refuse("name", "Another post has this name.");
    }
    Ok(())
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

/// `labour protocol labour-care-guide → partograph, travel`.
fn differences(before: &Post, after: &Post, other_ways: bool) -> String {
    let yes = |it: bool| if it { "yes" } else { "no" };
    let none = |it: &Option<String>| it.clone().unwrap_or_else(|| "none".to_owned());
    let pairs = [
        ("letters", before.code.clone(), after.code.clone()),
        ("name", before.name.clone(), after.name.clone()),
        (
            "time zone",
            before.time_zone.clone(),
            after.time_zone.clone(),
        ),
        ("phone", none(&before.phone), none(&after.phone)),
        (
            "labour protocol",
            before.labour_protocol.code().into(),
            after.labour_protocol.code().into(),
        ),
        (
            "height method",
            before.height_method.code().into(),
            after.height_method.code().into(),
        ),
        (
            "skilled in breech",
            yes(before.skilled_breech).into(),
            yes(after.skilled_breech).into(),
        ),
        (
            "skilled in twins",
            yes(before.skilled_twins).into(),
            yes(after.skilled_twins).into(),
        ),
        (
            "day from",
            before.day_from.to_string(),
            after.day_from.to_string(),
        ),
        (
            "night from",
            before.night_from.to_string(),
            after.night_from.to_string(),
        ),
        (
            "reply address",
            none(&before.reply_address),
            none(&after.reply_address),
        ),
    ];
    let mut told: Vec<String> = pairs
        .into_iter()
        .filter(|(_, was, is)| was != is)
        .map(|(what, was, is)| format!("{what} {was} → {is}"))
        .collect();
    if other_ways {
        told.push("travel".to_owned());
    }
    if told.is_empty() {
        "nothing changed".to_owned()
    } else {
        told.join(", ")
    }
}
