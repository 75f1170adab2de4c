//! Finding mothers: by any word of name or village from its beginning, by number, by telephone.

use diesel::prelude::*;

use super::Mother;
use super::fold::{digits, folded, words};
use super::lines::{self, Line};
use crate::clinical::Day;
use crate::registry::connection::Db;
use crate::registry::error::Result;
use crate::registry::ids::{MotherId, PostId};
use crate::registry::posts::Post;
use crate::registry::schema::{births, flags, mother_words, mothers, pregnancies};

/// Days after birth in which a mother stands among those after birth: six weeks [P].
const AFTER_BIRTH_DAYS: i64 = 42;
/// Fewer figures would find half the register.
const FIGURES_OF_A_PHONE: usize = 4;

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
    let mut query = mothers::table
        .filter(mothers::post_id.eq(post.id))
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
    query = match sought(post, typed) {
        Sought::All => query,
        Sought::Number(number) => query.filter(mothers::number.eq(number)),
        Sought::Figures(number, phone) => {
            let phone = phone.map(|figures| format!("%{figures}%"));
            match (number, phone) {
                (number, Some(phone)) => query.filter(
                    mothers::number
                        .eq(number.unwrap_or_default())
                        .or(mothers::phone_digits.like(phone).assume_not_null()),
                ),
                (number, None) => query.filter(mothers::number.eq(number.unwrap_or_default())),
            }
        }
        Sought::Words(words) => words.into_iter().fold(query, |query, word| {
            // The last letter there is closes the range of words that begin so.
            let end = format!("{word}\u{10FFFF}");
            let having = mother_words::table
                .filter(mother_words::post_id.eq(post.id))
                .filter(mother_words::word.ge(word).and(mother_words::word.lt(end)))
                .select(mother_words::mother_id);
            query.filter(mothers::id.eq_any(having))
        }),
    };
    query = match which {
        Which::All => query,
        Which::Pregnant => {
            query.filter(mothers::id.eq_any(lasting(post.id).select(pregnancies::mother_id)))
        }
        Which::AfterBirth => {
            query.filter(mothers::id.eq_any(recent(post.id, today).select(births::mother_id)))
        }
        Which::Flagged => {
            query.filter(mothers::id.eq_any(flagged(post.id).select(flags::mother_id)))
        }
    };
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
    let distinct = |ids: Vec<MotherId>| {
        let mut ids = ids;
        ids.sort_unstable();
        ids.dedup();
        i64::try_from(ids.len()).unwrap_or(i64::MAX)
    };
    let pregnant = lasting(post).select(pregnancies::mother_id).load(db)?;
    let after_birth = recent(post, today).select(births::mother_id).load(db)?;
    let flagged = flagged(post).select(flags::mother_id).load(db)?;
    let all = mothers::table
        .filter(
            mothers::post_id
                .eq(post)
                .and(mothers::entered_in_error.eq(false)),
        )
        .count()
        .get_result(db)?;
    Ok([
        distinct(pregnant),
        distinct(after_birth),
        distinct(flagged),
        all,
    ])
}

#[diesel::dsl::auto_type]
fn lasting(post: PostId) -> _ {
    let post: PostId = post;
    pregnancies::table
        .filter(pregnancies::post_id.eq(post))
        .filter(pregnancies::ended_at.is_null())
}

#[diesel::dsl::auto_type]
fn recent(post: PostId, today: Day) -> _ {
    let since: Day = today - chrono::TimeDelta::days(AFTER_BIRTH_DAYS);
    births::table
        .filter(births::post_id.eq(post))
        .filter(births::born_on.ge(since))
        .filter(births::entered_in_error.eq(false))
}

#[diesel::dsl::auto_type]
fn flagged(post: PostId) -> _ {
    flags::table
        .filter(flags::post_id.eq(post))
        .filter(flags::closed_at.is_null())
}

#[derive(Debug, PartialEq, Eq)]
enum Sought {
    All,
    Number(i32),
    Figures(Option<i32>, Option<String>),
    Words(Vec<String>),
}

fn sought(post: &Post, typed: &str) -> Sought {
    let typed = typed.trim();
    let figures = digits(typed);
    let Some(figures) = figures else {
        let words = words(&[&folded(typed)]);
        return if words.is_empty() {
            Sought::All
        } else {
            Sought::Words(words)
        };
    };
    let letters: String = typed.chars().filter(|it| it.is_alphabetic()).collect();
    let number = figures.parse().ok();
    if letters.is_empty() {
        let phone = (figures.len() >= FIGURES_OF_A_PHONE).then_some(figures);
        return Sought::Figures(number, phone);
    }
    let of_this_post = letters.eq_ignore_ascii_case(&post.code)
        && typed.starts_with(|it: char| it.is_alphabetic());
    match number {
        Some(number) if of_this_post => Sought::Number(number),
        _ => Sought::Words(words(&[&folded(typed)])),
    }
}
