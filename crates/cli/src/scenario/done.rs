//! What is already done on the day: frames and bees that have left, by compartment.

use super::fields as t;
use super::limits::HUNDREDS;
use crate::reading::{At, Cx, Kind, Map, Names, Node, describe};
use s::{
    BoxId, ColonyId, Compartment, Filler, FrameState, Hundreds, Line, Origin, PlacedBees,
    PlacedFrames,
};
use spareframe_solver as s;
use std::collections::BTreeMap;

/// What records may name, and what they have taken so far.
pub(super) struct Day<'a> {
    pub(super) scenario: &'a s::Scenario,
    boxes: Names,
    /// All colonies of the file, also those that could not be read.
    colonies: Names,
    /// By colony of the scenario.
    pub(super) counts: &'a [Counts],
    /// Frame groups are numbered as in a plan, those of quick counts, too.
    pub(super) numbered: bool,
    pub(super) frames: BTreeMap<Origin, u32>,
    bees: BTreeMap<ColonyId, i64>,
}

/// How a colony was counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Counts {
    /// Bees that cover a frame of it.
    pub full: Hundreds,
    /// In quick counts.
    pub quick: bool,
}

/// Reads the records. `colonies` are the names of all colonies of the file, `counts` how those of the
/// scenario were counted.
pub(crate) fn done(
    cx: &mut Cx,
    node: &Node,
    (colonies, counts): (Names, &[Counts]),
    sc: &mut s::Scenario,
) {
    sc.done = Day::of(sc, (colonies, counts)).records(cx, node);
}

/// The same from the table of a plan, in which frame groups have numbers, with what went into the gaps of colonies: the
/// colony, the entry of the store room, and how many.
pub(crate) fn of_table(
    cx: &mut Cx,
    (records, gaps): (&Node, &[Node]),
    counts: &[Counts],
    sc: &s::Scenario,
) -> (Vec<Compartment>, Vec<Filler>) {
    let colonies = sc.colonies.iter().map(|colony| colony.name.as_str());
    let mut day = Day::of(sc, (colonies.collect(), counts));
    day.numbered = true;
    let done = day.records(cx, records);
    let gaps = gaps.iter().filter_map(|n| day.filler(cx, n)).collect();
    (done, gaps)
}

impl<'a> Day<'a> {
    fn of(scenario: &'a s::Scenario, (colonies, counts): (Names, &'a [Counts])) -> Self {
        Day {
            scenario,
            boxes: scenario.boxes.iter().map(|b| b.name.as_str()).collect(),
            colonies,
            counts,
            numbered: false,
            frames: BTreeMap::new(),
            bees: BTreeMap::new(),
        }
    }

    fn records(&mut self, cx: &mut Cx, node: &Node) -> Vec<Compartment> {
        let mut done: Vec<Compartment> = Vec::new();
        for n in cx.list_or_none(node) {
            let Some(record) = self.record(cx, n) else {
                continue;
            };
            let place = |c: &Compartment| (c.kind, c.box_no, c.place);
            if done.iter().any(|other| place(other) == place(&record)) {
                cx.error(
                    "duplicate-key",
                    n.at,
                    "a compartment recorded twice",
                    "each compartment once",
                    "put all that is in it into one record, or correct `number` or `compartment`",
                );
                continue;
            }
            done.push(record);
        }
        done
    }

    /// Frames of the store room that went into the gaps of a colony.
    fn filler(&mut self, cx: &mut Cx, node: &Node) -> Option<Filler> {
        let m = cx.map(node, &t::TAKEN)?;
        let colony = m.get("colony").and_then(|name| self.colony(cx, name));
        let entry = self.entry(cx, &m);
        let count = cx.count(&m, "count");
        let (entry, count) = (entry?, count?);
        self.take(cx, node.at, Origin::StoreRoom(entry), count);
        Some(Filler {
            colony: colony?,
            entry,
            count,
        })
    }

    fn record(&mut self, cx: &mut Cx, node: &Node) -> Option<Compartment> {
        let m = cx.map(node, &t::DONE)?;
        let scenario = self.scenario;
        let kind = m.get("box").and_then(|n| cx.find(n, "box", &self.boxes));
        let boxes = kind.and_then(|kind| scenario.boxes.get(kind));
        let box_no = number(cx, &m, "number", boxes.map(|b| b.count));
        let place = number(cx, &m, "compartment", boxes.map(|b| b.compartments));
        let at = kind.zip(box_no).zip(place);
        let asked = at.and_then(|((kind, no), place)| scenario.asked(BoxId(kind), no, place));
        let lines = asked.as_ref().map(|asked| &*asked.lines);
        let mut filled = vec![0; lines.map_or(0, <[_]>::len)];
        let mut frames = Vec::new();
        for n in m.get("frames").map_or(&[][..], |n| cx.list(n)) {
            frames.extend(self.frames(cx, n, lines, &mut filled));
        }
        let mut bees = Vec::new();
        if let Some(entries) = m.get("bees").and_then(|n| cx.entries(n)) {
            for (name, value) in entries {
                bees.extend(self.bees(cx, name, value));
            }
        }
        let said = m.get("frames").is_some() || m.get("bees").is_some();
        let record = kind
            .zip(box_no)
            .zip(place)
            .map(|((kind, box_no), place)| Compartment {
                kind: BoxId(kind),
                box_no,
                place,
                frames,
                bees,
            });
        let here = |s: &&s::Standing| record.as_ref().is_some_and(|record| s.is(record));
        let stands = scenario.standing.iter().find(here);
        // A next cell may be all that one that stands gets.
        if !said && stands.is_none() {
            cx.error(
                "empty",
                node.at,
                "a record in which nothing is done",
                "`frames`, `bees` or both; neither where a compartment that stands gets its next cell alone",
                "say what is in the compartment, or remove the record",
            );
        }
        if stands.is_some_and(|s| !s.wants_cell) {
            cx.error(
                "no-next-cell",
                node.at,
                "something done in a compartment that stands and gets no cell",
                "a compartment in which nothing stands, or one that gets a next cell",
                "correct `number` or `compartment`, or write `next cell: yes` where it stands",
            );
        }
        record
    }

    fn frames(
        &mut self,
        cx: &mut Cx,
        node: &Node,
        recipe: Option<&[Line]>,
        filled: &mut [u32],
    ) -> Vec<PlacedFrames> {
        let Some(m) = cx.map(node, &t::TAKEN) else {
            return Vec::new();
        };
        let count = match m.get("count") {
            Some(_) => cx.count(&m, "count"),
            None => Some(1),
        };
        let origins = self.origins(cx, &m, count);
        if origins.is_empty() {
            // A line that is none is found all the same.
            self.lines(cx, &m, recipe, (None, count), filled);
        }
        let mut placed = Vec::new();
        for (origin, count) in origins {
            let lines = self.lines(cx, &m, recipe, (Some(origin), Some(count)), filled);
            self.take(cx, node.at, origin, count);
            placed.extend(lines.into_iter().map(|(line, count)| PlacedFrames {
                line,
                origin,
                count,
            }));
        }
        placed
    }

    /// `None` also for a colony that could not be read, which is found already.
    pub(super) fn colony(&self, cx: &mut Cx, node: &Node) -> Option<ColonyId> {
        let at = cx.find(node, "colony", &self.colonies)?;
        let name = self.colonies.list().get(at)?;
        let known = self.scenario.colonies.iter().position(|c| c.name == *name);
        known.map(ColonyId)
    }

    fn frame(&self, origin: Origin) -> Option<&FrameState> {
        match origin {
            Origin::Colony(id, group) => {
                Some(&self.scenario.colonies.get(id.0)?.frames.get(group)?.frame)
            }
            Origin::StoreRoom(entry) => Some(&self.scenario.store_room.get(entry)?.frame),
        }
    }

    /// The lines that the frames serve, with how many each: the one named, or those that they fit, filled in
    /// their order.
    fn lines(
        &self,
        cx: &mut Cx,
        m: &Map,
        recipe: Option<&[Line]>,
        (origin, count): (Option<Origin>, Option<u32>),
        filled: &mut [u32],
    ) -> Vec<(usize, u32)> {
        let Some(lines) = recipe else {
            return Vec::new();
        };
        let named = m.get("line").map(|n| {
            let names: Names = lines.iter().map(|line| line.name.as_str()).collect();
            cx.find(n, "recipe line", &names)
        });
        let frame = origin.and_then(|origin| self.frame(origin));
        let (Some(frame), Some(count), false) = (frame, count, named == Some(None)) else {
            return Vec::new();
        };
        let meant = |at| named.is_none_or(|named| named == Some(at));
        let (mut left, mut fits) = (count, false);
        let mut out = Vec::new();
        for (at, (line, filled)) in lines.iter().zip(filled).enumerate() {
            if !meant(at) || line.place_of(frame).is_none() {
                continue;
            }
            fits = true;
            let here = line.count.saturating_sub(*filled).min(left);
            (*filled, left) = (*filled + here, left - here);
            out.extend((here > 0).then_some((at, here)));
        }
        if left > 0 {
            misplaced(cx, m, fits);
        }
        out
    }

    /// Counts frames as taken; finds those that could not be.
    fn take(&mut self, cx: &mut Cx, at: At, origin: Origin, count: u32) {
        let taken = self.frames.entry(origin).or_default();
        *taken = taken.saturating_add(count);
        let taken = *taken;
        let there = match origin {
            Origin::Colony(id, group) => {
                self.on_hold(cx, at, id);
                let colony = self.scenario.colonies.get(id.0);
                let group = colony.and_then(|c| c.frames.get(group));
                if group.is_some_and(|group| group.queen) {
                    cx.error(
                        "not-to-take",
                        at,
                        "frames of the group that holds the queen",
                        "frames of other groups",
                        "correct `group`, or where the queen is",
                    );
                }
                group.map_or(0, |group| group.count)
            }
            Origin::StoreRoom(entry) => {
                let entry = self.scenario.store_room.get(entry);
                entry.map_or(0, |entry| entry.count)
            }
        };
        if taken > there {
            cx.error(
                "not-to-take",
                at,
                format!("{taken} frames taken of {there}"),
                "no more than there were before",
                "write the file as it was before the day's work, or correct the record",
            );
        }
    }

    fn on_hold(&self, cx: &mut Cx, at: At, id: ColonyId) {
        let colony = self.scenario.colonies.get(id.0);
        if colony.is_some_and(|colony| colony.hold.is_some()) {
            cx.error(
                "not-to-take",
                at,
                "something taken from a colony on hold",
                "nothing of it",
                "if it is to give no more, write `draw: {frames: 0, bees: 0}` for it instead of `hold`",
            );
        }
    }

    fn bees(&mut self, cx: &mut Cx, name: &Node, value: &Node) -> Option<PlacedBees> {
        let id = self.colony(cx, name);
        let range = t::DONE.fields.iter().find(|f| f.key == "bees")?.range?;
        let counts = id.and_then(|id| self.counts.get(id.0));
        let full = counts.map_or(1, |counts| counts.full.bees().0);
        let bees = cx.value(value, Kind::Bees, range, HUNDREDS, Some(full));
        let (colony, bees) = (id?, bees?);
        self.on_hold(cx, name.at, colony);
        let taken = self.bees.entry(colony).or_default();
        *taken += bees;
        let there = bees_of(self.scenario, colony);
        if *taken > there.0 {
            let (taken, there) = (Hundreds(*taken).bees(), there.bees());
            cx.error(
                "not-to-take",
                value.at,
                format!("{} bees taken of {}", taken.0, there.0),
                "no more than there were before",
                "write the file as it was before the day's work, or correct the record",
            );
        }
        (bees > 0).then_some(PlacedBees {
            colony,
            riding: Hundreds(0),
            loose: Hundreds(bees),
        })
    }
}

fn misplaced(cx: &mut Cx, m: &Map, fits: bool) {
    let (found, way_out) = match fits {
        false => (
            "frames that are not what the recipe asks for",
            "correct which frames they were, or what they hold",
        ),
        true => (
            "more frames than the recipe has room for",
            "correct the number, or name another `line`",
        ),
    };
    let at = m.get("line").map_or(m.at, |n| n.at);
    let expected = "frames that fit lines that still lack so many";
    cx.error("frames-misplaced", at, found, expected, way_out);
}

fn bees_of(scenario: &s::Scenario, id: ColonyId) -> Hundreds {
    let Some(colony) = scenario.colonies.get(id.0) else {
        return Hundreds(0);
    };
    let on_group = |group: &s::FrameGroup| group.frame.bees.times(group.count);
    colony.extra_bees + colony.frames.iter().map(on_group).sum()
}

/// A number that counts from 1, as an index below `most`; the first where the key is not there.
pub(super) fn number(cx: &mut Cx, m: &Map, key: &str, most: Option<u32>) -> Option<u32> {
    let number = match m.get(key) {
        Some(_) => cx.count(m, key)?,
        None => 1,
    };
    let most = most?;
    if number > most {
        let node = m.get(key);
        cx.error(
            "out-of-range",
            node.map_or(m.at, |n| n.at),
            node.map_or_else(
                || format!("`{key}` 1"),
                |n| format!("`{key}` {}", describe(n)),
            ),
            match most {
                0 => "none: there are none to count".to_owned(),
                most => format!("1 to {most}"),
            },
            "correct the number; all count from 1",
        );
        return None;
    }
    number.checked_sub(1)
}
