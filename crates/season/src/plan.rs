//! The best season: wants in their order, then least cost.

use std::collections::BTreeSet;

use spareframe_engine::{Limits, Model, Near, Objective, Simplex, branch_and_bound};

use super::master::{Figure, Goal, Listed, Master, QUEEN, RowOf, Solution};
use super::outlook::{Binds, Counted, Course, Met, Outlook, Stocked};
use super::season::{Season, What};
use super::walk::{Walk, horizon};

/// Relaxations that the search for one want may take (a choice).
pub const RELAXATIONS: usize = 400;

/// Decides a season. A pure function: the same season gives the same outlook. `relaxations` bounds the work for each want;
/// what is then open is said by [`Met::most`] and [`Outlook::least_cost`]. `None` where [`Season::today`] asks for more
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
    let mut found = outlook(&now, &search(master, None, relaxations)?);
    for round in (0..season.rounds.len()).filter(|&round| season.rounds[round].rained_out) {
        now.rounds[round].rained_out = true;
        let (master, least) = held(&now, &found, round + 1);
        found = outlook(&now, &search(master, least, relaxations)?);
    }
    Some(found)
}

/// A season of which so many rounds are as an outlook has them, and one way to end it.
fn held(season: &Season, as_it_was: &Outlook, rounds: usize) -> (Master, Option<Solution>) {
    let listed = Listed::held(season, as_it_was, rounds);
    let mut master = Master::new(season, &listed);
    let least = master.hold(as_it_was, rounds);
    (master, least)
}

/// What the search found.
pub(crate) struct Found {
    pub master: Master,
    pub solution: Solution,
    /// By want: most, and what binds.
    pub wants: Vec<(i64, Vec<Binds>)>,
    pub least_cost: i64,
}

/// Searches a season, of which a solution may be known.
fn search(mut master: Master, known: Option<Solution>, relaxations: usize) -> Option<Found> {
    let mut best = known;
    let mut wants = Vec::new();
    for want in 0..master.wants() {
        master.goal = Goal::Want(want);
        let (bound, binds) = step(&mut master, &mut best, relaxations)?;
        let at = master
            .wholes
            .iter()
            .position(|whole| whole.figure == Figure::Want(want))?;
        let count = best.as_ref().map_or(0, |best: &Solution| best.wholes[at]);
        let most = master.wholes[at]
            .most
            .min((-bound).div_euclid(QUEEN))
            .max(count);
        wants.push((most, binds));
        master.wholes[at].least = count;
    }
    master.goal = Goal::Cost;
    let (least_cost, _) = step(&mut master, &mut best, relaxations)?;
    let solution = best?;
    let least_cost = least_cost.clamp(0, master.recount(&solution).0);
    Some(Found {
        master,
        solution,
        wants,
        least_cost,
    })
}

/// One goal: the best solution, and the least cost that there may be, with what binds in the relaxation.
fn step(
    master: &mut Master,
    best: &mut Option<Solution>,
    relaxations: usize,
) -> Option<(i64, Vec<Binds>)> {
    for whole in &mut master.wholes {
        (whole.from, whole.to) = (whole.least, whole.most);
    }
    for giver in &mut master.givers {
        giver.left = (0..giver.columns.len() as u32).collect::<Vec<_>>().into();
    }
    let limits = Limits {
        below: i64::MAX,
        near: Near::EXACT,
        work: relaxations * master.sets(),
        first: false,
    };
    let mut simplex = Simplex::new(master);
    simplex.take_up(master, Objective::Cost);
    simplex.search(master, i128::MAX);
    let binds = binding(master, &simplex.prices);
    let found = branch_and_bound(master, &mut simplex, limits);
    let known = best.as_ref().map(|known| master.recount(known).0);
    if let Some((cost, solution)) = found.best
        && known.is_none_or(|known| cost < known)
    {
        *best = Some(solution);
    }
    let cost = master.recount(best.as_ref()?).0;
    Some((found.bound.min(cost), binds))
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
            RowOf::KeptOf(..) | RowOf::Want(_) | RowOf::Today => continue,
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

fn outlook(season: &Season, found: &Found) -> Outlook {
    let (master, solution) = (&found.master, &found.solution);
    let value = |figure| master.value(solution, figure);
    let mut rounds: Vec<Stocked> = Vec::new();
    for (round, of) in season.rounds.iter().enumerate() {
        let kinds = 0..season.kinds.len();
        let kept = kinds.clone().map(|kind| {
            let wants = 0..season.wants.len();
            let units: i64 = wants
                .map(|want| value(Figure::Kept(want, kind, round)))
                .sum();
            let of = super::compartment::united(season, &season.kinds[kind], round);
            (units, of.unwrap_or(0))
        });
        rounds.push(Stocked {
            day: of.day,
            new: kinds
                .clone()
                .map(|kind| value(Figure::New(kind, round)))
                .collect(),
            next: kinds
                .clone()
                .map(|kind| value(Figure::Next(kind, round)))
                .collect(),
            nuclei: (0..season.wants.len())
                .map(|want| value(Figure::Nuclei(want, round)))
                .collect(),
            kept: kept.collect(),
            needed: [0; 3],
            given: [0; 3],
        });
    }
    sums(season, master, solution, &mut rounds);
    let colonies = season
        .colonies
        .iter()
        .zip(&master.givers)
        .zip(&solution.colonies);
    let colonies = colonies.map(|((colony, giver), &at)| {
        let levels: Vec<_> = giver.columns[at]
            .levels
            .iter()
            .map(|&level| (level, giver.levels[level]))
            .collect();
        course(season, colony, &levels, giver.columns[at].honey)
    });
    let colonies: Vec<Course> = colonies.collect();
    let wants = found.wants.iter().enumerate().map(|(want, (most, binds))| {
        let count = value(Figure::Want(want));
        let whole = season.wants[want]
            .count
            .is_some_and(|wanted| count >= i64::from(wanted));
        let hives = match season.wants[want].what {
            What::Nuclei { hives, .. } => count >= i64::from(hives),
            _ => false,
        };
        Met {
            count,
            most: *most,
            binds: match (whole, hives) {
                (true, _) => Vec::new(),
                (false, true) => vec![Binds::Hives],
                (false, false) => binds.clone(),
            },
        }
    });
    let wants: Vec<Met> = wants.collect();
    let queens = queens(season, &rounds, &wants);
    Outlook {
        honey: colonies.iter().map(|course| course.honey).sum(),
        rounds,
        colonies,
        wants,
        queens,
        cost: master.recount(solution).0,
        least_cost: found.least_cost,
    }
}

/// What goes in, and what is given for it.
fn sums(season: &Season, master: &Master, solution: &Solution, rounds: &mut [Stocked]) {
    for (round, of) in rounds.iter_mut().enumerate() {
        let mut add = |need: super::Need, count: i64| {
            let loose = if need.loose { need.bees } else { 0 };
            for (sum, each) in of.needed.iter_mut().zip([need.brood, need.bees, loose]) {
                *sum += each * count;
            }
        };
        for (at, kind) in season.kinds.iter().enumerate() {
            add(kind.need, of.new[at]);
            add(master.lacks[at][round].unwrap_or_default(), of.next[at]);
        }
        for (want, &count) in season.wants.iter().zip(&of.nuclei) {
            if let What::Nuclei { need, .. } = &want.what {
                add(*need, count);
            }
        }
        for (giver, &at) in master.givers.iter().zip(&solution.colonies) {
            let given = of.given.iter_mut().zip(giver.columns[at].gives[round]);
            given.for_each(|(sum, gives)| *sum += gives);
        }
    }
}

/// A colony through the season.
fn course(
    season: &Season,
    colony: &super::Colony,
    levels: &[(usize, super::walk::Level)],
    honey: i64,
) -> Course {
    let (mut with, mut without) = (Walk::new(season, colony), Walk::new(season, colony));
    let mut course = Course {
        draws: Vec::new(),
        before: Vec::new(),
        undrawn: Vec::new(),
        recovery: Vec::new(),
        honey,
        winter: None,
    };
    for (round, (of, &(at, level))) in season.rounds.iter().zip(levels).enumerate() {
        let _ = with.until(of.day);
        let _ = without.until(of.day);
        course.before.push(with.strength());
        course.undrawn.push(without.strength());
        let drawn = with.draw(round, at, level).unwrap_or_default();
        let recovery = (drawn.frames > 0).then(|| {
            let beside = super::Setting {
                mortality: super::MORTALITY_BESIDE,
                ..season.setting
            };
            [&season.setting, &beside].map(|setting| back(season, &with, &without, setting))
        });
        let recovery = recovery.map(|[usual, beside]| (usual, beside));
        course.recovery.push(recovery);
        course.draws.push(drawn);
    }
    let last = horizon(season);
    let _ = with.until(last);
    let _ = without.until(last);
    course.winter = season.winter.map(|_| (with.winter, without.winter));
    course
}

/// What a colony must have of the brood that it would have had, to have it back (a choice).
const BACK: f64 = 0.95;

/// Days until a colony has its brood back.
fn back(season: &Season, with: &Walk, without: &Walk, setting: &super::Setting) -> Option<i32> {
    let (mut with, mut without) = (with.model, without.model);
    let days = horizon(season) - with.day();
    for day in 0..=days.max(0) {
        if with.brood() >= BACK * without.brood() {
            return Some(day);
        }
        with.step(setting);
        without.step(setting);
    }
    None
}

/// Queens by day.
fn queens(season: &Season, rounds: &[Stocked], wants: &[Met]) -> Vec<Counted> {
    let usable = |round: &Stocked| round.day + season.days.usable;
    let mut days: BTreeSet<i32> = rounds.iter().map(usable).collect();
    days.extend(season.wants.iter().map(|want| want.by));
    days.extend(season.queens.iter().map(|ready| ready.day.max(0)));
    let counted = |day: i32| {
        // Of mated queens in hundredths.
        let (mut through, mut unsure, mut sure) = (0, 0, 0);
        for (at, round) in rounds
            .iter()
            .enumerate()
            .filter(|(_, round)| usable(round) <= day)
        {
            through += round.cells();
            unsure += round.cells() * season.success_of(at);
        }
        for ready in season.queens.iter().filter(|ready| ready.day <= day) {
            let count = i64::from(ready.count);
            match ready.mated {
                true => sure += count,
                false => {
                    through += count;
                    unsure += count * i64::from(season.success);
                }
            }
        }
        let mut used = 0;
        for (at, (want, met)) in season.wants.iter().zip(wants).enumerate() {
            used += match want.what {
                What::Nuclei { .. } => {
                    let by = rounds.iter().filter(|round| round.day <= day);
                    by.map(|round| round.nuclei[at]).sum()
                }
                What::Queens if want.by <= day => met.count,
                What::Kept if day >= horizon(season) => met.count,
                _ => 0,
            };
        }
        Counted {
            day,
            through,
            queens: sure + unsure.div_euclid(100),
            used,
        }
    };
    days.into_iter().map(counted).collect()
}

/// Entries by column, whether equal (else at least), right-hand side.
pub type LinearRow = (Vec<(usize, i64)>, bool, i64);

/// The season as rows of whole numbers, for solvers of others.
#[derive(Debug, Clone, Default)]
pub struct Linear {
    /// Most of each column.
    pub columns: Vec<i64>,
    /// Cost of one of each.
    pub costs: Vec<i64>,
    /// Its rows.
    pub rows: Vec<LinearRow>,
    /// By want: its column.
    pub wants: Vec<usize>,
}

/// The rows of a season; one column for each trajectory and each whole number.
#[must_use]
pub fn linear(season: &Season) -> Linear {
    rows_of(Master::new(season, &Listed::of(season)))
}

/// The same with bounds of numbers that hold whatever colonies may give.
#[must_use]
pub fn linear_loose(season: &Season) -> Linear {
    rows_of(Master::loose(season, &Listed::of(season)))
}

/// The same where so many rounds are as an outlook has them.
#[must_use]
pub fn linear_held(season: &Season, as_it_was: &Outlook, rounds: usize) -> Linear {
    rows_of(held(season, as_it_was, rounds).0)
}

fn rows_of(mut master: Master) -> Linear {
    master.goal = Goal::Cost;
    let mut found = Linear::default();
    let rows = master.rows.iter();
    found.rows = rows.map(|row| (Vec::new(), row.equal, row.rhs)).collect();
    for (set, giver) in master.givers.iter().enumerate() {
        let first = found.columns.len();
        for at in 0..giver.columns.len() {
            for &(row, by) in &giver.entries[at] {
                found.rows[row].0.push((found.columns.len(), by));
            }
            found
                .costs
                .push(master.cost(set, Objective::Cost, &(at as i64)));
            found.columns.push(1);
        }
        let one = (first..found.columns.len()).map(|column| (column, 1));
        found.rows.push((one.collect(), true, 1));
    }
    found.wants = vec![0; master.wants()];
    for (at, whole) in master.wholes.iter().enumerate() {
        if let Figure::Want(want) = whole.figure {
            found.wants[want] = found.columns.len();
        }
        for &(row, by) in &whole.entries {
            found.rows[row].0.push((found.columns.len(), by));
        }
        found
            .costs
            .push(master.cost(master.givers.len() + at, Objective::Cost, &1));
        if whole.least > 0 {
            let least = vec![(found.columns.len(), 1)];
            found.rows.push((least, false, whole.least));
        }
        found.columns.push(whole.most);
    }
    found
}
