//! What a browser says of itself, in one word that a person knows her device by.

/// `phone`, `tablet` or `computer`; a device that said nothing is just that.
pub(crate) fn device(said: Option<&str>) -> &'static str {
    let Some(said) = said else {
        return "a device";
    };
    if ["iPad", "Tablet"].iter().any(|it| said.contains(it)) {
        "tablet"
    } else if ["Mobile", "Android", "iPhone"]
        .iter()
        .any(|it| said.contains(it))
    {
        "phone"
    } else {
        "computer"
    }
}
