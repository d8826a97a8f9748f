//! Boxes as they stand when the day is done, the donor under each frame.

use super::comb::Combs;
use super::names::Names;
use crate::output::figures::{counted, covered, some};
use crate::output::queens;
use crate::output::report::{
    ColonyReport, CompartmentReport, KindReport, LeftReport, Progress, Report,
};
use crate::output::words::{Words, clean};
use std::collections::BTreeMap;

/// Most boxes without anything that are drawn of one kind (a choice: they only show that there are some).
const EMPTY: usize = 2;
/// Most compartments of such a box that are drawn.
const HALVES: u64 = 8;

/// Boxes of one kind at one site.
pub(super) struct Stand {
    pub heading: String,
    pub kind: String,
    pub boxes: Vec<MatingBox>,
    /// What is not drawn.
    pub more: String,
}

/// One box.
pub(super) struct MatingBox {
    pub halves: Vec<Half>,
}

/// One compartment.
pub(super) struct Half {
    /// Its number on the page, where anything is done to it.
    pub id: Option<usize>,
    pub name: String,
    pub frames: Vec<Frame>,
    pub bees: Vec<String>,
    /// What stands there, or that it stays empty.
    pub note: String,
    /// Places that stay empty.
    pub empty: Vec<()>,
    /// What it lacks, where it stays empty and one thing would do.
    pub lacks: String,
    /// Something is still to be put in.
    pub open: bool,
    /// What goes in, in a sentence.
    pub says: String,
}

/// One frame in it.
pub(super) struct Frame {
    pub comb: String,
    pub from: String,
    /// The number of the colony on the page; none from the store room, or where it stood before.
    pub colony: Option<usize>,
    /// It is in already.
    pub is_in: bool,
}

/// All boxes, in the order of the scenario.
pub(super) fn stands(
    report: &Report,
    words: &Words,
    names: &Names,
    combs: &mut Combs,
) -> Vec<Stand> {
    let colonies = report.colonies.iter().enumerate();
    let ids: BTreeMap<&str, usize> = colonies.map(|(id, c)| (c.colony.as_str(), id)).collect();
    let view = |kind: &KindReport| {
        let mut boxes: BTreeMap<u32, Vec<(u32, Half)>> = BTreeMap::new();
        let touched = report.compartments.iter().chain(&report.begun);
        for c in touched.filter(|c| c.box_kind == kind.box_kind) {
            let half = half(report, c, (words, names), combs, &ids);
            boxes
                .entry(c.box_no)
                .or_default()
                .push((c.compartment, half));
        }
        let left = report.standing.iter();
        for s in left.filter(|s| s.box_kind == kind.box_kind) {
            let half = left_in_peace(s, names, combs);
            boxes
                .entry(s.box_no)
                .or_default()
                .push((s.compartment, half));
        }
        let places = kind
            .compartments_in_all
            .checked_div(u64::from(kind.boxes_in_all))
            .unwrap_or(0)
            .min(HALVES);
        let places = u32::try_from(places).unwrap_or(0);
        let unused = (1..=kind.boxes_in_all).filter(|no| !boxes.contains_key(no));
        let unused: Vec<u32> = unused.take(EMPTY).collect();
        let all = u64::from(kind.boxes_in_all);
        let more = all.saturating_sub(boxes.len() as u64 + unused.len() as u64);
        for &no in &unused {
            boxes.entry(no).or_default();
        }
        for (no, halves) in &mut boxes {
            for place in 1..=places {
                if !halves.iter().any(|(known, _)| *known == place) {
                    let name = names.short(&kind.box_kind, *no, place);
                    halves.push((place, nothing(name)));
                }
            }
            halves.sort_by_key(|(place, _)| *place);
        }
        let boxes = boxes.into_values().map(|halves| MatingBox {
            halves: halves.into_iter().map(|(_, half)| half).collect(),
        });
        Stand {
            heading: clean(&kind.site),
            kind: names.kind(&kind.box_kind),
            boxes: boxes.collect(),
            more: match i64::try_from(more).unwrap_or(i64::MAX) {
                0 => String::new(),
                n => format!("{} more without anything", counted(n, "box", "boxes")),
            },
        }
    };
    let there = report.headline.kinds.iter();
    let mut stands: Vec<Stand> = there.filter(|k| k.boxes_in_all > 0).map(view).collect();
    lack(report, &mut stands);
    stands
}

/// Says in the first compartment that stays empty which frames would stock one more, where only one kind of box has any.
fn lack(report: &Report, stands: &mut [Stand]) {
    let supply = report
        .held_back_by
        .iter()
        .filter(|limit| limit.rule == "supply");
    let mut more = supply.filter_map(|limit| limit.text.split_once(" more "));
    let Some((count, frames)) = more.next() else {
        return;
    };
    let mut with_room = stands.iter_mut().filter_map(|stand| {
        let halves = stand.boxes.iter_mut().flat_map(|of| &mut of.halves);
        halves.into_iter().find(|half| !half.empty.is_empty())
    });
    if let (Some(half), None) = (with_room.next(), with_room.next()) {
        half.lacks = format!("lacks {count} {frames}");
    }
}

fn nothing(name: String) -> Half {
    Half {
        id: None,
        name,
        frames: Vec::new(),
        bees: Vec::new(),
        note: "stays empty".to_owned(),
        empty: vec![(); 3],
        lacks: String::new(),
        open: false,
        says: String::new(),
    }
}

fn half(
    report: &Report,
    c: &CompartmentReport,
    (words, names): (&Words, &Names),
    combs: &mut Combs,
    ids: &BTreeMap<&str, usize>,
) -> Half {
    let mut frames = Vec::new();
    for stands in c.stands.iter().flat_map(|stands| &stands.frames) {
        for _ in 0..stands.frames.saturating_sub(stands.out) {
            frames.push(Frame {
                comb: combs.name(&stands.each_holds, stands.each_holds.bees, false),
                from: "there".to_owned(),
                colony: None,
                is_in: true,
            });
        }
    }
    for placed in &c.frames {
        for nth in 0..placed.frames {
            let bees = nth.checked_sub(placed.done).and_then(|nth| {
                riding(report, c, placed.colony.as_deref(), placed.frame_group, nth)
            });
            frames.push(Frame {
                comb: combs.name(&placed.each_holds, bees.unwrap_or(0), false),
                from: placed
                    .colony
                    .as_deref()
                    .map_or_else(|| "store".to_owned(), clean),
                colony: placed
                    .colony
                    .as_deref()
                    .and_then(|name| ids.get(name).copied()),
                is_in: nth < placed.done,
            });
        }
    }
    let items = words.frames_of(c);
    let items = items
        .iter()
        .map(|(count, line, origin)| format!("{count} {line}, {origin}"));
    let name = names.short(&c.box_kind, c.box_no, c.compartment);
    Half {
        id: names.id(&c.box_kind, c.box_no, c.compartment),
        says: format!("{name} gets {}.", items.collect::<Vec<_>>().join("; ")),
        name,
        frames,
        bees: added(report, c),
        note: note(c),
        empty: Vec::new(),
        lacks: String::new(),
        open: c.done != Some(Progress::Finished) && report.compartments.contains(c),
    }
}

/// What is to be said beside the frames.
fn note(c: &CompartmentReport) -> String {
    let queen = queens::of_box(c);
    match (c.done, c.stands.is_some(), queen.is_empty()) {
        (Some(Progress::Finished), ..) => "finished".to_owned(),
        (Some(Progress::Begun), ..) => "begun".to_owned(),
        (None, true, true) => "next cell".to_owned(),
        (None, _, false) => "mated queen".to_owned(),
        (None, false, true) => String::new(),
    }
}

/// Bees that go with one frame.
fn riding(
    report: &Report,
    c: &CompartmentReport,
    colony: Option<&str>,
    group: Option<usize>,
    nth: u32,
) -> Option<i64> {
    let colony = report
        .colonies
        .iter()
        .find(|d| Some(d.colony.as_str()) == colony)?;
    let leaving = colony.leaving.iter();
    let to = leaving
        .filter(|leaving| Some(leaving.frame_group) == group)
        .flat_map(|leaving| &leaving.goes_to)
        .filter(|to| {
            (&to.box_kind, to.box_no, to.compartment) == (&c.box_kind, c.box_no, c.compartment)
        });
    let mut each = to.flat_map(|to| std::iter::repeat_n(to.bees_each, to.frames as usize));
    each.nth(nth as usize)
}

/// Bees that are added beside those on frames: `½ frame from 6`.
fn added(report: &Report, c: &CompartmentReport) -> Vec<String> {
    let from = |d: &ColonyReport| {
        let lots = d.adding.iter();
        let lots = lots.filter(|lot| {
            (&lot.box_kind, lot.box_no, lot.compartment) == (&c.box_kind, c.box_no, c.compartment)
        });
        let name = clean(&d.colony);
        lots.map(move |lot| match covered(lot.covered_frames) {
            Some(frames) => format!("{frames} from {name}"),
            None => format!("{} from {name}", some(lot.bees)),
        })
        .collect::<Vec<_>>()
    };
    report.colonies.iter().flat_map(from).collect()
}

fn left_in_peace(s: &LeftReport, names: &Names, combs: &mut Combs) -> Half {
    let frames = s.stands.frames.iter().flat_map(|group| {
        let comb = combs.name(&group.each_holds, group.each_holds.bees, false);
        let frame = move || Frame {
            comb: comb.clone(),
            from: String::new(),
            colony: None,
            is_in: true,
        };
        std::iter::repeat_with(frame).take(group.frames as usize)
    });
    Half {
        id: None,
        name: names.short(&s.box_kind, s.box_no, s.compartment),
        frames: frames.collect(),
        bees: Vec::new(),
        note: match s.stands.queen.as_deref() {
            Some(queen) => format!("stands: {}", clean(queen)),
            None => "stands".to_owned(),
        },
        empty: Vec::new(),
        lacks: String::new(),
        open: false,
        says: String::new(),
    }
}
