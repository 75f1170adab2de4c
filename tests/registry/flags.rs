//! The life of a flag: raised, raised again, reviewed, settled.

use brimline::clinical::{PalpationFindings, RULES_VERSION, Urgency};
use brimline::registry::flags::{self, After, Flag, decide, reconsider};
use brimline::registry::visits::{Findings, amend};
use brimline::registry::{FlagClosing, FlagDecision, FlagId, PregnancyId, RegistryError, judging};

use crate::house::{House, at};
use crate::women::{breech, facts, felt, head_below, person};

fn pressure(now: &str, systolic: u16, diastolic: u16) -> Findings {
    let mut findings = head_below(now);
    (findings.visit.systolic, findings.visit.diastolic) = (Some(systolic), Some(diastolic));
    findings
}

impl House {
    #[track_caller]
    fn flag(&self, pregnancy: PregnancyId, rule: &str) -> Flag {
        let all = self.read(|db| flags::of_pregnancy(db, pregnancy));
        all.into_iter()
            .rfind(|flag| flag.rule == rule)
            .unwrap_or_else(|| panic!("no flag {rule}"))
    }

    fn decides(&self, now: &str, flag: &Flag, decision: FlagDecision) -> Result<(), RegistryError> {
        self.midwife(now, |change| {
            decide(change, flag.id, flag.revision, decision, "felt it myself")
        })
    }
}

#[test]
fn a_flag_that_is_raised_again_while_it_stands_is_the_same_flag() {
    let house = House::new();
    let nela = house.nela();
    house.visits(nela.pregnancy, pressure("2026-09-10T09:00", 144, 92));
    let first = house.flag(nela.pregnancy, "pressure-raised");
    house.visits(nela.pregnancy, pressure("2026-09-10T09:30", 146, 92));
    let second = house.flag(nela.pregnancy, "pressure-raised");
    assert_eq!((first.id, first.raised_at), (second.id, second.raised_at));
    assert_ne!(first.evidence, second.evidence);
    assert_eq!(second.last_raised_at, at("2026-09-10T09:30"));
    assert_eq!(second.revision, first.revision + 1);
}

#[test]
fn each_visit_keeps_what_it_raised_in_its_own_words() {
    let house = House::new();
    let nela = house.nela();
    let raised = |visit| {
        let raised = house.read(|db| flags::by_visit(db, visit));
        let words = raised.into_iter().map(|(said, flag)| {
            assert_eq!(said.rules_version, RULES_VERSION);
            format!("{} {}: {}", flag.rule, said.urgency.code(), said.evidence)
        });
        words.collect::<Vec<_>>().join("\n")
    };
    let first = house.visits(nela.pregnancy, pressure("2026-09-10T09:00", 144, 92));
    let second = house.visits(nela.pregnancy, pressure("2026-09-10T09:30", 146, 92));
    let late = house.visits(nela.pregnancy, pressure("2026-09-10T09:15", 145, 92));
    let quiet = house.visits(nela.pregnancy, pressure("2026-09-10T09:45", 120, 80));
    for (visit, systolic) in [(first, "144/92"), (second, "146/92"), (late, "145/92")] {
        let words = raised(visit);
        assert!(
            words.starts_with("pressure-raised review") && words.contains(systolic),
            "{words}"
        );
        assert_eq!(words.lines().count(), 1, "{words}");
    }
    assert_eq!(raised(quiet), "");
    house
        .nurse("2026-09-10T10:00", |change| {
            amend(
                change,
                first,
                1,
                &pressure("2026-09-10T09:00", 118, 76),
                "misread",
            )
        })
        .unwrap();
    assert_eq!(raised(first), "", "its standing revision raises nothing");
    assert!(raised(second).contains("146/92"));
}

#[test]
fn what_answers_the_question_settles_it_and_an_empty_visit_does_not() {
    let house = House::new();
    let nela = house.nela();
    house.visits(nela.pregnancy, breech("2026-09-10T09:00"));
    house.visits(nela.pregnancy, Findings::at(at("2026-09-12T09:00")));
    assert!(
        house.flag(nela.pregnancy, "breech-near-term").stands(),
        "not examined is no answer"
    );
    let later = house.visits(nela.pregnancy, head_below("2026-09-14T09:00"));
    let settled = house.flag(nela.pregnancy, "breech-near-term");
    assert_eq!(settled.closing, Some(FlagClosing::Settled));
    assert_eq!(
        (settled.closed_at, settled.closed_by_visit),
        (Some(at("2026-09-14T09:00")), Some(later))
    );
}

#[test]
fn who_was_once_in_danger_is_not_taken_off_the_list_by_one_better_number() {
    let house = House::new();
    let nela = house.nela();
    house.visits(nela.pregnancy, pressure("2026-09-10T09:00", 166, 112));
    house.visits(nela.pregnancy, pressure("2026-09-10T12:00", 120, 78));
    let flag = house.flag(nela.pregnancy, "pressure-severe");
    assert!(flag.stands());
    assert_eq!(flag.highest, Urgency::Now);
    assert!(house.read(|db| flags::now_standing(db, nela.pregnancy)));
}

#[test]
fn a_dismissed_flag_comes_back_only_by_a_later_visit() {
    let house = House::new();
    let nela = house.nela();
    house.visits(nela.pregnancy, breech("2026-09-10T09:00"));
    let flag = house.flag(nela.pregnancy, "breech-near-term");
    house
        .decides("2026-09-10T10:00", &flag, FlagDecision::Dismissed)
        .unwrap();
    let dismissed = house.flag(nela.pregnancy, "breech-near-term");
    assert_eq!(
        (dismissed.closing, dismissed.decision),
        (Some(FlagClosing::Dismissed), Some(FlagDecision::Dismissed))
    );
    // An entry that came late, and facts that changed, are no later visit.
    house
        .nurse("2026-09-10T11:00", |change| {
            judging::assess_pregnancy(
                change,
                nela.pregnancy,
                at("2026-09-10T11:00"),
                judging::RaisedBy::default(),
            )?;
            change.tell("judged", "test", "", "")
        })
        .unwrap();
    assert!(!house.flag(nela.pregnancy, "breech-near-term").stands());
    house.visits(nela.pregnancy, breech("2026-09-17T09:00"));
    let again = house.flag(nela.pregnancy, "breech-near-term");
    assert!(again.stands() && again.id != flag.id);
}

#[test]
fn a_rule_that_asks_once_asks_once_in_a_pregnancy() {
    let house = House::new();
    let mut told = facts();
    told.history = vec![brimline::clinical::PastEvent::Stillbirth];
    let woman = house.registers("2026-03-26T08:00", person("Hanneke Dumaye"), told);
    let flag = house.flag(woman.pregnancy, "place-stillbirth");
    house.visits(woman.pregnancy, head_below("2026-09-10T09:00"));
    assert_eq!(house.flag(woman.pregnancy, "place-stillbirth").id, flag.id);
    let flag = house.flag(woman.pregnancy, "place-stillbirth");
    house
        .decides("2026-09-10T10:00", &flag, FlagDecision::Dismissed)
        .unwrap();
    house.visits(woman.pregnancy, head_below("2026-09-17T09:00"));
    assert!(!house.flag(woman.pregnancy, "place-stillbirth").stands());
}

#[test]
fn a_confirmed_flag_that_becomes_more_urgent_waits_for_the_midwife_again() {
    let house = House::new();
    let mut told = facts();
    told.previous_caesareans = Some(1);
    let woman = house.registers("2026-03-26T08:00", person("Wiep Sunderval"), told);
    let flag = house.flag(woman.pregnancy, "previous-caesarean");
    assert_eq!(flag.urgency, Urgency::Review);
    house
        .decides("2026-03-27T10:00", &flag, FlagDecision::Confirmed)
        .unwrap();
    let confirmed = house.flag(woman.pregnancy, "previous-caesarean");
    assert!(confirmed.stands() && !confirmed.waits());
    house.visits(woman.pregnancy, head_below("2026-09-10T09:00"));
    let urgent = house.flag(woman.pregnancy, "previous-caesarean");
    assert_eq!((urgent.id, urgent.urgency), (flag.id, Urgency::Soon));
    assert!(urgent.waits(), "what she confirmed was less urgent");
}

#[test]
fn only_the_midwife_decides_with_a_reason_on_what_she_saw() {
    let house = House::new();
    let nela = house.nela();
    house.visits(nela.pregnancy, breech("2026-09-10T09:00"));
    let flag = house.flag(nela.pregnancy, "breech-near-term");
    let by_nurse = house.nurse("2026-09-10T10:00", |change| {
        decide(change, flag.id, 1, FlagDecision::Dismissed, "no")
    });
    assert!(matches!(by_nurse, Err(RegistryError::Refused(_))));
    let decided = |revision, reason: &str| {
        house.midwife("2026-09-10T10:00", |change| {
            decide(change, flag.id, revision, FlagDecision::Confirmed, reason)
        })
    };
    assert!(matches!(
        decided(1, "  "),
        Err(RegistryError::RefusedField {
            field: "reason",
            ..
        })
    ));
    assert!(matches!(
        decided(7, "seen"),
        Err(RegistryError::Stale {
            current_revision: 1
        })
    ));
    decided(1, "seen").unwrap();
    assert!(matches!(
        decided(2, "again"),
        Err(RegistryError::Refused(_))
    ));
    house
        .midwife("2026-09-10T10:05", |change| reconsider(change, flag.id, 2))
        .unwrap();
    assert!(house.flag(nela.pregnancy, "breech-near-term").waits());
    let nobody = house.midwife("2026-09-10T10:00", |change| {
        decide(
            change,
            FlagId::made(at("2026-09-10T10:00")),
            1,
            FlagDecision::Confirmed,
            "x",
        )
    });
    assert!(matches!(nobody, Err(RegistryError::Missing("flag"))));
}

#[test]
fn the_list_goes_by_urgency_then_age_and_pages_by_key() {
    let house = House::new();
    let wave = |name: &str, now: &str, findings: &dyn Fn(&str) -> Findings| {
        let woman = house.registers("2026-03-26T08:00", person(name), facts());
        house.visits(woman.pregnancy, findings(now));
    };
    wave("Review", "2026-09-12T09:00", &|now| pressure(now, 144, 92));
    wave("Soon late", "2026-09-14T09:00", &breech);
    wave("Soon early", "2026-09-11T09:00", &breech);
    wave("Now", "2026-09-15T09:00", &|now| pressure(now, 166, 112));
    let (mut after, mut names) = (None, Vec::new());
    loop {
        let page = house.read(|db| flags::waiting(db, house.post, after.as_ref(), 1));
        let Some(line) = page.first() else { break };
        names.push(line.mother.clone());
        after = Some(After {
            urgency: line.flag.urgency,
            raised_at: line.flag.raised_at,
            id: line.flag.id,
        });
    }
    assert_eq!(names, ["Now", "Soon early", "Soon late", "Review"]);
    assert_eq!(
        house.read(|db| flags::waiting_count(db, house.post)),
        [1, 2, 1]
    );
    let whole = house.read(|db| flags::waiting(db, house.post, None, 50));
    assert_eq!(whole.len(), 4);
    assert_eq!(whole[0].raised_by.as_deref(), Some("imke"));
}

#[test]
fn a_breech_at_34_weeks_is_checked_again_at_36() {
    let house = House::new();
    let nela = house.nela();
    house.visits(nela.pregnancy, breech("2026-08-27T09:00"));
    let due = |until: &str| {
        house
            .read(|db| flags::check_again(db, house.post, at(until)))
            .len()
    };
    assert_eq!(due("2026-09-10T00:00"), 0);
    assert_eq!(due("2026-09-10T00:01"), 1, "36w+0d is 10 September");
    assert_eq!(
        house.read(|db| flags::waiting_count(db, house.post)),
        [0, 0, 0],
        "a recheck waits for its day"
    );
    house.visits(nela.pregnancy, breech("2026-09-10T09:00"));
    assert_eq!(
        due("2026-09-11T00:00"),
        0,
        "the flag for the referral asks for more"
    );
}

#[test]
fn an_entry_that_came_late_does_not_overwrite_what_is_known_since() {
    let house = House::new();
    let nela = house.nela();
    house.visits(nela.pregnancy, head_below("2026-09-14T09:00"));
    let late = brimline::registry::visits::NewVisit {
        pregnancy: nela.pregnancy,
        findings: breech("2026-09-10T09:00"),
        request_key: None,
    };
    house
        .nurse("2026-09-14T10:00", |change| {
            brimline::registry::visits::record(change, &late)
        })
        .unwrap();
    let flag = house.flag(nela.pregnancy, "breech-near-term");
    assert_eq!(flag.raised_at, at("2026-09-10T09:00"));
    assert_eq!(
        flag.closing,
        Some(FlagClosing::Settled),
        "four days later the head was below"
    );
}

#[test]
fn a_flag_knows_the_findings_of_a_whole_pregnancy() {
    let house = House::new();
    let nela = house.nela();
    let mut across = felt("2026-09-10T09:00", brimline::clinical::Pole::Empty);
    across.visit.palpation = Some(PalpationFindings {
        fundus: Some(brimline::clinical::Pole::Empty),
        left: Some(brimline::clinical::Side::HardRound),
        right: Some(brimline::clinical::Side::SoftIrregular),
        lower: Some(brimline::clinical::Pole::Empty),
        ..PalpationFindings::default()
    });
    house.visits(nela.pregnancy, across);
    assert_eq!(
        house.flag(nela.pregnancy, "lie-near-term").urgency,
        Urgency::Soon
    );
    house.visits(nela.pregnancy, head_below("2026-09-12T09:00"));
    assert!(
        house.flag(nela.pregnancy, "lie-near-term").stands(),
        "two lengthwise visits in a row are needed"
    );
    assert!(house.flag(nela.pregnancy, "lie-unstable").stands());
}
