//! One step of a referral as a form: which step, when, and what is told with it.

use super::new_form::{MOST_LINE, MOST_TEXT, Means};
use crate::registry::referrals::{NewStep, Step};
use crate::registry::{ReferralEvent, StandDownReason};
use crate::web::form::{Asked, Faults, Field, Form, Sense, Typed, When, parse};

/// A step that has a page of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Kind(pub(super) ReferralEvent);

impl Kind {
    /// The last part of its address.
    pub(super) fn path(self) -> &'static str {
        match self.0 {
            ReferralEvent::Told => "told",
            ReferralEvent::Left => "left",
            ReferralEvent::Arrived => "arrived",
            ReferralEvent::Seen => "seen",
            ReferralEvent::Declined => "declined",
            ReferralEvent::StoodDown => "stand-down",
            ReferralEvent::NeverCame => "not-arrived",
            ReferralEvent::Answered => "answer",
            ReferralEvent::Decided => "decided",
        }
    }

    /// Behind her name, as the heading.
    pub(super) fn heading(self) -> &'static str {
        match self.0 {
            ReferralEvent::Told => ": the hospital was told",
            ReferralEvent::Left => " left the post",
            ReferralEvent::Arrived => " arrived",
            ReferralEvent::Seen => " was seen",
            ReferralEvent::Declined => " declines",
            ReferralEvent::StoodDown => ": stand the referral down",
            ReferralEvent::NeverCame => " never came",
            ReferralEvent::Answered => ": the hospital’s answer",
            ReferralEvent::Decided => ": the decision",
        }
    }

    pub(super) fn intro(self) -> &'static str {
        match self.0 {
            ReferralEvent::Told => "Who answered there helps whoever phones next.",
            ReferralEvent::Left => {
                "What you do not know may stay open; the time is what counts. Her labour record ends with it."
            }
            ReferralEvent::Arrived => {
                "As you were told. If nobody knows when, say so: the arrival still counts."
            }
            ReferralEvent::Seen => "First seen by a doctor or midwife there.",
            ReferralEvent::Declined => {
                "The referral closes as “declined”; its flags stand. Nothing here blames her. If she changes her mind, put this step right or refer her anew."
            }
            ReferralEvent::StoodDown => {
                "Only when the reason for sending her is gone. The flags stay as they are; nothing is deleted."
            }
            ReferralEvent::NeverCame => {
                "Only when the hospital says so. The referral closes; if she comes after all, put this step right."
            }
            ReferralEvent::Answered | ReferralEvent::Decided => "",
        }
    }

    /// Words of the question when it was.
    pub(super) fn when(self) -> &'static str {
        match self.0 {
            ReferralEvent::Told => "When the hospital was told",
            ReferralEvent::Left => "When she left",
            ReferralEvent::Arrived => "When she arrived",
            ReferralEvent::Seen => "When she was seen",
            ReferralEvent::Declined => "When she said so",
            ReferralEvent::StoodDown => "When it ended",
            ReferralEvent::NeverCame => "When they said so",
            ReferralEvent::Answered => "When they answered",
            ReferralEvent::Decided => "When it was decided",
        }
    }

    pub(super) fn who(self) -> &'static str {
        match self.0 {
            ReferralEvent::Told => "Who answered",
            ReferralEvent::Left => "Who goes with her",
            _ => "Who told you",
        }
    }

    pub(super) fn button(self) -> &'static str {
        match self.0 {
            ReferralEvent::Told => "The hospital was told",
            ReferralEvent::Left => "She left",
            ReferralEvent::Arrived => "She arrived",
            ReferralEvent::Seen => "She was seen",
            ReferralEvent::Declined => "She declines for now",
            ReferralEvent::StoodDown => "Stand the referral down",
            ReferralEvent::NeverCame => "She never came",
            ReferralEvent::Answered | ReferralEvent::Decided => "Save",
        }
    }

    /// Whether its time may be unknown.
    pub(super) fn time_may_be_unknown(self) -> bool {
        matches!(
            self.0,
            ReferralEvent::Left | ReferralEvent::Arrived | ReferralEvent::Seen
        )
    }
}

/// What was typed about a step.
#[derive(Debug, Clone)]
pub(crate) struct StepForm {
    pub(super) at: When,
    pub(super) unknown: Field<bool>,
    pub(super) who: Field<String>,
    pub(super) means: Field<Means>,
    pub(super) reason: Field<String>,
    pub(super) advised: Field<String>,
    pub(super) stand_down: Field<StandDownReason>,
    pub(super) note: Field<String>,
    pub(super) correction: Field<String>,
    pub(super) becomes: Field<ReferralEvent>,
    pub(super) withdraw: Field<bool>,
    pub(super) revision: Field<i32>,
    pub(super) request: Field<String>,
}

impl Form for StepForm {
    fn read(typed: &Typed, sense: &Sense) -> Self {
        let text = |name, label| Field::read(typed, name, label, parse::lines(MOST_TEXT));
        let mut form = Self {
            at: When::read(typed, "at", "Time", sense).past(sense),
            unknown: Field::read(typed, "unknown", "The time is not known", parse::yes_no),
            who: Field::read(typed, "who", "Who", parse::line(MOST_LINE)),
            means: Field::code(typed, "means", "Means"),
            reason: text("reason", "Her reason, in her words"),
            advised: text("advised", "What she was advised"),
            stand_down: Field::code(typed, "stand_down", "Why it ends"),
            note: text("note", "Note"),
            correction: text("correction", "Why it is put right"),
            becomes: Field::code(typed, "becomes", "What really happened"),
            withdraw: Field::read(
                typed,
                "withdraw",
                "This never happened: take the step out",
                parse::yes_no,
            ),
            revision: Field::read(typed, "revision", "Revision", parse::whole(1..=i32::MAX)),
            request: Field::read(typed, "request", "Request", parse::line(64)),
        };
        if form.unknown.value == Some(true) {
            // A time that stands in the box beside the tick was only filled in beforehand.
            form.at = When {
                value: None,
                ..When::blank("at", "Time")
            };
        }
        form
    }

    fn faults(&self) -> Faults {
        let asked: [&dyn Asked; 10] = [
            &self.at,
            &self.unknown,
            &self.becomes,
            &self.who,
            &self.means,
            &self.reason,
            &self.advised,
            &self.stand_down,
            &self.note,
            &self.correction,
        ];
        Faults::of(&asked)
    }
}

impl StepForm {
    /// With the time of now, or what the stored step holds.
    pub(super) fn filled(step: Option<&Step>, sense: &Sense) -> Self {
        let mut pairs: Vec<(&str, String)> = Vec::new();
        if let Some(step) = step {
            let texts = [
                ("who", &step.who),
                ("reason", &step.reason),
                ("advised", &step.advised),
                ("note", &step.note),
            ];
            for (name, text) in texts {
                pairs.extend(text.clone().map(|text| (name, text)));
            }
            pairs.extend(
                step.stand_down
                    .map(|why| ("stand_down", why.code().to_owned())),
            );
            let means = Means::ALL
                .iter()
                .find(|means| step.transport.as_deref() == Some(means.words()));
            pairs.extend(means.map(|means| ("means", means.code().to_owned())));
            pairs.extend(step.at.is_none().then(|| ("unknown", "true".to_owned())));
        }
        let mut form = Self::read(&pairs.into_iter().collect(), sense);
        if let Some(at) = step.map_or(Some(sense.now), |step| step.at) {
            form.at = When::holding("at", "Time", at, sense);
        }
        form
    }

    /// Looks at the answers as those of this step.
    pub(super) fn judged(mut self, kind: Kind) -> Self {
        self.at.label = kind.when().into();
        self.who.label = kind.who().into();
        if self.withdraw.value == Some(true) {
            return self;
        }
        if self.unknown.value == Some(true) && !kind.time_may_be_unknown() {
            self.unknown.refuse("the time of this step is needed");
        }
        if self.at.value.is_none() && self.unknown.value != Some(true) {
            self.at = self.at.needed("write when it was");
        }
        match kind.0 {
            ReferralEvent::Declined => {
                self.advised = self.advised.needed("write down what she was advised");
            }
            ReferralEvent::StoodDown => {
                self.stand_down = self.stand_down.needed("say why it ends");
            }
            _ => {}
        }
        self
    }

    pub(super) fn step(&self, kind: Kind) -> Option<NewStep> {
        if !self.faults().is_empty() {
            return None;
        }
        Some(NewStep {
            who: self.who.value.clone(),
            transport: self.means.value.map(|means| means.words().to_owned()),
            reason: self.reason.value.clone(),
            advised: self.advised.value.clone(),
            stand_down: self.stand_down.value,
            note: self.note.value.clone(),
            request: self.request.value.clone(),
            ..NewStep::at(kind.0, self.at.value)
        })
    }

    /// A fault that the registry found, beside its field.
    pub(super) fn refuse(&mut self, field: &str, why: String) {
        match field {
            "stand_down" => self.stand_down.refuse(why),
            "advised" => self.advised.refuse(why),
            "correction" => self.correction.refuse(why),
            _ => self.at.refuse(why),
        }
    }
}
