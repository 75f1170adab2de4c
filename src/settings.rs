//! How the program was started. One value, handed in; tests may choose a cheap password cost, the code path is the same.

use crate::registry::passwords::PasswordCost;

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
