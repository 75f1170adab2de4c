//! Every page of the route table that a role can reach by links, one of each kind, on a phone and on a desk.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use brimline::web::routes;

use crate::driver::Driver;
use crate::harness::{Post, Visitor};
use crate::page::Page;
use crate::screen::{DESK, PHONE, Screen, Scripts};

/// No pages: an answer for machines, and files.
const NO_PAGES: [&str; 3] = ["/health", "/static/{name}", "/months/{month}/files/{name}"];

/// Pages of one route that are asked for links.
const MOST_OF_A_KIND: usize = 12;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn every_page_holds_on_a_phone() {
    walk(PHONE).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn every_page_holds_on_a_desk() {
    walk(DESK).await;
}

async fn walk(width: u32) {
    let Some(driver) = Driver::start() else {
        return;
    };
    let post = Post::of_the_demo();
    something_of_each(&post);
    let mut unseen: BTreeSet<&str> = routes()
        .into_iter()
        .filter(|route| route.method == "GET" && !NO_PAGES.contains(&route.path))
        .map(|route| route.path)
        .collect();
    for name in ["midwife", "district", "keeper"] {
        let screen = Screen::at(&driver, &post.base, width, Scripts::On).await;
        screen.sign_in(name).await;
        unseen.remove("/sign-in");
        let found = links(&post.sign_in(name));
        for (kind, address) in found {
            if unseen.remove(kind) {
                screen.open(&address).await;
            }
        }
        screen
        .open("/practice/cases/9?compare=1&lie=longitudinal&presentation=cephalic&back=left&engaged=true&certainty=clear&urgency=none")
        .await;
        screen.leave().await;
    }
    assert!(unseen.is_empty(), "no link leads there: {unseen:?}");
}

/// Follows every link of a role, and keeps the first address of each route.
fn links(visitor: &Visitor) -> BTreeMap<&'static str, String> {
    let all = routes();
    let mut kept: BTreeMap<&str, String> = BTreeMap::new();
    let mut asked: BTreeMap<&str, usize> = BTreeMap::new();
    let mut seen = BTreeSet::new();
    let mut waiting = VecDeque::from(["/".to_owned(), "/account".to_owned()]);
    while let Some(address) = waiting.pop_front() {
        let bare = address.split(['?', '#']).next().unwrap_or_default();
        let route = all
            .iter()
            .find(|route| route.method == "GET" && fits(route.path, bare));
        let Some(route) = route.filter(|it| !NO_PAGES.contains(&it.path)) else {
            continue;
        };
        // Months lead back without end, and lists are alike.
        let times = asked.entry(route.path).or_default();
        *times += 1;
        if *times > MOST_OF_A_KIND {
            continue;
        }
        let page = visitor.ask(&address);
        if page.status == 200 {
            kept.entry(route.path).or_insert_with(|| address.clone());
        }
        for link in page.all("a[href^='/']") {
            let href = link.attr("href").unwrap_or_default();
            let href = href.split('#').next().unwrap_or_default().to_owned();
            if seen.insert(href.clone()) {
                waiting.push_back(href);
            }
        }
    }
    kept
}

fn fits(route: &str, address: &str) -> bool {
    let (mut asked, mut given) = (route.split('/'), address.split('/'));
    loop {
        match (asked.next(), given.next()) {
            (None, None) => return true,
            (Some(part), Some(here)) if part == here || part.starts_with('{') => {}
            _ => return false,
        }
    }
}

/// A register in which every kind of page has something to show.
fn something_of_each(post: &Post) {
    let nurse = post.sign_in("nurse");
    amended_visit(post, &nurse);
    let running = referred(post, &nurse, "Oriel Zemirov");
    assert!(running.has("main a[href$='/left']"), "{}", running.words());
    let referral = referred(post, &nurse, "Keziah Horvinec");
    let at = referral.at.trim_start_matches("GET ");
    let arrived = nurse.get(&format!("{at}/arrived"));
    let arrived = nurse.submit(&arrived, &[("unknown", "true")]);
    assert!(arrived.has("main a[href$='/seen']"), "{}", arrived.words());
    post.labour(post.mother("Marisol Brezhan"), 60, 8);
    let lena = post.mother("Lena Halvane");
    let form = nurse.get(&format!("/births/new?mother={}", lena.mother));
    let born = nurse.submit(&form, BORN);
    assert!(born.at.starts_with("GET /births/"), "{}", born.words());
}

/// A breech in labour: a flag says refer now, so the nurse decides.
fn referred(post: &Post, nurse: &Visitor, name: &str) -> Page {
    let woman = post.mother(name);
    post.breech(woman, 120);
    post.labour(woman, 60, 5);
    let form = nurse.get(&format!("/referrals/new?mother={}", woman.mother));
    nurse.submit(&form, &[("escort", "Dario Pelsane, nurse")])
}

const BORN: &[(&str, &str)] = &[
    ("onset", "spontaneous"),
    ("mother", "well"),
    ("b1_state", "alive"),
    ("b1_sex", "girl"),
    ("b1_place", "here"),
    ("b1_mode", "vaginal"),
    ("b1_presentation", "cephalic"),
    ("b1_weight", "3180"),
    ("b1_time", "14:20"),
];

fn amended_visit(post: &Post, nurse: &Visitor) {
    let ada = post.mother("Ada Marren");
    let form = nurse.get(&format!("/mothers/{}/visits/new", ada.mother));
    let visit = nurse.submit(&form, &[("fundus", "hard-round"), ("pulse", "88")]);
    let visit = visit.at.trim_start_matches("GET ");
    let form = nurse.get(&format!("{visit}/amend"));
    let amended = nurse.submit(&form, &[("pulse", "86"), ("reason", "counted again")]);
    assert!(
        amended.words().contains("Revision 2"),
        "{}",
        amended.words()
    );
}
