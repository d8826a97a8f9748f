//! The best plan, in totals, where the columns of all colonies and the levels of all kinds are whole: two
//! flows of least cost, in whole numbers.

use std::collections::BTreeMap;

use super::super::allocate::Totals;
use super::super::columns::Draw;
use super::super::engine::Column;
use super::super::flow::{Network, serves_all};
use super::super::instance::Kind;
use super::cost::cost_of;
use super::{Master, Set, Tag};
use crate::plan::Cost;

/// A plan in totals.
#[derive(Debug, Clone)]
pub(crate) struct Solution {
    pub totals: Totals,
    /// Thousandths.
    pub worth: i64,
    /// With what is done.
    pub cost: Cost,
}

/// Colonies, and the loose hundreds that each may give.
type Rooms = Vec<(usize, i64)>;

/// More than any sum of places may cost: flows use what must be used first.
const FORCED: i64 = 1 << 40;

type Weighted<'t> = [Vec<(f64, &'t Tag)>];

/// What weighted levels come to.
fn mean(weighted: &[(f64, &Tag)]) -> f64 {
    let of = |(weight, tag): &(f64, &Tag)| match tag {
        Tag::Level(level) => weight * *level as f64,
        _ => 0.0,
    };
    weighted.iter().map(of).sum()
}

/// The heaviest column of each colony; `None` where it stays closed.
fn heaviest<'t>(weighted: &[Vec<(f64, &'t Tag)>]) -> Vec<Option<&'t Draw>> {
    let of_set = |of_set: &Vec<(f64, &'t Tag)>| {
        let heaviest = of_set.iter().max_by(|a, b| a.0.total_cmp(&b.0));
        match heaviest {
            Some((_, Tag::Draw(draw))) if draw.opened => Some(draw),
            _ => None,
        }
    };
    weighted.iter().map(of_set).collect()
}

impl Master<'_> {
    /// The best plan where all columns are whole.
    pub(super) fn whole(&mut self, weighted: &Weighted) -> Option<(i64, Solution)> {
        let frozen = self.frozen.clone();
        let weighted = &self.spread(weighted, &frozen);
        let compartments = self.compartments(weighted);
        let draws = heaviest(&weighted[..self.kinds]);
        self.solution(weighted, &draws, compartments)
    }

    /// A plan near to weights that are not whole: the heaviest frames of each colony, at the greatest share
    /// that the weights give them.
    pub(super) fn rounded(&mut self, weighted: &Weighted) -> Option<(i64, Solution)> {
        let frozen = self.frozen.clone();
        let weighted = &self.spread(weighted, &frozen);
        let kinds = &weighted[self.kinds..self.kinds + self.instance.kinds.len()];
        let split = |of_kind: &Vec<(f64, &Tag)>| of_kind.len() > 1;
        let compartments = self.compartments(weighted);
        let exact = kinds.iter().zip(&compartments);
        if exact
            .into_iter()
            .any(|(of, &n)| split(of) && (mean(of) - n as f64).abs() > 1e-4)
        {
            return None;
        }
        let mut draws = heaviest(&weighted[..self.kinds]);
        for (draw, of_set) in draws.iter_mut().zip(weighted) {
            let Some(heaviest) = *draw else { continue };
            let alike = of_set.iter().filter_map(|(_, tag)| match tag {
                Tag::Draw(other) if other.opened && other.frames == heaviest.frames => Some(other),
                _ => None,
            });
            *draw = alike.max_by_key(|other| other.most).or(*draw);
        }
        self.solution(weighted, &draws, compartments)
    }

    /// Weights of all sets, from those of the active ones.
    fn spread<'t>(
        &self,
        weighted: &Weighted<'t>,
        frozen: &'t BTreeMap<usize, Column<Tag>>,
    ) -> Vec<Vec<(f64, &'t Tag)>> {
        let mut all = vec![Vec::new(); self.sets.len()];
        for (&set, of_set) in self.active.iter().zip(weighted) {
            all[set].clone_from(of_set);
        }
        for (&set, column) in frozen {
            all[set].push((1.0, &column.tag));
        }
        all
    }

    fn compartments(&self, weighted: &Weighted) -> Vec<i64> {
        let kinds = &weighted[self.kinds..self.kinds + self.instance.kinds.len()];
        kinds
            .iter()
            .map(|of_kind| mean(of_kind).round() as i64)
            .collect()
    }

    fn solution(
        &mut self,
        weighted: &Weighted,
        draws: &[Option<&Draw>],
        compartments: Vec<i64>,
    ) -> Option<(i64, Solution)> {
        if !self.fit(&compartments) {
            return None;
        }
        let mut totals = Totals {
            compartments,
            ..Totals::default()
        };
        self.frames(draws, &mut totals)?;
        let level = |set: usize| (mean(&weighted[set]) - 1e-4).ceil() as i64;
        self.bees(draws, &level, &mut totals)?;
        let cost = cost_of(self.instance, &totals);
        let of_kind = |(kind, &count): (&Kind, &i64)| kind.worth * count;
        let worth = self
            .instance
            .kinds
            .iter()
            .zip(&totals.compartments)
            .map(of_kind)
            .sum();
        let solution = Solution {
            totals,
            worth,
            cost,
        };
        let over = |room: i64| cost.honey.0 - self.instance.base.honey.0 > room;
        if self.instance.honey_room.is_some_and(over) {
            return None;
        }
        self.keep_aside(&solution);
        if worth < self.rows[self.worth_row].rhs * self.unit {
            return None;
        }
        let prices = &self.instance.prices;
        let total = cost.total(prices).0 - self.instance.base.total(prices).0;
        Some((total - self.frozen_cost(), solution))
    }

    /// Whether so many compartments of each kind are within ceilings and cells.
    pub fn fit(&self, compartments: &[i64]) -> bool {
        let instance = self.instance;
        let all: i64 = compartments.iter().sum();
        let worth = instance
            .kinds
            .iter()
            .zip(compartments)
            .map(|(kind, n)| kind.worth * n);
        let whole = |(kind, n): (&Kind, &i64)| {
            (kind.least..=kind.most).contains(n) && (n - kind.least) % kind.step == 0
        };
        instance.kinds.iter().zip(compartments).all(whole)
            && instance.most_compartments.is_none_or(|most| all <= most)
            && instance
                .most_worth
                .is_none_or(|most| worth.sum::<i64>() <= most)
            && instance
                .cells
                .as_ref()
                .is_none_or(|cells| serves_all(cells, compartments))
    }

    /// Gives frames to needs with the least sum of places; colonies' frames are all used.
    fn frames(&self, draws: &[Option<&Draw>], totals: &mut Totals) -> Option<()> {
        let instance = self.instance;
        // Frames by class and site (none: any site).
        let mut supply: BTreeMap<(usize, Option<usize>), i64> = BTreeMap::new();
        for (columns, draw) in self.colonies().zip(draws) {
            let Some(draw) = draw else { continue };
            for (slot, &count) in columns.slots.iter().zip(draw.frames.iter()) {
                let class = columns.donor.items[slot.item].class;
                *supply.entry((class, slot.site)).or_default() += i64::from(count);
            }
        }
        supply.retain(|_, count| *count > 0);
        let mut network = Network::default();
        let (source, sink) = (network.node(), network.node());
        let needs = network.nodes(instance.needs.len());
        let mut wanted = 0;
        for (&node, need) in needs.iter().zip(&instance.needs) {
            let count = i64::from(need.each) * totals.compartments[need.kind];
            network.arc(node, sink, count, 0);
            wanted += count;
        }
        let mut serve = |class: usize, site: Option<usize>, count: i64, cost: i64| {
            let node = network.node();
            network.arc(source, node, count, cost);
            let places = instance.classes[class].iter().enumerate();
            let uses = places.filter_map(|(need, place)| Some((need, (*place)?)));
            let uses = uses.filter(|&(need, _)| {
                site.is_none_or(|site| instance.kinds[instance.needs[need].kind].site == site)
            });
            uses.map(|(need, place)| {
                (
                    need,
                    network.arc(node, needs[need], count, i64::from(place)),
                )
            })
            .collect::<Vec<_>>()
        };
        let of_colonies: Vec<_> = supply
            .iter()
            .map(|(&(class, site), &count)| serve(class, site, count, -FORCED))
            .collect();
        let of_shelf: Vec<_> = instance
            .shelf
            .iter()
            .enumerate()
            .map(|(class, entries)| {
                serve(
                    class,
                    None,
                    entries.iter().map(|&(_, n)| i64::from(n)).sum(),
                    0,
                )
            })
            .collect();
        if network.send(source, sink, wanted).0 < wanted {
            return None;
        }
        let carried = |arcs: &Vec<(usize, _)>| -> Vec<(usize, i64)> {
            arcs.iter()
                .map(|&(need, arc)| (need, network.carried(arc)))
                .collect()
        };
        for (class, arcs) in of_shelf.iter().enumerate() {
            for (need, count) in carried(arcs).into_iter().filter(|&(_, count)| count > 0) {
                totals
                    .shelf
                    .insert((class, need), u32::try_from(count).ok()?);
            }
        }
        let mut left: BTreeMap<_, Vec<(usize, i64)>> = supply
            .keys()
            .copied()
            .zip(of_colonies.iter().map(carried))
            .collect();
        for (at, (columns, draw)) in self.colonies().zip(draws).enumerate() {
            let Some(draw) = draw else { continue };
            for (slot, &count) in columns.slots.iter().zip(draw.frames.iter()) {
                let class = columns.donor.items[slot.item].class;
                let mut count = i64::from(count);
                for (need, room) in left.entry((class, slot.site)).or_default() {
                    let used = count.min(*room);
                    if used > 0 {
                        let frames = totals.frames.entry((at, slot.item, *need)).or_default();
                        *frames += u32::try_from(used).ok()?;
                        *room -= used;
                        count -= used;
                    }
                }
                if count > 0 {
                    return None;
                }
            }
        }
        Some(())
    }

    /// Bees that must ride, and the loose ones that sites still need, from where they cost least honey.
    fn bees(
        &self,
        draws: &[Option<&Draw>],
        level: &dyn Fn(usize) -> i64,
        totals: &mut Totals,
    ) -> Option<()> {
        let instance = self.instance;
        let mut riding: BTreeMap<(usize, i64), i64> = BTreeMap::new();
        for (at, (columns, draw)) in self.colonies().zip(draws).enumerate() {
            let Some(draw) = draw else { continue };
            for (slot, &count) in columns.slots.iter().zip(draw.frames.iter()) {
                let least = columns.donor.items[slot.item].least * i64::from(count);
                if let Some(site) = slot.site
                    && least > 0
                {
                    *riding.entry((site, columns.donor.stay[site])).or_default() += least;
                    totals.bees.entry((at, site)).or_default().0 += least;
                }
            }
        }
        let mut wanted: BTreeMap<(usize, i64), i64> = BTreeMap::new();
        for counted in &self.counted {
            let here = instance.kinds.iter().zip(&totals.compartments);
            let here = here.filter(|(kind, _)| {
                kind.site == counted.site && !(counted.loose && kind.brood_line)
            });
            let need: i64 = here.map(|(kind, &count)| kind.need * count).sum();
            let rides = |stay| match counted.loose {
                true => 0,
                false => riding.get(&(counted.site, stay)).copied().unwrap_or(0),
            };
            let mut ask = |stay: i64, hundreds: i64| {
                let ask = wanted.entry((counted.site, stay)).or_default();
                *ask = (*ask).max(hundreds - rides(stay));
            };
            if counted.sums.is_empty() {
                ask(100, need / 100);
                continue;
            }
            let sums: Vec<(i64, i64)> = counted
                .sums
                .iter()
                .map(|&(stay, _, set)| (stay, level(set)))
                .collect();
            let stays: i64 = sums.iter().map(|(stay, hundreds)| stay * hundreds).sum();
            let mut over = stays - need - self.rows[counted.row].rhs;
            if over < 0 {
                return None;
            }
            for (stay, hundreds) in sums {
                // Where bees cost nothing, the levels may be higher than the sites need.
                let spare = over.checked_div(stay).unwrap_or(0);
                let spare = spare.min(hundreds - rides(stay)).max(0);
                over -= spare * stay;
                ask(stay, hundreds - spare);
            }
        }
        wanted.retain(|_, hundreds| *hundreds > 0);
        self.loose(draws, &wanted, totals)
    }

    fn loose(
        &self,
        draws: &[Option<&Draw>],
        wanted: &BTreeMap<(usize, i64), i64>,
        totals: &mut Totals,
    ) -> Option<()> {
        // Colonies alike in charge and in where their bees stay count as one.
        let mut alike: BTreeMap<(i64, &[i64]), Rooms> = BTreeMap::new();
        for (at, (columns, draw)) in self.colonies().zip(draws).enumerate() {
            if let Some(draw) = draw
                && draw.most > draw.riding
            {
                let key = (columns.donor.hundred, columns.donor.stay.as_slice());
                alike
                    .entry(key)
                    .or_default()
                    .push((at, draw.most - draw.riding));
            }
        }
        let mut network = Network::default();
        let (source, sink) = (network.node(), network.node());
        let places: Vec<_> = wanted
            .iter()
            .map(|(&place, &hundreds)| {
                let node = network.node();
                network.arc(node, sink, hundreds, 0);
                (place, node)
            })
            .collect();
        let mut arcs = Vec::new();
        for ((hundred, stay), colonies) in &alike {
            let node = network.node();
            let room = colonies.iter().map(|&(_, room)| room).sum();
            network.arc(source, node, room, *hundred);
            for &((site, stays), place) in &places {
                if stay[site] == stays {
                    arcs.push((colonies, site, network.arc(node, place, room, 0)));
                }
            }
        }
        let all: i64 = wanted.values().sum();
        if network.send(source, sink, all).0 < all {
            return None;
        }
        let mut used: BTreeMap<usize, i64> = BTreeMap::new();
        for (colonies, site, arc) in arcs {
            let mut left = network.carried(arc);
            for &(at, room) in colonies {
                let used = used.entry(at).or_default();
                let here = left.min(room - *used);
                if here > 0 {
                    *used += here;
                    left -= here;
                    totals.bees.entry((at, site)).or_default().1 += here;
                }
            }
        }
        Some(())
    }

    /// Keeps the best solution so far, whatever worth was asked for.
    fn keep_aside(&mut self, solution: &Solution) {
        let price = |s: &Solution| (-s.worth, s.cost.total(&self.instance.prices));
        if self
            .aside
            .as_ref()
            .is_none_or(|held| price(solution) < price(held))
        {
            self.aside = Some(solution.clone());
        }
    }
}

impl Set<'_> {
    /// Forbids levels that cannot be in a solution within `gap` of the bound.
    pub(super) fn fix_levels(&mut self, prices: &[i64], gap: i128) {
        let Set::Levels(levels) = self else { return };
        let each = levels.value(super::Objective::Cost, prices);
        if each == 0 {
            return;
        }
        let steps = (gap / (each.abs() * i128::from(levels.step))).max(0);
        let room = i64::try_from(steps).map_or(i64::MAX / 4, |s| s.min(i64::MAX / 4 / levels.step));
        let room = room * levels.step;
        if each > 0 {
            levels.to = levels.to.min(levels.from.saturating_add(room));
        } else {
            levels.from = levels.from.max(levels.to.saturating_sub(room));
        }
    }
}
