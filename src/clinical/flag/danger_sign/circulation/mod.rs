//! Shock, a fast pulse, a pressure that is low or falls.

mod judging;

use crate::clinical::flag::advice::BLEEDING_LOOK;
use crate::clinical::flag::rule::{Rule, Settling, choice, edge, memory, read};
use crate::clinical::flag::usual::{Usual, at, labour};
use crate::clinical::{Case, Category, DangerSign, LabourRow, Urgency};

const BASE: Rule = Rule {
    urgencies: &[Urgency::Now, Urgency::Recheck],
    advice: BLEEDING_LOOK,
    settles: Settling::SameFigure,
    after: &["shock"],
    ..Rule::of(Category::DangerSign)
};

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "shock",
        title: "Shock",
        urgencies: &[Urgency::Now],
        when: "Pulse 110 or more with systolic under 90, at most 30 min apart.",
        sources: &[read("MCPC C-1"), choice("at most 30 min apart")],
        settles: Settling::Never,
        after: &[],
        judged_by: judging::shock,
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
            edge(
                Urgency::Now,
                "pulse 110, systolic 89",
                || measured(110, 89),
                "pulse 109, systolic 89",
                || measured(109, 89),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "pulse-fast",
        title: "Fast pulse",
        when: "No shock. Pulse 110 or more, in labour 120: counted again after 15 min. In labour 120 or more for 15 min: now.",
        sources: &[read("MCPC C-1 (110)"), memory("LCG, NG235 (120)")],
        judged_by: judging::pulse_fast,
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
        when: "No shock, pressure not raised. Systolic under 80: now. 80 to 89: again after 15 min on her left side. In labour silent where the diastolic fell: falling pressure says it.",
        sources: &[memory("LCG (80)"), read("MCPC C-1 (90)")],
        judged_by: judging::low,
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
            edge(
                Urgency::Recheck,
                "systolic 80",
                || systolic(80),
                "systolic 79",
                || systolic(79),
            ),
            edge(
                Urgency::Recheck,
                "in labour, diastolic 85, then 71 with systolic 89",
                || fell(71, |row| row.systolic = Some(89)),
                "in labour, diastolic 85, then 70 with systolic 89",
                || fell(70, |row| row.systolic = Some(89)),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "pressure-drop",
        title: "Falling pressure",
        when: "In labour, no shock, pressure not raised: diastolic 15 or more below the reading before it (of at most 24 h before), fallen within the last 4 h and still so. Again after 15 min; still so for 15 min, or with pulse 100 or more, systolic under 100 or bleeding: now.",
        sources: &[
            read("OU-L3.2.7"),
            choice("two steps, because one fall is mostly an error of reading"),
        ],
        judged_by: judging::dropped,
        edges: &[
            edge(
                Urgency::Recheck,
                "diastolic 85, then 70: 15 lower",
                || fell(70, |_| ()),
                "diastolic 85, then 71: 14 lower",
                || fell(71, |_| ()),
            ),
            edge(
                Urgency::Now,
                "70 still after 15 min",
                || fell_since(15, 15),
                "70 still after 14 min",
                || fell_since(15, 14),
            ),
            edge(
                Urgency::Recheck,
                "diastolic 85, 24 h later 70",
                || fell_since(1440, 0),
                "diastolic 85, 24 h and a minute later 70",
                || fell_since(1441, 0),
            ),
            edge(
                Urgency::Now,
                "diastolic 85, then 70 for 4 h",
                || fell_since(15, 240),
                "diastolic 85, then 70 for 4 h and a minute",
                || fell_since(15, 241),
            ),
            edge(
                Urgency::Now,
                "diastolic 85, then 70 with pulse 100",
                || fell(70, |row| row.pulse = Some(100)),
                "diastolic 85, then 70 with pulse 99",
                || fell(70, |row| row.pulse = Some(99)),
            ),
            edge(
                Urgency::Now,
                "diastolic 85, then 70 with systolic 99",
                || fell(70, |row| row.systolic = Some(99)),
                "diastolic 85, then 70 with systolic 100",
                || fell(70, |row| row.systolic = Some(100)),
            ),
            edge(
                Urgency::Now,
                "diastolic 85, then 70 with bleeding",
                || fell(70, |row| row.danger_signs = vec![DangerSign::Bleeding]),
                "diastolic 85, then 70 without bleeding",
                || fell(70, |_| ()),
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

fn fell(to: u16, beside: fn(&mut LabourRow)) -> Case {
    labour()
        .row(15, |row| row.diastolic = Some(85))
        .row(0, |row| {
            row.diastolic = Some(to);
            beside(row);
        })
        .case()
}

/// 85, so many minutes later 70, and still so after some more.
fn fell_since(apart: i64, minutes: i64) -> Case {
    labour()
        .row(minutes + apart, |row| row.diastolic = Some(85))
        .row(minutes, |row| row.diastolic = Some(70))
        .row(0, |row| row.diastolic = Some(70))
        .case()
}
