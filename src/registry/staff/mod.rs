//! The people who sign in. An account is stopped, never deleted: what it wrote keeps its name.

mod accounts;
mod sign_in;

use diesel::prelude::*;

use super::change::By;
use super::connection::{Backend, Db};
use super::error::{RegistryError, Result};
use super::ids::{PostId, StaffId};
use super::schema::{posts, sessions, staff};
use super::vocabulary::{Role, VisitForm};
use crate::clinical::Moment;

pub use accounts::{NewStaff, add, choose_visit_form, reset_password, set_own_password, stop};
pub use sign_in::{Claim, claim};

/// A person with an account.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable)]
#[diesel(table_name = staff, check_for_backend(Backend))]
pub struct Staff {
    /// Id of the account.
    pub id: StaffId,
    /// The name typed to sign in.
    pub sign_in: String,
    /// The name that others read.
    pub name: String,
    /// What the person may do.
    pub role: Role,
    /// The post; nurses and midwives have one.
    pub post_id: Option<PostId>,
    /// How the person likes to enter a visit.
    pub visit_form: VisitForm,
    /// When the password was set.
    pub password_set_at: Moment,
    /// When the account was opened.
    pub made_at: Moment,
    /// When it was stopped; absent while it is open.
    pub stopped_at: Option<Moment>,
}

impl Staff {
    /// As whoever acts in a change.
    #[must_use]
    pub fn by(&self) -> By {
        By {
            staff: Some(self.id),
            name: self.name.clone(),
            role: Some(self.role),
            post: self.post_id,
        }
    }
}

/// One account in the keeper's list.
#[derive(Debug, Clone)]
pub struct Account {
    /// The person.
    pub staff: Staff,
    /// Name of the post.
    pub post: Option<String>,
    /// Sessions that have not ended.
    pub open_sessions: usize,
    /// When one of them was last used; absent when none is open.
    pub last_seen: Option<Moment>,
}

/// All accounts, open ones first, by name.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn list(db: &mut Db, now: Moment) -> Result<Vec<Account>> {
    let people: Vec<(Staff, Option<String>)> = staff::table
        .left_join(posts::table)
        .order((staff::stopped_at.is_not_null(), staff::name, staff::id))
        .select((Staff::as_select(), posts::name.nullable()))
        .load(db)?;
    let open: Vec<(Option<StaffId>, Moment)> = sessions::table
        .filter(sessions::expires_at.gt(now))
        .select((sessions::staff_id, sessions::seen_at))
        .load(db)?;
    let account = |(staff, post): (Staff, Option<String>)| {
        let seen: Vec<Moment> = open
            .iter()
            .filter(|(owner, _)| *owner == Some(staff.id))
            .map(|(_, seen)| *seen)
            .collect();
        Account {
            open_sessions: seen.len(),
            last_seen: seen.into_iter().max(),
            staff,
            post,
        }
    };
    Ok(people.into_iter().map(account).collect())
}

/// One account.
///
/// # Errors
/// `Missing` when there is none.
pub fn find(db: &mut Db, id: StaffId) -> Result<Staff> {
    let found = staff::table
        .find(id)
        .select(Staff::as_select())
        .get_result(db)
        .optional()?;
    found.ok_or(RegistryError::Missing("account"))
}

/// One account by the name typed to sign in, open or stopped.
///
/// # Errors
/// `Missing` when there is none.
pub fn named(db: &mut Db, sign_in: &str) -> Result<Staff> {
    let found = staff::table
        .filter(staff::sign_in.eq(sign_in.trim().to_lowercase()))
        .select(Staff::as_select())
        .get_result(db)
        .optional()?;
    found.ok_or(RegistryError::Missing("account"))
}

/// Whether any open account of a keeper exists; without one nobody can open accounts on the page.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn has_keeper(db: &mut Db) -> Result<bool> {
    Ok(accounts::open_keepers(db)? > 0)
}
