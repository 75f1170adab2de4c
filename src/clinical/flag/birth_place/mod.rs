//! Reasons to talk about the place of birth.

mod judging;

use super::advice::PLACE;
use super::rule::{Rule, choice, edge, memory, read};
use super::usual::{Usual, at, undated};
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
        judged_by: |seen, _| {
            judging::late_history(seen, PastEvent::SevereTear, "A severe tear before")
        },
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
            edge(
                Urgency::Soon,
                "dates unknown, tape 33.0 cm",
                || taped(330, PastEvent::SevereTear),
                "dates unknown, tape 32.9 cm",
                || taped(329, PastEvent::SevereTear),
            ),
        ],
        ..LATE
    },
    Rule {
        code: "place-age-under-14",
        title: "Under 14 years",
        when: "Younger than 14 years. From 36w+0d (gestation unknown: tape 33.0 cm or more), not in labour: soon; else review.",
        sources: &[memory("PCPNC C2")],
        judged_by: judging::under_14,
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
            edge(
                Urgency::Soon,
                "dates unknown, tape 33.0 cm",
                || young(330),
                "dates unknown, tape 32.9 cm",
                || young(329),
            ),
        ],
        ..LATE
    },
    Rule {
        code: "place-heavy-bleeding",
        title: "Heavy bleeding before",
        when: "Heavy bleeding in an earlier birth. From 36w+0d (gestation unknown: tape 33.0 cm or more), not in labour: soon; else review.",
        sources: &[read("NG235 T7, PEP-16")],
        judged_by: |seen, _| {
            judging::late_history(seen, PastEvent::HeavyBleeding, "Heavy bleeding before")
        },
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
            edge(
                Urgency::Soon,
                "dates unknown, tape 33.0 cm",
                || taped(330, PastEvent::HeavyBleeding),
                "dates unknown, tape 32.9 cm",
                || taped(329, PastEvent::HeavyBleeding),
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
            judging::late_history(
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
            edge(
                Urgency::Soon,
                "dates unknown, tape 33.0 cm",
                || taped(330, PastEvent::Convulsions),
                "dates unknown, tape 32.9 cm",
                || taped(329, PastEvent::Convulsions),
            ),
        ],
        ..LATE
    },
    Rule {
        code: "place-age-under-16",
        title: "14 or 15 years",
        when: "14 or 15 years old; at any gestation, once.",
        sources: &[memory("PCPNC C2"), read("PEP-16")],
        judged_by: judging::under_16,
        edges: &[
            edge(
                Urgency::Review,
                "15 years",
                || aged(140, 15).case(),
                "16 years",
                || aged(140, 16).case(),
            ),
            edge(
                Urgency::Review,
                "14 years",
                || aged(140, 14).case(),
                "13 years",
                || aged(140, 13).case(),
            ),
        ],
        ..ONCE
    },
    Rule {
        code: "place-age-40",
        title: "40 years or more",
        when: "40 years or older; at any gestation, once.",
        sources: &[read("NG235 T9")],
        judged_by: judging::from_40,
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
        judged_by: |seen, _| {
            judging::once_history(seen, PastEvent::Stillbirth, "A stillbirth before")
        },
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
            judging::once_history(
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
            judging::once_history(
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
        judged_by: judging::many_births,
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

fn taped(tenths: u16, event: PastEvent) -> Case {
    undated()
        .tape(tenths)
        .told(|case| case.mother.history = vec![event])
        .case()
}

fn young(tenths: u16) -> Case {
    undated()
        .tape(tenths)
        .told(|case| case.mother.age_years = Some(13))
        .case()
}

fn aged(days: i64, years: u8) -> Usual {
    at(days).told(|case| case.mother.age_years = Some(years))
}

fn births(number: u8) -> Case {
    at(140)
        .told(|case| case.mother.births_before = Some(number))
        .case()
}
