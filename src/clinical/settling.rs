//! When an open flag is over: a later record examined what it named, and nothing of its kind was raised.

use super::flag::{self, Settling};
use super::fundal_height::weeks_in_force;
use super::labour::{Limits, is_contraction_record, too_many, weak};
use super::picture::{Picture, Way};
use super::record::Record;
use super::{
    Assessment, Case, Certainty, DangerSign, FeltInside, Front, Lie, Moment, Occiput, Palpation,
    Presentation, Urgency,
};

/// A flag that stands since an earlier record.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OpenFlag<'f> {
    /// Its code; one that no rule has any more never settles.
    pub rule: &'f str,
    /// The highest urgency it has had: `now` never settles by itself.
    pub urgency: Urgency,
    /// The moment of the record that raised it.
    pub raised_at: Moment,
}

/// Which of the open flags the record at `case.on` settles, in their order.
///
/// `case` is the case as it was known at that record, `assessment` its judgement. A flag settles when the record is later
/// than the flag, examined what the flag names (each rule's [`Settling`]), and the judgement raises nothing of the same
/// category; for a figure, contractions, a heart count or a dilatation: not the same rule. “Not examined” is no answer.
#[must_use]
pub fn settled(case: &Case, assessment: &Assessment, open: &[OpenFlag<'_>]) -> Vec<bool> {
    if open.is_empty() {
        return Vec::new();
    }
    let seen = Picture::of(case, case.on);
    open.iter()
        .map(|flag| settles(&seen, assessment, flag))
        .collect()
}

fn settles(seen: &Picture<'_>, assessment: &Assessment, open: &OpenFlag<'_>) -> bool {
    let Some(rule) = flag::rule(open.rule) else {
        return false;
    };
    if open.urgency == Urgency::Now || open.raised_at >= seen.on {
        return false;
    }
    let by_rule = matches!(
        rule.settles,
        Settling::SameFigure | Settling::HeartCount | Settling::Contractions | Settling::Dilatation
    );
    let raised_again = assessment.flags.iter().any(|flag| {
        if rule.settles == Settling::SameFigure {
            flag.rule == rule.code || takes_over(flag.rule, rule.code)
        } else if by_rule {
            flag.rule == rule.code
        } else {
            flag.category == rule.category
        }
    });
    !raised_again && examined(seen, assessment, open, rule.settles)
}

/// A rule that silences another by being worse does not settle it [O: the safer side].
fn takes_over(raised: &str, open: &str) -> bool {
    match open {
        "pulse-fast" => raised == "shock",
        _ => matches!(raised, "shock" | "pressure-low" | "pressure-drop"),
    }
}

/// Whether the record of now examined what the flag names.
fn examined(
    seen: &Picture<'_>,
    assessment: &Assessment,
    open: &OpenFlag<'_>,
    settling: Settling,
) -> bool {
    let records = || {
        seen.line
            .all()
            .iter()
            .copied()
            .filter(|it| it.at() == seen.on)
    };
    let any = |test: &dyn Fn(Record<'_>) -> bool| records().any(test);
    let hands = seen
        .palpation
        .as_ref()
        .filter(|hands| is_sure(hands) && seen.v.is_some_and(|visit| visit.at == seen.on));
    match settling {
        Settling::Never => false,
        Settling::Lie => hands.is_some_and(|hands| hands.lie != Lie::Unknown),
        Settling::HeadBelow => hands.is_some_and(|hands| {
            hands.lie == Lie::Longitudinal && hands.presentation == Presentation::Cephalic
        }),
        Settling::Vertex => any(&|it| felt_inside(it) == Some(FeltInside::Vertex)),
        Settling::Tape => taped(seen),
        Settling::TapeAfterTwoWeeks => {
            taped(seen) && (two_weeks(seen, open) || by_14_days(seen, open))
        }
        Settling::ActiveStage => seen.labour.as_ref().is_some_and(|labour| {
            any(&|it| {
                it.dilatation()
                    .is_some_and(|cm| cm >= labour.active_start())
            })
        }),
        Settling::Fifths => any(&|it| it.fifths().is_some_and(|now| came_down(seen, open, now))),
        Settling::Moulding => any(&|it| moulded_less(it, open.rule)),
        Settling::Contractions => any(&|it| inside_contractions(seen, it, open.rule)),
        Settling::Front => any(&front_or_occiput),
        Settling::SameFigure => any(&|it| same_figure(seen, it, open.rule)),
        Settling::BothPressures => any(&|it| it.systolic().is_some() && it.diastolic().is_some()),
        Settling::Urine => any(&|it| it.protein().is_some()),
        Settling::HeartCount => any(&|it| counted_inside(seen, it, open.rule)),
        Settling::LabourBegins => assessment.labour.is_some(),
        Settling::NoCord => any(&no_cord),
        Settling::Findings => hands.is_some() || any(&|it| is_part(felt_inside(it))),
        Settling::Dilatation => seen
            .labour
            .as_ref()
            .and_then(|labour| labour.highest)
            .is_some_and(|(highest, _)| any(&|it| it.dilatation().is_some_and(|cm| cm >= highest))),
        Settling::Gestation => assessment.gestation.is_some(),
    }
}

fn is_sure(hands: &Palpation) -> bool {
    matches!(hands.certainty, Certainty::Clear | Certainty::Probable)
}

fn felt_inside(record: Record<'_>) -> Option<FeltInside> {
    record.row()?.felt_inside
}

/// A part of the baby, neither the cord nor “not sure”.
fn is_part(felt: Option<FeltInside>) -> bool {
    felt.is_some_and(|felt| !matches!(felt, FeltInside::Cord | FeltInside::Unsure))
}

/// A tape now, with a centile or judged by weeks.
fn taped(seen: &Picture<'_>) -> bool {
    let now = seen.v.is_some_and(|visit| visit.at == seen.on) && seen.tape.is_some();
    now && (seen.height.is_some() || weeks_in_force(seen.case.post.fundal_height_method, seen.g))
}

fn two_weeks(seen: &Picture<'_>, open: &OpenFlag<'_>) -> bool {
    (seen.on.date() - open.raised_at.date()).num_days() >= 14
}

/// The flag was a standstill over two weeks alone, which a second tape may settle at any time.
fn by_14_days(seen: &Picture<'_>, open: &OpenFlag<'_>) -> bool {
    let then = || Picture::of(seen.case, open.raised_at).growth()?.standstill;
    open.rule == "height-static" && then().is_some_and(|(way, _)| way == Way::Days14)
}

/// The head came down far enough for the rule that asked.
fn came_down(seen: &Picture<'_>, open: &OpenFlag<'_>, now: u8) -> bool {
    match open.rule {
        "descent-arrest" => Picture::of(seen.case, open.raised_at)
            .last_in_labour(Record::fifths)
            .is_some_and(|(_, before)| now < before),
        "head-high-in-labour" => now <= 3,
        _ => true,
    }
}

fn moulded_less(record: Record<'_>, rule: &str) -> bool {
    let grade = record.row().and_then(|row| row.moulding);
    match rule {
        "moulding-high-head" => {
            grade.is_some_and(|grade| grade <= 1)
                || record.fifths().is_some_and(|fifths| fifths <= 2)
        }
        _ => grade.is_some_and(|grade| grade <= 2),
    }
}

fn inside_contractions(seen: &Picture<'_>, record: Record<'_>, rule: &str) -> bool {
    let Some(labour) = &seen.labour else {
        return false;
    };
    is_contraction_record(record)
        && match rule {
            "contractions-weak" => !weak(record, labour.protocol),
            _ => !too_many(record),
        }
}

fn front_or_occiput(record: Record<'_>) -> bool {
    let front = record.palpation().and_then(|found| found.front);
    let occiput = record.row().and_then(|row| row.occiput);
    front.is_some_and(|front| front != Front::Unsure) || occiput == Some(Occiput::Anterior)
}

/// Measured again, and inside.
fn same_figure(seen: &Picture<'_>, record: Record<'_>, rule: &str) -> bool {
    let limit = if seen.labour.is_some() { 120 } else { 110 };
    match rule {
        "pulse-fast" => record.pulse().is_some_and(|pulse| pulse < limit),
        "pressure-low" => record.systolic().is_some_and(|mmhg| mmhg >= 90),
        _ => record.diastolic().is_some(),
    }
}

fn counted_inside(seen: &Picture<'_>, record: Record<'_>, rule: &str) -> bool {
    if !record.has_count() {
        return false;
    }
    match (&seen.labour, rule) {
        (_, "heart-not-heard") => true,
        (Some(labour), _) => !Limits::of(labour.protocol).broken_by(record),
        (None, _) => record
            .hearts()
            .iter()
            .all(|count| (110..=160).contains(count)),
    }
}

/// Examined inside, and no cord there; or a head that came down.
fn no_cord(record: Record<'_>) -> bool {
    let felt = felt_inside(record);
    let inside = record.dilatation().is_some() || felt.is_some();
    let cord = felt == Some(FeltInside::Cord) || record.signs().contains(&DangerSign::Cord);
    (inside && !cord) || record.fifths().is_some_and(|fifths| fifths <= 3)
}
