//! A scenario in which something is already done, taken apart for the enumeration: compartments that
//! are begun become kinds of box of their own, and what has left each colony is counted.
//!
//! Source: `docs/model.md`, "What is already done". Nothing of the solver is used.

use super::enumerate::{cells_do, fits, part, stay};
use spareframe_solver::*;
use std::collections::{BTreeMap, BTreeSet};

/// What has left one colony.
#[derive(Clone, Default)]
pub struct Gone {
    pub groups: Vec<i128>,
    pub bees: i128,
    pub frames: i128,
    pub brood: i128,
    pub honey: i128,
    pub shaken: i128,
}

impl Gone {
    pub fn opened(&self) -> bool {
        self.frames > 0 || self.bees > 0
    }
}

pub struct Split {
    /// With kinds of box taken apart and the store room as it is left; colonies as they were.
    pub scenario: Scenario,
    /// Thousandths of bees that one compartment of each kind still needs.
    pub fewest: Vec<i128>,
    pub gone: Vec<Gone>,
    /// Fewest compartments of each kind: those that are finished.
    pub least: Vec<u32>,
    /// Which kinds are compartments that are begun.
    begun: Vec<bool>,
}

impl Split {
    pub fn of(scenario: &Scenario) -> Self {
        let mut split = Self {
            scenario: scenario.clone(),
            fewest: scenario
                .boxes
                .iter()
                .map(|kind| 1000 * i128::from(kind.bees.0))
                .collect(),
            least: vec![0; scenario.boxes.len()],
            begun: vec![false; scenario.boxes.len()],
            gone: (0..scenario.colonies.len())
                .map(|at| gone(scenario, at))
                .collect(),
        };
        for kind in 0..scenario.boxes.len() {
            split.take_apart(scenario, kind);
        }
        split.settle();
        for give in &mut split.scenario.gives {
            let groups = &split.gone[give.colony.0].groups;
            let gone: i128 = match give.group {
                Some(group) => groups[group],
                None => groups.iter().sum(),
            };
            give.frames = give.frames.saturating_sub(gone as u32);
        }
        for placed in scenario.done.iter().flat_map(|record| &record.frames) {
            if let Origin::StoreRoom(entry) = placed.origin {
                split.scenario.store_room[entry].count -= placed.count;
            }
        }
        split
    }

    fn take_apart(&mut self, scenario: &Scenario, at: usize) {
        let kind = &scenario.boxes[at];
        let records: Vec<&Compartment> = scenario.done.iter().filter(|r| r.kind.0 == at).collect();
        if records.is_empty() {
            return;
        }
        let begun: BTreeSet<u32> = records.iter().map(|record| record.box_no).collect();
        let rest = &mut self.scenario.boxes[at];
        if kind.whole {
            rest.count -= begun.len() as u32;
            let free = begun.len() * kind.compartments as usize - records.len();
            let fewest = 1000 * i128::from(kind.bees.0);
            self.add(
                at,
                BoxKind {
                    count: free as u32,
                    ..single(kind)
                },
                fewest,
                false,
            );
        } else {
            *rest = BoxKind {
                count: kind.count * kind.compartments - records.len() as u32,
                ..single(kind)
            };
        }
        for record in records {
            let mut left = single(kind);
            let mut sound = true;
            for placed in &record.frames {
                let frame = match placed.origin {
                    Origin::Colony(c, g) => &scenario.colonies[c.0].frames[g].frame,
                    Origin::StoreRoom(e) => &scenario.store_room[e].frame,
                };
                let line = &mut left.lines[placed.line];
                sound &=
                    fits(frame, &line.ask) || line.substitutes.iter().any(|s| fits(frame, &s.ask));
                sound &= line.count >= placed.count;
                line.count = line.count.saturating_sub(placed.count);
            }
            let stays: i128 = record
                .bees
                .iter()
                .map(|b| {
                    i128::from(b.bees.0) * stay(scenario, &scenario.colonies[b.colony.0], kind.site)
                })
                .sum();
            let short = 1000 * i128::from(kind.bees.0) - stays;
            if sound {
                self.add(at, left, if short <= -1000 { 0 } else { short }, true);
            }
        }
    }

    /// Adds a kind that is one of another's compartments; cells for that are for it, too.
    fn add(&mut self, of: usize, kind: BoxKind, fewest: i128, begun: bool) {
        let id = BoxId(self.scenario.boxes.len());
        for batch in self.scenario.cells.iter_mut().flatten() {
            if batch.boxes.contains(&BoxId(of)) {
                batch.boxes.push(id);
            }
        }
        self.scenario.boxes.push(kind);
        self.fewest.push(fewest);
        self.begun.push(begun);
        self.least.push(0);
    }

    /// What lacks nothing stays stocked, where there are cells for all of it. A compartment short of
    /// less than a bee lacks nothing where those of its site together do not.
    fn settle(&mut self) {
        let kinds = &self.scenario.boxes;
        let complete = |at: &usize| {
            let lacks = kinds[*at].lines.iter().any(|line| line.count > 0);
            self.begun[*at] && self.fewest[*at] < 1000 && !lacks
        };
        let finished = |at: &usize| {
            let near = (0..kinds.len()).filter(|other| kinds[*other].site == kinds[*at].site);
            let short: i128 = near.filter(complete).map(|other| self.fewest[other]).sum();
            complete(at) && (self.fewest[*at] <= 0 || short <= 0)
        };
        let mut least = vec![0; kinds.len()];
        for at in (0..kinds.len()).filter(finished) {
            least[at] = kinds[at].count;
        }
        if cells_do(&self.scenario, &least) {
            self.least = least;
        }
    }
}

/// One compartment of a kind.
fn single(kind: &BoxKind) -> BoxKind {
    BoxKind {
        count: 1,
        compartments: 1,
        whole: false,
        ..kind.clone()
    }
}

fn gone(scenario: &Scenario, at: usize) -> Gone {
    let colony = &scenario.colonies[at];
    let rates = honey::rates(&scenario.combs, colony, &scenario.colony_model);
    let mut frames: BTreeMap<usize, i128> = BTreeMap::new();
    let mut bees = 0;
    for record in &scenario.done {
        for placed in &record.frames {
            match placed.origin {
                Origin::Colony(c, group) if c.0 == at => {
                    *frames.entry(group).or_default() += i128::from(placed.count);
                }
                _ => {}
            }
        }
        let own = record.bees.iter().filter(|b| b.colony.0 == at);
        bees += own.map(|b| i128::from(b.bees.0)).sum::<i128>();
    }
    let mut gone = Gone {
        groups: vec![0; colony.frames.len()],
        bees,
        honey: bees * i128::from(rates.bees),
        ..Gone::default()
    };
    let mut riding = 0;
    for (group, count) in frames {
        let frame = &colony.frames[group].frame;
        let comb = &scenario.combs[frame.comb.0];
        let sealed = part(frame.sealed, comb.cells);
        let open = part(frame.brood, comb.cells) - sealed;
        gone.groups[group] = count;
        gone.frames += count;
        gone.brood += i128::from(frame.brood.0) * count;
        gone.honey += count * (sealed * i128::from(rates.sealed) + open * i128::from(rates.open));
        if colony.crop.is_some() {
            gone.honey += count * part(frame.stores, comb.stores.0) * 1000;
        }
        riding += part(frame.bees, comb.bees.0) * count;
    }
    gone.shaken = (bees - riding).max(0);
    gone
}
