//! What the register costs: a page of 50 mothers out of 100,000, and saving a visit.
//!
//! Each is printed as a multiple of a yardstick taken in the same minute: the page of a fixed page of the same size, the visit
//! of a bare insert that survives a power cut just as well. `cargo bench --bench registry` takes some minutes to fill the register.

use std::error::Error;
use std::net::{Ipv4Addr, SocketAddr};
use std::process::ExitCode;
use std::sync::mpsc;
use std::time::{Duration, Instant};

use actix_web::{App, HttpResponse, HttpServer, web as actix};
use brimline::clinical::{Dating, Day, Moment, PalpationFindings, Pole, Side};
use brimline::registry::mothers::{self, Born, NewMother, Person};
use brimline::registry::passwords::{HashedPassword, PasswordCost};
use brimline::registry::posts::{self, PostSettings};
use brimline::registry::pregnancies::Facts;
use brimline::registry::staff::{self, NewStaff};
use brimline::registry::visits::{self, Findings, NewVisit};
use brimline::registry::{By, Durability, PregnancyId, Registry, Role};
use brimline::settings::Settings;
use brimline::web::{self, Clock, House};
use chrono::{Days, TimeDelta};
use diesel::connection::SimpleConnection as _;
use diesel::{Connection as _, RunQueryDsl as _, SqliteConnection};

type Done<T = ()> = Result<T, Box<dyn Error>>;

const MOTHERS: u32 = 100_000;
/// A page of the list may cost so many fixed pages. All of these mothers are pregnant, more than any post will see, and counting
/// them is most of it.
const MOST_PAGE: f64 = 250.0;
/// A saved visit may cost so many bare inserts.
const MOST_VISIT: f64 = 5.0;
const PASSWORD: &str = "only for this bench";

fn main() -> ExitCode {
    match run() {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Done<bool> {
    let folder = tempfile::tempdir()?;
    let registry = Registry::open_in(folder.path(), Durability::Full)?;
    let (nurse, pregnancies) = fill(&registry)?;
    let bare = bare_insert(&folder.path().join("bare.db"))?;
    let visit = saving_a_visit(&registry, &nurse, &pregnancies)?;
    let fine_visit = told("saving a visit", visit, "bare insert", bare, MOST_VISIT);

    let agent = ureq::Agent::config_builder()
        .max_redirects(0)
        .http_status_as_error(false)
        .build()
        .new_agent();
    let clock = Clock::standing_at(now());
    let settings = Settings {
        password_cost: PasswordCost::PRACTICE,
        ..Settings::default()
    };
    let house = House::new(registry, clock, settings);
    let base = served(move || web::serve(house, here(), None).map(|it| (it.address, it.server)))?;
    sign_in(&agent, &base)?;
    let list = format!("{base}/mothers?show=all");
    let body = agent.get(&list).call()?.body_mut().read_to_string()?;
    if body.matches("QF").count() < 50 {
        return Err(format!(
            "the list of mothers shows no 50 of them: {} bytes",
            body.len()
        )
        .into());
    }
    println!("the page has {} bytes before compression", body.len());
    let fixed = fixed_page(body)?;
    let fixed = fastest(200, || ask(&agent, &fixed));
    let page = fastest(200, || ask(&agent, &list));
    let fine_page = told(
        "50 of 100,000 mothers",
        page,
        "fixed page",
        fixed,
        MOST_PAGE,
    );
    Ok(fine_visit && fine_page)
}

fn now() -> Moment {
    Day::default().and_time(chrono::NaiveTime::MIN) + TimeDelta::days(20_000)
}

fn here() -> SocketAddr {
    (Ipv4Addr::LOCALHOST, 0).into()
}

/// The time of the quickest fifth, which what else runs on the machine disturbs least.
fn fastest(times: u32, mut work: impl FnMut() -> Done) -> Duration {
    let mut all: Vec<Duration> = Vec::new();
    for _ in 0..times {
        let began = Instant::now();
        if let Err(error) = work() {
            eprintln!("{error}");
            return Duration::MAX;
        }
        all.push(began.elapsed());
    }
    all.sort_unstable();
    all[all.len() / 5]
}

fn told(what: &str, cost: Duration, than: &str, yardstick: Duration, most: f64) -> bool {
    let times = cost.as_secs_f64() / yardstick.as_secs_f64();
    let rate = 1.0 / cost.as_secs_f64();
    println!(
        "{what}: {cost:?}, {rate:.0} a second, {times:.1} × a {than} of {yardstick:?} (at most {most})"
    );
    times <= most
}

/// One post with many mothers, each pregnant.
fn fill(registry: &Registry) -> Done<(By, Vec<PregnancyId>)> {
    let password = HashedPassword::of(PASSWORD, PasswordCost::PRACTICE)?;
    let program = By::program("bench");
    let began = Instant::now();
    let filled = registry.write(&program, now(), |change| {
        let post = posts::add(change, &post_settings())?;
        let new = NewStaff {
            sign_in: "nurse".into(),
            name: "Imke Torvalo".into(),
            role: Role::Nurse,
            post: Some(post),
            password: password.clone(),
        };
        let nurse = By {
            staff: Some(staff::add(change, &new)?),
            name: new.name,
            role: Some(Role::Nurse),
            post: Some(post),
        };
        let mut pregnancies = Vec::new();
        for number in 0..MOTHERS {
            change.as_of(
                &nurse,
                now() - TimeDelta::seconds(i64::from(MOTHERS - number)),
            );
            pregnancies.push(mothers::register(change, &mother(number))?.pregnancy);
        }
        Ok((nurse, pregnancies))
    })?;
    println!("{MOTHERS} mothers registered in {:.0?}", began.elapsed());
    Ok(filled)
}

fn post_settings() -> PostSettings {
    PostSettings {
        code: "QF".into(),
        name: "Quern Ford".into(),
        time_zone: "Etc/GMT-2".into(),
        phone: None,
        labour_protocol: brimline::clinical::LabourProtocol::CareGuide,
        height_method: brimline::clinical::HeightMethod::Intergrowth,
        skilled_breech: false,
        skilled_twins: false,
        day_from: 6,
        night_from: 19,
        reply_address: None,
        ways: Vec::new(),
    }
}

fn mother(number: u32) -> NewMother {
    let (given, family) = (number % 317, number / 317);
    let period = now().date() - Days::new(u64::from(60 + number % 200));
    NewMother {
        person: Person {
            name: format!("Given{given} Family{family}"),
            village: Some(format!("Village {}", number % 40)),
            phone: None,
            may_phone: None,
            born: Born::Unknown,
        },
        facts: Facts {
            dating: Dating {
                lmp: Some(period),
                ..Dating::default()
            },
            births_before: Some(1),
            ..Facts::default()
        },
        request_key: None,
    }
}

/// A transaction with one row of a visit's size, as durable as the register's own.
fn bare_insert(file: &std::path::Path) -> Done<Duration> {
    let mut db = SqliteConnection::establish(&file.to_string_lossy())?;
    db.batch_execute("PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; CREATE TABLE bare (id INTEGER PRIMARY KEY, text TEXT NOT NULL)")?;
    let insert = format!("INSERT INTO bare (text) VALUES ('{}')", "x".repeat(400));
    Ok(fastest(400, || {
        db.immediate_transaction(|db| diesel::sql_query(&insert).execute(db).map(drop))?;
        Ok(())
    }))
}

fn saving_a_visit(registry: &Registry, nurse: &By, pregnancies: &[PregnancyId]) -> Done<Duration> {
    let mut number = 0;
    let cost = fastest(400, || {
        number += 97;
        let pregnancy = pregnancies[number % pregnancies.len()];
        let mut findings = Findings::at(now());
        findings.visit.fetal_hearts.push(140);
        (findings.visit.systolic, findings.visit.diastolic) = (Some(118), Some(74));
        findings.visit.fundal_height_tenths = Some(300);
        findings.visit.palpation = Some(PalpationFindings {
            fundus: Some(Pole::SoftIrregular),
            left: Some(Side::LongSmooth),
            right: Some(Side::SmallLumps),
            lower: Some(Pole::HardRound),
            ..PalpationFindings::default()
        });
        let new = NewVisit {
            pregnancy,
            findings,
            request_key: None,
        };
        registry.write(nurse, now(), |change| visits::record(change, &new))?;
        Ok(())
    });
    Ok(cost)
}

/// Serves on a thread of its own until the bench ends.
fn served<S>(
    make: impl FnOnce() -> std::io::Result<(SocketAddr, S)> + Send + 'static,
) -> Done<String>
where
    S: Future<Output = std::io::Result<()>>,
{
    let (tell, told) = mpsc::channel();
    std::thread::spawn(move || {
        actix_web::rt::System::new().block_on(async move {
            let (address, server) = make()?;
            let _ = tell.send(address);
            server.await
        })
    });
    Ok(format!("http://{}", told.recv()?))
}

fn fixed_page(body: String) -> Done<String> {
    let body = actix::Bytes::from(body);
    served(move || {
        let server = HttpServer::new(move || {
            let body = body.clone();
            App::new().default_service(actix::to(move || {
                let body = body.clone();
                async move { HttpResponse::Ok().content_type("text/html").body(body) }
            }))
        })
        .bind(here())?;
        let address = server.addrs().first().copied().unwrap_or_else(here);
        Ok((address, server.run()))
    })
}

fn sign_in(agent: &ureq::Agent, base: &str) -> Done {
    let page = agent
        .get(format!("{base}/sign-in"))
        .call()?
        .body_mut()
        .read_to_string()?;
    let form = scraper::Html::parse_document(&page);
    let token =
        scraper::Selector::parse("main form [name=token]").map_err(|error| error.to_string())?;
    let token = form
        .select(&token)
        .next()
        .and_then(|it| it.value().attr("value"))
        .ok_or("no token on the sign-in page")?;
    let answer = agent
        .post(format!("{base}/sign-in"))
        .header("Origin", base)
        .send_form([("token", token), ("name", "nurse"), ("password", PASSWORD)])?;
    if answer.status().is_redirection() {
        Ok(())
    } else {
        Err(format!("signing in gives {}", answer.status()).into())
    }
}

fn ask(agent: &ureq::Agent, address: &str) -> Done {
    let mut answer = agent.get(address).call()?;
    if answer.status() != 200 {
        return Err(format!("{address} gives {}", answer.status()).into());
    }
    answer.body_mut().read_to_vec()?;
    Ok(())
}
