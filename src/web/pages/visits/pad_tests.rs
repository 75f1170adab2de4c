//! The sheet shows on the pad exactly the marks of what was chosen; what the marks are is held in `charts/abdomen`.

use crate::clinical::{Front, Pole, Side, Vocabulary};
use crate::web::charts::abdomen::{draw_glyphs, draw_pad};

const SHEET: &str = include_str!("../../../../static/brimline.css");
const PARTS: &str = include_str!("../../../../templates/visits/parts.html");

fn codes<T: Vocabulary>() -> Vec<&'static str> {
    T::ALL.iter().map(|it| it.code()).collect()
}

#[test]
fn every_choice_of_every_place_has_its_mark_and_the_rule_that_shows_it() {
    let pad = draw_pad().to_string();
    let places = [
        ("fundus", codes::<Pole>()),
        ("right", codes::<Side>()),
        ("left", codes::<Side>()),
        ("front", codes::<Front>()),
        ("lower", codes::<Pole>()),
    ];
    for (place, codes) in places {
        for code in codes {
            // a head over the brim has a mark for each of its fifths
            if (place, code) == ("lower", "hard-round") {
                continue;
            }
            assert!(
                pad.contains(&format!(r#"<g class="felt {place}-{code}">"#)),
                "{place} {code}: no mark"
            );
            let rule = format!(".pad:has(#{place}-{code}:checked) .{place}-{code}");
            assert!(SHEET.contains(&rule), "{rule}");
        }
        let named = format!(".pad:has(#{place}-none:checked) .at-{place} text");
        assert!(SHEET.contains(&named), "{named}");
    }
}

#[test]
fn a_head_is_shown_as_deep_as_its_fifths_say_and_moves_or_holds() {
    let pad = draw_pad().to_string();
    let head = ".pad:has(#lower-hard-round:checked)";
    for fifths in 0..=5 {
        assert!(pad.contains(&format!(r#"class="felt head-{fifths}""#)));
        let rule = match fifths {
            // also where the fifths are not known, then without the ladder
            4 => format!("{head} .head-4,"),
            _ => format!("{head}:has(#fifths-{fifths}:checked) .head-{fifths},"),
        };
        assert!(SHEET.contains(&rule), "{rule}");
        if fifths != 4 {
            let others = SHEET.lines().find(|it| it.ends_with(" .head-4,"));
            let named = format!("#fifths-{fifths}:checked");
            assert!(others.is_some_and(|it| it.contains(&named)), "{named}");
        }
    }
    for rule in [
        ".pad:not(:has(#fifths-4:checked)) .head-4 .ladder",
        ".pad:has(#head-mobile:checked) .moves",
        ".pad:has(#head-fixed:checked) .holds",
    ] {
        assert!(SHEET.contains(rule), "{rule}");
    }
}

#[test]
fn the_fundus_sinks_with_the_head_as_in_the_picture() {
    for fifths in 0..5_u8 {
        let tenths = (5 - fifths) * 32;
        let down = f64::from(tenths) / 10.0;
        let below = match fifths {
            0 => "#lower-hard-round:checked,#lower-empty:checked",
            _ => "#lower-hard-round:checked",
        };
        let rule = format!(
            r#".pad:has({below}):has(#fifths-{fifths}:checked) .belly [class*=" fundus-"]{{translate:0 {down}px}}"#
        );
        assert!(SHEET.contains(&rule), "{rule}");
    }
}

#[test]
fn nothing_above_the_brim_at_0_fifths_shows_the_deep_head_as_the_picture_does() {
    let deep = ".pad:has(#lower-empty:checked):has(#fifths-0:checked)";
    assert!(SHEET.contains(&format!("{deep} .head-0,")));
    assert!(SHEET.contains(&format!("{deep} .lower-empty{{display:none}}")));
}

#[test]
fn every_mark_beside_a_choice_exists() {
    let glyphs = draw_glyphs().to_string();
    let named = PARTS.split("glyph=\"").skip(1);
    for code in named.filter_map(|rest| rest.split('"').next()) {
        assert!(glyphs.contains(&format!(r#"id="g-{code}""#)), "{code}");
    }
}

#[test]
fn her_left_is_drawn_on_the_right_of_the_viewer() {
    let pad = draw_pad().to_string();
    let across = |name: &str| {
        let place = pad.split(&format!("at-{name}\"")).nth(1);
        let word = place.and_then(|place| place.split("<text x=\"").nth(1));
        let x = word.and_then(|word| word.split('"').next());
        x.and_then(|x| x.parse::<f64>().ok()).unwrap_or_default()
    };
    assert!(across("left") > 160.0 && across("left") < 320.0);
    assert!(across("right") < 160.0 && across("right") > 0.0);
}
