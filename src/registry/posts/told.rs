//! What the trail says of changed settings: each with what it was.

use diesel::prelude::*;

use super::{Post, Travel};
use crate::registry::connection::Db;
use crate::registry::error::Result;
use crate::registry::ids::HospitalId;
use crate::registry::schema::hospitals;

/// `labour protocol labour-care-guide → partograph, Amberholt by day 120 → 150 min`.
pub(super) fn differences(
    db: &mut Db,
    before: (&Post, &[Travel]),
    after: (&Post, &[Travel]),
) -> Result<String> {
    let mut told = settings(before.0, after.0);
    if before.1 != after.1 {
        let names = hospitals::table
            .select((hospitals::id, hospitals::name))
            .order(hospitals::name)
            .load(db)?;
        told.extend(travel(&names, before.1, after.1));
    }
    Ok(if told.is_empty() {
        "nothing changed".to_owned()
    } else {
        told.join(", ")
    })
}

fn settings(before: &Post, after: &Post) -> Vec<String> {
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
    let differ = pairs.into_iter().filter(|(_, was, is)| was != is);
    differ
        .map(|(what, was, is)| format!("{what} {was} → {is}"))
        .collect()
}

fn travel(names: &[(HospitalId, String)], before: &[Travel], after: &[Travel]) -> Vec<String> {
    let mut told = Vec::new();
    for (id, name) in names {
        let minutes = |ways: &[Travel], pick: fn(&Travel) -> i32| {
            let way = ways.iter().find(|way| way.hospital_id == *id);
            way.map_or_else(|| "none".to_owned(), |way| pick(way).to_string())
        };
        let mut compare = |hour: &str, pick: fn(&Travel) -> i32| {
            let (was, is) = (minutes(before, pick), minutes(after, pick));
            if was != is {
                told.push(format!("{name} by {hour} {was} → {is} min"));
            }
        };
        compare("day", |way| way.day_minutes);
        compare("night", |way| way.night_minutes);
    }
    told
}
