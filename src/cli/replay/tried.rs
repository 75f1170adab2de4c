//! Settings of a post that are tried: `--set KEY=VALUE`.

use std::fmt;
use std::str::FromStr;

use crate::clinical::{HeightMethod, LabourProtocol, Vocabulary};
use crate::registry::replay::Trial;

/// What `--help` says of them.
pub(super) const HELP: &str = "\
Try a setting of the post without saving it; may be given several times\n\n\
fundal_height_method=intergrowth or weeks\n\
labour_protocol=labour-care-guide or partograph; judges every labour, also those that began with the other\n\
skilled_breech=yes or no\n\
skilled_twins=yes or no\n\
skilled_staff=yes or no: both of them";

/// One of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Tried {
    Height(HeightMethod),
    Protocol(LabourProtocol),
    Breech(bool),
    Twins(bool),
    Staff(bool),
}

/// A setting that cannot be tried; the sentence says which can.
#[derive(Debug, thiserror::Error)]
#[error("{0}")]
pub(super) struct BadSetting(String);

impl FromStr for Tried {
    type Err = BadSetting;

    fn from_str(typed: &str) -> Result<Self, BadSetting> {
        let (key, value) = typed
            .split_once('=')
            .ok_or_else(|| BadSetting("write it as KEY=VALUE, as in skilled_breech=yes".into()))?;
        let (key, value) = (key.trim(), value.trim());
        match key {
            "fundal_height_method" => code(key, value).map(Self::Height),
            "labour_protocol" => code(key, value).map(Self::Protocol),
            "skilled_breech" => yes_or_no(key, value).map(Self::Breech),
            "skilled_twins" => yes_or_no(key, value).map(Self::Twins),
            "skilled_staff" => yes_or_no(key, value).map(Self::Staff),
            _ => Err(BadSetting(
                "no such setting; choose among fundal_height_method, labour_protocol, skilled_breech, skilled_twins and skilled_staff".into(),
            )),
        }
    }
}

fn code<T: Vocabulary>(key: &str, value: &str) -> Result<T, BadSetting> {
    let known: Vec<&str> = T::ALL.iter().map(|it| it.code()).collect();
    value
        .parse()
        .map_err(|_| BadSetting(format!("{key} is {}", known.join(" or "))))
}

fn yes_or_no(key: &str, value: &str) -> Result<bool, BadSetting> {
    match value {
        "yes" | "true" => Ok(true),
        "no" | "false" => Ok(false),
        _ => Err(BadSetting(format!("{key} is yes or no"))),
    }
}

impl fmt::Display for Tried {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let word = |yes: bool| if yes { "yes" } else { "no" };
        match self {
            Self::Height(method) => write!(f, "fundal_height_method={}", method.code()),
            Self::Protocol(protocol) => write!(f, "labour_protocol={}", protocol.code()),
            Self::Breech(yes) => write!(f, "skilled_breech={}", word(*yes)),
            Self::Twins(yes) => write!(f, "skilled_twins={}", word(*yes)),
            Self::Staff(yes) => write!(f, "skilled_staff={}", word(*yes)),
        }
    }
}

/// All of them together; of two that contradict each other the later counts.
pub(super) fn all(tried: &[Tried]) -> Trial {
    let mut trial = Trial::default();
    for one in tried {
        match *one {
            Tried::Height(method) => trial.height_method = Some(method),
            Tried::Protocol(protocol) => trial.labour_protocol = Some(protocol),
            Tried::Breech(yes) => trial.skilled_breech = Some(yes),
            Tried::Twins(yes) => trial.skilled_twins = Some(yes),
            Tried::Staff(yes) => {
                trial.skilled_breech = Some(yes);
                trial.skilled_twins = Some(yes);
            }
        }
    }
    trial
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]
    use super::*;

    #[test]
    fn a_setting_is_read_and_said_again_as_it_was_typed() {
        for typed in [
            "fundal_height_method=weeks",
            "labour_protocol=partograph",
            "skilled_breech=yes",
            "skilled_twins=no",
            "skilled_staff=yes",
        ] {
            assert_eq!(typed.parse::<Tried>().unwrap().to_string(), typed);
        }
    }

    #[test]
    fn a_wrong_one_hears_in_one_line_what_is_allowed() {
        for (typed, says) in [
            ("colour=blue", "skilled_breech"),
            ("fundal_height_method=feet", "intergrowth or weeks"),
            ("labour_protocol=", "labour-care-guide or partograph"),
            ("skilled_twins=perhaps", "yes or no"),
            ("weeks", "KEY=VALUE"),
        ] {
            let said = typed.parse::<Tried>().unwrap_err().to_string();
            assert!(
                said.contains(says) && !said.contains('\n'),
                "{typed}: {said}"
            );
        }
    }

    #[test]
    fn skilled_staff_means_both_and_the_later_word_counts() {
        let trial = all(&[Tried::Staff(true), Tried::Twins(false)]);
        assert_eq!(trial.skilled_breech, Some(true));
        assert_eq!(trial.skilled_twins, Some(false));
        assert!(all(&[]).is_empty());
    }
}
