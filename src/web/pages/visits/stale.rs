//! Two versions of one visit: both shown, a choice for each entry that differs.

use askama::Template;

use crate::registry::visits::{Findings, Revision, Visit};
use crate::web::answer::{self, Answer};
use crate::web::filters;
use crate::web::form::{Fault, Faults, Field, Form as _, Sense, Typed};
use crate::web::shell::Shell;

use super::form::{VisitForm, typed_again};
use super::subject::Subject;
use super::words::entries;

/// One entry that is not the same in both.
struct Difference {
    name: &'static str,
    label: &'static str,
    saved: String,
    mine: String,
    /// `saved`, `mine` or nothing yet.
    chosen: String,
    /// The page came back without a choice.
    missed: bool,
}

#[derive(Template)]
#[template(path = "visits/stale.html")]
struct StalePage {
    shell: Shell,
    sense: Sense,
    subject: Subject,
    faults: Faults,
    standing: Revision,
    differing: Vec<Difference>,
    carried: Vec<(String, String)>,
    reason: Field<String>,
    request: String,
    action: String,
    back: String,
}

impl StalePage {
    fn differ(&self) -> String {
        match self.differing.len() {
            1 => "One entry differs: choose.".to_owned(),
            many => format!("{many} entries differ: choose for each."),
        }
    }
}

/// What the slower one decided.
pub(super) enum Choice {
    /// The form with each entry as chosen.
    Made(Box<VisitForm>),
    /// Everything stays as it is saved.
    AllSaved,
    /// Not every entry has a choice.
    Missing,
}

/// The page with both versions, 409; `again` holds the choices of a page that came back incomplete.
pub(super) fn answer(
    shell: Shell,
    subject: Subject,
    visit: &Visit,
    form: &VisitForm,
    again: Option<&Typed>,
    sense: Sense,
) -> Answer {
    let here = format!("/visits/{}", visit.place.id);
    let Some(mine) = form.findings() else {
        return answer::go(here);
    };
    let mut differing = differences(&visit.standing.findings, &mine, &sense);
    if let Some(typed) = again {
        for it in &mut differing {
            typed
                .last(&format!("keep_{}", it.name))
                .clone_into(&mut it.chosen);
            it.missed = it.chosen.is_empty();
        }
    }
    let missed = differing.iter().filter(|it| it.missed).map(|it| Fault {
        anchor: format!("keep_{}-saved", it.name),
        label: it.label.to_owned(),
        why: "choose one of the two".to_owned(),
    });
    let mut carried = typed_again(&mine, &sense);
    carried.push(("compared".to_owned(), "true".to_owned()));
    answer::stale(&StalePage {
        faults: Faults(missed.collect()),
        standing: visit.standing.clone(),
        reason: form.reason.clone(),
        request: form.request.clone(),
        action: format!("{here}/amend"),
        back: here,
        shell,
        sense,
        subject,
        differing,
        carried,
    })
}

fn differences(saved: &Findings, mine: &Findings, sense: &Sense) -> Vec<Difference> {
    let said = |text: &Option<String>| text.clone().unwrap_or_else(|| "not examined".to_owned());
    entries(saved, sense.zone)
        .into_iter()
        .zip(entries(mine, sense.zone))
        .filter(|(saved, mine)| saved.said != mine.said)
        .map(|(saved, mine)| Difference {
            name: saved.name,
            label: saved.label,
            saved: said(&saved.said),
            mine: said(&mine.said),
            chosen: String::new(),
            missed: false,
        })
        .collect()
}

/// Puts both together as chosen.
pub(super) fn settled(
    typed: &Typed,
    form: &VisitForm,
    standing: &Revision,
    sense: &Sense,
) -> Choice {
    let Some(mine) = form.findings() else {
        return Choice::Missing;
    };
    let differing = differences(&standing.findings, &mine, sense);
    let mut pairs = typed_again(&mine, sense);
    let saved = typed_again(&standing.findings, sense);
    let mut kept_mine = false;
    for it in &differing {
        match typed.last(&format!("keep_{}", it.name)) {
            "mine" => kept_mine = true,
            "saved" => {
                let sent = |name: &str| belongs(name, it.name);
                pairs.retain(|(name, _)| !sent(name));
                pairs.extend(saved.iter().filter(|(name, _)| sent(name)).cloned());
            }
            _ => return Choice::Missing,
        }
    }
    if !kept_mine {
        return Choice::AllSaved;
    }
    for (name, text) in [
        ("form", "list"),
        ("request", &form.request),
        ("reason", &form.reason.typed),
    ] {
        pairs.push((name.to_owned(), text.to_owned()));
    }
    pairs.push(("revision".to_owned(), standing.number.to_string()));
    Choice::Made(Box::new(VisitForm::read(
        &Typed::from_iter(pairs).sent_now(),
        sense,
    )))
}

/// Whether a name that the form sends is part of an entry.
fn belongs(sent: &str, entry: &str) -> bool {
    let parted = sent.strip_suffix("_date").or(sent.strip_suffix("_time"));
    sent == entry || parted == Some(entry) || (entry == "next_visit_on" && sent == "next_visit")
}
