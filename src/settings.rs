//! How the program was started. One value, handed in; tests may choose a cheap password cost, the code path is the same.

/// What pages and sign-in depend on.
#[derive(Debug, Clone, Default)]
pub struct Settings {
    /// The practice register: every page says so, and the sign-in page lists its accounts.
    pub practice: Option<Practice>,
    /// Whether cookies are kept to TLS.
    pub secure_cookies: bool,
    /// What one guess at a password costs.
    pub password_cost: PasswordCost,
    /// Name of the district, for the sign-in page and the headings of those who belong to no post.
    pub district: Option<String>,
}

/// The accounts of a practice register.
#[derive(Debug, Clone)]
pub struct Practice {
    /// Sign-in names, in the order shown.
    pub sign_ins: Vec<String>,
    /// One password for all of them; invented, and said on the page.
    pub password: String,
}

/// Cost of argon2id. The default is what OWASP's password storage cheat sheet asks for [M].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PasswordCost {
    /// Memory in KiB.
    pub memory_kib: u32,
    /// Passes over it.
    pub passes: u32,
    /// Lanes.
    pub lanes: u32,
}

impl Default for PasswordCost {
    fn default() -> Self {
        Self {
            memory_kib: 19_456,
            passes: 2,
            lanes: 1,
        }
    }
}

impl PasswordCost {
    /// The least that argon2 takes; for tests.
    #[must_use]
    pub const fn least() -> Self {
        Self {
            memory_kib: 8,
            passes: 1,
            lanes: 1,
        }
    }
}
