//! The decision over a domain, towards one goal.

use super::backend::{Col, Model, Sense};
use super::bound::{Aim, Domain, Goal, RowPrices};
use super::choice::Choice;
use super::rows::{
    Columns, Kin, bees, cells, columns, draw_and_keep, honey_terms, kindred, opened_terms,
    otherwise_terms, recipe, shaken, supply, worth_terms,
};
use super::tables::Tables;

/// Rows that tie colonies together.
#[derive(Default)]
struct Rows {
    needs: Vec<usize>,
    sites: Vec<usize>,
    cells: Vec<usize>,
    worth: Option<usize>,
    honey: Option<usize>,
    otherwise: Option<usize>,
    opened: Option<usize>,
    /// The worth that is missing, where the relaxation may miss some.
    missing: Option<Col>,
}

/// The decision over a domain, towards one goal.
pub(super) struct Decision<'a> {
    tables: &'a Tables,
    domain: &'a Domain,
    /// What the aim comes to where the objective is 0.
    base: i64,
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

    /// Lets in nothing above a value of a goal that counts frames, colonies or bees.
    pub fn hold_down(&mut self, most: i64) {
        self.model.hold_down((most - self.base) as f64 + SLACK);
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
                Aim::Otherwise => option.otherwise.abs(),
                Aim::Opened => 1,
                Aim::Shaken => option.most_bees,
            });
            each.max().unwrap_or(0) as f64 * kin.donors.len() as f64
        };
        self.kin.iter().map(most).sum()
    }

    fn with_slack(tables: &'a Tables, domain: &'a Domain, goal: Goal, slack: f64) -> Self {
        let exact = goal.exact(tables);
        let kin = kindred(tables, domain, goal);
        let mut model = Model::default();
        let shakes = goal.aim == Aim::Shaken;
        let columns = columns(&mut model, tables, domain, &kin, shakes);
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
        let opened = opened_terms(&kin, &columns);
        if let Some(least) = goal.worth {
            rows.worth = Some(model.row(worth.clone(), Sense::AtLeast, least as f64));
        }
        if let Some(most) = goal.honey {
            let most = most - tables.base(Aim::Honey);
            rows.honey =
                Some(model.row(honey.clone(), Sense::AtMost, (most as f64 + slack) * 1e-3));
        }
        let otherwise = otherwise_terms(&kin, &columns);
        if let Some(most) = goal.otherwise {
            let most = (most - tables.base(Aim::Otherwise)) as f64 + SLACK;
            rows.otherwise = Some(model.row(otherwise.clone(), Sense::AtMost, most));
        }
        if let Some(most) = goal.opened {
            let most = (most - tables.base(Aim::Opened)) as f64 + SLACK;
            rows.opened = Some(model.row(opened.clone(), Sense::AtMost, most));
        }
        match goal.aim {
            Aim::Worth => model.minimise(&scaled(&worth, -1.0)),
            Aim::Honey => model.minimise(&honey),
            Aim::Otherwise => model.minimise(&otherwise),
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
            base: tables.base(goal.aim),
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
            otherwise: self.rows.otherwise.as_ref().map_or(0.0, |row| -price(row)),
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
