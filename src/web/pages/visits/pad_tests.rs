//! The drawn form shows what the picture of the saved visit shows: one mark a finding, the same everywhere.

use crate::clinical::{Front, Pole, Side, Vocabulary};

const BELLY: &str = include_str!("../../../../templates/visits/belly.html");
const GLYPHS: &str = include_str!("../../../../templates/visits/glyphs.html");
const SHEET: &str = include_str!("../../../../static/brimline.css");

fn codes<T: Vocabulary>() -> Vec<&'static str> {
    let mut codes: Vec<_> = T::ALL.iter().map(|it| it.code()).collect();
    codes.push("none"); // the empty choice
    codes
}

/// A finding that is absent is one mark, wherever it is absent.
fn mark_of(code: &str) -> &str {
    if code == "nothing" { "empty" } else { code }
}

#[test]
fn every_choice_of_every_place_has_its_mark_and_the_rule_that_shows_it() {
    let places = [
        ("fundus", codes::<Pole>()),
        ("right", codes::<Side>()),
        ("left", codes::<Side>()),
        ("front", codes::<Front>()),
        ("lower", codes::<Pole>()),
    ];
    for (place, codes) in places {
        for code in codes {
            let shown = format!(
                r##"class="felt {place}-{code}"><use href="#g-{}""##,
                mark_of(code)
            );
            assert!(BELLY.contains(&shown), "{place} {code}: no mark");
            let glyph = format!(r#"id="g-{}""#, mark_of(code));
            assert!(GLYPHS.contains(&glyph), "{glyph}");
            let rule = format!(".pad:has(#{place}-{code}:checked) .{place}-{code}");
            assert!(SHEET.contains(&rule), "{rule}");
        }
    }
}

#[test]
fn the_head_on_the_pad_sinks_with_every_fifth_and_moves_or_holds() {
    for fifths in 0..5 {
        let rule =
            format!(".pad:has(#lower-hard-round:checked):has(#fifths-{fifths}:checked) .sink");
        assert!(SHEET.contains(&rule), "{rule}");
    }
    for rule in [
        ".pad:has(#head-mobile:checked) .moves",
        ".pad:has(#head-fixed:checked) .holds",
    ] {
        assert!(SHEET.contains(rule), "{rule}");
    }
    assert!(BELLY.contains(r#"class="sink""#) && BELLY.contains(r#"class="moves g""#));
}

#[test]
fn nothing_above_the_brim_at_0_fifths_shows_the_deep_head_as_the_picture_does() {
    assert!(BELLY.contains(r#"class="felt lower-deep""#));
    let deep = ".pad:has(#lower-empty:checked):has(#fifths-0:checked)";
    assert!(SHEET.contains(&format!("{deep} .lower-deep{{display:inline}}")));
    assert!(SHEET.contains(&format!("{deep} .lower-empty{{display:none}}")));
}

#[test]
fn her_left_is_drawn_on_the_right_of_the_viewer() {
    let across = |name: &str| {
        let start = BELLY.find(&format!("at-{name}\"")).unwrap();
        let place = BELLY[start..].split("translate(").nth(1).unwrap();
        place.split(' ').next().unwrap().parse::<f64>().unwrap()
    };
    assert!(across("left") > 200.0 && across("right") < 200.0);
}
