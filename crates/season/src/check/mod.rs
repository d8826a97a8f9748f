//! The independent recount of an outlook: every colony is simulated anew from what it gives, every compartment from its
//! cell, and all is counted again. It shares no arithmetic with what decides.

mod boxes;
mod colony;
mod told;

pub use colony::{Simulated, simulate};
pub use told::can_give;

use super::outlook::Outlook;
use super::season::{Season, What};

/// What is wrong with an outlook.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fault {
    /// It has not as many rounds, colonies, kinds or wants as the season.
    Shape,
    /// A colony cannot give so much in a round: colony, round.
    Draw(usize, usize),
    /// A floor does not hold at the start of its flow or in winter, or it gives up more honey than it may: colony.
    Floor(usize),
    /// What a colony gives, or its honey, differs from what is said: colony.
    Differs(usize),
    /// A round has less brood, bees or loose bees than goes in.
    Short(usize),
    /// A round has fewer cells than go in.
    Cells(usize),
    /// There are fewer boxes: kind.
    Boxes(usize),
    /// There are fewer compartments free: kind, round; by the end where the round is one after the last.
    Free(usize, usize),
    /// There are fewer queens by a day.
    Queens(i32),
    /// A want is not met as it is said.
    Want(usize),
    /// The cost differs.
    Cost,
    /// All colonies together give up more honey than they may.
    Honey,
    /// What is otherwise than people were told differs from what is said.
    Otherwise,
    /// Not so many as asked for today.
    Today,
}

/// Checks an outlook; nothing is found where all is right.
#[must_use]
pub fn check(season: &Season, outlook: &Outlook) -> Vec<Fault> {
    let mut faults = Vec::new();
    let shape = outlook.rounds.len() == season.rounds.len()
        && outlook.colonies.len() == season.colonies.len()
        && outlook.wants.len() == season.wants.len()
        && outlook.rounds.iter().all(|round| {
            let kinds = season.kinds.len();
            let wants = season.wants.len();
            [round.new.len(), round.next.len(), round.kept.len()] == [kinds; 3]
                && round.nuclei.len() == wants
        });
    if !shape {
        return vec![Fault::Shape];
    }
    let cost = colonies(season, outlook, &mut faults);
    boxes::check(season, outlook, &mut faults);
    wants(season, outlook, &mut faults);
    let cells: i64 = outlook.rounds.iter().map(cells_of).sum();
    let otherwise = told::otherwise(season, outlook);
    if otherwise != outlook.otherwise {
        faults.push(Fault::Otherwise);
    }
    if cost + cells + season.prices.otherwise * otherwise != outlook.cost {
        faults.push(Fault::Cost);
    }
    let today = outlook.rounds.first().map_or(0, cells_of);
    let nuclei: i64 = match outlook.rounds.first() {
        Some(round) => round.nuclei.iter().sum(),
        None => 0,
    };
    let many = season.nuclei_today.is_some_and(|most| nuclei > most);
    if many || season.today.is_some_and(|asked| asked != today) {
        faults.push(Fault::Today);
    }
    faults.sort_unstable();
    faults.dedup();
    faults
}

fn cells_of(round: &super::Stocked) -> i64 {
    let mut sum = 0;
    for count in round.new.iter().chain(&round.next) {
        sum += count;
    }
    sum
}

/// Simulates each colony; the cost of all.
fn colonies(season: &Season, outlook: &Outlook, faults: &mut Vec<Fault>) -> i64 {
    let (mut cost, mut honey) = (0, 0);
    let sizes = season
        .colonies
        .iter()
        .map(|colony| colony.comb)
        .max()
        .map_or(0, |most| most + 1);
    let mut given = vec![[0_i64; 3]; season.rounds.len()];
    let mut brood = vec![vec![0_i64; sizes]; season.rounds.len()];
    for (at, (colony, course)) in season.colonies.iter().zip(&outlook.colonies).enumerate() {
        let draws: Vec<(u32, f64)> = course
            .draws
            .iter()
            .map(|draw| (draw.frames, draw.bees))
            .collect();
        let simulated = match simulate(season, colony, &draws) {
            Ok(simulated) => simulated,
            Err(Some(round)) => {
                faults.push(Fault::Draw(at, round));
                continue;
            }
            Err(None) => {
                faults.push(Fault::Floor(at));
                continue;
            }
        };
        let same = |(draw, own): (&super::Drawn, &colony::Left)| {
            let near = |a: f64, b: f64| (a - b).abs() < 0.01;
            near(draw.open, own.open)
                && near(draw.sealed, own.sealed)
                && near(draw.riding, own.riding)
                && near(draw.bees, own.bees)
        };
        let said = course.draws.iter().zip(&simulated.left).all(same);
        if !said || (simulated.honey - course.honey).abs() > 0 {
            faults.push(Fault::Differs(at));
        }
        cost += simulated.cost;
        honey += simulated.honey;
        for (round, gives) in simulated.gives.iter().enumerate() {
            brood[round][colony.comb] += gives[0];
            for (sum, each) in given[round].iter_mut().zip(gives) {
                *sum += each;
            }
        }
    }
    if season.honey.is_some_and(|most| honey > most) {
        faults.push(Fault::Honey);
    }
    for (round, (given, brood)) in given.iter().zip(&brood).enumerate() {
        let (mut bees, mut loose) = (0, 0);
        let mut asked = vec![0; sizes];
        let mut short = false;
        for (need, comb, count) in boxes::needs(season, outlook, round) {
            bees += need.bees * count;
            loose += if need.loose { need.bees * count } else { 0 };
            match asked.get_mut(comb) {
                Some(asked) => *asked += need.brood * count,
                None => short |= need.brood * count > 0,
            }
        }
        let brood = brood.iter().zip(&asked).any(|(given, asked)| given < asked);
        if short || brood || given[1] < bees || given[2] < loose {
            faults.push(Fault::Short(round));
        }
        if outlook.rounds[round].given != *given {
            faults.push(Fault::Short(round));
        }
    }
    cost
}

/// Recounts queens and wants.
fn wants(season: &Season, outlook: &Outlook, faults: &mut Vec<Fault>) {
    let last = last_day(season);
    let mut days: Vec<i32> = season.wants.iter().map(|want| want.by).collect();
    days.extend(season.rounds.iter().map(|round| round.day));
    days.push(last);
    for day in days {
        // In hundredths of a queen.
        let mut queens = 0_i64;
        for (round, of) in season.rounds.iter().zip(&outlook.rounds) {
            if round.day + season.days.usable <= day {
                queens += boxes::hundredths(season, round) * cells_of(of);
            }
        }
        for ready in &season.queens {
            if ready.day <= day {
                let each = if ready.mated {
                    100
                } else {
                    i64::from(season.success)
                };
                queens += each * i64::from(ready.count);
            }
        }
        let mut used = 0;
        for (at, want) in season.wants.iter().enumerate() {
            match want.what {
                What::Queens if want.by <= day => used += outlook.wants[at].count,
                What::Nuclei { .. } => {
                    let by = season
                        .rounds
                        .iter()
                        .zip(&outlook.rounds)
                        .filter(|(round, _)| round.day <= day);
                    used += by.map(|(_, of)| of.nuclei[at]).sum::<i64>();
                }
                What::Kept if day >= last => used += outlook.wants[at].count,
                _ => {}
            }
        }
        if 100 * used > queens {
            faults.push(Fault::Queens(day));
        }
    }
    let kept: i64 = outlook
        .rounds
        .iter()
        .flat_map(|round| &round.kept)
        .map(|(units, _)| units)
        .sum();
    let mut counted = 0;
    for (at, (want, met)) in season.wants.iter().zip(&outlook.wants).enumerate() {
        let made = match &want.what {
            What::Queens => met.count,
            What::Nuclei { hives, .. } => {
                let rounds = season.rounds.iter().zip(&outlook.rounds);
                let by = rounds.filter(|(round, _)| round.day <= want.by);
                by.map(|(_, of)| of.nuclei[at])
                    .sum::<i64>()
                    .min(i64::from(*hives))
            }
            What::Kept => {
                counted += met.count;
                met.count
            }
        };
        let more = want.count.is_some_and(|most| met.count > i64::from(most));
        if made != met.count || more || met.count < 0 || met.most < met.count {
            faults.push(Fault::Want(at));
        }
    }
    if counted != kept {
        faults.extend(
            (0..season.wants.len())
                .filter(|&at| season.wants[at].what == What::Kept)
                .map(Fault::Want),
        );
    }
}

/// The last day that anything is counted on.
fn last_day(season: &Season) -> i32 {
    let mut last = 0;
    for round in &season.rounds {
        last = last.max(round.day + season.days.usable);
    }
    for want in &season.wants {
        last = last.max(want.by);
    }
    if let Some(winter) = &season.winter {
        last = last.max(winter.on);
    }
    last
}
