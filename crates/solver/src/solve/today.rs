//! What is known of a yard as it stands, for questions about changed ones: the vectors of each colony, and a proof
//! that nothing better can be had, which a small change mostly leaves standing.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Ceiling;
use super::columns::{Columns, Listing, SiteRows, Slot};
use super::engine::{Branching, Excluded, Model, Objective, Simplex, bound, certify, whole};
use super::instance::Instance;
use super::master::{Basis, Clock, Domain, Master, Restricted};
use super::minimise::Beat;
use crate::scenario::{ColonyId, Scenario};

/// Parts that a proof may have (a choice: beyond, to look at them all takes as long as to search anew).
const PARTS: usize = 40;

/// The yard as it stands.
pub(crate) struct Today {
    instance: Instance,
    /// By donor of the instance.
    colonies: Vec<ColumnsToday>,
    at: BTreeMap<ColonyId, usize>,
    /// No plan is worth more; none where that could not be proved in few parts.
    worth: Option<Vec<Part>>,
    /// Of plans of as much worth, none is notably cheaper.
    cost: Option<Vec<Part>>,
    /// Of the relaxation for as much worth.
    pub basis: Basis,
}

/// What is known of a colony.
struct ColumnsToday {
    slots: Vec<Slot>,
    rows: Vec<SiteRows>,
    honey_row: Option<usize>,
    listing: Option<Arc<Listing>>,
}

/// A part of all plans, with prices that exclude it.
struct Part {
    objective: Objective,
    prices: Vec<i64>,
    /// By set that is no colony: the least and the greatest level, where they are restricted.
    levels: Vec<Restricted>,
    /// By donor: its least reduced cost.
    least: Vec<i128>,
}

impl Today {
    /// Of a yard in which nothing beats this.
    pub fn new(scenario: &Scenario, beat: &Beat, clock: Clock) -> Self {
        let instance = Instance::new(scenario, None, &Ceiling::default());
        let mut master = Master::new(&instance, clock);
        let mut simplex = Simplex::new(&master);
        let least = beat.worth.div_euclid(master.unit);
        let mut proof = |ask: i64, below: i64| {
            master.ask(ask);
            simplex.rows_changed(&master);
            let parts = certify(&mut master, &mut simplex, below, PARTS)?;
            let parts = parts.into_iter().map(|part| Part::of(&mut master, part));
            Some(parts.collect())
        };
        let done = instance.base.total(&instance.prices).0;
        let worth = proof(least + 1, i64::MAX);
        let cost = beat.cost.and_then(|cost| proof(least, cost - done));
        master.ask(least);
        simplex.rows_changed(&master);
        simplex.take_up(&master, Objective::Cost);
        simplex.search(&master, i128::MAX);
        let basis = master.basis(&simplex);
        let known = |columns: &Columns| ColumnsToday {
            slots: columns.slots.clone(),
            rows: columns.rows.clone(),
            honey_row: columns.honey_row,
            listing: columns.listing.clone(),
        };
        let colonies = master.colonies().map(known).collect();
        drop(master);
        let donors = instance.donors.iter().enumerate();
        Self {
            at: donors.map(|(at, donor)| (donor.id, at)).collect(),
            instance,
            colonies,
            worth,
            cost,
            basis,
        }
    }

    /// Which donor a colony is, if the change leaves it as it is.
    pub fn same(&self, instance: &Instance, columns: &Columns) -> Option<usize> {
        let at = *self.at.get(&columns.donor.id)?;
        let known = &self.colonies[at];
        let same = self.instance.donors[at] == *columns.donor
            && self.instance.prices == instance.prices
            && self.instance.near == instance.near
            && known.slots == columns.slots
            && known.rows == columns.rows
            && known.honey_row == columns.honey_row;
        same.then_some(at)
    }

    /// The list of vectors of a donor; `None` if there were too many to list.
    pub fn listing(&self, donor: usize) -> Option<Arc<Listing>> {
        self.colonies[donor].listing.clone()
    }

    /// What the proofs of today still say of a changed yard: that no plan is worth more than this, and that none beats
    /// it.
    pub fn excludes(&self, master: &mut Master, beat: &Beat) -> (bool, bool) {
        let kinds = |instance: &Instance| -> Vec<(i64, i64)> {
            let kinds = instance.kinds.iter();
            kinds.map(|kind| (kind.least, kind.step)).collect()
        };
        if kinds(master.instance) != kinds(&self.instance) {
            return (false, false);
        }
        let least = beat.worth.div_euclid(master.unit);
        let done = master.instance.base.total(&master.instance.prices).0;
        let mut holds = |proof: &Option<Vec<Part>>, ask: i64, below: i64| {
            master.ask(ask);
            let parts = proof.as_ref();
            parts.is_some_and(|parts| parts.iter().all(|part| part.holds(master, below)))
        };
        let worth = holds(&self.worth, least + 1, i64::MAX);
        let cost = |cost: i64| holds(&self.cost, least, cost - done);
        let none = worth && beat.cost.is_none_or(cost);
        master.ask(0);
        (worth, none)
    }
}

impl Part {
    fn of(master: &mut Master, part: Excluded<Vec<Domain>>) -> Self {
        master.enter(&part.domains, None);
        let colonies = master.colonies().count();
        let least = |set| {
            let priced = master.price(set, part.objective, &part.prices, i128::MAX);
            priced.least
        };
        Self {
            least: (0..colonies).map(least).collect(),
            levels: master.restricted_levels(),
            objective: part.objective,
            prices: part.prices,
        }
    }

    /// Whether the part of a changed yard has no plan that costs less than `below`. Of colonies that were changed,
    /// everything is looked at.
    fn holds(&self, master: &mut Master, below: i64) -> bool {
        let mut rows = master.rows().iter().zip(&self.prices);
        let priced = self.prices.len() == master.rows().len()
            && rows.all(|(row, &price)| row.equal || price >= 0);
        if !priced || !master.restrict_levels(&self.levels) {
            return false;
        }
        let same = |set: usize| *master.same.get(set)?;
        let known = |set: usize| same(set).map(|at| self.least[at]);
        let bound = bound(master, self.objective, &self.prices, &known);
        match self.objective {
            Objective::Missing => bound > 0,
            _ => bound == i128::MAX || whole(bound) >= below,
        }
    }
}
