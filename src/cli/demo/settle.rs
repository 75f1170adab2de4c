//! Sets the district up: hospitals, posts, accounts.

use anyhow::{Context, Result};
use chrono::TimeDelta;

use super::PASSWORD;
use super::tables::{District, HospitalRow, PostRow, StaffRow};
use crate::clinical::Moment;
use crate::registry::hospitals::{self, HospitalSettings};
use crate::registry::passwords::{HashedPassword, PasswordCost};
use crate::registry::posts::{self, PostSettings, Travel};
use crate::registry::staff::{self, NewStaff};
use crate::registry::{By, Change, HospitalId, PostId, RegistryError, Role, StaffId};

/// The people of one post.
#[derive(Debug, Clone)]
pub(super) struct Post {
    pub id: PostId,
    pub nurse: By,
    pub midwife: By,
}

/// What was set up, in the order of the tables.
pub(super) struct Settled {
    pub posts: Vec<Post>,
    /// Accounts that are stopped at the end; until then they work.
    pub leaving: Vec<StaffId>,
}

/// Everything that stands before the first mother is registered.
pub(super) fn district(
    change: &mut Change<'_>,
    district: &District,
    passwords: &[HashedPassword],
    begins: Moment,
) -> Result<Settled> {
    let program = By::program("brimline demo");
    change.as_of(&program, begins - TimeDelta::days(20));
    let mut hospitals = Vec::new();
    for row in &district.hospitals {
        hospitals.push(hospitals::add(change, &hospital(row)).with_context(|| row.name)?);
    }
    let mut ids = Vec::new();
    for row in &district.posts {
        let settings = post(row, district, &hospitals);
        ids.push(posts::add(change, &settings).with_context(|| row.name)?);
    }
    let mut people = Vec::new();
    for (row, password) in district.staff.iter().zip(passwords) {
        people.push((
            row,
            account(change, district, &ids, row, password).with_context(|| row.sign_in)?,
        ));
    }
    let of_post = |letters: &str, role: Role| {
        let found = people
            .iter()
            .find(|(row, by)| row.post == Some(letters) && by.role == Some(role) && !row.stopped);
        found
            .map(|(_, by)| by.clone())
            .with_context(|| format!("seed-demo/staff.txt: {letters} has no {}", role.words()))
    };
    let mut posts = Vec::new();
    for (row, id) in district.posts.iter().zip(ids) {
        posts.push(Post {
            id,
            nurse: of_post(row.letters, Role::Nurse)?,
            midwife: of_post(row.letters, Role::Midwife)?,
        });
    }
    let leaving = people
        .iter()
        .filter(|(row, _)| row.stopped)
        .filter_map(|(_, by)| by.staff)
        .collect();
    Ok(Settled { posts, leaving })
}

/// One hash an account, each with its own salt, before the register is locked for writing.
pub(super) fn passwords(district: &District) -> Result<Vec<HashedPassword>, RegistryError> {
    district
        .staff
        .iter()
        .map(|_| HashedPassword::of(PASSWORD, PasswordCost::PRACTICE))
        .collect()
}

/// Stops the accounts of those who left.
pub(super) fn stop(change: &mut Change<'_>, leaving: &[StaffId], at: Moment) -> Result<()> {
    change.as_of(&By::program("brimline demo"), at);
    for id in leaving {
        staff::stop(change, *id)?;
    }
    Ok(())
}

fn hospital(row: &HospitalRow) -> HospitalSettings {
    HospitalSettings {
        name: row.name.to_owned(),
        phone: Some(row.phone.to_owned()),
        can_operate: row.can_operate,
        has_blood: row.has_blood,
        receives: true,
    }
}

fn post(row: &PostRow, district: &District, hospitals: &[HospitalId]) -> PostSettings {
    let way = |(key, by_day, by_night): &(&str, u16, u16)| {
        let place = district.hospitals.iter().position(|it| it.key == *key)?;
        Some(Travel {
            hospital_id: *hospitals.get(place)?,
            day_minutes: i32::from(*by_day),
            night_minutes: i32::from(*by_night),
        })
    };
    PostSettings {
        code: row.letters.to_owned(),
        name: row.name.to_owned(),
        time_zone: row.time_zone.to_owned(),
        phone: Some(row.phone.to_owned()),
        labour_protocol: row.protocol,
        height_method: row.heights,
        skilled_breech: row.skilled_breech,
        skilled_twins: row.skilled_twins,
        day_from: i32::from(row.day_from),
        night_from: i32::from(row.night_from),
        reply_address: None,
        ways: row.travel.iter().filter_map(way).collect(),
    }
}

fn account(
    change: &mut Change<'_>,
    district: &District,
    posts: &[PostId],
    row: &StaffRow,
    password: &HashedPassword,
) -> Result<By> {
    let role: Role = row.role.parse()?;
    let post = row.post.map(|letters| {
        let place = district.posts.iter().position(|it| it.letters == letters);
        place
            .and_then(|place| posts.get(place))
            .copied()
            .with_context(|| format!("no post “{letters}”"))
    });
    let post = post.transpose()?;
    let new = NewStaff {
        sign_in: row.sign_in.to_owned(),
        name: row.name.to_owned(),
        role,
        post,
        password: password.clone(),
    };
    let id = staff::add(change, &new)?;
    Ok(By {
        staff: Some(id),
        name: new.name,
        role: Some(role),
        post,
    })
}
