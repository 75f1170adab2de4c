//! Past the due date.

use super::advice::PAST_DATES;
use super::rule::{Raised, Rule, choice, edge, read};
use super::usual::at;
use crate::clinical::picture::Picture;
use crate::clinical::verdict::{Spoken, Unit, Verdict, Why, reaches, under};
use crate::clinical::{Case, Category, Gestation, Urgency};

const BASE: Rule = Rule {
    advice: PAST_DATES,
    ..Rule::of(Category::PastDates)
};

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "past-42",
        title: "From 42 weeks",
        urgencies: &[Urgency::Now, Urgency::Soon],
        when: "42w+0d or more, not in labour, twins known too: now. Suboptimal dating (no scan before 22w+0d): soon.",
        sources: &[
            read("IOL22, PEP-1-54"),
            choice("twins are not safer past their date"),
            choice("softer where no early scan dates her"),
        ],
        judged_by: past_42,
        edges: &[
            edge(
                Urgency::Now,
                "42w+0d",
                || at(294).case(),
                "41w+6d",
                || at(293).case(),
            ),
            edge(
                Urgency::Soon,
                "42w+0d by the period alone",
                || at(294).unscanned().case(),
                "41w+6d by the period alone",
                || at(293).unscanned().case(),
            ),
            edge(
                Urgency::Now,
                "42w+0d, first scan at 21w+6d",
                || scanned(294, 153),
                "42w+0d, first scan at 22w+0d",
                || scanned(294, 154),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "past-41",
        title: "From 41 weeks",
        urgencies: &[Urgency::Soon, Urgency::Review],
        when: "41w+0d to 41w+6d, not in labour: soon. Suboptimal dating (no scan before 22w+0d): review.",
        sources: &[
            read("IOL22: known with certainty; not where dates are unreliable"),
            choice("softer where no early scan dates her"),
        ],
        judged_by: past_41,
        edges: &[
            edge(
                Urgency::Soon,
                "41w+0d",
                || at(287).case(),
                "40w+6d",
                || at(286).case(),
            ),
            edge(
                Urgency::Review,
                "41w+0d by the period alone",
                || at(287).unscanned().case(),
                "40w+6d by the period alone",
                || at(286).unscanned().case(),
            ),
            edge(
                Urgency::Soon,
                "41w+6d",
                || at(293).case(),
                "42w+0d",
                || at(294).case(),
            ),
            edge(
                Urgency::Soon,
                "41w+0d, first scan at 21w+6d",
                || scanned(287, 153),
                "41w+0d, first scan at 22w+0d",
                || scanned(287, 154),
            ),
        ],
        ..BASE
    },
];

fn scanned(days: i64, scanned_at: i64) -> Case {
    at(days).scanned_at(scanned_at).case()
}

fn known<'a>(seen: &'a Picture<'_>) -> Result<&'a Gestation, Why> {
    seen.not_labouring()?;
    seen.dated
        .gestation
        .as_ref()
        .ok_or(Why::Fact("gestation unknown"))
}

fn words(gestation: &Gestation, limit: &str) -> String {
    format!(
        "{}, from {limit}; {}.",
        gestation.text(),
        if gestation.suboptimal {
            "softened: no scan before 22w+0d"
        } else {
            "dated by a scan before 22w+0d"
        }
    )
}

fn past_42(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let gestation = known(seen)?;
    reaches("G", gestation.days, 294, Unit::Gestation)?;
    let evidence = words(gestation, "42w+0d");
    Ok(if gestation.suboptimal {
        Spoken::soon(evidence)
    } else {
        Spoken::now(evidence)
    })
}

fn past_41(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let gestation = known(seen)?;
    reaches("G", gestation.days, 287, Unit::Gestation)?;
    under("G", gestation.days, 294, Unit::Gestation)?;
    let evidence = words(gestation, "41w+0d");
    Ok(if gestation.suboptimal {
        Spoken::review(evidence)
    } else {
        Spoken::soon(evidence)
    })
}
