//! The numbers that a case really has.

use super::numbers::Number;
use brimline::clinical::dating::{due_by_period, scan_days};
use brimline::clinical::{
    Case, Day, LabourProtocol, Liquor, Moment, Visit, date_pregnancy, height_score,
};
use chrono::Duration;

/// Gestation on a day by the due date of the case, also where nobody believes it.
pub(super) fn days_on(case: &Case, day: Day) -> Option<i64> {
    let today = case.on.date();
    let told = date_pregnancy(&case.dating, today).days_told?;
    Some(told + (day - today).num_days())
}

/// The number is one of what was told, felt, counted and measured.
pub(super) fn has(case: &Case, number: Number) -> bool {
    match number {
        Number::Gestation(days) => gestations(case).contains(&days),
        Number::Span(seconds) => spans(case).contains(&seconds),
        Number::Fifths(fifths) => {
            let hands = case
                .visits
                .iter()
                .filter_map(|visit| visit.palpation.as_ref()?.fifths);
            let rows = case.labour.iter().filter_map(|row| row.fifths);
            hands.chain(rows).any(|found| i64::from(found) == fifths)
        }
        Number::Pressure(systolic, diastolic) => {
            let visits = case
                .visits
                .iter()
                .map(|visit| (visit.systolic, visit.diastolic));
            let rows = case.labour.iter().map(|row| (row.systolic, row.diastolic));
            visits.chain(rows).any(|(first, second)| {
                first.map(i64::from) == Some(systolic) && second.map(i64::from) == Some(diastolic)
            })
        }
        Number::Plus(plus) => {
            let tested = case.visits.iter().filter_map(|visit| visit.urine_protein);
            tested
                .into_iter()
                .any(|found| found.code() == format!("{plus}+"))
        }
        // The nearest tape: one step of 0.1 cm is less than one centile.
        Number::Centile(centile) => centiles(case)
            .iter()
            .any(|found| (found - f64::from(u8::try_from(centile).unwrap())).abs() < 1.0),
        Number::Figure(tenths, unit) => figures(case)
            .iter()
            .any(|(name, found)| *found == tenths && (unit.is_empty() || *name == unit)),
    }
}

fn gestations(case: &Case) -> Vec<i64> {
    let mut days = vec![case.on.date()];
    days.extend(case.visits.iter().map(|visit| visit.at.date()));
    days.extend(case.dating.scans.iter().map(|scan| scan.on));
    let mut found: Vec<i64> = days.iter().filter_map(|day| days_on(case, *day)).collect();
    for scan in &case.dating.scans {
        found.extend(scan_days(scan));
        let due = case.dating.lmp.map(due_by_period);
        found.extend(due.map(|due| 280 - (due - scan.on).num_days()));
    }
    found
}

/// Between any two moments of the case; with the way; and how long contractions last.
fn spans(case: &Case) -> Vec<i64> {
    let travel = i64::from(case.post.travel_minutes.unwrap_or_default()) * 60;
    let mut moments: Vec<Moment> = vec![case.on, case.on + Duration::seconds(travel)];
    moments.extend(case.visits.iter().map(|visit| visit.at));
    moments.extend(case.labour.iter().map(|row| row.at));
    moments.extend(case.waters_broke_at);
    moments.extend(case.labour_began_at);
    if case.post.labour_protocol == LabourProtocol::Partograph {
        // The alert line rises one centimetre an hour from the first active row.
        let opened = || {
            case.labour
                .iter()
                .filter_map(|row| Some((row.at, row.dilatation_cm?)))
        };
        if let Some((from, first)) = opened().find(|(_, cm)| *cm >= 4) {
            let line = |cm: u8| from + Duration::hours(i64::from(cm) - i64::from(first));
            moments.extend(opened().map(|(_, cm)| line(cm)));
        }
    }
    let mut found: Vec<i64> = moments
        .iter()
        .flat_map(|one| moments.iter().map(|other| (*other - *one).num_seconds()))
        .collect();
    found.extend(
        case.labour
            .iter()
            .filter_map(|row| row.contraction_seconds.map(i64::from)),
    );
    found
}

fn centiles(case: &Case) -> Vec<f64> {
    let judged = |visit: &Visit| {
        let days = days_on(case, visit.at.date()).and_then(|days| u16::try_from(days).ok());
        Some(height_score(visit.fundal_height_tenths?, days)?.centile)
    };
    case.visits.iter().filter_map(judged).collect()
}

/// Tenths of all else that was told, felt, counted and measured, with its unit or name.
fn figures(case: &Case) -> Vec<(&'static str, i64)> {
    let mut found: Vec<(&'static str, i64)> = Vec::new();
    let mut add = |name, value: i64| found.push((name, value));
    let mother = &case.mother;
    for whole in [mother.age_years, mother.births_before]
        .into_iter()
        .flatten()
    {
        add("told", i64::from(whole) * 10);
    }
    macro_rules! measured {
        ($record:ident) => {
            for count in &$record.fetal_hearts {
                add("heart", i64::from(*count) * 10);
                add("hearts", i64::from(*count) * 10);
                for other in &$record.fetal_hearts {
                    add("apart", (i64::from(*count) - i64::from(*other)) * 10);
                }
            }
            for (name, tenths) in [
                (
                    "systolic",
                    $record.systolic.map(|mmhg| i64::from(mmhg) * 10),
                ),
                (
                    "diastolic",
                    $record.diastolic.map(|mmhg| i64::from(mmhg) * 10),
                ),
                ("pulse", $record.pulse.map(|count| i64::from(count) * 10)),
                ("°C", $record.temperature_tenths.map(i64::from)),
            ] {
                if let Some(tenths) = tenths {
                    add(name, tenths);
                }
            }
        };
    }
    let tapes: Vec<(Moment, i64)> = case
        .visits
        .iter()
        .filter_map(|visit| Some((visit.at, i64::from(visit.fundal_height_tenths?))))
        .collect();
    for (at, tape) in &tapes {
        add("cm", *tape);
        for (_, other) in &tapes {
            add("cm", tape - other);
        }
        if let Some(days) = days_on(case, at.date()).filter(|days| days % 7 == 0) {
            add("cm", (tape - days / 7 * 10).abs());
        }
    }
    for visit in &case.visits {
        measured!(visit);
    }
    for row in &case.labour {
        measured!(row);
        for (name, value) in [
            ("cm", row.dilatation_cm),
            ("in 10 min", row.contractions_in_10_min),
            ("moulding", row.moulding),
            ("caput", row.caput),
        ] {
            if let Some(value) = value {
                add(name, i64::from(value) * 10);
            }
        }
        for (grade, liquor) in [
            (1, Liquor::Meconium1),
            (2, Liquor::Meconium2),
            (3, Liquor::Meconium3),
        ] {
            if row.liquor == Some(liquor) {
                add("meconium", grade * 10);
            }
        }
    }
    let diastolics: Vec<u16> = case.labour.iter().filter_map(|row| row.diastolic).collect();
    for pair in diastolics.windows(2) {
        add("lower", (i64::from(pair[0]) - i64::from(pair[1])) * 10);
    }
    for centile in centiles(case) {
        #[expect(clippy::cast_possible_truncation, reason = "0 to 1000")]
        add("centile", (centile * 10.0).round() as i64);
    }
    found
}
