//! Numerator, denominator and unknown of each indicator.

use std::collections::HashMap;

use polars::prelude::{Expr, LazyFrame, col, lit};

use super::Sources;
use crate::clinical::{Certainty, Urgency};
use crate::registry::{BirthPlace, BirthPresentation, NewbornState};
use crate::reporting::frame::{self, Result, counted, is, lines};
use crate::reporting::table::Table;

/// Babies from here on are heavy enough that labour, and not smallness, is asked about.
const HEAVY_G: i64 = 2500;

/// Part, whole, and how many are left out for a missing answer; absent where none can be missing.
type Counted = (i64, i64, Option<i64>);

/// By indicator.
pub(super) struct Counts(HashMap<&'static str, Counted>);

impl Counts {
    pub(super) fn of(sources: Sources<'_>) -> Result<Self> {
        let of_babies = of_babies(frame::lazy(sources.babies.clone()))?;
        let of_women = of_women(sources.women.clone())?;
        let opened = frame::counts(
            frame::lazy(sources.opened)
                .select([lines("opened"), counted(col("dated").not(), "undated")]),
        )?;
        let (baby, woman) = (reader(&of_babies), reader(&of_women));
        let opening = reader(&opened);
        let visits = |column: &str| {
            sources
                .activity
                .rows
                .first()
                .and_then(|row| sources.activity.cell(row, column).count())
                .unwrap_or_default()
        };
        let all = |column: &str| referrals(sources.referrals, "all", column);
        let now = |column: &str| referrals(sources.referrals, Urgency::Now.code(), column);
        let live = baby("live");
        let early_known = live - baby("early_unknown");
        let total_known = baby("total") - baby("early_unknown");
        let counts = [
            ("undated", opening("undated"), opening("opened"), None),
            (
                "height-taken",
                visits("height_taken"),
                visits("height_base"),
                None,
            ),
            (
                "palpation-near-term",
                woman("near_told"),
                woman("near"),
                None,
            ),
            (
                "referral-completed",
                all("arrived"),
                all("within_2h_base"),
                None,
            ),
            (
                "arrived-within-2h",
                now("within_2h"),
                now("within_2h_base"),
                Some(sources.unknown_arrivals),
            ),
            ("answered", all("answered"), all("arrived"), None),
            (
                "home-birth",
                woman("home"),
                woman("women") - woman("place_unknown"),
                Some(woman("place_unknown")),
            ),
            ("stillbirth", baby("total") - live, baby("total"), None),
            (
                "stillbirth-fresh",
                baby("fresh"),
                baby("total"),
                Some(baby("skin_unknown")),
            ),
            (
                "early-neonatal-death",
                baby("early"),
                early_known,
                Some(baby("early_unknown")),
            ),
            (
                "perinatal-death",
                baby("total") - live + baby("early"),
                total_known,
                Some(baby("early_unknown")),
            ),
            (
                "intrapartum-very-early-death",
                baby("in_labour"),
                baby("heavy") - baby("heavy_unknown"),
                Some(baby("weight_unknown") + baby("heavy_unknown")),
            ),
            (
                "low-birth-weight",
                baby("low"),
                baby("weighed"),
                Some(live - baby("weighed")),
            ),
            (
                "preterm",
                baby("preterm"),
                baby("dated"),
                Some(live - baby("dated")),
            ),
            (
                "small-for-gestation",
                baby("small"),
                baby("judged"),
                Some(live - baby("judged")),
            ),
            (
                "caesarean-referred",
                woman("referred_caesarean"),
                woman("referred") - woman("referred_unknown"),
                Some(woman("referred_unknown")),
            ),
            (
                "missed-malpresentation",
                woman("lie_missed"),
                woman("lie"),
                Some(woman("lie_unknown")),
            ),
            ("missed-twins", woman("twins_missed"), woman("twins"), None),
        ];
        Ok(Self(
            counts
                .into_iter()
                .map(|(id, part, whole, unknown)| (id, (part, whole, unknown)))
                .collect(),
        ))
    }

    /// Of an indicator of the list.
    pub(super) fn get(&self, id: &str) -> Counted {
        self.0.get(id).copied().unwrap_or_default()
    }
}

fn reader(counts: &HashMap<String, i64>) -> impl Fn(&str) -> i64 + '_ {
    |name| counts.get(name).copied().unwrap_or_default()
}

fn referrals(table: &Table, row: &str, column: &str) -> i64 {
    let row = table.row(&[row]);
    row.and_then(|row| table.cell(row, column).count())
        .unwrap_or_default()
}

fn of_babies(babies: LazyFrame) -> Result<HashMap<String, i64>> {
    let reported = || col("is_reported");
    let state = |state: NewbornState| reported().and(is("state", state.code()));
    // Not looked for is not found: only a malformation that was seen takes a baby out.
    let viable = || reported().and(col("lethal_malformation").fill_null(lit(false)).not());
    let heavy = || viable().and(col("weight_g").gt_eq(lit(HEAVY_G)));
    let unclear = state(NewbornState::StillbornUnstated).or(col("first_day_death").is_null());
    let in_labour = state(NewbornState::StillbornFresh).or(col("first_day_death"));
    frame::counts(babies.select([
        counted(reported(), "total"),
        counted(col("is_live"), "live"),
        counted(state(NewbornState::StillbornFresh), "fresh"),
        counted(state(NewbornState::StillbornUnstated), "skin_unknown"),
        counted(col("early_death"), "early"),
        counted(col("early_death").is_null(), "early_unknown"),
        counted(heavy(), "heavy"),
        counted(heavy().and(unclear), "heavy_unknown"),
        counted(heavy().and(in_labour), "in_labour"),
        counted(viable().and(col("weight_g").is_null()), "weight_unknown"),
        counted(col("is_low"), "low"),
        counted(col("is_low").is_not_null(), "weighed"),
        counted(col("is_preterm"), "preterm"),
        counted(col("is_preterm").is_not_null(), "dated"),
        counted(col("is_small"), "small"),
        counted(col("is_small").is_not_null(), "judged"),
    ]))
}

fn of_women(women: LazyFrame) -> Result<HashMap<String, i64>> {
    let place = |place: BirthPlace| is("first_place", place.code());
    let near = || col("seen_near_term").and(col("twins_known").not());
    let certainty = |certainty: Certainty| is("near_term_certainty", certainty.code());
    let told = certainty(Certainty::Clear).or(certainty(Certainty::Probable));
    let referred = || col("referral_arrived");
    let presentation = |presentation: BirthPresentation| is("presentation", presentation.code());
    let one = || col("babies").eq(lit(1_i64)).and(col("seen_from_32_weeks"));
    let lie = || {
        one().and(
            presentation(BirthPresentation::Breech).or(presentation(BirthPresentation::Shoulder)),
        )
    };
    let twins = || {
        col("babies")
            .gt_eq(lit(2_i64))
            .and(col("seen_before_labour"))
    };
    let counts: [Expr; 13] = [
        lines("women"),
        counted(near(), "near"),
        counted(near().and(told), "near_told"),
        counted(
            place(BirthPlace::Home).or(place(BirthPlace::OnTheWay)),
            "home",
        ),
        counted(place(BirthPlace::Unknown), "place_unknown"),
        counted(referred(), "referred"),
        counted(referred().and(col("by_caesarean")), "referred_caesarean"),
        counted(
            referred()
                .and(col("mode_unknown"))
                .and(col("by_caesarean").not()),
            "referred_unknown",
        ),
        counted(lie(), "lie"),
        counted(lie().and(col("lie_stood").not()), "lie_missed"),
        counted(
            one().and(presentation(BirthPresentation::Unknown)),
            "lie_unknown",
        ),
        counted(twins(), "twins"),
        counted(twins().and(col("twins_suspected").not()), "twins_missed"),
    ];
    frame::counts(women.select(counts))
}
