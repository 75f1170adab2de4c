//! Dilatation, stages and lines against the clock (reference 4.1 and 4.2).

mod judging;

use crate::clinical::flag::advice::{LABOUR_COMFORT, SEND_TO_SURGERY};
use crate::clinical::flag::rule::{Rule, Settling, choice, edge, memory, read};
use crate::clinical::flag::usual::{Usual, labour};
use crate::clinical::{Case, Category, Urgency};
use chrono::Duration;

const BASE: Rule = Rule {
    urgencies: &[Urgency::Now],
    advice: SEND_TO_SURGERY,
    ..Rule::of(Category::PoorProgress)
};

pub(super) static RULES: &[Rule] = &[
    Rule {
        code: "slow-dilatation",
        title: "Slow at one centimetre",
        when: "Labour care guide, active stage: the time since the highest dilatation was first recorded reaches its limit: 5 cm 6 h, 6 cm 5 h, 7 cm 3 h, 8 cm 2 h 30 min, 9 cm 2 h.",
        sources: &[memory("LCG")],
        judged_by: judging::slow,
        edges: &[
            edge(
                Urgency::Now,
                "5 cm for 6 h",
                || labour().opened(5, 360).case(),
                "5 cm for 5 h 59 min",
                || labour().opened(5, 359).case(),
            ),
            edge(
                Urgency::Now,
                "8 cm for 2 h 30 min",
                || labour().opened(8, 150).case(),
                "8 cm for 2 h 29 min",
                || labour().opened(8, 149).case(),
            ),
            edge(
                Urgency::Now,
                "6 cm for 5 h",
                || labour().opened(6, 300).case(),
                "6 cm for 4 h 59 min",
                || labour().opened(6, 299).case(),
            ),
            edge(
                Urgency::Now,
                "7 cm for 3 h",
                || labour().opened(7, 180).case(),
                "7 cm for 2 h 59 min",
                || labour().opened(7, 179).case(),
            ),
            edge(
                Urgency::Now,
                "9 cm for 2 h",
                || labour().opened(9, 120).case(),
                "9 cm for 1 h 59 min",
                || labour().opened(9, 119).case(),
            ),
            edge(
                Urgency::Now,
                "6 cm for 5 h",
                || labour().opened(6, 300).case(),
                "5 cm for 5 h",
                || labour().opened(5, 300).case(),
            ),
            edge(
                Urgency::Now,
                "7 cm for 3 h",
                || labour().opened(7, 180).case(),
                "6 cm for 3 h",
                || labour().opened(6, 180).case(),
            ),
            edge(
                Urgency::Now,
                "8 cm for 2 h 30 min",
                || labour().opened(8, 150).case(),
                "7 cm for 2 h 30 min",
                || labour().opened(7, 150).case(),
            ),
            edge(
                Urgency::Now,
                "9 cm for 2 h",
                || labour().opened(9, 120).case(),
                "8 cm for 2 h",
                || labour().opened(8, 120).case(),
            ),
            edge(
                Urgency::Now,
                "5 cm for 6 h",
                || labour().opened(5, 360).case(),
                "4 cm for 6 h",
                || labour().opened(4, 360).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "active-stage-long",
        title: "Active stage long",
        when: "Active stage. Labour care guide: more than 12 h, later births (or unknown) more than 10 h. Partograph: more than 12 h.",
        sources: &[read("ALG, IPC18"), read("OU-L10.4.1")],
        judged_by: judging::active_long,
        edges: &[
            edge(
                Urgency::Now,
                "later birth, 10 h and a second, labour care guide",
                || slowly(600).later(1).case(),
                "later birth, 10 h, labour care guide",
                || slowly(600).case(),
            ),
            edge(
                Urgency::Now,
                "first birth, 12 h and a second, labour care guide",
                || slowly(720).first_birth().later(1).case(),
                "first birth, 12 h, labour care guide",
                || slowly(720).first_birth().case(),
            ),
            edge(
                Urgency::Now,
                "later birth, 12 h and a second, partograph",
                || slowly(720).partograph().later(1).case(),
                "later birth, 12 h, partograph",
                || slowly(720).partograph().case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "second-stage-long",
        title: "Second stage long",
        when: "At 10 cm. Labour care guide: 3 h or more, later births (or unknown) 2 h. Partograph: more than 2 h, later births (or unknown) more than 1 h.",
        sources: &[
            read("IPC18"),
            read("OU-L10.4.1"),
            memory("LCG: the limit itself counts"),
        ],
        judged_by: judging::second_long,
        edges: &[
            edge(
                Urgency::Now,
                "later birth, 2 h, labour care guide",
                || labour().opened(10, 120).case(),
                "later birth, 1 h 59 min, labour care guide",
                || labour().opened(10, 119).case(),
            ),
            edge(
                Urgency::Now,
                "later birth, 1 h and a second, partograph",
                || labour().partograph().opened(10, 60).later(1).case(),
                "later birth, 1 h, partograph",
                || labour().partograph().opened(10, 60).case(),
            ),
            edge(
                Urgency::Now,
                "later birth, 10 cm for 2 h, labour care guide",
                || labour().opened(10, 120).case(),
                "later birth, 9 cm for 2 h, labour care guide",
                || labour().opened(9, 120).case(),
            ),
            edge(
                Urgency::Now,
                "first birth, 3 h, labour care guide",
                || labour().first_birth().opened(10, 180).case(),
                "first birth, 2 h 59 min, labour care guide",
                || labour().first_birth().opened(10, 179).case(),
            ),
            edge(
                Urgency::Now,
                "first birth, 2 h and a second, partograph",
                || {
                    labour()
                        .first_birth()
                        .partograph()
                        .opened(10, 120)
                        .later(1)
                        .case()
                },
                "first birth, 2 h, partograph",
                || labour().first_birth().partograph().opened(10, 120).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "right-of-alert",
        title: "Right of the alert line",
        when: "Partograph, active stage: the last dilatation lies right of the alert line, one centimetre an hour from the first active record. On the line is not crossed.",
        sources: &[read("OU-L4.2.2, CNB96")],
        judged_by: judging::right_of_alert,
        edges: &[edge(
            Urgency::Now,
            "6 cm, 2 h and a second later 8 cm",
            || six_then_eight(7201),
            "6 cm, 2 h later 8 cm",
            || six_then_eight(7200),
        )],
        ..BASE
    },
    Rule {
        code: "past-action",
        title: "Past the action line",
        when: "Partograph, active stage: right of the action line, more than 4 h after the alert line. Stands beside the rule above.",
        sources: &[read("CNB96, MSF-5.2")],
        judged_by: judging::past_action,
        edges: &[edge(
            Urgency::Now,
            "6 cm, then 8 cm 4 h and a second after the alert line",
            || six_then_eight(21_601),
            "6 cm, then 8 cm 4 h after the alert line",
            || six_then_eight(21_600),
        )],
        ..BASE
    },
    Rule {
        code: "latent-long",
        title: "Latent phase long",
        urgencies: &[Urgency::Now, Urgency::Review],
        when: "More than 8 h since labour began, active stage not reached. Partograph: now; labour care guide: review.",
        advice: LABOUR_COMFORT,
        sources: &[
            read("MCPC S-57"),
            choice("softer under the labour care guide, which sets no limit"),
        ],
        settles: Settling::ActiveStage,
        judged_by: judging::latent_long,
        edges: &[
            edge(
                Urgency::Now,
                "partograph, 8 h and a second at 3 cm",
                || labour().partograph().opened(3, 480).later(1).case(),
                "partograph, 8 h at 3 cm",
                || labour().partograph().opened(3, 480).case(),
            ),
            edge(
                Urgency::Review,
                "labour care guide, 8 h and a second at 4 cm",
                || labour().opened(4, 480).later(1).case(),
                "labour care guide, 8 h at 4 cm",
                || labour().opened(4, 480).case(),
            ),
        ],
        ..BASE
    },
    Rule {
        code: "labour-long",
        title: "Labour long",
        urgencies: &[Urgency::Review],
        when: "12 h or more since labour began, active or second stage.",
        advice: LABOUR_COMFORT,
        sources: &[read("MCPC S-57")],
        judged_by: judging::labour_long,
        edges: &[edge(
            Urgency::Review,
            "12 h since it began",
            || began(720),
            "11 h 59 min since it began",
            || began(719),
        )],
        ..BASE
    },
];

/// 5 cm so many minutes ago, 8 cm an hour ago.
fn slowly(minutes: i64) -> Usual {
    labour().opened(5, minutes).opened(8, 60)
}

fn six_then_eight(seconds: i64) -> Case {
    labour()
        .partograph()
        .opened(6, 0)
        .told(|case| {
            case.on += Duration::seconds(seconds);
            let mut row = crate::clinical::LabourRow::at(case.on);
            row.dilatation_cm = Some(8);
            case.labour.push(row);
        })
        .case()
}

fn began(minutes: i64) -> Case {
    labour()
        .opened(7, 30)
        .told(|case| case.labour_began_at = Some(case.on - Duration::minutes(minutes)))
        .case()
}
