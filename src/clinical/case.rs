//! One mother as `assess` sees her: everything told, felt and measured, with its times.
//!
//! The structs hold what a reader has checked (ranges in the clinical reference); `None` is "not told" or "not examined", never "normal".

use super::{
    DangerSign, Day, Deceleration, FeltInside, Front, Head, HeightMethod, LabourProtocol, Liquor,
    Moment, Movements, ObstructionSign, Occiput, PastEvent, Pole, Protein, Side, Waters,
};

/// Everything known about one pregnancy, and the moment of judgement.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// The moment of judgement; entries later than it are ignored.
    pub on: Moment,
    /// When regular painful contractions began, as she told.
    pub labour_began_at: Option<Moment>,
    /// When the waters broke, as she told.
    pub waters_broke_at: Option<Moment>,
    /// Who she is.
    pub mother: Mother,
    /// What dates the pregnancy.
    pub dating: Dating,
    /// Where she is examined.
    pub post: Post,
    /// In any order; at equal times the later in the list is the later.
    pub visits: Vec<Visit>,
    /// Rows of the labour record, in any order.
    pub labour: Vec<LabourRow>,
}

impl Case {
    /// A case with nothing known yet.
    #[must_use]
    pub fn new(on: Moment) -> Self {
        Self {
            on,
            labour_began_at: None,
            waters_broke_at: None,
            mother: Mother::default(),
            dating: Dating::default(),
            post: Post::default(),
            visits: Vec::new(),
            labour: Vec::new(),
        }
    }
}

/// What earlier pregnancies left behind.
pub type History = Vec<PastEvent>;
/// Danger signs recorded; empty is "none recorded".
pub type Signs = Vec<DangerSign>;

/// Facts of the mother.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Mother {
    /// Births before this one, 0 to 25.
    pub births_before: Option<u8>,
    /// Completed years, 8 to 60.
    pub age_years: Option<u8>,
    /// 0 to 15, at most `births_before` when both are known.
    pub previous_caesareans: Option<u8>,
    /// Each event once.
    pub history: History,
}

/// What dates the pregnancy.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Dating {
    /// First day of the last menstrual period.
    pub lmp: Option<Day>,
    /// Absent counts as certain.
    pub lmp_certain: Option<bool>,
    /// In the order in which they were given.
    pub scans: Vec<Scan>,
}

/// One ultrasound scan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scan {
    /// Its day.
    pub on: Day,
    /// 35 to 294; never together with `edd`.
    pub gestation_days: Option<u16>,
    /// The due date it gave.
    pub edd: Option<Day>,
    /// 1 to 6.
    pub babies: Option<u8>,
}

/// What the post can do and how it judges.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Post {
    /// Staff skilled in breech birth are there.
    pub skilled_breech: bool,
    /// Staff skilled in twin birth are there.
    pub skilled_twins: bool,
    /// Minutes door to door to the nearest hospital that can operate, 0 to 2880.
    pub travel_minutes: Option<u16>,
    /// How labour is judged.
    pub labour_protocol: LabourProtocol,
    /// How the tape is judged.
    pub fundal_height_method: HeightMethod,
    /// Minutes by which the post's clock is ahead of UTC; only the hours in evidence sentences use it.
    pub clock_minutes_ahead: i16,
}

impl Default for Post {
    fn default() -> Self {
        Self {
            skilled_breech: false,
            skilled_twins: false,
            travel_minutes: None,
            labour_protocol: LabourProtocol::CareGuide,
            fundal_height_method: HeightMethod::Intergrowth,
            clock_minutes_ahead: 0,
        }
    }
}

/// What the hands felt on the abdomen.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PalpationFindings {
    /// At the top.
    pub fundus: Option<Pole>,
    /// Along the mother's left.
    pub left: Option<Side>,
    /// Along the mother's right.
    pub right: Option<Side>,
    /// Across the front.
    pub front: Option<Front>,
    /// Over the pubic bone.
    pub lower: Option<Pole>,
    /// Fifths of the head above the brim, 0 to 5.
    pub fifths: Option<u8>,
    /// Whether the head over the brim moves.
    pub head: Option<Head>,
    /// Many small parts were felt.
    pub many_small_parts: Option<bool>,
    /// The belly looks unusually large.
    pub belly_unusually_large: Option<bool>,
}

/// What visits and labour rows have in common: the mother's figures and the counts of the heart.
macro_rules! record {
    ($(#[$doc:meta])* $name:ident { $($(#[$field_doc:meta])* $field:ident: $kind:ty,)* }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, Eq)]
        pub struct $name {
            /// When it was found.
            pub at: Moment,
            /// 0 to 4 counts a minute, 30 to 250; two mean two people counting at the same time.
            pub fetal_hearts: Vec<u8>,
            /// True without a count is "sought and not heard".
            pub heart_sought: Option<bool>,
            /// mmHg, 40 to 280.
            pub systolic: Option<u16>,
            /// mmHg, 20 to 180, below systolic.
            pub diastolic: Option<u16>,
            /// A minute, 20 to 250.
            pub pulse: Option<u8>,
            /// Tenths of a degree Celsius, 300 to 430.
            pub temperature_tenths: Option<u16>,
            /// By dipstick.
            pub urine_protein: Option<Protein>,
            /// Each once.
            pub danger_signs: Signs,
            $($(#[$field_doc])* pub $field: $kind,)*
        }
        impl $name {
            /// Nothing examined yet.
            #[must_use]
            pub fn at(at: Moment) -> Self {
                Self {
                    at, fetal_hearts: Vec::new(), heart_sought: None, systolic: None, diastolic: None, pulse: None, temperature_tenths: None,
                    urine_protein: None, danger_signs: Vec::new(), $($field: <$kind>::default(),)*
                }
            }
        }
    };
}

record! {
    /// One visit.
    Visit {
        /// She is in labour.
        in_labour: bool,
        /// What the hands felt; absent when nothing was examined.
        palpation: Option<PalpationFindings>,
        /// Tenths of a centimetre, 100 to 600.
        fundal_height_tenths: Option<u16>,
        /// As she told.
        movements: Option<Movements>,
        /// As told or seen.
        waters: Option<Waters>,
    }
}

record! {
    /// One row of the labour record.
    LabourRow {
        /// Whole centimetres, 0 to 10.
        dilatation_cm: Option<u8>,
        /// Fifths of the head above the brim, 0 to 5.
        fifths: Option<u8>,
        /// By the examining fingers.
        felt_inside: Option<FeltInside>,
        /// By the examining fingers.
        occiput: Option<Occiput>,
        /// 0 to 3, the worst suture.
        moulding: Option<u8>,
        /// 0 to 3.
        caput: Option<u8>,
        /// As it drains.
        liquor: Option<Liquor>,
        /// It smells foul.
        liquor_foul: Option<bool>,
        /// Around a contraction.
        deceleration: Option<Deceleration>,
        /// 0 to 15.
        contractions_in_10_min: Option<u8>,
        /// 0 to 300.
        contraction_seconds: Option<u16>,
        /// She pushes.
        pushing: Option<bool>,
        /// Each once.
        obstruction_signs: Vec<ObstructionSign>,
    }
}
