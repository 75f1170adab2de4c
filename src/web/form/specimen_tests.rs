//! Every macro of `templates/macros/form.html`, answered wrongly and rightly, looked at as a browser sees it.

use askama::Template;
use chrono_tz::Tz;
use scraper::{Html, Selector};

use super::{Asked, Choices, Faults, Field, Opt, Sense, Typed, When, parse};
use crate::clinical::{DangerSign, Moment, Movements, Protein};

struct Answers {
    name: Field<String>,
    pulse: Field<i32>,
    height: Field<i32>,
    movements: Field<Movements>,
    protein: Field<Protein>,
    signs: Choices<DangerSign>,
    note: Field<String>,
    lmp: Field<crate::clinical::Day>,
    at: When,
}

impl Answers {
    fn read(typed: &Typed) -> Self {
        let sense = Sense {
            now: Moment::default(),
            zone: Tz::UTC,
        };
        Self {
            name: Field::read(typed, "name", "Full name", parse::line(120))
                .needed("write the name she goes by"),
            pulse: Field::read(typed, "pulse", "Pulse", parse::whole(20..=250)),
            height: Field::read(typed, "fundal_height_cm", "Tape", parse::tenths(100..=600)),
            movements: Field::code(typed, "movements", "The baby moves"),
            protein: Field::code(typed, "urine_protein", "Protein in the urine").in_list(),
            signs: Choices::read(typed, "danger_signs", "Danger signs"),
            note: Field::read(typed, "note", "Note", parse::lines(1000)),
            lmp: Field::read(typed, "lmp", "Last period", parse::day),
            at: When::read(typed, "at", "Time of the visit", &sense).past(&sense),
        }
    }

    fn faults(&self) -> Faults {
        let asked: [&dyn Asked; 9] = [
            &self.name,
            &self.pulse,
            &self.height,
            &self.movements,
            &self.protein,
            &self.signs,
            &self.note,
            &self.lmp,
            &self.at,
        ];
        Faults::of(&asked)
    }
}

#[derive(Template)]
#[template(
    ext = "html",
    source = r#"{% import "macros/form.html" as form %}{{ form::summary(faults) }}<form>{{ form::no_enter() }}{{ form::hidden("revision", 3) }}
{{ form::text(it.name, hint = "As she says it.", needed = true, capitals = "words", list = "names") }}
{{ form::number(it.pulse, unit = "/ min", last = "84") }}
{{ form::number(it.height, hint = "Empty bladder.", unit = "cm", class = "n5", decimal = true, enter = "done") }}
{{ form::radios(it.movements, movements, none = "Not asked", needed = true) }}
{{ form::select(it.protein, proteins, hint = "By the strip.") }}
{{ form::ticks(it.signs, signs, hint = "Ask for each.") }}
{{ form::lines(it.note) }}
{{ form::day(it.lmp, hint = "First day.") }}
{{ form::when(it.at, hint = "May be put back.") }}</form>"#
)]
struct Specimen {
    it: Answers,
    faults: Faults,
    movements: Vec<Opt>,
    proteins: Vec<Opt>,
    signs: Vec<Opt>,
}

fn page(answers: &[(&str, &str)]) -> Html {
    let typed: Typed = answers.iter().copied().collect();
    let it = Answers::read(&typed.sent_now());
    let specimen = Specimen {
        faults: it.faults(),
        it,
        movements: Opt::every::<Movements>(),
        proteins: Opt::every::<Protein>(),
        signs: Opt::every::<DangerSign>(),
    };
    Html::parse_fragment(&specimen.render().unwrap())
}

fn count(page: &Html, selector: &str) -> usize {
    page.select(&Selector::parse(selector).unwrap()).count()
}

const WRONG: &[(&str, &str)] = &[
    ("name", ""),
    ("pulse", "412"),
    ("fundal_height_cm", "9"),
    ("movements", "wild"),
    ("urine_protein", "5+"),
    ("danger_signs", "hunger"),
    ("note", "a\u{0}b"),
    ("lmp", "soon"),
    ("at_date", "2026-11-25"),
    ("at_time", "25:00"),
];

#[test]
fn every_fault_stands_beside_its_field_and_in_the_summary_with_a_link_that_lands() {
    let page = page(WRONG);
    let links: Vec<_> = page
        .select(&Selector::parse(".errors a").unwrap())
        .map(|link| link.attr("href").unwrap().to_owned())
        .collect();
    assert_eq!(links.len(), 9, "{links:?}");
    for link in &links {
        assert_eq!(count(&page, link), 1, "{link} lands nowhere, or on two");
    }
    assert_eq!(count(&page, "p.wrong"), 9);
    assert_eq!(count(&page, "form > .is-wrong"), 9);
}

#[test]
fn what_a_field_is_described_by_is_there() {
    for answers in [WRONG, &[]] {
        let page = page(answers);
        let described = Selector::parse("[aria-describedby]").unwrap();
        for element in page.select(&described) {
            for id in element.attr("aria-describedby").unwrap().split(' ') {
                assert_eq!(count(&page, &format!("#{id}")), 1, "no {id}");
            }
        }
        for label in page.select(&Selector::parse("label[for]").unwrap()) {
            let id = label.attr("for").unwrap();
            assert_eq!(count(&page, &format!("#{id}")), 1, "no {id}");
        }
    }
}

#[test]
fn what_was_typed_stays_and_nothing_is_chosen_beforehand() {
    let typed = page(&[
        ("name", "\"Nela\" <b>"),
        ("movements", "reduced"),
        ("urine_protein", "1+"),
        ("danger_signs", "cord"),
        ("note", "one\ntwo"),
    ]);
    for there in [
        "input[value='\"Nela\" <b>']",
        "#movements-reduced[checked]",
        "option[value='1+'][selected]",
        "#danger_signs-cord[checked]",
    ] {
        assert_eq!(count(&typed, there), 1, "{there}");
    }
    let note = typed
        .select(&Selector::parse("textarea").unwrap())
        .next()
        .unwrap();
    assert_eq!(
        note.text().collect::<String>().trim_start_matches('\n'),
        "one\ntwo"
    );
    let blank = page(&[]);
    assert_eq!(
        count(&blank, "[checked]:not([value=''])") + count(&blank, "[selected]"),
        0
    );
}

#[test]
fn a_form_that_nobody_sent_misses_nothing() {
    assert!(Answers::read(&Typed::default()).faults().is_empty());
    assert_eq!(
        Answers::read(&Typed::default().sent_now()).faults().0.len(),
        1
    );
}
