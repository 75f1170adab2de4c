//! Broken waters, and what drains.

use super::advice::{CORD, MECONIUM, WATERS_LEAVE_BY, WATERS_SEND};
use super::liquor;
use super::rule::{Raised, Rule, Settling, choice, edge, memory, read};
use super::usual::{Usual, at, head_at, head_below, head_mobile, labour};
use crate::clinical::picture::Picture;
use crate::clinical::record::Record;
use crate::clinical::speech::span;
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask_fact, reaches, under};
use crate::clinical::{Case, Category, Head, Liquor, Presentation, Urgency, gestation_text};
use chrono::Duration;

const BASE: Rule = Rule::of(Category::Waters);

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "waters-before-37",
        title: "Broken before 37 weeks",
        urgencies: &[Urgency::Now],
        when: "Waters broken, not in labour, under 37w+0d.",
        advice: WATERS_SEND,
        sources: &[read("NG235 T7, OU-A17, PEP-16")],
        judged_by: before_37,
        edges: &[edge(
            Urgency::Now,
            "broken at 36w+6d",
            || broken(258, 60).case(),
            "broken at 37w+0d",
            || broken(259, 60).case(),
        )],
        ..BASE
    },
    Rule {
        code: "waters-long",
        title: "Broken long",
        urgencies: &[Urgency::Now, Urgency::Review],
        when: "Not in labour, from 37w+0d or gestation unknown: 12 h reached before she could arrive, or time unknown: now. In labour: from 18 h review, from 24 h now.",
        advice: WATERS_SEND,
        sources: &[
            read("OU-A17, RHL"),
            memory("MCPC S-136, NG235"),
            choice("in hospital by 12 h: travel is taken off, and an unknown time counts as long"),
        ],
        judged_by: long,
        edges: &[
            edge(
                Urgency::Now,
                "10 h 30 min, 90 min of travel",
                || travel(broken(266, 630)),
                "10 h 29 min, 90 min of travel",
                || travel(broken(266, 629)),
            ),
            edge(
                Urgency::Now,
                "in labour, 24 h",
                || broken(266, 1440).in_labour().case(),
                "in labour, 23 h 59 min",
                || broken(266, 1439).in_labour().case(),
            ),
            edge(
                Urgency::Review,
                "in labour, 18 h",
                || broken(266, 1080).in_labour().case(),
                "in labour, 17 h 59 min",
                || broken(266, 1079).in_labour().case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "waters-at-term",
        title: "Broken at term",
        urgencies: &[Urgency::Review],
        when: "Waters broken, not in labour, from 37w+0d or gestation unknown, the rule above not reached. Names the time to leave by.",
        advice: WATERS_LEAVE_BY,
        sources: &[read("PEP-5-45, OU-A17")],
        settles: Settling::LabourBegins,
        after: &["waters-long"],
        judged_by: at_term,
        edges: &[edge(
            Urgency::Review,
            "broken at 37w+0d, an hour ago",
            || broken(259, 60).case(),
            "broken at 36w+6d, an hour ago",
            || broken(258, 60).case(),
        )],
        ..BASE
    },
    Rule {
        code: "cord-risk",
        title: "Cord at risk",
        urgencies: &[Urgency::Review],
        when: "Waters broken, head first, last fifths 4/5 or 5/5 (none counted: head mobile), not examined inside since they broke.",
        advice: CORD,
        sources: &[read("PEP-8-20, 8-43"), read("BTC-3.20, 3.43")],
        settles: Settling::NoCord,
        judged_by: cord_risk,
        edges: &[
            edge(
                Urgency::Review,
                "broken, 4/5",
                || broken(266, 60).hands(head_at(4)).case(),
                "broken, 3/5",
                || broken(266, 60).hands(head_at(3)).case(),
            ),
            edge(
                Urgency::Review,
                "broken, head mobile",
                || broken(266, 60).hands(head_mobile()).case(),
                "broken, fifths and mobility not felt",
                || broken(266, 60).hands(head_below()).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "meconium-thick",
        title: "Thick meconium",
        urgencies: &[Urgency::Now],
        when: "The last liquor of this labour is meconium as thick as soup.",
        advice: MECONIUM,
        sources: &[read("OU-L4.8.4"), memory("LCG")],
        judged_by: liquor::thick,
        edges: &[edge(
            Urgency::Now,
            "meconium 3 at 7 cm",
            || drains(7, Liquor::Meconium3).case(),
            "meconium 2 at 7 cm",
            || drains(7, Liquor::Meconium2).case(),
        )],
        ..BASE
    },
    Rule {
        code: "meconium-early",
        title: "Meconium early",
        urgencies: &[Urgency::Now, Urgency::Review],
        when: "The last liquor of this labour is thin meconium in the latent stage (or no dilatation recorded), or thicker up to 6 cm. Partograph: now; labour care guide: review.",
        advice: MECONIUM,
        sources: &[
            read("OU-L4.8.4"),
            choice("softer under the labour care guide, which sets no such line"),
        ],
        judged_by: liquor::early,
        edges: &[
            edge(
                Urgency::Now,
                "meconium 1 at 3 cm, partograph",
                || drains(3, Liquor::Meconium1).partograph().case(),
                "meconium 1 at 4 cm, partograph",
                || drains(4, Liquor::Meconium1).partograph().case(),
            ),
            edge(
                Urgency::Review,
                "meconium 2 at 6 cm, labour care guide",
                || drains(6, Liquor::Meconium2).case(),
                "meconium 2 at 7 cm, labour care guide",
                || drains(7, Liquor::Meconium2).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "liquor-blood",
        title: "Blood in the waters",
        urgencies: &[Urgency::Now, Urgency::Review],
        when: "The last liquor of this labour is blood: review. With bleeding, severe abdominal pain, pain between contractions or an abnormal heart: now.",
        advice: MECONIUM,
        sources: &[memory("LCG"), choice("what makes it now")],
        after: &["heart-abnormal"],
        judged_by: liquor::blood,
        edges: &[
            edge(
                Urgency::Now,
                "blood, heart 165",
                || blood_with_heart(165),
                "blood, heart 140",
                || blood_with_heart(140),
            ),
            edge(
                Urgency::Review,
                "blood",
                || drains(7, Liquor::Blood).case(),
                "clear",
                || drains(7, Liquor::Clear).case(),
            ),
        ],
        ..BASE
    },
];

fn broken(days: i64, minutes: i64) -> Usual {
    at(days).told(|case| {
        case.waters_broke_at = Some(case.on - Duration::minutes(minutes));
    })
}

fn travel(usual: Usual) -> Case {
    usual
        .told(|case| case.post.travel_minutes = Some(90))
        .case()
}

fn drains(cm: u8, liquor: Liquor) -> Usual {
    labour().row(0, |row| {
        row.dilatation_cm = Some(cm);
        row.liquor = Some(liquor);
    })
}

fn blood_with_heart(count: u8) -> Case {
    drains(7, Liquor::Blood)
        .told(|case| {
            for row in &mut case.labour {
                row.fetal_hearts = vec![count];
            }
        })
        .case()
}

/// Waters broken outside labour, with the gestation of today.
fn outside_labour(seen: &Picture<'_>) -> Result<(), Why> {
    seen.waters_broken()?;
    seen.not_labouring()
}

fn before_37(seen: &Picture<'_>, _: &Raised) -> Verdict {
    outside_labour(seen)?;
    let days = seen.today.ok_or(Why::Fact("gestation unknown"))?;
    under("G", days, 259, Unit::Gestation)?;
    Ok(Spoken::now(format!(
        "{} at {}, under 37w+0d.{}",
        seen.waters_since_words(),
        gestation_text(days),
        seen.waters_note()
    )))
}

fn term(seen: &Picture<'_>) -> Result<(), Why> {
    seen.today
        .map_or(Ok(()), |days| reaches("G", days, 259, Unit::Gestation))
}

fn long(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.waters_broken()?;
    let since = seen.waters.since.unwrap_or(seen.on);
    if seen.labour.is_some() {
        reaches(
            "waters broken for",
            (seen.on - since).num_seconds(),
            18 * 3600,
            Unit::Time,
        )?;
        let words = seen.waters_since_words();
        let note = seen.waters_note();
        return Ok(if seen.on - since >= Duration::hours(24) {
            Spoken::now(format!("{words}, in labour; limit 24 h.{note}"))
        } else {
            Spoken::review(format!("{words}, in labour; from 18 h, limit 24 h.{note}"))
        });
    }
    term(seen)?;
    let minutes = i64::from(seen.case.post.travel_minutes.unwrap_or(0));
    if seen.waters.told {
        let arrival = seen.on + Duration::minutes(minutes) - since;
        reaches(
            "waters broken on arrival for",
            arrival.num_seconds(),
            12 * 3600,
            Unit::Time,
        )?;
    }
    let counted = if seen.waters.told {
        "with the way 12 h are reached"
    } else {
        "the time is not known, counted as 12 h"
    };
    Ok(Spoken::now(format!(
        "{}, {}; travel {}; {counted}.{}",
        seen.waters_since_words(),
        seen.age_today(),
        travel_words(seen),
        seen.waters_note()
    )))
}

fn travel_words(seen: &Picture<'_>) -> String {
    seen.case.post.travel_minutes.map_or_else(
        || "not set".to_owned(),
        |minutes| span(i64::from(minutes) * 60),
    )
}

fn at_term(seen: &Picture<'_>, raised: &Raised) -> Verdict {
    outside_labour(seen)?;
    term(seen)?;
    raised.silent_beside(&["waters-long"])?;
    let minutes = i64::from(seen.case.post.travel_minutes.unwrap_or(0));
    let leave_by =
        seen.waters.since.unwrap_or(seen.on) + Duration::hours(12) - Duration::minutes(minutes);
    Ok(Spoken::review(format!(
        "{}, {}, not in labour; travel {}: leave by {}.{}",
        seen.waters_since_words(),
        seen.age_today(),
        travel_words(seen),
        seen.time(leave_by),
        seen.waters_note()
    )))
}

fn cord_risk(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.waters_broken()?;
    seen.presents(Presentation::Cephalic)?;
    let fifths = seen.last(Record::fifths);
    let head = seen
        .v
        .filter(|_| seen.visit_is_current())
        .and_then(|visit| visit.palpation.as_ref()?.head);
    let high = match (fifths, head) {
        (Some((at, fifths)), _) => {
            reaches("fifths", fifths, 4, Unit::Fifths)?;
            format!("head {fifths}/5{}", seen.when(at))
        }
        (None, Some(Head::Mobile)) => "head mobile".to_owned(),
        (None, _) => return Err(Why::Fact("fifths not counted and the head not mobile")),
    };
    let since = seen.waters.since.unwrap_or(seen.on);
    let examined = seen
        .labour_records()
        .iter()
        .any(|record| record.dilatation().is_some() && record.at() >= since);
    ask_fact(!examined, "examined inside since the waters broke")?;
    Ok(Spoken::review(format!(
        "{}, {high}, not examined inside since.{}",
        seen.waters_since_words(),
        seen.waters_note()
    )))
}
