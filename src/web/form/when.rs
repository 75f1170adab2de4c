//! A moment asked as date and time of day, by the clock of the post.

use std::borrow::Cow;

use chrono::{LocalResult, NaiveDateTime, NaiveTime, TimeZone, Timelike};
use chrono_tz::Tz;

use super::fault::{Asked, Fault};
use super::{Field, Typed, parse};
use crate::clinical::{Day, Moment};

/// When and by which clock a form is filled in.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sense {
    /// Now, in UTC.
    pub(crate) now: Moment,
    /// The zone of the person's post.
    pub(crate) zone: Tz,
}

impl Sense {
    /// The day by the clock of the post.
    pub(crate) fn today(&self) -> Day {
        self.local(self.now).date()
    }

    /// A moment by the clock of the post.
    pub(crate) fn local(&self, moment: Moment) -> NaiveDateTime {
        self.zone.from_utc_datetime(&moment).naive_local()
    }

    /// A time by the clock of the post; `None` for an hour that the clocks leapt over.
    /// Of an hour that comes twice, the first [O].
    pub(crate) fn moment(&self, day: Day, time: NaiveTime) -> Option<Moment> {
        match self.zone.from_local_datetime(&day.and_time(time)) {
            LocalResult::Single(moment) | LocalResult::Ambiguous(moment, _) => {
                Some(moment.naive_utc())
            }
            LocalResult::None => None,
        }
    }
}

/// Date and time of day; both or neither, unless one alone is allowed by whoever reads the parts.
#[derive(Debug, Clone)]
pub(crate) struct When {
    /// The question's name without `_date` and `_time`.
    pub(crate) name: Cow<'static, str>,
    /// As asked on the page and named in the summary.
    pub(crate) label: Cow<'static, str>,
    /// `NAME_date`.
    pub(crate) date: Field<Day>,
    /// `NAME_time`.
    pub(crate) time: Field<NaiveTime>,
    /// What both came to, in UTC.
    pub(crate) value: Option<Moment>,
}

impl When {
    /// Not answered yet.
    pub(crate) fn blank(name: &'static str, label: &'static str) -> Self {
        Self::read(
            &Typed::default(),
            name,
            label,
            &Sense {
                now: Moment::default(),
                zone: Tz::UTC,
            },
        )
    }

    /// With a moment already in the boxes; `sense.now` is “now”.
    pub(crate) fn holding(
        name: impl Into<Cow<'static, str>>,
        label: impl Into<Cow<'static, str>>,
        moment: Moment,
        sense: &Sense,
    ) -> Self {
        let local = sense.local(moment);
        let name = name.into();
        let typed = Typed::from_iter([
            (format!("{name}_date"), local.format("%Y-%m-%d").to_string()),
            (format!("{name}_time"), local.format("%H:%M").to_string()),
        ]);
        Self::read(&typed, name, label, sense)
    }

    /// Reads `NAME_date` and `NAME_time`. Neither is no value and no fault; a date alone is a fault of the time.
    pub(crate) fn read(
        typed: &Typed,
        name: impl Into<Cow<'static, str>>,
        label: impl Into<Cow<'static, str>>,
        sense: &Sense,
    ) -> Self {
        let (name, label) = (name.into(), label.into());
        let date = Field::read(
            typed,
            format!("{name}_date"),
            format!("{label}, date"),
            parse::day,
        );
        let time = Field::read(
            typed,
            format!("{name}_time"),
            format!("{label}, time"),
            parse::time,
        );
        let mut when = Self {
            name,
            label,
            date,
            time,
            value: None,
        };
        match (when.date.value, when.time.value) {
            (Some(day), Some(time)) => match sense.moment(day, time) {
                Some(moment) => when.value = Some(moment),
                None => when
                    .time
                    .refuse("this hour was left out when the clocks went forward"),
            },
            (Some(_), None) if when.time.fault.is_none() => when.time.refuse("write the time too"),
            (None, Some(_)) if when.date.fault.is_none() => when.date.refuse("write the date too"),
            _ => {}
        }
        when
    }

    /// Neither date nor time is a fault, once the form was sent.
    #[must_use]
    pub(crate) fn needed(mut self, why: &str) -> Self {
        if self.date.was_asked() && self.value.is_none() && self.fault().is_none() {
            self.date.refuse(why);
        }
        self
    }

    /// A moment after now is a fault; the running minute is not.
    #[must_use]
    pub(crate) fn past(mut self, sense: &Sense) -> Self {
        if let Some(moment) = self.value
            && moment > sense.now
            && moment != sense.now.with_second(0).unwrap_or(sense.now)
        {
            let local = sense.local(moment);
            self.refuse(format!(
                "{} has not come yet",
                local.format("%-d %b %Y, %H:%M")
            ));
        }
        self
    }

    /// A fault of the whole, shown at the date. The first stands.
    pub(crate) fn refuse(&mut self, why: impl Into<String>) {
        self.value = None;
        self.date.refuse(why);
    }

    /// Ids of message and hint; empty without either.
    pub(crate) fn described_by(&self, hint: &str) -> String {
        let wrong = self.fault().map(|_| format!("{}-wrong", self.name));
        let hint = (!hint.is_empty()).then(|| format!("{}-hint", self.name));
        let ids: Vec<_> = wrong.into_iter().chain(hint).collect();
        ids.join(" ")
    }

    /// The message above both boxes.
    pub(crate) fn fault(&self) -> Option<&str> {
        let first = self.date.fault.as_deref();
        first.or(self.time.fault.as_deref())
    }
}

impl Asked for When {
    fn faults(&self) -> Vec<Fault> {
        let mut faults = self.date.faults();
        faults.extend(self.time.faults());
        faults
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> Moment {
        Moment::parse_from_str(text, "%Y-%m-%d %H:%M").unwrap()
    }

    fn sense() -> Sense {
        Sense {
            now: at("2026-11-25 13:30"),
            zone: Tz::Africa__Kampala,
        }
    }

    fn read(date: &str, time: &str, sense: &Sense) -> When {
        let typed = Typed::from_iter([("at_date", date), ("at_time", time)]).sent_now();
        When::read(&typed, "at", "Time of the visit", sense)
    }

    #[test]
    fn the_clock_of_the_post_counts() {
        assert_eq!(
            read("2026-11-25", "16:30", &sense()).value,
            Some(at("2026-11-25 13:30"))
        );
        assert_eq!(sense().today(), Day::from_ymd_opt(2026, 11, 25).unwrap());
    }

    #[test]
    fn now_is_past_and_the_next_minute_is_not() {
        assert!(
            read("2026-11-25", "16:30", &sense())
                .past(&sense())
                .faults()
                .is_empty()
        );
        let next = read("2026-11-25", "16:31", &sense()).past(&sense());
        assert_eq!(next.fault(), Some("25 Nov 2026, 16:31 has not come yet"));
    }

    #[test]
    fn half_an_answer_asks_for_the_other_half() {
        assert_eq!(
            read("2026-11-25", "", &sense()).time.fault.as_deref(),
            Some("write the time too")
        );
        assert_eq!(
            read("", "16:00", &sense()).date.fault.as_deref(),
            Some("write the date too")
        );
        assert!(read("", "", &sense()).faults().is_empty());
        assert_eq!(
            read("", "", &sense()).needed("When?").fault(),
            Some("When?")
        );
    }

    #[test]
    fn an_hour_that_never_was_is_refused_and_one_that_came_twice_is_the_first() {
        let berlin = Sense {
            zone: Tz::Europe__Berlin,
            ..sense()
        };
        assert!(read("2026-03-29", "02:30", &berlin).fault().is_some());
        assert_eq!(
            read("2026-10-25", "02:30", &berlin).value,
            Some(at("2026-10-25 00:30"))
        );
    }

    #[test]
    fn what_was_kept_reads_back() {
        let kept = When::holding("at", "Time", at("2026-11-25 05:07"), &sense());
        assert_eq!(
            (kept.date.typed.as_str(), kept.time.typed.as_str()),
            ("2026-11-25", "08:07")
        );
        assert_eq!(kept.value, Some(at("2026-11-25 05:07")));
    }
}
