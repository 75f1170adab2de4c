//! A small register of our invented district, built once through the registry's own verbs and copied for each test.

use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use brimline::clinical::{HeightMethod, LabourProtocol, Moment};
use brimline::registry::hospitals::{self, HospitalSettings};
use brimline::registry::passwords::{HashedPassword, PasswordCost};
use brimline::registry::posts::{self, PostSettings, Travel};
use brimline::registry::staff::{self, NewStaff};
use brimline::registry::{By, Change, HospitalId, PostId, Registry, Result, Role};

/// One password for all of them.
pub(crate) const PASSWORD: &str = "demo only, not for care";

/// The day on which every test takes place.
pub(crate) fn now() -> Moment {
    Moment::parse_from_str("2026-11-25 13:30", "%Y-%m-%d %H:%M").unwrap()
}

/// Sign-in name, full name, role, letters of the post.
const PEOPLE: &[(&str, &str, Role, &str)] = &[
    ("nurse", "Imke Torvalo", Role::Nurse, "QF"),
    ("midwife", "Sarai Bekende", Role::Midwife, "QF"),
    ("district", "Anselm Rukavi", Role::District, ""),
    ("keeper", "Petra Ondriche", Role::Keeper, ""),
    ("colleague", "Emre Solvanti", Role::Nurse, "LS"),
    ("bettina", "Bettina Chukwurel", Role::Midwife, "LS"),
];

static TEMPLATE: LazyLock<tempfile::TempDir> = LazyLock::new(|| {
    let folder = tempfile::tempdir().unwrap();
    let registry = Registry::open_fresh_in(folder.path()).unwrap();
    registry.write(&By::program("tests"), now(), build).unwrap();
    folder
});

/// Copies the register into a new folder.
pub(crate) fn copied() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for entry in std::fs::read_dir(TEMPLATE.path()).unwrap() {
        let from: PathBuf = entry.unwrap().path();
        let to: &Path = folder.path();
        std::fs::copy(&from, to.join(from.file_name().unwrap())).unwrap();
    }
    folder
}

fn build(change: &mut Change<'_>) -> Result<()> {
    let amberholt = hospital(change, "Amberholt hospital", true)?;
    let orrin = hospital(change, "Saint Orrin mission hospital", false)?;
    let quern = post(change, "QF", "Quern Ford", amberholt, orrin)?;
    let lorn = post(change, "LS", "Lorn Saltings", amberholt, orrin)?;
    for (sign_in, name, role, letters) in PEOPLE {
        let new = NewStaff {
            sign_in: (*sign_in).to_owned(),
            name: (*name).to_owned(),
            role: *role,
            post: match *letters {
                "QF" => Some(quern),
                "LS" => Some(lorn),
                _ => None,
            },
            password: HashedPassword::of(PASSWORD, PasswordCost::PRACTICE)?,
        };
        staff::add(change, &new)?;
    }
    Ok(())
}

fn hospital(change: &mut Change<'_>, name: &str, able: bool) -> Result<HospitalId> {
    let settings = HospitalSettings {
        name: name.to_owned(),
        phone: Some("000 555 0100".to_owned()),
        can_operate: able,
        has_blood: able,
        receives: true,
    };
    hospitals::add(change, &settings)
}

fn post(
    change: &mut Change<'_>,
    code: &str,
    name: &str,
    near: HospitalId,
    far: HospitalId,
) -> Result<PostId> {
    let way = |hospital_id, day_minutes, night_minutes| Travel {
        hospital_id,
        day_minutes,
        night_minutes,
    };
    let settings = PostSettings {
        code: code.to_owned(),
        name: name.to_owned(),
        time_zone: "Etc/GMT-2".to_owned(),
        phone: Some("000 555 0104".to_owned()),
        labour_protocol: LabourProtocol::CareGuide,
        height_method: HeightMethod::Intergrowth,
        skilled_breech: false,
        skilled_twins: false,
        day_from: 6,
        night_from: 19,
        reply_address: None,
        ways: vec![way(near, 90, 130), way(far, 40, 60)],
    };
    posts::add(change, &settings)
}
