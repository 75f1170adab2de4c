//! Whether somebody is who they say. Unknown names take as long as known ones.

use diesel::prelude::*;

use super::Staff;
use crate::registry::connection::Db;
use crate::registry::error::Result;
use crate::registry::passwords::{PasswordCost, fits};
use crate::registry::schema::staff;

/// A name that was typed to sign in, with what the registry knows of it. It says nothing until the password is tried.
pub struct Claim(Option<(Staff, String)>);

/// Looks a typed name up; stopped accounts count as unknown.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn claim(db: &mut Db, sign_in: &str) -> Result<Claim> {
    let found = staff::table
        .filter(staff::sign_in.eq(sign_in.trim().to_lowercase()))
        .filter(staff::stopped_at.is_null())
        .select((Staff::as_select(), staff::password_hash))
        .get_result(db)
        .optional()?;
    Ok(Claim(found))
}

impl Claim {
    /// The person, when the password is right. Takes tens of milliseconds: off the async threads, after the read has ended.
    ///
    /// # Errors
    /// `Broken` when `cost` cannot be computed.
    pub fn proved_by(self, password: &str, cost: PasswordCost) -> Result<Option<Staff>> {
        let stored = self.0.as_ref().map(|(_, hash)| hash.as_str());
        let right = fits(password, stored, cost)?;
        Ok(self.0.filter(|_| right).map(|(person, _)| person))
    }
}
