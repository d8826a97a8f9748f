//! What is counted of an allocation.

use std::collections::BTreeMap;

use super::super::support::enumerate::{place, stay};
use spareframe_solver::*;

/// What is counted over all yards.
#[derive(Debug, Default)]
pub struct Figures {
    pub yards: u32,
    pub compartments: u32,
    /// With bees of two colonies at most.
    pub few_colonies: u32,
    /// Brood frames of whose bees some must ride.
    pub brood_frames: u32,
    /// Of these, in a compartment where as many of them ride.
    pub with_bees: u32,
    /// Yards where comb would have served as well as brood.
    pub wasteful: u32,
    pub lots_below_a_hundred: u32,
    /// Loose bees of one colony in one compartment.
    pub loose_lots: u32,
    /// Of these, below 500 bees and beside brood.
    pub small_lots: u32,
    /// Hundreds that ride, and that could beyond these without a rule broken or more cost.
    pub ride: u32,
    pub could_ride: u32,
    /// Colonies that covered their brood before and not after.
    pub left_cold: u32,
    /// Two compartments, each with loose bees of a colony whose brood is in the other, as many of which would stay there;
    /// and likewise with frames without brood.
    pub crossed_bees: u32,
    pub crossed_frames: u32,
}

/// Frames of one group, or of one entry of the store room.
fn frame(scenario: &Scenario, origin: Origin) -> &FrameState {
    match origin {
        Origin::Colony(id, group) => &scenario.colonies[id.0].frames[group].frame,
        Origin::StoreRoom(entry) => &scenario.store_room[entry].frame,
    }
}

impl Figures {
    pub fn add(&mut self, scenario: &Scenario, plan: &Plan) {
        self.yards += 1;
        for compartment in &plan.compartments {
            self.compartments += 1;
            self.few_colonies += u32::from(compartment.bees.len() <= 2);
            let lots = compartment.bees.iter();
            self.lots_below_a_hundred += lots.filter(|lot| lot.taken().0 < 1).count() as u32;
            let loose = compartment.bees.iter().filter(|lot| lot.loose.0 > 0);
            self.loose_lots += loose.clone().count() as u32;
            let beside_brood = on_brood(scenario, compartment).next().is_some();
            let small = loose.filter(|lot| beside_brood && lot.loose.0 < 5);
            self.small_lots += small.count() as u32;
            self.ride += compartment
                .bees
                .iter()
                .map(|lot| lot.riding.0 as u32)
                .sum::<u32>();
            self.brood(scenario, compartment);
        }
        self.could_ride += could_ride(scenario, plan) as u32;
        self.wasteful += u32::from(wastes_brood(scenario, plan));
        self.left_cold += left_cold(scenario, plan);
        self.crossed(scenario, plan);
    }

    fn crossed(&mut self, scenario: &Scenario, plan: &Plan) {
        for (at, one) in plan.compartments.iter().enumerate() {
            for other in &plan.compartments[at + 1..] {
                self.crossed_bees += u32::from(crossed_bees(scenario, one, other));
                self.crossed_frames += u32::from(crossed_frames(scenario, one, other));
            }
        }
    }

    fn brood(&mut self, scenario: &Scenario, compartment: &Compartment) {
        let mut least: BTreeMap<ColonyId, Vec<i64>> = BTreeMap::new();
        for placed in &compartment.frames {
            let held = frame(scenario, placed.origin);
            if let Origin::Colony(id, _) = placed.origin
                && held.brood.0 > 0
            {
                let rides = scenario.colonies[id.0].rides.0 * held.bees.0;
                let each = vec![(rides + 99) / 100; placed.count as usize];
                least.entry(id).or_default().extend(each);
            }
        }
        for (id, mut least) in least {
            let lots = compartment.bees.iter().filter(|lot| lot.colony == id);
            let mut riding: i64 = lots.map(|lot| lot.riding.0).sum();
            least.sort_unstable();
            for least in least.into_iter().filter(|&least| least > 0) {
                self.brood_frames += 1;
                self.with_bees += u32::from(riding >= least);
                riding -= least;
            }
        }
    }
}

/// Colonies whose brood is in a compartment, each with the hundreds on one group of its frames.
fn on_brood<'a>(
    scenario: &'a Scenario,
    compartment: &'a Compartment,
) -> impl Iterator<Item = (ColonyId, i64)> + 'a {
    compartment.frames.iter().filter_map(|placed| {
        let held = frame(scenario, placed.origin);
        match placed.origin {
            Origin::Colony(id, _) if held.brood.0 > 0 => {
                Some((id, held.bees.0 * i64::from(placed.count)))
            }
            _ => None,
        }
    })
}

/// Hundreds that are shaken off brood frames though they might ride at no more cost: beside what is in the
/// compartment, or in the place of loose bees there.
fn could_ride(scenario: &Scenario, plan: &Plan) -> i64 {
    let cost = |plan: &Plan| {
        let (goals, breaches) = check(scenario, plan);
        let cost = goals.cost.total(&scenario.prices);
        breaches.is_empty().then_some(cost)
    };
    let own = cost(plan).expect("a plan breaks no rule");
    let mut plan = plan.clone();
    let mut could = 0;
    for at in 0..plan.compartments.len() {
        let mut on: BTreeMap<ColonyId, i64> = BTreeMap::new();
        for (id, bees) in on_brood(scenario, &plan.compartments[at]) {
            *on.entry(id).or_default() += bees;
        }
        for (id, bees) in on {
            let lots = plan.compartments[at].bees.clone();
            let rides = lots.iter().find(|lot| lot.colony == id);
            let room = bees - rides.map_or(0, |lot| lot.riding.0);
            let others: Vec<usize> = (0..lots.len())
                .filter(|&lot| lots[lot].loose.0 > 0)
                .collect();
            let ways = (1..=room).rev().flat_map(|more| {
                let instead = others.iter().map(move |&lot| (more, Some(lot)));
                std::iter::once((more, None)).chain(instead)
            });
            let better = ways.into_iter().find_map(|(more, instead)| {
                let other = with_more(&plan, at, id, (more, instead));
                cost(&other)
                    .filter(|&cost| cost <= own)
                    .map(|_| (more, other))
            });
            if let Some((more, other)) = better {
                (could, plan) = (could + more, other);
            }
        }
    }
    could
}

/// The plan with more riding bees of a colony in a compartment, perhaps in the place of one lot's loose ones.
fn with_more(plan: &Plan, at: usize, id: ColonyId, (more, instead): (i64, Option<usize>)) -> Plan {
    let mut plan = plan.clone();
    let bees = &mut plan.compartments[at].bees;
    if let Some(lot) = instead {
        bees[lot].loose.0 -= more.min(bees[lot].loose.0);
    }
    match bees.iter_mut().find(|lot| lot.colony == id) {
        Some(lot) => lot.riding.0 += more,
        None => bees.push(PlacedBees {
            colony: id,
            riding: Hundreds(more),
            loose: Hundreds(0),
        }),
    }
    bees.retain(|lot| lot.taken().0 > 0);
    plan
}

/// What is left on the shelf and in colonies that are opened, without brood and without the queen.
fn comb_left(scenario: &Scenario, plan: &Plan) -> Vec<Origin> {
    let drawn = plan.drawn();
    let taken = |origin| -> u32 {
        let placed = plan.compartments.iter().flat_map(|c| &c.frames);
        let of = placed.filter(|placed| placed.origin == origin);
        of.map(|placed| placed.count).sum()
    };
    let mut left: Vec<(Origin, u32)> = Vec::new();
    for (id, _) in drawn.keys() {
        for (group, of) in scenario.colonies[id.0].frames.iter().enumerate() {
            if !of.queen && of.frame.brood.0 == 0 {
                left.push((Origin::Colony(*id, group), of.count));
            }
        }
    }
    let shelf = scenario.store_room.iter().enumerate();
    left.extend(shelf.map(|(entry, spare)| (Origin::StoreRoom(entry), spare.count)));
    left.retain(|&(origin, count)| taken(origin) < count);
    left.into_iter().map(|(origin, _)| origin).collect()
}

/// Whether some frame with brood serves a line that one without, still there, would serve as well: at the
/// same place or a better one, without a rule broken and at no more cost.
fn wastes_brood(scenario: &Scenario, plan: &Plan) -> bool {
    let comb = comb_left(scenario, plan);
    let cost = |plan: &Plan| {
        let (goals, breaches) = check(scenario, plan);
        breaches
            .is_empty()
            .then(|| goals.cost.total(&scenario.prices))
    };
    let own = cost(plan);
    for (at, compartment) in plan.compartments.iter().enumerate() {
        let lines = &scenario.boxes[compartment.kind.0].lines;
        for (which, placed) in compartment.frames.iter().enumerate() {
            let held = frame(scenario, placed.origin);
            let now = place(&lines[placed.line], held);
            let as_well = |origin: &&Origin| {
                let other = place(&lines[placed.line], frame(scenario, **origin));
                other.is_some() && other <= now
            };
            if held.brood.0 == 0 {
                continue;
            }
            for &origin in comb.iter().filter(as_well) {
                let other = exchanged(scenario, plan, (at, which), origin);
                if cost(&other)
                    .zip(own)
                    .is_some_and(|(other, own)| other <= own)
                {
                    return true;
                }
            }
        }
    }
    false
}

/// The plan with one frame exchanged; bees that rode on it are loose.
fn exchanged(
    scenario: &Scenario,
    plan: &Plan,
    (at, which): (usize, usize),
    origin: Origin,
) -> Plan {
    let mut other = plan.clone();
    let compartment = &mut other.compartments[at];
    let brood = compartment.frames[which].clone();
    compartment.frames[which].count -= 1;
    compartment.frames.push(PlacedFrames {
        origin,
        count: 1,
        ..brood
    });
    let Origin::Colony(id, _) = brood.origin else {
        return other;
    };
    let own = compartment.frames.iter().filter_map(|placed| {
        let held = frame(scenario, placed.origin);
        let own = matches!(placed.origin, Origin::Colony(of, _) if of == id);
        (own && held.brood.0 > 0).then_some(held.bees.0 * i64::from(placed.count))
    });
    let most: i64 = own.sum();
    for lot in compartment.bees.iter_mut().filter(|lot| lot.colony == id) {
        let taken = lot.taken();
        lot.riding = Hundreds(lot.riding.0.min(most));
        lot.loose = Hundreds(taken.0 - lot.riding.0);
    }
    compartment.frames.retain(|placed| placed.count > 0);
    other
}

/// Colonies that are to keep their brood covered, did before, and do not after.
fn left_cold(scenario: &Scenario, plan: &Plan) -> u32 {
    let drawn = plan.drawn();
    let mut cold = 0;
    for (at, colony) in scenario.colonies.iter().enumerate() {
        let id = ColonyId(at);
        let placed = plan.compartments.iter().flat_map(|c| &c.bees);
        let own = placed.filter(|lot| lot.colony == id);
        let taken: i64 = own.map(|lot| lot.taken().0).sum();
        let on = colony.frames.iter();
        let bees: i64 = on.map(|g| i64::from(g.count) * g.frame.bees.0).sum();
        let bees = bees + colony.extra_bees.0;
        let cover = |left: &dyn Fn(usize) -> i64| -> i64 {
            let groups = colony.frames.iter().enumerate();
            let each = |f: &FrameState| f.brood.0 * scenario.combs[f.comb.0].bees.0;
            groups.map(|(at, g)| left(at) * each(&g.frame)).sum()
        };
        let count = |group: usize| i64::from(colony.frames[group].count);
        let gone = |group| drawn.get(&(id, group)).map_or(0, |&count| count as i64);
        let before = 1000 * bees >= cover(&count);
        let after = 1000 * (bees - taken) >= cover(&|group| count(group) - gone(group));
        cold += u32::from(colony.keep.covered.0 >= 100 && before && !after);
    }
    cold
}

fn has_brood(scenario: &Scenario, compartment: &Compartment, id: ColonyId) -> bool {
    on_brood(scenario, compartment).any(|(of, _)| of == id)
}

/// Loose bees in one compartment of a colony whose brood is in the other alone.
fn astray(scenario: &Scenario, one: &Compartment, other: &Compartment) -> Vec<ColonyId> {
    let loose = one.bees.iter().filter(|lot| lot.loose.0 > 0);
    let astray = loose.map(|lot| lot.colony);
    let astray =
        astray.filter(|&id| has_brood(scenario, other, id) && !has_brood(scenario, one, id));
    astray.collect()
}

fn crossed_bees(scenario: &Scenario, one: &Compartment, other: &Compartment) -> bool {
    let sites = [one, other].map(|of| scenario.boxes[of.kind.0].site);
    let stays = |id: ColonyId| sites.map(|site| stay(scenario, &scenario.colonies[id.0], site));
    let back = astray(scenario, other, one);
    let mut astray = astray(scenario, one, other).into_iter();
    astray.any(|id| back.iter().any(|&other| stays(id) == stays(other)))
}

fn crossed_frames(scenario: &Scenario, one: &Compartment, other: &Compartment) -> bool {
    let of = |compartment: &Compartment, placed: &PlacedFrames, into: &PlacedFrames| {
        let line = &scenario.boxes[compartment.kind.0].lines[into.line];
        place(line, frame(scenario, placed.origin))
    };
    let astray = |one: &Compartment, other: &Compartment| -> Vec<PlacedFrames> {
        let goes = |placed: &&PlacedFrames| match placed.origin {
            Origin::Colony(id, _) => {
                frame(scenario, placed.origin).brood.0 == 0
                    && has_brood(scenario, other, id)
                    && !has_brood(scenario, one, id)
            }
            Origin::StoreRoom(_) => false,
        };
        one.frames.iter().filter(goes).cloned().collect()
    };
    let back = astray(other, one);
    astray(one, other).iter().any(|a| {
        back.iter().any(|b| {
            let then = of(other, a, b).zip(of(one, b, a));
            let now = of(one, a, a).zip(of(other, b, b));
            then.zip(now)
                .is_some_and(|(then, now)| then.0 + then.1 <= now.0 + now.1)
        })
    })
}
