//! Time zones to choose from: whole hours all year first, then every place of the time zone database.

use chrono::TimeZone as _;
use chrono_tz::{TZ_VARIANTS, Tz};

use crate::clinical::Moment;
use crate::web::form::Opt;

/// Every zone with what its clock shows now; `held` is kept though it stands in no list.
pub(super) fn options(now: Moment, held: &str) -> Vec<Opt> {
    let clock = |zone: Tz| zone.from_utc_datetime(&now).format("%H:%M").to_string();
    let mut options: Vec<Opt> = (-12..=14)
        .filter_map(|east: i32| {
            // The database counts these westward: `Etc/GMT-2` is two hours east.
            let code = if east == 0 {
                "Etc/UTC".to_owned()
            } else {
                format!("Etc/GMT{:+}", -east)
            };
            let zone: Tz = code.parse().ok()?;
            Some(Opt::new(
                code,
                format!("UTC{east:+} all year (now {})", clock(zone)),
            ))
        })
        .collect();
    let place = |zone: &&Tz| {
        zone.name().contains('/')
            && !zone.name().starts_with("Etc/")
            && !zone.name().starts_with("US/")
    };
    let places = TZ_VARIANTS.iter().filter(place);
    options.extend(places.map(|zone| {
        Opt::new(
            zone.name(),
            format!("{} (now {})", zone.name(), clock(*zone)),
        )
    }));
    if !held.is_empty() && options.iter().all(|option| option.code != held) {
        options.insert(0, Opt::new(held, held));
    }
    options
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_hours_east_is_two_hours_later() {
        let options = options(super::super::noon(), "");
        let east = options
            .iter()
            .find(|option| option.code == "Etc/GMT-2")
            .unwrap();
        assert_eq!(east.words, "UTC+2 all year (now 14:00)");
        assert!(options.iter().any(|option| option.code == "Africa/Kampala"));
        assert!(
            options
                .iter()
                .all(|option| option.code.parse::<Tz>().is_ok())
        );
    }
}
