//! How dilatation, stages and lines are judged against the clock.

use crate::clinical::flag::rule::Raised;
use crate::clinical::labour::Labour;
use crate::clinical::picture::Picture;
use crate::clinical::speech::span;
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask_fact, exceeds, reaches};
use crate::clinical::{Moment, Stage};
use chrono::Duration;

fn seconds_since(seen: &Picture<'_>, at: Moment) -> i64 {
    (seen.on - at).num_seconds()
}

pub(super) fn slow(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let labour = seen.in_stage(Stage::Active)?;
    let (cm, since, limit) = labour.centimetre_limit().ok_or(Why::Fact(
        "the partograph has lines, not limits for each centimetre",
    ))?;
    reaches(
        "time at the highest dilatation",
        seconds_since(seen, since),
        limit.num_seconds(),
        Unit::Time,
    )?;
    Ok(Spoken::now(format!(
        "{cm} cm since {}, {}; limit {} (labour care guide).",
        seen.time(since),
        seen.ago(since),
        span(limit.num_seconds())
    )))
}

pub(super) fn active_long(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let labour = seen.in_stage(Stage::Active)?;
    let active = labour
        .active
        .ok_or(Why::Fact("the active stage is not reached"))?;
    let limit = labour.active_limit();
    exceeds(
        "active stage",
        seconds_since(seen, active.at),
        limit.num_seconds(),
        Unit::Time,
    )?;
    let births = if labour.is_partograph() {
        ""
    } else {
        labour.births_note()
    };
    Ok(Spoken::now(format!(
        "Active stage since {} ({} cm), {}; limit {} ({}).{births}",
        seen.time(active.at),
        active.cm,
        seen.ago(active.at),
        span(limit.num_seconds()),
        labour.protocol.words()
    )))
}

pub(super) fn second_long(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let labour = seen.in_stage(Stage::Second)?;
    let since = labour.full_at().ok_or(Why::Fact("10 cm is not recorded"))?;
    let (found, limit) = (
        seconds_since(seen, since),
        labour.second_limit().num_seconds(),
    );
    if labour.is_partograph() {
        exceeds("second stage", found, limit, Unit::Time)?;
    } else {
        reaches("second stage", found, limit, Unit::Time)?;
    }
    Ok(Spoken::now(format!(
        "10 cm since {}, {}; limit {} ({}).{}",
        seen.time(since),
        seen.ago(since),
        span(limit),
        labour.protocol.words(),
        labour.births_note()
    )))
}

/// The last dilatation and its line; only the partograph has lines, and they end at 10 cm.
fn against_line(
    seen: &Picture<'_>,
    line: fn(&Labour, u8) -> Option<Moment>,
    past: &'static str,
) -> Result<(Moment, u8, Moment), Why> {
    let labour = seen.in_stage(Stage::Active)?;
    ask_fact(
        labour.is_partograph(),
        "only the partograph has alert and action lines",
    )?;
    let (at, cm) = labour
        .last_dilatation
        .ok_or(Why::Fact("no dilatation recorded"))?;
    let line = line(labour, cm).ok_or(Why::Fact("no line yet"))?;
    exceeds(past, (at - line).num_seconds(), 0, Unit::Time)?;
    Ok((at, cm, line))
}

fn line_words(seen: &Picture<'_>, at: Moment, cm: u8) -> String {
    let t4 = seen
        .labour
        .as_ref()
        .and_then(Labour::t4)
        .map_or_else(String::new, |t4| format!(" (4 cm at {})", seen.time(t4)));
    format!("{cm} cm at {}{t4}", seen.time(at))
}

pub(super) fn right_of_alert(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let (at, cm, line) = against_line(seen, Labour::alert_at, "time past the alert line")?;
    let on_action = if line + Duration::hours(4) == at {
        ", on the action line"
    } else {
        ""
    };
    Ok(Spoken::now(format!(
        "{}: the alert line stands at {cm} cm at {}; {} later{on_action} (partograph).",
        line_words(seen, at, cm),
        seen.time(line),
        span((at - line).num_seconds())
    )))
}

pub(super) fn past_action(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let (at, cm, line) = against_line(seen, Labour::action_at, "time past the action line")?;
    Ok(Spoken::now(format!(
        "{}: the action line stands at {cm} cm at {}; {} later (partograph).",
        line_words(seen, at, cm),
        seen.time(line),
        span((at - line).num_seconds())
    )))
}

fn began_words(seen: &Picture<'_>, labour: &Labour) -> String {
    format!(
        "Labour since {}{}, {}",
        seen.time(labour.began),
        if labour.began_told {
            ""
        } else {
            " (first record)"
        },
        seen.ago(labour.began)
    )
}

pub(super) fn latent_long(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let labour = seen.in_stage(Stage::Latent)?;
    exceeds(
        "labour",
        seconds_since(seen, labour.began),
        8 * 3600,
        Unit::Time,
    )?;
    let evidence = format!(
        "{}; at most {} cm, active from {} cm; limit 8 h ({}).",
        began_words(seen, labour),
        labour.highest.map_or(0, |(cm, _)| cm),
        labour.active_start(),
        labour.protocol.words()
    );
    Ok(if labour.is_partograph() {
        Spoken::now(evidence)
    } else {
        Spoken::review(evidence)
    })
}

pub(super) fn labour_long(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let labour = seen.labouring()?;
    ask_fact(
        matches!(labour.stage, Some(Stage::Active | Stage::Second)),
        "neither active nor second stage",
    )?;
    reaches(
        "labour",
        seconds_since(seen, labour.began),
        12 * 3600,
        Unit::Time,
    )?;
    Ok(Spoken::review(format!(
        "{}; {} cm; from 12 h ({}).",
        began_words(seen, labour),
        labour.highest.map_or(0, |(cm, _)| cm),
        labour.protocol.words()
    )))
}
