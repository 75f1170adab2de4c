//! What today's rules, or settings that are only tried, would have raised on a post's own women, and how each fared at birth.
//!
//! A woman counts once in each category of a pregnancy, at the highest urgency it had; counts, never a name.

use std::collections::{BTreeMap, BTreeSet};

use super::births::{is_preterm, is_small};
use crate::clinical::{Category, Moment, Urgency};
use crate::registry::replay::{self, Baby, Born, Replayed, Span, Trial};
use crate::registry::{BirthPresentation, Db, PostId, RegistryError};

/// WAL95 in the rules of large for dates: the tape looks for twins and for babies of so many grams.
const HEAVY_FROM_G: u16 = 4000;

/// The women of one cell, and how they fared.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Group {
    /// Pregnancies.
    pub women: u64,
    /// Of them, those whose birth tells whether the flag came true; without such a sign, those whose birth is recorded.
    pub known: u64,
    /// Of the known, those in whom it came true.
    pub came_true: u64,
}

/// One category at one urgency, or at any.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Line {
    /// Its kind.
    pub category: Category,
    /// The highest that a woman had in this category; absent for all together.
    pub urgency: Option<Urgency>,
    /// As stored.
    pub then: Group,
    /// Judged again.
    pub now: Group,
    /// Then and now.
    pub both: Group,
    /// Then and not now.
    pub only_then: Group,
    /// Now and not then.
    pub only_now: Group,
}

impl Line {
    /// What came true at birth, in words (“born breech”); absent where no birth can tell.
    #[must_use]
    pub fn sign(&self) -> Option<&'static str> {
        sign(self.category).map(|(words, _)| words)
    }

    /// Somebody stands on one side alone.
    #[must_use]
    pub fn moves(&self) -> bool {
        self.only_then.women + self.only_now.women > 0
    }

    /// The five groups in the order of the headings.
    #[must_use]
    pub fn groups(&self) -> [Group; 5] {
        [
            self.then,
            self.now,
            self.both,
            self.only_then,
            self.only_now,
        ]
    }
}

/// Over the five groups of a [`Line`].
pub const HEADINGS: [&str; 5] = ["raised then", "raised now", "both", "only then", "only now"];

/// The whole comparison.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Replay {
    /// Pregnancies judged again.
    pub pregnancies: u64,
    /// Their visits.
    pub visits: u64,
    /// In how many of the pregnancies what is stored differs from today's rules with the settings as saved.
    pub differs_as_saved: u64,
    /// The rules that judged what is stored.
    pub versions: BTreeSet<String>,
    /// By category, then any urgency, then each; only those that were raised.
    pub lines: Vec<Line>,
}

/// Whose visits, and what is tried on them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question {
    /// The posts; each with its own settings, but for those that are tried.
    pub posts: Vec<PostId>,
    /// Now.
    pub until: Moment,
    /// Pregnancies with a visit or a labour in so many months, each as a whole.
    pub months: u32,
    /// Not more than so many of a post, the newest first; absent for all.
    pub most: Option<usize>,
    /// What the trial is held against.
    pub against: Against,
    /// Tried and not saved.
    pub trial: Trial,
}

/// What stands on the side of “then”.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Against {
    /// The flags as they were raised.
    #[default]
    Stored,
    /// The same records by today’s rules with the settings as saved: the difference is that of the trial alone.
    Saved,
}

impl Question {
    fn span(&self, post: PostId) -> Span {
        Span {
            post,
            until: self.until,
            months: self.months,
            most: self.most,
        }
    }
}

/// Judges again and counts. `went_on` hears after each pregnancy how many are done, of how many.
///
/// # Errors
/// `Missing` when there is no such post; `Broken` when the database fails.
pub fn replay(
    db: &mut Db,
    question: &Question,
    mut went_on: impl FnMut(u64, u64),
) -> Result<Replay, RegistryError> {
    let mut all = 0;
    for post in &question.posts {
        all += u64::try_from(replay::count(db, &question.span(*post))?).unwrap_or_default();
    }
    let mut counted = Counted {
        against: question.against,
        ..Counted::default()
    };
    for post in &question.posts {
        replay::each(db, &question.span(*post), &question.trial, |one| {
            counted.add(one);
            went_on(counted.so_far.pregnancies, all);
        })?;
    }
    Ok(counted.done())
}

#[derive(Default)]
struct Counted {
    against: Against,
    so_far: Replay,
    groups: BTreeMap<(Category, Option<Urgency>), [Group; 5]>,
}

impl Counted {
    fn add(&mut self, one: Replayed) {
        self.so_far.pregnancies += 1;
        self.so_far.visits += u64::try_from(one.visits).unwrap_or_default();
        self.so_far.differs_as_saved += u64::from(one.then != one.as_saved);
        let then = match self.against {
            Against::Stored => &one.then,
            Against::Saved => &one.as_saved,
        };
        for category in Category::ALL {
            let (then, now) = (then.get(category), one.now.get(category));
            let fared = fared(*category, one.born.as_ref());
            self.tell((*category, None), (then.is_some(), now.is_some()), fared);
            for urgency in Urgency::ALL {
                let at = (then == Some(urgency), now == Some(urgency));
                self.tell((*category, Some(*urgency)), at, fared);
            }
        }
        self.so_far.versions.extend(one.versions);
    }

    fn tell(
        &mut self,
        line: (Category, Option<Urgency>),
        (then, now): (bool, bool),
        fared: Option<bool>,
    ) {
        if !then && !now {
            return;
        }
        let belongs = [then, now, then && now, then && !now, now && !then];
        let groups = self.groups.entry(line).or_default();
        for (group, _) in groups.iter_mut().zip(belongs).filter(|(_, in_it)| *in_it) {
            group.women += 1;
            group.known += u64::from(fared.is_some());
            group.came_true += u64::from(fared == Some(true));
        }
    }

    fn done(self) -> Replay {
        let line = |((category, urgency), groups): ((Category, Option<Urgency>), [Group; 5])| {
            let [then, now, both, only_then, only_now] = groups;
            Line {
                category,
                urgency,
                then,
                now,
                both,
                only_then,
                only_now,
            }
        };
        Replay {
            lines: self.groups.into_iter().map(line).collect(),
            ..self.so_far
        }
    }
}

/// Whether the flag came true; absent when nobody knows. Without a sign a birth that is recorded counts as known.
fn fared(category: Category, born: Option<&Born>) -> Option<bool> {
    let born = born?;
    sign(category).map_or(Some(false), |(_, came_true)| came_true(born))
}

type Sign = (&'static str, fn(&Born) -> Option<bool>);

/// What a birth says of a flag. A fault of the hands shows at birth only where it could not be put right before [O]: these counts
/// compare two ways of judging the same women, they are no measure of either alone.
fn sign(category: Category) -> Option<Sign> {
    match category {
        Category::TransverseLie => Some(("born shoulder first", |born| {
            came_first(born, BirthPresentation::Shoulder)
        })),
        Category::Breech => Some(("born breech", |born| {
            came_first(born, BirthPresentation::Breech)
        })),
        Category::SuspectedTwins => Some(("twins born", |born| Some(born.babies.len() > 1))),
        Category::SmallForDates => Some(("born small", |born| {
            any(born, |baby| {
                is_small(baby.alive, baby.sex, born.gestation_days, baby.weight_g)
            })
        })),
        Category::LargeForDates => Some(("born with 4000 g or more", |born| {
            any(born, |baby| {
                baby.weight_g.map(|grams| grams >= HEAVY_FROM_G)
            })
        })),
        Category::PretermLabour => Some(("born before 37 weeks", |born| {
            born.gestation_days.map(is_preterm)
        })),
        _ => None,
    }
}

fn came_first(born: &Born, sought: BirthPresentation) -> Option<bool> {
    any(born, |baby| {
        (baby.presentation != BirthPresentation::Unknown).then_some(baby.presentation == sought)
    })
}

/// One baby is enough; not known when none is known.
fn any(born: &Born, came_true: impl Fn(&Baby) -> Option<bool>) -> Option<bool> {
    let known: Vec<bool> = born.babies.iter().filter_map(came_true).collect();
    (!known.is_empty()).then(|| known.contains(&true))
}
