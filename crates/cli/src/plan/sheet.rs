//! A plan as its own file says it, without its scenario.

use super::file::Stated;
use crate::output::{Caution, Holds, OnHold, Progress};
use std::collections::{BTreeMap, BTreeSet};

/// A plan in the names of its file. What is given out stands in the compartments alone; all other
/// sections of a plan follow from them, and may be out of date after hand edits.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sheet {
    pub(crate) title: Option<String>,
    pub(crate) day: Option<String>,
    /// Figures that only a scenario can confirm.
    pub(crate) stated: Stated,
    /// Kinds of box with one compartment each.
    pub(crate) undivided: BTreeSet<String>,
    /// In the order of kind, box, compartment.
    pub(crate) compartments: Vec<Stocked>,
    /// Compartments with something in them that are not stocked, in the same order.
    pub(crate) begun: Vec<Stocked>,
    /// Boxes, by kind and number, in which bees stand and to which nothing is done.
    pub(crate) standing: BTreeSet<(String, u32)>,
    /// Frames of the store room that fill gaps, by colony; `None` where the file says nothing of colonies.
    pub(crate) fillers: Option<BTreeMap<String, Vec<Frames>>>,
    /// Sites of colonies, as far as they are said.
    pub(crate) sites: BTreeMap<String, String>,
    /// `None` where the file says nothing of holds.
    pub(crate) on_hold: Option<Vec<OnHold>>,
    pub(crate) cautions: Vec<Caution>,
}

/// Which compartment: kind of box, box and compartment from 1.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Slot {
    pub kind: String,
    pub box_no: u32,
    pub compartment: u32,
}

/// One compartment that is stocked or begun.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Stocked {
    pub slot: Slot,
    pub site: Option<String>,
    pub frames: Vec<Frames>,
    /// Bees taken, by colony.
    pub bees: BTreeMap<String, Bees>,
    /// Feed for substitutes, grams of honey equivalent, where the file says so.
    pub feed: Option<i64>,
    /// How far it is done, where anything is.
    pub done: Option<Progress>,
    /// Bees stand in it from an earlier day, and it gets a next cell.
    pub stands: bool,
}

/// Bees of one colony in one compartment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(crate) struct Bees {
    /// All of them.
    pub taken: i64,
    /// Those that ride on brood frames, where the file says so.
    pub riding: Option<i64>,
}

impl Stocked {
    /// Where its load goes.
    fn destination(&self) -> String {
        let site = self.site.clone();
        site.unwrap_or_else(|| "the boxes".to_owned())
    }
}

/// What is brought to a site beside frames and bees.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Brought {
    /// Boxes of a kind.
    Boxes(String),
    /// Cells or queens, one for each compartment.
    Cells,
}

/// Frames of one source for one line.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Frames {
    pub line: String,
    pub count: i64,
    pub source: Source,
    /// What each holds, where the file says so.
    pub holds: Option<Holds>,
}

/// Where frames come from.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Source {
    /// `None` is the store room.
    pub colony: Option<String>,
    /// Frame group of the colony, or entry of the store room, from 1.
    pub number: u32,
    /// Where they hang or lie, where the file says so.
    pub place: Option<String>,
}

/// Frames and bees of one colony, or of one load.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Draw<'a> {
    pub frames: Vec<&'a Frames>,
    pub bees: i64,
}

impl Sheet {
    /// What this plan leaves unsaid and the other says: sites, what frames hold, feed, holds. So
    /// nothing counts as changed that was only deleted from a file.
    pub(crate) fn completed(&self, other: &Self) -> Self {
        let mut sheet = self.clone();
        for (colony, site) in &other.sites {
            let site = || site.clone();
            sheet.sites.entry(colony.clone()).or_insert_with(site);
        }
        let frames = |sheet: &Self| -> BTreeMap<(Option<String>, u32), Frames> {
            let all = sheet.compartments.iter().flat_map(|c| &c.frames);
            let key = |f: &Frames| (f.source.colony.clone(), f.source.number);
            all.map(|f| (key(f), f.clone())).collect()
        };
        let (stocked, frames) = (&other.compartments, frames(other));
        for own in &mut sheet.compartments {
            let kind = |c: &&Stocked| c.slot.kind == own.slot.kind;
            let site = || stocked.iter().find(kind)?.site.clone();
            own.site = own.site.take().or_else(site);
            let slot = stocked.binary_search_by(|c| c.slot.cmp(&own.slot)).ok();
            let feed = || stocked.get(slot?)?.feed;
            own.feed = own.feed.or_else(feed);
            for (colony, bees) in &mut own.bees {
                let other = || slot.and_then(|slot| stocked.get(slot)?.bees.get(colony));
                let riding = || other().filter(|other| other.taken == bees.taken)?.riding;
                bees.riding = bees.riding.or_else(riding);
            }
            for f in &mut own.frames {
                let key = (f.source.colony.clone(), f.source.number);
                if let (None, Some(known)) = (&f.holds, frames.get(&key)) {
                    f.holds.clone_from(&known.holds);
                    f.source.place.clone_from(&known.source.place);
                }
            }
        }
        if sheet.on_hold.is_none() {
            sheet.on_hold.clone_from(&other.on_hold);
        }
        if sheet.fillers.is_none() {
            sheet.fillers.clone_from(&other.fillers);
        }
        sheet
    }

    /// Compartments that hold, or are to hold, anything.
    pub(crate) fn touched(&self) -> impl Iterator<Item = &Stocked> {
        self.compartments.iter().chain(&self.begun)
    }

    /// What each colony gives.
    pub(crate) fn draws(&self) -> BTreeMap<&str, Draw<'_>> {
        let mut draws: BTreeMap<&str, Draw> = BTreeMap::new();
        for stocked in self.touched() {
            for frames in &stocked.frames {
                if let Some(colony) = &frames.source.colony {
                    draws.entry(colony).or_default().frames.push(frames);
                }
            }
            for (colony, bees) in &stocked.bees {
                draws.entry(colony).or_default().bees += bees.taken;
            }
        }
        draws
    }

    /// What goes to each site, and from where: a site of colonies, colonies whose site is not
    /// said, or the store room. Fillers go from the store room to their colonies.
    pub(crate) fn loads(&self) -> BTreeMap<(String, String), Draw<'_>> {
        let mut loads: BTreeMap<(String, String), Draw> = BTreeMap::new();
        let shelf = || "the store room".to_owned();
        let home = |colony: &String| {
            let site = self.sites.get(colony).cloned();
            site.unwrap_or_else(|| format!("colony {colony}"))
        };
        let from = |colony: Option<&String>| colony.map_or_else(shelf, home);
        for stocked in &self.compartments {
            let to = stocked.destination();
            for frames in &stocked.frames {
                let key = (to.clone(), from(frames.source.colony.as_ref()));
                loads.entry(key).or_default().frames.push(frames);
            }
            for (colony, bees) in &stocked.bees {
                let key = (to.clone(), from(Some(colony)));
                loads.entry(key).or_default().bees += bees.taken;
            }
        }
        for (colony, fillers) in self.fillers.iter().flatten() {
            let load = loads.entry((home(colony), shelf())).or_default();
            load.frames.extend(fillers);
        }
        loads
    }

    /// Boxes and cells that are brought to each site.
    pub(crate) fn equipment(&self) -> BTreeMap<(String, Brought), i64> {
        // Where anything stands, the box is there already.
        let next = self.compartments.iter().filter(|c| c.stands);
        let next = next.map(|c| (&c.slot.kind, c.slot.box_no));
        let standing = self.standing.iter().map(|(kind, no)| (kind, *no));
        let mut boxes: BTreeSet<(&String, u32)> = next.chain(standing).collect();
        let mut brought: BTreeMap<(String, Brought), i64> = BTreeMap::new();
        for stocked in &self.compartments {
            let (to, slot) = (stocked.destination(), &stocked.slot);
            if boxes.insert((&slot.kind, slot.box_no)) {
                let what = Brought::Boxes(slot.kind.clone());
                *brought.entry((to.clone(), what)).or_default() += 1;
            }
            *brought.entry((to, Brought::Cells)).or_default() += 1;
        }
        brought
    }

    /// Bees taken in all, before drift.
    pub(crate) fn bees(&self) -> i64 {
        let bees = self.touched().flat_map(|c| c.bees.values());
        bees.map(|bees| bees.taken).sum()
    }

    /// Feed in all, grams of honey equivalent.
    pub(crate) fn feed(&self) -> i64 {
        self.compartments.iter().filter_map(|c| c.feed).sum()
    }
}
