//! What may be asked of a day besides: wishes, what is done, an earlier plan, a ceiling.

use crate::support::enumerate::place;
use crate::support::rng::Rng;
use spareframe_solver::*;

/// Adds wishes for frames to a scenario that has colonies; some of them cannot be met. Where there
/// are several groups they may look alike, so that a wish is for one of them.
pub fn wishes(mut scenario: Scenario, seed: u64) -> Scenario {
    let rng = &mut Rng::new(seed ^ 0x0e_0000_0000);
    for colony in &mut scenario.colonies {
        if colony.frames.len() > 1 && scenario.done.is_empty() && rng.percent(30) {
            colony.frames[1].frame = colony.frames[0].frame;
        }
    }
    for _ in 0..rng.pick(&[1, 1, 1, 1, 2, 3]) {
        let colony = rng.index(scenario.colonies.len());
        let groups = &scenario.colonies[colony].frames;
        let may = |group: &usize| !groups[*group].queen && groups[*group].count > 0;
        let may: Vec<usize> = (0..groups.len()).filter(may).collect();
        let group = match may.len() {
            _ if rng.percent(50) => None,
            _ if rng.percent(5) => Some(rng.index(groups.len())),
            0 => None,
            n => Some(may[rng.index(n)]),
        };
        scenario.gives.push(Give {
            colony: ColonyId(colony),
            group,
            frames: rng.pick(&[1, 1, 1, 1, 1, 2, 2, 3, 0]),
        });
    }
    scenario
}

/// A part of the compartments there are, finished or begun: frames that were there and, but for a few,
/// serve a line; bees that were there, now and then more than the recipe asks.
pub fn begun(mut scenario: Scenario, seed: u64) -> Scenario {
    let rng = &mut Rng::new(seed ^ 0xd0_4e00_0000);
    let mut left = Left::of(&scenario);
    let mut done = Vec::new();
    for kind in 0..scenario.boxes.len() {
        let of = &scenario.boxes[kind];
        for box_no in 0..of.count {
            for at in 0..of.compartments {
                let place = (BoxId(kind), box_no, at);
                let here = |s: &&Standing| (s.kind, s.box_no, s.place) == place;
                let left_alone = |s: &Standing| !s.wants_cell;
                let stands = scenario.standing.iter().find(here);
                if rng.percent(35) && !stands.is_some_and(left_alone) {
                    done.push(record(rng, &scenario, place, &mut left));
                }
            }
        }
    }
    done.retain(|record: &Compartment| !record.frames.is_empty() || !record.bees.is_empty());
    scenario.done = done;
    scenario
}

/// What is still there.
struct Left {
    groups: Vec<Vec<u32>>,
    shelf: Vec<u32>,
    bees: Vec<i64>,
}

impl Left {
    fn of(scenario: &Scenario) -> Self {
        let counts = |colony: &Colony| colony.frames.iter().map(|g| g.count).collect();
        let bees = |colony: &Colony| {
            let on = colony.frames.iter();
            on.map(|g| g.frame.bees.0 * i64::from(g.count)).sum::<i64>() + colony.extra_bees.0
        };
        Self {
            groups: scenario.colonies.iter().map(counts).collect(),
            shelf: scenario
                .store_room
                .iter()
                .map(|spare| spare.count)
                .collect(),
            bees: scenario.colonies.iter().map(bees).collect(),
        }
    }
}

fn record(
    rng: &mut Rng,
    scenario: &Scenario,
    (kind, box_no, at): (BoxId, u32, u32),
    left: &mut Left,
) -> Compartment {
    let mut record = Compartment {
        kind,
        box_no,
        place: at,
        frames: vec![],
        bees: vec![],
    };
    let of = &scenario.boxes[kind.0];
    let (lines, fewest) = match scenario.standing.iter().any(|s| s.is(&record)) {
        true => (&of.again.lines, of.again.bees),
        false => (&of.lines, of.bees),
    };
    let whole = rng.percent(50);
    for (number, line) in lines.iter().enumerate() {
        let frames = if whole {
            line.count
        } else {
            rng.count(0, line.count)
        };
        for _ in 0..frames {
            let odd = rng.percent(3);
            let fits = |frame: &FrameState| odd || place(line, frame).is_some();
            if let Some(origin) = pick(rng, scenario, left, &fits) {
                record.frames.push(PlacedFrames {
                    line: number,
                    origin,
                    count: 1,
                });
            }
        }
    }
    let hundreds = (fewest.0 + 99) / 100;
    let goal = rng.pick(&[
        0,
        hundreds / 2,
        hundreds,
        hundreds,
        hundreds * 3 / 2,
        hundreds + 2,
    ]);
    bees(rng, scenario, &mut record, goal, left);
    record.put_in_order();
    record
}

/// A frame that is still there, from where the queen is not.
fn pick(
    rng: &mut Rng,
    scenario: &Scenario,
    left: &mut Left,
    fits: &dyn Fn(&FrameState) -> bool,
) -> Option<Origin> {
    let mut all = Vec::new();
    for (at, colony) in scenario.colonies.iter().enumerate() {
        for (group, of) in colony.frames.iter().enumerate() {
            if !of.queen && left.groups[at][group] > 0 && fits(&of.frame) {
                all.push(Origin::Colony(ColonyId(at), group));
            }
        }
    }
    for (entry, spare) in scenario.store_room.iter().enumerate() {
        if left.shelf[entry] > 0 && fits(&spare.frame) {
            all.push(Origin::StoreRoom(entry));
        }
    }
    let origin = *all.get(rng.index(all.len().max(1)))?;
    match origin {
        Origin::Colony(colony, group) => left.groups[colony.0][group] -= 1,
        Origin::StoreRoom(entry) => left.shelf[entry] -= 1,
    }
    Some(origin)
}

/// So many hundreds from one or two colonies, some of them riding where there is a brood line.
fn bees(rng: &mut Rng, scenario: &Scenario, record: &mut Compartment, goal: i64, left: &mut Left) {
    let mut wanted = goal;
    for _ in 0..2 {
        let colony = rng.index(scenario.colonies.len());
        let taken = wanted.min(left.bees[colony]);
        if taken <= 0 {
            continue;
        }
        left.bees[colony] -= taken;
        wanted -= taken;
        let riding = match scenario.boxes[record.kind.0].has_brood_line() {
            true => rng.range(0, taken),
            false => 0,
        };
        record.bees.push(PlacedBees {
            colony: ColonyId(colony),
            riding: Hundreds(riding),
            loose: Hundreds(taken - riding),
        });
    }
}

/// An earlier plan: some frames of some groups, now and then of what is no more. Only what it takes
/// from each group is of use.
pub fn earlier(scenario: &Scenario, seed: u64) -> Plan {
    let rng = &mut Rng::new(seed ^ 0xea_0000_0000);
    let mut frames = Vec::new();
    for (at, colony) in scenario.colonies.iter().enumerate() {
        for (group, of) in colony.frames.iter().enumerate() {
            if rng.percent(40) {
                frames.push((ColonyId(at), group, rng.count(1, of.count.max(1))));
            }
        }
    }
    if rng.percent(20) {
        frames.push((ColonyId(scenario.colonies.len() + 1), 0, 2));
        frames.push((ColonyId(0), 9, 1));
    }
    let placed = |(colony, group, count)| PlacedFrames {
        line: 0,
        origin: Origin::Colony(colony, group),
        count,
    };
    Plan {
        compartments: vec![Compartment {
            kind: BoxId(0),
            box_no: 0,
            place: 0,
            frames: frames.into_iter().map(placed).collect(),
            bees: vec![],
        }],
        begun: vec![],
    }
}

/// A small scenario and what may be asked of it besides, each now and then: days that are begun, wishes,
/// an earlier plan, a ceiling.
pub fn question(seed: u64) -> (Scenario, Option<Plan>, Ceiling) {
    let rng = &mut Rng::new(seed ^ 0x9e_0000_0000);
    let mut scenario = super::small(seed);
    if rng.percent(25) {
        scenario = super::standing(scenario, seed);
    }
    if rng.percent(40) {
        scenario = begun(scenario, seed);
    }
    if rng.percent(25) {
        scenario = wishes(scenario, seed);
    }
    let then = rng.percent(30).then(|| earlier(&scenario, seed));
    let most = match rng.percent(25) {
        true => ceiling(seed),
        false => Ceiling::default(),
    };
    (scenario, then, most)
}

/// A ceiling that may bind.
pub fn ceiling(seed: u64) -> Ceiling {
    let rng = &mut Rng::new(seed ^ 0xce_0000_0000);
    let compartments = rng.percent(60).then(|| rng.count(0, 3).into());
    let worth = match compartments {
        Some(_) if rng.percent(80) => None,
        _ => Some(Worth(rng.pick(&[0, 700, 1000, 1400, 2000, 2400, 3000]))),
    };
    Ceiling {
        compartments,
        worth,
    }
}
