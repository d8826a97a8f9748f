//! From a scenario to its instance.

use std::collections::BTreeMap;

use itertools::Itertools;

use super::done::Done;
use super::donors::Yard;
use super::gone::base;
use super::kinds::Boxes;
use super::{Instance, Kind, Need, Service};
use crate::plan::{Origin, Plan};
use crate::scenario::{FrameState, Prices, Scenario};
use crate::solve::Ceiling;

impl Instance {
    /// Everything of the model that can be decided for each colony and each kind of box alone; with an
    /// earlier plan, where one is to be kept to, and the most that may be stocked.
    pub fn new(scenario: &Scenario, earlier: Option<&Plan>, most: &Ceiling) -> Self {
        let done = Done::of(scenario);
        let then = earlier.map(Plan::drawn);
        let mut boxes = Boxes::of(scenario, &done);
        let cells = cells(scenario, &boxes.kinds);
        boxes.settle_finished(scenario, &done, cells.as_deref());
        let classes = classes(scenario, &boxes);
        let service = |frame: &FrameState| boxes.service(scenario, frame);
        let class_of = |frame: &FrameState| classes.binary_search(&service(frame)).ok();
        let base = base(scenario, &done, then.as_ref());
        let yard = Yard {
            scenario,
            done: &done,
            sites: &boxes.sites,
            then: &then.unwrap_or_default(),
        };
        let finished = |of: &dyn Fn(&Kind) -> i64| -> i64 {
            boxes.kinds.iter().map(|kind| kind.least * of(kind)).sum()
        };
        let compartments = most.compartments;
        let compartments = compartments.map(|most| i64::try_from(most).unwrap_or(i64::MAX));
        Self {
            donors: yard.donors(class_of),
            shelf: shelf(scenario, &done, class_of, classes.len()),
            honey_room: scenario.honey_cap.map(|cap| (cap.0 - base.honey.0).max(0)),
            most_compartments: compartments.map(|most| most.max(finished(&|_| 1))),
            most_worth: most
                .worth
                .map(|most| most.0.max(finished(&|kind| kind.worth))),
            below: None,
            near: earlier.is_some(),
            prices: Prices {
                otherwise: scenario.prices.otherwise.times(earlier.is_some().into()),
                ..scenario.prices
            },
            base,
            cells,
            classes,
            kinds: boxes.kinds,
            needs: boxes.needs,
            sites: boxes.sites,
            done,
        }
    }
}

impl Boxes {
    /// For each need, the place of a frame in its order of preference.
    fn service(&self, scenario: &Scenario, frame: &FrameState) -> Service {
        let place = |need: &Need| {
            let kind = &self.kinds[need.kind];
            let boxes = &scenario.boxes[kind.id.0];
            let lines = if kind.again {
                &boxes.again.lines
            } else {
                &boxes.lines
            };
            let place = lines[need.line].place_of(frame)?;
            Some(u8::try_from(place).unwrap_or(u8::MAX))
        };
        self.needs.iter().map(place).collect()
    }
}

/// The distinct services of all frames that fit some need, in order.
fn classes(scenario: &Scenario, boxes: &Boxes) -> Vec<Service> {
    let colonies = scenario.colonies.iter();
    let frames = colonies.flat_map(|colony| colony.frames.iter().map(|group| &group.frame));
    let spares = scenario.store_room.iter().map(|spare| &spare.frame);
    let services = frames
        .chain(spares)
        .sorted()
        .dedup()
        .map(|frame| boxes.service(scenario, frame));
    services
        .filter(|service| service.iter().any(Option::is_some))
        .sorted()
        .dedup()
        .collect()
}

/// What is left in the store room of each class, in the order of the frames.
fn shelf(
    scenario: &Scenario,
    done: &Done,
    class_of: impl Fn(&FrameState) -> Option<usize>,
    classes: usize,
) -> Vec<Vec<(usize, u32)>> {
    let mut shelf = vec![Vec::new(); classes];
    let room = &scenario.store_room;
    for index in (0..room.len()).sorted_by_key(|&index| room[index].frame) {
        let gone = done.frames(Origin::StoreRoom(index));
        let left = room[index].count.saturating_sub(gone);
        if let Some(class) = class_of(&room[index].frame).filter(|_| left > 0) {
            shelf[class].push((index, left));
        }
    }
    shelf
}

/// Batches of cells and the positions of the kinds that they are for; alike ones together.
fn cells(scenario: &Scenario, kinds: &[Kind]) -> Option<Vec<(i64, Vec<usize>)>> {
    let batches = scenario.cells.as_ref()?;
    let mut counts: BTreeMap<Vec<usize>, i64> = BTreeMap::new();
    for batch in batches {
        let for_kind = |kind: &Kind| batch.boxes.is_empty() || batch.boxes.contains(&kind.id);
        let kinds = kinds.iter().positions(for_kind).collect_vec();
        *counts.entry(kinds).or_default() += i64::from(batch.count);
    }
    let used = counts.into_iter().filter(|(kinds, _)| !kinds.is_empty());
    Some(used.map(|(kinds, count)| (count, kinds)).collect())
}
