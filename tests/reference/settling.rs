//! When an open flag is over.

use crate::telling::{across, breech, head_below, moment, row, usual, visit};
use brimline::clinical::{
    Case, DangerSign, FeltInside, HeightMethod, Moment, Occiput, OpenFlag, PalpationFindings, Pole,
    Urgency, Visit, assess, settled,
};
use chrono::Duration;

fn now() -> Moment {
    moment("2026-09-10T09:00")
}

/// Whether the record at `case.on` settles a flag of a week before.
fn settles(rule: &str, urgency: Urgency, case: &Case) -> bool {
    settles_since(rule, urgency, case.on - Duration::days(7), case)
}

fn settles_since(rule: &str, urgency: Urgency, raised_at: Moment, case: &Case) -> bool {
    let open = [OpenFlag {
        rule,
        urgency,
        raised_at,
    }];
    settled(case, &assess(case), &open) == [true]
}

fn at_37_weeks(change: impl FnOnce(&mut Visit)) -> Case {
    let mut case = usual(now(), 259);
    case.visits.push(visit(now(), change));
    case
}

fn felt(hands: PalpationFindings) -> Case {
    at_37_weeks(|visit| visit.palpation = Some(hands))
}

#[test]
fn a_breech_is_over_when_clear_hands_find_the_head_below() {
    assert!(settles(
        "breech-near-term",
        Urgency::Soon,
        &felt(head_below())
    ));
    assert!(!settles("breech-near-term", Urgency::Soon, &felt(breech())));
    assert!(!settles("breech-near-term", Urgency::Soon, &felt(across())));
}

#[test]
fn a_blank_palpation_settles_nothing() {
    let blank = felt(PalpationFindings::default());
    let unsure = felt(PalpationFindings {
        lower: Some(Pole::Unsure),
        ..PalpationFindings::default()
    });
    for rule in [
        "breech-near-term",
        "lie-near-term",
        "findings-conflict",
        "head-high-at-term",
    ] {
        assert!(!settles(rule, Urgency::Soon, &blank), "{rule}");
        assert!(!settles(rule, Urgency::Soon, &unsure), "{rule}");
    }
}

#[test]
fn now_never_settles_by_itself() {
    assert!(!settles(
        "breech-near-term",
        Urgency::Now,
        &felt(head_below())
    ));
    let quiet = at_37_weeks(|visit| visit.pulse = Some(80));
    assert!(settles("pulse-fast", Urgency::Recheck, &quiet));
    assert!(!settles("pulse-fast", Urgency::Now, &quiet));
}

#[test]
fn only_a_later_record_settles() {
    let case = felt(head_below());
    assert!(!settles_since(
        "breech-near-term",
        Urgency::Soon,
        case.on,
        &case
    ));
    let mut old = case.clone();
    old.on += Duration::hours(1);
    assert!(
        !settles("breech-near-term", Urgency::Soon, &old),
        "nothing was examined at the moment of judgement"
    );
}

#[test]
fn after_a_transverse_lie_two_lengthwise_visits_in_a_row_are_needed() {
    let mut case = felt(head_below());
    let earlier = |days: i64, hands| {
        visit(now() - Duration::days(days), |visit| {
            visit.palpation = Some(hands);
        })
    };
    case.visits.insert(0, earlier(3, across()));
    assert!(
        !settles("lie-near-term", Urgency::Soon, &case),
        "the first raises lie-unstable, of the same category"
    );
    case.visits.insert(1, earlier(1, head_below()));
    assert!(settles("lie-near-term", Urgency::Soon, &case));
}

#[test]
fn a_tape_inside_the_limit_settles_and_a_standstill_waits_two_weeks() {
    let grown = at_37_weeks(|visit| visit.fundal_height_tenths = Some(355));
    assert!(settles("height-below-10th", Urgency::Review, &grown));
    assert!(!settles(
        "height-below-10th",
        Urgency::Review,
        &at_37_weeks(|_| ())
    ));
    let days = |days| grown.on - Duration::days(days);
    assert!(!settles_since(
        "height-slow",
        Urgency::Review,
        days(13),
        &grown
    ));
    assert!(settles_since(
        "height-slow",
        Urgency::Review,
        days(14),
        &grown
    ));
}

#[test]
fn a_tape_of_a_visit_before_settles_nothing_now() {
    for method in [HeightMethod::Intergrowth, HeightMethod::Weeks] {
        let mut case = usual(now(), 245);
        case.post.fundal_height_method = method;
        case.visits.push(visit(now() - Duration::days(1), |visit| {
            visit.fundal_height_tenths = Some(345);
        }));
        case.visits
            .push(visit(now(), |visit| visit.pulse = Some(80)));
        let rule = "height-below-10th";
        assert!(!settles(rule, Urgency::Review, &case), "{method:?}");
        case.visits[1].fundal_height_tenths = Some(345);
        assert!(settles(rule, Urgency::Review, &case), "{method:?}");
    }
}

#[test]
fn a_standstill_over_two_weeks_alone_is_settled_by_any_second_tape() {
    let mut case = usual(now(), 239);
    for (days, tenths) in [(15, 305), (1, 305), (0, 320)] {
        case.visits
            .push(visit(now() - Duration::days(days), |visit| {
                visit.fundal_height_tenths = Some(tenths);
            }));
    }
    let yesterday = now() - Duration::days(1);
    assert!(settles_since(
        "height-static",
        Urgency::Review,
        yesterday,
        &case
    ));
    case.visits[0].at -= Duration::days(14);
    assert!(
        !settles_since("height-static", Urgency::Review, yesterday, &case),
        "28 days without growth want 14 days more"
    );
}

#[test]
fn figures_settle_when_the_same_figure_is_inside() {
    let measured = |systolic, diastolic| {
        at_37_weeks(|visit| {
            visit.systolic = systolic;
            visit.diastolic = diastolic;
        })
    };
    let fine = measured(Some(118), Some(76));
    assert!(settles("pressure-raised", Urgency::Review, &fine));
    assert!(settles("pressure-low", Urgency::Recheck, &fine));
    assert!(
        !settles(
            "pressure-raised",
            Urgency::Review,
            &measured(Some(118), None)
        ),
        "both pressures are asked"
    );
    assert!(!settles(
        "pressure-low",
        Urgency::Recheck,
        &measured(None, Some(76))
    ));
    assert!(
        !settles("pulse-fast", Urgency::Recheck, &fine),
        "pulse not counted"
    );
}

#[test]
fn a_heart_settles_by_a_count_inside_the_limits() {
    let count = |count| at_37_weeks(|visit| visit.fetal_hearts = vec![count]);
    assert!(settles("heart-abnormal", Urgency::Review, &count(140)));
    assert!(!settles("heart-abnormal", Urgency::Review, &count(165)));
    assert!(settles("heart-not-heard", Urgency::Review, &count(140)));
    assert!(!settles(
        "heart-not-heard",
        Urgency::Review,
        &at_37_weeks(|_| ())
    ));
}

#[test]
fn labour_flags_settle_by_what_was_found_inside() {
    let labour = |change: fn(&mut brimline::clinical::LabourRow)| {
        let mut case = usual(now(), 280);
        case.labour.push(row(now() - Duration::hours(1), |row| {
            row.dilatation_cm = Some(6);
            row.fifths = Some(4);
        }));
        case.labour.push(row(now(), change));
        case
    };
    let hour = now() - Duration::hours(1);
    let settles = |rule, case: &Case| settles_since(rule, Urgency::Review, hour, case);
    let down = labour(|row| row.fifths = Some(3));
    let same = labour(|row| row.fifths = Some(4));
    assert!(settles("head-high-in-labour", &down));
    assert!(!settles("head-high-in-labour", &same));
    assert!(settles("descent-arrest", &down), "lower than before");
    assert!(!settles("descent-arrest", &same));
    assert!(settles("cord-risk", &down), "3/5 fills the brim");
    assert!(!settles("cord-risk", &same), "nobody looked inside");
    let inside = labour(|row| row.dilatation_cm = Some(6));
    assert!(settles("cord-risk", &inside), "a hand inside met no cord");
    let cord_felt = labour(|row| row.felt_inside = Some(FeltInside::Cord));
    assert!(!settles("cord-risk", &cord_felt));
    let cord_seen = labour(|row| {
        row.dilatation_cm = Some(6);
        row.danger_signs = vec![DangerSign::Cord];
    });
    assert!(!settles("cord-risk", &cord_seen));
    for (rule, settled_by) in [("moulding-severe", 2), ("moulding-high-head", 1)] {
        let mut case = labour(|_| ());
        case.labour[0].fifths = None;
        assert!(!settles(rule, &case), "{rule}: nobody felt the sutures");
        case.labour[1].moulding = Some(settled_by);
        assert!(settles(rule, &case), "{rule}");
        case.labour[1].moulding = Some(settled_by + 1);
        assert!(!settles(rule, &case), "{rule}");
        case.labour[1].fifths = Some(2);
        assert_eq!(settles(rule, &case), rule == "moulding-high-head");
    }
    let vertex = labour(|row| row.felt_inside = Some(FeltInside::Vertex));
    assert!(settles("face-or-brow", &vertex));
    assert!(settles("findings-incomplete", &vertex));
    assert!(settles(
        "dilatation-went-back",
        &labour(|row| row.dilatation_cm = Some(6))
    ));
    assert!(!settles(
        "dilatation-went-back",
        &labour(|row| row.dilatation_cm = Some(5))
    ));
    assert!(settles(
        "contractions-weak",
        &labour(|row| row.contractions_in_10_min = Some(4))
    ));
    let facing = |occiput| {
        let mut case = labour(|_| ());
        case.labour[1].occiput = Some(occiput);
        settles("facing-front-in-labour", &case)
    };
    assert!(facing(Occiput::Anterior));
    assert!(!facing(Occiput::Transverse), "it may still turn either way");
    let mut begun = labour(|row| row.contractions_in_10_min = Some(4));
    assert!(settles("waters-at-term", &begun), "labour began");
    begun.labour.clear();
    begun.visits.push(visit(now(), |_| ()));
    assert!(!settles("waters-at-term", &begun));
}

#[test]
fn a_date_settles_unknown_dates_and_an_unknown_rule_settles_never() {
    let dated = at_37_weeks(|_| ());
    assert!(settles("dates-unknown", Urgency::Review, &dated));
    let mut undated = dated.clone();
    undated.dating = brimline::clinical::Dating::default();
    assert!(!settles("dates-unknown", Urgency::Review, &undated));
    assert!(!settles("a-rule-of-old", Urgency::Review, &dated));
    assert!(
        !settles("place-stillbirth", Urgency::Review, &dated),
        "the midwife decides"
    );
}
