//! Two babies: seen by scan, likely, or possible.

use super::advice::{TWINS_PLAN, TWINS_SCAN};
use super::rule::{Raised, Rule, Settling, Softening, choice, edge, memory, practice, read};
use super::usual::{Usual, at, head_below, undated};
use crate::clinical::picture::{Picture, TwinSigns};
use crate::clinical::speech::{count, list};
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask, ask_fact};
use crate::clinical::{Case, Category, PalpationFindings, Urgency};

const BASE: Rule = Rule {
    settles: Settling::Never,
    ..Rule::of(Category::SuspectedTwins)
};

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "twins-known",
        title: "Twins by scan",
        urgencies: &[Urgency::Now, Urgency::Soon, Urgency::Review],
        when: "The last scan that counted saw two or more babies, at any gestation. In labour: now; else soon. With staff skilled in twin birth: review.",
        advice: TWINS_PLAN,
        sources: &[read("NG235 T7"), memory("PCPNC C2")],
        softens: Some(Softening::Twins),
        judged_by: known,
        edges: &[
            edge(
                Urgency::Now,
                "two by scan, in labour",
                || scanned(2).in_labour().case(),
                "two by scan, not in labour",
                || scanned(2).case(),
            ),
            edge(
                Urgency::Soon,
                "two by scan",
                || scanned(2).case(),
                "one by scan",
                || scanned(1).case(),
            ),
            edge(
                Urgency::Review,
                "two by scan, skilled staff",
                || {
                    scanned(2)
                        .told(|case| case.post.skilled_twins = true)
                        .case()
                },
                "two by scan, no skilled staff",
                || scanned(2).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "twins-likely",
        title: "Twins likely",
        urgencies: &[Urgency::Now, Urgency::Soon, Urgency::Review],
        when: "From 24w+0d (gestation unknown: tape 24.0 cm or more, or none), or in labour or with waters broken. A strong sign: two heads, three or more poles, or two hearts counted together that differ by 10 or more. Or two lesser signs where no scan has counted. In labour: now; else soon. A strong sign against a scan of one, or skilled staff: review.",
        advice: TWINS_PLAN,
        sources: &[read("OU-L8.7.2"), choice("a scan outranks hands")],
        softens: Some(Softening::Twins),
        judged_by: likely,
        edges: &[
            edge(
                Urgency::Now,
                "hearts 140 and 150 together, in labour",
                || hearts(150).uncounted().in_labour().case(),
                "the same, not in labour",
                || hearts(150).uncounted().case(),
            ),
            edge(
                Urgency::Soon,
                "hearts 140 and 150 together",
                || hearts(150).uncounted().case(),
                "hearts 140 and 149 together",
                || hearts(149).uncounted().case(),
            ),
            edge(
                Urgency::Soon,
                "24w+0d, many small parts and a large belly",
                || two_lesser(168),
                "23w+6d, the same",
                || two_lesser(167),
            ),
            edge(
                Urgency::Review,
                "hearts 140 and 150, a scan of one",
                || hearts(150).case(),
                "hearts 140 and 149, a scan of one",
                || hearts(149).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "twins-possible",
        title: "Twins possible",
        urgencies: &[Urgency::Review],
        when: "From 24w+0d (gestation unknown: tape 24.0 cm or more, or none), or in labour or with waters broken: no strong sign, exactly one lesser sign and no scan that counted. Lesser signs: size (above the 97th centile; gestation unknown: tape over 40.0 cm; a belly that looks unusually large), many small parts, two soft poles without a head. Not for size by the centile alone: a large-for-dates rule says that.",
        advice: TWINS_SCAN,
        sources: &[
            read("PEP-8A-D"),
            practice("one baby lying awkwardly is commoner than two"),
        ],
        judged_by: possible,
        edges: &[
            edge(
                Urgency::Review,
                "dates unknown, tape 40.1 cm",
                || undated().tape(401).case(),
                "dates unknown, tape 40.0 cm",
                || undated().tape(400).case(),
            ),
            edge(
                Urgency::Review,
                "many small parts, no scan that counted",
                || small_parts(at(252).uncounted()),
                "many small parts, a scan of one",
                || small_parts(at(252)),
            ),
        ],
        ..BASE
    },
];

fn scanned(babies: u8) -> Usual {
    at(252).told(|case| {
        for scan in &mut case.dating.scans {
            scan.babies = Some(babies);
        }
    })
}

fn hearts(other: u8) -> Usual {
    at(252).visit(|visit| visit.fetal_hearts = vec![140, other])
}

fn two_lesser(days: i64) -> Case {
    at(days)
        .uncounted()
        .hands(PalpationFindings {
            many_small_parts: Some(true),
            belly_unusually_large: Some(true),
            ..PalpationFindings::default()
        })
        .case()
}

fn small_parts(usual: Usual) -> Case {
    usual
        .hands(PalpationFindings {
            many_small_parts: Some(true),
            ..head_below()
        })
        .case()
}

fn known(seen: &Picture<'_>, _: &Raised) -> Verdict {
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

fn likely(seen: &Picture<'_>, _: &Raised) -> Verdict {
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

fn possible(seen: &Picture<'_>, _: &Raised) -> Verdict {
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
