//! What the picture says in words of a baby that faces the front.

use super::tests::{every_valid_finding, sentence, usual};
use crate::clinical::{Front, Lie, PalpationFindings, Pole, Presentation, read_palpation};

#[test]
fn only_of_a_head_that_comes_first_lengthwise_is_labour_said_to_be_longer() {
    let longer = "labour may be longer";
    let mut said = 0;
    every_valid_finding(|found| {
        let Some(conclusion) = read_palpation(found) else {
            return;
        };
        if sentence(found).contains(longer) {
            said += 1;
            assert_eq!(conclusion.lie, Lie::Longitudinal, "{found:?}");
            let first = conclusion.presentation;
            assert_eq!(first, Presentation::Cephalic, "{found:?}");
        }
    });
    assert!(said > 0);
    let breech = PalpationFindings {
        fundus: Some(Pole::HardRound),
        front: Some(Front::SmallLumps),
        lower: Some(Pole::SoftIrregular),
        fifths: None,
        head: None,
        ..usual()
    };
    assert_eq!(
        sentence(&breech),
        "Longitudinal lie, breech first: clear. Back to her left (provisional). It faces her front."
    );
}
