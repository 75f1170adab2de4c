//! Deciding a referral as a form.

use crate::clinical::{Category, Day, Urgency, codes};
use crate::registry::referrals::Decision;
use crate::registry::{FlagId, HospitalId, PregnancyId, ReferralId};
use crate::web::form::{Asked, Choices, Faults, Field, Form, Opt, Sense, Typed, When, parse};

codes! {
    /// How she travels.
    Means { Ambulance = "ambulance", "ambulance"; Car = "car", "hired car"; Motorcycle = "motorcycle", "motorcycle"; Own = "own", "her own way"; }
    /// Treatment that is often given before she leaves.
    Given {
        Line = "line", "intravenous line"; Fluid = "fluid", "fluids"; Oxytocin = "oxytocin", "oxytocin"; Magnesium = "magnesium", "magnesium sulfate";
        Antibiotic = "antibiotic", "antibiotic"; Pressure = "pressure", "pressure tablets"; Catheter = "catheter", "bladder emptied"; Oxygen = "oxygen", "oxygen";
    }
}

/// Letters of a longer text.
pub(super) const MOST_TEXT: usize = 600;
/// Letters of one line.
pub(super) const MOST_LINE: usize = 120;

/// What was typed, and what it came to.
#[derive(Debug, Clone)]
pub(crate) struct DecisionForm {
    pub(super) pregnancy: Field<PregnancyId>,
    pub(super) follows: Field<ReferralId>,
    pub(super) request: Field<String>,
    /// Ids of the ticked flags, as sent.
    pub(super) flags: Vec<String>,
    pub(super) flag: Field<()>,
    pub(super) hospital: Field<HospitalId>,
    pub(super) urgency: Field<Urgency>,
    pub(super) category: Choices<Category>,
    pub(super) decided: When,
    pub(super) planned_for: Field<Day>,
    pub(super) means: Field<Means>,
    pub(super) escort: Field<String>,
    pub(super) given: Choices<Given>,
    pub(super) given_note: Field<String>,
    pub(super) asked: Field<String>,
    pub(super) note: Field<String>,
}

/// Urgencies that a referral may have.
pub(super) const NAMED: [Urgency; 3] = [Urgency::Now, Urgency::Soon, Urgency::Review];

impl Form for DecisionForm {
    fn read(typed: &Typed, sense: &Sense) -> Self {
        let mut form = Self {
            pregnancy: Field::read(
                typed,
                "pregnancy",
                "Pregnancy",
                parse::as_said("is not known here"),
            ),
            follows: Field::read(
                typed,
                "follows",
                "Referral before",
                parse::as_said("is not known here"),
            ),
            request: Field::read(typed, "request", "Request", parse::line(64)),
            flags: typed
                .all("flag")
                .filter(|id| !id.is_empty())
                .map(str::to_owned)
                .collect(),
            flag: Field::blank("flag", "Flags"),
            hospital: Field::read(
                typed,
                "hospital",
                "Where",
                parse::as_said("choose one of the hospitals"),
            )
            .needed("choose the hospital"),
            urgency: Field::choice(
                typed,
                "urgency",
                "How urgent",
                &Opt::these(&NAMED),
                str::parse,
            ),
            category: Choices::read(typed, "category", "Other reasons"),
            decided: When::read(typed, "decided", "Decided", sense)
                .needed("write when it was decided")
                .past(sense),
            planned_for: Field::read(typed, "planned_for", "Expected on", parse::day),
            means: Field::code(typed, "means", "Means"),
            escort: Field::read(typed, "escort", "Who goes with her", parse::line(MOST_LINE)),
            given: Choices::read(typed, "given", "Treatment given"),
            given_note: Field::read(
                typed,
                "given_note",
                "Dose, route, time",
                parse::lines(MOST_TEXT),
            ),
            asked: Field::read(
                typed,
                "asked",
                "What you ask the hospital",
                parse::lines(MOST_TEXT),
            ),
            note: Field::read(typed, "note", "Note", parse::lines(MOST_TEXT)),
        };
        if form.flags.iter().any(|id| id.parse::<FlagId>().is_err()) {
            form.flag.refuse("choose among the flags of this page");
        }
        if form
            .planned_for
            .value
            .is_some_and(|day| day < sense.today())
        {
            form.planned_for
                .refuse("is over; leave it empty when she goes at once");
        }
        form
    }

    fn faults(&self) -> Faults {
        let asked: [&dyn Asked; 13] = [
            &self.pregnancy,
            &self.flag,
            &self.category,
            &self.urgency,
            &self.hospital,
            &self.decided,
            &self.planned_for,
            &self.means,
            &self.escort,
            &self.given,
            &self.given_note,
            &self.asked,
            &self.note,
        ];
        Faults::of(&asked)
    }
}

impl DecisionForm {
    /// Treatment in one text: what was ticked, then dose and time as written.
    fn given_words(&self) -> Option<String> {
        let mut ticked: Vec<_> = self.given.values.iter().map(|it| it.words()).collect();
        ticked.extend(self.given_note.value.as_deref());
        (!ticked.is_empty()).then(|| ticked.join(", "))
    }

    /// The decision, when nothing is at fault.
    pub(super) fn decision(&self) -> Option<Decision> {
        if !self.faults().is_empty() {
            return None;
        }
        Some(Decision {
            pregnancy: self.pregnancy.value?,
            hospital: self.hospital.value?,
            flags: self.flags.iter().filter_map(|id| id.parse().ok()).collect(),
            categories: self.category.values.clone(),
            urgency: self.urgency.value,
            decided_at: self.decided.value?,
            planned_for: self.planned_for.value,
            asked: self.asked.value.clone(),
            given: self.given_words(),
            transport: self.means.value.map(|means| means.words().to_owned()),
            escort: self.escort.value.clone(),
            note: self.note.value.clone(),
            follows: self.follows.value,
            request: self.request.value.clone(),
        })
    }

    /// A fault that the registry found, beside its field.
    pub(super) fn refuse(&mut self, field: &str, why: String) {
        match field {
            "hospital" => self.hospital.refuse(why),
            "urgency" => self.urgency.refuse(why),
            "category" => self.category.refuse(why),
            "decided_date" => self.decided.refuse(why),
            "planned_for" => self.planned_for.refuse(why),
            _ => self.flag.refuse(why),
        }
    }
}
