//! The next thing to do for one mother.

use super::known::{Course, Known};
use super::words::hands;
use crate::clinical::{Day, Urgency, read_palpation};
use crate::registry::flags::Flag;
use crate::registry::story::{LabourLine, ReferralLine};
use crate::registry::{FlagDecision, PregnancyEnding, ReferralState};
use crate::web::pages::today::{DoNext, Way};
use crate::web::spoken;

/// Whose next thing it is.
pub(super) struct Asked<'a> {
    pub(super) known: &'a Known,
    pub(super) today: Day,
    pub(super) midwife: bool,
}

impl Asked<'_> {
    pub(super) fn next(&self) -> DoNext {
        if self.known.mother.entered_in_error {
            return DoNext::calm("She was entered by mistake.")
                .because("Her page stays readable; she is in no list and no count.");
        }
        let mut next = match self.known.lasting() {
            Some(course) => self.of_course(course),
            None => self.between(),
        };
        next.second_is_button = true;
        next
    }

    fn of_course(&self, course: &Course) -> DoNext {
        let standing = course.standing();
        let mut next = match (course.labour(), course.under_way(), standing.first()) {
            (_, Some(referral), Some(_) | None) => self.of_referral(referral),
            (Some(labour), None, _) => self.of_labour(labour, standing.first().copied()),
            (None, None, Some(flag)) => self.of_flag(flag, standing.len()),
            (None, None, None) => self.of_visit(course),
        };
        let pregnancy = course.pregnancy.id;
        let visit = Way::to(
            format!("/mothers/{}/visits/new", self.known.mother.id),
            "New visit",
        );
        if course.labour().is_none()
            && course.under_way().is_none()
            && standing
                .first()
                .is_some_and(|flag| flag.urgency == Urgency::Recheck)
        {
            next.ways.insert(0, visit);
        } else {
            next.ways.push(visit);
        }
        if course.labour().is_none() {
            next = next.by(Way::to(
                format!("/labour/new?pregnancy={pregnancy}"),
                "She is in labour",
            ));
        }
        next.by(Way::to(
            format!("/births/new?pregnancy={pregnancy}"),
            "Record a birth",
        ))
    }

    fn of_flag(&self, flag: &Flag, standing: usize) -> DoNext {
        let (what, category) = (
            flag.category.words(),
            format!("Next · {}", flag.category.words().to_lowercase()),
        );
        let confirmed = flag.decision == Some(FlagDecision::Confirmed);
        let said = match (flag.urgency, confirmed, self.midwife) {
            (Urgency::Recheck, ..) => format!(
                "{what}: look again{}.",
                flag.recheck_at
                    .map(|at| format!(" on {}", spoken::day(at.date())))
                    .unwrap_or_default()
            ),
            (_, true, _) => format!("{what}: confirmed. Refer her, or say why not."),
            (Urgency::Now, false, _) => format!("{what}. Refer her now."),
            (_, false, true) => format!("{what}. You decide."),
            (_, false, false) => format!("{what}. The midwife decides."),
        };
        let mut next =
            DoNext::pressing(flag.urgency, category, said).because(flag.evidence.clone());
        if standing > 1 {
            let more = i64::try_from(standing - 1).unwrap_or_default();
            next = next.because(format!(
                "{} below.",
                spoken::count(more, "more open flag stands", "more open flags stand")
            ));
        }
        let refer = Way::to(
            format!("/referrals/new?flag={}", flag.id),
            "Decide the referral",
        );
        let review = Way::to(format!("/review?open={}", flag.id), "Review the flag");
        match (flag.urgency, confirmed, self.midwife) {
            (Urgency::Recheck, ..) => {}
            (_, true, true) | (Urgency::Now, false, false) => next.ways.push(refer),
            (Urgency::Now, false, true) => next.ways.extend([refer, review]),
            (_, false, true) => next.ways.push(review),
            (_, _, false) => {}
        }
        next
    }

    fn of_referral(&self, line: &ReferralLine) -> DoNext {
        let (said, act) = match line.state {
            ReferralState::Decided => (
                format!("She is to go to {}. Has she left?", line.hospital),
                "Her referral",
            ),
            ReferralState::Left => (
                format!("She is on her way to {}. Has she arrived?", line.hospital),
                "Her referral",
            ),
            _ => (
                format!("She is at {}. Their answer waits.", line.hospital),
                "Her referral",
            ),
        };
        let decided = spoken::day(line.decided_at.date());
        DoNext::pressing(
            line.urgency,
            format!("Next · referral {}", line.number),
            said,
        )
        .because(format!("Decided on {decided}."))
        .by(Way::to(format!("/referrals/{}", line.id), act))
    }

    fn of_labour(&self, line: &LabourLine, flag: Option<&Flag>) -> DoNext {
        let way = Way::to(format!("/labour/{}", line.id), "Her labour");
        let Some(flag) = flag else {
            return DoNext::calm("She is in labour.").by(way);
        };
        let said = format!("In labour: {}.", flag.category.words().to_lowercase());
        let mut next = DoNext::pressing(flag.urgency, "Next · labour", said)
            .because(flag.evidence.clone())
            .by(way);
        if flag.urgency == Urgency::Now {
            next = next.by(Way::to(
                format!("/referrals/new?flag={}", flag.id),
                "Decide the referral",
            ));
        }
        next
    }

    fn of_visit(&self, course: &Course) -> DoNext {
        let Some(last) = course.visits.last().map(|seen| &seen.findings) else {
            return DoNext::calm("Her first visit waits.")
                .because("Nothing was examined yet in this pregnancy.");
        };
        let ago = spoken::day(last.visit.at.date());
        let felt = last
            .visit
            .palpation
            .as_ref()
            .and_then(read_palpation)
            .map(|felt| format!(": {}", hands(&felt).to_lowercase()));
        let why = format!(
            "Last seen {ago}{}. No flag is open.",
            felt.unwrap_or_default()
        );
        match last
            .next_visit_on
            .map(|on| (on, (self.today - on).num_days()))
        {
            None => DoNext::calm("No day is set for her next visit.").because(why),
            Some((on, ..0)) => {
                DoNext::calm(format!("Next visit {}.", spoken::day(on))).because(why)
            }
            Some((_, 0)) => DoNext::calm("Her next visit is today.").because(why),
            Some((on, past)) => DoNext::calm(format!(
                "Her visit was due {}, {} ago.",
                spoken::day(on),
                spoken::count(past, "day", "days")
            ))
            .because(why),
        }
    }

    fn between(&self) -> DoNext {
        let last = self.known.courses.first().map(|course| &course.pregnancy);
        let said = match last.and_then(|last| Some((last.ending?, last.ended_at?))) {
            Some((PregnancyEnding::Birth, at)) => {
                format!("She gave birth on {}.", spoken::day(at.date()))
            }
            Some((ending, at)) => format!(
                "Her last pregnancy ended on {}: {}.",
                spoken::day(at.date()),
                ending.words()
            ),
            None => "No pregnancy is open.".to_owned(),
        };
        let further = format!("/mothers/{}/pregnancies/new", self.known.mother.id);
        DoNext::calm(said).by(Way::to(further, "Open a further pregnancy"))
    }
}
