//! Every vocabulary's table holds exactly the codes of its enum.

use std::collections::BTreeSet;

use brimline::clinical::{
    Category, DangerSign, Deceleration, FeltInside, Front, Head, HeightMethod, LabourProtocol,
    Liquor, Movements, ObstructionSign, Occiput, PastEvent, Pole, Protein, Side, Urgency,
    Vocabulary, Waters,
};
use brimline::registry::{
    AnswerWay, BirthPlace, BirthPresentation, FlagClosing, FlagDecision, LabourEnding, Mode,
    MotherOutcome, NewbornState, Onset, PregnancyEnding, ReferralEvent, ReferralState, Role, Sex,
    StandDownReason, VisitForm, flags,
};
use diesel::RunQueryDsl;

use crate::house::{House, run};
use crate::women::breech;

fn codes<V: Vocabulary>() -> BTreeSet<String> {
    V::ALL.iter().map(|value| value.code().to_owned()).collect()
}

#[derive(diesel::QueryableByName)]
struct Code {
    #[diesel(sql_type = diesel::sql_types::Text)]
    code: String,
}

#[test]
fn every_table_of_codes_equals_its_enum() {
    let house = House::new();
    let mut db = house.beside();
    let tables: Vec<(&str, BTreeSet<String>)> = vec![
        ("roles", codes::<Role>()),
        ("visit_forms", codes::<VisitForm>()),
        ("labour_protocols", codes::<LabourProtocol>()),
        ("height_methods", codes::<HeightMethod>()),
        ("past_events", codes::<PastEvent>()),
        ("pole_findings", codes::<Pole>()),
        ("side_findings", codes::<Side>()),
        ("front_findings", codes::<Front>()),
        ("head_mobilities", codes::<Head>()),
        ("movements", codes::<Movements>()),
        ("waters", codes::<Waters>()),
        ("urine_proteins", codes::<Protein>()),
        ("danger_signs", codes::<DangerSign>()),
        ("inside_findings", codes::<FeltInside>()),
        ("occiputs", codes::<Occiput>()),
        ("liquors", codes::<Liquor>()),
        ("decelerations", codes::<Deceleration>()),
        ("obstruction_signs", codes::<ObstructionSign>()),
        ("urgencies", codes::<Urgency>()),
        ("categories", codes::<Category>()),
        ("flag_decisions", codes::<FlagDecision>()),
        ("flag_closings", codes::<FlagClosing>()),
        ("labour_endings", codes::<LabourEnding>()),
        ("referral_states", codes::<ReferralState>()),
        ("referral_events", codes::<ReferralEvent>()),
        ("stand_down_reasons", codes::<StandDownReason>()),
        ("answer_ways", codes::<AnswerWay>()),
        ("birth_places", codes::<BirthPlace>()),
        ("labour_onsets", codes::<Onset>()),
        ("birth_modes", codes::<Mode>()),
        ("birth_presentations", codes::<BirthPresentation>()),
        ("sexes", codes::<Sex>()),
        ("newborn_states", codes::<NewbornState>()),
        ("mother_outcomes", codes::<MotherOutcome>()),
        ("pregnancy_endings", codes::<PregnancyEnding>()),
    ];
    for (table, of_the_enum) in &tables {
        let stored: Vec<Code> = diesel::sql_query(format!("SELECT code FROM {table}"))
            .load(&mut db)
            .unwrap();
        let stored: BTreeSet<String> = stored.into_iter().map(|row| row.code).collect();
        assert_eq!(&stored, of_the_enum, "{table}");
    }
    let referred: Vec<Code> = diesel::sql_query(
        "SELECT DISTINCT k.\"table\" AS code FROM sqlite_master AS t JOIN pragma_foreign_key_list(t.name) AS k \
         WHERE t.type = 'table' AND k.\"to\" = 'code'",
    )
    .load(&mut db)
    .unwrap();
    let referred: BTreeSet<String> = referred.into_iter().map(|row| row.code).collect();
    let listed: BTreeSet<String> = tables
        .iter()
        .map(|(table, _)| (*table).to_owned())
        .collect();
    assert_eq!(
        referred, listed,
        "a table of codes that this test does not know"
    );
}

#[test]
fn a_code_of_no_vocabulary_is_an_error_and_never_a_default() {
    let house = House::new();
    let nela = house.nela();
    house.visits(nela.pregnancy, breech("2026-09-10T09:00"));
    let mut db = house.beside();
    run(&mut db, "PRAGMA foreign_keys = off");
    run(&mut db, "UPDATE flags SET category = 'sideways'");
    assert!(
        house
            .registry
            .read(|db| flags::of_pregnancy(db, nela.pregnancy))
            .is_err()
    );
}
