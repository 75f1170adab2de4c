//! Women who were sent to the hospital: one decision, and its steps.

use brimline::registry::referrals::{self, Decision, Facts, NewStep, advance, decide};
use brimline::registry::{
    By, FlagId, PregnancyId, ReferralEvent, ReferralId, ReferralState, RegistryError, flags,
};

use crate::house::{House, at};
use crate::labours::dilated;
use crate::women::breech;

pub(crate) fn decision(
    house: &House,
    pregnancy: PregnancyId,
    flags: Vec<FlagId>,
    now: &str,
) -> Decision {
    Decision {
        pregnancy,
        hospital: house.amberholt,
        flags,
        categories: Vec::new(),
        urgency: None,
        decided_at: at(now),
        planned_for: None,
        asked: Some("Please assess at once.".into()),
        given: None,
        transport: None,
        escort: None,
        note: None,
        follows: None,
        request: None,
    }
}

impl House {
    #[track_caller]
    pub(crate) fn flag_of(&self, pregnancy: PregnancyId, rule: &str) -> flags::Flag {
        let standing = self.read(|db| flags::standing(db, pregnancy));
        standing
            .into_iter()
            .find(|flag| flag.rule == rule)
            .unwrap_or_else(|| panic!("no flag {rule}"))
    }

    /// Nela, in labour with a breech: a flag says refer now.
    #[track_caller]
    pub(crate) fn breech_in_labour(&self) -> (PregnancyId, FlagId) {
        let nela = self.nela();
        self.visits(nela.pregnancy, breech("2026-10-01T06:00"));
        self.opens_labour(nela.pregnancy, dilated("2026-10-01T07:00", 5));
        (
            nela.pregnancy,
            self.flag_of(nela.pregnancy, "breech-in-labour").id,
        )
    }

    #[track_caller]
    pub(crate) fn referred(&self) -> (PregnancyId, ReferralId) {
        let (pregnancy, flag) = self.breech_in_labour();
        let new = decision(self, pregnancy, vec![flag], "2026-10-01T08:00");
        (
            pregnancy,
            self.nurse("2026-10-01T08:00", |change| decide(change, &new))
                .unwrap(),
        )
    }

    #[track_caller]
    pub(crate) fn facts(&self, id: ReferralId) -> Facts {
        self.read(|db| referrals::facts(db, self.post, id))
    }

    pub(crate) fn steps(
        &self,
        by: &By,
        id: ReferralId,
        now: &str,
        step: &NewStep,
    ) -> Result<(), RegistryError> {
        let revision = self.facts(id).referral.revision;
        let done = self
            .registry
            .write(by, at(now), |change| advance(change, id, revision, step));
        done.map(|_| ())
    }

    #[track_caller]
    pub(crate) fn moves(&self, id: ReferralId, event: ReferralEvent, when: &str) {
        self.steps(&self.nurse, id, when, &NewStep::at(event, Some(at(when))))
            .unwrap();
    }

    #[track_caller]
    pub(crate) fn state(&self, id: ReferralId) -> ReferralState {
        self.facts(id).referral.state
    }
}
