//! A compartment from its cell to the next, and into winter.

use spareframe_colony::{Colony as Model, LAYING, Setting, share_of_the_year};

use super::season::{Kind, Need, Season, WINTER_BEES};

/// Compartments that are united into one unit for winter, at most (a choice: three or four).
pub(crate) const MOST_UNITED: i64 = 4;

/// What a compartment is made with.
fn made(season: &Season, kind: &Kind, with: &Need, day: i32) -> (Model, Setting) {
    let mut setting = season.setting;
    let mut best = 1.0;
    if let Some(year) = &mut setting.season {
        year.counted += day;
        let of_year = (year.counted - year.later - 1).rem_euclid(365) + 1;
        best = share_of_the_year(f64::from(of_year));
    }
    let cells = with.brood as f64 / 100.0 * kind.comb_cells;
    let open = cells * 9.0 / 21.0;
    let mut model = Model::counted(with.bees as f64, open, cells - open, &setting);
    model.laying = LAYING * best;
    model.cells = kind.room;
    (model, setting)
}

/// Bees and brood cells so many days after its cell, whether its queen lays or was lost.
fn stands(
    season: &Season,
    kind: &Kind,
    with: &Need,
    day: i32,
    (after, mated): (i32, bool),
) -> (f64, f64) {
    let (mut model, setting) = made(season, kind, with, day);
    let laying = model.laying;
    for now in 0..after {
        let lays = mated && (season.days.laying..season.days.usable).contains(&now);
        model.laying = if lays { laying } else { 0.0 };
        model.step(&setting);
    }
    (model.bees(), model.brood())
}

/// What is lacking for a next cell on a day, on average over queens that mated and such as were lost, where the last
/// cell went in with an earlier round.
fn lacks_of(season: &Season, kind: &Kind, with: &Need, last: usize, to: i32) -> Need {
    let from = season.rounds[last].day;
    let lack = |mated: bool| {
        let (bees, brood) = stands(season, kind, with, from, (to - from, mated));
        let combs = match kind.comb_cells > 0.0 {
            true => brood / kind.comb_cells * 100.0,
            false => 0.0,
        };
        [
            kind.again.brood as f64 - combs,
            kind.again.bees as f64 - bees,
        ]
        .map(|lack| lack.max(0.0))
    };
    let (mated, lost, share) = (
        lack(true),
        lack(false),
        season.success_of(last) as f64 / 100.0,
    );
    let mean = |at: usize| ((mated[at] * share + lost[at] * (1.0 - share)) - 1e-6).ceil() as i64;
    let (brood, bees) = (mean(0).max(0), mean(1).max(0));
    Need {
        brood,
        bees,
        loose: brood == 0,
    }
}

/// What a compartment lacks for a next cell in a round: the most of those stocked anew or given a cell, if any can be, in the
/// last round that is free by then, and of the mean of those that stand today. `None` where none is free by then.
#[must_use]
pub fn lacks(season: &Season, kind: &Kind, round: usize) -> Option<Need> {
    let day = season.rounds.get(round)?.day;
    let free = |of: &usize| season.rounds[*of].day + season.days.free <= day;
    let last = (0..round).rev().find(free);
    let mut found: Vec<Need> = Vec::new();
    if let Some(last) = last {
        let on = season.rounds[last].day;
        let mut before = season.rounds.iter().take(round);
        let again = before.any(|of| of.day + season.days.free <= on)
            || kind.standing.iter().any(|stands| stands.free <= on);
        let with = [Some(&kind.need), Some(&kind.again).filter(|_| again)];
        for with in with.into_iter().flatten() {
            found.push(lacks_of(season, kind, with, last, day));
        }
    }
    let standing: Vec<&super::Stands> = kind
        .standing
        .iter()
        .filter(|stands| stands.free <= day)
        .collect();
    if !standing.is_empty() {
        let mean = |of: &dyn Fn(&Need) -> i64| {
            let sum: i64 = standing.iter().map(|stands| of(&stands.lacks)).sum();
            let count = standing.len() as i64;
            (sum + count - 1).div_euclid(count)
        };
        found.push(Need {
            brood: mean(&|need| need.brood),
            bees: mean(&|need| need.bees),
            loose: false,
        });
    }
    let most = |of: &dyn Fn(&Need) -> i64| found.iter().map(of).max();
    let (brood, bees) = (most(&|need| need.brood)?, most(&|need| need.bees)?);
    Some(Need {
        brood,
        bees,
        loose: brood == 0 && bees > 0,
    })
}

/// Bees that winter in a compartment whose queen, of a cell of that day, stays in it.
pub(crate) fn winters(season: &Season, kind: &Kind, round: usize) -> f64 {
    let Some((winter, from)) = season.winter.zip(season.rounds.get(round)) else {
        return 0.0;
    };
    let of = |with: &Need| {
        let (mut model, setting) = made(season, kind, with, from.day);
        let laying = model.laying;
        let mut bees = 0.0;
        for now in from.day..winter.on {
            model.laying = if now - from.day >= season.days.laying {
                laying
            } else {
                0.0
            };
            if now == (winter.on - WINTER_BEES).max(from.day) {
                bees = model.brood();
            }
            if now >= winter.on - WINTER_BEES {
                bees += model.eggs_a_day(&setting);
            }
            model.step(&setting);
        }
        bees - model.brood()
    };
    of(&kind.need).min(of(&kind.again)).max(0.0)
}

/// Compartments of a round that make one unit for winter; `None` where too many would be needed.
#[must_use]
pub fn united(season: &Season, kind: &Kind, round: usize) -> Option<i64> {
    let winter = season.winter?;
    let bees = winters(season, kind, round);
    let of = (winter.bees / bees.max(1.0)).ceil().max(1.0);
    (of <= MOST_UNITED as f64).then_some(of as i64)
}
