//! Deciding a referral: from flags, or freely by the midwife in charge.

use askama::Template;

use super::super::hers::{self, Hers};
use super::new_form::{DecisionForm, Given, Means, NAMED};
use crate::clinical::{Category, Moment, Urgency};
use crate::registry::flags::{self, Flag};
use crate::registry::hospitals::{self, Needs, Proposal};
use crate::registry::referrals::{self, Referral};
use crate::registry::{
    self, Db, FlagDecision, FlagId, HospitalId, MotherId, PostId, PregnancyId, ReferralEvent,
    ReferralId, ReferralState, RegistryError, Role, StandDownReason, labours,
};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{CheckedForm, Faults, Form as _, Opt, Query, Sense, Typed, When};
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

/// What the page shows beside the form.
struct Ground {
    hers: Hers,
    flags: Vec<Flag>,
    proposals: Vec<Proposal>,
    running: Vec<Referral>,
}

impl Ground {
    fn read(
        db: &mut Db,
        post: PostId,
        pregnancy: PregnancyId,
        follows: Option<ReferralId>,
        now: Moment,
    ) -> registry::Result<Self> {
        let hers = Hers::read(db, post, pregnancy, now)?;
        let mut flags = flags::standing(db, pregnancy)?;
        flags.retain(|flag| flag.decision != Some(FlagDecision::Dismissed));
        let pressing = flags.iter().any(|flag| flag.urgency != Urgency::Recheck);
        // Whatever brings a woman with a flag to hospital may end in an operation [O: the safer side].
        let needs = Needs {
            operation: pressing,
            blood: false,
        };
        let mut proposals = hospitals::proposed(db, &hers.post, now, needs)?;
        let passed = follows.and_then(|id| passed_over(db, post, id));
        proposals.sort_by_key(|it| Some(it.hospital.id) == passed);
        let mut running = referrals::of_pregnancy(db, post, pregnancy)?;
        running.retain(|it| {
            matches!(it.state, ReferralState::Decided | ReferralState::Left) && !it.entered_in_error
        });
        Ok(Self {
            hers,
            flags,
            proposals,
            running,
        })
    }
}

/// Where she was to go no longer: the earlier referral was stood down for another hospital.
fn passed_over(db: &mut Db, post: PostId, earlier: ReferralId) -> Option<HospitalId> {
    let earlier = referrals::facts(db, post, earlier).ok()?;
    let reason = earlier.step(ReferralEvent::StoodDown)?.stand_down?;
    (reason == StandDownReason::OtherHospital).then_some(earlier.referral.hospital_id)
}

#[derive(Template)]
#[template(path = "referrals/new.html")]
struct NewPage {
    shell: Shell,
    form: DecisionForm,
    faults: Faults,
    /// What the registry refused as a whole.
    refusal: String,
    ground: Ground,
    in_charge: bool,
    now: Moment,
}

impl NewPage {
    fn register(&self) -> String {
        self.ground.hers.register()
    }

    fn highest(&self) -> Option<&Flag> {
        self.ground
            .flags
            .iter()
            .find(|flag| flag.urgency != Urgency::Recheck)
    }

    /// Whether urgency and reasons have to be named: nothing that stands says more than “check again”.
    fn to_be_named(&self) -> bool {
        self.in_charge && self.highest().is_none()
    }

    /// A nurse without a flag that says refer now.
    fn not_hers(&self) -> bool {
        !self.in_charge
            && !self
                .ground
                .flags
                .iter()
                .any(|flag| flag.urgency == Urgency::Now)
    }

    fn ticked(&self, flag: &Flag) -> bool {
        self.form.flags.iter().any(|id| id == flag.id.code())
    }

    fn chosen(&self, proposal: &Proposal) -> bool {
        self.form.hospital.typed == proposal.hospital.id.code()
    }

    fn way(&self, proposal: &Proposal) -> String {
        let minutes = proposal.minutes.map_or_else(
            || "travel time not set".to_owned(),
            |minutes| spoken::span(chrono::TimeDelta::minutes(i64::from(minutes))),
        );
        let hospital = &proposal.hospital;
        let operates = if hospital.can_operate {
            "caesarean"
        } else {
            "no caesarean"
        };
        let blood = if hospital.has_blood {
            "blood"
        } else {
            "no blood"
        };
        format!("{minutes} · {operates}, {blood}")
    }

    fn phone(&self, proposal: &Proposal) -> String {
        match &proposal.hospital.phone {
            Some(phone) => format!("Telephone {phone}"),
            None => "No telephone written down".to_owned(),
        }
    }

    /// How long until she must leave, in labour with a limit.
    fn minutes_left(&self) -> Option<(i64, String)> {
        let leave_by = self.ground.hers.assessment.labour.as_ref()?.leave_by?;
        let left = (leave_by - self.now).num_minutes();
        (left > 0).then(|| {
            (
                left,
                self.ground
                    .hers
                    .post
                    .local(leave_by)
                    .format("%H:%M")
                    .to_string(),
            )
        })
    }

    fn means(&self) -> Vec<Opt> {
        Opt::every::<Means>()
    }

    fn treatments(&self) -> Vec<Opt> {
        Opt::every::<Given>()
    }

    fn urgencies(&self) -> Vec<Opt> {
        Opt::these(&NAMED)
    }

    fn categories(&self) -> Vec<Opt> {
        Opt::every::<Category>()
    }
}

/// `GET /referrals/new?pregnancy=…&flag=…`
pub(in crate::web) async fn ask(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    Query(query): Query,
) -> Answer {
    let (post, now) = (carer.post.id, sense.now);
    let wanted = Wanted::of(&query);
    let pregnancy = house.read(move |db| wanted.pregnancy(db, post)).await?;
    // A limit may have passed since the last entry: then the flag that says so is raised now.
    house
        .write(&carer, move |change| labours::judge_now(change, pregnancy))
        .await?;
    let follows: Option<ReferralId> = query.last("follows").parse().ok();
    let ground = house
        .read(move |db| Ground::read(db, post, pregnancy, follows, now))
        .await?;

    let mut form = DecisionForm::read(&Typed::default(), &sense);
    form.pregnancy = form.pregnancy.holding(pregnancy);
    form.follows = form.follows.holding(query.last("follows"));
    form.request = form.request.holding(ReferralId::made(now));
    form.decided = When::holding("decided", "Decided", now, &sense);
    form.flags = query.all("flag").map(str::to_owned).collect();
    if form.flags.is_empty() {
        let pressing = ground
            .flags
            .iter()
            .filter(|flag| flag.urgency == Urgency::Now);
        form.flags = pressing.map(|flag| flag.id.to_string()).collect();
    }
    if let Some(proposed) = ground.proposals.first().filter(|first| first.suits) {
        form.hospital = form.hospital.holding(proposed.hospital.id);
    }
    let first = ground
        .flags
        .iter()
        .find(|flag| form.flags.iter().any(|id| id == flag.id.code()));
    let reason = query.last("reason");
    let asked: Vec<_> = first
        .map(|flag| flag.evidence.as_str())
        .into_iter()
        .chain([reason])
        .collect();
    form.asked = form
        .asked
        .holding(asked.join(" ").trim().chars().take(600).collect::<String>());
    let in_charge = carer.role == Role::Midwife;
    answer::page(&NewPage {
        shell,
        form,
        faults: Faults::default(),
        refusal: String::new(),
        ground,
        in_charge,
        now,
    })
}

/// `POST /referrals/new`
pub(in crate::web) async fn decide(
    carer: Carer,
    house: House,
    shell: Shell,
    sense: Sense,
    CheckedForm(mut form): CheckedForm<DecisionForm>,
) -> Answer {
    let (post, now) = (carer.post.id, sense.now);
    let pregnancy = form.pregnancy.value.ok_or(PageError::Missing)?;
    let mut refusal = String::new();
    if let Some(decision) = form.decision() {
        match house
            .write(&carer, move |change| referrals::decide(change, &decision))
            .await
        {
            Ok(id) => {
                return answer::go_and_say(
                    &house,
                    format!("/referrals/{id}"),
                    Said::ReferralDecided,
                );
            }
            Err(PageError::Registry(RegistryError::RefusedField { field, why })) => {
                form.refuse(field, why);
            }
            Err(PageError::Registry(RegistryError::Refused(why))) => refusal = why,
            Err(error) => return Err(error),
        }
    }
    let follows = form.follows.value;
    let ground = house
        .read(move |db| Ground::read(db, post, pregnancy, follows, now))
        .await?;
    let faults = form.faults();
    let in_charge = carer.role == Role::Midwife;
    answer::refused(&NewPage {
        shell,
        form,
        faults,
        refusal,
        ground,
        in_charge,
        now,
    })
}

/// Whose referral an address asks for: a pregnancy, a mother, or a flag.
enum Wanted {
    Pregnancy(PregnancyId),
    Mother(MotherId),
    Flag(FlagId),
    Nothing,
}

impl Wanted {
    fn of(query: &Typed) -> Self {
        let pregnancy = query.last("pregnancy").parse().map(Self::Pregnancy);
        let mother = || query.last("mother").parse().map(Self::Mother);
        let flag = || query.last("flag").parse().map(Self::Flag);
        pregnancy
            .or_else(|_| mother())
            .or_else(|_| flag())
            .unwrap_or(Self::Nothing)
    }

    fn pregnancy(&self, db: &mut Db, post: PostId) -> registry::Result<PregnancyId> {
        match self {
            Self::Pregnancy(id) => Ok(registry::pregnancies::find(db, post, *id)?.id),
            Self::Mother(id) => hers::lasting(db, post, *id),
            Self::Flag(id) => Ok(flags::find(db, post, *id)?.0.pregnancy_id),
            Self::Nothing => Err(RegistryError::Missing("woman")),
        }
    }
}
