//! Months: the tables of a month, signing it, its files, and posts by months for the district.

mod chosen;
mod files;
mod month;
mod posts;
mod section;
mod state;

pub(in crate::web) use files::download;
pub(in crate::web) use month::{print, show, sign};

use self::chosen::Chosen;
use crate::registry::months;
use crate::web::answer::Answer;
use crate::web::audience::Reporter;
use crate::web::error::PageError;
use crate::web::form::{Query, Typed};
use crate::web::shell::Shell;
use crate::web::state::House;

/// `GET /months`: for a post its newest month that is over and not signed, for the district the posts by months.
pub(in crate::web) async fn list(
    reporter: Reporter,
    house: House,
    shell: Shell,
    Query(query): Query,
) -> Answer {
    let chosen = Chosen::read(&reporter, &house, query.last("post")).await?;
    if let Some(asked) = asked_for(&query)? {
        return crate::web::answer::go(chosen.address(chosen.begun(asked)?, ""));
    }
    let Some(post) = chosen.post.as_ref().map(|post| post.id) else {
        return posts::show(&house, shell, &chosen).await;
    };
    let now = house.now();
    let to_sign = house.read(move |db| months::to_sign(db, post, now)).await?;
    let month = to_sign.unwrap_or_else(|| chosen.current.previous());
    month::page(&reporter, &house, shell, &chosen, month).await
}

/// The month chosen in the list of months; a text that is none is a page that does not exist.
fn asked_for(query: &Typed) -> Result<Option<months::Month>, PageError> {
    match query.last("month") {
        "" => Ok(None),
        text => text.parse().map(Some).map_err(|_| PageError::Missing),
    }
}
