//! Sentences that invented people write down.

use super::chance::Chance;
use crate::clinical::Category;
use crate::registry::FlagDecision;
use crate::registry::hospitals::Needs;

/// What a hospital says about a woman sent for this reason.
pub(super) struct Answer {
    pub diagnosis: &'static str,
    pub treatment: &'static str,
    pub baby: &'static str,
    pub follow_up: &'static str,
}

pub(super) fn reviewed(decision: FlagDecision, chance: &mut Chance) -> &'static str {
    let choices: &[&str] = match decision {
        FlagDecision::Confirmed => &[
            "Examined again, the finding stands.",
            "Agreed with the nurse; talked over with the mother.",
            "As found. Plan made with her family.",
        ],
        FlagDecision::Dismissed => &[
            "Measured again today: as usual.",
            "A slip of the pen; the tape was read wrong.",
            "Examined again, not found any more.",
        ],
    };
    chance.one_of(choices).copied().unwrap_or("Examined again.")
}

pub(super) fn transport(chance: &mut Chance) -> &'static str {
    let choices = [
        "the health ambulance",
        "the motorcycle ambulance",
        "her brother's car",
        "the evening bus",
        "the village's pick-up",
    ];
    chance
        .one_of(&choices)
        .copied()
        .unwrap_or("the health ambulance")
}

pub(super) fn escort(chance: &mut Chance) -> &'static str {
    let choices = [
        "her sister",
        "her mother",
        "her husband",
        "a nurse of the post",
        "the village volunteer",
    ];
    chance.one_of(&choices).copied().unwrap_or("her sister")
}

pub(super) fn declined(chance: &mut Chance) -> &'static str {
    let choices = [
        "nobody to look after the children",
        "fears the cost",
        "her husband is away until Sunday",
        "feels well and wants to wait",
    ];
    chance
        .one_of(&choices)
        .copied()
        .unwrap_or("feels well and wants to wait")
}

/// What must be possible at the hospital.
pub(super) fn needs(category: Category) -> Needs {
    let bleeds = category == Category::DangerSign;
    let waits = matches!(category, Category::UnknownDates | Category::UnclearFindings);
    Needs {
        operation: !waits,
        blood: bleeds,
    }
}

pub(super) fn asked(category: Category) -> &'static str {
    match category {
        Category::TransverseLie | Category::Breech | Category::Malpresentation => {
            "Please confirm how the baby lies and decide about the way of birth."
        }
        Category::SuspectedTwins => "Please scan for twins and plan the birth with you.",
        Category::SmallForDates | Category::LargeForDates => {
            "Please scan for growth and water around the baby."
        }
        Category::PoorProgress | Category::HighHead | Category::OcciputPosterior => {
            "Please take over the labour; an operation may be needed."
        }
        Category::DangerSign => "Please examine at once and treat; blood may be needed.",
        Category::RaisedBloodPressure => "Please treat the pressure and decide about the birth.",
        Category::FetalHeart => "Please listen to the baby and decide about the birth.",
        Category::Waters | Category::PretermLabour => {
            "Please keep her under watch; the baby may come early."
        }
        Category::PastDates => "Please decide about starting labour.",
        Category::ScarredUterus | Category::BirthPlace => "Please plan the birth with you.",
        Category::UnclearFindings | Category::UnknownDates => "Please scan.",
    }
}

/// Treatment before leaving, always by the local protocol.
pub(super) fn given(category: Category) -> Option<&'static str> {
    match category {
        Category::RaisedBloodPressure => {
            Some("First dose against the pressure by our protocol, time on the chart.")
        }
        Category::DangerSign => Some("Drip begun, lying on her left side."),
        Category::Waters | Category::PretermLabour => {
            Some("First dose of antibiotic by our protocol, time on the chart.")
        }
        _ => None,
    }
}

pub(super) fn answer(category: Category) -> Answer {
    let (diagnosis, treatment, baby, follow_up) = match category {
        Category::TransverseLie | Category::Breech | Category::Malpresentation => (
            "Lie confirmed by scan",
            "Birth planned and attended here",
            "well, with its mother",
            "Visit in a week, look at the wound if there is one",
        ),
        Category::SuspectedTwins => (
            "Scan done, number of babies told to her",
            "Birth planned here",
            "growing",
            "Visits every two weeks",
        ),
        Category::SmallForDates => (
            "Growth followed by scan",
            "Kept under watch",
            "small, moving well",
            "Weigh and measure every week",
        ),
        Category::LargeForDates => (
            "Sugar tested, scan done",
            "Advice on food",
            "growing",
            "As planned",
        ),
        Category::PoorProgress | Category::HighHead | Category::OcciputPosterior => (
            "Labour that did not go on",
            "Birth attended here",
            "well, feeding",
            "Visit within three days of going home",
        ),
        Category::DangerSign => (
            "Examined and treated",
            "Fluids and rest, two days on the ward",
            "heart heard, well",
            "Come back with any bleeding or fits",
        ),
        Category::RaisedBloodPressure => (
            "High blood pressure of pregnancy",
            "Tablets, pressure twice a day",
            "well",
            "Pressure twice a week at the post",
        ),
        Category::FetalHeart => (
            "Heart listened to for an hour",
            "Kept for a night",
            "well",
            "As planned",
        ),
        Category::Waters | Category::PretermLabour => (
            "Waters broken",
            "Antibiotics, birth awaited here",
            "well",
            "Watch for fever",
        ),
        Category::PastDates => (
            "Past her date",
            "Labour started",
            "well, feeding",
            "Visit within a week",
        ),
        Category::ScarredUterus | Category::BirthPlace => (
            "Plan made for the birth",
            "Birth here",
            "well",
            "Come early in labour",
        ),
        Category::UnclearFindings | Category::UnknownDates => {
            ("Scan done, dates told", "None needed", "well", "As planned")
        }
    };
    Answer {
        diagnosis,
        treatment,
        baby,
        follow_up,
    }
}
