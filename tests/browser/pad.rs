//! What a normal visit costs on the pad of a small phone, by touch; and that nothing typed is lost by looking elsewhere.

use std::cell::Cell;
use std::time::Duration;

use fantoccini::actions::{InputSource as _, MOUSE_BUTTON_LEFT, PointerAction, TouchActions};
use fantoccini::elements::Element;

use crate::driver::Driver;
use crate::harness::Post;
use crate::screen::{PHONE, PHONE_HEIGHT, Screen, Scripts};

/// A normal visit near term: head down, nothing of note.
pub(crate) const NORMAL: [(&str, &str); 8] = [
    ("bladder_empty", "true"),
    ("fundus", "soft-irregular"),
    ("right", "small-lumps"),
    ("left", "long-smooth"),
    ("front", "nothing"),
    ("lower", "hard-round"),
    ("fifths", "4"),
    ("asked", "all-clear"),
];

pub(crate) const MEASURED: [(&str, &str); 4] = [
    ("fundal_height_cm", "37"),
    ("fetal_hearts", "140"),
    ("systolic", "112"),
    ("diastolic", "70"),
];

const MOST_TAPS: u32 = 14;
const MOST_SCREENS: f64 = 5.0;
const MOST_SECONDS: f64 = 60.0;

/// Seconds by the keystroke-level model of Card, Moran and Newell (Communications of the ACM 1980;23:396-410; its figures are
/// from memory): 1.1 to point, 1.35 to think before each answer, 0.5 a key for who is no typist. Scrolling is counted as
/// pointing once a screen.
fn seconds(taps: u32, keys: usize, screens: f64) -> f64 {
    let keys = f64::from(u32::try_from(keys).unwrap());
    f64::from(taps) * (1.1 + 1.35) + keys * 0.5 + screens * 1.1
}

/// A thumb that counts.
struct Thumb<'a> {
    screen: &'a Screen<'a>,
    taps: Cell<u32>,
}

impl Thumb<'_> {
    /// Scrolls there, which is no tap, and touches the middle of it.
    async fn tap(&self, what: &Element) {
        let middle = "arguments[0].scrollIntoView({ block: 'center' });
            const at = arguments[0].getBoundingClientRect();
            return [at.left + at.width / 2, at.top + at.height / 2]";
        let args = vec![serde_json::to_value(what).unwrap()];
        let at = self.screen.client.execute(middle, args).await.unwrap();
        let [x, y] = [&at[0], &at[1]].map(|it| it.as_f64().unwrap().round());
        let touch = TouchActions::new("thumb".to_owned())
            .then(PointerAction::MoveTo {
                duration: None,
                x,
                y,
            })
            .then(PointerAction::Down {
                button: MOUSE_BUTTON_LEFT,
            })
            .then(PointerAction::Pause {
                duration: Duration::from_millis(30),
            })
            .then(PointerAction::Up {
                button: MOUSE_BUTTON_LEFT,
            });
        self.screen.client.perform_actions(touch).await.unwrap();
        self.taps.set(self.taps.get() + 1);
    }

    async fn choose(&self, question: &str, found: &str) {
        self.tap(&self.screen.row_of(question, found).await).await;
        let chosen = format!("[name='{question}'][value='{found}']:checked");
        self.screen.find(&chosen).await;
    }

    /// One tap into the box; the figures are typed on the phone's own keys.
    async fn measure(&self, question: &str, figures: &str) {
        let place = format!("main form [name='{question}']");
        self.tap(&self.screen.find(&place).await).await;
        let focused = self.screen.client.active_element().await.unwrap();
        let name = focused.attr("name").await.unwrap();
        assert_eq!(name.as_deref(), Some(question), "the tap missed the box");
        focused.send_keys(figures).await.unwrap();
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_normal_visit_costs_few_taps_and_few_screens_of_a_small_phone() {
    let Some(driver) = Driver::start() else {
        return;
    };
    let post = Post::of_the_demo();
    let mother = post.mother("Ada Marren").mother;
    let nurse = Screen::at(&driver, &post.base, PHONE, Scripts::On).await;
    nurse.sign_in("nurse").await;
    nurse.open(&format!("/mothers/{mother}/visits/new")).await;
    assert_eq!(
        nurse.count("form.pad :checked").await,
        0,
        "a finding is chosen before anybody felt it"
    );

    let thumb = Thumb {
        screen: &nurse,
        taps: Cell::new(0),
    };
    let mut screens = screens_of(&nurse).await;
    for (question, found) in NORMAL {
        thumb.choose(question, found).await;
    }
    for (question, figures) in MEASURED {
        thumb.measure(question, figures).await;
    }
    let proposed = "main form label:has([name=next_visit]:not([value=''], [value=other]))";
    thumb.tap(&nurse.find(proposed).await).await;
    assert_eq!(nurse.count("[name=next_visit]:checked").await, 1);
    screens = screens.max(screens_of(&nurse).await);
    nurse.look().await;
    marks_are_shown(
        &nurse,
        ["soft-irregular", "small-lumps", "long-smooth", "nothing"],
    )
    .await;
    let before = nurse.find("html").await;
    thumb
        .tap(&nurse.find("form.pad .actions button").await)
        .await;
    nurse.until_gone(&before).await;
    nurse.look().await;

    let taps = thumb.taps.get();
    let keys = MEASURED.iter().map(|(_, figures)| figures.len()).sum();
    let seconds = seconds(taps, keys, screens);
    let cost = format!(
        "{taps} taps (at most {MOST_TAPS}), {screens:.2} screens of {PHONE} by {PHONE_HEIGHT} px (at most {MOST_SCREENS}), \
        {seconds:.0} s reckoned (at most {MOST_SECONDS})"
    );
    assert!(
        taps <= MOST_TAPS && screens <= MOST_SCREENS && seconds <= MOST_SECONDS,
        "{cost}"
    );
    println!("a normal visit: {cost}");
    saved_as_tapped(&nurse).await;
    nurse.leave().await;
}

/// What was chosen for fundus, right, left and front, and a head at 4/5: nothing else is drawn on the pad.
async fn marks_are_shown(nurse: &Screen<'_>, [fundus, right, left, front]: [&str; 4]) {
    let wanted = format!("front-{front} fundus-{fundus} head-4 left-{left} right-{right}");
    let shown = "[...new Set([...document.querySelectorAll('.belly .felt')]
        .filter(it => getComputedStyle(it).display !== 'none')
        .map(it => it.classList[1]))].sort().join(' ')";
    let as_chosen = format!("{shown} === '{wanted}' ? 1 : 0");
    assert!(
        nurse.number(&as_chosen).await > 0.5,
        "the pad does not show {wanted}"
    );
}

async fn screens_of(nurse: &Screen<'_>) -> f64 {
    let page = nurse.number("document.documentElement.scrollHeight").await;
    page / f64::from(PHONE_HEIGHT)
}

async fn saved_as_tapped(nurse: &Screen<'_>) {
    assert!(nurse.path().await.starts_with("/visits/"));
    assert_eq!(
        nurse.count("article.flag").await,
        0,
        "a normal visit raises nothing"
    );
    let page = nurse.text("main").await;
    for part in ["37.0 cm", "140 / min", "112 / 70 mmHg", "4/5"] {
        assert!(page.contains(part), "no {part} in {page}");
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_was_typed_is_there_when_she_comes_back_to_the_pad() {
    let Some(driver) = Driver::start() else {
        return;
    };
    let post = Post::of_the_demo();
    let mother = post.mother("Ada Marren").mother;
    for scripts in [Scripts::On, Scripts::Off] {
        let nurse = Screen::at(&driver, &post.base, PHONE, scripts).await;
        nurse.sign_in("nurse").await;
        nurse.open(&format!("/mothers/{mother}/visits/new")).await;
        nurse.choose("fundus", "soft-irregular").await;
        nurse.choose("lower", "hard-round").await;
        nurse.write("systolic", "112").await;
        nurse.write("note", "Slept badly.").await;
        // To Today and back, as a thumb does that was called away; the script asks first, and she leaves.
        let pad = nurse.find("html").await;
        nurse.find("header a.mark").await.click().await.unwrap();
        nurse.until_gone(&pad).await;
        assert_eq!(nurse.path().await, "/", "{scripts:?}");
        nurse.client.back().await.unwrap();
        nurse.find("form.pad").await;
        for kept in ["fundus-soft-irregular", "lower-hard-round"] {
            let kept = format!("#{kept}:checked");
            assert_eq!(nurse.count(&kept).await, 1, "scripts {scripts:?}: {kept}");
        }
        assert_eq!(nurse.held("systolic").await, "112", "scripts {scripts:?}");
        assert_eq!(
            nurse.held("note").await,
            "Slept badly.",
            "scripts {scripts:?}"
        );
        nurse.leave().await;
    }
}
