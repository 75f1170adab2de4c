//! Reads the tables of `seed-demo/`: one line a row, columns parted by `|`, `#` for the reader.

use anyhow::{Context, Result, anyhow, bail, ensure};

use crate::clinical::{HeightMethod, LabourProtocol};

/// One post of the district.
#[derive(Debug)]
pub(super) struct PostRow {
    pub letters: &'static str,
    pub name: &'static str,
    pub time_zone: &'static str,
    pub phone: &'static str,
    pub protocol: LabourProtocol,
    pub heights: HeightMethod,
    pub day_from: u8,
    pub night_from: u8,
    pub skilled_breech: bool,
    pub skilled_twins: bool,
    /// Of the women of the district, in per cent.
    pub share: u8,
    pub villages: Vec<&'static str>,
    /// Hospital key, minutes by day, minutes by night.
    pub travel: Vec<(&'static str, u16, u16)>,
}

#[derive(Debug)]
pub(super) struct HospitalRow {
    pub key: &'static str,
    pub name: &'static str,
    pub phone: &'static str,
    pub can_operate: bool,
    pub has_blood: bool,
}

#[derive(Debug)]
pub(super) struct StaffRow {
    pub sign_in: &'static str,
    pub name: &'static str,
    pub role: &'static str,
    /// Letters of the post; absent for the district officer and the keeper.
    pub post: Option<&'static str>,
    pub stopped: bool,
}

/// A woman of the first post who stands in a certain situation today.
#[derive(Debug)]
pub(super) struct StagedRow {
    pub name: &'static str,
    pub village: &'static str,
    pub situation: &'static str,
    /// Completed days of gestation today.
    pub gestation_days: i64,
    pub births_before: u8,
}

/// Everything the files of `seed-demo/` say, but the rates.
#[derive(Debug)]
pub(super) struct District {
    pub posts: Vec<PostRow>,
    pub hospitals: Vec<HospitalRow>,
    pub staff: Vec<StaffRow>,
    pub staged: Vec<StagedRow>,
    pub given: Vec<&'static str>,
    pub families: Vec<&'static str>,
}

impl District {
    pub(super) fn read() -> Result<Self> {
        let mut district = Self {
            posts: rows(
                include_str!("../../../seed-demo/posts.txt"),
                "posts.txt",
                post,
            )?,
            hospitals: rows(
                include_str!("../../../seed-demo/hospitals.txt"),
                "hospitals.txt",
                hospital,
            )?,
            staff: rows(
                include_str!("../../../seed-demo/staff.txt"),
                "staff.txt",
                staff,
            )?,
            staged: rows(
                include_str!("../../../seed-demo/staged.txt"),
                "staged.txt",
                staged,
            )?,
            given: Vec::new(),
            families: Vec::new(),
        };
        for (kind, words) in rows(
            include_str!("../../../seed-demo/names.txt"),
            "names.txt",
            |cells| {
                let [kind, words] = exactly(cells)?;
                Ok((kind, words))
            },
        )? {
            match kind {
                "given" => district.given.extend(words.split_whitespace()),
                "family" => district.families.extend(words.split_whitespace()),
                other => bail!("seed-demo/names.txt: “{other}” is neither given nor family"),
            }
        }
        let villages = rows(
            include_str!("../../../seed-demo/villages.txt"),
            "villages.txt",
            |cells| {
                let [post, village] = exactly(cells)?;
                Ok((post, village))
            },
        )?;
        for (letters, village) in villages {
            district.post_mut(letters)?.villages.push(village);
        }
        let ways = rows(
            include_str!("../../../seed-demo/travel.txt"),
            "travel.txt",
            |cells| {
                let [post, hospital, day, night] = exactly(cells)?;
                Ok((post, (hospital, day.parse()?, night.parse()?)))
            },
        )?;
        for (letters, way) in ways {
            ensure!(
                district.hospitals.iter().any(|it| it.key == way.0),
                "seed-demo/travel.txt: no hospital “{}”",
                way.0
            );
            district.post_mut(letters)?.travel.push(way);
        }
        ensure!(
            district
                .posts
                .iter()
                .all(|it| !it.villages.is_empty() && !it.travel.is_empty()),
            "seed-demo: a post has no village or no way to a hospital"
        );
        ensure!(
            !district.given.is_empty() && !district.families.is_empty(),
            "seed-demo/names.txt: no names"
        );
        Ok(district)
    }

    fn post_mut(&mut self, letters: &str) -> Result<&mut PostRow> {
        self.posts
            .iter_mut()
            .find(|post| post.letters == letters)
            .with_context(|| format!("seed-demo: no post has the letters “{letters}”"))
    }
}

/// The rows of one file; a fault names file and line.
pub(super) fn rows<T>(
    text: &'static str,
    file: &str,
    read: impl Fn(&[&'static str]) -> Result<T>,
) -> Result<Vec<T>> {
    text.lines()
        .enumerate()
        .filter(|(_, line)| !line.trim().is_empty() && !line.starts_with('#'))
        .map(|(number, line)| {
            let cells: Vec<_> = line.split('|').map(str::trim).collect();
            read(&cells).with_context(|| format!("seed-demo/{file}, line {}", number + 1))
        })
        .collect()
}

pub(super) fn exactly<const N: usize>(cells: &[&'static str]) -> Result<[&'static str; N]> {
    cells
        .try_into()
        .map_err(|_| anyhow!("{} columns, {N} expected", cells.len()))
}

fn yes(cell: &str) -> Result<bool> {
    match cell {
        "yes" => Ok(true),
        "no" => Ok(false),
        other => bail!("“{other}” is neither yes nor no"),
    }
}

fn post(cells: &[&'static str]) -> Result<PostRow> {
    let [
        letters,
        name,
        time_zone,
        phone,
        protocol,
        heights,
        day_from,
        night_from,
        breech,
        twins,
        share,
    ] = exactly(cells)?;
    Ok(PostRow {
        letters,
        name,
        time_zone,
        phone,
        protocol: protocol.parse()?,
        heights: heights.parse()?,
        day_from: day_from.parse()?,
        night_from: night_from.parse()?,
        skilled_breech: yes(breech)?,
        skilled_twins: yes(twins)?,
        share: share.parse()?,
        villages: Vec::new(),
        travel: Vec::new(),
    })
}

fn hospital(cells: &[&'static str]) -> Result<HospitalRow> {
    let [key, name, phone, can_operate, has_blood] = exactly(cells)?;
    Ok(HospitalRow {
        key,
        name,
        phone,
        can_operate: yes(can_operate)?,
        has_blood: yes(has_blood)?,
    })
}

fn staff(cells: &[&'static str]) -> Result<StaffRow> {
    let [sign_in, name, role, post, note] = exactly(cells)?;
    Ok(StaffRow {
        sign_in,
        name,
        role,
        post: Some(post).filter(|it| !it.is_empty()),
        stopped: note == "stopped",
    })
}

fn staged(cells: &[&'static str]) -> Result<StagedRow> {
    let [name, village, situation, gestation, births_before] = exactly(cells)?;
    let (weeks, days) = gestation
        .split_once("w+")
        .context("the gestation is written as in 36w+2d")?;
    let days: i64 = days.trim_end_matches('d').parse()?;
    Ok(StagedRow {
        name,
        village,
        situation,
        gestation_days: weeks.parse::<i64>()? * 7 + days,
        births_before: births_before.parse()?,
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]
    use super::*;

    #[test]
    fn the_district_has_six_posts_and_one_near_hospital_that_cannot_operate() {
        let district = District::read().unwrap();
        assert_eq!(district.posts.len(), 6);
        assert_eq!(district.hospitals.len(), 4);
        assert_eq!(
            district
                .posts
                .iter()
                .map(|post| u32::from(post.share))
                .sum::<u32>(),
            100
        );
        let first = &district.posts[0];
        let nearest = first.travel.iter().min_by_key(|way| way.1).unwrap();
        let nearest = district
            .hospitals
            .iter()
            .find(|it| it.key == nearest.0)
            .unwrap();
        assert!(
            !nearest.can_operate,
            "{} is near and can operate",
            nearest.name
        );
        for post in &district.posts {
            let operates = |way: &&(&str, u16, u16)| {
                district
                    .hospitals
                    .iter()
                    .any(|it| it.key == way.0 && it.can_operate)
            };
            assert!(
                post.travel.iter().any(|way| operates(&way)),
                "{}: no way to an operation",
                post.name
            );
        }
    }

    #[test]
    fn a_fault_names_its_file_and_line() {
        let fault = rows("# head\na | b\nonly one\n", "some.txt", |cells| {
            exactly::<2>(cells)
        })
        .unwrap_err();
        assert_eq!(
            format!("{fault:#}"),
            "seed-demo/some.txt, line 3: 1 columns, 2 expected"
        );
    }

    #[test]
    fn no_name_is_told_twice() {
        let district = District::read().unwrap();
        let mut all: Vec<_> = district.given.iter().chain(&district.families).collect();
        let told = all.len();
        all.sort_unstable();
        all.dedup();
        assert_eq!(told, all.len());
    }
}
