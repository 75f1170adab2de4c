//! How signs of two babies are weighed against what a scan counted.

use crate::clinical::flag::rule::Raised;
use crate::clinical::picture::{Picture, TwinSigns};
use crate::clinical::speech::{count, list};
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask, ask_fact};

pub(super) fn known(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let babies = seen.dated.babies.ok_or(Why::Fact("no scan has counted"))?;
    ask_fact(babies >= 2, "the last scan that counted saw one baby")?;
    let evidence = format!(
        "{babies} babies by the last scan that counted; {}.",
        seen.age_today()
    );
    Ok(by_labour(seen, evidence))
}

fn by_labour(seen: &Picture<'_>, evidence: String) -> Spoken {
    if seen.labour.is_some() {
        Spoken::now(evidence + " In labour.")
    } else {
        Spoken::soon(evidence)
    }
}

pub(super) fn likely(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.not_twins_known()?;
    seen.felt_age_or_begun()?;
    let signs = &seen.twins;
    if signs.strong() {
        let evidence = format!(
            "{}; {}. {}",
            strong_words(seen, signs),
            seen.age(),
            scan_words(seen)
        );
        return Ok(if seen.dated.babies == Some(1) {
            Spoken::review(evidence + " A scan outranks hands.")
        } else {
            by_labour(seen, evidence)
        });
    }
    ask(
        signs.suggestive() >= 2,
        Why::Figure {
            what: "no strong sign, lesser signs",
            found: i64::try_from(signs.suggestive()).unwrap_or_default(),
            is: "are fewer than",
            limit: 2,
            unit: Unit::Plain,
        },
    )?;
    ask_fact(seen.dated.babies.is_none(), "a scan counted one baby")?;
    let evidence = format!(
        "Two lesser signs: {}; {}. {}",
        lesser_words(seen, signs),
        seen.age(),
        scan_words(seen)
    );
    Ok(by_labour(seen, evidence))
}

pub(super) fn possible(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.not_twins_known()?;
    seen.felt_age_or_begun()?;
    let signs = &seen.twins;
    ask(!signs.strong(), Why::Said("twins-likely"))?;
    ask(
        signs.suggestive() == 1,
        Why::Figure {
            what: "lesser signs",
            found: i64::try_from(signs.suggestive()).unwrap_or_default(),
            is: "are not",
            limit: 1,
            unit: Unit::Plain,
        },
    )?;
    ask_fact(seen.dated.babies.is_none(), "a scan counted one baby")?;
    // A large-for-dates rule says that.
    ask_fact(
        !signs.above_97th || signs.belly_large,
        "the one sign is size above the 97th centile, which a large-for-dates rule says",
    )?;
    Ok(Spoken::review(format!(
        "One lesser sign: {}; {}. {}",
        lesser_words(seen, signs),
        seen.age(),
        scan_words(seen)
    )))
}

fn scan_words(seen: &Picture<'_>) -> String {
    match seen.dated.babies {
        Some(babies) => format!("A scan counted {}.", count(babies.into(), "baby", "babies")),
        None => "No scan has counted the babies.".to_owned(),
    }
}

fn strong_words(seen: &Picture<'_>, signs: &TwinSigns) -> String {
    let mut words = Vec::new();
    if signs.two_heads() {
        words.push(format!("{} heads felt", signs.felt.heads));
    }
    if signs.three_poles() {
        words.push(format!(
            "{} poles felt",
            signs.felt.heads + signs.felt.breeches
        ));
    }
    if signs.two_heads() || signs.three_poles() {
        words.push(
            seen.v
                .map(crate::clinical::picture::sites)
                .unwrap_or_default(),
        );
    }
    if let Some((at, least, most)) = signs.hearts {
        words.push(format!(
            "hearts {least} and {most} counted together{}, {} apart",
            seen.when(at),
            most - least
        ));
    }
    let text = words.join("; ");
    let mut letters = text.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}

fn lesser_words(seen: &Picture<'_>, signs: &TwinSigns) -> String {
    let mut words = Vec::new();
    if signs.above_97th {
        words.push(format!(
            "{}, {}, above the 97th",
            seen.tape_words(),
            seen.centile_words()
        ));
    }
    if signs.above_40_cm {
        words.push(format!("{}, over 40.0 cm", seen.tape_words()));
    }
    if signs.belly_large {
        words.push("the belly looks unusually large".to_owned());
    }
    if signs.small_parts {
        words.push("many small parts".to_owned());
    }
    if signs.two_soft_poles {
        words.push(format!(
            "two soft poles and no head ({})",
            seen.v
                .map(crate::clinical::picture::sites)
                .unwrap_or_default()
        ));
    }
    list(&words)
}
