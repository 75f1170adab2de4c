//! The columns of the two tables of births, and how each is defined.

use crate::reporting::table::{Column, Kind};

/// What is counted, in the order of the columns.
pub(super) const COUNTS: [&str; 15] = [
    "women",
    "babies",
    "live",
    "fresh",
    "macerated",
    "skin_not_stated",
    "early_neonatal_deaths",
    "low_weight",
    "low_weight_base",
    "preterm",
    "preterm_base",
    "small",
    "small_base",
    "caesareans",
    "maternal_deaths",
];

pub(super) const COLUMNS: [Column; 16] = [
    Column {
        name: "place",
        words: "Place",
        kind: Kind::Key,
        definition: "A woman stands in the row of her first baby, a baby in the row of its own place.",
    },
    Column {
        name: "women",
        words: "Women",
        kind: Kind::Count,
        definition: "Women whose pregnancy ended in the month with at least one reported birth.",
    },
    Column {
        name: "babies",
        words: "Babies",
        kind: Kind::Count,
        definition: "Live births and reported stillbirths.",
    },
    Column {
        name: "live",
        words: "Live",
        kind: Kind::Count,
        definition: "Any sign of life, at any gestation.",
    },
    Column {
        name: "fresh",
        words: "Stillborn, fresh",
        kind: Kind::Count,
        definition: "No sign of life from 28w+0d, or from 1000 g when the gestation is not known; skin intact. Looks date a death badly.",
    },
    Column {
        name: "macerated",
        words: "Stillborn, macerated",
        kind: Kind::Count,
        definition: "The same, skin peeling.",
    },
    Column {
        name: "skin_not_stated",
        words: "Stillborn, skin not stated",
        kind: Kind::Count,
        definition: "The same, skin not looked at; never guessed.",
    },
    Column {
        name: "early_neonatal_deaths",
        words: "Died on day 0 to 6",
        kind: Kind::Count,
        definition: "Live births of this month that died before 168 hours, or by the sixth day when a time is missing.",
    },
    Column {
        name: "low_weight",
        words: "Under 2500 g",
        kind: Kind::Count,
        definition: "Live births up to and including 2499 g.",
    },
    Column {
        name: "low_weight_base",
        words: "Weighed",
        kind: Kind::Count,
        definition: "Live births with a weight.",
    },
    Column {
        name: "preterm",
        words: "Before 37 weeks",
        kind: Kind::Count,
        definition: "Live births before 37w+0d.",
    },
    Column {
        name: "preterm_base",
        words: "Gestation known",
        kind: Kind::Count,
        definition: "Live births with a gestation.",
    },
    Column {
        name: "small",
        words: "Small for gestation",
        kind: Kind::Count,
        definition: "Live births below the 10th centile for sex and exact day. Twins are judged by the same table, which is made from single babies.",
    },
    Column {
        name: "small_base",
        words: "Could be judged",
        kind: Kind::Count,
        definition: "Live births with weight, sex, and gestation within the table.",
    },
    Column {
        name: "caesareans",
        words: "Caesareans",
        kind: Kind::Count,
        definition: "Women with any baby of this birth by caesarean.",
    },
    Column {
        name: "maternal_deaths",
        words: "Mothers who died",
        kind: Kind::Count,
        definition: "Pregnant, or up to day 42 after the end of the pregnancy. A woman who died undelivered stands in the row “unknown”.",
    },
];

/// Of the definitions.
pub(super) const SOURCES: &str = "Live birth, stillbirth: ICD-10, as quoted in BMC Pregnancy Childbirth 2009;9 Suppl 1:S2; 28 weeks before weight [O]. \
    Early death, low weight: ICD-10. Preterm, small: newborn size standards, Lancet 2014;384:857 and 2016;387:844. \
    Skin: Int J Gynecol Obstet 2014;125:223. Maternal death: ICD-10.";
