//! How long what people write may be; a line that is longer is refused, never cut.

use super::error::{RegistryError, Result};

/// A name, a village, a phone.
pub(in crate::registry) const LINE: usize = 80;
/// A note, an illness, a reason.
pub(in crate::registry) const NOTE: usize = 1_000;

/// Refuses text over its limit and control characters other than line ends.
pub(in crate::registry) fn fits(
    field: &'static str,
    text: Option<&str>,
    most: usize,
) -> Result<()> {
    let Some(text) = text else { return Ok(()) };
    if text.chars().count() > most {
        return Err(RegistryError::field(
            field,
            format!("Write at most {most} characters."),
        ));
    }
    if text
        .chars()
        .any(|it| it.is_control() && !(most > LINE && "\n\r\t".contains(it)))
    {
        return Err(RegistryError::field(
            field,
            "This holds a character that cannot be printed.",
        ));
    }
    Ok(())
}

/// A reason that has to be given.
pub(in crate::registry) fn reason(text: &str) -> Result<&str> {
    let text = text.trim();
    if text.is_empty() {
        return Err(RegistryError::field("reason", "Write the reason."));
    }
    fits("reason", Some(text), NOTE)?;
    Ok(text)
}

/// Text without spaces around it; blank is not written.
pub(in crate::registry) fn trimmed(text: Option<&String>) -> Option<String> {
    text.map(|it| it.trim().to_owned())
        .filter(|it| !it.is_empty())
}
