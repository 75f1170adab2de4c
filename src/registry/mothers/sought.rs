//! What a typed search means.

use super::fold::{digits, folded, words};
use crate::registry::posts::Post;

/// Fewer figures would find half the register.
const FIGURES_OF_A_PHONE: usize = 4;

/// What a search looks for.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Sought {
    All,
    Number(i32),
    Figures(Option<i32>, Option<String>),
    Words(Vec<String>),
}

/// Reads a search as a nurse means it.
pub(super) fn sought(post: &Post, typed: &str) -> Sought {
    let typed = typed.trim();
    let figures = digits(typed);
    let Some(figures) = figures else {
        let words = words(&[&folded(typed)]);
        return if words.is_empty() {
            Sought::All
        } else {
            Sought::Words(words)
        };
    };
    let letters: String = typed.chars().filter(|it| it.is_alphabetic()).collect();
    let number = figures.parse().ok();
    if letters.is_empty() {
        let phone = (figures.len() >= FIGURES_OF_A_PHONE).then_some(figures);
        return Sought::Figures(number, phone);
    }
    let of_this_post = letters.eq_ignore_ascii_case(&post.code)
        && typed.starts_with(|it: char| it.is_alphabetic());
    match number {
        Some(number) if of_this_post => Sought::Number(number),
        _ => Sought::Words(words(&[&folded(typed)])),
    }
}
