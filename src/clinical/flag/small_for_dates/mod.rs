//! The tape is low, or does not grow.

mod judging;

use super::advice::{HEIGHT_SCAN, SECOND_TAPE, SMALL_BIRTH, SMALL_MOVES};
use super::rule::{Rule, Settling, choice, edge, memory, read};
use super::usual::{Usual, across, at, head_at, undated};
use crate::clinical::{Case, Category, HeightMethod, Movements, Urgency};

pub(super) use judging::{height_words, weeks_words, within_weeks};

const BASE: Rule = Rule {
    settles: Settling::Tape,
    ..Rule::of(Category::SmallForDates)
};

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "small-in-labour",
        title: "Small, in labour",
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
                "38w+0d, 32.5 cm (centile 2.2), head 4/5",
                || at(266).tape(325).hands(head_at(4)).in_labour().case(),
                "38w+0d, 33.0 cm, head 4/5",
                || at(266).tape(330).hands(head_at(4)).in_labour().case(),
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
                "38w+0d, 32.5 cm, head 2/5",
                || at(266).tape(325).hands(head_at(2)).in_labour().case(),
                "38w+0d, 32.5 cm, head 3/5",
                || at(266).tape(325).hands(head_at(3)).in_labour().case(),
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
            "34w+0d, 30.5 cm (centile 7.5), movements reduced",
            || moving(305),
            "34w+0d, 31.0 cm (centile 12.1), movements reduced",
            || moving(310),
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
                "34w+0d, 29.5 cm (centile 2.4)",
                || at(238).tape(295).case(),
                "34w+0d, 30.0 cm (centile 4.4)",
                || at(238).tape(300).case(),
            ),
            edge(
                Urgency::Review,
                "34w+0d, 29.5 cm, across",
                || at(238).tape(295).hands(across()).case(),
                "34w+0d, 29.5 cm, not across",
                || at(238).tape(295).case(),
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
        edges: &[edge(
            Urgency::Review,
            "34w+0d, 30.5 cm (centile 7.5)",
            || at(238).tape(305).case(),
            "34w+0d, 31.0 cm (centile 12.1)",
            || at(238).tape(310).case(),
        )],
        ..BASE
    },
    Rule {
        code: "height-static",
        title: "No growth",
        urgencies: &[Urgency::Soon, Urgency::Review],
        when: "Not in labour: no more than 28 days or longer ago: soon, but across or with waters broken review. Or no more than 14 days or longer ago and below the 10th centile: review. After 36w+0d not asked where the head has sunk between the two.",
        advice: HEIGHT_SCAN,
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
        ],
        ..BASE
    },
    Rule {
        code: "height-slow",
        title: "Slow growth",
        urgencies: &[Urgency::Review],
        when: "Not in labour, below the median (or gestation unknown), and no more than 21 days or longer ago, or at most 1.0 cm more than 28 days or longer ago.",
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
        edges: &[edge(
            Urgency::Review,
            "30w+3d, 28.4 cm",
            || by_weeks_at(213, 284).case(),
            "30w+3d, 28.5 cm",
            || by_weeks_at(213, 285).case(),
        )],
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

pub(super) fn by_weeks_at(days: i64, tape: u16) -> Usual {
    at(days)
        .tape(tape)
        .told(|case| case.post.fundal_height_method = HeightMethod::Weeks)
}
