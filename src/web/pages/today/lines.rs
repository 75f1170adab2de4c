//! The lines of a nurse's Today: who, when, why, and the one thing to do about it.

use chrono::TimeDelta;

use super::known::Known;
use super::parts::{End, Entry, Way};
use super::people;
use crate::clinical::{Assessment, Day, DueItem, LabourState, Moment};
use crate::registry::ReferralState;
use crate::registry::due::Answered;
use crate::registry::flags::Waiting as Flagged;
use crate::registry::labours::Labour;
use crate::registry::mothers::Line;
use crate::registry::referrals::Waiting as Referred;
use crate::web::session::Seat;
use crate::web::spoken;

/// So long after its time a referral without news comes before older ones [O].
const FRESH: TimeDelta = TimeDelta::days(28);

/// What every line needs to know of the day.
pub(super) struct Lines<'a> {
    pub(super) seat: &'a Seat,
    pub(super) now: Moment,
    pub(super) today: Day,
}

impl Lines<'_> {
    fn register(&self, number: i32, due: Option<Day>) -> String {
        people::number(&people::register(&self.seat.code, number), due, self.today)
    }

    pub(super) fn labour(&self, (labour, picture): &(Labour, Assessment)) -> Entry {
        let due = picture
            .labour
            .as_ref()
            .and_then(|labour| labour.due.iter().min_by_key(|item| item.at));
        let flag = picture.flags.first();
        let gestation = picture
            .gestation
            .as_ref()
            .map(|it| format!(" · {}", spoken::gestation(i64::from(it.days))));
        Entry {
            name: labour.name.clone(),
            href: format!("/labour/{}", labour.id),
            number: format!(
                "{}{}",
                labour.register.replace(' ', "\u{a0}"),
                gestation.unwrap_or_default()
            ),
            end: self
                .time_left(picture)
                .unwrap_or_else(|| self.next_examination(due)),
            lead: flag
                .map(|flag| people::lead(flag.category, &flag.evidence))
                .unwrap_or_default(),
            why: match (flag, due) {
                (Some(flag), _) => flag.evidence.clone(),
                (None, Some(item)) => self.examination(item),
                (None, None) => "No examination is due.".to_owned(),
            },
            small: String::new(),
            act: Way::to(format!("/labour/{}", labour.id), "Examine"),
        }
    }

    /// Minutes until she must leave, when a limit runs.
    fn time_left(&self, picture: &Assessment) -> Option<End> {
        let labour = picture.labour.as_ref()?;
        let leave_by = labour.leave_by?;
        Some(
            if labour.state == LabourState::Late || leave_by <= self.now {
                End::Tag("late", "leave now".to_owned())
            } else {
                End::Words(format!("{} left", spoken::span(leave_by - self.now)))
            },
        )
    }

    fn next_examination(&self, due: Option<&DueItem>) -> End {
        match due {
            Some(item) if item.overdue => End::Tag("past", "overdue".to_owned()),
            Some(item) => End::Words(people::by(item.at, self.now, self.seat.zone)),
            None => End::Words(String::new()),
        }
    }

    fn examination(&self, item: &DueItem) -> String {
        let what = item.what.words();
        let time = spoken::time(item.at, self.seat.zone);
        if item.overdue {
            format!("{what} was due at {time}.")
        } else {
            format!("Next: {what} at {time}.")
        }
    }

    /// One line a woman, the earliest first.
    pub(super) fn check_again(&self, known: &Known) -> Vec<Entry> {
        let mut seen = Vec::new();
        let mut entries = Vec::new();
        for line in &known.again {
            if seen.contains(&line.flag.mother_id) {
                continue;
            }
            seen.push(line.flag.mother_id);
            let at = line.flag.recheck_at.unwrap_or(line.flag.raised_at);
            entries.push(Entry {
                name: line.mother.clone(),
                href: format!("/mothers/{}", line.flag.mother_id),
                number: self.register(line.number, line.due_date),
                end: if at <= self.now && spoken::local_day(at, self.seat.zone) < self.today {
                    End::Tag(
                        "past",
                        people::days_past(self.today, spoken::local_day(at, self.seat.zone)),
                    )
                } else {
                    End::Words(people::by(at, self.now, self.seat.zone))
                },
                lead: people::lead(line.flag.category, &line.flag.evidence),
                why: line.flag.evidence.clone(),
                small: people::when(line.flag.raised_at, self.now, self.seat.zone),
                act: Way::to(
                    format!("/mothers/{}/visits/new", line.flag.mother_id),
                    "Look again",
                ),
            });
        }
        entries
    }

    /// Who stands in Check again stands there alone.
    pub(super) fn visits_due(&self, known: &Known) -> Vec<Entry> {
        let once = known.due.iter().filter(|line| {
            !known
                .again
                .iter()
                .any(|again| again.flag.mother_id == line.mother.id)
        });
        once.map(|line| self.visit(line)).collect()
    }

    fn visit(&self, line: &Line) -> Entry {
        let agreed = line.next_visit_on.unwrap_or(self.today);
        let missed = agreed < self.today;
        let village = line
            .mother
            .village
            .clone()
            .unwrap_or_else(|| "village not told".to_owned());
        let phone = match (&line.mother.phone, line.mother.may_phone) {
            (Some(phone), Some(true)) => format!("Phone {phone}."),
            (Some(_), _) => "She was not asked whether to phone.".to_owned(),
            (None, _) => "No phone.".to_owned(),
        };
        let seen = line
            .last_visit_at
            .map(|at| format!("Last seen {}.", people::when(at, self.now, self.seat.zone)));
        Entry {
            name: line.mother.name.clone(),
            href: format!("/mothers/{}", line.mother.id),
            number: self.register(
                line.mother.number,
                line.course.as_ref().and_then(|course| course.due_date),
            ),
            end: if missed {
                End::Tag("past", people::days_past(self.today, agreed))
            } else {
                End::Tag("", "Today".to_owned())
            },
            lead: String::new(),
            why: if missed {
                format!("Was due {}, {village}. {phone}", spoken::short_day(agreed))
            } else {
                format!("{village}. {}", seen.unwrap_or_default())
            },
            small: String::new(),
            act: Way::to(format!("/mothers/{}/visits/new", line.mother.id), "Visit"),
        }
    }

    /// How many of the visits due are today's, and how many were missed.
    pub(super) fn today_and_missed(&self, known: &Known) -> (usize, usize) {
        let again = |line: &&Line| {
            !known
                .again
                .iter()
                .any(|again| again.flag.mother_id == line.mother.id)
        };
        let due: Vec<_> = known.due.iter().filter(again).collect();
        let today = due
            .iter()
            .filter(|line| line.next_visit_on == Some(self.today))
            .count();
        (today, due.len() - today)
    }

    /// Late in leaving, arriving or being answered.
    /// Those of the last weeks first: for them a call can still change something.
    pub(super) fn referrals_without_news(&self, known: &Known) -> Vec<Entry> {
        let without = known
            .referrals
            .iter()
            .filter(|line| self.is_without_news(line));
        let (fresh, old): (Vec<_>, Vec<_>) = without.partition(|line| self.is_fresh(line));
        let ordered = fresh.into_iter().chain(old);
        ordered.map(|line| self.referral(line)).collect()
    }

    /// Its time passed not long ago, or has not passed yet.
    pub(super) fn is_fresh(&self, line: &Referred) -> bool {
        line.due_at.is_none_or(|due| self.now - due <= FRESH)
    }

    pub(super) fn is_without_news(&self, line: &Referred) -> bool {
        line.due_at.is_some_and(|due| due <= self.now)
    }

    pub(super) fn referral(&self, line: &Referred) -> Entry {
        let late = line.due_at.map(|due| self.now - due);
        let lost = line.progress.labels(self.now).lost_since.is_some();
        let zone = self.seat.zone;
        let decided = people::when(line.referral.decided_at, self.now, zone);
        let why = match (line.referral.state, line.progress.left) {
            (ReferralState::Left, Some(left)) => format!(
                "Left {} for {}. Arrival not known: phone the hospital.",
                people::when(left, self.now, zone),
                line.hospital
            ),
            (ReferralState::Left, None) => format!(
                "Left for {}, time not known. Arrival not known: phone the hospital.",
                line.hospital
            ),
            (ReferralState::Arrived | ReferralState::Seen, _) => {
                format!("Arrived at {}. No answer yet: ask for it.", line.hospital)
            }
            _ => format!("Decided {decided} for {}. Has she left?", line.hospital),
        };
        let words = match (lost, line.referral.state) {
            (true, _) => "lost".to_owned(),
            (_, ReferralState::Arrived | ReferralState::Seen) => "no answer".to_owned(),
            _ => late
                .map(|late| format!("{} late", spoken::span(late)))
                .unwrap_or_default(),
        };
        Entry {
            name: line.name.clone(),
            href: format!("/referrals/{}", line.referral.id),
            number: line.register.replace(' ', "\u{a0}"),
            end: End::Tag("late", words),
            lead: String::new(),
            why,
            small: line.referral.number.clone(),
            act: Self::news(line),
        }
    }

    /// The step that is missing.
    fn news(line: &Referred) -> Way {
        let (step, words) = match line.referral.state {
            ReferralState::Decided => ("left", "Has she left?"),
            ReferralState::Left => ("arrived", "Has she arrived?"),
            _ => ("answer", "Write the answer"),
        };
        Way::to(format!("/referrals/{}/{step}", line.referral.id), words)
    }

    pub(super) fn answer(&self, line: &Answered) -> Entry {
        let said = [
            &line.diagnosis,
            &line.treatment,
            &line.mother_outcome,
            &line.baby_outcome,
            &line.follow_up,
        ];
        let said: Vec<_> = said.into_iter().flatten().map(String::as_str).collect();
        Entry {
            name: line.name.clone(),
            href: format!("/referrals/{}", line.referral),
            number: self.register(line.number, None),
            end: End::Tag("done", "Answered".to_owned()),
            lead: String::new(),
            why: format!(
                "{}, {}: {}",
                line.hospital,
                people::when(line.entered_at, self.now, self.seat.zone),
                said.join("; ")
            ),
            small: String::new(),
            act: Way::to(format!("/referrals/{}", line.referral), "Read"),
        }
    }

    pub(super) fn unrecorded(&self, line: &Line) -> Entry {
        let course = line.course.as_ref();
        let due = course
            .and_then(|course| course.due_date)
            .unwrap_or(self.today);
        let seen = line.last_visit_at.map_or_else(
            || "not seen yet".to_owned(),
            |at| format!("last seen {}", people::when(at, self.now, self.seat.zone)),
        );
        let village = line
            .mother
            .village
            .clone()
            .map(|village| format!(" {village}."))
            .unwrap_or_default();
        let weeks = (self.today - due).num_days();
        Entry {
            name: line.mother.name.clone(),
            href: format!("/mothers/{}", line.mother.id),
            number: self.register(line.mother.number, Some(due)),
            end: End::Tag("past", people::days_past(self.today, due)),
            lead: if weeks >= 7 {
                "Still pregnant? The midwife must see her.".to_owned()
            } else {
                String::new()
            },
            why: format!(
                "Was due {}, {seen}.{village} Ask after her; if she gave birth elsewhere, record it.",
                spoken::short_day(due)
            ),
            small: String::new(),
            act: match course {
                Some(course) => Way::to(format!("/births/new?pregnancy={}", course.id), "Record"),
                None => Way::to(format!("/mothers/{}", line.mother.id), "Open"),
            },
        }
    }

    /// A `now` flag that nobody decided about.
    pub(super) fn flag_number(&self, line: &Flagged) -> String {
        self.register(line.number, line.due_date)
    }
}
