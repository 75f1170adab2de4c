//! Whose month is asked for: her own post, or for the district any post and all together.

use std::borrow::Borrow;

use chrono_tz::Tz;

use crate::registry::extract::{self, ReportingPost};
use crate::registry::months::Month;
use crate::registry::{PostId, RegistryError};
use crate::reporting::Scope;
use crate::web::audience::Reporter;
use crate::web::error::PageError;
use crate::web::session::Seat;
use crate::web::state::House;

/// In the address, for all posts together.
const ALL: &str = "all";

/// One post, or all of them.
pub(super) struct Chosen {
    /// Absent for all posts.
    pub(super) post: Option<ReportingPost>,
    /// What the district may choose among; empty for a post's own people.
    pub(super) posts: Vec<ReportingPost>,
    /// Of the post, or of the district.
    pub(super) zone: Tz,
    /// The current month on that clock.
    pub(super) current: Month,
}

impl Chosen {
    /// Reads the choice from the address; another post's is a page that does not exist.
    pub(super) async fn read(
        reporter: &Reporter,
        house: &House,
        typed: &str,
    ) -> Result<Self, PageError> {
        let posts = house.read(extract::posts).await?;
        let own = reporter.post.as_ref().map(|seat| seat.id);
        let post = choose(&posts, own, typed)?;
        let zone = post.as_ref().map_or(reporter.zone, |post| post.zone);
        Ok(Self {
            post,
            posts: if own.is_none() { posts } else { Vec::new() },
            zone,
            current: Month::of(house.now(), zone),
        })
    }

    /// The midwife's own post.
    pub(super) async fn of_post(seat: &Seat, house: &House) -> Result<Self, PageError> {
        let posts = house.read(extract::posts).await?;
        Ok(Self {
            post: choose(&posts, Some(seat.id), "")?,
            posts: Vec::new(),
            zone: seat.zone,
            current: Month::of(house.now(), seat.zone),
        })
    }

    pub(super) fn scope(&self) -> Scope {
        self.post
            .as_ref()
            .map_or(Scope::AllPosts, |post| Scope::One(post.id))
    }

    pub(super) fn name(&self) -> String {
        self.post
            .as_ref()
            .map_or_else(|| "All posts".to_owned(), |post| post.name.clone())
    }

    /// In addresses and in the names of files.
    pub(super) fn code(&self) -> &str {
        self.post.as_ref().map_or(ALL, |post| &post.code)
    }

    /// The address of a month or of what hangs below it, with the post where there is a choice.
    pub(super) fn address(&self, month: impl Borrow<Month>, below: impl AsRef<str>) -> String {
        let choice = if self.posts.is_empty() {
            String::new()
        } else {
            format!("?post={}", self.code())
        };
        format!("/months/{}{}{choice}", month.borrow(), below.as_ref())
    }

    /// A month that has begun; a later one is a page that does not exist yet.
    pub(super) fn begun(&self, month: Month) -> Result<Month, PageError> {
        if month > self.current {
            Err(PageError::Missing)
        } else {
            Ok(month)
        }
    }
}

fn choose(
    posts: &[ReportingPost],
    own: Option<PostId>,
    typed: &str,
) -> Result<Option<ReportingPost>, PageError> {
    let found = |wanted: &dyn Fn(&ReportingPost) -> bool| {
        posts
            .iter()
            .find(|post| wanted(post))
            .cloned()
            .ok_or(PageError::Registry(RegistryError::Missing("post")))
    };
    match (own, typed) {
        (None, "" | ALL) => Ok(None),
        (None, code) => found(&|post| post.code == code).map(Some),
        (Some(own), "") => found(&|post| post.id == own).map(Some),
        (Some(own), code) => found(&|post| post.id == own && post.code == code).map(Some),
    }
}
