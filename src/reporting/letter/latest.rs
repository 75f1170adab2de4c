//! The latest of every finding, with its time. Visits and labour rows are one line; what was not examined says so.

use super::Item;
use super::words::{Clock, tenths};
use crate::clinical::{
    LabourRow, Lie, Moment, Visit, gestation_text, height_score, read_palpation,
};
use crate::registry::referrals::LetterFacts;

/// One record of the line.
enum Record<'a> {
    Visit(&'a Visit),
    Row(&'a LabourRow),
}

/// Everything at or before the moment of printing, the last first; at equal times a row is later than a visit.
fn line(facts: &LetterFacts) -> Vec<(Moment, Record<'_>)> {
    let visits = facts
        .case
        .visits
        .iter()
        .map(|visit| (visit.at, Record::Visit(visit)));
    let rows = facts
        .case
        .labour
        .iter()
        .map(|row| (row.at, Record::Row(row)));
    let mut line: Vec<_> = visits
        .chain(rows)
        .filter(|(at, _)| *at <= facts.case.on)
        .collect();
    line.sort_by_key(|(at, _)| *at);
    line.reverse();
    line
}

pub(super) fn items(facts: &LetterFacts, clock: &Clock<'_>) -> Vec<Item> {
    let line = line(facts);
    let latest = |label, find: &dyn Fn(&Record<'_>) -> Option<String>| {
        let found = line
            .iter()
            .find_map(|(at, record)| find(record).map(|words| (at, words)));
        Item::new(
            label,
            found.map(|(at, words)| format!("{words} ({})", clock.short(*at))),
        )
    };
    let of_visit = |find: fn(&LetterFacts, &Visit) -> Option<String>| {
        move |record: &Record<'_>| match record {
            Record::Visit(visit) => find(facts, visit),
            Record::Row(_) => None,
        }
    };
    let of_row = |find: fn(&LabourRow) -> Option<String>| {
        move |record: &Record<'_>| match record {
            Record::Row(row) => find(row),
            Record::Visit(_) => None,
        }
    };
    vec![
        latest("Pressure", &|record| pressure(record)),
        latest("Pulse", &|record| {
            shared(record).1.map(|pulse| format!("{pulse} / min"))
        }),
        latest("Temperature", &|record| {
            shared(record).2.map(|it| format!("{} °C", tenths(it)))
        }),
        latest("Urine protein", &|record| shared(record).3),
        latest("Danger signs", &|record| danger_signs(record)),
        latest("Height", &of_visit(height)),
        latest("By the hands", &of_visit(hands)),
        latest("Fifths above the brim", &|record| fifths(record)),
        latest("Felt inside", &of_row(felt_inside)),
        latest("Fetal heart", &|record| heart(record)),
        latest(
            "Movements",
            &of_visit(|_, visit| visit.movements.map(|it| it.words().to_owned())),
        ),
        latest("Waters, liquor", &|record| waters_said(record)),
        latest(
            "Dilatation",
            &of_row(|row| row.dilatation_cm.map(|cm| format!("{cm} cm"))),
        ),
        latest("Contractions", &of_row(contractions)),
        Item::new("Progress", progress(facts, clock)),
        Item::new("Given", facts.about.referral.given.clone()),
    ]
}

/// Pressure, pulse, temperature, urine: what both kinds of record have.
type Shared = (
    (Option<u16>, Option<u16>),
    Option<u8>,
    Option<u16>,
    Option<String>,
);

fn shared(record: &Record<'_>) -> Shared {
    let urine = |protein: Option<crate::clinical::Protein>| protein.map(|it| it.words().to_owned());
    match record {
        Record::Visit(it) => (
            (it.systolic, it.diastolic),
            it.pulse,
            it.temperature_tenths,
            urine(it.urine_protein),
        ),
        Record::Row(it) => (
            (it.systolic, it.diastolic),
            it.pulse,
            it.temperature_tenths,
            urine(it.urine_protein),
        ),
    }
}

fn pressure(record: &Record<'_>) -> Option<String> {
    let part = |value: Option<u16>| value.map_or_else(|| "?".to_owned(), |it| it.to_string());
    match shared(record).0 {
        (None, None) => None,
        (systolic, diastolic) => Some(format!("{}/{}", part(systolic), part(diastolic))),
    }
}

fn danger_signs(record: &Record<'_>) -> Option<String> {
    let signs = match record {
        Record::Visit(visit) => &visit.danger_signs,
        Record::Row(row) => &row.danger_signs,
    };
    let words: Vec<_> = signs.iter().map(|sign| sign.words()).collect();
    (!words.is_empty()).then(|| words.join(", "))
}

fn height(facts: &LetterFacts, visit: &Visit) -> Option<String> {
    let found = visit.fundal_height_tenths?;
    let dated = facts.pregnancy.dated(visit.at.date());
    let days = dated.gestation_on(visit.at.date());
    let centile = height_score(found, days).map(|score| format!(", centile {:.0}", score.centile));
    let at = days.map(|days| format!(" at {}", gestation_text(days)));
    Some(format!(
        "{} cm{}{}",
        tenths(found),
        at.unwrap_or_default(),
        centile.unwrap_or_default()
    ))
}

fn hands(_: &LetterFacts, visit: &Visit) -> Option<String> {
    let read = read_palpation(visit.palpation.as_ref()?)?;
    let lie = match read.lie {
        Lie::Unknown => "lie not known".to_owned(),
        lie => format!("lie {}", lie.words()),
    };
    Some(format!(
        "{lie}, presentation {}, position {} (provisional), {}",
        read.presentation.words(),
        read.position,
        read.certainty.words()
    ))
}

fn fifths(record: &Record<'_>) -> Option<String> {
    let fifths = match record {
        Record::Visit(visit) => visit.palpation.as_ref().and_then(|hands| hands.fifths),
        Record::Row(row) => row.fifths,
    };
    fifths.map(|fifths| format!("{fifths}/5"))
}

fn felt_inside(row: &LabourRow) -> Option<String> {
    let felt = row.felt_inside.map(|it| it.words().to_owned());
    let occiput = row
        .occiput
        .map(|it| format!("back of the head {}", it.words()));
    let moulding = row.moulding.map(|it| format!("moulding {it}"));
    let caput = row.caput.map(|it| format!("caput {it}"));
    let parts: Vec<_> = [felt, occiput, moulding, caput]
        .into_iter()
        .flatten()
        .collect();
    (!parts.is_empty()).then(|| parts.join(", "))
}

fn heart(record: &Record<'_>) -> Option<String> {
    let (counts, sought) = match record {
        Record::Visit(visit) => (&visit.fetal_hearts, visit.heart_sought),
        Record::Row(row) => (&row.fetal_hearts, row.heart_sought),
    };
    let counts: Vec<_> = counts.iter().map(u8::to_string).collect();
    if counts.is_empty() {
        return (sought == Some(true)).then(|| "looked for, not heard".to_owned());
    }
    let falls = match record {
        Record::Row(row) => row
            .deceleration
            .map(|it| format!(", slowing around contractions: {}", it.words())),
        Record::Visit(_) => None,
    };
    Some(format!(
        "{} / min{}",
        counts.join(" and "),
        falls.unwrap_or_default()
    ))
}

fn waters_said(record: &Record<'_>) -> Option<String> {
    match record {
        Record::Visit(visit) => visit.waters.map(|it| it.words().to_owned()),
        Record::Row(row) => {
            let liquor = row.liquor.map(|it| it.words().to_owned());
            let foul = (row.liquor_foul == Some(true)).then(|| "foul".to_owned());
            let parts: Vec<_> = [liquor, foul].into_iter().flatten().collect();
            (!parts.is_empty()).then(|| parts.join(", "))
        }
    }
}

/// What was said last of the waters, and when.
pub(super) fn waters(facts: &LetterFacts) -> Option<(Moment, String)> {
    let line = line(facts);
    line.iter()
        .find_map(|(at, record)| waters_said(record).map(|words| (*at, words)))
}

fn contractions(row: &LabourRow) -> Option<String> {
    match (row.contractions_in_10_min, row.contraction_seconds) {
        (None, None) => None,
        (Some(count), None) => Some(format!("{count} in 10 min")),
        (None, Some(seconds)) => Some(format!("each {seconds} s")),
        (Some(count), Some(seconds)) => Some(format!("{count} in 10 min, each {seconds} s")),
    }
}

fn progress(facts: &LetterFacts, clock: &Clock<'_>) -> Option<String> {
    let labour = facts.assessment.labour.as_ref()?;
    let mut parts = vec![format!("by the {}", labour.protocol.words())];
    parts.extend(labour.stage.map(|stage| format!("stage {}", stage.words())));
    if let (Some(cm), Some(since)) = (labour.highest_cm, labour.first_recorded_at) {
        parts.push(format!("{cm} cm since {}", clock.short(since)));
    }
    if let Some(limit) = labour.limits.first() {
        parts.push(format!("next limit {}", clock.short(limit.at)));
    }
    Some(parts.join(", "))
}
