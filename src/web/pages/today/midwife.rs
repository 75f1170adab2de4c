//! The midwife's Today: what to review, what to decide, what is missing in the month, which month to sign.

use askama::Template;

use super::parts::{DoNext, End, Entry, Figure, Section, Way};
use super::{loose, people};
use crate::clinical::{Day, Moment, Urgency};
use crate::registry::due;
use crate::registry::flags::{self, Waiting};
use crate::registry::months::{self, Month, State};
use crate::registry::{self, Db};
use crate::web::answer::{self, Answer};
use crate::web::audience::SignedIn;
use crate::web::session::Seat;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

/// More flags than these stand on the Review page.
const FLAGS_SHOWN: i64 = 8;
/// Months that can still be signed and are looked for.
const MONTHS_BACK: usize = 12;

#[derive(Template)]
#[template(path = "today/midwife.html")]
struct MidwifePage {
    shell: Shell,
    eyebrow: String,
    next: DoNext,
    tally: Vec<Figure>,
    left: Vec<Section>,
    right: Vec<Section>,
    month_name: String,
    next_due: String,
    loose: Vec<loose::End>,
    to_sign: Vec<ToSign>,
    /// Why no month is to be signed.
    nothing_to_sign: &'static str,
}

struct ToSign {
    name: String,
    href: String,
    due: String,
    late: bool,
}

struct Known {
    flags: Vec<Waiting>,
    counts: [i64; 3],
    confirmed: Vec<Waiting>,
    months: Vec<(Month, State)>,
}

impl Known {
    fn read(db: &mut Db, seat: &Seat, now: Moment) -> registry::Result<Self> {
        let current = Month::of(now, seat.zone);
        let over: Vec<_> =
            std::iter::successors(Some(current.previous()), |month| Some(month.previous()))
                .take(MONTHS_BACK)
                .collect();
        let overview = months::overview(db, Some(seat.id), &over, now)?;
        let standing = overview.into_iter().flat_map(|post| post.months);
        Ok(Self {
            flags: flags::waiting(db, seat.id, None, FLAGS_SHOWN)?,
            counts: flags::waiting_count(db, seat.id)?,
            confirmed: due::to_refer(db, seat.id)?,
            months: standing.map(|month| (month.month, month.state)).collect(),
        })
    }

    fn nothing_to_sign(&self) -> &'static str {
        if self.months.iter().any(|(_, state)| *state == State::Signed) {
            "Every month that is over is signed."
        } else {
            "No month of this register is over yet."
        }
    }

    /// Months that are over and not signed, the oldest first.
    fn unsigned(&self) -> impl Iterator<Item = (Month, Option<i64>)> {
        self.months
            .iter()
            .rev()
            .filter_map(|(month, state)| match state {
                State::Late(days) => Some((*month, Some(*days))),
                State::Ready => Some((*month, None)),
                State::BeforeTheRegister | State::Running | State::Signed => None,
            })
    }
}

/// What every line needs to know of the day.
struct Here<'a> {
    seat: &'a Seat,
    now: Moment,
    today: Day,
}

impl Here<'_> {
    fn flag(&self, line: &Waiting) -> Entry {
        Entry {
            name: line.mother.clone(),
            href: format!("/mothers/{}", line.flag.mother_id),
            number: self.number(line),
            end: End::Urgency(line.flag.urgency),
            lead: people::lead(line.flag.category, &line.flag.evidence),
            why: line.flag.evidence.clone(),
            small: people::when(line.flag.raised_at, self.now, self.seat.zone),
            act: Way::to(format!("/review?open={}", line.flag.id), "Review"),
        }
    }

    fn to_refer(&self, line: &Waiting) -> Entry {
        let decided = line
            .flag
            .decided_at
            .map(|at| format!("confirmed {}", people::when(at, self.now, self.seat.zone)));
        Entry {
            end: End::Urgency(line.flag.urgency),
            small: decided.unwrap_or_default(),
            act: Way::to(format!("/referrals/new?flag={}", line.flag.id), "Refer"),
            ..self.flag(line)
        }
    }

    fn number(&self, line: &Waiting) -> String {
        people::number(
            &people::register(&self.seat.code, line.number),
            line.due_date,
            self.today,
        )
    }

    fn next(&self, known: &Known) -> DoNext {
        let pressing = |line: &Waiting| line.flag.urgency == Urgency::Now;
        if let Some(line) = known.flags.iter().find(|line| pressing(line)) {
            let by = line
                .raised_by
                .as_deref()
                .map(|who| format!(" by {who}"))
                .unwrap_or_default();
            let mut next = self
                .about(
                    line,
                    format!(
                        "{}: decide on {} first.",
                        line.flag.category.words(),
                        line.mother
                    ),
                )
                .because(line.flag.evidence.clone())
                .because(format!(
                    "Raised {}{by}.",
                    people::when(line.flag.raised_at, self.now, self.seat.zone)
                ))
                .by(Way::to(
                    format!("/referrals/new?flag={}", line.flag.id),
                    "Decide the referral",
                ))
                .by(Way::to(
                    format!("/review?open={}", line.flag.id),
                    "Review the flag",
                ));
            next.ways.push(Way::to(
                format!("/mothers/{}", line.flag.mother_id),
                "Her page",
            ));
            return next;
        }
        if let Some(line) = known.confirmed.first() {
            return self
                .about(
                    line,
                    format!(
                        "Refer {}: you confirmed, nothing is decided yet.",
                        line.mother
                    ),
                )
                .because(line.flag.evidence.clone())
                .by(Way::to(
                    format!("/referrals/new?flag={}", line.flag.id),
                    "Decide the referral",
                ))
                .by(Way::to(
                    format!("/mothers/{}", line.flag.mother_id),
                    "Her page",
                ));
        }
        if let Some(line) = known.flags.first() {
            return self
                .about(
                    line,
                    format!(
                        "{}: {} waits for your decision.",
                        line.flag.category.words(),
                        line.mother
                    ),
                )
                .because(line.flag.evidence.clone())
                .by(Way::to(
                    format!("/review?open={}", line.flag.id),
                    "Review the flag",
                ))
                .by(Way::to("/review", "All flags"));
        }
        if let Some((month, late)) = known.unsigned().next() {
            let mut next = DoNext::calm(format!("Read and sign {}.", month.words()))
                .because(match late {
                    Some(days) => format!(
                        "It was due on {}, {} ago.",
                        spoken::day(month.sign_by()),
                        spoken::count(days, "day", "days")
                    ),
                    None => format!("It is due on {}.", spoken::day(month.sign_by())),
                })
                .by(Way::to(
                    format!("/months/{month}"),
                    format!("Open {}", month.words()),
                ));
            next.late = late.is_some();
            return next;
        }
        DoNext::calm("Nothing waits for you.").because(
            "No flag is open, no referral has to be decided, every month that is over is signed.",
        )
    }

    fn about(&self, line: &Waiting, said: String) -> DoNext {
        DoNext::pressing(line.flag.urgency, self.number(line), said)
    }
}

/// `GET /` for the midwife in charge.
pub(super) async fn show(midwife: &SignedIn, seat: Seat, house: &House, shell: Shell) -> Answer {
    let now = house.now();
    let of_post = seat.clone();
    let known = house.read(move |db| Known::read(db, &of_post, now)).await?;
    let current = Month::of(now, seat.zone);
    let loose = loose::of(house, seat.id, current, now).await?;
    let here = Here {
        seat: &seat,
        now,
        today: spoken::local_day(now, seat.zone),
    };
    let waiting: i64 = known.counts.iter().sum();
    let unsigned = known.unsigned().count();
    let missing: i64 = loose.iter().map(|end| end.count).sum();
    let more = (waiting > FLAGS_SHOWN)
        .then(|| Way::to("/review", format!("All {waiting}, one after another")));
    let flags = Section::of(
        "flags",
        "Flags to review",
        known.flags.iter().map(|line| here.flag(line)).collect(),
    );
    let decide = Section::of(
        "decide",
        "Referrals to decide",
        known
            .confirmed
            .iter()
            .map(|line| here.to_refer(line))
            .collect(),
    );
    answer::page(&MidwifePage {
        eyebrow: super::eyebrow(midwife, now),
        next: here.next(&known),
        tally: vec![
            Figure::of(waiting, "Flags to review", "#flags"),
            Figure::of(
                known.confirmed.len(),
                "Referrals to decide",
                if known.confirmed.is_empty() {
                    "/referrals"
                } else {
                    "#decide"
                },
            ),
            Figure::of(
                missing,
                format!("Loose ends in {}", current.first_day().format("%B")),
                "#ends",
            ),
            Figure::of(
                unsigned,
                if unsigned == 1 {
                    "Month to sign"
                } else {
                    "Months to sign"
                },
                "#months",
            ),
        ],
        left: flags
            .into_iter()
            .map(|section| section.counted(waiting.to_string()).with(more.clone()))
            .collect(),
        right: decide.into_iter().collect(),
        month_name: current.first_day().format("%B").to_string(),
        next_due: spoken::day(current.sign_by()),
        to_sign: known
            .unsigned()
            .map(|(month, late)| ToSign {
                name: month.words(),
                href: format!("/months/{month}"),
                due: match late {
                    Some(days) => format!("{} late", spoken::count(days, "day", "days")),
                    None => format!("by {}", spoken::short_day(month.sign_by())),
                },
                late: late.is_some(),
            })
            .collect(),
        nothing_to_sign: known.nothing_to_sign(),
        loose,
        shell,
    })
}
