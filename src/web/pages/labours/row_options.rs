//! What may be chosen in a row, in the words of the bedside; and which folded parts hold a fault.

use super::row_form::{RowForm, counted};
use crate::clinical::{
    DangerSign, Deceleration, FeltInside, Liquor, ObstructionSign, Occiput, Protein,
};
use crate::web::form::Opt;

impl RowForm {
    pub(crate) fn fifths_options(&self) -> Vec<Opt> {
        counted(5).into_iter().rev().collect()
    }

    pub(crate) fn dilatation_options(&self) -> Vec<Opt> {
        counted(10)
    }

    pub(crate) fn liquor_options(&self) -> Vec<Opt> {
        Opt::every::<Liquor>()
    }

    pub(crate) fn moulding_options(&self) -> Vec<Opt> {
        ["0 apart", "1 touch", "2 overlap", "3 fixed"]
            .iter()
            .enumerate()
            .map(|(grade, words)| Opt::new(grade.to_string(), *words))
            .collect()
    }

    pub(crate) fn caput_options(&self) -> Vec<Opt> {
        ["0", "+", "++", "+++"]
            .iter()
            .enumerate()
            .map(|(grade, words)| Opt::new(grade.to_string(), *words))
            .collect()
    }

    pub(crate) fn felt_options(&self) -> Vec<Opt> {
        Opt::every::<FeltInside>()
    }

    pub(crate) fn occiput_options(&self) -> Vec<Opt> {
        Opt::every::<Occiput>()
    }

    pub(crate) fn urine_options(&self) -> Vec<Opt> {
        Opt::every::<Protein>()
    }

    pub(crate) fn danger_options(&self) -> Vec<Opt> {
        Opt::every::<DangerSign>()
    }

    pub(crate) fn obstruction_options(&self) -> Vec<Opt> {
        Opt::every::<ObstructionSign>()
    }

    pub(crate) fn deceleration_options(&self) -> Vec<Opt> {
        Opt::every::<Deceleration>()
    }

    pub(crate) fn pushing_options(&self) -> Vec<Opt> {
        vec![
            Opt::new("true", "She pushes"),
            Opt::new("false", "Not pushing"),
        ]
    }

    pub(crate) fn inside_at_fault(&self) -> bool {
        let whole = [
            &self.fifths,
            &self.dilatation_cm,
            &self.moulding,
            &self.caput,
        ];
        whole.iter().any(|field| field.fault.is_some())
            || self.liquor.fault.is_some()
            || self.liquor_foul.fault.is_some()
            || self.felt_inside.fault.is_some()
            || self.occiput.fault.is_some()
    }

    pub(crate) fn measures_at_fault(&self) -> bool {
        let whole = [
            &self.pulse,
            &self.systolic,
            &self.diastolic,
            &self.temperature_c,
        ];
        whole.iter().any(|field| field.fault.is_some()) || self.urine_protein.fault.is_some()
    }

    pub(crate) fn signs_at_fault(&self) -> bool {
        self.danger_signs.fault.is_some()
            || self.obstruction_signs.fault.is_some()
            || self.deceleration.fault.is_some()
            || self.pushing.fault.is_some()
    }
}
