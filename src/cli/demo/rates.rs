//! The rates of `seed-demo/rates.txt` by name.

use anyhow::{Context, Result, bail};

use super::tables::{exactly, rows};

macro_rules! rates {
    ($($field:ident = $key:literal;)+) => {
        /// How often a thing happens, each 0 to 1; what it is a share of stands in the file.
        #[derive(Debug, Clone, Copy)]
        pub(super) struct Rates { $(pub $field: f64),+ }

        impl Rates {
            const KEYS: &'static [&'static str] = &[$($key),+];

            pub(super) fn read() -> Result<Self> {
                let read = rows(include_str!("../../../seed-demo/rates.txt"), "rates.txt", |cells| {
                    let [key, often, of, source] = exactly(cells)?;
                    if of.is_empty() || !(source.starts_with("invented") || source.starts_with("published: ")) {
                        bail!("say of what, and whether it is invented or where it was published");
                    }
                    if !Self::KEYS.contains(&key) {
                        bail!("nothing reads the rate “{key}”");
                    }
                    Ok((key, share(often)?))
                })?;
                let find = |key: &str| {
                    let found = read.iter().find(|rate| rate.0 == key).map(|rate| rate.1);
                    found.with_context(|| format!("seed-demo/rates.txt: the rate “{key}” is missing"))
                };
                Ok(Self { $($field: find($key)?),+ })
            }
        }
    };
}

rates! {
    first_births = "first-births";
    twins = "twins";
    breech_at_28 = "breech-at-28-weeks";
    breech_near_term = "breech-near-term";
    across_at_28 = "across-at-28-weeks";
    across_near_term = "across-near-term";
    small = "small";
    preterm = "preterm";
    past_41 = "past-41-weeks";
    losses = "losses";
    stillbirths = "stillbirths";
    stillborn_before_labour = "stillborn-before-labour";
    early_deaths = "early-deaths";
    mothers_died = "mothers-died";
    caesarean_before = "caesarean-before";
    past_stillbirth = "past-stillbirth";
    past_early_death = "past-early-death";
    past_bleeding = "past-heavy-bleeding";
    past_fits = "past-fits";
    past_tear = "past-severe-tear";
    past_instruments = "past-instruments";
    raised_pressure = "raised-pressure";
    with_protein = "with-protein";
    period_certain = "period-certain";
    period_uncertain = "period-uncertain";
    scanned = "scanned";
    phone = "phone";
    may_be_phoned = "may-be-phoned";
    age_not_year = "age-not-year";
    visit_missed = "visit-missed";
    site_unsure = "site-unsure";
    wrong_pole = "wrong-pole";
    tape_forgotten = "tape-forgotten";
    sign_of_danger = "sign-of-danger";
    moves_less = "moves-less";
    waters_early = "waters-early";
    born_at_home = "born-at-home";
    born_on_the_way = "born-on-the-way";
    born_at_hospital = "born-at-a-hospital-of-her-choice";
    place_not_told = "place-not-told";
    slow_labour = "slow-labour";
    caesarean_when_sent = "caesarean-when-sent";
    caesarean_by_choice = "caesarean-of-her-choice";
    no_weight = "no-weight";
    never_told = "never-told";
    flag_dismissed = "flag-dismissed";
    flag_forgotten = "flag-forgotten";
    sent_when_confirmed = "sent-when-confirmed";
    declined = "declined";
    stood_down = "stood-down";
    never_came = "never-came";
    arrival_not_told = "arrival-not-told";
    time_unknown = "time-unknown";
    answered = "answered";
}

/// `4 %` or `14 per 1000`.
fn share(text: &str) -> Result<f64> {
    let (number, of) = match (text.strip_suffix('%'), text.strip_suffix("per 1000")) {
        (Some(number), _) => (number, 100.0),
        (_, Some(number)) => (number, 1000.0),
        _ => bail!("“{text}” is neither per cent nor per 1000"),
    };
    let share = number.trim().parse::<f64>()? / of;
    if (0.0..=1.0).contains(&share) {
        Ok(share)
    } else {
        bail!("“{text}” is more than all of them")
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]
    use super::*;

    #[test]
    fn every_rate_is_read_and_says_where_it_is_from() {
        let rates = Rates::read().unwrap();
        assert!((rates.breech_near_term - 0.04).abs() < 1e-9);
        assert!((rates.stillbirths - 0.014).abs() < 1e-9);
        assert!(share("4").is_err() && share("140 %").is_err());
    }
}
