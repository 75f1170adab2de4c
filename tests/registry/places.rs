//! Posts and hospitals: settings, clocks, ways.

use brimline::clinical::Urgency;
use brimline::registry::hospitals::{self, HospitalSettings, Needs};
use brimline::registry::posts::{self, PostSettings};
use brimline::registry::visits::{NewVisit, record};
use brimline::registry::{Change, RegistryError, audit};

use crate::house::{House, at, settings, way};
use crate::women::breech;

fn field<T: std::fmt::Debug>(result: Result<T, RegistryError>) -> &'static str {
    match result {
        Err(RegistryError::RefusedField { field, .. }) => field,
        Ok(_) => "done",
        Err(other) => panic!("{other:?}"),
    }
}

#[test]
fn by_night_the_way_is_longer_and_the_post_s_own_clock_says_when_night_is() {
    let house = House::new();
    let post = house.read(|db| posts::find(db, house.post));
    let minutes = |moment: &str| {
        house
            .read(|db| hospitals::nearest_operating(db, &post, at(moment)))
            .map(|(hospital, minutes)| (hospital.name, minutes))
    };
    let amberholt = |minutes| Some(("Amberholt".to_owned(), minutes));
    assert_eq!(
        minutes("2026-09-10T03:59"),
        amberholt(130),
        "05:59 at the post"
    );
    assert_eq!(
        minutes("2026-09-10T04:00"),
        amberholt(90),
        "06:00 at the post"
    );
    assert_eq!(
        minutes("2026-09-10T15:59"),
        amberholt(90),
        "17:59 at the post"
    );
    assert_eq!(
        minutes("2026-09-10T16:00"),
        amberholt(130),
        "18:00 at the post"
    );
}

#[test]
fn a_hospital_is_proposed_by_what_it_can_do_and_then_by_its_way() {
    let house = House::new();
    let post = house.read(|db| posts::find(db, house.post));
    let names = |needs| {
        let proposed =
            house.read(|db| hospitals::proposed(db, &post, at("2026-09-10T09:00"), needs));
        proposed
            .into_iter()
            .map(|it| (it.hospital.name, it.suits))
            .collect::<Vec<_>>()
    };
    let (far, near) = ("Amberholt".to_owned(), "Saint Orrin".to_owned());
    assert_eq!(
        names(Needs::default()),
        [(near.clone(), true), (far.clone(), true)]
    );
    assert_eq!(
        names(Needs {
            operation: true,
            blood: false
        }),
        [(far, true), (near, false)]
    );
}

#[test]
fn a_hospital_that_stopped_receiving_is_proposed_no_more() {
    let house = House::new();
    let post = house.read(|db| posts::find(db, house.post));
    let closed = HospitalSettings {
        name: "Amberholt".into(),
        phone: None,
        can_operate: true,
        has_blood: true,
        receives: false,
    };
    let amend = |revision| {
        house
            .registry
            .write(&house.keeper, at("2026-09-01T09:00"), |change| {
                hospitals::amend(
                    change,
                    house.amberholt,
                    revision,
                    &closed,
                    "the theatre is rebuilt",
                )
            })
    };
    amend(1).unwrap();
    assert!(matches!(
        amend(1),
        Err(RegistryError::Stale {
            current_revision: 2
        })
    ));
    assert_eq!(
        house.read(|db| hospitals::nearest_operating(db, &post, at("2026-09-10T09:00"))),
        None
    );
}

#[test]
fn settings_are_refused_beside_their_field() {
    let house = House::new();
    let good = settings("TH", "Tessel Hill", vec![way(house.amberholt, 70, 85)]);
    let add = |settings: PostSettings| {
        field(
            house
                .registry
                .write(&house.keeper, at("2026-09-01T09:00"), |change| {
                    posts::add(change, &settings)
                }),
        )
    };
    assert_eq!(
        add(PostSettings {
            code: "QF".into(),
            ..good.clone()
        }),
        "code"
    );
    assert_eq!(
        add(PostSettings {
            code: "t1".into(),
            ..good.clone()
        }),
        "code"
    );
    assert_eq!(
        add(PostSettings {
            name: "Quern Ford".into(),
            ..good.clone()
        }),
        "name"
    );
    assert_eq!(
        add(PostSettings {
            time_zone: "Middle/Earth".into(),
            ..good.clone()
        }),
        "time_zone"
    );
    assert_eq!(
        add(PostSettings {
            phone: Some("0".repeat(17)),
            ..good.clone()
        }),
        "phone"
    );
    assert_eq!(
        add(PostSettings {
            night_from: 24,
            ..good.clone()
        }),
        "day_from"
    );
    assert_eq!(
        add(PostSettings {
            night_from: 6,
            ..good.clone()
        }),
        "night_from"
    );
    assert_eq!(
        add(PostSettings {
            ways: vec![way(house.amberholt, 70, 1441)],
            ..good.clone()
        }),
        "travel"
    );
    assert_eq!(add(good), "done");
}

#[test]
fn a_changed_setting_stands_in_the_trail_with_what_it_was() {
    let house = House::new();
    let changed = settings(
        "QF",
        "Quern Ford",
        vec![
            way(house.amberholt, 150, 130),
            way(house.saint_orrin, 30, 40),
        ],
    );
    let changed = PostSettings {
        skilled_breech: true,
        ..changed
    };
    let amend = |revision, settings: &PostSettings| {
        house
            .registry
            .write(&house.keeper, at("2026-09-01T09:00"), |change| {
                posts::amend(
                    change,
                    house.post,
                    revision,
                    settings,
                    "the wait for the ferry counts",
                )
            })
    };
    amend(1, &changed).unwrap();
    let stale = amend(1, &changed);
    assert!(
        matches!(
            stale,
            Err(RegistryError::Stale {
                current_revision: 2
            })
        ),
        "{stale:?}"
    );
    let line = house
        .read(|db| audit::page(db, &audit::Filter::default(), None, 1))
        .remove(0);
    assert_eq!(
        line.detail,
        "QF: skilled in breech no → yes, Amberholt by day 90 → 150 min; the wait for the ferry counts"
    );
}

/// One change may bring in many entries; what it has read of a post must not outlive a change of the post.
#[test]
fn settings_that_change_between_two_entries_of_one_change_judge_the_second() {
    let house = House::new();
    let nela = house.nela();
    let ways = vec![
        way(house.amberholt, 90, 130),
        way(house.saint_orrin, 30, 40),
    ];
    let skilled = PostSettings {
        skilled_breech: true,
        ..settings("QF", "Quern Ford", ways)
    };
    let urgencies = house.nurse("2026-09-17T09:00", |change| {
        let felt = |change: &mut Change<'_>, when| {
            let new = NewVisit {
                pregnancy: nela.pregnancy,
                findings: breech(when),
                request_key: None,
            };
            change.as_of(&house.nurse, at(when));
            let judged = record(change, &new)?.assessment;
            Ok::<_, RegistryError>(judged.map(|judged| judged.urgency()))
        };
        let before = felt(change, "2026-09-17T09:00")?;
        change.as_of(&house.keeper, at("2026-09-17T10:00"));
        posts::amend(change, house.post, 1, &skilled, "a colleague came")?;
        Ok([before, felt(change, "2026-09-17T11:00")?])
    });
    assert_eq!(
        urgencies.unwrap(),
        [Some(Some(Urgency::Soon)), Some(Some(Urgency::Review))]
    );
}

#[test]
fn the_letters_of_a_register_stay_once_they_stand_on_cards() {
    let house = House::new();
    house.nela();
    let other = settings("QX", "Quern Ford", Vec::new());
    let amended = house
        .registry
        .write(&house.keeper, at("2026-09-01T09:00"), |change| {
            posts::amend(change, house.post, 1, &other, "nicer")
        });
    assert_eq!(field(amended), "code");
}

#[test]
fn local_days_and_moments_of_a_post_agree_across_a_change_of_clocks() {
    let house = House::new();
    let mut post = house.read(|db| posts::find(db, house.post));
    assert_eq!(post.day(at("2026-09-10T22:00")).to_string(), "2026-09-11");
    assert_eq!(
        post.moment(at("2026-09-11T00:00")),
        Some(at("2026-09-10T22:00"))
    );
    post.time_zone = "Europe/Vienna".into();
    assert_eq!(
        post.moment(at("2026-03-29T02:30")),
        None,
        "this half hour is left out"
    );
    assert_eq!(
        post.moment(at("2026-10-25T02:30")),
        Some(at("2026-10-25T00:30")),
        "the first of two"
    );
    assert_eq!(
        post.beginning_of(at("2026-10-25T12:00").date()),
        at("2026-10-24T22:00")
    );
}
