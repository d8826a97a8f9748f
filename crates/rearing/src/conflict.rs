//! Days that do not go together.

use crate::interval::{Interval, IntervalId};
use crate::timeline::{Given, Known, MOST_LARVA_HOURS, Reared, Timeline, after};
use jiff::civil::Date;

/// Something that does not go together, or is not known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Conflict {
    /// Neither grafting nor ripe cells are known; all days are counted from the day they go in.
    NotKnown {
        /// The grafting day that would suit.
        graft: Date,
    },
    /// Grafting and the day of ripe cells contradict each other.
    TwoDates {
        /// Day that is said.
        ripe: Date,
        /// Day by grafting.
        by_grafting: Date,
    },
    /// A larva was older than it should be.
    LarvaTooOld {
        /// Its age in hours.
        hours: u32,
    },
    /// Cells are ripe before the boxes are stocked.
    RipeBeforeStocking {
        /// First day of ripe cells.
        ripe: Date,
    },
    /// Queens emerge before the cells go in.
    OutBefore {
        /// First day of emergence.
        emergence: Date,
        /// All of them do.
        sure: bool,
    },
    /// Cells go in before they are ripe.
    NotYetRipe {
        /// First day of ripe cells.
        ripe: Date,
    },
    /// Virgin queens go in before they have emerged.
    NoVirginYet {
        /// First day of emergence.
        emergence: Date,
        /// None has, not only some.
        none: bool,
    },
    /// Virgin queens are older than those that were tried.
    VirginsTooOld {
        /// Their age in days when they go in.
        days: i32,
        /// They would have flown out to mate before.
        flown: bool,
    },
    /// Drones are reared too late.
    DronesTooLate {
        /// Day they are mature.
        mature: Date,
        /// For every mating flight, not only for the first.
        all: bool,
    },
}

/// Oldest virgin queens of which success is published, in days (Perez-Sato and Ratnieks 2006, seen).
const MOST_VIRGIN_DAYS: i32 = 4;

/// What does not go together, in the order of the days. Days of emergence and mating flights, and the
/// age of drones, are as exact as the intervals: some days.
#[must_use]
pub fn conflicts(known: &Known, days: &Timeline) -> Vec<Conflict> {
    let mut found = Vec::new();
    // Of queens that are mated the rearing is over.
    if known.given == Given::MatedQueens {
        return found;
    }
    match known.reared {
        Reared::Unknown => found.push(Conflict::NotKnown {
            graft: days.grafted,
        }),
        Reared::Both { ripe, .. } if ripe < days.ripe.first || ripe > days.ripe.last => {
            found.push(Conflict::TwoDates {
                ripe,
                by_grafting: days.ripe.usual,
            });
        }
        _ => {}
    }
    let too_old = known.larva_hours.filter(|&hours| hours > MOST_LARVA_HOURS);
    found.extend(too_old.map(|hours| Conflict::LarvaTooOld { hours }));
    match known.given {
        Given::RipeCells => cells(days, &mut found),
        Given::VirginQueens => virgins(days, &mut found),
        Given::MatedQueens => {}
    }
    found.extend(known.drone_eggs.and_then(|eggs| drones(known, days, eggs)));
    found
}

fn cells(days: &Timeline, found: &mut Vec<Conflict>) {
    if days.ripe.first < days.stocking {
        found.push(Conflict::RipeBeforeStocking {
            ripe: days.ripe.first,
        });
    }
    if days.cells_in >= days.emergence.first {
        found.push(Conflict::OutBefore {
            emergence: days.emergence.first,
            sure: days.cells_in > days.emergence.last,
        });
    }
    if days.cells_in < days.ripe.first {
        found.push(Conflict::NotYetRipe {
            ripe: days.ripe.first,
        });
    }
}

fn virgins(days: &Timeline, found: &mut Vec<Conflict>) {
    if days.cells_in < days.emergence.last {
        found.push(Conflict::NoVirginYet {
            emergence: days.emergence.first,
            none: days.cells_in < days.emergence.first,
        });
    }
    let age = (days.cells_in - days.emergence.last).get_days();
    if age > MOST_VIRGIN_DAYS {
        found.push(Conflict::VirginsTooOld {
            days: age,
            flown: days.cells_in >= days.flights.first,
        });
    }
}

fn drones(known: &Known, days: &Timeline, eggs: Date) -> Option<Conflict> {
    let needs = |id| known.intervals.get(id).usual;
    let mature = after(
        eggs,
        needs(IntervalId::DroneEmergence) + needs(IntervalId::DroneMaturity),
    );
    (mature > days.flights.first).then_some(Conflict::DronesTooLate {
        mature,
        all: mature > days.flights.last,
    })
}

/// Whether a box that keeps a queen for `keeps` days after the cell went in may lose her before she
/// is taken: the first day on which it may.
#[must_use]
pub fn lost_too_soon(days: &Timeline, keeps: Interval) -> Option<Date> {
    let lost = days.kept(keeps).first;
    (lost < days.take.first).then_some(lost)
}
