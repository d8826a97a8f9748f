//! A scenario in which something is already done, taken apart for the oracles: compartments that are
//! begun become kinds of box of their own, and what has left each colony is counted.
//!
//! Compartments that stand become kinds of their own likewise.
//!
//! Source: `docs/model.md`, "What is done" and "What stands". Nothing of the solver is used.

use super::enumerate::{cells_do, place, stay};
use spareframe_solver::*;
use std::collections::BTreeSet;

/// What has left one colony.
#[derive(Clone, Default)]
pub struct Gone {
    /// Frames of each group.
    pub groups: Vec<i64>,
    /// Hundreds.
    pub bees: i64,
}

impl Gone {
    pub fn opened(&self) -> bool {
        self.bees > 0 || self.groups.iter().any(|&count| count > 0)
    }
}

pub struct Split {
    /// With kinds of box taken apart and the store room as it is left; colonies as they were.
    pub scenario: Scenario,
    /// Bees that one compartment of each kind still needs.
    pub need: Vec<i64>,
    pub gone: Vec<Gone>,
    /// Fewest compartments of each kind: those that are finished.
    pub least: Vec<u32>,
    /// What finished compartments hold beyond their fewest, by site: all, and those without a brood
    /// line.
    pub credit: Vec<[i64; 2]>,
    /// Places of the frames that are placed.
    pub places: i64,
    /// Bees that stay in the compartment of a kind; `None` where it is not begun.
    held: Vec<Option<i64>>,
}

impl Split {
    pub fn of(scenario: &Scenario) -> Self {
        let kinds = scenario.boxes.len();
        let colonies = 0..scenario.colonies.len();
        let mut split = Self {
            scenario: scenario.clone(),
            need: scenario.boxes.iter().map(|kind| kind.bees.0).collect(),
            least: vec![0; kinds],
            held: vec![None; kinds],
            credit: vec![[0, 0]; scenario.sites.len()],
            gone: colonies.map(|at| gone(scenario, at)).collect(),
            places: 0,
        };
        for kind in 0..kinds {
            split.take_apart(scenario, kind);
        }
        split.scenario.standing.clear();
        split.settle();
        for placed in scenario.done.iter().flat_map(|record| &record.frames) {
            if let Origin::StoreRoom(entry) = placed.origin {
                let left = &mut split.scenario.store_room[entry].count;
                *left = left.saturating_sub(placed.count);
            }
        }
        split
    }

    fn take_apart(&mut self, scenario: &Scenario, at: usize) {
        let kind = &scenario.boxes[at];
        let records = scenario.done.iter().filter(|r| r.kind.0 == at);
        let stand = scenario.standing.iter().filter(|s| s.kind.0 == at);
        let mut taken: BTreeSet<(u32, u32)> = stand.map(|s| (s.box_no, s.place)).collect();
        taken.extend(records.map(|r| (r.box_no, r.place)));
        if taken.is_empty() {
            return;
        }
        let boxes: BTreeSet<u32> = taken.iter().map(|place| place.0).collect();
        let rest = &mut self.scenario.boxes[at];
        if kind.whole {
            rest.count -= boxes.len() as u32;
            let free = boxes.len() * kind.compartments as usize - taken.len();
            let free = BoxKind {
                count: free as u32,
                ..single(kind)
            };
            self.add(at, free, kind.bees.0, None);
        } else {
            rest.count = kind.count * kind.compartments - taken.len() as u32;
            rest.compartments = 1;
        }
        for place in taken {
            self.taken(scenario, at, place);
        }
    }

    /// A compartment that is begun or stands: a kind of its own with what it lacks, or never stocked.
    fn taken(&mut self, scenario: &Scenario, at: usize, (box_no, place): (u32, u32)) {
        let kind = &scenario.boxes[at];
        let here = (BoxId(at), box_no, place);
        let stand = &mut scenario.standing.iter();
        let stands = stand.find(|s| (s.kind, s.box_no, s.place) == here);
        let mut left = single(kind);
        if let Some(stands) = stands {
            lacking(&mut left, stands);
        }
        let records = &mut scenario.done.iter();
        let record = records.find(|r| (r.kind, r.box_no, r.place) == here);
        let lacks: Vec<bool> = left.lines.iter().map(|line| line.count > 0).collect();
        let sound = record.is_none_or(|record| self.placed(scenario, record, &mut left));
        for (line, _) in left.lines.iter_mut().zip(lacks).filter(|(_, lacks)| !lacks) {
            // It lacked nothing, and so brings no brood.
            (line.ask.brood.least, line.ask.sealed.least) = (Milli(0), Milli(0));
        }
        let held = record.map(|record| {
            let stays = record.bees.iter().map(|placed| {
                let colony = &scenario.colonies[placed.colony.0];
                stay(scenario, colony, kind.site) * (placed.riding.0 + placed.loose.0)
            });
            stays.sum::<i64>()
        });
        let need = match left.bees.0 - held.unwrap_or(0) {
            short if short < 100 && held.is_some() => 0,
            short => short,
        };
        if sound && stands.is_none_or(|stands| stands.wants_cell) {
            self.add(at, left, need, held);
        }
    }

    /// Takes what is placed off the lines; whether they had room for it.
    fn placed(&mut self, scenario: &Scenario, record: &Compartment, left: &mut BoxKind) -> bool {
        let mut sound = true;
        for placed in &record.frames {
            let frame = match placed.origin {
                Origin::Colony(c, g) => &scenario.colonies[c.0].frames[g].frame,
                Origin::StoreRoom(e) => &scenario.store_room[e].frame,
            };
            let line = &mut left.lines[placed.line];
            let place = place(line, frame);
            self.places += place.unwrap_or(0) * i64::from(placed.count);
            sound &= place.is_some() && line.count >= placed.count;
            line.count = line.count.saturating_sub(placed.count);
        }
        sound
    }

    /// Adds a kind that is one of another's compartments; cells for that are for it, too.
    fn add(&mut self, of: usize, kind: BoxKind, need: i64, held: Option<i64>) {
        let id = BoxId(self.scenario.boxes.len());
        for batch in self.scenario.cells.iter_mut().flatten() {
            if batch.boxes.contains(&BoxId(of)) {
                batch.boxes.push(id);
            }
        }
        self.scenario.boxes.push(kind);
        self.need.push(need);
        self.held.push(held);
        self.least.push(0);
    }

    /// What lacks nothing stays stocked, where there are cells for all of it.
    fn settle(&mut self) {
        let kinds = &self.scenario.boxes;
        let lacks_nothing = |at: usize| {
            let frames: u32 = kinds[at].lines.iter().map(|line| line.count).sum();
            self.held[at].is_some() && self.need[at] == 0 && frames == 0
        };
        let least: Vec<u32> = (0..kinds.len())
            .map(|at| u32::from(lacks_nothing(at)))
            .collect();
        if !cells_do(&self.scenario, &least) {
            return;
        }
        for (site, credit) in self.credit.iter_mut().enumerate() {
            for (at, kind) in kinds.iter().enumerate() {
                let over = self.held[at].unwrap_or(0) - kind.bees.0;
                if least[at] == 1 && kind.site.0 == site {
                    credit[0] += over;
                    credit[1] += if brood_line(kind) { 0 } else { over };
                }
            }
            *credit = credit.map(|over| over.clamp(0, 99));
        }
        self.least = least;
    }
}

/// Whether some line asks for brood, substitutes left aside.
pub fn brood_line(kind: &BoxKind) -> bool {
    let asks = |line: &Line| line.ask.brood.least.0 > 0 || line.ask.sealed.least.0 > 0;
    kind.lines.iter().any(asks)
}

/// Gives one compartment the recipe for its next cell, less what stands in it.
fn lacking(kind: &mut BoxKind, stands: &Standing) {
    let Recipe { lines, bees } = kind.again.clone();
    let on_frames = stands.frames.iter();
    let on_frames = on_frames.map(|g| i64::from(g.count) * g.frame.bees.0);
    let short = bees.0 - 100 * (stands.extra_bees.0 + on_frames.sum::<i64>());
    kind.bees = Bees(if short < 100 { 0 } else { short });
    kind.lines = lines;
    let each = stands.frames.iter();
    let frames: Vec<&FrameState> = each.flat_map(|g| (0..g.count).map(|_| &g.frame)).collect();
    let served = vec![0; kind.lines.len()];
    let best = most_served(&kind.lines, &frames, &served).unwrap_or(served);
    for (line, served) in kind.lines.iter_mut().zip(best) {
        line.count -= served;
    }
}

/// Of all ways to put frames into lines, or none, the one that serves the first lines most.
fn most_served(lines: &[Line], frames: &[&FrameState], served: &[u32]) -> Option<Vec<u32>> {
    let Some((frame, rest)) = frames.split_first() else {
        return Some(served.to_vec());
    };
    let into = (0..lines.len())
        .filter(|&at| served[at] < lines[at].count && place(&lines[at], frame).is_some());
    let ways = into.map(|at| {
        let mut with = served.to_vec();
        with[at] += 1;
        with
    });
    let ways = ways.chain([served.to_vec()]);
    ways.filter_map(|served| most_served(lines, rest, &served))
        .max()
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
    let mut gone = Gone {
        groups: vec![0; scenario.colonies[at].frames.len()],
        bees: 0,
    };
    for record in &scenario.done {
        for placed in &record.frames {
            match placed.origin {
                Origin::Colony(c, group) if c.0 == at => {
                    gone.groups[group] += i64::from(placed.count);
                }
                _ => {}
            }
        }
        let own = record.bees.iter().filter(|placed| placed.colony.0 == at);
        gone.bees += own.map(|b| b.riding.0 + b.loose.0).sum::<i64>();
    }
    gone
}
