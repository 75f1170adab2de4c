//! One birth as it stands, and its older revisions.

use askama::Template;

use super::super::hers::{joined, moment};
use crate::clinical::{dating, gestation_text};
use crate::registry::births::{self, Birth, BirthRecord, Newborn, Revision};
use crate::registry::posts::{self, Post};
use crate::registry::{BirthId, NewbornState, Role, Sex};
use crate::web::answer::{self, Answer};
use crate::web::audience::Carer;
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

#[derive(Template)]
#[template(path = "births/show.html")]
struct ShowPage {
    shell: Shell,
    birth: Birth,
    post: Post,
    older: Vec<Revision>,
    in_charge: bool,
}

/// A baby in one line: `girl, 3180 g, alive`.
pub(super) fn baby_words(baby: &Newborn) -> String {
    let sex = baby.sex.map_or("sex not written down", Sex::words);
    let weight = baby.weight_g.map_or_else(
        || "weight not known".to_owned(),
        |grams| format!("{grams}\u{a0}g"),
    );
    let state = match (baby.state, baby.died) {
        (NewbornState::Alive, true) => "born alive, died afterwards",
        (state, _) => state.words(),
    };
    format!("{sex}, {weight}, {state}")
}

/// Everything that a record says, as label and words.
pub(super) fn summary(record: &BirthRecord, post: &Post) -> Vec<(String, String)> {
    let mut lines = vec![
        ("Labour began".to_owned(), record.onset.words().to_owned()),
        ("Mother".to_owned(), {
            let died = record
                .mother_died_on
                .map(|day| format!(", on {}", spoken::day(day)));
            format!(
                "{}{}",
                record.mother_outcome.words(),
                died.unwrap_or_default()
            )
        }),
    ];
    for (place, baby) in (1..).zip(&record.newborns) {
        let when = match baby.born_at {
            Some(at) => moment(post, at),
            None => format!("{}, time not known", spoken::day(baby.born_on)),
        };
        let apgar = match (baby.apgar_1, baby.apgar_5) {
            (None, None) => String::new(),
            (one, five) => {
                let part = |points: Option<i32>| {
                    points.map_or_else(|| "–".to_owned(), |it| it.to_string())
                };
                format!(", Apgar {} and {}", part(one), part(five))
            }
        };
        let died = match (baby.died, baby.died_at, baby.died_on) {
            (false, ..) => String::new(),
            (true, Some(at), _) => format!(", died {}", moment(post, at)),
            (true, None, Some(day)) => format!(", died {}", spoken::day(day)),
            (true, None, None) => ", day of death not known".to_owned(),
        };
        let seen = baby
            .seen_alive_on
            .map(|day| format!(", seen alive {}", spoken::day(day)));
        lines.push((
            format!("Baby {place}"),
            format!(
                "{}; {when}, {}, {}, {} first{apgar}{died}{}",
                baby_words(baby),
                baby.place.words(),
                baby.mode.words(),
                baby.presentation.words(),
                seen.unwrap_or_default()
            ),
        ));
    }
    lines.extend(record.note.clone().map(|note| ("Note".to_owned(), note)));
    lines
}

impl ShowPage {
    fn register(&self) -> String {
        joined(&self.birth.register)
    }

    fn gestation(&self) -> String {
        let first = self.birth.record.newborns.first().map(|baby| baby.born_on);
        let days = self
            .birth
            .due_date
            .zip(first)
            .and_then(|(due, day)| dating::gestation_on(due, day));
        days.map_or_else(|| "not known".to_owned(), gestation_text)
    }

    fn lines(&self) -> Vec<(String, String)> {
        summary(&self.birth.record, &self.post)
    }

    fn old(&self, revision: &Revision) -> Vec<(String, String)> {
        summary(&revision.record, &self.post)
    }

    fn written(&self, revision: &Revision) -> String {
        let reason = revision
            .reason
            .as_ref()
            .map(|why| format!(": {why}"))
            .unwrap_or_default();
        format!(
            "{} by {}{reason}",
            moment(&self.post, revision.written_at),
            revision.written_by
        )
    }

    /// The revision that stands now.
    fn newest(&self) -> String {
        self.older
            .first()
            .map(|newest| self.written(newest))
            .unwrap_or_default()
    }
}

/// `GET /births/{id}`
pub(in crate::web) async fn show(
    carer: Carer,
    house: House,
    shell: Shell,
    Key(id): Key<BirthId>,
) -> Answer {
    let post = carer.post.id;
    let in_charge = carer.role == Role::Midwife;
    let (birth, post, older) = house
        .read(move |db| {
            let birth = births::one(db, post, id)?;
            Ok((birth, posts::find(db, post)?, births::revisions(db, id)?))
        })
        .await?;
    answer::page(&ShowPage {
        shell,
        birth,
        post,
        older,
        in_charge,
    })
}
