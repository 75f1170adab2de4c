//! A mother's dates and visits as sentences.

use crate::clinical::dating::{due_by_period, redating_limit, scan_days};
use crate::clinical::{
    Basis, Certainty, Dated, Dating, Day, Lie, Movements, Palpation, PastEvent, Presentation, Scan,
    UnknownReason, Visit, Waters, date_pregnancy, read_palpation,
};
use crate::web::spoken;

/// What the due date rests on, and why the other date did not count.
pub(crate) fn dating(dating: &Dating, on: Day) -> String {
    let known = date_pregnancy(dating, on);
    let period = dating.lmp.map(|lmp| {
        let sure = if dating.lmp_certain == Some(false) {
            ", not sure"
        } else {
            ""
        };
        format!("Last period {}{sure}.", spoken::day(lmp))
    });
    let mut said = vec![period.unwrap_or_else(|| "No last period told.".to_owned())];
    said.extend(beside_scan(dating, &known, on));
    said.extend(known.reason.map(|reason| unknown(reason).to_owned()));
    if known
        .gestation
        .as_ref()
        .is_some_and(|gestation| gestation.suboptimal)
    {
        said.push("No scan before 22 weeks: the dates may be off.".to_owned());
    }
    said.join(" ")
}

fn beside_scan(dating: &Dating, known: &Dated, on: Day) -> Option<String> {
    let (scan, days) = first_dating_scan(&dating.scans, on)?;
    let at = format!(
        "The scan of {} at {}",
        spoken::day(scan.on),
        spoken::gestation(days)
    );
    let lmp = dating.lmp.filter(|_| dating.lmp_certain != Some(false));
    let Some(lmp) = lmp else {
        return Some(format!("{at} gives the due date."));
    };
    let by_period = (scan.on - lmp).num_days();
    let apart = spoken::count((by_period - days).abs(), "day", "days");
    Some(
        match known.gestation.as_ref().map(|gestation| gestation.basis) {
            Some(Basis::Scan) => format!(
                "{at} differed by {apart}, more than {}: the scan counts.",
                redating_limit(by_period)
            ),
            Some(Basis::Lmp) if by_period == days => format!("{at} agreed: the period counts."),
            Some(Basis::Lmp) => format!("{at} differed by {apart}: the period counts."),
            None => format!("{at} differed by {apart}."),
        },
    )
}

/// The scan that dates: the first from 7 weeks on, else the first.
fn first_dating_scan(scans: &[Scan], on: Day) -> Option<(&Scan, i64)> {
    let mut measured: Vec<_> = scans
        .iter()
        .filter(|scan| scan.on <= on)
        .filter_map(|scan| Some((scan, scan_days(scan)?)))
        .collect();
    measured.sort_by_key(|(scan, _)| scan.on);
    measured
        .iter()
        .find(|(_, days)| *days >= 49)
        .or(measured.first())
        .copied()
}

/// Why the gestation is not known, as the page says it.
pub(crate) fn unknown(reason: UnknownReason) -> &'static str {
    match reason {
        UnknownReason::NoDate => "Gestation not known: no date was told.",
        UnknownReason::UncertainLmp => "Gestation not known: the last period is not sure.",
        UnknownReason::Over44Weeks => {
            "Gestation not known: over 44 weeks by her dates. Was a birth missed?"
        }
    }
}

/// How many weeks she would be by a period that is not sure; no rule reads it.
pub(crate) fn about_weeks(dating: &Dating, on: Day) -> Option<String> {
    let lmp = dating.lmp.filter(|_| dating.lmp_certain == Some(false))?;
    let weeks = (on - lmp).num_days() / 7;
    (0..=44).contains(&weeks).then(|| {
        format!(
            "about {weeks} weeks by an unsure period, due about {}",
            spoken::day(due_by_period(lmp))
        )
    })
}

/// One visit in a line: gestation, hands, tape, heart, pressure, and what was amiss.
pub(crate) fn visit(visit: &Visit, gestation: Option<u16>) -> String {
    let mut said = Vec::new();
    said.extend(gestation.map(|days| format!("{}.", spoken::gestation(i64::from(days)))));
    let felt = visit.palpation.as_ref().and_then(read_palpation);
    said.extend(felt.map(|felt| format!("{}.", hands(&felt))));
    let figures = figures(visit);
    if !figures.is_empty() {
        said.push(format!("{}.", beginning_large(&figures.join(", "))));
    }
    said.extend(amiss(visit).into_iter().map(|it| format!("{it}.")));
    if said.is_empty() || (said.len() == 1 && gestation.is_some()) {
        said.push("Nothing examined.".to_owned());
    }
    said.join(" ")
}

/// Lie, presentation and how sure, in one phrase.
pub(crate) fn hands(felt: &Palpation) -> String {
    let what = match (felt.lie, felt.presentation) {
        (Lie::Unknown, Presentation::Unknown) => "Lie not known".to_owned(),
        (Lie::Longitudinal, Presentation::Unknown) => {
            "Lengthwise, presentation not known".to_owned()
        }
        (Lie::Longitudinal, seen) => beginning_large(seen.words()),
        (lie, _) => format!("Lies {}", lie.words()),
    };
    match felt.certainty {
        Certainty::Clear => what,
        Certainty::Probable => format!("{what}, likely"),
        Certainty::Conflicting => "Findings contradict each other".to_owned(),
        Certainty::Insufficient => format!("{what}; too little felt to say"),
    }
}

fn figures(visit: &Visit) -> Vec<String> {
    let mut said = Vec::new();
    said.extend(
        visit
            .fundal_height_tenths
            .map(|tenths| format!("{}\u{a0}cm", spoken::tenths(i32::from(tenths)))),
    );
    if visit.fetal_hearts.is_empty() {
        said.extend(
            (visit.heart_sought == Some(true)).then(|| "heart sought and not heard".to_owned()),
        );
    } else {
        let counts: Vec<_> = visit.fetal_hearts.iter().map(u8::to_string).collect();
        said.push(format!("heart {}", counts.join(" and ")));
    }
    if let (Some(systolic), Some(diastolic)) = (visit.systolic, visit.diastolic) {
        said.push(format!("pressure {systolic}/{diastolic}"));
    }
    said.extend(visit.pulse.map(|pulse| format!("pulse {pulse}")));
    said.extend(
        visit
            .temperature_tenths
            .map(|tenths| format!("{}\u{a0}°C", spoken::tenths(i32::from(tenths)))),
    );
    said.extend(
        visit
            .urine_protein
            .map(|protein| format!("protein {}", protein.words())),
    );
    said
}

fn amiss(visit: &Visit) -> Vec<String> {
    let mut said = Vec::new();
    if visit.in_labour {
        said.push("In labour".to_owned());
    }
    match visit.movements {
        Some(Movements::Reduced) => said.push("Moves less".to_owned()),
        Some(Movements::None) => said.push("No movements".to_owned()),
        Some(Movements::Normal) | None => {}
    }
    match visit.waters {
        Some(broken @ (Waters::Broken | Waters::BrokenFoul)) => {
            said.push(format!("Waters {}", broken.words()));
        }
        Some(Waters::Intact) | None => {}
    }
    if !visit.danger_signs.is_empty() {
        let signs: Vec<_> = visit.danger_signs.iter().map(|sign| sign.words()).collect();
        said.push(beginning_large(&signs.join(", ")));
    }
    said
}

/// What happened in earlier pregnancies, or that nothing is known.
pub(crate) fn before(births: Option<u8>, caesareans: Option<u8>, history: &[PastEvent]) -> String {
    let births = match births {
        None => "Births before not told".to_owned(),
        Some(0) => "No birth before".to_owned(),
        Some(births) => spoken::count(i64::from(births), "birth before", "births before"),
    };
    let caesareans = match caesareans {
        None => "caesareans not told".to_owned(),
        Some(0) => "no caesarean".to_owned(),
        Some(count) => spoken::count(i64::from(count), "caesarean", "caesareans"),
    };
    let mut said = vec![births, caesareans];
    said.extend(history.iter().map(|event| event.words().to_owned()));
    format!("{}.", said.join(", "))
}

/// The first letter large.
pub(crate) fn beginning_large(words: &str) -> String {
    let mut rest = words.chars();
    let first = rest.next().into_iter().flat_map(char::to_uppercase);
    first.chain(rest).collect()
}
