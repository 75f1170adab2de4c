//! Referrals: who decides, how they move, what is put right, what stands in the lists.

use brimline::clinical::{Category, Urgency};
use brimline::registry::referrals::{
    self, Closed, Decision, NewStep, advance, correct, decide, mark_error, withdraw,
};
use brimline::registry::reply_code::ReplyCode;
use brimline::registry::{
    FlagDecision, LabourEnding, ReferralEvent, ReferralId, ReferralState, RegistryError,
    StandDownReason,
};

use crate::house::{House, at, day};
use crate::sent::decision;
use crate::women::{breech, facts, person};

#[test]
fn a_nurse_refers_at_once_when_a_flag_says_now_and_the_flag_still_waits_for_the_midwife() {
    let house = House::new();
    let (pregnancy, id) = house.referred();
    let facts = house.facts(id);
    assert_eq!(facts.referral.number, "QF-2026-001");
    assert_eq!(facts.referral.urgency, Urgency::Now);
    assert_eq!(facts.reasons, [Category::Breech]);
    assert_eq!(facts.referral.first_flag_at, Some(at("2026-10-01T07:00")));
    assert!(ReplyCode::parse(&facts.referral.reply_code).is_ok());
    assert_eq!(facts.decided_by.0, "imke");
    assert_eq!(house.flag_of(pregnancy, "breech-in-labour").decision, None);
}

#[test]
fn a_nurse_does_not_decide_what_can_wait_for_the_midwife_and_the_midwife_confirms_by_deciding() {
    let house = House::new();
    let nela = house.nela();
    house.visits(nela.pregnancy, breech("2026-09-15T09:00"));
    let flag = house.flag_of(nela.pregnancy, "breech-near-term");
    let new = decision(&house, nela.pregnancy, vec![flag.id], "2026-09-15T10:00");
    let refused = house.nurse("2026-09-15T10:00", |change| decide(change, &new));
    assert!(matches!(refused, Err(RegistryError::Refused(_))));
    house
        .midwife("2026-09-15T11:00", |change| decide(change, &new))
        .unwrap();
    let confirmed = house.flag_of(nela.pregnancy, "breech-near-term");
    assert_eq!(confirmed.decision, Some(FlagDecision::Confirmed));
    let twice = house.midwife("2026-09-15T11:30", |change| decide(change, &new));
    assert!(matches!(twice, Err(RegistryError::Refused(why)) if why.contains("QF-2026-001")));
}

#[test]
fn without_a_flag_the_midwife_names_category_and_urgency_and_never_a_recheck() {
    let house = House::new();
    let ada = house.registers("2026-03-26T08:00", person("Ada Marren"), facts());
    let free = |categories: Vec<Category>, urgency| {
        let new = Decision {
            categories,
            urgency,
            ..decision(&house, ada.pregnancy, Vec::new(), "2026-06-01T09:00")
        };
        house.midwife("2026-06-01T09:00", |change| decide(change, &new))
    };
    let field = |result: Result<ReferralId, RegistryError>| match result {
        Err(RegistryError::RefusedField { field, .. }) => field,
        other => panic!("{other:?}"),
    };
    assert_eq!(field(free(vec![Category::BirthPlace], None)), "urgency");
    assert_eq!(
        field(free(vec![Category::BirthPlace], Some(Urgency::Recheck))),
        "urgency"
    );
    assert_eq!(field(free(Vec::new(), Some(Urgency::Soon))), "category");
    let id = free(vec![Category::BirthPlace], Some(Urgency::Review)).unwrap();
    assert_eq!(house.facts(id).referral.urgency, Urgency::Review);
    assert_eq!(house.facts(id).referral.first_flag_at, None);
}

#[test]
fn numbers_run_by_post_and_year_and_every_code_is_another() {
    let house = House::new();
    let ada = house.registers(
        "2025-03-26T08:00",
        person("Ada Marren"),
        brimline::registry::pregnancies::Facts::default(),
    );
    let mut numbers = Vec::new();
    let mut codes = Vec::new();
    for now in ["2025-12-31T21:59", "2025-12-31T22:00", "2026-01-05T09:00"] {
        let new = Decision {
            categories: vec![Category::UnknownDates],
            urgency: Some(Urgency::Soon),
            ..decision(&house, ada.pregnancy, Vec::new(), now)
        };
        let id = house.midwife(now, |change| decide(change, &new)).unwrap();
        let stored = house.facts(id).referral;
        numbers.push(stored.number);
        codes.push(stored.reply_code);
    }
    // The post's clock runs two hours before UTC: 22:00 there is the new year here.
    assert_eq!(numbers, ["QF-2025-001", "QF-2026-001", "QF-2026-002"]);
    codes.sort_unstable();
    codes.dedup();
    assert_eq!(codes.len(), 3);
}

#[test]
fn the_same_form_twice_is_one_referral_and_the_same_step_twice_is_one_step() {
    let house = House::new();
    let (pregnancy, flag) = house.breech_in_labour();
    let new = Decision {
        request: Some("key-9".into()),
        ..decision(&house, pregnancy, vec![flag], "2026-10-01T08:00")
    };
    let first = house
        .nurse("2026-10-01T08:00", |change| decide(change, &new))
        .unwrap();
    let again = house
        .nurse("2026-10-01T08:01", |change| decide(change, &new))
        .unwrap();
    assert_eq!(first, again);
    let left = NewStep {
        request: Some("step-1".into()),
        ..NewStep::at(ReferralEvent::Left, Some(at("2026-10-01T08:30")))
    };
    let send = |revision| {
        house.nurse("2026-10-01T08:31", |change| {
            advance(change, first, revision, &left)
        })
    };
    let one = send(1).unwrap();
    assert_eq!(
        send(1).unwrap(),
        one,
        "also from the page that was open before"
    );
    assert_eq!(house.count("referral_steps"), 2);
}

#[test]
fn she_leaves_arrives_is_seen_and_answered_and_leaving_closes_her_labour_record() {
    let house = House::new();
    let (pregnancy, id) = house.referred();
    house.moves(id, ReferralEvent::Told, "2026-10-01T08:10");
    assert_eq!(house.state(id), ReferralState::Decided);
    house.moves(id, ReferralEvent::Left, "2026-10-01T08:30");
    let labours =
        house.read(|db| brimline::registry::labours::of_pregnancy(db, house.post, pregnancy));
    assert_eq!(labours[0].closed_as, Some(LabourEnding::Referral));
    house.moves(id, ReferralEvent::Arrived, "2026-10-01T10:00");
    house.moves(id, ReferralEvent::Seen, "2026-10-01T10:20");
    assert_eq!(house.state(id), ReferralState::Seen);
    let late = house.steps(
        &house.nurse,
        id,
        "2026-10-01T11:00",
        &NewStep::at(ReferralEvent::Left, None),
    );
    assert!(
        matches!(late, Err(RegistryError::Refused(why)) if why == "This referral is already seen.")
    );
}

#[test]
fn an_arrival_straight_from_deciding_says_that_she_left_at_a_time_nobody_told() {
    let house = House::new();
    let (_, id) = house.referred();
    house.moves(id, ReferralEvent::Arrived, "2026-10-01T10:00");
    let facts = house.facts(id);
    assert_eq!(facts.step(ReferralEvent::Left).unwrap().at, None);
    assert_eq!(
        facts.step(ReferralEvent::Arrived).unwrap().at,
        Some(at("2026-10-01T10:00"))
    );
}

#[test]
fn times_out_of_order_or_in_the_future_are_refused() {
    let house = House::new();
    let (_, id) = house.referred();
    let early = house.steps(
        &house.nurse,
        id,
        "2026-10-01T09:00",
        &NewStep::at(ReferralEvent::Left, Some(at("2026-10-01T07:59"))),
    );
    assert!(matches!(
        early,
        Err(RegistryError::RefusedField {
            field: "at_date",
            ..
        })
    ));
    let ahead = house.steps(
        &house.nurse,
        id,
        "2026-10-01T09:00",
        &NewStep::at(ReferralEvent::Left, Some(at("2026-10-01T09:06"))),
    );
    assert!(matches!(
        ahead,
        Err(RegistryError::RefusedField {
            field: "at_date",
            ..
        })
    ));
    assert_eq!(house.count("referral_steps"), 1, "nothing half-written");
}

#[test]
fn a_page_that_grew_old_is_told_so() {
    let house = House::new();
    let (_, id) = house.referred();
    house.moves(id, ReferralEvent::Told, "2026-10-01T08:10");
    let stale = house.nurse("2026-10-01T08:31", |change| {
        advance(
            change,
            id,
            1,
            &NewStep::at(ReferralEvent::Left, Some(at("2026-10-01T08:30"))),
        )
    });
    assert!(matches!(
        stale,
        Err(RegistryError::Stale {
            current_revision: 2
        })
    ));
}

#[test]
fn declining_needs_what_was_advised_and_standing_down_the_midwife_and_a_reason() {
    let house = House::new();
    let (_, id) = house.referred();
    let bare = NewStep::at(ReferralEvent::Declined, Some(at("2026-10-01T08:20")));
    let refused = house.steps(&house.nurse, id, "2026-10-01T08:20", &bare);
    assert!(matches!(
        refused,
        Err(RegistryError::RefusedField {
            field: "advised",
            ..
        })
    ));
    let down = NewStep {
        stand_down: Some(StandDownReason::BirthHere),
        ..NewStep::at(ReferralEvent::StoodDown, Some(at("2026-10-01T08:20")))
    };
    let refused = house.steps(&house.nurse, id, "2026-10-01T08:20", &down);
    assert!(matches!(refused, Err(RegistryError::Refused(_))));
    let unreasoned = NewStep {
        stand_down: None,
        ..down.clone()
    };
    let refused = house.steps(&house.midwife, id, "2026-10-01T08:20", &unreasoned);
    assert!(matches!(
        refused,
        Err(RegistryError::RefusedField {
            field: "stand_down",
            ..
        })
    ));
    house
        .steps(&house.midwife, id, "2026-10-01T08:20", &down)
        .unwrap();
    assert_eq!(house.state(id), ReferralState::StoodDown);
}

#[test]
fn news_after_closing_come_as_a_correction_and_the_old_step_stays_readable() {
    let house = House::new();
    let (_, id) = house.referred();
    let declined = NewStep {
        advised: Some("Signs to come at once".into()),
        ..NewStep::at(ReferralEvent::Declined, Some(at("2026-10-01T08:20")))
    };
    house
        .steps(&house.nurse, id, "2026-10-01T08:20", &declined)
        .unwrap();
    let facts = house.facts(id);
    let old = facts.step(ReferralEvent::Declined).unwrap().id;
    let went = NewStep::at(ReferralEvent::Left, Some(at("2026-10-01T11:00")));
    let put_right = |why: &str| {
        house.nurse("2026-10-01T12:00", |change| {
            correct(change, id, facts.referral.revision, old, &went, why)
        })
    };
    assert!(matches!(
        put_right(""),
        Err(RegistryError::RefusedField {
            field: "correction",
            ..
        })
    ));
    put_right("she changed her mind").unwrap();
    assert_eq!(house.state(id), ReferralState::Left);
    let steps = house.facts(id).steps;
    let stored = steps.iter().find(|(step, _)| step.id == old).unwrap();
    assert!(stored.0.replaced_by.is_some() && stored.0.advised.is_some());
}

#[test]
fn a_step_that_never_happened_is_taken_out_but_never_the_decision() {
    let house = House::new();
    let (_, id) = house.referred();
    house.moves(id, ReferralEvent::Arrived, "2026-10-01T10:00");
    let facts = house.facts(id);
    let arrived = facts.step(ReferralEvent::Arrived).unwrap().id;
    let decided = facts.step(ReferralEvent::Decided).unwrap().id;
    let revision = facts.referral.revision;
    let out = |step| {
        house.nurse("2026-10-01T10:30", |change| {
            withdraw(change, id, revision, step, "another woman")
        })
    };
    assert!(matches!(out(decided), Err(RegistryError::Refused(_))));
    out(arrived).unwrap();
    assert_eq!(house.state(id), ReferralState::Left);
}

#[test]
fn refer_now_waits_on_top_and_what_is_closed_or_in_error_waits_no_more() {
    let house = House::new();
    let (_, now) = house.referred();
    let booked = |name: &str, decided: &str| {
        let her = house.registers("2026-03-26T08:00", person(name), facts());
        let new = Decision {
            categories: vec![Category::BirthPlace],
            urgency: Some(Urgency::Soon),
            planned_for: Some(day("2026-10-20")),
            ..decision(&house, her.pregnancy, Vec::new(), decided)
        };
        house
            .midwife(decided, |change| decide(change, &new))
            .unwrap()
    };
    let second = booked("Ada Marren", "2026-09-20T09:00");
    let third = booked("Bea Marren", "2026-09-21T09:00");
    let list = |when: &str| house.read(|db| referrals::waiting(db, house.post, at(when), None, 50));
    let order = |when| {
        list(when)
            .lines
            .iter()
            .map(|line| line.referral.id)
            .collect::<Vec<_>>()
    };
    assert_eq!(order("2026-10-01T08:05")[0], now);
    assert_eq!(list("2026-10-01T08:05").late, 0);
    // Two times 90 minutes after deciding (clinical reference 8.1).
    assert_eq!(list("2026-10-01T11:00").late, 1);
    assert_eq!(list("2026-10-01T10:59").late, 0);
    let page = house.read(|db| referrals::waiting(db, house.post, at("2026-10-01T11:00"), None, 2));
    assert_eq!((page.lines.len(), page.count), (2, 3));
    let rest =
        house.read(|db| referrals::waiting(db, house.post, at("2026-10-01T11:00"), page.more, 2));
    assert_eq!((rest.lines.len(), rest.more), (1, None));

    let wrong = house.nurse("2026-10-01T12:00", |change| {
        mark_error(change, third, 1, "wrong woman")
    });
    assert!(matches!(wrong, Err(RegistryError::Refused(_))));
    house
        .midwife("2026-10-01T12:00", |change| {
            mark_error(change, third, 1, "wrong woman")
        })
        .unwrap();
    assert_eq!(order("2026-10-01T12:00"), [now, second]);
    let all = house.read(|db| referrals::closed(db, house.post, Closed::All, None, 50));
    assert_eq!(all.len(), 3, "still readable");
}

#[test]
fn a_colleague_of_another_post_finds_no_such_referral() {
    let house = House::new();
    let (_, id) = house.referred();
    let (post, nurse) = house.other_post();
    let found = house.registry.read(|db| referrals::facts(db, post, id));
    assert!(matches!(found, Err(RegistryError::Missing("referral"))));
    let step = NewStep::at(ReferralEvent::Left, Some(at("2026-10-01T08:30")));
    let moved = house
        .registry
        .write(&nurse, at("2026-10-01T08:30"), |change| {
            advance(change, id, 1, &step)
        });
    assert!(matches!(moved, Err(RegistryError::Missing("referral"))));
}
