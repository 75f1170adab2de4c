//! A head that stays high (reference 4.3).

use crate::clinical::flag::advice::{EXAMINE_AGAIN, PUSH_CHANGE, SEND_TO_SURGERY};
use crate::clinical::flag::rule::{Raised, Rule, Settling, choice, edge, read};
use crate::clinical::flag::usual::{Usual, labour};
use crate::clinical::labour::{arrest, pushing};
use crate::clinical::picture::Picture;
use crate::clinical::record::Record;
use crate::clinical::speech::span;
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask_fact, exceeds, reaches};
use crate::clinical::{Case, Category, Presentation, Stage, Urgency};
use chrono::Duration;

const BASE: Rule = Rule {
    settles: Settling::Fifths,
    advice: EXAMINE_AGAIN,
    ..Rule::of(Category::PoorProgress)
};

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "descent-arrest",
        title: "No descent",
        urgencies: &[Urgency::Review],
        when: "From 7 cm on, two counts of fifths 4 h or more apart, the later not lower and 1/5 or more.",
        sources: &[read("OU-L4"), choice("from 7 cm: descent may come late")],
        judged_by: no_descent,
        edges: &[
            edge(
                Urgency::Review,
                "7 cm, 3/5 twice 4 h apart",
                || still_high(7, 3, 240),
                "7 cm, 3/5 twice 3 h 59 min apart",
                || still_high(7, 3, 239),
            ),
            edge(
                Urgency::Review,
                "7 cm, 3/5 twice 4 h apart",
                || still_high(7, 3, 240),
                "6 cm, 3/5 twice 4 h apart",
                || still_high(6, 3, 240),
            ),
            edge(
                Urgency::Review,
                "7 cm, 1/5 twice 4 h apart",
                || still_high(7, 1, 240),
                "7 cm, 0/5 twice 4 h apart",
                || still_high(7, 0, 240),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "head-high-in-labour",
        title: "Head high in labour",
        urgencies: &[Urgency::Review, Urgency::Recheck],
        when: "Active stage, last fifths 4/5 or 5/5, not breech or shoulder. From 7 cm: review. Else 5/5, or 4/5 in a birth not known to be a later one: felt again after 2 h.",
        sources: &[
            read("BTC-3.33"),
            read("BTC-3.16: descends late in later births"),
            choice("from 7 cm review"),
        ],
        judged_by: high,
        edges: &[
            edge(
                Urgency::Review,
                "7 cm, 4/5",
                || felt(7, 4).case(),
                "6 cm, 4/5",
                || felt(6, 4).case(),
            ),
            edge(
                Urgency::Recheck,
                "5 cm, 4/5, first birth",
                || felt(5, 4).first_birth().case(),
                "5 cm, 4/5, later birth",
                || felt(5, 4).case(),
            ),
            edge(
                Urgency::Recheck,
                "5 cm, 5/5, later birth",
                || felt(5, 5).case(),
                "5 cm, 4/5, later birth",
                || felt(5, 4).case(),
            ),
            edge(
                Urgency::Review,
                "7 cm, 4/5",
                || felt(7, 4).case(),
                "7 cm, 3/5",
                || felt(7, 3).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "head-high-second-stage",
        title: "Head high at 10 cm",
        urgencies: &[Urgency::Now],
        when: "At 10 cm for more than 2 h, later births (or unknown) more than 1 h, and the last fifths, counted since then, 3/5 or more.",
        advice: SEND_TO_SURGERY,
        sources: &[read("MSF-7.1, BTC-4.7")],
        settles: Settling::Never,
        judged_by: high_at_ten,
        edges: &[
            edge(
                Urgency::Now,
                "3/5 at 10 cm, later birth, 1 h and a second",
                || high_since(10, 3, 60).later(1).case(),
                "3/5 at 10 cm, later birth, 1 h",
                || high_since(10, 3, 60).case(),
            ),
            edge(
                Urgency::Now,
                "3/5 at 10 cm, first birth, 2 h and a second",
                || high_since(10, 3, 120).first_birth().later(1).case(),
                "3/5 at 10 cm, first birth, 2 h",
                || high_since(10, 3, 120).first_birth().case(),
            ),
            edge(
                Urgency::Now,
                "3/5 at 10 cm, later birth, 1 h and a second",
                || high_since(10, 3, 60).later(1).case(),
                "3/5 at 9 cm, later birth, 1 h and a second",
                || high_since(9, 3, 60).later(1).case(),
            ),
            edge(
                Urgency::Now,
                "3/5 at 10 cm, later birth, 1 h and a second",
                || high_since(10, 3, 60).later(1).case(),
                "2/5 at 10 cm, later birth, 1 h and a second",
                || high_since(10, 2, 60).later(1).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "pushing-long",
        title: "Pushing long",
        urgencies: &[Urgency::Now, Urgency::Review],
        when: "Pushing for more than 60 min, later births (or unknown) more than 30 min: review. With no descent in 30 min or more of it: now.",
        advice: PUSH_CHANGE,
        sources: &[read("MSF-7.1, BTC-4"), choice("no descent over 30 min")],
        settles: Settling::Never,
        judged_by: pushing_long,
        edges: &[
            edge(
                Urgency::Review,
                "later birth, 30 min and a second",
                || pushes(30).later(1).case(),
                "later birth, 30 min",
                || pushes(30).case(),
            ),
            edge(
                Urgency::Now,
                "31 min, 2/5 and 2/5",
                || pushes_at(2),
                "31 min, 2/5 and 1/5",
                || pushes_at(1),
            ),
            edge(
                Urgency::Review,
                "first birth, 60 min and a second",
                || pushes(60).first_birth().later(1).case(),
                "first birth, 60 min",
                || pushes(60).first_birth().case(),
            ),
            edge(
                Urgency::Now,
                "31 min, 2/5 at its start and 30 min later",
                || pushes(31).row(1, |row| row.fifths = Some(2)).case(),
                "31 min, 2/5 at its start and 29 min later",
                || pushes(31).row(2, |row| row.fifths = Some(2)).case(),
            ),
        ],
        ..BASE
    },
];

fn felt(cm: u8, fifths: u8) -> Usual {
    labour().row(0, |row| {
        row.dilatation_cm = Some(cm);
        row.fifths = Some(fifths);
    })
}

fn still_high(cm: u8, fifths: u8, minutes: i64) -> Case {
    labour()
        .row(minutes, |row| {
            row.dilatation_cm = Some(cm);
            row.fifths = Some(fifths);
        })
        .row(0, |row| row.fifths = Some(fifths))
        .case()
}

fn high_since(cm: u8, fifths: u8, minutes: i64) -> Usual {
    labour().row(minutes, |row| {
        row.dilatation_cm = Some(cm);
        row.fifths = Some(fifths);
    })
}

fn pushes(minutes: i64) -> Usual {
    labour().row(minutes, |row| {
        row.dilatation_cm = Some(10);
        row.pushing = Some(true);
        row.fifths = Some(2);
    })
}

fn pushes_at(fifths: u8) -> Case {
    pushes(31).row(0, |row| row.fifths = Some(fifths)).case()
}

fn no_descent(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.labouring()?;
    let pair = arrest(seen.labour_records()).ok_or(Why::Fact(
        "no two counts of fifths 4 h apart from 7 cm on without descent",
    ))?;
    Ok(Spoken::review(format!(
        "{}/5 at {}, {}/5 at {}: no descent in {}, from 7 cm on.",
        pair.first.1,
        seen.time(pair.first.0),
        pair.last.1,
        seen.time(pair.last.0),
        span((pair.last.0 - pair.first.0).num_seconds())
    )))
}

fn high(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let labour = seen.in_stage(Stage::Active)?;
    let (at, fifths) = seen
        .last_in_labour(Record::fifths)
        .ok_or(Why::Fact("fifths not counted in this labour"))?;
    reaches("fifths", fifths, 4, Unit::Fifths)?;
    ask_fact(
        !matches!(
            seen.presenting.presentation,
            Presentation::Breech | Presentation::Shoulder
        ),
        "breech or shoulder presents: its own rule says it",
    )?;
    let cm = labour.highest.map_or(0, |(cm, _)| cm);
    let words = format!("Head {fifths}/5 at {}, {cm} cm", seen.time(at));
    if cm >= 7 {
        return Ok(Spoken::review(format!("{words}, from 7 cm.")));
    }
    let later = seen
        .case
        .mother
        .births_before
        .is_some_and(|births| births >= 1);
    ask_fact(
        fifths >= 5 || !later,
        "4/5 before 7 cm is usual in later births",
    )?;
    let again = at + Duration::hours(2);
    Ok(Spoken::recheck(
        again,
        format!(
            "{words}{}. Felt again at {}.",
            match seen.case.mother.births_before {
                None => ", number of births unknown",
                Some(0) => ", first birth",
                Some(_) => "",
            },
            seen.time(again)
        ),
    ))
}

fn high_at_ten(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let labour = seen.in_stage(Stage::Second)?;
    let since = labour.full_at().ok_or(Why::Fact("10 cm is not recorded"))?;
    let (at, fifths) = seen
        .last_in_labour(Record::fifths)
        .ok_or(Why::Fact("fifths not counted in this labour"))?;
    reaches("fifths", fifths, 3, Unit::Fifths)?;
    ask_fact(at >= since, "fifths not counted since 10 cm")?;
    let limit = if labour.first_birth { 2 } else { 1 };
    exceeds(
        "time at 10 cm",
        (seen.on - since).num_seconds(),
        limit * 3600,
        Unit::Time,
    )?;
    Ok(Spoken::now(format!(
        "Head {fifths}/5 at {}, 10 cm since {}, {}; limit {limit} h.{}",
        seen.time(at),
        seen.time(since),
        seen.ago(since),
        labour.births_note()
    )))
}

fn pushing_long(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let labour = seen.labouring()?;
    let clock = pushing(seen.labour_records()).ok_or(Why::Fact("not pushing"))?;
    let limit = if labour.first_birth { 60 } else { 30 };
    exceeds(
        "pushing",
        (seen.on - clock.since).num_seconds(),
        limit * 60,
        Unit::Time,
    )?;
    let words = format!(
        "Pushing since {}, {}; limit {limit} min",
        seen.time(clock.since),
        seen.ago(clock.since)
    );
    let births = labour.births_note();
    Ok(match clock.no_descent {
        Some(pair) => Spoken::now(format!(
            "{words}; {}/5 at {}, {}/5 at {}: no descent.{births}",
            pair.first.1,
            seen.time(pair.first.0),
            pair.last.1,
            seen.time(pair.last.0)
        )),
        None => Spoken::review(format!("{words}.{births}")),
    })
}
