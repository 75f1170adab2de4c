-- The registry's first shape. One set for SQLite and PostgreSQL: TEXT, INTEGER, BOOLEAN, DATE and TIMESTAMP only.
-- Timestamps are UTC to the second; a DATE is a calendar day as somebody told it. Ids are UUID v7 text made by the program.
-- A vocabulary is a table of codes, held equal to its enum by a test; nothing cascades.

CREATE TABLE roles (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE visit_forms (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE labour_protocols (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE height_methods (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE past_events (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE pole_findings (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE side_findings (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE front_findings (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE head_mobilities (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE movements (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE waters (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE urine_proteins (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE danger_signs (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE inside_findings (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE occiputs (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE liquors (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE decelerations (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE obstruction_signs (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE urgencies (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE categories (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE flag_decisions (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE flag_closings (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE labour_endings (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE referral_states (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE referral_events (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE stand_down_reasons (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE answer_ways (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE birth_places (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE labour_onsets (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE birth_modes (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE birth_presentations (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE sexes (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE newborn_states (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE mother_outcomes (code TEXT PRIMARY KEY NOT NULL);
CREATE TABLE pregnancy_endings (code TEXT PRIMARY KEY NOT NULL);

INSERT INTO roles (code) VALUES ('nurse'), ('midwife'), ('district'), ('keeper');
INSERT INTO visit_forms (code) VALUES ('drawing'), ('list');
INSERT INTO labour_protocols (code) VALUES ('labour-care-guide'), ('partograph');
INSERT INTO height_methods (code) VALUES ('intergrowth'), ('weeks');
INSERT INTO past_events (code) VALUES ('stillbirth'), ('early-death'), ('heavy-bleeding'), ('convulsions'), ('severe-tear'), ('assisted-birth');
INSERT INTO pole_findings (code) VALUES ('hard-round'), ('soft-irregular'), ('empty'), ('unsure');
INSERT INTO side_findings (code) VALUES ('long-smooth'), ('small-lumps'), ('hard-round'), ('soft-irregular'), ('nothing'), ('unsure');
INSERT INTO front_findings (code) VALUES ('long-smooth'), ('small-lumps'), ('nothing'), ('unsure');
INSERT INTO head_mobilities (code) VALUES ('mobile'), ('fixed');
INSERT INTO movements (code) VALUES ('normal'), ('reduced'), ('none');
INSERT INTO waters (code) VALUES ('intact'), ('broken'), ('broken-foul');
INSERT INTO urine_proteins (code) VALUES ('none'), ('trace'), ('1+'), ('2+'), ('3+'), ('4+');
INSERT INTO danger_signs (code) VALUES ('bleeding'), ('convulsions'), ('unconscious'), ('severe-headache'), ('blurred-vision'), ('severe-abdominal-pain'), ('breathing-difficulty'), ('too-weak-to-stand'), ('cord');
INSERT INTO inside_findings (code) VALUES ('vertex'), ('face'), ('brow'), ('breech'), ('shoulder'), ('limb-with-head'), ('cord'), ('unsure');
INSERT INTO occiputs (code) VALUES ('anterior'), ('transverse'), ('posterior'), ('unsure');
INSERT INTO liquors (code) VALUES ('intact'), ('clear'), ('meconium-1'), ('meconium-2'), ('meconium-3'), ('blood'), ('none-seen');
INSERT INTO decelerations (code) VALUES ('none'), ('early'), ('late'), ('variable');
INSERT INTO obstruction_signs (code) VALUES ('ridge-across-belly'), ('swollen-cervix'), ('swollen-vulva'), ('blood-in-urine'), ('pain-between-contractions');
INSERT INTO urgencies (code) VALUES ('now'), ('soon'), ('review'), ('recheck');
INSERT INTO categories (code) VALUES ('transverse-lie'), ('malpresentation'), ('breech'), ('suspected-twins'), ('small-for-dates'), ('large-for-dates'), ('poor-progress'), ('high-head'), ('occiput-posterior'), ('danger-sign'), ('raised-blood-pressure'), ('fetal-heart'), ('waters'), ('preterm-labour'), ('past-dates'), ('scarred-uterus'), ('birth-place'), ('unclear-findings'), ('unknown-dates');
INSERT INTO flag_decisions (code) VALUES ('confirmed'), ('dismissed');
INSERT INTO flag_closings (code) VALUES ('dismissed'), ('settled'), ('ended');
INSERT INTO labour_endings (code) VALUES ('birth'), ('referral'), ('not-in-labour');
INSERT INTO referral_states (code) VALUES ('decided'), ('left'), ('arrived'), ('seen'), ('answered'), ('not-arrived'), ('declined'), ('stood-down');
INSERT INTO referral_events (code) VALUES ('decided'), ('told'), ('left'), ('arrived'), ('seen'), ('answered'), ('never-came'), ('declined'), ('stood-down');
INSERT INTO stand_down_reasons (code) VALUES ('birth-here'), ('flag-dismissed'), ('other-hospital'), ('misjudged');
INSERT INTO answer_ways (code) VALUES ('paper'), ('phone'), ('code');
INSERT INTO birth_places (code) VALUES ('here'), ('hospital'), ('on-the-way'), ('home'), ('unknown');
INSERT INTO labour_onsets (code) VALUES ('spontaneous'), ('induced'), ('caesarean-before-labour'), ('unknown');
INSERT INTO birth_modes (code) VALUES ('vaginal'), ('assisted'), ('caesarean'), ('unknown');
INSERT INTO birth_presentations (code) VALUES ('cephalic'), ('breech'), ('shoulder'), ('unknown');
INSERT INTO sexes (code) VALUES ('girl'), ('boy'), ('indeterminate');
INSERT INTO newborn_states (code) VALUES ('alive'), ('stillborn-fresh'), ('stillborn-macerated'), ('stillborn-unstated');
INSERT INTO mother_outcomes (code) VALUES ('well'), ('ill'), ('died'), ('unknown');
INSERT INTO pregnancy_endings (code) VALUES ('birth'), ('loss'), ('maternal-death'), ('moved-away'), ('entered-in-error');

CREATE TABLE hospitals (
    id TEXT PRIMARY KEY NOT NULL, name TEXT NOT NULL, phone TEXT,
    can_operate BOOLEAN NOT NULL, has_blood BOOLEAN NOT NULL, revision INTEGER NOT NULL, stopped_at TIMESTAMP
);
CREATE TABLE posts (
    id TEXT PRIMARY KEY NOT NULL, code TEXT NOT NULL UNIQUE, name TEXT NOT NULL UNIQUE,
    time_zone TEXT NOT NULL, phone TEXT,
    labour_protocol TEXT NOT NULL REFERENCES labour_protocols (code),
    height_method TEXT NOT NULL REFERENCES height_methods (code),
    skilled_breech BOOLEAN NOT NULL, skilled_twins BOOLEAN NOT NULL,
    day_from INTEGER NOT NULL, night_from INTEGER NOT NULL, -- local hours at which day and night travel begin
    reply_address TEXT, revision INTEGER NOT NULL, stopped_at TIMESTAMP
);
-- Minutes door to door with the usual wait for the vehicle.
CREATE TABLE travel (
    post_id TEXT NOT NULL REFERENCES posts (id), hospital_id TEXT NOT NULL REFERENCES hospitals (id),
    day_minutes INTEGER NOT NULL, night_minutes INTEGER NOT NULL,
    PRIMARY KEY (post_id, hospital_id)
);
CREATE TABLE staff (
    id TEXT PRIMARY KEY NOT NULL, sign_in TEXT NOT NULL UNIQUE, name TEXT NOT NULL,
    role TEXT NOT NULL REFERENCES roles (code), post_id TEXT REFERENCES posts (id),
    password_hash TEXT NOT NULL, password_set_at TIMESTAMP NOT NULL,
    visit_form TEXT NOT NULL REFERENCES visit_forms (code),
    made_at TIMESTAMP NOT NULL, stopped_at TIMESTAMP
);
CREATE TABLE sessions (
    key_hash TEXT PRIMARY KEY NOT NULL, id TEXT NOT NULL UNIQUE, staff_id TEXT REFERENCES staff (id),
    state TEXT NOT NULL, device TEXT, began_at TIMESTAMP NOT NULL, seen_at TIMESTAMP NOT NULL, expires_at TIMESTAMP NOT NULL
);
CREATE INDEX sessions_by_staff ON sessions (staff_id);
-- Running numbers: registered mothers of a post, its referrals of a year.
CREATE TABLE running_numbers (
    post_id TEXT NOT NULL REFERENCES posts (id), series TEXT NOT NULL, last INTEGER NOT NULL,
    PRIMARY KEY (post_id, series)
);

CREATE TABLE mothers (
    id TEXT PRIMARY KEY NOT NULL, post_id TEXT NOT NULL REFERENCES posts (id), number INTEGER NOT NULL,
    name TEXT NOT NULL, name_folded TEXT NOT NULL, village TEXT, village_folded TEXT,
    phone TEXT, phone_digits TEXT, may_phone BOOLEAN,
    birth_year INTEGER, age_years INTEGER, age_told_on DATE,
    registered_at TIMESTAMP NOT NULL, registered_by TEXT NOT NULL REFERENCES staff (id),
    request_key TEXT UNIQUE, revision INTEGER NOT NULL, entered_in_error BOOLEAN NOT NULL, reason TEXT, -- why in error
    UNIQUE (post_id, number)
);
CREATE INDEX mothers_by_name ON mothers (post_id, name_folded, id);
CREATE INDEX mothers_by_phone ON mothers (post_id, phone_digits);
CREATE INDEX mothers_in_error ON mothers (post_id) WHERE entered_in_error;
CREATE INDEX mothers_by_registration ON mothers (post_id, registered_at, id);
-- Every word of name and village, folded, so that any part can be found from its beginning through an index.
CREATE TABLE mother_words (
    post_id TEXT NOT NULL REFERENCES posts (id), word TEXT NOT NULL, mother_id TEXT NOT NULL REFERENCES mothers (id),
    PRIMARY KEY (post_id, word, mother_id)
);
CREATE INDEX mother_words_by_mother ON mother_words (mother_id);

CREATE TABLE pregnancies (
    id TEXT PRIMARY KEY NOT NULL, mother_id TEXT NOT NULL REFERENCES mothers (id), post_id TEXT NOT NULL REFERENCES posts (id),
    opened_at TIMESTAMP NOT NULL, lmp DATE, lmp_certain BOOLEAN,
    births_before INTEGER, previous_caesareans INTEGER,
    illness TEXT, allergies TEXT, medicines TEXT, blood_group TEXT, tests TEXT, companion TEXT, companion_phone TEXT,
    due_date DATE, -- of the dating in force, kept for lists and indexes; the dating itself is always computed
    ended_at TIMESTAMP, ending TEXT REFERENCES pregnancy_endings (code),
    revision INTEGER NOT NULL
);
CREATE INDEX pregnancies_by_mother ON pregnancies (mother_id, opened_at);
CREATE INDEX pregnancies_by_opening ON pregnancies (post_id, opened_at, id);
CREATE INDEX pregnancies_by_due_date ON pregnancies (post_id, due_date, id);
CREATE INDEX pregnancies_by_end ON pregnancies (post_id, ended_at, mother_id);
CREATE TABLE pregnancy_history (
    pregnancy_id TEXT NOT NULL REFERENCES pregnancies (id), past_event TEXT NOT NULL REFERENCES past_events (code),
    PRIMARY KEY (pregnancy_id, past_event)
);
CREATE TABLE scans (
    id TEXT PRIMARY KEY NOT NULL, pregnancy_id TEXT NOT NULL REFERENCES pregnancies (id), position INTEGER NOT NULL,
    scanned_on DATE NOT NULL, gestation_days INTEGER, due_date DATE, babies INTEGER
);
CREATE INDEX scans_by_pregnancy ON scans (pregnancy_id, position);

-- A visit is its place in the register; what was found stands in its findings, one row a revision.
CREATE TABLE visits (
    id TEXT PRIMARY KEY NOT NULL, pregnancy_id TEXT NOT NULL REFERENCES pregnancies (id),
    mother_id TEXT NOT NULL REFERENCES mothers (id), post_id TEXT NOT NULL REFERENCES posts (id),
    at TIMESTAMP NOT NULL, entered_at TIMESTAMP NOT NULL, entered_by TEXT NOT NULL REFERENCES staff (id),
    request_key TEXT UNIQUE, revision INTEGER NOT NULL, entered_in_error BOOLEAN NOT NULL,
    next_visit_on DATE -- of the newest revision, for the list of women due
);
CREATE INDEX visits_by_pregnancy ON visits (pregnancy_id, at, id);
CREATE INDEX visits_by_post ON visits (post_id, at, id);
CREATE INDEX visits_by_next ON visits (post_id, next_visit_on);
CREATE TABLE visit_findings (
    visit_id TEXT NOT NULL REFERENCES visits (id), revision INTEGER NOT NULL,
    at TIMESTAMP NOT NULL, in_labour BOOLEAN NOT NULL,
    labour_began_at TIMESTAMP, waters_broke_at TIMESTAMP, bladder_empty BOOLEAN,
    fundus TEXT REFERENCES pole_findings (code), left_side TEXT REFERENCES side_findings (code),
    right_side TEXT REFERENCES side_findings (code), front TEXT REFERENCES front_findings (code),
    lower_pole TEXT REFERENCES pole_findings (code), fifths INTEGER, head TEXT REFERENCES head_mobilities (code),
    many_small_parts BOOLEAN, belly_unusually_large BOOLEAN, fundal_height_tenths INTEGER,
    movements TEXT REFERENCES movements (code), waters TEXT REFERENCES waters (code),
    fetal_hearts TEXT, heart_sought BOOLEAN, -- counts joined by commas, in the order they were written
    systolic INTEGER, diastolic INTEGER, pulse INTEGER, temperature_tenths INTEGER,
    urine_protein TEXT REFERENCES urine_proteins (code), signs_asked BOOLEAN NOT NULL,
    next_visit_on DATE, note TEXT, reason TEXT,
    written_at TIMESTAMP NOT NULL, written_by TEXT NOT NULL REFERENCES staff (id),
    PRIMARY KEY (visit_id, revision)
);
CREATE TABLE visit_signs (
    visit_id TEXT NOT NULL, revision INTEGER NOT NULL, danger_sign TEXT NOT NULL REFERENCES danger_signs (code),
    PRIMARY KEY (visit_id, revision, danger_sign),
    FOREIGN KEY (visit_id, revision) REFERENCES visit_findings (visit_id, revision)
);

CREATE TABLE labours (
    id TEXT PRIMARY KEY NOT NULL, pregnancy_id TEXT NOT NULL REFERENCES pregnancies (id),
    mother_id TEXT NOT NULL REFERENCES mothers (id), post_id TEXT NOT NULL REFERENCES posts (id),
    opened_at TIMESTAMP NOT NULL, opened_by TEXT NOT NULL REFERENCES staff (id),
    began_at TIMESTAMP, waters_broke_at TIMESTAMP, protocol TEXT NOT NULL REFERENCES labour_protocols (code),
    closed_at TIMESTAMP, closed_as TEXT REFERENCES labour_endings (code), closed_by TEXT REFERENCES staff (id), closing_note TEXT,
    request_key TEXT UNIQUE, revision INTEGER NOT NULL
);
CREATE INDEX labours_by_pregnancy ON labours (pregnancy_id, opened_at);
CREATE INDEX labours_by_post ON labours (post_id, closed_at, opened_at);
CREATE TABLE labour_rows (
    id TEXT PRIMARY KEY NOT NULL, labour_id TEXT NOT NULL REFERENCES labours (id), at TIMESTAMP NOT NULL,
    fetal_hearts TEXT, counted_together BOOLEAN NOT NULL, heart_sought BOOLEAN, systolic INTEGER, diastolic INTEGER, pulse INTEGER,
    temperature_tenths INTEGER, urine_protein TEXT REFERENCES urine_proteins (code),
    dilatation_cm INTEGER, fifths INTEGER, felt_inside TEXT REFERENCES inside_findings (code),
    occiput TEXT REFERENCES occiputs (code), moulding INTEGER, caput INTEGER,
    liquor TEXT REFERENCES liquors (code), liquor_foul BOOLEAN, deceleration TEXT REFERENCES decelerations (code),
    contractions_in_10_min INTEGER, contraction_seconds INTEGER, pushing BOOLEAN, note TEXT,
    entered_at TIMESTAMP NOT NULL, entered_by TEXT NOT NULL REFERENCES staff (id), request_key TEXT UNIQUE,
    replaced_by TEXT REFERENCES labour_rows (id), reason TEXT -- an amended row stays, and names the row that stands for it
);
CREATE INDEX labour_rows_by_labour ON labour_rows (labour_id, at, id);
CREATE TABLE labour_row_signs (
    row_id TEXT NOT NULL REFERENCES labour_rows (id), danger_sign TEXT NOT NULL REFERENCES danger_signs (code),
    PRIMARY KEY (row_id, danger_sign)
);
CREATE TABLE labour_row_obstruction (
    row_id TEXT NOT NULL REFERENCES labour_rows (id), obstruction_sign TEXT NOT NULL REFERENCES obstruction_signs (code),
    PRIMARY KEY (row_id, obstruction_sign)
);

CREATE TABLE flags (
    id TEXT PRIMARY KEY NOT NULL, pregnancy_id TEXT NOT NULL REFERENCES pregnancies (id),
    mother_id TEXT NOT NULL REFERENCES mothers (id), post_id TEXT NOT NULL REFERENCES posts (id),
    rule TEXT NOT NULL, category TEXT NOT NULL REFERENCES categories (code),
    urgency TEXT NOT NULL REFERENCES urgencies (code), -- as last judged
    highest TEXT NOT NULL REFERENCES urgencies (code), -- the highest it has had
    evidence TEXT NOT NULL, advice TEXT NOT NULL, source TEXT NOT NULL, rules_version TEXT NOT NULL,
    raised_at TIMESTAMP NOT NULL, visit_id TEXT REFERENCES visits (id), labour_row_id TEXT REFERENCES labour_rows (id),
    last_raised_at TIMESTAMP NOT NULL, recheck_at TIMESTAMP,
    decision TEXT REFERENCES flag_decisions (code), decided_at TIMESTAMP, decided_by TEXT REFERENCES staff (id), reason TEXT,
    closing TEXT REFERENCES flag_closings (code), closed_at TIMESTAMP, closed_by_visit TEXT REFERENCES visits (id),
    revision INTEGER NOT NULL
);
CREATE INDEX flags_by_pregnancy ON flags (pregnancy_id, raised_at);
CREATE INDEX flags_waiting ON flags (post_id, closed_at, decision, urgency, raised_at, id);
CREATE INDEX flags_by_month ON flags (post_id, raised_at, id);

CREATE TABLE referrals (
    id TEXT PRIMARY KEY NOT NULL, number TEXT NOT NULL UNIQUE, post_id TEXT NOT NULL REFERENCES posts (id),
    mother_id TEXT NOT NULL REFERENCES mothers (id), pregnancy_id TEXT NOT NULL REFERENCES pregnancies (id),
    hospital_id TEXT NOT NULL REFERENCES hospitals (id), urgency TEXT NOT NULL REFERENCES urgencies (code),
    state TEXT NOT NULL REFERENCES referral_states (code),
    decided_at TIMESTAMP NOT NULL, decided_by TEXT NOT NULL REFERENCES staff (id), entered_at TIMESTAMP NOT NULL,
    planned_for DATE, asked TEXT, given TEXT, transport TEXT, escort TEXT, note TEXT,
    reply_code TEXT NOT NULL UNIQUE, follows_id TEXT REFERENCES referrals (id),
    first_flag_at TIMESTAMP, -- the first now or soon flag of its reasons, for the delay of deciding
    request_key TEXT UNIQUE, revision INTEGER NOT NULL, entered_in_error BOOLEAN NOT NULL
);
CREATE INDEX referrals_by_post ON referrals (post_id, decided_at, id);
CREATE INDEX referrals_by_state ON referrals (post_id, state, decided_at);
CREATE INDEX referrals_by_pregnancy ON referrals (pregnancy_id, decided_at);
CREATE TABLE referral_reasons (
    referral_id TEXT NOT NULL REFERENCES referrals (id), category TEXT NOT NULL REFERENCES categories (code),
    PRIMARY KEY (referral_id, category)
);
CREATE TABLE referral_flags (
    referral_id TEXT NOT NULL REFERENCES referrals (id), flag_id TEXT NOT NULL REFERENCES flags (id),
    PRIMARY KEY (referral_id, flag_id)
);
CREATE TABLE referral_steps (
    id TEXT PRIMARY KEY NOT NULL, referral_id TEXT NOT NULL REFERENCES referrals (id),
    event TEXT NOT NULL REFERENCES referral_events (code), at TIMESTAMP, -- absent: the time is not known
    who TEXT, transport TEXT, reason TEXT, advised TEXT, stand_down TEXT REFERENCES stand_down_reasons (code), note TEXT,
    entered_at TIMESTAMP NOT NULL, entered_by TEXT REFERENCES staff (id), -- absent: the hospital, through its code
    request_key TEXT UNIQUE, replaced_by TEXT REFERENCES referral_steps (id), correction TEXT
);
CREATE INDEX referral_steps_by_referral ON referral_steps (referral_id, entered_at, id);
CREATE TABLE answers (
    id TEXT PRIMARY KEY NOT NULL, referral_id TEXT NOT NULL REFERENCES referrals (id),
    step_id TEXT NOT NULL REFERENCES referral_steps (id), way TEXT NOT NULL REFERENCES answer_ways (code),
    diagnosis TEXT, treatment TEXT, mother_outcome TEXT, baby_outcome TEXT, follow_up TEXT,
    given_by TEXT, given_on DATE
);
CREATE INDEX answers_by_referral ON answers (referral_id);

CREATE TABLE births (
    id TEXT PRIMARY KEY NOT NULL, pregnancy_id TEXT NOT NULL UNIQUE REFERENCES pregnancies (id),
    mother_id TEXT NOT NULL REFERENCES mothers (id), post_id TEXT NOT NULL REFERENCES posts (id),
    born_on DATE NOT NULL, born_at TIMESTAMP, -- the first baby: its local day, and its moment when the time is known
    entered_at TIMESTAMP NOT NULL, entered_by TEXT NOT NULL REFERENCES staff (id), request_key TEXT UNIQUE,
    revision INTEGER NOT NULL, entered_in_error BOOLEAN NOT NULL
);
CREATE INDEX births_by_post ON births (post_id, born_on, id);
CREATE TABLE birth_details (
    birth_id TEXT NOT NULL REFERENCES births (id), revision INTEGER NOT NULL,
    onset TEXT NOT NULL REFERENCES labour_onsets (code),
    mother_outcome TEXT NOT NULL REFERENCES mother_outcomes (code), mother_died_on DATE, note TEXT, reason TEXT,
    written_at TIMESTAMP NOT NULL, written_by TEXT NOT NULL REFERENCES staff (id),
    PRIMARY KEY (birth_id, revision)
);
CREATE TABLE newborns (
    birth_id TEXT NOT NULL, revision INTEGER NOT NULL, position INTEGER NOT NULL,
    born_on DATE NOT NULL, born_at TIMESTAMP,
    place TEXT NOT NULL REFERENCES birth_places (code), mode TEXT NOT NULL REFERENCES birth_modes (code),
    presentation TEXT NOT NULL REFERENCES birth_presentations (code), sex TEXT REFERENCES sexes (code),
    weight_g INTEGER, apgar_1 INTEGER, apgar_5 INTEGER, state TEXT NOT NULL REFERENCES newborn_states (code),
    died BOOLEAN NOT NULL, died_on DATE, died_at TIMESTAMP, lethal_malformation BOOLEAN, seen_alive_on DATE,
    PRIMARY KEY (birth_id, revision, position),
    FOREIGN KEY (birth_id, revision) REFERENCES birth_details (birth_id, revision)
);

CREATE TABLE month_signatures (
    id TEXT PRIMARY KEY NOT NULL, post_id TEXT NOT NULL REFERENCES posts (id), month TEXT NOT NULL, -- 2026-10
    revision INTEGER NOT NULL, signed_at TIMESTAMP NOT NULL, signed_by TEXT NOT NULL REFERENCES staff (id),
    rules_version TEXT NOT NULL, figures TEXT NOT NULL, note TEXT,
    UNIQUE (post_id, month, revision)
);

-- Each line holds the digest of the one before, so that a line changed or taken out shows.
CREATE TABLE audit (
    seq INTEGER PRIMARY KEY NOT NULL, at TIMESTAMP NOT NULL, staff_id TEXT, staff_name TEXT NOT NULL, post_id TEXT,
    verb TEXT NOT NULL, about TEXT NOT NULL, about_id TEXT, detail TEXT NOT NULL,
    previous TEXT NOT NULL, digest TEXT NOT NULL
);
CREATE INDEX audit_by_about ON audit (about, about_id);
CREATE INDEX audit_by_staff ON audit (staff_id, seq);
CREATE INDEX audit_by_time ON audit (at, seq);
