//! The table of rules: complete, in order, and each rule turning at its own boundary.

mod facts;
mod numbers;

use brimline::clinical::{
    BIRTH_NEAR, Category, Edge, Mark, Rule, Settling, Urgency, assess, caution, rule, rules,
    silences, urgency_of,
};
use facts::{days_on, has};
use numbers::{Limit, Number, limits, numbers};
use std::collections::BTreeSet;
use std::fmt::Write as _;

#[test]
fn every_rule_turns_at_its_own_boundary() {
    let mut faults = Vec::new();
    for rule in rules() {
        for edge in rule.edges {
            let (just, not_quite) = ((edge.just)(), (edge.not_quite)());
            if urgency_of(rule, &just) != Some(edge.urgency) {
                faults.push(format!(
                    "{}: “{}” gives {:?}, not {:?}",
                    rule.code,
                    edge.just_words,
                    urgency_of(rule, &just),
                    edge.urgency
                ));
            }
            if urgency_of(rule, &not_quite) == Some(edge.urgency) {
                faults.push(format!(
                    "{}: “{}” raises {:?} already",
                    rule.code, edge.not_quite_words, edge.urgency
                ));
            }
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn every_urgency_of_every_rule_has_an_edge_and_no_other_has() {
    for rule in rules() {
        let named: BTreeSet<Urgency> = rule.urgencies.iter().copied().collect();
        let edged: BTreeSet<Urgency> = rule.edges.iter().map(|edge| edge.urgency).collect();
        assert_eq!(named, edged, "{}", rule.code);
        assert!(
            rule.urgencies.windows(2).all(|pair| pair[0] < pair[1]),
            "{}: the highest urgency stands first",
            rule.code
        );
    }
}

#[test]
fn the_table_holds_95_rules_in_19_categories_each_with_words_and_sources() {
    let mut codes = BTreeSet::new();
    let mut categories: Vec<Category> = Vec::new();
    for rule in rules() {
        assert!(codes.insert(rule.code), "{} stands twice", rule.code);
        if categories.last() != Some(&rule.category) {
            categories.push(rule.category);
        }
        for (what, words) in [
            ("title", rule.title),
            ("when", rule.when),
            ("advice", rule.advice),
        ] {
            assert!(!words.is_empty(), "{}: no {what}", rule.code);
        }
        assert!(rule.when.ends_with('.'), "{}: {}", rule.code, rule.when);
        assert!(!rule.sources.is_empty(), "{}: no source", rule.code);
    }
    assert_eq!(codes.len(), 95);
    assert_eq!(categories, Category::ALL, "in the order of the reference");
    assert!(rules().all(|one| rule(one.code).is_some_and(|found| found.code == one.code)));
    assert!(rule("no-such-rule").is_none());
}

/// Rule and the letter of what settles it, as part 5 of the clinical reference has them; `-` is the midwife.
const SETTLED_BY: &str = include_str!("settled_by.csv");

#[test]
fn every_rule_is_settled_by_what_the_reference_says() {
    let told: Vec<(&str, &str)> = SETTLED_BY
        .lines()
        .skip(1)
        .filter_map(|line| line.split_once(','))
        .collect();
    assert_eq!(told.len(), rules().count());
    for (code, by) in told {
        let rule = rule(code).unwrap_or_else(|| panic!("no rule {code}"));
        assert_eq!(letter(rule.settles), by, "{code}");
    }
}

/// Rule and the numbers of its advice lines, as part 5 of the clinical reference has them; the words of line 41 are of this
/// project, since the reference's line for a cord at risk contradicts the one for broken waters beside it.
const ADVICE_OF_RULES: &str = include_str!("advice_of_rules.csv");
const ADVICE_LINES: &str = include_str!("advice_lines.tsv");

#[test]
fn every_rule_advises_what_the_reference_says_and_nothing_else() {
    let line = |number: &str| {
        let mut lines = ADVICE_LINES.lines().filter_map(|it| it.split_once('\t'));
        let found = lines.find(|(known, _)| *known == number);
        found.map(|(_, line)| line)
    };
    let mut told = 0;
    for row in ADVICE_OF_RULES.lines().skip(1) {
        let [code, first, other] = row.split(',').collect::<Vec<_>>()[..] else {
            panic!("{row}");
        };
        let rule = rule(code).unwrap_or_else(|| panic!("no rule {code}"));
        assert_eq!(Some(rule.advice), line(first), "{code}");
        assert_eq!(rule.other_advice.map(|(_, it)| it), line(other), "{code}");
        let mut said: Vec<String> = Vec::new();
        for edge in rule.edges {
            let judged = assess(&(edge.just)());
            let flag = judged.flags.iter().find(|flag| flag.rule == code).unwrap();
            let near = judged.labour.is_some_and(|labour| labour.birth_near);
            assert_eq!(
                flag.advice.contains(BIRTH_NEAR),
                near && flag.urgency == Urgency::Now,
                "{code}: {}",
                edge.just_words
            );
            said.push(flag.advice.replace(&format!(" {BIRTH_NEAR}"), ""));
        }
        for (line, named) in [(Some(rule.advice), first), (line(other), other)] {
            let Some(line) = line else { continue };
            let whole = format!("{line} {}", caution());
            assert!(said.contains(&whole), "{code}: line {named} is never said");
            said.retain(|it| *it != whole);
        }
        assert!(said.is_empty(), "{code}: {said:?}");
        told += 1;
    }
    assert_eq!(told, rules().count());
}

fn letter(settles: Settling) -> &'static str {
    match settles {
        Settling::Never => "-",
        Settling::Lie => "a",
        Settling::Vertex => "b",
        Settling::HeadBelow => "c",
        Settling::Tape => "d",
        Settling::TapeAfterTwoWeeks => "e",
        Settling::ActiveStage => "f",
        Settling::Fifths => "g",
        Settling::Moulding => "h",
        Settling::Contractions => "i",
        Settling::Front => "j",
        Settling::SameFigure => "k",
        Settling::BothPressures => "l",
        Settling::Urine => "m",
        Settling::HeartCount => "n",
        Settling::LabourBegins => "o",
        Settling::NoCord => "p",
        Settling::Findings => "q",
        Settling::Dilatation => "r",
        Settling::Gestation => "s",
    }
}

/// The evidence of every case of the table, as a nurse reads it. Whoever changes a word reads the whole list:
/// `INSTA_UPDATE=always cargo test --test reference words`, then look at what git says has changed.
#[test]
fn every_case_is_told_in_the_words_that_were_read() {
    let mut said = String::new();
    for rule in rules() {
        for edge in rule.edges {
            let judged = assess(&(edge.just)());
            for flag in judged.flags.iter().filter(|flag| flag.rule == rule.code) {
                let again = flag
                    .recheck_at
                    .map_or_else(String::new, |at| format!(" Again {at}."));
                let _ = writeln!(
                    said,
                    "{}, {}: {}{again}",
                    rule.code,
                    flag.urgency.code(),
                    flag.evidence
                );
            }
        }
    }
    insta::assert_snapshot!("evidence", said);
}

/// And why the rule keeps silent in the case beside it.
#[test]
fn every_silent_rule_says_why_in_the_words_that_were_read() {
    let mut said = String::new();
    for rule in rules() {
        for edge in rule.edges {
            let case = (edge.not_quite)();
            let silent = silences(&case).into_iter();
            let silent = silent.into_iter().find(|(code, _)| *code == rule.code);
            let silent = silent.map_or_else(
                || {
                    let urgency = urgency_of(rule, &case).map(Urgency::code);
                    format!("raised, {}", urgency.unwrap_or_default())
                },
                |(_, why)| why,
            );
            let _ = writeln!(said, "{}: {}: {silent}", rule.code, edge.not_quite_words);
        }
    }
    insta::assert_snapshot!("silence", said);
}

#[test]
fn a_rule_that_asks_about_another_is_judged_after_it() {
    for one in rules() {
        let mut behind: Vec<&str> = one.after.to_vec();
        let mut seen = BTreeSet::new();
        while let Some(code) = behind.pop() {
            assert_ne!(code, one.code, "{} waits for itself", one.code);
            let other = rule(code).unwrap_or_else(|| panic!("{}: no rule {code}", one.code));
            if seen.insert(code) {
                behind.extend(other.after);
            }
        }
    }
}

#[test]
fn every_flag_ends_with_the_caution_and_names_its_source_with_a_mark() {
    let marks = [
        "read in the source",
        "from memory of the source",
        "common practice",
        "our own choice",
    ];
    for rule in rules() {
        for edge in rule.edges {
            let judged = assess(&(edge.just)());
            let flag = judged
                .flags
                .iter()
                .find(|flag| flag.rule == rule.code)
                .unwrap_or_else(|| panic!("{}: {}", rule.code, edge.just_words));
            assert!(flag.advice.ends_with(caution()), "{}", rule.code);
            assert!(
                marks.iter().any(|mark| flag.source.contains(mark)),
                "{}: {}",
                rule.code,
                flag.source
            );
            assert_eq!(
                flag.recheck_at.is_some(),
                flag.urgency == Urgency::Recheck,
                "{}",
                rule.code
            );
            assert!(
                flag.evidence.ends_with('.'),
                "{}: {}",
                rule.code,
                flag.evidence
            );
        }
    }
    assert!(rules().any(|rule| rule.sources.iter().any(|it| it.mark == Mark::Practice)));
}

#[test]
fn every_number_of_a_rule_is_the_boundary_of_one_of_its_cases() {
    let mut faults = Vec::new();
    for rule in rules() {
        for text in [rule.title, rule.when] {
            for limit in limits(text) {
                if !is_shown(rule, limit) {
                    faults.push(format!("{}: {limit:?} of “{text}”", rule.code));
                }
            }
        }
    }
    assert!(
        faults.is_empty(),
        "no two cases of the rule turn at these numbers:\n{}",
        faults.join("\n")
    );
}

/// Two cases of the rule differ in the number, and it stands on the side that the text says; or it is when to look again.
fn is_shown(rule: &Rule, limit: Limit) -> bool {
    let told = |words| {
        let means = |other: &&Number| limit.number.is_said_by(**other);
        numbers(words).iter().filter(means).count()
    };
    rule.edges.iter().any(|edge| {
        let (just, not_quite) = (told(edge.just_words), told(edge.not_quite_words));
        let turns = match (limit.number, limit.strict) {
            // Above, below and between centiles: only the cases tell the side.
            (Number::Centile(_), _) => just != not_quite,
            (_, true) => just < not_quite,
            (_, false) => just > not_quite,
        };
        turns || asked_again(rule, edge, limit.number)
    })
}

#[test]
fn the_words_of_an_edge_name_no_number_that_its_case_does_not_have() {
    let mut faults = Vec::new();
    for rule in rules() {
        for edge in rule.edges {
            for (words, case) in [
                (edge.just_words, (edge.just)()),
                (edge.not_quite_words, (edge.not_quite)()),
            ] {
                for number in numbers(words) {
                    if !has(&case, number) {
                        faults.push(format!("{}: {number:?} of “{words}”", rule.code));
                    }
                }
            }
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn two_cases_in_the_same_words_lie_one_step_apart() {
    let mut faults = Vec::new();
    for rule in rules() {
        for edge in rule.edges {
            let (just, not_quite) = (edge.just_words, edge.not_quite_words);
            if without_figures(just) != without_figures(not_quite) {
                continue;
            }
            let pairs = numbers(just).into_iter().zip(numbers(not_quite));
            let mut apart = pairs.filter(|(one, other)| one != other && !is_centile(*one));
            if !apart.all(|(one, other)| one.is_one_step_from(other)) {
                faults.push(format!("{}: “{just}” and “{not_quite}”", rule.code));
            }
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

fn without_figures(words: &str) -> String {
    words.chars().filter(|it| !it.is_ascii_digit()).collect()
}

/// It follows the tape.
fn is_centile(number: Number) -> bool {
    matches!(number, Number::Figure(_, "centile"))
}

/// The number says when a case of the rule is looked at again, and it is.
fn asked_again(rule: &Rule, edge: &Edge, number: Number) -> bool {
    let case = (edge.just)();
    let judged = assess(&case);
    let flag = judged.flags.iter().find(|flag| flag.rule == rule.code);
    let Some(again) = flag.and_then(|flag| flag.recheck_at) else {
        return false;
    };
    match number {
        Number::Span(seconds) => (again - case.on).num_seconds() == seconds,
        Number::Gestation(days) => days_on(&case, again.date()) == Some(days),
        _ => false,
    }
}
