//! The letter on one A4 side, black on white, with an answer part to write on.

use askama::Template;

use super::super::hers::moment;
use crate::clinical::read_palpation;
use crate::registry::referrals::{self, LetterFacts};
use crate::registry::{ReferralId, RegistryError};
use crate::reporting::letter::{Lacking, Letter};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::charts::{Drawing, abdomen};
use crate::web::form::Sense;
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::state::House;

#[derive(Template)]
#[template(path = "letter/print.html")]
struct LetterPage {
    shell: Shell,
    id: ReferralId,
    letter: Letter,
    /// What the hands felt last.
    felt: Option<Felt>,
}

struct Felt {
    drawing: Drawing,
    words: String,
    when: String,
}

impl Felt {
    fn last(facts: &LetterFacts) -> Option<Self> {
        let visits = facts.case.visits.iter();
        let examined = visits.filter(|visit| visit.at <= facts.case.on);
        let (at, felt, conclusion) = examined
            .filter_map(|visit| {
                let felt = visit.palpation.as_ref()?;
                Some((visit.at, felt, read_palpation(felt)?))
            })
            .max_by_key(|(at, ..)| *at)?;
        Some(Self {
            drawing: abdomen::draw_small("felt", felt, Some(&conclusion)),
            words: abdomen::words(felt, Some(&conclusion)).sentence,
            when: moment(&facts.post, at),
        })
    }
}

#[derive(Template)]
#[template(path = "letter/lacking.html")]
struct LackingPage {
    shell: Shell,
    id: ReferralId,
    number: String,
    lacking: Vec<Lacking>,
}

impl LackingPage {
    /// Where what is missing is filled in.
    fn way(&self, lacking: &Lacking) -> (String, &'static str) {
        match lacking {
            Lacking::Hospital => (
                format!("/referrals/{}", self.id),
                "Refer her again to a hospital of the list",
            ),
            Lacking::Reason => (
                format!("/referrals/{}", self.id),
                "Refer her again with a reason",
            ),
            Lacking::Sender => (
                "/account".to_owned(),
                "Ask the keeper to write the sender’s name",
            ),
        }
    }
}

/// `GET /referrals/{id}/letter`
pub(in crate::web) async fn show(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<ReferralId>,
) -> Answer {
    let (post, now) = (carer.post.id, sense.now);
    let facts = house
        .read(move |db| {
            let facts = referrals::letter(db, post, id, now)?;
            if facts.about.referral.entered_in_error {
                return Err(RegistryError::refused(
                    "This referral was entered in error; it has no letter.",
                ));
            }
            Ok(facts)
        })
        .await?;
    match Letter::of(&facts, now) {
        Ok(letter) => answer::page(&LetterPage {
            shell,
            id,
            letter,
            felt: Felt::last(&facts),
        }),
        Err(lacking) => {
            let number = facts.about.referral.number;
            answer::refused(&LackingPage {
                shell,
                id,
                number,
                lacking,
            })
        }
    }
}
