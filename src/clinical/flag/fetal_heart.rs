//! The fetal heart and the baby's movements.

use super::advice::{HEART_LISTEN, HEART_SECOND_PERSON};
use super::heart_in_labour;
use super::rule::{Raised, Rule, Settling, edge, memory, read};
use super::usual::{Usual, at, labour, undated};
use crate::clinical::fundal_height::JUDGED_FROM;
use crate::clinical::labour::far_outside;
use crate::clinical::picture::Picture;
use crate::clinical::record::Record;
use crate::clinical::speech::list;
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask, ask_fact, reaches};
use crate::clinical::{Case, Category, Deceleration, Movements, Urgency};

const BASE: Rule = Rule::of(Category::FetalHeart);

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "heart-abnormal",
        title: "Outside the limits",
        urgencies: &[Urgency::Now, Urgency::Review, Urgency::Recheck],
        when: "In labour, labour care guide: under 110, or 160 and over; partograph: under 120 or over 160. Counted again 15 min after the first; under 100, over 180, so for 10 min, with a late fall, thick meconium, cord or bleeding at the same time, or not counted again within 30 min: now. Not in labour, from 24w+0d or gestation unknown: under 110 or over 160 review, under 100 or over 180 now.",
        advice: HEART_LISTEN,
        sources: &[
            memory("LCG"),
            read("OU-L4, MCPC C-57, S-69"),
            memory("NG133 (110 to 160)"),
        ],
        settles: Settling::HeartCount,
        judged_by: abnormal,
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
                || labour().row(0, |row| row.fetal_hearts = vec![160]).case(),
                "159 in labour, labour care guide",
                || labour().row(0, |row| row.fetal_hearts = vec![159]).case(),
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
        judged_by: late_deceleration,
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
        when: "Looked for and not heard. In labour: a second person after 15 min; so for 10 min, movements reduced or none, or not repeated within 30 min: now. Not in labour, from 24w+0d (gestation unknown: tape 24.0 cm or more, or none) or with waters broken: with movements reduced or none now, else review.",
        advice: HEART_SECOND_PERSON,
        sources: &[read("GTG57, PEP-2-26"), memory("PCPNC C7, MCPC")],
        settles: Settling::HeartCount,
        judged_by: not_heard,
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
                || unheard(10),
                "in labour, not heard twice, 9 min apart",
                || unheard(9),
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
        judged_by: movements_none,
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
        judged_by: movements_reduced,
        edges: &[edge(
            Urgency::Review,
            "reduced at 28w+0d",
            || moving(at(196), Movements::Reduced),
            "reduced at 27w+6d",
            || moving(at(195), Movements::Reduced),
        )],
        ..BASE
    },
];

fn counted(count: u8) -> Usual {
    at(252).visit(|visit| visit.fetal_hearts = vec![count])
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

fn unheard(minutes: i64) -> Case {
    labour()
        .row(minutes, |row| row.heart_sought = Some(true))
        .row(0, |row| row.heart_sought = Some(true))
        .case()
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

/// Counts inside their limits, for a rule that keeps silent.
pub(super) fn inside(hearts: &[u8], is: &'static str) -> Why {
    Why::Pair {
        what: "heart",
        first: hearts.iter().min().copied().map(u16::from),
        between: " to ",
        second: hearts.iter().max().copied().map(u16::from),
        is,
    }
}

/// `168` or `140 and 168`.
pub(super) fn counts(hearts: &[u8]) -> String {
    list(&hearts.iter().map(u8::to_string).collect::<Vec<_>>())
}

fn abnormal(seen: &Picture<'_>, _: &Raised) -> Verdict {
    if let Some(labour) = &seen.labour {
        return heart_in_labour::abnormal(seen, labour);
    }
    let visit = seen.v.ok_or(Why::Fact("no visit"))?;
    ask_fact(!visit.fetal_hearts.is_empty(), "heart not counted")?;
    if let Some(days) = seen.g {
        reaches("g", days, JUDGED_FROM, Unit::Gestation)?;
    }
    ask(
        visit
            .fetal_hearts
            .iter()
            .any(|count| !(110..=160).contains(count)),
        inside(&visit.fetal_hearts, "is inside 110 to 160"),
    )?;
    let words = format!(
        "Heart {} a minute{}",
        counts(&visit.fetal_hearts),
        seen.at_age()
    );
    Ok(if far_outside(Record::Visit(visit)) {
        Spoken::now(format!("{words}, outside 100 to 180."))
    } else {
        Spoken::review(format!("{words}, outside 110 to 160."))
    })
}

fn late_deceleration(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.labouring()?;
    let (at, found) = seen
        .last_in_labour(|record| record.row()?.deceleration)
        .ok_or(Why::Fact("no note of a fall around contractions"))?;
    ask(
        found == Deceleration::Late,
        Why::Word {
            what: "the last fall",
            found: found.code(),
            wanted: "late",
        },
    )?;
    Ok(Spoken::now(format!(
        "The heart fell late, after a contraction, at {}.",
        seen.time(at)
    )))
}

/// Fewer or none.
pub(super) fn moves_less(seen: &Picture<'_>) -> Option<&'static str> {
    match seen.v?.movements? {
        Movements::Reduced => Some("movements are fewer than usual"),
        Movements::None => Some("there are no movements"),
        Movements::Normal => None,
    }
}

fn not_heard(seen: &Picture<'_>, _: &Raised) -> Verdict {
    if seen.labour.is_some() {
        return heart_in_labour::not_heard(seen);
    }
    let visit = seen.v.ok_or(Why::Fact("no visit"))?;
    ask_fact(
        visit.heart_sought == Some(true) && visit.fetal_hearts.is_empty(),
        "not sought in vain",
    )?;
    seen.felt_age_or_begun()?;
    let words = format!("Heart sought and not heard{}", seen.at_age());
    Ok(match moves_less(seen) {
        Some(less) => Spoken::now(format!("{words}, and {less}.")),
        None => Spoken::review(format!("{words}.")),
    })
}

fn movements_none(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let told = seen
        .v
        .and_then(|visit| visit.movements)
        .ok_or(Why::Fact("movements not asked"))?;
    ask(
        told == Movements::None,
        Why::Word {
            what: "what she tells of movements",
            found: told.code(),
            wanted: "none",
        },
    )?;
    seen.felt_age()?;
    Ok(Spoken::now(format!("No movements{}.", seen.at_age())))
}

fn movements_reduced(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let told = seen
        .v
        .and_then(|visit| visit.movements)
        .ok_or(Why::Fact("movements not asked"))?;
    ask(
        told == Movements::Reduced,
        Why::Word {
            what: "what she tells of movements",
            found: told.code(),
            wanted: "reduced",
        },
    )?;
    match seen.g {
        Some(days) => reaches("g", days, 196, Unit::Gestation)?,
        None => seen.felt_age()?,
    }
    Ok(Spoken::review(format!(
        "Movements fewer than usual{}.",
        seen.at_age()
    )))
}
