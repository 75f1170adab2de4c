//! Two versions of the same facts, where they differ.

/// One fact that the form and the register tell differently.
pub(crate) struct Difference {
    pub(crate) part: &'static str,
    pub(crate) wrote: String,
    pub(crate) has: String,
}

impl Difference {
    /// Those of these pairs (what, as written, as the register has it) that are not the same.
    pub(crate) fn among(
        pairs: impl IntoIterator<Item = (&'static str, String, String)>,
    ) -> Vec<Self> {
        let shown = |text: String| {
            if text.is_empty() {
                "nothing".to_owned()
            } else {
                text
            }
        };
        let differing = pairs.into_iter().filter(|(_, wrote, has)| wrote != has);
        differing
            .map(|(part, wrote, has)| Self {
                part,
                wrote: shown(wrote),
                has: shown(has),
            })
            .collect()
    }
}
