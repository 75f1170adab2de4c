//! A birth as a form: the mother's side, and one part for each baby.

use super::baby_form::BabyForm;
use crate::clinical::Day;
use crate::registry::births::{self, BirthRecord, Bounds, MOST_BABIES};
use crate::registry::{MotherOutcome, Onset, PregnancyId};
use crate::web::form::{Asked as _, Fault, Faults, Field, Form, Opt, Sense, Typed, parse};

/// What a button of the form asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Pressed {
    Save,
    AddBaby,
    /// The place of the baby to take out, from 1.
    RemoveBaby(usize),
}

/// What was typed of a birth.
#[derive(Debug, Clone)]
pub(crate) struct BirthForm {
    pub(super) pregnancy: Field<PregnancyId>,
    pub(super) request: Field<String>,
    pub(super) revision: Field<i32>,
    pub(super) onset: Field<Onset>,
    pub(super) mother: Field<MotherOutcome>,
    pub(super) mother_died_on: Field<Day>,
    pub(super) note: Field<String>,
    pub(super) reason: Field<String>,
    pub(super) babies: Vec<BabyForm>,
    /// How many there are.
    pub(super) count: Field<usize>,
    pub(super) pressed: Pressed,
}

impl Form for BirthForm {
    fn read(typed: &Typed, sense: &Sense) -> Self {
        let mut count = Field::read(typed, "babies", "Babies", |text| {
            let number: usize = text
                .parse()
                .map_err(|_| "are counted in whole numbers".to_owned())?;
            if (1..=MOST_BABIES).contains(&number) {
                Ok(number)
            } else {
                Err(format!("{number} is outside 1 to {MOST_BABIES}"))
            }
        });
        let babies = count.value.unwrap_or(1);
        let removed = typed.last("remove").parse().ok();
        let pressed = if typed.has("add") {
            Pressed::AddBaby
        } else if let Some(place) = removed {
            Pressed::RemoveBaby(place)
        } else {
            Pressed::Save
        };
        if pressed == Pressed::AddBaby && babies == MOST_BABIES {
            count.refuse(format!("a birth has at most {MOST_BABIES}"));
        }
        Self {
            pregnancy: Field::read(
                typed,
                "pregnancy",
                "Pregnancy",
                parse::as_said("is not known here"),
            ),
            request: Field::read(typed, "request", "Request", parse::line(64)),
            revision: Field::read(typed, "revision", "Revision", parse::whole(1..=i32::MAX)),
            onset: Field::code(typed, "onset", "Labour began").needed("choose one, or “not known”"),
            mother: Field::code(typed, "mother", "Mother now").needed("choose one, or “not known”"),
            mother_died_on: Field::read(typed, "mother_died_on", "She died on", parse::day),
            note: Field::read(
                typed,
                "note",
                "Anything the midwife should know",
                parse::lines(1000),
            ),
            reason: Field::read(typed, "reason", "Why it is amended", parse::lines(500)),
            babies: (1..=babies)
                .map(|place| BabyForm::read(typed, place, sense))
                .collect(),
            count,
            pressed,
        }
    }

    fn faults(&self) -> Faults {
        let mut all: Vec<Fault> = Vec::new();
        all.extend(self.onset.faults());
        all.extend(self.mother.faults());
        all.extend(self.mother_died_on.faults());
        all.extend(self.count.faults().into_iter().map(|fault| Fault {
            anchor: "babies".to_owned(),
            ..fault
        }));
        all.extend(self.babies.iter().flat_map(BabyForm::faults));
        all.extend(self.note.faults());
        all.extend(self.reason.faults());
        Faults(all)
    }
}

impl BirthForm {
    /// Empty, one baby, born today.
    pub(super) fn blank(sense: &Sense) -> Self {
        let mut form = Self::read(&Typed::default(), sense);
        let today = sense.today().format("%Y-%m-%d").to_string();
        form.babies = vec![BabyForm::blank(1, &today, sense)];
        form
    }

    /// With what a record holds.
    pub(super) fn holding(record: &BirthRecord, sense: &Sense) -> Self {
        let mut pairs = vec![
            ("onset".to_owned(), record.onset.code().to_owned()),
            ("mother".to_owned(), record.mother_outcome.code().to_owned()),
            ("babies".to_owned(), record.newborns.len().to_string()),
        ];
        let day = |day: Day| day.format("%Y-%m-%d").to_string();
        pairs.extend(
            record
                .mother_died_on
                .map(|it| ("mother_died_on".to_owned(), day(it))),
        );
        pairs.extend(record.note.clone().map(|it| ("note".to_owned(), it)));
        for (place, baby) in (1..).zip(&record.newborns) {
            pairs.extend(BabyForm::holding(place, baby, sense));
        }
        Self::read(&pairs.into_iter().collect(), sense)
    }

    /// Adds a baby, or takes one out; everything typed is kept, nothing is judged.
    pub(super) fn rebuilt(&self, sense: &Sense) -> Self {
        let removed = match self.pressed {
            Pressed::RemoveBaby(place) if self.babies.len() > 1 => Some(place),
            _ => None,
        };
        let kept: Vec<_> = self
            .babies
            .iter()
            .filter(|baby| Some(baby.place_in_birth) != removed)
            .collect();
        let mut pairs: Vec<(String, String)> = Vec::new();
        for (place, baby) in (1..).zip(&kept) {
            pairs.extend(baby.moved(place));
        }
        let typed: Typed = pairs.into_iter().collect();
        let mut form = self.clone();
        form.onset.fault = None;
        form.mother.fault = None;
        form.mother_died_on.fault = None;
        form.note.fault = None;
        form.reason.fault = None;
        form.babies = (1..=kept.len())
            .map(|place| BabyForm::read(&typed, place, sense))
            .collect();
        form.babies.iter_mut().for_each(BabyForm::unjudged);
        if self.pressed == Pressed::AddBaby && form.babies.len() < MOST_BABIES {
            let day = form.babies.last().map(|baby| baby.day.typed.clone());
            let place = form.babies.len() + 1;
            let blank = BabyForm::blank(place, &day.unwrap_or_default(), sense);
            form.babies.push(blank);
        }
        form
    }

    /// What it says so far; what is at fault or open counts as not known.
    pub(super) fn record(&self, sense: &Sense) -> BirthRecord {
        BirthRecord {
            onset: self.onset.value.unwrap_or(Onset::Unknown),
            mother_outcome: self.mother.value.unwrap_or(MotherOutcome::Unknown),
            mother_died_on: self.mother_died_on.value,
            note: self.note.value.clone(),
            newborns: self.babies.iter().map(|baby| baby.newborn(sense)).collect(),
        }
    }

    /// Puts every contradiction beside its field.
    pub(super) fn judge(&mut self, last_period: Option<Day>, sense: &Sense) {
        let bounds = Bounds {
            today: sense.today(),
            now: sense.now,
            last_period,
        };
        for fault in self.record(sense).contradictions(&bounds) {
            match fault.asked {
                births::Asked::Babies => self.count.refuse(fault.words),
                births::Asked::MotherDiedOn => self.mother_died_on.refuse(fault.words),
                births::Asked::Baby(place, field) => {
                    if let Some(baby) = self.babies.get_mut(place - 1) {
                        baby.refuse(field, fault.words);
                    }
                }
            }
        }
    }

    pub(super) fn onsets(&self) -> Vec<Opt> {
        Opt::every::<Onset>()
    }

    pub(super) fn outcomes(&self) -> Vec<Opt> {
        Opt::every::<MotherOutcome>()
    }
}
