//! One change: what is written together, and its lines in the trail.
//!
//! Only `Registry::write` makes one. A change that is not ended (an error, a panic, nothing told to the trail) is rolled back when dropped.

use std::any::{Any, TypeId};
use std::collections::HashMap;

use chrono::Timelike as _;
use diesel::Connection;
use diesel::connection::{AnsiTransactionManager, TransactionManager};

use super::audit::{Head, Line};
use super::connection::Db;
use super::error::{RegistryError, Result};
use super::ids::{PostId, StaffId};
use super::vocabulary::Role;
use crate::clinical::Moment;

type Manager = <Db as Connection>::TransactionManager;

/// Who acts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct By {
    /// Absent for the program itself, and for a hospital that answers through its code.
    pub staff: Option<StaffId>,
    /// The name that stands in the trail.
    pub name: String,
    /// Absent for the program itself: it may do everything.
    pub role: Option<Role>,
    /// Absent for district, keeper and the program.
    pub post: Option<PostId>,
}

impl By {
    /// The program itself: from the shell, on a schedule, or for somebody without an account.
    #[must_use]
    pub fn program(name: impl Into<String>) -> Self {
        Self {
            staff: None,
            name: name.into(),
            role: None,
            post: None,
        }
    }
}

/// A transaction that is open, who opened it and when.
pub struct Change<'tx> {
    db: &'tx mut Db,
    by: By,
    now: Moment,
    head: Option<Head>,
    /// What its verbs have read and need again, by its type.
    kept: HashMap<TypeId, Box<dyn Any>>,
    told: bool,
    nothing_new: bool,
    ended: bool,
}

impl<'tx> Change<'tx> {
    pub(in crate::registry) fn begin(
        db: &'tx mut Db,
        by: &By,
        now: Moment,
    ) -> diesel::QueryResult<Self> {
        match db {
            // A transaction that reads first and writes later fails at once when another writer was faster.
            Db::Sqlite(sqlite) => {
                AnsiTransactionManager::begin_transaction_sql(sqlite, "BEGIN IMMEDIATE")?;
            }
            #[cfg(feature = "postgres")]
            Db::Postgres(postgres) => {
                AnsiTransactionManager::begin_transaction(postgres)?;
            }
        }
        Ok(Self {
            db,
            by: by.clone(),
            now: to_the_second(now),
            head: None,
            kept: HashMap::new(),
            told: false,
            nothing_new: false,
            ended: false,
        })
    }

    pub(in crate::registry) fn end(mut self) -> Result<()> {
        if self.told {
            Manager::commit_transaction(self.db)?;
            self.ended = true;
            Ok(())
        } else if self.nothing_new {
            Ok(()) // rolled back: whatever was written beside the trail is not kept
        } else {
            Err(RegistryError::corrupt("a change told the trail nothing"))
        }
    }

    /// The connection, for verbs of the registry alone.
    pub(in crate::registry) fn db(&mut self) -> &mut Db {
        self.db
    }

    /// What the verbs that read see: everything written so far, also by this change.
    pub fn reader(&mut self) -> &mut Db {
        self.db
    }

    /// When it happens.
    #[must_use]
    pub fn now(&self) -> Moment {
        self.now
    }

    /// Who acts.
    #[must_use]
    pub fn by(&self) -> &By {
        &self.by
    }

    /// Goes on as somebody else at another moment, in the same transaction: for bringing in many entries at once.
    pub fn as_of(&mut self, by: &By, now: Moment) {
        self.by = by.clone();
        self.now = to_the_second(now);
    }

    /// Whose entry this is.
    ///
    /// # Errors
    /// `Refused` when the program itself acts.
    pub fn author(&self) -> Result<StaffId> {
        self.by
            .staff
            .ok_or_else(|| RegistryError::refused("Only a person with an account can write this."))
    }

    /// The post whose register this is.
    ///
    /// # Errors
    /// `Refused` when whoever acts belongs to no post.
    pub fn post(&self) -> Result<PostId> {
        self.by
            .post
            .ok_or_else(|| RegistryError::refused("Only somebody of a post can write this."))
    }

    /// What a verb keeps from one entry to the next; whoever writes what is kept here calls `forget`.
    pub(in crate::registry) fn kept<T: Any + Default>(&mut self) -> Option<&mut T> {
        let kept = self
            .kept
            .entry(TypeId::of::<T>())
            .or_insert_with(|| Box::<T>::default());
        kept.downcast_mut()
    }

    /// Posts, hospitals or ways change: nothing read before is kept.
    pub(in crate::registry) fn forget(&mut self) {
        self.kept.clear();
    }

    /// Whether whoever acts has one of these roles; the program itself has them all.
    #[must_use]
    pub fn may(&self, roles: &[Role]) -> bool {
        self.by.role.is_none_or(|role| roles.contains(&role))
    }

    /// Writes one line of the trail: `verb` in words ("visit recorded"), the kind of entry, its id (empty: none), register number
    /// and what changed. Never a mother's name, a phone, a code or a password.
    ///
    /// # Errors
    /// `Broken` when the database fails.
    pub fn tell(
        &mut self,
        verb: &'static str,
        about: &'static str,
        id: &str,
        detail: impl Into<String>,
    ) -> Result<()> {
        let line = Line {
            seq: 0,
            at: self.now,
            staff_id: self.by.staff,
            staff_name: self.by.name.clone(),
            post_id: self.by.post,
            verb: verb.to_owned(),
            about: about.to_owned(),
            about_id: (!id.is_empty()).then(|| id.to_owned()),
            detail: detail.into(),
            previous: String::new(),
            digest: String::new(),
        };
        let mut head = match self.head.take() {
            Some(head) => head,
            None => Head::of(self.db)?,
        };
        head.append(self.db, line)?;
        self.head = Some(head);
        self.told = true;
        Ok(())
    }

    /// The entry was there already (a form sent twice): ends well without a line, and keeps nothing.
    pub(in crate::registry) fn nothing_new(&mut self) {
        self.nothing_new = true;
    }
}

impl Drop for Change<'_> {
    fn drop(&mut self) {
        if !self.ended {
            // A rollback that fails leaves the connection unusable; `Registry::write` opens another then.
            let _ = Manager::rollback_transaction(self.db);
        }
    }
}

fn to_the_second(moment: Moment) -> Moment {
    moment.with_nanosecond(0).unwrap_or(moment)
}
