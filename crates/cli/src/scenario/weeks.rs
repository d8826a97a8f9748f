//! On which day a colony was counted, what was done since, and what is expected of it on the day.

use super::fields as t;
use super::frames::{Frames, frame};
use super::limits::HUNDREDS;
use super::origins::count_of;
use super::parts::Known;
use super::rearing::Rearing;
use super::whole::date;
use crate::reading::{At, Cx, Map, Node, describe, word};
use jiff::civil::Date;
use s::{Colony, CombId, FrameGroup, Hundreds, Milli};
use spareframe_rearing::{Interval, IntervalId};
use spareframe_solver as s;
use spareframe_weeks::{Count, Event, Gone, Hung, LAST_DAY, on};
use std::collections::BTreeMap;

/// Days after which a count says little (a choice: all brood of that day has emerged).
const OLD: i32 = 21;
/// Days that a comb which is hung in half drawn or more is bred earlier than foundation (a choice).
const DRAWN_EARLIER: u32 = 9;
/// From so many thousandths on a comb is taken for drawn (a choice).
const HALF_DRAWN: i64 = 500;

/// The count that a colony is reckoned from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ColonyCount {
    /// The day of the count; none where the scenario has no day.
    pub day: Option<Date>,
    /// What was counted, and what was done since; none where it was counted on the day, and is as it stands.
    pub count: Option<Box<Count>>,
    /// For each frame group that the scenario has now, which frames of the count they are; none where it is as it
    /// stands.
    pub origins: Vec<usize>,
}

impl ColonyCount {
    /// The day of the count, where what stands in the scenario is expected and not just counted.
    #[must_use]
    pub fn earlier(&self) -> Option<Date> {
        self.day.filter(|_| self.ago() > 0)
    }

    /// Days from the count to the stocking day.
    #[must_use]
    pub fn ago(&self) -> u32 {
        self.count.as_ref().map_or(0, |count| count.ago)
    }

    /// What was done since.
    #[must_use]
    pub fn since(&self) -> &[Event] {
        self.count.as_ref().map_or(&[], |count| &count.since)
    }

    /// Which frames of the count those of a frame group are.
    pub(crate) fn origin(&self, group: usize) -> Option<usize> {
        match self.count {
            Some(_) => self.origins.get(group).copied(),
            None => Some(group),
        }
    }
}

/// Days until foundation that hangs in a colony is drawn and bred.
pub(crate) fn raised_in(rearing: &Rearing) -> Interval {
    rearing.intervals.get(IntervalId::CombRaised)
}

/// Days until a comb that was hung in is bred, where foundation takes so many.
pub(crate) fn ready_after(foundation: u32, drawn: bool) -> u32 {
    match drawn {
        true => foundation.saturating_sub(DRAWN_EARLIER),
        false => foundation,
    }
}

/// A colony as it is expected, with its count and the places of its frame groups.
pub(super) struct Weeks {
    pub colony: Colony,
    pub count: ColonyCount,
    pub places: Vec<Option<String>>,
}

/// The day on which all were counted that do not say otherwise.
pub(super) fn count_day(cx: &mut Cx, top: &Map, known: &Known) -> Option<Date> {
    match top.get("counted") {
        Some(node) => counted(cx, node, known, "colonies").or(known.day),
        None => known.day,
    }
}

/// A day of a count: not after the stocking day, and not too long before it.
fn counted(cx: &mut Cx, node: &Node, known: &Known, what: &str) -> Option<Date> {
    let counted = date(cx, node)?;
    let Some(day) = known.day else {
        if !known.has_day {
            cx.error(
                "dates-without-day",
                node.at,
                "a count without a stocking day",
                "`day` at the top",
                "add `day: 2031-05-20`",
            );
        }
        return None;
    };
    let ago = (day - counted).get_days();
    let most = i32::try_from(LAST_DAY).unwrap_or(i32::MAX);
    if ago < 0 {
        cx.error(
            "dates-order",
            node.at,
            format!("a count on {counted}, after `day`"),
            format!("{day} or earlier"),
            "correct one of the two; `day` is the day that the file speaks of",
        );
        return None;
    }
    if ago > most {
        cx.error(
            "out-of-range",
            node.at,
            format!("a count {ago} days before `day`"),
            format!("at most {most} days"),
            "correct the year, or count anew",
        );
        return None;
    }
    if ago > OLD {
        cx.warn(
            "old-count",
            node.at,
            format!("{what} counted {ago} days before `day`"),
            format!("a count of the last {OLD} days: all brood of that day has emerged"),
            "look the colonies through again",
        );
    }
    Some(counted)
}

/// Reads when a colony was counted and what was done since, and reckons what there is on the day.
pub(super) fn weeks(
    cx: &mut Cx,
    m: &Map,
    (mut colony, places): (Colony, Vec<Option<String>>),
    (comb, quick): (CombId, bool),
    known: &Known,
) -> Weeks {
    let what = format!("colony `{}`", colony.name);
    let day = match m.get("counted") {
        Some(node) => counted(cx, node, known, &what).or(known.day),
        None => known.counted,
    };
    let ago = known.day.zip(day).map_or(0, |(day, counted)| {
        u32::try_from((day - counted).get_days()).unwrap_or(0)
    });
    let lays = cx.count(m, "lays");
    let change = (known.without).change(cx, m, &colony.name, (known.day, day));
    if ago == 0 && m.get("since").is_none() && lays.is_none() && change.is_none() {
        let count = ColonyCount {
            day,
            count: None,
            origins: Vec::new(),
        };
        return Weeks {
            colony,
            count,
            places,
        };
    }
    let mut since = Since {
        known,
        day,
        comb,
        quick,
        counted: colony.frames.len(),
        frames: colony.frames.iter().cloned().zip(places).collect(),
        gone: BTreeMap::new(),
        events: Vec::new(),
    };
    for node in m.get("since").map_or(&[][..], |n| cx.list(n)) {
        since.event(cx, node);
    }
    let (at, events): (Vec<At>, Vec<Event>) = since.events.into_iter().unzip();
    if let Some(crop) = &mut colony.crop {
        let days = i32::try_from(ago).unwrap_or(0);
        (crop.from, crop.to) = (crop.from + days, crop.to + days);
    }
    let count = Count {
        colony,
        ago,
        since: events,
        lays,
        change,
    };
    let then = on((&known.combs, &known.model), &count, known.dearth, 0);
    if let Some((event, there)) = then.lacking {
        let taken = count.since.get(event).map_or(0, |e| e.bees.bees().0);
        let at = at.get(event).copied().unwrap_or(m.at);
        too_many(cx, at, (taken, "bees"), there.bees().0);
    }
    let place = |origin: &usize| {
        since
            .frames
            .get(*origin)
            .and_then(|(_, place)| place.clone())
    };
    Weeks {
        places: then.origins.iter().map(place).collect(),
        colony: then.colony,
        count: ColonyCount {
            day,
            count: Some(Box::new(count)),
            origins: then.origins,
        },
    }
}

/// What is read of the days since a count.
struct Since<'a> {
    known: &'a Known,
    /// The day of the count.
    day: Option<Date>,
    comb: CombId,
    quick: bool,
    /// How many frame groups were counted.
    counted: usize,
    /// These and those hung in since, with their places.
    frames: Vec<(FrameGroup, Option<String>)>,
    /// Frames that are gone, by index in `frames`.
    gone: BTreeMap<usize, u32>,
    events: Vec<(At, Event)>,
}

impl Since<'_> {
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
            true => self.of(cx, &m),
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
    fn of(&self, cx: &mut Cx, m: &Map) -> Option<Vec<usize>> {
        if m.get("comb").is_some() {
            let comb = self.known.comb(cx, m, self.comb);
            let frames = self.frames.iter().enumerate();
            let alike = frames.filter(|(_, (group, _))| group.frame.comb == comb);
            let found: Vec<usize> = alike.map(|(origin, _)| origin).collect();
            if found.is_empty() {
                cx.error(
                    "not-to-take",
                    m.at,
                    "frames of a size that the colony has not",
                    "the size of its frames, or of those hung in since",
                    "correct `comb`",
                );
                return None;
            }
            return Some(found);
        }
        let counted = |of: &str| -> Vec<usize> {
            let frames = self.frames.iter().enumerate();
            let alike = frames.filter(|(_, (group, _))| count_of(&group.frame) == of);
            alike.map(|(origin, _)| origin).collect()
        };
        let mut there: Vec<&str> = Vec::new();
        for (group, _) in &self.frames {
            let of = count_of(&group.frame);
            if !there.contains(&of) {
                there.push(of);
            }
        }
        let which = format!("one of its counts: {}", there.join(", "));
        if let Some(group) = m.get("group") {
            let found = format!("{} as the `group` of quick counts", describe(group));
            let way_out = format!("write `of: {}` instead", there.first().unwrap_or(&"brood"));
            cx.error("two-meanings", group.at, found, which, way_out);
            return None;
        }
        match (m.get("of"), there.as_slice()) {
            (Some(node), _) => {
                let of = cx.one_of(m, "of")?;
                let found = counted(of);
                if found.is_empty() {
                    let found = format!("`of: {}`", word(node));
                    cx.error(
                        "not-to-take",
                        node.at,
                        found,
                        which,
                        "correct which they were",
                    );
                    return None;
                }
                Some(found)
            }
            (None, [one]) => Some(counted(one)),
            (None, _) => {
                cx.error(
                    "missing-key",
                    m.at,
                    "no `of`",
                    which,
                    "add `of: brood`, or whichever it was",
                );
                None
            }
        }
    }
}

/// Finds that more left than there was.
fn too_many(cx: &mut Cx, at: At, (taken, what): (i64, &str), there: i64) {
    cx.error(
        "not-to-take",
        at,
        format!("{taken} {what} gone since the count, of {there}"),
        "no more than there were",
        "correct the count, or what was done since",
    );
}
