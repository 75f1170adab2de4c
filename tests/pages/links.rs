//! Every link of every page leads somewhere, and every `#…` to a part of its page, for each role.

use std::collections::{BTreeSet, HashMap, VecDeque};

use uuid::Uuid;

use crate::colleague::one_of_each;
use crate::harness::{Post, Visitor};
use crate::page::Page;

/// Of each kind of page (the address without ids and months) so many are opened.
const OF_A_KIND: usize = 3;

/// `/mothers/·/amend`, whoever she is.
fn kind(address: &str) -> String {
    let path = address.split('?').next().unwrap_or_default();
    let is_month = |part: &str| part.len() == 7 && part.as_bytes()[4] == b'-';
    let parts = path.split('/').map(|part| {
        if Uuid::parse_str(part).is_ok() || is_month(part) {
            "·"
        } else {
            part
        }
    });
    parts.collect::<Vec<_>>().join("/")
}

/// Where a page leads within the house, without `#…`.
fn leads_to(page: &Page, at: &str) -> Vec<String> {
    let path = at.split('?').next().unwrap_or_default();
    let links = page.all("a[href]").filter_map(|link| link.attr("href"));
    links
        // Elsewhere, or a workbook, which is no text; `months` opens that one.
        .filter(|href| !href.contains(':') && !href.contains(".xlsx"))
        .map(|href| href.split('#').next().unwrap_or_default())
        .filter(|href| !href.is_empty())
        .map(|href| match href.strip_prefix('?') {
            Some(asked) => format!("{path}?{asked}"),
            None => href.to_owned(),
        })
        .collect()
}

fn dead_anchors(page: &Page, at: &str) -> Vec<String> {
    let ids: BTreeSet<&str> = page.all("[id]").filter_map(|it| it.attr("id")).collect();
    let anchors = page.all("a[href^='#']").filter_map(|it| it.attr("href"));
    anchors
        .filter(|anchor| !ids.contains(&anchor[1..]))
        .map(|anchor| format!("{at} has no part {anchor}"))
        .collect()
}

/// Follows the links from Today; what is wrong, and how many kinds of page were opened.
fn walk(person: &Visitor) -> (Vec<String>, usize) {
    let mut faults = Vec::new();
    let mut opened: HashMap<String, usize> = HashMap::new();
    let mut known = BTreeSet::from(["/".to_owned()]);
    let mut waiting = VecDeque::from([("/".to_owned(), "the first page".to_owned())]);
    while let Some((address, from)) = waiting.pop_front() {
        let times = opened.entry(kind(&address)).or_default();
        if *times == OF_A_KIND {
            continue;
        }
        *times += 1;
        let page = person.ask(&address);
        if page.status != 200 && page.status != 303 {
            faults.push(format!("{from} leads to {address}: {}", page.status));
            continue;
        }
        faults.extend(dead_anchors(&page, &address));
        for next in leads_to(&page, &address) {
            if known.insert(next.clone()) {
                waiting.push_back((next, address.clone()));
            }
        }
    }
    (faults, opened.len())
}

#[test]
fn every_link_leads_somewhere_for_every_role() {
    let post = Post::of_the_demo();
    let midwife = post.sign_in("midwife");
    let _ = one_of_each(&post, &midwife);
    for (who, at_least) in [
        ("nurse", 25),
        ("midwife", 28),
        ("district", 6),
        ("keeper", 8),
    ] {
        let (faults, kinds) = walk(&post.sign_in(who));
        assert!(faults.is_empty(), "{who}:\n{}", faults.join("\n"));
        assert!(kinds >= at_least, "{who} reached {kinds} kinds of page");
    }
}
