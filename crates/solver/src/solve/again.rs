//! Goals 1 and 2 again, with something changed.
//!
//! A decision that is solved once has prices. They bound every variant of it as well, since a
//! bound holds whatever its prices are; so most variants are settled without a search, and the
//! others need no relaxation of their own.

use std::sync::OnceLock;

use super::bound::{Aim, Bound, Domain, Goal, RowPrices};
use super::choice::Choice;
use super::model::Decision;
use super::options::{DrawOption, lean, list, unpriced};
use super::search::Deadline;
use super::sweep::{granule, round_up, sweep};
use super::tables::{Donor, Tables};
use super::{SolveOptions, Until, assemble, search};
use crate::plan::Plan;
use crate::scenario::Scenario;
use crate::units::{Milligrams, Worth};

/// The best that goals 1 and 2 reach.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Reached {
    /// Greatest worth.
    pub worth: Worth,
    /// Least honey given up for it.
    pub honey: Milligrams,
    /// Both are proved.
    pub proved: bool,
}

impl Reached {
    /// More worth, or as much for less honey.
    pub fn beats(&self, other: &Self) -> bool {
        self.worth > other.worth || (self.worth == other.worth && self.honey < other.honey)
    }
}

/// Options of one donor for goals 1 and 2.
#[derive(Debug, Clone)]
struct Lists {
    first: Vec<DrawOption>,
    short: Vec<DrawOption>,
    cut: bool,
}

/// A decision that is solved for goals 1 and 2.
pub(crate) struct Again {
    tables: Tables,
    wanted: Vec<i64>,
    lists: Vec<Lists>,
    today: Reached,
    worth: Option<RowPrices>,
    honey: Option<RowPrices>,
    /// Prices of honey for the next step of worth.
    next: OnceLock<Option<RowPrices>>,
}

/// A variant, ready to be searched.
struct Variant {
    tables: Tables,
    lists: Vec<Lists>,
}

impl Variant {
    fn domain(&self, aim: Aim) -> Domain {
        let options = self.lists.iter().map(|lists| match aim {
            Aim::Worth => lists.first.clone(),
            Aim::Honey | Aim::Opened | Aim::Shaken => lists.short.clone(),
        });
        Domain {
            options: options.collect(),
            closed: vec![true; self.lists.len()],
            kinds: self.tables.kinds.iter().map(|k| (0, k.most)).collect(),
        }
    }

    fn goal(&self, worth: Option<i64>) -> Goal {
        Goal {
            aim: if worth.is_some() {
                Aim::Honey
            } else {
                Aim::Worth
            },
            worth,
            honey: self.tables.honey_cap,
            opened: None,
        }
    }

    fn cut(&self) -> bool {
        self.lists.iter().any(|lists| lists.cut)
    }

    /// Prices of the relaxation.
    fn prices(&self, goal: Goal) -> Option<RowPrices> {
        let domain = self.domain(goal.aim);
        let relaxed = Decision::roomy(&self.tables, &domain, goal).relax(goal);
        relaxed.map(|(prices, _)| prices)
    }

    /// A bound at prices that may be those of another variant.
    fn bound(&self, domain: &Domain, goal: Goal, prices: Option<&RowPrices>) -> (Bound, i64) {
        let fits = |prices: &&RowPrices| {
            prices.needs.len() == self.tables.needs.len()
                && prices.sites.len() == self.tables.sites.len()
                && prices.cells.len() == self.tables.cells.as_ref().map_or(0, Vec::len)
        };
        let none = RowPrices::none(&self.tables);
        let prices = prices.filter(fits).unwrap_or(&none);
        let bound = Bound::new(&self.tables, domain, goal, prices);
        let mut least = round_up(bound.least(), granule(&self.tables, goal.aim));
        if goal.aim == Aim::Honey {
            least = least.max(0);
        }
        (bound, least)
    }

    /// A search whose answer is exact, or `Err`.
    fn sweep(
        &self,
        domain: &Domain,
        bound: (&Bound, i64),
        goal: Goal,
        reached: Option<i64>,
    ) -> Result<Option<Choice>, ()> {
        let (bound, least) = bound;
        let never = Deadline::none();
        let (found, _, open) = sweep(&self.tables, (domain, bound, least), goal, reached, &never);
        match open {
            None => Ok(found),
            Some(_) => Err(()),
        }
    }
}

fn lists_of(donor: &Donor, wanted: &[i64], capped: bool) -> Lists {
    let full = list(donor, wanted);
    let short = lean(&full.options);
    let first = if capped {
        short.clone()
    } else {
        unpriced(&full.options)
    };
    Lists {
        first,
        short,
        cut: full.cut,
    }
}

impl Again {
    /// Solves goals 1 and 2 as they stand.
    pub fn new(scenario: &Scenario) -> Self {
        let tables = Tables::new(scenario);
        let wanted = tables.wanted();
        let capped = tables.honey_cap.is_some();
        let donors = tables.donors.iter();
        let lists: Vec<Lists> = donors
            .map(|donor| lists_of(donor, &wanted, capped))
            .collect();
        let variant = Variant { tables, lists };
        let today = whole(&variant.tables).0;
        let worth = variant.prices(variant.goal(None));
        let honey = variant.prices(variant.goal(Some(today.worth.0)));
        Self {
            tables: variant.tables,
            lists: variant.lists,
            wanted,
            today,
            worth,
            honey,
            next: OnceLock::new(),
        }
    }

    /// What is reached as things stand.
    pub fn today(&self) -> Reached {
        self.today
    }

    /// Whether a change that takes nothing away lets more worth be stocked.
    pub fn more(&self, changed: &Scenario) -> bool {
        let variant = self.variant(changed);
        self.more_worth(&variant)
            .is_ok_and(|choice| choice.is_some())
    }

    /// A choice of more worth than today's, of the greatest there is.
    fn more_worth(&self, variant: &Variant) -> Result<Option<Choice>, ()> {
        if variant.tables.kinds.iter().all(|kind| kind.most == 0) {
            return Ok(None);
        }
        if variant.cut() || !self.today.proved {
            return Err(());
        }
        let goal = variant.goal(None);
        let domain = variant.domain(goal.aim);
        let (_, least) = variant.bound(&domain, goal, self.worth.as_ref());
        let reached = -self.today.worth.0;
        if least >= reached {
            return Ok(None);
        }
        // Whole compartments come out of a search at once, without a bound.
        let blind = Bound::new(
            &variant.tables,
            &domain,
            goal,
            &RowPrices::none(&variant.tables),
        );
        variant.sweep(&domain, (&blind, least), goal, Some(reached))
    }

    /// What is reached after a change that takes nothing away.
    pub fn best(&self, changed: &Scenario) -> Reached {
        let variant = self.variant(changed);
        self.search(&variant)
            .map_or_else(|()| whole(&variant.tables).0, |(reached, _)| reached)
    }

    /// What is reached after any change, with a plan of it where something is stocked.
    pub fn plan(&self, changed: &Scenario) -> (Reached, Option<Plan>) {
        let variant = self.variant(changed);
        let (reached, choice) = match self.search(&variant) {
            Ok((reached, Some(choice))) => (reached, Some(choice)),
            Ok((_, None)) | Err(()) => whole(&variant.tables),
        };
        let plan = choice.and_then(|choice| assemble::assemble(changed, &variant.tables, &choice));
        (reached, plan)
    }

    /// Goals 1 and 2 by the prices at hand; no choice where it is as today.
    fn search(&self, variant: &Variant) -> Result<(Reached, Option<Choice>), ()> {
        let more = self.more_worth(variant)?;
        let tables = &variant.tables;
        let worth = more.as_ref().map_or(self.today.worth.0, |choice| {
            -choice.value(tables, Aim::Worth)
        });
        let goal = variant.goal(Some(worth));
        let mut domain = variant.domain(goal.aim);
        let (bound, least, reached);
        if let Some(more) = &more {
            reached = more.value(tables, Aim::Honey);
            let step = granule(&self.tables, Aim::Worth);
            let fresh;
            let prices = if worth == self.today.worth.0 + step {
                let own = || variant.prices(goal);
                self.next.get_or_init(own).as_ref()
            } else {
                fresh = variant.prices(goal);
                fresh.as_ref()
            };
            (bound, least) = variant.bound(&domain, goal, prices);
        } else {
            reached = self.today.honey.0;
            (bound, least) = variant.bound(&domain, goal, self.honey.as_ref());
        }
        if least < reached {
            bound.narrow(tables, &mut domain, reached);
            let found = variant.sweep(&domain, (&bound, least), goal, Some(reached))?;
            if found.is_some() {
                return Ok((figures(tables, found.as_ref()), found));
            }
        }
        match more {
            Some(more) => Ok((figures(tables, Some(&more)), Some(more))),
            None => Ok((self.today, None)),
        }
    }

    /// Greatest worth with at least so many compartments of a kind of box, by its index.
    pub fn with_at_least(&self, changed: &Scenario, kind: usize, least: u32) -> Option<Worth> {
        let variant = self.variant(changed);
        let goal = variant.goal(None);
        let mut domain = variant.domain(goal.aim);
        let position = variant.tables.kinds.iter().position(|k| k.id.0 == kind)?;
        domain.kinds[position].0 = i64::from(least);
        domain.round(&variant.tables);
        if domain.is_empty() {
            return None;
        }
        let none = RowPrices::none(&variant.tables);
        let blind = Bound::new(&variant.tables, &domain, goal, &none);
        let found = variant.sweep(&domain, (&blind, i64::MIN / 4), goal, None);
        let found = found.ok().flatten()?;
        Some(Worth(-found.value(&variant.tables, Aim::Worth)))
    }

    /// Whether a colony may give anything at all as the scenario stands.
    pub fn may_give(&self, colony: usize) -> bool {
        self.tables.donors.iter().any(|donor| donor.id.0 == colony)
    }

    /// Tables of a changed scenario; the lists of all donors that are as they were.
    fn variant(&self, changed: &Scenario) -> Variant {
        let tables = Tables::new(changed);
        let wanted = tables.wanted();
        let capped = tables.honey_cap.is_some();
        let same = tables.classes == self.tables.classes
            && wanted == self.wanted
            && capped == self.tables.honey_cap.is_some();
        let mut known = self.tables.donors.iter().zip(&self.lists).peekable();
        let lists = tables.donors.iter().map(|donor| {
            // Both are in the order of their names.
            let at = known.clone().position(|(old, _)| old.id == donor.id);
            if let Some(at) = at.filter(|_| same) {
                let found = known.nth(at);
                if let Some((_, lists)) = found.filter(|(old, _)| *old == donor) {
                    return lists.clone();
                }
            }
            lists_of(donor, &wanted, capped)
        });
        let lists = lists.collect();
        Variant { tables, lists }
    }
}

fn figures(tables: &Tables, choice: Option<&Choice>) -> Reached {
    let value = |aim| choice.map_or(0, |choice| choice.value(tables, aim));
    Reached {
        worth: Worth(-value(Aim::Worth)),
        honey: Milligrams(value(Aim::Honey)),
        proved: true,
    }
}

/// The whole search, from nothing.
fn whole(tables: &Tables) -> (Reached, Option<Choice>) {
    if tables.kinds.iter().all(|kind| kind.most == 0) {
        return (figures(tables, None), None);
    }
    let options = SolveOptions {
        until: Until::Honey,
        ..SolveOptions::default()
    };
    let search = search::search(tables, &options);
    let choice = search.choice;
    let stocked = |choice: &Choice| choice.compartments.iter().any(|&count| count > 0);
    let proved = search.open.is_none();
    (
        Reached {
            proved,
            ..figures(tables, choice.as_ref())
        },
        choice.filter(stocked),
    )
}
