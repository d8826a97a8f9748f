//! Exact bounds: what no plan can do better than, and which options no better plan can use.
//!
//! Every rule that ties colonies together gets a price, and each colony, kind of box and shelf
//! then does for itself whatever is cheapest at these prices. The total is a lower bound
//! whatever the prices are (weak duality), and it is summed in whole numbers. Prices come from
//! the relaxation and are rounded; a bad price only makes the bound weak.

use super::options::DrawOption;
use super::tables::{Donor, Tables};

/// Prices are whole multiples of 1/`SCALE` of a goal's unit.
const SCALE: i128 = 1 << 30;

/// A goal, and what the goals before it have settled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Goal {
    pub aim: Aim,
    /// Least worth.
    pub worth: Option<i64>,
    /// Most honey, mg.
    pub honey: Option<i64>,
    /// Most frames drawn otherwise than in an earlier plan.
    pub otherwise: Option<i64>,
    /// Most colonies opened.
    pub opened: Option<i64>,
}

impl Goal {
    /// No frame may leave that nothing needs. So it is for the bees that ride on frames, where
    /// frames are to be those of an earlier plan, and where some are wished for.
    pub fn exact(&self, tables: &Tables) -> bool {
        tables.wishes
            || self.otherwise.is_some()
            || matches!(self.aim, Aim::Otherwise | Aim::Shaken)
    }
}

/// What is made least.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Aim {
    /// Worth, counted negative.
    Worth,
    /// Honey charged, mg.
    Honey,
    /// Frames drawn otherwise than in an earlier plan; pursued where there is one.
    Otherwise,
    /// Colonies opened.
    Opened,
    /// Bees shaken.
    Shaken,
}

impl RowPrices {
    /// No row has a price.
    pub fn none(tables: &Tables) -> Self {
        Self {
            needs: vec![0.0; tables.needs.len()],
            sites: vec![0.0; tables.sites.len()],
            cells: vec![0.0; tables.cells.as_ref().map_or(0, Vec::len)],
            ..Self::default()
        }
    }
}

/// Prices of the rows that tie colonies together, in the aim's unit.
#[derive(Debug, Clone, Default)]
pub(super) struct RowPrices {
    /// For one frame more of each need.
    pub needs: Vec<f64>,
    /// For one bee more that stays at each site.
    pub sites: Vec<f64>,
    /// For one cell less of each batch.
    pub cells: Vec<f64>,
    /// For one thousandth of worth more.
    pub worth: f64,
    /// For one mg of honey less.
    pub honey: f64,
    /// For one frame less that is drawn otherwise.
    pub otherwise: f64,
    /// For one colony less.
    pub opened: f64,
}

/// Which options, boxes and closed colonies are still in question.
#[derive(Debug, Clone)]
pub(super) struct Domain {
    /// For each donor, its options.
    pub options: Vec<Vec<DrawOption>>,
    /// For each donor, whether it may stay closed.
    pub closed: Vec<bool>,
    /// For each kind of box, least and most compartments.
    pub kinds: Vec<(i64, i64)>,
}

impl Domain {
    /// Rounds the ranges of compartments inwards to what whole boxes can have.
    pub fn round(&mut self, tables: &Tables) {
        for (kind, (least, most)) in tables.kinds.iter().zip(&mut self.kinds) {
            *least = (*least + kind.step - 1).div_euclid(kind.step) * kind.step;
            *most = most.div_euclid(kind.step) * kind.step;
        }
    }

    /// No number of compartments is left for some kind of box, or no option for a donor that
    /// must be opened.
    pub fn is_empty(&self) -> bool {
        let mut donors = self.options.iter().zip(&self.closed);
        self.kinds.iter().any(|(least, most)| least > most)
            || donors.any(|(options, &closed)| options.is_empty() && !closed)
    }

    /// How much is still in question; less after narrowing that took anything out.
    pub fn size(&self) -> i64 {
        let options: usize = self.options.iter().map(Vec::len).sum();
        let closed = self.closed.iter().filter(|&&closed| closed).count();
        let kinds: i64 = self.kinds.iter().map(|(least, most)| most - least).sum();
        kinds + (options + closed) as i64
    }
}

/// A bound with what each choice adds to it.
#[derive(Debug, Clone)]
pub(super) struct Bound {
    goal: Goal,
    needs: Vec<i128>,
    classes: Vec<i128>,
    sites: Vec<i128>,
    honey: i128,
    otherwise: i128,
    opened: i128,
    kinds: Vec<i128>,
    /// For each donor, what it costs at best.
    donors: Vec<i128>,
    total: i128,
}

fn scaled(price: f64, most: f64) -> i128 {
    // A price that is no number or out of all proportion is no price.
    if price.is_finite() && price.abs() < most {
        (price * SCALE as f64).round() as i128
    } else {
        0
    }
}

impl Bound {
    /// The bound over a domain at these prices.
    pub fn new(tables: &Tables, domain: &Domain, goal: Goal, prices: &RowPrices) -> Self {
        let exact = goal.exact(tables);
        let price = |value: f64| scaled(value, 1e9);
        let above_0 = |value: f64| price(value).max(0);
        let needs: Vec<i128> = prices
            .needs
            .iter()
            .map(|&value| if exact { price(value) } else { above_0(value) })
            .collect();
        let cells: Vec<i128> = prices.cells.iter().map(|&value| above_0(value)).collect();
        let worth = above_0(prices.worth);
        let mut bound = Self {
            goal,
            classes: tables
                .classes
                .iter()
                .map(|serves| {
                    let served = serves.iter().zip(&needs).filter(|(rank, _)| rank.is_some());
                    served.map(|(_, &price)| price).max().unwrap_or(0)
                })
                .collect(),
            needs,
            // A thousandth of a bee is what a stay is counted in.
            sites: prices
                .sites
                .iter()
                .map(|&value| above_0(value / 1000.0))
                .collect(),
            honey: above_0(prices.honey),
            otherwise: above_0(prices.otherwise),
            opened: above_0(prices.opened),
            kinds: Vec::new(),
            donors: Vec::new(),
            total: 0,
        };
        bound.kinds = (0..tables.kinds.len())
            .map(|kind| bound.kind_cost(tables, kind, worth, &cells))
            .collect();
        bound.donors = domain
            .options
            .iter()
            .enumerate()
            .map(|(index, options)| {
                let cheapest = options
                    .iter()
                    .map(|option| bound.cost(&tables.donors[index], option))
                    .min();
                match (cheapest, domain.closed[index]) {
                    (Some(cost), true) => cost.min(0),
                    (Some(cost), false) => cost,
                    (None, _) => 0,
                }
            })
            .collect();
        bound.total = bound.donors.iter().sum();
        for (class, spares) in tables.store_room.iter().enumerate() {
            let count: i128 = spares.iter().map(|&(_, count)| i128::from(count)).sum();
            bound.total -= count * bound.classes[class].max(0);
        }
        for (&cost, &(least, most)) in bound.kinds.iter().zip(&domain.kinds) {
            bound.total += cost * i128::from(if cost > 0 { least } else { most });
        }
        if let Some(batches) = &tables.cells {
            for ((count, _), price) in batches.iter().zip(&cells) {
                bound.total -= price * i128::from(*count);
            }
        }
        bound.total += worth * i128::from(goal.worth.unwrap_or(0));
        // Options count from where nothing more is taken.
        bound.total += SCALE * i128::from(tables.base(goal.aim));
        let settled = |most: Option<i64>, aim: Aim| {
            let base = tables.base(aim);
            i128::from(most.map_or(0, |most| most - base))
        };
        bound.total -= bound.honey * settled(goal.honey, Aim::Honey);
        bound.total -= bound.otherwise * settled(goal.otherwise, Aim::Otherwise);
        bound.total -= bound.opened * settled(goal.opened, Aim::Opened);
        bound
    }

    /// What one more compartment of a kind costs at these prices.
    fn kind_cost(&self, tables: &Tables, index: usize, worth: i128, cells: &[i128]) -> i128 {
        let kind = &tables.kinds[index];
        let mut cost = self.sites[kind.site] * i128::from(kind.fewest);
        for (need, price) in tables.needs.iter().zip(&self.needs) {
            if need.kind == index {
                cost += price * i128::from(need.each);
            }
        }
        if let Some(batches) = &tables.cells {
            let fitting = batches
                .iter()
                .zip(cells)
                .filter(|((_, kinds), _)| kinds.contains(&index));
            cost += fitting.map(|(_, &price)| price).min().unwrap_or(0);
        }
        let aim = if self.goal.aim == Aim::Worth {
            SCALE
        } else {
            0
        };
        cost - (worth + aim) * i128::from(kind.worth)
    }

    /// What an option costs at these prices, with the bees that are then best taken.
    fn cost(&self, donor: &Donor, option: &DrawOption) -> i128 {
        let aimed = |aim| if self.goal.aim == aim { SCALE } else { 0 };
        let shake = aimed(Aim::Shaken);
        let honey = aimed(Aim::Honey) + self.honey;
        let mut cost = honey * i128::from(option.charge);
        if !donor.opened {
            cost += aimed(Aim::Opened) + self.opened;
        }
        cost += (aimed(Aim::Otherwise) + self.otherwise) * i128::from(option.otherwise);
        for &(class, count) in &option.supply {
            cost -= self.classes[class] * i128::from(count);
        }
        let best = donor
            .stay
            .iter()
            .zip(&self.sites)
            .map(|(&stay, price)| price * i128::from(stay));
        let gain = best.max().unwrap_or(0) - honey * i128::from(donor.bee_rate);
        cost -= gain.max(0) * i128::from(option.riding);
        cost - (gain - shake).max(0) * i128::from(option.most_bees - option.riding)
    }

    /// Whether any row has a price at all. Without one, nothing is ever left out.
    pub fn is_blind(&self) -> bool {
        let rows = self.needs.iter().chain(&self.sites).chain([
            &self.honey,
            &self.otherwise,
            &self.opened,
        ]);
        rows.into_iter().all(|&price| price == 0)
    }

    /// The least whole value that a plan in the domain can have.
    pub fn least(&self) -> i64 {
        let rounded = self.total.div_euclid(SCALE) + i128::from(self.total.rem_euclid(SCALE) > 0);
        i64::try_from(rounded).unwrap_or(i64::MIN)
    }

    /// Removes whatever no plan with a value of `value` or less can use.
    pub fn narrow(&self, tables: &Tables, domain: &mut Domain, value: i64) {
        let room = i128::from(value) * SCALE - self.total;
        for (index, options) in domain.options.iter_mut().enumerate() {
            let donor = &tables.donors[index];
            let best = self.donors[index];
            options.retain(|option| self.cost(donor, option) - best <= room);
            domain.closed[index] &= -best <= room;
        }
        for (&cost, (least, most)) in self.kinds.iter().zip(&mut domain.kinds) {
            if *least > *most {
                continue;
            }
            let steps = room.max(0) / cost.abs().max(1);
            let steps = i64::try_from(steps).unwrap_or(i64::MAX);
            if cost > 0 {
                *most = (*most).min(least.saturating_add(steps));
            } else if cost < 0 {
                *least = (*least).max(most.saturating_sub(steps));
            }
        }
        domain.round(tables);
    }
}
