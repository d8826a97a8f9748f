//! Rules bees and boxes: what a compartment needs besides frames.

use super::words::{breach, counted, milli_bees, place_of};
use super::{Breach, Rule};
use crate::Plan;
use crate::plan::Compartment;
use crate::scenario::{BoxId, Scenario, SiteId};
use std::collections::{BTreeMap, BTreeSet};

/// Thousandths of the bees taken that stay. A distance that is not given counts as 0 m.
fn staying(scenario: &Scenario, donor: SiteId, site: SiteId) -> i128 {
    let metres = scenario
        .distances
        .get(donor.0)
        .and_then(|row| row.get(site.0))
        .copied()
        .unwrap_or(0);
    if metres < scenario.drift.homing_metres {
        1000 - i128::from(scenario.drift.flying.0.clamp(0, 1000))
    } else {
        1000
    }
}

pub(super) fn bees(scenario: &Scenario, plan: &Plan, breaches: &mut Vec<Breach>) {
    let rule = Rule::Bees;
    // By box site: thousandths of bees that stay, and bees asked for.
    let mut sites: BTreeMap<SiteId, (i128, i128)> = BTreeMap::new();
    for compartment in &plan.compartments {
        for placed in &compartment.bees {
            if placed.bees.0 <= 0 {
                breaches.push(breach(
                    rule,
                    &place_of(scenario, compartment),
                    format!("{} from one colony", counted(placed.bees.0, "bee", "bees")),
                    "1 bee or more",
                ));
            }
        }
        let Some(kind) = scenario.boxes.get(compartment.kind.0) else {
            continue;
        };
        let stay: i128 = compartment
            .bees
            .iter()
            .filter_map(|placed| {
                let colony = scenario.colonies.get(placed.colony.0)?;
                let bees = i128::from(placed.bees.0.max(0));
                Some(bees * staying(scenario, colony.site, kind.site))
            })
            .sum();
        let fewest = i128::from(kind.bees.0);
        // The loss is of whole bees, rounded down.
        if stay <= 1000 * (fewest - 1) {
            breaches.push(breach(
                rule,
                &place_of(scenario, compartment),
                format!("{} bees stay", milli_bees(stay)),
                format!("at least {}", counted(fewest, "bee", "bees")),
            ));
        }
        let (site_stay, site_fewest) = sites.entry(kind.site).or_default();
        *site_stay += stay;
        *site_fewest += fewest;
    }
    for (site, (stay, fewest)) in sites {
        if stay < 1000 * fewest {
            let name = scenario
                .sites
                .get(site.0)
                .map_or("unknown", |s| s.name.as_str());
            breaches.push(breach(
                rule,
                &format!("site {name}"),
                format!(
                    "{} bees stay in all compartments together",
                    milli_bees(stay)
                ),
                format!("at least {}", counted(fewest, "bee", "bees")),
            ));
        }
    }
}

pub(super) fn boxes(scenario: &Scenario, plan: &Plan, breaches: &mut Vec<Breach>) {
    let rule = Rule::Boxes;
    let mut seen: BTreeSet<(BoxId, u32, u32)> = BTreeSet::new();
    // Compartments stocked of each box that exists.
    let mut stocked: BTreeMap<(BoxId, u32), u32> = BTreeMap::new();
    for compartment in &plan.compartments {
        let Compartment {
            kind: id,
            box_no,
            place,
            ..
        } = compartment;
        let name = || place_of(scenario, compartment);
        let Some(kind) = scenario.boxes.get(id.0) else {
            breaches.push(breach(
                rule,
                &format!("kind of box {}", id.0.saturating_add(1)),
                "a compartment of it",
                counted(scenario.boxes.len() as i128, "kind of box", "kinds of box"),
            ));
            continue;
        };
        let exists = *box_no < kind.count && *place < kind.compartments;
        if *box_no >= kind.count {
            breaches.push(breach(
                rule,
                &name(),
                format!("box {}", u64::from(*box_no) + 1),
                counted(kind.count, "box", "boxes"),
            ));
        }
        if *place >= kind.compartments {
            breaches.push(breach(
                rule,
                &name(),
                format!("compartment {}", u64::from(*place) + 1),
                counted(kind.compartments, "compartment", "compartments"),
            ));
        }
        if !seen.insert((*id, *box_no, *place)) {
            breaches.push(breach(
                rule,
                &name(),
                "stocked more than once",
                "stocked once",
            ));
        } else if exists {
            *stocked.entry((*id, *box_no)).or_default() += 1;
        }
    }
    // A box that is begun need not be stocked whole.
    let begun = |id, box_no| {
        let mut records = scenario.done.iter();
        records.any(|record| (record.kind, record.box_no) == (id, box_no))
    };
    for ((id, box_no), count) in stocked {
        if let Some(kind) = scenario.boxes.get(id.0)
            && kind.whole
            && count != kind.compartments
            && !begun(id, box_no)
        {
            breaches.push(breach(
                rule,
                &format!("{}, box {}", kind.name, u64::from(box_no) + 1),
                format!("{} stocked", counted(count, "compartment", "compartments")),
                format!("all {} or none", kind.compartments),
            ));
        }
    }
}
