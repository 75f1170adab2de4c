//! The fetal heart in labour: one odd count is repeated, a confirmed or unanswered one goes (reference 4.4).

use super::fetal_heart::{counts, inside, moves_less};
use crate::clinical::labour::{Labour, Limits, far_outside};
use crate::clinical::picture::Picture;
use crate::clinical::record::{Record, run_start};
use crate::clinical::speech::span;
use crate::clinical::verdict::{Spoken, Verdict, Why, ask, ask_fact};
use crate::clinical::{DangerSign, Deceleration, FeltInside, Liquor, Moment};
use chrono::Duration;

/// Confirmed from here on [R OU-L4.8.1].
const CONFIRMED: Duration = Duration::minutes(10);
/// Counted again [M PCPNC D14].
const AGAIN: Duration = Duration::minutes(15);
/// An unanswered warning is treated as true [O].
const UNANSWERED: Duration = Duration::minutes(30);

pub(super) fn abnormal(seen: &Picture<'_>, labour: &Labour) -> Verdict {
    let limits = Limits::of(labour.protocol);
    let (at, record) = seen
        .last(|record| record.has_count().then_some(record))
        .ok_or(Why::Fact("heart not counted"))?;
    ask(
        limits.broken_by(record),
        inside(record.hearts(), limits.inside_words()),
    )?;
    let words = format!(
        "Heart {} a minute at {} ({})",
        counts(record.hearts()),
        seen.time(at),
        limits.words()
    );
    let beside = beside(seen, record);
    if far_outside(record) {
        return Ok(Spoken::now(format!("{words}; outside 100 to 180.{beside}")));
    }
    if let Some(sign) = sign_at(seen, at) {
        return Ok(Spoken::now(format!("{words}; with {sign}.{beside}")));
    }
    let since = run_start(
        seen.current()
            .rev()
            .filter(|record| record.has_count())
            .map(|record| (record.at(), limits.broken_by(record))),
    )
    .unwrap_or(at);
    if at - since >= CONFIRMED {
        return Ok(Spoken::now(format!(
            "{words}; confirmed since {}, {}.{beside}",
            seen.time(since),
            span((at - since).num_seconds())
        )));
    }
    if seen.on - at > UNANSWERED {
        return Ok(Spoken::now(format!(
            "{words}; not counted again for {}.{beside}",
            seen.ago(at)
        )));
    }
    let again = since + AGAIN;
    Ok(Spoken::recheck(
        again,
        format!(
            "{words}; to be counted again at {}.{beside}",
            seen.time(again)
        ),
    ))
}

/// What at the same time makes one odd count enough.
fn sign_at(seen: &Picture<'_>, at: Moment) -> Option<&'static str> {
    seen.current_at(at).find_map(|record| {
        let signs = record.signs();
        let row = record.row();
        let felt = row.and_then(|row| row.felt_inside) == Some(FeltInside::Cord);
        if row.and_then(|row| row.deceleration) == Some(Deceleration::Late) {
            Some("a late fall")
        } else if row.and_then(|row| row.liquor) == Some(Liquor::Meconium3) {
            Some("thick meconium")
        } else if felt || signs.contains(&DangerSign::Cord) {
            Some("the cord felt or seen")
        } else if signs.contains(&DangerSign::Bleeding) {
            Some("bleeding")
        } else {
            None
        }
    })
}

/// Fever, a fast pulse, or the mother's own pulse heard instead.
fn beside(seen: &Picture<'_>, record: Record<'_>) -> String {
    let mut words = String::new();
    if let Some((at, tenths)) = seen.last(Record::temperature).filter(|(_, it)| *it >= 380) {
        words = format!(
            " Fever {} °C{}.",
            crate::clinical::speech::tenths(tenths),
            seen.when(at)
        );
    }
    if let Some((at, pulse)) = seen.last(Record::pulse).filter(|(_, it)| *it >= 120) {
        words = format!("{words} Her pulse is {pulse}{}.", seen.when(at));
    }
    let own = record.pulse().is_some_and(|pulse| {
        record
            .hearts()
            .iter()
            .any(|count| count.abs_diff(pulse) <= 10)
    });
    if own {
        words.push_str(" May be her own pulse: feel it while you listen.");
    }
    words
}

pub(super) fn not_heard(seen: &Picture<'_>) -> Verdict {
    let (at, record) = seen
        .last(|record| record.heart_asked().then_some(record))
        .ok_or(Why::Fact("heart not sought"))?;
    ask_fact(!record.has_count(), "the heart was counted last")?;
    let words = format!("Heart sought and not heard at {}", seen.time(at));
    let since = run_start(
        seen.current()
            .rev()
            .filter(|record| record.heart_asked())
            .map(|record| (record.at(), !record.has_count())),
    )
    .unwrap_or(at);
    if at - since >= CONFIRMED {
        return Ok(Spoken::now(format!(
            "{words}; so since {}, {}.",
            seen.time(since),
            span((at - since).num_seconds())
        )));
    }
    if let Some(less) = moves_less(seen) {
        return Ok(Spoken::now(format!("{words}, and {less}.")));
    }
    if seen.on - at > UNANSWERED {
        return Ok(Spoken::now(format!(
            "{words}; not repeated for {}.",
            seen.ago(at)
        )));
    }
    let again = at + AGAIN;
    Ok(Spoken::recheck(
        again,
        format!("{words}. A second person at {}.", seen.time(again)),
    ))
}
