//! What dates a pregnancy and what lies behind it: asked when a mother is registered, for a further pregnancy, and when amended.

use super::letter_form::LetterForm;
use super::scan_form::ScanForm;
use crate::clinical::dating::LONGEST_DAYS;
use crate::clinical::{Dating, Day, PastEvent};
use crate::registry::pregnancies::{Facts, Pregnancy};
use crate::web::form::{Choices, Faults, Field, Opt, Typed, parse};
use crate::web::spoken;

/// A period longer ago than this belongs to another pregnancy.
const LONGEST_AGO: i64 = 52 * 7;

/// The days that answers are held against, by the clock of the post.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Days {
    /// Nothing that was told lies after it.
    pub(crate) today: Day,
    /// When the pregnancy was opened; today for a new one. An old one may be amended long after.
    pub(crate) opened: Day,
}

impl Days {
    /// Of a pregnancy that is opened today.
    pub(crate) fn opening(today: Day) -> Self {
        Self {
            today,
            opened: today,
        }
    }

    /// Days from one told day to the opening.
    pub(super) fn since(self, told: Day) -> i64 {
        (self.opened - told).num_days()
    }

    pub(super) fn ago_or_before(self) -> &'static str {
        if self.opened == self.today {
            "ago"
        } else {
            "before this pregnancy was opened"
        }
    }
}

/// The questions about one pregnancy.
pub(crate) struct PregnancyForm {
    pub(crate) lmp: Field<Day>,
    pub(crate) lmp_certain: Field<bool>,
    /// The very day that was asked about and stays.
    pub(crate) lmp_kept: Field<Day>,
    pub(crate) scans: Vec<ScanForm>,
    pub(crate) births_before: Field<i32>,
    pub(crate) previous_caesareans: Field<i32>,
    pub(crate) history: Choices<PastEvent>,
    pub(crate) letter: LetterForm,
}

impl PregnancyForm {
    /// Reads each answer by itself, then those that must agree; by the days at the post.
    pub(crate) fn read(typed: &Typed, days: Days) -> Self {
        let mut form = Self {
            lmp: Field::read(typed, "lmp", "First day of the last period", |text| {
                past_period(text, days)
            }),
            lmp_certain: Field::choice(
                typed,
                "lmp_certain",
                "How sure is that day?",
                &Self::sure_or_not(),
                parse::yes_no,
            ),
            lmp_kept: Field::read(typed, "lmp_kept", "Keep this day", parse::day),
            scans: ScanForm::read_all(typed, days),
            births_before: Field::read(
                typed,
                "births_before",
                "Births before",
                parse::whole(0..=25),
            ),
            previous_caesareans: Field::read(
                typed,
                "previous_caesareans",
                "Of these, caesareans",
                parse::whole(0..=15),
            ),
            history: Choices::read(typed, "history", "Did any of this happen?"),
            letter: LetterForm::read(typed),
        };
        form.look_together(days);
        form
    }

    fn look_together(&mut self, days: Days) {
        if let Some(lmp) = self.lmp.value {
            let ago = days.since(lmp);
            if ago > LONGEST_DAYS && self.lmp_kept.value != Some(lmp) {
                let gestation = spoken::gestation(ago);
                self.lmp.refuse(format!(
                    "{} makes her {gestation} {}, and nobody is; ask again, and if she stays with it tick “Keep this day” and save",
                    spoken::day(lmp),
                    if days.opened == days.today { "today" } else { "when this pregnancy was opened" },
                ));
            }
            for scan in &mut self.scans {
                scan.look_beside_period(lmp);
            }
        }
        let both = (self.births_before.value, self.previous_caesareans.value);
        if let (Some(births), Some(caesareans)) = both
            && let Some(why) = more_than_births(caesareans, births)
        {
            self.previous_caesareans.refuse(why);
        }
    }

    /// Whether the day of the period waits for somebody to say that it stays.
    pub(crate) fn asks_to_keep_period(&self, days: &Days) -> bool {
        let day = parse::day(self.lmp.typed.trim()).ok();
        day.is_some_and(|lmp| (LONGEST_DAYS + 1..=LONGEST_AGO).contains(&days.since(lmp)))
    }

    /// Every fault of this part of a form, in the order of the page.
    pub(crate) fn faults(&self) -> Faults {
        let scans = self.scans.iter().map(ScanForm::faults);
        let dates = scans.fold(Faults::of(&[&self.lmp, &self.lmp_certain]), Faults::and);
        let before = Faults::of(&[
            &self.births_before,
            &self.previous_caesareans,
            &self.history,
        ]);
        dates.and(before).and(self.letter.faults())
    }

    /// What was told, once nothing is at fault.
    pub(crate) fn facts(&self) -> Facts {
        let small = |field: &Field<i32>| field.value.and_then(|number| u8::try_from(number).ok());
        Facts {
            dating: Dating {
                lmp: self.lmp.value,
                lmp_certain: self.lmp.value.and(self.lmp_certain.value),
                scans: self
                    .scans
                    .iter()
                    .filter_map(|scan| scan.scan().cloned())
                    .collect(),
            },
            births_before: small(&self.births_before),
            previous_caesareans: small(&self.previous_caesareans),
            history: self.history.values.clone(),
            illness: self.letter.illness.value.clone(),
            allergies: self.letter.allergies.value.clone(),
            medicines: self.letter.medicines.value.clone(),
            blood_group: self.letter.blood_group.value.clone(),
            tests: self.letter.tests.value.clone(),
            companion: self.letter.companion.value.clone(),
            companion_phone: self.letter.companion_phone.value.clone(),
        }
    }

    /// These questions with what the register has, and room for one more scan.
    pub(crate) fn holding(pregnancy: &Pregnancy, days: Days) -> Self {
        let facts = &pregnancy.facts;
        let text = |text: &Option<String>| text.clone().unwrap_or_default();
        let number =
            |number: Option<u8>| number.map(|number| number.to_string()).unwrap_or_default();
        let lmp = facts
            .dating
            .lmp
            .map(|lmp| lmp.to_string())
            .unwrap_or_default();
        let certain = facts
            .dating
            .lmp_certain
            .map(|certain| certain.to_string())
            .unwrap_or_default();
        let mut pairs = vec![
            ("lmp", lmp.clone()),
            ("lmp_kept", lmp),
            ("lmp_certain", certain),
            ("births_before", number(facts.births_before)),
            ("previous_caesareans", number(facts.previous_caesareans)),
            ("illness", text(&facts.illness)),
            ("allergies", text(&facts.allergies)),
            ("medicines", text(&facts.medicines)),
            ("blood_group", text(&facts.blood_group)),
            ("tests", text(&facts.tests)),
            ("companion", text(&facts.companion)),
            ("companion_phone", text(&facts.companion_phone)),
        ];
        pairs.extend(
            facts
                .history
                .iter()
                .map(|event| ("history", event.code().to_owned())),
        );
        let mut form = Self::read(&pairs.into_iter().collect(), days);
        form.scans = facts
            .dating
            .scans
            .iter()
            .zip(0..)
            .map(|(scan, place)| ScanForm::holding(scan, place))
            .collect();
        form.with_room()
    }

    /// With empty questions for one more scan behind those that are filled in.
    #[must_use]
    pub(crate) fn with_room(mut self) -> Self {
        if self.scans.iter().all(|scan| !scan.is_blank()) {
            self.scans.extend(ScanForm::blank_after(self.scans.len()));
        }
        self
    }

    /// A fault that the registry found; false when the field is not one of these.
    pub(crate) fn refuse(&mut self, field: &str, why: &str) -> bool {
        match field {
            "lmp" => self.lmp.refuse(why),
            "births_before" => self.births_before.refuse(why),
            "previous_caesareans" => self.previous_caesareans.refuse(why),
            "scan_on" | "scan_weeks" | "scan_edd" | "babies_on_scan" => {
                match self.scans.first_mut() {
                    Some(scan) => scan.on.refuse(why),
                    None => return false,
                }
            }
            _ => return self.letter.refuse(field, why),
        }
        true
    }

    /// Answers to “How sure is that day?”.
    pub(crate) fn sure_or_not() -> [Opt; 2] {
        [Opt::new("true", "Sure"), Opt::new("false", "Not sure")]
    }
}

/// Why so many caesareans cannot be, beside so many births.
pub(in crate::web::pages) fn more_than_births(caesareans: i32, births: i32) -> Option<String> {
    let verb = if caesareans == 1 { "is" } else { "are" };
    (caesareans > births)
        .then(|| format!("{caesareans} {verb} more than the {births} births before"))
}

fn past_period(text: &str, days: Days) -> Result<Day, String> {
    let lmp = parse::day(text)?;
    if lmp > days.today {
        return Err(format!("{} has not come yet", spoken::day(lmp)));
    }
    if days.since(lmp) > LONGEST_AGO {
        return Err(format!(
            "{} is more than 52 weeks {}; check the year, or leave the day empty",
            spoken::day(lmp),
            days.ago_or_before()
        ));
    }
    Ok(lmp)
}
