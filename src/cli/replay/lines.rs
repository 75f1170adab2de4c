//! The comparison as aligned lines.

use crate::reporting::replay::{Group, HEADINGS, Line};

/// Headings, then each category with its urgencies below it, and below each row how they fared.
pub(super) fn of(lines: &[Line]) -> Vec<String> {
    let mut rows: Vec<(String, [String; 6])> = Vec::new();
    let [then, now, both, only_then, only_now] = HEADINGS.map(str::to_owned);
    let births = "births known".to_owned();
    rows.push((
        String::new(),
        [then, now, both, only_then, only_now, births],
    ));
    for line in lines {
        let (name, indent) = line.urgency.map_or_else(
            || (line.category.words().to_owned(), ""),
            |urgency| (format!("  {}", urgency.words()), "  "),
        );
        let counts = line.groups().map(|group| group.women.to_string());
        let [then, now, both, only_then, only_now] = counts;
        // Whoever was raised at all was raised then or only now.
        let known = (line.then.known + line.only_now.known).to_string();
        rows.push((name, [then, now, both, only_then, only_now, known]));
        if let Some(sign) = line.sign() {
            let [then, now, both, only_then, only_now] = line.groups().map(fared);
            let name = format!("{indent}  {sign}");
            rows.push((name, [then, now, both, only_then, only_now, String::new()]));
        }
    }
    aligned(&rows)
}

fn fared(group: Group) -> String {
    if group.known == 0 {
        "–".to_owned()
    } else {
        format!("{}/{}", group.came_true, group.known)
    }
}

fn aligned(rows: &[(String, [String; 6])]) -> Vec<String> {
    let width = |text: &String| text.chars().count();
    let names = rows.iter().map(|(name, _)| width(name)).max();
    let names = names.unwrap_or_default();
    let mut widths = [0; 6];
    for (_, cells) in rows {
        for (most, cell) in widths.iter_mut().zip(cells) {
            *most = width(cell).max(*most);
        }
    }
    let line = |(name, cells): &(String, [String; 6])| {
        let mut line = format!("{name:names$}");
        for (cell, width) in cells.iter().zip(widths) {
            line = format!("{line}  {cell:>width$}");
        }
        line.trim_end().to_owned()
    };
    rows.iter().map(line).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clinical::{Category, Urgency};

    fn group(women: u64, known: u64, came_true: u64) -> Group {
        Group {
            women,
            known,
            came_true,
        }
    }

    #[test]
    fn counts_stand_below_each_other_and_how_they_fared_below_the_counts() {
        let breech = Line {
            category: Category::Breech,
            urgency: None,
            then: group(12, 11, 9),
            now: group(13, 12, 9),
            both: group(12, 11, 9),
            only_then: group(0, 0, 0),
            only_now: group(1, 1, 0),
        };
        let soon = Line {
            urgency: Some(Urgency::Soon),
            ..breech
        };
        let scar = Line {
            category: Category::ScarredUterus,
            ..breech
        };
        let shown = of(&[breech, soon, scar]);
        assert_eq!(
            shown,
            [
                "                 raised then  raised now  both  only then  only now  births known",
                "Breech                    12          13    12          0         1            12",
                "  born breech           9/11        9/12  9/11          –       0/1",
                "  Refer soon              12          13    12          0         1            12",
                "    born breech         9/11        9/12  9/11          –       0/1",
                "Scarred uterus            12          13    12          0         1            12",
            ]
        );
    }
}
