//! Bees for chosen frames: whole bees of each donor for each site.

use std::collections::BTreeMap;

use super::backend::{Answer, Model, Sense};
use super::choice::Choice;
use super::rows::MOST_BEES;
use super::tables::Tables;

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
    let (mut honey, mut shaken) = (Vec::new(), Vec::new());
    let mut totals = Vec::new();
    let mut columns: Vec<(usize, usize, usize)> = Vec::new();
    let mut from: Vec<BTreeMap<i64, Vec<(usize, f64)>>> = vec![BTreeMap::new(); tables.sites.len()];
    for (index, donor) in tables.donors.iter().enumerate() {
        let (riding, most) = limits[index];
        if choice.takes[index].is_none() {
            continue;
        }
        for (bees, shakes) in [(riding, false), (most - riding, true)] {
            if bees <= 0 {
                continue;
            }
            let mut all = Vec::new();
            for (site, &stay) in donor.stay.iter().enumerate() {
                if stay > 0 {
                    let col = model.share(bees as f64);
                    columns.push((index, site, col));
                    honey.push((col, donor.bee_rate));
                    if shakes {
                        shaken.push((col, 1));
                    }
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
        // Thousandths of bees.
        let demand: i64 = tables
            .kinds
            .iter()
            .zip(&choice.compartments)
            .filter(|(kind, _)| kind.site == site)
            .map(|(kind, &compartments)| kind.fewest * compartments)
            .sum();
        let mut row: Vec<(usize, f64)> = Vec::new();
        if demand % 1000 == 0 && from.keys().all(|&stay| stay == 1000) {
            row = from.into_values().flatten().collect();
        } else {
            for (stay, mut terms) in from {
                let total = model.whole(MOST_BEES);
                totals.push(total);
                row.push((total, stay as f64 / 1000.0));
                terms.push((total, -1.0));
                model.row(terms, Sense::Equal, 0.0);
            }
        }
        if demand > 0 {
            model.row(row, Sense::AtLeast, demand as f64 / 1000.0);
        }
    }
    if !totals.is_empty() {
        settle_totals(&mut model, &totals, &honey, &shaken)?;
    }
    // With the totals settled every corner is whole, and a corner of least weighted cost has
    // the least honey and then the fewest bees shaken.
    let most: i64 = limits.iter().map(|&(_, most)| most).sum();
    let weighted = honey
        .iter()
        .map(|&(col, rate)| (col, rate as f64 * (most + 1) as f64));
    let cost: Vec<(usize, f64)> = weighted
        .chain(shaken.iter().map(|&(col, one)| (col, one as f64)))
        .collect();
    model.minimise(&cost);
    let values = model.corner()?;
    let mut bees = vec![vec![0; tables.sites.len()]; tables.donors.len()];
    for (donor, site, col) in columns {
        bees[donor][site] += values[col].round() as i64;
    }
    Some(bees)
}

/// Settles how many bees come from near and how many from far: for the least honey first, then
/// for the fewest shaken among those. Each goal has a search of its own, since in one weighted
/// sum a bee would drown in the rounding of the honey.
fn settle_totals(
    model: &mut Model,
    totals: &[usize],
    honey: &[(usize, i64)],
    shaken: &[(usize, i64)],
) -> Option<()> {
    let floats = |terms: &[(usize, i64)], unit: f64| -> Vec<(usize, f64)> {
        terms
            .iter()
            .map(|&(col, amount)| (col, amount as f64 * unit))
            .collect()
    };
    let grams = floats(honey, 1e-3);
    model.minimise(&grams);
    let Answer::Best(values) = model.solve(None) else {
        return None;
    };
    let least: f64 = honey
        .iter()
        .map(|&(col, rate)| values[col] * rate as f64)
        .sum();
    let mut capped = model.clone();
    // Honey is whole milligrams, so half of one lets nothing dearer in.
    capped.row(grams, Sense::AtMost, (least.round() + 0.4) * 1e-3);
    capped.minimise(&floats(shaken, 1.0));
    if let Answer::Best(better) = capped.solve(None) {
        return fix(model, totals, &better);
    }
    fix(model, totals, &values)
}

fn fix(model: &mut Model, totals: &[usize], values: &[f64]) -> Option<()> {
    for &total in totals {
        model.row(vec![(total, 1.0)], Sense::Equal, values[total].round());
    }
    Some(())
}
