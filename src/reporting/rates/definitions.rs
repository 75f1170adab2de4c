//! The eighteen indicators: what each counts, over what, and from which source.

/// One indicator.
pub(super) struct Indicator {
    /// In files.
    pub(super) id: &'static str,
    /// As read on a page.
    pub(super) words: &'static str,
    /// 100 or 1000.
    pub(super) per: i64,
    /// Numerator, denominator and what is left out.
    pub(super) definition: &'static str,
    /// With its mark where it is not read in the source.
    pub(super) source: &'static str,
}

/// All of them, in the order of the reference.
pub(super) const INDICATORS: [Indicator; 18] = [
    Indicator {
        id: "undated",
        words: "Pregnancies without a date",
        per: 100,
        definition: "No gestation computable at the month’s end, of pregnancies opened in the month.",
        source: "our own [O]",
    },
    Indicator {
        id: "height-taken",
        words: "Tape taken when asked for",
        per: 100,
        definition: "Fundal height recorded, of visits not in labour from 24w+0d or with unknown gestation; twins known left out.",
        source: "WHO antenatal care 2016; our own [O]",
    },
    Indicator {
        id: "palpation-near-term",
        words: "Palpation clear near term",
        per: 100,
        definition: "Palpation of the last such visit clear or probable, of women whose pregnancy ended in the month with a visit before labour from 36w+0d, or with unknown gestation and a tape of 33.0 cm or more or none; twins known left out.",
        source: "NICE CG6, 2003; Akunjee; our own [O]",
    },
    Indicator {
        id: "referral-completed",
        words: "Referrals that arrived",
        per: 100,
        definition: "Arrived, of referrals decided and not stood down; declined stays in.",
        source: "common practice [P]; our own [O]",
    },
    Indicator {
        id: "arrived-within-2h",
        words: "Refer now: there within 2 h",
        per: 100,
        definition: "Arrived 120 minutes or less after deciding, of “now” referrals decided and not stood down; an unknown time counts as not.",
        source: "EPMM coverage target 4, 2021; our own [O]",
    },
    Indicator {
        id: "answered",
        words: "Referrals answered",
        per: 100,
        definition: "Answered, of referrals that arrived.",
        source: "our own [O]",
    },
    Indicator {
        id: "home-birth",
        words: "Born at home or on the way",
        per: 100,
        definition: "First baby born at home or on the way, of women who gave birth; place unknown left out.",
        source: "common practice [P]",
    },
    Indicator {
        id: "stillbirth",
        words: "Stillbirths",
        per: 1000,
        definition: "Reported stillbirths, of total births.",
        source: "BMC Pregnancy Childbirth 2009;9 Suppl 1:S2",
    },
    Indicator {
        id: "stillbirth-fresh",
        words: "Fresh stillbirths",
        per: 1000,
        definition: "Fresh, of total births; skin not stated is told as unknown and stays in the denominator.",
        source: "Data for Impact, quoting EmOC 2009; Int J Gynecol Obstet 2014;125:223",
    },
    Indicator {
        id: "early-neonatal-death",
        words: "Deaths on day 0 to 6",
        per: 1000,
        definition: "Live births dead on day 0 to 6, of live births; day of death unknown left out.",
        source: "BMC Pregnancy Childbirth 2009;9 Suppl 1:S2",
    },
    Indicator {
        id: "perinatal-death",
        words: "Stillbirths and deaths on day 0 to 6",
        per: 1000,
        definition: "Stillbirths and early neonatal deaths, of total births; day of death unknown left out.",
        source: "WHO Europe, indicator E070403",
    },
    Indicator {
        id: "intrapartum-very-early-death",
        words: "Fresh stillbirths and deaths within 24 h, from 2500 g",
        per: 100,
        definition: "Fresh stillbirths and deaths within 24 hours, of babies of 2500 g and more; lethal malformations left out, and weight, age or skin unknown. Babies stand on both sides.",
        source: "Data for Impact; EmOC 2009 has women below the line; our own [O]",
    },
    Indicator {
        id: "low-birth-weight",
        words: "Low birth weight",
        per: 100,
        definition: "Up to 2499 g, of live births weighed.",
        source: "METeoR 733258, quoting ICD-10; WHO reproductive health indicators, 2006",
    },
    Indicator {
        id: "preterm",
        words: "Born before 37 weeks",
        per: 100,
        definition: "Before 37w+0d, of live births with gestation.",
        source: "newborn types in 15 countries, LSHTM data guide 3690",
    },
    Indicator {
        id: "small-for-gestation",
        words: "Small for gestation",
        per: 100,
        definition: "Below the 10th centile, of live births that could be judged.",
        source: "newborn size standards, Lancet 2014;384:857",
    },
    Indicator {
        id: "caesarean-referred",
        words: "Caesareans of referred women",
        per: 100,
        definition: "Caesarean, of women who gave birth with an arrived referral in this pregnancy; mode unknown left out. Not to be read against the 5 to 15 % of a population.",
        source: "EmOC 2009 for the meaning; our own [O]",
    },
    Indicator {
        id: "missed-malpresentation",
        words: "Breech or across not found before labour",
        per: 100,
        definition: "No flag of transverse lie or breech stood when labour began, of women with one baby, breech or shoulder at birth, and a visit before labour from 32w+0d or with unknown gestation; presentation unknown left out.",
        source: "our own [O]",
    },
    Indicator {
        id: "missed-twins",
        words: "Twins not suspected before labour",
        per: 100,
        definition: "No flag of suspected twins raised before labour and not dismissed, of women with two or more babies and a visit before labour.",
        source: "our own [O]",
    },
];
