//! An earlier plan that the new one is to stay near to.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use itertools::iproduct;

use super::bound::Aim;
use super::choice::Choice;
use super::done::{Done, Place};
use super::kinds::Kind;
use super::tables::Tables;
use crate::check::check;
use crate::plan::{Compartment, Goals, Origin, Plan};
use crate::scenario::{BoxId, ColonyId, Scenario};

/// What an earlier plan puts where. It may name what there is no more.
#[derive(Default)]
pub(super) struct Earlier {
    compartments: BTreeMap<Place, Compartment>,
    taken: BTreeMap<Origin, u32>,
}

impl Earlier {
    /// Without what is done.
    fn new(plan: &Plan, done: &Done) -> Self {
        let mut earlier = Self::default();
        for compartment in &plan.compartments {
            let key = (compartment.kind, compartment.box_no, compartment.place);
            let rest = done.rest(compartment);
            for placed in &rest.frames {
                let taken = earlier.taken.entry(placed.origin).or_default();
                *taken = taken.saturating_add(placed.count);
            }
            // One that is named twice counts as it stands first.
            earlier.compartments.entry(key).or_insert(rest);
        }
        earlier
    }

    /// Frames that it takes from one origin.
    pub fn taken(&self, origin: Origin) -> u32 {
        self.taken.get(&origin).copied().unwrap_or(0)
    }

    /// What it puts into one compartment.
    pub fn compartment(&self, kind: BoxId, box_no: u32, place: u32) -> Option<&Compartment> {
        self.compartments.get(&(kind, box_no, place))
    }

    /// The places (box, compartment) of a kind that it stocks, each with how many of its frames are
    /// not at hand. Those of a place that lacks none are no longer at hand for the others.
    pub fn lacking(
        &self,
        kind: &Kind,
        at_hand: &mut BTreeMap<Origin, u32>,
    ) -> BTreeMap<(u32, u32), u32> {
        let mut places = BTreeMap::new();
        let of_kind = |key: &Place| key.0 == kind.id && kind.places.has((key.1, key.2));
        for (key, compartment) in self.compartments.iter().filter(|(key, _)| of_kind(key)) {
            let mut left = at_hand.clone();
            let mut lacking = 0;
            for placed in &compartment.frames {
                let held = left.entry(placed.origin).or_default();
                lacking += placed.count.saturating_sub(*held);
                *held = held.saturating_sub(placed.count);
            }
            if lacking == 0 {
                *at_hand = left;
            }
            places.insert((key.1, key.2), lacking);
        }
        places
    }

    /// How many frames of each class serve each need in it, as far as both are known.
    pub fn served(&self, tables: &Tables) -> BTreeMap<(usize, usize), i64> {
        let mut served = BTreeMap::new();
        if self.compartments.is_empty() {
            return served;
        }
        let classes = classes(tables);
        let needs: BTreeMap<(usize, usize), usize> = tables
            .needs
            .iter()
            .enumerate()
            .map(|(at, need)| ((need.kind, need.line), at))
            .collect();
        for (&(id, box_no, place), compartment) in &self.compartments {
            let Some(kind) = tables.kind_at(id, (box_no, place)) else {
                continue;
            };
            for placed in &compartment.frames {
                let class = classes.get(&placed.origin);
                let need = needs.get(&(kind, placed.line));
                if let (Some(&class), Some(&need)) = (class, need) {
                    *served.entry((class, need)).or_default() += i64::from(placed.count);
                }
            }
        }
        served
    }
}

/// The class of the frames of each origin that serve something.
fn classes(tables: &Tables) -> BTreeMap<Origin, usize> {
    let mut classes = BTreeMap::new();
    for donor in &tables.donors {
        for item in &donor.items {
            let groups = item.groups.iter();
            classes.extend(groups.map(|part| (Origin::Colony(donor.id, part.group), item.class)));
        }
    }
    for (class, spares) in tables.store_room.iter().enumerate() {
        let entries = spares.iter();
        classes.extend(entries.map(|&(entry, _)| (Origin::StoreRoom(entry), class)));
    }
    classes
}

/// An earlier plan, and what it comes to in the scenario at hand.
pub(super) struct Then {
    pub earlier: Earlier,
    /// In the order of plans.
    pub plan: Plan,
    /// Its goals, where it breaks no rule.
    pub goals: Option<Goals>,
    choice: Option<Choice>,
}

impl Then {
    pub fn new(scenario: &Scenario, tables: &Tables, plan: &Plan) -> Self {
        let mut plan = plan.clone();
        plan.put_in_order();
        let (goals, breaches) = check(scenario, &plan);
        let goals = breaches.is_empty().then_some(goals);
        Self {
            earlier: Earlier::new(&plan, &tables.done),
            choice: goals.and_then(|_| chosen(tables, &plan)),
            goals,
            plan,
        }
    }

    /// Its choice, where it breaks no rule and has no less worth and costs no more honey than
    /// another.
    pub fn as_good(&self, tables: &Tables, other: &Choice) -> Option<Choice> {
        let own = self.choice.as_ref()?;
        let good = [Aim::Worth, Aim::Honey]
            .into_iter()
            .all(|aim| own.value(tables, aim) <= other.value(tables, aim));
        good.then(|| own.clone())
    }

    /// This plan where it breaks no rule and the one found is no better, in the order of the goals.
    pub fn unless_better(self, found: Option<(Goals, Plan)>) -> Option<(Goals, Plan)> {
        let rank = |goals: &Goals, plan: &Plan| {
            let otherwise = plan.drawn_otherwise(&self.plan);
            let (worth, honey) = (Reverse(goals.worth), goals.honey);
            (worth, honey, otherwise, goals.opened, goals.shaken)
        };
        match (self.goals, &found) {
            (Some(own), Some((goals, plan))) if rank(goals, plan) < rank(&own, &self.plan) => found,
            (Some(own), _) if !self.plan.compartments.is_empty() => Some((own, self.plan)),
            _ => found,
        }
    }

    /// The choice with the bees of each colony moved towards those of this plan, where no goal
    /// pays for it: between two colonies for one site, of whose bees the same share stays, at the
    /// same charge, and as long as as many are shaken.
    pub fn settle_bees(&self, tables: &Tables, choice: &mut Choice) {
        let then = bees(tables, &self.plan);
        let limits = choice.limits(tables);
        let donors = 0..tables.donors.len();
        for (site, from, to) in iproduct!(0..tables.sites.len(), donors.clone(), donors) {
            let (giver, taker) = (&tables.donors[from], &tables.donors[to]);
            let over = choice.bees[from][site] - then[from][site];
            let under = then[to][site] - choice.bees[to][site];
            let alike = giver.bee_rate == taker.bee_rate && giver.stay[site] == taker.stay[site];
            if over <= 0 || under <= 0 || !alike {
                continue;
            }
            let total = |donor: usize| choice.bees[donor].iter().sum::<i64>();
            let shaken = total(from) - limits[from].0;
            let room = match (shaken > 0, total(to) >= limits[to].0) {
                (true, true) => shaken.min(limits[to].1 - total(to)),
                (false, false) => limits[to].0 - total(to),
                _ => 0,
            };
            let moved = over.min(under).min(room).max(0);
            choice.bees[from][site] -= moved;
            choice.bees[to][site] += moved;
        }
    }
}

/// Bees that a plan takes from each donor for each site, without what is done.
fn bees(tables: &Tables, plan: &Plan) -> Vec<Vec<i64>> {
    let mut bees = vec![vec![0; tables.sites.len()]; tables.donors.len()];
    let donor_of: BTreeMap<ColonyId, usize> = tables
        .donors
        .iter()
        .map(|donor| donor.id)
        .zip(0..)
        .collect();
    for compartment in &plan.compartments {
        let Some(kind) = tables.kinds.iter().find(|kind| kind.id == compartment.kind) else {
            continue;
        };
        for placed in &tables.done.rest(compartment).bees {
            if let Some(&donor) = donor_of.get(&placed.colony) {
                bees[donor][kind.site] += placed.bees.0.max(0);
            }
        }
    }
    bees
}

/// The choice behind a plan that breaks no rule.
fn chosen(tables: &Tables, plan: &Plan) -> Option<Choice> {
    let mut choice = Choice::none(tables);
    choice.compartments.fill(0);
    choice.bees = bees(tables, plan);
    for compartment in &plan.compartments {
        let place = (compartment.box_no, compartment.place);
        let kind = tables.kind_at(compartment.kind, place)?;
        choice.compartments[kind] += 1;
    }
    let mut drawn = plan.drawn();
    for (&(colony, group), count) in &mut drawn {
        let gone = tables.done.frames(Origin::Colony(colony, group));
        *count = count.saturating_sub(u64::from(gone));
    }
    drawn.retain(|_, count| *count > 0);
    for (index, donor) in tables.donors.iter().enumerate() {
        let mut of = |group: usize| drawn.remove(&(donor.id, group)).unwrap_or(0);
        let take: Vec<u64> = donor
            .items
            .iter()
            .map(|item| item.groups.iter().map(|part| of(part.group)).sum())
            .collect();
        let opened =
            take.iter().any(|&count| count > 0) || choice.bees[index].iter().any(|&b| b > 0);
        let take: Result<Vec<u32>, _> = take.into_iter().map(u32::try_from).collect();
        choice.takes[index] = opened.then_some(take.ok()?);
    }
    drawn.is_empty().then_some(choice)
}
