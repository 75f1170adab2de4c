//! How a command speaks: data to standard output, all else to standard error; passwords never from an argument.

use std::io::{self, BufRead, IsTerminal, Read, Write, stderr, stdin, stdout};
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};

/// Writes one line of data. A closed pipe comes back as an error that `main` takes for success.
pub(super) fn say(line: &str) -> io::Result<()> {
    let mut out = stdout().lock();
    writeln!(out, "{line}")?;
    out.flush()
}

/// Tells the person something that is no data. Nothing can be done when even this fails.
pub(super) fn tell(line: &str) {
    let _ = writeln!(stderr().lock(), "{line}");
}

/// A new password: asked twice on a terminal, else the first line of standard input.
pub(super) fn new_password() -> Result<String> {
    if stdin().is_terminal() {
        let first = rpassword::prompt_password("New password: ")
            .context("cannot read a password from this terminal")?;
        let again = rpassword::prompt_password("The same again: ")
            .context("cannot read a password from this terminal")?;
        if first != again {
            bail!("the two passwords differ; nothing was changed, try again");
        }
        return Ok(first);
    }
    first_line(stdin().lock())
}

fn first_line(from: impl BufRead) -> Result<String> {
    // Bounded, so that a wrong file on standard input does not fill the memory.
    let mut line = Vec::new();
    from.take(64 * 1024)
        .read_until(b'\n', &mut line)
        .context("cannot read the password from standard input")?;
    let line = String::from_utf8(line)
        .context("the password on standard input is no UTF-8 text; nothing was changed")?;
    let password = line.trim_end_matches(['\n', '\r']);
    if password.is_empty() {
        bail!("no password on standard input; pipe it in, or run the command on a terminal");
    }
    Ok(password.to_owned())
}

/// A line that moves on a terminal, and nothing in a pipe.
pub(super) struct Progress {
    what: &'static str,
    shown: bool,
    next: Instant,
}

impl Progress {
    /// `beside_output`: the command also writes data; then a line between it on one terminal would only disturb.
    pub(super) fn of(what: &'static str, beside_output: bool) -> Self {
        Self {
            what,
            shown: stderr().is_terminal() && !(beside_output && stdout().is_terminal()),
            next: Instant::now() + Duration::from_millis(400),
        }
    }

    /// Says how far the work has come, at most five times a second.
    pub(super) fn at(&mut self, done: u64, of: Option<u64>) {
        let now = Instant::now();
        if !self.shown || now < self.next {
            return;
        }
        self.next = now + Duration::from_millis(200);
        let far = match of {
            Some(all) if all > 0 => format!("{} %", done.min(all) * 100 / all),
            _ => format!("{} MiB", done / 1_048_576),
        };
        let _ = write!(stderr().lock(), "\r{} {far} ", self.what);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if self.shown {
            let _ = write!(stderr().lock(), "\r\u{1b}[K");
        }
    }
}

/// A reader that tells its progress.
pub(super) struct Watched<R> {
    from: R,
    done: u64,
    of: Option<u64>,
    progress: Progress,
}

impl<R> Watched<R> {
    pub(super) fn new(from: R, of: Option<u64>, progress: Progress) -> Self {
        Self {
            from,
            done: 0,
            of,
            progress,
        }
    }
}

impl<R: Read> Read for Watched<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let read = self.from.read(into)?;
        self.done += read as u64;
        self.progress.at(self.done, self.of);
        Ok(read)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]
    use super::first_line;

    #[test]
    fn a_password_is_one_line_without_its_line_end() {
        assert_eq!(
            first_line(&b"three small words\r\nnext"[..]).unwrap(),
            "three small words"
        );
        assert_eq!(
            first_line(&b" spaces count "[..]).unwrap(),
            " spaces count "
        );
    }

    #[test]
    fn nothing_on_standard_input_is_no_password() {
        for nothing in [&b""[..], b"\n", b"\r\n"] {
            assert!(first_line(nothing).is_err());
        }
        assert!(first_line(&b"\xff\xfe\n"[..]).is_err());
    }
}
