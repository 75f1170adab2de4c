//! Time to go: the limits that come if she stays as she is.

use super::Labour;
use crate::clinical::{Limit, Moment, Stage};
use chrono::Duration;

/// What else decides a limit.
#[derive(Debug, Clone, Copy)]
pub(crate) struct AsShe {
    /// Since when the waters are broken; absent when they are not, or nobody knows.
    pub(crate) waters_since: Option<Moment>,
}

/// Earliest first; at a tie in the order of the reference (4.7).
pub(crate) fn limits(labour: &Labour, she: AsShe) -> Vec<Limit> {
    let active = labour.stage == Some(Stage::Active);
    let guide = active && !labour.is_partograph();
    let mut found: Vec<Limit> = Vec::with_capacity(3);
    let mut applies = |rule, at: Option<Moment>| {
        if let Some(at) = at {
            found.push(Limit { rule, at });
        }
    };
    if guide {
        applies(
            "slow-dilatation",
            labour
                .centimetre_limit()
                .map(|(_, since, limit)| since + limit),
        );
        applies(
            "active-stage-long",
            labour.active_since().map(|at| at + labour.active_limit()),
        );
    } else if active {
        applies(
            "past-action",
            labour
                .last_dilatation
                .and_then(|(_, cm)| labour.action_at(cm)),
        );
    }
    if labour.is_partograph() && labour.stage == Some(Stage::Latent) {
        applies("latent-long", Some(labour.began + Duration::hours(8)));
    }
    if labour.stage == Some(Stage::Second) {
        applies(
            "second-stage-long",
            labour.full_at().map(|at| at + labour.second_limit()),
        );
    }
    applies(
        "waters-long",
        she.waters_since.map(|at| at + Duration::hours(24)),
    );
    found.sort_by_key(|limit| limit.at);
    found
}
