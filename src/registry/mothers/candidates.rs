//! Who can be on a page at all: by rare words, numbers and lists, as ids; common words are left to the list's own order.
//!
//! With 100,000 mothers a rare word looked up in the order of names reads the whole register; as ids it reads a handful of rows.
//! A common word is the other way round: its fifty are found within the first few hundred names.

use std::collections::HashSet;

use diesel::prelude::*;

use super::find::Which;
use super::sought::Sought;
use crate::clinical::Day;
use crate::registry::connection::Db;
use crate::registry::error::Result;
use crate::registry::ids::{MotherId, PostId};
use crate::registry::posts::Post;
use crate::registry::schema::{births, flags, mother_words, mothers, pregnancies};

/// Days after birth in which a mother stands among those after birth: six weeks [P].
const AFTER_BIRTH_DAYS: i64 = 42;
/// A word of more mothers than this is common; a query can hold a list of 32,766.
const RARE: usize = 20_000;

/// Who can be on the page.
#[derive(Debug, Default)]
pub(super) struct Wanted {
    /// Only these; absent: everyone.
    pub(super) ids: Option<Vec<MotherId>>,
    /// Beginnings of words that each of them must have, too common to be looked up first.
    pub(super) common_words: Vec<String>,
}

/// The end of the range of words that begin with `word`: the last letter there is.
pub(super) fn end_of(word: &str) -> String {
    format!("{word}\u{10FFFF}")
}

pub(super) fn of(
    db: &mut Db,
    post: &Post,
    sought: &Sought,
    which: Which,
    today: Day,
) -> Result<Wanted> {
    let mut wanted = Wanted::default();
    if which != Which::All {
        wanted.only(listed(db, post.id, which, today)?);
    }
    match sought {
        Sought::All => {}
        Sought::Number(number) => wanted.only(numbered(db, post.id, *number)?),
        Sought::Figures(number, phone) => {
            let mut ids = numbered(db, post.id, number.unwrap_or_default())?;
            if let Some(phone) = phone {
                ids.extend(phoned(db, post.id, phone)?);
            }
            wanted.only(ids);
        }
        Sought::Words(words) => {
            for word in words {
                let ids = having(db, post.id, word)?;
                if ids.len() > RARE {
                    wanted.common_words.push(word.clone());
                } else {
                    wanted.only(ids.into_iter().collect());
                }
            }
        }
    }
    Ok(wanted)
}

impl Wanted {
    fn only(&mut self, ids: HashSet<MotherId>) {
        self.ids = Some(match self.ids.take() {
            None => ids.into_iter().collect(),
            Some(known) => known.into_iter().filter(|id| ids.contains(id)).collect(),
        });
    }
}

/// How many are pregnant; nobody has two pregnancies open.
pub(super) fn pregnant(db: &mut Db, post: PostId) -> Result<i64> {
    Ok(pregnancies::table
        .filter(pregnancies::post_id.eq(post))
        .filter(pregnancies::ended_at.is_null())
        .count()
        .get_result(db)?)
}

/// Everyone of a list, each once.
pub(super) fn listed(
    db: &mut Db,
    post: PostId,
    which: Which,
    today: Day,
) -> Result<HashSet<MotherId>> {
    let ids: Vec<MotherId> = match which {
        Which::Pregnant => pregnancies::table
            .filter(
                pregnancies::post_id
                    .eq(post)
                    .and(pregnancies::ended_at.is_null()),
            )
            .select(pregnancies::mother_id)
            .load(db)?,
        Which::AfterBirth => births::table
            .filter(births::post_id.eq(post))
            .filter(births::born_on.ge(today - chrono::TimeDelta::days(AFTER_BIRTH_DAYS)))
            .filter(births::entered_in_error.eq(false))
            .select(births::mother_id)
            .load(db)?,
        Which::Flagged => flags::table
            .filter(flags::post_id.eq(post).and(flags::closed_at.is_null()))
            .select(flags::mother_id)
            .load(db)?,
        Which::All => mothers::table
            .filter(mothers::post_id.eq(post))
            .select(mothers::id)
            .load(db)?,
    };
    Ok(ids.into_iter().collect())
}

fn numbered(db: &mut Db, post: PostId, number: i32) -> Result<HashSet<MotherId>> {
    let ids: Vec<MotherId> = mothers::table
        .filter(mothers::post_id.eq(post).and(mothers::number.eq(number)))
        .select(mothers::id)
        .load(db)?;
    Ok(ids.into_iter().collect())
}

fn phoned(db: &mut Db, post: PostId, figures: &str) -> Result<Vec<MotherId>> {
    Ok(mothers::table
        .filter(mothers::post_id.eq(post))
        // True of every number, and what makes SQLite read them in their index.
        .filter(mothers::phone_digits.ge(""))
        .filter(mothers::phone_digits.like(format!("%{figures}%")))
        .limit(i64::try_from(RARE).unwrap_or(i64::MAX))
        .select(mothers::id)
        .load(db)?)
}

/// Up to one more than is rare.
fn having(db: &mut Db, post: PostId, word: &str) -> Result<Vec<MotherId>> {
    Ok(mother_words::table
        .filter(mother_words::post_id.eq(post))
        .filter(
            mother_words::word
                .ge(word)
                .and(mother_words::word.lt(end_of(word))),
        )
        .limit(i64::try_from(RARE + 1).unwrap_or(i64::MAX))
        .select(mother_words::mother_id)
        .load(db)?)
}
