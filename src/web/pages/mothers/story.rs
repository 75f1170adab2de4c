//! A mother's events in the order of time, the newest first; each pregnancy is a volume.

use chrono_tz::Tz;

use super::known::{Course, Known};
use super::words;
use crate::clinical::{Day, Moment, Urgency};
use crate::registry::flags::Flag;
use crate::registry::{FlagClosing, FlagDecision, PregnancyEnding};
use crate::web::pages::today::{Way, lead};
use crate::web::spoken;

/// One pregnancy on the page.
pub(super) struct Volume {
    pub(super) years: String,
    pub(super) count: String,
    pub(super) events: Vec<Event>,
}

/// One thing that happened.
pub(super) struct Event {
    pub(super) at: Moment,
    /// For machines.
    pub(super) stamp: String,
    pub(super) when: String,
    pub(super) kind: String,
    pub(super) href: Option<String>,
    pub(super) said: String,
    /// Who wrote it down.
    pub(super) who: String,
    pub(super) urgency: Option<Urgency>,
    pub(super) way: Option<Way>,
    pub(super) note: String,
}

/// By which clock and for whom the story is told.
pub(super) struct Teller {
    pub(super) zone: Tz,
    pub(super) now: Moment,
    /// She decides about flags.
    pub(super) midwife: bool,
}

impl Teller {
    pub(super) fn event(
        &self,
        at: Moment,
        kind: impl Into<String>,
        said: impl Into<String>,
    ) -> Event {
        Event {
            at,
            stamp: spoken::machine(at),
            when: self.when(at),
            kind: kind.into(),
            href: None,
            said: said.into(),
            who: String::new(),
            urgency: None,
            way: None,
            note: String::new(),
        }
    }

    /// Today with its time, this year without the year.
    fn when(&self, at: Moment) -> String {
        let day = spoken::local_day(at, self.zone);
        if day == spoken::local_day(self.now, self.zone) {
            format!(
                "{}, {}",
                spoken::short_day(day),
                spoken::time(at, self.zone)
            )
        } else {
            self.day_of(day)
        }
    }

    pub(super) fn day_of(&self, day: Day) -> String {
        use chrono::Datelike as _;
        if day.year() == spoken::local_day(self.now, self.zone).year() {
            spoken::short_day(day)
        } else {
            spoken::day(day)
        }
    }

    pub(super) fn volume(&self, known: &Known, course: &Course) -> Volume {
        let first = known
            .courses
            .last()
            .is_some_and(|last| last.pregnancy.id == course.pregnancy.id);
        let mut events = vec![self.opening(course, first)];
        events.extend(self.visits(course));
        events.extend(course.flags.iter().map(|flag| self.flag(course, flag)));
        events.extend(self.more(course));
        events.extend(self.end(course));
        events.sort_by_key(|event| event.at);
        events.reverse();
        Volume {
            years: self.years(course),
            count: self.count(course, known),
            events,
        }
    }

    fn opening(&self, course: &Course, first: bool) -> Event {
        let opened = course.pregnancy.opened_at;
        let on = spoken::local_day(opened, self.zone);
        let said = words::dating(&course.pregnancy.facts.dating, on);
        self.event(opened, if first { "Registered" } else { "Opened" }, said)
    }

    fn visits<'a>(&'a self, course: &'a Course) -> impl Iterator<Item = Event> + 'a {
        course.visits.iter().zip(1..).map(|(seen, number)| {
            let found = &seen.findings;
            let on = found.visit.at.date();
            let gestation = course.pregnancy.dated(on).gestation_on(on);
            let mut event = self.event(
                found.visit.at,
                format!("Visit {number}"),
                words::visit(&found.visit, gestation),
            );
            event.href = Some(format!("/visits/{}", seen.id));
            event.who = if seen.amended {
                format!("{}, amended", seen.by)
            } else {
                seen.by.clone()
            };
            event.note = found.note.clone().unwrap_or_default();
            event
        })
    }

    fn flag(&self, course: &Course, flag: &Flag) -> Event {
        let first = course.first_said(flag);
        let said = format!("{} {first}", lead(flag.category, first));
        let mut event = self.event(flag.raised_at, "Flag", said.trim_start());
        event.urgency = flag.stands().then_some(flag.urgency);
        if flag.waits() && self.midwife {
            event.way = Some(Way::to(format!("/review?open={}", flag.id), "Review"));
        }
        event.note = self.fate(flag);
        if first != flag.evidence {
            let last = self.when(flag.last_raised_at);
            event.note = format!("{} Raised last on {last}: {}", event.note, flag.evidence);
        }
        event
    }

    /// What became of a flag.
    fn fate(&self, flag: &Flag) -> String {
        let on = |at: Option<Moment>| {
            at.map(|at| format!(" on {}", self.when(at)))
                .unwrap_or_default()
        };
        let reason = flag
            .reason
            .as_deref()
            .map(|reason| format!(": {}", reason.trim_end_matches('.')))
            .unwrap_or_default();
        let mut said = Vec::new();
        match flag.decision {
            Some(FlagDecision::Confirmed) => {
                said.push(format!("Confirmed{}{reason}.", on(flag.decided_at)));
            }
            Some(FlagDecision::Dismissed) => {
                said.push(format!("Dismissed{}{reason}.", on(flag.decided_at)));
            }
            None if flag.waits() => said.push("Waits for the midwife.".to_owned()),
            None => {}
        }
        match flag.closing {
            Some(FlagClosing::Settled) => said.push(format!(
                "Settled{}: looked at again and no longer found.",
                on(flag.closed_at)
            )),
            Some(FlagClosing::Ended) => said.push("Ended with the pregnancy.".to_owned()),
            Some(FlagClosing::Dismissed) => {}
            None => said.extend(
                flag.recheck_at
                    .map(|at| format!("Look again on {}.", self.when(at))),
            ),
        }
        said.join(" ")
    }

    fn end(&self, course: &Course) -> Option<Event> {
        let (at, ending) = (course.pregnancy.ended_at?, course.pregnancy.ending?);
        (ending != PregnancyEnding::Birth).then(|| {
            self.event(
                at,
                "Ended",
                format!("{}.", words::beginning_large(ending.words())),
            )
        })
    }

    fn years(&self, course: &Course) -> String {
        use chrono::Datelike as _;
        let year = |at: Moment| spoken::local_day(at, self.zone).year();
        let opened = year(course.pregnancy.opened_at);
        match course.pregnancy.ended_at.map(year) {
            Some(ended) if ended > opened => format!("{opened} to {ended}"),
            _ => opened.to_string(),
        }
    }

    fn count(&self, course: &Course, known: &Known) -> String {
        let visits = spoken::count(
            i64::try_from(course.visits.len()).unwrap_or_default(),
            "visit",
            "visits",
        );
        if course.pregnancy.ending == Some(PregnancyEnding::EnteredInError) {
            return "entered by mistake".to_owned();
        }
        if course.pregnancy.ended_at.is_some() {
            return visits;
        }
        let opened = spoken::day(spoken::local_day(course.pregnancy.opened_at, self.zone));
        let order = match known.courses.len() {
            0 | 1 => String::new(),
            count => format!("number {count} in this register, "),
        };
        format!("{order}opened {opened}, {visits}")
    }
}
