//! The women of `seed-demo/staged.txt`: each stands today in the situation that her row names.

use anyhow::{Result, bail};
use chrono::{Datelike, Days, TimeDelta};

use super::calendar::{Course, Planned, in_hours};
use super::chance::Chance;
use super::hands;
use super::plan::{Deed, Entry, Step};
use super::rates::Rates;
use super::story::Story;
use super::tables::{District, StagedRow};
use crate::clinical::{
    Category, DangerSign, Day, FeltInside, LabourRow, Liquor, Moment, Movements, PalpationFindings,
    Pole, Protein, Side, Urgency, Visit, Waters,
};
use crate::registry::StandDownReason;

/// Her course, and what is written down of it; nobody reacts to her flags but as told here.
pub(super) fn course(
    district: &District,
    rates: &Rates,
    row: &StagedRow,
    place: usize,
    now: Moment,
    chance: &Chance,
) -> Result<(Course, Vec<Entry>)> {
    let mut chance = chance.of(u64::try_from(place).unwrap_or_default() ^ 0x57A6_ED00);
    let period = now.date() - Days::new(u64::try_from(row.gestation_days).unwrap_or_default());
    let mut story = Story::told(district, rates, 0, &district.posts[0], period, chance.of(1));
    row.name.clone_into(&mut story.woman.name);
    story.woman.village = row.village;
    let least = 18 + 3 * i32::from(row.births_before);
    story.woman.birth_year = story.woman.birth_year.min(now.date().year() - least);
    story.births_before = row.births_before;
    story.caesareans_before = u8::from(row.situation == "scar");
    story.history.clear();
    story.usual();
    let script = script(row.situation, now)?;
    let booked_at = in_hours(story.day_at(110), &mut chance);
    let mut entries = vec![(booked_at, Deed::Register)];
    let until = script.quiet_from;
    let mut visits = Vec::new();
    for week in [17_u16, 20, 26, 30, 34, 36, 38, 40] {
        let day = story.day_at(week * 7);
        let at = in_hours(day, &mut chance);
        if at > booked_at && at < until {
            visits.push(Planned {
                at,
                next: Some(day + Days::new(28)).filter(|next| *next > day),
            });
        }
    }
    for planned in &visits {
        let days = u16::try_from(story.days_on(planned.at.date())).unwrap_or_default();
        let found = hands::visit(&story, rates, days, planned.at, &mut chance);
        entries.push((planned.at, Deed::Visit(Box::new(found), planned.next)));
    }
    entries.extend(script.deeds);
    entries.sort_by_key(|entry| entry.0);
    let entries = entries
        .into_iter()
        .map(|(at, deed)| Entry {
            at,
            course: place,
            deed,
        })
        .collect();
    Ok((
        Course {
            story,
            booked_at,
            again_of: None,
            visits,
            scripted_from: Some(until),
        },
        entries,
    ))
}

struct Script {
    /// From here on only the script speaks.
    quiet_from: Moment,
    deeds: Vec<(Moment, Deed)>,
}

/// What has been written down of each situation, counted back from now.
fn script(situation: &str, now: Moment) -> Result<Script> {
    let ago = |hours: i64, minutes: i64| now - TimeDelta::minutes(hours * 60 + minutes);
    let day = |from_now: i64| -> Day { (now + TimeDelta::days(from_now)).date() };
    let mut deeds = Vec::new();
    let mut put = |at: Moment, deed: Deed| deeds.push((at, deed));
    match situation {
        "labour-slow" => {
            put(
                ago(6, 40),
                Deed::OpenLabour(ago(11, 0), row(ago(6, 40), 5, 4, Liquor::Intact)),
            );
            put(ago(3, 20), Deed::Row(listened(ago(3, 20))));
            put(ago(0, 25), Deed::Row(row(ago(0, 25), 5, 4, Liquor::Clear)));
        }
        "labour-well" => {
            put(
                ago(3, 5),
                Deed::OpenLabour(ago(6, 30), row(ago(3, 5), 5, 3, Liquor::Intact)),
            );
            put(ago(1, 40), Deed::Row(listened(ago(1, 40))));
            put(ago(0, 35), Deed::Row(listened(ago(0, 35))));
        }
        "not-heard" => put(
            ago(1, 5),
            visit(ago(1, 5), Some(day(14)), |it| {
                it.fetal_hearts.clear();
                it.heart_sought = Some(true);
            }),
        ),
        "pressure" => put(
            ago(0, 50),
            visit(ago(0, 50), Some(day(1)), |it| pressure(it, 144, 92)),
        ),
        "breech-36" => put(
            ago(24 * 22, 0),
            visit(ago(24 * 22, 0), Some(day(-1)), breech),
        ),
        "left" => {
            put(
                ago(14, 30),
                visit(ago(14, 30), None, |it| {
                    pressure(it, 168, 112);
                    it.danger_signs.push(DangerSign::SevereHeadache);
                }),
            );
            put(
                ago(14, 15),
                Deed::Decide(Category::RaisedBloodPressure, Urgency::Now),
            );
            put(ago(14, 5), Deed::Step(Step::Told));
            put(ago(12, 30), Deed::Step(Step::Left(true)));
        }
        "no-answer" => {
            put(
                ago(24 * 9, 0),
                visit(ago(24 * 9, 0), None, |it| {
                    it.danger_signs.push(DangerSign::Bleeding);
                }),
            );
            sent(
                &mut deeds,
                ago(24 * 9, -15),
                Category::DangerSign,
                Urgency::Now,
                &[Step::Told, Step::Left(true), Step::Arrived(true)],
            );
        }
        "answered" => {
            put(ago(24 * 8, 0), visit(ago(24 * 8, 0), None, breech));
            sent(
                &mut deeds,
                ago(24 * 7, 0),
                Category::Breech,
                Urgency::Soon,
                &[
                    Step::Told,
                    Step::Left(true),
                    Step::Arrived(true),
                    Step::Seen,
                ],
            );
            deeds.push((ago(17, 0), Deed::Step(Step::Answered)));
        }
        "decided" => {
            put(ago(4, 0), visit(ago(4, 0), Some(day(3)), breech));
            put(ago(2, 20), Deed::Decide(Category::Breech, Urgency::Soon));
        }
        "declined" => {
            put(ago(24 * 3, 0), visit(ago(24 * 3, 0), Some(day(4)), breech));
            sent(
                &mut deeds,
                ago(24 * 3, -40),
                Category::Breech,
                Urgency::Soon,
                &[Step::Declined],
            );
        }
        "stood-down" => {
            put(
                ago(24 * 2, 0),
                visit(ago(24 * 2, 0), Some(day(2)), |it| pressure(it, 162, 104)),
            );
            sent(
                &mut deeds,
                ago(24 * 2, -20),
                Category::RaisedBloodPressure,
                Urgency::Now,
                &[Step::Told, Step::StoodDown(StandDownReason::Misjudged)],
            );
        }
        "seen" => {
            put(
                ago(30, 0),
                visit(ago(30, 0), None, |it| it.waters = Some(Waters::Broken)),
            );
            sent(
                &mut deeds,
                ago(29, 45),
                Category::Waters,
                Urgency::Now,
                &[
                    Step::Told,
                    Step::Left(true),
                    Step::Arrived(true),
                    Step::Seen,
                ],
            );
        }
        "never-came" => {
            put(
                ago(24 * 12, 0),
                visit(ago(24 * 12, 0), Some(day(2)), breech),
            );
            sent(
                &mut deeds,
                ago(24 * 11, 0),
                Category::Breech,
                Urgency::Soon,
                &[Step::Left(true), Step::NeverCame],
            );
        }
        "missed" => put(
            ago(24 * 42, 0),
            visit(ago(24 * 42, 0), Some(day(-14)), |_| ()),
        ),
        "due" => put(
            ago(24 * 28, 0),
            visit(ago(24 * 28, 0), Some(day(0)), |_| ()),
        ),
        "unrecorded" => put(
            ago(24 * 29, 0),
            visit(ago(24 * 29, 0), Some(day(-21)), |_| ()),
        ),
        "past-dates" => put(ago(24 * 2, 0), visit(ago(24 * 2, 0), Some(day(1)), |_| ())),
        "scar" => put(ago(24, 0), visit(ago(24, 0), Some(day(6)), |_| ())),
        "small" => put(
            ago(24 * 2, 0),
            visit(ago(24 * 2, 0), Some(day(5)), |it| {
                it.fundal_height_tenths = Some(275);
            }),
        ),
        other => bail!("seed-demo/staged.txt: nobody knows the situation “{other}”"),
    }
    let first = deeds.iter().map(|deed| deed.0).min().unwrap_or(now);
    Ok(Script {
        quiet_from: first - TimeDelta::days(6),
        deeds,
    })
}

/// She is sent, and the first of `steps` follow each other on the way.
fn sent(
    deeds: &mut Vec<(Moment, Deed)>,
    at: Moment,
    category: Category,
    urgency: Urgency,
    steps: &[Step],
) {
    deeds.push((at, Deed::Decide(category, urgency)));
    for (number, step) in steps.iter().enumerate() {
        let minutes = 20 + 45 * i64::try_from(number).unwrap_or_default();
        deeds.push((at + TimeDelta::minutes(minutes), Deed::Step(*step)));
    }
}

fn visit(at: Moment, next: Option<Day>, change: impl FnOnce(&mut Visit)) -> Deed {
    let mut found = Visit::at(at);
    found.palpation = Some(PalpationFindings {
        fundus: Some(Pole::SoftIrregular),
        left: Some(Side::LongSmooth),
        right: Some(Side::SmallLumps),
        lower: Some(Pole::HardRound),
        fifths: Some(4),
        ..PalpationFindings::default()
    });
    found.fetal_hearts.push(138);
    found.movements = Some(Movements::Normal);
    (found.systolic, found.diastolic, found.pulse) = (Some(116), Some(72), Some(84));
    found.urine_protein = Some(Protein::None);
    change(&mut found);
    Deed::Visit(Box::new(found), next)
}

fn pressure(visit: &mut Visit, systolic: u16, diastolic: u16) {
    (visit.systolic, visit.diastolic) = (Some(systolic), Some(diastolic));
}

fn breech(visit: &mut Visit) {
    if let Some(felt) = &mut visit.palpation {
        (felt.fundus, felt.lower, felt.fifths) =
            (Some(Pole::HardRound), Some(Pole::SoftIrregular), None);
    }
}

fn row(at: Moment, cm: u8, fifths: u8, liquor: Liquor) -> Box<LabourRow> {
    let mut row = *listened(at);
    row.dilatation_cm = Some(cm);
    row.fifths = Some(fifths);
    row.felt_inside = Some(FeltInside::Vertex);
    row.liquor = Some(liquor);
    (row.systolic, row.diastolic, row.temperature_tenths) = (Some(118), Some(74), Some(369));
    Box::new(row)
}

fn listened(at: Moment) -> Box<LabourRow> {
    let mut row = LabourRow::at(at);
    row.fetal_hearts.push(136);
    row.pulse = Some(88);
    (row.contractions_in_10_min, row.contraction_seconds) = (Some(3), Some(42));
    Box::new(row)
}
