//! Caesareans by the ten groups, held against two printed tables.

use brimline::registry::extract::{BabyLine, Extract};

use crate::births::baby;
use crate::{row, table};

/// What falls into group 1 to 10.
fn of_group(group: usize, birth: &str) -> BabyLine {
    let plain = BabyLine {
        births_before: Some(0),
        previous_caesareans: Some(0),
        onset: Some("spontaneous"),
        ..baby(birth)
    };
    let later = BabyLine {
        births_before: Some(1),
        ..plain.clone()
    };
    match group {
        1 => plain,
        2 => BabyLine {
            onset: Some("induced"),
            ..plain
        },
        3 => later,
        4 => BabyLine {
            onset: Some("caesarean-before-labour"),
            ..later
        },
        5 => BabyLine {
            previous_caesareans: Some(1),
            ..later
        },
        6 => BabyLine {
            presentation: Some("breech"),
            ..plain
        },
        7 => BabyLine {
            presentation: Some("breech"),
            ..later
        },
        8 => BabyLine {
            babies: Some(2),
            ..plain
        },
        9 => BabyLine {
            presentation: Some("shoulder"),
            ..plain
        },
        _ => BabyLine {
            gestation_days: Some(258),
            ..plain
        },
    }
}

struct Printed {
    women: [usize; 10],
    caesareans: [usize; 10],
    size: [&'static str; 10],
    rate: [&'static str; 10],
    absolute: [&'static str; 10],
    relative: [&'static str; 10],
    total: &'static str,
}

/// One hospital: scirp 7-1431426, table 3; the absolute contributions are computed from its counts.
const ONE_HOSPITAL: Printed = Printed {
    women: [561, 91, 720, 101, 275, 33, 73, 78, 8, 214],
    caesareans: [136, 87, 133, 97, 180, 30, 59, 40, 8, 65],
    size: [
        "26.0", "4.2", "33.4", "4.7", "12.8", "1.5", "3.4", "3.6", "0.4", "9.9",
    ],
    rate: [
        "24.2", "95.6", "18.5", "96.0", "65.5", "90.9", "80.8", "51.3", "100.0", "30.4",
    ],
    absolute: [
        "6.3", "4.0", "6.2", "4.5", "8.4", "1.4", "2.7", "1.9", "0.4", "3.0",
    ],
    relative: [
        "16.3", "10.4", "15.9", "11.6", "21.6", "3.6", "7.1", "4.8", "1.0", "7.8",
    ],
    total: "38.8",
};

#[test]
fn a_printed_table_comes_out_as_it_was_printed() {
    let mut lines = Extract::default();
    let printed = &ONE_HOSPITAL;
    for group in 1..=10 {
        for woman in 0..printed.women[group - 1] {
            let mode = if woman < printed.caesareans[group - 1] {
                "caesarean"
            } else {
                "vaginal"
            };
            lines.babies.push(BabyLine {
                mode: Some(mode),
                ..of_group(group, &format!("{group}-{woman}"))
            });
        }
    }
    let table = table("caesarean-groups", &lines);
    let columns = [
        "women",
        "caesareans",
        "size_percent",
        "rate_percent",
        "absolute_percent",
        "relative_percent",
    ];
    for group in 1..=10 {
        let at = group - 1;
        let expected = format!(
            "women {}, caesareans {}, size_percent {}, rate_percent {}, absolute_percent {}, relative_percent {}",
            printed.women[at],
            printed.caesareans[at],
            printed.size[at],
            printed.rate[at],
            printed.absolute[at],
            printed.relative[at]
        );
        assert_eq!(
            row(&table, &[&group.to_string()], &columns),
            expected,
            "group {group}"
        );
    }
    let all = row(&table, &["all"], &["women", "caesareans", "rate_percent"]);
    assert_eq!(
        all,
        format!("women 2154, caesareans 835, rate_percent {}", printed.total)
    );
    assert_eq!(
        row(&table, &["unclassifiable"], &["women", "rate_percent"]),
        "women 0, rate_percent -"
    );
}

#[test]
fn a_woman_whose_group_cannot_be_told_is_counted_openly() {
    let mut lines = Extract::default();
    lines.babies.push(BabyLine {
        onset: Some("unknown"),
        mode: Some("unknown"),
        ..of_group(1, "a")
    });
    lines.babies.push(of_group(1, "b"));
    let table = table("caesarean-groups", &lines);
    assert_eq!(
        row(&table, &["unclassifiable"], &["women", "size_percent"]),
        "women 1, size_percent 50.0"
    );
    assert!(table.foot[0].contains("not known: 1"), "{:?}", table.foot);
}
