//! How evidence speaks of the case: ages, sites, times, contradictions.

use super::Picture;
use crate::clinical::speech::{self, cm, z};
use crate::clinical::{Certainty, FeltInside, Front, Moment, Pole, Side, Visit, gestation_text};

impl Picture<'_> {
    /// Nothing for what the last visit itself found, else ` at 06:00`.
    pub(crate) fn when(&self, at: Moment) -> String {
        if self.v.is_some_and(|visit| visit.at == at) {
            String::new()
        } else {
            format!(" at {}", self.clock.time(at))
        }
    }

    pub(crate) fn time(&self, at: Moment) -> String {
        self.clock.time(at)
    }

    /// How long before the moment of judgement.
    pub(crate) fn ago(&self, at: Moment) -> String {
        speech::span((self.on - at).num_seconds())
    }

    /// `36w+0d`, or what stands for it.
    pub(crate) fn age(&self) -> String {
        match (self.g, self.tape) {
            (Some(days), _) => gestation_text(days),
            (None, None) => "gestation unknown, counted as at term".to_owned(),
            (None, Some(_)) if self.is_near() => {
                format!(
                    "gestation unknown, counted as at term ({})",
                    self.tape_words()
                )
            }
            (None, Some(_)) => format!("gestation unknown, {}", self.tape_words()),
        }
    }

    /// ` at 36w+0d`, or `, gestation unknown, …` behind a comma.
    pub(crate) fn at_age(&self) -> String {
        match self.g {
            Some(_) => format!(" at {}", self.age()),
            None => format!(", {}", self.age()),
        }
    }

    /// As [`Self::age`], for rules that treat every unknown gestation as at term.
    pub(crate) fn age_in_labour(&self) -> String {
        self.g.map_or_else(
            || "gestation unknown, counted as at term".to_owned(),
            gestation_text,
        )
    }

    /// Gestation on the day of judgement.
    pub(crate) fn age_today(&self) -> String {
        self.today.map_or_else(
            || "gestation unknown, counted as at term".to_owned(),
            gestation_text,
        )
    }

    pub(crate) fn tape_words(&self) -> String {
        self.tape
            .map_or_else(|| "no tape".to_owned(), |tape| format!("tape {}", cm(tape)))
    }

    /// `3.0th centile (z −1.88)` for a judged height.
    pub(crate) fn centile_words(&self) -> String {
        self.height.map_or_else(
            || "no centile".to_owned(),
            |score| format!("centile {:.1} (z {})", score.centile, z(score.z)),
        )
    }

    /// The same as the beginning of a sentence; without a date it says so.
    pub(crate) fn centile_sentence(&self) -> String {
        match self.height {
            Some(score) => format!("Centile {:.1} (z {})", score.centile, z(score.z)),
            None => "Gestation unknown, no centile".to_owned(),
        }
    }

    /// What was felt at which site, or inside.
    pub(crate) fn felt_words(&self) -> String {
        if let Some((at, part)) = self.felt_inside_decides() {
            return format!("{} felt inside at {}.", inside_words(part), self.time(at));
        }
        let sites = self.v.map(sites).unwrap_or_default();
        let when = self.v.map(|visit| visit.at).filter(|at| *at != self.on);
        let when = when.map_or_else(String::new, |at| format!(" at {}", self.time(at)));
        let sure = self.palpation.as_ref().map(|hands| hands.certainty);
        format!(
            "Felt{when}: {sites}; {}.",
            match sure {
                Some(Certainty::Conflicting) => "the findings conflict",
                Some(certainty) => certainty.words(),
                None => "nothing palpated",
            }
        )
    }

    /// Names both records where one said broken and a later one intact: a contradiction must be seen.
    pub(crate) fn waters_note(&self) -> String {
        self.waters
            .contradicted
            .map_or_else(String::new, |(broken, intact)| {
                format!(
                    " Waters said broken at {}, intact at {}.",
                    self.time(broken),
                    self.time(intact)
                )
            })
    }

    /// Since when the waters are broken, with `at least` unless she told the time.
    pub(crate) fn waters_since_words(&self) -> String {
        match self.waters.since {
            Some(since) if self.waters.told => {
                format!(
                    "Waters broken for {} (since {})",
                    self.ago(since),
                    self.time(since)
                )
            }
            Some(since) if since < self.on => {
                format!(
                    "Waters broken for at least {} (said at {})",
                    self.ago(since),
                    self.time(since)
                )
            }
            _ => "Waters broken, time unknown".to_owned(),
        }
    }
}

/// `top: hard, round; left: long, smooth; …`; sites not examined are left out.
pub(crate) fn sites(visit: &Visit) -> String {
    let Some(found) = &visit.palpation else {
        return "nothing".to_owned();
    };
    let named = [
        ("top", found.fundus.map(Pole::words)),
        ("left", found.left.map(Side::words)),
        ("right", found.right.map(Side::words)),
        ("front", found.front.map(Front::words)),
        ("below", found.lower.map(Pole::words)),
    ];
    let mut felt: Vec<String> = named
        .iter()
        .filter_map(|(site, words)| {
            Some(format!("{site} {}", words.as_ref()?.replace(", ", " and ")))
        })
        .collect();
    if let Some(fifths) = found.fifths {
        felt.push(format!("head {fifths}/5"));
    }
    if let Some(head) = found.head {
        felt.push(format!("head {}", head.words()));
    }
    felt.join(", ")
}

fn inside_words(part: FeltInside) -> &'static str {
    match part {
        FeltInside::Vertex => "Crown of the head",
        FeltInside::Face => "Face",
        FeltInside::Brow => "Brow",
        FeltInside::Breech => "Breech",
        FeltInside::Shoulder => "Shoulder",
        FeltInside::LimbWithHead => "A limb beside the head",
        FeltInside::Cord => "Cord",
        FeltInside::Unsure => "Something not sure",
    }
}
