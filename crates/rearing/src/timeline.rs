//! From what is known to the days.

use crate::interval::{Interval, IntervalId, Intervals};
use jiff::ToSpan;
use jiff::civil::Date;

/// Oldest larva to graft, in hours (an Indian government course on mass queen rearing, seen).
pub const MOST_LARVA_HOURS: u32 = 24;

/// What each compartment is given.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Given {
    /// A ripe queen cell.
    #[default]
    RipeCells,
    /// A virgin queen.
    VirginQueens,
    /// A queen that is mated: no emergence and no mating flights to wait for.
    MatedQueens,
}

/// What the days are counted from.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Reared {
    /// The grafting day.
    Grafted(Date),
    /// The day the cells are ripe.
    Ripe(Date),
    /// Both; the days are counted from grafting.
    Both {
        /// The grafting day.
        grafted: Date,
        /// The day the cells are said to be ripe.
        ripe: Date,
    },
    /// Neither: cells are taken to be ripe on the day they go in.
    #[default]
    Unknown,
}

/// What is known of one round.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Known {
    /// The day the boxes are stocked.
    pub stocking: Date,
    /// Grafting, or ripe cells. Default unknown.
    pub reared: Reared,
    /// Age of the oldest larva grafted, in hours after hatching. Default not known.
    pub larva_hours: Option<u32>,
    /// What goes in. Default ripe cells.
    pub given: Given,
    /// First day of the eggs of which the drones come. Default not known.
    pub drone_eggs: Option<Date>,
    /// Days without flight that feed must last for. Default 7 (a choice: a week of rain).
    pub no_flight: u32,
    /// The intervals to count with. Default as published.
    pub intervals: Intervals,
}

impl Known {
    /// Nothing but the stocking day.
    #[must_use]
    pub fn on(stocking: Date) -> Self {
        Self {
            stocking,
            reared: Reared::Unknown,
            larva_hours: None,
            given: Given::RipeCells,
            drone_eggs: None,
            no_flight: 7,
            intervals: Intervals::default(),
        }
    }
}

/// Days from the first to the last, both included; `usual` is one of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Span {
    /// First day.
    pub first: Date,
    /// What is counted with where one day is wanted.
    pub usual: Date,
    /// Last day.
    pub last: Date,
}

impl Span {
    fn one(day: Date) -> Self {
        Self {
            first: day,
            usual: day,
            last: day,
        }
    }

    fn after(self, days: Interval) -> Self {
        Self {
            first: after(self.first, days.least),
            usual: after(self.usual, days.usual),
            last: after(self.last, days.most),
        }
    }
}

/// The days of one round. What comes after emergence is counted from the last day of emergence, by
/// which all queens are out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Timeline {
    /// Donors are looked through.
    pub check: Date,
    /// Boxes are stocked.
    pub stocking: Date,
    /// Grafting, counted back where it is not known.
    pub grafted: Date,
    /// Cells are ripe.
    pub ripe: Span,
    /// Cells or queens go in.
    pub cells_in: Date,
    /// Queens emerge.
    pub emergence: Span,
    /// Mating flights: boxes stay shut.
    pub flights: Span,
    /// The feed given is used up, if no bee flew: look to it. None during mating flights.
    pub feed_checks: Vec<Date>,
    /// First look for eggs, never before the last day of mating flights is over.
    pub first_look: Date,
    /// First eggs.
    pub eggs: Span,
    /// First sealed brood.
    pub sealed: Span,
    /// A queen is taken, once there is sealed brood and she is of age; the first day is the earliest.
    pub take: Span,
    /// The next cell can go in, where queens are taken on the earliest day.
    pub next_cell: Date,
    /// Grafting for that cell.
    pub next_graft: Date,
    /// Eggs of drones that are mature for the first mating flights, and for the last.
    pub drone_eggs: Span,
}

impl Timeline {
    /// When a box that keeps a queen for so many days after the cell went in is likely to lose her.
    #[must_use]
    pub fn kept(&self, keeps: Interval) -> Span {
        Span::one(self.cells_in).after(keeps)
    }
}

/// The days of a round. Days beyond the calendar's end stay at its end.
#[must_use]
pub fn timeline(known: &Known) -> Timeline {
    let days = |id| known.intervals.get(id);
    let stocking = known.stocking;
    let cells_in = after(stocking, days(IntervalId::CellsIn).usual);
    let to_ripe = days(IntervalId::Ripe);
    let (grafted, ripe) = match known.reared {
        Reared::Grafted(day) | Reared::Both { grafted: day, .. } => {
            (day, Span::one(day).after(to_ripe))
        }
        Reared::Ripe(day) => (before(day, to_ripe.usual), Span::one(day)),
        Reared::Unknown => {
            let ripe = match known.given {
                Given::RipeCells | Given::MatedQueens => cells_in,
                // Out of their cells on the day before.
                Given::VirginQueens => before(cells_in, days(IntervalId::Emergence).most + 1),
            };
            (before(ripe, to_ripe.usual), Span::one(ripe))
        }
    };
    let emergence = ripe.after(days(IntervalId::Emergence));
    let out = Span::one(emergence.last);
    let flights = out.after(days(IntervalId::Flights));
    let eggs = out.after(days(IntervalId::Eggs));
    // No queen lays before she has flown, whatever intervals are one's own.
    let usual = eggs.usual.max(after(flights.first, 1));
    let eggs = Span {
        first: eggs.first,
        usual,
        last: eggs.last.max(usual),
    };
    let sealed = eggs.after(days(IntervalId::Sealed));
    let of_age = out.after(days(IntervalId::Age));
    let look = after(cells_in, days(IntervalId::FirstLook).usual);
    let first_look = match known.given {
        Given::MatedQueens => look,
        Given::RipeCells | Given::VirginQueens => look.max(after(flights.last, 1)),
    };
    let earliest = of_age.first.max(sealed.usual);
    let take = Span {
        first: earliest,
        usual: of_age.usual.max(earliest),
        last: of_age.last.max(earliest),
    };
    let next_cell = after(take.first, days(IntervalId::NextCell).usual);
    let drone = days(IntervalId::DroneEmergence).usual + days(IntervalId::DroneMaturity).usual;
    Timeline {
        check: before(stocking, days(IntervalId::Check).usual),
        stocking,
        grafted,
        ripe,
        cells_in,
        emergence,
        flights,
        feed_checks: feed_checks(known, cells_in, flights_of(known, flights), first_look),
        first_look,
        eggs,
        sealed,
        take,
        next_cell,
        next_graft: before(next_cell, to_ripe.usual),
        drone_eggs: Span {
            first: before(flights.first, drone),
            usual: before(flights.usual, drone),
            last: before(flights.last, drone),
        },
    }
}

/// Days on which boxes stay shut for mating flights, if any.
fn flights_of(known: &Known, flights: Span) -> Option<Span> {
    (known.given != Given::MatedQueens).then_some(flights)
}

/// Every so many days up to the first look. One in the days of mating flights comes on the day before
/// them, and the next on the day after them. None within half that time of another, or of the first look.
fn feed_checks(
    known: &Known,
    cells_in: Date,
    flights: Option<Span>,
    first_look: Date,
) -> Vec<Date> {
    let every = known.no_flight.max(1);
    let mut checks: Vec<Date> = Vec::new();
    let mut day = after(known.stocking, every);
    while day < first_look {
        let shut = flights.filter(|flights| flights.first <= day && day <= flights.last);
        let check = shut.map_or(day, |flights| before(flights.first, 1));
        let last_of_them = shut.map(|flights| flights.last);
        let shut = shut.is_some();
        let last = checks.last().copied();
        let just = last.is_some_and(|last| check <= after(last, if shut { every / 2 } else { 0 }));
        let soon = after(check, every / 2) >= first_look;
        if check > cells_in && !just && !soon {
            checks.push(check);
        }
        let next = last_of_them.map_or_else(|| after(day, every), |last| after(last, 1));
        // At the end of the calendar there are no more days.
        if next <= day {
            break;
        }
        day = next;
    }
    checks
}

pub(crate) fn after(day: Date, days: u32) -> Date {
    day.saturating_add(i64::from(days).days())
}

pub(crate) fn before(day: Date, days: u32) -> Date {
    day.saturating_sub(i64::from(days).days())
}
