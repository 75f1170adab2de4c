//! The program from outside, as somebody at a shell meets it.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use std::io::{Read as _, Write as _};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Output, Stdio};
use std::time::{Duration, Instant};

const GOOD: &str = r#"{"case":"a","on":"2026-09-10T09:00:00Z","dating":{"lmp":"2026-01-01"},"visits":[{"at":"2026-09-10T09:00:00Z","palpation":{"fundus":"hard-round","left":"long-smooth","right":"small-lumps","front":"nothing","lower":"soft-irregular"}}]}"#;

#[test]
fn every_command_has_help_with_an_example() {
    for command in [
        vec!["demo"],
        vec!["serve"],
        vec!["staff"],
        vec!["staff", "add"],
        vec!["staff", "list"],
        vec!["staff", "reset"],
        vec!["staff", "stop"],
        vec!["assess"],
        vec!["replay"],
        vec!["report"],
        vec!["check"],
        vec![],
    ] {
        let answer = brimline(
            &command
                .iter()
                .chain(&["--help"])
                .copied()
                .collect::<Vec<_>>(),
        );
        assert_eq!(answer.code, 0, "{command:?}: {}", answer.err);
        assert!(
            answer.out.contains("Example"),
            "{command:?} shows no example:\n{}",
            answer.out
        );
    }
}

#[test]
fn a_wrong_command_line_is_two_and_never_one() {
    for wrong in [
        &["no-such-command"][..],
        &[],
        &["assess"],
        &["check"],
        &["staff", "add", "--role", "queen"],
        &["replay", "--data", "x", "--set", "colour=blue"],
        &[
            "replay",
            "--data",
            "x",
            "--set",
            "fundal_height_method=feet",
        ],
        &["replay", "--data", "x", "--months", "0"],
        &["demo", "--listen", "nonsense"],
        &["serve", "--data", "x", "--tls-cert", "only-one.pem"],
    ] {
        assert_eq!(brimline(wrong).code, 2, "{wrong:?}");
    }
}

#[test]
fn failed_work_is_one_and_says_in_one_line_what_to_do() {
    let folder = tempfile::tempdir().unwrap();
    let nowhere = folder.path().join("nowhere").display().to_string();
    let out = folder.path().join("out").display().to_string();
    for (failing, says) in [
        (&["assess", "no-such-file.jsonl"][..], "check the name"),
        (&["check", "--data", &nowhere], "brimline serve"),
        (&["replay", "--data", &nowhere], "brimline serve"),
        (
            &[
                "report", "--data", &nowhere, "--month", "2026-10", "--out", &out,
            ],
            "",
        ),
        (&["staff", "list", "--data", &nowhere], "brimline serve"),
        (&["assess", "-", "--log", "brimline=loud"], "filter"),
    ] {
        let answer = brimline(failing);
        assert_eq!(answer.code, 1, "{failing:?}: {}", answer.err);
        assert_eq!(
            answer.err.trim().lines().count(),
            1,
            "{failing:?}: {}",
            answer.err
        );
        assert!(answer.err.contains(says), "{failing:?}: {}", answer.err);
        assert!(
            !Path::new(&nowhere).exists(),
            "{failing:?} made the folder it was asked about"
        );
    }
}

#[test]
fn assess_answers_every_line_and_a_broken_one_does_not_spoil_the_rest() {
    let unknown = GOOD.replace(r#""case":"a""#, r#""case":"b","colour":"blue""#);
    let lines = format!(
        "{GOOD}\n{unknown}\n\n{{not json\n{}\n",
        GOOD.replace(r#""a""#, r#""d""#)
    );
    let answer = fed(&["assess", "-"], lines.as_bytes());
    assert_eq!(answer.code, 1);
    let results: Vec<serde_json::Value> = answer
        .out
        .lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect();
    assert_eq!(results.len(), 4, "{}", answer.out);
    assert_eq!(results[0]["palpation"]["presentation"], "breech");
    assert_eq!(results[0]["gestation"]["text"], "36w+0d");
    assert!(results[1]["error"].as_str().unwrap().contains("colour"));
    assert!(results[2]["error"].is_string() && results[2]["case"].is_null());
    assert!(results[3]["case"] == "d" && results[3]["error"].is_null());
    assert!(
        answer.err.contains("2 cases could not be read"),
        "{}",
        answer.err
    );
    assert_eq!(
        answer.err.trim().lines().count(),
        1,
        "progress in a pipe: {}",
        answer.err
    );
}

#[test]
fn assess_explains_itself_when_asked_also_by_a_variable() {
    let asked = fed(&["assess", "-", "--explain"], GOOD.as_bytes());
    assert!(
        asked.code == 0 && asked.out.contains(r#""explain":"#),
        "{}",
        asked.err
    );
    let plain = fed(&["assess", "-"], GOOD.as_bytes());
    assert!(plain.code == 0 && !plain.out.contains(r#""explain":"#));
    let mut command = program(&["assess", "-"]);
    let by_variable = finished(command.env("BRIMLINE_EXPLAIN", "true"), GOOD.as_bytes());
    assert_eq!(asked.out, by_variable.out);
}

#[test]
fn whoever_closes_the_pipe_has_seen_enough() {
    let many = format!("{GOOD}\n").repeat(20_000);
    let mut child = program(&["assess", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut input = child.stdin.take().unwrap();
    let writer = std::thread::spawn(move || {
        let _ = input.write_all(many.as_bytes());
    });
    let mut first = [0; 64];
    child.stdout.take().unwrap().read_exact(&mut first).unwrap();
    writer.join().unwrap();
    let mut said = String::new();
    child
        .stderr
        .take()
        .unwrap()
        .read_to_string(&mut said)
        .unwrap();
    assert_eq!(child.wait().unwrap().code(), Some(0), "{said}");
    assert_eq!(said, "");
}

#[test]
fn accounts_are_opened_changed_and_stopped_from_the_shell() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("data").display().to_string();
    let add = |sign_in: &str, role: &str, password: &str| {
        fed(
            &[
                "staff",
                "add",
                "--data",
                &data,
                "--sign-in",
                sign_in,
                "--name",
                "Petra Ondriche",
                "--role",
                role,
            ],
            password.as_bytes(),
        )
    };
    {
        let server = Served::start(&["serve", "--data", &data, "--listen", "127.0.0.1:0"]);
        assert!(
            server.said.contains("brimline staff add"),
            "an empty registry does not say how to begin: {}",
            server.said
        );
    }
    let empty = add("petra", "keeper", "");
    assert!(
        empty.code == 1 && empty.err.contains("no password"),
        "{}",
        empty.err
    );
    let short = add("petra", "keeper", "short\n");
    assert_eq!(short.code, 1, "a short password was taken: {}", short.out);
    let opened = add("petra", "keeper", "four plain words here\n");
    assert_eq!(opened.code, 0, "{}", opened.err);
    assert!(!opened.out.contains("four plain") && !opened.err.contains("four plain"));
    let twice = add("petra", "keeper", "four plain words here\n");
    assert_eq!(twice.code, 1, "the same sign-in name was taken twice");
    let postless = add("imke", "nurse", "four plain words here\n");
    assert!(postless.code != 0, "a nurse without a post");
    let list = brimline(&["staff", "list", "--data", &data]);
    assert!(
        list.code == 0 && list.out.contains("petra\tPetra Ondriche\tkeeper"),
        "{}",
        list.out
    );
    let reset = fed(
        &["staff", "reset", "--data", &data, "--sign-in", "petra"],
        b"other plain words here\n",
    );
    assert_eq!(reset.code, 0, "{}", reset.err);
    let last = brimline(&["staff", "stop", "--data", &data, "--sign-in", "petra"]);
    assert_eq!(last.code, 1, "the last keeper was stopped");
    assert_eq!(add("second", "keeper", "four plain words here\n").code, 0);
    let stopped = brimline(&["staff", "stop", "--data", &data, "--sign-in", "petra"]);
    assert_eq!(stopped.code, 0, "{}", stopped.err);
    assert_eq!(
        brimline(&["staff", "stop", "--data", &data, "--sign-in", "nobody"]).code,
        1
    );
    let whole = brimline(&["check", "--data", &data]);
    assert_eq!(whole.code, 0, "{} {}", whole.out, whole.err);
}

#[test]
fn a_password_is_never_taken_from_an_argument() {
    let help = brimline(&["staff", "add", "--help"]).out;
    assert!(!help.contains("--password"), "{help}");
}

#[test]
fn the_demo_serves_this_machine_only() {
    for far in ["0.0.0.0:8731", "192.0.2.1:8731", "[::]:8731"] {
        let answer = brimline(&["demo", "--listen", far]);
        assert_eq!(answer.code, 1, "{far}");
        assert!(answer.err.contains("127.0.0.1"), "{}", answer.err);
    }
}

#[test]
fn a_kept_demo_can_be_checked_and_reported_and_is_not_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("kept").display().to_string();
    {
        let demo = Served::start(&["demo", "--listen", "127.0.0.1:0", "--keep", &data]);
        for name in ["nurse", "midwife", "district", "keeper"] {
            assert!(
                demo.said.contains(name),
                "{name} is not told: {}",
                demo.said
            );
        }
        assert!(demo.get("/health").contains(r#"{"status":"ok"}"#));
        assert!(
            demo.get("/sign-in")
                .contains("<strong>Practice.</strong> Invented")
        );
        let (code, logged) = demo.stop();
        assert_eq!(code, Some(0), "SIGTERM is no failure");
        assert!(!logged.contains("refused an invented entry"), "{logged}");
    }
    let whole = brimline(&["check", "--data", &data]);
    assert_eq!(whole.code, 0, "{} {}", whole.out, whole.err);
    let database = format!("{data}/registry.db");
    let before = std::fs::read(&database).unwrap();
    let replayed = brimline(&["replay", "--data", &data, "--post", "QF", "--months", "3"]);
    assert_eq!(replayed.code, 0, "{}", replayed.err);
    assert!(
        replayed.err.is_empty(),
        "progress in a pipe: {}",
        replayed.err
    );
    assert!(replayed.out.contains("born breech"), "{}", replayed.out);
    let elsewhere = brimline(&["replay", "--data", &data, "--post", "Nowhere"]);
    assert!(
        elsewhere.code == 1 && elsewhere.err.contains("Quern Ford"),
        "{}",
        elsewhere.err
    );
    assert!(std::fs::read(&database).unwrap() == before, "replay wrote");
    assert_eq!(
        std::fs::read_dir(&data).unwrap().count(),
        1,
        "replay left a file behind"
    );
    let again = brimline(&["demo", "--listen", "127.0.0.1:0", "--keep", &data]);
    assert!(
        again.code == 1 && again.err.contains("already"),
        "{}",
        again.err
    );
    let out = folder.path().join("out").display().to_string();
    for month in ["2026-13", "October", "1999-01"] {
        let refused = brimline(&["report", "--data", &data, "--month", month, "--out", &out]);
        assert!(
            [1, 2].contains(&refused.code) || month == "1999-01",
            "{month}: {}",
            refused.err
        );
        assert!(!refused.err.contains("panicked"), "{}", refused.err);
    }
}

/// How a command ended.
struct Answer {
    code: i32,
    out: String,
    err: String,
}

fn program(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_brimline"));
    for (name, _) in std::env::vars().filter(|(name, _)| name.starts_with("BRIMLINE_")) {
        command.env_remove(name);
    }
    command.args(arguments);
    command
}

fn brimline(arguments: &[&str]) -> Answer {
    fed(arguments, b"")
}

fn fed(arguments: &[&str], input: &[u8]) -> Answer {
    finished(&mut program(arguments), input)
}

fn finished(command: &mut Command, input: &[u8]) -> Answer {
    let mut child = command
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // A command that reads nothing closes its end at once.
    let _ = child.stdin.take().unwrap().write_all(input);
    let Output {
        status,
        stdout,
        stderr,
    } = child.wait_with_output().unwrap();
    let answer = Answer {
        code: status.code().unwrap(),
        out: String::from_utf8(stdout).unwrap(),
        err: String::from_utf8(stderr).unwrap(),
    };
    assert!(!answer.err.contains("panicked"), "{}", answer.err);
    answer
}

/// A server of ours; ended when dropped.
struct Served {
    child: Child,
    said: String,
    address: String,
}

impl Served {
    fn start(arguments: &[&str]) -> Self {
        let mut child = program(arguments)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut out = child.stdout.take().unwrap();
        let mut said = String::new();
        let began = Instant::now();
        let mut bytes = [0; 1024];
        // Everything is said before the address.
        while !said.contains("http") || !said.ends_with('\n') {
            assert!(
                began.elapsed() < Duration::from_mins(5),
                "the server said only {said:?}"
            );
            let read = out.read(&mut bytes).unwrap();
            assert!(
                read > 0,
                "the server ended: {said:?} {}",
                Self::complaint(&mut child)
            );
            said.push_str(&String::from_utf8_lossy(&bytes[..read]));
        }
        let address = said
            .split("http://")
            .nth(1)
            .unwrap()
            .split(['/', '\n', ' '])
            .next()
            .unwrap()
            .to_owned();
        Self {
            child,
            said,
            address,
        }
    }

    fn complaint(child: &mut Child) -> String {
        let mut said = String::new();
        let _ = child
            .stderr
            .take()
            .map(|mut err| err.read_to_string(&mut said));
        said
    }

    fn get(&self, path: &str) -> String {
        let mut stream = TcpStream::connect(&self.address).unwrap();
        write!(
            stream,
            "GET {path} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n",
            self.address
        )
        .unwrap();
        let mut answer = String::new();
        stream.read_to_string(&mut answer).unwrap();
        answer
    }

    /// Asks it to end, as a service manager would, and waits.
    fn stop(mut self) -> (Option<i32>, String) {
        let asked = Command::new("kill")
            .args(["-TERM", &self.child.id().to_string()])
            .status()
            .unwrap();
        assert!(asked.success());
        let logged = Self::complaint(&mut self.child);
        (self.child.wait().unwrap().code(), logged)
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
