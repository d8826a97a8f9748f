//! Kinds of box that take cells, as a season sees them.

use crate::output::Notes;
use crate::scenario::{BROOD_AT_A_GLANCE, Queen};
use jiff::ToSpan;
use jiff::civil::Date;
use spareframe_rearing::IntervalId;
use spareframe_season as season;
use spareframe_solver::{BoxId, BoxKind, ColonyId, Line, Recipe, Scenario};
use spareframe_weeks::stands;

pub(super) fn kinds(
    scenario: &Scenario,
    notes: &Notes,
    colonies: &[(ColonyId, season::Colony)],
    days: &season::Days,
    today: Date,
) -> Vec<(BoxId, season::Kind)> {
    let all = scenario.boxes.iter().enumerate();
    let cells = all.filter(|(at, _)| notes.rearing.takes.get(*at) != Some(&true));
    cells
        .map(|(at, kind)| {
            let id = BoxId(at);
            let mut of = of_kind(scenario, id, kind);
            of.raised =
                of.need.brood > 0 && colonies.iter().all(|(_, colony)| colony.comb != of.comb);
            of.standing = standing(scenario, notes, id, days, today);
            (id, of)
        })
        .collect()
}

fn of_kind(scenario: &Scenario, id: BoxId, kind: &BoxKind) -> season::Kind {
    let line = brood_line(&kind.lines).or(kind.lines.first());
    let comb = line.map_or(0, |line| line.ask.comb.0);
    let full = |comb: usize| {
        scenario
            .combs
            .get(comb)
            .map_or(0.0, |comb| comb.cells as f64)
    };
    let holds = brood_line(&kind.lines).map_or(0.0, |line| {
        let share = BROOD_AT_A_GLANCE.clamp(line.ask.brood.least.0, line.ask.brood.most.0);
        share as f64 / 1000.0 * full(comb)
    });
    let room = kind
        .lines
        .iter()
        .map(|line| f64::from(line.count) * full(line.ask.comb.0));
    let all = u64::from(kind.count) * u64::from(kind.compartments);
    let taken = scenario
        .standing
        .iter()
        .filter(|stands| stands.kind == id)
        .count();
    let free = all.saturating_sub(taken as u64);
    season::Kind {
        name: kind.name.clone(),
        compartments: u32::try_from(free).unwrap_or(u32::MAX),
        comb,
        raised: false,
        need: need(&kind.lines, kind.bees.0),
        again: need(&kind.again.lines, kind.again.bees.0),
        comb_cells: holds,
        room: room.sum(),
        standing: Vec::new(),
    }
}

fn brood_line(lines: &[Line]) -> Option<&Line> {
    lines.iter().find(|line| line.ask.asks_for_brood())
}

/// What lines and bees ask of colonies.
pub(super) fn need(lines: &[Line], bees: i64) -> season::Need {
    let asking = lines.iter().filter(|line| line.ask.asks_for_brood());
    let frames: i64 = asking.map(|line| i64::from(line.count)).sum();
    season::Need {
        brood: frames * 100,
        bees,
        loose: frames == 0 && bees > 0,
    }
}

/// What stands in boxes of a kind, from when it may get a next cell, and what it then lacks.
fn standing(
    scenario: &Scenario,
    notes: &Notes,
    id: BoxId,
    days: &season::Days,
    today: Date,
) -> Vec<season::Stands> {
    let model = (&scenario.combs[..], &scenario.colony_model);
    let again = scenario.boxes.get(id.0).map(|kind| &kind.again);
    let all = notes.standing.iter().zip(&scenario.standing).enumerate();
    let here = all.filter(|(_, (_, then))| then.kind == id);
    here.filter_map(|(entry, (said, then))| {
        let after = |day: Date| (day - today).get_days();
        let free = match said.queen {
            Queen::Cell | Queen::Virgin | Queen::Laying => after(said.round) + days.free,
            Queen::Mated | Queen::ToBeTaken => {
                let queen = notes
                    .queens
                    .stand
                    .iter()
                    .find(|queen| queen.entry == entry)?;
                let given = notes.rearing.intervals.get(IntervalId::NextCell).usual;
                let cells_in = notes.rearing.intervals.get(IntervalId::CellsIn).usual;
                let rest = i64::from(given) - i64::from(cells_in);
                after(queen.of_age.max(today).saturating_add(rest.days()))
            }
            Queen::None | Queen::DroneLayer | Queen::LayingWorkers if then.wants_cell => 0,
            _ => {
                let from = said.cell_from.filter(|_| said.barred.is_none())?;
                let from = after(from);
                // Not asked for today.
                from.max(1)
            }
        };
        let free = free.max(0);
        let later = stands(model, &said.stand(today), notes.dearth, free.unsigned_abs());
        let Recipe { lines, bees } = later.lacks(again?);
        Some(season::Stands {
            free,
            lacks: need(&lines, bees.0),
        })
    })
    .collect()
}
