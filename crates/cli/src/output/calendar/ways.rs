//! Ways from donors to boxes that stand elsewhere.

use super::super::build::decimal;
use super::super::words::clean;
use super::build::Round;
use super::entries::{entry, one};
use super::record::{Entry, EntryKind};

/// One entry for each way from donors to boxes that stand elsewhere.
pub(super) fn ways(round: &Round) -> Vec<Entry> {
    let sites = &round.scenario.sites;
    let at = |name: &str| sites.iter().position(|site| site.name == name);
    let homing = round.scenario.drift.homing_metres;
    let mut list = Vec::new();
    for load in &round.report.carry {
        let Some(from) = load
            .from_site
            .as_deref()
            .filter(|from| *from != load.to_site)
        else {
            continue;
        };
        let metres = at(from).zip(at(&load.to_site)).and_then(|(from, to)| {
            let row = round.scenario.distances.get(from)?;
            row.get(to).copied()
        });
        let km = |metres: u64| decimal(i64::try_from(metres / 100).unwrap_or(i64::MAX), 10.0);
        let metres = metres.unwrap_or(0);
        let (title, far) = match metres >= homing {
            true => (
                "Move beyond homing distance",
                format!(
                    "beyond the homing distance of {} km: none flies home",
                    km(homing)
                ),
            ),
            false => (
                "Carry to the mating site",
                format!(
                    "nearer than the homing distance of {} km: bees fly home",
                    km(homing)
                ),
            ),
        };
        list.push(Entry {
            site: Some(load.to_site.clone()),
            detail: format!(
                "From {} to {}, {} km, {far}. Shut, shaded and aired on the way.",
                clean(from),
                clean(&load.to_site),
                km(metres)
            ),
            basis: "sites and homing distance of the scenario".to_owned(),
            ..entry(
                &format!("move-{}", list.len() + 1),
                EntryKind::Work,
                one(round.days.stocking),
                title,
            )
        });
    }
    list
}
