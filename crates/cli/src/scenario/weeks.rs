//! On which day a colony was counted, what was done since, and what is expected of it on the day.

use super::known::Known;
use super::rearing::Rearing;
use super::since::{Since, too_many};
use super::whole::date;
use crate::reading::{At, Cx, Map, Node};
use jiff::civil::Date;
use s::{Colony, CombId};
use spareframe_rearing::{Interval, IntervalId};
use spareframe_solver as s;
use spareframe_weeks::{Count, Event, LAST_DAY, on};

/// Days after which a count says little (a choice: all brood of that day has emerged).
const OLD: i32 = 21;
/// Days that a comb which is hung in half drawn or more is bred earlier than foundation (a choice).
const DRAWN_EARLIER: u32 = 9;

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
    let frames = colony.frames.iter().cloned().zip(places).collect();
    let mut since = Since::of(known, day, (comb, quick), frames);
    since.read(cx, m);
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
