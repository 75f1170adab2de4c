//! Counts the invented women and holds the counts against the stated rates.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]
use super::super::story::Lying;
use super::*;

fn everyone(seed: u64) -> Vec<Course> {
    let now = "2026-11-25T09:00:00".parse().unwrap();
    let (district, rates) = (District::read().unwrap(), Rates::read().unwrap());
    courses((&district, &rates), PREGNANCIES, now, &Chance::new(seed))
}

/// Several registers together, so that chance itself stays below the tolerance.
fn crowd() -> Vec<Story> {
    (1..=12)
        .flat_map(everyone)
        .map(|course| course.story)
        .collect()
}

fn share(crowd: &[Story], of: impl Fn(&Story) -> bool, what: impl Fn(&Story) -> bool) -> f64 {
    let all: Vec<_> = crowd.iter().filter(|story| of(story)).collect();
    let some = all.iter().filter(|story| what(story)).count();
    f64::from(u32::try_from(some).unwrap()) / f64::from(u32::try_from(all.len()).unwrap())
}

#[test]
fn the_stated_rates_come_out() {
    let (crowd, rates) = (crowd(), Rates::read().unwrap());
    // Who is registered late cannot end early, so rates of ends are held among those who came by 20 weeks.
    let every = |_: &Story| true;
    let single = Story::single;
    for (what, stated, found) in [
        (
            "first births",
            rates.first_births,
            share(&crowd, every, |it| it.births_before == 0),
        ),
        ("twins", rates.twins, share(&crowd, every, Story::twins)),
        (
            "breech at 28 weeks",
            rates.breech_at_28,
            share(&crowd, single, |it| it.lying(196) == Lying::Breech),
        ),
        (
            "breech near term",
            rates.breech_near_term,
            share(&crowd, single, |it| it.lying(252) == Lying::Breech),
        ),
        (
            "across at 28 weeks",
            rates.across_at_28,
            share(&crowd, single, |it| it.lying(196) == Lying::Across),
        ),
        (
            "across near term",
            rates.across_near_term,
            share(&crowd, single, |it| it.lying(252) == Lying::Across),
        ),
        (
            "small",
            rates.small,
            share(&crowd, single, |it| it.babies[0].size < -1.2816),
        ),
        (
            "preterm",
            rates.preterm,
            share(
                &crowd,
                |it| it.single() && it.ends_at >= 196,
                |it| it.ends_at < 259,
            ),
        ),
        (
            "past 41 weeks",
            rates.past_41,
            share(&crowd, single, |it| it.ends_at >= 287),
        ),
        (
            "scar",
            rates.caesarean_before,
            share(
                &crowd,
                |it| it.births_before > 0,
                |it| it.caesareans_before > 0,
            ),
        ),
        (
            "certain period",
            rates.period_certain,
            share(&crowd, every, |it| it.period_certain),
        ),
        (
            "raised pressure",
            rates.raised_pressure,
            share(&crowd, every, |it| it.pressure_from.is_some()),
        ),
        (
            "stillborn",
            rates.stillbirths,
            share(
                &crowd,
                |it| it.ends_at >= 196,
                |it| {
                    matches!(
                        it.life,
                        super::super::story::Life::DiesBeforeLabour
                            | super::super::story::Life::DiesInLabour
                    )
                },
            ),
        ),
    ] {
        let chance = 3.5 * (stated * (1.0 - stated) / 17_000.0).sqrt();
        // One tenth of the rate is granted to the shapes around it.
        assert!(
            (found - stated).abs() < chance + 0.1 * stated,
            "{what}: {found:.4}, stated {stated:.4}"
        );
    }
}

#[test]
fn a_register_holds_two_years_of_fifteen_hundred_pregnancies_at_six_posts() {
    let courses = everyone(1);
    assert_eq!(courses.len(), PREGNANCIES);
    assert_eq!(
        first_day("2026-11-25".parse().unwrap()).to_string(),
        "2024-11-01"
    );
    assert!(courses.iter().any(|it| it.again_of.is_some()));
    for post in 0..6 {
        let here = courses.iter().filter(|it| it.story.post == post).count();
        assert!(here > 120, "post {post} has {here} pregnancies");
    }
    let mut months: Vec<_> = courses
        .iter()
        .map(|it| it.booked_at.format("%Y-%m").to_string())
        .collect();
    months.sort();
    months.dedup();
    assert_eq!(months.len(), 25, "a month without a registration");
}

#[test]
fn nothing_happens_after_now_or_after_the_end_or_out_of_order() {
    let now: Moment = "2026-11-25T09:00:00".parse().unwrap();
    for course in everyone(5) {
        assert!(course.visits.iter().all(|visit| visit.at <= now));
        assert!(course.visits.is_sorted_by_key(|visit| visit.at));
        assert!(
            course
                .visits
                .iter()
                .all(|visit| visit.at.date() < course.story.ends_on())
        );
        assert!(
            course
                .visits
                .iter()
                .all(|it| it.next.is_none_or(|next| next > it.at.date()))
        );
        assert!(
            course
                .story
                .told_period
                .is_none_or(|told| told <= course.booked_at.date())
        );
        assert!(
            course
                .story
                .scans
                .iter()
                .all(|scan| scan.on <= course.booked_at.date())
        );
    }
}

#[test]
fn a_baby_that_has_turned_stays() {
    for story in crowd() {
        let turned = (140..300).map(|days| story.lying(days) == Lying::Head);
        assert!(turned.clone().is_sorted(), "{story:?}");
    }
}
