//! The rounds of a season that is decided, one by one.

use super::super::build::decimal;
use super::build::{Found, day, kind_name, kind_of};
use super::report::{KindCount, RoundReport};
use crate::scenario::season::What;
use jiff::civil::Date;
use spareframe_rearing::{Known, Reared, mated, quantile, timeline};
use spareframe_season::Stocked;

/// Combs without brood that new compartments and nuclei ask for.
fn other_combs(found: &Found, stocked: &Stocked) -> i64 {
    let of = |kind: usize| -> i64 {
        let lines = found.scenario.boxes.get(kind).map(|kind| &kind.lines);
        let others = lines.into_iter().flatten();
        let others = others.filter(|line| !line.ask.asks_for_brood());
        others.map(|line| i64::from(line.count)).sum()
    };
    let new = found.planned.kinds.iter().zip(&stocked.new);
    let new: i64 = new.map(|(kind, count)| of(kind.0) * count).sum();
    let wants = found.planned.wants.iter().zip(&stocked.nuclei);
    let nuclei = wants.filter_map(|(want, count)| {
        let want = found.asked.wants.get((*want)?)?;
        match want.what {
            What::Nuclei(kind) => Some(of(kind.0) * count),
            _ => None,
        }
    });
    new + nuclei.sum::<i64>()
}

/// What is known of a round to come: its own cells are not grafted yet.
pub(super) fn later(found: &Found, stocking: Date) -> Known {
    Known {
        reared: Reared::Unknown,
        ..found.notes.rearing.known(stocking)
    }
}

pub(super) fn rounds(found: &Found) -> Vec<RoundReport> {
    let season = &found.planned.season;
    let all = found
        .planned
        .rounds
        .iter()
        .zip(&found.outlook.rounds)
        .enumerate();
    all.map(|(at, (date, stocked))| {
        let known = match at {
            0 => found.notes.rearing.known(*date),
            _ => later(found, *date),
        };
        let days = timeline(&known);
        let count = |counts: &[i64]| {
            let counts = counts.iter().enumerate().filter(|(_, count)| **count > 0);
            let count = counts.map(|(kind, count)| KindCount {
                box_kind: kind_of(found, kind),
                compartments: *count,
            });
            count.collect()
        };
        let (brood, bees) = anew(found, stocked);
        let rained_out = season.rounds.get(at).is_some_and(|round| round.rained_out);
        let cells = match rained_out {
            true => 0,
            false => stocked.cells(),
        };
        let chances = mated(
            u32::try_from(cells).unwrap_or(0),
            f64::from(season.success) / 100.0,
            found.planned.spread,
        );
        let at = |share| i64::try_from(quantile(&chances, share)).unwrap_or(0);
        RoundReport {
            day: date.to_string(),
            outlook: stocked.day > 0,
            graft: days.grafted.to_string(),
            cells_in: days.cells_in.to_string(),
            cells: stocked.cells(),
            new: count(&stocked.new),
            next: count(&stocked.next),
            nuclei: stocked.nuclei.iter().sum(),
            nuclei_in: nuclei_in(found, stocked),
            brood_combs: decimal(stocked.needed[0], 100.0),
            bees: stocked.needed[1],
            other_combs: other_combs(found, stocked),
            top_up_brood_combs: decimal((stocked.needed[0] - brood).max(0), 100.0),
            top_up_bees: (stocked.needed[1] - bees).max(0),
            rained_out,
            queens: (cells * i64::from(season.success)).div_euclid(100),
            queens_least: at(0.1),
            queens_most: at(0.9),
            laying_from: day(found, stocked.day + season.days.laying),
            usable_from: day(found, stocked.day + season.days.usable),
            free_from: day(found, stocked.day + season.days.free),
        }
    })
    .collect()
}

/// Nuclei made, by kind of box.
fn nuclei_in(found: &Found, stocked: &Stocked) -> Vec<KindCount> {
    let mut out: Vec<KindCount> = Vec::new();
    let asked = found.planned.wants.iter().zip(&stocked.nuclei);
    for (at, &compartments) in asked.filter(|(_, count)| **count > 0) {
        let want = at.and_then(|at| found.asked.wants.get(at));
        let Some(What::Nuclei(kind)) = want.map(|want| &want.what) else {
            continue;
        };
        let box_kind = kind_name(found, kind.0).unwrap_or_default();
        match out.iter_mut().find(|known| known.box_kind == box_kind) {
            Some(known) => known.compartments += compartments,
            None => out.push(KindCount {
                box_kind,
                compartments,
            }),
        }
    }
    out
}

/// Brood in hundredths of a frame and bees for new stockings and nuclei.
fn anew(found: &Found, stocked: &Stocked) -> (i64, i64) {
    let season = &found.planned.season;
    let kinds = season.kinds.iter().zip(&stocked.new);
    let new = kinds.map(|(kind, count)| (kind.need, *count));
    let wants = season.wants.iter().zip(&stocked.nuclei);
    let nuclei = wants.filter_map(|(want, count)| match want.what {
        spareframe_season::What::Nuclei { need, .. } => Some((need, *count)),
        _ => None,
    });
    let all = new.chain(nuclei);
    all.fold((0, 0), |(brood, bees), (need, count)| {
        (brood + need.brood * count, bees + need.bees * count)
    })
}
