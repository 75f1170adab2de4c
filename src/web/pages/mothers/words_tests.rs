//! Dates and visits, as a colleague would tell them.

use super::words;
use crate::clinical::{Dating, Day, Moment, PalpationFindings, Pole, Protein, Scan, Side, Visit};

fn day(text: &str) -> Day {
    text.parse().unwrap()
}

fn plain(words: &str) -> String {
    words.replace('\u{a0}', " ")
}

fn dated(lmp: Option<&str>, certain: Option<bool>, scan: Option<(&str, u16)>) -> Dating {
    Dating {
        lmp: lmp.map(day),
        lmp_certain: certain,
        scans: scan
            .into_iter()
            .map(|(on, days)| Scan {
                on: day(on),
                gestation_days: Some(days),
                edd: None,
                babies: None,
            })
            .collect(),
    }
}

#[track_caller]
fn told(dating: &Dating) -> String {
    plain(&words::dating(dating, day("2024-07-01")))
}

// Pairs of period and scan from the redating limits of ACOG Committee Opinion 700, 2017, table 1 [R]:
// up to 8w+6d a scan that differs by 5 days agrees, by 6 it decides.
#[test]
fn the_page_says_which_date_counts_and_why() {
    let kept = dated(Some("2024-01-01"), None, Some(("2024-03-03", 57)));
    assert_eq!(
        told(&kept),
        "Last period 1 Jan 2024. The scan of 3 Mar 2024 at 8w+1d differed by 5 days: the period counts."
    );
    let redated = dated(Some("2024-01-01"), Some(true), Some(("2024-03-03", 56)));
    assert_eq!(
        told(&redated),
        "Last period 1 Jan 2024. The scan of 3 Mar 2024 at 8w+0d differed by 6 days, more than 5: the scan counts."
    );
    let agreed = dated(Some("2024-01-01"), None, Some(("2024-03-04", 63)));
    assert_eq!(
        told(&agreed),
        "Last period 1 Jan 2024. The scan of 4 Mar 2024 at 9w+0d agreed: the period counts."
    );
}

#[test]
fn what_is_not_known_is_said() {
    assert_eq!(
        told(&dated(None, None, None)),
        "No last period told. Gestation not known: no date was told."
    );
    let unsure = dated(Some("2024-01-01"), Some(false), None);
    assert_eq!(
        told(&unsure),
        "Last period 1 Jan 2024, not sure. Gestation not known: the last period is not sure."
    );
    assert_eq!(
        plain(&words::about_weeks(&unsure, day("2024-07-01")).unwrap()),
        "about 26 weeks by an unsure period, due about 7 Oct 2024"
    );
    assert!(told(&dated(Some("2024-01-01"), None, None)).contains("No scan before 22 weeks"));
    let scan = dated(None, None, Some(("2024-03-04", 63)));
    assert_eq!(
        told(&scan),
        "No last period told. The scan of 4 Mar 2024 at 9w+0d gives the due date."
    );
}

fn visit() -> Visit {
    Visit::at(Moment::parse_from_str("2026-11-25 08:15", "%Y-%m-%d %H:%M").unwrap())
}

#[test]
fn a_visit_is_told_in_a_line() {
    let mut seen = visit();
    seen.palpation = Some(PalpationFindings {
        fundus: Some(Pole::HardRound),
        left: Some(Side::LongSmooth),
        right: Some(Side::SmallLumps),
        lower: Some(Pole::SoftIrregular),
        ..PalpationFindings::default()
    });
    seen.fundal_height_tenths = Some(345);
    seen.fetal_hearts = vec![142];
    (seen.systolic, seen.diastolic) = (Some(114), Some(72));
    assert_eq!(
        plain(&words::visit(&seen, Some(253))),
        "36w+1d. Breech. 34.5 cm, heart 142, pressure 114/72."
    );
}

#[test]
fn a_visit_without_findings_says_so_and_never_that_all_was_well() {
    assert_eq!(
        words::visit(&visit(), Some(253)),
        "36w+1d. Nothing examined."
    );
    assert_eq!(words::visit(&visit(), None), "Nothing examined.");
    let mut sought = visit();
    sought.heart_sought = Some(true);
    sought.urine_protein = Some(Protein::None);
    assert_eq!(
        words::visit(&sought, None),
        "Heart sought and not heard, protein none."
    );
}

#[test]
fn what_was_before_is_told_with_its_gaps() {
    assert_eq!(
        plain(&words::before(None, None, &[])),
        "Births before not told, caesareans not told."
    );
    assert_eq!(
        plain(&words::before(Some(2), Some(0), &[])),
        "2 births before, no caesarean."
    );
}
