//! How one tape, and a tape beside earlier ones, is judged.

use crate::clinical::flag::advice::SECOND_TAPE_WEEK;
use crate::clinical::flag::rule::Raised;
use crate::clinical::fundal_height::{WeeksVerdict, Z3, Z10, by_weeks};
use crate::clinical::picture::{Growth, Pair, Picture, Way};
use crate::clinical::record::Record;
use crate::clinical::speech::{cm, day, tenths};
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask, ask_fact, under};
use crate::clinical::{HeightScore, Movements};

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

/// `Height 29.5 cm at 34w+0d: centile 2.4 (z −1.98)`.
pub(in crate::clinical::flag) fn height_words(seen: &Picture<'_>, tape: u16) -> String {
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

pub(super) fn in_labour(seen: &Picture<'_>, _: &Raised) -> Verdict {
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

pub(super) fn moves_less(seen: &Picture<'_>, raised: &Raised) -> Verdict {
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

pub(super) fn below_3rd(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let (tape, score) = centile_decides(seen)?;
    below(score, Z3, "3rd")?;
    let evidence = format!("{}, below the 3rd.", height_words(seen, tape));
    Ok(soon_unless_shrunk(seen, evidence))
}

pub(super) fn below_10th(seen: &Picture<'_>, _: &Raised) -> Verdict {
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

/// Why a pair does not count as little growth: the head sank, or it grew by more than `most` tenths.
fn not_grown_enough(pair: Pair, most: i32) -> Option<Why> {
    if !pair.asked {
        return Some(Why::Fact(
            "after 36w+0d the head sank between the two tapes: the pair is not asked",
        ));
    }
    (pair.grew() > most).then(|| Why::Figure {
        what: "growth",
        found: pair.grew().into(),
        is: "is more than",
        limit: most.into(),
        unit: Unit::Tape,
    })
}

/// A tape that the weeks method accepts on one side.
pub(in crate::clinical::flag) fn within_weeks(
    seen: &Picture<'_>,
    tape: u16,
    is: &'static str,
) -> Why {
    Why::Figure {
        what: "tape",
        found: tape.into(),
        is,
        limit: i64::from(seen.g.unwrap_or_default()) * 10 / 7,
        unit: Unit::Tape,
    }
}

pub(super) fn standstill(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let growth = growth_of(seen)?;
    let (way, pair) = growth.standstill.ok_or_else(|| {
        let pair = growth.q.or(growth.p).or(growth.s);
        let Some(pair) = pair else {
            return Why::Fact("no earlier tape 14 days or more before");
        };
        not_grown_enough(pair, 0).unwrap_or(Why::Fact(
            "no growth over two weeks, but not below the 10th centile",
        ))
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

pub(super) fn slow(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let growth = growth_of(seen)?;
    ask(growth.standstill.is_none(), Why::Said("height-static"))?;
    let pair = growth.slow.ok_or_else(|| {
        if let Some(score) = seen.height.filter(|score| score.z >= 0.0) {
            return Why::Centile {
                z: score.z,
                is: "is not below",
                centile: "50th",
                limit: 0.0,
            };
        }
        match (growth.q, growth.s) {
            (Some(pair), _) => not_grown_enough(pair, 10),
            (None, Some(pair)) => not_grown_enough(pair, 0),
            (None, None) => None,
        }
        .unwrap_or(Why::Fact("no earlier tape 21 days or more before"))
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

pub(super) fn under_weeks(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let tape = one_baby(seen)?;
    let verdict = by_weeks(seen.case.post.fundal_height_method, tape, seen.g)
        .ok_or(Why::Fact("the weeks method does not decide here"))?;
    ask(
        verdict == WeeksVerdict::Under,
        within_weeks(seen, tape, "is not more than 2 cm under"),
    )?;
    Ok(Spoken::review(weeks_words(seen, tape)))
}

/// Expected and difference in cm.
pub(in crate::clinical::flag) fn weeks_words(seen: &Picture<'_>, tape: u16) -> String {
    let expected = seen.g.map_or(0.0, |days| f64::from(days) / 7.0);
    let difference = f64::from(tape) / 10.0 - expected;
    format!(
        "Height {}{}: {expected:.2} cm expected by weeks, {:.2} cm {}, more than 2 cm.",
        cm(tape),
        seen.at_age(),
        difference.abs(),
        if difference < 0.0 { "under" } else { "over" }
    )
}
