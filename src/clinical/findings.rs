//! The vocabularies of the trade: what hands, tape, ear and cuff can find.

use super::codes;

codes! {
    /// What is felt at the top of the uterus or over the pubic bone.
    Pole { HardRound = "hard-round", "hard, round"; SoftIrregular = "soft-irregular", "soft, irregular"; Empty = "empty", "empty"; Unsure = "unsure", "not sure"; }
    /// What is felt along one side, the mother's left or right.
    Side { LongSmooth = "long-smooth", "long, smooth"; SmallLumps = "small-lumps", "small lumps"; HardRound = "hard-round", "hard, round"; SoftIrregular = "soft-irregular", "soft, irregular"; Nothing = "nothing", "nothing"; Unsure = "unsure", "not sure"; }
    /// What is felt across the front.
    Front { LongSmooth = "long-smooth", "long, smooth"; SmallLumps = "small-lumps", "small lumps"; Nothing = "nothing", "nothing"; Unsure = "unsure", "not sure"; }
    /// Whether the head over the brim moves.
    Head { Mobile = "mobile", "mobile"; Fixed = "fixed", "fixed"; }
    /// The baby's movements as the mother tells.
    Movements { Normal = "normal", "as usual"; Reduced = "reduced", "fewer than usual"; None = "none", "none"; }
    /// The waters as told or seen at a visit.
    Waters { Intact = "intact", "not broken"; Broken = "broken", "broken"; BrokenFoul = "broken-foul", "broken, foul-smelling"; }
    /// Protein in the urine by dipstick.
    Protein { None = "none", "none"; Trace = "trace", "trace"; One = "1+", "1+"; Two = "2+", "2+"; Three = "3+", "3+"; Four = "4+", "4+"; }
    /// Signs that endanger the mother or the baby at once.
    DangerSign { Bleeding = "bleeding", "bleeding"; Convulsions = "convulsions", "fits"; Unconscious = "unconscious", "unconscious"; SevereHeadache = "severe-headache", "severe headache"; BlurredVision = "blurred-vision", "blurred vision"; SevereAbdominalPain = "severe-abdominal-pain", "severe abdominal pain"; BreathingDifficulty = "breathing-difficulty", "difficulty in breathing"; TooWeakToStand = "too-weak-to-stand", "too weak to stand"; Cord = "cord", "cord felt or seen"; }
    /// What the examining fingers felt inside.
    FeltInside { Vertex = "vertex", "crown of the head"; Face = "face", "face"; Brow = "brow", "brow"; Breech = "breech", "breech"; Shoulder = "shoulder", "shoulder"; LimbWithHead = "limb-with-head", "a limb beside the head"; Cord = "cord", "cord"; Unsure = "unsure", "not sure"; }
    /// Where the back of the baby's head points, felt inside.
    Occiput { Anterior = "anterior", "to the front"; Transverse = "transverse", "to the side"; Posterior = "posterior", "to the back"; Unsure = "unsure", "not sure"; }
    /// The liquor as it drains.
    Liquor { Intact = "intact", "waters not broken"; Clear = "clear", "clear"; Meconium1 = "meconium-1", "meconium, thin"; Meconium2 = "meconium-2", "meconium, thicker"; Meconium3 = "meconium-3", "meconium, thick as soup"; Blood = "blood", "blood"; NoneSeen = "none-seen", "broken, nothing drains"; }
    /// A slowing of the fetal heart heard around a contraction.
    Deceleration { None = "none", "none"; Early = "early", "early"; Late = "late", "late"; Variable = "variable", "variable"; }
    /// Signs of obstructed labour.
    ObstructionSign { RidgeAcrossBelly = "ridge-across-belly", "ridge across the belly"; SwollenCervix = "swollen-cervix", "swollen cervix"; SwollenVulva = "swollen-vulva", "swollen vulva"; BloodInUrine = "blood-in-urine", "blood in the urine"; PainBetweenContractions = "pain-between-contractions", "pain between contractions"; }
    /// What happened in an earlier pregnancy.
    PastEvent { Stillbirth = "stillbirth", "stillbirth"; EarlyDeath = "early-death", "baby died in the first week"; HeavyBleeding = "heavy-bleeding", "heavy bleeding"; Convulsions = "convulsions", "fits"; SevereTear = "severe-tear", "severe tear"; AssistedBirth = "assisted-birth", "birth with instruments"; }
    /// How the post judges the progress of labour.
    LabourProtocol { CareGuide = "labour-care-guide", "labour care guide"; Partograph = "partograph", "partograph"; }
    /// How the post judges the fundal height.
    HeightMethod { Intergrowth = "intergrowth", "centiles"; Weeks = "weeks", "weeks, within 2 cm"; }
    /// How the long axis of the baby lies.
    Lie { Longitudinal = "longitudinal", "lengthwise"; Oblique = "oblique", "slanting"; Transverse = "transverse", "across"; Unknown = "unknown", "not known"; }
    /// What lies over the brim.
    Presentation { Cephalic = "cephalic", "head first"; Breech = "breech", "breech"; Shoulder = "shoulder", "shoulder"; None = "none", "nothing over the brim"; Unknown = "unknown", "not known"; }
    /// On which side the back was felt.
    Back { Left = "left", "left"; Right = "right", "right"; Unknown = "unknown", "not known"; }
    /// How far the findings agree.
    Certainty { Clear = "clear", "clear"; Probable = "probable", "probable"; Conflicting = "conflicting", "conflicting"; Insufficient = "insufficient", "too little to say"; }
    /// How soon something has to happen.
    Urgency { Now = "now", "Refer now"; Soon = "soon", "Refer soon"; Review = "review", "Midwife to review"; Recheck = "recheck", "Check again"; }
    /// The nineteen kinds of flag, in the order of the reference.
    Category {
        TransverseLie = "transverse-lie", "Transverse lie"; Malpresentation = "malpresentation", "Malpresentation"; Breech = "breech", "Breech";
        SuspectedTwins = "suspected-twins", "Suspected twins"; SmallForDates = "small-for-dates", "Small for dates"; LargeForDates = "large-for-dates", "Large for dates";
        PoorProgress = "poor-progress", "Poor progress"; HighHead = "high-head", "High head"; OcciputPosterior = "occiput-posterior", "Facing the front";
        DangerSign = "danger-sign", "Danger sign"; RaisedBloodPressure = "raised-blood-pressure", "Raised blood pressure"; FetalHeart = "fetal-heart", "Fetal heart";
        Waters = "waters", "Waters"; PretermLabour = "preterm-labour", "Preterm labour"; PastDates = "past-dates", "Past dates"; ScarredUterus = "scarred-uterus", "Scarred uterus";
        BirthPlace = "birth-place", "Place of birth"; UnclearFindings = "unclear-findings", "Unclear findings"; UnknownDates = "unknown-dates", "Unknown dates";
    }
}
