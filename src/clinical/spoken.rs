//! A judgement as one would say it at the bedside: what was found, how soon, why.

use super::{Assessment, Category, Certainty, Flag, Lie, Palpation, Presentation, rule};
use std::fmt::Write;

/// “Breech, likely. Refer soon: she is 36 weeks and 2 days.”
///
/// Clear findings plainly, probable ones with “likely”; of several flags the first leads and the others are counted.
#[must_use]
pub fn spoken(assessment: &Assessment) -> String {
    let mut text = String::new();
    let first = assessment.flags.first();
    match first.and_then(|flag| presenting_part(assessment, flag)) {
        Some(part) => text.push_str(&part),
        None => text.push_str(&hands(assessment.palpation.as_ref())),
    }
    let Some(flag) = first else {
        text.push_str(" Nothing found that asks for more than the next visit.");
        return text;
    };
    // Writing into a text cannot fail.
    let _ = write!(
        text,
        " {}: {}.",
        flag.urgency.words(),
        reason(assessment, flag)
    );
    match assessment.flags.len() {
        1 => {}
        2 => text.push_str(" One more flag stands."),
        more => {
            let _ = write!(text, " {} more flags stand.", more - 1);
        }
    }
    text
}

/// “36 weeks and 2 days”.
#[must_use]
pub fn weeks_and_days(days: u16) -> String {
    let part = |number: u16, one: &str| match number {
        1 => format!("1 {one}"),
        many => format!("{many} {one}s"),
    };
    match (days / 7, days % 7) {
        (weeks, 0) => part(weeks, "week"),
        (0, days) => part(days, "day"),
        (weeks, days) => format!("{} and {}", part(weeks, "week"), part(days, "day")),
    }
}

/// What the hands found, as the beginning of the conclusion.
fn hands(palpation: Option<&Palpation>) -> String {
    let Some(read) = palpation else {
        return "Nothing palpated.".to_owned();
    };
    let found = match (read.certainty, read.lie, read.presentation) {
        (Certainty::Conflicting, ..) => return "The findings contradict each other.".to_owned(),
        (Certainty::Insufficient, ..) | (_, Lie::Unknown, _) => {
            return "Too little was felt to say how the baby lies.".to_owned();
        }
        (_, Lie::Transverse, _) => "Across",
        (_, Lie::Oblique, Presentation::Cephalic) => "Slanting, head nearest the brim",
        (_, Lie::Oblique, Presentation::Breech) => "Slanting, breech nearest the brim",
        (_, Lie::Oblique, _) => "Slanting, nothing over the brim",
        (_, Lie::Longitudinal, Presentation::Breech) => "Breech",
        (_, Lie::Longitudinal, Presentation::Cephalic) => "Head first",
        (_, Lie::Longitudinal, _) => "Lengthwise",
    };
    if read.certainty == Certainty::Probable {
        format!("{found}, likely.")
    } else {
        format!("{found}.")
    }
}

/// For flags about what presents: said by the hands, or felt inside where the hands say something else.
fn presenting_part(assessment: &Assessment, flag: &Flag) -> Option<String> {
    let read = assessment.palpation.as_ref();
    let (word, by_hands) = match flag.category {
        Category::Breech => (
            "Breech",
            read.is_some_and(|it| it.presentation == Presentation::Breech),
        ),
        Category::TransverseLie if flag.rule != "lie-unstable" => (
            "Across",
            read.is_some_and(|it| matches!(it.lie, Lie::Transverse | Lie::Oblique)),
        ),
        _ => return None,
    };
    (!by_hands).then(|| format!("{word}, felt inside."))
}

/// Why it is this urgent: the age or labour where the conclusion names the finding already, else the rule's name.
fn reason(assessment: &Assessment, flag: &Flag) -> String {
    let named = match flag.category {
        Category::Breech => true,
        Category::TransverseLie => flag.rule != "lie-unstable",
        _ => false,
    };
    if !named {
        let title = rule(flag.rule).map_or(flag.rule, |rule| rule.title);
        return lowered(title);
    }
    let begun = matches!(flag.rule, "breech-in-labour" | "lie-in-labour");
    match (&assessment.labour, &assessment.gestation) {
        (Some(_), _) => "she is in labour".to_owned(),
        (None, _) if begun => "her waters are broken".to_owned(),
        (None, Some(known)) => format!("she is {}", weeks_and_days(known.days)),
        (None, None) => "her dates are not known".to_owned(),
    }
}

fn lowered(title: &str) -> String {
    let mut letters = title.chars();
    letters
        .next()
        .map(|first| first.to_lowercase().chain(letters).collect())
        .unwrap_or_default()
}
