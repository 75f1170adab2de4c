//! What the four Today pages are made of: the one thing to do, lists of people, figures.

use crate::clinical::Urgency;

/// A link that is an action.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Way {
    pub(crate) href: String,
    pub(crate) words: String,
}

impl Way {
    pub(crate) fn to(href: impl Into<String>, words: impl Into<String>) -> Self {
        Self {
            href: href.into(),
            words: words.into(),
        }
    }
}

/// The next thing to do, one a page: a sentence with a verb, why, and where to do it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct DoNext {
    /// Absent on a quiet page.
    pub(crate) urgency: Option<Urgency>,
    /// What it is about; with an urgency beside it, else as a tag.
    pub(crate) category: String,
    pub(crate) said: String,
    /// Minutes that are left, when a clock runs.
    pub(crate) left: Option<Left>,
    pub(crate) lines: Vec<String>,
    /// The first is the page's one primary action.
    pub(crate) ways: Vec<Way>,
    /// The second action is a button too.
    pub(crate) second_is_button: bool,
    /// A month or a referral is late: the frame is red, the tag says so.
    pub(crate) late: bool,
}

/// A figure and its words in one sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Left {
    pub(crate) figure: String,
    pub(crate) words: String,
}

impl DoNext {
    /// Nothing presses.
    pub(crate) fn calm(said: impl Into<String>) -> Self {
        Self {
            urgency: None,
            category: String::new(),
            said: said.into(),
            left: None,
            lines: Vec::new(),
            ways: Vec::new(),
            second_is_button: false,
            late: false,
        }
    }

    /// Something presses.
    pub(crate) fn pressing(
        urgency: Urgency,
        category: impl Into<String>,
        said: impl Into<String>,
    ) -> Self {
        Self {
            urgency: Some(urgency),
            category: category.into(),
            ..Self::calm(said)
        }
    }

    #[must_use]
    pub(crate) fn because(mut self, line: impl Into<String>) -> Self {
        let line = line.into();
        if !line.is_empty() {
            self.lines.push(line);
        }
        self
    }

    #[must_use]
    pub(crate) fn by(mut self, way: Way) -> Self {
        self.ways.push(way);
        self
    }

    /// Class of its frame.
    pub(crate) fn class(&self) -> &'static str {
        match self.urgency {
            Some(urgency) => urgency.code(),
            None if self.late => "now",
            None => "calm",
        }
    }
}

/// What stands at the end of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum End {
    Urgency(Urgency),
    Words(String),
    /// Class of the tag (`late`, `past`, `done` or none) and its words.
    Tag(&'static str, String),
}

/// One line about somebody: who, how urgent, why, and one action.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Entry {
    pub(crate) name: String,
    pub(crate) href: String,
    /// Register number and gestation.
    pub(crate) number: String,
    pub(crate) end: End,
    /// The heavy words before `why`.
    pub(crate) lead: String,
    pub(crate) why: String,
    pub(crate) small: String,
    pub(crate) act: Way,
}

/// A list with its heading. One without lines is left out of the page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Section {
    pub(crate) id: &'static str,
    pub(crate) title: &'static str,
    pub(crate) count: String,
    pub(crate) entries: Vec<Entry>,
    pub(crate) more: Option<Way>,
}

impl Section {
    /// Nothing to say about an empty list.
    pub(crate) fn of(id: &'static str, title: &'static str, entries: Vec<Entry>) -> Option<Self> {
        (!entries.is_empty()).then(|| Self {
            id,
            title,
            count: entries.len().to_string(),
            entries,
            more: None,
        })
    }

    #[must_use]
    pub(crate) fn counted(mut self, count: String) -> Self {
        self.count = count;
        self
    }

    #[must_use]
    pub(crate) fn with(mut self, more: Option<Way>) -> Self {
        self.more = more;
        self
    }
}

/// A count that leads to its list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Figure {
    pub(crate) href: String,
    pub(crate) count: String,
    pub(crate) words: String,
}

impl Figure {
    pub(crate) fn of(
        count: impl ToString,
        words: impl Into<String>,
        href: impl Into<String>,
    ) -> Self {
        Self {
            href: href.into(),
            count: count.to_string(),
            words: words.into(),
        }
    }
}
