//! Today: what must I do next? A page for each role.

mod district;
mod keeper;
mod known;
mod lines;
mod loose;
mod midwife;
mod next;
mod nurse;
mod parts;
mod people;

use crate::clinical::Moment;
use crate::registry::Role;
use crate::web::answer::Answer;
use crate::web::audience::SignedIn;
use crate::web::error::PageError;
use crate::web::session::Seat;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

pub(crate) use parts::{DoNext, Way};
pub(crate) use people::lead;

/// `GET /`
pub(in crate::web) async fn show(person: SignedIn, house: House, shell: Shell) -> Answer {
    match person.role {
        Role::Nurse => nurse::show(&person, seat(&person)?, &house, shell).await,
        Role::Midwife => midwife::show(&person, seat(&person)?, &house, shell).await,
        Role::District => district::show(&person, &house, shell).await,
        Role::Keeper => keeper::show(&person, &house, shell).await,
    }
}

fn seat(person: &SignedIn) -> Result<Seat, PageError> {
    person.post.clone().ok_or(PageError::NoPost)
}

/// `Wednesday 25 Nov 2026, 09:40 · Quern Ford health post`.
fn eyebrow(person: &SignedIn, now: Moment) -> String {
    let day = spoken::long_day(spoken::local_day(now, person.zone));
    format!(
        "{day}, {} · {} health post",
        spoken::time(now, person.zone),
        person.place()
    )
}

#[cfg(test)]
mod people_tests;
