//! `replay`: past visits judged again, to see what a rule or a setting would change on one's own women.

mod lines;
mod tried;

use anyhow::{Context, Result};

use super::data::Data;
use super::terminal::{Progress, say};
use super::{Outcome, clock, post};
use crate::clinical::{CAUTION, RULES_VERSION};
use crate::registry::extract;
use crate::reporting::replay::{Against, Question, Replay, replay};
use tried::Tried;

/// What `replay` is told.
#[derive(clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    data: Data,
    /// Name or code of one post; all posts together when left out
    #[arg(long, value_name = "NAME")]
    post: Option<String>,
    /// Judge the pregnancies that were seen in so many months, each from its beginning
    #[arg(long, value_name = "NUMBER", default_value_t = 12, value_parser = clap::value_parser!(u32).range(1..=120))]
    months: u32,
    /// Try a setting of the post without saving it; may be given several times
    #[arg(long, value_name = "KEY=VALUE", long_help = tried::HELP)]
    set: Vec<Tried>,
}

/// What `--help` says below the options.
pub(super) const ABOUT: &str = "\
Each pregnancy counts once in a category, at the highest urgency it had there.\n  \
raised then   the flags as they are stored, by the rules of their day\n  \
raised now    what today’s rules say at each moment she was examined, from the records up to it as they stand today\n  \
born …        9/11: came true in 9 of the 11 whose birth tells\n\
So the two differ also where an entry came late or was put right; the last line says how often. Writes nothing.\n\n\
Examples:\n  brimline replay --data /var/lib/brimline\n  \
brimline replay --data /var/lib/brimline --post \"Quern Ford\" --months 24 --set fundal_height_method=weeks --set skilled_breech=yes";

pub(super) fn run(args: &Args) -> Result<Outcome> {
    let trial = tried::all(&args.set);
    let until = clock::now();
    let posts = args
        .data
        .read_only(extract::posts)
        .context("cannot read the posts")?;
    let chosen = post::chosen(&posts, args.post.as_deref(), &args.data)?;
    let question = Question {
        posts: chosen.map_or_else(
            || posts.iter().map(|post| post.id).collect(),
            |post| vec![post.id],
        ),
        until,
        months: args.months,
        most: None,
        against: Against::Stored,
        trial,
    };
    let mut progress = Progress::of("Judging again", false);
    let found = args
        .data
        .read_only(|db| replay(db, &question, |done, of| progress.at(done, Some(of))))
        .context("cannot judge the register again")?;
    drop(progress);
    let whose = chosen.map_or("All posts", |post| post.name.as_str());
    say(&heading(whose, args, &found))?;
    if found.lines.is_empty() {
        say("Nothing was raised, then or now.")?;
    } else {
        say("")?;
        for line in lines::of(&found.lines) {
            say(&line)?;
        }
    }
    say("")?;
    say(&foot(&found, !args.set.is_empty()))?;
    say(CAUTION)?;
    Ok(Outcome::Done)
}

fn heading(whose: &str, args: &Args, found: &Replay) -> String {
    let mut told = format!(
        "{whose}: {} pregnancies seen in the last {} months, their {} visits and every labour judged again by rules {RULES_VERSION}.",
        found.pregnancies, args.months, found.visits
    );
    if !args.set.is_empty() {
        let tried: Vec<String> = args.set.iter().map(ToString::to_string).collect();
        told = format!("{told}\nTried, not saved: {}.", tried.join(", "));
    }
    if !found.versions.is_empty() {
        let versions: Vec<&str> = found.versions.iter().map(String::as_str).collect();
        told = format!("{told}\nStored flags are by rules {}.", versions.join(", "));
    }
    told
}

fn foot(found: &Replay, tried: bool) -> String {
    format!(
        "{}{} of {} pregnancies differ from what is stored: rules or settings changed since, or an entry came late or was put right.",
        if tried {
            "With the settings as saved "
        } else {
            ""
        },
        found.differs_as_saved,
        found.pregnancies
    )
}
