//! One line into one case.

use super::fields::{
    Path, code, codes, day, list, moment, object, required, truth, unknown, whole,
};
use super::json::Node;
use super::{Refused, Told, records};
use crate::clinical::dating::scan_days;
use crate::clinical::{Case, Dating, Day, Moment, Mother, Post, Scan};
use std::borrow::Cow;

/// Where a line is wrong, and what.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{path}: {what}")]
pub struct Fault {
    /// Such as `visits[0].palpation.fifths`; entries are counted from 0.
    pub path: String,
    /// In words.
    pub what: String,
}

impl Fault {
    pub(super) fn new(path: impl Into<String>, what: impl Into<String>) -> Self {
        Self {
            path: path.into(),
            what: what.into(),
        }
    }
}

/// Refused with the name of the case wherever it can be read.
pub(super) fn case(node: &Node<'_>) -> Result<Told, Refused> {
    let Node::Object(entries) = node else {
        return Err(Refused {
            name: None,
            fault: Fault::new("line", "not an object"),
        });
    };
    let name = entries
        .iter()
        .find(|(key, _)| key == "case")
        .and_then(|(_, value)| match value {
            Node::Text(name) if !name.is_empty() => Some(name.clone().into_owned()),
            _ => None,
        });
    let Some(name) = name else {
        return Err(Refused {
            name: None,
            fault: Fault::new("case", "a text that is not empty is required"),
        });
    };
    match told(entries) {
        Ok(case) => Ok(Told { name, case }),
        Err(fault) => Err(Refused {
            name: Some(name),
            fault,
        }),
    }
}

fn told(entries: &[(Cow<'_, str>, Node<'_>)]) -> Result<Case, Fault> {
    let top = Path::Top;
    let on = entries
        .iter()
        .find(|(key, _)| key == "on")
        .map(|(_, value)| moment(value, &top.key("on")))
        .transpose()?
        .flatten()
        .ok_or_else(|| required(&top.key("on")))?;
    let mut case = Case::new(on);
    for (key, value) in entries {
        let here = top.key(key);
        match &**key {
            "case" | "on" => {}
            "labour_began_at" => case.labour_began_at = not_later(value, &here, on)?,
            "waters_broke_at" => case.waters_broke_at = not_later(value, &here, on)?,
            "mother" => case.mother = mother(value, &here)?,
            "dating" => case.dating = dating(value, &here, on.date())?,
            "post" => case.post = post(value, &here)?,
            "visits" => {
                for (at, entry) in list(value, &here)?.unwrap_or_default().iter().enumerate() {
                    case.visits.push(records::visit(entry, &here.index(at))?);
                }
            }
            "labour" => {
                for (at, entry) in list(value, &here)?.unwrap_or_default().iter().enumerate() {
                    case.labour.push(records::row(entry, &here.index(at))?);
                }
            }
            _ => return Err(unknown(&here)),
        }
    }
    Ok(case)
}

fn not_later(value: &Node<'_>, path: &Path<'_>, on: Moment) -> Result<Option<Moment>, Fault> {
    let at = moment(value, path)?;
    if at.is_some_and(|at| at > on) {
        return Err(path.fault("is later than `on`"));
    }
    Ok(at)
}

fn mother(node: &Node<'_>, path: &Path<'_>) -> Result<Mother, Fault> {
    let mut mother = Mother::default();
    for (key, value) in object(node, path)? {
        let here = path.key(key);
        match &**key {
            "births_before" => mother.births_before = whole(value, &here, 0, 25)?,
            "age_years" => mother.age_years = whole(value, &here, 8, 60)?,
            "previous_caesareans" => mother.previous_caesareans = whole(value, &here, 0, 15)?,
            "history" => mother.history = codes(value, &here)?,
            _ => return Err(unknown(&here)),
        }
    }
    if let (Some(births), Some(caesareans)) = (mother.births_before, mother.previous_caesareans)
        && caesareans > births
    {
        return Err(path
            .key("previous_caesareans")
            .fault("more caesareans than births before"));
    }
    Ok(mother)
}

fn post(node: &Node<'_>, path: &Path<'_>) -> Result<Post, Fault> {
    let mut post = Post::default();
    for (key, value) in object(node, path)? {
        let here = path.key(key);
        match &**key {
            "skilled_breech" => post.skilled_breech = truth(value, &here)?.unwrap_or(false),
            "skilled_twins" => post.skilled_twins = truth(value, &here)?.unwrap_or(false),
            "travel_minutes" => post.travel_minutes = whole(value, &here, 0, 2880)?,
            "labour_protocol" => {
                if let Some(protocol) = code(value, &here)? {
                    post.labour_protocol = protocol;
                }
            }
            "fundal_height_method" => {
                if let Some(method) = code(value, &here)? {
                    post.fundal_height_method = method;
                }
            }
            _ => return Err(unknown(&here)),
        }
    }
    Ok(post)
}

fn dating(node: &Node<'_>, path: &Path<'_>, today: Day) -> Result<Dating, Fault> {
    let mut dating = Dating::default();
    let (mut scan_on, mut gestation, mut edd, mut babies) = (None, None, None, None);
    let mut scans = None;
    for (key, value) in object(node, path)? {
        let here = path.key(key);
        match &**key {
            "lmp" => dating.lmp = day(value, &here)?,
            "lmp_certain" => dating.lmp_certain = truth(value, &here)?,
            "scan_on" => scan_on = day(value, &here)?,
            "scan_gestation_days" => gestation = whole(value, &here, 35, 294)?,
            "scan_edd" => edd = day(value, &here)?,
            "babies_on_scan" => babies = whole(value, &here, 1, 6)?,
            "scans" => scans = list(value, &here)?,
            _ => return Err(unknown(&here)),
        }
    }
    if dating.lmp.is_some_and(|lmp| lmp > today) {
        return Err(path.key("lmp").fault("is after the day of `on`"));
    }
    let says = gestation.is_some() || edd.is_some() || babies.is_some();
    if scans.is_some() && (says || scan_on.is_some()) {
        return Err(path
            .key("scans")
            .fault("beside a scan that was written short"));
    }
    match (scan_on, says) {
        (None, false) => {}
        (None, true) => return Err(path.key("scan_on").fault("the day of the scan is required")),
        (Some(_), false) => {
            return Err(path
                .key("scan_on")
                .fault("the scan says neither gestation, due date nor babies"));
        }
        (Some(on), true) => {
            let scan = Scan {
                on,
                gestation_days: gestation,
                edd,
                babies,
            };
            check_scan(&scan, &path.key("scan_edd"))?;
            dating.scans.push(scan);
        }
    }
    let here = path.key("scans");
    for (at, entry) in scans.unwrap_or_default().iter().enumerate() {
        dating.scans.push(listed_scan(entry, &here.index(at))?);
    }
    Ok(dating)
}

fn listed_scan(node: &Node<'_>, path: &Path<'_>) -> Result<Scan, Fault> {
    if *node == Node::Null {
        return Err(path.fault("null inside a list"));
    }
    let (mut on, mut gestation_days, mut edd, mut babies) = (None, None, None, None);
    for (key, value) in object(node, path)? {
        let here = path.key(key);
        match &**key {
            "on" => on = day(value, &here)?,
            "gestation_days" => gestation_days = whole(value, &here, 35, 294)?,
            "edd" => edd = day(value, &here)?,
            "babies" => babies = whole(value, &here, 1, 6)?,
            _ => return Err(unknown(&here)),
        }
    }
    let scan = Scan {
        on: on.ok_or_else(|| required(&path.key("on")))?,
        gestation_days,
        edd,
        babies,
    };
    if scan.gestation_days.is_none() && scan.edd.is_none() && scan.babies.is_none() {
        return Err(path.fault("the scan says neither gestation, due date nor babies"));
    }
    check_scan(&scan, &path.key("edd"))?;
    Ok(scan)
}

/// Gestation or due date, never both; and a due date that a scan can give.
fn check_scan(scan: &Scan, edd_path: &Path<'_>) -> Result<(), Fault> {
    if scan.edd.is_none() {
        return Ok(());
    }
    if scan.gestation_days.is_some() {
        return Err(edd_path.fault("beside a gestation"));
    }
    match scan_days(scan) {
        Some(35..=294) | None => Ok(()),
        Some(days) => Err(edd_path.fault(format!(
            "makes a gestation of {days} days at the scan; 35 to 294 can be"
        ))),
    }
}
