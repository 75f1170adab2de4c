//! Every rule that raises a flag, read off the one table that judges by them.

use askama::Template;

use crate::clinical::{self, Category, Mark, RULES_VERSION, Rule, Source, Urgency};
use crate::web::answer::{self, Answer};
use crate::web::audience::SignedIn;
use crate::web::form::Query;
use crate::web::shell::Shell;
use crate::web::spoken;

struct Volume {
    category: Category,
    rules: Vec<&'static Rule>,
    open: bool,
}

impl Volume {
    /// `4 rules, up to refer now`.
    fn summary(&self) -> String {
        let noun = if self.rules.len() == 1 {
            "rule"
        } else {
            "rules"
        };
        let urgencies = self.rules.iter().flat_map(|rule| rule.urgencies);
        let highest = urgencies
            .min()
            .map(|it| it.words().to_lowercase())
            .unwrap_or_default();
        format!("{} {noun}, up to {highest}", self.rules.len())
    }
}

#[derive(Template)]
#[template(path = "rules/page.html")]
struct RulesPage {
    shell: Shell,
    key: Vec<(Urgency, &'static str)>,
    volumes: Vec<Volume>,
    everything: bool,
}

impl RulesPage {
    fn version(&self) -> &'static str {
        RULES_VERSION
    }

    fn since(&self) -> String {
        spoken::day(clinical::rules_since())
    }

    fn count(&self) -> usize {
        self.volumes.iter().map(|volume| volume.rules.len()).sum()
    }

    /// How many sources of all rules have this mark.
    fn marked(&self, mark: Mark) -> usize {
        let sources = self
            .volumes
            .iter()
            .flat_map(|it| &it.rules)
            .flat_map(|rule| rule.sources);
        sources.filter(|source| source.mark == mark).count()
    }
}

/// What each urgency asks for.
fn asks_for(urgency: Urgency) -> &'static str {
    match urgency {
        Urgency::Now => "transfer at once",
        Urgency::Soon => "book before labour, within days",
        Urgency::Review => "the midwife in charge decides",
        Urgency::Recheck => "repeat at the named time",
    }
}

/// How sure a source is, in words beside it; practice and own choices say it themselves.
fn how_sure(source: &Source) -> &'static str {
    match source.mark {
        Mark::Read => "read in the source",
        Mark::Memory => "from memory of the source",
        Mark::Practice => "common practice",
        Mark::Choice => "our own choice",
    }
}

/// `GET /rules`: one category open; with `?all=1` every one, to read in one go or to print.
pub(in crate::web) async fn show(_: SignedIn, shell: Shell, Query(asked): Query) -> Answer {
    let everything = asked.last("all") == "1";
    let volume = |(place, category): (usize, &Category)| Volume {
        category: *category,
        rules: clinical::rules()
            .filter(|rule| rule.category == *category)
            .collect(),
        open: everything || place == 0,
    };
    let volumes = Category::ALL.iter().enumerate().map(volume);
    answer::page(&RulesPage {
        shell,
        key: Urgency::ALL.iter().map(|it| (*it, asks_for(*it))).collect(),
        volumes: volumes.filter(|volume| !volume.rules.is_empty()).collect(),
        everything,
    })
}
