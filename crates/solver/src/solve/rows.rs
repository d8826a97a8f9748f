//! Rows and columns of the decision, one function for each rule.

use std::collections::BTreeMap;

use super::backend::{Col, Model, Sense};
use super::bound::{Aim, Domain, Goal};
use super::options::DrawOption;
use super::tables::Tables;

/// Bound on the bees that go to one site; the engine holds whole columns in 32 bits.
pub(super) const MOST_BEES: i64 = 2_000_000_000;

/// Donors with the same options and the same bees, which share whole-number counts.
#[derive(Debug, Clone)]
pub(super) struct Kin {
    /// Positions in [`Tables::donors`].
    pub donors: Vec<usize>,
    pub options: Vec<DrawOption>,
    pub bee_rate: i64,
    pub stay: Vec<i64>,
    /// Whether its donors may stay closed.
    pub closed: bool,
    /// Whether its donors have already given something.
    pub opened: bool,
}

pub(super) struct Columns {
    pub kinds: Vec<Col>,
    pub options: Vec<Vec<Col>>,
    pub bees: Vec<Vec<Col>>,
    pub service: BTreeMap<(usize, usize), Col>,
    pub shelf: Vec<Col>,
    pub shaken: Vec<Col>,
}

/// What two options must share to share a column; the frame groups behind it may differ.
fn likeness(option: &DrawOption) -> (&[(usize, u32)], i64, i64, i64, i64) {
    (
        &option.supply,
        option.charge,
        option.most_bees,
        option.riding,
        option.otherwise,
    )
}

pub(super) fn kindred(tables: &Tables, domain: &Domain, goal: Goal) -> Vec<Kin> {
    let priced = goal.aim != Aim::Worth || goal.honey.is_some();
    let mut kin: BTreeMap<_, Vec<usize>> = BTreeMap::new();
    for (index, donor) in tables.donors.iter().enumerate() {
        let options = &domain.options[index];
        if !options.is_empty() {
            let rate = if priced { donor.bee_rate } else { 0 };
            let alike: Vec<_> = options.iter().map(likeness).collect();
            let key = (alike, rate, &donor.stay, domain.closed[index], donor.opened);
            kin.entry(key).or_default().push(index);
        }
    }
    kin.into_iter()
        .map(|((_, bee_rate, stay, closed, opened), donors)| Kin {
            options: domain.options[donors[0]].clone(),
            donors,
            bee_rate,
            stay: stay.clone(),
            closed,
            opened,
        })
        .collect()
}

/// Colonies opened, without those that are already.
pub(super) fn opened_terms(kin: &[Kin], columns: &Columns) -> Vec<(Col, f64)> {
    let new = kin
        .iter()
        .zip(&columns.options)
        .filter(|(kin, _)| !kin.opened);
    new.flat_map(|(_, columns)| columns.iter().map(|&col| (col, 1.0)))
        .collect()
}

/// Frames drawn otherwise, less those where every colony stays closed.
pub(super) fn otherwise_terms(kin: &[Kin], columns: &Columns) -> Vec<(Col, f64)> {
    let mut terms = Vec::new();
    for (kin, columns) in kin.iter().zip(&columns.options) {
        for (option, &col) in kin.options.iter().zip(columns) {
            if option.otherwise != 0 {
                terms.push((col, option.otherwise as f64));
            }
        }
    }
    terms
}

pub(super) fn worth_terms(tables: &Tables, columns: &Columns) -> Vec<(Col, f64)> {
    columns
        .kinds
        .iter()
        .zip(&tables.kinds)
        .map(|(&col, kind)| (col, (kind.worth * kind.step) as f64))
        .collect()
}

pub(super) fn honey_terms(kin: &[Kin], columns: &Columns) -> Vec<(Col, f64)> {
    let mut terms = Vec::new();
    for (index, kin) in kin.iter().enumerate() {
        for (option, &col) in kin.options.iter().zip(&columns.options[index]) {
            terms.push((col, option.charge as f64));
        }
        for &col in &columns.bees[index] {
            terms.push((col, kin.bee_rate as f64));
        }
    }
    terms.retain(|&(_, charge)| charge != 0.0);
    terms
}

/// Rule boxes is in the bounds: a kind's column counts compartments, or whole boxes.
pub(super) fn columns(
    model: &mut Model,
    tables: &Tables,
    domain: &Domain,
    kin: &[Kin],
    shakes: bool,
) -> Columns {
    let kinds = tables
        .kinds
        .iter()
        .zip(&domain.kinds)
        .map(|(kind, &(least, most))| {
            let least = (least + kind.step - 1).div_euclid(kind.step);
            model.between(least, most.div_euclid(kind.step).max(least))
        })
        .collect();
    let options = kin
        .iter()
        .map(|kin| {
            kin.options
                .iter()
                .map(|_| model.implied(kin.donors.len() as i64))
                .collect()
        })
        .collect();
    let bees = kin
        .iter()
        .map(|kin| {
            let most = kin
                .options
                .iter()
                .map(|option| option.most_bees)
                .max()
                .unwrap_or(0);
            let most = most * kin.donors.len() as i64;
            kin.stay
                .iter()
                .map(|&stay| model.share(if stay > 0 { most as f64 } else { 0.0 }))
                .collect()
        })
        .collect();
    let mut service = BTreeMap::new();
    for (class, serves) in tables.classes.iter().enumerate() {
        for need in serves
            .iter()
            .enumerate()
            .filter(|(_, rank)| rank.is_some())
            .map(|(n, _)| n)
        {
            service.insert((class, need), model.share(f64::INFINITY));
        }
    }
    let shelf = tables
        .store_room
        .iter()
        .map(|spares| model.share(spares.iter().map(|&(_, count)| f64::from(count)).sum()))
        .collect();
    let shaken = if shakes {
        kin.iter().map(|_| model.share(f64::INFINITY)).collect()
    } else {
        Vec::new()
    };
    Columns {
        kinds,
        options,
        bees,
        service,
        shelf,
        shaken,
    }
}

/// Rules keep and draw: one option for each colony, and the bees that it leaves free.
pub(super) fn draw_and_keep(model: &mut Model, kin: &[Kin], columns: &Columns) {
    for (index, kin) in kin.iter().enumerate() {
        let options = &columns.options[index];
        let one = options.iter().map(|&col| (col, 1.0)).collect();
        let sense = if kin.closed {
            Sense::AtMost
        } else {
            Sense::Equal
        };
        model.row(one, sense, kin.donors.len() as f64);
        let mut free: Vec<(Col, f64)> = columns.bees[index].iter().map(|&col| (col, 1.0)).collect();
        for (option, &col) in kin.options.iter().zip(options) {
            free.push((col, -(option.most_bees as f64)));
        }
        model.row(free, Sense::AtMost, 0.0);
    }
}

/// Rule supply: what serves a need was taken from a colony or the store room.
pub(super) fn supply(model: &mut Model, kin: &[Kin], columns: &Columns, exact: bool) {
    let mut rows: Vec<Vec<(Col, f64)>> =
        columns.shelf.iter().map(|&col| vec![(col, 1.0)]).collect();
    for (index, kin) in kin.iter().enumerate() {
        for (option, &col) in kin.options.iter().zip(&columns.options[index]) {
            for &(class, count) in &option.supply {
                rows[class].push((col, f64::from(count)));
            }
        }
    }
    for (&(class, _), &col) in &columns.service {
        rows[class].push((col, -1.0));
    }
    for row in rows {
        model.row(row, if exact { Sense::Equal } else { Sense::AtLeast }, 0.0);
    }
}

/// Rule recipe: each stocked compartment's lines are served.
pub(super) fn recipe(model: &mut Model, tables: &Tables, columns: &Columns) -> Vec<usize> {
    let mut rows = Vec::new();
    for (index, need) in tables.needs.iter().enumerate() {
        let kind = &tables.kinds[need.kind];
        let mut row: Vec<(Col, f64)> = columns
            .service
            .iter()
            .filter(|((_, served), _)| *served == index)
            .map(|(_, &col)| (col, 1.0))
            .collect();
        row.push((
            columns.kinds[need.kind],
            -((i64::from(need.each) * kind.step) as f64),
        ));
        rows.push(model.row(row, Sense::Equal, 0.0));
    }
    rows
}

/// Rule bees: what stays at a site is enough for its compartments.
///
/// Bees are whole. Where nothing is lost the rows are those of a network, so that whole frames
/// leave whole bees. Where some fly home, the totals from near and far are whole columns and
/// the rest is a network again.
pub(super) fn bees(
    model: &mut Model,
    tables: &Tables,
    kin: &[Kin],
    columns: &Columns,
) -> Vec<usize> {
    let mut rows = Vec::new();
    for site in 0..tables.sites.len() {
        let mut stay: BTreeMap<i64, Vec<(Col, f64)>> = BTreeMap::new();
        for (index, kin) in kin.iter().enumerate() {
            if kin.stay[site] > 0 {
                stay.entry(kin.stay[site])
                    .or_default()
                    .push((columns.bees[index][site], 1.0));
            }
        }
        let mut row: Vec<(Col, f64)> = Vec::new();
        let here = || tables.kinds.iter().filter(|kind| kind.site == site);
        let whole = here().all(|kind| kind.fewest % 1000 == 0);
        if whole && stay.keys().all(|&share| share == 1000) {
            row = stay.into_values().flatten().collect();
        } else {
            for (share, mut from) in stay {
                let total = model.whole(MOST_BEES);
                row.push((total, share as f64 / 1000.0));
                from.push((total, -1.0));
                model.row(from, Sense::AtLeast, 0.0);
            }
        }
        for (kind, &col) in tables.kinds.iter().zip(&columns.kinds) {
            if kind.site == site {
                row.push((col, -((kind.fewest * kind.step) as f64) / 1000.0));
            }
        }
        rows.push(model.row(row, Sense::AtLeast, 0.0));
    }
    rows
}

/// Rule cells: a cell of a fitting batch for each compartment.
pub(super) fn cells(model: &mut Model, tables: &Tables, columns: &Columns) -> Vec<usize> {
    let Some(batches) = &tables.cells else {
        return Vec::new();
    };
    let mut rows = Vec::new();
    let mut used: Vec<Vec<(Col, f64)>> = vec![Vec::new(); tables.kinds.len()];
    for (count, kinds) in batches {
        let mut row = Vec::new();
        for &kind in kinds {
            let col = model.share(f64::INFINITY);
            row.push((col, 1.0));
            used[kind].push((col, 1.0));
        }
        rows.push(model.row(row, Sense::AtMost, *count as f64));
    }
    for (index, mut row) in used.into_iter().enumerate() {
        row.push((columns.kinds[index], -(tables.kinds[index].step as f64)));
        model.row(row, Sense::AtLeast, 0.0);
    }
    rows
}

/// Goal 4: bees beyond those that ride on the frames.
pub(super) fn shaken(model: &mut Model, kin: &[Kin], columns: &Columns) {
    for (index, kin) in kin.iter().enumerate() {
        let mut row: Vec<(Col, f64)> = vec![(columns.shaken[index], 1.0)];
        row.extend(columns.bees[index].iter().map(|&col| (col, -1.0)));
        for (option, &col) in kin.options.iter().zip(&columns.options[index]) {
            row.push((col, option.riding as f64));
        }
        model.row(row, Sense::AtLeast, 0.0);
    }
}
