//! The visit form, drawn or as a list: raw text in, findings or every fault at once.
//!
//! Nothing is chosen beforehand, and an empty answer is “not examined”. Both shapes send the same names.

mod background;
mod hands;
mod measures;
mod next;
#[cfg(test)]
mod tests;
mod told;

use crate::clinical::{Dating, Day, date_pregnancy};
use crate::registry::visits::Findings;
use crate::registry::{PregnancyId, VisitForm as Shape};
use crate::web::form::{Asked, Faults, Field, Form, Sense, Typed, When, parse};
use crate::web::spoken;
pub(super) use background::Background;
pub(super) use hands::Hands;
pub(super) use measures::Measures;
pub(super) use next::NextVisit;
pub(super) use told::Told;

/// Letters that fit into a note or a reason.
const NOTE: usize = 1000;

/// One visit as typed.
pub(crate) struct VisitForm {
    typed: Typed,
    pub(super) shape: Shape,
    pub(super) request: String,
    /// Which pregnancy the page was about.
    pub(super) pregnancy: Option<PregnancyId>,
    /// The revision that an amended visit was read at.
    pub(super) revision: Option<i32>,
    pub(super) at: When,
    pub(super) bladder_empty: Field<bool>,
    pub(super) hands: Hands,
    pub(super) measures: Measures,
    pub(super) told: Told,
    pub(super) next: NextVisit,
    pub(super) note: Field<String>,
    pub(super) reason: Field<String>,
}

/// What the rest of the register knows and a visit must not contradict.
#[derive(Debug, Clone, Default)]
pub(super) struct Known {
    pub(super) dating: Dating,
    /// The day of the last visit that said so.
    pub(super) waters_broken_since: Option<Day>,
}

impl Form for VisitForm {
    fn read(typed: &Typed, sense: &Sense) -> Self {
        let shape = typed.last("form").parse().unwrap_or(Shape::Drawing);
        let at = When::read(typed, "at", "Time of the visit", sense)
            .past(sense)
            .needed("write when she was examined");
        let mut next = NextVisit::read(typed, shape);
        next.after(at.date.value);
        let mut told = Told::read(typed, sense, shape);
        told.not_after(at.value);
        Self {
            shape,
            request: typed.last("request").to_owned(),
            pregnancy: typed.last("pregnancy").parse().ok(),
            revision: typed.last("revision").parse().ok(),
            at,
            bladder_empty: tick(typed, "bladder_empty", "Bladder emptied"),
            hands: Hands::read(typed, shape),
            measures: Measures::read(typed, shape),
            told,
            next,
            note: Field::read(typed, "note", "Note", parse::lines(NOTE)),
            reason: Field::read(typed, "reason", "Why it is amended", parse::lines(NOTE)),
            typed: typed.clone(),
        }
    }

    fn faults(&self) -> Faults {
        let mut asked: Vec<&dyn Asked> = vec![&self.reason, &self.at, &self.bladder_empty];
        asked.extend(self.hands.asked());
        asked.extend(self.measures.asked());
        asked.extend(self.told.asked());
        asked.extend(self.next.asked());
        asked.push(&self.note);
        Faults::of(&asked)
    }
}

impl VisitForm {
    /// A form that nobody has filled in, at this moment.
    pub(super) fn fresh(
        shape: Shape,
        request: String,
        pregnancy: PregnancyId,
        sense: &Sense,
    ) -> Self {
        let typed = Typed::from_iter([
            ("form", shape.code()),
            ("request", &request),
            ("pregnancy", pregnancy.code()),
        ]);
        let mut form = Self::read(&typed, sense);
        form.at = When::holding("at", "Time of the visit", sense.now, sense);
        form
    }

    /// A form for findings that belong to nobody, at this moment.
    pub(super) fn of_nobody(shape: Shape, sense: &Sense) -> Self {
        let mut form = Self::read(&Typed::from_iter([("form", shape.code())]), sense);
        form.at = When::holding("at", "Time of the visit", sense.now, sense);
        form
    }

    /// The findings of a revision, to be amended in a list.
    pub(super) fn holding(
        findings: &Findings,
        revision: i32,
        request: String,
        sense: &Sense,
    ) -> Self {
        let mut pairs = vec![
            ("form".to_owned(), Shape::List.code().to_owned()),
            ("request".to_owned(), request),
            ("revision".to_owned(), revision.to_string()),
        ];
        pairs.extend(typed_again(findings, sense));
        Self::read(&Typed::from_iter(pairs), sense)
    }

    /// The same answers in the other shape, when the button for that was pressed.
    pub(super) fn turned(&self, findings: &Findings, sense: &Sense) -> Option<Self> {
        if !self.typed.has("turn") {
            return None;
        }
        let shape: Shape = self.typed.last("turn").parse().unwrap_or(self.shape);
        let mut pairs = vec![
            ("form".to_owned(), shape.code().to_owned()),
            ("request".to_owned(), self.request.clone()),
            ("pregnancy".to_owned(), self.pregnancy_code()),
        ];
        pairs.extend(typed_again(findings, sense));
        self.told.as_said(&mut pairs);
        if shape == Shape::Drawing && Told::is_in(&pairs) {
            pairs.push(("asked".to_owned(), "each".to_owned()));
        }
        Some(Self::read(&Typed::from_iter(pairs), sense))
    }

    /// Whether it was sent before: what it holds is not saved yet.
    pub(super) fn was_sent(&self) -> bool {
        self.typed.has("at_date")
    }

    /// Whether this answer was given on purpose; the empty one too.
    pub(super) fn chose(&self, name: &str, code: &str) -> bool {
        self.typed.has(name) && self.typed.last(name) == code
    }

    /// Holds the form against the rest of the register.
    pub(super) fn against(&mut self, known: &Known, sense: &Sense) {
        if let Some(day) = self.at.value.map(|at| sense.local(at).date())
            && let Some(why) = before_pregnancy(day, &known.dating, sense.today())
        {
            self.at.refuse(why);
        }
        self.told.asked_again(known.waters_broken_since);
    }

    /// A fault that only the registry could find; false when no question carries that name.
    pub(super) fn refuse(&mut self, name: &str, why: &str) -> bool {
        match name {
            "at" | "at_date" | "at_time" => self.at.refuse(why),
            "note" => self.note.refuse(why),
            "reason" => self.reason.refuse(why),
            "next_visit" | "next_visit_on" => self.next.on.refuse(why),
            name => {
                return self.hands.refuse(name, why)
                    || self.measures.refuse(name, why)
                    || self.told.refuse(name, why);
            }
        }
        true
    }

    /// An amended visit says why.
    pub(super) fn needs_reason(&mut self) {
        if self
            .reason
            .value
            .as_ref()
            .is_none_or(|it| it.trim().is_empty())
        {
            self.reason.refuse("write why it is amended");
        }
    }

    /// The hidden field that names the pregnancy.
    pub(super) fn pregnancy_code(&self) -> String {
        self.pregnancy.map(|it| it.to_string()).unwrap_or_default()
    }

    /// What it came to; `None` while there is a fault.
    pub(super) fn findings(&self) -> Option<Findings> {
        if !self.faults().is_empty() {
            return None;
        }
        let mut findings = Findings::at(self.at.value?);
        findings.bladder_empty = self.bladder_empty.value;
        findings.note = self.note.value.clone().filter(|it| !it.is_empty());
        findings.next_visit_on = self.next.day();
        findings.visit.palpation = self.hands.palpation();
        self.measures.fill(&mut findings.visit);
        self.told.fill(&mut findings);
        Some(findings)
    }
}

/// A box that says yes, or nothing.
fn tick(typed: &Typed, name: &'static str, label: &'static str) -> Field<bool> {
    let mut field = Field::read(typed, name, label, parse::yes_no).first_choice("true");
    field.value = field.value.filter(|yes| *yes);
    field
}

/// A whole number that fits its kind.
fn whole<T: TryFrom<i32>>(
    range: std::ops::RangeInclusive<i32>,
) -> impl Fn(&str) -> Result<T, String> {
    move |text| {
        let number = parse::whole(range.clone())(text)?;
        T::try_from(number).map_err(|_| format!("{number} is out of range"))
    }
}

/// Why a visit on this day cannot belong to the pregnancy.
fn before_pregnancy(day: Day, dating: &Dating, today: Day) -> Option<String> {
    if let Some(period) = dating
        .lmp
        .filter(|lmp| dating.lmp_certain != Some(false) && day < *lmp)
    {
        return Some(format!(
            "is before her last period, {}",
            spoken::day(period)
        ));
    }
    let gestation = date_pregnancy(dating, today).days_told?;
    let begun = today - chrono::TimeDelta::days(gestation);
    (day < begun).then(|| {
        format!(
            "is before this pregnancy began; by her dates that was {}",
            spoken::day(begun)
        )
    })
}

/// The pairs that a form with these findings would send.
pub(super) fn typed_again(findings: &Findings, sense: &Sense) -> Vec<(String, String)> {
    let mut pairs = Vec::new();
    let mut put = |name: &str, text: String| pairs.push((name.to_owned(), text));
    let local = sense.local(findings.visit.at);
    put("at_date", local.format("%Y-%m-%d").to_string());
    put("at_time", local.format("%H:%M").to_string());
    if findings.bladder_empty == Some(true) {
        put("bladder_empty", "true".to_owned());
    }
    if let Some(note) = &findings.note {
        put("note", note.clone());
    }
    if let Some(day) = findings.next_visit_on {
        put("next_visit", "other".to_owned());
        put("next_visit_on", day.format("%Y-%m-%d").to_string());
    }
    pairs.extend(Hands::pairs(findings.visit.palpation.as_ref()));
    pairs.extend(Measures::pairs(&findings.visit));
    pairs.extend(Told::pairs(findings, sense));
    pairs
}
