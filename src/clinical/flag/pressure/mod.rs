//! Raised blood pressure: of the first five the first that fits, and protein alone.

mod judging;

use super::advice::{PRESSURE_AGAIN, PRESSURE_SEND, URINE_AGAIN};
use super::rule::{Rule, Settling, choice, edge, memory, read};
use super::usual::{Usual, at};
use crate::clinical::{Case, Category, DangerSign, Protein, Urgency};

const BASE: Rule = Rule::of(Category::RaisedBloodPressure);

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "pressure-severe",
        title: "Blood pressure severely raised",
        urgencies: &[Urgency::Now],
        when: "Systolic 160 or more, or diastolic 110 or more.",
        advice: PRESSURE_SEND,
        sources: &[
            read("PEP-3-13, AGO17"),
            memory("NG133"),
            choice("one reading is enough to go"),
        ],
        judged_by: judging::severe,
        edges: &[
            edge(
                Urgency::Now,
                "160/109",
                || measured(160, 109).case(),
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
        title: "Blood pressure raised, with a danger sign",
        urgencies: &[Urgency::Now],
        when: "Systolic 140 or more, or diastolic 90 or more, with severe headache, blurred vision, severe abdominal pain, breathing difficulty, convulsions or unconscious.",
        advice: PRESSURE_SEND,
        sources: &[read("PEP-3-17"), memory("PCPNC C3")],
        after: &["pressure-severe"],
        judged_by: judging::with_sign,
        edges: &[
            edge(
                Urgency::Now,
                "140/89 with severe headache",
                || with_headache(140, 89),
                "139/89 with severe headache",
                || with_headache(139, 89),
            ),
            edge(
                Urgency::Now,
                "139/90 with severe headache",
                || with_headache(139, 90),
                "139/89 with severe headache",
                || with_headache(139, 89),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "pre-eclampsia-likely",
        title: "Blood pressure raised, with protein",
        urgencies: &[Urgency::Now, Urgency::Soon, Urgency::Review],
        when: "Raised, and protein in the last urine of 28 days: 2+ or more now; 1+ soon, in labour review.",
        advice: PRESSURE_SEND,
        sources: &[
            read("PEP-3-3 (1+), BTC-1.46 (2+)"),
            memory("PCPNC C3"),
            choice("waters and show give 1+ in labour"),
        ],
        after: &["pressure-severe", "pressure-with-sign"],
        judged_by: judging::with_protein,
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
            edge(
                Urgency::Soon,
                "140/89, 1+ 28 days before",
                || urine_before(0),
                "140/89, 1+ 28 days and a minute before",
                || urine_before(1),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "pressure-twice",
        title: "Blood pressure raised twice",
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
        judged_by: judging::twice,
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
                "140/89, 28 days and a minute after 140/89",
                || again_after(28 * 1440 + 1).case(),
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
        title: "Blood pressure raised",
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
        judged_by: judging::raised_once,
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
        title: "Protein without raised blood pressure",
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
        judged_by: judging::protein_alone,
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

/// Raised today, 1+ four weeks and so many minutes before.
fn urine_before(minutes: i64) -> Case {
    measured(140, 89)
        .visit_before(28 * 1440 + minutes, |visit| {
            visit.urine_protein = Some(Protein::One);
        })
        .case()
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
