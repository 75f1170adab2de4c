//! One scan: its day, and gestation, due date or the number of babies that it showed.

use std::borrow::Cow;

use super::form::Days;
use crate::clinical::dating::TERM_DAYS;
use crate::clinical::{Day, Scan};
use crate::web::form::{Faults, Field, Typed, parse};
use crate::web::spoken;

/// A first scan and its repeats; more are never written on a card.
const MOST_SCANS: usize = 6;
const EARLIEST: i64 = 35;
const LATEST: i64 = 294;
const LONGEST_AGO: i64 = 52 * 7;

/// The questions about one scan.
pub(crate) struct ScanForm {
    pub(crate) on: Field<Day>,
    pub(crate) weeks: Field<i32>,
    pub(crate) days: Field<i32>,
    pub(crate) edd: Field<Day>,
    pub(crate) babies: Field<i32>,
    scan: Option<Scan>,
}

impl ScanForm {
    /// Every scan that was sent; at least one, which may be empty.
    pub(crate) fn read_all(typed: &Typed, days: Days) -> Vec<Self> {
        let sent = |place: &usize| typed.has(&named("scan_on", *place));
        let places = (0..MOST_SCANS).take_while(|place| *place == 0 || sent(place));
        places.map(|place| Self::read(typed, place, days)).collect()
    }

    /// Empty questions for one more scan, when there is room for one.
    pub(crate) fn blank_after(scans: usize) -> Option<Self> {
        (scans < MOST_SCANS)
            .then(|| Self::read(&Typed::default(), scans, Days::opening(Day::default())))
    }

    fn read(typed: &Typed, place: usize, days: Days) -> Self {
        let mut form = Self {
            on: Field::read(typed, named("scan_on", place), "Day of the scan", |text| {
                past_scan(text, days)
            }),
            weeks: Field::read(
                typed,
                named("scan_weeks", place),
                "Weeks at the scan",
                parse::whole(5..=42),
            ),
            days: Field::read(
                typed,
                named("scan_days", place),
                "Days at the scan",
                parse::whole(0..=6),
            ),
            edd: Field::read(
                typed,
                named("scan_edd", place),
                "Due date by the scan",
                parse::day,
            ),
            babies: Field::read(
                typed,
                named("babies_on_scan", place),
                "Babies seen",
                parse::whole(1..=6),
            ),
            scan: None,
        };
        form.look_together();
        form
    }

    fn look_together(&mut self) {
        if self.is_blank() || !self.faults().is_empty() {
            return;
        }
        let Some(on) = self.on.value else {
            self.on.refuse("write the day on which it was made");
            return;
        };
        if self.weeks.value.is_none() && self.days.value.is_some() {
            self.weeks
                .refuse("write the weeks too; days alone are not enough");
        }
        let days = self
            .weeks
            .value
            .map(|weeks| weeks * 7 + self.days.value.unwrap_or_default());
        let gestation_days = days.and_then(|days| u16::try_from(days).ok());
        if gestation_days.is_some_and(|days| i64::from(days) > LATEST) {
            self.days.refuse("a scan counts up to 42w+0d");
        }
        if let Some(edd) = self.edd.value {
            let gestation = TERM_DAYS - (edd - on).num_days();
            if gestation_days.is_some() {
                self.edd
                    .refuse("give the gestation or the due date of a scan, not both");
            } else if !(EARLIEST..=LATEST).contains(&gestation) {
                self.edd.refuse(format!(
                    "{} lies too {} after the scan: she would have been {} then, outside 5w+0d to 42w+0d",
                    spoken::day(edd),
                    if gestation < EARLIEST { "long" } else { "short" },
                    spoken::gestation(gestation),
                ));
            }
        } else if gestation_days.is_none()
            && self.babies.value.is_none()
            && self.weeks.fault.is_none()
        {
            self.weeks
                .refuse("write what the scan showed: gestation, due date or number of babies");
        }
        if self.faults().is_empty() {
            self.scan = Some(Scan {
                on,
                gestation_days,
                edd: self.edd.value,
                babies: self
                    .babies
                    .value
                    .and_then(|babies| u8::try_from(babies).ok()),
            });
        }
    }

    /// A scan before the period: one of the two days is wrong, and only she can say which.
    pub(crate) fn look_beside_period(&mut self, lmp: Day) {
        if let Some(on) = self.on.value.filter(|on| *on < lmp) {
            self.on.refuse(format!(
                "{} is before her last period, {}; correct one of the two days",
                spoken::day(on),
                spoken::day(lmp)
            ));
            self.scan = None;
        }
    }

    /// Nothing was written about it.
    pub(crate) fn is_blank(&self) -> bool {
        let written = [
            &self.on.typed,
            &self.weeks.typed,
            &self.days.typed,
            &self.edd.typed,
            &self.babies.typed,
        ];
        written.iter().all(|text| text.trim().is_empty())
    }

    /// What stands over its questions.
    pub(crate) fn heading(&self) -> String {
        match self.on.value {
            Some(on) => format!("Scan of {}", spoken::day(on)),
            None if self.on.name == "scan_on" => "A scan was made".to_owned(),
            None => "A further scan".to_owned(),
        }
    }

    /// Weeks and days are one question with two boxes.
    pub(crate) fn gestation_fault(&self) -> Option<&str> {
        self.weeks.fault.as_deref().or(self.days.fault.as_deref())
    }

    /// Ids of message and hint of that question.
    pub(crate) fn gestation_described_by(&self) -> String {
        let wrong = self
            .gestation_fault()
            .map(|_| format!("{}-wrong ", self.weeks.name));
        format!("{}{}-hint", wrong.unwrap_or_default(), self.weeks.name)
    }

    /// Its faults in the order of the page; weeks and days are one question, with one message.
    pub(crate) fn faults(&self) -> Faults {
        let gestation = if self.weeks.fault.is_some() {
            &self.weeks
        } else {
            &self.days
        };
        Faults::of(&[&self.on, gestation, &self.edd, &self.babies])
    }

    /// What it came to; absent for a blank one.
    pub(crate) fn scan(&self) -> Option<&Scan> {
        self.scan.as_ref()
    }

    /// These questions with a scan that is known already.
    pub(crate) fn holding(scan: &Scan, place: usize) -> Self {
        let gestation =
            |part: fn(u16) -> u16| scan.gestation_days.map(|days| part(days).to_string());
        let pairs = [
            ("scan_on", Some(scan.on.to_string())),
            ("scan_weeks", gestation(|days| days / 7)),
            ("scan_days", gestation(|days| days % 7)),
            ("scan_edd", scan.edd.map(|edd| edd.to_string())),
            (
                "babies_on_scan",
                scan.babies.map(|babies| babies.to_string()),
            ),
        ];
        let typed = pairs
            .into_iter()
            .map(|(name, text)| (named(name, place), text.unwrap_or_default()))
            .collect();
        Self::read(&typed, place, Days::opening(scan.on))
    }
}

/// The first scan has the plain names.
fn named(name: &'static str, place: usize) -> Cow<'static, str> {
    if place == 0 {
        name.into()
    } else {
        format!("{name}_{}", place + 1).into()
    }
}

fn past_scan(text: &str, days: Days) -> Result<Day, String> {
    let on = parse::day(text)?;
    if on > days.today {
        return Err(format!("{} has not come yet", spoken::day(on)));
    }
    if days.since(on) > LONGEST_AGO {
        return Err(format!(
            "{} is more than 52 weeks {}: it belongs to an earlier pregnancy",
            spoken::day(on),
            days.ago_or_before()
        ));
    }
    Ok(on)
}
