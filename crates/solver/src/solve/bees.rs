//! Bees for chosen frames: whole bees of each donor for each site.

use std::collections::BTreeMap;

use super::backend::{Answer, Model, Sense};
use super::choice::Choice;
use super::model::MOST_BEES;
use super::tables::Tables;

/// Weight of a milligram of honey against a bee shaken: more than all bees together.
const HONEY_FIRST: f64 = 1e7;
/// Shares the demand of each site among the opened donors, with the least honey and then the
/// fewest bees shaken. `limits` holds for each donor the bees on its frames that leave and the
/// most bees that may leave. `None` where the limits are too low.
///
/// Which donors are opened is settled, so the rows are those of a network and its corners are
/// whole, but for the totals from near and far, which are whole columns.
pub(super) fn share(
    tables: &Tables,
    choice: &Choice,
    limits: &[(i64, i64)],
) -> Option<Vec<Vec<i64>>> {
    let mut model = Model::default();
    let mut cost = Vec::new();
    let mut columns: Vec<(usize, usize, usize)> = Vec::new();
    let mut from: Vec<BTreeMap<i64, Vec<(usize, f64)>>> = vec![BTreeMap::new(); tables.sites.len()];
    for (index, donor) in tables.donors.iter().enumerate() {
        let (riding, most) = limits[index];
        if choice.takes[index].is_none() {
            continue;
        }
        for (bees, shaken) in [(riding, 0.0), (most - riding, 1.0)] {
            if bees <= 0 {
                continue;
            }
            let mut all = Vec::new();
            for (site, &stay) in donor.stay.iter().enumerate() {
                if stay > 0 {
                    let col = model.share(bees as f64);
                    columns.push((index, site, col));
                    cost.push((col, donor.bee_rate as f64 * HONEY_FIRST + shaken));
                    from[site].entry(stay).or_default().push((col, 1.0));
                    all.push((col, 1.0));
                }
            }
            if all.len() > 1 {
                model.row(all, Sense::AtMost, bees as f64);
            }
        }
    }
    for (site, from) in from.into_iter().enumerate() {
        let demand: i64 = tables
            .kinds
            .iter()
            .zip(&choice.compartments)
            .filter(|(kind, _)| kind.site == site)
            .map(|(kind, &compartments)| kind.bees * compartments)
            .sum();
        let mut row: Vec<(usize, f64)> = Vec::new();
        if from.keys().all(|&stay| stay == 1000) {
            row = from.into_values().flatten().collect();
        } else {
            for (stay, mut terms) in from {
                let total = model.whole(MOST_BEES);
                row.push((total, stay as f64 / 1000.0));
                terms.push((total, -1.0));
                model.row(terms, Sense::Equal, 0.0);
            }
        }
        if demand > 0 {
            model.row(row, Sense::AtLeast, demand as f64);
        }
    }
    model.minimise(&cost);
    let (Answer::Best(values) | Answer::Stopped(values)) = model.solve(None) else {
        return None;
    };
    let mut bees = vec![vec![0; tables.sites.len()]; tables.donors.len()];
    for (donor, site, col) in columns {
        bees[donor][site] += values[col].round() as i64;
    }
    Some(bees)
}
