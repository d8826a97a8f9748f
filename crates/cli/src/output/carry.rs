//! What to bring to each site.

use super::build::{bees, decimal, frame_of, holds, site};
use super::figures::counted;
use super::filled::Route;
use super::report::{Carry, CompartmentReport, LoadFrames, Progress, Report};
use super::stocked::feed;
use super::words::clean;
use itertools::Itertools;
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

/// Loads by site, then by place of origin, the store room first: what is still to go into compartments or to fill gaps,
/// and a cell for each that is stocked, as cells go in last of all. Frames of the store room are brought where a compartment
/// is filled, and go on with it from there.
pub(super) fn carry(scenario: &Scenario, plan: &Plan, gaps: &[Gaps], route: &Route) -> Vec<Carry> {
    let mut loads: BTreeMap<(usize, Option<usize>), Load> = BTreeMap::new();
    let home = |id: spareframe_solver::ColonyId| scenario.colonies.get(id.0).map(|d| d.site.0);
    let to = |c: &Compartment| scenario.boxes.get(c.kind.0).map(|kind| kind.site.0);
    for to in plan.compartments.iter().filter_map(to) {
        loads.entry((to, None)).or_default().cells += 1;
    }
    for c in &plan.rest(&scenario.done).compartments {
        let (Some(to), Some(filled)) = (to(c), route.filled(scenario, c)) else {
            continue;
        };
        loads.entry((filled, None)).or_default();
        let site_load = loads.entry((to, None)).or_default();
        site_load.feed = site_load.feed.saturating_add(feed(scenario, c));
        for placed in &c.frames {
            let Some(frame) = frame_of(scenario, placed.origin) else {
                continue;
            };
            let ways = match placed.origin {
                Origin::Colony(id, _) => vec![(to, home(id))],
                Origin::StoreRoom(_) if filled == to => vec![(to, None)],
                Origin::StoreRoom(_) => vec![(filled, None), (to, Some(filled))],
            };
            for way in ways {
                let load = loads.entry(way).or_default();
                let n = load.frames.entry(*frame).or_default();
                *n = n.saturating_add(placed.count);
            }
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

/// Boxes at a site, an item for each kind: those to fill there, and those that come filled.
pub(super) fn boxes(report: &Report, site: &str) -> Vec<String> {
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
    let mut items = Vec::new();
    for kind in &report.headline.kinds {
        // A finished box has no more to be brought to it, and may stand there already; a box is filled
        // where the first of its compartments is.
        let mut boxes: BTreeMap<u32, &CompartmentReport> = BTreeMap::new();
        for c in report.compartments.iter().filter(|c| {
            c.box_kind == kind.box_kind
                && c.done != Some(Progress::Finished)
                && !standing.contains(&(&*c.box_kind, c.box_no))
        }) {
            boxes.entry(c.box_no).or_insert(c);
        }
        let mut item = |count: usize, how: String| {
            if count > 0 {
                let count = counted(i64::try_from(count).unwrap_or(i64::MAX), "box", "boxes");
                items.push(format!("{count}, {}{how}", clean(&kind.box_kind)));
            }
        };
        let here = |c: &&&CompartmentReport| c.filled_at.as_deref().unwrap_or(&c.site) == site;
        let own = boxes.values().filter(here).filter(|c| c.site == site);
        item(own.count(), String::new());
        let away = boxes.values().filter(here).filter(|c| c.site != site);
        item(
            away.count(),
            format!(", to fill here, for {}", clean(&kind.site)),
        );
        let come = boxes.values().filter(|c| c.site == site);
        let come: Vec<&str> = come.filter_map(|c| c.filled_at.as_deref()).collect();
        let at = come.iter().map(|at| clean(at)).unique().join(" and ");
        item(come.len(), format!(", filled at {at}"));
    }
    items
}
