//! The keeper’s pages: posts, hospitals, the trail, and what a setting would change.

use crate::harness::{Post, Visitor};
use crate::page::Page;

pub(crate) fn keeper() -> (Post, Visitor) {
    let post = Post::of_the_demo();
    let keeper = post.sign_in("keeper");
    (post, keeper)
}

#[track_caller]
pub(crate) fn opened(keeper: &Visitor, list: &str, name: &str) -> Page {
    let page = keeper.get(list);
    let link = page
        .all("main table a")
        .find(|it| it.text().collect::<String>() == name);
    keeper.get(link.unwrap().attr("href").unwrap())
}

#[test]
fn a_setting_of_a_post_is_changed_with_a_reason_that_stands_in_the_trail() {
    let (_post, keeper) = keeper();
    let page = opened(&keeper, "/posts", "Lorn Saltings");
    let answers = [
        ("labour_protocol", "partograph"),
        ("reason", "Ferry stops at 19:00"),
    ];
    let saved = keeper.submit(&page, &answers);
    assert_eq!(saved.text("p.flash"), "The settings of the post are saved.");
    assert!(saved.has("#labour_protocol-partograph[checked]"));
    assert!(
        saved
            .text("#earlier tbody tr td")
            .contains("Ferry stops at 19:00")
    );
    let trail = keeper.get("/trail?what=post+amended");
    assert!(
        trail
            .text("tbody tr td.full")
            .contains("labour protocol labour-care-guide → partograph; Ferry stops at 19:00")
    );
}

#[test]
fn wrong_settings_come_back_with_what_was_typed_and_every_fault() {
    let (_post, keeper) = keeper();
    let page = opened(&keeper, "/posts", "Quern Ford");
    let night = page
        .find("input[name^=night_]")
        .attr("name")
        .unwrap()
        .to_owned();
    let page = keeper.submit(
        &page,
        &[
            ("name", ""),
            (&night, "1500"),
            ("night_from", "6"),
            ("reason", ""),
        ],
    );
    assert_eq!(page.status, 422);
    assert_eq!(page.count("main .errors li"), 4);
    assert!(
        page.text("main .errors")
            .contains("1500 minutes is more than a day")
    );
    assert_eq!(page.find(&format!("#{night}")).attr("value"), Some("1500"));
    let page = keeper.submit(
        &page,
        &[
            ("name", "Lorn Saltings"),
            (&night, ""),
            ("night_from", "19"),
            ("reason", "trying"),
        ],
    );
    assert!(
        page.text("main .errors")
            .contains("write the minutes by night too")
    );
    let page = keeper.submit(&page, &[(&night, "130"), ("name", "Lorn Saltings")]);
    assert!(
        page.text("main .errors")
            .contains("Another post has this name"),
        "{}",
        page.words()
    );
}

#[test]
fn of_two_keepers_the_slower_one_sees_both_versions() {
    let (post, keeper) = keeper();
    let other = post.sign_in("keeper");
    let (mine, hers) = (
        opened(&keeper, "/posts", "Quern Ford"),
        opened(&other, "/posts", "Quern Ford"),
    );
    assert_eq!(
        other
            .submit(&hers, &[("phone", "000 555 0777"), ("reason", "new phone")])
            .status,
        200
    );
    let page = keeper.submit(
        &mine,
        &[("labour_protocol", "partograph"), ("reason", "trained")],
    );
    assert_eq!(page.status, 409);
    let rows: Vec<_> = page
        .all("#differences tbody tr")
        .map(|it| it.text().collect::<Vec<_>>().join("|"))
        .collect();
    assert_eq!(rows.len(), 2, "{rows:?}");
    assert!(
        rows[0].contains("000 555 0777") && rows[0].contains("000 555 0104"),
        "{rows:?}"
    );
    let page = keeper.submit(&page, &[("phone", "000 555 0777")]);
    assert_eq!(page.status, 200, "{}", page.words());
    assert!(page.has("#labour_protocol-partograph[checked]"));
}

#[test]
fn a_post_and_a_hospital_are_set_up() {
    let (_post, keeper) = keeper();
    let hospital = [
        ("name", "Tidewater hospital"),
        ("phone", "000 555 0190"),
        ("can_operate", "true"),
        ("has_blood", "true"),
    ];
    let page = keeper.submit(&keeper.get("/posts/hospitals/new"), &hospital);
    assert!(page.text("#hospitals").contains("Tidewater hospital"));
    let page = opened(&keeper, "/posts", "Tidewater hospital");
    let page = keeper.submit(&page, &[("phone", "000 555 0191"), ("reason", "moved")]);
    assert!(
        page.text("#hospitals").contains("000 555 0191"),
        "{}",
        page.words()
    );
    let new = [
        ("name", "Osier Bank"),
        ("code", "OB"),
        ("time_zone", "Etc/GMT-2"),
        ("day_from", "6"),
        ("night_from", "19"),
        ("labour_protocol", "partograph"),
        ("fundal_height_method", "weeks"),
    ];
    let page = keeper.submit(&keeper.get("/posts/new"), &new);
    assert_eq!(page.text("h1"), "Osier Bank");
    assert!(
        keeper
            .get("/posts")
            .text("#posts")
            .contains("no way to an operation")
    );
}

#[test]
fn the_trail_is_whole_filtered_and_paged_by_key() {
    let (post, keeper) = keeper();
    for _ in 0..60 {
        post.sign_in("nurse");
    }
    let first = keeper.get("/trail?what=signed+in");
    assert_eq!(first.count("tbody tr[id]"), 50);
    let numbers = |page: &Page| -> Vec<u32> {
        page.all("tbody tr[id]")
            .map(|it| {
                it.attr("id")
                    .unwrap()
                    .trim_start_matches("line-")
                    .parse()
                    .unwrap()
            })
            .collect()
    };
    let older = first
        .all("nav.turn a")
        .find(|it| it.text().collect::<String>().starts_with("Older"));
    let second = keeper.get(older.unwrap().attr("href").unwrap());
    assert_eq!(second.count("tbody tr[id]"), 11);
    assert!(numbers(&first).iter().min() > numbers(&second).iter().max());
    assert!(!second.words().contains("Older"));
    let page = keeper.submit(&first, &[]);
    assert!(page.text("#chain").contains("each bound to the one before"));
    crate::visits::ayla(&post);
    let registered = keeper.get("/trail?what=mother+registered");
    let number = registered.text("tbody td[data-label='What it says']");
    let typed = number.to_lowercase().replace(' ', "+").replace("+000", "");
    let hers = keeper.get(&format!("/trail?number={typed}"));
    let details: Vec<String> = hers
        .all("tbody td[data-label='What it says']")
        .map(|it| it.text().collect())
        .collect();
    assert!(!details.is_empty(), "{}", hers.words());
    assert!(
        details.iter().all(|it| it.starts_with(&number)),
        "{details:?}"
    );
    assert!(
        keeper.get("/trail?number=%25").has("p.empty"),
        "a sign is a sign"
    );
    let none = keeper.get("/trail?from=2027-01-01");
    assert!(none.has("p.empty") && none.status == 200);
    for odd in ["/trail?after=-5", "/trail?after=x", "/trail?from=%"] {
        assert_eq!(keeper.ask(odd).status, 200, "{odd}");
    }
    let page = keeper.ask("/trail?from=never&who=1&what=%ff");
    assert_eq!((page.status, page.count("main .errors li")), (422, 3));
    let heading = format!("{} · Trail", page.text("main .errors h2"));
    assert!(page.text("title").starts_with(&heading), "{heading}");
    assert_eq!(page.find("#from").attr("value"), Some("never"));
}

#[test]
fn what_a_setting_would_change_is_counted_without_names_before_it_is_saved() {
    let (post, keeper) = keeper();
    let mother = crate::visits::ayla(&post);
    let nurse = post.sign_in("nurse");
    let _meaning = crate::visits::saved(&nurse, mother, &crate::visits::with(&[]));
    let page = opened(&keeper, "/posts", "Quern Ford");
    assert!(page.has("main form button[formaction$='/try']"));
    let at = page.at.strip_prefix("GET ").unwrap().to_owned();
    let look = |answers: &[(&str, &str)]| {
        let form = page.form_asking(&["skilled_twins"]);
        let mut filled = crate::page::values_already_in(&form);
        filled.retain(|(name, _)| answers.iter().all(|(other, _)| other != name));
        let typed = answers.iter();
        filled.extend(typed.map(|(name, value)| ((*name).to_owned(), (*value).to_owned())));
        keeper.send_form(&format!("{at}/try"), &crate::harness::encoded(&filled))
    };
    let typed = [("skilled_breech", "true"), ("phone", "000 555 0777")];
    let tried = look(&typed);
    assert_eq!(tried.status, 200, "{}", tried.words());
    let rows: Vec<String> = tried
        .all("#trial tbody tr")
        .map(|row| {
            let words = row.text().collect::<Vec<_>>().join(" ");
            words.split_whitespace().collect::<Vec<_>>().join(" ")
        })
        .collect();
    assert_eq!(rows.len(), 2, "{rows:?}");
    assert!(
        rows[0].contains("Refer soon") && rows[0].ends_with("1 0 0 1 0"),
        "{rows:?}"
    );
    assert!(
        rows[1].contains("Midwife to review") && rows[1].ends_with("0 1 0 0 1"),
        "{rows:?}"
    );
    assert!(!tried.words().contains("Ayla"), "the keeper sees no name");
    assert!(
        tried.has("#skilled_breech[checked]"),
        "what was typed is kept"
    );
    assert_eq!(tried.find("#phone").attr("value"), Some("000 555 0777"));
    let saved = keeper.get(&at);
    assert!(!saved.has("#skilled_breech[checked]"), "nothing is saved");
    assert_eq!(
        saved.count("#earlier tbody tr"),
        page.count("#earlier tbody tr")
    );
    let same = look(&[("phone", "000 555 0777")]);
    assert!(
        same.text("#trial").contains("no flag would change"),
        "{}",
        same.words()
    );
    let wrong = look(&[("day_from", "25"), ("skilled_breech", "true")]);
    assert_eq!(wrong.status, 422);
    assert!(!wrong.has("#trial") && wrong.has("#skilled_breech[checked]"));
    let taken = look(&[("name", "Lorn Saltings")]);
    assert_eq!(taken.status, 422, "as saving would refuse it");
}
