//! A server on a port of its own, and visitors with two verbs: `get` and `submit`.

use std::net::SocketAddr;
use std::sync::mpsc;
use std::thread::JoinHandle;

use brimline::registry::Registry;
use brimline::registry::passwords::PasswordCost;
use brimline::settings::{Practice, Settings};
use brimline::web::{self, Clock, House};
use chrono::TimeDelta;

use crate::district::{self, PASSWORD};
use crate::page::{Page, values_already_in};

/// A register served in this process; it ends with the test.
pub(crate) struct Post {
    pub(crate) base: String,
    pub(crate) registry: Registry,
    clock: Clock,
    stop: Option<actix_web::dev::ServerHandle>,
    thread: Option<JoinHandle<()>>,
    _folder: tempfile::TempDir,
}

impl Post {
    /// Two posts, their people, nothing registered yet; served as the practice register is.
    pub(crate) fn of_the_demo() -> Self {
        let practice = Practice {
            sign_ins: ["nurse", "midwife", "district", "keeper"]
                .map(str::to_owned)
                .into(),
            password: PASSWORD.to_owned(),
        };
        Self::with(Settings {
            practice: Some(practice),
            district: Some("Sallow Vale".to_owned()),
            password_cost: PasswordCost::PRACTICE,
            ..Settings::default()
        })
    }

    /// The same people, served with other settings.
    pub(crate) fn with(settings: Settings) -> Self {
        let folder = district::copied();
        let registry = Registry::open(
            &Registry::address_in(folder.path()),
            brimline::registry::Durability::Process,
        )
        .unwrap();
        let clock = Clock::standing_at(district::now());
        let house = House::new(registry.clone(), clock.clone(), settings);
        let (tell, told) = mpsc::channel();
        let thread = std::thread::spawn(move || {
            actix_web::rt::System::new().block_on(async move {
                let here: SocketAddr = ([127, 0, 0, 1], 0).into();
                let served = web::serve(house, here, None).unwrap();
                tell.send((served.address, served.handle())).unwrap();
                served.server.await.unwrap();
            });
        });
        let (address, stop) = told.recv().unwrap();
        Self {
            base: format!("http://{address}"),
            registry,
            clock,
            stop: Some(stop),
            thread: Some(thread),
            _folder: folder,
        }
    }

    /// Moves the clock on.
    pub(crate) fn later(&self, by: TimeDelta) {
        self.clock.advance(by);
    }

    /// Somebody without an account.
    pub(crate) fn stranger(&self) -> Visitor {
        let config = ureq::Agent::config_builder()
            .max_redirects(0)
            .http_status_as_error(false)
            .user_agent("tests on a Mobile")
            .build();
        Visitor {
            base: self.base.clone(),
            agent: config.into(),
        }
    }

    /// Somebody who has just signed in.
    #[track_caller]
    pub(crate) fn sign_in(&self, name: &str) -> Visitor {
        let visitor = self.stranger();
        let page = visitor.submit(
            &visitor.get("/sign-in"),
            &[("name", name), ("password", PASSWORD)],
        );
        assert_ne!(
            page.at,
            "GET /sign-in",
            "{name} was not let in: {}",
            page.words()
        );
        visitor
    }
}

impl Drop for Post {
    fn drop(&mut self) {
        if let (Some(stop), Some(thread)) = (self.stop.take(), self.thread.take()) {
            // `stop` gives the order at once; the thread ends when it has been followed.
            drop(stop.stop(false));
            let _ = thread.join();
        }
    }
}

/// A browser with its cookies.
pub(crate) struct Visitor {
    base: String,
    agent: ureq::Agent,
}

impl Visitor {
    /// One request; no redirect is followed.
    #[track_caller]
    pub(crate) fn send(
        &self,
        method: &str,
        path: &str,
        headers: &[(&str, &str)],
        body: &[u8],
    ) -> Page {
        let (answer, body) = self.answer(method, path, headers, body).into_parts();
        let headers = answer.headers.iter().map(|(name, value)| {
            let value = value.to_str().unwrap_or_default();
            (name.to_string(), value.to_owned())
        });
        let headers = headers.collect();
        let body = String::from_utf8(body).unwrap();
        let status = answer.status.as_u16();
        Page::new(format!("{method} {path}"), status, headers, body)
    }

    /// One request, and the bytes that come back, as they travelled.
    #[track_caller]
    pub(crate) fn answer(
        &self,
        method: &str,
        path: &str,
        headers: &[(&str, &str)],
        body: &[u8],
    ) -> ureq::http::Response<Vec<u8>> {
        let mut request = ureq::http::Request::builder()
            .method(method)
            .uri(format!("{}{path}", self.base));
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        let request = request.body(body.to_vec()).unwrap();
        let (head, mut body) = self.agent.run(request).unwrap().into_parts();
        ureq::http::Response::from_parts(head, body.read_to_vec().unwrap())
    }

    /// Asks for a page as it is, without following where it leads.
    #[track_caller]
    pub(crate) fn ask(&self, path: &str) -> Page {
        self.send("GET", path, &[], b"")
    }

    /// Opens a page, wherever it leads.
    #[track_caller]
    pub(crate) fn get(&self, path: &str) -> Page {
        self.follow(self.ask(path))
    }

    /// Fills the page's own form and sends it; goes on to the page it leads to.
    #[track_caller]
    pub(crate) fn submit(&self, page: &Page, answers: &[(&str, &str)]) -> Page {
        self.follow(self.post(page, answers))
    }

    /// As `submit`, and stays with the first answer.
    #[track_caller]
    pub(crate) fn post(&self, page: &Page, answers: &[(&str, &str)]) -> Page {
        let names: Vec<_> = answers.iter().map(|(name, _)| *name).collect();
        let form = page.form_asking(&names);
        let mut filled = values_already_in(&form);
        filled.retain(|(name, _)| !names.contains(&name.as_str()));
        filled.extend(
            answers
                .iter()
                .map(|(name, value)| ((*name).to_owned(), (*value).to_owned())),
        );
        let path = page
            .at
            .split_once(' ')
            .map(|(_, path)| path)
            .unwrap_or_default();
        let action = form.attr("action").unwrap_or(path).to_owned();
        self.send_form(&action, &encoded(&filled))
    }

    /// Sends a form body as a page of ours would.
    #[track_caller]
    pub(crate) fn send_form(&self, path: &str, body: &[u8]) -> Page {
        let headers = [
            ("content-type", "application/x-www-form-urlencoded"),
            ("origin", self.base.as_str()),
        ];
        self.send("POST", path, &headers, body)
    }

    #[track_caller]
    fn follow(&self, mut page: Page) -> Page {
        for _ in 0..5 {
            if page.status != 303 {
                return page;
            }
            let to = page.header("location").to_owned();
            page = self.ask(&to);
        }
        panic!("{}: leads round in circles", page.at)
    }

    /// The token of this visitor's session, from any page with a form.
    #[track_caller]
    pub(crate) fn token(&self) -> String {
        let page = self.get("/sign-in");
        page.find("main input[name=token]")
            .attr("value")
            .unwrap_or_default()
            .to_owned()
    }
}

/// As a browser writes it.
pub(crate) fn encoded(pairs: &[(String, String)]) -> Vec<u8> {
    let escape = |text: &str| {
        let mut out = String::new();
        for byte in text.bytes() {
            match byte {
                b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'_' | b'.' => {
                    out.push(char::from(byte));
                }
                b' ' => out.push('+'),
                other => {
                    let hex = format!("%{other:02X}");
                    out.push_str(&hex);
                }
            }
        }
        out
    };
    let pairs: Vec<_> = pairs
        .iter()
        .map(|(name, value)| format!("{}={}", escape(name), escape(value)))
        .collect();
    pairs.join("&").into_bytes()
}
