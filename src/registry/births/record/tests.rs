//! What cannot be true of a birth together.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use super::*;

fn day(text: &str) -> Day {
    format!("2026-{text}").parse().unwrap()
}

fn at(text: &str) -> Option<Moment> {
    Some(format!("2026-{text}:00").parse().unwrap())
}

fn a_girl() -> Newborn {
    Newborn {
        born_on: day("10-01"),
        born_at: at("10-01T20:00"),
        place: BirthPlace::Here,
        mode: Mode::Vaginal,
        presentation: BirthPresentation::Cephalic,
        sex: Some(Sex::Girl),
        weight_g: Some(3180),
        apgar_1: Some(8),
        apgar_5: Some(9),
        state: NewbornState::Alive,
        died: false,
        died_on: None,
        died_at: None,
        lethal_malformation: None,
        seen_alive_on: None,
    }
}

fn faults(newborns: Vec<Newborn>) -> Vec<Asked> {
    let record = BirthRecord {
        onset: Onset::Spontaneous,
        mother_outcome: MotherOutcome::Well,
        mother_died_on: None,
        note: None,
        newborns,
    };
    let bounds = Bounds {
        today: day("10-09"),
        now: at("10-09T12:00").unwrap(),
        last_period: Some(day("01-01")),
    };
    record
        .contradictions(&bounds)
        .into_iter()
        .map(|fault| fault.asked)
        .collect()
}

#[test]
fn a_birth_has_one_to_six_babies() {
    assert_eq!(faults(vec![a_girl()]), []);
    assert_eq!(faults(vec![a_girl(); 6]), []);
    assert_eq!(faults(vec![]), [Asked::Babies]);
    assert_eq!(faults(vec![a_girl(); 7]), [Asked::Babies]);
    assert_eq!(faults(vec![a_girl(); 12]), [Asked::Babies]);
}

#[test]
fn a_weight_is_believed_from_300_to_6500_grams() {
    for (grams, fault) in [(299, true), (300, false), (6500, false), (6501, true)] {
        let baby = Newborn {
            weight_g: Some(grams),
            ..a_girl()
        };
        assert_eq!(!faults(vec![baby]).is_empty(), fault, "{grams} g");
    }
}

#[test]
fn a_macerated_baby_cannot_have_lived() {
    let macerated = Newborn {
        state: NewbornState::StillbornMacerated,
        apgar_1: None,
        apgar_5: Some(0),
        ..a_girl()
    };
    assert_eq!(faults(vec![macerated.clone()]), []);
    let signs_of_life = [
        Newborn {
            apgar_1: Some(1),
            ..macerated.clone()
        },
        Newborn {
            died: true,
            ..macerated.clone()
        },
        Newborn {
            seen_alive_on: Some(day("10-02")),
            ..macerated
        },
    ];
    for baby in signs_of_life {
        assert_eq!(faults(vec![baby]), [Asked::Baby(1, "state")]);
    }
}

#[test]
fn a_death_stands_between_the_birth_and_today() {
    let died = |on: &str, moment: Option<Moment>| {
        faults(vec![Newborn {
            died: true,
            died_on: Some(day(on)),
            died_at: moment,
            ..a_girl()
        }])
    };
    assert_eq!(died("10-01", at("10-01T20:00")), []);
    assert_eq!(
        died("10-01", at("10-01T19:59")),
        [Asked::Baby(1, "died_on")]
    );
    assert_eq!(died("09-30", None), [Asked::Baby(1, "died_on")]);
    assert_eq!(died("10-10", None), [Asked::Baby(1, "died_on")]);
    let unknown = Newborn {
        died: true,
        ..a_girl()
    };
    assert_eq!(
        faults(vec![unknown]),
        [],
        "a death without a date is a loose end, not an error"
    );
}

#[test]
fn the_second_twin_is_not_before_the_first_and_nobody_is_born_tomorrow() {
    let later = Newborn {
        born_at: at("10-01T20:20"),
        ..a_girl()
    };
    assert_eq!(faults(vec![a_girl(), later.clone()]), []);
    assert_eq!(faults(vec![later, a_girl()]), [Asked::Baby(2, "born_time")]);
    let tomorrow = Newborn {
        born_on: day("10-10"),
        born_at: None,
        ..a_girl()
    };
    assert_eq!(faults(vec![tomorrow]), [Asked::Baby(1, "born_on")]);
    let before_her_period = Newborn {
        born_on: "2025-12-31".parse().unwrap(),
        born_at: None,
        ..a_girl()
    };
    assert_eq!(faults(vec![before_her_period]), [Asked::Baby(1, "born_on")]);
}
