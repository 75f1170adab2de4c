//! What a rule is: a row that carries its source and its boundary.

use crate::clinical::picture::Picture;
use crate::clinical::verdict::{Spoken, Verdict, Why};
use crate::clinical::{Case, Category, Urgency};
use std::fmt;

/// How far a source was checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mark {
    /// Read in the published source, or in a published text that states it.
    Read,
    /// From memory of the named source.
    Memory,
    /// Common practice, no source.
    Practice,
    /// Our own choice where sources are silent or differ.
    Choice,
}

impl Mark {
    /// The letter of the clinical reference.
    #[must_use]
    pub const fn letter(self) -> char {
        match self {
            Self::Read => 'R',
            Self::Memory => 'M',
            Self::Practice => 'P',
            Self::Choice => 'O',
        }
    }
}

/// A source with its mark; for practice and own choices `text` is the reason.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Source {
    /// Short name with page, or the reason.
    pub text: &'static str,
    /// How far it was checked.
    pub mark: Mark,
}

pub(super) const fn read(text: &'static str) -> Source {
    Source {
        text,
        mark: Mark::Read,
    }
}

pub(super) const fn memory(text: &'static str) -> Source {
    Source {
        text,
        mark: Mark::Memory,
    }
}

pub(super) const fn practice(text: &'static str) -> Source {
    Source {
        text,
        mark: Mark::Practice,
    }
}

pub(super) const fn choice(text: &'static str) -> Source {
    Source {
        text,
        mark: Mark::Choice,
    }
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.mark {
            Mark::Read => write!(f, "{}, read in the source", self.text),
            Mark::Memory => write!(f, "{}, from memory of the source", self.text),
            Mark::Practice => write!(f, "common practice: {}", self.text),
            Mark::Choice => write!(f, "our own choice: {}", self.text),
        }
    }
}

/// What has to be examined later so that a flag can close by itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Settling {
    /// Only the midwife decides, or the pregnancy ends.
    Never,
    /// a: clear or probable hands with a known lie.
    Lie,
    /// b: a vertex felt inside.
    Vertex,
    /// c: clear or probable hands, lengthwise, head below.
    HeadBelow,
    /// d: a tape with a centile, or judged by weeks.
    Tape,
    /// e: the same, 14 days or more after the flag; by the 14-day way of `height-static` at any time.
    TapeAfterTwoWeeks,
    /// f: a dilatation at or above the active start.
    ActiveStage,
    /// g: fifths.
    Fifths,
    /// h: less moulding, or a head that came down.
    Moulding,
    /// i: a contraction record inside the limits.
    Contractions,
    /// j: the front felt again, or the back of the head found in front.
    Front,
    /// k: the same figure measured again.
    SameFigure,
    /// l: both pressures.
    BothPressures,
    /// m: urine tested.
    Urine,
    /// n: a count of the heart inside the limits.
    HeartCount,
    /// o: labour begins.
    LabourBegins,
    /// p: an examination inside without cord, or fifths 3 or fewer.
    NoCord,
    /// q: clear or probable hands, or something felt inside.
    Findings,
    /// r: a dilatation at or above the highest.
    Dilatation,
    /// s: a gestation that is known.
    Gestation,
}

impl Settling {
    /// As read aloud on the rules page.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Never => "the midwife",
            Self::Lie => "clear or probable hands that find none of this list",
            Self::Vertex => "the crown of the head felt inside later",
            Self::HeadBelow => "clear or probable hands: lengthwise, head below",
            Self::Tape => "a later tape inside the limit",
            Self::TapeAfterTwoWeeks => "a tape inside the limit, 14 days later or more",
            Self::ActiveStage => "a dilatation of the active stage",
            Self::Fifths => "fifths counted again and nothing of this list found",
            Self::Moulding => "less moulding",
            Self::Contractions => "contractions inside the limits",
            Self::Front => "the front felt again, or the back of the head found in front",
            Self::SameFigure => "the same figure measured again inside the limit",
            Self::BothPressures => "both pressures measured again inside the limits",
            Self::Urine => "urine tested again",
            Self::HeartCount => "a count inside the limits",
            Self::LabourBegins => "labour begins",
            Self::NoCord => "an examination inside without cord, or fifths 3 or fewer",
            Self::Findings => "clear or probable hands, or something felt inside",
            Self::Dilatation => "a dilatation at or above the highest",
            Self::Gestation => "a date that can be used",
        }
    }
}

/// Skill at the post that makes `now` and `soon` a review.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Softening {
    /// Staff skilled in breech birth.
    Breech,
    /// Staff skilled in twin birth.
    Twins,
}

/// The nearest case that raises an urgency, and the nearest that does not.
#[derive(Debug, Clone, Copy)]
pub struct Edge {
    /// Which urgency turns here.
    pub urgency: Urgency,
    /// The raising case in a few words.
    pub just_words: &'static str,
    /// Raises the urgency.
    pub just: fn() -> Case,
    /// The silent (or less urgent) case in a few words.
    pub not_quite_words: &'static str,
    /// Does not raise it.
    pub not_quite: fn() -> Case,
}

pub(super) const fn edge(
    urgency: Urgency,
    just_words: &'static str,
    just: fn() -> Case,
    not_quite_words: &'static str,
    not_quite: fn() -> Case,
) -> Edge {
    Edge {
        urgency,
        just_words,
        just,
        not_quite_words,
        not_quite,
    }
}

/// One rule.
pub struct Rule {
    /// Its kind.
    pub category: Category,
    /// As stored and exported; never changes.
    pub code: &'static str,
    /// As read aloud on a page.
    pub title: &'static str,
    /// Every urgency it can have, the highest first.
    pub urgencies: &'static [Urgency],
    /// The condition in words.
    pub when: &'static str,
    /// What to do.
    pub advice: &'static str,
    /// When something else is to be done, and what.
    pub other_advice: Option<(&'static str, &'static str)>,
    /// Where it comes from.
    pub sources: &'static [Source],
    /// What closes its flag.
    pub settles: Settling,
    /// Skill that softens it.
    pub softens: Option<Softening>,
    /// Raised until a midwife has reviewed it once in a pregnancy.
    pub once: bool,
    /// Rules that it asks about; they are judged first.
    pub after: &'static [&'static str],
    /// For each urgency both sides of its boundary.
    pub edges: &'static [Edge],
    pub(super) judged_by: fn(&Picture<'_>, &Raised) -> Verdict,
}

impl fmt::Debug for Rule {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Rule")
            .field("code", &self.code)
            .finish_non_exhaustive()
    }
}

impl Rule {
    /// What most rules of a category share.
    pub(super) const fn of(category: Category) -> Self {
        Self {
            category,
            code: "",
            title: "",
            urgencies: &[],
            when: "",
            advice: "",
            other_advice: None,
            sources: &[],
            settles: Settling::Never,
            softens: None,
            once: false,
            after: &[],
            edges: &[],
            judged_by: |_, _| Err(Why::Fact("no rule")),
        }
    }

    /// Sources with their marks in words.
    #[must_use]
    pub fn source_words(&self) -> String {
        let mut text = String::with_capacity(96);
        for source in self.sources {
            if !text.is_empty() {
                text.push_str("; ");
            }
            // Writing into a text cannot fail.
            let _ = fmt::Write::write_fmt(&mut text, format_args!("{source}"));
        }
        text
    }

    /// What it says once skilled staff have softened it.
    pub(super) fn softened(&self, mut spoken: Spoken, seen: &Picture<'_>) -> Spoken {
        let post = &seen.case.post;
        let skilled = match self.softens {
            Some(Softening::Breech) => post.skilled_breech,
            Some(Softening::Twins) => post.skilled_twins,
            None => false,
        };
        if skilled && spoken.urgency < Urgency::Review {
            spoken.urgency = Urgency::Review;
            spoken.evidence.push_str(" Skilled staff at this post.");
        }
        spoken
    }
}

/// What was raised so far.
#[derive(Debug, Default)]
pub(crate) struct Raised {
    spoken: Vec<(usize, &'static Rule, Spoken)>,
}

impl Raised {
    pub(super) fn add(&mut self, place: usize, rule: &'static Rule, spoken: Spoken) {
        self.spoken.push((place, rule, spoken));
    }

    pub(crate) fn urgency_of(&self, code: &str) -> Option<Urgency> {
        self.spoken
            .iter()
            .find(|(_, rule, _)| rule.code == code)
            .map(|(.., spoken)| spoken.urgency)
    }

    pub(crate) fn has(&self, code: &str) -> bool {
        self.urgency_of(code).is_some()
    }

    /// Keeps a rule silent where another says it.
    pub(crate) fn silent_beside(&self, codes: &[&'static str]) -> Result<(), Why> {
        match codes.iter().find(|code| self.has(code)) {
            Some(code) => Err(Why::Said(code)),
            None => Ok(()),
        }
    }

    /// The first `now` rule of a category, other than the asking one.
    pub(crate) fn now_in(&self, category: Category) -> Option<&'static str> {
        self.spoken
            .iter()
            .find(|(_, rule, spoken)| rule.category == category && spoken.urgency == Urgency::Now)
            .map(|(_, rule, _)| rule.code)
    }

    pub(super) fn into_spoken(self) -> Vec<(usize, &'static Rule, Spoken)> {
        self.spoken
    }
}
