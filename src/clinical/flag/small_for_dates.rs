//! The tape is low, or does not grow.

use super::advice::{HEIGHT_SCAN, SECOND_TAPE, SECOND_TAPE_WEEK, SMALL_BIRTH, SMALL_MOVES};
use super::rule::{Raised, Rule, Settling, choice, edge, memory, read};
use super::usual::{Usual, across, at, head_at, undated};
use crate::clinical::fundal_height::{WeeksVerdict, Z3, Z10, by_weeks};
use crate::clinical::picture::{Growth, Pair, Picture, Way};
use crate::clinical::record::Record;
use crate::clinical::speech::{cm, day, tenths};
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask, ask_fact, under};
use crate::clinical::{Case, Category, HeightMethod, HeightScore, Movements, Urgency};

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
        judged_by: in_labour,
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
        judged_by: moves_less,
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
        judged_by: below_3rd,
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
        judged_by: below_10th,
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
        judged_by: standstill,
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
        judged_by: slow,
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
        judged_by: under_weeks,
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

/// One baby's tape, outside labour.
fn one_baby(seen: &Picture<'_>) -> Result<u16, Why> {
    seen.not_labouring()?;
    seen.not_twins_known()?;
    seen.taped()
}

fn below(score: HeightScore, limit: f64, centile: &'static str) -> Result<(), Why> {
    ask(
        score.z < limit,
        Why::Centile {
            z: score.z,
            is: "is not below",
            centile,
            limit,
        },
    )
}

/// `Height 29.5 cm at 34w+0d: centile 2.4 (z -1.98)`.
pub(super) fn height_words(seen: &Picture<'_>, tape: u16) -> String {
    format!(
        "Height {} at {}: {}",
        cm(tape),
        seen.g.map_or_else(
            || "unknown gestation".to_owned(),
            crate::clinical::gestation_text
        ),
        seen.centile_words()
    )
}

/// A baby across, or waters that ran, make the belly smaller [R OU-A17].
fn shrunk(seen: &Picture<'_>) -> Option<&'static str> {
    if seen.hands_across() {
        Some("the baby lies across, which shortens the tape")
    } else if seen.waters.broken {
        Some("the waters are broken, which shrinks the belly")
    } else {
        None
    }
}

fn soon_unless_shrunk(seen: &Picture<'_>, evidence: String) -> Spoken {
    match shrunk(seen) {
        Some(why) => Spoken::review(format!("{evidence} Review, not soon: {why}.")),
        None => Spoken::soon(evidence),
    }
}

fn in_labour(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.labouring()?;
    seen.not_twins_known()?;
    let tape = seen.taped()?;
    let Some(score) = seen.height else {
        under("no centile, tape", tape, 300, Unit::Tape)?;
        return Ok(Spoken::now(format!(
            "Tape {}, under 30.0 cm; {}: no centile.",
            cm(tape),
            seen.age_in_labour()
        )));
    };
    below(score, Z3, "3rd")?;
    let words = format!("{}, below the 3rd.", height_words(seen, tape));
    let fifths = seen.last(Record::fifths);
    let sunk = fifths.filter(|(_, fifths)| *fifths <= 2);
    let term = seen.g.is_some_and(|days| days >= 259);
    Ok(match (term, seen.waters.broken, sunk) {
        (true, true, _) => Spoken::review(format!(
            "{words} {}, which shrinks the belly.",
            seen.waters_since_words()
        )),
        (true, false, Some((at, fifths))) => Spoken::review(format!(
            "{words} Head {fifths}/5{}: it has sunk.",
            seen.when(at)
        )),
        _ => Spoken::now(words),
    })
}

fn moves_less(seen: &Picture<'_>, raised: &Raised) -> Verdict {
    let tape = one_baby(seen)?;
    let movements = seen
        .v
        .and_then(|visit| visit.movements)
        .filter(|told| *told != Movements::Normal)
        .ok_or(Why::Fact("movements are neither reduced nor none"))?;
    let told = match movements {
        Movements::None => "no movements",
        _ => "fewer movements than usual",
    };
    if let Ok(score) = seen.judged().and_then(|score| {
        below(score, Z10, "10th")?;
        Ok(score)
    }) {
        return Ok(Spoken::now(format!(
            "{}, below the {}, and {told}.",
            height_words(seen, tape),
            if score.z < Z3 { "3rd" } else { "10th" }
        )));
    }
    ask_fact(
        raised.has("height-static"),
        "neither below the 10th centile nor without growth",
    )?;
    Ok(Spoken::now(format!(
        "{}; it has not grown, and {told}.",
        height_words(seen, tape)
    )))
}

fn centile_decides(seen: &Picture<'_>) -> Result<(u16, HeightScore), Why> {
    let tape = one_baby(seen)?;
    let score = seen.judged()?;
    ask_fact(
        !seen.weeks_decide(),
        "the weeks method decides from 24w+0d to 36w+0d",
    )?;
    Ok((tape, score))
}

fn below_3rd(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let (tape, score) = centile_decides(seen)?;
    below(score, Z3, "3rd")?;
    let evidence = format!("{}, below the 3rd.", height_words(seen, tape));
    Ok(soon_unless_shrunk(seen, evidence))
}

fn below_10th(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let (tape, score) = centile_decides(seen)?;
    below(score, Z10, "10th")?;
    ask(score.z >= Z3, Why::Said("height-below-3rd"))?;
    Ok(Spoken::review(format!(
        "{}, below the 10th.",
        height_words(seen, tape)
    )))
}

fn pair_words(pair: &Pair) -> String {
    format!(
        "{} on {}, {} on {}: {} days, {}{} cm",
        cm(pair.earlier.tenths),
        day(pair.earlier.day),
        cm(pair.later.tenths),
        day(pair.later.day),
        pair.days,
        if pair.grew() > 0 { "+" } else { "" },
        tenths(pair.grew())
    )
}

fn growth_of(seen: &Picture<'_>) -> Result<Growth, Why> {
    one_baby(seen)?;
    seen.growth().ok_or(Why::Fact(
        "the last tape is outside 24w+0d to 42w+0d (gestation unknown: outside 24.0 to 32.9 cm)",
    ))
}

fn standstill(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let growth = growth_of(seen)?;
    let (way, pair) = growth.standstill.ok_or(match (growth.q, growth.p) {
        (None, None) => Why::Fact("no earlier tape 14 days or more before"),
        _ => Why::Fact(
            "the tape grew, or the head sank between the two, or two weeks without growth are not below the 10th centile",
        ),
    })?;
    let words = pair_words(&pair);
    Ok(match way {
        Way::Days28 => soon_unless_shrunk(
            seen,
            format!(
                "No growth, by the 28-day way: {words}. {}.",
                seen.centile_sentence()
            ),
        ),
        Way::Days14 => Spoken::review(format!(
            "No growth, by the 14-day way: {words}. {}, below the 10th.",
            seen.centile_sentence()
        ))
        .advising(SECOND_TAPE_WEEK),
    })
}

fn slow(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let growth = growth_of(seen)?;
    ask(growth.standstill.is_none(), Why::Said("height-static"))?;
    let pair = growth.slow.ok_or(match (growth.q, growth.s) {
        (None, None) => Why::Fact("no earlier tape 21 days or more before"),
        _ => Why::Fact(
            "above the median, or grown over 21 days and by more than 1.0 cm over 28 days, or the head sank between the two",
        ),
    })?;
    Ok(Spoken::review(format!(
        "Little growth: {}. {}{}.",
        pair_words(&pair),
        seen.centile_sentence(),
        if seen.height.is_some() {
            ", below the median"
        } else {
            ""
        }
    )))
}

fn under_weeks(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let tape = one_baby(seen)?;
    let verdict = by_weeks(seen.case.post.fundal_height_method, tape, seen.g)
        .ok_or(Why::Fact("the weeks method does not decide here"))?;
    ask_fact(
        verdict == WeeksVerdict::Under,
        "not more than 2 cm under the weeks",
    )?;
    Ok(Spoken::review(weeks_words(seen, tape)))
}

/// Expected and difference in cm.
pub(super) fn weeks_words(seen: &Picture<'_>, tape: u16) -> String {
    let expected = seen.g.map_or(0.0, |days| f64::from(days) / 7.0);
    let difference = f64::from(tape) / 10.0 - expected;
    format!(
        "Height {} at {}: {expected:.1} cm expected by weeks, {:.1} cm {}, more than 2 cm.",
        cm(tape),
        seen.age(),
        difference.abs(),
        if difference < 0.0 { "under" } else { "over" }
    )
}
