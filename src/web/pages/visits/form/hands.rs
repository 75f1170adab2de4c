//! What the hands felt, as typed.

use super::{Shape, tick, whole};
use crate::clinical::{Front, Head, PalpationFindings, Pole, Side, Vocabulary, palpation_faults};
use crate::web::form::{Asked, Field, Typed};

/// Five places, the descent of a head, and two signs of more than one baby.
pub(crate) struct Hands {
    pub(in crate::web::pages::visits) fundus: Field<Pole>,
    pub(in crate::web::pages::visits) right: Field<Side>,
    pub(in crate::web::pages::visits) left: Field<Side>,
    pub(in crate::web::pages::visits) front: Field<Front>,
    pub(in crate::web::pages::visits) lower: Field<Pole>,
    pub(in crate::web::pages::visits) fifths: Field<u8>,
    pub(in crate::web::pages::visits) head: Field<Head>,
    pub(in crate::web::pages::visits) many_small_parts: Field<bool>,
    pub(in crate::web::pages::visits) belly_unusually_large: Field<bool>,
}

const NO_HEAD: &str = "describes a head, and the lower pole is not hard and round. Change one of the two, or choose “Not examined”";

impl Hands {
    pub(super) fn read(typed: &Typed, shape: Shape) -> Self {
        let fifths = Field::read(typed, "fifths", "Fifths above the brim", whole(0..=5));
        let shown = fifths
            .value
            .map_or_else(|| "5".to_owned(), |it: u8| it.to_string());
        let mut hands = Self {
            fundus: Field::code(typed, "fundus", "Fundus"),
            right: Field::code(typed, "right", "Her right side"),
            left: Field::code(typed, "left", "Her left side"),
            front: Field::code(typed, "front", "Front"),
            lower: Field::code(typed, "lower", "Lower pole"),
            fifths: fifths.first_choice(&shown),
            head: Field::code(typed, "head", "The head is"),
            many_small_parts: tick(typed, "many_small_parts", "Many small parts"),
            belly_unusually_large: tick(typed, "belly_unusually_large", "Unusually large"),
        };
        if shape == Shape::List {
            hands = hands.in_lists();
        }
        hands.head_over_brim();
        hands
    }

    fn in_lists(self) -> Self {
        Self {
            fundus: self.fundus.in_list(),
            right: self.right.in_list(),
            left: self.left.in_list(),
            front: self.front.in_list(),
            lower: self.lower.in_list(),
            fifths: self.fifths.in_list(),
            head: self.head.in_list(),
            ..self
        }
    }

    /// Fifths and mobility are of a head over the brim; each is named, so that one look mends both.
    fn head_over_brim(&mut self) {
        if self.lower.fault.is_some() || palpation_faults(&self.felt()).is_ok() {
            return;
        }
        if self.fifths.value.is_some() {
            self.fifths.refuse(NO_HEAD);
        }
        if self.head.value.is_some() {
            self.head.refuse(NO_HEAD);
        }
    }

    fn felt(&self) -> PalpationFindings {
        PalpationFindings {
            fundus: self.fundus.value,
            left: self.left.value,
            right: self.right.value,
            front: self.front.value,
            lower: self.lower.value,
            fifths: self.fifths.value,
            head: self.head.value,
            many_small_parts: self.many_small_parts.value,
            belly_unusually_large: self.belly_unusually_large.value,
        }
    }

    pub(super) fn palpation(&self) -> Option<PalpationFindings> {
        Some(self.felt()).filter(|felt| *felt != PalpationFindings::default())
    }

    pub(super) fn asked(&self) -> [&dyn Asked; 9] {
        [
            &self.fundus,
            &self.right,
            &self.left,
            &self.front,
            &self.lower,
            &self.fifths,
            &self.head,
            &self.many_small_parts,
            &self.belly_unusually_large,
        ]
    }

    pub(super) fn refuse(&mut self, name: &str, why: &str) -> bool {
        match name {
            "fundus" => self.fundus.refuse(why),
            "right" => self.right.refuse(why),
            "left" => self.left.refuse(why),
            "front" => self.front.refuse(why),
            "lower" => self.lower.refuse(why),
            "fifths" => self.fifths.refuse(why),
            "head" => self.head.refuse(why),
            _ => return false,
        }
        true
    }

    /// As a form with these findings would send them.
    pub(super) fn pairs(felt: Option<&PalpationFindings>) -> Vec<(String, String)> {
        let Some(felt) = felt else {
            return Vec::new();
        };
        let yes = |it: Option<bool>| it.filter(|yes| *yes).map(|_| "true".to_owned());
        let all = [
            ("fundus", code(felt.fundus)),
            ("right", code(felt.right)),
            ("left", code(felt.left)),
            ("front", code(felt.front)),
            ("lower", code(felt.lower)),
            ("fifths", felt.fifths.map(|it| it.to_string())),
            ("head", code(felt.head)),
            ("many_small_parts", yes(felt.many_small_parts)),
            ("belly_unusually_large", yes(felt.belly_unusually_large)),
        ];
        given(all)
    }
}

/// The code of an answer that was given.
pub(super) fn code<T: Vocabulary>(value: Option<T>) -> Option<String> {
    value.map(|it| it.code().to_owned())
}

/// Only the answers that were given.
pub(super) fn given<const N: usize>(all: [(&str, Option<String>); N]) -> Vec<(String, String)> {
    all.into_iter()
        .filter_map(|(name, text)| Some((name.to_owned(), text?)))
        .collect()
}
