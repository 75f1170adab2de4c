//! Worked cases, each with the part of the answer that it is about: every boundary of the clinical reference on its sides.
//!
//! A line of `worked_cases.jsonl` holds `case`, `input` (or a `raw` line) and `expect`: objects whose keys must be equal
//! (z within 0.01, centile within 0.1), `flags` the whole list as `rule:urgency`, `has` and `not`, `only` the flags of some
//! categories, `recheck_at`, `due`, `error` the path of a fault.

use brimline::clinical::wire;
use serde_json::{Map, Value};
use std::fmt::Write;

const CASES: &str = include_str!("worked_cases.jsonl");

#[test]
fn every_worked_case_comes_out_as_written() {
    let mut faults = String::new();
    let mut worked = 0;
    for line in CASES.lines() {
        let told: Value = serde_json::from_str(line).unwrap();
        let found = judged(&told);
        for (key, expected) in told["expect"].as_object().unwrap() {
            if let Some(fault) = compare(key, expected, &found) {
                writeln!(faults, "{}: {key}: {fault}", told["case"]).unwrap();
            }
        }
        worked += 1;
    }
    assert!(faults.is_empty(), "\n{faults}");
    assert_eq!(worked, 639);
}

fn judged(told: &Value) -> Value {
    let line = if let Some(raw) = told.get("raw") {
        raw.as_str().unwrap().to_owned()
    } else {
        let mut input = Map::new();
        input.insert("case".to_owned(), told["case"].clone());
        input.extend(told["input"].as_object().unwrap().clone());
        Value::Object(input).to_string()
    };
    let mut out = Vec::new();
    wire::judge_line(line.as_bytes(), false, &mut out);
    serde_json::from_slice(&out).unwrap()
}

/// `rule:urgency` of the flags that `keep` keeps.
fn flags(found: &Value, keep: impl Fn(&Value) -> bool) -> Vec<String> {
    let list = found["flags"].as_array().map(Vec::as_slice);
    list.unwrap_or_default()
        .iter()
        .filter(|flag| keep(flag))
        .map(|flag| format!("{}:{}", text(&flag["rule"]), text(&flag["urgency"])))
        .collect()
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

fn words(value: &Value) -> Vec<String> {
    let list = value.as_array().map(Vec::as_slice).unwrap_or_default();
    list.iter().map(|word| text(word).to_owned()).collect()
}

/// What is wrong, if anything.
fn compare(key: &str, expected: &Value, found: &Value) -> Option<String> {
    let differs = |found: &dyn std::fmt::Debug| Some(format!("{expected} but {found:?}"));
    let names =
        |flag: &String, wanted: &str| flag == wanted || flag.split(':').next() == Some(wanted);
    match key {
        "gestation" | "palpation" | "fundal_height" | "labour" => {
            let (Some(wanted), Some(got)) = (expected.as_object(), found[key].as_object()) else {
                return (*expected != found[key]).then(|| format!("{expected} but {}", found[key]));
            };
            let wrong = wanted
                .iter()
                .find(|(name, value)| !near(name, value, &got[*name]));
            wrong.map(|(name, value)| format!("{name} {value} but {}", got[name]))
        }
        "urgency" | "gestation_reason" => {
            (*expected != found[key]).then(|| format!("{expected} but {}", found[key]))
        }
        "flags" => {
            let got = flags(found, |_| true);
            if got == words(expected) {
                None
            } else {
                differs(&got)
            }
        }
        "has" | "not" => {
            let got = flags(found, |_| true);
            let there = |wanted: &String| got.iter().any(|flag| names(flag, wanted));
            let wrong = words(expected)
                .iter()
                .any(|wanted| there(wanted) != (key == "has"));
            if wrong { differs(&got) } else { None }
        }
        "only" => {
            let categories = words(&expected["categories"]);
            let got = flags(found, |flag| {
                categories.iter().any(|it| it == text(&flag["category"]))
                    || flag["rule"] == "dilatation-went-back"
            });
            if got == words(&expected["flags"]) {
                None
            } else {
                differs(&got)
            }
        }
        "recheck_at" => expected.as_object()?.iter().find_map(|(rule, at)| {
            let list = found["flags"].as_array()?;
            let got = list
                .iter()
                .find(|flag| flag["rule"] == *rule)
                .map(|flag| &flag["recheck_at"]);
            if got == Some(at) { None } else { differs(&got) }
        }),
        "due" => expected.as_object()?.iter().find_map(|(what, pair)| {
            let list = found["labour"]["due"].as_array()?;
            let got = list.iter().find(|item| item["what"] == *what);
            let same = got.is_some_and(|got| got["at"] == pair[0] && got["overdue"] == pair[1]);
            if same { None } else { differs(&got) }
        }),
        "error" => {
            let path = text(&found["error"]).split(": ").next().unwrap_or_default();
            if path == text(expected) {
                None
            } else {
                differs(&path)
            }
        }
        other => Some(format!("unknown expectation {other}")),
    }
}

fn near(name: &str, expected: &Value, found: &Value) -> bool {
    let within = |tolerance: f64| match (expected.as_f64(), found.as_f64()) {
        (Some(expected), Some(found)) => (expected - found).abs() <= tolerance,
        _ => false,
    };
    match name {
        "z" => within(0.0101),
        "centile" => within(0.101),
        _ => expected == found,
    }
}
