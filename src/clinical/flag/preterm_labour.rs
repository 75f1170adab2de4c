//! Labour before term.

use super::advice::PRETERM;
use super::rule::{Raised, Rule, edge, practice, read};
use super::usual::{at, undated};
use crate::clinical::picture::{NEAR_TAPE, Picture};
use crate::clinical::speech::cm;
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, ask_fact, reaches, under};
use crate::clinical::{Category, Urgency, gestation_text};

const BASE: Rule = Rule {
    advice: PRETERM,
    ..Rule::of(Category::PretermLabour)
};

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "labour-before-34",
        title: "Before 34 weeks",
        urgencies: &[Urgency::Now],
        when: "In labour under 34w+0d.",
        sources: &[read("BTC-MC 5, PEP-5")],
        judged_by: before_34,
        edges: &[edge(
            Urgency::Now,
            "in labour at 33w+6d",
            || at(237).in_labour().case(),
            "in labour at 34w+0d",
            || at(238).in_labour().case(),
        )],
        ..BASE
    },
    Rule {
        code: "labour-before-37",
        title: "34w+0d to 36w+6d",
        urgencies: &[Urgency::Review],
        when: "In labour from 34w+0d to 36w+6d.",
        sources: &[
            read("BTC-MC 5"),
            practice("from 34 weeks many district posts manage with warmth and help at hand"),
        ],
        judged_by: before_37,
        edges: &[
            edge(
                Urgency::Review,
                "in labour at 36w+6d",
                || at(258).in_labour().case(),
                "in labour at 37w+0d",
                || at(259).in_labour().case(),
            ),
            edge(
                Urgency::Review,
                "in labour at 34w+0d",
                || at(238).in_labour().case(),
                "in labour at 33w+6d",
                || at(237).in_labour().case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "labour-dates-unknown",
        title: "Dates unknown, small tape",
        urgencies: &[Urgency::Review],
        when: "In labour, gestation unknown, tape 30.0 to 32.9 cm.",
        sources: &[read("PEP-5-24, BTC-MC 5.24")],
        judged_by: dates_unknown,
        edges: &[
            edge(
                Urgency::Review,
                "tape 30.0 cm",
                || undated().tape(300).in_labour().case(),
                "tape 29.9 cm",
                || undated().tape(299).in_labour().case(),
            ),
            edge(
                Urgency::Review,
                "tape 32.9 cm",
                || undated().tape(329).in_labour().case(),
                "tape 33.0 cm",
                || undated().tape(330).in_labour().case(),
            ),
        ],
        ..BASE
    },
];

fn today(seen: &Picture<'_>) -> Result<u16, Why> {
    seen.labouring()?;
    seen.today.ok_or(Why::Fact("gestation unknown"))
}

fn before_34(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let days = today(seen)?;
    under("G", days, 238, Unit::Gestation)?;
    Ok(Spoken::now(format!(
        "In labour at {}, under 34w+0d.",
        gestation_text(days)
    )))
}

fn before_37(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let days = today(seen)?;
    reaches("G", days, 238, Unit::Gestation)?;
    under("G", days, 259, Unit::Gestation)?;
    Ok(Spoken::review(format!(
        "In labour at {}, under 37w+0d.",
        gestation_text(days)
    )))
}

fn dates_unknown(seen: &Picture<'_>, _: &Raised) -> Verdict {
    seen.labouring()?;
    ask_fact(seen.today.is_none(), "the gestation is known")?;
    let tape = seen.taped()?;
    reaches("tape", tape, 300, Unit::Tape)?;
    under("tape", tape, NEAR_TAPE, Unit::Tape)?;
    Ok(Spoken::review(format!(
        "In labour, gestation unknown, tape {}: under 33.0 cm it may be before 34 weeks.",
        cm(tape)
    )))
}
