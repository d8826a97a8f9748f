//! Boxes and compartments, counted anew.

use spareframe_colony::{Colony as Model, LAYING, share_of_the_year};

use super::super::outlook::Outlook;
use super::super::season::{Kind, Need, Round, Season, WINTER_BEES, What};
use super::{Fault, cells_of};

/// What goes in in a round: the need of one, of which comb size, how many.
pub(super) fn needs(season: &Season, outlook: &Outlook, round: usize) -> Vec<(Need, usize, i64)> {
    let of = &outlook.rounds[round];
    let mut needs = Vec::new();
    for (at, kind) in season.kinds.iter().enumerate() {
        needs.push((kind.need, kind.comb, of.new[at]));
        if of.next[at] > 0 {
            needs.push((lacks(season, kind, round), kind.comb, of.next[at]));
        }
    }
    for (at, want) in season.wants.iter().enumerate() {
        if let What::Nuclei { need, comb, .. } = &want.what {
            needs.push((*need, *comb, of.nuclei[at]));
        }
    }
    needs
}

/// A compartment so many days after a cell went into it: bees, brood, and bees that winter.
fn after(
    season: &Season,
    kind: &Kind,
    with: &Need,
    (day, days): (i32, i32),
    lays: Option<(i32, i32)>,
) -> [f64; 3] {
    let mut setting = season.setting;
    let mut of_best = 1.0;
    if let Some(year) = setting.season.as_mut() {
        year.counted += day;
        let date = (year.counted - year.later).rem_euclid(365);
        of_best = share_of_the_year(f64::from(if date == 0 { 365 } else { date }));
    }
    let brood = with.brood as f64 * kind.comb_cells / 100.0;
    let mut hive = Model::counted(
        with.bees as f64,
        brood * 3.0 / 7.0,
        brood * 4.0 / 7.0,
        &setting,
    );
    hive.cells = kind.room;
    let from = season
        .winter
        .map_or(i32::MAX, |winter| winter.on - WINTER_BEES - day);
    let mut autumn = 0.0;
    for now in 0..days {
        hive.laying = match lays {
            Some((first, last)) if first <= now && now < last => LAYING * of_best,
            _ => 0.0,
        };
        if now == from.max(0) {
            autumn = hive.brood();
        }
        if now >= from {
            autumn += hive.eggs_a_day(&setting);
        }
        hive.step(&setting);
    }
    [hive.bees(), hive.brood(), autumn - hive.brood()]
}

/// Of a hundred cells of a round so many count.
pub(super) fn hundredths(season: &Season, round: &Round) -> i64 {
    if round.rained_out {
        return 0;
    }
    i64::from(season.success)
}

/// What a compartment lacks for a next cell.
fn lacks(season: &Season, kind: &Kind, round: usize) -> Need {
    let day = season.rounds[round].day;
    let (mut brood, mut bees) = (0, 0);
    let mut latest = None;
    for before in &season.rounds[..round] {
        if before.day + season.days.free <= day {
            latest = Some(before);
        }
    }
    if let Some(latest) = latest {
        let last = latest.day;
        let laying = (season.days.laying, season.days.usable);
        let mut second = false;
        for earlier in &season.rounds[..round] {
            second |= earlier.day + season.days.free <= last;
        }
        for stands in &kind.standing {
            second |= stands.free <= last;
        }
        let with = if second {
            vec![kind.need, kind.again]
        } else {
            vec![kind.need]
        };
        for with in with {
            let won = after(season, kind, &with, (last, day - last), Some(laying));
            let lost = after(season, kind, &with, (last, day - last), None);
            let p = hundredths(season, latest) as f64 / 100.0;
            let short = |is: f64, asked: i64| (asked as f64 - is).max(0.0);
            let combs = |cells: f64| {
                if kind.comb_cells > 0.0 {
                    100.0 * cells / kind.comb_cells
                } else {
                    0.0
                }
            };
            let of_brood = p * short(combs(won[1]), kind.again.brood)
                + (1.0 - p) * short(combs(lost[1]), kind.again.brood);
            let of_bees =
                p * short(won[0], kind.again.bees) + (1.0 - p) * short(lost[0], kind.again.bees);
            brood = brood.max((of_brood - 1e-6).ceil() as i64);
            bees = bees.max((of_bees - 1e-6).ceil() as i64);
        }
    }
    let mut standing = Vec::new();
    for stands in &kind.standing {
        if stands.free <= day {
            standing.push(stands.lacks);
        }
    }
    if !standing.is_empty() {
        let count = standing.len() as i64;
        let mean = |sum: i64| sum / count + i64::from(sum % count != 0);
        brood = brood.max(mean(standing.iter().map(|need| need.brood).sum()));
        bees = bees.max(mean(standing.iter().map(|need| need.bees).sum()));
    }
    Need {
        brood,
        bees,
        loose: brood == 0 && bees > 0,
    }
}

/// Whether units that winter are strong enough.
fn winters(season: &Season, kind: &Kind, round: usize, united: i64) -> bool {
    let Some(winter) = &season.winter else {
        return false;
    };
    let day = season.rounds[round].day;
    let lays = Some((season.days.laying, i32::MAX));
    let of = |with: &Need| after(season, kind, with, (day, (winter.on - day).max(0)), lays)[2];
    let weakest = of(&kind.need).min(of(&kind.again));
    weakest * united as f64 + 0.01 >= winter.bees && (1..=4).contains(&united)
}

pub(super) fn check(season: &Season, outlook: &Outlook, faults: &mut Vec<Fault>) {
    for (round, (of, stocked)) in season.rounds.iter().zip(&outlook.rounds).enumerate() {
        if of
            .cells
            .is_some_and(|cells| cells_of(stocked) > i64::from(cells))
        {
            faults.push(Fault::Cells(round));
        }
    }
    for (at, kind) in season.kinds.iter().enumerate() {
        let mut new = 0;
        for (of, stocked) in season.rounds.iter().zip(&outlook.rounds) {
            new += stocked.new[at];
            if kind.raised && of.day < season.days.raised && stocked.new[at] > 0 {
                faults.push(Fault::Boxes(at));
            }
        }
        if new > i64::from(kind.compartments) {
            faults.push(Fault::Boxes(at));
        }
        for until in 0..=season.rounds.len() {
            let day = season.rounds.get(until).map_or(i32::MAX, |round| round.day);
            free(season, outlook, (at, until), day, faults);
        }
        for (round, stocked) in outlook.rounds.iter().enumerate() {
            let (units, united) = stocked.kept[at];
            let cells = stocked.new[at] + stocked.next[at];
            let mated = hundredths(season, &season.rounds[round]) * cells;
            let fits = units * united <= cells && 100 * units <= mated;
            if units > 0 && !(fits && winters(season, kind, round, united)) {
                faults.push(Fault::Free(at, round));
            }
        }
    }
}

/// By a round, no more next cells than compartments that are free, less what is kept and what failed twice.
fn free(
    season: &Season,
    outlook: &Outlook,
    (at, until): (usize, usize),
    day: i32,
    faults: &mut Vec<Fault>,
) {
    let kind = &season.kinds[at];
    // In ten-thousandths of a compartment.
    let mut free = 0_i64;
    for stands in &kind.standing {
        free += if stands.free <= day { 10_000 } else { 0 };
    }
    let mut asked = 0;
    for (round, (of, stocked)) in season.rounds.iter().zip(&outlook.rounds).enumerate() {
        if of.day.saturating_add(season.days.free) <= day {
            let (units, united) = stocked.kept[at];
            // Failed now, and in the last round of the same boxes.
            let mut failed = 100 - i64::from(season.success);
            for earlier in &season.rounds[..round] {
                if earlier.day + season.days.free <= of.day {
                    failed = 100 - hundredths(season, earlier);
                }
            }
            failed *= 100 - hundredths(season, of);
            free += 10_000 * (stocked.new[at] + stocked.next[at]) - failed * stocked.next[at];
            free -= 10_000 * units * united;
        }
        if round <= until {
            asked += 10_000 * stocked.next[at];
        }
    }
    // By the end only what is kept counts against what there is.
    let kept = outlook.rounds.iter().any(|stocked| stocked.kept[at].0 > 0);
    let counts = until < season.rounds.len() && outlook.rounds[until].next[at] > 0
        || until == season.rounds.len() && kept;
    if counts && asked > free {
        faults.push(Fault::Free(at, until));
    }
}
