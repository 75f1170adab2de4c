//! The tables as the compiler knows them, in the order of the migration.
//!
//! Private to the registry: outside it a query does not compile.

diesel::table! { hospitals (id) {
    id -> Text, name -> Text, phone -> Nullable<Text>, can_operate -> Bool, has_blood -> Bool, revision -> Integer,
    stopped_at -> Nullable<Timestamp>,
} }
diesel::table! { posts (id) {
    id -> Text, code -> Text, name -> Text, time_zone -> Text, phone -> Nullable<Text>, labour_protocol -> Text, height_method -> Text,
    skilled_breech -> Bool, skilled_twins -> Bool, day_from -> Integer, night_from -> Integer, reply_address -> Nullable<Text>,
    revision -> Integer, stopped_at -> Nullable<Timestamp>,
} }
diesel::table! { travel (post_id, hospital_id) {
    post_id -> Text, hospital_id -> Text, day_minutes -> Integer, night_minutes -> Integer,
} }
diesel::table! { staff (id) {
    id -> Text, sign_in -> Text, name -> Text, role -> Text, post_id -> Nullable<Text>, password_hash -> Text,
    password_set_at -> Timestamp, visit_form -> Text, made_at -> Timestamp, stopped_at -> Nullable<Timestamp>,
} }
diesel::table! { sessions (key_hash) {
    key_hash -> Text, id -> Text, staff_id -> Nullable<Text>, state -> Text, device -> Nullable<Text>, began_at -> Timestamp,
    seen_at -> Timestamp, expires_at -> Timestamp,
} }
diesel::table! { running_numbers (post_id, series) {
    post_id -> Text, series -> Text, last -> Integer,
} }
diesel::table! { mothers (id) {
    id -> Text, post_id -> Text, number -> Integer, name -> Text, name_folded -> Text, village -> Nullable<Text>,
    village_folded -> Nullable<Text>, phone -> Nullable<Text>, phone_digits -> Nullable<Text>, may_phone -> Nullable<Bool>,
    birth_year -> Nullable<Integer>, age_years -> Nullable<Integer>, age_told_on -> Nullable<Date>, registered_at -> Timestamp,
    registered_by -> Text, request_key -> Nullable<Text>, revision -> Integer, entered_in_error -> Bool, reason -> Nullable<Text>,
} }
diesel::table! { mother_words (post_id, word, mother_id) {
    post_id -> Text, word -> Text, mother_id -> Text,
} }
diesel::table! { pregnancies (id) {
    id -> Text, mother_id -> Text, post_id -> Text, opened_at -> Timestamp, lmp -> Nullable<Date>, lmp_certain -> Nullable<Bool>,
    births_before -> Nullable<Integer>, previous_caesareans -> Nullable<Integer>, illness -> Nullable<Text>, allergies -> Nullable<Text>,
    medicines -> Nullable<Text>, blood_group -> Nullable<Text>, tests -> Nullable<Text>, companion -> Nullable<Text>,
    companion_phone -> Nullable<Text>, due_date -> Nullable<Date>, ended_at -> Nullable<Timestamp>, ending -> Nullable<Text>,
    revision -> Integer,
} }
diesel::table! { pregnancy_history (pregnancy_id, past_event) {
    pregnancy_id -> Text, past_event -> Text,
} }
diesel::table! { scans (id) {
    id -> Text, pregnancy_id -> Text, position -> Integer, scanned_on -> Date, gestation_days -> Nullable<Integer>,
    due_date -> Nullable<Date>, babies -> Nullable<Integer>,
} }
diesel::table! { visits (id) {
    id -> Text, pregnancy_id -> Text, mother_id -> Text, post_id -> Text, at -> Timestamp, entered_at -> Timestamp, entered_by -> Text,
    request_key -> Nullable<Text>, revision -> Integer, entered_in_error -> Bool, next_visit_on -> Nullable<Date>,
} }
diesel::table! { visit_findings (visit_id, revision) {
    visit_id -> Text, revision -> Integer, at -> Timestamp, in_labour -> Bool, labour_began_at -> Nullable<Timestamp>,
    waters_broke_at -> Nullable<Timestamp>, bladder_empty -> Nullable<Bool>, fundus -> Nullable<Text>, left_side -> Nullable<Text>,
    right_side -> Nullable<Text>, front -> Nullable<Text>, lower_pole -> Nullable<Text>, fifths -> Nullable<Integer>,
    head -> Nullable<Text>, many_small_parts -> Nullable<Bool>, belly_unusually_large -> Nullable<Bool>,
    fundal_height_tenths -> Nullable<Integer>, movements -> Nullable<Text>, waters -> Nullable<Text>, fetal_hearts -> Nullable<Text>,
    heart_sought -> Nullable<Bool>, systolic -> Nullable<Integer>, diastolic -> Nullable<Integer>, pulse -> Nullable<Integer>,
    temperature_tenths -> Nullable<Integer>, urine_protein -> Nullable<Text>, signs_asked -> Bool, next_visit_on -> Nullable<Date>,
    note -> Nullable<Text>, reason -> Nullable<Text>, written_at -> Timestamp, written_by -> Text,
} }
diesel::table! { visit_signs (visit_id, revision, danger_sign) {
    visit_id -> Text, revision -> Integer, danger_sign -> Text,
} }
diesel::table! { labours (id) {
    id -> Text, pregnancy_id -> Text, mother_id -> Text, post_id -> Text, opened_at -> Timestamp, opened_by -> Text,
    began_at -> Nullable<Timestamp>, waters_broke_at -> Nullable<Timestamp>, protocol -> Text, closed_at -> Nullable<Timestamp>,
    closed_as -> Nullable<Text>, closed_by -> Nullable<Text>, closing_note -> Nullable<Text>, request_key -> Nullable<Text>,
    revision -> Integer,
} }
diesel::table! { labour_rows (id) {
    id -> Text, labour_id -> Text, at -> Timestamp, fetal_hearts -> Nullable<Text>, counted_together -> Bool,
    heart_sought -> Nullable<Bool>, systolic -> Nullable<Integer>, diastolic -> Nullable<Integer>, pulse -> Nullable<Integer>,
    temperature_tenths -> Nullable<Integer>, urine_protein -> Nullable<Text>, dilatation_cm -> Nullable<Integer>,
    fifths -> Nullable<Integer>, felt_inside -> Nullable<Text>, occiput -> Nullable<Text>, moulding -> Nullable<Integer>,
    caput -> Nullable<Integer>, liquor -> Nullable<Text>, liquor_foul -> Nullable<Bool>, deceleration -> Nullable<Text>,
    contractions_in_10_min -> Nullable<Integer>, contraction_seconds -> Nullable<Integer>, pushing -> Nullable<Bool>,
    note -> Nullable<Text>, entered_at -> Timestamp, entered_by -> Text, request_key -> Nullable<Text>, replaced_by -> Nullable<Text>,
    reason -> Nullable<Text>,
} }
diesel::table! { labour_row_signs (row_id, danger_sign) {
    row_id -> Text, danger_sign -> Text,
} }
diesel::table! { labour_row_obstruction (row_id, obstruction_sign) {
    row_id -> Text, obstruction_sign -> Text,
} }
diesel::table! { flags (id) {
    id -> Text, pregnancy_id -> Text, mother_id -> Text, post_id -> Text, rule -> Text, category -> Text, urgency -> Text, highest -> Text,
    evidence -> Text, advice -> Text, source -> Text, rules_version -> Text, raised_at -> Timestamp, visit_id -> Nullable<Text>,
    labour_row_id -> Nullable<Text>, last_raised_at -> Timestamp, recheck_at -> Nullable<Timestamp>, decision -> Nullable<Text>,
    decided_at -> Nullable<Timestamp>, decided_by -> Nullable<Text>, reason -> Nullable<Text>, closing -> Nullable<Text>,
    closed_at -> Nullable<Timestamp>, closed_by_visit -> Nullable<Text>, revision -> Integer,
} }
diesel::table! { referrals (id) {
    id -> Text, number -> Text, post_id -> Text, mother_id -> Text, pregnancy_id -> Text, hospital_id -> Text, urgency -> Text,
    state -> Text, decided_at -> Timestamp, decided_by -> Text, entered_at -> Timestamp, planned_for -> Nullable<Date>,
    asked -> Nullable<Text>, given -> Nullable<Text>, transport -> Nullable<Text>, escort -> Nullable<Text>, note -> Nullable<Text>,
    reply_code -> Text, follows_id -> Nullable<Text>, first_flag_at -> Nullable<Timestamp>, request_key -> Nullable<Text>,
    revision -> Integer, entered_in_error -> Bool,
} }
diesel::table! { referral_reasons (referral_id, category) {
    referral_id -> Text, category -> Text,
} }
diesel::table! { referral_flags (referral_id, flag_id) {
    referral_id -> Text, flag_id -> Text,
} }
diesel::table! { referral_steps (id) {
    id -> Text, referral_id -> Text, event -> Text, at -> Nullable<Timestamp>, who -> Nullable<Text>, transport -> Nullable<Text>,
    reason -> Nullable<Text>, advised -> Nullable<Text>, stand_down -> Nullable<Text>, note -> Nullable<Text>, entered_at -> Timestamp,
    entered_by -> Nullable<Text>, request_key -> Nullable<Text>, replaced_by -> Nullable<Text>, correction -> Nullable<Text>,
} }
diesel::table! { answers (id) {
    id -> Text, referral_id -> Text, step_id -> Text, way -> Text, diagnosis -> Nullable<Text>, treatment -> Nullable<Text>,
    mother_outcome -> Nullable<Text>, baby_outcome -> Nullable<Text>, follow_up -> Nullable<Text>, given_by -> Nullable<Text>,
    given_on -> Nullable<Date>,
} }
diesel::table! { births (id) {
    id -> Text, pregnancy_id -> Text, mother_id -> Text, post_id -> Text, born_on -> Date, born_at -> Nullable<Timestamp>,
    entered_at -> Timestamp, entered_by -> Text, request_key -> Nullable<Text>, revision -> Integer, entered_in_error -> Bool,
} }
diesel::table! { birth_details (birth_id, revision) {
    birth_id -> Text, revision -> Integer, onset -> Text, mother_outcome -> Text, mother_died_on -> Nullable<Date>, note -> Nullable<Text>,
    reason -> Nullable<Text>, written_at -> Timestamp, written_by -> Text,
} }
diesel::table! { newborns (birth_id, revision, position) {
    birth_id -> Text, revision -> Integer, position -> Integer, born_on -> Date, born_at -> Nullable<Timestamp>, place -> Text,
    mode -> Text, presentation -> Text, sex -> Nullable<Text>, weight_g -> Nullable<Integer>, apgar_1 -> Nullable<Integer>,
    apgar_5 -> Nullable<Integer>, state -> Text, died -> Bool, died_on -> Nullable<Date>, died_at -> Nullable<Timestamp>,
    lethal_malformation -> Nullable<Bool>, seen_alive_on -> Nullable<Date>,
} }
diesel::table! { month_signatures (id) {
    id -> Text, post_id -> Text, month -> Text, revision -> Integer, signed_at -> Timestamp, signed_by -> Text, rules_version -> Text,
    figures -> Text, note -> Nullable<Text>,
} }
diesel::table! { audit (seq) {
    seq -> Integer, at -> Timestamp, staff_id -> Nullable<Text>, staff_name -> Text, post_id -> Nullable<Text>, verb -> Text,
    about -> Text, about_id -> Nullable<Text>, detail -> Text, previous -> Text, digest -> Text,
} }
diesel::table! { raisings (visit_id, flag_id) {
    visit_id -> Text, flag_id -> Text, urgency -> Text, evidence -> Text, advice -> Text, source -> Text, rules_version -> Text,
    recheck_at -> Nullable<Timestamp>,
} }

diesel::joinable!(travel -> posts (post_id));
diesel::joinable!(travel -> hospitals (hospital_id));
diesel::joinable!(staff -> posts (post_id));
diesel::joinable!(sessions -> staff (staff_id));
diesel::joinable!(running_numbers -> posts (post_id));
diesel::joinable!(mothers -> posts (post_id));
diesel::joinable!(mothers -> staff (registered_by));
diesel::joinable!(mother_words -> posts (post_id));
diesel::joinable!(mother_words -> mothers (mother_id));
diesel::joinable!(pregnancies -> mothers (mother_id));
diesel::joinable!(pregnancies -> posts (post_id));
diesel::joinable!(pregnancy_history -> pregnancies (pregnancy_id));
diesel::joinable!(scans -> pregnancies (pregnancy_id));
diesel::joinable!(visits -> pregnancies (pregnancy_id));
diesel::joinable!(visits -> mothers (mother_id));
diesel::joinable!(visits -> posts (post_id));
diesel::joinable!(visits -> staff (entered_by));
diesel::joinable!(visit_findings -> visits (visit_id));
diesel::joinable!(visit_findings -> staff (written_by));
diesel::joinable!(labours -> pregnancies (pregnancy_id));
diesel::joinable!(labours -> mothers (mother_id));
diesel::joinable!(labours -> posts (post_id));
diesel::joinable!(labour_rows -> labours (labour_id));
diesel::joinable!(labour_rows -> staff (entered_by));
diesel::joinable!(labour_row_signs -> labour_rows (row_id));
diesel::joinable!(labour_row_obstruction -> labour_rows (row_id));
diesel::joinable!(flags -> pregnancies (pregnancy_id));
diesel::joinable!(flags -> mothers (mother_id));
diesel::joinable!(flags -> posts (post_id));
diesel::joinable!(flags -> labour_rows (labour_row_id));
diesel::joinable!(flags -> staff (decided_by));
diesel::joinable!(referrals -> posts (post_id));
diesel::joinable!(referrals -> mothers (mother_id));
diesel::joinable!(referrals -> pregnancies (pregnancy_id));
diesel::joinable!(referrals -> hospitals (hospital_id));
diesel::joinable!(referrals -> staff (decided_by));
diesel::joinable!(referral_reasons -> referrals (referral_id));
diesel::joinable!(referral_flags -> referrals (referral_id));
diesel::joinable!(referral_flags -> flags (flag_id));
diesel::joinable!(referral_steps -> referrals (referral_id));
diesel::joinable!(referral_steps -> staff (entered_by));
diesel::joinable!(answers -> referrals (referral_id));
diesel::joinable!(answers -> referral_steps (step_id));
diesel::joinable!(births -> pregnancies (pregnancy_id));
diesel::joinable!(births -> mothers (mother_id));
diesel::joinable!(births -> posts (post_id));
diesel::joinable!(births -> staff (entered_by));
diesel::joinable!(birth_details -> births (birth_id));
diesel::joinable!(birth_details -> staff (written_by));
diesel::joinable!(month_signatures -> posts (post_id));
diesel::joinable!(month_signatures -> staff (signed_by));
diesel::joinable!(raisings -> visits (visit_id));
diesel::joinable!(raisings -> flags (flag_id));

diesel::allow_tables_to_appear_in_same_query!(
    hospitals,
    posts,
    travel,
    staff,
    sessions,
    running_numbers,
    mothers,
    mother_words,
    pregnancies,
    pregnancy_history,
    scans,
    visits,
    visit_findings,
    visit_signs,
    labours,
    labour_rows,
    labour_row_signs,
    labour_row_obstruction,
    flags,
    referrals,
    referral_reasons,
    referral_flags,
    referral_steps,
    answers,
    births,
    birth_details,
    newborns,
    month_signatures,
    raisings,
    audit,
);
