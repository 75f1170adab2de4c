//! What waits today.

use brimline::registry::mothers::{Which, counts, page};
use brimline::registry::today::{births_not_recorded, due_to_come, house as figures};
use brimline::registry::{PregnancyEnding, posts, pregnancies};

use crate::house::{House, at, day};
use crate::women::{facts, head_below, person};

impl House {
    fn agrees(&self, name: &str, seen: &str, next: &str) -> brimline::registry::PregnancyId {
        let woman = self.registers("2026-03-26T08:00", person(name), facts());
        let mut findings = head_below(seen);
        findings.next_visit_on = Some(day(next));
        self.visits(woman.pregnancy, findings);
        woman.pregnancy
    }
}

#[test]
fn women_due_today_or_missed_are_listed_until_they_come() {
    let house = House::new();
    house.agrees("Today", "2026-09-03T09:00", "2026-09-10");
    let missed = house.agrees("Missed", "2026-08-20T09:00", "2026-09-03");
    house.agrees("Tomorrow", "2026-09-03T09:00", "2026-09-11");
    let gone = house.agrees("Gone", "2026-09-03T09:00", "2026-09-10");
    house
        .nurse("2026-09-05T09:00", |change| {
            pregnancies::end(
                change,
                gone,
                PregnancyEnding::MovedAway,
                at("2026-09-05T09:00"),
            )
        })
        .unwrap();
    let names = || {
        let lines = house.read(|db| due_to_come(db, house.post, day("2026-09-10"), 60));
        lines
            .into_iter()
            .map(|line| line.mother.name)
            .collect::<Vec<_>>()
    };
    assert_eq!(names(), ["Missed", "Today"]);
    house.visits(missed, head_below("2026-09-10T08:00"));
    assert_eq!(names(), ["Today"], "she came, and no new day was agreed");
}

#[test]
fn a_due_date_that_has_passed_without_a_birth_is_asked_after() {
    let house = House::new();
    let nela = house.nela();
    let late = |today: &str| {
        house
            .read(|db| births_not_recorded(db, house.post, day(today), 50))
            .len()
    };
    assert_eq!(
        (late("2026-10-08"), late("2026-10-09")),
        (0, 1),
        "due on 8 October"
    );
    house
        .nurse("2026-10-09T09:00", |change| {
            pregnancies::end(
                change,
                nela.pregnancy,
                PregnancyEnding::MovedAway,
                at("2026-10-09T09:00"),
            )
        })
        .unwrap();
    assert_eq!(late("2026-10-10"), 0);
}

#[test]
fn the_lists_of_mothers_count_what_they_show() {
    let house = House::new();
    let nela = house.nela();
    let other = house.registers("2026-03-26T08:00", person("Ruta Belisande"), facts());
    house.visits(nela.pregnancy, crate::women::breech("2026-09-10T09:00"));
    house
        .nurse("2026-09-10T10:00", |change| {
            pregnancies::end(
                change,
                other.pregnancy,
                PregnancyEnding::Loss,
                at("2026-09-10T09:00"),
            )
        })
        .unwrap();
    assert_eq!(
        house.read(|db| counts(db, house.post, day("2026-09-10"))),
        [1, 0, 1, 2]
    );
    let post = house.read(|db| posts::find(db, house.post));
    for (which, expected) in [
        (Which::Pregnant, 1),
        (Which::AfterBirth, 0),
        (Which::Flagged, 1),
        (Which::All, 2),
    ] {
        let found = house.read(|db| page(db, &post, "", which, None, day("2026-09-10"), 50));
        assert_eq!(found.lines.len(), expected, "{which:?}");
    }
    let found = house.read(|db| page(db, &post, "nela", Which::All, None, day("2026-09-10"), 50));
    assert_eq!(found.lines[0].flags.len(), 1);
    assert_eq!(found.lines[0].last_visit_at, Some(at("2026-09-10T09:00")));
}

#[test]
fn the_keeper_sees_accounts_and_the_trail() {
    let house = House::new();
    let seen = house.read(|db| figures(db, at("2026-09-10T09:00")));
    assert_eq!(
        (seen.accounts, seen.stopped, seen.sessions, seen.last_backup),
        (3, 0, 0, None)
    );
    assert_eq!(seen.trail_lines, i64::from(house.count("audit")));
}
