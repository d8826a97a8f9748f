//! What to bring to each site.

use super::build::{bees, decimal, frame_of, holds, site};
use super::figures::counted;
use super::report::{Carry, LoadFrames, Progress, Report};
use super::stocked::feed;
use super::words::clean;
use spareframe_solver::{Compartment, FrameState, Gaps, Hundreds, Origin, Plan, Scenario};
use std::collections::{BTreeMap, BTreeSet};

#[derive(Default)]
struct Load {
    frames: BTreeMap<FrameState, u32>,
    gaps: BTreeMap<FrameState, u32>,
    bees: Hundreds,
    cells: u32,
    feed: i64,
}

/// Loads by site of the boxes, then by place of origin, the store room first: what is still to go
/// into compartments or to fill gaps, and a cell for each that is stocked, as cells go in last of all.
pub(super) fn carry(scenario: &Scenario, plan: &Plan, gaps: &[Gaps]) -> Vec<Carry> {
    let mut loads: BTreeMap<(usize, Option<usize>), Load> = BTreeMap::new();
    let home = |id: spareframe_solver::ColonyId| scenario.colonies.get(id.0).map(|d| d.site.0);
    let to = |c: &Compartment| scenario.boxes.get(c.kind.0).map(|kind| kind.site.0);
    for to in plan.compartments.iter().filter_map(to) {
        loads.entry((to, None)).or_default().cells += 1;
    }
    for c in &plan.rest(&scenario.done).compartments {
        let Some(to) = to(c) else { continue };
        let site_load = loads.entry((to, None)).or_default();
        site_load.feed = site_load.feed.saturating_add(feed(scenario, c));
        for placed in &c.frames {
            let Some(frame) = frame_of(scenario, placed.origin) else {
                continue;
            };
            let from = match placed.origin {
                Origin::Colony(id, _) => home(id),
                Origin::StoreRoom(_) => None,
            };
            let load = loads.entry((to, from)).or_default();
            let n = load.frames.entry(*frame).or_default();
            *n = n.saturating_add(placed.count);
        }
        for placed in &c.bees {
            let load = loads.entry((to, home(placed.colony))).or_default();
            load.bees += placed.taken();
        }
    }
    for filler in gaps.iter().flat_map(|gaps| &gaps.fillers) {
        let (Some(to), Some(spare)) = (home(filler.colony), scenario.store_room.get(filler.entry))
        else {
            continue;
        };
        let load = loads.entry((to, None)).or_default();
        let n = load.gaps.entry(spare.frame).or_default();
        *n = n.saturating_add(filler.count);
    }
    let alike = |frames: &BTreeMap<FrameState, u32>| {
        let frames = frames.iter().map(|(frame, &frames)| LoadFrames {
            frames,
            each_holds: holds(scenario, frame),
        });
        frames.collect()
    };
    let carried = |((to, from), load): ((usize, Option<usize>), Load)| Carry {
        to_site: site(scenario, to),
        from_site: from.map(|f| site(scenario, f)),
        frames: alike(&load.frames),
        gap_frames: alike(&load.gaps),
        bees: bees(load.bees),
        cells: load.cells,
        cells_on: None,
        feed_kg: decimal(load.feed, 1000.0),
    };
    loads.into_iter().map(carried).collect()
}

/// Boxes to bring to a site, an item for each kind.
pub(super) fn boxes(report: &Report, site: &str) -> Vec<String> {
    let kinds = report.headline.kinds.iter();
    let next = report.compartments.iter().filter(|c| c.stands.is_some());
    let standing: BTreeSet<(&str, u32)> = next
        .map(|c| (c.box_kind.as_str(), c.box_no))
        .chain(
            report
                .standing
                .iter()
                .map(|s| (s.box_kind.as_str(), s.box_no)),
        )
        .collect();
    kinds
        .filter(|k| k.site == site)
        .filter_map(|k| {
            // A finished box has no more to be brought to it, and may stand there already.
            let open = report
                .compartments
                .iter()
                .filter(|c| c.box_kind == k.box_kind && c.done != Some(Progress::Finished));
            let boxes: BTreeSet<u32> = open.map(|c| c.box_no).collect();
            let boxes = boxes
                .iter()
                .filter(|&&no| !standing.contains(&(&*k.box_kind, no)));
            let boxes: Vec<_> = boxes.collect();
            let count = i64::try_from(boxes.len()).ok().filter(|&count| count > 0)?;
            let boxes = counted(count, "box", "boxes");
            Some(format!("{boxes}, {}", clean(&k.box_kind)))
        })
        .collect()
}
