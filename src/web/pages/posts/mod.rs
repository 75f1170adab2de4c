//! Posts and receiving hospitals: the list, and the settings of each.

mod form;
mod hospital;
mod trial;
mod zones;

use askama::Template;

use crate::clinical::{HeightMethod, LabourProtocol};
use crate::registry::hospitals::{self, Hospital};
use crate::registry::posts::{self, Post, Travel};
use crate::registry::{self, Db, HospitalId, PostId, audit};
use crate::web::answer::{self, Answer};
use crate::web::audience::Keeper;
use crate::web::error::PageError;
use crate::web::flash::Said;
use crate::web::form::{CheckedForm, Faults, Opt, Sense, Typed};
use crate::web::path::Key;
use crate::web::shell::Shell;
use crate::web::spoken;
use crate::web::state::House;

use form::{Difference, PostForm};
pub(in crate::web) use hospital::{
    add as add_hospital, amend as amend_hospital, ask_new as new_hospital, show as show_hospital,
};
pub(in crate::web) use trial::try_out;

struct PostLine {
    id: PostId,
    name: String,
    code: String,
    protocol: &'static str,
    height: &'static str,
    nearest: String,
    skilled: String,
    misses: &'static str,
}

impl PostLine {
    fn of(post: &Post, ways: &[Travel], hospitals: &[Hospital]) -> Self {
        let receiving = |way: &&Travel| {
            hospitals
                .iter()
                .any(|it| it.id == way.hospital_id && it.can_operate && it.stopped_at.is_none())
        };
        let nearest = ways
            .iter()
            .filter(receiving)
            .min_by_key(|way| way.day_minutes);
        let skilled = [
            (post.skilled_breech, "breech"),
            (post.skilled_twins, "twins"),
        ];
        let skilled: Vec<_> = skilled
            .iter()
            .filter(|(is, _)| *is)
            .map(|(_, what)| *what)
            .collect();
        Self {
            id: post.id,
            name: post.name.clone(),
            code: post.code.clone(),
            protocol: post.labour_protocol.words(),
            height: post.height_method.words(),
            nearest: nearest
                .map(|way| format!("{} / {}\u{a0}min", way.day_minutes, way.night_minutes))
                .unwrap_or_default(),
            skilled: if skilled.is_empty() {
                "–".to_owned()
            } else {
                skilled.join(", ")
            },
            misses: if nearest.is_none() {
                "no way to an operation"
            } else {
                ""
            },
        }
    }
}

struct HospitalLine {
    id: HospitalId,
    name: String,
    phone: String,
    operates: &'static str,
    blood: &'static str,
    receives: bool,
}

impl HospitalLine {
    fn of(hospital: Hospital) -> Self {
        let yes = |is: bool| if is { "yes" } else { "no" };
        Self {
            id: hospital.id,
            phone: hospital.phone.unwrap_or_default(),
            operates: yes(hospital.can_operate),
            blood: yes(hospital.has_blood),
            receives: hospital.stopped_at.is_none(),
            name: hospital.name,
        }
    }
}

#[derive(Template)]
#[template(path = "posts/list.html")]
struct ListPage {
    shell: Shell,
    place: String,
    posts: Vec<PostLine>,
    hospitals: Vec<HospitalLine>,
}

/// `GET /posts`
pub(in crate::web) async fn list(keeper: Keeper, house: House, shell: Shell) -> Answer {
    let (posts, hospitals) = house
        .read(|db| {
            let hospitals = hospitals::list(db)?;
            let mut lines = Vec::new();
            for post in posts::list(db)?
                .into_iter()
                .filter(|post| post.stopped_at.is_none())
            {
                let ways = posts::ways(db, post.id)?;
                lines.push(PostLine::of(&post, &ways, &hospitals));
            }
            Ok((lines, hospitals))
        })
        .await?;
    answer::page(&ListPage {
        shell,
        place: keeper.place().to_owned(),
        posts,
        hospitals: hospitals.into_iter().map(HospitalLine::of).collect(),
    })
}

struct Earlier {
    when: String,
    what: String,
    who: String,
}

#[derive(Template)]
#[template(path = "posts/post.html")]
struct PostPage {
    shell: Shell,
    heading: String,
    action: String,
    changed: String,
    form: PostForm,
    faults: Faults,
    differences: Vec<Difference>,
    trial: Option<trial::TrialView>,
    zones: Vec<Opt>,
    hours: Vec<Opt>,
    protocols: Vec<Opt>,
    methods: Vec<Opt>,
    earlier: Vec<Earlier>,
}

impl PostPage {
    fn new(
        shell: Shell,
        sense: &Sense,
        form: PostForm,
        faults: Faults,
        stored: Option<&Stored>,
    ) -> Self {
        Self {
            heading: stored.map_or_else(|| "Set up a post".to_owned(), |it| it.post.name.clone()),
            action: stored.map_or_else(
                || "/posts/new".to_owned(),
                |it| format!("/posts/{}", it.post.id),
            ),
            changed: stored
                .and_then(|it| it.lines.first())
                .map_or_else(String::new, |line| {
                    format!(
                        "last changed {} by {}",
                        spoken::day(spoken::local_day(line.at, sense.zone)),
                        line.staff_name
                    )
                }),
            zones: zones::options(sense.now, &form.time_zone.typed),
            hours: form::hours(),
            protocols: protocols(),
            methods: methods(),
            earlier: stored.map(|it| earlier(it, sense)).unwrap_or_default(),
            shell,
            form,
            faults,
            differences: Vec::new(),
            trial: None,
        }
    }

    fn is_new(&self) -> bool {
        self.form.revision.is_none()
    }
}

fn protocols() -> Vec<Opt> {
    let says = |it: &LabourProtocol| match it {
        LabourProtocol::CareGuide => "active from 5 cm; a limit for each centimetre",
        LabourProtocol::Partograph => "active from 4 cm; alert and action line",
    };
    let options = Opt::every::<LabourProtocol>().into_iter();
    options
        .zip(LabourProtocol::ALL)
        .map(|(option, it)| option.saying(says(it)))
        .collect()
}

fn methods() -> Vec<Opt> {
    let says = |it: &HeightMethod| match it {
        HeightMethod::Intergrowth => "the centile for the day, from 16 to 42 weeks",
        HeightMethod::Weeks => "24 to 36 weeks only",
    };
    let options = Opt::every::<HeightMethod>().into_iter();
    options
        .zip(HeightMethod::ALL)
        .map(|(option, it)| option.saying(says(it)))
        .collect()
}

fn earlier(stored: &Stored, sense: &Sense) -> Vec<Earlier> {
    let line = |line: &audit::Line| Earlier {
        when: spoken::moment(line.at, sense.zone),
        what: format!("{}: {}", line.verb, line.detail),
        who: line.staff_name.clone(),
    };
    stored.lines.iter().map(line).collect()
}

/// A post with its ways, all hospitals and the newest lines of the trail about it.
struct Stored {
    post: Post,
    ways: Vec<Travel>,
    hospitals: Vec<Hospital>,
    lines: Vec<audit::Line>,
}

/// Earlier settings on the page; the trail has them all.
const LINES_SHOWN: i64 = 10;

impl Stored {
    fn load(db: &mut Db, id: PostId) -> registry::Result<Self> {
        let about = audit::Filter {
            about_id: Some(id.to_string()),
            ..audit::Filter::default()
        };
        Ok(Self {
            post: posts::find(db, id)?,
            ways: posts::ways(db, id)?,
            hospitals: hospitals::list(db)?,
            lines: audit::page(db, &about, None, LINES_SHOWN)?,
        })
    }
}

/// `GET /posts/new`
pub(in crate::web) async fn ask_new(_: Keeper, house: House, shell: Shell, sense: Sense) -> Answer {
    let hospitals = house.read(hospitals::list).await?;
    let form = PostForm::read(&Typed::default(), &hospitals);
    answer::page(&PostPage::new(shell, &sense, form, Faults::default(), None))
}

/// `GET /posts/{id}`
pub(in crate::web) async fn show(
    _: Keeper,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<PostId>,
) -> Answer {
    let stored = house.read(move |db| Stored::load(db, id)).await?;
    let form = PostForm::holding(&stored.post, &stored.ways, &stored.hospitals);
    answer::page(&PostPage::new(
        shell,
        &sense,
        form,
        Faults::default(),
        Some(&stored),
    ))
}

/// `POST /posts/new`
pub(in crate::web) async fn add(
    keeper: Keeper,
    house: House,
    shell: Shell,
    sense: Sense,
    CheckedForm(typed): CheckedForm<Typed>,
) -> Answer {
    let hospitals = house.read(hospitals::list).await?;
    let mut form = PostForm::read(&typed, &hospitals);
    if let Some((settings, _)) = form.settings() {
        match house
            .write(&keeper, move |change| posts::add(change, &settings))
            .await
        {
            Ok(id) => return answer::go_and_say(&house, format!("/posts/{id}"), Said::PostSaved),
            Err(error) => form.refuse(error)?,
        }
    }
    let faults = form.faults();
    answer::refused(&PostPage::new(shell, &sense, form, faults, None))
}

/// `POST /posts/{id}`
pub(in crate::web) async fn amend(
    keeper: Keeper,
    house: House,
    shell: Shell,
    sense: Sense,
    Key(id): Key<PostId>,
    CheckedForm(typed): CheckedForm<Typed>,
) -> Answer {
    let stored = house.read(move |db| Stored::load(db, id)).await?;
    let mut form = PostForm::read(&typed, &stored.hospitals);
    form.reason_needed();
    if let Some((settings, reason)) = form.settings() {
        let revision = form.revision.unwrap_or_default();
        let saved = house
            .write(&keeper, move |change| {
                posts::amend(change, id, revision, &settings, &reason)
            })
            .await;
        match saved {
            Ok(()) => return answer::go_and_say(&house, format!("/posts/{id}"), Said::PostSaved),
            Err(PageError::Registry(registry::RegistryError::Stale { current_revision })) => {
                let stands = PostForm::holding(&stored.post, &stored.ways, &stored.hospitals);
                let differences = form.differences(&stands);
                form.revision = Some(current_revision);
                let mut page = PostPage::new(shell, &sense, form, Faults::default(), Some(&stored));
                page.differences = differences;
                return answer::stale(&page);
            }
            Err(error) => form.refuse(error)?,
        }
    }
    let faults = form.faults();
    answer::refused(&PostPage::new(shell, &sense, form, faults, Some(&stored)))
}

/// For tests of the clock in the list of zones.
#[cfg(test)]
fn noon() -> crate::clinical::Moment {
    crate::clinical::Moment::parse_from_str("2026-11-25 12:00", "%Y-%m-%d %H:%M").unwrap()
}
