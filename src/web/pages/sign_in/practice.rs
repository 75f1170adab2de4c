//! The accounts of a practice register, as its sign-in page lists them.

use crate::registry::staff::{self, Staff};
use crate::registry::{Db, RegistryError, Result, Role, posts};
use crate::web::error::PageError;
use crate::web::state::House;

/// One line of the list.
pub(super) struct Account {
    pub(super) sign_in: String,
    pub(super) who: String,
    pub(super) sees: String,
}

/// Empty unless this is the practice register.
pub(super) async fn accounts(house: &House) -> std::result::Result<Vec<Account>, PageError> {
    let Some(practice) = &house.settings().practice else {
        return Ok(Vec::new());
    };
    let sign_ins = practice.sign_ins.clone();
    house
        .read(move |db| {
            sign_ins
                .iter()
                .filter_map(|name| account(db, name).transpose())
                .collect()
        })
        .await
}

fn account(db: &mut Db, sign_in: &str) -> Result<Option<Account>> {
    let person = match staff::named(db, sign_in) {
        Err(RegistryError::Missing(_)) => return Ok(None),
        found => found?,
    };
    let sees = sees(db, &person)?;
    Ok(Some(Account {
        sign_in: person.sign_in,
        who: format!("{}, {}", person.name, person.role.words()),
        sees,
    }))
}

fn sees(db: &mut Db, person: &Staff) -> Result<String> {
    let post = match person.post_id {
        Some(id) => posts::find(db, id)?.name,
        None => String::new(),
    };
    Ok(match person.role {
        Role::Nurse => format!("mothers, visits and labours of {post}"),
        Role::Midwife => format!("the same at {post}, and reviews, referrals, the month"),
        Role::District => "tables of all posts, no names".to_owned(),
        Role::Keeper => "accounts, posts, the trail".to_owned(),
    })
}
