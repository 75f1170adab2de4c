//! Days, times and findings as the letter writes them.

use crate::clinical::{Category, Day, Moment};
use crate::registry::flags::Flag;
use crate::registry::posts::Post;

use super::Item;

/// The clock of the sending post.
pub(super) struct Clock<'a>(pub(super) &'a Post);

impl Clock<'_> {
    /// `24 Nov 2026, 20:41`.
    pub(super) fn moment(&self, moment: Moment) -> String {
        self.0.local(moment).format("%-d %b %Y, %H:%M").to_string()
    }

    /// `24 Nov, 20:41`.
    pub(super) fn short(&self, moment: Moment) -> String {
        self.0.local(moment).format("%-d %b, %H:%M").to_string()
    }

    /// As [`Clock::moment`], or that the time is not known.
    pub(super) fn known(&self, moment: Option<Moment>) -> String {
        moment.map_or_else(|| "time not known".to_owned(), |it| self.moment(it))
    }
}

/// `24 Nov 2026`.
pub(super) fn day(day: Day) -> String {
    day.format("%-d %b %Y").to_string()
}

/// `33.5` for 335.
pub(super) fn tenths(number: u16) -> String {
    format!("{}.{}", number / 10, number % 10)
}

/// A flag as an item: its words and urgency, then evidence and source.
pub(super) fn flag(flag: &Flag) -> Item {
    let words = format!(
        "{}: {} ({})",
        flag.urgency.words(),
        flag.evidence,
        flag.source
    );
    Item::new(flag.category.words(), Some(words))
}

/// A reason as a mother would say it (clinical reference 8.4).
#[must_use]
pub(super) fn plain(category: Category) -> &'static str {
    match category {
        Category::TransverseLie => "baby lies across",
        Category::Malpresentation => "face, brow or hand first",
        Category::Breech => "baby lies bottom first",
        Category::SuspectedTwins => "likely twins",
        Category::SmallForDates => "small baby",
        Category::LargeForDates => "large baby",
        Category::PoorProgress => "slow labour",
        Category::HighHead => "head high",
        Category::OcciputPosterior => "baby faces front",
        Category::DangerSign => "danger sign",
        Category::RaisedBloodPressure => "high blood pressure",
        Category::FetalHeart => "baby’s heart",
        Category::Waters => "waters broken",
        Category::PretermLabour => "early labour",
        Category::PastDates => "past her date",
        Category::ScarredUterus => "scar of a caesarean",
        Category::BirthPlace => "history",
        Category::UnclearFindings => "findings unclear",
        Category::UnknownDates => "dates unknown",
    }
}
