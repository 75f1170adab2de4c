//! Facts of a pregnancy are put right; the trail says what they were.

use diesel::prelude::*;

use super::open::{Told, replace_lists};
use super::{Facts, check, due_date, find};
use crate::clinical::{Dating, gestation_text};
use crate::registry::change::Change;
use crate::registry::error::{RegistryError, Result};
use crate::registry::ids::PregnancyId;
use crate::registry::judging::{RaisedBy, assess_pregnancy};
use crate::registry::posts;
use crate::registry::schema::{mothers, pregnancies};

/// Writes the facts as they are known now, and judges the pregnancy anew.
///
/// # Errors
/// `Missing`; `Stale` when somebody changed them since `revision`; `RefusedField` for facts that cannot be.
pub fn amend(change: &mut Change<'_>, id: PregnancyId, revision: i32, facts: &Facts) -> Result<()> {
    let post = change.post()?;
    let before = find(change.db(), post, id)?;
    if before.revision != revision {
        return Err(RegistryError::Stale {
            current_revision: before.revision,
        });
    }
    let now = change.now();
    let post = posts::find(change.db(), post)?;
    check::refuse_impossible(facts, post.day(before.opened_at), post.day(now))?;
    let set = (
        Told::of(facts),
        pregnancies::due_date.eq(due_date(&facts.dating, post.day(now))),
        pregnancies::revision.eq(revision + 1),
    );
    diesel::update(pregnancies::table.find(id))
        .set(set)
        .execute(change.db())?;
    replace_lists(change, id, facts)?;
    let number: i32 = mothers::table
        .find(before.mother_id)
        .select(mothers::number)
        .get_result(change.db())?;
    let detail = format!(
        "{}: {}",
        post.register_number(number),
        differences(&before.facts, facts)
    );
    change.tell("pregnancy amended", "pregnancy", id.code(), detail)?;
    if before.ended_at.is_none() {
        assess_pregnancy(change, id, now, RaisedBy::default())?;
    }
    Ok(())
}

/// Figures with what they were; of free text only that it changed, since it may name people.
fn differences(before: &Facts, after: &Facts) -> String {
    let number = |it: Option<u8>| it.map_or_else(|| "none".to_owned(), |it| it.to_string());
    let history = |facts: &Facts| {
        let mut codes: Vec<&str> = facts.history.iter().map(|event| event.code()).collect();
        codes.sort_unstable();
        if codes.is_empty() {
            "none".to_owned()
        } else {
            codes.join(" ")
        }
    };
    let pairs = [
        ("dating", dating(&before.dating), dating(&after.dating)),
        (
            "births before",
            number(before.births_before),
            number(after.births_before),
        ),
        (
            "previous caesareans",
            number(before.previous_caesareans),
            number(after.previous_caesareans),
        ),
        ("history", history(before), history(after)),
    ];
    let figures = pairs
        .into_iter()
        .filter(|(_, was, is)| was != is)
        .map(|(what, was, is)| format!("{what} {was} → {is}"));
    let texts = [
        ("illness", &before.illness, &after.illness),
        ("allergies", &before.allergies, &after.allergies),
        ("medicines", &before.medicines, &after.medicines),
        ("blood group", &before.blood_group, &after.blood_group),
        ("tests", &before.tests, &after.tests),
        ("companion", &before.companion, &after.companion),
        (
            "companion's phone",
            &before.companion_phone,
            &after.companion_phone,
        ),
    ];
    let texts = texts
        .into_iter()
        .filter(|(_, was, is)| was != is)
        .map(|(what, ..)| what.to_owned());
    let told: Vec<String> = figures.chain(texts).collect();
    if told.is_empty() {
        "nothing changed".to_owned()
    } else {
        told.join(", ")
    }
}

fn dating(told: &Dating) -> String {
    let mut parts = Vec::new();
    if let Some(lmp) = told.lmp {
        parts.push(format!(
            "last period {lmp}{}",
            if told.lmp_certain == Some(false) {
                " uncertain"
            } else {
                ""
            }
        ));
    }
    for scan in &told.scans {
        let days = scan
            .gestation_days
            .map(|days| format!(" at {}", gestation_text(days)))
            .unwrap_or_default();
        let due = scan
            .edd
            .map(|edd| format!(" due {edd}"))
            .unwrap_or_default();
        let babies = scan
            .babies
            .map(|babies| format!(" babies {babies}"))
            .unwrap_or_default();
        parts.push(format!("scan {}{days}{due}{babies}", scan.on));
    }
    if parts.is_empty() {
        "none".to_owned()
    } else {
        parts.join(" and ")
    }
}
