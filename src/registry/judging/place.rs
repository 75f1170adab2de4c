//! The post as the judgement sees it, at any hour.

use std::collections::HashMap;
use std::rc::Rc;

use crate::clinical::{LabourProtocol, Moment, Post};
use crate::registry::change::Change;
use crate::registry::connection::Db;
use crate::registry::error::Result;
use crate::registry::hospitals::{self, Hospital};
use crate::registry::ids::PostId;
use crate::registry::posts::{self, Travel};

/// A post with its ways to the hospitals, read once.
#[derive(Clone)]
pub(in crate::registry) struct Place {
    pub(in crate::registry) post: posts::Post,
    pub(in crate::registry) ways: Vec<Travel>,
    hospitals: Vec<Hospital>,
    /// Judges every labour, whatever protocol it began with; only when one is tried.
    pub(in crate::registry) tried_protocol: Option<LabourProtocol>,
}

impl Place {
    /// # Errors
    /// `Missing` when there is no such post; `Broken` when the database fails.
    pub(in crate::registry) fn of(db: &mut Db, post: PostId) -> Result<Self> {
        Ok(Self {
            post: posts::find(db, post)?,
            ways: posts::ways(db, post)?,
            hospitals: hospitals::list(db)?,
            tried_protocol: None,
        })
    }

    /// At `on`; `protocol` is that of the last labour record.
    pub(super) fn judges(&self, on: Moment, protocol: Option<LabourProtocol>) -> Post {
        let post = &self.post;
        let nearest = hospitals::nearest_of(self.hospitals.clone(), &self.ways, post, on);
        Post {
            skilled_breech: post.skilled_breech,
            skilled_twins: post.skilled_twins,
            travel_minutes: nearest.map(|(_, minutes)| minutes),
            labour_protocol: self
                .tried_protocol
                .or(protocol)
                .unwrap_or(post.labour_protocol),
            fundal_height_method: post.height_method,
            clock_minutes_ahead: i16::try_from((post.local(on) - on).num_minutes())
                .unwrap_or_default(),
        }
    }
}

/// The places that a change has judged by.
type Kept = HashMap<PostId, Rc<Place>>;

/// The place of a post, read once in a change: many entries brought in together are judged by few posts.
pub(super) fn kept(change: &mut Change<'_>, post: PostId) -> Result<Rc<Place>> {
    if let Some(place) = change.kept::<Kept>().and_then(|kept| kept.get(&post)) {
        return Ok(Rc::clone(place));
    }
    let place = Rc::new(Place::of(change.db(), post)?);
    if let Some(kept) = change.kept::<Kept>() {
        kept.insert(post, Rc::clone(&place));
    }
    Ok(place)
}

/// How a post judges at the moment `on`, for findings that belong to nobody: skill, protocol, and the way by day or night.
///
/// # Errors
/// `Missing` when there is no such post; `Broken` when the database fails.
pub fn judges_at(db: &mut Db, post: PostId, on: Moment) -> Result<Post> {
    Ok(Place::of(db, post)?.judges(on, None))
}
