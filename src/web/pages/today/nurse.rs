//! The nurse's Today: who is in labour, whom to look at again, who is on the way, who should have come.

use askama::Template;

use super::known::Known;
use super::lines::Lines;
use super::next;
use super::parts::{DoNext, End, Figure, Section, Way};
use crate::web::answer::{self, Answer};
use crate::web::audience::SignedIn;
use crate::web::session::Seat;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

/// Longer lists stand on their own page.
const SHOWN: usize = 12;
/// Answers that never came grow in number, and must not hide what can still be done today.
const REFERRALS_SHOWN: usize = 6;

#[derive(Template)]
#[template(path = "today/nurse.html")]
struct NursePage {
    shell: Shell,
    eyebrow: String,
    next: DoNext,
    tally: Vec<Figure>,
    left: Vec<Section>,
    right: Vec<Section>,
}

/// `GET /` for a nurse.
pub(super) async fn show(nurse: &SignedIn, seat: Seat, house: &House, shell: Shell) -> Answer {
    let now = house.now();
    let of_post = seat.clone();
    let known = house.read(move |db| Known::read(db, &of_post, now)).await?;
    let lines = Lines {
        seat: &seat,
        now,
        today: spoken::local_day(now, seat.zone),
    };
    let again = lines.check_again(&known);
    let visits = lines.visits_due(&known);
    let (due_today, missed) = lines.today_and_missed(&known);
    let (again_count, visits_count) = (again.len(), visits.len());
    let all = |count: usize, words: &str, href: &str| {
        (count > SHOWN).then(|| Way::to(href, format!("All {count} {words}")))
    };
    let referrals = lines.referrals_without_news(&known);
    let referrals_count = referrals.len();
    let left = [
        Section::of(
            "labour",
            "In labour now",
            known
                .labours
                .iter()
                .map(|labour| lines.labour(labour))
                .collect(),
        ),
        Section::of(
            "again",
            "Check again",
            again.into_iter().take(SHOWN).collect(),
        )
        .map(|section| section.counted(again_count.to_string())),
        Section::of(
            "referrals",
            "Referrals without news",
            referrals.into_iter().take(REFERRALS_SHOWN).collect(),
        )
        .map(|section| {
            let waiting = known.referrals.len();
            let more = waiting > referrals_count.min(REFERRALS_SHOWN);
            section
                .counted(referrals_count.to_string())
                .with(more.then(|| Way::to("/referrals", format!("All {waiting} that wait"))))
        }),
    ];
    let right = [
        Section::of(
            "visits",
            "Visits due",
            visits.into_iter().take(SHOWN).collect(),
        )
        .map(|section| {
            section
                .counted(format!("{due_today} today, {missed} missed"))
                .with(all(visits_count, "visits", "/mothers?show=due"))
        }),
        Section::of(
            "answers",
            "Answers to read",
            known
                .answers
                .iter()
                .map(|line| lines.answer(line))
                .collect(),
        ),
        Section::of(
            "births",
            "Due date passed, no birth recorded",
            known
                .unrecorded
                .iter()
                .map(|line| lines.unrecorded(line))
                .collect(),
        ),
    ];
    let left: Vec<_> = left.into_iter().flatten().collect();
    let right: Vec<_> = right.into_iter().flatten().collect();
    let words = |section: &Section| {
        Figure::of(
            section.entries.len(),
            tally_words(section.id),
            format!("#{}", section.id),
        )
    };
    let mut tally: Vec<Figure> = left.iter().chain(&right).map(words).collect();
    for figure in &mut tally {
        match figure.href.as_str() {
            "#visits" => figure.count = visits_count.to_string(),
            "#again" => figure.count = again_count.to_string(),
            "#referrals" => figure.count = referrals_count.to_string(),
            _ => {}
        }
    }
    answer::page(&NursePage {
        eyebrow: super::eyebrow(nurse, now),
        next: next::of(&known, &lines),
        tally,
        left,
        right,
        shell,
    })
}

fn tally_words(section: &str) -> &'static str {
    match section {
        "labour" => "In labour now",
        "again" => "To check again",
        "referrals" => "Referrals without news",
        "visits" => "Visits due",
        "answers" => "Answers to read",
        _ => "Births not recorded",
    }
}
