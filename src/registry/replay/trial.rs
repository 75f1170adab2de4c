//! Settings of a post that are tried and not saved.

use super::super::judging::Place;
use super::super::posts::{Post, PostSettings, Travel};
use crate::clinical::{HeightMethod, LabourProtocol};

/// What is tried; whatever is absent stays as the post has it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Trial {
    /// Judges every labour, also those that began with another one.
    pub labour_protocol: Option<LabourProtocol>,
    /// How the tape is judged.
    pub height_method: Option<HeightMethod>,
    /// Staff skilled in breech birth are there.
    pub skilled_breech: Option<bool>,
    /// Staff skilled in twin birth are there.
    pub skilled_twins: Option<bool>,
    /// The way to the hospitals.
    pub way: Option<TriedWay>,
}

/// How long the way takes, and when it counts as by night.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TriedWay {
    /// Each hospital once.
    pub ways: Vec<Travel>,
    /// 0 to 23, local.
    pub day_from: i32,
    /// 0 to 23, local.
    pub night_from: i32,
    /// A name of the time zone database.
    pub time_zone: String,
}

impl Trial {
    /// What these settings would change of what judges; `ways` are those that are saved.
    #[must_use]
    pub fn of(settings: &PostSettings, post: &Post, ways: &[Travel]) -> Self {
        fn changed<T: PartialEq + Copy>(typed: T, saved: T) -> Option<T> {
            (typed != saved).then_some(typed)
        }
        let sorted = |ways: &[Travel]| {
            let mut ways = ways.to_vec();
            ways.sort_by_key(|way| way.hospital_id);
            ways
        };
        let same_way = sorted(&settings.ways) == sorted(ways)
            && (settings.day_from, settings.night_from) == (post.day_from, post.night_from)
            && settings.time_zone == post.time_zone;
        Self {
            labour_protocol: changed(settings.labour_protocol, post.labour_protocol),
            height_method: changed(settings.height_method, post.height_method),
            skilled_breech: changed(settings.skilled_breech, post.skilled_breech),
            skilled_twins: changed(settings.skilled_twins, post.skilled_twins),
            way: (!same_way).then(|| TriedWay {
                ways: settings.ways.clone(),
                day_from: settings.day_from,
                night_from: settings.night_from,
                time_zone: settings.time_zone.clone(),
            }),
        }
    }

    /// Nothing is tried.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// The post as it would be.
    pub(super) fn at(&self, saved: &Place) -> Place {
        let mut place = saved.clone();
        let post = &mut place.post;
        post.height_method = self.height_method.unwrap_or(post.height_method);
        post.labour_protocol = self.labour_protocol.unwrap_or(post.labour_protocol);
        post.skilled_breech = self.skilled_breech.unwrap_or(post.skilled_breech);
        post.skilled_twins = self.skilled_twins.unwrap_or(post.skilled_twins);
        if let Some(way) = &self.way {
            (post.day_from, post.night_from) = (way.day_from, way.night_from);
            post.time_zone.clone_from(&way.time_zone);
            place.ways.clone_from(&way.ways);
        }
        place.tried_protocol = self.labour_protocol;
        place
    }
}
