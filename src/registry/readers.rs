//! Connections that can only read, opened when needed and kept.

use diesel::Connection as _;
use parking_lot::{Condvar, Mutex};

use super::connection::{Db, Use};
use super::error::Result;

/// Enough for two cores and a few waiting pages; more would only hold memory.
const MOST: usize = 8;

pub(super) struct Readers {
    address: String,
    desk: Mutex<Desk>,
    freed: Condvar,
}

#[derive(Default)]
struct Desk {
    idle: Vec<Db>,
    busy: usize,
}

/// A place at the desk; given back when dropped, also by a panic.
struct Place<'a>(&'a Readers);

impl Drop for Place<'_> {
    fn drop(&mut self) {
        self.0.desk.lock().busy -= 1;
        self.0.freed.notify_one();
    }
}

impl Readers {
    pub(super) fn of(address: &str) -> Self {
        Self {
            address: address.to_owned(),
            desk: Mutex::default(),
            freed: Condvar::new(),
        }
    }

    /// Everything `work` asks sees the same state. Waits while all connections are busy.
    pub(super) fn read<T>(&self, work: impl FnOnce(&mut Db) -> Result<T>) -> Result<T> {
        let (_place, idle) = self.sit_down();
        let mut db = match idle {
            Some(db) => db,
            None => Db::open(&self.address, &Use::Read)?,
        };
        // After a panic in `work` the connection goes with it: its transaction may be open.
        let found = db.transaction(work);
        self.desk.lock().idle.push(db);
        found
    }

    fn sit_down(&self) -> (Place<'_>, Option<Db>) {
        let mut desk = self.desk.lock();
        while desk.busy >= MOST {
            self.freed.wait(&mut desk);
        }
        desk.busy += 1;
        (Place(self), desk.idle.pop())
    }
}
