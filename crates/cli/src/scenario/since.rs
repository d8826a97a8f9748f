//! What left a colony and what came into it since it was counted.

use super::fields as t;
use super::frames::{Frames, frame};
use super::known::Known;
use super::limits::HUNDREDS;
use super::origins::alike;
use super::weeks::ready_after;
use super::whole::date;
use crate::reading::{At, Cx, Map, Node};
use jiff::civil::Date;
use s::{CombId, FrameGroup, FrameState, Hundreds, Milli};
use spareframe_solver as s;
use spareframe_weeks::{Event, Gone, Hung};
use std::collections::BTreeMap;

/// From so many thousandths on a comb is taken for drawn (a choice).
const HALF_DRAWN: i64 = 500;

/// What is read of the days since a count.
pub(super) struct Since<'a> {
    known: &'a Known,
    /// The day of the count.
    day: Option<Date>,
    comb: CombId,
    quick: bool,
    /// How many frame groups were counted.
    counted: usize,
    /// These and those hung in since, with their places.
    pub frames: Vec<(FrameGroup, Option<String>)>,
    /// Frames that are gone, by index in `frames`.
    gone: BTreeMap<usize, u32>,
    pub events: Vec<(At, Event)>,
}

impl<'a> Since<'a> {
    pub fn of(
        known: &'a Known,
        day: Option<Date>,
        (comb, quick): (CombId, bool),
        frames: Vec<(FrameGroup, Option<String>)>,
    ) -> Self {
        Self {
            known,
            day,
            comb,
            quick,
            counted: frames.len(),
            frames,
            gone: BTreeMap::new(),
            events: Vec::new(),
        }
    }

    /// All that was done since.
    pub fn read(&mut self, cx: &mut Cx, colony: &Map) {
        for node in colony.get("since").map_or(&[][..], |n| cx.list(n)) {
            self.event(cx, node);
        }
    }

    fn event(&mut self, cx: &mut Cx, node: &Node) {
        let Some(m) = cx.map(node, &t::EVENT) else {
            return;
        };
        let does = |key: &str| m.get(key).is_some();
        let else_done = ["gone", "bees", "got"].iter().any(|key| does(key));
        if let Some(hang) = m.get("hang").filter(|_| else_done) {
            cx.error(
                "two-readings",
                hang.at,
                "`hang` beside what left or came",
                "a day of its own: a new count of the colony ends the others, and not this",
                "write `hang` into another entry of the same day",
            );
        }
        let after = m.get("day").and_then(|n| self.after(cx, n, does("hang")));
        let (after, before) = after.unwrap_or_default();
        let full = self.known.bees_on(self.comb);
        let bees = cx.quantity(&m, "bees", HUNDREDS, Some(full.bees().0));
        let mut event = Event {
            after,
            bees: Hundreds(bees.unwrap_or(0)),
            ..Event::default()
        };
        for node in m.get("got").map_or(&[][..], |n| cx.list(n)) {
            if let Some(got) = self.got(cx, node) {
                event.got.push(got.group.clone());
                self.frames.push((got.group, got.place));
            }
        }
        for node in m.get("hang").map_or(&[][..], |n| cx.list(n)) {
            if let Some((hung, place)) = self.hung(cx, node, before) {
                self.frames.push((hung.frames.clone(), place));
                event.hung.push(hung);
            }
        }
        for node in m.get("gone").map_or(&[][..], |n| cx.list(n)) {
            event.gone.extend(self.gone(cx, node));
        }
        if !else_done && !does("hang") {
            cx.error(
                "empty",
                node.at,
                "a day on which nothing left or came",
                "`gone`, `bees`, `got` or `hang`",
                "say what was done, or remove the day",
            );
        }
        self.events.push((node.at, event));
    }

    /// Days from the count to a day, or from a day to the count; not before the day above it, nor after the stocking
    /// day. Before the count only combs were hung in: they hang on, and no count of the colony has them.
    fn after(&self, cx: &mut Cx, node: &Node, only_hangs: bool) -> Option<(u32, u32)> {
        let of_event = date(cx, node)?;
        let (Some(day), Some(counted)) = (self.known.day, self.day) else {
            if !self.known.has_day {
                cx.error(
                    "dates-without-day",
                    node.at,
                    "a day since the count without a stocking day",
                    "`day` at the top",
                    "add `day: 2031-05-20`",
                );
            }
            return None;
        };
        let last = self.events.last().map_or(0, |(_, event)| event.after);
        let after = (of_event - counted).get_days();
        let (expected, way_out) = if of_event > day {
            (
                format!("{day}, the day of the scenario, or earlier"),
                "correct the day; what is done today stands in `done`",
            )
        } else if after < 0 && !only_hangs {
            (
                format!("{counted}, the day of the count, or later"),
                "remove what was done before the count, or correct the day",
            )
        } else if u32::try_from(after).is_ok_and(|after| after < last) {
            (
                "the day above it, or later".to_owned(),
                "put the days in their order",
            )
        } else {
            let days = |days| u32::try_from(days).unwrap_or(0);
            return Some((days(after), days(-after)));
        };
        let found = format!("something done on {of_event}");
        cx.error("dates-order", node.at, found, expected, way_out);
        None
    }

    /// Frames that were hung in, without bees unless the file says so.
    fn got(&self, cx: &mut Cx, node: &Node) -> Option<Frames> {
        let mut got = frame(cx, node, self.comb, self.known, false)?;
        if node.get("bees").is_none() {
            got.group.frame.bees = Hundreds(0);
        }
        for key in ["queen", "give"] {
            if let Some(wrong) = node.get(key) {
                cx.error(
                    "unknown-key",
                    wrong.at,
                    format!("`{key}` of a frame that was hung in"),
                    "what it held when it was hung in",
                    "remove it; a new count says where the queen is",
                );
            }
        }
        Some(got)
    }

    /// Frames that were hung in to be drawn and bred: bare but for stores, foundation unless the file says more.
    /// They hang since so many days before the count.
    fn hung(&self, cx: &mut Cx, node: &Node, before: u32) -> Option<(Hung, Option<String>)> {
        let mut got = self.got(cx, node)?;
        let frame = &mut got.group.frame;
        if let Some(wrong) = ["brood", "bees"].iter().find_map(|key| node.get(key)) {
            cx.error(
                "out-of-range",
                wrong.at,
                "brood or bees on a frame that is hung in to be bred",
                "neither",
                "remove it; frames that come with brood or bees stand in `got`",
            );
            return None;
        }
        if node.get("drawn").is_none() && frame.stores.0 == 0 {
            frame.drawn = Milli(0);
        }
        let drawn = frame.drawn.0 >= HALF_DRAWN;
        let days = ready_after(self.known.raised.usual, drawn);
        let hung = Hung {
            frames: got.group,
            days: days.saturating_sub(before),
        };
        Some((hung, got.place))
    }

    fn gone(&mut self, cx: &mut Cx, node: &Node) -> Option<Gone> {
        let m = cx.map(node, &t::GONE)?;
        let count = match m.get("count") {
            Some(_) => cx.count(&m, "count"),
            None => Some(1),
        };
        let mut share = |key| cx.quantity(&m, key, 1000.0, None).map(Milli);
        let each = (share("brood"), share("stores"));
        let of = match self.quick {
            true => self.of_counts(cx, &m),
            false => self.group(cx, &m).map(|group| vec![group]),
        };
        let (count, of) = (count?, of?);
        let there: u32 = of.iter().map(|&at| self.frames[at].0.count).sum();
        // Those that are counted alike stand for their first.
        let gone = self.gone.entry(*of.first()?).or_default();
        *gone = gone.saturating_add(count);
        if *gone > there {
            let taken = (i64::from(*gone), "frames");
            too_many(cx, node.at, taken, i64::from(there));
            return None;
        }
        Some(Gone { of, count, each })
    }

    /// A frame group of the count, or frames hung in since.
    fn group(&self, cx: &mut Cx, m: &Map) -> Option<usize> {
        let all = self.frames.len();
        let which = match self.counted == all {
            true => format!("`group`, 1 to {all}, in the order of the colony's frames"),
            false => format!(
                "`group`, 1 to {all}: the colony's frames in their order, from {} on those of `got`",
                self.counted + 1
            ),
        };
        if let Some(of) = m.get("of") {
            let found = "`of` for a colony that lists its frames";
            cx.error("unknown-key", of.at, found, which, "write `group:` instead");
            return None;
        }
        let number = match m.get("group") {
            Some(_) => usize::try_from(cx.count(m, "group")?).ok()?,
            None if all == 1 => 1,
            None => {
                cx.error("missing-key", m.at, "no `group`", which, "add `group:`");
                return None;
            }
        };
        if number > all {
            let found = format!("`group` {number}");
            cx.error("out-of-range", m.at, found, which, "correct the number");
            return None;
        }
        let origin = number.checked_sub(1)?;
        if self
            .frames
            .get(origin)
            .is_some_and(|(group, _)| group.queen)
        {
            cx.error(
                "not-to-take",
                m.at,
                "frames of the group that holds the queen",
                "frames of other groups",
                "correct `group`, or where the queen is",
            );
            return None;
        }
        Some(origin)
    }

    /// Frames of quick counts, as they were counted or hung in.
    fn of_counts(&self, cx: &mut Cx, m: &Map) -> Option<Vec<usize>> {
        let frames: Vec<&FrameState> = self.frames.iter().map(|(group, _)| &group.frame).collect();
        Some(alike(cx, m, &frames, &self.known.combs)?.0)
    }
}

/// Finds that more left than there was.
pub(super) fn too_many(cx: &mut Cx, at: At, (taken, what): (i64, &str), there: i64) {
    cx.error(
        "not-to-take",
        at,
        format!("{taken} {what} gone since the count, of {there}"),
        "no more than there were",
        "correct the count, or what was done since",
    );
}
