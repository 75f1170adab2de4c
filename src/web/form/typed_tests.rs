//! What the reader of forms keeps and what it refuses.

use super::*;

fn read(body: &[u8]) -> Typed {
    Typed::from_body(body).unwrap()
}

#[test]
fn text_is_read_as_a_browser_writes_it() {
    let typed = read("name=Nela+Asturo&village=%C3%96sterby+%26+Low&note=a%3Db".as_bytes());
    assert_eq!(typed.last("name"), "Nela Asturo");
    assert_eq!(typed.last("village"), "Österby & Low");
    assert_eq!(typed.last("note"), "a=b");
    assert_eq!(typed.last("phone"), "");
    assert!(!typed.has("phone"));
}

#[test]
fn a_name_may_come_more_than_once() {
    let typed = read(b"sign=bleeding&sign=cord&other=1");
    assert_eq!(typed.all("sign").collect::<Vec<_>>(), ["bleeding", "cord"]);
}

#[test]
fn empty_parts_and_empty_names_do_no_harm() {
    let typed = read(b"=&=&&&a");
    assert_eq!(typed.last("a"), "");
    assert!(typed.has("a"));
}

#[test]
fn a_lone_percent_sign_is_refused() {
    for body in [&b"%"[..], b"a=%", b"a=%4", b"a=%zz", b"%g0=a"] {
        assert_eq!(Typed::from_body(body), Err(BadBody::Percent), "{body:?}");
    }
}

#[test]
fn bytes_that_are_no_text_are_kept_visibly_and_remembered() {
    for body in [&b"name=\xff\xfeNela"[..], b"name=%FFNela"] {
        let typed = read(body);
        assert!(typed.last("name").ends_with("Nela"));
        assert!(typed.spoiled("name").is_some(), "{body:?}");
        assert!(typed.spoiled("village").is_none());
    }
}

#[test]
fn hidden_signs_are_found_and_line_breaks_are_none() {
    for (body, spoiled) in [
        (&b"a=%00"[..], true),
        (b"a=%01x", true),
        (b"a=%7F", true),
        ("a=\u{202e}olleh".as_bytes(), true),
        (b"a=one%0D%0Atwo%09three", false),
        ("a=zażółć gęślą 名前".as_bytes(), false),
    ] {
        assert_eq!(read(body).spoiled("a").is_some(), spoiled, "{body:?}");
    }
}

#[test]
fn a_body_of_countless_pairs_is_refused() {
    assert_eq!(
        Typed::from_body("a&".repeat(1001).as_bytes()),
        Err(BadBody::TooMany)
    );
    assert!(Typed::from_body("a&".repeat(1000).as_bytes()).is_ok());
}

#[test]
fn an_address_never_fails_to_read() {
    let typed = Typed::from_query("q=nela+as&bad=%&post=qf");
    assert_eq!(typed.last("q"), "nela as");
    assert_eq!(typed.last("post"), "qf");
    assert!(!typed.has("bad"));
}

#[test]
fn escaped_text_reads_back() {
    for text in ["", "nela", "Nela Asturo", "a&b=c%d+e", "Österby"] {
        let query = format!("q={}", escaped(text));
        assert_eq!(Typed::from_query(&query).last("q"), text);
    }
}
