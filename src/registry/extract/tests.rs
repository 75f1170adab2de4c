//! What a month of the register gives, from rows written by hand.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use diesel::prelude::*;

use super::*;
use crate::registry::{By, Registry};

const POST: &str = "01900000-0000-7000-8000-000000000001";
const STAFF: &str = "01900000-0000-7000-8000-000000000002";
const MOTHER: &str = "01900000-0000-7000-8000-000000000003";
const PREGNANCY: &str = "01900000-0000-7000-8000-000000000004";
const HOSPITAL: &str = "01900000-0000-7000-8000-000000000005";

struct Post {
    registry: Registry,
    _folder: tempfile::TempDir,
}

fn at(text: &str) -> Moment {
    Moment::parse_from_str(text, "%Y-%m-%dT%H:%M:%SZ").unwrap()
}

impl Post {
    /// A post at UTC+3 with one woman, last period 2026-01-01, registered in September.
    fn with_one_woman() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let registry = Registry::open_fresh_in(folder.path()).unwrap();
        let post = Self {
            registry,
            _folder: folder,
        };
        post.run(&format!("INSERT INTO posts VALUES ('{POST}', 'QF', 'Quern Ford', 'Africa/Nairobi', NULL, 'labour-care-guide', 'intergrowth', 0, 0, 6, 18, NULL, 1, NULL)"));
        post.run(&format!("INSERT INTO staff VALUES ('{STAFF}', 'nurse', 'Nurse', 'nurse', '{POST}', 'x', '2026-01-01 00:00:00', 'list', '2026-01-01 00:00:00', NULL)"));
        post.run(&format!(
            "INSERT INTO hospitals (id, name, can_operate, has_blood, revision) VALUES ('{HOSPITAL}', 'Amberholt', 1, 1, 1)"
        ));
        post.run(&format!(
            "INSERT INTO mothers (id, post_id, number, name, name_folded, registered_at, registered_by, revision, entered_in_error) \
             VALUES ('{MOTHER}', '{POST}', 1, 'N', 'n', '2026-09-01 08:00:00', '{STAFF}', 1, 0)"
        ));
        post.run(&format!(
            "INSERT INTO pregnancies (id, mother_id, post_id, opened_at, lmp, lmp_certain, due_date, revision) \
             VALUES ('{PREGNANCY}', '{MOTHER}', '{POST}', '2026-09-01 08:00:00', '2026-01-01', 1, '2026-10-08', 1)"
        ));
        post
    }

    fn run(&self, sql: &str) {
        let by = By::program("test");
        self.registry
            .write(&by, at("2026-11-01T00:00:00Z"), |change| {
                diesel::sql_query(sql).execute(change.db())?;
                change.tell("row written", "test", "", "")
            })
            .unwrap_or_else(|error| panic!("{sql}: {error:?}"));
    }

    /// A visit and the findings of its revisions: in labour, height in tenths.
    fn visit(&self, number: u32, when: &str, in_error: bool, revisions: &[Option<u32>]) {
        let id = format!("01900000-0000-7000-8000-0000000001{number:02}");
        let newest = revisions.len();
        self.run(&format!(
            "INSERT INTO visits (id, pregnancy_id, mother_id, post_id, at, entered_at, entered_by, revision, entered_in_error) \
             VALUES ('{id}', '{PREGNANCY}', '{MOTHER}', '{POST}', '{when}', '{when}', '{STAFF}', {newest}, {})",
            i32::from(in_error)
        ));
        for (revision, height) in (1..).zip(revisions) {
            let height = height.map_or("NULL".to_owned(), |height| height.to_string());
            self.run(&format!(
                "INSERT INTO visit_findings (visit_id, revision, at, in_labour, fundus, left_side, right_side, front, lower_pole, fundal_height_tenths, signs_asked, written_at, written_by) \
                 VALUES ('{id}', {revision}, '{when}', 0, 'hard-round', 'long-smooth', 'small-lumps', NULL, 'soft-irregular', {height}, 0, '{when}', '{STAFF}')"
            ));
        }
    }

    fn october(&self) -> Extract {
        let now = at("2026-11-20T12:00:00Z");
        self.registry
            .read(|db| {
                let posts = posts(db)?;
                month(db, &posts, "2026-10".parse().unwrap(), now)
            })
            .unwrap()
    }
}

#[test]
fn a_visit_belongs_to_the_month_of_the_post_s_own_clock() {
    let post = Post::with_one_woman();
    for (number, when) in [
        (1, "2026-09-30 20:59:59"),
        (2, "2026-09-30 21:00:00"),
        (3, "2026-10-31 20:59:59"),
        (4, "2026-10-31 21:00:00"),
    ] {
        post.visit(number, when, false, &[None]);
    }
    let days: Vec<String> = post
        .october()
        .visits
        .iter()
        .map(|visit| visit.on.unwrap().to_string())
        .collect();
    assert_eq!(days, ["2026-10-01", "2026-10-31"]);
}

#[test]
fn an_amended_visit_counts_once_as_its_newest_revision_has_it() {
    let post = Post::with_one_woman();
    post.visit(1, "2026-10-05 08:00:00", false, &[Some(300), Some(310)]);
    let visits: Vec<VisitLine> = post.october().visits.iter().collect();
    assert_eq!(visits.len(), 1);
    assert_eq!(visits[0].fundal_height_tenths, Some(310));
}

#[test]
fn what_was_entered_in_error_is_in_no_line() {
    let post = Post::with_one_woman();
    post.visit(1, "2026-10-05 08:00:00", true, &[Some(300)]);
    assert!(post.october().visits.is_empty());
    post.visit(2, "2026-10-06 08:00:00", false, &[Some(300)]);
    assert_eq!(post.october().visits.len(), 1);
    post.run(&format!(
        "UPDATE mothers SET entered_in_error = 1 WHERE id = '{MOTHER}'"
    ));
    assert!(
        post.october().visits.is_empty(),
        "nor is anything of a woman entered in error"
    );
}

#[test]
fn a_visit_carries_its_gestation_and_what_the_hands_found() {
    let post = Post::with_one_woman();
    post.visit(1, "2026-10-05 08:00:00", false, &[None]);
    let lines = post.october();
    let visit = lines.visits.iter().next().unwrap();
    assert_eq!(
        visit.gestation_days,
        Some(277),
        "1 January to 5 October 2026"
    );
    assert_eq!(
        (visit.presentation, visit.lie),
        (Some("breech"), Some("longitudinal"))
    );
    assert_eq!(visit.twins_known, Some(false));
}

#[test]
fn a_scan_that_is_not_yet_made_tells_nothing() {
    let post = Post::with_one_woman();
    post.visit(1, "2026-10-05 08:00:00", false, &[None]);
    let scan = |id: u32, day: &str| {
        post.run(&format!(
            "INSERT INTO scans VALUES ('s{id}', '{PREGNANCY}', {id}, '{day}', NULL, NULL, 2)"
        ));
        post.october().visits.iter().next().unwrap().twins_known
    };
    assert_eq!(scan(1, "2026-10-06"), Some(false));
    assert_eq!(scan(2, "2026-10-05"), Some(true));
}

#[test]
fn a_pregnancy_past_its_due_date_stands_there_until_it_ends() {
    let post = Post::with_one_woman();
    let due: Vec<PregnancyLine> = post.october().due.iter().collect();
    assert_eq!(due.len(), 1);
    assert_eq!(due[0].days_past_due, Some(43), "8 October to 20 November");
    post.run(&format!("UPDATE pregnancies SET ended_at = '2026-11-01 08:00:00', ending = 'moved-away' WHERE id = '{PREGNANCY}'"));
    assert!(post.october().due.is_empty());
}

#[test]
fn a_referral_carries_the_times_of_its_steps_and_a_corrected_step_no_longer_counts() {
    let post = Post::with_one_woman();
    post.run(&format!(
        "INSERT INTO referrals (id, number, post_id, mother_id, pregnancy_id, hospital_id, urgency, state, decided_at, decided_by, entered_at, planned_for, reply_code, revision, entered_in_error) \
         VALUES ('r1', 'QF-2026-001', '{POST}', '{MOTHER}', '{PREGNANCY}', '{HOSPITAL}', 'soon', 'answered', '2026-10-05 08:00:00', '{STAFF}', '2026-10-05 08:00:00', '2026-10-07', 'c1', 1, 0)"
    ));
    post.run("INSERT INTO referral_reasons VALUES ('r1', 'waters'), ('r1', 'breech')");
    let step = |id: &str, event: &str, at: &str, replaced_by: &str| {
        post.run(&format!(
            "INSERT INTO referral_steps (id, referral_id, event, at, entered_at, replaced_by) VALUES ('{id}', 'r1', '{event}', {at}, '2026-10-06 08:00:00', {replaced_by})"
        ));
    };
    step("t2", "left", "'2026-10-05 09:00:00'", "NULL");
    step("t1", "left", "'2026-10-05 08:10:00'", "'t2'");
    step("t3", "arrived", "NULL", "NULL");
    step("t4", "answered", "'2026-10-06 08:00:00'", "NULL");
    post.run("INSERT INTO answers (id, referral_id, step_id, way, baby_outcome) VALUES ('a1', 'r1', 't4', 'paper', 'well')");
    let lines = post.october();
    let referral = lines.referrals.iter().next().unwrap();
    assert_eq!(referral.left_at, Some(at("2026-10-05T09:00:00Z")));
    assert_eq!((referral.arrived, referral.arrived_at), (Some(true), None));
    assert_eq!(
        referral.arrival_entered_at,
        Some(at("2026-10-06T08:00:00Z"))
    );
    assert_eq!(
        (referral.answered, referral.outcome_told),
        (Some(true), Some(true))
    );
    assert_eq!(
        referral.planned_at,
        Some(at("2026-10-06T21:00:00Z")),
        "midnight at the post"
    );
    let reasons: Vec<_> = lines
        .reasons
        .iter()
        .map(|reason| reason.category.unwrap())
        .collect();
    assert_eq!(reasons, ["breech", "waters"]);
}

#[test]
fn twins_are_two_lines_of_the_newest_revision_in_the_month_of_the_first() {
    let post = Post::with_one_woman();
    post.run(&format!(
        "INSERT INTO births (id, pregnancy_id, mother_id, post_id, born_on, entered_at, entered_by, revision, entered_in_error) \
         VALUES ('b1', '{PREGNANCY}', '{MOTHER}', '{POST}', '2026-10-31', '2026-11-02 08:00:00', '{STAFF}', 2, 0)"
    ));
    for revision in [1, 2] {
        post.run(&format!(
            "INSERT INTO birth_details (birth_id, revision, onset, mother_outcome, written_at, written_by) VALUES ('b1', {revision}, 'spontaneous', 'well', '2026-11-02 08:00:00', '{STAFF}')"
        ));
    }
    let baby = |revision: u32, position: u32, day: &str, place: &str| {
        post.run(&format!(
            "INSERT INTO newborns (birth_id, revision, position, born_on, place, mode, presentation, sex, weight_g, state, died) \
             VALUES ('b1', {revision}, {position}, '{day}', '{place}', 'vaginal', 'cephalic', 'girl', 2600, 'alive', 0)"
        ));
    };
    baby(1, 1, "2026-10-31", "home");
    baby(2, 1, "2026-10-31", "here");
    baby(2, 2, "2026-11-01", "on-the-way");
    let babies: Vec<BabyLine> = post.october().babies.iter().collect();
    let told: Vec<_> = babies
        .iter()
        .map(|baby| {
            (
                baby.babies,
                baby.first_place,
                baby.place,
                baby.gestation_days,
            )
        })
        .collect();
    assert_eq!(
        told,
        [
            (Some(2), Some("here"), Some("here"), Some(303)),
            (Some(2), Some("here"), Some("on-the-way"), Some(303))
        ]
    );
    assert!(
        babies
            .iter()
            .all(|baby| baby.last_born_on.unwrap().to_string() == "2026-11-01")
    );
    assert_eq!(babies[0].days_old, Some(20));
}

#[test]
fn a_loss_stands_there_only_without_a_birth_record() {
    let post = Post::with_one_woman();
    post.run(&format!("UPDATE pregnancies SET ended_at = '2026-10-09 08:00:00', ending = 'loss' WHERE id = '{PREGNANCY}'"));
    let ended: Vec<_> = post
        .october()
        .ended
        .iter()
        .map(|line| line.ending)
        .collect();
    assert_eq!(ended, [Some("loss")]);
    post.run(&format!(
        "INSERT INTO births (id, pregnancy_id, mother_id, post_id, born_on, entered_at, entered_by, revision, entered_in_error) \
         VALUES ('b1', '{PREGNANCY}', '{MOTHER}', '{POST}', '2026-10-09', '2026-10-09 08:00:00', '{STAFF}', 1, 0)"
    ));
    assert!(post.october().ended.is_empty());
}

impl Post {
    /// A birth on 20 October 2026, at noon UTC.
    fn birth(&self) {
        self.run(&format!(
            "INSERT INTO births (id, pregnancy_id, mother_id, post_id, born_on, born_at, entered_at, entered_by, revision, entered_in_error) \
             VALUES ('b1', '{PREGNANCY}', '{MOTHER}', '{POST}', '2026-10-20', '2026-10-20 12:00:00', '2026-10-20 13:00:00', '{STAFF}', 1, 0)"
        ));
    }

    fn flag(&self, id: &str, raised: &str, rest: &str) {
        self.run(&format!(
            "INSERT INTO flags (id, pregnancy_id, mother_id, post_id, rule, category, urgency, highest, evidence, advice, source, rules_version, raised_at, last_raised_at, decision, decided_at, closing, closed_at, revision) \
             VALUES ('{id}', '{PREGNANCY}', '{MOTHER}', '{POST}', 'x', 'breech', 'review', 'soon', '', '', '', '1', '{raised}', '{raised}', {rest}, 1)"
        ));
    }
}

#[test]
fn the_last_reading_in_the_28_days_before_the_birth_is_the_one_that_counts() {
    let post = Post::with_one_woman();
    post.birth();
    let woman = |post: &Post| post.october().women.iter().next().unwrap();
    assert_eq!(woman(&post).seen_before_labour, Some(false));
    post.visit(1, "2026-09-21 08:00:00", false, &[Some(300)]);
    let early = woman(&post);
    assert_eq!(
        (early.seen_before_labour, early.felt_certainty, early.taped),
        (Some(true), None, Some(false)),
        "29 days before"
    );
    post.visit(2, "2026-09-22 08:00:00", false, &[Some(300)]);
    let in_time = woman(&post);
    assert_eq!(
        (
            in_time.felt_presentation,
            in_time.taped,
            in_time.taped_small
        ),
        (Some("breech"), Some(true), Some(true))
    );
    post.visit(3, "2026-10-12 08:00:00", false, &[Some(370)]);
    assert_eq!(woman(&post).taped_small, Some(false), "37 cm at 40w+4d");
    post.visit(4, "2026-10-21 08:00:00", false, &[Some(300)]);
    assert_eq!(
        woman(&post).taped_small,
        Some(false),
        "a visit after the birth says nothing of what was found before"
    );
}

#[test]
fn a_flag_stands_in_labour_unless_it_was_settled_or_dismissed_before() {
    let post = Post::with_one_woman();
    post.birth();
    post.run(&format!(
        "INSERT INTO labours (id, pregnancy_id, mother_id, post_id, opened_at, opened_by, protocol, closed_as, revision) \
         VALUES ('l1', '{PREGNANCY}', '{MOTHER}', '{POST}', '2026-10-20 06:00:00', '{STAFF}', 'labour-care-guide', 'birth', 1)"
    ));
    post.flag("f1", "2026-10-01 08:00:00", "NULL, NULL, NULL, NULL");
    post.flag(
        "f2",
        "2026-10-02 08:00:00",
        "NULL, NULL, 'settled', '2026-10-10 08:00:00'",
    );
    post.flag(
        "f3",
        "2026-10-03 08:00:00",
        "NULL, NULL, 'settled', '2026-10-20 07:00:00'",
    );
    post.flag(
        "f4",
        "2026-10-04 08:00:00",
        "'dismissed', '2026-10-05 08:00:00', 'dismissed', '2026-10-05 08:00:00'",
    );
    post.flag("f5", "2026-10-20 07:00:00", "NULL, NULL, NULL, NULL");
    post.flag("f6", "2026-10-20 12:00:00", "NULL, NULL, NULL, NULL");
    let told: Vec<_> = post
        .october()
        .dangers
        .iter()
        .map(|danger| {
            [
                danger.before_birth,
                danger.before_labour,
                danger.stood_in_labour,
                danger.dismissed,
            ]
            .map(|truth| truth.unwrap())
        })
        .collect();
    assert_eq!(
        told,
        [
            [true, true, true, false],
            [true, true, false, false],
            [true, true, true, false],
            [true, true, false, true],
            [true, false, false, false],
            [false, false, false, false],
        ]
    );
}
