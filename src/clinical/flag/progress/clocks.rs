//! Dilatation, stages and lines against the clock (reference 4.1 and 4.2).

use crate::clinical::flag::advice::{LABOUR_COMFORT, SEND_TO_SURGERY};
use crate::clinical::flag::rule::{Raised, Rule, Settling, choice, edge, memory, read};
use crate::clinical::flag::usual::{Usual, labour};
use crate::clinical::labour::Labour;
use crate::clinical::picture::Picture;
use crate::clinical::speech::span;
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask, ask_fact, exceeds, reaches};
use crate::clinical::{Case, Category, Moment, Stage, Urgency};
use chrono::Duration;

const BASE: Rule = Rule {
    urgencies: &[Urgency::Now],
    advice: SEND_TO_SURGERY,
    ..Rule::of(Category::PoorProgress)
};

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "slow-dilatation",
        title: "Slow at one centimetre",
        when: "Labour care guide, active stage: the time since the highest dilatation was first recorded reaches its limit: 5 cm 6 h, 6 cm 5 h, 7 cm 3 h, 8 cm 2 h 30 min, 9 cm 2 h.",
        sources: &[memory("LCG")],
        judged_by: slow,
        edges: &[
            edge(
                Urgency::Now,
                "5 cm for 6 h",
                || labour().opened(5, 360).case(),
                "5 cm for 5 h 59 min",
                || labour().opened(5, 359).case(),
            ),
            edge(
                Urgency::Now,
                "8 cm for 2 h 30 min",
                || labour().opened(8, 150).case(),
                "8 cm for 2 h 29 min",
                || labour().opened(8, 149).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "active-stage-long",
        title: "Active stage long",
        when: "Active stage. Labour care guide: more than 12 h, later births (or unknown) 10 h. Partograph: more than 12 h.",
        sources: &[read("ALG, IPC18"), read("OU-L10.4.1")],
        judged_by: active_long,
        edges: &[
            edge(
                Urgency::Now,
                "later birth, 10 h and a second",
                || slowly(600).later(1).case(),
                "later birth, 10 h",
                || slowly(600).case(),
            ),
            edge(
                Urgency::Now,
                "first birth, 12 h and a second",
                || slowly(720).first_birth().later(1).case(),
                "first birth, 12 h",
                || slowly(720).first_birth().case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "second-stage-long",
        title: "Second stage long",
        when: "At 10 cm. Labour care guide: 3 h or more, later births (or unknown) 2 h. Partograph: more than 2 h, later births (or unknown) 1 h.",
        sources: &[
            read("IPC18"),
            read("OU-L10.4.1"),
            memory("LCG: the limit itself counts"),
        ],
        judged_by: second_long,
        edges: &[
            edge(
                Urgency::Now,
                "later birth, 2 h, labour care guide",
                || labour().opened(10, 120).case(),
                "later birth, 1 h 59 min, labour care guide",
                || labour().opened(10, 119).case(),
            ),
            edge(
                Urgency::Now,
                "later birth, 1 h and a second, partograph",
                || labour().partograph().opened(10, 60).later(1).case(),
                "later birth, 1 h, partograph",
                || labour().partograph().opened(10, 60).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "right-of-alert",
        title: "Right of the alert line",
        when: "Partograph, active stage: the last dilatation lies right of the alert line, one centimetre an hour from the first active record. On the line is not crossed.",
        sources: &[read("OU-L4.2.2, CNB96")],
        judged_by: right_of_alert,
        edges: &[edge(
            Urgency::Now,
            "6 cm, 2 h and a second later 8 cm",
            || six_then_eight(7201),
            "6 cm, 2 h later 8 cm",
            || six_then_eight(7200),
        )],
        ..BASE
    },
    Rule {
        code: "past-action",
        title: "Past the action line",
        when: "Partograph, active stage: right of the action line, 4 h after the alert line. Stands beside the rule above.",
        sources: &[read("CNB96, MSF-5.2")],
        judged_by: past_action,
        edges: &[edge(
            Urgency::Now,
            "6 cm, 6 h and a second later 8 cm",
            || six_then_eight(21_601),
            "6 cm, 6 h later 8 cm",
            || six_then_eight(21_600),
        )],
        ..BASE
    },
    Rule {
        code: "latent-long",
        title: "Latent phase long",
        urgencies: &[Urgency::Now, Urgency::Review],
        when: "More than 8 h since labour began, active stage not reached. Partograph: now; labour care guide: review.",
        advice: LABOUR_COMFORT,
        sources: &[
            read("MCPC S-57"),
            choice("softer under the labour care guide, which sets no limit"),
        ],
        settles: Settling::ActiveStage,
        judged_by: latent_long,
        edges: &[
            edge(
                Urgency::Now,
                "partograph, 8 h and a second at 3 cm",
                || labour().partograph().opened(3, 480).later(1).case(),
                "partograph, 8 h at 3 cm",
                || labour().partograph().opened(3, 480).case(),
            ),
            edge(
                Urgency::Review,
                "labour care guide, 8 h and a second at 4 cm",
                || labour().opened(4, 480).later(1).case(),
                "labour care guide, 8 h at 4 cm",
                || labour().opened(4, 480).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "labour-long",
        title: "Labour long",
        urgencies: &[Urgency::Review],
        when: "12 h or more since labour began, active or second stage.",
        advice: LABOUR_COMFORT,
        sources: &[read("MCPC S-57")],
        judged_by: labour_long,
        edges: &[edge(
            Urgency::Review,
            "12 h since it began",
            || began(720),
            "11 h 59 min since it began",
            || began(719),
        )],
        ..BASE
    },
];

/// 5 cm so many minutes ago, 8 cm an hour ago.
fn slowly(minutes: i64) -> Usual {
    labour().opened(5, minutes).opened(8, 60)
}

fn six_then_eight(seconds: i64) -> Case {
    labour()
        .partograph()
        .opened(6, 0)
        .told(|case| {
            case.on += Duration::seconds(seconds);
            let mut row = crate::clinical::LabourRow::at(case.on);
            row.dilatation_cm = Some(8);
            case.labour.push(row);
        })
        .case()
}

fn began(minutes: i64) -> Case {
    labour()
        .opened(7, 30)
        .told(|case| case.labour_began_at = Some(case.on - Duration::minutes(minutes)))
        .case()
}

fn seconds_since(seen: &Picture<'_>, at: Moment) -> i64 {
    (seen.on - at).num_seconds()
}

fn slow(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let labour = seen.in_stage(Stage::Active)?;
    let (cm, since, limit) = labour.centimetre_limit().ok_or(Why::Fact(
        "the partograph has lines, not limits for each centimetre",
    ))?;
    reaches(
        "time at the highest dilatation",
        seconds_since(seen, since),
        limit.num_seconds(),
        Unit::Time,
    )?;
    Ok(Spoken::now(format!(
        "{cm} cm since {}, {}; limit {} (labour care guide).",
        seen.time(since),
        seen.ago(since),
        span(limit.num_seconds())
    )))
}

fn active_long(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let labour = seen.in_stage(Stage::Active)?;
    let active = labour
        .active
        .ok_or(Why::Fact("the active stage is not reached"))?;
    let limit = labour.active_limit();
    exceeds(
        "active stage",
        seconds_since(seen, active.at),
        limit.num_seconds(),
        Unit::Time,
    )?;
    let births = if labour.is_partograph() {
        ""
    } else {
        labour.births_note()
    };
    Ok(Spoken::now(format!(
        "Active stage since {} ({} cm), {}; limit {} ({}).{births}",
        seen.time(active.at),
        active.cm,
        seen.ago(active.at),
        span(limit.num_seconds()),
        labour.protocol.words()
    )))
}

fn second_long(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let labour = seen.in_stage(Stage::Second)?;
    let since = labour.full_at().ok_or(Why::Fact("10 cm is not recorded"))?;
    let (found, limit) = (
        seconds_since(seen, since),
        labour.second_limit().num_seconds(),
    );
    if labour.is_partograph() {
        exceeds("second stage", found, limit, Unit::Time)?;
    } else {
        reaches("second stage", found, limit, Unit::Time)?;
    }
    Ok(Spoken::now(format!(
        "10 cm since {}, {}; limit {} ({}).{}",
        seen.time(since),
        seen.ago(since),
        span(limit),
        labour.protocol.words(),
        labour.births_note()
    )))
}

/// The last dilatation and its line; only the partograph has lines, and they end at 10 cm.
fn against_line(
    seen: &Picture<'_>,
    line: fn(&Labour, u8) -> Option<Moment>,
    name: &'static str,
) -> Result<(Moment, u8, Moment), Why> {
    let labour = seen.in_stage(Stage::Active)?;
    ask_fact(
        labour.is_partograph(),
        "only the partograph has alert and action lines",
    )?;
    let (at, cm) = labour
        .last_dilatation
        .ok_or(Why::Fact("no dilatation recorded"))?;
    let line = line(labour, cm).ok_or(Why::Fact("no line yet"))?;
    ask(
        at > line,
        Why::Figure {
            what: name,
            found: (line - at).num_seconds(),
            is: "after the last dilatation; crossing needs it before:",
            limit: 0,
            unit: Unit::Time,
        },
    )?;
    Ok((at, cm, line))
}

fn line_words(seen: &Picture<'_>, at: Moment, cm: u8) -> String {
    let t4 = seen
        .labour
        .as_ref()
        .and_then(Labour::t4)
        .map_or_else(String::new, |t4| format!(" (4 cm at {})", seen.time(t4)));
    format!("{cm} cm at {}{t4}", seen.time(at))
}

fn right_of_alert(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let (at, cm, line) = against_line(seen, Labour::alert_at, "the alert line stands")?;
    let on_action = if line + Duration::hours(4) == at {
        ", on the action line"
    } else {
        ""
    };
    Ok(Spoken::now(format!(
        "{}: the alert line stands at {cm} cm at {}; {} later{on_action} (partograph).",
        line_words(seen, at, cm),
        seen.time(line),
        span((at - line).num_seconds())
    )))
}

fn past_action(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let (at, cm, line) = against_line(seen, Labour::action_at, "the action line stands")?;
    Ok(Spoken::now(format!(
        "{}: the action line stands at {cm} cm at {}; {} later (partograph).",
        line_words(seen, at, cm),
        seen.time(line),
        span((at - line).num_seconds())
    )))
}

fn began_words(seen: &Picture<'_>, labour: &Labour) -> String {
    format!(
        "Labour since {}{}, {}",
        seen.time(labour.began),
        if labour.began_told {
            ""
        } else {
            " (first record)"
        },
        seen.ago(labour.began)
    )
}

fn latent_long(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let labour = seen.in_stage(Stage::Latent)?;
    exceeds(
        "labour",
        seconds_since(seen, labour.began),
        8 * 3600,
        Unit::Time,
    )?;
    let evidence = format!(
        "{}; at most {} cm, active from {} cm; limit 8 h ({}).",
        began_words(seen, labour),
        labour.highest.map_or(0, |(cm, _)| cm),
        labour.active_start(),
        labour.protocol.words()
    );
    Ok(if labour.is_partograph() {
        Spoken::now(evidence)
    } else {
        Spoken::review(evidence)
    })
}

fn labour_long(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let labour = seen.labouring()?;
    ask_fact(
        matches!(labour.stage, Some(Stage::Active | Stage::Second)),
        "neither active nor second stage",
    )?;
    reaches(
        "labour",
        seconds_since(seen, labour.began),
        12 * 3600,
        Unit::Time,
    )?;
    Ok(Spoken::review(format!(
        "{}; {} cm; from 12 h ({}).",
        began_words(seen, labour),
        labour.highest.map_or(0, |(cm, _)| cm),
        labour.protocol.words()
    )))
}
