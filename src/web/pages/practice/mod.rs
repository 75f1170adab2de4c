//! Practice: invented cases, answered beside what the program says. Nothing of it reaches the registry.

mod answers;
pub(in crate::web) mod case;
mod compared;
mod exercises;
#[cfg(test)]
mod exercises_tests;
pub(in crate::web) mod list;
mod reasons;
mod rows;
mod told;
