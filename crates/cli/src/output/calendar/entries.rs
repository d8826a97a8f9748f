//! The steps, each with its days, what to do, and where the days are from.

use super::super::figures::counted;
use super::super::headline;
use super::super::next_cells;
use super::super::report::CompartmentReport;
use super::build::Round;
use super::record::{Entry, EntryKind};
use super::words::day;
use jiff::civil::Date;
use spareframe_rearing::{Given, INTERVALS, IntervalId, Reared, Span, attendants_to_eggs};

/// Days after which wild cells are looked for again.
const WEEK: u32 = 7;

/// All steps by their first day; those of one day in the order in which they are done.
pub(super) fn entries(round: &Round) -> Vec<Entry> {
    let mut list = Vec::new();
    let mated = round.known.given == Given::MatedQueens;
    // Where queens alone are given, nothing is known of a rearing.
    let queens_alone = round.stocked().next().is_none() && round.report.queens.is_some();
    let known = round.known.reared != Reared::Unknown;
    if !mated && (known || !queens_alone) {
        rearing(round, &mut list);
    }
    if round.stocked().next().is_some() {
        stocking(round, &mut list);
        match mated {
            true => list.push(first_look(round)),
            false => {
                mating(round, &mut list);
                taking(round, &mut list);
            }
        }
        last_days(round, &mut list);
    }
    list.extend(super::queens::entries(round));
    list.sort_by(|a, b| a.first_day.cmp(&b.first_day));
    list
}

pub(super) fn entry(id: &str, kind: EntryKind, (first, last): (Date, Date), title: &str) -> Entry {
    Entry {
        id: id.to_owned(),
        kind,
        box_kind: None,
        site: None,
        first_day: first.to_string(),
        last_day: last.to_string(),
        title: title.to_owned(),
        detail: String::new(),
        basis: String::new(),
    }
}

pub(super) fn one(day: Date) -> (Date, Date) {
    (day, day)
}

fn ends(span: Span) -> (Date, Date) {
    (span.first, span.last)
}

fn rearing(round: &Round, list: &mut Vec<Entry>) {
    let days = &round.days;
    list.push(Entry {
        detail: format!(
            "Eggs laid by {} give drones that are mature for the first mating flights, by {} for the \
             last.",
            day(days.drone_eggs.first),
            day(days.drone_eggs.last)
        ),
        basis: basis(
            round,
            &[IntervalId::DroneEmergence, IntervalId::DroneMaturity],
        ),
        ..entry(
            "drone-eggs",
            EntryKind::LastDay,
            ends(days.drone_eggs),
            "Eggs for drones, at the latest",
        )
    });
    let counted_back = matches!(round.known.reared, Reared::Ripe(_) | Reared::Unknown);
    list.push(Entry {
        detail: match counted_back {
            true => "Larvae of at most 24 hours. Counted back from the ripe cells.".to_owned(),
            false => "Larvae of at most 24 hours.".to_owned(),
        },
        basis: basis(round, &[IntervalId::Ripe]),
        ..entry("graft", EntryKind::Work, one(days.grafted), "Graft")
    });
    list.push(Entry {
        detail: "No cell waits: queens emerge within days, and the first one out kills the others."
            .to_owned(),
        basis: basis(round, &[IntervalId::Ripe]),
        ..entry("ripe", EntryKind::Expect, ends(days.ripe), "Cells are ripe")
    });
    list.push(Entry {
        detail: String::new(),
        basis: basis(round, &[IntervalId::Emergence]),
        ..entry(
            "emergence",
            EntryKind::Expect,
            ends(days.emergence),
            "Queens emerge",
        )
    });
}

fn stocking(round: &Round, list: &mut Vec<Entry>) {
    let days = &round.days;
    list.push(Entry {
        detail:
            "Look through the brood of every donor, and take nothing from one in doubt. Find each \
                 queen and mark the frame she is on."
                .to_owned(),
        basis: basis(round, &[IntervalId::Check]),
        ..entry(
            "check",
            EntryKind::Work,
            (days.check, days.stocking),
            "Check for brood disease, find the queens",
        )
    });
    list.push(Entry {
        detail: headline::answer(&round.report.headline),
        basis: "the day of the scenario".to_owned(),
        ..entry(
            "stocking",
            EntryKind::Work,
            one(days.stocking),
            "Draw frames and bees, stock the boxes",
        )
    });
    list.extend(super::ways::ways(round));
    let caged = || {
        "In a cage with a plug of candy, when the bees have been without a queen for some hours."
            .to_owned()
    };
    let (id, title, detail) = match round.known.given {
        Given::RipeCells => (
            "cells-in",
            "Ripe cells in",
            format!(
                "Upright, warm, never knocked, {}. One for each compartment.",
                beside_what(round)
            ),
        ),
        Given::VirginQueens => ("queens-in", "Virgin queens in", caged()),
        Given::MatedQueens => ("queens-in", "Mated queens in", caged()),
    };
    let next = next_cells::listed(round.report);
    let wild = next.as_ref().map_or(String::new(), |next| {
        format!(" Break wild cells in {next} first.")
    });
    list.push(Entry {
        detail: detail + &wild,
        basis: basis(round, &[IntervalId::CellsIn]),
        ..entry(id, EntryKind::Work, one(days.cells_in), title)
    });
    list.extend(next.map(|next| wild_cells(round, &next)));
    for (n, check) in (1..).zip(&days.feed_checks) {
        list.push(Entry {
            detail: format!(
                "If no bee has flown for {} the feed given is used up. At dusk, without lifting a \
                 frame; spill nothing.",
                counted(i64::from(round.known.no_flight), "day", "days")
            ),
            basis: format!(
                "{}; never during mating flights",
                counted(
                    i64::from(round.known.no_flight),
                    "day without flight",
                    "days without flight"
                )
            ),
            ..entry(
                &format!("feed-{n}"),
                EntryKind::Work,
                one(*check),
                "See to the feed",
            )
        });
    }
}

/// Wild cells are looked for again where bees stood before, a week later, or before that where queens may fly.
fn wild_cells(round: &Round, next: &str) -> Entry {
    let days = &round.days;
    let week = later(days.cells_in, WEEK);
    let before = days.flights.first.saturating_sub(jiff::Span::new().days(1));
    let day = match round.known.given {
        Given::MatedQueens => week,
        Given::RipeCells | Given::VirginQueens => week.min(before).max(days.cells_in),
    };
    Entry {
        detail: format!(
            "In {next}: bees that stood may have drawn cells of their own since. Break them, and shut the box again at once."
        ),
        basis: "a week after the cells went in, before mating flights (common practice)".to_owned(),
        ..entry(
            "wild-cells",
            EntryKind::Work,
            one(day),
            "Look for wild cells again",
        )
    }
}

/// Where a cell hangs: between two brood combs only where each compartment has two.
fn beside_what(round: &Round) -> &'static str {
    let brood = |c: &CompartmentReport| {
        let combs = c.all_frames().filter(|(_, holds)| holds.brood_share > 0.0);
        combs.map(|(frames, _)| frames).fold(0, u32::saturating_add)
    };
    let cells = || round.report.compartments.iter();
    let combs = || cells().filter(|c| c.queen.is_none()).map(brood);
    match (combs().min().unwrap_or(0), combs().max().unwrap_or(0)) {
        (_, 0) => "between the combs",
        (2.., _) => "between two brood combs",
        (_, 1) => "beside the brood comb, where there is one",
        _ => "between two brood combs where there are two, else beside the brood",
    }
}

pub(super) fn later(day: Date, days: u32) -> Date {
    day.saturating_add(jiff::Span::new().days(i64::from(days)))
}

fn mating(round: &Round, list: &mut Vec<Entry>) {
    let days = &round.days;
    // Earlier eggs are published than mating flights; no calendar has them in that order.
    let eggs = days.eggs.first.max(later(days.flights.first, 1));
    let sealed = round.known.intervals.get(IntervalId::Sealed).least;
    let sealed = days.sealed.first.max(later(eggs, sealed));
    list.push(Entry {
        detail: "Do not open, turn or move a box. Feed only from outside.".to_owned(),
        basis: basis(round, &[IntervalId::Flights]),
        ..entry(
            "mating-flights",
            EntryKind::LeaveClosed,
            ends(days.flights),
            "Mating flights: leave the boxes shut",
        )
    });
    list.push(first_look(round));
    list.push(Entry {
        detail: format!(
            "As a rule about {}. A compartment without eggs by {} has no laying queen: unite it, or \
             give it a new cell.{}",
            day(days.eggs.usual),
            day(days.eggs.last),
            attendants(round)
        ),
        basis: basis(round, &[IntervalId::Eggs]),
        ..entry(
            "eggs",
            EntryKind::Expect,
            (eggs.min(days.eggs.last), days.eggs.last),
            "First eggs",
        )
    });
    list.push(Entry {
        detail: format!(
            "As a rule about {}. Flat worker cappings: she is mated. Domed cappings on worker cells: \
             she lays drones and is of no use.",
            day(days.sealed.usual)
        ),
        basis: basis(round, &[IntervalId::Eggs, IntervalId::Sealed]),
        ..entry(
            "sealed",
            EntryKind::Expect,
            (sealed.min(days.sealed.last), days.sealed.last),
            "First sealed brood",
        )
    });
}

fn first_look(round: &Round) -> Entry {
    let (detail, basis) = match round.known.given {
        Given::MatedQueens => (
            "On a warm day, quickly. A compartment without eggs has lost its queen or not taken her: unite it, \
             or give it another. See to the feed.",
            basis(round, &[IntervalId::FirstLook]),
        ),
        Given::RipeCells | Given::VirginQueens => (
            "On a warm day, quickly. No eggs yet is no bad sign; look again in a week. See to the feed.",
            basis(round, &[IntervalId::FirstLook, IntervalId::Flights]),
        ),
    };
    Entry {
        detail: detail.to_owned(),
        basis,
        ..entry(
            "first-look",
            EntryKind::Work,
            one(round.days.first_look),
            "First look for eggs",
        )
    }
}

/// What few bees mean for the first eggs, where a study covers them.
fn attendants(round: &Round) -> String {
    let one_comb =
        |c: &&CompartmentReport| c.all_frames().map(|(n, _)| u64::from(n)).sum::<u64>() == 1;
    let compartments = round.report.compartments.iter().filter(one_comb);
    let fewest = compartments.map(CompartmentReport::all_bees).min();
    let late = fewest.and_then(|bees| {
        let workers = u32::try_from(bees).ok()?;
        Some((workers, attendants_to_eggs(workers)?))
    });
    late.map_or(String::new(), |(workers, days)| {
        format!(
            " Few bees make it later: with {workers} on one comb {days:.1} days after insemination \
             (by a line in J. Apic. Res. 29(2) 1990:101, seen)."
        )
    })
}

fn taking(round: &Round, list: &mut Vec<Entry>) {
    let days = &round.days;
    list.push(Entry {
        detail: format!(
            "Not before {}, and not before there is sealed brood of hers: after introduction more \
             survive the older they are, up to about 5 weeks.",
            day(days.take.first)
        ),
        basis: basis(round, &[IntervalId::Sealed, IntervalId::Age]),
        ..entry(
            "take",
            EntryKind::Work,
            ends(days.take),
            "Queens can be taken",
        )
    });
    list.push(Entry {
        detail: format!(
            "For cells that are ripe on {}, if queens are taken on the first day.",
            day(days.next_cell)
        ),
        basis: basis(round, &[IntervalId::Ripe, IntervalId::NextCell]),
        ..entry(
            "next-graft",
            EntryKind::Work,
            one(days.next_graft),
            "Graft for the next round",
        )
    });
    list.push(Entry {
        detail:
            "Never while a queen is still in the compartment. Sooner or later, as queens are taken."
                .to_owned(),
        basis: basis(round, &[IntervalId::NextCell]),
        ..entry(
            "next-cell",
            EntryKind::Work,
            one(days.next_cell),
            "Next cells in",
        )
    });
}

/// How long small boxes keep a queen.
fn last_days(round: &Round, list: &mut Vec<Entry>) {
    for (id, kind) in round.stocked().filter(|&(id, _)| !round.takes(id)) {
        let Some(keeps) = round.keeps(id) else {
            continue;
        };
        let span = round.days.kept(keeps);
        list.push(Entry {
            box_kind: Some(kind.name.clone()),
            detail: format!(
                "From {} on she is likely to leave or to be lost; by {} at the latest.",
                day(span.first),
                day(span.last)
            ),
            basis: match round.notes.rearing.keeps.get(id) {
                Some(Some(_)) => "keeps queen: yours".to_owned(),
                _ => basis(round, &[IntervalId::SmallBox]),
            },
            ..entry(
                &format!("last-day-{}", id + 1),
                EntryKind::LastDay,
                ends(span),
                "Last days for a queen in a small box",
            )
        });
    }
}

/// Where days are from: `emergence to eggs: 4 to 22 days, Szabo et al. 1987 (second hand)`.
pub(super) fn basis(round: &Round, ids: &[IntervalId]) -> String {
    let said = ids.iter().filter_map(|id| {
        let known = INTERVALS.iter().find(|known| known.id == *id)?;
        let days = round.known.intervals.get(*id);
        let days = super::words::span(days.least, days.most);
        Some(match (round.known.intervals.own(*id), known.source) {
            (Some(_), _) => format!("{}: {days} (yours)", known.name),
            (None, "") => format!("{}: {days} ({})", known.name, known.status.words()),
            (None, source) => {
                format!(
                    "{}: {days}, {source} ({})",
                    known.name,
                    known.status.words()
                )
            }
        })
    });
    said.collect::<Vec<_>>().join("; ")
}
