//! Past visits judged again: the same rules say the same, another setting shows its difference, and nothing is written.

use brimline::clinical::{Category, HeightMethod, LabourProtocol, Urgency};
use brimline::registry::births::{self, BirthRecord, NewBirth, Newborn};
use brimline::registry::flags::{self, decide};
use brimline::registry::labours::add_row;
use brimline::registry::pregnancies::Facts;
use brimline::registry::replay::{Replayed, Span, Trial, count, each};
use brimline::registry::visits;
use brimline::registry::{
    BirthPresentation, FlagDecision, MotherOutcome, Onset, PregnancyId, Registry, read_only,
};
use brimline::reporting::replay::{Against, Group, Line, Question, Replay, replay};

use crate::births::girl;
use crate::house::{House, at};
use crate::labours::dilated;
use crate::women::{breech, facts, head_below, person};

const UNTIL: &str = "2026-11-25T12:00";

impl House {
    fn span(&self) -> Span {
        Span {
            post: self.post,
            until: at(UNTIL),
            months: 12,
            most: None,
        }
    }

    #[track_caller]
    pub(crate) fn replayed(&self, trial: &Trial) -> Replay {
        let question = Question {
            posts: vec![self.post],
            until: at(UNTIL),
            months: 12,
            most: None,
            against: Against::Stored,
            trial: trial.clone(),
        };
        self.read(|db| replay(db, &question, |_, _| {}))
    }

    #[track_caller]
    fn again(&self) -> Vec<Replayed> {
        let mut all = Vec::new();
        self.read(|db| each(db, &self.span(), &Trial::default(), |one| all.push(one)));
        all
    }

    #[track_caller]
    fn born(&self, pregnancy: PregnancyId, on: &str, baby: Newborn) {
        let record = BirthRecord {
            onset: Onset::Spontaneous,
            mother_outcome: MotherOutcome::Well,
            mother_died_on: None,
            note: None,
            newborns: vec![baby],
        };
        let new = NewBirth {
            pregnancy,
            record,
            request: None,
        };
        self.nurse(&format!("{on}T18:00"), |change| {
            births::record(change, &new)
        })
        .unwrap();
    }

    /// One woman whose baby lay breech at 36 weeks and was born so, one whose tape was small and whose baby too.
    fn two_women(&self) {
        let nela = self.nela();
        self.visits(nela.pregnancy, breech("2026-09-10T09:00"));
        let feet_first = Newborn {
            presentation: BirthPresentation::Breech,
            ..girl("2026-10-01")
        };
        self.born(nela.pregnancy, "2026-10-01", feet_first);
        let tova = self.registers("2026-03-26T09:00", person("Tova Linmark"), facts());
        // 34w+0d: 30.5 cm is under the 10th centile.
        let mut small = head_below("2026-08-27T09:00");
        small.visit.fundal_height_tenths = Some(305);
        self.visits(tova.pregnancy, small);
        let mut within = head_below("2026-08-31T09:00");
        within.visit.fundal_height_tenths = Some(330);
        self.visits(tova.pregnancy, within);
        let light = Newborn {
            weight_g: Some(2400),
            ..girl("2026-10-08")
        };
        self.born(tova.pregnancy, "2026-10-08", light);
    }
}

#[track_caller]
fn line(found: &Replay, category: Category, urgency: Option<Urgency>) -> Line {
    let sought = |line: &&Line| (line.category, line.urgency) == (category, urgency);
    *found
        .lines
        .iter()
        .find(sought)
        .unwrap_or_else(|| panic!("no line {category:?} {urgency:?}: {found:#?}"))
}

fn group(women: u64, known: u64, came_true: u64) -> Group {
    Group {
        women,
        known,
        came_true,
    }
}

#[test]
fn by_the_same_rules_and_settings_the_same_was_raised_and_the_births_tell_how_it_went() {
    let house = House::new();
    house.two_women();
    let found = house.replayed(&Trial::default());
    assert_eq!((found.pregnancies, found.visits), (2, 3));
    assert_eq!(found.differs_as_saved, 0);
    for line in &found.lines {
        assert_eq!(line.then, line.now, "{line:?}");
        assert_eq!(line.then, line.both, "{line:?}");
        assert_eq!(
            (line.only_then, line.only_now),
            (Group::default(), Group::default())
        );
    }
    let felt = line(&found, Category::Breech, Some(Urgency::Soon));
    assert_eq!(felt.then, group(1, 1, 1));
    assert_eq!(felt.sign(), Some("born breech"));
    // 2400 g at 40w+0d: the 10th centile of a girl is 2780 g (Lancet 2014;384:857).
    let small = line(&found, Category::SmallForDates, None);
    assert_eq!(small.then, group(1, 1, 1));
}

#[test]
fn a_setting_that_is_tried_shows_whom_it_moves_and_who_is_left_where_she_was() {
    let house = House::new();
    house.two_women();
    let skilled = Trial {
        skilled_breech: Some(true),
        ..Trial::default()
    };
    let found = house.replayed(&skilled);
    assert_eq!(found.differs_as_saved, 0, "as saved nothing has changed");
    let any = line(&found, Category::Breech, None);
    assert_eq!((any.both.women, any.only_now.women), (1, 0));
    let soon = line(&found, Category::Breech, Some(Urgency::Soon));
    assert_eq!(soon.only_then, group(1, 1, 1));
    let review = line(&found, Category::Breech, Some(Urgency::Review));
    assert_eq!(review.only_now, group(1, 1, 1));
    let small = line(&found, Category::SmallForDates, None);
    assert_eq!(small.both.women, 1, "the other woman is judged as before");
}

#[test]
fn the_weeks_method_calls_small_at_34_weeks_what_lies_above_the_tenth_centile() {
    let house = House::new();
    let nela = house.nela();
    // 34w+0d, 31.0 cm: centile 12.1 of the fundal height standard (BMJ 2016;355:i5662), and 1 cm under 34 less 2.
    let mut found = head_below("2026-08-27T09:00");
    found.visit.fundal_height_tenths = Some(310);
    house.visits(nela.pregnancy, found);
    let weeks = Trial {
        height_method: Some(HeightMethod::Weeks),
        ..Trial::default()
    };
    let tried = house.replayed(&weeks);
    let small = line(&tried, Category::SmallForDates, None);
    assert_eq!((small.then.women, small.only_now.women), (0, 1));
    assert_eq!(small.only_now.known, 0, "not born yet");
    assert_eq!(tried.differs_as_saved, 0);
}

#[test]
fn a_protocol_that_is_tried_judges_a_labour_that_began_with_the_other_one() {
    let house = House::new();
    let nela = house.nela();
    let labour = house.opens_labour(nela.pregnancy, dilated("2026-09-30T04:00", 3));
    house
        .nurse("2026-09-30T13:00", |change| {
            add_row(change, labour, &dilated("2026-09-30T13:00", 3), None)
        })
        .unwrap();
    let found = house.replayed(&Trial::default());
    assert_eq!(found.differs_as_saved, 0);
    let partograph = Trial {
        labour_protocol: Some(LabourProtocol::Partograph),
        ..Trial::default()
    };
    let tried = house.replayed(&partograph);
    // Eight hours of latent phase: the partograph refers now, the care guide asks the midwife.
    let now = line(&tried, Category::PoorProgress, Some(Urgency::Now));
    assert_eq!((now.then.women, now.only_now.women), (0, 1));
}

#[test]
fn what_was_put_right_since_is_told_as_a_difference_and_not_hidden() {
    let house = House::new();
    let nela = house.nela();
    let visit = house.visits(nela.pregnancy, breech("2026-09-10T09:00"));
    house
        .nurse("2026-09-10T10:00", |change| {
            let right = head_below("2026-09-10T09:00");
            visits::amend(change, visit, 1, &right, "ends mixed up")
        })
        .unwrap();
    let found = house.replayed(&Trial::default());
    assert_eq!(found.differs_as_saved, 1);
    let breech = line(&found, Category::Breech, None);
    assert_eq!((breech.only_then.women, breech.now.women), (1, 0));
}

#[test]
fn what_the_midwife_reviewed_once_stays_silent_when_it_is_judged_again() {
    let house = House::new();
    let very_young = Facts {
        births_before: Some(0),
        ..facts()
    };
    let mut mother = person("Tova Linmark");
    mother.born = brimline::registry::mothers::Born::Year(2013);
    let tova = house.registers("2026-03-26T08:00", mother, very_young);
    house.visits(tova.pregnancy, head_below("2026-06-10T09:00"));
    for flag in house.read(|db| flags::standing(db, tova.pregnancy)) {
        house
            .midwife("2026-06-11T09:00", |change| {
                decide(
                    change,
                    flag.id,
                    flag.revision,
                    FlagDecision::Dismissed,
                    "known",
                )
            })
            .unwrap();
    }
    house.visits(tova.pregnancy, head_below("2026-09-10T09:00"));
    for one in house.again() {
        assert_eq!(one.then, one.now);
    }
}

#[test]
fn a_late_entry_brings_the_flags_up_to_date_with_the_labour_that_followed() {
    let house = House::new();
    let nela = house.nela();
    house.opens_labour(nela.pregnancy, dilated("2026-09-30T08:00", 5));
    let before = house.read(|db| flags::standing(db, nela.pregnancy));
    assert!(before.iter().all(|flag| flag.rule != "breech-in-labour"));
    // Felt an hour before the labour was opened, written down after it.
    let late = visits::NewVisit {
        pregnancy: nela.pregnancy,
        findings: breech("2026-09-30T07:00"),
        request_key: None,
    };
    house
        .nurse("2026-09-30T09:00", |change| visits::record(change, &late))
        .unwrap();
    let after = house.read(|db| flags::standing(db, nela.pregnancy));
    assert!(
        after.iter().any(|flag| flag.rule == "breech-in-labour"),
        "{after:#?}"
    );
}

#[test]
fn pregnancies_without_a_visit_in_the_span_or_beyond_the_most_are_left_out() {
    let house = House::new();
    house.two_women();
    let earlier = Span {
        months: 1,
        ..house.span()
    };
    assert_eq!(house.read(|db| count(db, &earlier)), 0);
    let one = Span {
        most: Some(1),
        ..house.span()
    };
    assert_eq!(house.read(|db| count(db, &one)), 1);
    let mut seen = 0;
    house.read(|db| each(db, &one, &Trial::default(), |_| seen += 1));
    assert_eq!(seen, 1);
}

#[test]
fn nothing_is_written_while_the_register_is_served_or_after() {
    let house = House::new();
    house.two_women();
    let question = Question {
        posts: vec![house.post],
        until: at(UNTIL),
        months: 12,
        most: None,
        against: Against::Stored,
        trial: Trial::default(),
    };
    let address = format!("sqlite://{}", house.file().display());
    let look = || read_only(&address, |db| replay(db, &question, |_, _| {})).unwrap();
    let bytes = |ending: &str| std::fs::read(format!("{}{ending}", house.file().display()));
    let (file, log) = (bytes("").unwrap(), bytes("-wal").unwrap());
    assert!(!log.is_empty(), "a register that is served has a log");
    assert_eq!(look().pregnancies, 2);
    assert!(bytes("").unwrap() == file && bytes("-wal").unwrap() == log);
    // Copied as a crash would leave it: nobody has it open, and the log still holds what was written.
    let crashed = tempfile::tempdir().unwrap();
    let copy = crashed.path().join("reg 100%?.db");
    std::fs::write(&copy, &file).unwrap();
    std::fs::write(format!("{}-wal", copy.display()), &log).unwrap();
    let crashed_address = format!("sqlite://{}", copy.display());
    let found = read_only(&crashed_address, |db| replay(db, &question, |_, _| {})).unwrap();
    assert_eq!(found.pregnancies, 2);
    assert!(std::fs::read(&copy).unwrap() == file);
    assert!(std::fs::read(format!("{}-wal", copy.display())).unwrap() == log);
    // Ended in good order: one file, and it stays one.
    let House {
        registry, folder, ..
    } = house;
    drop(registry);
    let database = folder.path().join("registry.db");
    let file = std::fs::read(&database).unwrap();
    let found = read_only(&address, |db| replay(db, &question, |_, _| {})).unwrap();
    assert_eq!(found.pregnancies, 2);
    assert!(std::fs::read(&database).unwrap() == file);
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
    let nowhere = folder.path().join("none.db");
    let wrong = read_only(&format!("sqlite://{}", nowhere.display()), |_| Ok(()));
    assert!(wrong.is_err(), "an empty file is no register");
    drop(Registry::open(&address, brimline::registry::Durability::Process).unwrap());
}
