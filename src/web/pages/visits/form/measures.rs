//! Tape, heart, pressure, pulse, temperature and urine, as typed.

use super::hands::{code, given};
use super::{Shape, tick, whole};
use crate::clinical::{Protein, Visit};
use crate::web::form::{Asked, Field, Typed, parse};
use crate::web::spoken;

/// What was measured and counted.
pub(crate) struct Measures {
    pub(in crate::web::pages::visits) fundal_height_cm: Field<u16>,
    /// At least two boxes, as many as were sent.
    pub(in crate::web::pages::visits) fetal_hearts: Vec<Field<u8>>,
    pub(in crate::web::pages::visits) heart_sought: Field<bool>,
    pub(in crate::web::pages::visits) systolic: Field<u16>,
    pub(in crate::web::pages::visits) diastolic: Field<u16>,
    pub(in crate::web::pages::visits) pulse: Field<u8>,
    pub(in crate::web::pages::visits) temperature_c: Field<u16>,
    pub(in crate::web::pages::visits) urine_protein: Field<Protein>,
}

/// Four people counting at once is the most that the register holds.
const MOST_HEARTS: usize = 4;

impl Measures {
    pub(super) fn read(typed: &Typed, shape: Shape) -> Self {
        let number = |name, label, range| Field::read(typed, name, label, whole(range));
        let protein = Field::code(typed, "urine_protein", "Protein in urine");
        let mut measures = Self {
            fundal_height_cm: Field::read(
                typed,
                "fundal_height_cm",
                "Fundal height",
                tenths(100..=600, " cm"),
            ),
            fetal_hearts: hearts(typed),
            heart_sought: tick(typed, "heart_sought", "Looked for, not heard"),
            systolic: number("systolic", "Systolic", 40..=280),
            diastolic: number("diastolic", "Diastolic", 20..=180),
            pulse: Field::read(typed, "pulse", "Pulse", whole(20..=250)),
            temperature_c: Field::read(
                typed,
                "temperature_c",
                "Temperature",
                tenths(300..=430, " °C"),
            ),
            urine_protein: if shape == Shape::List {
                protein.in_list()
            } else {
                protein
            },
        };
        measures.fit_together();
        measures
    }

    fn fit_together(&mut self) {
        if let (Some(upper), Some(lower)) = (self.systolic.value, self.diastolic.value)
            && lower >= upper
        {
            self.diastolic.refuse(format!(
                "the upper number must be the larger: {upper} over {lower}. Check both"
            ));
        }
        if self.heart_sought.value.is_some()
            && self.fetal_hearts.iter().any(|it| it.value.is_some())
        {
            self.heart_sought
                .refuse("stands beside a count of the heart; take one of the two back");
        }
    }

    pub(super) fn fill(&self, visit: &mut Visit) {
        visit.fundal_height_tenths = self.fundal_height_cm.value;
        visit.fetal_hearts = self.fetal_hearts.iter().filter_map(|it| it.value).collect();
        visit.heart_sought = self.heart_sought.value;
        visit.systolic = self.systolic.value;
        visit.diastolic = self.diastolic.value;
        visit.pulse = self.pulse.value;
        visit.temperature_tenths = self.temperature_c.value;
        visit.urine_protein = self.urine_protein.value;
    }

    pub(super) fn asked(&self) -> Vec<&dyn Asked> {
        let mut asked: Vec<&dyn Asked> = vec![&self.fundal_height_cm];
        asked.extend(self.fetal_hearts.iter().map(|it| it as &dyn Asked));
        let rest: [&dyn Asked; 6] = [
            &self.heart_sought,
            &self.systolic,
            &self.diastolic,
            &self.pulse,
            &self.temperature_c,
            &self.urine_protein,
        ];
        asked.extend(rest);
        asked
    }

    pub(super) fn refuse(&mut self, name: &str, why: &str) -> bool {
        match name {
            "fundal_height_cm" => self.fundal_height_cm.refuse(why),
            "fetal_hearts" => self
                .fetal_hearts
                .iter_mut()
                .take(1)
                .for_each(|it| it.refuse(why)),
            "heart_sought" => self.heart_sought.refuse(why),
            "systolic" => self.systolic.refuse(why),
            "diastolic" => self.diastolic.refuse(why),
            "pulse" => self.pulse.refuse(why),
            "temperature_c" => self.temperature_c.refuse(why),
            "urine_protein" => self.urine_protein.refuse(why),
            _ => return false,
        }
        true
    }

    /// As a form with these findings would send them.
    pub(super) fn pairs(visit: &Visit) -> Vec<(String, String)> {
        let cm = |it: u16| spoken::tenths(i32::from(it));
        let sought = visit
            .heart_sought
            .filter(|yes| *yes && visit.fetal_hearts.is_empty());
        let mut pairs = given([
            ("fundal_height_cm", visit.fundal_height_tenths.map(cm)),
            ("heart_sought", sought.map(|_| "true".to_owned())),
            ("systolic", visit.systolic.map(|it| it.to_string())),
            ("diastolic", visit.diastolic.map(|it| it.to_string())),
            ("pulse", visit.pulse.map(|it| it.to_string())),
            ("temperature_c", visit.temperature_tenths.map(cm)),
            ("urine_protein", code(visit.urine_protein)),
        ]);
        let hearts = visit.fetal_hearts.iter();
        pairs.extend(hearts.map(|it| ("fetal_hearts".to_owned(), it.to_string())));
        pairs
    }
}

/// Several boxes send the same name; each has its own id and its own fault.
fn hearts(typed: &Typed) -> Vec<Field<u8>> {
    let mut texts: Vec<&str> = typed.all("fetal_hearts").collect();
    let too_many = texts.iter().filter(|text| !text.trim().is_empty()).count() > MOST_HEARTS;
    texts.truncate(MOST_HEARTS);
    let boxes = texts.len().max(2);
    let read = |place: usize| {
        let name = format!("fetal_hearts-{}", place + 1);
        let label = match place {
            0 => "Fetal heart",
            1 => "Second heart",
            _ => "A further heart",
        };
        let text = texts.get(place).copied().unwrap_or_default();
        let one: Typed = std::iter::once((name.clone(), text)).collect();
        Field::read(&one, name, label, whole(30..=250))
    };
    let mut fields: Vec<Field<u8>> = (0..boxes).map(read).collect();
    if too_many && let Some(first) = fields.first_mut() {
        first.refuse("more than four counts were sent");
    }
    fields
}

/// A number in tenths with its unit in the message; where a point was forgotten, says so.
fn tenths(
    range: std::ops::RangeInclusive<i32>,
    unit: &'static str,
) -> impl Fn(&str) -> Result<u16, String> {
    move |text| {
        let (least, most) = (*range.start(), *range.end());
        let number = parse::tenths(0..=i32::from(u16::MAX))(text)?;
        if range.contains(&number) {
            return u16::try_from(number).map_err(|_| format!("{text} is out of range"));
        }
        let hint = if range.contains(&(number / 10)) && number > most {
            ". A point may be missing"
        } else {
            ""
        };
        Err(format!(
            "{text} is outside {} to {}{unit}{hint}",
            least / 10,
            most / 10
        ))
    }
}
