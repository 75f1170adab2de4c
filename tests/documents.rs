//! Every path, address, command, flag and test that the papers name exists.
//!
//! A recipe rots unseen; here it fails.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

const PAPERS: &[&str] = &["README.md", "DEVELOPERS.md", "seed-demo/README.md"];
/// What stands at the top of the tree; a word in code type that begins with one of these is a path.
const TOPS: &[&str] = &[
    "src/",
    "tests/",
    "templates/",
    "static/",
    "migrations/",
    "seed-demo/",
    "benches/",
    ".ci/",
];
const FILES: &[&str] = &[
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "Cargo.toml",
    "Cargo.lock",
    ".clippy.toml",
    ".gitignore",
];

#[test]
fn every_path_in_the_papers_exists() {
    let mut faults = Vec::new();
    let mut found = 0;
    for (paper, said) in code_of_all() {
        for word in said
            .split_whitespace()
            .map(|word| word.trim_matches([':', ',', ';', '.']))
        {
            let beside = root().join(&paper).parent().unwrap().join(word);
            let of_the_tree = TOPS.iter().any(|top| word.starts_with(top)) || FILES.contains(&word);
            let of_the_folder = paper.contains('/') && word.rsplit('.').next() == Some("txt");
            if of_the_tree || of_the_folder {
                found += 1;
                if !(matches_something(&root().join(word)) || of_the_folder && beside.exists()) {
                    faults.push(format!("{paper}: {word}"));
                }
            }
        }
    }
    assert!(found > 15, "only {found} paths were found in the papers");
    assert!(
        faults.is_empty(),
        "named but not there:\n{}",
        faults.join("\n")
    );
}

#[test]
fn every_table_of_the_demo_is_named_in_its_paper() {
    let paper = fs::read_to_string(root().join("seed-demo/README.md")).unwrap();
    for entry in fs::read_dir(root().join("seed-demo")).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        assert!(
            name == "README.md" || paper.contains(&format!("`{name}`")),
            "{name} is not explained"
        );
    }
}

#[test]
fn every_address_in_the_papers_is_served() {
    let routes = fs::read_to_string(root().join("src/web/routes.rs")).unwrap();
    let mut found = 0;
    for (paper, said) in code_of_all() {
        let address = said.trim();
        if address.starts_with('/') && !address.starts_with("/var") && !address.contains(' ') {
            found += 1;
            assert!(
                routes.contains(&format!("\"{address}\"")),
                "{paper}: {address} is in no route"
            );
        }
    }
    assert!(found > 8, "only {found} addresses were found in the papers");
}

#[test]
fn every_command_and_flag_in_the_papers_is_known_to_the_program() {
    let mut tried = BTreeSet::new();
    for (paper, said) in code_of_all() {
        for line in said.lines() {
            let Some(words) = line
                .strip_prefix("cargo run --release -- ")
                .or_else(|| line.strip_prefix("brimline "))
            else {
                continue;
            };
            let words: Vec<_> = words.split_whitespace().collect();
            let commands: Vec<_> = words
                .iter()
                .take_while(|word| word.chars().all(|it| it.is_ascii_lowercase()))
                .copied()
                .collect();
            let help = help_of(&commands);
            for flag in words
                .iter()
                .filter(|word| word.starts_with("--") && **word != "--help")
            {
                assert!(
                    help.contains(*flag),
                    "{paper}: {} has no {flag}",
                    commands.join(" ")
                );
            }
            tried.insert(commands.join(" "));
        }
    }
    assert!(tried.len() > 5, "only {tried:?}");
}

#[test]
fn every_command_of_the_program_stands_in_the_readme() {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let help = help_of(&[]);
    let listed = help
        .lines()
        .skip_while(|line| !line.starts_with("Commands:"))
        .skip(1);
    let commands: Vec<_> = listed
        .take_while(|line| line.starts_with("  "))
        .filter_map(|line| line.split_whitespace().next())
        .collect();
    assert!(commands.len() > 4, "{help}");
    for command in commands.iter().filter(|command| **command != "help") {
        assert!(
            readme.contains(&format!("`brimline {command}`")),
            "README.md does not tell of {command}"
        );
    }
}

#[test]
fn every_test_that_a_recipe_runs_exists() {
    let names = rust_code();
    for (paper, said) in code_of_all() {
        let filter = said
            .strip_prefix("cargo test ")
            .filter(|words| !words.starts_with("--"));
        if let Some(filter) = filter {
            assert!(
                names.contains(&format!("fn {}", filter.trim())),
                "{paper}: no test begins with {filter}"
            );
        }
    }
}

#[test]
fn the_version_in_the_changes_is_that_of_the_program() {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let changes = readme.split("## Changes").nth(1).unwrap();
    assert!(
        changes
            .trim_start()
            .starts_with(&format!("Version {}", env!("CARGO_PKG_VERSION")))
    );
    let clinical = changes.find("### Clinical").unwrap();
    assert!(
        changes.find("\n### ").unwrap() <= clinical,
        "clinical changes stand first"
    );
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Paper and text of everything in code type, spans and blocks; a block that begins with `text` is a drawing.
fn code_of_all() -> Vec<(String, String)> {
    let mut all = Vec::new();
    for paper in PAPERS {
        let text = fs::read_to_string(root().join(paper)).unwrap();
        for (place, part) in text.split("```").enumerate() {
            if place % 2 == 1 {
                if let Some(block) = part.strip_prefix("sh\n") {
                    all.push(((*paper).to_owned(), block.to_owned()));
                }
                continue;
            }
            let spans = part.split('`').skip(1).step_by(2);
            all.extend(spans.map(|span| ((*paper).to_owned(), span.to_owned())));
        }
    }
    all
}

/// `src/clinical/flag/<category>.rs` stands for every file of that folder.
fn matches_something(path: &Path) -> bool {
    let text = path.to_string_lossy().into_owned();
    let Some((before, after)) = text.split_once('<') else {
        return path.exists();
    };
    let folder = PathBuf::from(before);
    let folder = if before.ends_with('/') {
        folder
    } else {
        folder.parent().unwrap().to_owned()
    };
    let ending = after.rsplit_once('>').map_or("", |it| it.1);
    let Ok(entries) = fs::read_dir(folder) else {
        return false;
    };
    entries.filter_map(Result::ok).any(|entry| {
        let path = entry.path();
        match ending.strip_prefix('/') {
            Some(inside) => path.join(inside).exists(),
            None => path.to_string_lossy().ends_with(ending),
        }
    })
}

fn help_of(commands: &[&str]) -> String {
    let answer = Command::new(env!("CARGO_BIN_EXE_brimline"))
        .args(commands)
        .arg("--help")
        .output()
        .unwrap();
    assert!(
        answer.status.success(),
        "brimline {} --help: {}",
        commands.join(" "),
        String::from_utf8_lossy(&answer.stderr)
    );
    String::from_utf8(answer.stdout).unwrap()
}

fn rust_code() -> String {
    let mut pending = vec![root().join("src"), root().join("tests")];
    let mut code = String::new();
    while let Some(folder) = pending.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                pending.push(path);
            } else if path.extension().is_some_and(|it| it == "rs") {
                code.push_str(&fs::read_to_string(path).unwrap());
            }
        }
    }
    code
}
