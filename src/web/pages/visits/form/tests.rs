//! The form as a table: what is typed, what it comes to, every refusal in its own words.

use chrono_tz::Tz;

use super::{Known, VisitForm};
use crate::clinical::{
    DangerSign, Dating, Day, Head, Moment, Movements, Pole, Protein, Side, Waters,
};
use crate::registry::VisitForm as Shape;
use crate::registry::visits::Findings;
use crate::web::form::{Form, Sense, Typed};

fn at(text: &str) -> Moment {
    Moment::parse_from_str(text, "%Y-%m-%d %H:%M").unwrap()
}

/// Thursday 10 Sep 2026, 09:20 by the clock of a post two hours ahead.
fn sense() -> Sense {
    Sense {
        now: at("2026-09-10 07:20"),
        zone: Tz::Etc__GMTMinus2,
    }
}

const NOW: [(&str, &str); 2] = [("at_date", "2026-09-10"), ("at_time", "09:20")];

fn form(pairs: &[(&str, &str)]) -> VisitForm {
    let mut all: Vec<(&str, &str)> = pairs.to_vec();
    for (name, text) in NOW {
        if !pairs.iter().any(|(given, _)| *given == name) {
            all.push((name, text));
        }
    }
    VisitForm::read(&Typed::from_iter(all).sent_now(), &sense())
}

fn findings(pairs: &[(&str, &str)]) -> Findings {
    let form = form(pairs);
    let faults = form.faults();
    form.findings()
        .unwrap_or_else(|| panic!("{pairs:?} is refused: {faults:?}"))
}

/// Each fault as `anchor: why`.
fn faults(form: &VisitForm) -> Vec<String> {
    form.faults()
        .0
        .into_iter()
        .map(|it| format!("{}: {}", it.anchor, it.why))
        .collect()
}

#[test]
fn a_form_with_nothing_but_a_time_is_a_visit_in_which_nothing_was_examined() {
    let found = findings(&[]);
    assert_eq!(found, Findings::at(at("2026-09-10 07:20")));
}

#[test]
fn every_answer_comes_to_its_finding() {
    let found = findings(&[
        ("bladder_empty", "true"),
        ("fundus", "soft-irregular"),
        ("left", "long-smooth"),
        ("right", "small-lumps"),
        ("front", ""),
        ("lower", "hard-round"),
        ("fifths", "4"),
        ("head", "mobile"),
        ("many_small_parts", "true"),
        ("fundal_height_cm", "34,5"),
        ("fetal_hearts", "142"),
        ("fetal_hearts", "130"),
        ("systolic", "118"),
        ("diastolic", "76"),
        ("pulse", "86"),
        ("temperature_c", "36.8"),
        ("urine_protein", "1+"),
        ("movements", "reduced"),
        ("waters", "broken"),
        ("waters_broke_date", "2026-09-10"),
        ("waters_broke_time", "05:00"),
        ("danger_signs", "severe-headache"),
        ("danger_signs", "bleeding"),
        ("in_labour", "true"),
        ("labour_began_date", "2026-09-10"),
        ("labour_began_time", "06:00"),
        ("next_visit", "2026-09-17"),
        ("note", "Walks two hours."),
    ]);
    let hands = found.visit.palpation.clone().unwrap();
    assert_eq!(
        (hands.fundus, hands.left),
        (Some(Pole::SoftIrregular), Some(Side::LongSmooth))
    );
    assert_eq!(
        (hands.front, hands.fifths, hands.head),
        (None, Some(4), Some(Head::Mobile))
    );
    assert_eq!(
        (hands.many_small_parts, hands.belly_unusually_large),
        (Some(true), None)
    );
    assert_eq!(found.visit.fundal_height_tenths, Some(345));
    assert_eq!(found.visit.fetal_hearts, [142, 130]);
    assert_eq!(
        (found.visit.systolic, found.visit.diastolic),
        (Some(118), Some(76))
    );
    assert_eq!(
        (found.visit.pulse, found.visit.temperature_tenths),
        (Some(86), Some(368))
    );
    assert_eq!(found.visit.urine_protein, Some(Protein::One));
    assert_eq!(found.visit.movements, Some(Movements::Reduced));
    assert_eq!(found.visit.waters, Some(Waters::Broken));
    assert_eq!(
        found.visit.danger_signs,
        [DangerSign::SevereHeadache, DangerSign::Bleeding]
    );
    assert!(found.visit.in_labour && !found.signs_asked);
    assert_eq!(found.waters_broke_at, Some(at("2026-09-10 03:00")));
    assert_eq!(found.labour_began_at, Some(at("2026-09-10 04:00")));
    assert_eq!(found.next_visit_on, Day::from_ymd_opt(2026, 9, 17));
    assert_eq!(found.note.as_deref(), Some("Walks two hours."));
}

#[test]
fn one_tap_answers_four_questions() {
    let found = findings(&[("asked", "all-clear")]);
    assert_eq!(found.visit.movements, Some(Movements::Normal));
    assert_eq!(found.visit.waters, Some(Waters::Intact));
    assert!(found.signs_asked && found.visit.danger_signs.is_empty() && !found.visit.in_labour);
}

#[test]
fn a_deep_head_has_fifths_without_a_head_over_the_brim() {
    let hands = findings(&[("lower", "empty"), ("fifths", "0"), ("head", "fixed")])
        .visit
        .palpation;
    assert_eq!(hands.and_then(|it| it.fifths), Some(0));
}

/// What is typed, the id the summary leads to, and how the message goes.
#[rustfmt::skip] // one row a refusal
const REFUSED: &[(&[(&str, &str)], &str, &str)] = &[
    (&[("at_date", ""), ("at_time", "")], "at_date", "write when she was examined"),
    (&[("at_time", "09:21")], "at_date", "has not come yet"),
    (&[("at_date", "2026-09-11")], "at_date", "has not come yet"),
    (&[("at_date", "yesterday")], "at_date", "is not a date"),
    (&[("at_time", "25:00")], "at_time", "is not a time of day"),
    (&[("fundus", "square")], "fundus-hard-round", "choose one of the answers"),
    (&[("lower", "soft-irregular"), ("fifths", "3")], "fifths-3", "describes a head"),
    (&[("fifths", "2")], "fifths-2", "describes a head"),
    (&[("lower", "empty"), ("fifths", "1")], "fifths-1", "describes a head"),
    (&[("lower", "empty"), ("head", "mobile")], "head-mobile", "describes a head"),
    (&[("fifths", "6"), ("lower", "hard-round")], "fifths-5", "6 is outside 0 to 5"),
    (&[("fundal_height_cm", "9.9")], "fundal_height_cm", "9.9 is outside 10 to 60 cm"),
    (&[("fundal_height_cm", "60.1")], "fundal_height_cm", "outside 10 to 60 cm"),
    (&[("fundal_height_cm", "345")], "fundal_height_cm", "A point may be missing"),
    (&[("fundal_height_cm", "34.55")], "fundal_height_cm", "one figure behind the point"),
    (&[("fundal_height_cm", "tall")], "fundal_height_cm", "is not a number"),
    (&[("fetal_hearts", "29")], "fetal_hearts-1", "29 is outside 30 to 250"),
    (&[("fetal_hearts", "140"), ("fetal_hearts", "251")], "fetal_hearts-2", "251 is outside 30 to 250"),
    (&[("fetal_hearts", "140"), ("heart_sought", "true")], "heart_sought-true", "stands beside a count"),
    (&[("systolic", "39")], "systolic", "39 is outside 40 to 280"),
    (&[("systolic", "281")], "systolic", "281 is outside 40 to 280"),
    (&[("diastolic", "19")], "diastolic", "19 is outside 20 to 180"),
    (&[("systolic", "118"), ("diastolic", "118")], "diastolic", "118 over 118"),
    (&[("systolic", "80"), ("diastolic", "120")], "diastolic", "the upper number must be the larger"),
    (&[("pulse", "412")], "pulse", "412 is outside 20 to 250"),
    (&[("temperature_c", "368")], "temperature_c", "368 is outside 30 to 43 °C. A point may be missing"),
    (&[("temperature_c", "29.9")], "temperature_c", "29.9 is outside 30 to 43 °C"),
    (&[("urine_protein", "5+")], "urine_protein-no", "choose one of the answers"),
    (&[("asked", "all-clear"), ("movements", "reduced")], "asked-all-clear", "stands beside other answers"),
    (&[("asked", "all-clear"), ("danger_signs", "bleeding")], "asked-all-clear", "stands beside other answers"),
    (&[("asked", ""), ("danger_signs", "bleeding")], "asked-all-clear", "“Not asked” stands beside other answers"),
    (&[("danger_signs", "none"), ("danger_signs", "bleeding")], "danger_signs-bleeding", "stands beside a sign"),
    (&[("danger_signs", "hiccups")], "danger_signs-bleeding", "choose among the answers"),
    (&[("in_labour", "perhaps")], "in_labour-true", "choose one of the answers"),
    (&[("waters", "intact"), ("waters_broke_date", "2026-09-09"), ("waters_broke_time", "20:00")], "waters_broke_date", "stands without broken waters"),
    (&[("waters", "broken"), ("waters_broke_date", "2026-09-12"), ("waters_broke_time", "20:00")], "waters_broke_date", "has not come yet"),
    (&[("at_time", "08:00"), ("waters", "broken"), ("waters_broke_date", "2026-09-10"), ("waters_broke_time", "08:30")], "waters_broke_date", "is later than the visit"),
    (&[("labour_began_date", "2026-09-10"), ("labour_began_time", "06:00")], "labour_began_date", "stands without labour"),
    (&[("in_labour", "true"), ("labour_began_date", "2026-09-10")], "labour_began_time", "write the time too"),
    (&[("next_visit", "2026-09-10")], "next_visit-other", "is not after this visit"),
    (&[("next_visit", "2026-09-03")], "next_visit-other", "is not after this visit"),
    (&[("next_visit", "other")], "next_visit_on", "write the day"),
    (&[("next_visit", "other"), ("next_visit_on", "2027-09-10")], "next_visit_on", "more than 300 days ahead"),
    (&[("next_visit", "soon")], "next_visit-other", "is not a date"),
    (&[("note", "bell\u{7}")], "note", "hidden signs"),
    (&[("pulse", "84"), ("pulse", "86")], "pulse", "was sent twice"),
];

#[test]
fn every_refusal_stands_alone_beside_its_field() {
    for (pairs, anchor, why) in REFUSED {
        let form = form(pairs);
        let found = faults(&form);
        assert_eq!(found.len(), 1, "{pairs:?} gives {found:?}");
        let wanted = found[0].starts_with(&format!("{anchor}: ")) && found[0].contains(why);
        assert!(
            wanted,
            "{pairs:?} gives {found:?}, wanted {anchor}: …{why}…"
        );
        assert!(
            form.findings().is_none(),
            "{pairs:?} is refused and yet a finding"
        );
    }
}

#[test]
fn every_fault_is_told_at_once_in_the_order_of_the_page() {
    let form = form(&[
        ("temperature_c", "368"),
        ("lower", "soft-irregular"),
        ("fifths", "3"),
        ("head", "mobile"),
        ("systolic", "118"),
        ("diastolic", "181"),
        ("note", &"x".repeat(1001)),
    ]);
    let anchors: Vec<String> = form.faults().0.into_iter().map(|it| it.anchor).collect();
    assert_eq!(
        anchors,
        [
            "fifths-3",
            "head-mobile",
            "diastolic",
            "temperature_c",
            "note"
        ]
    );
}

#[test]
fn what_was_typed_is_kept_as_it_was_typed() {
    let form = form(&[
        ("fundal_height_cm", " 34,5 cm"),
        ("pulse", "412"),
        ("front", ""),
    ]);
    assert_eq!(form.measures.fundal_height_cm.typed, " 34,5 cm");
    assert_eq!(form.measures.pulse.typed, "412");
    assert!(
        form.chose("front", ""),
        "“Not examined” was chosen on purpose"
    );
    assert!(!form.chose("fundus", ""), "nobody chose anything there");
}

#[test]
fn a_list_leads_to_its_lists_and_needs_no_day_for_the_next_visit() {
    let form = form(&[
        ("form", "list"),
        ("lower", "empty"),
        ("head", "mobile"),
        ("next_visit", "other"),
    ]);
    assert_eq!(form.shape, Shape::List);
    assert_eq!(
        form.faults()
            .0
            .iter()
            .map(|it| it.anchor.as_str())
            .collect::<Vec<_>>(),
        ["head"]
    );
}

fn held_against(pairs: &[(&str, &str)], known: &Known) -> Vec<String> {
    let mut form = form(pairs);
    form.against(known, &sense());
    faults(&form)
}

#[test]
fn a_visit_before_the_pregnancy_is_refused() {
    let known = |certain| Known {
        dating: Dating {
            lmp: Day::from_ymd_opt(2026, 3, 1),
            lmp_certain: certain,
            scans: Vec::new(),
        },
        waters_broken_since: None,
    };
    let day = |day: &'static str| [("at_date", day)];
    let early = held_against(&day("2026-02-28"), &known(Some(true)));
    assert!(
        early.len() == 1 && early[0].contains("is before her last period"),
        "{early:?}"
    );
    assert!(held_against(&day("2026-03-01"), &known(Some(true))).is_empty());
    assert!(
        held_against(&day("2026-02-28"), &known(Some(false))).is_empty(),
        "an uncertain period binds nobody"
    );
}

#[test]
fn broken_waters_are_asked_again_one_by_one() {
    let known = Known {
        waters_broken_since: Day::from_ymd_opt(2026, 9, 9),
        ..Known::default()
    };
    let found = held_against(&[("asked", "all-clear")], &known);
    assert!(
        found.len() == 1 && found[0].contains("answer one by one"),
        "{found:?}"
    );
    assert!(held_against(&[("asked", "each"), ("waters", "intact")], &known).is_empty());
}

#[test]
fn a_revision_opened_for_amending_reads_back_as_it_was() {
    let found = findings(&[
        ("bladder_empty", "true"),
        ("fundus", "hard-round"),
        ("lower", "empty"),
        ("fifths", "0"),
        ("fundal_height_cm", "34"),
        ("fetal_hearts", "142"),
        ("fetal_hearts", "150"),
        ("temperature_c", "36.8"),
        ("urine_protein", "trace"),
        ("movements", "normal"),
        ("waters", "broken-foul"),
        ("waters_broke_date", "2026-09-09"),
        ("waters_broke_time", "23:10"),
        ("danger_signs", "none"),
        ("in_labour", "true"),
        ("next_visit", "2026-10-01"),
        ("note", "two\nlines"),
    ]);
    let again = VisitForm::holding(&found, 1, "key".to_owned(), &sense());
    assert_eq!(again.revision, Some(1));
    assert_eq!(faults(&again), Vec::<String>::new());
    assert_eq!(again.findings(), Some(found));
}
