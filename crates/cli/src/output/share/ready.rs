//! What must be at hand at a site before the first hive is opened.

use super::names::Names;
use super::page::Shared;
use crate::output::calendar::{cells_in, long_day};
use crate::output::figures::{self, counted, weight};
use crate::output::report::{
    Carry, ClosedBox, CompartmentReport, FramesReport, LoadFrames, Report,
};
use crate::output::words::{Words, clean};
use itertools::Itertools;
use std::collections::BTreeSet;

/// Something to have at hand.
#[derive(Default)]
pub(super) struct ReadyView {
    /// It comes out of the store room.
    pub store: bool,
    pub amount: String,
    pub what: String,
    pub more: String,
}

/// What must be at hand.
pub(super) fn ready(
    shared: &Shared,
    site: &str,
    filled: &[&CompartmentReport],
    words: &Words,
    names: &Names,
) -> Vec<ReadyView> {
    let (report, notes) = (shared.report, shared.notes);
    let mut list = boxes(report, site, names);
    // Frames of the store room, by what they hold and where they lie.
    let mut frames: Vec<(String, String, i64, i64)> = Vec::new();
    let mut add = |content: String, place: String, boxes: i64, gaps: i64| {
        let same = frames.iter_mut().find(|f| f.0 == content && f.1 == place);
        match same {
            Some(f) => (f.2, f.3) = (f.2.saturating_add(boxes), f.3.saturating_add(gaps)),
            None => frames.push((content, place, boxes, gaps)),
        }
    };
    let place = |place: Option<&str>| place.map_or(String::new(), clean);
    let of_store = |f: &&FramesReport| f.colony.is_none();
    for f in filled.iter().flat_map(|c| c.frames.iter().filter(of_store)) {
        let left = i64::from(f.frames.saturating_sub(f.done));
        add(
            words.content(&f.each_holds),
            place(f.place.as_deref()),
            left,
            0,
        );
    }
    for c in report.colonies.iter().filter(|c| c.site == site) {
        for f in &c.gaps_filled_with {
            let (content, frames) = (words.content(&f.each_holds), i64::from(f.frames));
            add(content, place(f.place.as_deref()), 0, frames);
        }
    }
    for (content, place, boxes, gaps) in frames.into_iter().filter(|f| f.2 + f.3 > 0) {
        let shares = match (boxes, gaps) {
            (_, 0) => String::new(),
            (0, _) => "for the gaps".to_owned(),
            _ => format!("{boxes} for the boxes, {gaps} for the gaps"),
        };
        let more = [place, shares].into_iter().filter(|part| !part.is_empty());
        list.push(ReadyView {
            amount: figures::whole(boxes + gaps),
            what: content,
            store: true,
            more: more.collect::<Vec<_>>().join("; "),
        });
    }
    let cells = report.compartments.iter();
    let cells = cells
        .filter(|c| c.site == site && c.queen.is_none())
        .count();
    let (what, later, on) = cells_in(notes, report);
    if cells > 0 {
        list.push(ReadyView {
            amount: cells.to_string(),
            what: match cells {
                1 => format!("{}, warm and upright", what.trim_end_matches('s')),
                _ => format!("{what}, warm and upright"),
            },
            more: match (later, on) {
                (0, _) => "they go in last".to_owned(),
                (_, Some(on)) => format!("on {}", long_day(on)),
                (later, None) => format!("{} later", counted(later.into(), "day", "days")),
            },
            ..ReadyView::default()
        });
    }
    let feed = report.carry.iter().filter(|load| load.to_site == site);
    let feed: f64 = feed.map(|load| load.feed_kg).sum();
    if feed > 0.0 {
        list.push(ReadyView {
            amount: weight(feed),
            what: "of feed for substitutes".to_owned(),
            more: "honey equivalent".to_owned(),
            ..ReadyView::default()
        });
    }
    list.extend(away(report, site, words));
    let closed = report.closed_boxes.iter().filter(|c| c.from_site == site);
    list.extend(closed.map(|c| carrying(c, names)));
    list
}

/// What travels from here to a box that is elsewhere.
fn carrying(c: &ClosedBox, names: &Names) -> ReadyView {
    let frames = i64::from(c.frames);
    let frames = (frames > 0).then(|| counted(frames, "frame", "frames"));
    let bees = (c.bees > 0).then(|| format!("{} bees", figures::some(c.bees)));
    let what = frames.into_iter().chain(bees).join(" and ");
    let to = names.short(&c.box_kind, c.box_no, c.compartment);
    ReadyView {
        amount: "1".to_owned(),
        what: "closed carrying box".to_owned(),
        more: format!("for {what} to {to}, at {}", clean(&c.to_site)),
        ..ReadyView::default()
    }
}

/// Boxes that are filled here: those that are empty, those in which something is, and those that come by.
fn boxes(report: &Report, site: &str, names: &Names) -> Vec<ReadyView> {
    let mut kinds: Vec<(&str, &str, String, BTreeSet<u32>)> = Vec::new();
    for of in &report.boxes {
        let how = match (of.ready_at == site, of.begun()) {
            (true, false) => "empty".to_owned(),
            (true, true) => "begun".to_owned(),
            (false, _) if of.then_at.iter().any(|at| at == site) => {
                format!("from {}", clean(&of.ready_at))
            }
            (false, _) => continue,
        };
        match kinds.iter_mut().find(|k| k.0 == of.box_kind && k.2 == how) {
            Some(kind) => {
                kind.3.insert(of.box_no);
            }
            None => kinds.push((&of.box_kind, &of.site, how, BTreeSet::from([of.box_no]))),
        }
    }
    let item = |(kind, site, how, numbers): (&str, &str, String, BTreeSet<u32>)| {
        let letter = names.letter(kind);
        ReadyView {
            amount: numbers.len().to_string(),
            what: format!("{}, {how}", clean(kind)),
            more: format!("number {}; for {}", runs(&letter, &numbers), clean(site)),
            ..ReadyView::default()
        }
    };
    kinds.into_iter().map(item).collect()
}

/// Numbers as runs: `1 to 5, 8`.
fn runs(letter: &str, numbers: &BTreeSet<u32>) -> String {
    let mut runs: Vec<(u32, u32)> = Vec::new();
    for &number in numbers {
        match runs.last_mut() {
            Some((_, last)) if last.checked_add(1) == Some(number) => *last = number,
            _ => runs.push((number, number)),
        }
    }
    let run = |(first, last): (u32, u32)| match first == last {
        true => format!("{letter}{first}"),
        false => format!("{letter}{first} to {letter}{last}"),
    };
    runs.into_iter().map(run).join(", ")
}

/// What comes here from colonies elsewhere: nobody has to look for it.
fn away(report: &Report, site: &str, words: &Words) -> Vec<ReadyView> {
    let loads = report.carry.iter().filter(|load| load.to_site == site);
    let loads = loads.filter(|load| load.from_site.as_deref().is_some_and(|from| from != site));
    let view = |load: &Carry| {
        let frames: i64 = load
            .frames
            .iter()
            .map(|f: &LoadFrames| i64::from(f.frames))
            .sum();
        let from = words.from(load);
        let from = from.split(',').next().unwrap_or("");
        let closed = report.closed_boxes.iter();
        let closed =
            closed.filter(|c| Some(&c.from_site) == load.from_site.as_ref() && c.to_site == site);
        let closed = closed.fold((0, 0), |(frames, bees), c| {
            (frames + i64::from(c.frames), bees + c.bees)
        });
        let inside = match closed {
            (0, 0) => "in their boxes",
            all if all == (frames, load.bees) => "in closed boxes",
            _ => "in their boxes and in closed ones",
        };
        let (amount, what, more) = match (frames, load.bees) {
            (0, bees) => (figures::some(bees), "bees", inside.to_owned()),
            (_, 0) => (figures::whole(frames), "frames", inside.to_owned()),
            (_, bees) => {
                let with = format!("{inside}, with {} bees", figures::some(bees));
                (figures::whole(frames), "frames", with)
            }
        };
        ReadyView {
            amount,
            what: format!("{what} {from}"),
            more,
            ..ReadyView::default()
        }
    };
    loads.map(view).collect()
}
