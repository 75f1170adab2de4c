//! Findings in words: the same entries stand beside the next visit's form, on the page of the visit and between two revisions.

use chrono_tz::Tz;

use crate::clinical::{Pole, Vocabulary, Waters};
use crate::registry::visits::Findings;
use crate::web::spoken;

/// Where an entry stands on the page of a visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::web::pages) enum Group {
    When,
    Hands,
    Measured,
    Told,
    Agreed,
}

/// One question of the form and what it came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::web::pages) struct Entry {
    /// As the form sends it.
    pub(in crate::web::pages) name: &'static str,
    /// As read.
    pub(in crate::web::pages) label: &'static str,
    pub(in crate::web::pages) group: Group,
    /// `None` is “not examined”, never “normal”.
    pub(in crate::web::pages) said: Option<String>,
}

/// Every question of the form, in its order.
pub(in crate::web::pages) fn entries(findings: &Findings, zone: Tz) -> Vec<Entry> {
    let mut all = Vec::new();
    let mut put = |group, name, label, said| {
        all.push(Entry {
            name,
            label,
            group,
            said,
        });
    };
    put(
        Group::When,
        "at",
        "Time of the visit",
        Some(spoken::moment(findings.visit.at, zone)),
    );
    put(
        Group::When,
        "bladder_empty",
        "Bladder",
        yes(findings.bladder_empty, "emptied"),
    );
    let hands = findings.visit.palpation.clone().unwrap_or_default();
    put(Group::Hands, "fundus", "Fundus", words(hands.fundus));
    put(Group::Hands, "right", "Her right side", words(hands.right));
    put(Group::Hands, "left", "Her left side", words(hands.left));
    put(Group::Hands, "front", "Front", words(hands.front));
    put(Group::Hands, "lower", "Lower pole", words(hands.lower));
    put(
        Group::Hands,
        "fifths",
        "Fifths above the brim",
        hands.fifths.map(|it| format!("{it}/5")),
    );
    put(Group::Hands, "head", "The head is", words(hands.head));
    put(
        Group::Hands,
        "many_small_parts",
        "Many small parts",
        yes(hands.many_small_parts, "felt"),
    );
    put(
        Group::Hands,
        "belly_unusually_large",
        "Unusually large",
        yes(hands.belly_unusually_large, "seen"),
    );
    measured(findings, &mut put);
    told(findings, zone, &mut put);
    put(
        Group::Agreed,
        "next_visit_on",
        "Next visit",
        findings.next_visit_on.map(spoken::day),
    );
    put(Group::Agreed, "note", "Note", findings.note.clone());
    all
}

fn measured(
    findings: &Findings,
    put: &mut impl FnMut(Group, &'static str, &'static str, Option<String>),
) {
    let visit = &findings.visit;
    let tenths = |it: u16, unit: &str| format!("{}{unit}", spoken::tenths(i32::from(it)));
    let unit = |it: u16, unit: &str| format!("{it}{unit}");
    put(
        Group::Measured,
        "fundal_height_cm",
        "Fundal height",
        visit.fundal_height_tenths.map(|it| tenths(it, "\u{a0}cm")),
    );
    put(
        Group::Measured,
        "fetal_hearts",
        "Fetal heart",
        hearts(findings),
    );
    put(
        Group::Measured,
        "systolic",
        "Systolic",
        visit.systolic.map(|it| unit(it, "\u{a0}mmHg")),
    );
    put(
        Group::Measured,
        "diastolic",
        "Diastolic",
        visit.diastolic.map(|it| unit(it, "\u{a0}mmHg")),
    );
    put(
        Group::Measured,
        "pulse",
        "Pulse",
        visit
            .pulse
            .map(|it| unit(u16::from(it), "\u{a0}/\u{a0}min")),
    );
    put(
        Group::Measured,
        "temperature_c",
        "Temperature",
        visit.temperature_tenths.map(|it| tenths(it, "\u{a0}°C")),
    );
    put(
        Group::Measured,
        "urine_protein",
        "Protein in urine",
        words(visit.urine_protein),
    );
}

fn hearts(findings: &Findings) -> Option<String> {
    let visit = &findings.visit;
    let counts: Vec<String> = visit.fetal_hearts.iter().map(u8::to_string).collect();
    if counts.is_empty() {
        return yes(visit.heart_sought, "looked for, not heard");
    }
    Some(format!("{}\u{a0}/\u{a0}min", counts.join(" and ")))
}

fn told(
    findings: &Findings,
    zone: Tz,
    put: &mut impl FnMut(Group, &'static str, &'static str, Option<String>),
) {
    let visit = &findings.visit;
    put(
        Group::Told,
        "movements",
        "Movements",
        words(visit.movements),
    );
    put(Group::Told, "waters", "Waters", words(visit.waters));
    put(
        Group::Told,
        "waters_broke",
        "Waters broke",
        findings.waters_broke_at.map(|it| spoken::moment(it, zone)),
    );
    put(Group::Told, "danger_signs", "Danger signs", signs(findings));
    put(
        Group::Told,
        "in_labour",
        "In labour",
        visit.in_labour.then(|| "yes".to_owned()),
    );
    put(
        Group::Told,
        "labour_began",
        "Labour began",
        findings.labour_began_at.map(|it| spoken::moment(it, zone)),
    );
}

fn signs(findings: &Findings) -> Option<String> {
    let signs = &findings.visit.danger_signs;
    if signs.is_empty() {
        return findings.signs_asked.then(|| "none, all asked".to_owned());
    }
    let words: Vec<&str> = signs.iter().map(|it| it.words()).collect();
    Some(words.join(", "))
}

fn words<T: Vocabulary>(value: Option<T>) -> Option<String> {
    value.map(|it| it.words().to_owned())
}

fn yes(value: Option<bool>, said: &str) -> Option<String> {
    value.filter(|yes| *yes).map(|_| said.to_owned())
}

/// What was left out, of the things that a visit can hold; a thing that does not apply is not missing.
pub(super) fn left_out(findings: &Findings, zone: Tz) -> Vec<&'static str> {
    const ONLY_WHEN_SO: [&str; 7] = [
        "bladder_empty",
        "many_small_parts",
        "belly_unusually_large",
        "waters_broke",
        "labour_began",
        "in_labour",
        "note",
    ];
    let lower = findings.visit.palpation.as_ref().and_then(|it| it.lower);
    let head_low = lower == Some(Pole::HardRound);
    entries(findings, zone)
        .into_iter()
        .filter(|it| it.said.is_none() && it.group != Group::Agreed)
        .filter(|it| !ONLY_WHEN_SO.contains(&it.name))
        .filter(|it| head_low || !["fifths", "head"].contains(&it.name))
        .map(|it| it.label)
        .collect()
}

/// Whether a visit says that the waters are broken.
pub(super) fn says_broken(findings: &Findings) -> bool {
    findings.waters_broke_at.is_some()
        || matches!(
            findings.visit.waters,
            Some(Waters::Broken | Waters::BrokenFoul)
        )
}

/// A position's code read aloud: `LOT or LOA`, `dorso anterior head left`.
pub(super) fn position(code: &str) -> String {
    code.replace("-or-", " or ").replace('-', " ")
}

/// What the letters of a position mean; `None` for words that explain themselves.
pub(super) fn position_meaning(code: &str) -> Option<&'static str> {
    let first = code.split("-or-").next()?;
    let letters = first.len() <= 3 && first.chars().all(|it| it.is_ascii_uppercase());
    if !letters {
        return None;
    }
    Some(if code.contains("-or-") {
        "L or R: the side of the back; O: the back of the head, S: the tail bone; A: to her front, T: to her side. By hand these two cannot be told apart."
    } else {
        "L or R: the side of the back; O: the back of the head, S: the tail bone; A: to her front, P: to her back, T: to her side."
    })
}

/// Which way the baby faces by a position's code.
pub(super) fn faces(code: &str) -> &'static str {
    match code {
        "LOP" | "ROP" | "OP" => "facing her front (labour may be longer), provisional",
        "LSP" | "RSP" | "SP" => "facing her front, provisional",
        "LOA" | "ROA" | "OA" | "LSA" | "RSA" | "SA" | "LOT-or-LOA" | "ROT-or-ROA"
        | "LST-or-LSA" | "RST-or-RSA" => "facing her back or side (usual), provisional",
        "LO" | "RO" | "LS" | "RS" => "the front was not felt, so the way it faces is open",
        "unknown" => "",
        _ => "provisional",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clinical::{Moment, PalpationFindings};

    #[test]
    fn what_was_not_examined_is_named_and_never_said_to_be_normal() {
        let mut findings = Findings::at(Moment::default());
        let missing = left_out(&findings, Tz::UTC);
        assert!(missing.contains(&"Fundus") && missing.contains(&"Danger signs"));
        assert!(
            !missing.contains(&"Fifths above the brim"),
            "no head, no fifths"
        );
        findings.visit.palpation = Some(PalpationFindings {
            lower: Some(Pole::HardRound),
            ..PalpationFindings::default()
        });
        assert!(left_out(&findings, Tz::UTC).contains(&"Fifths above the brim"));
    }

    #[test]
    fn only_of_a_head_that_comes_first_is_labour_said_to_be_longer() {
        for head_first in ["LOP", "ROP", "OP"] {
            assert!(faces(head_first).contains("labour may be longer"));
        }
        for breech_first in ["LSP", "RSP", "SP"] {
            assert_eq!(faces(breech_first), "facing her front, provisional");
        }
        for other in ["LOA", "LSA", "dorso-posterior-head-left", "breech-left"] {
            assert!(!faces(other).contains("longer"), "{other}");
        }
    }

    #[test]
    fn a_position_is_read_aloud_with_its_doubt() {
        assert_eq!(position("LST-or-LSA"), "LST or LSA");
        assert_eq!(
            position("dorso-anterior-head-left"),
            "dorso anterior head left"
        );
        assert!(
            position_meaning("LST-or-LSA").is_some_and(|it| it.contains("cannot be told apart"))
        );
        assert_eq!(position_meaning("head-left"), None);
    }
}
