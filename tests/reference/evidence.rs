//! What the evidence says where more than the bare figure decided.

use brimline::clinical::{Case, FeltInside, Visit, assess};
use chrono::Duration;

use crate::telling::{moment, row, usual};

fn evidence(case: &Case, rule: &str) -> String {
    let judged = assess(case);
    let flag = judged.flags.into_iter().find(|flag| flag.rule == rule);
    flag.map(|flag| flag.evidence).unwrap_or_default()
}

#[test]
fn waters_at_term_say_when_to_leave() {
    let on = moment("2026-09-10T09:00");
    let mut case = usual(on, 266);
    case.visits.push(Visit::at(on));
    case.waters_broke_at = Some(on - Duration::hours(1));
    let said = |case: &Case| evidence(case, "waters-at-term");
    assert!(said(&case).contains("travel not set: leave by 20:00"));
    case.post.travel_minutes = Some(90);
    let said = said(&case);
    assert!(said.contains("travel 1 h 30 min: leave by 18:30"), "{said}");
}

#[test]
fn a_woman_over_her_dates_is_in_labour_or_not_seen_of_late() {
    let on = moment("2026-09-10T09:00");
    let mut case = usual(on, 309);
    let said = |case: &Case| evidence(case, "dates-implausible");
    assert!(said(&case).ends_with("shows that she is pregnant."));
    case.labour.push(row(on, |row| row.dilatation_cm = Some(6)));
    let said = said(&case);
    assert!(
        said.ends_with("44w+1d by her dates, over 44w+0d; in labour."),
        "{said}"
    );
}

#[test]
fn what_was_felt_inside_is_named_with_its_time() {
    let on = moment("2026-09-10T09:00");
    for (part, rule, words) in [
        (FeltInside::Shoulder, "lie-in-labour", "Shoulder"),
        (FeltInside::Breech, "breech-in-labour", "Breech"),
    ] {
        let mut case = usual(on, 280);
        case.labour.push(row(on - Duration::minutes(30), |row| {
            row.felt_inside = Some(part);
        }));
        let said = evidence(&case, rule);
        assert!(
            said.contains(&format!("{words} felt inside at 08:30.")),
            "{said}"
        );
    }
}
