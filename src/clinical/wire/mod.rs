//! Cases as JSON lines in, judgements as JSON lines out (clinical reference, `assess`).
//!
//! Pure: the same line gives the same answer. One line is held at a time, so that a million of them need no more memory than one.

mod explain;
mod fields;
mod instant;
mod json;
mod read;
mod records;
mod write;

use super::assess::judge;
use super::picture::Picture;
use std::io::{self, BufRead, Read, Write};

pub use read::Fault;

/// No case of a person is longer; what is longer is answered with an error and not held in memory.
const LONGEST_LINE: usize = 4 * 1024 * 1024;

/// What was read from one line, or why it was refused.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// The name that the line gives its case.
    pub name: String,
    /// What it tells.
    pub case: super::Case,
}

/// A line that was refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{fault}")]
pub struct Refused {
    /// The name of the case, where it could be read.
    pub name: Option<String>,
    /// Where and what is wrong.
    pub fault: Fault,
}

/// Reads one line strictly: unknown keys, keys given twice, wrong kinds and values out of range are refused.
///
/// # Errors
/// Names the path of one fault, and the case where its name could be read.
pub fn read_case(line: &[u8]) -> Result<Told, Refused> {
    let refused = |fault| Refused { name: None, fault };
    let text = std::str::from_utf8(line)
        .map_err(|_| refused(Fault::new("line", "not JSON: other bytes than UTF-8")))?;
    let node = json::parse(text).map_err(|broken| refused(broken.into()))?;
    read::case(&node)
}

/// Judges every line and writes one answer a line, in the same order; lines of white space are skipped.
///
/// Answers how many lines were refused.
///
/// # Errors
/// Only what reading and writing themselves report.
pub fn judge_lines(
    mut lines: impl BufRead,
    mut out: impl Write,
    explain: bool,
) -> io::Result<usize> {
    let (mut line, mut answer) = (Vec::new(), Vec::with_capacity(4096));
    let mut refused = 0;
    loop {
        line.clear();
        let limit = LONGEST_LINE as u64 + 1;
        let read = lines.by_ref().take(limit).read_until(b'\n', &mut line)?;
        if read == 0 {
            return Ok(refused);
        }
        let complete = line.last() == Some(&b'\n');
        if complete {
            line.pop();
        }
        if line.len() > LONGEST_LINE {
            if !complete {
                skip_line(&mut lines)?;
            }
            line.clear();
            line.push(b'!');
        } else if line.iter().all(|byte| matches!(byte, b' ' | b'\t' | b'\r')) {
            continue;
        }
        answer.clear();
        refused += usize::from(!judge_line(&line, explain, &mut answer));
        answer.push(b'\n');
        out.write_all(&answer)?;
    }
}

/// Reads past the rest of a line without keeping it.
fn skip_line(lines: &mut impl BufRead) -> io::Result<()> {
    loop {
        let waiting = lines.fill_buf()?;
        let (used, done) = match waiting.iter().position(|byte| *byte == b'\n') {
            Some(at) => (at + 1, true),
            None => (waiting.len(), waiting.is_empty()),
        };
        lines.consume(used);
        if done {
            return Ok(());
        }
    }
}

/// Appends the answer to one line, without a line feed; false when the line was refused.
pub fn judge_line(line: &[u8], explain: bool, answer: &mut Vec<u8>) -> bool {
    match read_case(line) {
        Ok(told) => {
            let seen = Picture::of(&told.case, told.case.on);
            let because = explain.then(|| explain::explain(&seen));
            let assessment = judge(seen);
            write::assessment(answer, &told.name, &assessment, because.as_deref());
            true
        }
        Err(refused) => {
            write::refused(answer, &refused);
            false
        }
    }
}
