//! How the heart outside labour and the movements are judged.

use crate::clinical::flag::heart_in_labour;
use crate::clinical::flag::rule::Raised;
use crate::clinical::fundal_height::JUDGED_FROM;
use crate::clinical::labour::far_outside;
use crate::clinical::picture::Picture;
use crate::clinical::record::Record;
use crate::clinical::speech::list;
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask, ask_fact, reaches};
use crate::clinical::{Deceleration, Movements};

/// Counts inside their limits, for a rule that keeps silent.
pub(in crate::clinical::flag) fn inside(hearts: &[u8], is: &'static str) -> Why {
    Why::Range {
        what: "heart",
        least: hearts.iter().min().copied().unwrap_or_default(),
        most: hearts.iter().max().copied().unwrap_or_default(),
        is,
    }
}

/// `168` or `140 and 168`.
pub(in crate::clinical::flag) fn counts(hearts: &[u8]) -> String {
    list(&hearts.iter().map(u8::to_string).collect::<Vec<_>>())
}

pub(super) fn abnormal(seen: &Picture<'_>, _: &Raised) -> Verdict {
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

pub(super) fn late_deceleration(seen: &Picture<'_>, _: &Raised) -> Verdict {
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
pub(in crate::clinical::flag) fn moves_less(seen: &Picture<'_>) -> Option<&'static str> {
    match seen.v?.movements? {
        Movements::Reduced => Some("movements are fewer than usual"),
        Movements::None => Some("there are no movements"),
        Movements::Normal => None,
    }
}

pub(super) fn not_heard(seen: &Picture<'_>, _: &Raised) -> Verdict {
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

pub(super) fn movements_none(seen: &Picture<'_>, _: &Raised) -> Verdict {
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

pub(super) fn movements_reduced(seen: &Picture<'_>, _: &Raised) -> Verdict {
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
