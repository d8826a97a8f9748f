//! Today's round, as the season decides it, in real frames.

use super::Planned;
use spareframe_season::Outlook;
use spareframe_solver::{Bees, Ceiling, CellBatch, Milli, Outcome, Scenario, SolveOptions, solve};

/// Most times that the season is decided anew as real frames allow fewer (a choice; each time there is at least one fewer).
const ROUNDS: usize = 6;

/// A season and today's round, which agree.
#[derive(Debug)]
pub(crate) struct Agreed {
    pub planned: Planned,
    pub outlook: Outlook,
    /// Today's yard with the number and caps of the season; the yard itself where nothing else is asked for.
    pub yard: Scenario,
    /// The most to stock in it.
    pub most: Ceiling,
    /// How many fewer today than standard frames would allow.
    pub fewer: i64,
}

/// Decides the season, and stocks today's round of it with real frames; where these allow fewer, the season is decided
/// again with so many. `None` where no season is found.
pub(crate) fn agree(
    scenario: &Scenario,
    planned: Planned,
    decide: &dyn Fn(&Planned) -> Option<Outlook>,
    options: &SolveOptions,
) -> Option<Agreed> {
    let mut planned = planned;
    let mut outlook = decide(&planned)?;
    let first = number(&outlook);
    if planned.alone() {
        return Some(Agreed {
            planned,
            outlook,
            yard: scenario.clone(),
            most: Ceiling::default(),
            fewer: 0,
        });
    }
    for _ in 0..ROUNDS {
        let now = number(&outlook);
        let yard = bound(scenario, &planned, &outlook);
        let stocked = match solve(&yard, options) {
            Outcome::Stocked(found) => found.plan.compartments.len() as i64,
            _ => 0,
        };
        let cells = stocked.saturating_sub(nuclei(&outlook)).max(0);
        if stocked >= now || planned.season.today == Some(cells) {
            let most = u64::try_from(now).ok();
            return Some(Agreed {
                planned,
                outlook,
                yard,
                most: Ceiling {
                    compartments: most,
                    worth: None,
                },
                fewer: first - now,
            });
        }
        planned.season.today = Some(cells);
        outlook = decide(&planned)?;
    }
    let yard = bound(scenario, &planned, &outlook);
    Some(Agreed {
        fewer: first - number(&outlook),
        planned,
        outlook,
        yard,
        most: Ceiling::default(),
    })
}

/// Compartments of today's round.
pub(crate) fn number(outlook: &Outlook) -> i64 {
    let cells = outlook.rounds.first().map_or(0, |round| round.cells());
    cells + nuclei(outlook)
}

fn nuclei(outlook: &Outlook) -> i64 {
    outlook
        .rounds
        .first()
        .map_or(0, |round| round.nuclei.iter().sum())
}

/// Today's yard with as many cells for each kind of box as the season gives it, and for each colony no more brood and bees
/// than the season has it give: a frame's worth of bees beyond, as real frames are not all alike.
fn bound(scenario: &Scenario, planned: &Planned, outlook: &Outlook) -> Scenario {
    let mut yard = scenario.clone();
    let Some(today) = outlook.rounds.first() else {
        return yard;
    };
    let count = |count: i64| u32::try_from(count).unwrap_or(0);
    let kinds = planned.kinds.iter().zip(today.new.iter().zip(&today.next));
    let mut batches: Vec<CellBatch> = kinds
        .map(|(kind, (new, next))| CellBatch {
            count: count(new + next),
            boxes: vec![*kind],
        })
        .collect();
    let others = (0..yard.boxes.len()).map(spareframe_solver::BoxId);
    let others: Vec<_> = others
        .filter(|kind| !planned.kinds.contains(kind))
        .collect();
    if !others.is_empty() {
        batches.push(CellBatch {
            count: count(nuclei(outlook)),
            boxes: others,
        });
    }
    yard.cells = Some(batches);
    let courses = planned.colonies.iter().zip(&planned.season.colonies);
    for ((id, of), course) in courses.zip(&outlook.colonies) {
        let Some(drawn) = course.draws.first() else {
            continue;
        };
        let Some(colony) = yard.colonies.get_mut(id.0) else {
            continue;
        };
        let cells = yard.combs.get(of.comb).map_or(0, |comb| comb.cells).max(1);
        let brood = ((drawn.open + drawn.sealed) * 1000.0 / cells as f64).ceil() as i64;
        let beyond = if drawn.bees > 0.0 { of.frame_bees } else { 0.0 };
        let bees = Bees((drawn.bees + beyond).ceil() as i64);
        let hundreds = spareframe_solver::Hundreds(bees.0.div_euclid(100) + 1);
        let hundreds = if drawn.bees > 0.0 {
            hundreds
        } else {
            spareframe_solver::Hundreds(0)
        };
        let draw = &mut colony.draw;
        draw.brood = Some(draw.brood.map_or(Milli(brood), |own| own.min(Milli(brood))));
        draw.bees = Some(draw.bees.map_or(hundreds, |own| own.min(hundreds)));
    }
    yard
}
