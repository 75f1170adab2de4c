//! What one judgement costs: visits assessed, and JSON lines read, judged and written, on one core.
//!
//! Each cost is printed as a multiple of a yardstick taken in the same minute, and fails past its limit: a ratio travels
//! between machines better than milliseconds. `cargo bench --bench assess`.

use brimline::clinical::{Case, assess, wire};
use std::hint::black_box;
use std::process::ExitCode;
use std::time::{Duration, Instant};

/// An assessed visit may cost so many yardsticks.
const MOST_VISIT: f64 = 70.0;
/// A line in and out may cost so many.
const MOST_LINE: f64 = 220.0;

/// Visits as they come in: most with nothing to flag, some with one or two flags, one labour in eight.
const LINES: [&str; 8] = [
    r#"{"case":"a usual visit","on":"2026-09-10T09:00:00Z","mother":{"births_before":1,"age_years":27},"dating":{"lmp":"2026-01-15","scan_on":"2026-04-09","scan_gestation_days":84,"babies_on_scan":1},"post":{"travel_minutes":90},"visits":[{"at":"2026-09-10T09:00:00Z","palpation":{"fundus":"soft-irregular","left":"long-smooth","right":"small-lumps","front":"nothing","lower":"hard-round","fifths":4},"fundal_height_cm":33.0,"movements":"normal","waters":"intact","fetal_hearts":[140],"systolic":118,"diastolic":76,"pulse":82,"temperature_c":36.8,"urine_protein":"none"}]}"#,
    r#"{"case":"a breech at term","on":"2026-09-10T09:00:00Z","mother":{"births_before":1},"dating":{"lmp":"2026-01-01","scan_on":"2026-03-26","scan_gestation_days":84,"babies_on_scan":1},"post":{"travel_minutes":90},"visits":[{"at":"2026-09-10T09:00:00Z","palpation":{"fundus":"hard-round","left":"small-lumps","right":"long-smooth","front":"nothing","lower":"soft-irregular"},"fundal_height_cm":33.5,"fetal_hearts":[140],"systolic":118,"diastolic":76}]}"#,
    r#"{"case":"an early visit","on":"2026-09-10T09:00:00Z","mother":{"births_before":0,"age_years":22},"dating":{"lmp":"2026-05-20"},"visits":[{"at":"2026-09-10T09:00:00Z","systolic":112,"diastolic":70,"pulse":80,"temperature_c":36.6,"urine_protein":"none","movements":"normal"}]}"#,
    r#"{"case":"a tape that grew","on":"2026-09-10T09:00:00Z","mother":{"births_before":2,"age_years":31},"dating":{"lmp":"2026-02-05","scan_on":"2026-05-01","scan_gestation_days":85,"babies_on_scan":1},"visits":[{"at":"2026-08-13T08:10:00Z","fundal_height_cm":26.5,"systolic":110,"diastolic":72},{"at":"2026-09-10T09:00:00Z","palpation":{"fundus":"soft-irregular","left":"small-lumps","right":"long-smooth","front":"small-lumps","lower":"hard-round","fifths":5},"fundal_height_cm":30.5,"movements":"normal","fetal_hearts":[148],"systolic":116,"diastolic":74,"pulse":84}]}"#,
    r#"{"case":"a raised pressure","on":"2026-09-10T09:00:00Z","mother":{"births_before":1,"age_years":35},"dating":{"lmp":"2026-01-20","scan_on":"2026-04-14","scan_gestation_days":84,"babies_on_scan":1},"visits":[{"at":"2026-09-10T09:00:00Z","palpation":{"fundus":"soft-irregular","left":"long-smooth","right":"small-lumps","front":"nothing","lower":"hard-round","fifths":4},"fundal_height_cm":32.5,"movements":"normal","fetal_hearts":[136],"systolic":144,"diastolic":88,"pulse":86,"urine_protein":"trace"}]}"#,
    r#"{"case":"a visit at 30 weeks","on":"2026-09-10T09:00:00Z","mother":{"births_before":3,"age_years":33},"dating":{"lmp":"2026-02-12","scan_on":"2026-05-07","scan_gestation_days":84,"babies_on_scan":1},"visits":[{"at":"2026-09-10T09:00:00Z","palpation":{"fundus":"soft-irregular","left":"long-smooth","right":"small-lumps","front":"unsure","lower":"hard-round"},"fundal_height_cm":29.5,"movements":"normal","waters":"intact","fetal_hearts":[144],"systolic":108,"diastolic":66,"pulse":78,"temperature_c":36.7}]}"#,
    r#"{"case":"a visit at 38 weeks","on":"2026-09-10T09:00:00Z","mother":{"births_before":1,"age_years":26},"dating":{"lmp":"2025-12-18","scan_on":"2026-03-12","scan_gestation_days":84,"babies_on_scan":1},"visits":[{"at":"2026-09-10T09:00:00Z","palpation":{"fundus":"soft-irregular","left":"small-lumps","right":"long-smooth","front":"nothing","lower":"hard-round","fifths":3,"head":"fixed"},"fundal_height_cm":36.0,"movements":"normal","waters":"intact","fetal_hearts":[132],"systolic":122,"diastolic":80,"pulse":88,"urine_protein":"none"}]}"#,
    r#"{"case":"a labour at 6 cm","on":"2026-09-10T12:00:00Z","mother":{"births_before":1},"dating":{"lmp":"2025-12-04","scan_on":"2026-02-26","scan_gestation_days":84,"babies_on_scan":1},"post":{"travel_minutes":90},"labour":[{"at":"2026-09-10T08:00:00Z","dilatation_cm":5,"fifths":4,"liquor":"intact","fetal_heart":140,"contractions_in_10_min":3,"contraction_seconds":40,"pulse":84},{"at":"2026-09-10T12:00:00Z","dilatation_cm":6,"fifths":3,"liquor":"clear","fetal_heart":146,"contractions_in_10_min":4,"contraction_seconds":45,"pulse":88}]}"#,
];

fn main() -> ExitCode {
    let cases: Vec<Case> = LINES
        .iter()
        .filter_map(|line| wire::read_case(line.as_bytes()).ok())
        .map(|told| told.case)
        .collect();
    if cases.len() != LINES.len() {
        eprintln!("a line of this bench is no case");
        return ExitCode::FAILURE;
    }
    let yardstick = each(LINES.len(), || {
        for line in LINES {
            black_box(black_box(&line[..48]).repeat(black_box(8)));
        }
    });
    let visit = each(cases.len(), || {
        for case in &cases {
            black_box(assess(black_box(case)));
        }
    });
    let mut out = Vec::with_capacity(16 * 1024);
    let line = each(LINES.len(), || {
        out.clear();
        for line in LINES {
            black_box(wire::judge_line(
                black_box(line.as_bytes()),
                false,
                &mut out,
            ));
        }
    });
    let visits = told("assessed visit", visit, yardstick, MOST_VISIT);
    let lines = told("JSON line in and out", line, yardstick, MOST_LINE);
    if visits && lines {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}

/// The fastest of many rounds, for one of `entries`, in seconds.
fn each(entries: usize, mut round: impl FnMut()) -> f64 {
    const ROUNDS: u32 = 20;
    let until = Instant::now() + Duration::from_millis(1500);
    let mut fastest = f64::INFINITY;
    while Instant::now() < until {
        let from = Instant::now();
        for _ in 0..ROUNDS {
            round();
        }
        fastest = fastest.min(from.elapsed().as_secs_f64());
    }
    #[expect(clippy::cast_precision_loss, reason = "a handful of entries")]
    let entries = entries as f64;
    fastest / f64::from(ROUNDS) / entries
}

fn told(what: &str, cost: f64, yardstick: f64, most: f64) -> bool {
    let times = cost / yardstick;
    println!(
        "{what}: {:.0} a second, {:.2} µs, {times:.1} × yardstick (at most {most})",
        1.0 / cost,
        cost * 1e6
    );
    times <= most
}
