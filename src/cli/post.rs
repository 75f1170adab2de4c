//! The post that `--post` names.

use anyhow::{Context, Result, bail};

use super::data::Data;
use crate::registry::extract::ReportingPost;

/// The post that was named; absent for all posts together.
pub(super) fn chosen<'a>(
    posts: &'a [ReportingPost],
    named: Option<&str>,
    data: &Data,
) -> Result<Option<&'a ReportingPost>> {
    if posts.is_empty() {
        bail!("no post is set up in {} yet", data.folder());
    }
    named.map(|named| find(posts, named)).transpose()
}

/// The post of that name or code.
fn find<'a>(posts: &'a [ReportingPost], named: &str) -> Result<&'a ReportingPost> {
    let wanted = named.trim().to_lowercase();
    let found = posts
        .iter()
        .find(|post| post.name.to_lowercase() == wanted || post.code.to_lowercase() == wanted);
    found.with_context(|| {
        let known: Vec<&str> = posts.iter().map(|post| post.name.as_str()).collect();
        format!(
            "there is no post “{}”; the posts are: {}",
            named.trim(),
            known.join(", ")
        )
    })
}
