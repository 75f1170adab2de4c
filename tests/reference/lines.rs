//! Cases as JSON lines: what is read strictly, and what is answered in which order.

use brimline::clinical::wire;
use serde_json::Value;

/// The example of the reference.
pub(crate) const BREECH: &str = r#"{"case":"a breech at term","on":"2026-09-10T09:00:00Z","mother":{"births_before":1},"dating":{"lmp":"2026-01-01","scan_on":"2026-03-26","scan_gestation_days":84,"babies_on_scan":1},"post":{"travel_minutes":90},"visits":[{"at":"2026-09-10T09:00:00Z","palpation":{"fundus":"hard-round","left":"small-lumps","right":"long-smooth","front":"nothing","lower":"soft-irregular"},"fundal_height_cm":33.5,"fetal_hearts":[140],"systolic":118,"diastolic":76}]}"#;

fn answer(line: &str, explain: bool) -> String {
    let mut out = Vec::new();
    wire::judge_line(line.as_bytes(), explain, &mut out);
    String::from_utf8(out).unwrap()
}

/// The path before the colon, and the name of the case.
fn error(line: &str) -> (String, Value) {
    let answer: Value = serde_json::from_str(&answer(line, false)).unwrap();
    let error = answer["error"].as_str().unwrap_or_default();
    let path = error.split(": ").next().unwrap_or_default();
    (path.to_owned(), answer["case"].clone())
}

#[test]
fn every_key_is_always_there_and_in_order() {
    let answer = answer(BREECH, false);
    assert!(
        answer.starts_with(
            r#"{"case":"a breech at term","gestation":{"days":252,"text":"36w+0d","edd":"2026-10-08","basis":"lmp","suboptimal":false},"gestation_reason":null,"palpation":{"row":"P9","lie":"longitudinal","presentation":"breech","position":"RST-or-RSA","back":"right","certainty":"clear","engaged":null},"fundal_height":{"z":-0.72,"centile":23.7},"urgency":"soon","flags":[{"category":"breech","rule":"breech-near-term","urgency":"soon","evidence":""#
        ),
        "{answer}"
    );
    assert!(
        answer.ends_with(r#"}],"labour":null,"rules_version":"2026-11"}"#),
        "{answer}"
    );
}

#[test]
fn a_pair_of_surrogates_is_one_character_of_a_name() {
    let line = BREECH.replace("a breech at term", r"\ud83e\udd31 \u00e9");
    let answer: Value = serde_json::from_str(&answer(&line, false)).unwrap();
    assert_eq!(answer["case"], "\u{1f931} é");
}

#[test]
fn a_name_comes_back_as_it_was_written() {
    let name = "“a” \"b\" \\ c/d \n\r\t \u{1}\u{8}\u{c}\u{1f} é";
    let line = BREECH.replace(
        "\"a breech at term\"",
        &serde_json::to_string(name).unwrap(),
    );
    let answer: Value = serde_json::from_str(&answer(&line, false)).unwrap();
    assert_eq!(answer["case"], name);
}

#[test]
fn the_labour_block_has_its_keys_in_order() {
    let line = r#"{"case":"x","on":"2026-09-10T10:00:00Z","labour":[{"at":"2026-09-10T10:00:00Z","dilatation_cm":8}]}"#;
    let answer = answer(line, false);
    let from = answer.find(r#""labour":"#).unwrap();
    let expected = r#""labour":{"protocol":"labour-care-guide","stage":"active","highest_cm":8,"first_recorded_at":"2026-09-10T10:00:00Z","t4_at":null,"limits":[{"rule":"slow-dilatation","at":"2026-09-10T12:30:00Z"},{"rule":"active-stage-long","at":"2026-09-10T20:00:00Z"}],"limit_at":"2026-09-10T12:30:00Z","limit_rule":"slow-dilatation","arrival_at":null,"margin_minutes":null,"leave_by":null,"state":"no-travel-time","birth_near":false,"birth_on_the_way":false,"due":[{"what":"fetal-heart","at":"2026-09-10T10:00:00Z","overdue":false},"#;
    assert!(answer[from..].starts_with(expected), "{answer}");
}

#[test]
fn faults_are_named_by_their_path_and_the_case_by_its_name() {
    let on = r#""on":"2026-09-10T10:00:00Z""#;
    let at = r#""at":"2026-09-10T09:00:00Z""#;
    #[rustfmt::skip]
    let cases = [
        ("{oops".to_owned(), "line", false),
        ("[]".to_owned(), "line", false),
        ("{\"case\":\"x\\ud800\"}".to_owned(), "line", false),
        ("{\"case\":\"x\\ud83d\\u0041\"}".to_owned(), "line", false),
        ("\u{feff}{\"case\":\"x\"}".to_owned(), "line", false),
        (format!(r#"{{"case":"x",{on},}}"#), "line", false),
        (format!(r#"{{"case":"x",{on}}} 1"#), "line", false),
        (format!(r#"{{"case":"x",{on},"post":{{"travel_minutes":01}}}}"#), "line", false),
        (format!("{{{on}}}"), "case", false),
        (format!(r#"{{"case":"",{on}}}"#), "case", false),
        (format!(r#"{{"case":7,{on}}}"#), "case", false),
        (format!(r#"{{"case":"x",{on},"on":null}}"#), "on", false),
        (format!(r#"{{"case":"x",{on},"visits":[{{{at},"pulse":80,"pulse":80}}]}}"#), "pulse", false),
        (r#"{"case":"x","on":"2026-09-10T10:00:00+00:00"}"#.to_owned(), "on", true),
        (r#"{"case":"x","on":"2026-09-10T24:00:00Z"}"#.to_owned(), "on", true),
        (r#"{"case":"x","on":"2026-09-10T23:59:60Z"}"#.to_owned(), "on", true),
        (r#"{"case":"x","on":"1899-09-10T10:00:00Z"}"#.to_owned(), "on", true),
        (format!(r#"{{"case":"x",{on},"colour":1}}"#), "colour", true),
        (format!(r#"{{"case":"x",{on},"mother":{{"colour":null}}}}"#), "mother.colour", true),
        (format!(r#"{{"case":"x",{on},"mother":[]}}"#), "mother", true),
        (format!(r#"{{"case":"x",{on},"mother":{{"births_before":-0}}}}"#), "mother.births_before", true),
        (format!(r#"{{"case":"x",{on},"mother":{{"births_before":1e1}}}}"#), "mother.births_before", true),
        (format!(r#"{{"case":"x",{on},"mother":{{"births_before":26}}}}"#), "mother.births_before", true),
        (format!(r#"{{"case":"x",{on},"mother":{{"births_before":1,"previous_caesareans":2}}}}"#), "mother.previous_caesareans", true),
        (format!(r#"{{"case":"x",{on},"dating":{{"lmp":"2026-02-30"}}}}"#), "dating.lmp", true),
        (format!(r#"{{"case":"x",{on},"dating":{{"lmp":"2026-09-11"}}}}"#), "dating.lmp", true),
        (format!(r#"{{"case":"x",{on},"dating":{{"scan_on":"2026-03-01"}}}}"#), "dating.scan_on", true),
        (format!(r#"{{"case":"x",{on},"dating":{{"babies_on_scan":2}}}}"#), "dating.scan_on", true),
        (format!(r#"{{"case":"x",{on},"dating":{{"scan_on":"2026-03-01","babies_on_scan":1,"scans":[]}}}}"#), "dating.scans", true),
        (format!(r#"{{"case":"x",{on},"dating":{{"scans":[{{"on":"2026-03-01"}}]}}}}"#), "dating.scans[0]", true),
        (format!(r#"{{"case":"x",{on},"dating":{{"scans":[{{"on":"2026-03-01","edd":"2026-12-01"}}]}}}}"#), "dating.scans[0].edd", true),
        (format!(r#"{{"case":"x",{on},"visits":[null]}}"#), "visits[0]", true),
        (format!(r#"{{"case":"x",{on},"visits":[{{"pulse":80}}]}}"#), "visits[0].at", true),
        (format!(r#"{{"case":"x",{on},"visits":[{{{at},"fundal_height_cm":33.55}}]}}"#), "visits[0].fundal_height_cm", true),
        (format!(r#"{{"case":"x",{on},"visits":[{{{at},"fetal_hearts":[140,140,140,140,140]}}]}}"#), "visits[0].fetal_hearts", true),
        (format!(r#"{{"case":"x",{on},"visits":[{{{at},"danger_signs":[null]}}]}}"#), "visits[0].danger_signs[0]", true),
        (format!(r#"{{"case":"x",{on},"visits":[{{{at},"palpation":{{"lower":"unsure","fifths":3}}}}]}}"#), "visits[0].palpation.fifths", true),
        (format!(r#"{{"case":"x",{on},"visits":[{{{at},"palpation":{{"lower":"unsure","head":"fixed"}}}}]}}"#), "visits[0].palpation.head", true),
        (format!(r#"{{"case":"x",{on},"labour":[{{{at},"fetal_heart":140,"fetal_hearts":[]}}]}}"#), "labour[0].fetal_heart", true),
        (format!(r#"{{"case":"x",{on},"labour":[{{{at},"dilatation_cm":5.0}}]}}"#), "labour[0].dilatation_cm", true),
        (format!(r#"{{"case":"x",{on},"waters_broke_at":"2026-09-10T10:00:01Z"}}"#), "waters_broke_at", true),
    ];
    for (line, path, named) in cases {
        let (found, case) = error(&line);
        assert_eq!(found, path, "{line}");
        assert_eq!(
            case,
            if named { Value::from("x") } else { Value::Null },
            "{line}"
        );
    }
}

#[test]
fn null_is_absent_and_tenths_may_be_written_in_any_way() {
    let line = |height: &str| {
        format!(
            r#"{{"case":"x","on":"2026-09-10T10:00:00Z","labour_began_at":null,"mother":null,"dating":{{"lmp":null,"scans":null}},"visits":[{{"at":"2026-09-10T09:00:00Z","palpation":{{}},"pulse":null,"fundal_height_cm":{height}}}],"labour":[]}}"#
        )
    };
    let read = |height: &str| wire::read_case(line(height).as_bytes()).unwrap().case;
    for height in ["38", "38.0", "38.00", "3.8e1", "380e-1"] {
        assert_eq!(
            read(height).visits[0].fundal_height_tenths,
            Some(380),
            "{height}"
        );
    }
    assert_eq!(read("null").visits[0].palpation, None);
}

#[test]
fn explain_names_every_rule_in_order_and_says_why_it_is_silent() {
    let answer: Value = serde_json::from_str(&answer(BREECH, true)).unwrap();
    let explained = answer["explain"]["rules"].as_array().unwrap();
    let codes: Vec<&str> = explained
        .iter()
        .map(|it| it["rule"].as_str().unwrap())
        .collect();
    let table: Vec<&str> = brimline::clinical::rules().map(|rule| rule.code).collect();
    assert_eq!(codes, table);
    let because = |code: &str| {
        let at = table.iter().position(|other| *other == code).unwrap();
        explained[at]["because"].as_str().unwrap().to_owned()
    };
    assert_eq!(
        because("lie-in-labour"),
        "not raised: the lie is longitudinal, not transverse or oblique"
    );
    assert_eq!(
        because("breech-early"),
        "not raised: g 252 (36w+0d) is not below 252 (36w+0d)"
    );
    assert_eq!(
        because("past-41"),
        "not raised: G 252 (36w+0d) is below 287 (41w+0d)"
    );
    assert!(because("breech-near-term").starts_with("raised, soon: Breech first at 36w+0d"));
    let raised: Vec<_> = explained.iter().filter(|it| it["raised"] == true).collect();
    assert_eq!(raised.len(), answer["flags"].as_array().unwrap().len());
    let mut terms: Vec<&str> = "on_day v_at g G in_labour labour_from waters_broken waters_from B near mid felt_age late tape \
        median sd z lie presentation from twins_strong twins_suggestive growth dmax act_at T4 heart_run_from"
        .split_whitespace()
        .collect();
    terms.sort_unstable();
    let told: Vec<&String> = answer["explain"]["terms"]
        .as_object()
        .unwrap()
        .keys()
        .collect();
    assert_eq!(told, terms);
}

#[test]
fn lines_are_answered_in_order_and_blank_ones_not_at_all() {
    let told = format!("\n{BREECH}\r\n \t\r\nno case\n{BREECH}");
    let mut out = Vec::new();
    let refused = wire::judge_lines(told.as_bytes(), &mut out, false).unwrap();
    assert_eq!(refused, 1);
    let lines: Vec<Value> = out
        .split(|byte| *byte == b'\n')
        .filter(|line| !line.is_empty())
        .map(|line| serde_json::from_slice(line).unwrap())
        .collect();
    assert_eq!(lines.len(), 3);
    assert_eq!(lines[0], lines[2]);
    assert_eq!(lines[1]["case"], Value::Null);
}

#[test]
fn nesting_is_read_down_to_128_and_no_deeper() {
    let nested = |open: &str, close: &str, times: usize| {
        let (open, close) = (open.repeat(times), close.repeat(times));
        error(&format!(
            r#"{{"case":"x","on":"2026-09-10T10:00:00Z","odd":{open}0{close}}}"#
        ))
        .0
    };
    for (open, close) in [("[", "]"), (r#"{"k":"#, "}"), (r#"[0,{"k":"#, "}]")] {
        let each = open.matches(['[', '{']).count();
        assert_eq!(nested(open, close, 127 / each), "odd");
        assert_eq!(nested(open, close, 128 / each), "line");
        assert_eq!(nested(open, close, 100_000), "line");
    }
}

#[test]
fn a_line_that_is_far_too_long_is_refused_and_the_next_one_read() {
    let mut told = vec![b'x'; 5 * 1024 * 1024];
    told.push(b'\n');
    told.extend_from_slice(BREECH.as_bytes());
    let mut out = Vec::new();
    let refused = wire::judge_lines(&told[..], &mut out, false).unwrap();
    assert_eq!(refused, 1);
    assert_eq!(
        out.split(|byte| *byte == b'\n').count(),
        3,
        "two answers, each with its line feed"
    );
}
