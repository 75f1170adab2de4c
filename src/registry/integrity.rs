//! Whether the database is whole: its pages, its references, its vocabularies and the chain of the trail.

use diesel::prelude::*;
use diesel::sql_types::{Nullable, Text};

use super::audit;
use super::connection::Db;
use super::error::Result;
use super::vocabulary::{
    AnswerWay, BirthPlace, BirthPresentation, FlagClosing, FlagDecision, LabourEnding, Mode,
    MotherOutcome, NewbornState, Onset, PregnancyEnding, ReferralEvent, ReferralState, Role, Sex,
    StandDownReason, VisitForm,
};
use crate::clinical::{
    Category, DangerSign, Deceleration, FeltInside, Front, Head, HeightMethod, LabourProtocol,
    Liquor, Movements, ObstructionSign, Occiput, PastEvent, Pole, Protein, Side, Urgency, Waters,
};

/// What a check of everything found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Integrity {
    /// One sentence for each thing that is not whole; empty when all is well.
    pub faults: Vec<String>,
    /// Lines of the trail that hold together, from the first.
    pub trail: i32,
}

macro_rules! vocabularies {
    ($($table:literal $kind:ty;)+) => {
        /// Each small table with the codes that this program knows.
        fn vocabularies() -> Vec<(&'static str, Vec<&'static str>)> {
            vec![$(($table, <$kind>::ALL.iter().map(|it| it.code()).collect())),+]
        }
    };
}

vocabularies! {
    "roles" Role;
    "visit_forms" VisitForm;
    "labour_protocols" LabourProtocol;
    "height_methods" HeightMethod;
    "past_events" PastEvent;
    "pole_findings" Pole;
    "side_findings" Side;
    "front_findings" Front;
    "head_mobilities" Head;
    "movements" Movements;
    "waters" Waters;
    "urine_proteins" Protein;
    "danger_signs" DangerSign;
    "inside_findings" FeltInside;
    "occiputs" Occiput;
    "liquors" Liquor;
    "decelerations" Deceleration;
    "obstruction_signs" ObstructionSign;
    "urgencies" Urgency;
    "categories" Category;
    "flag_decisions" FlagDecision;
    "flag_closings" FlagClosing;
    "labour_endings" LabourEnding;
    "referral_states" ReferralState;
    "referral_events" ReferralEvent;
    "stand_down_reasons" StandDownReason;
    "answer_ways" AnswerWay;
    "birth_places" BirthPlace;
    "labour_onsets" Onset;
    "birth_modes" Mode;
    "birth_presentations" BirthPresentation;
    "sexes" Sex;
    "newborn_states" NewbornState;
    "mother_outcomes" MotherOutcome;
    "pregnancy_endings" PregnancyEnding;
}

#[derive(QueryableByName)]
struct Said {
    #[diesel(sql_type = Text, column_name = "integrity_check")]
    sentence: String,
}

#[derive(QueryableByName)]
struct Dangling {
    #[diesel(sql_type = Text, column_name = "table")]
    table: String,
    #[diesel(sql_type = Nullable<Text>, column_name = "parent")]
    parent: Option<String>,
}

#[derive(QueryableByName)]
struct Code {
    #[diesel(sql_type = Text)]
    code: String,
}

/// Looks at everything; reads the whole database.
///
/// # Errors
/// `Broken` when it cannot be read at all.
pub fn check(db: &mut Db) -> Result<Integrity> {
    let mut faults = pages_and_references(db)?;
    for (table, known) in vocabularies() {
        let stored: Vec<Code> = diesel::sql_query(format!("SELECT code FROM {table}")).load(db)?;
        let stored: Vec<String> = stored.into_iter().map(|row| row.code).collect();
        let unknown = stored.iter().filter(|code| !known.contains(&code.as_str()));
        faults.extend(
            unknown
                .map(|code| format!("the code “{code}” in {table} is not known to this program")),
        );
        let missing = known
            .iter()
            .filter(|code| !stored.iter().any(|it| it == *code));
        faults.extend(missing.map(|code| format!("the code “{code}” is missing in {table}")));
    }
    let chain = audit::check_chain(db)?;
    faults.extend(
        chain
            .broken_at
            .map(|line| format!("the trail does not hold together from line {line} on")),
    );
    Ok(Integrity {
        faults,
        trail: chain.whole,
    })
}

fn pages_and_references(db: &mut Db) -> Result<Vec<String>> {
    match db {
        Db::Sqlite(sqlite) => {
            let said: Vec<Said> = diesel::sql_query("PRAGMA integrity_check(20)").load(sqlite)?;
            let dangling: Vec<Dangling> =
                diesel::sql_query("PRAGMA foreign_key_check").load(sqlite)?;
            let pages = said
                .into_iter()
                .filter(|it| it.sentence != "ok")
                .map(|it| format!("database file: {}", it.sentence));
            let references = dangling.into_iter().map(|it| {
                format!(
                    "a row of {} points at a row of {} that is not there",
                    it.table,
                    it.parent.unwrap_or_default()
                )
            });
            Ok(pages.chain(references).collect())
        }
        // The server checks its own pages and never lets a reference dangle.
        #[cfg(feature = "postgres")]
        Db::Postgres(_) => Ok(Vec::new()),
    }
}
