//! One connection type over both databases, and how each is opened.
//!
//! The backend is chosen by the address' scheme here: the derived `establish` would open a file of any name it is given.

use diesel::connection::{SimpleConnection, TransactionManager};
use diesel::migration::MigrationSource;
#[cfg(feature = "postgres")]
use diesel::prelude::PgConnection;
use diesel::prelude::{Connection, SqliteConnection};
use diesel_migrations::{EmbeddedMigrations, MigrationHarness, embed_migrations};

use super::error::{RegistryError, Result};

const MIGRATIONS: EmbeddedMigrations = embed_migrations!("migrations");

/// A connection to the registry's database; only the registry can ask it anything.
#[derive(diesel::MultiConnection)]
pub enum Db {
    /// The default: a file.
    Sqlite(SqliteConnection),
    /// A server, with the feature `postgres`.
    #[cfg(feature = "postgres")]
    Postgres(PgConnection),
}

/// The backend of [`Db`], for `check_for_backend`.
pub(in crate::registry) type Backend = <Db as Connection>::Backend;

/// How much a finished save survives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Durability {
    /// A power cut. For care.
    Full,
    /// The end of the program, not a power cut. For practice and tests.
    Process,
}

pub(super) enum Use {
    Write(Durability),
    Read,
    /// As `Read`, by a program of its own.
    Look,
}

impl Db {
    pub(super) fn open(address: &str, used: &Use) -> Result<Self> {
        match address.split_once("://") {
            Some(("sqlite", path)) if !path.is_empty() => sqlite(path, used),
            #[cfg(feature = "postgres")]
            Some(("postgres" | "postgresql", _)) => postgres(address, used),
            #[cfg(not(feature = "postgres"))]
            Some(("postgres" | "postgresql", _)) => Err(RegistryError::refused(
                "this program was built without PostgreSQL; use sqlite://PATH",
            )),
            _ => Err(RegistryError::refused(
                "the address of the database must begin with sqlite:// or postgres://",
            )),
        }
    }

    pub(super) fn is_between_transactions(&mut self) -> bool {
        type Manager = <Db as Connection>::TransactionManager;
        let status = Manager::transaction_manager_status_mut(self);
        matches!(status.transaction_depth(), Ok(None))
    }

    /// For who may not migrate.
    pub(super) fn refuse_other_versions(&mut self) -> Result<()> {
        let known = MigrationSource::<Backend>::migrations(&MIGRATIONS)
            .map_err(RegistryError::Broken)?
            .len();
        let applied = self.applied_migrations().map_err(RegistryError::Broken)?;
        if applied.len() == known {
            return Ok(());
        }
        Err(RegistryError::refused(
            "this registry was written by another version of the program; begin it once with: brimline serve",
        ))
    }

    /// Applies what this program's migrations add; refuses a database from a newer program.
    pub(super) fn migrate(&mut self) -> Result<()> {
        let known: Vec<_> = MigrationSource::<Backend>::migrations(&MIGRATIONS)
            .map_err(RegistryError::Broken)?
            .iter()
            .map(|migration| migration.name().version().as_owned())
            .collect();
        let applied = self.applied_migrations().map_err(RegistryError::Broken)?;
        if applied.iter().any(|version| !known.contains(version)) {
            return Err(RegistryError::refused(
                "this registry was written by a newer program; install that one",
            ));
        }
        self.run_pending_migrations(MIGRATIONS)
            .map(drop)
            .map_err(RegistryError::Broken)
    }
}

/// When the last connection closes, `SQLite` moves what stands in the log into the database; one that cannot write leaves both as they are.
/// Without a log there is nothing to move, and a connection that could not write would leave an empty one behind.
fn looked_at(path: &str) -> String {
    if !std::path::Path::new(&format!("{path}-wal")).exists() {
        return path.to_owned();
    }
    let escaped = path
        .replace('%', "%25")
        .replace('?', "%3f")
        .replace('#', "%23");
    format!("file:{escaped}?mode=ro")
}

fn sqlite(path: &str, used: &Use) -> Result<Db> {
    let opened = match used {
        Use::Look => SqliteConnection::establish(&looked_at(path)),
        Use::Read | Use::Write(_) => SqliteConnection::establish(path),
    };
    let mut connection = opened.map_err(|error| RegistryError::Broken(error.into()))?;
    // Readers of a WAL file must be able to write its index, so `query_only` and not a read-only open.
    let mode = match used {
        Use::Read | Use::Look => "PRAGMA query_only = on;",
        Use::Write(Durability::Full) => "PRAGMA journal_mode = wal; PRAGMA synchronous = full;",
        // The practice register is written in one transaction of some tens of MiB; with the usual 2 MiB its pages would leave
        // the cache and come back many times.
        Use::Write(Durability::Process) => {
            "PRAGMA journal_mode = wal; PRAGMA synchronous = off; PRAGMA cache_size = -65536;"
        }
    };
    connection.batch_execute(&format!(
        "PRAGMA busy_timeout = 5000; {mode} PRAGMA foreign_keys = on;"
    ))?;
    Ok(Db::Sqlite(connection))
}

#[cfg(feature = "postgres")]
fn postgres(address: &str, used: &Use) -> Result<Db> {
    let mut connection =
        PgConnection::establish(address).map_err(|error| RegistryError::Broken(error.into()))?;
    if matches!(used, Use::Read | Use::Look) {
        connection.batch_execute("SET SESSION CHARACTERISTICS AS TRANSACTION READ ONLY")?;
    }
    Ok(Db::Postgres(connection))
}
