//! What holds for every case: more danger is never less urgent, order in the file means nothing, no bytes are too odd.

use crate::generated::{self, Numbers};
use brimline::clinical::{
    Assessment, Case, DangerSign, LabourRow, RULES_VERSION, Visit, assess, rules, spoken, wire,
};
use chrono::Duration;
use proptest::prelude::*;
use sha2::{Digest, Sha256};
use std::collections::BTreeSet;
use std::fmt::Write;

/// Rules in force, and what they make of the 5,000 generated cases. Whoever changes the second has changed a judgement:
/// raise `RULES_VERSION` and say in the README what is judged differently.
const JUDGED: (&str, &str) = (
    "2026-11",
    "bbbdc0771c6399dffedd1146cd04e7058b17247bebc3f2a1ad617cc2588e96b9",
);

/// The judgement without its wording.
fn told(judged: &Assessment) -> String {
    let mut text = String::new();
    for flag in &judged.flags {
        write!(text, "{}:{}", flag.rule, flag.urgency.code()).unwrap();
        if let Some(at) = flag.recheck_at {
            write!(text, "@{at}").unwrap();
        }
        text.push(' ');
    }
    if let Some(known) = &judged.gestation {
        write!(text, "{} {} {:?}", known.days, known.edd, known.suboptimal).unwrap();
    }
    write!(
        text,
        "{:?} {:?} ",
        judged.gestation_reason, judged.palpation
    )
    .unwrap();
    if let Some(score) = judged.fundal_height {
        write!(text, "{:.3} ", score.z).unwrap();
    }
    write!(text, "{:?}", judged.labour).unwrap();
    text
}

#[test]
fn a_changed_judgement_changes_the_rules_version() {
    let mut digest = Sha256::new();
    for seed in 0..5000 {
        digest.update(told(&assess(&generated::case(seed))));
        digest.update(b"\n");
    }
    let found = digest
        .finalize()
        .iter()
        .fold(String::new(), |mut text, byte| {
            write!(text, "{byte:02x}").unwrap();
            text
        });
    assert_eq!((RULES_VERSION, found.as_str()), JUDGED);
}

#[test]
fn the_generated_cases_reach_every_rule() {
    let mut reached = BTreeSet::new();
    for seed in 0..5000 {
        reached.extend(
            assess(&generated::case(seed))
                .flags
                .iter()
                .map(|flag| flag.rule),
        );
    }
    let missed: Vec<_> = rules()
        .map(|rule| rule.code)
        .filter(|code| !reached.contains(code))
        .collect();
    assert!(missed.is_empty(), "{missed:?}");
}

/// How urgent, 4 for `now` to 0 for nothing.
fn urgency(judged: &Assessment) -> u8 {
    judged.urgency().map_or(0, |urgency| 4 - urgency as u8)
}

fn shuffled<T>(mut entries: Vec<T>, n: &mut Numbers) -> Vec<T> {
    for at in (1..entries.len()).rev() {
        let other = n.whole(0, i64::try_from(at).unwrap());
        entries.swap(at, usize::try_from(other).unwrap());
    }
    entries
}

/// No two records of one kind at one moment, so that their order in the file cannot matter.
fn without_ties(mut case: Case) -> Case {
    case.visits.sort_by_key(|visit: &Visit| visit.at);
    case.visits.dedup_by_key(|visit| visit.at);
    case.labour.sort_by_key(|row: &LabourRow| row.at);
    case.labour.dedup_by_key(|row| row.at);
    case
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn adding_a_danger_sign_never_lowers_the_urgency(seed: u64, which in 0usize..9) {
        let mut case = generated::case(seed);
        let before = urgency(&assess(&case));
        let on = case.on;
        let Some(last) = case.visits.iter_mut().filter(|visit| visit.at <= on).max_by_key(|visit| visit.at) else { return Ok(()) };
        last.danger_signs.push(DangerSign::ALL[which]);
        prop_assert!(urgency(&assess(&case)) >= before);
    }

    #[test]
    fn a_further_centimetre_now_ends_slow_dilatation(seed: u64) {
        let mut case = generated::case(seed);
        let Some(highest) = assess(&case).labour.and_then(|labour| labour.highest_cm).filter(|cm| *cm < 10) else { return Ok(()) };
        let mut row = LabourRow::at(case.on);
        row.dilatation_cm = Some(highest + 1);
        case.labour.push(row);
        let judged = assess(&case);
        prop_assert!(!judged.flags.iter().any(|flag| flag.rule == "slow-dilatation"), "{:?}", told(&judged));
    }

    #[test]
    fn the_order_in_the_file_means_nothing(seed: u64, other: u64) {
        let case = without_ties(generated::case(seed));
        let mut mixed = case.clone();
        let n = &mut Numbers::from(other);
        mixed.visits = shuffled(mixed.visits, n);
        mixed.labour = shuffled(mixed.labour, n);
        prop_assert_eq!(assess(&case), assess(&mixed));
    }

    #[test]
    fn shifting_everything_by_whole_days_changes_nothing(seed: u64, days in -3000i64..3000) {
        let case = generated::case(seed);
        let by = Duration::days(days);
        let mut shifted = case.clone();
        shifted.on += by;
        shifted.labour_began_at = case.labour_began_at.map(|at| at + by);
        shifted.waters_broke_at = case.waters_broke_at.map(|at| at + by);
        shifted.dating.lmp = case.dating.lmp.map(|day| day + by);
        for scan in &mut shifted.dating.scans { scan.on += by; }
        for visit in &mut shifted.visits { visit.at += by; }
        for row in &mut shifted.labour { row.at += by; }
        let codes = |judged: &Assessment| judged.flags.iter().map(|flag| (flag.rule, flag.urgency)).collect::<Vec<_>>();
        prop_assert_eq!(codes(&assess(&case)), codes(&assess(&shifted)));
    }

    #[test]
    fn nothing_in_labour_is_soon_and_flags_stand_in_order(seed: u64) {
        let judged = assess(&generated::case(seed));
        let order: Vec<&str> = rules().map(|rule| rule.code).collect();
        let place = |code: &str| order.iter().position(|other| *other == code).unwrap();
        let keys: Vec<_> = judged.flags.iter().map(|flag| (flag.urgency, place(flag.rule))).collect();
        prop_assert!(keys.windows(2).all(|pair| pair[0] < pair[1]), "{:?}", keys);
        if judged.labour.is_some() {
            prop_assert!(judged.flags.iter().all(|flag| flag.urgency.code() != "soon"), "{}", told(&judged));
        }
        prop_assert!(spoken(&judged).ends_with('.'));
    }

    #[test]
    fn an_entry_later_than_the_moment_of_judgement_changes_nothing(seed: u64) {
        let case = generated::case(seed);
        let mut with_future = case.clone();
        let mut later = Visit::at(case.on + Duration::seconds(1));
        later.danger_signs.push(DangerSign::Bleeding);
        with_future.visits.push(later);
        let mut row = LabourRow::at(case.on + Duration::hours(1));
        row.dilatation_cm = Some(10);
        with_future.labour.push(row);
        prop_assert_eq!(assess(&case), assess(&with_future));
    }

    #[test]
    fn no_bytes_are_too_odd(bytes: Vec<u8>) {
        let mut out = Vec::new();
        wire::judge_lines(&bytes[..], &mut out, true).unwrap();
        let lines = bytes.split(|byte| *byte == b'\n');
        let asked = lines.filter(|line| line.iter().any(|byte| !matches!(byte, b' ' | b'\t' | b'\r'))).count();
        prop_assert_eq!(out.split(|byte| *byte == b'\n').count() - 1, asked);
    }

    #[test]
    fn a_torn_line_is_answered_and_never_breaks(cut in 0usize..900, put in any::<u8>()) {
        let mut line = crate::lines::BREECH.as_bytes().to_vec();
        let at = cut.min(line.len() - 1);
        line[at] = put;
        let mut out = Vec::new();
        wire::judge_line(&line, true, &mut out);
        let answer: serde_json::Value = serde_json::from_slice(&out).unwrap();
        prop_assert!(answer.get("error").is_some() || answer.get("flags").is_some());
        out.clear();
        wire::judge_line(&line[..at], false, &mut out);
        prop_assert!(serde_json::from_slice::<serde_json::Value>(&out).is_ok());
    }
}
