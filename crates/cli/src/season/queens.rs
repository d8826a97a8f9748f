//! Queens that are there already, and what queens are for.

use super::kinds::need;
use crate::output::Notes;
use crate::scenario::Queen;
use crate::scenario::season::{Asked, Want, What};
use jiff::civil::Date;
use spareframe_season as season;
use spareframe_solver::Scenario;

/// Queens in what stands that no colony of `requeen` waits for, and cells that are in; none of those of a round that was rained
/// out.
pub(super) fn ready(
    notes: &Notes,
    asked: &Asked,
    today: Date,
    days: &season::Days,
) -> Vec<season::Ready> {
    let after = |day: Date| (day - today).get_days();
    let allotted = notes.queens.allotted(today, &notes.rearing.intervals);
    let free = allotted.left.iter().chain(&allotted.later);
    let mated = free.filter_map(|&queen| {
        let of_age = notes.queens.stand.get(queen)?.of_age;
        Some((after(of_age).max(0), true))
    });
    let open = notes.standing.iter().filter_map(|stands| {
        let kind = stands.counted_as.kind.0;
        let takes = notes.rearing.takes.get(kind) == Some(&true);
        let open = matches!(stands.queen, Queen::Cell | Queen::Virgin | Queen::Laying);
        let lost = asked.rained_out.contains(&stands.round);
        (open && !takes && !lost).then(|| ((after(stands.round) + days.usable).max(0), false))
    });
    let mut all: Vec<(i32, bool)> = mated.chain(open).collect();
    all.sort_unstable();
    let one = |(day, mated): (i32, bool)| season::Ready {
        day,
        count: 1,
        mated,
    };
    all.into_iter().map(one).collect()
}

/// Wants that are still to come, and which of the file they are; `last` is the day on which queens of the last round may be
/// taken.
pub(super) fn wants(
    scenario: &Scenario,
    asked: &Asked,
    today: Date,
    last: i32,
) -> (Vec<season::Want>, Vec<Option<usize>>) {
    let after = |day: Date| (day - today).get_days();
    let winter = asked.winter.as_ref().map(|winter| after(winter.on));
    let of = |(at, want): (usize, &Want)| {
        let what = match &want.what {
            What::Queens | What::Requeen(_) => season::What::Queens,
            What::Nuclei(kind) => {
                let kind = scenario.boxes.get(kind.0)?;
                let line = kind.lines.iter().find(|line| line.ask.asks_for_brood());
                let comb = line
                    .or(kind.lines.first())
                    .map_or(0, |line| line.ask.comb.0);
                let need = need(&kind.lines, kind.bees.0);
                let cells = line.and_then(|line| {
                    let full = scenario.combs.get(line.ask.comb.0)?.cells as f64;
                    Some(line.ask.brood.least.0 as f64 / 1000.0 * full)
                });
                season::What::Nuclei {
                    need,
                    comb,
                    hives: kind.count.saturating_mul(kind.compartments),
                    cells: cells.unwrap_or(0.0) * need.brood as f64 / 100.0,
                }
            }
            What::Winter => season::What::Kept,
        };
        let usual = match want.what {
            What::Winter => winter.unwrap_or(last),
            _ => last,
        };
        let by = want.by.map_or(usual, after);
        let want = season::Want {
            what,
            count: want.count,
            by,
        };
        (by >= 0).then_some((want, Some(at)))
    };
    if asked.wants.is_empty() {
        let most = season::Want {
            what: season::What::Queens,
            count: None,
            by: last,
        };
        return (vec![most], vec![None]);
    }
    asked.wants.iter().enumerate().filter_map(of).unzip()
}
