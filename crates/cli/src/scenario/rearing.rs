//! What is known of the queens' rearing, and what the calendar counts with.

use super::fields as t;
use super::whole::date;
use crate::reading::{Cx, Map, Node, word};
use jiff::civil::Date;
use spareframe_rearing::{Given, INTERVALS, Interval, IntervalId, Intervals, Known, Reared};

/// Rearing as the file states it; without a stocking day there are no days to count.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Rearing {
    /// The grafting day.
    pub grafted: Option<Date>,
    /// The day the cells are ripe.
    pub ripe: Option<Date>,
    /// Age of the oldest larva grafted, in hours.
    pub larva_hours: Option<u32>,
    /// What each compartment gets.
    pub given: Given,
    /// First day of the eggs of which the drones come.
    pub drone_eggs: Option<Date>,
    /// Days without flight that feed must last for.
    pub no_flight: Option<u32>,
    /// Share of compartments from which a mated queen comes, least and most, in thousandths.
    pub success: Option<(u32, u32)>,
    /// Days to count with.
    pub intervals: Intervals,
    /// By kind of box: whether its compartments are given mated queens out of what stands.
    pub takes: Vec<bool>,
    /// By kind of box: how long it keeps a queen, where the file says so.
    pub keeps: Vec<Option<Keeps>>,
}

/// How long a kind of box keeps a queen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keeps {
    /// As long as one likes.
    AsLong,
    /// So many days after the cell went in.
    Days(Interval),
}

impl Rearing {
    /// All that is known of a round stocked on `stocking`.
    #[must_use]
    pub fn known(&self, stocking: Date) -> Known {
        let defaults = Known::on(stocking);
        Known {
            reared: match (self.grafted, self.ripe) {
                (Some(grafted), Some(ripe)) => Reared::Both { grafted, ripe },
                (Some(grafted), None) => Reared::Grafted(grafted),
                (None, Some(ripe)) => Reared::Ripe(ripe),
                (None, None) => Reared::Unknown,
            },
            larva_hours: self.larva_hours,
            given: self.given,
            drone_eggs: self.drone_eggs,
            no_flight: self.no_flight.unwrap_or(defaults.no_flight),
            intervals: self.intervals.clone(),
            ..defaults
        }
    }
}

/// Reads the section `rearing`.
pub(super) fn rearing(cx: &mut Cx, node: &Node, has_day: bool) -> Rearing {
    let mut out = Rearing::default();
    let Some(m) = cx.map(node, &t::REARING) else {
        return out;
    };
    if !has_day {
        cx.warn(
            "rearing-without-day",
            node.at,
            "rearing without a stocking day",
            "`day`",
            "add `day:`; without it there is no calendar",
        );
    }
    out.grafted = m.get("grafted").and_then(|n| date(cx, n));
    out.ripe = m.get("ripe").and_then(|n| date(cx, n));
    out.larva_hours = cx.count(&m, "larva age");
    let given = cx.one_of(&m, "given");
    let given = given.and_then(|given| t::GIVEN.iter().position(|known| *known == given));
    out.given = match given {
        Some(1) => Given::VirginQueens,
        Some(2) => Given::MatedQueens,
        _ => Given::RipeCells,
    };
    out.drone_eggs = m.get("drone eggs").and_then(|n| date(cx, n));
    out.no_flight = cx.count(&m, "no flight");
    let share = |n: i64| u32::try_from(n).unwrap_or(0);
    let success = cx.range(&m, "success", 1000.0);
    out.success = success.map(|(least, most)| (share(least), share(most)));
    if let Some(m) = m.get("intervals").and_then(|n| cx.map(n, &t::INTERVALS)) {
        for known in INTERVALS {
            if let Some(days) = interval(cx, &m, known.id, known.name) {
                out.intervals.set(known.id, days);
            }
        }
    }
    out
}

fn interval(cx: &mut Cx, m: &Map, id: IntervalId, key: &str) -> Option<Interval> {
    match id {
        IntervalId::SmallBox => None,
        IntervalId::Check
        | IntervalId::CellsIn
        | IntervalId::FirstLook
        | IntervalId::NextCell
        | IntervalId::Queenless
        | IntervalId::Caged
        | IntervalId::DroneEmergence
        | IntervalId::DroneMaturity => cx.count(m, key).map(Interval::exactly),
        _ => days(cx, m, key),
    }
}

fn days(cx: &mut Cx, m: &Map, key: &str) -> Option<Interval> {
    let (least, most) = cx.range(m, key, 1.0)?;
    Some(Interval::range(
        u32::try_from(least).ok()?,
        u32::try_from(most).ok()?,
    ))
}

/// How long a kind of box keeps a queen.
pub(super) fn keeps(cx: &mut Cx, m: &Map) -> Option<Keeps> {
    match m.get("keeps queen").map(word) {
        Some("none") => Some(Keeps::AsLong),
        _ => days(cx, m, "keeps queen").map(Keeps::Days),
    }
}
