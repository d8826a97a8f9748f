//! A variant of a decision for goals 1 and 2: its domain, its prices, and exact searches.

use super::bound::{Aim, Bound, Domain, Goal, RowPrices};
use super::choice::Choice;
use super::model::Decision;
use super::options::{DrawOption, list};
use super::regions::between;
use super::search::{self, Deadline, shorter, shortest};
use super::sweep::{Budget, granule, round_up, sweep};
use super::tables::{Donor, Tables};

/// A search ended without an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Unknown;

/// Options of one donor for goals 1 and 2.
#[derive(Debug, Clone)]
pub(super) struct Lists {
    first: Vec<DrawOption>,
    pub short: Vec<DrawOption>,
    cut: bool,
}

/// A part of the decision, with so many compartments of each kind, and its prices: bounds are much
/// closer where the compartments of each kind are known.
#[derive(Debug, Clone)]
pub(super) struct Part {
    pub kinds: Vec<(i64, i64)>,
    pub prices: RowPrices,
    /// How far the bound lies below the best.
    pub gap: i64,
}

/// How far above its bound a variant is looked through at first, at least, mg; and how much further each time
/// that nothing is found (choices).
const STRIDE: i64 = 10_000;
const WIDER: i64 = 8;

/// Most parts that the decision is divided into for its prices (a choice: each takes a relaxation).
const MOST_PARTS: usize = 32;

/// A variant, ready to be searched.
pub(super) struct Variant {
    pub tables: Tables,
    pub lists: Vec<Lists>,
}

impl Variant {
    pub fn domain(&self, aim: Aim) -> Domain {
        let options = self.lists.iter().map(|lists| match aim {
            Aim::Worth => lists.first.clone(),
            Aim::Honey | Aim::Otherwise | Aim::Opened | Aim::Shaken => lists.short.clone(),
        });
        search::domain(&self.tables, options.collect())
    }

    pub fn goal(&self, worth: Option<i64>) -> Goal {
        Goal {
            aim: if worth.is_some() {
                Aim::Honey
            } else {
                Aim::Worth
            },
            worth,
            honey: self.tables.honey_cap,
            otherwise: None,
            opened: None,
        }
    }

    pub fn cut(&self) -> bool {
        self.lists.iter().any(|lists| lists.cut)
    }

    /// Prices of the relaxation.
    pub fn prices(&self, goal: Goal) -> RowPrices {
        let domain = self.domain(goal.aim);
        let relaxed = Decision::roomy(&self.tables, &domain, goal).relax(goal);
        relaxed.map_or_else(|| RowPrices::none(&self.tables), |(prices, _)| prices)
    }

    /// Prices of parts that together are the whole, divided where the relaxation stocks a fraction
    /// of a compartment and may still be better than `value`.
    pub fn parts(&self, goal: Goal, value: i64) -> Vec<Part> {
        let mut waiting = vec![self.domain(goal.aim)];
        let mut parts = Vec::new();
        while let Some(domain) = waiting.pop() {
            let mut rounded = domain.clone();
            rounded.round(&self.tables);
            let relaxed = (!rounded.is_empty())
                .then(|| Decision::roomy(&self.tables, &rounded, goal).relax(goal))
                .flatten();
            let none = || (RowPrices::none(&self.tables), Vec::new());
            let (prices, kinds) = relaxed.unwrap_or_else(none);
            let least = Bound::new(&self.tables, &domain, goal, &prices).least();
            let room = parts.len() + waiting.len() < MOST_PARTS;
            let split = between(&self.tables, &domain, &kinds);
            if let Some((kind, below)) = split.filter(|_| room && least < value) {
                let mut other = domain.clone();
                other.kinds[kind].0 = below + 1;
                let mut domain = domain;
                domain.kinds[kind].1 = below;
                // Not rounded to whole boxes: a variant may stock them in part.
                waiting.extend([other, domain]);
            } else {
                parts.push(Part {
                    kinds: domain.kinds,
                    prices,
                    gap: value.saturating_sub(least).max(0),
                });
            }
        }
        parts
    }

    /// A bound at prices that may be those of another variant.
    pub fn bound(&self, domain: &Domain, goal: Goal, prices: &RowPrices) -> (Bound, i64) {
        let fits = prices.needs.len() == self.tables.needs.len()
            && prices.sites.len() == self.tables.sites.len()
            && prices.cells.len() == self.tables.cells.as_ref().map_or(0, Vec::len);
        let none = RowPrices::none(&self.tables);
        let prices = if fits { prices } else { &none };
        let bound = Bound::new(&self.tables, domain, goal, prices);
        let mut least = round_up(bound.least(), granule(&self.tables, goal.aim));
        if goal.aim == Aim::Honey {
            least = least.max(0);
        }
        (bound, least)
    }

    /// The best choice with a value below `reached`, if there is one. A variant's best is likely to
    /// lie about as far above its bound as today's does, so what lies not much further is looked
    /// through first.
    pub fn least(
        &self,
        domain: &Domain,
        (bound, least): (&Bound, i64),
        goal: Goal,
        reached: i64,
        (gap, deadline): (i64, &Deadline),
    ) -> Result<Option<Choice>, Unknown> {
        let mut reach = (gap + gap / 4).max(STRIDE);
        loop {
            let within = least.saturating_add(reach).min(reached - 1);
            let mut part = domain.clone();
            bound.narrow(&self.tables, &mut part, within);
            let found = self.sweep(&part, (bound, within), goal, Some(within + 1), deadline)?;
            if found.is_some() || within == reached - 1 {
                return Ok(found);
            }
            reach = reach.saturating_mul(WIDER);
        }
    }

    /// A search whose answer is exact, or unknown.
    pub fn sweep(
        &self,
        domain: &Domain,
        bound: (&Bound, i64),
        goal: Goal,
        reached: Option<i64>,
        deadline: &Deadline,
    ) -> Result<Option<Choice>, Unknown> {
        let (bound, least) = bound;
        let (found, _, open) = sweep(
            &self.tables,
            (domain, bound, least),
            goal,
            reached,
            &mut Budget {
                deadline,
                trouble: None,
            },
        );
        match open {
            None => Ok(found),
            Some(_) => Err(Unknown),
        }
    }
}

pub(super) fn lists_of(tables: &Tables, donor: &Donor, wanted: &[i64]) -> Lists {
    let full = list(donor, wanted);
    let short = shorter(tables, &full.options);
    let first = shortest(tables, &full.options);
    Lists {
        first,
        short,
        cut: full.cut,
    }
}
