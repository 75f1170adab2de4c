//! Passwords: what one must be, and how it is kept (argon2id).
//!
//! Hashing takes tens of milliseconds on purpose: do it before `Registry::write`, off the async threads.

use argon2::{Algorithm, Argon2, Params, PasswordHasher, PasswordVerifier, Version};

use super::error::{RegistryError, Result};

/// Characters a password needs at least [O: length instead of kinds of letters].
pub const SHORTEST: usize = 12;
/// Characters a password may have at most, so that nobody makes the program hash a book.
pub const LONGEST: usize = 200;

/// What one guess costs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PasswordCost {
    /// Memory in KiB, at least 8.
    pub memory_kib: u32,
    /// Passes over the memory, at least 1.
    pub passes: u32,
    /// Lanes, at least 1.
    pub lanes: u32,
}

impl Default for PasswordCost {
    /// As the OWASP password storage notes advise for argon2id: 19 MiB, two passes, one lane.
    fn default() -> Self {
        Self {
            memory_kib: 19_456,
            passes: 2,
            lanes: 1,
        }
    }
}

impl PasswordCost {
    /// Quick to compute and quick to guess: for tests and invented people.
    pub const PRACTICE: Self = Self {
        memory_kib: 8,
        passes: 1,
        lanes: 1,
    };

    fn hasher(self) -> Result<Argon2<'static>> {
        let params = Params::new(self.memory_kib, self.passes, self.lanes, None)
            .map_err(|error| RegistryError::corrupt(format!("password cost: {error}")))?;
        Ok(Argon2::new(Algorithm::Argon2id, Version::V0x13, params))
    }
}

/// A password as it is kept.
#[derive(Clone)]
pub struct HashedPassword(String);

impl HashedPassword {
    /// Hashes a new password.
    ///
    /// # Errors
    /// `RefusedField` beside `password` when it is too short, too long, or one character over and over.
    pub fn of(password: &str, cost: PasswordCost) -> Result<Self> {
        refuse_weak(password)?;
        let hash = cost
            .hasher()?
            .hash_password(password.as_bytes())
            .map_err(|error| RegistryError::corrupt(format!("password: {error}")))?;
        Ok(Self(hash.to_string()))
    }

    pub(in crate::registry) fn stored(&self) -> &str {
        &self.0
    }
}

fn refuse_weak(password: &str) -> Result<()> {
    let refuse = |why: &str| Err(RegistryError::field("password", why));
    let count = password.chars().count();
    let mut kinds: Vec<char> = password.chars().collect();
    kinds.sort_unstable();
    kinds.dedup();
    if count < SHORTEST {
        refuse("Use at least 12 characters; a short sentence is easy to keep in mind.")
    } else if count > LONGEST {
        refuse("Use at most 200 characters.")
    } else if kinds.len() < 4 {
        refuse("Use more than three different characters.")
    } else {
        Ok(())
    }
}

/// Whether `typed` is the password. Without a stored one the same work is done and the answer is no.
pub(in crate::registry) fn fits(
    typed: &str,
    stored: Option<&str>,
    cost: PasswordCost,
) -> Result<bool> {
    let typed: String = typed.chars().take(LONGEST + 1).collect();
    let hasher = cost.hasher()?;
    if let Some(stored) = stored {
        return Ok(hasher.verify_password(typed.as_bytes(), stored).is_ok());
    }
    // Nobody of this name: as long as for somebody, so that time tells nothing.
    let mut unused = [0; Params::DEFAULT_OUTPUT_LEN];
    hasher
        .hash_password_into(typed.as_bytes(), b"no account, 16 B", &mut unused)
        .map_err(|error| RegistryError::corrupt(format!("password: {error}")))?;
    Ok(false)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]
mod tests {
    use super::*;

    #[test]
    fn a_password_fits_itself_and_nothing_else() {
        let kept = HashedPassword::of("demo only, not for care", PasswordCost::PRACTICE).unwrap();
        let fits = |typed| fits(typed, Some(kept.stored()), PasswordCost::default()).unwrap();
        assert!(fits("demo only, not for care"));
        assert!(!fits("demo only, not for Care"));
        assert!(!fits(""));
        assert!(
            kept.stored().starts_with("$argon2id$v=19$m=8,t=1,p=1$"),
            "{}",
            kept.stored()
        );
    }

    #[test]
    fn short_long_and_monotonous_passwords_are_refused() {
        for weak in [
            "",
            "elevenchars",
            "aaaaaaaaaaaaaaaa",
            "ababababcabcab",
            &"long ".repeat(50),
        ] {
            assert!(
                HashedPassword::of(weak, PasswordCost::PRACTICE).is_err(),
                "{weak}"
            );
        }
        assert!(HashedPassword::of("twelve chars", PasswordCost::PRACTICE).is_ok());
    }

    #[test]
    fn nobody_has_no_password() {
        assert!(!fits("demo only, not for care", None, PasswordCost::PRACTICE).unwrap());
    }
}
