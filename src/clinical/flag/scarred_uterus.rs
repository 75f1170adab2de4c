//! A caesarean before.

use super::advice::SCAR;
use super::rule::{Raised, Rule, edge, memory, read};
use super::usual::{Usual, at, undated};
use crate::clinical::picture::Picture;
use crate::clinical::speech::count;
use crate::clinical::verdict::{Spoken, Verdict, Why, ask_fact};
use crate::clinical::{Category, Urgency};

pub(super) static RULES: &[Rule] = &[Rule {
    code: "previous-caesarean",
    title: "Caesarean before",
    urgencies: &[Urgency::Now, Urgency::Soon, Urgency::Review],
    when: "In labour: now. From 36w+0d (gestation unknown: tape 33.0 cm or more, or none): soon. Before: review, plan the place of birth.",
    advice: SCAR,
    sources: &[read("NG235 T7, PEP-1 case 4"), memory("PCPNC C2")],
    judged_by: judge,
    edges: &[
        edge(
            Urgency::Now,
            "in labour",
            || scarred(at(252)).in_labour().case(),
            "36w+0d, not in labour",
            || scarred(at(252)).case(),
        ),
        edge(
            Urgency::Soon,
            "36w+0d",
            || scarred(at(252)).case(),
            "35w+6d",
            || scarred(at(251)).case(),
        ),
        edge(
            Urgency::Soon,
            "dates unknown, tape 33.0 cm",
            || scarred(undated()).tape(330).case(),
            "dates unknown, tape 32.9 cm",
            || scarred(undated()).tape(329).case(),
        ),
        edge(
            Urgency::Review,
            "one caesarean, 20w+0d",
            || scarred(at(140)).case(),
            "no caesarean, 20w+0d",
            || at(140).case(),
        ),
    ],
    ..Rule::of(Category::ScarredUterus)
}];

fn scarred(usual: Usual) -> Usual {
    usual.told(|case| case.mother.previous_caesareans = Some(1))
}

fn judge(seen: &Picture<'_>, _: &Raised) -> Verdict {
    let number = seen
        .case
        .mother
        .previous_caesareans
        .ok_or(Why::Fact("no caesarean known"))?;
    ask_fact(number >= 1, "no caesarean before")?;
    let before = format!("{} before", count(number.into(), "caesarean", "caesareans"));
    if seen.labour.is_some() {
        return Ok(Spoken::now(format!("{before}; in labour.")));
    }
    let chosen = match (seen.today, seen.tape) {
        (Some(_), _) => seen.age_today(),
        (None, None) => "gestation unknown and no tape, counted as at term".to_owned(),
        (None, Some(_)) => format!("gestation unknown, {}", seen.tape_words()),
    };
    let evidence = format!("{before}; {chosen}, booked from 36w+0d.");
    Ok(
        if seen.late() || (seen.today.is_none() && seen.tape.is_none()) {
            Spoken::soon(evidence)
        } else {
            Spoken::review(evidence)
        },
    )
}
