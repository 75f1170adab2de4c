//! `--explain`: every term as it was used, and every rule with the condition that decided.

use super::instant::write_date;
use super::write::{decimal, instant, list, null, number, optional, text, truth};
use crate::clinical::flag;
use crate::clinical::fundal_height::{median, spread};
use crate::clinical::labour::{Labour, Limits};
use crate::clinical::picture::{Pair, Picture, Told};
use crate::clinical::record::run_start;

/// The finished value of `explain`.
pub(super) fn explain(seen: &Picture<'_>) -> Vec<u8> {
    let mut out = Vec::with_capacity(16 * 1024);
    out.extend_from_slice(b"{\"terms\":{");
    terms(&mut out, seen);
    out.extend_from_slice(b"},\"rules\":");
    list(&mut out, &flag::explain(seen), |out, (rule, verdict)| {
        out.extend_from_slice(b"{\"rule\":");
        text(out, rule.code);
        out.extend_from_slice(b",\"raised\":");
        truth(out, verdict.is_ok());
        out.extend_from_slice(b",\"because\":");
        match verdict {
            Ok(spoken) => text(
                out,
                &format!("raised, {}: {}", spoken.urgency.code(), spoken.evidence),
            ),
            Err(why) => text(out, &format!("not raised: {why}")),
        }
        out.push(b'}');
    });
    out.push(b'}');
    out
}

/// Appends `"name":`, with a comma but for the first.
fn name(out: &mut Vec<u8>, name: &str) {
    if out.last() != Some(&b'{') {
        out.push(b',');
    }
    text(out, name);
    out.push(b':');
}

fn terms(out: &mut Vec<u8>, seen: &Picture<'_>) {
    name(out, "on_day");
    out.push(b'"');
    write_date(out, seen.on.date());
    out.push(b'"');
    name(out, "v_at");
    optional(out, seen.v.map(|visit| visit.at), instant);
    name(out, "g");
    optional(out, seen.g, number);
    name(out, "G");
    optional(out, seen.today, number);
    name(out, "in_labour");
    truth(out, seen.labour.is_some());
    name(out, "labour_from");
    optional(out, seen.labour.as_ref().map(|labour| labour.from), instant);
    name(out, "waters_broken");
    truth(out, seen.waters.broken);
    name(out, "waters_from");
    optional(
        out,
        seen.waters.since.filter(|_| seen.waters.broken),
        instant,
    );
    for (term, holds) in [
        ("B", seen.birth_begun()),
        ("near", seen.is_near()),
        ("mid", seen.is_mid()),
        ("felt_age", seen.felt_age().is_ok()),
        ("late", seen.late()),
    ] {
        name(out, term);
        truth(out, holds);
    }
    height(out, seen);
    name(out, "lie");
    text(out, seen.presenting.lie.code());
    name(out, "presentation");
    text(out, seen.presenting.presentation.code());
    name(out, "from");
    text(
        out,
        match seen.presenting.told {
            Told::Hands => "hands",
            Told::Inside => "inside",
        },
    );
    name(out, "twins_strong");
    truth(out, seen.twins.strong());
    name(out, "twins_suggestive");
    number(
        out,
        i64::try_from(seen.twins.suggestive()).unwrap_or_default(),
    );
    growth(out, seen);
    labour(out, seen);
}

fn height(out: &mut Vec<u8>, seen: &Picture<'_>) {
    name(out, "tape");
    optional(out, seen.tape, |out, tape| {
        decimal(out, f64::from(tape) / 10.0, 1);
    });
    let days = seen.height.and(seen.g);
    name(out, "median");
    optional(out, days.map(median), |out, cm| decimal(out, cm, 3));
    name(out, "sd");
    optional(out, days.map(spread), |out, cm| decimal(out, cm, 3));
    name(out, "z");
    optional(out, seen.height, |out, score| decimal(out, score.z, 4));
}

fn growth(out: &mut Vec<u8>, seen: &Picture<'_>) {
    name(out, "growth");
    let Some(growth) = seen.growth() else {
        null(out);
        return;
    };
    out.push(b'{');
    for (term, found) in [("p", growth.p), ("s", growth.s), ("q", growth.q)] {
        name(out, term);
        optional(out, found, pair);
    }
    name(out, "static");
    truth(out, growth.standstill.is_some());
    name(out, "slow");
    truth(out, growth.slow.is_some());
    out.push(b'}');
}

fn pair(out: &mut Vec<u8>, pair: Pair) {
    out.push(b'{');
    name(out, "on");
    out.push(b'"');
    write_date(out, pair.earlier.day);
    out.push(b'"');
    name(out, "cm");
    decimal(out, f64::from(pair.earlier.tenths) / 10.0, 1);
    name(out, "days");
    number(out, pair.days);
    name(out, "difference_cm");
    decimal(out, f64::from(pair.grew()) / 10.0, 1);
    name(out, "asked");
    truth(out, pair.asked);
    out.push(b'}');
}

fn labour(out: &mut Vec<u8>, seen: &Picture<'_>) {
    let labour = seen.labour.as_ref();
    name(out, "dmax");
    optional(out, labour.and_then(|it| it.highest), |out, (cm, _)| {
        number(out, cm);
    });
    name(out, "act_at");
    optional(out, labour.and_then(Labour::active_since), instant);
    name(out, "T4");
    optional(out, labour.and_then(Labour::t4), instant);
    name(out, "heart_run_from");
    let run = labour.and_then(|labour| {
        let limits = Limits::of(labour.protocol);
        run_start(
            seen.current()
                .rev()
                .filter(|record| record.has_count())
                .map(|record| (record.at(), limits.broken_by(record))),
        )
    });
    optional(out, run, instant);
}
