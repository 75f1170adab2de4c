//! The tape is low, or does not grow.

mod judging;

use super::advice::{HEIGHT_SCAN, SECOND_TAPE, SECOND_TAPE_WEEK, SMALL_BIRTH, SMALL_MOVES};
use super::rule::{Rule, Settling, choice, edge, memory, read};
use super::usual::{Usual, across, at, head_at, undated};
use crate::clinical::{Case, Category, HeightMethod, Movements, Urgency, Waters};

pub(super) use judging::{height_words, weeks_words, within_weeks};

const BASE: Rule = Rule {
    settles: Settling::Tape,
    ..Rule::of(Category::SmallForDates)
};

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "small-in-labour",
        title: "Small for dates, in labour",
        urgencies: &[Urgency::Now, Urgency::Review],
        when: "In labour, tape below the 3rd centile: now; from 37w+0d with broken waters or a head at 2/5 or fewer: review. No centile: tape under 30.0 cm, now.",
        advice: SMALL_BIRTH,
        sources: &[
            read("WAL95"),
            choice("the 3rd centile beside it"),
            choice("broken waters and a sunk head shrink the tape"),
        ],
        settles: Settling::Never,
        judged_by: judging::in_labour,
        edges: &[
            edge(
                Urgency::Now,
                "38w+0d, 32.7 cm (centile 2.8), below the 3rd, head 4/5",
                || at(266).tape(327).hands(head_at(4)).in_labour().case(),
                "38w+0d, 32.8 cm (centile 3.2), head 4/5",
                || at(266).tape(328).hands(head_at(4)).in_labour().case(),
            ),
            edge(
                Urgency::Now,
                "dates unknown, 29.9 cm",
                || undated().tape(299).in_labour().case(),
                "dates unknown, 30.0 cm",
                || undated().tape(300).in_labour().case(),
            ),
            edge(
                Urgency::Review,
                "38w+0d, 32.7 cm, head 2/5",
                || at(266).tape(327).hands(head_at(2)).in_labour().case(),
                "38w+0d, 32.7 cm, head 3/5",
                || at(266).tape(327).hands(head_at(3)).in_labour().case(),
            ),
            edge(
                Urgency::Review,
                "37w+0d, 31.9 cm, waters broken",
                || ran(at(259).tape(319)).in_labour().case(),
                "36w+6d, 31.9 cm, waters broken",
                || ran(at(258).tape(319)).in_labour().case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "small-moves-less",
        title: "Small and moves less",
        urgencies: &[Urgency::Now],
        when: "Not in labour: below the 10th centile (under either method), or no growth, and movements reduced or none.",
        advice: SMALL_MOVES,
        sources: &[read("PEP-16, 2-27")],
        settles: Settling::Never,
        after: &["height-static"],
        judged_by: judging::moves_less,
        edges: &[edge(
            Urgency::Now,
            "34w+0d, 30.7 cm (centile 9.1), below the 10th, movements reduced",
            || moving(307),
            "34w+0d, 30.8 cm (centile 10.0), movements reduced",
            || moving(308),
        )],
        ..BASE
    },
    Rule {
        code: "height-below-3rd",
        title: "Below the 3rd centile",
        urgencies: &[Urgency::Soon, Urgency::Review],
        when: "Tape below the 3rd centile from 24w+0d to 42w+0d, not in labour, where the weeks method does not decide. Across, or waters broken: review.",
        advice: SECOND_TAPE,
        sources: &[read("NOR17, NG235 T7"), memory("GTG31")],
        judged_by: judging::below_3rd,
        edges: &[
            edge(
                Urgency::Soon,
                "34w+0d, 29.6 cm (centile 2.7), below the 3rd",
                || at(238).tape(296).case(),
                "34w+0d, 29.7 cm (centile 3.1)",
                || at(238).tape(297).case(),
            ),
            edge(
                Urgency::Review,
                "34w+0d, 29.6 cm, across",
                || at(238).tape(296).hands(across()).case(),
                "34w+0d, 29.6 cm, not across",
                || at(238).tape(296).case(),
            ),
            edge(
                Urgency::Soon,
                "24w+0d, 20.0 cm",
                || at(168).tape(200).case(),
                "23w+6d, 20.0 cm",
                || at(167).tape(200).case(),
            ),
            edge(
                Urgency::Soon,
                "42w+0d, 35.0 cm",
                || at(294).tape(350).case(),
                "42w+1d, 35.0 cm",
                || at(295).tape(350).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "height-below-10th",
        title: "Below the 10th centile",
        urgencies: &[Urgency::Review],
        when: "Tape from the 3rd to under the 10th centile, from 24w+0d to 42w+0d, not in labour, where the weeks method does not decide.",
        advice: HEIGHT_SCAN,
        sources: &[read("NOR17, PI")],
        judged_by: judging::below_10th,
        edges: &[
            edge(
                Urgency::Review,
                "34w+0d, 30.7 cm (centile 9.1), below the 10th",
                || at(238).tape(307).case(),
                "34w+0d, 30.8 cm (centile 10.0)",
                || at(238).tape(308).case(),
            ),
            edge(
                Urgency::Review,
                "34w+0d, 29.7 cm (centile 3.1)",
                || at(238).tape(297).case(),
                "34w+0d, 29.6 cm (centile 2.7), below the 3rd",
                || at(238).tape(296).case(),
            ),
            edge(
                Urgency::Review,
                "24w+0d, 21.5 cm",
                || at(168).tape(215).case(),
                "23w+6d, 21.5 cm",
                || at(167).tape(215).case(),
            ),
            edge(
                Urgency::Review,
                "42w+0d, 36.5 cm",
                || at(294).tape(365).case(),
                "42w+1d, 36.5 cm",
                || at(295).tape(365).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "height-static",
        title: "No growth",
        urgencies: &[Urgency::Soon, Urgency::Review],
        when: "Not in labour: no growth in 28 days or longer: soon, but across or with waters broken review. Or no growth in 14 days or longer and below the 10th centile: review. Where the head has sunk between the two tapes, asked only up to 36w+0d.",
        advice: HEIGHT_SCAN,
        other_advice: Some(("By the 14-day way alone", SECOND_TAPE_WEEK)),
        sources: &[
            read("PEP-2-9, PEP-16"),
            choice("two weeks of one tape are for a second tape first"),
        ],
        settles: Settling::TapeAfterTwoWeeks,
        judged_by: judging::standstill,
        edges: &[
            edge(
                Urgency::Soon,
                "34w+0d, 32.0 cm as 28 days before",
                || twice(320, 320, 28),
                "34w+0d, 32.0 cm, 31.9 cm 28 days before",
                || twice(319, 320, 28),
            ),
            edge(
                Urgency::Review,
                "34w+0d, 30.5 cm (centile 7.5) as 14 days before",
                || twice(305, 305, 14),
                "34w+0d, 30.5 cm as 13 days before",
                || twice(305, 305, 13),
            ),
            edge(
                Urgency::Soon,
                "34w+0d, 32.0 cm as 28 days before",
                || twice(320, 320, 28),
                "34w+0d, 32.0 cm as 27 days before",
                || twice(320, 320, 27),
            ),
            edge(
                Urgency::Review,
                "34w+0d, 30.7 cm (centile 9.1), below the 10th, as 14 days before",
                || twice(307, 307, 14),
                "34w+0d, 30.8 cm (centile 10.0) as 14 days before",
                || twice(308, 308, 14),
            ),
            edge(
                Urgency::Soon,
                "36w+0d, 33.0 cm as 28 days before, head 5/5, now 3/5",
                || sinking(252, 330),
                "36w+1d, 33.0 cm as 28 days before, head 5/5, now 3/5",
                || sinking(253, 330),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "height-slow",
        title: "Slow growth",
        urgencies: &[Urgency::Review],
        when: "Not in labour, no standstill, below the median (gestation unknown: both tapes 24.0 to 32.9 cm), and no growth in 21 days or longer, or at most 1.0 cm in 28 days or longer. Where the head has sunk between the two tapes, asked only up to 36w+0d.",
        advice: HEIGHT_SCAN,
        sources: &[
            read("PEP-2A-E"),
            choice("21 days and 1.0 cm, because a tape errs by 1 cm"),
        ],
        settles: Settling::TapeAfterTwoWeeks,
        judged_by: judging::slow,
        edges: &[
            edge(
                Urgency::Review,
                "34w+0d, 32.0 cm as 21 days before",
                || twice(320, 320, 21),
                "34w+0d, 32.0 cm as 20 days before",
                || twice(320, 320, 20),
            ),
            edge(
                Urgency::Review,
                "34w+0d, 32.0 cm, 1.0 cm more than 28 days before",
                || twice(310, 320, 28),
                "34w+0d, 32.0 cm, 1.1 cm more than 28 days before",
                || twice(309, 320, 28),
            ),
            edge(
                Urgency::Review,
                "34w+0d, 32.0 cm, 1.0 cm more than 28 days before",
                || twice(310, 320, 28),
                "34w+0d, 32.0 cm, 1.0 cm more than 27 days before",
                || twice(310, 320, 27),
            ),
            edge(
                Urgency::Review,
                "dates unknown, 24.5 cm, 24.0 cm 28 days before",
                || undated_twice(240, 245),
                "dates unknown, 24.5 cm, 23.9 cm 28 days before",
                || undated_twice(239, 245),
            ),
            edge(
                Urgency::Review,
                "dates unknown, 32.9 cm, 32.5 cm 28 days before",
                || undated_twice(325, 329),
                "dates unknown, 33.0 cm, 32.5 cm 28 days before",
                || undated_twice(325, 330),
            ),
            edge(
                Urgency::Review,
                "36w+0d, 33.0 cm, 32.9 cm 28 days before, head 5/5, now 3/5",
                || sinking(252, 329),
                "36w+1d, 33.0 cm, 32.9 cm 28 days before, head 5/5, now 3/5",
                || sinking(253, 329),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "height-under-weeks",
        title: "Under the weeks",
        urgencies: &[Urgency::Review],
        when: "Weeks method, 24w+0d to 36w+0d, not in labour: more than 2 cm under the weeks.",
        advice: HEIGHT_SCAN,
        sources: &[read("ANC16")],
        judged_by: judging::under_weeks,
        edges: &[
            edge(
                Urgency::Review,
                "30w+3d, 28.4 cm",
                || by_weeks_at(213, 284).case(),
                "30w+3d, 28.5 cm",
                || by_weeks_at(213, 285).case(),
            ),
            edge(
                Urgency::Review,
                "24w+0d, 21.0 cm",
                || by_weeks_at(168, 210).case(),
                "23w+6d, 21.0 cm",
                || by_weeks_at(167, 210).case(),
            ),
            edge(
                Urgency::Review,
                "36w+0d, 33.9 cm",
                || by_weeks_at(252, 339).case(),
                "36w+1d, 33.9 cm",
                || by_weeks_at(253, 339).case(),
            ),
            edge(
                Urgency::Review,
                "30w+0d, 27.9 cm, 2.1 cm under",
                || by_weeks_at(210, 279).case(),
                "30w+0d, 28.0 cm, 2 cm under",
                || by_weeks_at(210, 280).case(),
            ),
        ],
        ..BASE
    },
];

fn moving(tape: u16) -> Case {
    at(238)
        .tape(tape)
        .visit(|visit| visit.movements = Some(Movements::Reduced))
        .case()
}

fn twice(before: u16, now: u16, days: i64) -> Case {
    at(238)
        .tape(now)
        .days_before(days, |visit| visit.fundal_height_tenths = Some(before))
        .case()
}

fn ran(usual: Usual) -> Usual {
    usual.visit(|visit| visit.waters = Some(Waters::Broken))
}

fn undated_twice(before: u16, now: u16) -> Case {
    undated()
        .tape(now)
        .days_before(28, |visit| visit.fundal_height_tenths = Some(before))
        .case()
}

/// 33.0 cm after another tape 28 days before, while the head went into the brim.
fn sinking(days: i64, before: u16) -> Case {
    at(days)
        .tape(330)
        .hands(head_at(3))
        .days_before(28, |visit| {
            visit.fundal_height_tenths = Some(before);
            visit.palpation = Some(head_at(5));
        })
        .case()
}

pub(super) fn by_weeks_at(days: i64, tape: u16) -> Usual {
    at(days)
        .tape(tape)
        .told(|case| case.post.fundal_height_method = HeightMethod::Weeks)
}
