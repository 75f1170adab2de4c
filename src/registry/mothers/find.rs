//! Finding mothers: by any word of name or village from its beginning, by number, by telephone.

use diesel::prelude::*;

use super::Mother;
use super::candidates::{self, end_of};
use super::lines::{self, Line};
use super::register::next_number;
use super::sought::sought;
use crate::clinical::Day;
use crate::registry::connection::Db;
use crate::registry::error::Result;
use crate::registry::ids::{MotherId, PostId};
use crate::registry::posts::Post;
use crate::registry::schema::{mother_words, mothers};

/// Which mothers to list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// With a pregnancy that lasts.
    Pregnant,
    /// Who gave birth in the last six weeks.
    AfterBirth,
    /// With a flag that stands.
    Flagged,
    /// Everyone.
    All,
}

/// The last line of the page before.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct After {
    /// Its folded name.
    pub name_folded: String,
    /// Its id.
    pub id: MotherId,
}

/// One page of the list.
#[derive(Debug, Clone)]
pub struct Found {
    /// By name.
    pub lines: Vec<Line>,
    /// Where the next page goes on; absent on the last page.
    pub next: Option<After>,
}

/// The next mothers of a post, by name, that `typed` finds (blank finds all): words of name or village by their beginnings,
/// the register number in any writing (`149`, `QF149`, `qf 0149`), four or more figures of a telephone.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn page(
    db: &mut Db,
    post: &Post,
    typed: &str,
    which: Which,
    after: Option<&After>,
    today: Day,
    most: i64,
) -> Result<Found> {
    let wanted = candidates::of(db, post, &sought(post, typed), which, today)?;
    let mut query = mothers::table
        .filter(mothers::entered_in_error.eq(false))
        .order((mothers::name_folded, mothers::id))
        .limit(most + 1)
        .select(Mother::as_select())
        .into_boxed();
    if let Some(after) = after {
        let name = after.name_folded.clone();
        query = query
            .filter(mothers::name_folded.ge(name.clone()))
            .filter(mothers::name_folded.gt(name).or(mothers::id.gt(after.id)));
    }
    query = match wanted.ids {
        // They are of this post already. Naming it again would make SQLite read the whole register by name.
        Some(ids) => query.filter(mothers::id.eq_any(ids)),
        None => query.filter(mothers::post_id.eq(post.id)),
    };
    for word in wanted.common_words {
        let hers = mother_words::table
            .filter(mother_words::mother_id.eq(mothers::id))
            .filter(
                mother_words::word
                    .ge(word.clone())
                    .and(mother_words::word.lt(end_of(&word))),
            );
        query = query.filter(diesel::dsl::exists(hers));
    }
    let mut found: Vec<Mother> = query.load(db)?;
    let more = i64::try_from(found.len()).is_ok_and(|count| count > most);
    if more {
        found.pop();
    }
    let next = found.last().filter(|_| more).map(|last| After {
        name_folded: last.name_folded.clone(),
        id: last.id,
    });
    Ok(Found {
        lines: lines::of(db, found)?,
        next,
    })
}

/// How many mothers each list holds: pregnant, after birth, flagged, all.
///
/// # Errors
/// `Broken` when the database cannot be read.
pub fn counts(db: &mut Db, post: PostId, today: Day) -> Result<[i64; 4]> {
    let mut counted = [candidates::pregnant(db, post)?, 0, 0, 0];
    let lists = [Which::AfterBirth, Which::Flagged];
    for (count, which) in counted[1..].iter_mut().zip(lists) {
        *count =
            i64::try_from(candidates::listed(db, post, which, today)?.len()).unwrap_or(i64::MAX);
    }
    // The register counts its mothers itself; counting them again would read an entry of an index for each.
    let all = next_number(db, post)? - 1;
    let in_error: i64 = mothers::table
        .filter(mothers::post_id.eq(post))
        .filter(mothers::entered_in_error)
        .count()
        .get_result(db)?;
    counted[3] = i64::from(all) - in_error;
    Ok(counted)
}
