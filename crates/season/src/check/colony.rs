//! A colony, simulated anew from what it gives.

use spareframe_colony::Colony as Model;

use super::super::season::{Colony, Season, WINTER_BEES};

/// What left in a round.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Left {
    /// Open cells.
    pub open: f64,
    /// Sealed cells.
    pub sealed: f64,
    /// Bees on the frames.
    pub riding: f64,
    /// Bees in all.
    pub bees: f64,
}

/// A colony over the season, recounted.
#[derive(Debug, Clone, PartialEq)]
pub struct Simulated {
    /// By round: what left.
    pub left: Vec<Left>,
    /// By round: brood frames in hundredths, bees that stay, loose ones of them.
    pub gives: Vec<[i64; 3]>,
    /// Honey given up, in grams.
    pub honey: i64,
    /// With burden and openings at their prices.
    pub cost: i64,
}

/// Slack of floats, in bees or cells.
const SLACK: f64 = 1e-3;

/// Simulates a colony that gives in each round so many brood frames and so many bees in all, or all that ride on the frames
/// where these are more.
///
/// # Errors
/// The round in which it cannot give so much; `None` where a floor at the start of its flow or of winter does not hold, or
/// where it gives up more honey than it may.
pub fn simulate(
    season: &Season,
    colony: &Colony,
    draws: &[(u32, f64)],
) -> Result<Simulated, Option<usize>> {
    let run = run(season, colony, draws)?;
    let nothing = vec![(0, 0.0); draws.len()];
    let undrawn = run_unless(season, colony, &nothing);
    let gives_any = draws.iter().any(|&(frames, bees)| frames > 0 || bees > 0.0);
    if let Some(winter) = &season.winter
        && gives_any
        && !colony.apart
        && run.autumn + SLACK < winter.bees
    {
        return Err(None);
    }
    let mut lost = 0.0;
    if let Some(crop) = &colony.crop
        && undrawn > 0.0
    {
        lost = crop.grams * (1.0 - run.forager_days / undrawn).max(0.0);
    }
    if gives_any && colony.caps.honey.is_some_and(|most| lost > most + SLACK) {
        return Err(None);
    }
    let honey = (lost + 0.5).floor() as i64;
    Ok(Simulated {
        cost: honey + run.weighs,
        left: run.left,
        gives: run.gives,
        honey,
    })
}

struct Run {
    left: Vec<Left>,
    gives: Vec<[i64; 3]>,
    weighs: i64,
    forager_days: f64,
    autumn: f64,
}

fn run_unless(season: &Season, colony: &Colony, nothing: &[(u32, f64)]) -> f64 {
    run(season, colony, nothing).map_or(0.0, |run| run.forager_days)
}

fn run(season: &Season, colony: &Colony, draws: &[(u32, f64)]) -> Result<Run, Option<usize>> {
    let setting = &season.setting;
    let mut hive = Model::counted(colony.bees, colony.open, colony.sealed, setting);
    let lays = colony.laying.unwrap_or(hive.laying);
    let flow = colony
        .crop
        .as_ref()
        .map_or((0, -1), |crop| (crop.from, crop.to.min(365)));
    let end = super::last_day(season).max(flow.1 + 1);
    let wintering = season
        .winter
        .map(|winter| (winter.on - WINTER_BEES, winter.on));
    let mut run = Run {
        left: vec![Left::default(); draws.len()],
        gives: vec![[0; 3]; draws.len()],
        weighs: 0,
        forager_days: 0.0,
        autumn: 0.0,
    };
    let mut touched = false;
    for day in 0..end {
        for (round, of) in season.rounds.iter().enumerate() {
            let (frames, bees) = draws.get(round).copied().unwrap_or_default();
            if of.day != day || frames == 0 && bees <= 0.0 {
                continue;
            }
            if season.last_draw.is_some_and(|last| day > last) {
                return Err(Some(round));
            }
            let left = leaves(colony, &hive, (round == 0 && day == 0, frames, bees));
            let left = left.ok_or(Some(round))?;
            let bees = left.bees;
            let shares = [bees / hive.bees(), (left.open + left.sealed) / hive.brood()];
            run.weighs += season.prices.opened + season.prices.burden * points(colony, shares);
            hive.take(bees, left.open, left.sealed);
            if wintering.is_some_and(|(from, _)| day > from) {
                run.autumn -= left.open + left.sealed + bees;
            }
            run.gives[round] = [
                100 * i64::from(frames),
                arrive(colony, bees),
                arrive(colony, bees - left.riding),
            ];
            run.left[round] = left;
            touched = true;
        }
        if day == flow.0 && day > 0 && touched && !colony.apart {
            let enough = hive.bees() + SLACK >= colony.keep.bees
                && hive.brood() + SLACK >= colony.keep.brood;
            if !enough {
                return Err(None);
            }
        }
        if day >= flow.0 && day <= flow.1 {
            run.forager_days += hive.foragers();
        }
        let pause = colony
            .broodless
            .is_some_and(|(from, to)| from <= day && day <= to);
        hive.laying = if pause { 0.0 } else { lays };
        if let Some((from, on)) = wintering {
            if day == from.max(0) && day < on {
                run.autumn += hive.brood();
            }
            if from <= day && day < on {
                run.autumn += hive.eggs_a_day(setting);
            }
        }
        hive.step(setting);
        if wintering.is_some_and(|(_, on)| day + 1 == on) {
            run.autumn -= hive.brood();
        }
    }
    Ok(run)
}

/// Bees that stay where they are put.
fn arrive(colony: &Colony, bees: f64) -> i64 {
    ((bees * colony.stay as f64 + 1e-4) / 100.0).floor() as i64
}

/// What is on the frames that leave, if the colony can spare them.
fn leaves(colony: &Colony, hive: &Model, (today, frames, bees): (bool, u32, f64)) -> Option<Left> {
    let count = f64::from(frames);
    let mut left = Left::default();
    if frames > 0 && today {
        let real = colony.today.get(usize::try_from(frames - 1).ok()?)?;
        left = Left {
            open: real.open,
            sealed: real.sealed,
            riding: real.bees,
            bees,
        };
    } else if frames > 0 {
        let cells = count * colony.frame_cells;
        let kept = if colony.apart {
            0.0
        } else {
            colony.frame_cells
        };
        if cells <= 0.0 || cells + kept > hive.brood() + SLACK {
            return None;
        }
        let part = cells / hive.brood();
        left = Left {
            open: part * hive.open(),
            sealed: part * hive.sealed(),
            riding: (count * colony.frame_bees).min(part * hive.bees()),
            bees,
        };
    }
    let bees = bees.max(left.riding);
    left.bees = bees;
    let cells = left.open + left.sealed;
    let caps = &colony.caps;
    if bees > hive.bees() + SLACK
        || caps.frames.is_some_and(|most| frames > most)
        || caps.brood.is_some_and(|most| cells > most + SLACK)
        || caps.bees.is_some_and(|most| bees > most + SLACK)
    {
        return None;
    }
    if colony.apart {
        return Some(left);
    }
    let (stay, brood) = (hive.bees() - bees, hive.brood() - cells);
    let covered = stay + SLACK >= colony.keep.covered / 100.0 * colony.cover * brood
        || stay / hive.bees() + 1e-9 >= brood / hive.brood();
    let enough = stay + SLACK >= colony.keep.bees && brood + SLACK >= colony.keep.brood;
    (covered && enough).then_some(left)
}

/// Points of burden for the shares of bees and brood.
fn points(colony: &Colony, shares: [f64; 2]) -> i64 {
    if colony.apart {
        return 0;
    }
    let percent = shares.map(|share| {
        if share.is_finite() {
            (share * 100.0 - 1e-9).ceil() as i64
        } else {
            0
        }
    });
    let p = percent[0].max(percent[1]).clamp(0, 100);
    let mut points = p;
    for step in 1..5 {
        points += (p - 20 * step).max(0);
    }
    points
}
