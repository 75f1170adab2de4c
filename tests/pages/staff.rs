//! Accounts: opened, reset, stopped; who may not be.

use crate::district::PASSWORD;
use crate::keeper::{keeper, opened};

#[test]
fn an_account_is_opened_reset_and_stopped_and_its_sessions_end_each_time() {
    let (post, keeper) = keeper();
    let list = keeper.get("/staff");
    let quern = list
        .all("#post option")
        .find(|it| it.text().collect::<String>() == "Quern Ford");
    let quern = quern.unwrap().attr("value").unwrap().to_owned();
    let new = [
        ("full_name", "Yaro Fennimark"),
        ("sign_in", "Yaro"),
        ("role", "nurse"),
        ("post", &quern),
        ("password", PASSWORD),
    ];
    let account = keeper.submit(&list, &new);
    assert_eq!(account.text("h1"), "Yaro Fennimark");
    let yaro = post.sign_in("yaro");
    let account = keeper.submit(
        &keeper.get(account.at.strip_prefix("GET ").unwrap()),
        &[("password", "another long sentence")],
    );
    assert!(account.has("p.flash"));
    assert_eq!(yaro.ask("/account").status, 303, "reset ends sessions");
    let token = keeper.token();
    let at = account.at.strip_prefix("GET ").unwrap();
    let page = keeper.send_form(&format!("{at}/stop"), format!("token={token}").as_bytes());
    assert_eq!(page.status, 303);
    assert!(keeper.get(at).text("dl.states").contains("stopped"));
    let stranger = post.stranger();
    let page = stranger.submit(
        &stranger.get("/sign-in"),
        &[("name", "yaro"), ("password", "another long sentence")],
    );
    assert_eq!(page.status, 422, "a stopped account does not sign in");
    assert!(!keeper.get("/staff").text("#accounts").contains("yaro"));
    assert!(
        keeper
            .get("/staff?state=stopped")
            .text("#accounts")
            .contains("yaro")
    );
}

#[test]
fn an_account_that_cannot_be_opened_says_why_beside_its_field() {
    let (_post, keeper) = keeper();
    for (answers, says) in [
        (
            [
                ("full_name", "Yaro"),
                ("sign_in", "nurse"),
                ("role", "keeper"),
                ("password", PASSWORD),
            ],
            "Somebody signs in as “nurse” already",
        ),
        (
            [
                ("full_name", "Yaro"),
                ("sign_in", "y f"),
                ("role", "keeper"),
                ("password", PASSWORD),
            ],
            "small letters",
        ),
        (
            [
                ("full_name", "Yaro"),
                ("sign_in", "yaro"),
                ("role", "nurse"),
                ("password", PASSWORD),
            ],
            "belongs to a post",
        ),
        (
            [
                ("full_name", "Yaro"),
                ("sign_in", "yaro"),
                ("role", "keeper"),
                ("password", "short"),
            ],
            "at least 12 characters",
        ),
        (
            [
                ("full_name", ""),
                ("sign_in", ""),
                ("role", "keeper"),
                ("password", ""),
            ],
            "write the full name",
        ),
    ] {
        let page = keeper.submit(&keeper.get("/staff"), &answers);
        assert_eq!(page.status, 422, "{says}");
        assert!(
            page.text("main .errors").contains(says),
            "{says}: {}",
            page.text("main .errors")
        );
        assert_eq!(
            page.find("input[name=full_name]").attr("value"),
            Some(answers[0].1)
        );
    }
}

#[test]
fn the_last_keeper_cannot_be_stopped() {
    let (_post, keeper) = keeper();
    let me = opened(&keeper, "/staff", "Petra Ondriche");
    let at = me.at.strip_prefix("GET ").unwrap();
    let page = keeper.send_form(
        &format!("{at}/stop"),
        format!("token={}", keeper.token()).as_bytes(),
    );
    assert_eq!(page.status, 422);
    assert!(page.text("#errors").contains("last keeper"));
    assert_eq!(keeper.ask("/trail").status, 200, "the keeper goes on");
}
