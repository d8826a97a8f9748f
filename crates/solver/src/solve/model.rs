//! The decision as rows and columns, one function for each rule.

use std::collections::BTreeMap;

use super::backend::{Col, Model, Sense};
use super::bound::{Aim, Domain, Goal, RowPrices};
use super::choice::Choice;
use super::options::DrawOption;
use super::tables::Tables;

/// Bound on the bees that go to one site; the engine holds whole columns in 32 bits.
pub(super) const MOST_BEES: i64 = 2_000_000_000;

/// Donors with the same options and the same bees, which share whole-number counts.
#[derive(Debug, Clone)]
struct Kin {
    /// Positions in [`Tables::donors`].
    donors: Vec<usize>,
    options: Vec<DrawOption>,
    bee_rate: i64,
    stay: Vec<i64>,
    /// Whether its donors may stay closed.
    closed: bool,
}

struct Columns {
    kinds: Vec<Col>,
    options: Vec<Vec<Col>>,
    bees: Vec<Vec<Col>>,
    service: BTreeMap<(usize, usize), Col>,
    shelf: Vec<Col>,
    shaken: Vec<Col>,
}

/// Rows that tie colonies together.
#[derive(Default)]
struct Rows {
    needs: Vec<usize>,
    sites: Vec<usize>,
    cells: Vec<usize>,
    worth: Option<usize>,
    honey: Option<usize>,
    opened: Option<usize>,
    /// The worth that is missing, where the relaxation may miss some.
    missing: Option<Col>,
}

/// The decision over a domain, towards one goal.
pub(super) struct Decision<'a> {
    tables: &'a Tables,
    domain: &'a Domain,
    kin: Vec<Kin>,
    pub model: Model,
    columns: Columns,
    rows: Rows,
}

/// How many times its share of all that could be given up a unit of worth that is missing costs.
const DEAR: f64 = 10.0;

/// Added to a whole upper limit: less than one unit lets nothing worse in.
const SLACK: f64 = 0.4;

fn scaled(terms: &[(Col, f64)], factor: f64) -> Vec<(Col, f64)> {
    terms
        .iter()
        .map(|&(col, value)| (col, value * factor))
        .collect()
}

fn whole(value: f64) -> i64 {
    value.round() as i64
}

impl<'a> Decision<'a> {
    /// All columns, then one function for each rule, then the goal.
    pub fn new(tables: &'a Tables, domain: &'a Domain, goal: Goal) -> Self {
        Self::with_slack(tables, domain, goal, SLACK)
    }

    /// The same for the relaxation, with room in the rows of settled goals: an interior point
    /// method finds no good prices where there is next to no interior, and none at all where
    /// there is no point. So it may miss worth at a price, which shows in a bound above all
    /// values where a domain has no plan. The bound holds whatever the prices are.
    pub fn roomy(tables: &'a Tables, domain: &'a Domain, goal: Goal) -> Self {
        let honey = goal.honey.map_or(0.0, |most| most as f64);
        let mut decision = Self::with_slack(tables, domain, goal, 10.0 + honey * 1e-6);
        if let (Some(row), Some(worth)) = (decision.rows.worth, goal.worth) {
            let price = DEAR * decision.most(goal.aim) / (worth as f64).max(1.0);
            let missing = decision.model.missing(row, price);
            decision.rows.missing = Some(missing);
        }
        decision
    }

    /// Lets in nothing above a value of goal 3 or 4.
    pub fn hold_down(&mut self, most: i64) {
        self.model.hold_down(most as f64 + SLACK);
    }

    /// Instead of the goal: least sum of places in the orders of preference, then fewest frames
    /// from colonies.
    pub fn prefer(&mut self) {
        let wanted: i64 = self.tables.wanted().iter().sum();
        let frames = wanted as f64;
        let mut cost = Vec::new();
        for (&(class, need), &col) in &self.columns.service {
            if let Some(place) = self.tables.classes[class][need] {
                cost.push((col, f64::from(place) * (frames + 1.0)));
            }
        }
        for (kin, columns) in self.kin.iter().zip(&self.columns.options) {
            for (option, &col) in kin.options.iter().zip(columns) {
                let count: u32 = option.supply.iter().map(|&(_, count)| count).sum();
                cost.push((col, f64::from(count)));
            }
        }
        self.model.minimise(&cost);
    }

    /// What the aim comes to if every colony gives all it may, in the model's unit.
    fn most(&self, aim: Aim) -> f64 {
        let most = |kin: &Kin| {
            let each = kin.options.iter().map(|option| match aim {
                Aim::Worth => 0,
                Aim::Honey => (option.charge + option.most_bees * kin.bee_rate) / 1000,
                Aim::Opened => 1,
                Aim::Shaken => option.most_bees,
            });
            each.max().unwrap_or(0) as f64 * kin.donors.len() as f64
        };
        self.kin.iter().map(most).sum()
    }

    fn with_slack(tables: &'a Tables, domain: &'a Domain, goal: Goal, slack: f64) -> Self {
        let exact = goal.aim == Aim::Shaken;
        let kin = kindred(tables, domain, goal);
        let mut model = Model::default();
        let columns = columns(&mut model, tables, domain, &kin, exact);
        draw_and_keep(&mut model, &kin, &columns);
        supply(&mut model, &kin, &columns, exact);
        let mut rows = Rows {
            needs: recipe(&mut model, tables, &columns),
            sites: bees(&mut model, tables, &kin, &columns),
            cells: cells(&mut model, tables, &columns),
            ..Rows::default()
        };
        let worth = worth_terms(tables, &columns);
        let honey = scaled(&honey_terms(&kin, &columns), 1e-3);
        let opened: Vec<(Col, f64)> = columns
            .options
            .iter()
            .flatten()
            .map(|&col| (col, 1.0))
            .collect();
        if let Some(least) = goal.worth {
            rows.worth = Some(model.row(worth.clone(), Sense::AtLeast, least as f64));
        }
        if let Some(most) = goal.honey {
            rows.honey =
                Some(model.row(honey.clone(), Sense::AtMost, (most as f64 + slack) * 1e-3));
        }
        if let Some(most) = goal.opened {
            rows.opened = Some(model.row(opened.clone(), Sense::AtMost, most as f64 + SLACK));
        }
        match goal.aim {
            Aim::Worth => model.minimise(&scaled(&worth, -1.0)),
            Aim::Honey => model.minimise(&honey),
            Aim::Opened => model.minimise(&opened),
            Aim::Shaken => {
                shaken(&mut model, &kin, &columns);
                let shaken: Vec<_> = columns.shaken.iter().map(|&col| (col, 1.0)).collect();
                model.minimise(&shaken);
            }
        }
        Self {
            tables,
            domain,
            kin,
            model,
            columns,
            rows,
        }
    }

    /// Prices of the rows that tie colonies together, and compartments of each kind, from the
    /// relaxation. `None` where the engine gives none.
    pub fn relax(&self, goal: Goal) -> Option<(RowPrices, Vec<f64>)> {
        let relaxed = self.model.relax()?;
        // The model counts honey in grams; a goal counts milligrams.
        let unit = if goal.aim == Aim::Honey { 1e3 } else { 1.0 };
        let price = |row: &usize| relaxed.prices[*row] * unit;
        let prices = RowPrices {
            needs: self.rows.needs.iter().map(price).collect(),
            sites: self.rows.sites.iter().map(price).collect(),
            cells: self.rows.cells.iter().map(|row| -price(row)).collect(),
            worth: self.rows.worth.as_ref().map_or(0.0, price),
            honey: self
                .rows
                .honey
                .as_ref()
                .map_or(0.0, |row| -price(row) * 1e-3),
            opened: self.rows.opened.as_ref().map_or(0.0, |row| -price(row)),
        };
        let kinds = self.tables.kinds.iter().zip(&self.columns.kinds);
        let kinds = kinds
            .map(|(kind, &col)| relaxed.values[col] * kind.step as f64)
            .collect();
        Some((prices, kinds))
    }

    /// How far each donor is opened at a corner of the relaxation.
    pub fn opened(&self) -> Option<Vec<f64>> {
        let values = self.model.corner()?;
        let mut opened = vec![0.0; self.tables.donors.len()];
        for (kin, columns) in self.kin.iter().zip(&self.columns.options) {
            let share: f64 = columns.iter().map(|&col| values[col]).sum();
            for &donor in &kin.donors {
                opened[donor] = share / kin.donors.len() as f64;
            }
        }
        Some(opened)
    }

    /// The domain with every donor settled that column values settle: one option whole, or none
    /// at all. Donors for which `free` holds stay as they are.
    pub fn settle(&self, domain: &Domain, values: &[f64], free: &dyn Fn(usize) -> bool) -> Domain {
        const NEAR: f64 = 1e-6;
        let mut settled = domain.clone();
        for (kin, columns) in self.kin.iter().zip(&self.columns.options) {
            let mut donors = kin.donors.iter().copied().filter(|&donor| !free(donor));
            let mut part = false;
            for (place, &col) in columns.iter().enumerate() {
                part |= (values[col] - values[col].round()).abs() > NEAR;
                let count = usize::try_from((values[col] + NEAR).floor() as i64).unwrap_or(0);
                for donor in donors.by_ref().take(count) {
                    settled.options[donor] = vec![domain.options[donor][place].clone()];
                    settled.closed[donor] = false;
                }
            }
            // Where a fraction is left over, the remaining kin stay free.
            if !part && kin.closed {
                for donor in donors {
                    settled.options[donor].clear();
                }
            }
        }
        settled
    }

    /// Turns column values into a choice for each donor.
    pub fn read(&self, values: &[f64]) -> Option<Choice> {
        let tables = self.tables;
        let mut choice = Choice::none(tables);
        for (index, kind) in tables.kinds.iter().enumerate() {
            choice.compartments[index] = whole(values[self.columns.kinds[index]]) * kind.step;
        }
        let mut limits = vec![(0, 0); tables.donors.len()];
        for (kin, columns) in self.kin.iter().zip(&self.columns.options) {
            let mut donors = kin.donors.iter();
            for (place, &col) in columns.iter().enumerate() {
                let count = usize::try_from(whole(values[col])).unwrap_or(0);
                for &donor in donors.by_ref().take(count) {
                    let option = &self.domain.options[donor][place];
                    choice.takes[donor] = Some(option.take.clone());
                    limits[donor] = (option.riding, option.most_bees);
                }
            }
        }
        choice.bees = super::bees::share(tables, &choice, &limits)?;
        Some(choice)
    }
}

/// What two options must share to share a column; the frame groups behind it may differ.
fn likeness(option: &DrawOption) -> (&[(usize, u32)], i64, i64, i64) {
    (
        &option.supply,
        option.charge,
        option.most_bees,
        option.riding,
    )
}

fn kindred(tables: &Tables, domain: &Domain, goal: Goal) -> Vec<Kin> {
    let priced = goal.aim != Aim::Worth || goal.honey.is_some();
    let mut kin: BTreeMap<_, Vec<usize>> = BTreeMap::new();
    for (index, donor) in tables.donors.iter().enumerate() {
        let options = &domain.options[index];
        if !options.is_empty() {
            let rate = if priced { donor.bee_rate } else { 0 };
            let alike: Vec<_> = options.iter().map(likeness).collect();
            let key = (alike, rate, &donor.stay, domain.closed[index]);
            kin.entry(key).or_default().push(index);
        }
    }
    kin.into_iter()
        .map(|((_, bee_rate, stay, closed), donors)| Kin {
            options: domain.options[donors[0]].clone(),
            donors,
            bee_rate,
            stay: stay.clone(),
            closed,
        })
        .collect()
}

fn worth_terms(tables: &Tables, columns: &Columns) -> Vec<(Col, f64)> {
    columns
        .kinds
        .iter()
        .zip(&tables.kinds)
        .map(|(&col, kind)| (col, (kind.worth * kind.step) as f64))
        .collect()
}

fn honey_terms(kin: &[Kin], columns: &Columns) -> Vec<(Col, f64)> {
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
fn columns(
    model: &mut Model,
    tables: &Tables,
    domain: &Domain,
    kin: &[Kin],
    exact: bool,
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
    let shaken = if exact {
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
fn draw_and_keep(model: &mut Model, kin: &[Kin], columns: &Columns) {
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
fn supply(model: &mut Model, kin: &[Kin], columns: &Columns, exact: bool) {
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
fn recipe(model: &mut Model, tables: &Tables, columns: &Columns) -> Vec<usize> {
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
fn bees(model: &mut Model, tables: &Tables, kin: &[Kin], columns: &Columns) -> Vec<usize> {
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
        if stay.keys().all(|&share| share == 1000) {
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
                row.push((col, -((kind.bees * kind.step) as f64)));
            }
        }
        rows.push(model.row(row, Sense::AtLeast, 0.0));
    }
    rows
}

/// Rule cells: a cell of a fitting batch for each compartment.
fn cells(model: &mut Model, tables: &Tables, columns: &Columns) -> Vec<usize> {
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
fn shaken(model: &mut Model, kin: &[Kin], columns: &Columns) {
    for (index, kin) in kin.iter().enumerate() {
        let mut row: Vec<(Col, f64)> = vec![(columns.shaken[index], 1.0)];
        row.extend(columns.bees[index].iter().map(|&col| (col, -1.0)));
        for (option, &col) in kin.options.iter().zip(&columns.options[index]) {
            row.push((col, option.riding as f64));
        }
        model.row(row, Sense::AtLeast, 0.0);
    }
}
