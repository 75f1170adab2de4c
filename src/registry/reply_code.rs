//! The code on a letter with which a hospital answers: drawn once, never guessed when misread.
//!
//! Design \[O\], its catch of errors by enumeration \[C\]: clinical reference, part 8.5. The tests below try
//! every single error and every transposition again.

use std::fmt;
use std::str::FromStr;

/// 31 characters, values 0 to 30 in this order: a prime, and without 0 O 1 I L.
const ALPHABET: &[u8; 31] = b"23456789ABCDEFGHJKMNPQRSTUVWXYZ";
/// Random characters; one check character follows them.
const RANDOM: usize = 11;
const LENGTH: usize = RANDOM + 1;
/// A byte from here on would make the first characters likelier than the last.
const FAIR_BYTES: u8 = 248;

/// Eleven random characters and a check character; shown as `H7K3-RM9Q-2TX3`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct ReplyCode([u8; LENGTH]);

/// Why a typed code is none.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum BadCode {
    /// A sign that is easily misread, so never part of a code.
    #[error("the code has no 0, O, 1, I or L")]
    NeverUsed,
    /// Too long, too short, a sign outside the alphabet, or the check character does not fit.
    #[error("compare the code with the letter")]
    DoesNotFit,
}

/// The operating system gave no random bytes.
#[derive(Debug, thiserror::Error)]
#[error("the machine gave no random numbers")]
pub struct NoRandomness;

impl ReplyCode {
    /// A new code from the operating system's generator.
    ///
    /// # Errors
    /// When the operating system gives no random bytes.
    pub fn draw() -> Result<Self, NoRandomness> {
        Self::drawn_from(|bytes| getrandom::fill(bytes).map_err(|_| NoRandomness))
    }

    fn drawn_from(
        mut source: impl FnMut(&mut [u8]) -> Result<(), NoRandomness>,
    ) -> Result<Self, NoRandomness> {
        let mut values = [0u8; LENGTH];
        let mut filled = 0;
        while filled < RANDOM {
            let mut bytes = [0u8; 16];
            source(&mut bytes)?;
            for byte in bytes.into_iter().filter(|byte| *byte < FAIR_BYTES) {
                if filled < RANDOM {
                    values[filled] = byte % 31;
                    filled += 1;
                }
            }
        }
        values[RANDOM] = check_value(&values);
        Ok(Self(values))
    }

    /// Reads a typed code: small letters, spaces and dashes of any kind are allowed.
    ///
    /// # Errors
    /// [`BadCode::NeverUsed`] for 0 O 1 I L, else [`BadCode::DoesNotFit`].
    pub fn parse(typed: &str) -> Result<Self, BadCode> {
        let mut values = [0u8; LENGTH];
        let mut length = 0;
        for sign in typed.chars().filter(|sign| !is_ignored(*sign)) {
            let sign = sign.to_ascii_uppercase();
            if matches!(sign, '0' | 'O' | '1' | 'I' | 'L') {
                return Err(BadCode::NeverUsed);
            }
            let value = ALPHABET.iter().position(|known| char::from(*known) == sign);
            let value = value.and_then(|value| u8::try_from(value).ok());
            let (Some(value), Some(place)) = (value, values.get_mut(length)) else {
                return Err(BadCode::DoesNotFit);
            };
            *place = value;
            length += 1;
        }
        if length == LENGTH && weighted_sum(&values).is_multiple_of(31) {
            Ok(Self(values))
        } else {
            Err(BadCode::DoesNotFit)
        }
    }
}

impl FromStr for ReplyCode {
    type Err = BadCode;
    fn from_str(typed: &str) -> Result<Self, BadCode> {
        Self::parse(typed)
    }
}

impl fmt::Display for ReplyCode {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (place, value) in self.0.iter().enumerate() {
            if place > 0 && place % 4 == 0 {
                out.write_str("-")?;
            }
            write!(out, "{}", char::from(ALPHABET[usize::from(*value)]))?;
        }
        Ok(())
    }
}

/// Spaces and the dashes that keyboards and word processors make.
fn is_ignored(sign: char) -> bool {
    sign.is_whitespace() || matches!(sign, '-' | '\u{ad}' | '\u{2010}'..='\u{2015}' | '\u{2212}')
}

/// Weights 12, 11, …, 2 for the eleven and 1 for the check.
fn weighted_sum(values: &[u8; LENGTH]) -> u32 {
    let weights = (1..=12u32).rev();
    weights
        .zip(values)
        .map(|(weight, value)| weight * u32::from(*value))
        .sum()
}

/// The value that makes the weighted sum 0 mod 31; reads the first eleven only.
fn check_value(values: &[u8; LENGTH]) -> u8 {
    let mut open = *values;
    open[RANDOM] = 0;
    let rest = weighted_sum(&open) % 31;
    u8::try_from((31 - rest) % 31).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]
    use super::*;

    /// Random eleven, weighted sum and check character, worked by hand in the clinical reference 8.5.
    const WORKED: &[(&str, u32, &str)] = &[
        ("22222222222", 0, "2222-2222-2222"),
        ("23456789ABC", 275, "2345-6789-ABC6"),
        ("ZYXWVUTSRQP", 2035, "ZYXW-VUTS-RQPD"),
        ("H7K3RM9Q2TX", 991, "H7K3-RM9Q-2TX3"),
        ("KF7MW4HB3ZD", 1040, "KF7M-W4HB-3ZDG"),
        ("99999999999", 539, "9999-9999-999N"),
    ];

    fn values_of(text: &str) -> [u8; LENGTH] {
        let mut values = [0; LENGTH];
        for (place, sign) in text.bytes().enumerate() {
            let value = ALPHABET.iter().position(|known| *known == sign).unwrap();
            values[place] = u8::try_from(value).unwrap();
        }
        values
    }

    #[test]
    fn the_worked_codes_come_out_and_read_back() {
        for (random, sum, code) in WORKED {
            let mut values = values_of(random);
            assert_eq!(weighted_sum(&values), *sum, "{random}");
            values[RANDOM] = check_value(&values);
            assert_eq!(ReplyCode(values).to_string(), *code);
            assert_eq!(ReplyCode::parse(code).unwrap().to_string(), *code);
        }
    }

    #[test]
    fn a_code_may_be_typed_small_spaced_or_run_together() {
        for typed in [
            " h7k3 rm9q 2tx3 ",
            "H7K3RM9Q2TX3",
            "h7k3–rm9q—2tx3",
            "H7K3\u{2011}RM9Q\u{a0}2TX3",
        ] {
            assert_eq!(
                ReplyCode::parse(typed).unwrap().to_string(),
                "H7K3-RM9Q-2TX3",
                "{typed}"
            );
        }
    }

    #[test]
    fn a_misread_code_is_refused_and_never_guessed() {
        for typed in [
            "H7K3-RM9Q-2TX4",
            "H7K3-RM9Q-2XT3",
            "7HK3-RM9Q-2TX3",
            "H7K3-RM9Q-2TX",
            "",
            "H7K3-RM9Q-2TX33",
            "H7K3-RM9Q-2TX!",
            "Ħ7K3-RM9Q-2TX3",
        ] {
            assert_eq!(ReplyCode::parse(typed), Err(BadCode::DoesNotFit), "{typed}");
        }
        for misread in ["0", "O", "o", "1", "I", "i", "L", "l"] {
            let typed = format!("H7K3-RM9Q-2TX{misread}");
            assert_eq!(ReplyCode::parse(&typed), Err(BadCode::NeverUsed), "{typed}");
        }
    }

    /// The sum is linear: an error of `d` at a place of weight `w` moves it by `w·d`, whatever the rest holds.
    #[test]
    fn every_single_error_and_every_transposition_is_seen() {
        let code = values_of("KF7MW4HB3ZDG");
        assert_eq!(weighted_sum(&code) % 31, 0);
        let (mut singles, mut swaps) = (0, 0);
        for place in 0..LENGTH {
            for right in 0..31 {
                for wrong in (0..31).filter(|wrong| *wrong != right) {
                    let mut one = [0; LENGTH];
                    one[place] = right;
                    let before = weighted_sum(&one);
                    one[place] = wrong;
                    assert_ne!(
                        weighted_sum(&one) % 31,
                        before % 31,
                        "{place}: {right} for {wrong}"
                    );
                    singles += 1;
                    for other in place + 1..LENGTH {
                        let mut pair = [0; LENGTH];
                        (pair[place], pair[other]) = (right, wrong);
                        let before = weighted_sum(&pair);
                        pair.swap(place, other);
                        assert_ne!(weighted_sum(&pair) % 31, before % 31, "{place} and {other}");
                        swaps += 1;
                    }
                }
            }
        }
        assert_eq!((singles, swaps), (11_160, 61_380));
    }

    #[test]
    fn drawing_throws_away_the_bytes_that_would_favour_the_first_characters() {
        let code = ReplyCode::drawn_from(|bytes| {
            for (place, byte) in bytes.iter_mut().enumerate() {
                *byte = if place % 2 == 0 { 255 } else { 30 };
            }
            Ok(())
        });
        assert_eq!(&code.unwrap().0[..RANDOM], &[30; RANDOM]);
        let mut seen = std::collections::HashSet::new();
        for _ in 0..2000 {
            let code = ReplyCode::draw().unwrap();
            assert_eq!(ReplyCode::parse(&code.to_string()), Ok(code));
            assert!(seen.insert(code), "{code} was drawn twice");
        }
    }
}
