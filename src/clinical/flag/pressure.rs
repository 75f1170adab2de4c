//! Raised blood pressure: of the first five the first that fits, and protein alone.

use super::advice::{PRESSURE_AGAIN, PRESSURE_SEND, URINE_AGAIN};
use super::rule::{Raised, Rule, Settling, choice, edge, memory, read};
use super::usual::{Usual, at};
use crate::clinical::picture::Picture;
use crate::clinical::record::Record;
use crate::clinical::speech::span;
use crate::clinical::verdict::{Spoken, Verdict, Why, ask_fact};
use crate::clinical::{Case, Category, DangerSign, Moment, Protein, Urgency};
use chrono::Duration;

const BASE: Rule = Rule::of(Category::RaisedBloodPressure);

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "pressure-severe",
        title: "Severe",
        urgencies: &[Urgency::Now],
        when: "Systolic 160 or more, or diastolic 110 or more.",
        advice: PRESSURE_SEND,
        sources: &[
            read("PEP-3-13, AGO17"),
            memory("NG133"),
            choice("one reading is enough to go"),
        ],
        judged_by: severe,
        edges: &[
            edge(
                Urgency::Now,
                "160/90",
                || measured(160, 90).case(),
                "159/109",
                || measured(159, 109).case(),
            ),
            edge(
                Urgency::Now,
                "140/110",
                || measured(140, 110).case(),
                "140/109",
                || measured(140, 109).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "pressure-with-sign",
        title: "Raised with a danger sign",
        urgencies: &[Urgency::Now],
        when: "Systolic 140 or more, or diastolic 90 or more, with severe headache, blurred vision, severe abdominal pain, breathing difficulty, convulsions or unconscious.",
        advice: PRESSURE_SEND,
        sources: &[read("PEP-3-17"), memory("PCPNC C3")],
        after: &["pressure-severe"],
        judged_by: with_sign,
        edges: &[edge(
            Urgency::Now,
            "140/89 with severe headache",
            || with_headache(140, 89),
            "139/89 with severe headache",
            || with_headache(139, 89),
        )],
        ..BASE
    },
    Rule {
        code: "pre-eclampsia-likely",
        title: "Raised with protein",
        urgencies: &[Urgency::Now, Urgency::Soon, Urgency::Review],
        when: "Raised, and protein in the last urine of 28 days: 2+ or more now; 1+ soon, in labour review.",
        advice: PRESSURE_SEND,
        sources: &[
            read("PEP-3-3 (1+), BTC-1.46 (2+)"),
            memory("PCPNC C3"),
            choice("waters and show give 1+ in labour"),
        ],
        after: &["pressure-severe", "pressure-with-sign"],
        judged_by: with_protein,
        edges: &[
            edge(
                Urgency::Now,
                "140/89 with 2+",
                || with_urine(Protein::Two).case(),
                "140/89 with 1+",
                || with_urine(Protein::One).case(),
            ),
            edge(
                Urgency::Soon,
                "140/89 with 1+",
                || with_urine(Protein::One).case(),
                "140/89 with a trace",
                || with_urine(Protein::Trace).case(),
            ),
            edge(
                Urgency::Review,
                "1+, in labour",
                || with_urine(Protein::One).in_labour().case(),
                "1+, not in labour",
                || with_urine(Protein::One).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "pressure-twice",
        title: "Raised twice",
        urgencies: &[Urgency::Soon, Urgency::Review],
        when: "Raised, and raised before, 4 h to 28 days earlier: soon; in labour review.",
        advice: PRESSURE_AGAIN,
        sources: &[read("AGO17 (4 h), NG235 T7"), choice("28 days")],
        settles: Settling::BothPressures,
        after: &[
            "pressure-severe",
            "pressure-with-sign",
            "pre-eclampsia-likely",
        ],
        judged_by: twice,
        edges: &[
            edge(
                Urgency::Soon,
                "140/89, 4 h after 140/89",
                || again_after(240).case(),
                "140/89, 3 h 59 min after 140/89",
                || again_after(239).case(),
            ),
            edge(
                Urgency::Soon,
                "140/89, 28 days after 140/89",
                || again_after(28 * 1440).case(),
                "140/89, 29 days after 140/89",
                || again_after(29 * 1440).case(),
            ),
            edge(
                Urgency::Review,
                "4 h apart, in labour",
                || again_after(240).in_labour().case(),
                "4 h apart, not in labour",
                || again_after(240).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "pressure-raised",
        title: "Raised",
        urgencies: &[Urgency::Review],
        when: "Systolic 140 or more, or diastolic 90 or more, and none of the four above.",
        advice: PRESSURE_AGAIN,
        sources: &[read("PEP-16, OU-L3.2.7"), memory("PCPNC C3")],
        settles: Settling::BothPressures,
        after: &[
            "pressure-severe",
            "pressure-with-sign",
            "pre-eclampsia-likely",
            "pressure-twice",
        ],
        judged_by: raised_once,
        edges: &[
            edge(
                Urgency::Review,
                "140/89",
                || measured(140, 89).case(),
                "139/89",
                || measured(139, 89).case(),
            ),
            edge(
                Urgency::Review,
                "139/90",
                || measured(139, 90).case(),
                "139/89",
                || measured(139, 89).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "protein-alone",
        title: "Protein alone",
        urgencies: &[Urgency::Soon, Urgency::Review, Urgency::Recheck],
        when: "Pressure not raised or not measured: 2+ or more soon, in labour review; 1+ outside labour: test again today.",
        advice: URINE_AGAIN,
        sources: &[
            read("PEP-16"),
            read("BTC-1.46"),
            choice(
                "1+ in labour mostly comes from the waters; outside labour a clean sample first",
            ),
        ],
        settles: Settling::Urine,
        judged_by: protein_alone,
        edges: &[
            edge(
                Urgency::Soon,
                "2+",
                || urine(Protein::Two).case(),
                "1+",
                || urine(Protein::One).case(),
            ),
            edge(
                Urgency::Recheck,
                "1+",
                || urine(Protein::One).case(),
                "a trace",
                || urine(Protein::Trace).case(),
            ),
            edge(
                Urgency::Review,
                "2+, in labour",
                || urine(Protein::Two).in_labour().case(),
                "1+, in labour",
                || urine(Protein::One).in_labour().case(),
            ),
        ],
        ..BASE
    },
];

fn measured(systolic: u16, diastolic: u16) -> Usual {
    at(252).visit(|visit| {
        visit.systolic = Some(systolic);
        visit.diastolic = Some(diastolic);
    })
}

fn with_headache(systolic: u16, diastolic: u16) -> Case {
    measured(systolic, diastolic)
        .visit(|visit| visit.danger_signs = vec![DangerSign::SevereHeadache])
        .case()
}

fn with_urine(protein: Protein) -> Usual {
    measured(140, 89).visit(|visit| visit.urine_protein = Some(protein))
}

fn urine(protein: Protein) -> Usual {
    at(252).visit(|visit| visit.urine_protein = Some(protein))
}

fn again_after(minutes: i64) -> Usual {
    measured(140, 89).visit_before(minutes, |visit| {
        visit.systolic = Some(140);
        visit.diastolic = Some(89);
    })
}

/// Signs that make a raised pressure an emergency [R PEP-3-17].
const SIGNS: [DangerSign; 6] = [
    DangerSign::SevereHeadache,
    DangerSign::BlurredVision,
    DangerSign::SevereAbdominalPain,
    DangerSign::BreathingDifficulty,
    DangerSign::Convulsions,
    DangerSign::Unconscious,
];

fn raised<'a>(seen: &'a Picture<'_>) -> Result<Record<'a>, Why> {
    let record = seen.pressure().ok_or(Why::Fact("pressure not measured"))?;
    ask_fact(
        record.pressure_raised(),
        "the last pressure is below 140 and below 90",
    )?;
    Ok(record)
}

/// `150/95 mmHg at 06:00`; a figure that was not measured is a stroke.
fn pressure_words(seen: &Picture<'_>, record: Record<'_>) -> String {
    let figure = |mmhg: Option<u16>| mmhg.map_or_else(|| "–".to_owned(), |mmhg| mmhg.to_string());
    format!(
        "Pressure {}/{} mmHg{}",
        figure(record.systolic()),
        figure(record.diastolic()),
        seen.when(record.at())
    )
}

fn severe(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let record = raised(seen)?;
    ask_fact(
        record.systolic().is_some_and(|mmhg| mmhg >= 160)
            || record.diastolic().is_some_and(|mmhg| mmhg >= 110),
        "the last pressure is below 160 and below 110",
    )?;
    Ok(Spoken::now(format!(
        "{}; severe from 160 or 110.",
        pressure_words(seen, record)
    )))
}

fn with_sign(seen: &Picture<'_>, said: &Raised) -> Verdict {
    let record = raised(seen)?;
    said.silent_beside(&["pressure-severe"])?;
    let (sign, at) = SIGNS
        .iter()
        .find_map(|sign| Some((sign, seen.sign(*sign)?)))
        .ok_or(Why::Fact("none of the six signs is recorded"))?;
    Ok(Spoken::now(format!(
        "{}, raised from 140 or 90, with {}{}.",
        pressure_words(seen, record),
        sign.words(),
        seen.when(at)
    )))
}

/// The last urine, if it is not older than 28 days.
fn protein_of_28_days(seen: &Picture<'_>) -> Option<(Moment, Protein)> {
    seen.line
        .all()
        .iter()
        .rev()
        .find_map(|record| Some((record.at(), record.protein()?)))
        .filter(|(at, _)| seen.on - *at <= Duration::days(28))
}

fn with_protein(seen: &Picture<'_>, said: &Raised) -> Verdict {
    let record = raised(seen)?;
    said.silent_beside(&["pressure-severe", "pressure-with-sign"])?;
    let (at, protein) =
        protein_of_28_days(seen).ok_or(Why::Fact("no urine tested in the last 28 days"))?;
    ask_fact(
        protein >= Protein::One,
        "the last urine of 28 days has less than 1+ protein",
    )?;
    let evidence = format!(
        "{}, raised from 140 or 90, with protein {} ({}).",
        pressure_words(seen, record),
        protein.words(),
        seen.clock.day_of(at)
    );
    Ok(match (protein >= Protein::Two, seen.labour.is_some()) {
        (true, _) => Spoken::now(evidence),
        (false, true) => Spoken::review(evidence + " In labour waters and show give 1+."),
        (false, false) => Spoken::soon(evidence),
    })
}

fn twice(seen: &Picture<'_>, said: &Raised) -> Verdict {
    let record = raised(seen)?;
    said.silent_beside(&[
        "pressure-severe",
        "pressure-with-sign",
        "pre-eclampsia-likely",
    ])?;
    let apart = |earlier: &Record<'_>| record.at() - earlier.at();
    let earlier = seen
        .records_before(record)
        .iter()
        .rev()
        .find(|earlier| {
            earlier.pressure_raised()
                && apart(earlier) >= Duration::hours(4)
                && apart(earlier) <= Duration::days(28)
        })
        .ok_or(Why::Fact("not raised before, 4 h to 28 days earlier"))?;
    let evidence = format!(
        "{}, and {} at {}: raised twice, {} apart.",
        pressure_words(seen, record),
        pressure_words(seen, *earlier)
            .split(" mmHg")
            .next()
            .unwrap_or_default()
            .to_lowercase(),
        seen.time(earlier.at()),
        span(apart(earlier).num_seconds())
    );
    Ok(if seen.labour.is_some() {
        Spoken::review(evidence)
    } else {
        Spoken::soon(evidence)
    })
}

fn raised_once(seen: &Picture<'_>, said: &Raised) -> Verdict {
    let record = raised(seen)?;
    said.silent_beside(&[
        "pressure-severe",
        "pressure-with-sign",
        "pre-eclampsia-likely",
        "pressure-twice",
    ])?;
    Ok(Spoken::review(format!(
        "{}; raised from 140 or 90.",
        pressure_words(seen, record)
    )))
}

fn protein_alone(seen: &Picture<'_>, _: &Raised) -> Verdict {
    ask_fact(
        !seen.pressure().is_some_and(Record::pressure_raised),
        "the pressure is raised: a raised-pressure rule says it",
    )?;
    let (at, protein) = seen
        .last(Record::protein)
        .ok_or(Why::Fact("urine not tested"))?;
    ask_fact(protein >= Protein::One, "less than 1+ protein")?;
    let evidence = format!(
        "Protein {}{} ({}), pressure {}",
        protein.words(),
        seen.when(at),
        seen.clock.day_of(at),
        if seen.pressure().is_some() {
            "not raised"
        } else {
            "not measured"
        }
    );
    match (protein >= Protein::Two, seen.labour.is_some()) {
        (true, true) => Ok(Spoken::review(evidence + ".")),
        (true, false) => Ok(Spoken::soon(evidence + ".")),
        (false, true) => Err(Why::Fact("1+ in labour may come from the waters")),
        (false, false) => Ok(Spoken::recheck(
            seen.on,
            evidence + ". A clean sample today.",
        )),
    }
}
