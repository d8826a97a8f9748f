//! What goes in where frames leave.

use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::ops::RangeInclusive;

use itertools::Itertools;

use crate::plan::{Origin, Plan};
use crate::scenario::{Colony, ColonyId, CombId, FrameState, Scenario};

/// Half a comb, in thousandths: a comb that is drawn so far is drawn comb, and one with so much of it empty is empty.
const HALF: i64 = 500;

/// Frames of the store room that go into a colony where frames of the same size leave it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Filler {
    /// The colony.
    pub colony: ColonyId,
    /// Index in [`Scenario::store_room`].
    pub entry: usize,
    /// How many, 1 or more.
    pub count: u32,
}

/// Gaps that frames leave in a colony that is kept for honey, and that is not taken apart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gaps {
    /// The colony.
    pub colony: ColonyId,
    /// What fills them.
    pub fillers: Vec<Filler>,
    /// Gaps that nothing fills.
    pub empty: u32,
    /// Of those, gaps that foundation left in the store room would fill if a flow were on.
    pub foundation: u32,
}

/// The gaps that a plan still leaves, by the names of the colonies, and what of the store room goes in: drawn comb that is
/// empty, the most room first; within a flow, foundation; where neither is left, combs with stores. Outside a flow no
/// stores go in while there is foundation: those gaps stay empty. Colonies without a crop that are not of the
/// role `production` close up, and have no gaps.
///
/// ```
/// use spareframe_solver::{ColonyId, Filler, Outcome, Scenario, SolveOptions, gaps, solve};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let yard: Scenario = include!("../doctests/yard.rs");
/// let Outcome::Stocked(best) = solve(&yard, &SolveOptions::default()) else { panic!() };
/// // The producer gives three frames and gets the two drawn combs that there are; the nucleus closes up.
/// let [gaps] = &gaps(&yard, &best.plan)[..] else { panic!() };
/// assert_eq!(gaps.fillers, [Filler { colony: ColonyId(0), entry: 1, count: 2 }]);
/// assert_eq!((gaps.empty, gaps.foundation), (1, 0));
/// ```
#[must_use]
pub fn gaps(scenario: &Scenario, plan: &Plan) -> Vec<Gaps> {
    let mut shelf = Shelf::of(scenario, plan);
    let (leaving, all) = (
        leaving(scenario, &plan.rest(&scenario.done)),
        leaving(scenario, plan),
    );
    let named = (0..).map(ColonyId).zip(&scenario.colonies);
    let closed = named.filter(|(id, colony)| {
        let gone = all.range(of(*id)).map(|(_, count)| *count);
        for_honey(colony) && sum(gone) < sum(colony.frames.iter().map(|group| group.count))
    });
    let order = closed.sorted_by_key(|(_, colony)| &colony.name);
    let gaps = order.map(|(id, colony)| {
        let left = leaving.range(of(id));
        shelf.fill(id, colony, left.map(|((_, comb), count)| (*comb, *count)))
    });
    gaps.filter(|gaps| gaps.empty > 0 || !gaps.fillers.is_empty())
        .collect()
}

/// Whether a colony is kept for honey, and so has its gaps filled.
fn for_honey(colony: &Colony) -> bool {
    colony.crop.is_some() || colony.role == "production"
}

/// All sizes of one colony.
fn of(id: ColonyId) -> RangeInclusive<(ColonyId, CombId)> {
    (id, CombId(0))..=(id, CombId(usize::MAX))
}

fn sum(counts: impl Iterator<Item = u32>) -> u32 {
    counts.fold(0, u32::saturating_add)
}

/// Frames of a plan that leave, by colony and size; of colonies and frames that there are.
fn leaving(scenario: &Scenario, plan: &Plan) -> BTreeMap<(ColonyId, CombId), u32> {
    let mut leaving: BTreeMap<_, u32> = BTreeMap::new();
    for placed in plan.touched().flat_map(|c| &c.frames) {
        let Origin::Colony(id, group) = placed.origin else {
            continue;
        };
        let colony = scenario.colonies.get(id.0);
        if let Some(group) = colony.and_then(|colony| colony.frames.get(group)) {
            let count = leaving.entry((id, group.frame.comb)).or_default();
            *count = count.saturating_add(placed.count);
        }
    }
    leaving
}

/// What a frame is to a gap, the better first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Fits {
    /// Drawn, and half a comb or more of it empty.
    Empty,
    /// Less than half drawn: bees draw it in a flow alone.
    Foundation,
    /// Drawn, and full of stores.
    Stores,
}

impl Fits {
    fn of(frame: &FrameState) -> Self {
        match (frame.drawn.0, room(frame)) {
            (..HALF, _) => Self::Foundation,
            (_, HALF..) => Self::Empty,
            _ => Self::Stores,
        }
    }
}

/// What of a comb is drawn and empty.
fn room(frame: &FrameState) -> i64 {
    frame.drawn.0.saturating_sub(frame.stores.0)
}

/// What a plan leaves in the store room.
struct Shelf<'a> {
    /// Entry, what each frame holds, how many are left; what fits a gap best first.
    entries: Vec<(usize, &'a FrameState, u32)>,
}

impl<'a> Shelf<'a> {
    fn of(scenario: &'a Scenario, plan: &Plan) -> Self {
        let mut left: Vec<u32> = scenario
            .store_room
            .iter()
            .map(|spare| spare.count)
            .collect();
        for placed in plan.touched().flat_map(|c| &c.frames) {
            if let Origin::StoreRoom(entry) = placed.origin
                && let Some(left) = left.get_mut(entry)
            {
                *left = left.saturating_sub(placed.count);
            }
        }
        let spares = scenario.store_room.iter().zip(left).enumerate();
        let entries = spares.map(|(entry, (spare, left))| (entry, &spare.frame, left));
        let order = |(entry, frame, _): &(usize, &FrameState, u32)| {
            (Fits::of(frame), Reverse(room(frame)), *entry)
        };
        Self {
            entries: entries.sorted_by_key(order).collect(),
        }
    }

    /// Takes frames for the gaps of a colony, so many of each size. Foundation that it would draw only in a flow is set
    /// aside for it.
    fn fill(
        &mut self,
        id: ColonyId,
        colony: &Colony,
        leaving: impl Iterator<Item = (CombId, u32)>,
    ) -> Gaps {
        let in_flow = colony.crop.is_some_and(|c| c.from <= 0 && 0 <= c.to);
        let mut gaps = Gaps {
            colony: id,
            fillers: Vec::new(),
            empty: 0,
            foundation: 0,
        };
        for (comb, mut open) in leaving {
            let entries = self.entries.iter_mut();
            for (entry, frame, left) in entries.filter(|(_, frame, _)| frame.comb == comb) {
                let count = open.min(*left);
                *left -= count;
                open -= count;
                if Fits::of(frame) == Fits::Foundation && !in_flow {
                    gaps.foundation = gaps.foundation.saturating_add(count);
                } else if count > 0 {
                    gaps.fillers.push(Filler {
                        colony: id,
                        entry: *entry,
                        count,
                    });
                }
            }
            gaps.empty = gaps.empty.saturating_add(open);
        }
        gaps.empty = gaps.empty.saturating_add(gaps.foundation);
        gaps
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Compartment, PlacedFrames};
    use crate::scenario::{BoxId, Crop, Draw, FrameGroup, Keep, SiteId, SpareFrames};
    use crate::units::{Grams, Hundreds, Milli, Percent};

    fn comb(drawn: i64) -> FrameState {
        FrameState {
            comb: CombId(0),
            brood: Milli(0),
            sealed: Milli(0),
            stores: Milli(0),
            drawn: Milli(drawn),
            bees: Hundreds(0),
        }
    }

    fn colony(name: &str, crop: Option<(i32, i32)>) -> Colony {
        Colony {
            name: name.into(),
            site: SiteId(0),
            role: String::new(),
            hold: None,
            frames: vec![FrameGroup {
                count: 5,
                frame: comb(1000),
                queen: false,
            }],
            extra_bees: Hundreds(0),
            crop: crop.map(|(from, to)| Crop {
                honey: Grams(1000),
                from,
                to,
            }),
            keep: Keep::default(),
            draw: Draw::default(),
            rides: Percent(50),
            apart: false,
        }
    }

    /// Colonies "b" and "a", and a store room with one comb of each of these.
    fn yard(crop: Option<(i32, i32)>, drawn: &[i64]) -> Scenario {
        let spares = drawn.iter().map(|&drawn| SpareFrames {
            count: 1,
            frame: comb(drawn),
        });
        Scenario {
            colonies: vec![colony("b", crop), colony("a", crop)],
            store_room: spares.collect(),
            ..Scenario::default()
        }
    }

    fn taking(frames: &[(Origin, u32)]) -> Plan {
        let placed = frames.iter().map(|&(origin, count)| PlacedFrames {
            line: 0,
            origin,
            count,
        });
        let compartment = Compartment {
            kind: BoxId(0),
            box_no: 0,
            place: 0,
            frames: placed.collect(),
            bees: Vec::new(),
        };
        Plan {
            compartments: vec![compartment],
            begun: Vec::new(),
        }
    }

    fn given(scenario: &Scenario, plan: &Plan) -> Vec<(usize, usize, u32)> {
        let gaps = gaps(scenario, plan).into_iter();
        gaps.flat_map(|gaps| gaps.fillers)
            .map(|f| (f.colony.0, f.entry, f.count))
            .collect()
    }

    /// Gaps that stay empty, and those that foundation would fill.
    fn open(scenario: &Scenario, plan: &Plan) -> (u32, u32) {
        let gaps = gaps(scenario, plan);
        let sum = |of: fn(&Gaps) -> u32| gaps.iter().map(of).sum();
        (sum(|g| g.empty), sum(|g| g.foundation))
    }

    const B: Origin = Origin::Colony(ColonyId(0), 0);
    const A: Origin = Origin::Colony(ColonyId(1), 0);
    const LATER: Option<(i32, i32)> = Some((3, 20));
    const NOW: Option<(i32, i32)> = Some((0, 20));

    #[test]
    fn the_first_by_name_gets_the_most_drawn_comb_and_others_what_is_left() {
        let scenario = yard(LATER, &[400, 500, 1000]);
        let plan = taking(&[(B, 1), (A, 1)]);
        assert_eq!(given(&scenario, &plan), [(1, 2, 1), (0, 1, 1)]);
    }

    #[test]
    fn foundation_goes_in_within_a_flow_alone_and_only_where_no_comb_is_left() {
        let plan = taking(&[(B, 2)]);
        let later = yard(LATER, &[0, 900]);
        assert_eq!(given(&later, &plan), [(0, 1, 1)]);
        assert_eq!(open(&later, &plan), (1, 1));
        let now = yard(NOW, &[0, 900]);
        assert_eq!(given(&now, &plan), [(0, 1, 1), (0, 0, 1)]);
        assert_eq!(open(&now, &plan), (0, 0));
    }

    #[test]
    fn combs_with_stores_go_in_last_and_not_while_there_is_foundation() {
        let with_stores = |crop, drawn: &[i64]| {
            let mut scenario = yard(crop, drawn);
            scenario.store_room[0].frame.stores = Milli(800);
            scenario
        };
        let plan = taking(&[(B, 3)]);
        // Full combs, an empty one, foundation.
        let now = with_stores(NOW, &[1000, 900, 0]);
        assert_eq!(given(&now, &plan), [(0, 1, 1), (0, 2, 1), (0, 0, 1)]);
        let later = with_stores(LATER, &[1000, 900, 0]);
        assert_eq!(given(&later, &plan), [(0, 1, 1), (0, 0, 1)]);
        assert_eq!(open(&later, &plan), (1, 1));
        let enough = taking(&[(B, 2)]);
        assert_eq!(given(&later, &enough), [(0, 1, 1)]);
        assert_eq!(open(&later, &enough), (1, 1));
        // A little food makes no full comb of it.
        let mut wet = yard(NOW, &[1000, 0]);
        wet.store_room[0].frame.stores = Milli(150);
        assert_eq!(given(&wet, &taking(&[(B, 1)])), [(0, 0, 1)]);
    }

    #[test]
    fn foundation_set_aside_for_one_colony_is_not_left_for_the_next() {
        let scenario = yard(LATER, &[0]);
        assert_eq!(open(&scenario, &taking(&[(A, 1), (B, 1)])), (2, 1));
    }

    #[test]
    fn colonies_without_a_crop_close_up_but_for_those_of_the_role_production() {
        let mut scenario = yard(None, &[1000]);
        let plan = taking(&[(B, 2)]);
        assert_eq!(gaps(&scenario, &plan), []);
        scenario.colonies[0].role = "nucleus".into();
        assert_eq!(gaps(&scenario, &plan), []);
        scenario.colonies[0].role = "production".into();
        assert_eq!(given(&scenario, &plan), [(0, 0, 1)]);
        assert_eq!(open(&scenario, &plan), (1, 0));
    }

    #[test]
    fn a_colony_that_is_taken_apart_has_no_gaps() {
        let scenario = yard(NOW, &[1000, 1000]);
        assert_eq!(gaps(&scenario, &taking(&[(B, 5)])), []);
    }

    #[test]
    fn what_the_plan_takes_off_the_shelf_fills_no_gap() {
        let plan = taking(&[(B, 1), (Origin::StoreRoom(0), 1)]);
        assert_eq!(given(&yard(LATER, &[1000]), &plan), []);
    }

    #[test]
    fn gaps_of_frames_that_have_left_already_are_filled_already() {
        let mut scenario = yard(LATER, &[1000, 1000]);
        scenario.done = taking(&[(B, 1)]).compartments;
        assert_eq!(given(&scenario, &taking(&[(B, 1), (A, 1)])), [(1, 0, 1)]);
    }

    #[test]
    fn only_combs_of_the_same_size_go_in() {
        let mut scenario = yard(LATER, &[1000]);
        scenario.store_room[0].frame.comb = CombId(1);
        assert_eq!(given(&scenario, &taking(&[(B, 1)])), []);
    }
}
