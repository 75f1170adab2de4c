//! What a judgement sounds like.

use crate::telling::{breech, head_below, moment, row, usual, visit};
use brimline::clinical::{
    Case, DangerSign, FeltInside, PalpationFindings, Waters, assess, spoken, weeks_and_days,
};

fn said(days: i64, change: impl FnOnce(&mut Case)) -> String {
    let on = moment("2026-09-10T09:00");
    let mut case = usual(on, days);
    case.visits
        .push(visit(on, |visit| visit.palpation = Some(breech())));
    change(&mut case);
    spoken(&assess(&case))
}

#[test]
fn a_conclusion_is_spoken_with_its_urgency_and_reason() {
    assert_eq!(
        said(254, |_| ()),
        "Breech. Refer soon: she is 36 weeks and 2 days."
    );
    assert_eq!(
        said(254, |case| {
            case.visits[0].palpation = Some(PalpationFindings {
                fundus: None,
                ..breech()
            });
        }),
        "Breech, likely. Refer soon: she is 36 weeks and 2 days."
    );
    assert_eq!(
        said(254, |case| case.visits[0].palpation = Some(head_below())),
        "Head first. Nothing found that asks for more than the next visit."
    );
    assert_eq!(
        said(254, |case| case.visits[0].waters = Some(Waters::Broken)),
        "Breech. Refer now: her waters are broken. One more flag stands."
    );
    assert_eq!(
        said(254, |case| {
            case.visits[0].palpation = Some(head_below());
            case.visits[0].danger_signs = vec![DangerSign::SevereHeadache];
        }),
        "Head first. Refer now: severe headache."
    );
    assert_eq!(
        said(280, |case| {
            case.visits.clear();
            case.labour.push(row(case.on, |row| {
                row.felt_inside = Some(FeltInside::Shoulder);
            }));
        }),
        "Across, felt inside. Refer now: she is in labour."
    );
}

#[test]
fn weeks_are_read_aloud() {
    for (days, words) in [
        (252, "36 weeks"),
        (253, "36 weeks and 1 day"),
        (8, "1 week and 1 day"),
        (3, "3 days"),
    ] {
        assert_eq!(weeks_and_days(days), words);
    }
}
