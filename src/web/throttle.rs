//! Slows down who guesses passwords, by name and by address, and never locks a whole post out.
//!
//! A post shares one address, so an address alone only ever waits a little, and a name that has signed in from an
//! address before is not slowed there by what others do. Kept in memory: a restart forgets, and slows nobody.

use std::collections::HashMap;

use parking_lot::{Mutex, MutexGuard};

use crate::clinical::Moment;

/// Wrong guesses that cost nothing: fingers slip. [O]
pub(crate) const FREE: u32 = 5;
/// The longest wait for one name at one address, in seconds. [O]
const LONGEST: i64 = 60;
/// The longest wait that other people's guesses can bring about, in seconds. [O]
const LONGEST_SHARED: i64 = 10;
/// Wrong guesses at one address, whatever the names, that cost nothing. [O]
const FREE_AT_ADDRESS: u32 = 40;
/// Wrong guesses at one name, whatever the addresses, that cost nothing. [O]
const FREE_AT_NAME: u32 = 15;
/// After so many seconds without a wrong guess all is forgotten. [O]
const FORGOTTEN: i64 = 3600;
/// More entries than this are never kept, so that guessing cannot fill the memory.
const MOST: usize = 10_000;

#[derive(Debug, Clone, PartialEq, Eq, Hash)]
enum Who {
    Name(String),
    Address(String),
    Both(String, String),
}

#[derive(Debug, Clone, Copy)]
struct Tries {
    wrong: u32,
    last: Moment,
}

/// Wrong guesses by name, by address and by both; and who is known where.
#[derive(Debug, Default)]
pub(crate) struct Throttle {
    counts: Mutex<Counts>,
    turn: Mutex<()>,
}

#[derive(Debug, Default)]
struct Counts {
    tries: HashMap<Who, Tries>,
    known: HashMap<(String, String), Moment>,
}

impl Throttle {
    /// Seconds until the next try may be made; 0 is now.
    pub(crate) fn wait(&self, name: &str, address: &str, now: Moment) -> i64 {
        let counts = self.counts.lock();
        let left = |who: Who, free: u32, longest: i64| {
            let tries = counts.tries.get(&who).copied();
            tries.map_or(0, |tries| {
                (pause(tries.wrong, free, longest) - (now - tries.last).num_seconds()).max(0)
            })
        };
        let own = left(
            Who::Both(name.to_owned(), address.to_owned()),
            FREE,
            LONGEST,
        );
        if counts
            .known
            .contains_key(&(name.to_owned(), address.to_owned()))
        {
            return own;
        }
        own.max(left(
            Who::Name(name.to_owned()),
            FREE_AT_NAME,
            LONGEST_SHARED,
        ))
        .max(left(
            Who::Address(address.to_owned()),
            FREE_AT_ADDRESS,
            LONGEST_SHARED,
        ))
    }

    /// Counts a wrong guess; how many it makes for this name at this address.
    pub(crate) fn wrong(&self, name: &str, address: &str, now: Moment) -> u32 {
        let mut counts = self.counts.lock();
        if counts.tries.len() >= MOST {
            counts
                .tries
                .retain(|_, tries| (now - tries.last).num_seconds() < FORGOTTEN);
        }
        if counts.tries.len() >= MOST {
            counts.tries.clear();
        }
        for who in [
            Who::Name(name.to_owned()),
            Who::Address(address.to_owned()),
            Who::Both(name.to_owned(), address.to_owned()),
        ] {
            let tries = counts.tries.entry(who).or_insert(Tries {
                wrong: 0,
                last: now,
            });
            if (now - tries.last).num_seconds() >= FORGOTTEN {
                tries.wrong = 0;
            }
            tries.wrong = tries.wrong.saturating_add(1);
            tries.last = now;
        }
        let both = Who::Both(name.to_owned(), address.to_owned());
        counts.tries.get(&both).map_or(0, |tries| tries.wrong)
    }

    /// Waits until nobody else's password is being tried: each takes 19 MiB and its time on purpose.
    pub(crate) fn turn(&self) -> MutexGuard<'_, ()> {
        self.turn.lock()
    }

    /// The password was right: her own count begins anew, and she is known here.
    pub(crate) fn right(&self, name: &str, address: &str, now: Moment) {
        let mut counts = self.counts.lock();
        counts
            .tries
            .remove(&Who::Both(name.to_owned(), address.to_owned()));
        if counts.known.len() >= MOST {
            counts.known.clear();
        }
        counts
            .known
            .insert((name.to_owned(), address.to_owned()), now);
    }
}

/// Doubles with each wrong guess beyond the free ones.
fn pause(wrong: u32, free: u32, longest: i64) -> i64 {
    match wrong.saturating_sub(free) {
        0 => 0,
        more => 2_i64.saturating_pow(more.min(32)).min(longest),
    }
}

#[cfg(test)]
mod tests {
    use chrono::TimeDelta;

    use super::*;

    fn at(seconds: i64) -> Moment {
        Moment::default() + TimeDelta::seconds(seconds)
    }

    fn guess(throttle: &Throttle, name: &str, address: &str, times: u32) {
        for _ in 0..times {
            throttle.wrong(name, address, at(0));
        }
    }

    #[test]
    fn the_first_slips_cost_nothing_and_then_the_wait_doubles_up_to_a_minute() {
        let throttle = Throttle::default();
        guess(&throttle, "nurse", "10.0.0.1", FREE);
        assert_eq!(throttle.wait("nurse", "10.0.0.1", at(0)), 0);
        let waits: Vec<_> = (0..8)
            .map(|_| {
                throttle.wrong("nurse", "10.0.0.1", at(0));
                throttle.wait("nurse", "10.0.0.1", at(0))
            })
            .collect();
        assert_eq!(waits, [2, 4, 8, 16, 32, 60, 60, 60]);
        assert_eq!(throttle.wait("nurse", "10.0.0.1", at(59)), 1);
        assert_eq!(throttle.wait("nurse", "10.0.0.1", at(60)), 0);
    }

    #[test]
    fn a_colleague_at_the_same_address_is_not_held_up() {
        let throttle = Throttle::default();
        guess(&throttle, "nurse", "10.0.0.1", 30);
        assert_eq!(throttle.wait("midwife", "10.0.0.1", at(0)), 0);
    }

    #[test]
    fn guesses_from_elsewhere_never_hold_up_who_is_known_here() {
        let throttle = Throttle::default();
        throttle.right("nurse", "10.0.0.1", at(0));
        guess(&throttle, "nurse", "198.51.100.7", 500);
        guess(&throttle, "nobody", "10.0.0.1", 500);
        assert_eq!(throttle.wait("nurse", "10.0.0.1", at(0)), 0);
        assert_eq!(throttle.wait("nurse", "203.0.113.5", at(0)), LONGEST_SHARED);
        assert_eq!(throttle.wait("midwife", "10.0.0.1", at(0)), LONGEST_SHARED);
    }

    #[test]
    fn the_right_password_begins_anew_and_an_hour_forgets() {
        let throttle = Throttle::default();
        guess(&throttle, "nurse", "10.0.0.1", 12);
        throttle.right("nurse", "10.0.0.1", at(0));
        assert_eq!(throttle.wait("nurse", "10.0.0.1", at(0)), 0);
        guess(&throttle, "keeper", "10.0.0.2", 12);
        throttle.wrong("keeper", "10.0.0.2", at(FORGOTTEN));
        assert_eq!(throttle.wait("keeper", "10.0.0.2", at(FORGOTTEN)), 0);
    }

    #[test]
    fn guessing_does_not_fill_the_memory() {
        let throttle = Throttle::default();
        for number in 0..MOST * 2 {
            throttle.wrong(&number.to_string(), "10.0.0.1", at(0));
        }
        assert!(throttle.counts.lock().tries.len() <= MOST + 3);
    }
}
