//! Where boxes are had ready, where compartments are filled, and what travels to a box in a closed carrying box.

use super::build::{bees, site};
use super::report::{BoxReport, ClosedBox, ColonyReport, CompartmentReport, Progress};
use itertools::Itertools;
use spareframe_solver::{ColonyId, Compartment, Hundreds, Origin, Plan, Scenario};
use std::collections::{BTreeMap, BTreeSet};

/// The sites in the order of the day, by number: those with colonies to open, then the others.
pub(super) struct Route(Vec<usize>);

impl Route {
    pub(super) fn of(scenario: &Scenario, colonies: &[ColonyReport]) -> Self {
        let opened = |at: &usize| {
            let name = site(scenario, *at);
            colonies.iter().any(|c| c.site == name)
        };
        let all = 0..scenario.sites.len();
        Self(all.sorted_by_key(|at| !opened(at)).collect())
    }

    pub(super) fn sites(&self) -> &[usize] {
        &self.0
    }

    fn along(&self, site: usize) -> Option<usize> {
        self.0.iter().position(|at| *at == site)
    }
}

/// A box: its kind and its number, from 0.
type Place = (usize, u32);

/// Frames and bees.
type Lot = (u32, Hundreds);

/// How what a colony gives comes into its compartment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    /// The box is at hand.
    Here,
    /// The box comes by on its way to its place.
    Along,
    /// It travels in a closed carrying box to where the box stands.
    Closed,
}

/// Where each box is had ready: one site for each.
pub(super) struct Boxes<'a> {
    scenario: &'a Scenario,
    route: &'a Route,
    at: BTreeMap<Place, usize>,
    /// Those to which a colony of their own site gives: they go no further than that.
    home: BTreeSet<Place>,
}

impl<'a> Boxes<'a> {
    pub(super) fn of(scenario: &'a Scenario, plan: &Plan, route: &'a Route) -> Self {
        let boxes = plan.touched().map(place).unique();
        let at = boxes.filter_map(|of| Some((of, ready_at(scenario, plan, route, of)?)));
        let at = at.collect();
        let own = |c: &&Compartment| {
            let own = scenario.boxes.get(c.kind.0).map(|kind| kind.site.0);
            own.is_some_and(|own| lots(scenario, c).contains_key(&own))
        };
        let home = plan.touched().filter(own).map(place).collect();
        Self {
            scenario,
            route,
            at,
            home,
        }
    }

    fn own(&self, c: &Compartment) -> Option<usize> {
        Some(self.scenario.boxes.get(c.kind.0)?.site.0)
    }

    /// A box goes along until it is in its place: to that, where something there goes into it, what comes later is brought.
    fn way(&self, c: &Compartment, from: usize) -> Option<Way> {
        let (at, own) = (*self.at.get(&place(c))?, self.own(c)?);
        let stays = self.home.contains(&place(c));
        let after = |one: usize, other: usize| self.route.along(one) > self.route.along(other);
        Some(match after(from, at) {
            _ if at == from => Way::Here,
            true if at != own && !(stays && after(from, own)) => Way::Along,
            _ => Way::Closed,
        })
    }

    /// Where a compartment is filled: where its box is had ready, or where that comes by.
    pub(super) fn filled(&self, c: &Compartment) -> Option<usize> {
        let at = *self.at.get(&place(c))?;
        let lots = lots(self.scenario, c);
        if lots.is_empty() {
            return Some(at);
        }
        let homes = lots.into_keys();
        let homes = homes.filter(|from| self.way(c, *from) != Some(Way::Closed));
        let first = homes.min_by_key(|home| self.route.along(*home));
        first.or_else(|| self.own(c))
    }

    /// Says of compartments where they are filled, where that is not where they stand.
    pub(super) fn say(&self, plan: &Plan, reports: &mut [CompartmentReport]) {
        for (c, report) in plan.compartments.iter().zip(reports) {
            let filled = self.filled(c).map(|at| site(self.scenario, at));
            report.filled_at = filled.filter(|at| *at != report.site);
        }
    }

    /// The boxes into which something is still to be put, but for those that stand.
    pub(super) fn to_fill(&self, plan: &Plan, reports: &[CompartmentReport]) -> Vec<BoxReport> {
        let mut list: Vec<BoxReport> = Vec::new();
        let mut last = None;
        for (c, report) in plan.compartments.iter().zip(reports) {
            let of = place(c);
            let stands = self.scenario.standing.iter();
            let mut stands = stands.map(|s| (s.kind.0, s.box_no));
            let Some(&at) = self.at.get(&of).filter(|_| stands.all(|s| s != of)) else {
                continue;
            };
            if last.replace(of) != Some(of) {
                list.push(BoxReport {
                    box_kind: report.box_kind.clone(),
                    box_no: report.box_no,
                    site: report.site.clone(),
                    ready_at: site(self.scenario, at),
                    then_at: Vec::new(),
                    frames_in: 0,
                    bees_in: 0,
                    finished: true,
                });
            }
            if let Some(known) = list.last_mut() {
                known.finished &= report.done == Some(Progress::Finished);
                let frames = report.frames.iter().map(|f| f.done);
                known.frames_in = frames.fold(known.frames_in, u32::saturating_add);
                let bees = report.bees.iter().map(|b| b.done);
                known.bees_in = bees.fold(known.bees_in, i64::saturating_add);
                let homes = lots(self.scenario, c).into_keys();
                let by = homes.filter(|from| self.way(c, *from) == Some(Way::Along));
                let by = by.sorted_by_key(|from| self.route.along(*from));
                known
                    .then_at
                    .extend(by.map(|from| site(self.scenario, from)));
            }
        }
        for known in &mut list {
            known.then_at = known.then_at.drain(..).unique().collect();
        }
        list.retain(|known| !known.finished);
        list
    }

    /// The sites from which closed carrying boxes go.
    pub(super) fn closed_from(&self, rest: &Plan) -> Vec<usize> {
        let of = |c: &Compartment| {
            let from = lots(self.scenario, c).into_keys();
            from.filter(|from| self.way(c, *from) == Some(Way::Closed))
                .collect::<Vec<_>>()
        };
        rest.compartments.iter().flat_map(of).collect()
    }

    /// What travels to a box in a closed carrying box, of what is still to be put in.
    pub(super) fn closed(&self, rest: &Plan) -> Vec<ClosedBox> {
        let mut list = Vec::new();
        for c in &rest.compartments {
            let (Some(own), Some(kind)) = (self.own(c), self.scenario.boxes.get(c.kind.0)) else {
                continue;
            };
            for (from, (frames, taken)) in lots(self.scenario, c) {
                if self.way(c, from) != Some(Way::Closed) {
                    continue;
                }
                list.push((
                    from,
                    ClosedBox {
                        from_site: site(self.scenario, from),
                        to_site: site(self.scenario, own),
                        box_kind: kind.name.clone(),
                        box_no: c.box_no.saturating_add(1),
                        compartment: c.place.saturating_add(1),
                        frames,
                        bees: bees(taken),
                    },
                ));
            }
        }
        list.sort_by_key(|(from, _)| self.route.along(*from));
        list.into_iter().map(|(_, closed)| closed).collect()
    }
}

fn place(c: &Compartment) -> Place {
    (c.kind.0, c.box_no)
}

/// What a compartment gets from the colonies of each site.
fn lots(scenario: &Scenario, c: &Compartment) -> BTreeMap<usize, Lot> {
    let mut lots: BTreeMap<usize, Lot> = BTreeMap::new();
    let mut add = |id: ColonyId, frames: u32, taken: Hundreds| {
        if let Some(colony) = scenario.colonies.get(id.0) {
            let lot = lots.entry(colony.site.0).or_default();
            lot.0 = lot.0.saturating_add(frames);
            lot.1 += taken;
        }
    };
    for placed in &c.frames {
        if let Origin::Colony(id, _) = placed.origin {
            add(id, placed.count, Hundreds(0));
        }
    }
    for placed in &c.bees {
        add(placed.colony, 0, placed.taken());
    }
    lots
}

/// Where a box is had ready: in its place where bees stand in it; else at the first site of the day that gives to it, where
/// something is in it already at the first of those that gave.
fn ready_at(scenario: &Scenario, plan: &Plan, route: &Route, of: Place) -> Option<usize> {
    let own = scenario.boxes.get(of.0)?.site.0;
    if scenario.standing.iter().any(|s| (s.kind.0, s.box_no) == of) {
        return Some(own);
    }
    let first = |all: &mut dyn Iterator<Item = &Compartment>| {
        let homes = all.filter(|c| place(c) == of);
        let homes = homes.flat_map(|c| lots(scenario, c).into_keys());
        homes.min_by_key(|home| route.along(*home))
    };
    let done = first(&mut scenario.done.iter());
    Some(done.or_else(|| first(&mut plan.touched())).unwrap_or(own))
}
