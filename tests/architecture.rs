//! Holds the source tree to the direction that DEVELOPERS.md draws.
//!
//! A layer may name only the layers listed beside it and, of the outside crates that are kept to
//! one layer, only its own. Two rooms of one layer never name each other.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// A top-level module of `src`, the crate modules it may name, the outside crates that only it may name.
type Layer = (
    &'static str,
    &'static [&'static str],
    &'static [&'static str],
);

const LAYERS: &[Layer] = &[
    ("clinical", &[], &[]),
    (
        "registry",
        &["clinical"],
        &["diesel", "diesel_migrations", "argon2", "libsqlite3_sys"],
    ),
    (
        "reporting",
        &["clinical", "registry"],
        &["polars", "polars_core", "parquet", "rust_xlsxwriter", "csv"],
    ),
    (
        "web",
        &["clinical", "registry", "reporting", "settings"],
        &["actix_web", "askama", "flate2"],
    ),
    (
        "cli",
        &[
            "clinical",
            "registry",
            "reporting",
            "web",
            "settings",
            "telemetry",
        ],
        &["clap", "rpassword"],
    ),
    ("settings", &["registry"], &[]),
    ("telemetry", &[], &["tracing_subscriber"]),
];

/// Outside crates that `clinical` may name; it knows nothing else of the world.
const CLINICAL_MAY_NAME: &[&str] = &["chrono", "serde", "serde_json", "thiserror", "std", "core"];

/// Longer files have so far always wanted splitting.
const LONGEST_FILE: usize = 400;

#[test]
fn every_layer_names_only_what_it_may() {
    let mut faults = Vec::new();
    for file in source_files() {
        let Some((layer, may_name, _)) = layer_of(&file) else {
            continue;
        };
        for named in names_after(&file.code, "crate::") {
            if named != *layer && !may_name.contains(&named.as_str()) {
                faults.push(format!(
                    "{}: `{layer}` names `crate::{named}`",
                    file.path.display()
                ));
            }
        }
        for (owner, _, kept) in LAYERS {
            for outside in kept.iter().filter(|_| owner != layer) {
                if names_crate(&file.code, outside) {
                    faults.push(format!(
                        "{}: only `{owner}` may name `{outside}`",
                        file.path.display()
                    ));
                }
            }
        }
    }
    assert!(faults.is_empty(), "\n{}\n", faults.join("\n"));
}

#[test]
fn the_clinical_layer_knows_nothing_but_dates_and_text() {
    let mut faults = Vec::new();
    for file in source_files()
        .iter()
        .filter(|file| file.top().as_deref() == Some("clinical"))
    {
        for line in file.code.lines().map(str::trim_start) {
            let Some(rest) = line.strip_prefix("use ") else {
                continue;
            };
            let first = leading_name(rest.trim_start_matches("::"));
            let inside = ["crate", "self", "super"].contains(&first.as_str());
            let local = first.chars().next().is_some_and(char::is_uppercase);
            if !inside && !local && !CLINICAL_MAY_NAME.contains(&first.as_str()) {
                faults.push(format!("{}: names `{first}`", file.path.display()));
            }
        }
        for outside in ["Utc::now", "Local::now", "std::fs", "std::net"] {
            if file.code.contains(outside) {
                faults.push(format!("{}: names `{outside}`", file.path.display()));
            }
        }
    }
    assert!(faults.is_empty(), "\n{}\n", faults.join("\n"));
}

#[test]
fn every_top_level_module_is_a_known_layer() {
    let known: BTreeSet<_> = LAYERS
        .iter()
        .map(|(layer, ..)| (*layer).to_owned())
        .collect();
    let found: BTreeSet<_> = source_files().iter().filter_map(Source::top).collect();
    assert!(
        found.is_subset(&known),
        "unknown layers: {:?}",
        found.difference(&known)
    );
}

#[test]
fn no_two_rooms_of_a_layer_name_each_other() {
    let mut names: BTreeMap<(String, String), BTreeSet<String>> = BTreeMap::new();
    let files = source_files();
    let rooms: BTreeSet<(String, String)> = files.iter().filter_map(Source::room).collect();
    for file in &files {
        let Some((layer, room)) = file.room() else {
            continue;
        };
        let mut named = names_after(&file.code, &format!("crate::{layer}::"));
        if file.depth() == 2 {
            named.extend(names_after(&file.code, "super::"));
        } else {
            named.extend(names_after(&file.code, "super::super::"));
        }
        for other in named {
            if other != room && rooms.contains(&(layer.clone(), other.clone())) {
                names
                    .entry((layer.clone(), room.clone()))
                    .or_default()
                    .insert(other);
            }
        }
    }
    let mut faults = Vec::new();
    for ((layer, room), others) in &names {
        for other in others.iter().filter(|other| *other > room) {
            let back = names.get(&(layer.clone(), other.clone()));
            if back.is_some_and(|back| back.contains(room)) {
                faults.push(format!("{layer}: `{room}` and `{other}` name each other"));
            }
        }
    }
    assert!(faults.is_empty(), "\n{}\n", faults.join("\n"));
}

#[test]
fn every_file_says_what_it_is_for_and_stays_readable() {
    let mut faults = Vec::new();
    for file in source_files() {
        if !file.text.starts_with("//!") {
            faults.push(format!(
                "{}: no module comment on its first line",
                file.path.display()
            ));
        }
        if file.text.lines().count() > LONGEST_FILE {
            faults.push(format!(
                "{}: over {LONGEST_FILE} lines",
                file.path.display()
            ));
        }
    }
    assert!(faults.is_empty(), "\n{}\n", faults.join("\n"));
}

struct Source {
    path: PathBuf,
    text: String,
    code: String,
}

impl Source {
    /// The top-level module the file belongs to; `None` for `main.rs` and `lib.rs`.
    fn top(&self) -> Option<String> {
        let first = self.path.iter().next()?.to_str()?;
        let name = first.strip_suffix(".rs").unwrap_or(first);
        (!["main", "lib"].contains(&name)).then(|| name.to_owned())
    }

    /// Layer and room: `registry/visits.rs` and `registry/visits/stale.rs` are the room `visits`.
    fn room(&self) -> Option<(String, String)> {
        let parts: Vec<_> = self
            .path
            .iter()
            .map(|part| part.to_string_lossy())
            .collect();
        let room = parts.get(1)?.trim_end_matches(".rs").to_owned();
        (room != "mod").then(|| (parts[0].to_string(), room))
    }

    fn depth(&self) -> usize {
        self.path.iter().count()
    }
}

fn layer_of(file: &Source) -> Option<&'static Layer> {
    let top = file.top()?;
    LAYERS.iter().find(|(layer, ..)| *layer == top)
}

fn names_crate(code: &str, outside: &str) -> bool {
    code.match_indices(&format!("{outside}::")).any(|(at, _)| {
        let before = code[..at].chars().next_back();
        !before.is_some_and(|it| it.is_alphanumeric() || it == '_' || it == ':')
    })
}

fn source_files() -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut pending = vec![root.clone()];
    let mut files = Vec::new();
    while let Some(folder) = pending.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                pending.push(path);
            } else if path.extension().is_some_and(|it| it == "rs") {
                let text = fs::read_to_string(&path).unwrap();
                let code = without_comments(&text);
                files.push(Source {
                    path: path.strip_prefix(&root).unwrap().to_owned(),
                    text,
                    code,
                });
            }
        }
    }
    files.sort_by(|a, b| a.path.cmp(&b.path));
    assert!(files.len() > 5, "the source tree was not found");
    files
}

fn without_comments(text: &str) -> String {
    let bare = |line: &str| line.split("//").next().unwrap_or_default().to_owned();
    text.lines().map(bare).collect::<Vec<_>>().join("\n")
}

/// The identifiers that directly follow `prefix`, also inside one brace: `crate::{a, b::c}`.
fn names_after(code: &str, prefix: &str) -> Vec<String> {
    let mut names = Vec::new();
    for (at, _) in code.match_indices(prefix) {
        let rest = &code[at + prefix.len()..];
        match rest.strip_prefix('{') {
            None => names.push(leading_name(rest)),
            Some(group) => {
                let mut depth = 0;
                let mut expect_name = true;
                for (index, character) in group.char_indices() {
                    match character {
                        '{' => depth += 1,
                        '}' if depth == 0 => break,
                        '}' => depth -= 1,
                        ',' if depth == 0 => expect_name = true,
                        _ if expect_name && !character.is_whitespace() => {
                            names.push(leading_name(&group[index..]));
                            expect_name = false;
                        }
                        _ => {}
                    }
                }
            }
        }
    }
    names
}

fn leading_name(text: &str) -> String {
    text.chars()
        .take_while(|it| it.is_alphanumeric() || *it == '_')
        .collect()
}
