//! Whose visit it is: her strip on top of the page, and what earlier visits said.

use crate::clinical::{Day, Moment, gestation_text};
use crate::registry::mothers::Mother;
use crate::registry::pregnancies::Pregnancy;
use crate::registry::visits::Findings;
use crate::web::form::Sense;
use crate::web::spoken;

use super::form::Known;
use super::words::{Entry, entries, says_broken};
use crate::clinical::Waters;

/// What a form or a page of a visit shows of the mother.
#[derive(Debug, Clone)]
pub(super) struct Subject {
    pub(super) eyebrow: String,
    pub(super) name: String,
    /// Term and words.
    pub(super) facts: Vec<(&'static str, String)>,
    /// Day of the last visit.
    pub(super) last_day: Option<String>,
    /// When an earlier visit said that the waters were broken.
    pub(super) waters_broken_since: Option<String>,
    /// Gestation in days on the day of the form.
    pub(super) gestation: Option<i64>,
    /// What the last visit found.
    pub(super) last: Vec<Entry>,
    pub(super) known: Known,
}

impl Subject {
    /// At the moment `on`; `earlier` are her visits of this pregnancy before it, the oldest first.
    pub(super) fn at(
        mother: &Mother,
        pregnancy: &Pregnancy,
        earlier: &[Findings],
        on: Moment,
        sense: &Sense,
        eyebrow: String,
    ) -> Self {
        let day = sense.local(on).date();
        let dated = pregnancy.dated(day);
        let last = earlier.last();
        let broken = waters_broken(earlier, sense);
        let told = match pregnancy.facts.births_before {
            Some(0) => "none".to_owned(),
            Some(births) => births.to_string(),
            None => "not known".to_owned(),
        };
        let facts = vec![
            (
                if sense.today() == day {
                    "Today"
                } else {
                    "Then"
                },
                dated
                    .gestation_on(day)
                    .map_or_else(|| "dates not known".to_owned(), gestation_text),
            ),
            (
                "Due",
                dated
                    .edd()
                    .map_or_else(|| "not known".to_owned(), spoken::day),
            ),
            ("Births before", told),
        ];
        Self {
            eyebrow,
            name: mother.name.clone(),
            facts,
            last_day: last.map(|it| spoken::short_day(sense.local(it.visit.at).date())),
            waters_broken_since: broken.map(spoken::day),
            gestation: dated.gestation_on(day).map(i64::from),
            last: last.map(|it| entries(it, sense.zone)).unwrap_or_default(),
            known: Known {
                dating: pregnancy.facts.dating.clone(),
                waters_broken_since: broken,
            },
        }
    }
}

/// Broken waters do not close; only an explicit “intact” after them ends it.
fn waters_broken(earlier: &[Findings], sense: &Sense) -> Option<Day> {
    let spoke = |it: &&Findings| says_broken(it) || it.visit.waters == Some(Waters::Intact);
    let last = earlier.iter().rfind(spoke)?;
    says_broken(last).then(|| sense.local(last.visit.at).date())
}
