//! What stands around every page: title, navigation by role, who is signed in, what was just done.

use std::future::{Ready, ready};

use actix_web::dev::Payload;
use actix_web::{FromRequest, HttpMessage as _, HttpRequest};

use crate::clinical::Vocabulary;
use crate::registry::Role;
use crate::web::assets;
use crate::web::error::PageError;
use crate::web::flash;
use crate::web::session::{Person, Visitor};
use crate::web::state::House;

/// One entry of the navigation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Way {
    pub(crate) href: &'static str,
    pub(crate) words: &'static str,
    pub(crate) here: bool,
}

/// The frame of a page. A handler takes it as a parameter and gives it to its page struct as `shell`.
#[derive(Debug, Clone)]
pub(crate) struct Shell {
    /// For the forms of this page.
    pub(crate) token: String,
    /// The navigation; empty for a stranger.
    pub(crate) ways: Vec<Way>,
    /// “Imke Torvalo, nurse · Quern Ford”, or empty.
    pub(crate) person: String,
    /// Whose page it is, behind the title: “ · Quern Ford · Brimline”.
    pub(crate) title_end: String,
    /// Whether this is the practice register.
    pub(crate) practice: bool,
    /// What was just done.
    pub(crate) said: Option<&'static str>,
    /// Address of the sheet.
    pub(crate) sheet: &'static str,
    /// Address of the icon.
    pub(crate) icon: &'static str,
    /// Address of the optional script.
    pub(crate) script: &'static str,
}

/// Left in a request once its page shows what was said.
pub(crate) struct Shown;

impl Shell {
    /// The frame of a page that answers `req`.
    pub(crate) fn of(req: &HttpRequest) -> Self {
        let visitor = Visitor::of(req);
        let person = visitor.person();
        let practice = House::of(req).is_ok_and(|house| house.settings().practice.is_some());
        let place = person.map(Person::place);
        let said = flash::said(req).map(Vocabulary::words);
        if flash::was_said(req) {
            req.extensions_mut().insert(Shown);
        }
        Self {
            token: visitor.token(),
            ways: person
                .map(|it| ways(it.role, req.path()))
                .unwrap_or_default(),
            person: person.map(Person::introduced).unwrap_or_default(),
            title_end: match place.filter(|place| !place.is_empty()) {
                Some(place) => format!(" · {place} · Brimline"),
                None => " · Brimline".to_owned(),
            },
            practice,
            said,
            sheet: assets::sheet(),
            icon: assets::icon(),
            script: assets::script(),
        }
    }
}

/// The pages of each role, in the order of a day.
fn ways(role: Role, here: &str) -> Vec<Way> {
    let all: &[(&str, &str)] = match role {
        Role::Nurse => &[
            ("/", "Today"),
            ("/mothers", "Mothers"),
            ("/labour", "Labour"),
            ("/referrals", "Referrals"),
            ("/births", "Births"),
            ("/months", "Months"),
            ("/practice", "Practice"),
        ],
        Role::Midwife => &[
            ("/", "Today"),
            ("/mothers", "Mothers"),
            ("/labour", "Labour"),
            ("/review", "Review"),
            ("/referrals", "Referrals"),
            ("/births", "Births"),
            ("/months", "Months"),
            ("/practice", "Practice"),
        ],
        Role::District => &[
            ("/", "Today"),
            ("/months", "Months"),
            ("/practice", "Practice"),
        ],
        Role::Keeper => &[
            ("/", "Today"),
            ("/posts", "Posts"),
            ("/staff", "Staff"),
            ("/trail", "Trail"),
            ("/practice", "Practice"),
        ],
    };
    let way = |&(href, words): &(&'static str, &'static str)| Way {
        href,
        words,
        here: stands_at(here, href),
    };
    all.iter().map(way).collect()
}

fn stands_at(here: &str, href: &str) -> bool {
    match here.strip_prefix(href) {
        Some("") => true,
        Some(rest) => href != "/" && rest.starts_with('/'),
        None => false,
    }
}

impl FromRequest for Shell {
    type Error = PageError;
    type Future = Ready<Result<Self, PageError>>;

    fn from_request(req: &HttpRequest, _: &mut Payload) -> Self::Future {
        ready(Ok(Self::of(req)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_stands_under_one_entry_of_the_navigation() {
        for (here, wanted) in [
            ("/", "Today"),
            ("/mothers", "Mothers"),
            ("/mothers/0199/visits/new", "Mothers"),
            ("/months/2026-10", "Months"),
            ("/practice/cases/12", "Practice"),
        ] {
            let ways = ways(Role::Midwife, here);
            let found: Vec<_> = ways
                .iter()
                .filter(|way| way.here)
                .map(|way| way.words)
                .collect();
            assert_eq!(found, [wanted], "{here}");
        }
        assert!(ways(Role::Keeper, "/nowhere").iter().all(|way| !way.here));
    }
}
