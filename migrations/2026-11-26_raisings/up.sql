-- What each visit raised, in the words of that judgement: a flag itself follows the latest one.
CREATE TABLE raisings (
    visit_id TEXT NOT NULL REFERENCES visits (id), flag_id TEXT NOT NULL REFERENCES flags (id),
    urgency TEXT NOT NULL REFERENCES urgencies (code),
    evidence TEXT NOT NULL, advice TEXT NOT NULL, source TEXT NOT NULL, rules_version TEXT NOT NULL,
    recheck_at TIMESTAMP,
    PRIMARY KEY (visit_id, flag_id)
);
-- Of what was judged before, only the last words of a flag are known: they belong to the visit that spoke last.
INSERT INTO raisings
    SELECT visits.id, flags.id, flags.urgency, evidence, advice, source, rules_version, recheck_at
    FROM flags JOIN visits ON visits.pregnancy_id = flags.pregnancy_id AND visits.at = flags.last_raised_at
    WHERE flags.last_raised_at > flags.raised_at OR visits.id = flags.visit_id;
