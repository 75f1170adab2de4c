//! Signing a month, and which one is to be signed next.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use diesel::prelude::*;

use super::State::{BeforeTheRegister, Late, Ready, Running, Signed};
use super::*;
use crate::registry::{By, Registry, StaffId};

const POST: &str = "01900000-0000-7000-8000-000000000001";
const STAFF: &str = "01900000-0000-7000-8000-000000000002";

struct Post {
    registry: Registry,
    _folder: tempfile::TempDir,
}

fn at(text: &str) -> Moment {
    Moment::parse_from_str(text, "%Y-%m-%dT%H:%M:%SZ").unwrap()
}

fn october() -> Month {
    "2026-10".parse().unwrap()
}

impl Post {
    /// A post at UTC+3 whose first woman was registered in August 2026.
    fn open() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let registry = Registry::open_fresh_in(folder.path()).unwrap();
        let rows = [
            format!(
                "INSERT INTO posts VALUES ('{POST}', 'QF', 'Quern Ford', 'Africa/Nairobi', NULL, 'labour-care-guide', 'intergrowth', 0, 0, 6, 18, NULL, 1, NULL)"
            ),
            format!(
                "INSERT INTO staff VALUES ('{STAFF}', 'midwife', 'Midwife', 'midwife', '{POST}', 'x', '2026-01-01 00:00:00', 'list', '2026-01-01 00:00:00', NULL)"
            ),
            format!(
                "INSERT INTO mothers (id, post_id, number, name, name_folded, registered_at, registered_by, revision, entered_in_error) \
                 VALUES ('m', '{POST}', 1, 'N', 'n', '2026-08-10 08:00:00', '{STAFF}', 1, 0)"
            ),
        ];
        registry
            .write(&By::program("test"), at("2026-08-10T08:00:00Z"), |change| {
                for row in &rows {
                    diesel::sql_query(row).execute(change.db())?;
                }
                change.tell("rows written", "test", "", "")
            })
            .unwrap();
        Self {
            registry,
            _folder: folder,
        }
    }

    fn id() -> PostId {
        POST.parse().unwrap()
    }

    fn sign(&self, month: Month, role: Role, now: &str) -> Result<MonthSignatureId> {
        let staff: StaffId = STAFF.parse().unwrap();
        let by = By {
            staff: Some(staff),
            name: "Midwife".to_owned(),
            role: Some(role),
            post: Some(Self::id()),
        };
        self.registry
            .write(&by, at(now), |change| sign(change, month, "{}", "2026-11"))
    }

    fn to_sign(&self, now: &str) -> Option<String> {
        let found = self
            .registry
            .read(|db| to_sign(db, Self::id(), at(now)))
            .unwrap();
        found.map(|month| month.to_string())
    }
}

#[test]
fn a_month_is_signed_when_it_is_over_and_keeps_its_figures() {
    let post = Post::open();
    let early = post
        .sign(october(), Role::Midwife, "2026-10-31T20:59:59Z")
        .unwrap_err();
    assert_eq!(early.to_string(), "October 2026 is not over yet.");
    post.sign(october(), Role::Midwife, "2026-10-31T21:00:00Z")
        .unwrap();
    let signed = post
        .registry
        .read(|db| signature(db, Post::id(), october()))
        .unwrap()
        .unwrap();
    assert_eq!(
        (
            signed.signed_by.as_str(),
            signed.figures.as_str(),
            signed.rules_version.as_str()
        ),
        ("Midwife", "{}", "2026-11")
    );
    let again = post
        .sign(october(), Role::Midwife, "2026-11-02T08:00:00Z")
        .unwrap_err();
    assert_eq!(again.to_string(), "October 2026 is already signed.");
}

#[test]
fn only_the_midwife_signs_and_only_what_the_register_holds() {
    let post = Post::open();
    let nurse = post
        .sign(october(), Role::Nurse, "2026-11-02T08:00:00Z")
        .unwrap_err();
    assert_eq!(
        nurse.to_string(),
        "Only the midwife in charge signs a month."
    );
    let july = post
        .sign(
            "2026-07".parse().unwrap(),
            Role::Midwife,
            "2026-11-02T08:00:00Z",
        )
        .unwrap_err();
    assert_eq!(july.to_string(), "The register holds nothing of July 2026.");
}

#[test]
fn the_newest_month_that_is_over_and_not_signed_comes_next() {
    let post = Post::open();
    assert_eq!(
        post.to_sign("2026-11-02T08:00:00Z").as_deref(),
        Some("2026-10")
    );
    post.sign(october(), Role::Midwife, "2026-11-02T08:00:00Z")
        .unwrap();
    assert_eq!(
        post.to_sign("2026-11-02T08:00:00Z").as_deref(),
        Some("2026-09")
    );
    for month in ["2026-09", "2026-08"] {
        post.sign(
            month.parse().unwrap(),
            Role::Midwife,
            "2026-11-02T08:00:00Z",
        )
        .unwrap();
    }
    assert_eq!(post.to_sign("2026-11-02T08:00:00Z"), None);
}

#[test]
fn an_unsigned_month_is_late_after_the_tenth() {
    let post = Post::open();
    post.sign(
        "2026-09".parse().unwrap(),
        Role::Midwife,
        "2026-10-04T08:00:00Z",
    )
    .unwrap();
    let months: Vec<Month> = ["2026-07", "2026-08", "2026-09", "2026-10", "2026-11"]
        .map(|month| month.parse().unwrap())
        .to_vec();
    let states = |now: &str| {
        let overview = post
            .registry
            .read(|db| overview(db, None, &months, at(now)))
            .unwrap();
        overview[0]
            .months
            .iter()
            .map(|month| month.state)
            .collect::<Vec<_>>()
    };
    assert_eq!(
        states("2026-11-10T12:00:00Z"),
        [BeforeTheRegister, Late(61), Signed, Ready, Running]
    );
    assert_eq!(
        states("2026-11-25T12:00:00Z"),
        [BeforeTheRegister, Late(76), Signed, Late(15), Running]
    );
}
