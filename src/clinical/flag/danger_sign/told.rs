//! What was told or seen: nine signs, foul waters, fever.

use crate::clinical::flag::advice::{CORD, FOUL, SEND_WITH_FIRST_AID};
use crate::clinical::flag::rule::{Raised, Rule, Source, edge, memory, read};
use crate::clinical::flag::usual::{Usual, at};
use crate::clinical::picture::Picture;
use crate::clinical::record::Record;
use crate::clinical::speech::tenths;
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, reaches};
use crate::clinical::{Case, Category, DangerSign, FeltInside, Moment, Urgency, Waters};

const BASE: Rule = Rule {
    urgencies: &[Urgency::Now],
    ..Rule::of(Category::DangerSign)
};

/// One of the nine signs that are asked for by name.
const SIGN: Rule = Rule {
    when: "Asked and found, at any gestation.",
    advice: SEND_WITH_FIRST_AID,
    sources: SOURCES,
    ..BASE
};

const SOURCES: &[Source] = &[read("MCPC C-1, PEP-3-17, GLOWM")];

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "bleeding",
        title: "Bleeding",
        judged_by: |seen, _| sign(seen, DangerSign::Bleeding),
        edges: &[edge(
            Urgency::Now,
            "recorded today",
            || with(DangerSign::Bleeding).case(),
            "not recorded",
            || at(252).case(),
        )],
        ..SIGN
    },
    Rule {
        code: "convulsions",
        title: "Convulsions",
        when: "Fits, told or seen, at any gestation.",
        judged_by: |seen, _| sign(seen, DangerSign::Convulsions),
        edges: &[edge(
            Urgency::Now,
            "recorded today",
            || with(DangerSign::Convulsions).case(),
            "not recorded",
            || at(252).case(),
        )],
        ..SIGN
    },
    Rule {
        code: "unconscious",
        title: "Unconscious",
        when: "Found, at any gestation.",
        judged_by: |seen, _| sign(seen, DangerSign::Unconscious),
        edges: &[edge(
            Urgency::Now,
            "recorded today",
            || with(DangerSign::Unconscious).case(),
            "not recorded",
            || at(252).case(),
        )],
        ..SIGN
    },
    Rule {
        code: "severe-headache",
        title: "Severe headache",
        judged_by: |seen, _| sign(seen, DangerSign::SevereHeadache),
        edges: &[edge(
            Urgency::Now,
            "recorded today",
            || with(DangerSign::SevereHeadache).case(),
            "not recorded",
            || at(252).case(),
        )],
        ..SIGN
    },
    Rule {
        code: "blurred-vision",
        title: "Blurred vision",
        judged_by: |seen, _| sign(seen, DangerSign::BlurredVision),
        edges: &[edge(
            Urgency::Now,
            "recorded today",
            || with(DangerSign::BlurredVision).case(),
            "not recorded",
            || at(252).case(),
        )],
        ..SIGN
    },
    Rule {
        code: "severe-abdominal-pain",
        title: "Severe abdominal pain",
        judged_by: |seen, _| sign(seen, DangerSign::SevereAbdominalPain),
        edges: &[edge(
            Urgency::Now,
            "recorded today",
            || with(DangerSign::SevereAbdominalPain).case(),
            "not recorded",
            || at(252).case(),
        )],
        ..SIGN
    },
    Rule {
        code: "breathing-difficulty",
        title: "Breathing difficulty",
        judged_by: |seen, _| sign(seen, DangerSign::BreathingDifficulty),
        edges: &[edge(
            Urgency::Now,
            "recorded today",
            || with(DangerSign::BreathingDifficulty).case(),
            "not recorded",
            || at(252).case(),
        )],
        ..SIGN
    },
    Rule {
        code: "too-weak-to-stand",
        title: "Too weak to stand",
        sources: &[
            memory("PCPNC C15"),
            read("MCPC C-1, PEP-3-17, GLOWM for danger signs as such"),
        ],
        judged_by: |seen, _| sign(seen, DangerSign::TooWeakToStand),
        edges: &[edge(
            Urgency::Now,
            "recorded today",
            || with(DangerSign::TooWeakToStand).case(),
            "not recorded",
            || at(252).case(),
        )],
        ..SIGN
    },
    Rule {
        code: "cord",
        title: "Cord felt or seen",
        when: "Named as a sign, or felt inside.",
        advice: CORD,
        sources: &[read("BTC-3.45"), read("MCPC C-1 for danger signs as such")],
        judged_by: |seen, _| sign(seen, DangerSign::Cord),
        edges: &[edge(
            Urgency::Now,
            "recorded today",
            || with(DangerSign::Cord).case(),
            "not recorded",
            || at(252).case(),
        )],
        ..SIGN
    },
    Rule {
        code: "foul-waters",
        title: "Foul waters",
        when: "The last word on the waters is foul, or any record of today's visit or of this labour is.",
        advice: FOUL,
        sources: &[read("MCPC S-20, S-135, OU-A17")],
        judged_by: foul,
        edges: &[edge(
            Urgency::Now,
            "waters broken, foul-smelling",
            || waters(Waters::BrokenFoul),
            "waters broken",
            || waters(Waters::Broken),
        )],
        ..BASE
    },
    Rule {
        code: "fever",
        title: "Fever",
        when: "Temperature 38.0 °C or more.",
        advice: SEND_WITH_FIRST_AID,
        sources: &[read("MCPC C-1, GLOWM")],
        judged_by: fever,
        edges: &[edge(
            Urgency::Now,
            "38.0 °C",
            || warm(380),
            "37.9 °C",
            || warm(379),
        )],
        ..BASE
    },
];

fn with(sign: DangerSign) -> Usual {
    at(252).visit(|visit| visit.danger_signs = vec![sign])
}

fn waters(waters: Waters) -> Case {
    at(266).visit(|visit| visit.waters = Some(waters)).case()
}

fn warm(tenths: u16) -> Case {
    at(252)
        .visit(|visit| visit.temperature_tenths = Some(tenths))
        .case()
}

fn sign(seen: &Picture<'_>, sign: DangerSign) -> Verdict {
    let at = seen
        .sign(sign)
        .ok_or(Why::Fact("not recorded among the current records"))?;
    let felt = sign == DangerSign::Cord
        && seen
            .current_at(at)
            .any(|record| record.row().and_then(|row| row.felt_inside) == Some(FeltInside::Cord));
    Ok(Spoken::now(if felt {
        format!("Cord felt inside at {}.", seen.time(at))
    } else {
        let words = sign.words();
        let mut letters = words.chars();
        let first: String = letters
            .next()
            .map(char::to_uppercase)
            .into_iter()
            .flatten()
            .collect();
        format!(
            "{first}{}, recorded{}.",
            letters.as_str(),
            when_or_now(seen, at)
        )
    }))
}

fn when_or_now(seen: &Picture<'_>, at: Moment) -> String {
    match seen.when(at) {
        own if own.is_empty() => " at this visit".to_owned(),
        other => other,
    }
}

fn foul(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let at = seen
        .waters
        .foul_at
        .ok_or(Why::Fact("no record says that the waters smell foul"))?;
    Ok(Spoken::now(format!(
        "Waters smell foul, said{}.{}",
        when_or_now(seen, at),
        seen.waters_note()
    )))
}

fn fever(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let (at, temperature) = seen
        .last(Record::temperature)
        .ok_or(Why::Fact("temperature not measured"))?;
    reaches("temperature", temperature, 380, Unit::Celsius)?;
    Ok(Spoken::now(format!(
        "Temperature {} °C{}; fever from 38.0 °C.",
        tenths(temperature),
        seen.when(at)
    )))
}
