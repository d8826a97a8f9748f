//! Today's round, as the season decides it, in real frames.

use super::Planned;
use spareframe_season::{MOST_FRAMES, Outlook, Taken};
use spareframe_solver::{
    BoxId, Ceiling, CellBatch, ColonyId, FrameState, Hundreds, Milli, Origin, Outcome, Plan,
    Scenario, SolveOptions, solve,
};

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
    let agreed = |planned, outlook: Outlook, yard| Agreed {
        fewer: first - number(&outlook),
        most: ceiling(number(&outlook)),
        planned,
        outlook,
        yard,
    };
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
        let now = asked(&outlook);
        let yard = bound(scenario, &planned, &outlook);
        let real = stocked(&planned, &yard, options);
        if real.cells >= now.cells && real.nuclei >= now.nuclei {
            return Some(agreed(planned, outlook, yard));
        }
        planned.season.today = Some(now.cells.min(real.cells));
        planned.season.nuclei_today = Some(now.nuclei.min(real.nuclei));
        outlook = decide(&planned)?;
    }
    // What the frames allow of it, whoever gives them.
    let mut yard = bound(scenario, &planned, &outlook);
    yard.colonies.clone_from(&scenario.colonies);
    let real = stocked(&planned, &yard, options);
    let now = asked(&outlook);
    planned.season.nuclei_today = Some(now.nuclei.min(real.nuclei));
    for cells in (0..=now.cells.min(real.cells)).rev() {
        planned.season.today = Some(cells);
        if let Some(outlook) = decide(&planned) {
            return Some(agreed(planned, outlook, yard));
        }
    }
    None
}

/// Compartments of today's round that are given a cell, and nuclei.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Today {
    cells: i64,
    nuclei: i64,
}

fn asked(outlook: &Outlook) -> Today {
    let nuclei = nuclei(outlook);
    Today {
        cells: number(outlook) - nuclei,
        nuclei,
    }
}

/// What real frames allow in a yard.
fn stocked(planned: &Planned, yard: &Scenario, options: &SolveOptions) -> Today {
    let mut all = Today {
        cells: 0,
        nuclei: 0,
    };
    if let Outcome::Stocked(found) = solve(yard, options) {
        for compartment in &found.plan.compartments {
            match planned.kinds.contains(&compartment.kind) {
                true => all.cells += 1,
                false => all.nuclei += 1,
            }
        }
    }
    all
}

fn ceiling(compartments: i64) -> Ceiling {
    Ceiling {
        compartments: u64::try_from(compartments).ok(),
        worth: None,
    }
}

/// Most cells that real frames allow today, whoever gives them, and if no nuclei are made.
pub(crate) fn most_cells(scenario: &Scenario, planned: &Planned, options: &SolveOptions) -> i64 {
    let mut yard = scenario.clone();
    for (kind, of) in yard.boxes.iter_mut().enumerate() {
        if !planned.kinds.contains(&BoxId(kind)) {
            of.count = 0;
        }
    }
    stocked(planned, &yard, options).cells
}

/// The season anew, with no other brood frames today than today's plan takes; as it was, where that would meet less.
pub(crate) fn settled(
    agreed: Agreed,
    outcome: &Outcome,
    decide: &dyn Fn(&Planned) -> Option<Outlook>,
) -> Agreed {
    let Outcome::Stocked(found) = outcome else {
        return agreed;
    };
    let mut planned = agreed.planned.clone();
    let today = agreed.outlook.rounds.first();
    planned.season.today = today.map(spareframe_season::Stocked::cells);
    for (id, colony) in planned.colonies.iter().zip(&mut planned.season.colonies) {
        colony.today = taken(&agreed.yard, &found.plan, *id);
    }
    let met =
        |outlook: &Outlook| -> Vec<i64> { outlook.wants.iter().map(|met| met.count).collect() };
    match decide(&planned) {
        Some(outlook) if met(&outlook) >= met(&agreed.outlook) => Agreed {
            planned,
            outlook,
            ..agreed
        },
        _ => agreed,
    }
}

/// For 1, 2, … of the brood frames that a plan takes from a colony: what they hold, the fullest first.
fn taken(yard: &Scenario, plan: &Plan, id: ColonyId) -> Vec<Taken> {
    let placed = plan.compartments.iter().flat_map(|of| &of.frames);
    let own = placed.filter_map(|placed| match placed.origin {
        Origin::Colony(colony, group) if colony == id => {
            let group = yard.colonies.get(id.0)?.frames.get(group)?;
            (group.frame.brood.0 > 0).then_some((group.frame, placed.count))
        }
        _ => None,
    });
    let each = own.flat_map(|(frame, count)| std::iter::repeat_n(frame, count as usize));
    let mut frames: Vec<FrameState> = each.collect();
    frames.sort_by_key(|frame| std::cmp::Reverse((frame.brood, frame.bees)));
    let bees = plan.compartments.iter().flat_map(|of| &of.bees);
    let riding = bees
        .filter(|bees| bees.colony == id)
        .map(|bees| bees.riding.bees().0);
    let riding = riding.sum::<i64>() as f64 / frames.len().max(1) as f64;
    let mut sum = Taken::default();
    let add = |frame: &FrameState| {
        let cells = yard.combs.get(frame.comb.0).map_or(0, |comb| comb.cells) as f64 / 1000.0;
        sum.open += (frame.brood.0 - frame.sealed.0) as f64 * cells;
        sum.sealed += frame.sealed.0 as f64 * cells;
        sum.bees += riding;
        sum.fewest += riding;
        sum
    };
    frames.iter().take(MOST_FRAMES as usize).map(add).collect()
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
    let others = (0..yard.boxes.len()).map(BoxId);
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
        // Real frames are not all alike: a frame's worth of bees beyond.
        let hundreds = Hundreds(match drawn.bees > 0.0 {
            true => ((drawn.bees + of.frame_bees) / 100.0).ceil() as i64,
            false => 0,
        });
        let draw = &mut colony.draw;
        draw.brood = Some(draw.brood.map_or(Milli(brood), |own| own.min(Milli(brood))));
        draw.bees = Some(draw.bees.map_or(hundreds, |own| own.min(hundreds)));
    }
    yard
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::Notes;
    use jiff::civil::date;
    use spareframe_season::{RELAXATIONS, plan};

    fn yard(stores: u32) -> (Scenario, Planned) {
        let text = include_str!("../../../../scenarios/season.yaml");
        let text = text.replace(
            "count: 40, place: by the door",
            &format!("count: {stores}, place: by the door"),
        );
        let loaded = crate::scenario::read("season.yaml", text.as_bytes())
            .loaded
            .unwrap();
        let notes = Notes::from(&loaded);
        let asked = notes.season.clone().unwrap();
        let planned = Planned::of(&loaded.scenario, &notes, &asked, date(2031, 5, 20)).unwrap();
        (loaded.scenario, planned)
    }

    fn agreed(stores: u32, decide: &dyn Fn(&Planned) -> Option<Outlook>) -> (Agreed, i64) {
        let (scenario, planned) = yard(stores);
        let agreed = agree(&scenario, planned, decide, &SolveOptions::default()).unwrap();
        let options = SolveOptions {
            most: agreed.most,
            ..SolveOptions::default()
        };
        let real = stocked(&agreed.planned, &agreed.yard, &options).cells;
        (agreed, real)
    }

    #[test]
    fn where_frames_allow_fewer_the_season_has_as_many_as_they_allow() {
        let decide = |planned: &Planned| plan(&planned.season, RELAXATIONS);
        for (stores, fewer) in [(40, false), (4, true), (0, true)] {
            let (agreed, real) = agreed(stores, &decide);
            assert_eq!(number(&agreed.outlook), real, "{stores}");
            assert_eq!(agreed.fewer > 0, fewer, "{stores}");
        }
    }

    /// Each season has its colonies give so little that one fewer can be stocked than it says.
    #[test]
    fn however_often_it_disagrees_no_more_is_told_than_frames_allow() {
        let asked = std::cell::Cell::new(0);
        let decide = |planned: &Planned| {
            let mut outlook = plan(&planned.season, RELAXATIONS)?;
            asked.set(asked.get() + 1);
            let mut giving = outlook
                .colonies
                .iter_mut()
                .map(|course| &mut course.draws[0]);
            if let Some(draw) = giving.find(|draw| draw.frames > 0) {
                let less = 1.0 - 1.0 / f64::from(draw.frames);
                (draw.open, draw.sealed) = (draw.open * less, draw.sealed * less);
            }
            Some(outlook)
        };
        let (agreed, real) = agreed(40, &decide);
        assert!(asked.get() > ROUNDS);
        assert_eq!(number(&agreed.outlook), real);
        assert!(real > 0 && agreed.fewer > 0);
    }
}
