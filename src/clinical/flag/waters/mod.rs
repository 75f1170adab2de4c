//! Broken waters, and what drains.

mod judging;

use super::advice::{CORD_RISK, MECONIUM, WATERS_LEAVE_BY, WATERS_SEND};
use super::liquor;
use super::rule::{Rule, Settling, choice, edge, memory, read};
use super::usual::{Usual, at, head_at, head_below, head_mobile, labour};
use crate::clinical::{Case, Category, Liquor, Urgency};
use chrono::Duration;

const BASE: Rule = Rule::of(Category::Waters);

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "waters-before-37",
        title: "Broken before 37 weeks",
        urgencies: &[Urgency::Now],
        when: "Waters broken, not in labour, under 37w+0d.",
        advice: WATERS_SEND,
        sources: &[read("NG235 T7, OU-A17, PEP-16")],
        judged_by: judging::before_37,
        edges: &[edge(
            Urgency::Now,
            "broken at 36w+6d",
            || broken(258, 60).case(),
            "broken at 37w+0d",
            || broken(259, 60).case(),
        )],
        ..BASE
    },
    Rule {
        code: "waters-long",
        title: "Broken long",
        urgencies: &[Urgency::Now, Urgency::Review],
        when: "Not in labour, from 37w+0d or gestation unknown: 12 h reached before she could arrive, or time unknown: now. In labour: from 18 h review, from 24 h now.",
        advice: WATERS_SEND,
        sources: &[
            read("OU-A17, RHL"),
            memory("MCPC S-136, NG235"),
            choice("in hospital by 12 h: travel is taken off, and an unknown time counts as long"),
        ],
        judged_by: judging::long,
        edges: &[
            edge(
                Urgency::Now,
                "10 h 30 min and 90 min of travel make 12 h",
                || travel(broken(266, 630)),
                "10 h 29 min and 90 min of travel make 11 h 59 min",
                || travel(broken(266, 629)),
            ),
            edge(
                Urgency::Now,
                "in labour, 24 h",
                || broken(266, 1440).in_labour().case(),
                "in labour, 23 h 59 min",
                || broken(266, 1439).in_labour().case(),
            ),
            edge(
                Urgency::Review,
                "in labour, 18 h",
                || broken(266, 1080).in_labour().case(),
                "in labour, 17 h 59 min",
                || broken(266, 1079).in_labour().case(),
            ),
            edge(
                Urgency::Now,
                "37w+0d, 12 h, no travel set",
                || broken(259, 720).case(),
                "37w+0d, 11 h 59 min, no travel set",
                || broken(259, 719).case(),
            ),
            edge(
                Urgency::Now,
                "37w+0d, 12 h",
                || broken(259, 720).case(),
                "36w+6d, 12 h",
                || broken(258, 720).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "waters-at-term",
        title: "Broken at term",
        urgencies: &[Urgency::Review],
        when: "Waters broken, not in labour, from 37w+0d or gestation unknown, the rule above not reached. Names the time to leave by.",
        advice: WATERS_LEAVE_BY,
        sources: &[read("PEP-5-45, OU-A17")],
        settles: Settling::LabourBegins,
        after: &["waters-long"],
        judged_by: judging::at_term,
        edges: &[edge(
            Urgency::Review,
            "broken at 37w+0d, an hour ago",
            || broken(259, 60).case(),
            "broken at 36w+6d, an hour ago",
            || broken(258, 60).case(),
        )],
        ..BASE
    },
    Rule {
        code: "cord-risk",
        title: "Cord at risk",
        urgencies: &[Urgency::Review],
        when: "Waters broken, head first, last fifths 4/5 or more (none counted: head mobile), not examined inside since they broke.",
        advice: CORD_RISK,
        sources: &[
            read("PEP-8-20, 8-43"),
            read("BTC-3.20, 3.43"),
            choice("one clean examination is the exception to “no fingers inside”"),
        ],
        settles: Settling::NoCord,
        judged_by: judging::cord_risk,
        edges: &[
            edge(
                Urgency::Review,
                "broken, 4/5",
                || broken(266, 60).hands(head_at(4)).case(),
                "broken, 3/5",
                || broken(266, 60).hands(head_at(3)).case(),
            ),
            edge(
                Urgency::Review,
                "broken, head mobile",
                || broken(266, 60).hands(head_mobile()).case(),
                "broken, fifths and mobility not felt",
                || broken(266, 60).hands(head_below()).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "meconium-thick",
        title: "Thick meconium",
        urgencies: &[Urgency::Now],
        when: "The last liquor of this labour is meconium as thick as soup.",
        advice: MECONIUM,
        sources: &[read("OU-L4.8.4"), memory("LCG")],
        judged_by: liquor::thick,
        edges: &[edge(
            Urgency::Now,
            "meconium 3 at 7 cm",
            || drains(7, Liquor::Meconium3).case(),
            "meconium 2 at 7 cm",
            || drains(7, Liquor::Meconium2).case(),
        )],
        ..BASE
    },
    Rule {
        code: "meconium-early",
        title: "Meconium early",
        urgencies: &[Urgency::Now, Urgency::Review],
        when: "The last liquor of this labour is thin meconium in the latent stage (or no dilatation recorded), or thicker up to 6 cm. Partograph: now; labour care guide: review.",
        advice: MECONIUM,
        sources: &[
            read("OU-L4.8.4"),
            choice("softer under the labour care guide, which sets no such line"),
        ],
        judged_by: liquor::early,
        edges: &[
            edge(
                Urgency::Now,
                "meconium 1 at 3 cm, partograph",
                || drains(3, Liquor::Meconium1).partograph().case(),
                "meconium 1 at 4 cm, partograph",
                || drains(4, Liquor::Meconium1).partograph().case(),
            ),
            edge(
                Urgency::Review,
                "meconium 2 at 6 cm, labour care guide",
                || drains(6, Liquor::Meconium2).case(),
                "meconium 2 at 7 cm, labour care guide",
                || drains(7, Liquor::Meconium2).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "liquor-blood",
        title: "Blood in the waters",
        urgencies: &[Urgency::Now, Urgency::Review],
        when: "The last liquor of this labour is blood: review. With bleeding, severe abdominal pain, pain between contractions or an abnormal heart: now.",
        advice: MECONIUM,
        sources: &[memory("LCG"), choice("what makes it now")],
        after: &["heart-abnormal"],
        judged_by: liquor::blood,
        edges: &[
            edge(
                Urgency::Now,
                "blood, heart 160",
                || blood_with_heart(160),
                "blood, heart 159",
                || blood_with_heart(159),
            ),
            edge(
                Urgency::Review,
                "blood",
                || drains(7, Liquor::Blood).case(),
                "clear",
                || drains(7, Liquor::Clear).case(),
            ),
        ],
        ..BASE
    },
];

fn broken(days: i64, minutes: i64) -> Usual {
    at(days).told(|case| {
        case.waters_broke_at = Some(case.on - Duration::minutes(minutes));
    })
}

fn travel(usual: Usual) -> Case {
    usual
        .told(|case| case.post.travel_minutes = Some(90))
        .case()
}

fn drains(cm: u8, liquor: Liquor) -> Usual {
    labour().row(0, |row| {
        row.dilatation_cm = Some(cm);
        row.liquor = Some(liquor);
    })
}

fn blood_with_heart(count: u8) -> Case {
    drains(7, Liquor::Blood)
        .told(|case| {
            for row in &mut case.labour {
                row.fetal_hearts = vec![count];
            }
        })
        .case()
}
