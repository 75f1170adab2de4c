//! One judgement as one line: every key always there, in the order of the reference.

use super::Refused;
use super::instant::{write_date, write_instant};
use crate::clinical::{
    Assessment, Flag, Gestation, HeightScore, LabourPicture, Moment, Palpation, RULES_VERSION,
};
use std::io::Write;

/// Appends `{"case":…,"error":"path: what"}`.
pub(super) fn refused(out: &mut Vec<u8>, refused: &Refused) {
    out.extend_from_slice(b"{\"case\":");
    match &refused.name {
        Some(name) => text(out, name),
        None => null(out),
    }
    out.extend_from_slice(b",\"error\":");
    text(out, &refused.fault.to_string());
    out.push(b'}');
}

/// Appends a judgement; `because` is the finished value of `explain`.
pub(super) fn assessment(
    out: &mut Vec<u8>,
    name: &str,
    judged: &Assessment,
    because: Option<&[u8]>,
) {
    out.extend_from_slice(b"{\"case\":");
    text(out, name);
    out.extend_from_slice(b",\"gestation\":");
    optional(out, judged.gestation.as_ref(), gestation);
    out.extend_from_slice(b",\"gestation_reason\":");
    optional(out, judged.gestation_reason, |out, reason| {
        text(out, reason.code());
    });
    out.extend_from_slice(b",\"palpation\":");
    optional(out, judged.palpation.as_ref(), palpation);
    out.extend_from_slice(b",\"fundal_height\":");
    optional(out, judged.fundal_height, height);
    out.extend_from_slice(b",\"urgency\":");
    text(
        out,
        judged.urgency().map_or("none", |urgency| urgency.code()),
    );
    out.extend_from_slice(b",\"flags\":");
    list(out, &judged.flags, flag);
    out.extend_from_slice(b",\"labour\":");
    optional(out, judged.labour.as_ref(), labour);
    out.extend_from_slice(b",\"rules_version\":");
    text(out, RULES_VERSION);
    if let Some(because) = because {
        out.extend_from_slice(b",\"explain\":");
        out.extend_from_slice(because);
    }
    out.push(b'}');
}

pub(super) fn null(out: &mut Vec<u8>) {
    out.extend_from_slice(b"null");
}

pub(super) fn truth(out: &mut Vec<u8>, truth: bool) {
    out.extend_from_slice(if truth { b"true" } else { b"false" });
}

pub(super) fn number(out: &mut Vec<u8>, number: impl Into<i64>) {
    // Writing into memory cannot fail.
    let _ = write!(out, "{}", number.into());
}

/// With a fixed number of decimals; never a negative nought.
pub(super) fn decimal(out: &mut Vec<u8>, value: f64, decimals: usize) {
    let from = out.len();
    let _ = write!(out, "{value:.decimals$}");
    let nought = out[from..]
        .iter()
        .all(|byte| matches!(byte, b'-' | b'0' | b'.'));
    if nought && out.get(from) == Some(&b'-') {
        out.remove(from);
    }
}

pub(super) fn optional<T>(out: &mut Vec<u8>, value: Option<T>, some: impl FnOnce(&mut Vec<u8>, T)) {
    match value {
        Some(value) => some(out, value),
        None => null(out),
    }
}

pub(super) fn list<T>(out: &mut Vec<u8>, entries: &[T], each: impl Fn(&mut Vec<u8>, &T)) {
    out.push(b'[');
    for (at, entry) in entries.iter().enumerate() {
        if at > 0 {
            out.push(b',');
        }
        each(out, entry);
    }
    out.push(b']');
}

/// A text with what JSON wants escaped.
pub(super) fn text(out: &mut Vec<u8>, text: &str) {
    out.push(b'"');
    let mut from = 0;
    for (at, byte) in text.bytes().enumerate() {
        if byte >= 0x20 && byte != b'"' && byte != b'\\' {
            continue;
        }
        out.extend_from_slice(&text.as_bytes()[from..at]);
        match byte {
            b'"' | b'\\' => out.extend_from_slice(&[b'\\', byte]),
            b'\n' => out.extend_from_slice(b"\\n"),
            b'\r' => out.extend_from_slice(b"\\r"),
            b'\t' => out.extend_from_slice(b"\\t"),
            _ => {
                let _ = write!(out, "\\u{byte:04x}");
            }
        }
        from = at + 1;
    }
    out.extend_from_slice(&text.as_bytes()[from..]);
    out.push(b'"');
}

pub(super) fn instant(out: &mut Vec<u8>, at: Moment) {
    out.push(b'"');
    write_instant(out, at);
    out.push(b'"');
}

fn gestation(out: &mut Vec<u8>, known: &Gestation) {
    out.extend_from_slice(b"{\"days\":");
    number(out, known.days);
    let _ = write!(
        out,
        ",\"text\":\"{}w+{}d\",\"edd\":\"",
        known.days / 7,
        known.days % 7
    );
    write_date(out, known.edd);
    let _ = write!(
        out,
        "\",\"basis\":\"{}\",\"suboptimal\":",
        known.basis.code()
    );
    truth(out, known.suboptimal);
    out.push(b'}');
}

fn palpation(out: &mut Vec<u8>, read: &Palpation) {
    for (key, word) in [
        ("{\"row\":", read.row),
        (",\"lie\":", read.lie.code()),
        (",\"presentation\":", read.presentation.code()),
        (",\"position\":", read.position),
        (",\"back\":", read.back.code()),
        (",\"certainty\":", read.certainty.code()),
    ] {
        out.extend_from_slice(key.as_bytes());
        text(out, word);
    }
    out.extend_from_slice(b",\"engaged\":");
    optional(out, read.engaged, truth);
    out.push(b'}');
}

fn height(out: &mut Vec<u8>, score: HeightScore) {
    out.extend_from_slice(b"{\"z\":");
    decimal(out, score.z, 2);
    out.extend_from_slice(b",\"centile\":");
    decimal(out, score.centile, 1);
    out.push(b'}');
}

fn flag(out: &mut Vec<u8>, flag: &Flag) {
    for (key, word) in [
        ("{\"category\":", flag.category.code()),
        (",\"rule\":", flag.rule),
        (",\"urgency\":", flag.urgency.code()),
        (",\"evidence\":", &flag.evidence),
        (",\"advice\":", &flag.advice),
        (",\"source\":", &flag.source),
    ] {
        out.extend_from_slice(key.as_bytes());
        text(out, word);
    }
    if let Some(at) = flag.recheck_at {
        out.extend_from_slice(b",\"recheck_at\":");
        instant(out, at);
    }
    out.push(b'}');
}

fn labour(out: &mut Vec<u8>, labour: &LabourPicture) {
    out.extend_from_slice(b"{\"protocol\":");
    text(out, labour.protocol.code());
    out.extend_from_slice(b",\"stage\":");
    optional(out, labour.stage, |out, stage| text(out, stage.code()));
    out.extend_from_slice(b",\"highest_cm\":");
    optional(out, labour.highest_cm, number);
    out.extend_from_slice(b",\"first_recorded_at\":");
    optional(out, labour.first_recorded_at, instant);
    out.extend_from_slice(b",\"t4_at\":");
    optional(out, labour.t4_at, instant);
    out.extend_from_slice(b",\"limits\":");
    list(out, &labour.limits, |out, limit| {
        out.extend_from_slice(b"{\"rule\":");
        text(out, limit.rule);
        out.extend_from_slice(b",\"at\":");
        instant(out, limit.at);
        out.push(b'}');
    });
    let first = labour.limits.first();
    out.extend_from_slice(b",\"limit_at\":");
    optional(out, first.map(|limit| limit.at), instant);
    out.extend_from_slice(b",\"limit_rule\":");
    optional(out, first.map(|limit| limit.rule), text);
    out.extend_from_slice(b",\"arrival_at\":");
    optional(out, labour.arrival_at, instant);
    out.extend_from_slice(b",\"margin_minutes\":");
    optional(out, labour.margin_minutes, number);
    out.extend_from_slice(b",\"leave_by\":");
    optional(out, labour.leave_by, instant);
    out.extend_from_slice(b",\"state\":");
    text(out, labour.state.code());
    out.extend_from_slice(b",\"birth_near\":");
    truth(out, labour.birth_near);
    out.extend_from_slice(b",\"birth_on_the_way\":");
    truth(out, labour.birth_on_the_way);
    out.extend_from_slice(b",\"due\":");
    list(out, &labour.due, |out, due| {
        out.extend_from_slice(b"{\"what\":");
        text(out, due.what.code());
        out.extend_from_slice(b",\"at\":");
        instant(out, due.at);
        out.extend_from_slice(b",\"overdue\":");
        truth(out, due.overdue);
        out.push(b'}');
    });
    out.push(b'}');
}
