//! What the hospital answers: an arrival nobody knew, a second answer, and that she never came.

use brimline::registry::answers::{self, NewAnswer};
use brimline::registry::referrals::NewStep;
use brimline::registry::{AnswerWay, ReferralEvent, ReferralId, ReferralState, RegistryError};

use crate::house::{House, at};

fn answer() -> NewAnswer {
    NewAnswer {
        arrived: true,
        arrived_at: None,
        seen_at: None,
        at: Some(at("2026-10-02T11:00")),
        way: AnswerWay::Phone,
        diagnosis: None,
        treatment: Some("Caesarean".into()),
        mother_outcome: None,
        baby_outcome: None,
        follow_up: None,
        given_by: Some("Duty doctor".into()),
        given_on: None,
        request: None,
    }
}

impl House {
    fn answers(&self, id: ReferralId, new: &NewAnswer) -> Result<(), RegistryError> {
        let revision = self.facts(id).referral.revision;
        self.nurse("2026-10-02T11:05", |change| {
            answers::record(change, id, revision, new)
        })
    }
}

#[test]
fn an_answer_fills_an_arrival_that_nobody_knew_and_a_second_one_is_added() {
    let house = House::new();
    let (_, id) = house.referred();
    house
        .steps(
            &house.nurse,
            id,
            "2026-10-01T12:00",
            &NewStep::at(ReferralEvent::Arrived, None),
        )
        .unwrap();
    let told = NewAnswer {
        arrived_at: Some(at("2026-10-01T10:10")),
        seen_at: Some(at("2026-10-01T10:30")),
        ..answer()
    };
    house.answers(id, &told).unwrap();
    let facts = house.facts(id);
    assert_eq!(facts.referral.state, ReferralState::Answered);
    assert_eq!(
        facts.step(ReferralEvent::Arrived).unwrap().at,
        Some(at("2026-10-01T10:10"))
    );
    assert_eq!(
        facts.step(ReferralEvent::Seen).unwrap().at,
        Some(at("2026-10-01T10:30"))
    );
    let second = NewAnswer {
        way: AnswerWay::Paper,
        ..answer()
    };
    house.answers(id, &second).unwrap();
    assert_eq!(house.read(|db| answers::of(db, id)).len(), 2);
}

#[test]
fn an_answer_says_something_or_that_she_never_came() {
    let house = House::new();
    let (_, id) = house.referred();
    let empty = NewAnswer {
        treatment: None,
        ..answer()
    };
    assert!(matches!(
        house.answers(id, &empty),
        Err(RegistryError::RefusedField {
            field: "diagnosis",
            ..
        })
    ));
    let never = NewAnswer {
        arrived: false,
        treatment: None,
        ..answer()
    };
    house.answers(id, &never).unwrap();
    assert_eq!(house.state(id), ReferralState::NotArrived);
}
