//! The one thing a nurse does first: by what is lost through waiting.

use super::known::Known;
use super::lines::Lines;
use super::parts::{DoNext, Left, Way};
use super::people;
use crate::clinical::{Assessment, LabourState, Urgency};
use crate::registry::ReferralState;
use crate::registry::labours::Labour;
use crate::registry::referrals::Waiting as Referred;
use crate::web::spoken;

/// Leaving for the hospital, then danger without a decision, then a late arrival, then a clock of labour, then the rest.
pub(super) fn of(known: &Known, lines: &Lines<'_>) -> DoNext {
    leaving(known, lines)
        .or_else(|| undecided(known, lines))
        .or_else(|| late(known, lines))
        .or_else(|| labour(known, lines))
        .or_else(|| again(known, lines))
        .or_else(|| visits(known, lines))
        .unwrap_or_else(|| quiet(known, lines))
}

fn leaving(known: &Known, lines: &Lines<'_>) -> Option<DoNext> {
    let to_leave = |line: &&Referred| {
        line.referral.state == ReferralState::Decided && line.referral.urgency == Urgency::Now
    };
    let line = known.referrals.iter().find(to_leave)?;
    let clock = known
        .labours
        .iter()
        .find(|(labour, _)| labour.pregnancy == line.referral.pregnancy_id);
    let leave_by = clock.and_then(|(_, picture)| picture.labour.as_ref()?.leave_by);
    let reasons: Vec<_> = line.reasons.iter().map(|reason| reason.words()).collect();
    let said = match leave_by.filter(|by| *by > lines.now) {
        Some(by) => format!(
            "{} must leave by {}.",
            line.name,
            spoken::time(by, lines.seat.zone)
        ),
        None => format!("{} must leave now.", line.name),
    };
    let mut next = DoNext::pressing(
        Urgency::Now,
        format!("Referral {}", line.referral.number),
        said,
    )
    .because(format!(
        "{}. Decided {} for {}.",
        reasons.join(", "),
        people::when(line.referral.decided_at, lines.now, lines.seat.zone),
        line.hospital
    ))
    .by(Way::to(
        format!("/referrals/{}/left", line.referral.id),
        "Record that she left",
    ))
    .by(Way::to(
        format!("/referrals/{}/letter", line.referral.id),
        "Letter to print",
    ));
    next.left = leave_by
        .filter(|by| *by > lines.now)
        .map(|by| minutes_left(by - lines.now, &line.hospital));
    Some(next)
}

fn minutes_left(left: chrono::TimeDelta, hospital: &str) -> Left {
    Left {
        figure: left.num_minutes().to_string(),
        words: format!("minutes left to leave, to reach {hospital} in time"),
    }
}

fn undecided(known: &Known, lines: &Lines<'_>) -> Option<DoNext> {
    let referred = |pregnancy| {
        known
            .referrals
            .iter()
            .any(|line| line.referral.pregnancy_id == pregnancy)
    };
    let line = known
        .now_flags
        .iter()
        .find(|line| !referred(line.flag.pregnancy_id))?;
    Some(
        DoNext::pressing(
            Urgency::Now,
            lines.flag_number(line),
            format!("{}: refer {} now.", line.flag.category.words(), line.mother),
        )
        .because(line.flag.evidence.clone())
        .because(format!(
            "Raised {}. You may decide at once; the midwife confirms afterwards.",
            people::when(line.flag.raised_at, lines.now, lines.seat.zone)
        ))
        .by(Way::to(
            format!("/referrals/new?flag={}", line.flag.id),
            "Decide the referral",
        ))
        .by(Way::to(
            format!("/mothers/{}", line.flag.mother_id),
            "Her page",
        )),
    )
}

fn late(known: &Known, lines: &Lines<'_>) -> Option<DoNext> {
    let on_her_way = |line: &&Referred| {
        matches!(
            line.referral.state,
            ReferralState::Decided | ReferralState::Left
        )
    };
    let line = known
        .referrals
        .iter()
        .filter(on_her_way)
        .find(|line| lines.is_without_news(line) && lines.is_fresh(line))?;
    let entry = lines.referral(line);
    Some(
        DoNext::pressing(
            line.referral.urgency,
            format!("Referral {}", line.referral.number),
            format!("No news of {}: ask {}.", line.name, line.hospital),
        )
        .because(entry.why)
        .by(entry.act),
    )
}

fn labour(known: &Known, lines: &Lines<'_>) -> Option<DoNext> {
    let (labour, picture) = known
        .labours
        .iter()
        .min_by_key(|(_, picture)| pressing(picture))?;
    let entry = lines.labour(&(labour.clone(), picture.clone()));
    let clock = picture.labour.as_ref();
    let urgency = picture.urgency();
    let late = clock.is_some_and(|clock| clock.state == LabourState::Late);
    let said = if late {
        format!("{} would arrive too late: call the midwife.", labour.name)
    } else {
        examine(labour, picture, lines)
    };
    let mut next = match urgency {
        Some(urgency) => DoNext::pressing(urgency, format!("Labour · {}", entry.number), said),
        None => DoNext::calm(said),
    };
    next.left = clock
        .and_then(|clock| clock.leave_by)
        .filter(|by| *by > lines.now)
        .map(|by| minutes_left(by - lines.now, "a hospital that can operate"));
    Some(
        next.because(format!("{} {}", entry.lead, entry.why).trim().to_owned())
            .by(Way::to(entry.href, "Her labour")),
    )
}

/// The least time left first.
fn pressing(picture: &Assessment) -> (bool, bool, chrono::NaiveDateTime) {
    let clock = picture.labour.as_ref();
    let first = clock.and_then(|clock| {
        clock
            .leave_by
            .or_else(|| clock.due.iter().map(|item| item.at).min())
    });
    let late = clock.is_some_and(|clock| clock.state == LabourState::Late);
    (
        !late,
        picture.urgency() != Some(Urgency::Now),
        first.unwrap_or(chrono::NaiveDateTime::MAX),
    )
}

fn examine(labour: &Labour, picture: &Assessment, lines: &Lines<'_>) -> String {
    let due = picture
        .labour
        .as_ref()
        .and_then(|clock| clock.due.iter().min_by_key(|item| item.at));
    match due {
        Some(item) if item.overdue => format!(
            "{} is in labour: {} is overdue.",
            labour.name,
            item.what.words()
        ),
        Some(item) => format!(
            "{} is in labour: {} by {}.",
            labour.name,
            item.what.words(),
            spoken::time(item.at, lines.seat.zone)
        ),
        None => format!("{} is in labour.", labour.name),
    }
}

fn again(known: &Known, lines: &Lines<'_>) -> Option<DoNext> {
    let first = lines.check_again(known).into_iter().next()?;
    Some(
        DoNext::pressing(
            Urgency::Recheck,
            first.number,
            format!("Look at {} again.", first.name),
        )
        .because(format!("{} {}", first.lead, first.why))
        .by(Way::to(first.act.href, "New visit"))
        .by(Way::to(first.href, "Her page")),
    )
}

fn visits(known: &Known, lines: &Lines<'_>) -> Option<DoNext> {
    let (today, missed) = lines.today_and_missed(known);
    let first = lines.visits_due(known).into_iter().next()?;
    let count = |count: usize, one, many| {
        spoken::count(i64::try_from(count).unwrap_or_default(), one, many)
    };
    let said = match (today, missed) {
        (0, missed) => format!(
            "{} missed: ask after {}.",
            count(missed, "visit was", "visits were"),
            first.name
        ),
        (today, 0) => format!("{} due today.", count(today, "visit is", "visits are")),
        (today, missed) => format!(
            "{} due today, {} missed.",
            count(today, "visit is", "visits are"),
            missed
        ),
    };
    Some(
        DoNext::calm(said)
            .because(format!("{}: {}", first.name, first.why))
            .by(Way::to(first.href, "Open her page")),
    )
}

fn quiet(known: &Known, lines: &Lines<'_>) -> DoNext {
    let tomorrow = match known.tomorrow.as_slice() {
        [] => "No visit is set for tomorrow.".to_owned(),
        [only] => format!("One visit is due tomorrow: {}.", only.mother.name),
        [first, ..] => format!(
            "{} visits are due tomorrow, the first is {}.",
            known.tomorrow.len(),
            first.mother.name
        ),
    };
    DoNext::calm(format!("Nothing waits at {}.", lines.seat.name)).because(format!(
        "Nobody is in labour, no referral is without news. {tomorrow}"
    ))
}
