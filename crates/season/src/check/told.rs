//! What is otherwise than people were told, counted anew; and whether what they were told is possible still.

use super::super::outlook::Outlook;
use super::super::season::{Season, Stocks};

/// Compartments and brood frames otherwise than people were told.
pub(super) fn otherwise(season: &Season, outlook: &Outlook) -> i64 {
    let Some(told) = &season.told else { return 0 };
    let mut sum = 0;
    for of in &told.stocked {
        let Some(stocked) = outlook.rounds.get(of.round) else {
            continue;
        };
        let mut now = 0;
        for one in &of.of {
            match one {
                Stocks::Cells(kind) => now += stocked.new[*kind] + stocked.next[*kind],
                Stocks::Nuclei(want) => now += stocked.nuclei[*want],
            }
        }
        sum += if now > of.then {
            now - of.then
        } else {
            of.then - now
        };
    }
    for (course, told) in outlook.colonies.iter().zip(&told.given) {
        for (draw, then) in course.draws.iter().zip(told) {
            let now = match (draw.frames, draw.bees > 0.0) {
                (0, true) => 1,
                (frames, _) => i64::from(frames),
            };
            sum += then.map_or(0, |then| now.abs_diff(then)) as i64;
        }
    }
    sum
}

/// Whether a colony can give so many brood frames, and so many bees in all, in each round.
///
/// # Errors
/// The first round in which it cannot; `None` where it would be too weak for its flow or for winter, or give up more honey than
/// it may.
pub fn can_give(season: &Season, colony: usize, draws: &[(u32, f64)]) -> Result<(), Option<usize>> {
    match season.colonies.get(colony) {
        Some(colony) => super::simulate(season, colony, draws).map(|_| ()),
        None => Ok(()),
    }
}
