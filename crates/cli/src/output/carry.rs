//! What to bring to each site.

use super::build::{bees, decimal, frame_of, holds, site};
use super::figures::{counted, some};
use super::filled::Boxes;
use super::report::{BoxReport, Carry, ClosedBox, LoadFrames, Report};
use super::stocked::feed;
use super::words::{Words, clean};
use itertools::Itertools;
use spareframe_solver::{Compartment, FrameState, Gaps, Hundreds, Origin, Plan, Scenario};
use std::collections::BTreeMap;

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
pub(super) fn carry(scenario: &Scenario, plan: &Plan, gaps: &[Gaps], ready: &Boxes) -> Vec<Carry> {
    let mut loads: BTreeMap<(usize, Option<usize>), Load> = BTreeMap::new();
    let home = |id: spareframe_solver::ColonyId| scenario.colonies.get(id.0).map(|d| d.site.0);
    let to = |c: &Compartment| scenario.boxes.get(c.kind.0).map(|kind| kind.site.0);
    for to in plan.compartments.iter().filter_map(to) {
        loads.entry((to, None)).or_default().cells += 1;
    }
    let rest = plan.rest(&scenario.done);
    for from in ready.closed_from(&rest) {
        loads.entry((from, None)).or_default();
    }
    for c in &rest.compartments {
        let (Some(to), Some(filled)) = (to(c), ready.filled(c)) else {
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
            out: 0,
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

/// Boxes at a site, an item for each kind: those to fill there, those that come by or come filled, and what travels from there
/// in closed carrying boxes.
pub(super) fn boxes(report: &Report, words: &Words, site: &str) -> Vec<String> {
    let mut items = Vec::new();
    for kind in &report.headline.kinds {
        let all = || report.boxes.iter().filter(|b| b.box_kind == kind.box_kind);
        let mut item = |boxes: &[&BoxReport], how: String| {
            if !boxes.is_empty() {
                let count = i64::try_from(boxes.len()).unwrap_or(i64::MAX);
                let count = counted(count, "box", "boxes");
                let inside = inside(boxes);
                items.push(format!("{count}, {}{how}{inside}", clean(&kind.box_kind)));
            }
        };
        let here = || all().filter(|b| b.ready_at == site);
        let stay = format!(", to fill here, for {}", clean(&kind.site));
        for begun in [false, true] {
            let of = |b: &&BoxReport| b.begun() == begun;
            let own: Vec<_> = here().filter(of).filter(|b| b.site == site).collect();
            item(&own, String::new());
            let away: Vec<_> = here().filter(of).filter(|b| b.site != site).collect();
            item(&away, stay.clone());
        }
        let by = all().filter(|b| b.site != site && b.then_at.iter().any(|at| at == site));
        let by = by.into_group_map_by(|b| &b.ready_at).into_iter();
        let by = by.sorted_by(|a, b| a.0.cmp(b.0));
        for (from, boxes) in by {
            item(&boxes, format!(", from {}, to fill on here", clean(from)));
        }
        let come: Vec<_> = all()
            .filter(|b| b.site == site && b.ready_at != site)
            .collect();
        let at = come
            .iter()
            .flat_map(|b| std::iter::once(&b.ready_at).chain(&b.then_at));
        let at = at.map(|at| match at == site {
            true => "here".to_owned(),
            false => clean(at),
        });
        let at = at.unique().join(" and ");
        item(&come, format!(", filled at {at}"));
    }
    let closed = report.closed_boxes.iter().filter(|c| c.from_site == site);
    items.extend(closed.map(|c| format!("1 closed carrying box, {}", words.closed(c))));
    items
}

/// What is in boxes already.
fn inside(boxes: &[&BoxReport]) -> String {
    let frames = boxes.iter().map(|b| i64::from(b.frames_in)).sum();
    let bees: i64 = boxes.iter().map(|b| b.bees_in).sum();
    let frames = (frames > 0).then(|| counted(frames, "frame", "frames"));
    let bees = (bees > 0).then(|| format!("{} bees", some(bees)));
    match frames.into_iter().chain(bees).join(" and ") {
        parts if parts.is_empty() => String::new(),
        parts => format!("; in already: {parts}"),
    }
}

impl Words {
    /// What travels in a closed carrying box, and where to: `to wood for heath box 3.2: 1 frame, some 700 bees`.
    pub(super) fn closed(&self, c: &ClosedBox) -> String {
        let frames = i64::from(c.frames);
        let frames = (frames > 0).then(|| counted(frames, "frame", "frames"));
        let bees = (c.bees > 0).then(|| format!("{} bees", some(c.bees)));
        format!(
            "{}: {}",
            self.closed_to(c),
            frames.into_iter().chain(bees).join(", ")
        )
    }

    /// Where a closed carrying box goes: `to wood for heath box 3.2`.
    pub(super) fn closed_to(&self, c: &ClosedBox) -> String {
        let number = self.number(&c.box_kind, c.box_no, c.compartment);
        format!(
            "to {} for {} {number}",
            clean(&c.to_site),
            clean(&c.box_kind)
        )
    }
}
