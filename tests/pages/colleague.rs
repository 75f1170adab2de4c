//! A colleague of another post: every address with the id of an entry that is not hers reads as if there were no such entry.

use std::collections::BTreeMap;

use crate::access::{ACCESS, NOBODYS_ID};
use crate::harness::{Post, Visitor};
use crate::page::Page;

/// The id in an address of one of these families.
fn id_in(family: &str, page: &Page) -> Option<String> {
    let links = page.all("main a[href], main form[action]");
    let addresses = links.filter_map(|it| it.attr("href").or_else(|| it.attr("action")));
    let prefix = format!("/{family}/");
    addresses
        .filter_map(|it| it.strip_prefix(&prefix))
        .map(|rest| {
            rest.split(['/', '?', '#'])
                .next()
                .unwrap_or_default()
                .to_owned()
        })
        .find(|id| id.len() == NOBODYS_ID.len())
}

/// One entry of each family at Quern Ford, and its id.
pub(crate) fn one_of_each(post: &Post, midwife: &Visitor) -> BTreeMap<&'static str, String> {
    let oriel = post.mother("Oriel Zemirov");
    post.breech(oriel, 120);
    let labour = post.labour(oriel, 60, 5);
    let form = midwife.get(&format!("/referrals/new?mother={}", oriel.mother));
    let referral = midwife.submit(
        &form,
        &[
            ("decided_time", "15:10"),
            ("escort", "Dario Pelsane, nurse"),
        ],
    );
    let lena = post.mother("Lena Halvane");
    let born = [
        ("onset", "spontaneous"),
        ("mother", "well"),
        ("b1_state", "alive"),
        ("b1_sex", "girl"),
        ("b1_place", "here"),
        ("b1_mode", "vaginal"),
        ("b1_presentation", "cephalic"),
        ("b1_time", "14:20"),
    ];
    let birth = midwife.submit(
        &midwife.get(&format!("/births/new?mother={}", lena.mother)),
        &born,
    );
    let found = |family: &'static str, pages: &[&Page]| {
        let id = pages.iter().find_map(|page| id_in(family, page));
        (
            family,
            id.unwrap_or_else(|| panic!("no page leads to /{family}/…")),
        )
    };
    let her_page = midwife.get(&format!("/mothers/{}", oriel.mother));
    BTreeMap::from([
        ("mothers", oriel.mother.to_string()),
        ("pregnancies", oriel.pregnancy.to_string()),
        ("labour", labour.to_string()),
        found("visits", &[&her_page]),
        found("referrals", &[&referral, &her_page]),
        found("births", &[&birth, &midwife.get("/births")]),
    ])
}

#[test]
fn an_entry_of_another_post_reads_as_one_that_is_not_there() {
    let post = Post::of_the_demo();
    let midwife = post.sign_in("midwife");
    let ids = one_of_each(&post, &midwife);
    let colleague = post.sign_in("bettina");
    let body = format!("token={}", colleague.token()).into_bytes();
    let ask = |method: &str, path: &str| match method {
        "POST" => colleague.send_form(path, &body),
        _ => colleague.ask(path),
    };
    let of_a_post = ACCESS
        .iter()
        .filter(|(_, path, who)| path.contains("{id}") && *who != "k");
    for (method, path, _) in of_a_post {
        let family = path.split('/').nth(1).unwrap_or_default();
        let id = ids.get(family);
        let id = id.unwrap_or_else(|| panic!("{path}: let `one_of_each` make such an entry"));
        let filled = |id: &str| {
            let parts = path.split('/').map(|part| match part {
                "{id}" => id,
                "{number}" => "1",
                other if other.starts_with('{') => NOBODYS_ID,
                fixed => fixed,
            });
            parts.collect::<Vec<_>>().join("/")
        };
        let (real, none) = (ask(method, &filled(id)), ask(method, &filled(NOBODYS_ID)));
        assert_eq!(real.status, 404, "{method} {path}: {}", real.words());
        assert_eq!(
            real.words(),
            none.words(),
            "{method} {path} tells more of an entry that is there"
        );
        if *method == "GET" && !filled(id).contains(NOBODYS_ID) {
            let own = midwife.ask(&filled(id));
            assert!(
                own.status != 404 && own.status < 500,
                "{path} at its own post: {}",
                own.status
            );
        }
    }
}

#[test]
fn a_colleague_of_another_post_finds_nobody_of_ours() {
    let post = Post::of_the_demo();
    let _ = post.mother("Nela Asturo");
    let colleague = post.sign_in("colleague");
    for path in ["/mothers", "/mothers?q=nela", "/mothers?q=QF+0001", "/"] {
        assert!(!colleague.get(path).words().contains("Asturo"), "{path}");
    }
    let found = post.sign_in("nurse").get("/mothers?q=nela");
    assert!(found.words().contains("Nela Asturo"));
}
