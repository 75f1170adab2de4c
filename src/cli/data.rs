//! The data folder that most commands begin with.

use std::path::PathBuf;

use anyhow::{Context, Result, bail};

use crate::registry::{self, Db, Durability, Registry};

/// Where the register is kept.
#[derive(clap::Args)]
pub(super) struct Data {
    /// Folder of the register
    #[arg(long, value_name = "DIR", env = "BRIMLINE_DATA")]
    data: PathBuf,
    /// Address of its database, when that is not the file in the folder: `sqlite://PATH` or `postgres://…`
    #[arg(
        long,
        value_name = "URL",
        env = "BRIMLINE_DATABASE",
        hide_env_values = true
    )]
    database: Option<String>,
}

impl Data {
    /// Opens the register; the folder and the database are made when absent.
    pub(super) fn open(&self) -> Result<Registry> {
        let opened = match &self.database {
            None => Registry::open_in(&self.data, Durability::Full),
            Some(address) => {
                std::fs::create_dir_all(&self.data)
                    .with_context(|| format!("cannot make the folder {}", self.data.display()))?;
                Registry::open(address, Durability::Full)
            }
        };
        opened.with_context(|| format!("cannot open the register in {}", self.data.display()))
    }

    /// Opens a register that is there: a name typed wrong must not make a new one.
    pub(super) fn open_existing(&self) -> Result<Registry> {
        Registry::open(&self.existing()?, Durability::Full)
            .with_context(|| format!("cannot open the register in {}", self.folder()))
    }

    /// Reads a register that is there and leaves it as it is.
    pub(super) fn read_only<T>(
        &self,
        work: impl FnOnce(&mut Db) -> registry::Result<T>,
    ) -> Result<T> {
        Ok(registry::read_only(&self.existing()?, work)?)
    }

    fn existing(&self) -> Result<String> {
        let folder = self.data.display();
        let address = self
            .database
            .clone()
            .unwrap_or_else(|| Registry::address_in(&self.data));
        let gone = address
            .strip_prefix("sqlite://")
            .is_some_and(|file| !PathBuf::from(file).exists());
        if gone {
            bail!(
                "there is no register in {folder}; correct --data, or begin one with: brimline serve --data {folder}"
            );
        }
        Ok(address)
    }

    pub(super) fn folder(&self) -> String {
        self.data.display().to_string()
    }
}
