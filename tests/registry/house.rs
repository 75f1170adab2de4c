//! A registry of its own for each test: one post, two hospitals, a nurse, a midwife, a keeper.

use std::path::PathBuf;

use brimline::clinical::{HeightMethod, LabourProtocol, Moment};
use brimline::registry::passwords::{HashedPassword, PasswordCost};
use brimline::registry::staff::NewStaff;
use brimline::registry::{
    By, Change, Db, HospitalId, PostId, Registry, Result, Role, StaffId, hospitals, posts, staff,
};
use chrono::NaiveDateTime;
use diesel::{Connection, RunQueryDsl, SqliteConnection};

pub(crate) struct House {
    pub(crate) registry: Registry,
    pub(crate) post: PostId,
    pub(crate) amberholt: HospitalId,
    pub(crate) saint_orrin: HospitalId,
    pub(crate) nurse: By,
    pub(crate) midwife: By,
    pub(crate) keeper: By,
    pub(crate) folder: tempfile::TempDir,
}

/// `2026-09-10T09:00`.
#[track_caller]
pub(crate) fn at(text: &str) -> Moment {
    NaiveDateTime::parse_from_str(text, "%Y-%m-%dT%H:%M").unwrap()
}

#[track_caller]
pub(crate) fn day(text: &str) -> chrono::NaiveDate {
    text.parse().unwrap()
}

pub(crate) const PASSWORD: &str = "demo only, not for care";

pub(crate) fn password() -> HashedPassword {
    HashedPassword::of(PASSWORD, PasswordCost::PRACTICE).unwrap()
}

pub(crate) fn settings(code: &str, name: &str, ways: Vec<posts::Travel>) -> posts::PostSettings {
    posts::PostSettings {
        code: code.into(),
        name: name.into(),
        time_zone: "Etc/GMT-2".into(),
        phone: Some("0555 0119".into()),
        labour_protocol: LabourProtocol::CareGuide,
        height_method: HeightMethod::Intergrowth,
        skilled_breech: false,
        skilled_twins: false,
        day_from: 6,
        night_from: 18,
        reply_address: None,
        ways,
    }
}

impl House {
    pub(crate) fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let registry = Registry::open_fresh_in(folder.path()).unwrap();
        let began = at("2026-01-01T08:00");
        let shell = By::program("the shell");
        let made = registry.write(&shell, began, |change| {
            let amberholt = hospital(change, "Amberholt", true)?;
            let saint_orrin = hospital(change, "Saint Orrin", false)?;
            let ways = vec![way(amberholt, 90, 130), way(saint_orrin, 30, 40)];
            let post = posts::add(change, &settings("QF", "Quern Ford", ways))?;
            let nurse = account(change, "imke", Role::Nurse, Some(post))?;
            let midwife = account(change, "sarai", Role::Midwife, Some(post))?;
            let keeper = account(change, "petra", Role::Keeper, None)?;
            Ok((amberholt, saint_orrin, post, nurse, midwife, keeper))
        });
        let (amberholt, saint_orrin, post, nurse, midwife, keeper) = made.unwrap();
        let by = |id| registry.read(|db| staff::find(db, id)).unwrap().by();
        Self {
            post,
            amberholt,
            saint_orrin,
            nurse: by(nurse),
            midwife: by(midwife),
            keeper: by(keeper),
            registry,
            folder,
        }
    }

    /// The nurse writes.
    pub(crate) fn nurse<T>(
        &self,
        now: &str,
        work: impl FnOnce(&mut Change<'_>) -> Result<T>,
    ) -> Result<T> {
        self.registry.write(&self.nurse, at(now), work)
    }

    /// The midwife in charge writes.
    pub(crate) fn midwife<T>(
        &self,
        now: &str,
        work: impl FnOnce(&mut Change<'_>) -> Result<T>,
    ) -> Result<T> {
        self.registry.write(&self.midwife, at(now), work)
    }

    #[track_caller]
    pub(crate) fn read<T>(&self, work: impl FnOnce(&mut Db) -> Result<T>) -> T {
        self.registry.read(work).unwrap()
    }

    pub(crate) fn file(&self) -> PathBuf {
        self.folder.path().join("registry.db")
    }

    /// A second program that reaches around the registry.
    pub(crate) fn beside(&self) -> SqliteConnection {
        SqliteConnection::establish(self.file().to_str().unwrap()).unwrap()
    }

    #[track_caller]
    pub(crate) fn count(&self, table: &str) -> i32 {
        count(
            &mut self.beside(),
            &format!("SELECT count(*) AS n FROM {table}"),
        )
    }

    /// A post of the same district with a nurse of its own.
    pub(crate) fn other_post(&self) -> (PostId, By) {
        let shell = By::program("the shell");
        let made = self
            .registry
            .write(&shell, at("2026-01-02T08:00"), |change| {
                let post = posts::add(change, &settings("LS", "Lorn Saltings", Vec::new()))?;
                Ok((post, account(change, "emre", Role::Nurse, Some(post))?))
            });
        let (post, nurse) = made.unwrap();
        (post, self.read(|db| staff::find(db, nurse)).by())
    }
}

#[derive(diesel::QueryableByName)]
struct Count {
    #[diesel(sql_type = diesel::sql_types::Integer)]
    n: i32,
}

#[track_caller]
pub(crate) fn count(db: &mut SqliteConnection, sql: &str) -> i32 {
    let counted: Vec<Count> = diesel::sql_query(sql).load(db).unwrap();
    counted[0].n
}

#[track_caller]
pub(crate) fn run(db: &mut SqliteConnection, sql: &str) -> usize {
    diesel::sql_query(sql).execute(db).unwrap()
}

pub(crate) fn way(hospital_id: HospitalId, day_minutes: i32, night_minutes: i32) -> posts::Travel {
    posts::Travel {
        hospital_id,
        day_minutes,
        night_minutes,
    }
}

fn hospital(change: &mut Change<'_>, name: &str, able: bool) -> Result<HospitalId> {
    let settings = hospitals::HospitalSettings {
        name: name.into(),
        phone: None,
        can_operate: able,
        has_blood: able,
        receives: true,
    };
    hospitals::add(change, &settings)
}

pub(crate) fn account(
    change: &mut Change<'_>,
    sign_in: &str,
    role: Role,
    post: Option<PostId>,
) -> Result<StaffId> {
    let new = NewStaff {
        sign_in: sign_in.into(),
        name: sign_in.into(),
        role,
        post,
        password: password(),
    };
    staff::add(change, &new)
}
