//! Two babies: seen by scan, likely, or possible.

mod judging;

use super::advice::{TWINS_PLAN, TWINS_SCAN};
use super::rule::{Rule, Settling, Softening, choice, edge, memory, practice, read};
use super::usual::{Usual, at, head_below, undated};
use crate::clinical::{Case, Category, PalpationFindings, Pole, Side, Urgency};

const BASE: Rule = Rule {
    settles: Settling::Never,
    ..Rule::of(Category::SuspectedTwins)
};

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "twins-known",
        title: "Twins by scan",
        urgencies: &[Urgency::Now, Urgency::Soon, Urgency::Review],
        when: "The last scan that counted saw two or more babies, at any gestation. In labour: now; else soon. With staff skilled in twin birth: review.",
        advice: TWINS_PLAN,
        sources: &[read("NG235 T7"), memory("PCPNC C2")],
        softens: Some(Softening::Twins),
        judged_by: judging::known,
        edges: &[
            edge(
                Urgency::Now,
                "two by scan, in labour",
                || scanned(2).in_labour().case(),
                "two by scan, not in labour",
                || scanned(2).case(),
            ),
            edge(
                Urgency::Soon,
                "two by scan",
                || scanned(2).case(),
                "one by scan",
                || scanned(1).case(),
            ),
            edge(
                Urgency::Review,
                "two by scan, skilled staff",
                || {
                    scanned(2)
                        .told(|case| case.post.skilled_twins = true)
                        .case()
                },
                "two by scan, no skilled staff",
                || scanned(2).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "twins-likely",
        title: "Twins likely",
        urgencies: &[Urgency::Now, Urgency::Soon, Urgency::Review],
        when: "From 24w+0d (gestation unknown: tape 24.0 cm or more, or none), or in labour or with waters broken. A strong sign: two heads, three or more poles, or two hearts counted together that differ by 10 or more. Or two lesser signs where no scan has counted. In labour: now; else soon. A strong sign against a scan of one, or skilled staff: review.",
        advice: TWINS_PLAN,
        sources: &[read("OU-L8.7.2"), choice("a scan outranks hands")],
        softens: Some(Softening::Twins),
        judged_by: judging::likely,
        edges: &[
            edge(
                Urgency::Now,
                "hearts 140 and 150 together, in labour",
                || hearts(150).uncounted().in_labour().case(),
                "the same, not in labour",
                || hearts(150).uncounted().case(),
            ),
            edge(
                Urgency::Soon,
                "hearts 140 and 150 together, 10 apart",
                || hearts(150).uncounted().case(),
                "hearts 140 and 149 together, 9 apart",
                || hearts(149).uncounted().case(),
            ),
            edge(
                Urgency::Soon,
                "24w+0d, many small parts and a large belly",
                || two_lesser(at(168).uncounted()).case(),
                "23w+6d, the same",
                || two_lesser(at(167).uncounted()).case(),
            ),
            edge(
                Urgency::Review,
                "hearts 140 and 150, a scan of one",
                || hearts(150).case(),
                "hearts 140 and 149, a scan of one",
                || hearts(149).case(),
            ),
            edge(
                Urgency::Soon,
                "dates unknown, tape 24.0 cm, many small parts and a large belly",
                || two_lesser(undated().tape(240)).case(),
                "dates unknown, tape 23.9 cm, the same",
                || two_lesser(undated().tape(239)).case(),
            ),
            edge(
                Urgency::Soon,
                "three poles felt, no scan that counted",
                || poles(Pole::SoftIrregular, Side::SoftIrregular),
                "two poles felt, no scan that counted",
                || poles(Pole::SoftIrregular, Side::LongSmooth),
            ),
            edge(
                Urgency::Soon,
                "two heads felt, no scan that counted",
                || poles(Pole::HardRound, Side::LongSmooth),
                "one head felt, no scan that counted",
                || poles(Pole::SoftIrregular, Side::LongSmooth),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "twins-possible",
        title: "Twins possible",
        urgencies: &[Urgency::Review],
        when: "From 24w+0d (gestation unknown: tape 24.0 cm or more, or none), or in labour or with waters broken: no strong sign, exactly one lesser sign and no scan that counted. Lesser signs: size (above the 97th centile; gestation unknown: tape over 40.0 cm; a belly that looks unusually large), many small parts, two soft poles without a head. Not for size by the centile alone: a large-for-dates rule says that.",
        advice: TWINS_SCAN,
        sources: &[
            read("PEP-8A-D"),
            practice("one baby lying awkwardly is commoner than two"),
        ],
        judged_by: judging::possible,
        edges: &[
            edge(
                Urgency::Review,
                "dates unknown, tape 40.1 cm",
                || undated().tape(401).case(),
                "dates unknown, tape 40.0 cm",
                || undated().tape(400).case(),
            ),
            edge(
                Urgency::Review,
                "many small parts, no scan that counted",
                || small_parts(at(252).uncounted()).case(),
                "many small parts, a scan of one",
                || small_parts(at(252)).case(),
            ),
            edge(
                Urgency::Review,
                "24w+0d, many small parts",
                || small_parts(at(168).uncounted()).case(),
                "23w+6d, many small parts",
                || small_parts(at(167).uncounted()).case(),
            ),
            edge(
                Urgency::Review,
                "dates unknown, tape 24.0 cm, many small parts",
                || small_parts(undated().tape(240)).case(),
                "dates unknown, tape 23.9 cm, many small parts",
                || small_parts(undated().tape(239)).case(),
            ),
            edge(
                Urgency::Review,
                "many small parts alone: 36.7 cm at 34w+0d (centile 97.0)",
                || small_parts(at(238).uncounted().tape(367)).case(),
                "many small parts and size: 36.8 cm at 34w+0d (centile 97.3), above the 97th",
                || small_parts(at(238).uncounted().tape(368)).case(),
            ),
        ],
        ..BASE
    },
];

fn scanned(babies: u8) -> Usual {
    at(252).told(|case| {
        for scan in &mut case.dating.scans {
            scan.babies = Some(babies);
        }
    })
}

fn hearts(other: u8) -> Usual {
    at(252).visit(|visit| visit.fetal_hearts = vec![140, other])
}

fn two_lesser(usual: Usual) -> Usual {
    usual.hands(PalpationFindings {
        many_small_parts: Some(true),
        belly_unusually_large: Some(true),
        ..PalpationFindings::default()
    })
}

fn small_parts(usual: Usual) -> Usual {
    usual.hands(PalpationFindings {
        many_small_parts: Some(true),
        ..head_below()
    })
}

/// A head below, and these at the top and at her left.
fn poles(fundus: Pole, left: Side) -> Case {
    at(252)
        .uncounted()
        .hands(PalpationFindings {
            fundus: Some(fundus),
            left: Some(left),
            ..head_below()
        })
        .case()
}
