//! The browser of this machine, and one chromedriver that ends with its test.

use std::io::{BufRead, BufReader, Write as _};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

const CHROMIUM: [&str; 3] = ["chromium", "chromium-browser", "google-chrome"];

const MISSING: &str = "no chromium and chromedriver on this machine (Debian: apt-get install chromium chromium-driver)";

/// A chromedriver on a free port of this machine; its browsers end with it, also when a test panics.
pub(crate) struct Driver {
    pub(crate) address: String,
    pub(crate) chromium: &'static str,
    child: Child,
}

impl Driver {
    /// Starts it, or says on standard error that nothing is tried here.
    pub(crate) fn start() -> Option<Self> {
        let found = CHROMIUM.into_iter().find(|name| runs(name));
        let Some(chromium) = found.filter(|_| runs("chromedriver")) else {
            let asked_for = std::env::var("BRIMLINE_CI").is_ok_and(|set| set == "1");
            assert!(!asked_for, "{MISSING}");
            let test = std::thread::current();
            let said = format!(
                "\nBROWSER TEST SKIPPED: {}: {MISSING}\n",
                test.name().unwrap_or_default()
            );
            // What `eprintln!` writes is swallowed when a test passes.
            std::io::stderr().write_all(said.as_bytes()).unwrap();
            return None;
        };
        let mut child = Command::new("chromedriver")
            .arg("--port=0")
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let mut driver = Self {
            address: String::new(),
            chromium,
            child,
        };
        let port = lines.by_ref().map_while(Result::ok).find_map(|line| {
            let (_, port) = line.split_once("started successfully on port ")?;
            Some(port.trim_end_matches('.').to_owned())
        });
        driver.address = format!(
            "http://127.0.0.1:{}",
            port.expect("chromedriver says its port")
        );
        // A full pipe would stop it.
        std::thread::spawn(move || lines.for_each(drop));
        Some(driver)
    }
}

impl Drop for Driver {
    fn drop(&mut self) {
        if let Ok(Some(ended)) = self.child.try_wait() {
            eprintln!("chromedriver had ended by itself: {ended}");
            return;
        }
        // Killed at once it would leave its browsers behind.
        let _ = ureq::get(format!("{}/shutdown", self.address)).call();
        for _ in 0..50 {
            if matches!(self.child.try_wait(), Ok(Some(_))) {
                return;
            }
            std::thread::sleep(Duration::from_millis(100));
        }
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn runs(program: &str) -> bool {
    let said = Command::new(program).arg("--version").output();
    said.is_ok_and(|said| said.status.success())
}
