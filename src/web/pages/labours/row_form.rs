//! One row of the labour record as a form: only what was examined is kept.

use crate::clinical::{
    DangerSign, Deceleration, FeltInside, LabourRow, Liquor, ObstructionSign, Occiput, Protein,
};
use crate::registry::labours::NewRow;
use crate::web::form::{Choices, Faults, Field, Opt, Sense, Typed, When, parse};

/// Letters of a note.
pub(super) const MOST_NOTE: usize = 500;

/// Every question about one row; all may stay open but the time.
#[derive(Debug, Clone)]
pub(crate) struct RowForm {
    pub(crate) at: When,
    pub(crate) fetal_heart: Field<i32>,
    pub(crate) second_heart: Field<i32>,
    pub(crate) heart_sought: Field<bool>,
    pub(crate) contractions_in_10_min: Field<i32>,
    pub(crate) contraction_seconds: Field<i32>,
    pub(crate) fifths: Field<i32>,
    pub(crate) dilatation_cm: Field<i32>,
    pub(crate) liquor: Field<Liquor>,
    pub(crate) liquor_foul: Field<bool>,
    pub(crate) moulding: Field<i32>,
    pub(crate) caput: Field<i32>,
    pub(crate) felt_inside: Field<FeltInside>,
    pub(crate) occiput: Field<Occiput>,
    pub(crate) pulse: Field<i32>,
    pub(crate) systolic: Field<i32>,
    pub(crate) diastolic: Field<i32>,
    pub(crate) temperature_c: Field<i32>,
    pub(crate) urine_protein: Field<Protein>,
    pub(crate) danger_signs: Choices<DangerSign>,
    pub(crate) obstruction_signs: Choices<ObstructionSign>,
    pub(crate) deceleration: Field<Deceleration>,
    pub(crate) pushing: Field<bool>,
    pub(crate) note: Field<String>,
}

/// Codes `0` to `most` as choices.
pub(super) fn counted(most: u8) -> Vec<Opt> {
    (0..=most)
        .map(|number| Opt::new(number.to_string(), number.to_string()))
        .collect()
}

impl RowForm {
    /// With the time of now in its boxes.
    pub(crate) fn blank(sense: &Sense) -> Self {
        let mut form = Self::read(&Typed::default(), sense);
        form.at = When::holding("at", "Time of the row", sense.now, sense);
        form
    }

    /// With what an earlier row holds.
    pub(crate) fn holding(row: &NewRow, sense: &Sense) -> Self {
        let found = &row.found;
        let mut pairs: Vec<(&str, String)> = Vec::new();
        let mut put = |name, value: Option<String>| pairs.extend(value.map(|value| (name, value)));
        put("fetal_heart", found.fetal_hearts.first().map(u8::to_string));
        put("second_heart", found.fetal_hearts.get(1).map(u8::to_string));
        let unheard = found.heart_sought.filter(|_| found.fetal_hearts.is_empty());
        put("heart_sought", unheard.map(|sought| sought.to_string()));
        put(
            "contractions_in_10_min",
            found.contractions_in_10_min.map(|it| it.to_string()),
        );
        put(
            "contraction_seconds",
            found.contraction_seconds.map(|it| it.to_string()),
        );
        put("fifths", found.fifths.map(|it| it.to_string()));
        put(
            "dilatation_cm",
            found.dilatation_cm.map(|it| it.to_string()),
        );
        put("liquor", found.liquor.map(|it| it.code().to_owned()));
        put(
            "liquor_foul",
            found
                .liquor_foul
                .filter(|foul| *foul)
                .map(|it| it.to_string()),
        );
        put("moulding", found.moulding.map(|it| it.to_string()));
        put("caput", found.caput.map(|it| it.to_string()));
        put(
            "felt_inside",
            found.felt_inside.map(|it| it.code().to_owned()),
        );
        put("occiput", found.occiput.map(|it| it.code().to_owned()));
        put("pulse", found.pulse.map(|it| it.to_string()));
        put("systolic", found.systolic.map(|it| it.to_string()));
        put("diastolic", found.diastolic.map(|it| it.to_string()));
        put(
            "temperature_c",
            found
                .temperature_tenths
                .map(|it| parse::in_tenths(i32::from(it))),
        );
        put(
            "urine_protein",
            found.urine_protein.map(|it| it.code().to_owned()),
        );
        put(
            "deceleration",
            found.deceleration.map(|it| it.code().to_owned()),
        );
        put("pushing", found.pushing.map(|it| it.to_string()));
        put("note", row.note.clone());
        for sign in &found.danger_signs {
            put("danger_signs", Some(sign.code().to_owned()));
        }
        for sign in &found.obstruction_signs {
            put("obstruction_signs", Some(sign.code().to_owned()));
        }
        let typed = Typed::from_iter(pairs);
        let mut form = Self::read(&typed, sense);
        form.at = When::holding("at", "Time of the row", found.at, sense);
        form
    }

    /// Reads every question and looks at the answers together.
    pub(crate) fn read(typed: &Typed, sense: &Sense) -> Self {
        let whole = |name, label, range| Field::read(typed, name, label, parse::whole(range));
        let counted = |name, label, most: u8| {
            Field::choice(
                typed,
                name,
                label,
                &counted(most),
                parse::whole(0..=i32::from(most)),
            )
        };
        let mut form = Self {
            at: When::read(typed, "at", "Time of the row", sense)
                .needed("write when it was")
                .past(sense),
            fetal_heart: whole("fetal_heart", "Fetal heart", 30..=250),
            second_heart: whole("second_heart", "Second heart", 30..=250),
            heart_sought: Field::choice(
                typed,
                "heart_sought",
                "Fetal heart",
                &Opt::yes_no()[..1],
                parse::yes_no,
            ),
            contractions_in_10_min: whole("contractions_in_10_min", "Contractions", 0..=15),
            contraction_seconds: whole("contraction_seconds", "Each lasts", 0..=300),
            fifths: counted("fifths", "Fifths above the brim", 5),
            dilatation_cm: counted("dilatation_cm", "Dilatation", 10),
            liquor: Field::code(typed, "liquor", "Liquor"),
            liquor_foul: Field::choice(
                typed,
                "liquor_foul",
                "Liquor",
                &Opt::yes_no()[..1],
                parse::yes_no,
            ),
            moulding: counted("moulding", "Moulding", 3),
            caput: counted("caput", "Caput", 3),
            felt_inside: Field::code(typed, "felt_inside", "What presents"),
            occiput: Field::code(typed, "occiput", "Back of the head"),
            pulse: whole("pulse", "Pulse", 20..=250),
            systolic: whole("systolic", "Systolic", 40..=280),
            diastolic: whole("diastolic", "Diastolic", 20..=180),
            temperature_c: Field::read(
                typed,
                "temperature_c",
                "Temperature",
                parse::tenths(300..=430),
            ),
            urine_protein: Field::code(typed, "urine_protein", "Protein in urine"),
            danger_signs: Choices::read(typed, "danger_signs", "Danger signs"),
            obstruction_signs: Choices::read(typed, "obstruction_signs", "Signs of obstruction"),
            deceleration: Field::code(typed, "deceleration", "Heart after a contraction"),
            pushing: Field::choice(typed, "pushing", "Pushing", &Opt::yes_no(), parse::yes_no),
            note: Field::read(typed, "note", "Note", parse::lines(MOST_NOTE)),
        };
        form.look_at_answers_together();
        form
    }

    fn look_at_answers_together(&mut self) {
        if let (Some(systolic), Some(diastolic)) = (self.systolic.value, self.diastolic.value)
            && diastolic >= systolic
        {
            self.diastolic
                .refuse(format!("{diastolic} is not below the systolic {systolic}"));
        }
        if self.heart_sought.value.is_some() && self.fetal_heart.value.is_some() {
            self.heart_sought
                .refuse("“looked for, not heard” and a count cannot both be");
        }
        if self.second_heart.value.is_some() && self.fetal_heart.typed.trim().is_empty() {
            self.second_heart
                .refuse("write the first heart too, or this one there");
        }
    }

    pub(crate) fn faults(&self) -> Faults {
        Faults::of(&[
            &self.fetal_heart,
            &self.heart_sought,
            &self.contractions_in_10_min,
            &self.contraction_seconds,
            &self.at,
            &self.second_heart,
            &self.fifths,
            &self.dilatation_cm,
            &self.liquor,
            &self.liquor_foul,
            &self.moulding,
            &self.caput,
            &self.felt_inside,
            &self.occiput,
            &self.pulse,
            &self.systolic,
            &self.diastolic,
            &self.temperature_c,
            &self.urine_protein,
            &self.danger_signs,
            &self.obstruction_signs,
            &self.deceleration,
            &self.pushing,
            &self.note,
        ])
    }

    /// The row, when nothing is at fault and its time is given.
    pub(crate) fn row(&self) -> Option<NewRow> {
        if !self.faults().is_empty() {
            return None;
        }
        let mut found = LabourRow::at(self.at.value?);
        let hearts = [self.fetal_heart.value, self.second_heart.value];
        found.fetal_hearts = hearts
            .iter()
            .flatten()
            .filter_map(|it| u8::try_from(*it).ok())
            .collect();
        found.heart_sought = self.heart_sought.value;
        found.systolic = small(self.systolic.value);
        found.diastolic = small(self.diastolic.value);
        found.pulse = small(self.pulse.value);
        found.temperature_tenths = small(self.temperature_c.value);
        found.urine_protein = self.urine_protein.value;
        found.danger_signs.clone_from(&self.danger_signs.values);
        found.dilatation_cm = small(self.dilatation_cm.value);
        found.fifths = small(self.fifths.value);
        found.felt_inside = self.felt_inside.value;
        found.occiput = self.occiput.value;
        found.moulding = small(self.moulding.value);
        found.caput = small(self.caput.value);
        found.liquor = self.liquor.value;
        found.liquor_foul = self.liquor_foul.value;
        found.deceleration = self.deceleration.value;
        found.contractions_in_10_min = small(self.contractions_in_10_min.value);
        found.contraction_seconds = small(self.contraction_seconds.value);
        found.pushing = self.pushing.value;
        found
            .obstruction_signs
            .clone_from(&self.obstruction_signs.values);
        Some(NewRow {
            counted_together: found.fetal_hearts.len() > 1,
            found,
            note: self.note.value.clone(),
        })
    }
}

/// What the range of its field lets in fits the smaller kind.
fn small<T: TryFrom<i32>>(value: Option<i32>) -> Option<T> {
    value.and_then(|value| T::try_from(value).ok())
}
