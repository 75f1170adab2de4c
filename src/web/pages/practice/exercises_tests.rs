//! The cases of the file: the program says of each what its author expected, and together they reach what a learner meets.

use super::exercises::{Exercise, Level, all, read};
use super::reasons;
use crate::clinical::{
    Assessment, Category, Certainty, Head, LabourRow, Lie, Pole, Presentation, Side, Urgency,
    assess,
};

fn judged() -> Vec<(&'static Exercise, Assessment)> {
    all().iter().map(|it| (it, assess(&it.case))).collect()
}

#[test]
fn the_file_is_whole_and_goes_from_easy_to_hard() {
    let cases = read(include_str!("../../../../seed-demo/practice.json")).unwrap();
    assert_eq!(cases.len(), 24);
    assert!(cases.is_sorted_by_key(|it| it.level));
    for level in Level::ALL {
        let of_it = cases.iter().filter(|it| it.level == level);
        assert_eq!(of_it.count(), 8, "{level:?}");
    }
    let mut titles: Vec<_> = cases.iter().map(|it| &it.title).collect();
    titles.sort();
    titles.dedup();
    assert_eq!(titles.len(), 24, "a title twice");
}

#[test]
fn the_program_says_of_every_case_what_its_author_expected() {
    for (it, judged) in judged() {
        let at = format!("case {}, {}", it.number, it.title);
        let hands = judged.palpation.as_ref().unwrap();
        let expected = &it.expected;
        assert_eq!(hands.lie.code(), expected.lie, "{at}");
        assert_eq!(hands.presentation.code(), expected.presentation, "{at}");
        assert_eq!(hands.back.code(), expected.back, "{at}");
        assert_eq!(hands.engaged, expected.engaged, "{at}");
        assert_eq!(hands.certainty.code(), expected.certainty, "{at}");
        let urgency = judged.urgency().map_or("none", |it| it.code());
        assert_eq!(urgency, expected.urgency, "{at}");
        let rules: Vec<_> = judged.flags.iter().map(|flag| flag.rule).collect();
        assert_eq!(rules, expected.rules, "{at}");
    }
}

#[test]
fn no_reason_names_what_the_hands_did_not_feel() {
    for (it, judged) in judged() {
        let felt = it.visit().and_then(|it| it.palpation.as_ref()).unwrap();
        let whys = reasons::of(it, &judged);
        // The last is the rule's, of everything that was told.
        let said = whys[..5].join(" ");
        let ends = [felt.fundus, felt.lower];
        let sides = [felt.left, felt.right];
        let anywhere = |end, side| ends.contains(&Some(end)) || sides.contains(&Some(side));
        let head = anywhere(Pole::HardRound, Side::HardRound);
        let breech = anywhere(Pole::SoftIrregular, Side::SoftIrregular);
        for (words, so) in [
            ("Hard", felt.lower == Some(Pole::HardRound)),
            ("Soft", felt.lower == Some(Pole::SoftIrregular)),
            ("mobile", felt.head == Some(Head::Mobile)),
            ("fixed", felt.head == Some(Head::Fixed)),
            ("both felt", head && breech),
            ("The breech was felt", breech),
            ("Limbs were felt", sides.contains(&Some(Side::SmallLumps))),
            ("long, smooth", sides.contains(&Some(Side::LongSmooth))),
            ("No fifths", felt.fifths.is_none()),
        ] {
            let at = it.number;
            assert!(so || !said.contains(words), "{at}: {words}: {said}");
        }
    }
}

#[test]
fn every_case_names_a_source_and_how_sure_it_is() {
    const SURE: [&str; 4] = [
        "read in the source",
        "from memory of the source",
        "common practice",
        "our own choice",
    ];
    for it in all() {
        let source = it.source.to_lowercase();
        assert!(
            SURE.iter().any(|sure| source.contains(sure)),
            "{}",
            it.title
        );
        assert!(
            it.learn.len() > 80 && !it.background.is_empty(),
            "{}",
            it.title
        );
    }
}

#[test]
fn the_cases_span_what_hands_and_rules_can_find() {
    let judged = judged();
    let some = |what: &str, found: &dyn Fn(&Exercise, &Assessment) -> bool| {
        assert!(
            judged.iter().any(|(it, said)| found(it, said)),
            "no case: {what}"
        );
    };
    let hands = |said: &Assessment| said.palpation.clone().unwrap();
    let raised = |said: &Assessment, kind| said.flags.iter().any(|flag| flag.category == kind);
    some("a normal vertex", &|_, said| {
        said.flags.is_empty() && hands(said).presentation == Presentation::Cephalic
    });
    some("a breech", &|_, said| {
        hands(said).presentation == Presentation::Breech
    });
    some("a breech that asks for nothing yet", &|_, said| {
        hands(said).presentation == Presentation::Breech && said.flags.is_empty()
    });
    some("transverse", &|_, said| hands(said).lie == Lie::Transverse);
    some("oblique", &|_, said| hands(said).lie == Lie::Oblique);
    some("a deep head", &|it, said| {
        let felt = it.visit().and_then(|it| it.palpation.as_ref()).unwrap();
        (felt.lower, felt.fifths) == (Some(Pole::Empty), Some(0))
            && hands(said).engaged == Some(true)
    });
    for certainty in Certainty::ALL {
        some(certainty.code(), &|_, said| {
            hands(said).certainty == *certainty
        });
    }
    for kind in [
        Category::SuspectedTwins,
        Category::SmallForDates,
        Category::LargeForDates,
        Category::DangerSign,
        Category::RaisedBloodPressure,
        Category::Waters,
        Category::PoorProgress,
        Category::UnknownDates,
        Category::UnclearFindings,
    ] {
        some(kind.code(), &|_, said| raised(said, kind));
    }
    for urgency in Urgency::ALL {
        some(urgency.code(), &|_, said| said.urgency() == Some(*urgency));
    }
    some("a row of a labour", &|it, _| {
        it.case
            .labour
            .iter()
            .any(|row: &LabourRow| row.dilatation_cm.is_some())
    });
}

#[test]
fn the_same_hands_are_answered_otherwise_where_staff_are_skilled() {
    let judged = judged();
    let pair = judged.iter().find_map(|(skilled, said)| {
        let other = judged.iter().find(|(it, _)| {
            it.visit() == skilled.visit()
                && it.case.dating == skilled.case.dating
                && it.case.post.skilled_breech != skilled.case.post.skilled_breech
        });
        skilled
            .case
            .post
            .skilled_breech
            .then_some((said, &other?.1))
    });
    let (skilled, unskilled) = pair.unwrap();
    assert_eq!(skilled.urgency(), Some(Urgency::Review));
    assert_eq!(unskilled.urgency(), Some(Urgency::Soon));
}
