//! The fetal heart and the baby's movements.

mod judging;

use super::advice::{HEART_LISTEN, HEART_SECOND_PERSON};
use super::rule::{Rule, Settling, edge, memory, read};
use super::usual::{Usual, at, labour, undated};
use crate::clinical::{Case, Category, Deceleration, Movements, Urgency};

pub(super) use judging::{counts, inside, moves_less};

const BASE: Rule = Rule::of(Category::FetalHeart);

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "heart-abnormal",
        title: "Outside the limits",
        urgencies: &[Urgency::Now, Urgency::Review, Urgency::Recheck],
        when: "In labour, labour care guide: under 110, or 160 and over; partograph: under 120 or over 160. Counted again 15 min after the first; under 100, over 180, so for 10 min, with a late fall, thick meconium, cord or bleeding at the same time, or not counted again for more than 30 min: now. Not in labour, from 24w+0d or gestation unknown: under 110 or over 160 review, under 100 or over 180 now.",
        advice: HEART_LISTEN,
        sources: &[
            memory("LCG"),
            read("OU-L4, MCPC C-57, S-69"),
            memory("NG133 (110 to 160)"),
        ],
        settles: Settling::HeartCount,
        judged_by: judging::abnormal,
        edges: &[
            edge(
                Urgency::Review,
                "161, not in labour",
                || counted(161).case(),
                "160, not in labour",
                || counted(160).case(),
            ),
            edge(
                Urgency::Now,
                "99, not in labour",
                || counted(99).case(),
                "100, not in labour",
                || counted(100).case(),
            ),
            edge(
                Urgency::Recheck,
                "160 in labour, labour care guide",
                || in_labour(160).case(),
                "159 in labour, labour care guide",
                || in_labour(159).case(),
            ),
            edge(
                Urgency::Recheck,
                "119 in labour, partograph",
                || in_labour(119).partograph().case(),
                "120 in labour, partograph",
                || in_labour(120).partograph().case(),
            ),
            edge(
                Urgency::Now,
                "168, again 166 after 10 min",
                || confirmed(10),
                "168, again 166 after 9 min",
                || confirmed(9),
            ),
            edge(
                Urgency::Now,
                "168, not counted again for 30 min and a second",
                || in_labour(168).later(1801).case(),
                "168, 30 min ago",
                || in_labour(168).later(1800).case(),
            ),
            edge(
                Urgency::Review,
                "161 at 24w+0d",
                || heard(at(168), 161).case(),
                "161 at 23w+6d",
                || heard(at(167), 161).case(),
            ),
            edge(
                Urgency::Review,
                "109, not in labour",
                || counted(109).case(),
                "110, not in labour",
                || counted(110).case(),
            ),
            edge(
                Urgency::Now,
                "181, not in labour",
                || counted(181).case(),
                "180, not in labour",
                || counted(180).case(),
            ),
            edge(
                Urgency::Recheck,
                "109 in labour, labour care guide",
                || in_labour(109).case(),
                "110 in labour, labour care guide",
                || in_labour(110).case(),
            ),
            edge(
                Urgency::Recheck,
                "161 in labour, partograph",
                || in_labour(161).partograph().case(),
                "160 in labour, partograph",
                || in_labour(160).partograph().case(),
            ),
            edge(
                Urgency::Now,
                "99 in labour",
                || in_labour(99).case(),
                "100 in labour",
                || in_labour(100).case(),
            ),
            edge(
                Urgency::Now,
                "181 in labour",
                || in_labour(181).case(),
                "180 in labour",
                || in_labour(180).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "heart-late-deceleration",
        title: "Falls after a contraction",
        urgencies: &[Urgency::Now],
        when: "The last note of a fall around contractions in this labour is late.",
        advice: HEART_LISTEN,
        sources: &[read("BTC-2.18"), memory("LCG")],
        judged_by: judging::late_deceleration,
        edges: &[edge(
            Urgency::Now,
            "late",
            || falling(Deceleration::Late),
            "variable",
            || falling(Deceleration::Variable),
        )],
        ..BASE
    },
    Rule {
        code: "heart-not-heard",
        title: "Not heard",
        urgencies: &[Urgency::Now, Urgency::Review, Urgency::Recheck],
        when: "Looked for and not heard. In labour: a second person after 15 min; so for 10 min, movements reduced or none, or not repeated for more than 30 min: now. Not in labour, from 24w+0d (gestation unknown: tape 24.0 cm or more, or none) or with waters broken: with movements reduced or none now, else review.",
        advice: HEART_SECOND_PERSON,
        sources: &[read("GTG57, PEP-2-26"), memory("PCPNC C7, MCPC")],
        settles: Settling::HeartCount,
        judged_by: judging::not_heard,
        edges: &[
            edge(
                Urgency::Review,
                "sought and not heard at 24w+0d",
                || sought(at(168)).case(),
                "sought and not heard at 23w+6d",
                || sought(at(167)).case(),
            ),
            edge(
                Urgency::Now,
                "not heard at 24w+0d, movements reduced",
                || moving(sought(at(168)), Movements::Reduced),
                "not heard at 24w+0d, movements as usual",
                || moving(sought(at(168)), Movements::Normal),
            ),
            edge(
                Urgency::Recheck,
                "in labour, sought and not heard",
                || labour().row(0, |row| row.heart_sought = Some(true)).case(),
                "in labour, not sought",
                || labour().row(0, |_| ()).case(),
            ),
            edge(
                Urgency::Now,
                "in labour, not heard twice, 10 min apart",
                || unheard(10).case(),
                "in labour, not heard twice, 9 min apart",
                || unheard(9).case(),
            ),
            edge(
                Urgency::Now,
                "in labour, not heard, not repeated for 30 min and a second",
                || unheard(0).later(1801).case(),
                "in labour, not heard 30 min ago",
                || unheard(0).later(1800).case(),
            ),
            edge(
                Urgency::Review,
                "dates unknown, not heard at 24.0 cm",
                || sought(undated().tape(240)).case(),
                "dates unknown, not heard at 23.9 cm",
                || sought(undated().tape(239)).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "movements-none",
        title: "No movements",
        urgencies: &[Urgency::Now],
        when: "None felt, from 24w+0d (gestation unknown: tape 24.0 cm or more, or none).",
        advice: HEART_SECOND_PERSON,
        sources: &[read("OU-A11")],
        judged_by: judging::movements_none,
        edges: &[
            edge(
                Urgency::Now,
                "none at 24w+0d",
                || moving(at(168), Movements::None),
                "none at 23w+6d",
                || moving(at(167), Movements::None),
            ),
            edge(
                Urgency::Now,
                "dates unknown, tape 24.0 cm",
                || moving(undated().tape(240), Movements::None),
                "dates unknown, tape 23.9 cm",
                || moving(undated().tape(239), Movements::None),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "movements-reduced",
        title: "Fewer movements",
        urgencies: &[Urgency::Review],
        when: "Reduced, from 28w+0d (gestation unknown: tape 24.0 cm or more, or none).",
        advice: HEART_SECOND_PERSON,
        sources: &[read("GTG57 (28+0), PEP-2-25")],
        judged_by: judging::movements_reduced,
        edges: &[
            edge(
                Urgency::Review,
                "reduced at 28w+0d",
                || moving(at(196), Movements::Reduced),
                "reduced at 27w+6d",
                || moving(at(195), Movements::Reduced),
            ),
            edge(
                Urgency::Review,
                "dates unknown, reduced at 24.0 cm",
                || moving(undated().tape(240), Movements::Reduced),
                "dates unknown, reduced at 23.9 cm",
                || moving(undated().tape(239), Movements::Reduced),
            ),
        ],
        ..BASE
    },
];

fn counted(count: u8) -> Usual {
    heard(at(252), count)
}

fn heard(usual: Usual, count: u8) -> Usual {
    usual.visit(|visit| visit.fetal_hearts = vec![count])
}

fn in_labour(count: u8) -> Usual {
    labour().row(0, |row| row.fetal_hearts = vec![count])
}

fn confirmed(minutes: i64) -> Case {
    labour()
        .row(minutes, |row| row.fetal_hearts = vec![168])
        .row(0, |row| row.fetal_hearts = vec![166])
        .case()
}

fn unheard(minutes: i64) -> Usual {
    labour()
        .row(minutes, |row| row.heart_sought = Some(true))
        .row(0, |row| row.heart_sought = Some(true))
}

fn falling(deceleration: Deceleration) -> Case {
    labour()
        .row(0, |row| row.deceleration = Some(deceleration))
        .case()
}

fn sought(usual: Usual) -> Usual {
    usual.visit(|visit| visit.heart_sought = Some(true))
}

fn moving(usual: Usual, movements: Movements) -> Case {
    usual
        .visit(|visit| visit.movements = Some(movements))
        .case()
}
