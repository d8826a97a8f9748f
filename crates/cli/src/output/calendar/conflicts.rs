//! What does not go together, in words.

use super::super::headline;
use super::super::words::clean;
use super::build::{Round, given};
use super::record::Conflict as Said;
use super::words::day;
use spareframe_rearing::{Conflict, Known, MOST_LARVA_HOURS, Timeline, conflicts, lost_too_soon};

pub(super) fn all(round: &Round) -> Vec<Said> {
    let found = conflicts(&round.known, &round.days);
    if round.stocked().next().is_none() {
        let answer = headline::answer(&round.report.headline);
        let alone = Said {
            id: "nothing-stocked".to_owned(),
            text: match round.report.queens.is_some() {
                true => format!("{answer} The days are those of queens and of the rearing alone."),
                false => format!("{answer} The days are those of the rearing alone."),
            },
        };
        // Cells and queens wait for a day, whether or not anything can be stocked on this one.
        let of_rearing = |c: &&Conflict| {
            matches!(
                c,
                Conflict::TwoDates { .. }
                    | Conflict::LarvaTooOld { .. }
                    | Conflict::NotKnown { .. }
            ) || is_of_the_day(c)
        };
        let rest = found
            .iter()
            .filter(of_rearing)
            .map(|found| said(&round.known, &round.days, found));
        return [alone].into_iter().chain(rest).collect();
    }
    let said = |found: &Conflict| said(&round.known, &round.days, found);
    let mut list: Vec<Said> = found.iter().map(said).collect();
    // Where cells or queens do not fit the day at all, days of later steps say nothing.
    let fits =
        |c: &Conflict| !is_of_the_day(c) || matches!(c, Conflict::OutBefore { sure: false, .. });
    if !found.iter().all(fits) {
        return list;
    }
    for (id, kind) in round.stocked().filter(|&(id, _)| !round.takes(id)) {
        let Some(lost) = round
            .keeps(id)
            .and_then(|keeps| lost_too_soon(&round.days, keeps))
        else {
            continue;
        };
        list.push(Said {
            id: format!("box-too-small-{}", id + 1),
            text: format!(
                "{} may lose queens from {} on; {} would be better for their acceptance. Take them \
                 late, into a cage or a nucleus, or use a larger box.",
                clean(&kind.name),
                day(lost),
                day(round.days.take.first)
            ),
        });
    }
    list
}

/// Whether cells or queens do not fit the day they go in.
fn is_of_the_day(conflict: &Conflict) -> bool {
    matches!(
        conflict,
        Conflict::NotYetRipe { .. }
            | Conflict::RipeBeforeStocking { .. }
            | Conflict::OutBefore { .. }
            | Conflict::NoVirginYet { .. }
            | Conflict::VirginsTooOld { .. }
    )
}

/// Those that speak of cells or queens and the day they go in, in words.
pub(super) fn of_the_day(known: &Known, days: &Timeline) -> Vec<String> {
    let found = conflicts(known, days);
    let found = found.iter().filter(|found| is_of_the_day(found));
    found.map(|found| said(known, days, found).text).collect()
}

fn said(known: &Known, days: &Timeline, conflict: &Conflict) -> Said {
    let stocking = day(days.stocking);
    let (id, text) = match conflict {
        Conflict::NotKnown { graft } => (
            "not-known",
            format!(
                "Neither grafting nor ripe cells are dated. All days are counted from {}, the day the \
                 {} go in; they would have been grafted on {}. Give `rearing: {{grafted: ...}}` for \
                 days of your own.",
                day(days.cells_in),
                given(known.given),
                day(*graft)
            ),
        ),
        Conflict::TwoDates { ripe, by_grafting } => (
            "two-dates",
            format!(
                "Cells are said to be ripe on {}, and by grafting they are on {}. The days are counted \
                 from grafting; correct one of the two.",
                day(*ripe),
                day(*by_grafting)
            ),
        ),
        Conflict::LarvaTooOld { hours } => (
            "larva-too-old",
            format!(
                "Larvae of {hours} hours were grafted; at most {MOST_LARVA_HOURS} are advised. Poorer \
                 queens, and out of their cells sooner than these days say: graft anew, or watch the \
                 cells."
            ),
        ),
        Conflict::RipeBeforeStocking { ripe } => (
            "ripe-before-stocking",
            format!(
                "Cells are ripe on {}, before the boxes are stocked on {stocking}. Stock sooner, or \
                 cage the cells in a strong colony or an incubator.",
                day(*ripe)
            ),
        ),
        Conflict::OutBefore {
            emergence,
            sure: false,
        } => (
            "out-before",
            format!(
                "Queens may be out of their cells from {} on; the cells go in on {}. Put them in a day \
                 sooner, or cage them: the first one out kills the others.",
                day(*emergence),
                day(days.cells_in)
            ),
        ),
        Conflict::OutBefore { .. } => (
            "out-before",
            format!(
                "All queens are out of their cells by {}, and the cells go in on {}. Stock sooner, cage \
                 the cells, or give virgin queens.",
                day(days.emergence.last),
                day(days.cells_in)
            ),
        ),
        Conflict::NotYetRipe { ripe } => (
            "not-yet-ripe",
            format!(
                "Cells go in on {}, and are ripe on {}. Until then they bear no knock and no chill: \
                 stock later.",
                day(days.cells_in),
                day(*ripe)
            ),
        ),
        Conflict::NoVirginYet { emergence, none } => (
            "no-virgin-yet",
            format!(
                "Virgin queens go in on {}, and {} {}. Stock later, or give ripe cells.",
                day(days.cells_in),
                match none {
                    true => "none is out before",
                    false => "not all are out, the first from",
                },
                day(*emergence)
            ),
        ),
        Conflict::VirginsTooOld { days: age, flown } => (
            "virgins-too-old",
            format!(
                "Virgin queens are {age} days old when they go in{}; success is published for up to 4 \
                 days. Stock sooner, or graft later.",
                match flown {
                    true => ", and would have flown out to mate before",
                    false => "",
                }
            ),
        ),
        Conflict::DronesTooLate { mature, all } => (
            "drones-too-late",
            format!(
                "Drones are mature from {}, {} (from {} to {}). Rear drones earlier, mate later, or \
                 count on drones of others.",
                day(*mature),
                match all {
                    true => "after the mating flights",
                    false => "too late for the first mating flights",
                },
                day(days.flights.first),
                day(days.flights.last)
            ),
        ),
    };
    Said {
        id: id.to_owned(),
        text,
    }
}
