//! What only a register needs to name: roles, decisions, endings, events, births.

use crate::clinical::codes;

codes! {
    /// What a person may do here.
    Role { Nurse = "nurse", "nurse"; Midwife = "midwife", "midwife in charge"; District = "district", "district officer"; Keeper = "keeper", "keeper"; }
    /// How a person likes to enter a visit.
    VisitForm { Drawing = "drawing", "drawing of the belly"; List = "list", "list of questions"; }
    /// What the midwife decided about a flag.
    FlagDecision { Confirmed = "confirmed", "confirmed"; Dismissed = "dismissed", "dismissed"; }
    /// Why a flag stands no longer.
    FlagClosing { Dismissed = "dismissed", "dismissed by the midwife"; Settled = "settled", "settled by a later examination"; Ended = "ended", "the pregnancy ended"; }
    /// How a labour record was closed.
    LabourEnding { Birth = "birth", "birth"; Referral = "referral", "referral"; NotInLabour = "not-in-labour", "not in labour after all"; }
    /// Where a referral stands.
    ReferralState {
        Decided = "decided", "decided"; Left = "left", "on her way"; Arrived = "arrived", "arrived"; Seen = "seen", "seen"; Answered = "answered", "answered";
        NotArrived = "not-arrived", "never arrived"; Declined = "declined", "declined"; StoodDown = "stood-down", "stood down";
    }
    /// What can happen to a referral.
    ReferralEvent {
        Decided = "decided", "decided"; Told = "told", "hospital told"; Left = "left", "left"; Arrived = "arrived", "arrived"; Seen = "seen", "seen";
        Answered = "answered", "answered"; NeverCame = "never-came", "never came"; Declined = "declined", "declined"; StoodDown = "stood-down", "stood down";
    }
    /// Why a referral was stood down.
    StandDownReason { BirthHere = "birth-here", "birth happened here"; FlagDismissed = "flag-dismissed", "flag dismissed"; OtherHospital = "other-hospital", "another hospital"; Misjudged = "misjudged", "error of judgement"; }
    /// How the hospital's answer came.
    AnswerWay { Paper = "paper", "on paper"; Phone = "phone", "by phone"; Code = "code", "by the reply code"; }
    /// Where a baby was born.
    BirthPlace { Here = "here", "at this post"; Hospital = "hospital", "in hospital"; OnTheWay = "on-the-way", "on the way"; Home = "home", "at home"; Unknown = "unknown", "not known"; }
    /// How labour began.
    Onset { Spontaneous = "spontaneous", "by itself"; Induced = "induced", "induced"; CaesareanBeforeLabour = "caesarean-before-labour", "caesarean before labour"; Unknown = "unknown", "not known"; }
    /// How a baby was born.
    Mode { Vaginal = "vaginal", "vaginal"; Assisted = "assisted", "with instruments"; Caesarean = "caesarean", "caesarean"; Unknown = "unknown", "not known"; }
    /// What came first at birth.
    BirthPresentation { Cephalic = "cephalic", "head"; Breech = "breech", "breech"; Shoulder = "shoulder", "shoulder"; Unknown = "unknown", "not known"; }
    /// The baby's sex as seen at birth.
    Sex { Girl = "girl", "girl"; Boy = "boy", "boy"; Indeterminate = "indeterminate", "cannot be told"; }
    /// Whether the baby showed life.
    NewbornState { Alive = "alive", "alive"; StillbornFresh = "stillborn-fresh", "stillborn, fresh"; StillbornMacerated = "stillborn-macerated", "stillborn, macerated"; StillbornUnstated = "stillborn-unstated", "stillborn, not stated"; }
    /// How the mother was after the birth.
    MotherOutcome { Well = "well", "well"; Ill = "ill", "ill"; Died = "died", "died"; Unknown = "unknown", "not known"; }
    /// How a pregnancy ended.
    PregnancyEnding { Birth = "birth", "birth"; Loss = "loss", "loss before 28 weeks"; MaternalDeath = "maternal-death", "the mother died"; MovedAway = "moved-away", "moved away"; EnteredInError = "entered-in-error", "entered in error"; }
}
