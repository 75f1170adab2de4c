//! What the story takes from labours, referrals and births.

use super::known::Course;
use super::story::{Event, Teller};
use super::words::beginning_large;
use crate::clinical::Moment;
use crate::registry::story::{BabyLine, BirthLine, LabourLine, ReferralLine};
use crate::registry::{
    BirthPlace, BirthPresentation, LabourEnding, Mode, NewbornState, ReferralState,
};
use crate::web::spoken;

impl Teller {
    pub(super) fn more<'a>(&'a self, course: &'a Course) -> impl Iterator<Item = Event> + 'a {
        let labours = course.labours.iter().map(|line| self.labour(line));
        let referrals = course.referrals.iter().map(|line| self.referral(line));
        let births = course
            .births
            .iter()
            .map(|(at, line)| self.birth(*at, line, course));
        labours.chain(referrals).chain(births)
    }

    fn labour(&self, line: &LabourLine) -> Event {
        let said = match (line.closed_at, line.closed_as) {
            (None, _) | (_, None) => "Running now.".to_owned(),
            (Some(at), Some(ending)) => {
                let how = match ending {
                    LabourEnding::Birth => "with the birth",
                    LabourEnding::Referral => "with a referral",
                    LabourEnding::NotInLabour => "not in labour after all",
                };
                format!("Closed after {}: {how}.", spoken::span(at - line.opened_at))
            }
        };
        let mut event = self.event(line.opened_at, "Labour", said);
        event.href = Some(format!("/labour/{}", line.id));
        event
    }

    fn referral(&self, line: &ReferralLine) -> Event {
        let state = match line.state {
            _ if line.entered_in_error => "entered by mistake",
            ReferralState::Decided => "decided, not left yet",
            ReferralState::Left => "on her way",
            ReferralState::Arrived => "arrived, no answer yet",
            ReferralState::Seen => "seen there, no answer yet",
            ReferralState::Answered => "answered",
            ReferralState::NotArrived => "never arrived",
            ReferralState::Declined => "she declined",
            ReferralState::StoodDown => "stood down",
        };
        let said = format!(
            "{}, {}. {}.",
            line.hospital,
            line.urgency.words().to_lowercase(),
            beginning_large(state)
        );
        let mut event = self.event(line.decided_at, "Referral", said);
        event.href = Some(format!("/referrals/{}", line.id));
        event.note.clone_from(&line.number);
        event
    }

    fn birth(&self, at: Moment, line: &BirthLine, course: &Course) -> Event {
        let gestation = course
            .pregnancy
            .dated(line.born_on)
            .gestation_on(line.born_on);
        let mut said: Vec<_> = gestation
            .map(|days| spoken::gestation(i64::from(days)))
            .into_iter()
            .collect();
        let many = line.babies.len() > 1;
        said.extend(line.babies.iter().map(|it| baby(it, many)));
        let mut event = self.event(at, "Birth", format!("{}.", said.join(". ")));
        event.when = self.day_of(line.born_on);
        event.href = Some(format!("/births/{}", line.id));
        if line.entered_in_error {
            "Entered by mistake.".clone_into(&mut event.note);
        }
        event
    }
}

/// “At the post, head first, boy, 3240 g, alive”.
fn baby(baby: &BabyLine, many: bool) -> String {
    let place = match baby.place {
        BirthPlace::Here => "at the post",
        BirthPlace::Hospital => "in hospital",
        BirthPlace::OnTheWay => "on the way",
        BirthPlace::Home => "at home",
        BirthPlace::Unknown => "place not known",
    };
    let mut said = vec![place.to_owned()];
    match baby.mode {
        Mode::Vaginal => {}
        Mode::Assisted => said.push("assisted".to_owned()),
        Mode::Caesarean => said.push("caesarean".to_owned()),
        Mode::Unknown => said.push("mode not known".to_owned()),
    }
    match baby.presentation {
        BirthPresentation::Cephalic => said.push("head first".to_owned()),
        BirthPresentation::Breech => said.push("breech".to_owned()),
        BirthPresentation::Shoulder => said.push("shoulder first".to_owned()),
        BirthPresentation::Unknown => {}
    }
    said.extend(baby.sex.map(|sex| sex.words().to_owned()));
    said.push(baby.weight_g.map_or_else(
        || "weight not known".to_owned(),
        |grams| format!("{grams}\u{a0}g"),
    ));
    said.push(match baby.state {
        NewbornState::Alive if baby.died => "born alive, died".to_owned(),
        state => state.words().to_owned(),
    });
    let said = said.join(", ");
    if many {
        format!("Baby {}: {said}", baby.position)
    } else {
        beginning_large(&said)
    }
}
