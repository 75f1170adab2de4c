//! The settings of a post, as a form.

use crate::clinical::{HeightMethod, LabourProtocol};
use crate::registry::HospitalId;
use crate::registry::hospitals::Hospital;
use crate::registry::posts::{Post, PostSettings, Travel};
use crate::web::error::PageError;
use crate::web::form::{Asked, Faults, Field, Opt, Typed, parse};

/// The way to one hospital.
pub(super) struct Way {
    id: HospitalId,
    pub(super) hospital: String,
    pub(super) day: Field<i32>,
    pub(super) night: Field<i32>,
}

pub(super) struct PostForm {
    /// As it was read at; absent for a new post.
    pub(super) revision: Option<i32>,
    pub(super) name: Field<String>,
    pub(super) code: Field<String>,
    pub(super) time_zone: Field<String>,
    pub(super) phone: Field<String>,
    pub(super) reply_address: Field<String>,
    pub(super) labour_protocol: Field<LabourProtocol>,
    pub(super) height_method: Field<HeightMethod>,
    pub(super) skilled_breech: Field<bool>,
    pub(super) skilled_twins: Field<bool>,
    pub(super) day_from: Field<i32>,
    pub(super) night_from: Field<i32>,
    pub(super) ways: Vec<Way>,
    pub(super) reason: Field<String>,
}

/// A setting that somebody else changed meanwhile.
pub(super) struct Difference {
    pub(super) label: String,
    pub(super) stands: String,
    pub(super) typed: String,
}

/// Hours of a day, as a list.
pub(super) fn hours() -> Vec<Opt> {
    (0..24)
        .map(|hour| Opt::new(hour.to_string(), format!("{hour:02}:00")))
        .collect()
}

fn minutes(text: &str) -> parse::Parsed<i32> {
    match parse::whole(0..=99_999)(text)? {
        0 => Err("0 minutes is no way; write minutes, door to door".to_owned()),
        day if day > 1440 => Err(format!(
            "{day} minutes is more than a day; write minutes, door to door"
        )),
        minutes => Ok(minutes),
    }
}

impl PostForm {
    pub(super) fn read(typed: &Typed, hospitals: &[Hospital]) -> Self {
        let hour = |name: &'static str, label: &'static str| {
            Field::choice(typed, name, label, &hours(), parse::whole(0..=23))
                .in_list()
                .needed("choose the hour")
        };
        let tick = |name: &'static str, label: &'static str| {
            Field::read(typed, name, label, parse::yes_no)
        };
        let mut form = Self {
            revision: typed.last("revision").parse().ok(),
            name: Field::read(typed, "name", "Name", parse::line(60))
                .needed("write the name of the post"),
            code: Field::read(typed, "code", "Letters of the register", parse::line(4))
                .needed("write 2 to 4 capital letters"),
            time_zone: Field::read(typed, "time_zone", "Time zone", parse::line(60))
                .needed("choose the clock of the post"),
            phone: Field::read(typed, "phone", "Phone for the reply", parse::line(40)),
            reply_address: Field::read(
                typed,
                "reply_address",
                "Address of the reply page",
                parse::line(60),
            ),
            labour_protocol: Field::code(typed, "labour_protocol", "Labour protocol")
                .needed("choose one"),
            height_method: Field::code(typed, "fundal_height_method", "Fundal height")
                .needed("choose one"),
            skilled_breech: tick("skilled_breech", "Breech birth"),
            skilled_twins: tick("skilled_twins", "Birth of twins"),
            day_from: hour("day_from", "Day lasts from"),
            night_from: hour("night_from", "until"),
            ways: hospitals
                .iter()
                .map(|hospital| Way::read(typed, hospital))
                .collect(),
            reason: Field::read(typed, "reason", "Why the change", parse::line(200)),
        };
        if form.day_from.value.is_some() && form.day_from.value == form.night_from.value {
            form.night_from
                .refuse("day and night must begin at different hours");
        }
        form
    }

    pub(super) fn holding(post: &Post, ways: &[Travel], hospitals: &[Hospital]) -> Self {
        let text = |text: &Option<String>| text.clone().unwrap_or_default();
        let yes = |is: bool| if is { "true" } else { "" }.to_owned();
        let mut pairs: Vec<(String, String)> = [
            ("revision", post.revision.to_string()),
            ("name", post.name.clone()),
            ("code", post.code.clone()),
            ("time_zone", post.time_zone.clone()),
            ("phone", text(&post.phone)),
            ("reply_address", text(&post.reply_address)),
            ("labour_protocol", post.labour_protocol.code().to_owned()),
            ("fundal_height_method", post.height_method.code().to_owned()),
            ("skilled_breech", yes(post.skilled_breech)),
            ("skilled_twins", yes(post.skilled_twins)),
            ("day_from", post.day_from.to_string()),
            ("night_from", post.night_from.to_string()),
        ]
        .map(|(name, text)| (name.to_owned(), text))
        .into();
        for way in ways {
            pairs.push((
                format!("day_{}", way.hospital_id),
                way.day_minutes.to_string(),
            ));
            pairs.push((
                format!("night_{}", way.hospital_id),
                way.night_minutes.to_string(),
            ));
        }
        Self::read(&pairs.into_iter().collect(), hospitals)
    }

    /// A change of settings says why; setting up need not.
    pub(super) fn reason_needed(&mut self) {
        if self.reason.value.is_none() {
            self.reason.refuse("write why; it stands in the trail");
        }
    }

    fn asked(&self) -> Vec<&dyn Asked> {
        let mut asked: Vec<&dyn Asked> = vec![
            &self.name,
            &self.code,
            &self.time_zone,
            &self.phone,
            &self.reply_address,
        ];
        for way in &self.ways {
            asked.push(&way.day);
            asked.push(&way.night);
        }
        asked.extend([
            &self.day_from as &dyn Asked,
            &self.night_from,
            &self.labour_protocol,
            &self.height_method,
            &self.skilled_breech,
            &self.skilled_twins,
            &self.reason,
        ]);
        asked
    }

    pub(super) fn faults(&self) -> Faults {
        Faults::of(&self.asked())
    }

    /// Settings and reason, when nothing is wrong.
    pub(super) fn settings(&self) -> Option<(PostSettings, String)> {
        if !self.faults().is_empty() {
            return None;
        }
        let settings = PostSettings {
            code: self.code.value.clone()?,
            name: self.name.value.clone()?,
            time_zone: self.time_zone.value.clone()?,
            phone: self.phone.value.clone(),
            labour_protocol: self.labour_protocol.value?,
            height_method: self.height_method.value?,
            skilled_breech: self.skilled_breech.value.unwrap_or_default(),
            skilled_twins: self.skilled_twins.value.unwrap_or_default(),
            day_from: self.day_from.value?,
            night_from: self.night_from.value?,
            reply_address: self.reply_address.value.clone(),
            ways: self.ways.iter().filter_map(Way::travel).collect(),
        };
        Some((settings, self.reason.value.clone().unwrap_or_default()))
    }

    /// Puts what the registry refused beside its field.
    pub(super) fn refuse(&mut self, error: PageError) -> Result<(), PageError> {
        let (field, why) = error.beside_a_field()?;
        match field {
            "code" => self.code.refuse(why),
            "time_zone" => self.time_zone.refuse(why),
            "phone" => self.phone.refuse(why),
            "reply_address" => self.reply_address.refuse(why),
            "day_from" => self.day_from.refuse(why),
            "night_from" => self.night_from.refuse(why),
            _ => self.name.refuse(why),
        }
        Ok(())
    }

    /// Where what was typed differs from what stands.
    pub(super) fn differences(&self, stands: &Self) -> Vec<Difference> {
        let pairs = self.shown().into_iter().zip(stands.shown());
        let difference = |((label, typed), (_, stands)): ((String, String), (String, String))| {
            (typed != stands).then_some(Difference {
                label,
                stands,
                typed,
            })
        };
        pairs.filter_map(difference).collect()
    }

    fn shown(&self) -> Vec<(String, String)> {
        let yes = |field: &Field<bool>| if field.is("true") { "yes" } else { "no" }.to_owned();
        let words = |code: &str, options: Vec<Opt>| {
            let found = options.into_iter().find(|option| option.code == code);
            found.map_or_else(|| code.to_owned(), |option| option.words)
        };
        let mut shown = vec![
            ("Name".to_owned(), self.name.typed.clone()),
            ("Letters".to_owned(), self.code.typed.clone()),
            ("Time zone".to_owned(), self.time_zone.typed.clone()),
            ("Phone".to_owned(), self.phone.typed.clone()),
            ("Reply page".to_owned(), self.reply_address.typed.clone()),
            (
                "Labour protocol".to_owned(),
                words(&self.labour_protocol.typed, Opt::every::<LabourProtocol>()),
            ),
            (
                "Fundal height".to_owned(),
                words(&self.height_method.typed, Opt::every::<HeightMethod>()),
            ),
            (
                "Skilled in breech birth".to_owned(),
                yes(&self.skilled_breech),
            ),
            (
                "Skilled in birth of twins".to_owned(),
                yes(&self.skilled_twins),
            ),
            ("Day from".to_owned(), words(&self.day_from.typed, hours())),
            (
                "Night from".to_owned(),
                words(&self.night_from.typed, hours()),
            ),
        ];
        for way in &self.ways {
            shown.push((format!("{} by day", way.hospital), way.day.typed.clone()));
            shown.push((
                format!("{} by night", way.hospital),
                way.night.typed.clone(),
            ));
        }
        shown
    }
}

impl Way {
    fn read(typed: &Typed, hospital: &Hospital) -> Self {
        let field = |when: &str| {
            let label = format!("{} by {when}", hospital.name);
            Field::read(typed, format!("{when}_{}", hospital.id), label, minutes)
        };
        let (mut day, mut night) = (field("day"), field("night"));
        if day.value.is_some() && night.typed.trim().is_empty() {
            night.refuse("write the minutes by night too");
        } else if night.value.is_some() && day.typed.trim().is_empty() {
            day.refuse("write the minutes by day too");
        }
        Self {
            id: hospital.id,
            hospital: hospital.name.clone(),
            day,
            night,
        }
    }

    fn travel(&self) -> Option<Travel> {
        Some(Travel {
            hospital_id: self.id,
            day_minutes: self.day.value?,
            night_minutes: self.night.value?,
        })
    }
}
