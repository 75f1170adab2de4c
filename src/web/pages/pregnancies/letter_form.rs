//! What the letter to the hospital says beside the findings.

use crate::web::form::{Faults, Field, Typed, parse};

/// One line of the letter stays readable up to here.
const LONGEST: usize = 300;

/// Questions for the letter.
pub(crate) struct LetterForm {
    pub(crate) illness: Field<String>,
    pub(crate) allergies: Field<String>,
    pub(crate) medicines: Field<String>,
    pub(crate) blood_group: Field<String>,
    pub(crate) tests: Field<String>,
    pub(crate) companion: Field<String>,
    pub(crate) companion_phone: Field<String>,
}

impl LetterForm {
    pub(super) fn read(typed: &Typed) -> Self {
        let line = |name: &'static str, label: &'static str| {
            Field::read(typed, name, label, parse::line(LONGEST))
        };
        Self {
            illness: line("illness", "Illness"),
            allergies: line("allergies", "Allergies"),
            medicines: line("medicines", "Medicines she takes"),
            blood_group: Field::read(typed, "blood_group", "Blood group", parse::line(20)),
            tests: line("tests", "Tests"),
            companion: Field::read(typed, "companion", "Who goes with her", parse::line(80)),
            companion_phone: Field::read(typed, "companion_phone", "Their phone", phone),
        }
    }

    pub(super) fn faults(&self) -> Faults {
        Faults::of(&[
            &self.illness,
            &self.allergies,
            &self.medicines,
            &self.blood_group,
            &self.tests,
            &self.companion,
            &self.companion_phone,
        ])
    }

    /// A fault that the registry found; false when the field is not one of these.
    pub(super) fn refuse(&mut self, field: &str, why: &str) -> bool {
        match field {
            "illness" => self.illness.refuse(why),
            "allergies" => self.allergies.refuse(why),
            "medicines" => self.medicines.refuse(why),
            "blood_group" => self.blood_group.refuse(why),
            "tests" => self.tests.refuse(why),
            "companion" => self.companion.refuse(why),
            "companion_phone" => self.companion_phone.refuse(why),
            _ => return false,
        }
        true
    }

    /// Whether anything stands here, so that the part is sent open.
    pub(crate) fn has_answers(&self) -> bool {
        let fields = [
            &self.illness,
            &self.allergies,
            &self.medicines,
            &self.blood_group,
            &self.tests,
            &self.companion,
            &self.companion_phone,
        ];
        fields
            .iter()
            .any(|field| !field.typed.is_empty() || field.fault.is_some())
    }
}

/// A number that can be dialled, with a remark whose it is: `0555 0172 (sister)`.
pub(crate) fn phone(text: &str) -> Result<String, String> {
    let line = parse::line(40)(text)?;
    let figures = line.chars().filter(char::is_ascii_digit).count();
    match figures {
        0..3 => Err("has too few figures for a phone".to_owned()),
        3..=18 => Ok(line),
        _ => Err(format!("has {figures} figures; no phone has more than 18")),
    }
}
