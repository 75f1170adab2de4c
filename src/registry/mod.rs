//! The only place that knows the database.
//!
//! Reading goes through [`Registry::read`], writing through [`Registry::write`] and its [`Change`]; the verbs stand in the rooms
//! ([`mothers`], [`visits`] …). `schema` is private, so that a query in a handler does not compile.

use std::path::Path;
use std::sync::Arc;

use diesel::Connection as _;
use parking_lot::{FairMutex, FairMutexGuard};

pub mod answers;
pub mod audit;
pub mod births;
mod change;
mod columns;
mod connection;
pub mod due;
mod error;
pub mod extract;
pub mod findings;
pub mod flags;
pub mod hospitals;
mod ids;
pub mod integrity;
pub mod judging;
pub mod labours;
mod limits;
pub mod months;
pub mod mothers;
pub mod passwords;
pub mod posts;
pub mod pregnancies;
mod readers;
pub mod referral_steps;
pub mod referrals;
pub mod replay;
pub mod reply_code;
mod schema;
pub mod sessions;
pub mod staff;
pub mod story;
pub mod today;
pub mod visits;
mod vocabulary;

pub use change::{By, Change};
pub use connection::{Db, Durability};
pub use error::{RegistryError, Result};
pub use ids::*;
pub use vocabulary::*;

use connection::Use;
use readers::Readers;

/// The registry of a district: one writer, many readers. Cloning it is cheap.
#[derive(Clone)]
pub struct Registry(Arc<House>);

struct House {
    address: String,
    durability: Durability,
    /// Fair: with an unfair lock the slowest of twenty writers waited 1.3 s, with this one 7 ms.
    writer: FairMutex<Db>,
    readers: Readers,
}

impl Registry {
    /// Opens `sqlite://PATH` (made when absent) or, with the feature `postgres`, `postgres://…`, and applies what migrations it lacks.
    ///
    /// # Errors
    /// `Refused` for another address or a database from a newer program; `Broken` when it cannot be opened.
    pub fn open(address: &str, durability: Durability) -> Result<Self> {
        let mut writer = Db::open(address, &Use::Write(durability))?;
        writer.migrate()?;
        Ok(Self(Arc::new(House {
            address: address.to_owned(),
            durability,
            writer: FairMutex::new(writer),
            readers: Readers::of(address),
        })))
    }

    /// Opens the registry of a data folder, both made when absent.
    ///
    /// # Errors
    /// `Refused` when the folder cannot be made, else as [`Registry::open`].
    pub fn open_in(folder: &Path, durability: Durability) -> Result<Self> {
        std::fs::create_dir_all(folder).map_err(|error| {
            RegistryError::refused(format!(
                "the folder {} cannot be made: {error}",
                folder.display()
            ))
        })?;
        Self::open(&Self::address_in(folder), durability)
    }

    /// Makes a new registry for practice or a test, which a power cut may lose.
    ///
    /// # Errors
    /// `Refused` when the folder holds a registry already, else as [`Registry::open_in`].
    pub fn open_fresh_in(folder: &Path) -> Result<Self> {
        if folder.join(FILE).exists() {
            return Err(RegistryError::refused(format!(
                "{} holds a registry already",
                folder.display()
            )));
        }
        Self::open_in(folder, Durability::Process)
    }

    /// The address of the registry that a data folder holds.
    #[must_use]
    pub fn address_in(folder: &Path) -> String {
        format!("sqlite://{}", folder.join(FILE).display())
    }

    /// Reads at one moment: everything `work` asks sees the same state.
    ///
    /// # Errors
    /// Those of `work`, and `Broken` when the database fails.
    pub fn read<T>(&self, work: impl FnOnce(&mut Db) -> Result<T>) -> Result<T> {
        self.0.readers.read(work)
    }

    /// Writes everything `work` does, or nothing: after an error, a panic or without a line in the trail it is as if it had not been.
    ///
    /// # Errors
    /// Those of `work`, and `Broken` when the database fails or nothing was told to the trail.
    pub fn write<T>(
        &self,
        by: &By,
        now: crate::clinical::Moment,
        work: impl FnOnce(&mut Change<'_>) -> Result<T>,
    ) -> Result<T> {
        let mut writer = self.writer()?;
        let mut change = Change::begin(&mut writer, by, now)?;
        let value = work(&mut change)?;
        change.end()?;
        Ok(value)
    }

    /// Writes what is no entry of the register and has no line in the trail: when a session was last seen.
    pub(in crate::registry) fn keep_books<T>(
        &self,
        work: impl FnOnce(&mut Db) -> Result<T>,
    ) -> Result<T> {
        self.writer()?.transaction(work)
    }

    fn writer(&self) -> Result<FairMutexGuard<'_, Db>> {
        let mut writer = self.0.writer.lock();
        if !writer.is_between_transactions() {
            // A rollback failed; the connection is of no more use.
            *writer = Db::open(&self.0.address, &Use::Write(self.0.durability))?;
        }
        Ok(writer)
    }
}

/// Reads a registry that is there, at one moment, and leaves every byte of it as it is, also what a running server is about to write.
///
/// # Errors
/// Those of `work`; `Refused` for another address or a registry of another version; `Broken` when the database cannot be read.
pub fn read_only<T>(address: &str, work: impl FnOnce(&mut Db) -> Result<T>) -> Result<T> {
    let mut db = Db::open(address, &Use::Look)?;
    db.refuse_other_versions()?;
    db.transaction(work)
}

const FILE: &str = "registry.db";
