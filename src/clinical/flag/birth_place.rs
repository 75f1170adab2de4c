//! Reasons to talk about the place of birth.

use super::advice::PLACE;
use super::rule::{Raised, Rule, choice, edge, memory, read};
use super::usual::{Usual, at};
use crate::clinical::picture::Picture;
use crate::clinical::speech::count;
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask_fact, exceeds, reaches, under};
use crate::clinical::{Case, Category, PastEvent, Urgency};

/// Booked from 36 weeks: what can kill without blood, drugs or an operation.
const LATE: Rule = Rule {
    urgencies: &[Urgency::Soon, Urgency::Review],
    advice: PLACE,
    ..Rule::of(Category::BirthPlace)
};

/// Talked about once.
const ONCE: Rule = Rule {
    urgencies: &[Urgency::Review],
    advice: PLACE,
    once: true,
    ..Rule::of(Category::BirthPlace)
};

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "place-severe-tear",
        title: "Severe tear before",
        when: "A severe tear in an earlier birth. From 36w+0d (gestation unknown: tape 33.0 cm or more), not in labour: soon; else review.",
        sources: &[memory("PCPNC C2")],
        judged_by: |seen, _| late_history(seen, PastEvent::SevereTear, "A severe tear before"),
        edges: &[
            edge(
                Urgency::Soon,
                "36w+0d",
                || with(252, PastEvent::SevereTear).case(),
                "35w+6d",
                || with(251, PastEvent::SevereTear).case(),
            ),
            edge(
                Urgency::Review,
                "36w+0d, in labour",
                || with(252, PastEvent::SevereTear).in_labour().case(),
                "36w+0d, not in labour",
                || with(252, PastEvent::SevereTear).case(),
            ),
        ],
        ..LATE
    },
    Rule {
        code: "place-age-under-14",
        title: "Under 14 years",
        when: "Younger than 14 years. From 36w+0d (gestation unknown: tape 33.0 cm or more), not in labour: soon; else review.",
        sources: &[memory("PCPNC C2")],
        judged_by: under_14,
        edges: &[
            edge(
                Urgency::Soon,
                "36w+0d",
                || aged(252, 13).case(),
                "35w+6d",
                || aged(251, 13).case(),
            ),
            edge(
                Urgency::Review,
                "36w+0d, in labour",
                || aged(252, 13).in_labour().case(),
                "36w+0d, not in labour",
                || aged(252, 13).case(),
            ),
            edge(
                Urgency::Soon,
                "13 years at 36w+0d",
                || aged(252, 13).case(),
                "14 years at 36w+0d",
                || aged(252, 14).case(),
            ),
        ],
        ..LATE
    },
    Rule {
        code: "place-heavy-bleeding",
        title: "Heavy bleeding before",
        when: "Heavy bleeding in an earlier birth. From 36w+0d (gestation unknown: tape 33.0 cm or more), not in labour: soon; else review.",
        sources: &[read("NG235 T7, PEP-16")],
        judged_by: |seen, _| late_history(seen, PastEvent::HeavyBleeding, "Heavy bleeding before"),
        edges: &[
            edge(
                Urgency::Soon,
                "36w+0d",
                || with(252, PastEvent::HeavyBleeding).case(),
                "35w+6d",
                || with(251, PastEvent::HeavyBleeding).case(),
            ),
            edge(
                Urgency::Review,
                "36w+0d, in labour",
                || with(252, PastEvent::HeavyBleeding).in_labour().case(),
                "36w+0d, not in labour",
                || with(252, PastEvent::HeavyBleeding).case(),
            ),
        ],
        ..LATE
    },
    Rule {
        code: "place-convulsions",
        title: "Convulsions before",
        when: "Fits in an earlier pregnancy or birth. From 36w+0d (gestation unknown: tape 33.0 cm or more), not in labour: soon; else review.",
        sources: &[read("NG235 T7, PEP-16")],
        judged_by: |seen, _| {
            late_history(
                seen,
                PastEvent::Convulsions,
                "Fits in a pregnancy or birth before",
            )
        },
        edges: &[
            edge(
                Urgency::Soon,
                "36w+0d",
                || with(252, PastEvent::Convulsions).case(),
                "35w+6d",
                || with(251, PastEvent::Convulsions).case(),
            ),
            edge(
                Urgency::Review,
                "36w+0d, in labour",
                || with(252, PastEvent::Convulsions).in_labour().case(),
                "36w+0d, not in labour",
                || with(252, PastEvent::Convulsions).case(),
            ),
        ],
        ..LATE
    },
    Rule {
        code: "place-age-under-16",
        title: "14 or 15 years",
        when: "14 or 15 years old; at any gestation, once.",
        sources: &[memory("PCPNC C2"), read("PEP-16")],
        judged_by: under_16,
        edges: &[edge(
            Urgency::Review,
            "15 years",
            || aged(140, 15).case(),
            "16 years",
            || aged(140, 16).case(),
        )],
        ..ONCE
    },
    Rule {
        code: "place-age-40",
        title: "40 years or more",
        when: "40 years or older; at any gestation, once.",
        sources: &[read("NG235 T9")],
        judged_by: from_40,
        edges: &[edge(
            Urgency::Review,
            "40 years",
            || aged(140, 40).case(),
            "39 years",
            || aged(140, 39).case(),
        )],
        ..ONCE
    },
    Rule {
        code: "place-stillbirth",
        title: "Stillbirth before",
        when: "A stillbirth before; at any gestation, once.",
        sources: &[read("NG235 T7/T9, PEP-16")],
        judged_by: |seen, _| once_history(seen, PastEvent::Stillbirth, "A stillbirth before"),
        edges: &[edge(
            Urgency::Review,
            "told",
            || with(140, PastEvent::Stillbirth).case(),
            "not told",
            || at(140).case(),
        )],
        ..ONCE
    },
    Rule {
        code: "place-early-death",
        title: "Early death before",
        when: "A baby that died in its first week before; at any gestation, once.",
        sources: &[read("NG235 T7/T9, PEP-16")],
        judged_by: |seen, _| {
            once_history(
                seen,
                PastEvent::EarlyDeath,
                "A baby that died in its first week before",
            )
        },
        edges: &[edge(
            Urgency::Review,
            "told",
            || with(140, PastEvent::EarlyDeath).case(),
            "not told",
            || at(140).case(),
        )],
        ..ONCE
    },
    Rule {
        code: "place-assisted-birth",
        title: "Assisted birth before",
        when: "A birth with vacuum or forceps before; at any gestation, once.",
        sources: &[read("NG235 T7/T9, PEP-16")],
        judged_by: |seen, _| {
            once_history(
                seen,
                PastEvent::AssistedBirth,
                "A birth with vacuum or forceps before",
            )
        },
        edges: &[edge(
            Urgency::Review,
            "told",
            || with(140, PastEvent::AssistedBirth).case(),
            "not told",
            || at(140).case(),
        )],
        ..ONCE
    },
    Rule {
        code: "place-many-births",
        title: "More than six births",
        when: "More than 6 births before; at any gestation, once.",
        sources: &[memory("PCPNC C2"), choice("a lower line flags very many")],
        judged_by: many_births,
        edges: &[edge(
            Urgency::Review,
            "7 births before",
            || births(7),
            "6 births before",
            || births(6),
        )],
        ..ONCE
    },
];

fn with(days: i64, event: PastEvent) -> Usual {
    at(days).told(|case| case.mother.history = vec![event])
}

fn aged(days: i64, years: u8) -> Usual {
    at(days).told(|case| case.mother.age_years = Some(years))
}

fn births(number: u8) -> Case {
    at(140)
        .told(|case| case.mother.births_before = Some(number))
        .case()
}

fn booked(seen: &Picture<'_>, fact: &str) -> Spoken {
    let chosen = match seen.today {
        Some(_) => seen.age_today(),
        None => format!("gestation unknown, {}", seen.tape_words()),
    };
    if seen.labour.is_some() {
        Spoken::review(format!("{fact}; {chosen}, in labour."))
    } else if seen.late() {
        Spoken::soon(format!("{fact}; {chosen}, booked from 36w+0d."))
    } else {
        Spoken::review(format!("{fact}; {chosen}, to be booked from 36w+0d."))
    }
}

fn told(seen: &Picture<'_>, event: PastEvent) -> Result<(), Why> {
    ask_fact(
        seen.case.mother.history.contains(&event),
        "nothing of the kind is told",
    )
}

fn late_history(seen: &Picture<'_>, event: PastEvent, fact: &str) -> Verdict {
    told(seen, event)?;
    Ok(booked(seen, fact))
}

fn once_history(seen: &Picture<'_>, event: PastEvent, fact: &str) -> Verdict {
    told(seen, event)?;
    Ok(Spoken::review(format!("{fact}.")))
}

fn age(seen: &Picture<'_>) -> Result<u8, Why> {
    seen.case.mother.age_years.ok_or(Why::Fact("age not known"))
}

fn under_14(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let years = age(seen)?;
    under("age", years, 14, Unit::Plain)?;
    Ok(booked(seen, &format!("{years} years old, under 14")))
}

fn under_16(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let years = age(seen)?;
    reaches("age", years, 14, Unit::Plain)?;
    under("age", years, 16, Unit::Plain)?;
    Ok(Spoken::review(format!("{years} years old, under 16.")))
}

fn from_40(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let years = age(seen)?;
    reaches("age", years, 40, Unit::Plain)?;
    Ok(Spoken::review(format!("{years} years old, from 40.")))
}

fn many_births(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let births = seen
        .case
        .mother
        .births_before
        .ok_or(Why::Fact("number of births not known"))?;
    exceeds("births before", births, 6, Unit::Plain)?;
    Ok(Spoken::review(format!(
        "{} before, more than 6.",
        count(births.into(), "birth", "births")
    )))
}
