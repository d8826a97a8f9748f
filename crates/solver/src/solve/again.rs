//! Goals 1 and 2 again, with something changed.
//!
//! A decision that is solved once has prices. They bound every variant of it as well, since a
//! bound holds whatever its prices are; so most variants are settled without a search, and the
//! others need no relaxation of their own.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use itertools::Itertools;

use super::backend::Answer;
use super::bound::{Aim, Bound, Domain, Goal, RowPrices};
use super::choice::Choice;
use super::model::Decision;
use super::search::Deadline;
use super::sweep::granule;
use super::tables::{Donor, Tables};
use super::variant::{Lists, Part, Unknown, Variant, lists_of};
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

/// A decision that is solved for goals 1 and 2.
pub(crate) struct Again {
    base: Variant,
    wanted: Vec<i64>,
    today: Reached,
    /// Prices of goal 1.
    worth: RowPrices,
    /// Prices of goal 2.
    honey: Vec<Part>,
    /// Prices of goal 2 for the next step of worth.
    next: Vec<Part>,
    deadline: Deadline,
    /// A search ended without an answer, for time or else.
    unsure: AtomicBool,
}

impl Again {
    /// Solves goals 1 and 2 as they stand. Past the time limit, if there is one, every answer is that
    /// it is not known.
    pub fn new(scenario: &Scenario, time_limit: Option<Duration>) -> Self {
        let deadline = Deadline::new(time_limit);
        let tables = Tables::new(scenario);
        let wanted = tables.wanted();
        let donors = tables.donors.iter();
        let lists: Vec<Lists> = donors
            .map(|donor| lists_of(&tables, donor, &wanted))
            .collect();
        let base = Variant { tables, lists };
        let today = whole(&base.tables, &deadline).0;
        let worth = base.prices(base.goal(None));
        let honey = base.parts(base.goal(Some(today.worth.0)), today.honey.0);
        let step = granule(&base.tables, Aim::Worth);
        let next = base.parts(base.goal(Some(today.worth.0 + step)), i64::MIN);
        Self {
            base,
            wanted,
            today,
            worth,
            honey,
            next,
            deadline,
            unsure: AtomicBool::new(false),
        }
    }

    /// Whether any search so far ended without an answer.
    pub fn unsure(&self) -> bool {
        !self.today.proved || self.unsure.load(Ordering::Relaxed)
    }

    fn known<T>(&self, answer: Result<T, Unknown>) -> Option<T> {
        if answer.is_err() {
            self.unsure.store(true, Ordering::Relaxed);
        }
        answer.ok()
    }

    /// What is reached as things stand.
    pub fn today(&self) -> Reached {
        self.today
    }

    /// Whether a change that takes nothing away lets more worth be stocked; `None` where that is not
    /// known.
    pub fn more(&self, changed: &Scenario) -> Option<bool> {
        let variant = self.variant(changed);
        self.known(self.any_more(&variant))
    }

    fn any_more(&self, variant: &Variant) -> Result<bool, Unknown> {
        let tables = &variant.tables;
        if tables.kinds.iter().all(|kind| kind.most == 0) {
            return Ok(false);
        }
        if variant.cut() || !self.today.proved || self.deadline.passed() {
            return Err(Unknown);
        }
        let goal = variant.goal(None);
        let mut domain = variant.domain(goal.aim);
        let wanted = self.today.worth.0 + granule(tables, Aim::Worth);
        // From a plan of more worth, compartments can be left out until it is hardly more than
        // today's; but not where frames are wished to leave.
        let steps = tables.kinds.iter().map(|kind| kind.worth * kind.step);
        let most = self.today.worth.0 + steps.max().unwrap_or(0);
        if !tables.wishes {
            for (kind, range) in tables.kinds.iter().zip(&mut domain.kinds) {
                range.1 = range.1.min(most / kind.worth.max(1));
            }
            domain.round(tables);
        }
        let (_, least) = variant.bound(&domain, goal, &self.worth);
        if least > -wanted {
            return Ok(false);
        }
        let worth = Some(wanted);
        let mut decision = Decision::new(tables, &domain, Goal { worth, ..goal });
        // Any plan of so much worth will do.
        decision.model.minimise(&[]);
        let found = match decision.model.solve(self.deadline.left()) {
            Answer::Best(values) | Answer::Stopped(values) => decision.read(&values),
            Answer::Impossible => return Ok(false),
            Answer::Empty | Answer::Failed => None,
        };
        match found {
            Some(found) if found.value(tables, Aim::Worth) <= -wanted => Ok(true),
            _ => self.more_worth(variant).map(|choice| choice.is_some()),
        }
    }

    /// A choice of more worth than today's, of the greatest there is.
    fn more_worth(&self, variant: &Variant) -> Result<Option<Choice>, Unknown> {
        if variant.tables.kinds.iter().all(|kind| kind.most == 0) {
            return Ok(None);
        }
        if variant.cut() || !self.today.proved || self.deadline.passed() {
            return Err(Unknown);
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
        variant.sweep(
            &domain,
            (&blind, least),
            goal,
            Some(reached),
            &self.deadline,
        )
    }

    /// What is reached after a change that takes nothing away; `None` where that is not known.
    pub fn best(&self, changed: &Scenario) -> Option<Reached> {
        let variant = self.variant(changed);
        let reached = self.search(&variant).map(|(reached, _)| reached);
        let reached = reached.or_else(|Unknown| self.whole(&variant.tables).map(|found| found.0));
        self.known(reached)
    }

    /// What is reached after a change that takes nothing away, with a plan of it; `None` where that
    /// is not known or nothing is stocked.
    pub fn plan(&self, changed: &Scenario) -> Option<(Reached, Plan)> {
        let variant = self.variant(changed);
        let (reached, choice) = match self.search(&variant) {
            Ok((reached, Some(choice))) => (reached, choice),
            Ok((_, None)) | Err(Unknown) => {
                let (reached, choice) = self.known(self.whole(&variant.tables))?;
                (reached, choice?)
            }
        };
        let plan = assemble::assemble(changed, &variant.tables, &choice)?;
        Some((reached, plan))
    }

    fn whole(&self, tables: &Tables) -> Result<(Reached, Option<Choice>), Unknown> {
        if self.deadline.passed() {
            return Err(Unknown);
        }
        let (reached, choice) = whole(tables, &self.deadline);
        match reached.proved {
            true => Ok((reached, choice)),
            false => Err(Unknown),
        }
    }

    /// Goals 1 and 2 by the prices at hand; no choice where it is as today.
    fn search(&self, variant: &Variant) -> Result<(Reached, Option<Choice>), Unknown> {
        let more = self.more_worth(variant)?;
        let tables = &variant.tables;
        let worth = more.as_ref().map_or(self.today.worth.0, |choice| {
            -choice.value(tables, Aim::Worth)
        });
        let goal = variant.goal(Some(worth));
        let known = more.as_ref().map(|choice| choice.value(tables, Aim::Honey));
        let mut reached = known.unwrap_or(self.today.honey.0);
        let step = granule(&self.base.tables, Aim::Worth);
        let fresh;
        let parts = if more.is_none() {
            &self.honey
        } else if worth == self.today.worth.0 + step {
            &self.next
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
            let found = variant.least(
                &domain,
                (&bound, least),
                goal,
                reached,
                (part.gap, &self.deadline),
            )?;
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
            && !self.base.tables.wishes
            && variant.tables.classes == self.base.tables.classes
            && variant.tables.store_room == self.base.tables.store_room
            && variant.tables.cells == self.base.tables.cells
            && variant.tables.honey_cap == self.base.tables.honey_cap
            && variant.tables.wanted() == self.wanted;
        if !same {
            return;
        }
        let known = |donor: &Donor| {
            let at = self
                .base
                .tables
                .donors
                .iter()
                .position(|old| old.id == donor.id);
            at.map(|at| (&self.base.tables.donors[at], &self.base.lists[at].short))
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
        let kinds = self.base.tables.kinds.iter().zip(&part.kinds);
        for (range, (old, &(least, most))) in domain.kinds.iter_mut().zip(kinds) {
            let most = if most == old.most { range.1 } else { most };
            *range = (range.0.max(least), range.1.min(most));
        }
    }

    /// Greatest worth with at least so many compartments of a kind of box, by its index: with all
    /// that are begun among them, or with those alone that are finished. None where there is no such
    /// plan, `None` where that is not known.
    pub fn with_at_least(
        &self,
        changed: &Scenario,
        kind: usize,
        least: u32,
    ) -> Option<Option<Worth>> {
        let begun = changed.done.iter().any(|record| record.kind.0 == kind);
        let complete = self.with_untouched(changed, kind, least, true)?;
        let finished = match begun {
            true => self.with_untouched(changed, kind, least, false)?,
            false => None,
        };
        Some(complete.max(finished))
    }

    fn with_untouched(
        &self,
        changed: &Scenario,
        kind: usize,
        least: u32,
        complete: bool,
    ) -> Option<Option<Worth>> {
        let variant = self.variant(changed);
        let goal = variant.goal(None);
        let mut domain = variant.domain(goal.aim);
        let kinds = variant.tables.kinds.iter();
        let of_kind = kinds.positions(|k| k.id.0 == kind).collect::<Vec<_>>();
        let Some((&untouched, begun)) = of_kind.split_first() else {
            return Some(None);
        };
        let mut least = i64::from(least);
        for &position in begun {
            let range = &mut domain.kinds[position];
            range.0 = if complete { range.1 } else { range.0 };
            least -= range.0;
        }
        domain.kinds[untouched].0 = least.max(0);
        domain.round(&variant.tables);
        if domain.is_empty() {
            return Some(None);
        }
        if variant.cut() || self.deadline.passed() {
            return self.known(Err(Unknown));
        }
        let none = RowPrices::none(&variant.tables);
        let blind = Bound::new(&variant.tables, &domain, goal, &none);
        let blind = (&blind, i64::MIN / 4);
        let found = self.known(variant.sweep(&domain, blind, goal, None, &self.deadline))?;
        Some(found.map(|found| Worth(-found.value(&variant.tables, Aim::Worth))))
    }

    /// Whether a colony may give anything at all as the scenario stands.
    pub fn may_give(&self, colony: usize) -> bool {
        self.base
            .tables
            .donors
            .iter()
            .any(|donor| donor.id.0 == colony)
    }

    /// Tables of a changed scenario; the lists of all donors that are as they were.
    fn variant(&self, changed: &Scenario) -> Variant {
        let tables = Tables::new(changed);
        let wanted = tables.wanted();
        let same = tables.classes == self.base.tables.classes
            && wanted == self.wanted
            && tables.wishes == self.base.tables.wishes
            && tables.honey_cap.is_some() == self.base.tables.honey_cap.is_some();
        let mut known = self
            .base
            .tables
            .donors
            .iter()
            .zip(&self.base.lists)
            .peekable();
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
fn whole(tables: &Tables, deadline: &Deadline) -> (Reached, Option<Choice>) {
    if tables.kinds.iter().all(|kind| kind.most == 0) {
        return (figures(tables, None), None);
    }
    let options = SolveOptions {
        until: Until::Honey,
        time_limit: deadline.left(),
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
