//! Shock, a fast pulse, a pressure that is low or falls.

use crate::clinical::flag::advice::BLEEDING_LOOK;
use crate::clinical::flag::rule::{Raised, Rule, Settling, choice, edge, memory, read};
use crate::clinical::flag::usual::{Usual, at, labour};
use crate::clinical::picture::Picture;
use crate::clinical::record::{Record, run_start};
use crate::clinical::speech::span;
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask, ask_fact, reaches, under};
use crate::clinical::{Case, Category, DangerSign, Moment, Urgency};
use chrono::Duration;

const BASE: Rule = Rule {
    urgencies: &[Urgency::Now, Urgency::Recheck],
    advice: BLEEDING_LOOK,
    settles: Settling::SameFigure,
    after: &["shock"],
    ..Rule::of(Category::DangerSign)
};

/// How soon a reading that worries is taken again.
const AGAIN: Duration = Duration::minutes(15);

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "shock",
        title: "Shock",
        urgencies: &[Urgency::Now],
        when: "Pulse 110 or more with systolic under 90, at most 30 min apart.",
        sources: &[read("MCPC C-1"), choice("at most 30 min apart")],
        settles: Settling::Never,
        after: &[],
        judged_by: shock,
        edges: &[
            edge(
                Urgency::Now,
                "pulse 110, systolic 89",
                || measured(110, 89),
                "pulse 110, systolic 90",
                || measured(110, 90),
            ),
            edge(
                Urgency::Now,
                "30 min apart, in labour",
                || apart(30),
                "31 min apart, in labour",
                || apart(31),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "pulse-fast",
        title: "Fast pulse",
        when: "No shock. Pulse 110 or more, in labour 120: counted again after 15 min. In labour 120 or more over 15 min: now.",
        sources: &[read("MCPC C-1 (110)"), memory("LCG, NG235 (120)")],
        judged_by: pulse_fast,
        edges: &[
            edge(
                Urgency::Recheck,
                "pulse 110",
                || pulse(110).case(),
                "pulse 109",
                || pulse(109).case(),
            ),
            edge(
                Urgency::Recheck,
                "in labour 120",
                || pulse(120).in_labour().case(),
                "in labour 119",
                || pulse(119).in_labour().case(),
            ),
            edge(
                Urgency::Now,
                "in labour 120 twice, 15 min apart",
                || fast_twice(15),
                "in labour 120 twice, 14 min apart",
                || fast_twice(14),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "pressure-low",
        title: "Low pressure",
        when: "No shock, pressure not raised. Systolic under 80: now. 80 to 89: again after 15 min on her left side.",
        sources: &[memory("LCG (80)"), read("MCPC C-1 (90)")],
        judged_by: low,
        edges: &[
            edge(
                Urgency::Recheck,
                "systolic 89",
                || systolic(89),
                "systolic 90",
                || systolic(90),
            ),
            edge(
                Urgency::Now,
                "systolic 79",
                || systolic(79),
                "systolic 80",
                || systolic(80),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "pressure-drop",
        title: "Falling pressure",
        when: "In labour, no shock, pressure not raised: diastolic 15 or more below the reading before it (of at most 24 h before), fallen within the last 4 h and still so. Again after 15 min; still so after 15 min, or with pulse 100 or more, systolic under 100 or bleeding: now.",
        sources: &[
            read("OU-L3.2.7"),
            choice("two steps, because one fall is mostly an error of reading"),
        ],
        judged_by: dropped,
        edges: &[
            edge(
                Urgency::Recheck,
                "diastolic 85, 15 min later 70",
                || fell(70).case(),
                "diastolic 85, 15 min later 71",
                || fell(71).case(),
            ),
            edge(
                Urgency::Now,
                "70 still after 15 min",
                || fell_since(15),
                "70 still after 14 min",
                || fell_since(14),
            ),
        ],
        ..BASE
    },
];

fn measured(pulse: u8, systolic: u16) -> Case {
    at(252)
        .visit(|visit| {
            visit.pulse = Some(pulse);
            visit.systolic = Some(systolic);
        })
        .case()
}

fn apart(minutes: i64) -> Case {
    labour()
        .row(minutes, |row| row.pulse = Some(110))
        .row(0, |row| row.systolic = Some(89))
        .case()
}

fn pulse(count: u8) -> Usual {
    at(252).visit(|visit| visit.pulse = Some(count))
}

fn fast_twice(minutes: i64) -> Case {
    labour()
        .row(minutes, |row| row.pulse = Some(120))
        .row(0, |row| row.pulse = Some(120))
        .case()
}

fn systolic(mmhg: u16) -> Case {
    at(252).visit(|visit| visit.systolic = Some(mmhg)).case()
}

fn fell(to: u16) -> Usual {
    labour()
        .row(15, |row| row.diastolic = Some(85))
        .row(0, |row| row.diastolic = Some(to))
}

fn fell_since(minutes: i64) -> Case {
    labour()
        .row(minutes + 15, |row| row.diastolic = Some(85))
        .row(minutes, |row| row.diastolic = Some(70))
        .row(0, |row| row.diastolic = Some(70))
        .case()
}

fn shock(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let (pulse_at, pulse) = seen
        .last(Record::pulse)
        .ok_or(Why::Fact("pulse not counted"))?;
    let (pressure_at, systolic) = seen
        .last(Record::systolic)
        .ok_or(Why::Fact("systolic not measured"))?;
    reaches("pulse", pulse, 110, Unit::Beats)?;
    under("systolic", systolic, 90, Unit::Pressure)?;
    ask(
        (pulse_at - pressure_at).abs() <= Duration::minutes(30),
        Why::Figure {
            what: "pulse and pressure",
            found: (pulse_at - pressure_at).num_seconds().abs(),
            is: "are more apart than",
            limit: 1800,
            unit: Unit::Time,
        },
    )?;
    Ok(Spoken::now(format!(
        "Pulse {pulse}{} with systolic {systolic} mmHg{}; shock from 110 with under 90.",
        seen.when(pulse_at),
        seen.when(pressure_at)
    )))
}

fn pulse_fast(seen: &Picture<'_>, raised: &Raised) -> Verdict {
    raised.silent_beside(&["shock"])?;
    let (at, pulse) = seen
        .last(Record::pulse)
        .ok_or(Why::Fact("pulse not counted"))?;
    let (limit, place) = match seen.labour {
        Some(_) => (120, "in labour"),
        None => (110, "outside labour"),
    };
    reaches("pulse", pulse, limit, Unit::Beats)?;
    let words = format!("Pulse {pulse}{}; fast from {limit} {place}", seen.when(at));
    if seen.labour.is_some() {
        let counted = seen
            .current()
            .rev()
            .filter_map(|record| Some((record.at(), record.pulse()? >= 120)));
        let since = run_start(counted).unwrap_or(at);
        if at - since >= AGAIN {
            return Ok(Spoken::now(format!(
                "{words}, 120 or more for {} since {}.",
                span((at - since).num_seconds()),
                seen.time(since)
            )));
        }
    }
    Ok(Spoken::recheck(
        at + AGAIN,
        format!("{words}. To be counted again at {}.", seen.time(at + AGAIN)),
    ))
}

/// A pressure that is neither raised nor explained by shock.
fn quiet_pressure<'a>(seen: &'a Picture<'_>, raised: &Raised) -> Result<Record<'a>, Why> {
    raised.silent_beside(&["shock"])?;
    let record = seen.pressure().ok_or(Why::Fact("pressure not measured"))?;
    ask_fact(
        !record.pressure_raised(),
        "the pressure is raised: a raised-pressure rule says it",
    )?;
    Ok(record)
}

/// Both rules look at one pressure; only the more urgent speaks, the fall at equal urgency.
fn low(seen: &Picture<'_>, raised: &Raised) -> Verdict {
    let record = quiet_pressure(seen, raised)?;
    let low = low_words(seen, record)?;
    match drop_words(seen, record) {
        Ok(drop) if drop.urgency <= low.urgency => Err(Why::Said("pressure-drop")),
        _ => Ok(low),
    }
}

fn dropped(seen: &Picture<'_>, raised: &Raised) -> Verdict {
    let record = quiet_pressure(seen, raised)?;
    let drop = drop_words(seen, record)?;
    match low_words(seen, record) {
        Ok(low) if low.urgency < drop.urgency => Err(Why::Said("pressure-low")),
        _ => Ok(drop),
    }
}

fn low_words(seen: &Picture<'_>, record: Record<'_>) -> Verdict {
    let systolic = record
        .systolic()
        .ok_or(Why::Fact("systolic not measured"))?;
    under("systolic", systolic, 90, Unit::Pressure)?;
    let words = format!("Systolic {systolic} mmHg{}", seen.when(record.at()));
    Ok(if systolic < 80 {
        Spoken::now(format!("{words}, under 80."))
    } else {
        Spoken::recheck(
            record.at() + AGAIN,
            format!(
                "{words}, under 90. Again at {} on her left side.",
                seen.time(record.at() + AGAIN)
            ),
        )
    })
}

/// One fall of the diastolic: from, to, when.
struct Fall {
    before: (Moment, u16),
    at: Moment,
}

/// All falls that still stand: each reading since is 15 or more below the one before the fall.
fn falls(readings: &[(Moment, u16)]) -> Vec<Fall> {
    let Some(&(last_at, _)) = readings.last() else {
        return Vec::new();
    };
    readings
        .windows(2)
        .enumerate()
        .filter(|(k, pair)| {
            let (before, at) = (pair[0], pair[1].0);
            at - before.0 <= Duration::hours(24)
                && last_at - at <= Duration::hours(4)
                && readings[k + 1..]
                    .iter()
                    .all(|(_, diastolic)| i32::from(*diastolic) <= i32::from(before.1) - 15)
        })
        .map(|(_, pair)| Fall {
            before: pair[0],
            at: pair[1].0,
        })
        .collect()
}

fn drop_words(seen: &Picture<'_>, record: Record<'_>) -> Verdict {
    seen.labouring()?;
    let now = record
        .diastolic()
        .ok_or(Why::Fact("diastolic not measured"))?;
    let at = record.at();
    let readings = seen.diastolics_until(record);
    let falls = falls(&readings);
    let fall = falls.first().ok_or(Why::Fact(
        "no fall of 15 or more within 24 h that still stands and is at most 4 h old",
    ))?;
    let words = format!(
        "Diastolic {} at {}, {now} at {}: {} lower",
        fall.before.1,
        seen.time(fall.before.0),
        seen.time(at),
        fall.before.1 - now
    );
    let lasting = falls.iter().find(|fall| at - fall.at >= AGAIN);
    let beside = if record.pulse().is_some_and(|pulse| pulse >= 100) {
        Some("with a pulse of 100 or more")
    } else if record.systolic().is_some_and(|mmhg| mmhg < 100) {
        Some("with systolic under 100")
    } else if seen.sign(DangerSign::Bleeding).is_some() {
        Some("with bleeding")
    } else {
        None
    };
    Ok(match (lasting, beside) {
        (Some(fall), _) => Spoken::now(format!(
            "{words}, fallen since {} and not risen.",
            seen.time(fall.at)
        )),
        (None, Some(beside)) => Spoken::now(format!("{words}, {beside}.")),
        (None, None) => Spoken::recheck(
            at + AGAIN,
            format!("{words}. Again at {}.", seen.time(at + AGAIN)),
        ),
    })
}
