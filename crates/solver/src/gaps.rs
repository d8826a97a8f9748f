//! What goes in where frames leave.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use itertools::Itertools;

use crate::plan::{Origin, Plan};
use crate::scenario::{ColonyId, CombId, Crop, FrameState, Scenario};

/// A comb of which so much is drawn counts as drawn comb, in thousandths.
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

/// What fills the gaps that a plan still leaves: in colonies with a crop, drawn comb left in the store
/// room, the most drawn first; within a flow, where none is left, foundation. Colonies by name, while it
/// lasts. Where nothing fills a gap, the colony closes up.
///
/// ```
/// use spareframe_solver::{ColonyId, Filler, Outcome, Scenario, SolveOptions, fillers, solve};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let yard: Scenario = include!("../doctests/yard.rs");
/// let Outcome::Stocked(best) = solve(&yard, &SolveOptions::default()) else { panic!() };
/// // The producer gives three frames and gets the two drawn combs that there are; the nucleus closes up.
/// assert_eq!(fillers(&yard, &best.plan), [Filler { colony: ColonyId(0), entry: 1, count: 2 }]);
/// ```
#[must_use]
pub fn fillers(scenario: &Scenario, plan: &Plan) -> Vec<Filler> {
    let mut shelf = Shelf::of(scenario, plan);
    let leaving = leaving(scenario, plan);
    let order = leaving
        .iter()
        .sorted_by_key(|((colony, comb), _)| (&scenario.colonies[colony.0].name, *comb));
    let fillers = order.flat_map(|(&(colony, comb), &count)| {
        let crop = scenario.colonies[colony.0].crop;
        let given = crop.map_or_else(Vec::new, |crop| shelf.give(comb, crop, count));
        let filler = move |(entry, count)| Filler {
            colony,
            entry,
            count,
        };
        given.into_iter().map(filler)
    });
    fillers.collect()
}

/// Frames still to leave, by colony and size; of colonies and frames that there are.
fn leaving(scenario: &Scenario, plan: &Plan) -> BTreeMap<(ColonyId, CombId), u32> {
    let rest = plan.rest(&scenario.done);
    let mut leaving: BTreeMap<_, u32> = BTreeMap::new();
    for placed in rest.compartments.iter().flat_map(|c| &c.frames) {
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

/// What a plan leaves in the store room.
struct Shelf<'a> {
    /// Entry, what each frame holds, how many are left; the most drawn first, of these the emptiest.
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
            (Reverse(frame.drawn), frame.stores, *entry)
        };
        Self {
            entries: entries.sorted_by_key(order).collect(),
        }
    }

    /// Takes up to so many frames of a size for a colony with this crop: entries and counts.
    fn give(&mut self, comb: CombId, crop: Crop, mut count: u32) -> Vec<(usize, u32)> {
        let in_flow = crop.from <= 0 && 0 <= crop.to;
        let fills = |frame: &FrameState| {
            let foundation = frame.drawn.0 == 0;
            frame.comb == comb && (frame.drawn.0 >= HALF || (foundation && in_flow))
        };
        let mut given = Vec::new();
        for (entry, _, left) in self.entries.iter_mut().filter(|(_, frame, _)| fills(frame)) {
            let taken = count.min(*left);
            if taken > 0 {
                *left -= taken;
                count -= taken;
                given.push((*entry, taken));
            }
        }
        given
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Compartment, PlacedFrames};
    use crate::scenario::{BoxId, Colony, Draw, FrameGroup, Keep, SiteId, SpareFrames};
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
        let fillers = fillers(scenario, plan).into_iter();
        fillers.map(|f| (f.colony.0, f.entry, f.count)).collect()
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
        assert_eq!(given(&yard(LATER, &[0, 900]), &plan), [(0, 1, 1)]);
        assert_eq!(given(&yard(NOW, &[0, 900]), &plan), [(0, 1, 1), (0, 0, 1)]);
    }

    #[test]
    fn colonies_without_a_crop_close_up() {
        assert_eq!(given(&yard(None, &[1000]), &taking(&[(B, 1)])), []);
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
