//! The best season: wants in their order, then least cost.

use rayon::prelude::*;
use spareframe_engine::{
    Branching, Limits, Model, Near, Objective, Simplex, branch_and_bound, whole,
};

use super::master::{Figure, Goal, Listed, Master, QUEEN, RowOf, Solution, Tag};
use super::outlook::{Binds, Outlook};
use super::reckon::{otherwise, outlook};
use super::season::Season;

/// Relaxations that the search for one want may take (a choice).
pub const RELAXATIONS: usize = 400;

/// Decides a season. A pure function: the same season gives the same outlook. `relaxations` bounds the work for each want;
/// what is then open is said by [`Met::most`](crate::Met::most) and [`Outlook::least_cost`]. `None` where [`Season::today`] asks for more
/// than can be stocked.
#[must_use]
pub fn plan(season: &Season, relaxations: usize) -> Option<Outlook> {
    plan_listed(season, &Listed::of(season), relaxations)
}

/// The same with what colonies may give listed already.
///
/// Nobody knows before that a round is rained out: the season is decided as if none were; then, one such round after the
/// other, all up to it is held, and what comes after is decided anew.
#[must_use]
pub fn plan_listed(season: &Season, listed: &Listed, relaxations: usize) -> Option<Outlook> {
    let mut now = season.dry();
    let master = Master::new(&now, listed);
    let mut found = whole_outlook(&now, &search(master, None, relaxations)?);
    for round in (0..season.rounds.len()).filter(|&round| season.rounds[round].rained_out) {
        now.rounds[round].rained_out = true;
        let (master, least) = held(&now, &found, round + 1);
        found = whole_outlook(&now, &search(master, least, relaxations)?);
    }
    Some(found)
}

/// A season of which so many rounds are as an outlook has them, and one way to end it.
pub(crate) fn held(
    season: &Season,
    as_it_was: &Outlook,
    rounds: usize,
) -> (Master, Option<Solution>) {
    let listed = Listed::held(season, as_it_was, rounds);
    let mut master = Master::new(season, &listed);
    let least = master.hold(as_it_was, rounds);
    (master, least)
}

fn whole_outlook(season: &Season, found: &Found) -> Outlook {
    let mut outlook = outlook(season, found);
    let told = season.told.as_ref();
    outlook.otherwise = told.map_or(0, |told| otherwise(told, &outlook));
    outlook
}

/// The season for each of these numbers of compartments that are given a cell today; `None` for one that cannot be. What is
/// found for one is tried for the others, so that no number is dearer for want of luck.
#[must_use]
pub fn plan_each(
    season: &Season,
    listed: &Listed,
    numbers: &[i64],
    relaxations: usize,
) -> Vec<Option<Outlook>> {
    let with = |today: i64| Season {
        today: Some(today),
        ..season.clone()
    };
    if season.rounds.iter().any(|round| round.rained_out) {
        let each = numbers.par_iter();
        let each = each.map(|&today| plan_listed(&with(today), listed, relaxations));
        return each.collect();
    }
    let first = numbers.par_iter().map(|&today| {
        let found = search(Master::new(&with(today), listed), None, relaxations)?;
        Some((found.solution, found.wants, found.least_cost))
    });
    let first: Vec<Option<(Solution, Wants, i64)>> = first.collect();
    let again = numbers.par_iter().zip(&first).map(|(&today, own)| {
        let (solution, wants, least_cost) = own.clone()?;
        let season = with(today);
        let mut found = Found {
            master: Master::new(&season, listed),
            solution,
            wants,
            least_cost,
        };
        for (other, _, _) in first.iter().flatten() {
            found.try_of(other, today);
        }
        Some(whole_outlook(&season, &found))
    });
    again.collect()
}

/// By want: most, and what binds.
type Wants = Vec<(i64, Vec<Binds>)>;

impl Found {
    /// Takes the trajectories of another season where they do better here, with so many cells today.
    fn try_of(&mut self, other: &Solution, today: i64) {
        let wants: Vec<usize> = (0..self.wants.len())
            .filter_map(|want| {
                let mut wholes = self.master.wholes.iter();
                wholes.position(|whole| whole.figure == Figure::Want(want))
            })
            .collect();
        let met = |of: &Solution| -> Vec<i64> { wants.iter().map(|&at| of.wholes[at]).collect() };
        let now = met(&self.solution);
        self.master.goal = Goal::Cost;
        for (&at, now) in wants.iter().zip(&now) {
            self.master.wholes[at].least = *now;
        }
        let numbers = self.master.with_today(&other.wholes, today);
        let found = self
            .master
            .fitted(other.colonies.clone(), &|at| numbers[at]);
        let Some(found) = found.map(|found| self.master.exchanged(&found)) else {
            return;
        };
        let cheaper = self.master.recount(&found).0 < self.master.recount(&self.solution).0;
        if cheaper {
            self.solution = found;
        }
    }
}

/// What the search found.
pub(crate) struct Found {
    pub master: Master,
    pub solution: Solution,
    /// By want: most, and what binds.
    pub wants: Wants,
    pub least_cost: i64,
}

/// Searches a season, of which a solution may be known.
fn search(mut master: Master, known: Option<Solution>, relaxations: usize) -> Option<Found> {
    let mut simplex = Simplex::new(&master);
    let mut best = known;
    let mut wants = Vec::new();
    for want in 0..master.wants() {
        master.goal = Goal::Want(want);
        let (bound, binds) = step(&mut master, &mut simplex, &mut best, relaxations)?;
        let at = master
            .wholes
            .iter()
            .position(|whole| whole.figure == Figure::Want(want))?;
        let most = master.wholes[at].most.min((-bound).div_euclid(QUEEN));
        let count = further(&mut master, &mut simplex, &mut best, (at, most));
        wants.push((most.max(count), binds));
        master.wholes[at].least = count;
    }
    master.goal = Goal::Cost;
    let (least_cost, _) = step(&mut master, &mut simplex, &mut best, relaxations)?;
    let solution = best?;
    let least_cost = least_cost.clamp(0, master.recount(&solution).0);
    Some(Found {
        master,
        solution,
        wants,
        least_cost,
    })
}

/// One more of a want, as long as one is found straight down from the relaxation of its least cost. As many as there are then.
fn further(
    master: &mut Master,
    simplex: &mut Simplex<Tag>,
    best: &mut Option<Solution>,
    (at, most): (usize, i64),
) -> i64 {
    let mut count = best.as_ref().map_or(0, |best| best.wholes[at]);
    let (goal, least) = (master.goal, master.wholes[at].least);
    master.goal = Goal::Cost;
    while count < most {
        master.wholes[at].least = count + 1;
        master.reset();
        let Some((_, found)) = master.dive(simplex, i64::MAX, &mut 0) else {
            break;
        };
        count = found.wholes[at];
        *best = Some(found);
    }
    master.goal = goal;
    master.wholes[at].least = least;
    count
}

/// One goal: the best solution, and the least cost that there may be, with what binds in the relaxation.
fn step(
    master: &mut Master,
    simplex: &mut Simplex<Tag>,
    best: &mut Option<Solution>,
    relaxations: usize,
) -> Option<(i64, Vec<Binds>)> {
    master.reset();
    let cost = |master: &Master, best: &Option<Solution>| {
        best.as_ref()
            .map_or(i64::MAX, |best| master.recount(best).0)
    };
    simplex.take_up(master, Objective::Cost);
    simplex.search(master, i128::MAX);
    let binds = binding(master, &simplex.prices);
    let step = master.step();
    let root = (whole(simplex.bound).saturating_add(step - 1)).div_euclid(step) * step;
    let mut taken = 1;
    if cost(master, best) > root {
        if let Some((_, found)) = master.dive(simplex, cost(master, best), &mut taken) {
            *best = Some(found);
        }
        *best = best.take().map(|best| master.exchanged(&best));
    }
    let below = cost(master, best);
    if below <= root {
        return Some((below, binds));
    }
    let limits = Limits {
        below,
        near: Near::EXACT,
        work: relaxations.saturating_sub(taken) * master.sets(),
        first: false,
    };
    let found = branch_and_bound(master, simplex, limits);
    if let Some((_, solution)) = found.best {
        *best = Some(master.exchanged(&solution));
    }
    best.as_ref()?;
    Some((found.bound.min(cost(master, best)), binds))
}

/// Rows with a price, the dearest first.
fn binding(master: &Master, prices: &[i64]) -> Vec<Binds> {
    let mut found: Vec<(f64, Binds)> = Vec::new();
    for ((key, row), &price) in master.keys.iter().zip(&master.rows).zip(prices) {
        let binds = match *key {
            RowOf::Brood(_, round) => Binds::Brood(round),
            RowOf::Bees(round) => Binds::Bees(round),
            RowOf::Loose(round) => Binds::Loose(round),
            RowOf::Cells(round) => Binds::Cells(round),
            RowOf::Boxes(kind) => Binds::Boxes(kind),
            RowOf::Free(kind, round) => Binds::Free(kind, round),
            RowOf::Keeping(kind) => Binds::Keeping(kind),
            RowOf::Queens(day) => Binds::Queens(day),
            RowOf::Honey => Binds::Honey,
            RowOf::KeptOf(..)
            | RowOf::Want(_)
            | RowOf::Today
            | RowOf::NucleiToday
            | RowOf::Frames(..)
            | RowOf::More(_)
            | RowOf::Fewer(_) => continue,
        };
        // One more compartment's worth of the row.
        let weight = price as f64 * row.scale as f64;
        if weight > 1e-3 * (QUEEN << spareframe_engine::SHIFT) as f64 {
            found.push((weight, binds));
        }
    }
    found.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    let mut binds: Vec<Binds> = found.into_iter().map(|(_, binds)| binds).collect();
    binds.dedup();
    binds
}
