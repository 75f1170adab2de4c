//! The worked examples of labour, second by second on both sides of each limit.
//!
//! Labour care guide: limits from memory of the WHO labour care guide, user's manual, 2020, and WHO, Intrapartum care, 2018 (read).
//! Partograph: WHO, Managing complications in pregnancy and childbirth, C-57 to C-72, S-57; Open University HEAT, labour 4 (read).
//! A record is `time token token …`: a number is a dilatation, `f3` fifths, `m2` moulding, `h168` a heart, `push` pushing.

use crate::telling::{moment, row, usual};
use brimline::clinical::{
    Assessment, Case, Category, Deceleration, LabourProtocol, LabourRow, LabourState, Liquor,
    Moment, assess,
};
use chrono::Duration;

/// `10:00`, `23:59:59`, on the next day `+01:15`, on the day before `-20:00`.
fn time(text: &str) -> Moment {
    let (day, clock) = match text.split_at(1) {
        ("+", clock) => (11, clock),
        ("-", clock) => (9, clock),
        _ => (10, text),
    };
    moment(&format!("2026-09-{day:02}T{clock}"))
}

fn record(told: &str) -> LabourRow {
    let mut words = told.split_whitespace();
    let at = time(words.next().unwrap());
    row(at, |row| {
        for word in words {
            match word.split_at(1) {
                ("f", number) => row.fifths = number.parse().ok(),
                ("m", number) => row.moulding = number.parse().ok(),
                ("h", number) => row.fetal_hearts = vec![number.parse().unwrap()],
                _ if word == "push" => row.pushing = Some(true),
                _ if word == "late" => row.deceleration = Some(Deceleration::Late),
                _ if word == "soup" => row.liquor = Some(Liquor::Meconium3),
                _ => row.dilatation_cm = Some(word.parse().unwrap()),
            }
        }
    })
}

/// `lcg` or `partograph`; `first`, `later` or `unknown` births; records; the moment of judgement.
fn case(post: &str, births: &str, records: &str, on: &str) -> Case {
    let mut case = usual(time(on), 280);
    if post == "partograph" {
        case.post.labour_protocol = LabourProtocol::Partograph;
    }
    case.mother.births_before = match births {
        "first" => Some(0),
        "later" => Some(1),
        _ => None,
    };
    case.labour = records.split(',').map(record).collect();
    case
}

fn rules(judged: &Assessment, categories: &[Category]) -> String {
    judged
        .flags
        .iter()
        .filter(|flag| categories.contains(&flag.category) || flag.rule == "dilatation-went-back")
        .map(|flag| format!("{}:{}", flag.rule, flag.urgency.code()))
        .collect::<Vec<_>>()
        .join(" ")
}

#[test]
fn progress_is_judged_as_in_the_worked_examples() {
    // post, births, records, then pairs of moment and rules.
    type Example = (
        &'static str,
        &'static str,
        &'static str,
        &'static [(&'static str, &'static str)],
    );
    const SLOW: &str = "slow-dilatation:now";
    const BACK: &str = "dilatation-went-back:recheck";
    const LONG: &str = "labour-long:review";
    const ACTIVE: &str = "active-stage-long:now";
    const SECOND: &str = "second-stage-long:now";
    const ALERT: &str = "right-of-alert:now";
    const ACTION: &str = "right-of-alert:now past-action:now";
    #[rustfmt::skip]
    let examples: &[Example] = &[
        ("lcg", "first", "06:00 5, 10:00 5", &[("11:59:59", ""), ("12:00", SLOW)]),
        ("lcg", "later", "06:00 6", &[("10:59", ""), ("11:00", SLOW)]),
        ("lcg", "later", "14:00 8", &[("16:29", ""), ("16:30", SLOW)]),
        ("lcg", "later", "06:00 6, 11:00 7", &[("11:00", ""), ("13:59", ""), ("14:00", SLOW)]),
        ("lcg", "later", "22:15 7", &[("+01:14", ""), ("+01:15", SLOW)]),
        ("lcg", "later", "10:00 7, 12:00 6", &[("12:00", BACK), ("12:59", BACK), ("13:00", "slow-dilatation:now dilatation-went-back:recheck")]),
        ("lcg", "later", "10:00 7, 12:00 6, 12:45 8", &[("15:14", ""), ("15:15", SLOW)]),
        ("lcg", "later", "18:30 9", &[("20:29", ""), ("20:30", SLOW)]),
        ("lcg", "later", "06:00 5, 11:00 6, 15:30 7", &[("16:00", ""), ("16:01", ACTIVE)]),
        ("lcg", "unknown", "06:00 5, 11:00 6, 15:30 7", &[("16:00", ""), ("16:01", ACTIVE)]),
        ("lcg", "first", "06:00 5, 11:00 6, 15:30 7, 18:00 8", &[("17:59", ""), ("18:00", LONG), ("18:01", "active-stage-long:now labour-long:review")]),
        ("lcg", "later", "23:10 10", &[("+01:09", ""), ("+01:10", SECOND)]),
        ("lcg", "unknown", "23:10 10", &[("+01:09", ""), ("+01:10", SECOND)]),
        ("lcg", "first", "23:10 10", &[("+02:09", ""), ("+02:10", SECOND)]),
        ("lcg", "later", "08:00 4, 12:00 4", &[("16:00", ""), ("16:01", "latent-long:review")]),
        ("lcg", "first", "08:00 5, 09:00, 12:00", &[("13:59", ""), ("14:00", SLOW)]),
        ("lcg", "later", "13:00 10, 13:40 9", &[("14:59", BACK), ("15:00", "second-stage-long:now dilatation-went-back:recheck")]),
        ("lcg", "first", "06:00 5, 09:00 8", &[("11:29", ""), ("11:30", SLOW)]),
        ("partograph", "later", "10:00 4, 14:00 4", &[("14:00", ALERT)]),
        ("partograph", "later", "10:00 4, 14:00 4, 18:00 6", &[("18:00", ACTION)]),
        ("partograph", "later", "10:00 4, 14:00 4, 18:00 5", &[("18:00", ACTION)]),
        ("partograph", "later", "10:00 4, 14:00 6", &[("14:00", ALERT)]),
        ("partograph", "later", "09:00 5, 14:00 10", &[("14:00", "")]),
        ("partograph", "later", "11:00 6, 13:00 8", &[("13:00", "")]),
        ("partograph", "later", "11:00 6, 13:00:01 8", &[("13:00:01", ALERT)]),
        ("partograph", "later", "11:00 6, 17:00 8", &[("17:00", ALERT)]),
        ("partograph", "later", "11:00 6, 17:01 8", &[("17:01", ACTION)]),
        ("partograph", "later", "21:30 4, +00:30 7", &[("+00:30", "")]),
        ("partograph", "later", "21:30 4, +01:30 7", &[("+01:30", ALERT)]),
        ("partograph", "later", "06:00 2, 10:00 5, 14:00 8", &[("14:00", ALERT)]),
        ("partograph", "later", "06:00 2, 10:00 5, 14:00 9", &[("14:00", "")]),
        ("partograph", "later", "06:00 2, 10:00 3", &[("14:00", ""), ("14:01", "latent-long:now")]),
        ("partograph", "later", "08:00 5, 10:00 7, 12:00 6", &[("12:00", "right-of-alert:now dilatation-went-back:recheck")]),
        ("partograph", "later", "15:20 10", &[("16:20", ""), ("16:21", SECOND)]),
        ("partograph", "unknown", "15:20 10", &[("16:20", ""), ("16:21", SECOND)]),
        ("partograph", "first", "15:20 10", &[("17:20", ""), ("17:21", SECOND)]),
        ("partograph", "later", "10:00 4, 17:00 10", &[("17:00", "")]),
        ("lcg", "later", "09:00 6 m2 f3", &[("09:00", "moulding-high-head:review")]),
        ("lcg", "later", "09:00 7 m2 f3", &[("09:00", "moulding-high-head:now")]),
        ("lcg", "later", "07:00 6 m2, 09:00 6 m2 f3", &[("09:00", "moulding-high-head:now")]),
        ("lcg", "later", "07:01 6 m2, 09:00 6 m2 f3", &[("09:00", "moulding-high-head:review")]),
        ("lcg", "later", "09:00 6 m3 f3", &[("09:00", "moulding-high-head:now")]),
        ("lcg", "later", "09:00 10 f2 push", &[("09:30", ""), ("09:31", "pushing-long:review")]),
        ("lcg", "first", "09:00 10 f2 push", &[("10:00", ""), ("10:01", "pushing-long:review")]),
        ("lcg", "later", "09:00 10 f2 push, 09:30 f2", &[("09:31", "pushing-long:now")]),
    ];
    let mut judged = 0;
    for (post, births, records, moments) in examples {
        for (on, expected) in *moments {
            let found = rules(
                &assess(&case(post, births, records, on)),
                &[Category::PoorProgress],
            );
            assert_eq!(found, *expected, "{post}, {births}: {records} at {on}");
            judged += 1;
        }
    }
    assert!(judged > 70, "{judged}");
}

#[test]
fn the_alert_line_stands_where_the_first_active_record_puts_it() {
    for (records, t4) in [
        ("10:00 4", "10:00"),
        ("09:00 5", "08:00"),
        ("11:00 6", "09:00"),
        ("06:00 2, 10:00 5", "09:00"),
        ("15:20 9", "10:20"),
        ("15:20 10", "09:20"),
    ] {
        let judged = assess(&case("partograph", "later", records, "18:00"));
        assert_eq!(judged.labour.unwrap().t4_at, Some(time(t4)), "{records}");
    }
    let guide = assess(&case("lcg", "later", "11:00 6", "12:00"));
    assert_eq!(guide.labour.unwrap().t4_at, None);
}

#[test]
fn one_odd_heart_is_counted_again_and_a_confirmed_one_goes() {
    type Example = (&'static str, &'static str, &'static str, &'static str);
    #[rustfmt::skip]
    let examples: &[Example] = &[
        ("lcg", "10:00 h160", "10:00", "recheck 10:15"),
        ("partograph", "10:00 h160", "10:00", ""),
        ("lcg", "10:00 h159", "10:00", ""),
        ("lcg", "10:00 h110", "10:00", ""),
        ("lcg", "10:00 h109", "10:00", "recheck 10:15"),
        ("partograph", "10:00 h110", "10:00", "recheck 10:15"),
        ("partograph", "10:00 h119", "10:00", "recheck 10:15"),
        ("partograph", "10:00 h120", "10:00", ""),
        ("lcg", "10:00 h168, 10:09 h166", "10:09", "recheck 10:15"),
        ("lcg", "10:00 h168, 10:10 h166", "10:10", "now"),
        ("lcg", "10:00 h168, 10:15 h150", "10:20", ""),
        ("lcg", "10:00 h168, 10:15 h150, 10:45 h164", "10:45", "recheck 11:00"),
        ("lcg", "10:00 h168", "10:30", "recheck 10:15"),
        ("lcg", "10:00 h168", "10:30:01", "now"),
        ("lcg", "10:00 h99", "10:00", "now"),
        ("lcg", "10:00 h100", "10:00", "recheck 10:15"),
        ("lcg", "10:00 h180", "10:00", "recheck 10:15"),
        ("lcg", "10:00 h181", "10:00", "now"),
        ("lcg", "10:00 h104 late", "10:00", "now"),
        ("lcg", "10:00 h104 soup", "10:00", "now"),
        ("partograph", "23:50 h112, +00:05 h116", "+00:05", "now"),
    ];
    for (post, records, on, expected) in examples {
        let judged = assess(&case(post, "later", records, on));
        let found = judged
            .flags
            .iter()
            .find(|flag| flag.rule == "heart-abnormal")
            .map_or(String::new(), |flag| match flag.recheck_at {
                Some(at) => format!("{} {}", flag.urgency.code(), at.format("%H:%M")),
                None => flag.urgency.code().to_owned(),
            });
        assert_eq!(found, *expected, "{post}: {records} at {on}");
    }
}

#[test]
fn the_time_to_go_takes_the_way_off_the_first_limit() {
    // post, births, records, travel, moment, limit, margin, leave by, state.
    type Example = (
        (&'static str, &'static str, &'static str),
        u16,
        &'static str,
        (&'static str, &'static str),
        i64,
        &'static str,
    );
    #[rustfmt::skip]
    let examples: &[Example] = &[
        (("lcg", "first", "08:00 5, 12:00 6"), 90, "13:30", ("slow-dilatation", "17:00"), 120, "15:30"),
        (("lcg", "first", "08:00 5, 12:00 6"), 90, "16:00", ("slow-dilatation", "17:00"), -30, "15:30"),
        (("partograph", "later", "10:00 4, 14:00 6"), 90, "14:00", ("past-action", "16:00"), 30, "14:30"),
        (("partograph", "later", "10:00 4, 14:00 6"), 150, "14:00", ("past-action", "16:00"), -30, "13:30"),
        (("partograph", "later", "20:00 5, 23:00 7"), 200, "23:00", ("past-action", "+02:00"), -20, "22:40"),
        (("lcg", "later", "06:00 5, 10:00 6, 14:30 7"), 75, "15:00", ("active-stage-long", "16:00"), -15, "14:45"),
        (("lcg", "later", "22:40 10"), 60, "23:20", ("second-stage-long", "+00:40"), 20, "23:40"),
        (("partograph", "later", "15:20 9"), 0, "15:20", ("past-action", "19:20"), 240, "19:20"),
    ];
    for ((post, births, records), travel, on, (rule, at), margin, leave_by) in examples {
        let mut told = case(post, births, records, on);
        told.post.travel_minutes = Some(*travel);
        let labour = assess(&told).labour.unwrap();
        let first = labour.limits[0];
        assert_eq!(
            (first.rule, first.at),
            (*rule, time(at)),
            "{records} at {on}"
        );
        assert_eq!(labour.margin_minutes, Some(*margin), "{records} at {on}");
        assert_eq!(labour.leave_by, Some(time(leave_by)), "{records} at {on}");
        let state = if *margin < 0 {
            LabourState::Late
        } else {
            LabourState::InTime
        };
        assert_eq!(labour.state, state, "{records} at {on}");
    }
    let mut waters = case("lcg", "first", "08:00 5", "10:00");
    waters.post.travel_minutes = Some(90);
    waters.waters_broke_at = Some(time("-14:00"));
    let judged = assess(&waters);
    let labour = judged.labour.as_ref().unwrap();
    let limits: Vec<_> = labour.limits.iter().map(|limit| limit.rule).collect();
    assert_eq!(
        limits,
        ["slow-dilatation", "waters-long", "active-stage-long"]
    );
    assert_eq!(labour.margin_minutes, Some(150));
    assert_eq!(rules(&judged, &[Category::Waters]), "waters-long:review");
    let latent = assess(&case("lcg", "first", "08:00 4", "10:00"))
        .labour
        .unwrap();
    assert_eq!(latent.state, LabourState::NoLimit);
    let unset = assess(&case("lcg", "first", "08:00 5", "10:00"))
        .labour
        .unwrap();
    assert_eq!(unset.state, LabourState::NoTravelTime);
}

#[test]
fn an_examination_is_due_before_the_limit_of_its_centimetre() {
    for (records, on, due) in [
        ("10:00 8", "10:00", "12:30"),
        ("10:00 5", "10:00", "14:00"),
        ("06:00 5, 09:30 5", "10:00", "12:00"),
        ("06:00 5, 08:00 5", "10:00", "12:00"),
    ] {
        let labour = assess(&case("lcg", "later", records, on)).labour.unwrap();
        let item = labour
            .due
            .iter()
            .find(|item| item.what.code() == "dilatation")
            .unwrap();
        assert_eq!((item.at, item.overdue), (time(due), false), "{records}");
    }
}

#[test]
fn waters_count_from_their_breaking_and_the_way_is_taken_off() {
    let at_term = |broke: &str, on: &str, travel: Option<u16>| {
        let mut case = usual(time(on), 266);
        case.visits.push(brimline::clinical::Visit::at(time(on)));
        case.waters_broke_at = Some(time(broke));
        case.post.travel_minutes = travel;
        rules(&assess(&case), &[Category::Waters])
    };
    assert_eq!(at_term("-20:00", "07:59", None), "waters-at-term:review");
    assert_eq!(at_term("-20:00", "08:00", None), "waters-long:now");
    assert_eq!(
        at_term("-20:00", "07:29", Some(30)),
        "waters-at-term:review"
    );
    assert_eq!(at_term("-20:00", "07:30", Some(30)), "waters-long:now");
    for (on, expected) in [
        ("23:59", ""),
        ("+00:00", "waters-long:review"),
        ("+05:59", "waters-long:review"),
        ("+06:00", "waters-long:now"),
    ] {
        let mut told = case("lcg", "later", "06:00", on);
        told.waters_broke_at = Some(time("06:00"));
        assert_eq!(rules(&assess(&told), &[Category::Waters]), expected, "{on}");
    }
}

#[test]
fn shifting_a_labour_by_whole_days_changes_nothing() {
    let told = case("lcg", "later", "06:00 5 h168, 11:00 6 f4 m2", "12:10");
    let mut shifted = told.clone();
    let week = Duration::days(7);
    shifted.on += week;
    for row in &mut shifted.labour {
        row.at += week;
    }
    shifted.dating.lmp = told.dating.lmp.map(|lmp| lmp + week);
    shifted.dating.scans[0].on += week;
    let codes = |case: &Case| rules(&assess(case), Category::ALL);
    assert_eq!(codes(&told), codes(&shifted));
    assert!(!codes(&told).is_empty());
}
