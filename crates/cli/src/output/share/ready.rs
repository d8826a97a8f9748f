//! What must be at hand at a site before the first hive is opened.

use super::names::Names;
use super::page::Shared;
use crate::output::calendar::{cells_in, long_day};
use crate::output::figures::{self, counted, weight};
use crate::output::report::{
    Carry, CompartmentReport, Destination, FramesReport, LoadFrames, Report,
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
    let mut list = boxes(filled, names);
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
            what: format!("{what}, warm and upright"),
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
    list.extend(carried(report, site, names));
    list
}

/// Frames from here for compartments that stand elsewhere: no box is at hand to take them.
fn carried(report: &Report, site: &str, names: &Names) -> Option<ReadyView> {
    let far = report.compartments.iter();
    let far: Vec<_> = far
        .filter(|c| c.stands.is_some() && c.site != site)
        .collect();
    let opened = report.colonies.iter().filter(|c| c.site == site);
    let to = opened.flat_map(|c| &c.leaving).flat_map(|l| &l.goes_to);
    let place = |d: &Destination| (d.box_kind.clone(), d.box_no, d.compartment);
    let to: Vec<&Destination> = to
        .filter(|d| {
            let same =
                |c: &&CompartmentReport| (c.box_kind.clone(), c.box_no, c.compartment) == place(d);
            far.iter().any(same)
        })
        .collect();
    let frames: i64 = to.iter().map(|d| i64::from(d.frames)).sum();
    let names = to
        .iter()
        .map(|d| names.short(&d.box_kind, d.box_no, d.compartment));
    let names = names.unique().join(", ");
    (frames > 0).then(|| ReadyView {
        amount: "1".to_owned(),
        what: "closed carrying box".to_owned(),
        more: format!("for {} to {names}", counted(frames, "frame", "frames")),
        ..ReadyView::default()
    })
}

/// Boxes that are filled here.
fn boxes(filled: &[&CompartmentReport], names: &Names) -> Vec<ReadyView> {
    let new = filled.iter().filter(|c| c.stands.is_none());
    let mut kinds: Vec<(&str, &str, BTreeSet<u32>)> = Vec::new();
    for c in new {
        match kinds.iter_mut().find(|k| k.0 == c.box_kind) {
            Some(kind) => {
                kind.2.insert(c.box_no);
            }
            None => kinds.push((&c.box_kind, &c.site, BTreeSet::from([c.box_no]))),
        }
    }
    let item = |(kind, site, numbers): (&str, &str, BTreeSet<u32>)| {
        let letter = names.letter(kind);
        ReadyView {
            amount: numbers.len().to_string(),
            what: format!("{}, empty", clean(kind)),
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
        ReadyView {
            amount: figures::whole(frames),
            what: format!(
                "frames {}",
                words.from(load).split(',').next().unwrap_or("")
            ),
            more: match load.bees {
                0 => "in their boxes".to_owned(),
                bees => format!("in their boxes, with {} bees", figures::some(bees)),
            },
            ..ReadyView::default()
        }
    };
    loads.map(view).collect()
}
