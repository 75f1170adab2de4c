//! Words and settling of many generated cases, frozen: a change that nobody meant is noticed.
//!
//! What they say is held by other tests, and an independent reading of the clinical reference agreed with the judgements on
//! 1.4 million cases in November 2026. Whoever means a change reads the snapshots of `rules.rs`, then takes the digest that
//! the failing test prints.

use std::fmt::Write as _;

use brimline::clinical::{OpenFlag, Urgency, assess, rules, settled, silences, spoken, wire};
use chrono::Duration;
use sha2::{Digest as _, Sha256};

use crate::generated::{self, Numbers};

const WORDS: &str = "498363b557a6e9cc";
const LINES: &str = "19d5a969b2a79968";
const BROKEN_LINES: &str = "ea440abbf432dac5";
const SETTLED: &str = "fdfd7f9d4e7dd65c";

const WORKED: &str = include_str!("worked_cases.jsonl");

fn digest(texts: impl Iterator<Item = String>) -> String {
    let mut digest = Sha256::new();
    for text in texts {
        digest.update(text);
        digest.update(b"\n");
    }
    let bytes = digest.finalize();
    bytes.iter().take(8).fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

#[test]
fn every_word_of_every_rule_is_as_it_was() {
    let said = (0..3000).map(|seed| {
        let case = generated::case(seed);
        let judged = assess(&case);
        let mut text = spoken(&judged);
        for flag in &judged.flags {
            let _ = write!(text, "\n{} {} {}", flag.evidence, flag.advice, flag.source);
        }
        for (rule, why) in silences(&case) {
            let _ = write!(text, "\n{rule}: {why}");
        }
        text
    });
    assert_eq!(digest(said), WORDS);
}

/// The input of every worked case as its own line.
fn lines() -> impl Iterator<Item = String> {
    WORKED.lines().map(|line| {
        let mut case: serde_json::Value = serde_json::from_str(line).unwrap();
        let name = case["case"].take();
        let mut input = case["input"].take();
        input["case"] = name;
        input.to_string()
    })
}

fn answered(line: &[u8]) -> String {
    let mut answer = Vec::new();
    wire::judge_line(line, true, &mut answer);
    String::from_utf8(answer).unwrap()
}

#[test]
fn every_worked_line_is_explained_as_it_was() {
    assert_eq!(digest(lines().map(|line| answered(line.as_bytes()))), LINES);
}

#[test]
fn every_broken_line_is_answered_as_it_was() {
    const ODD: &[u8] = b"{}[],:\"\\0159-+.eEtfnu \t\r\x00\x1f\x7f\xc3\xff";
    let lines: Vec<String> = lines().collect();
    let mut n = Numbers::from(26);
    let mut place = |length: usize| usize::try_from(n.whole(0, 1 << 40)).unwrap() % length;
    let answers = (0..20_000).map(|round| {
        let mut line = lines[place(lines.len())].clone().into_bytes();
        for _ in 0..=round % 3 {
            let (at, odd) = (place(line.len()), ODD[place(ODD.len())]);
            match place(4) {
                0 => line[at] = odd,
                1 => line.insert(at, odd),
                2 => drop(line.remove(at)),
                _ => {
                    let end = (at + place(24)).min(line.len());
                    let part = line[at..end].to_vec();
                    line.splice(at..at, part);
                }
            }
        }
        answered(&line)
    });
    assert_eq!(digest(answers), BROKEN_LINES);
}

#[test]
fn every_flag_settles_as_it_did() {
    let settled = (0..3000).map(|seed| {
        let case = generated::case(seed);
        let judged = assess(&case);
        let mut text = String::new();
        for hours in [1, 60, 24 * 20] {
            let open: Vec<OpenFlag<'_>> = rules()
                .map(|rule| OpenFlag {
                    rule: rule.code,
                    urgency: Urgency::Review,
                    raised_at: case.on - Duration::hours(hours),
                })
                .collect();
            for answer in settled(&case, &judged, &open) {
                text.push(if answer { '1' } else { '0' });
            }
        }
        text
    });
    assert_eq!(digest(settled), SETTLED);
}
