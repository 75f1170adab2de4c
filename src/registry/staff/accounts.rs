//! Opening, changing and stopping accounts.

use diesel::prelude::*;

use super::{Staff, find};
use crate::clinical::Moment;
use crate::registry::change::Change;
use crate::registry::connection::Db;
use crate::registry::error::{RegistryError, Result};
use crate::registry::ids::{PostId, StaffId};
use crate::registry::passwords::HashedPassword;
use crate::registry::schema::{posts, sessions, staff};
use crate::registry::vocabulary::{Role, VisitForm};

/// An account to open.
pub struct NewStaff {
    /// 2 to 40 of `a-z 0-9 . -`.
    pub sign_in: String,
    /// 1 to 80 characters.
    pub name: String,
    /// What the person may do.
    pub role: Role,
    /// For a nurse or a midwife, and only for them.
    pub post: Option<PostId>,
    /// The first password.
    pub password: HashedPassword,
}

#[derive(Insertable)]
#[diesel(table_name = staff)]
struct Row<'a> {
    id: StaffId,
    sign_in: &'a str,
    name: &'a str,
    role: Role,
    post_id: Option<PostId>,
    password_hash: &'a str,
    password_set_at: Moment,
    visit_form: VisitForm,
    made_at: Moment,
}

/// Opens an account.
///
/// # Errors
/// `RefusedField` beside `sign_in`, `name` or `post`; `Refused` to all but keepers.
pub fn add(change: &mut Change<'_>, new: &NewStaff) -> Result<StaffId> {
    refuse_others(change)?;
    let sign_in = new.sign_in.trim().to_lowercase();
    let name = new.name.trim();
    refuse_sign_in(&sign_in)?;
    if name.is_empty() || name.chars().count() > 80 || name.chars().any(char::is_control) {
        return Err(RegistryError::field(
            "name",
            "Write the full name, at most 80 characters.",
        ));
    }
    let needs_post = matches!(new.role, Role::Nurse | Role::Midwife);
    match new.post {
        None if needs_post => {
            return Err(RegistryError::field(
                "post",
                "A nurse or a midwife belongs to a post: choose it.",
            ));
        }
        Some(_) if !needs_post => {
            return Err(RegistryError::field(
                "post",
                "Only a nurse or a midwife belongs to a post.",
            ));
        }
        Some(post) => {
            let known: i64 = posts::table.find(post).count().get_result(change.db())?;
            if known == 0 {
                return Err(RegistryError::Missing("post"));
            }
        }
        None => {}
    }
    let taken: i64 = staff::table
        .filter(staff::sign_in.eq(&sign_in))
        .count()
        .get_result(change.db())?;
    if taken > 0 {
        return Err(RegistryError::field(
            "sign_in",
            format!("Somebody signs in as “{sign_in}” already, perhaps with a stopped account."),
        ));
    }
    let now = change.now();
    let id = StaffId::made(now);
    let row = Row {
        id,
        sign_in: &sign_in,
        name,
        role: new.role,
        post_id: new.post,
        password_hash: new.password.stored(),
        password_set_at: now,
        visit_form: VisitForm::Drawing,
        made_at: now,
    };
    diesel::insert_into(staff::table)
        .values(&row)
        .execute(change.db())?;
    change.tell(
        "account opened",
        "staff",
        id.code(),
        format!("{sign_in}, {}", new.role.words()),
    )?;
    Ok(id)
}

fn refuse_sign_in(sign_in: &str) -> Result<()> {
    let fine = |letter: char| {
        letter.is_ascii_lowercase() || letter.is_ascii_digit() || ".-".contains(letter)
    };
    if (2..=40).contains(&sign_in.len()) && sign_in.chars().all(fine) {
        Ok(())
    } else {
        Err(RegistryError::field(
            "sign_in",
            "Use 2 to 40 small letters, figures, points or dashes, no spaces.",
        ))
    }
}

/// Sets a new password for somebody; every session of that person ends.
///
/// # Errors
/// `Missing`; `Refused` to all but keepers and for a stopped account.
pub fn reset_password(
    change: &mut Change<'_>,
    id: StaffId,
    password: &HashedPassword,
) -> Result<()> {
    refuse_others(change)?;
    let person = open_account(change.db(), id)?;
    store_password(change, id, password)?;
    end_sessions(change.db(), id)?;
    change.tell("password set anew", "staff", id.code(), person.sign_in)
}

/// Changes the password of whoever acts; every session of that person ends, this one too.
///
/// # Errors
/// `Refused` when the program itself acts.
pub fn set_own_password(change: &mut Change<'_>, password: &HashedPassword) -> Result<()> {
    let id = change.author()?;
    let person = open_account(change.db(), id)?;
    store_password(change, id, password)?;
    end_sessions(change.db(), id)?;
    change.tell("password changed", "staff", id.code(), person.sign_in)
}

/// Stops an account; its sessions end at once.
///
/// # Errors
/// `Missing`; `Refused` to all but keepers, for a stopped account and for the last keeper.
pub fn stop(change: &mut Change<'_>, id: StaffId) -> Result<()> {
    refuse_others(change)?;
    let person = open_account(change.db(), id)?;
    if person.role == Role::Keeper && open_keepers(change.db())? <= 1 {
        return Err(RegistryError::refused(
            "This is the last keeper. Open another keeper's account first, then stop this one.",
        ));
    }
    let now = change.now();
    diesel::update(staff::table.find(id))
        .set(staff::stopped_at.eq(now))
        .execute(change.db())?;
    end_sessions(change.db(), id)?;
    change.tell("account stopped", "staff", id.code(), person.sign_in)
}

/// Keeps how whoever acts likes to enter a visit.
///
/// # Errors
/// `Refused` when the program itself acts.
pub fn choose_visit_form(change: &mut Change<'_>, form: VisitForm) -> Result<()> {
    let id = change.author()?;
    diesel::update(staff::table.find(id))
        .set(staff::visit_form.eq(form))
        .execute(change.db())?;
    change.tell("visit form chosen", "staff", id.code(), form.words())
}

pub(super) fn open_keepers(db: &mut Db) -> Result<i64> {
    Ok(staff::table
        .filter(staff::role.eq(Role::Keeper))
        .filter(staff::stopped_at.is_null())
        .count()
        .get_result(db)?)
}

fn refuse_others(change: &Change<'_>) -> Result<()> {
    if change.may(&[Role::Keeper]) {
        Ok(())
    } else {
        Err(RegistryError::refused("Only the keeper changes accounts."))
    }
}

fn open_account(db: &mut Db, id: StaffId) -> Result<Staff> {
    let person = find(db, id)?;
    if person.stopped_at.is_some() {
        return Err(RegistryError::refused("This account is stopped."));
    }
    Ok(person)
}

fn store_password(change: &mut Change<'_>, id: StaffId, password: &HashedPassword) -> Result<()> {
    let now = change.now();
    let set = (
        staff::password_hash.eq(password.stored()),
        staff::password_set_at.eq(now),
    );
    diesel::update(staff::table.find(id))
        .set(set)
        .execute(change.db())?;
    Ok(())
}

fn end_sessions(db: &mut Db, id: StaffId) -> Result<()> {
    diesel::delete(sessions::table.filter(sessions::staff_id.eq(id))).execute(db)?;
    Ok(())
}
