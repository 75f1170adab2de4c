//! One baby as part of the form of a birth. Its questions carry its place: `b1_state`, `b2_state` …

use chrono::NaiveTime;

use crate::clinical::Day;
use crate::registry::births::{Newborn, WEIGHT_G};
use crate::registry::{BirthPlace, BirthPresentation, Mode, NewbornState, Sex};
use crate::web::form::{Asked, Fault, Field, Opt, Sense, Typed, parse};

const ORDINALS: [&str; 6] = [
    "First baby",
    "Second baby",
    "Third baby",
    "Fourth baby",
    "Fifth baby",
    "Sixth baby",
];

/// Every question about one baby.
#[derive(Debug, Clone)]
pub(crate) struct BabyForm {
    /// Its place, from 1.
    pub(super) place_in_birth: usize,
    pub(super) state: Field<NewbornState>,
    pub(super) sex: Field<Sex>,
    pub(super) day: Field<Day>,
    pub(super) time: Field<NaiveTime>,
    pub(super) place: Field<BirthPlace>,
    pub(super) mode: Field<Mode>,
    pub(super) presentation: Field<BirthPresentation>,
    pub(super) weight: Field<i32>,
    pub(super) apgar_1: Field<i32>,
    pub(super) apgar_5: Field<i32>,
    pub(super) died: Field<bool>,
    pub(super) died_day: Field<Day>,
    pub(super) died_time: Field<NaiveTime>,
    pub(super) malformation: Field<bool>,
    pub(super) seen_alive: Field<Day>,
}

impl BabyForm {
    pub(super) fn read(typed: &Typed, place: usize, sense: &Sense) -> Self {
        let name = |part: &str| format!("b{place}_{part}");
        let of = |label: &str| match place {
            1 => label.to_owned(),
            _ => format!("{label} ({})", Self::ordinal_of(place).to_lowercase()),
        };
        let mut form = Self {
            place_in_birth: place,
            state: Field::code(typed, name("state"), of("At birth"))
                .needed("say whether the baby lived"),
            sex: Field::code(typed, name("sex"), of("Sex")),
            day: Field::read(typed, name("day"), of("Day"), parse::day).needed("write the day"),
            time: Field::read(typed, name("time"), of("Born at"), parse::time),
            place: Field::code(typed, name("place"), of("Where"))
                .needed("choose one, or “not known”"),
            mode: Field::code(typed, name("mode"), of("How")).needed("choose one, or “not known”"),
            presentation: Field::code(typed, name("presentation"), of("What came first"))
                .needed("choose one, or “not known”"),
            weight: Field::read(typed, name("weight"), of("Weight"), parse::whole(WEIGHT_G)),
            apgar_1: Field::read(
                typed,
                name("apgar_1"),
                of("Apgar at 1 minute"),
                parse::whole(0..=10),
            ),
            apgar_5: Field::read(
                typed,
                name("apgar_5"),
                of("Apgar at 5 minutes"),
                parse::whole(0..=10),
            ),
            died: Field::choice(
                typed,
                name("died"),
                of("Died afterwards"),
                &Opt::yes_no()[..1],
                parse::yes_no,
            ),
            died_day: Field::read(typed, name("died_day"), of("Died on"), parse::day),
            died_time: Field::read(typed, name("died_time"), of("Died at"), parse::time),
            malformation: Field::choice(
                typed,
                name("malformation"),
                of("A malformation that cannot be survived"),
                &Opt::yes_no(),
                parse::yes_no,
            ),
            seen_alive: Field::read(
                typed,
                name("seen_alive"),
                of("Last seen alive on"),
                parse::day,
            ),
        };
        form.check_times(sense);
        form
    }

    fn check_times(&mut self, sense: &Sense) {
        let hour = |day: Option<Day>, time: Option<NaiveTime>| match (day, time) {
            (Some(day), Some(time)) => sense.moment(day, time).is_some(),
            _ => true,
        };
        if !hour(self.day.value, self.time.value) {
            self.time
                .refuse("this hour was left out when the clocks went forward");
        }
        if !hour(self.died_day.value, self.died_time.value) {
            self.died_time
                .refuse("this hour was left out when the clocks went forward");
        }
        if self.died_time.value.is_some() && self.died_day.typed.trim().is_empty() {
            self.died_day.refuse("write the day too");
        }
    }

    /// A further baby: born on the same day as the one before it.
    pub(super) fn blank(place: usize, day: &str, sense: &Sense) -> Self {
        let mut form = Self::read(&Typed::default(), place, sense);
        form.day = form.day.holding(day);
        form
    }

    pub(super) fn holding(place: usize, baby: &Newborn, sense: &Sense) -> Vec<(String, String)> {
        let mut pairs = Vec::new();
        let mut put = |part: &str, value: Option<String>| {
            pairs.extend(value.map(|value| (format!("b{place}_{part}"), value)));
        };
        let day = |day: Day| day.format("%Y-%m-%d").to_string();
        let time = |moment| sense.local(moment).format("%H:%M").to_string();
        put("state", Some(baby.state.code().to_owned()));
        put("sex", baby.sex.map(|it| it.code().to_owned()));
        put("day", Some(day(baby.born_on)));
        put("time", baby.born_at.map(time));
        put("place", Some(baby.place.code().to_owned()));
        put("mode", Some(baby.mode.code().to_owned()));
        put("presentation", Some(baby.presentation.code().to_owned()));
        put("weight", baby.weight_g.map(|it| it.to_string()));
        put("apgar_1", baby.apgar_1.map(|it| it.to_string()));
        put("apgar_5", baby.apgar_5.map(|it| it.to_string()));
        put("died", baby.died.then(|| "true".to_owned()));
        put("died_day", baby.died_on.map(day));
        put("died_time", baby.died_at.map(time));
        put(
            "malformation",
            baby.lethal_malformation.map(|it| it.to_string()),
        );
        put("seen_alive", baby.seen_alive_on.map(day));
        pairs
    }

    /// What it says so far; what is at fault or open counts as not known.
    pub(super) fn newborn(&self, sense: &Sense) -> Newborn {
        let moment = |day: Option<Day>, time: Option<NaiveTime>| sense.moment(day?, time?);
        let born_on = self.day.value.unwrap_or_else(|| sense.today());
        Newborn {
            born_on,
            born_at: moment(self.day.value, self.time.value),
            place: self.place.value.unwrap_or(BirthPlace::Unknown),
            mode: self.mode.value.unwrap_or(Mode::Unknown),
            presentation: self
                .presentation
                .value
                .unwrap_or(BirthPresentation::Unknown),
            sex: self.sex.value,
            weight_g: self.weight.value,
            apgar_1: self.apgar_1.value,
            apgar_5: self.apgar_5.value,
            state: self.state.value.unwrap_or(NewbornState::Alive),
            died: self.died.value == Some(true),
            died_on: self.died_day.value,
            died_at: moment(self.died_day.value, self.died_time.value),
            lethal_malformation: self.malformation.value,
            seen_alive_on: self.seen_alive.value,
        }
    }

    /// A contradiction, beside its field.
    pub(super) fn refuse(&mut self, field: &str, why: String) {
        match field {
            "born_on" => self.day.refuse(why),
            "born_time" => self.time.refuse(why),
            "weight_g" => self.weight.refuse(why),
            "apgar_1" => self.apgar_1.refuse(why),
            "apgar_5" => self.apgar_5.refuse(why),
            "died_on" => self.died_day.refuse(why),
            "seen_alive_on" => self.seen_alive.refuse(why),
            _ => self.state.refuse(why),
        }
    }

    pub(super) fn faults(&self) -> Vec<Fault> {
        let asked: [&dyn Asked; 15] = [
            &self.state,
            &self.sex,
            &self.day,
            &self.time,
            &self.place,
            &self.mode,
            &self.presentation,
            &self.weight,
            &self.apgar_1,
            &self.apgar_5,
            &self.died,
            &self.died_day,
            &self.died_time,
            &self.malformation,
            &self.seen_alive,
        ];
        asked.iter().flat_map(|field| field.faults()).collect()
    }

    /// As if nobody had looked at the answers yet.
    pub(super) fn unjudged(&mut self) {
        self.state.fault = None;
        self.sex.fault = None;
        self.day.fault = None;
        self.time.fault = None;
        self.place.fault = None;
        self.mode.fault = None;
        self.presentation.fault = None;
        self.weight.fault = None;
        self.apgar_1.fault = None;
        self.apgar_5.fault = None;
        self.died.fault = None;
        self.died_day.fault = None;
        self.died_time.fault = None;
        self.malformation.fault = None;
        self.seen_alive.fault = None;
    }

    /// Everything typed, under the names of another place.
    pub(super) fn moved(&self, place: usize) -> Vec<(String, String)> {
        let typed = [
            ("state", &self.state.typed),
            ("sex", &self.sex.typed),
            ("day", &self.day.typed),
            ("time", &self.time.typed),
            ("place", &self.place.typed),
            ("mode", &self.mode.typed),
            ("presentation", &self.presentation.typed),
            ("weight", &self.weight.typed),
            ("apgar_1", &self.apgar_1.typed),
            ("apgar_5", &self.apgar_5.typed),
            ("died", &self.died.typed),
            ("died_day", &self.died_day.typed),
            ("died_time", &self.died_time.typed),
            ("malformation", &self.malformation.typed),
            ("seen_alive", &self.seen_alive.typed),
        ];
        let answered = typed.into_iter().filter(|(_, text)| !text.is_empty());
        answered
            .map(|(part, text)| (format!("b{place}_{part}"), text.clone()))
            .collect()
    }

    fn ordinal_of(place: usize) -> &'static str {
        ORDINALS
            .get(place.saturating_sub(1))
            .copied()
            .unwrap_or("Baby")
    }

    pub(super) fn ordinal(&self) -> &'static str {
        Self::ordinal_of(self.place_in_birth)
    }

    /// Whether the folded part about later days has to be open.
    pub(super) fn later_open(&self) -> bool {
        let days = [&self.died_day, &self.seen_alive];
        self.died.is("true")
            || self.died.fault.is_some()
            || days
                .iter()
                .any(|field| !field.typed.is_empty() || field.fault.is_some())
            || self.died_time.fault.is_some()
            || !self.malformation.typed.is_empty()
    }

    pub(super) fn states(&self) -> Vec<Opt> {
        vec![
            Opt::new(NewbornState::Alive.code(), "Alive"),
            Opt::new(NewbornState::StillbornFresh.code(), "Stillborn, fresh"),
            Opt::new(
                NewbornState::StillbornMacerated.code(),
                "Stillborn, macerated",
            ),
            Opt::new(
                NewbornState::StillbornUnstated.code(),
                "Stillborn, skin not looked at",
            ),
        ]
    }

    pub(super) fn sexes(&self) -> Vec<Opt> {
        Opt::every::<Sex>()
    }

    pub(super) fn places(&self) -> Vec<Opt> {
        Opt::every::<BirthPlace>()
    }

    pub(super) fn modes(&self) -> Vec<Opt> {
        Opt::every::<Mode>()
    }

    pub(super) fn presentations(&self) -> Vec<Opt> {
        vec![
            Opt::new(BirthPresentation::Cephalic.code(), "Head, face or brow"),
            Opt::new(BirthPresentation::Breech.code(), "Bottom or feet"),
            Opt::new(
                BirthPresentation::Shoulder.code(),
                "Shoulder or arm, or it lay across",
            ),
            Opt::new(BirthPresentation::Unknown.code(), "Not known"),
        ]
    }

    pub(super) fn yes_no(&self) -> Vec<Opt> {
        Opt::yes_no()
    }
}
