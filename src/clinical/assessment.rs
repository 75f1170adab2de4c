//! What `assess` says about a case.

use super::{
    Back, Category, Certainty, Day, LabourProtocol, Lie, Moment, Presentation, Urgency, codes,
};

codes! {
    /// What the due date rests on.
    Basis { Lmp = "lmp", "last period"; Scan = "scan", "scan"; }
    /// Why the gestation is not known.
    UnknownReason { NoDate = "no-date", "no date was told"; UncertainLmp = "uncertain-lmp", "the last period is uncertain"; Over44Weeks = "over-44-weeks", "over 44 weeks by her dates"; }
    /// Stage of labour by what was recorded.
    Stage { Latent = "latent", "latent"; Active = "active", "active"; Second = "second", "second stage"; }
    /// Whether she would arrive before the next limit.
    LabourState { NoLimit = "no-limit", "no limit applies"; NoTravelTime = "no-travel-time", "no travel time is set"; InTime = "in-time", "in time"; Late = "late", "too late"; }
    /// What has to be examined again in labour.
    DueWhat { FetalHeart = "fetal-heart", "fetal heart"; Contractions = "contractions", "contractions"; Dilatation = "dilatation", "examination inside"; Fifths = "fifths", "fifths above the brim"; Pulse = "pulse", "pulse"; Pressure = "pressure", "blood pressure"; Temperature = "temperature", "temperature"; Urine = "urine", "urine"; }
}

/// Gestation on the day of judgement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gestation {
    /// 0 to 308.
    pub days: u16,
    /// The due date.
    pub edd: Day,
    /// What it rests on.
    pub basis: Basis,
    /// No scan before 22w+0d.
    pub suboptimal: bool,
}

impl Gestation {
    /// Completed weeks and days, `36w+0d`.
    #[must_use]
    pub fn text(&self) -> String {
        super::gestation_text(self.days)
    }
}

/// What the hands' findings come to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Palpation {
    /// Row of the reference, `P1` to `P24`.
    pub row: &'static str,
    /// Lie by the hands.
    pub lie: Lie,
    /// Presentation by the hands.
    pub presentation: Presentation,
    /// Always provisional; one of 31 codes such as `LOA`.
    pub position: &'static str,
    /// Side of the back.
    pub back: Back,
    /// How far the findings agree.
    pub certainty: Certainty,
    /// Two fifths or less above the brim; absent when it cannot be said.
    pub engaged: Option<bool>,
}

/// A height against the standard.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeightScore {
    /// Standard deviations from the median, unrounded.
    pub z: f64,
    /// 0 to 100, unrounded.
    pub centile: f64,
}

/// One flag that stands at the moment of judgement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Flag {
    /// Its kind.
    pub category: Category,
    /// The rule that raised it.
    pub rule: &'static str,
    /// How soon.
    pub urgency: Urgency,
    /// In words, with the numbers in it.
    pub evidence: String,
    /// What to do; ends with the caution line.
    pub advice: String,
    /// With its mark.
    pub source: String,
    /// When and only when the urgency is `Recheck`.
    pub recheck_at: Option<Moment>,
}

/// One limit that applies as long as she stays as she is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limit {
    /// The rule that will be raised.
    pub rule: &'static str,
    /// When.
    pub at: Moment,
}

/// One examination that is due.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DueItem {
    /// Which.
    pub what: DueWhat,
    /// When.
    pub at: Moment,
    /// The moment of judgement is later.
    pub overdue: bool,
}

/// The labour at the moment of judgement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LabourPicture {
    /// The one in force.
    pub protocol: LabourProtocol,
    /// Absent when no dilatation was recorded.
    pub stage: Option<Stage>,
    /// The largest dilatation, cm.
    pub highest_cm: Option<u8>,
    /// When it was first recorded.
    pub first_recorded_at: Option<Moment>,
    /// When the alert line stands at 4 cm; partograph only.
    pub t4_at: Option<Moment>,
    /// Earliest first.
    pub limits: Vec<Limit>,
    /// Moment of judgement plus travel.
    pub arrival_at: Option<Moment>,
    /// Whole minutes between arrival and the first limit, rounded down.
    pub margin_minutes: Option<i64>,
    /// First limit less travel.
    pub leave_by: Option<Moment>,
    /// Whether she would be in time.
    pub state: LabourState,
    /// Birth may come before arrival.
    pub birth_near: bool,
    /// Birth may come on the way.
    pub birth_on_the_way: bool,
    /// In the order of the reference.
    pub due: Vec<DueItem>,
}

/// Everything `assess` says.
#[derive(Debug, Clone, PartialEq)]
pub struct Assessment {
    /// On the day of judgement; absent when not known.
    pub gestation: Option<Gestation>,
    /// Why it is not known.
    pub gestation_reason: Option<UnknownReason>,
    /// Of the last visit, by the hands.
    pub palpation: Option<Palpation>,
    /// Of the last visit.
    pub fundal_height: Option<HeightScore>,
    /// By urgency, category, rule; a rule once.
    pub flags: Vec<Flag>,
    /// Only in labour.
    pub labour: Option<LabourPicture>,
}

impl Assessment {
    /// That of the first flag; absent when no flag stands.
    #[must_use]
    pub fn urgency(&self) -> Option<Urgency> {
        self.flags.first().map(|flag| flag.urgency)
    }
}
