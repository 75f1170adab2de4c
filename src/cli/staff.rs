//! `brimline staff`: accounts from the shell.

use anyhow::{Context, Result};
use clap::builder::PossibleValuesParser;
use clap::builder::TypedValueParser as _;

use super::data::Data;
use super::terminal::{new_password, say};
use super::{Outcome, clock};
use crate::registry::passwords::{HashedPassword, PasswordCost};
use crate::registry::staff::{self, NewStaff, Staff};
use crate::registry::{By, Registry, Role, posts};

#[derive(clap::Subcommand)]
pub(super) enum Command {
    /// Open an account; its first password is asked for
    #[command(
        after_help = "On a terminal the password is asked for twice; in a pipe it is the first line of standard input.\n\n\
        Examples:\n  brimline staff add --data /var/lib/brimline --sign-in petra --name \"Petra Ondriche\" --role keeper\n  \
        brimline staff add --data /var/lib/brimline --sign-in imke --name \"Imke Torvalo\" --role nurse --post \"Quern Ford\""
    )]
    Add(Add),
    /// List all accounts, one a line: sign-in name, name, role, post, state
    #[command(after_help = "Example:\n  brimline staff list --data /var/lib/brimline")]
    List(Data),
    /// Set a new password; all sessions of the person end
    #[command(
        after_help = "Example:\n  brimline staff reset --data /var/lib/brimline --sign-in imke"
    )]
    Reset(One),
    /// Stop an account; its sessions end, what it wrote keeps its name
    #[command(
        after_help = "Example:\n  brimline staff stop --data /var/lib/brimline --sign-in imke"
    )]
    Stop(One),
}

#[derive(clap::Args)]
pub(super) struct Add {
    #[command(flatten)]
    data: Data,
    /// What the person types to sign in: small letters, figures, points, dashes
    #[arg(long, value_name = "NAME", env = "BRIMLINE_SIGN_IN")]
    sign_in: String,
    /// The full name that others read
    #[arg(long, value_name = "NAME", env = "BRIMLINE_NAME")]
    name: String,
    /// What the person may do
    #[arg(long, env = "BRIMLINE_ROLE", value_parser = PossibleValuesParser::new(Role::ALL.iter().map(|role| role.code())).try_map(|code| code.parse::<Role>()))]
    role: Role,
    /// Name or letters of the post, for a nurse or a midwife
    #[arg(long, value_name = "NAME", env = "BRIMLINE_POST")]
    post: Option<String>,
}

#[derive(clap::Args)]
pub(super) struct One {
    #[command(flatten)]
    data: Data,
    /// What the person types to sign in
    #[arg(long, value_name = "NAME", env = "BRIMLINE_SIGN_IN")]
    sign_in: String,
}

pub(super) fn run(command: &Command) -> Result<Outcome> {
    match command {
        Command::Add(args) => add(args),
        Command::List(data) => list(&data.open_existing()?),
        Command::Reset(args) => reset(args),
        Command::Stop(args) => stop(args),
    }
}

fn add(args: &Add) -> Result<Outcome> {
    let registry = args.data.open_existing()?;
    let post = args
        .post
        .as_deref()
        .map(|named| post(&registry, named))
        .transpose()?;
    let new = NewStaff {
        sign_in: args.sign_in.clone(),
        name: args.name.clone(),
        role: args.role,
        post,
        password: hashed()?,
    };
    registry
        .write(&shell(), clock::now(), |change| staff::add(change, &new))
        .context("no account was opened")?;
    say(&format!(
        "{} can sign in now.",
        new.sign_in.trim().to_lowercase()
    ))?;
    Ok(Outcome::Done)
}

fn list(registry: &Registry) -> Result<Outcome> {
    for account in registry.read(|db| staff::list(db, clock::now()))? {
        let Staff {
            sign_in,
            name,
            role,
            stopped_at,
            ..
        } = &account.staff;
        let state = if stopped_at.is_some() {
            "stopped"
        } else {
            "open"
        };
        let post = account.post.as_deref().unwrap_or("-");
        say(&[sign_in, name, role.code(), post, state].join("\t"))?;
    }
    Ok(Outcome::Done)
}

fn reset(args: &One) -> Result<Outcome> {
    let registry = args.data.open_existing()?;
    let person = person(&registry, &args.sign_in)?;
    let password = hashed()?;
    registry
        .write(&shell(), clock::now(), |change| {
            staff::reset_password(change, person.id, &password)
        })
        .context("the password was not changed")?;
    say(&format!(
        "{} has a new password; all sessions have ended.",
        person.sign_in
    ))?;
    Ok(Outcome::Done)
}

fn stop(args: &One) -> Result<Outcome> {
    let registry = args.data.open_existing()?;
    let person = person(&registry, &args.sign_in)?;
    registry
        .write(&shell(), clock::now(), |change| {
            staff::stop(change, person.id)
        })
        .context("the account was not stopped")?;
    say(&format!("{} cannot sign in any more.", person.sign_in))?;
    Ok(Outcome::Done)
}

/// In the trail this name tells that no keeper did it on a page.
fn shell() -> By {
    By::program("brimline staff")
}

fn hashed() -> Result<HashedPassword> {
    HashedPassword::of(&new_password()?, PasswordCost::default())
        .context("this password cannot be taken")
}

fn person(registry: &Registry, sign_in: &str) -> Result<Staff> {
    registry
        .read(|db| staff::named(db, sign_in))
        .with_context(|| format!("nobody signs in as “{sign_in}”; see: brimline staff list"))
}

fn post(registry: &Registry, named: &str) -> Result<crate::registry::PostId> {
    let wanted = named.trim().to_lowercase();
    let all = registry.read(posts::list)?;
    let found = all
        .iter()
        .find(|post| post.name.to_lowercase() == wanted || post.code.to_lowercase() == wanted);
    found.map(|post| post.id).with_context(|| {
        let names: Vec<_> = all.iter().map(|post| post.name.as_str()).collect();
        match names.as_slice() {
            [] => "there is no post yet; the keeper opens posts on the page Posts".to_owned(),
            _ => format!(
                "there is no post “{}”; the posts are: {}",
                named.trim(),
                names.join(", ")
            ),
        }
    })
}
