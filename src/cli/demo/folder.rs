//! Where the practice register is kept: a folder that the person chose, or one that is gone afterwards.

use std::fs;
use std::path::PathBuf;

use anyhow::{Context, Result};

use crate::registry::Registry;

/// The folder; a temporary one is removed when this is dropped.
pub(super) struct Folder {
    path: PathBuf,
    kept: bool,
}

impl Folder {
    pub(super) fn of(chosen: Option<PathBuf>) -> Result<Self> {
        if let Some(path) = chosen {
            return Ok(Self { path, kept: true });
        }
        let path = std::env::temp_dir().join(format!("brimline-demo-{}", uuid::Uuid::now_v7()));
        fs::create_dir(&path).with_context(|| {
            format!(
                "cannot make the folder {}; choose one with --keep",
                path.display()
            )
        })?;
        Ok(Self { path, kept: false })
    }

    /// A fresh register; one that is there already is never written over.
    pub(super) fn open(&self) -> Result<Registry> {
        Registry::open_fresh_in(&self.path)
            .context("the demo needs a new folder; choose another with --keep")
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        if !self.kept {
            // Nothing depends on it; what stays behind the system clears with its other temporary files.
            let _ = fs::remove_dir_all(&self.path);
        }
    }
}
