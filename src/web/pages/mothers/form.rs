//! Who she is: asked when she is registered and when her facts are amended.

use chrono::Datelike as _;

use crate::clinical::Day;
use crate::registry::mothers::{Born, Mother, Person};
use crate::web::form::{Faults, Field, Opt, Typed, parse};
use crate::web::pages::pregnancies::phone;

const NAME: usize = 80;
const VILLAGE: usize = 80;
const YOUNGEST: i32 = 8;
const OLDEST: i32 = 60;

/// The questions about a mother.
pub(crate) struct MotherForm {
    pub(crate) name: Field<String>,
    pub(crate) birth_year: Field<i32>,
    pub(crate) age_years: Field<i32>,
    pub(crate) village: Field<String>,
    pub(crate) phone: Field<String>,
    pub(crate) may_phone: Field<bool>,
}

impl MotherForm {
    /// Reads the answers; `today` is the day at the post.
    pub(crate) fn read(typed: &Typed, today: Day) -> Self {
        let mut form = Self {
            name: Field::read(typed, "name", "Full name", parse::line(NAME))
                .needed("write the name she goes by"),
            birth_year: Field::read(typed, "birth_year", "Year of birth", |text| {
                year(text, today.year())
            }),
            age_years: Field::read(typed, "age_years", "Age", parse::whole(YOUNGEST..=OLDEST)),
            village: Field::read(typed, "village", "Village", parse::line(VILLAGE)),
            phone: Field::read(typed, "phone", "Phone", phone),
            may_phone: Field::choice(
                typed,
                "may_phone",
                "May the post phone her there?",
                &Opt::yes_no(),
                parse::yes_no,
            ),
        };
        if form.age_years.typed.trim().is_empty() {
            form.birth_year = form
                .birth_year
                .needed("give the year, or an age; a guess will do");
        }
        form.look_together(today.year());
        form
    }

    fn look_together(&mut self, this_year: i32) {
        if let (Some(born), Some(age)) = (self.birth_year.value, self.age_years.value) {
            let most = this_year - born;
            if !(most - 1..=most).contains(&age) {
                self.age_years.refuse(format!(
                    "born in {born} she is {} or {most}; correct one of the two, or empty one",
                    most - 1
                ));
            }
        }
    }

    /// What she told, once nothing is at fault; `today` is the day she told her age.
    pub(crate) fn person(&self, today: Day) -> Person {
        let age = self.age_years.value.and_then(|age| u8::try_from(age).ok());
        let by_age = age.map(|years| Born::Age {
            years,
            told_on: today,
        });
        Person {
            name: self.name.value.clone().unwrap_or_default(),
            village: self.village.value.clone(),
            phone: self.phone.value.clone(),
            may_phone: self.may_phone.value,
            born: self
                .birth_year
                .value
                .map(Born::Year)
                .or(by_age)
                .unwrap_or(Born::Unknown),
        }
    }

    /// These questions with what the register has.
    pub(crate) fn holding(mother: &Mother, today: Day) -> Self {
        let (year, age) = match mother.born() {
            Born::Year(year) => (year.to_string(), String::new()),
            Born::Age { .. } => (
                String::new(),
                mother
                    .age_on(today)
                    .map(|age| age.to_string())
                    .unwrap_or_default(),
            ),
            Born::Unknown => (String::new(), String::new()),
        };
        let may_phone = mother
            .may_phone
            .map(|may| may.to_string())
            .unwrap_or_default();
        let pairs = [
            ("name", mother.name.as_str()),
            ("birth_year", &year),
            ("age_years", &age),
            ("village", mother.village.as_deref().unwrap_or_default()),
            ("phone", mother.phone.as_deref().unwrap_or_default()),
            ("may_phone", &may_phone),
        ];
        Self::read(&pairs.into_iter().collect(), today)
    }

    /// A fault that the registry found; given back when the field is not one of these.
    pub(crate) fn refuse(&mut self, field: &str, why: &str) -> bool {
        match field {
            "name" => self.name.refuse(why),
            "birth_year" => self.birth_year.refuse(why),
            "age_years" => self.age_years.refuse(why),
            "village" => self.village.refuse(why),
            "phone" => self.phone.refuse(why),
            _ => return false,
        }
        true
    }

    /// Every fault, in the order of the page.
    pub(crate) fn faults(&self) -> Faults {
        Faults::of(&[
            &self.name,
            &self.birth_year,
            &self.age_years,
            &self.village,
            &self.phone,
            &self.may_phone,
        ])
    }
}

fn year(text: &str, this_year: i32) -> Result<i32, String> {
    let born: i32 = text
        .parse()
        .map_err(|_| "write four figures, such as 1998".to_owned())?;
    let age = this_year - born;
    if !(1000..=9999).contains(&born) {
        return Err("write four figures, such as 1998".to_owned());
    }
    match age {
        YOUNGEST..=OLDEST => Ok(born),
        ..0 => Err(format!(
            "{born} has not come yet; write four figures, or give an age instead"
        )),
        _ => Err(format!(
            "{born} makes her {age} years old; write four figures, or give an age instead"
        )),
    }
}
