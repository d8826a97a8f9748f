//! Goals 1 and 2 again, with something changed.
//!
//! A decision that is solved once has prices. They bound every variant of it as well, since a
//! bound holds whatever its prices are; so most variants are settled without a search, and the
//! others need no relaxation of their own.

use std::sync::OnceLock;

use super::backend::Answer;
use super::bound::{Aim, Bound, Domain, Goal, RowPrices};
use super::choice::Choice;
use super::model::Decision;
use super::options::{DrawOption, list};
use super::regions::between;
use super::search::{Deadline, shorter, shortest};
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
    /// Prices of goal 1.
    worth: RowPrices,
    /// Prices of goal 2.
    honey: Vec<Part>,
    /// The same for the next step of worth.
    next: OnceLock<Vec<Part>>,
}

/// A part of the decision, with so many compartments of each kind, and its prices: bounds are much
/// closer where the compartments of each kind are known.
#[derive(Debug, Clone)]
struct Part {
    kinds: Vec<(i64, i64)>,
    prices: RowPrices,
    /// How far the bound lies below the best.
    gap: i64,
}

/// How far above its bound a variant is looked through at first, at least, mg; and how much further each time
/// that nothing is found (choices).
const STRIDE: i64 = 10_000;
const WIDER: i64 = 8;

/// Most parts that the decision is divided into for its prices (a choice: each takes a relaxation).
const MOST_PARTS: usize = 32;

/// A variant, ready to be searched.
struct Variant {
    tables: Tables,
    lists: Vec<Lists>,
}

impl Variant {
    fn domain(&self, aim: Aim) -> Domain {
        let options = self.lists.iter().map(|lists| match aim {
            Aim::Worth => lists.first.clone(),
            Aim::Honey | Aim::Otherwise | Aim::Opened | Aim::Shaken => lists.short.clone(),
        });
        search::domain(&self.tables, options.collect())
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
            otherwise: None,
            opened: None,
        }
    }

    fn cut(&self) -> bool {
        self.lists.iter().any(|lists| lists.cut)
    }

    /// Prices of the relaxation.
    fn prices(&self, goal: Goal) -> RowPrices {
        let domain = self.domain(goal.aim);
        let relaxed = Decision::roomy(&self.tables, &domain, goal).relax(goal);
        relaxed.map_or_else(|| RowPrices::none(&self.tables), |(prices, _)| prices)
    }

    /// Prices of parts that together are the whole, divided where the relaxation stocks a fraction
    /// of a compartment and may still be better than `value`.
    fn parts(&self, goal: Goal, value: i64) -> Vec<Part> {
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
                    gap: (value - least).max(0),
                });
            }
        }
        parts
    }

    /// A bound at prices that may be those of another variant.
    fn bound(&self, domain: &Domain, goal: Goal, prices: &RowPrices) -> (Bound, i64) {
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
    fn least(
        &self,
        domain: &Domain,
        (bound, least): (&Bound, i64),
        goal: Goal,
        reached: i64,
        gap: i64,
    ) -> Result<Option<Choice>, ()> {
        let mut reach = (gap + gap / 4).max(STRIDE);
        loop {
            let within = least.saturating_add(reach).min(reached - 1);
            let mut part = domain.clone();
            bound.narrow(&self.tables, &mut part, within);
            let found = self.sweep(&part, (bound, within), goal, Some(within + 1))?;
            if found.is_some() || within == reached - 1 {
                return Ok(found);
            }
            reach = reach.saturating_mul(WIDER);
        }
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

fn lists_of(tables: &Tables, donor: &Donor, wanted: &[i64]) -> Lists {
    let full = list(donor, wanted);
    let short = shorter(tables, &full.options);
    let first = shortest(tables, &full.options);
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
        let donors = tables.donors.iter();
        let lists: Vec<Lists> = donors
            .map(|donor| lists_of(&tables, donor, &wanted))
            .collect();
        let variant = Variant { tables, lists };
        let today = whole(&variant.tables).0;
        let worth = variant.prices(variant.goal(None));
        let honey = variant.parts(variant.goal(Some(today.worth.0)), today.honey.0);
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
        let tables = &variant.tables;
        if variant.cut() || !self.today.proved || tables.kinds.iter().all(|kind| kind.most == 0) {
            return false;
        }
        let goal = variant.goal(None);
        let mut domain = variant.domain(goal.aim);
        let step = granule(tables, Aim::Worth);
        let wanted = self.today.worth.0 + step;
        // From a plan of more worth, compartments can be left out until it is hardly more than today's.
        let steps = tables.kinds.iter().map(|kind| kind.worth * kind.step);
        let most = self.today.worth.0 + steps.max().unwrap_or(0);
        for (kind, range) in tables.kinds.iter().zip(&mut domain.kinds) {
            range.1 = range.1.min(most / kind.worth.max(1));
        }
        domain.round(tables);
        let (_, least) = variant.bound(&domain, goal, &self.worth);
        if least > -wanted {
            return false;
        }
        let worth = Some(wanted);
        let mut decision = Decision::new(tables, &domain, Goal { worth, ..goal });
        // Any plan of so much worth will do.
        decision.model.minimise(&[]);
        match decision.model.solve(None) {
            Answer::Best(values) => decision
                .read(&values)
                .is_some_and(|found| found.value(tables, Aim::Worth) <= -wanted),
            Answer::Impossible => false,
            Answer::Stopped(_) | Answer::Empty | Answer::Failed => self
                .more_worth(&variant)
                .is_ok_and(|choice| choice.is_some()),
        }
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
        let (_, least) = variant.bound(&domain, goal, &self.worth);
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
        let known = more.as_ref().map(|choice| choice.value(tables, Aim::Honey));
        let mut reached = known.unwrap_or(self.today.honey.0);
        let step = granule(&self.tables, Aim::Worth);
        let fresh;
        let parts = if more.is_none() {
            &self.honey
        } else if worth == self.today.worth.0 + step {
            self.next.get_or_init(|| variant.parts(goal, reached))
        } else {
            fresh = variant.parts(goal, reached);
            &fresh
        };
        let mut best = None;
        let mut whole = variant.domain(goal.aim);
        if more.is_none() {
            self.only_new(variant, &mut whole);
        }
        for part in parts {
            let mut domain = whole.clone();
            self.within(part, &mut domain);
            domain.round(tables);
            if domain.is_empty() {
                continue;
            }
            let (bound, least) = variant.bound(&domain, goal, &part.prices);
            if least >= reached {
                continue;
            }
            let found = variant.least(&domain, (&bound, least), goal, reached, part.gap)?;
            if let Some(found) = found {
                reached = found.value(tables, Aim::Honey);
                best = Some(found);
            }
        }
        if best.is_some() {
            return Ok((figures(tables, best.as_ref()), best));
        }
        match more {
            Some(more) => Ok((figures(tables, Some(&more)), Some(more))),
            None => Ok((self.today, None)),
        }
    }

    /// Leaves in a domain only what can be better than today, where a single donor differs: with what
    /// it could do before, nothing is.
    fn only_new(&self, variant: &Variant, domain: &mut Domain) {
        // With wishes, more frames do not stand for fewer.
        let same = !variant.tables.wishes
            && !self.tables.wishes
            && variant.tables.classes == self.tables.classes
            && variant.tables.store_room == self.tables.store_room
            && variant.tables.cells == self.tables.cells
            && variant.tables.honey_cap == self.tables.honey_cap
            && variant.tables.wanted() == self.wanted;
        if !same {
            return;
        }
        let known = |donor: &Donor| {
            let at = self.tables.donors.iter().position(|old| old.id == donor.id);
            at.map(|at| (&self.tables.donors[at], &self.lists[at].short))
        };
        let donors = variant.tables.donors.iter().enumerate();
        let mut differ =
            donors.filter(|(_, donor)| known(donor).is_none_or(|(old, _)| old != *donor));
        let (Some((at, donor)), None) = (differ.next(), differ.next()) else {
            return;
        };
        let old = known(donor);
        let alike = |old: &Donor| old.bee_rate == donor.bee_rate && old.stay == donor.stay;
        domain.options[at].retain(|option| {
            let outdone = old
                .filter(|(old, _)| alike(old))
                .is_some_and(|(_, options)| options.iter().any(|other| other.outdoes(option)));
            !outdone
        });
        domain.closed[at] = false;
    }

    /// Narrows a domain to the compartments of a part; where there are more boxes than there were,
    /// the most there were count as any number above.
    fn within(&self, part: &Part, domain: &mut Domain) {
        let kinds = self.tables.kinds.iter().zip(&part.kinds);
        for (range, (old, &(least, most))) in domain.kinds.iter_mut().zip(kinds) {
            let most = if most == old.most { range.1 } else { most };
            *range = (range.0.max(least), range.1.min(most));
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
        let same = tables.classes == self.tables.classes
            && wanted == self.wanted
            && tables.wishes == self.tables.wishes
            && tables.honey_cap.is_some() == self.tables.honey_cap.is_some();
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
            lists_of(&tables, donor, &wanted)
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
    // Where nothing is stocked the search ends with whatever was taken for nothing.
    let stocked = |choice: &Choice| choice.compartments.iter().any(|&count| count > 0);
    let choice = search.choice.filter(stocked);
    let reached = Reached {
        proved: search.open.is_none(),
        ..figures(tables, choice.as_ref())
    };
    (reached, choice)
}
