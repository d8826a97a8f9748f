//! From counts to compartments: whose frames and bees go into which.

use super::backend::{Answer, Model, Sense};
use super::choice::Choice;
use super::tables::Tables;
use crate::plan::{Compartment, Origin, PlacedBees, PlacedFrames, Plan};
use crate::scenario::{BoxKind, Scenario};
use crate::units::Bees;

/// Frames of one source, by class, still to be placed.
struct Pile {
    /// Position in the donors; `None` is the store room.
    donor: Option<usize>,
    /// For each class: where the frames are and how many.
    frames: Vec<Vec<(Origin, u32)>>,
}

impl Pile {
    fn of(&self, class: usize) -> u32 {
        self.frames[class].iter().map(|&(_, count)| count).sum()
    }
}

/// Builds the plan. Each compartment draws on as few colonies as the frames at hand allow,
/// found by always taking next the colony that fills most of what is still missing.
pub(super) fn assemble(scenario: &Scenario, tables: &Tables, choice: &Choice) -> Option<Plan> {
    let mut piles = piles(tables, choice);
    let mut quota = quota(tables, choice, &piles)?;
    let (shelf, colonies) = piles.split_at_mut(1);
    leave_on_shelf(&mut shelf[0], colonies, &quota);
    let mut plan = Plan::default();
    let mut bees = choice.bees.clone();
    let mut carry = vec![0_i64; tables.sites.len()];
    for (index, kind) in tables.kinds.iter().enumerate() {
        let boxes = &scenario.boxes[kind.id.0];
        for number in 0..choice.compartments[index] {
            let (box_no, place) = position(boxes, number)?;
            let mut compartment = Compartment {
                kind: kind.id,
                box_no,
                place,
                frames: Vec::new(),
                bees: Vec::new(),
            };
            let donors = place_frames(tables, index, &mut piles, &mut quota, &mut compartment)?;
            let short = 1000 * kind.bees - carry[kind.site];
            let over = place_bees(
                tables,
                kind.site,
                short,
                &donors,
                &mut bees,
                &mut compartment,
            )?;
            carry[kind.site] = over;
            compartment.frames.sort();
            compartment.bees.sort();
            plan.compartments.push(compartment);
        }
    }
    plan.compartments
        .sort_by_key(|c| (c.kind, c.box_no, c.place));
    Some(plan)
}

fn position(boxes: &BoxKind, number: i64) -> Option<(u32, u32)> {
    let number = u32::try_from(number).ok()?;
    Some((number / boxes.compartments, number % boxes.compartments))
}

fn piles(tables: &Tables, choice: &Choice) -> Vec<Pile> {
    let mut piles = vec![Pile {
        donor: None,
        frames: tables
            .store_room
            .iter()
            .map(|spares| {
                spares
                    .iter()
                    .map(|&(i, n)| (Origin::StoreRoom(i), n))
                    .collect()
            })
            .collect(),
    }];
    for (index, (donor, take)) in tables.donors.iter().zip(&choice.takes).enumerate() {
        let Some(take) = take else { continue };
        let mut frames = vec![Vec::new(); tables.classes.len()];
        for (item, &count) in donor.items.iter().zip(take) {
            let mut left = count;
            for &(group, held) in &item.groups {
                let part = left.min(held);
                if part > 0 {
                    frames[item.class].push((Origin::Colony(donor.id, group), part));
                }
                left -= part;
            }
        }
        piles.push(Pile {
            donor: Some(index),
            frames,
        });
    }
    piles
}

/// How many frames of each class serve each need, best places in the order of preference first.
fn quota(tables: &Tables, choice: &Choice, piles: &[Pile]) -> Option<Vec<Vec<i64>>> {
    let mut model = Model::default();
    let mut cols = vec![vec![None; tables.needs.len()]; tables.classes.len()];
    let mut cost = Vec::new();
    for (class, serves) in tables.classes.iter().enumerate() {
        let at_hand: u32 = piles.iter().map(|pile| pile.of(class)).sum();
        let from_colonies: u32 = piles.iter().skip(1).map(|pile| pile.of(class)).sum();
        let mut row = Vec::new();
        for (need, rank) in serves.iter().enumerate() {
            if let Some(rank) = rank {
                let col = model.share(f64::from(at_hand));
                cost.push((col, f64::from(*rank)));
                cols[class][need] = Some(col);
                row.push((col, 1.0));
            }
        }
        // A high price on what stays over keeps frames of colonies from being taken for nothing.
        let over = model.share(f64::from(from_colonies));
        cost.push((over, 1e3));
        let mut used = row.clone();
        used.push((over, 1.0));
        model.row(row, Sense::AtMost, f64::from(at_hand));
        model.row(used, Sense::AtLeast, f64::from(from_colonies));
    }
    for (index, need) in tables.needs.iter().enumerate() {
        let row = cols
            .iter()
            .filter_map(|class| class[index])
            .map(|col| (col, 1.0))
            .collect();
        let wanted = choice.compartments[need.kind] * i64::from(need.each);
        model.row(row, Sense::Equal, wanted as f64);
    }
    model.minimise(&cost);
    let Answer::Best(values) = model.solve(None) else {
        return None;
    };
    let read = |col: &Option<usize>| col.map_or(0, |col| values[col].round() as i64);
    Some(
        cols.iter()
            .map(|class| class.iter().map(read).collect())
            .collect(),
    )
}

/// The choice without the frames that nothing needs, and with the bees shared out anew.
pub(super) fn trim(tables: &Tables, choice: &Choice) -> Option<Choice> {
    let piles = piles(tables, choice);
    let quota = quota(tables, choice, &piles)?;
    let mut over: Vec<i64> = quota
        .iter()
        .enumerate()
        .map(|(class, served)| {
            let from_colonies: u32 = piles.iter().skip(1).map(|pile| pile.of(class)).sum();
            i64::from(from_colonies) - served.iter().sum::<i64>()
        })
        .collect();
    let mut trimmed = choice.clone();
    let mut limits = vec![(0, 0); tables.donors.len()];
    for (index, donor) in tables.donors.iter().enumerate() {
        let Some(take) = &mut trimmed.takes[index] else {
            continue;
        };
        let (mut riding, mut charge) = (0, 0);
        for (item, count) in donor.items.iter().zip(take) {
            let back = over[item.class].clamp(0, i64::from(*count));
            over[item.class] -= back;
            let left = i64::from(*count) - back;
            *count = u32::try_from(left).ok()?;
            riding += item.bees * left;
            charge += item.charge * left;
        }
        let most = donor.most_bees(charge);
        limits[index] = (riding.min(most), most);
    }
    trimmed.bees = super::bees::share(tables, &trimmed, &limits)?;
    Some(trimmed)
}

/// Takes from the store room only what the colonies' frames leave to be served.
fn leave_on_shelf(shelf: &mut Pile, colonies: &[Pile], quota: &[Vec<i64>]) {
    for (class, served) in quota.iter().enumerate() {
        let from_colonies: u32 = colonies.iter().map(|pile| pile.of(class)).sum();
        let mut wanted = (served.iter().sum::<i64>() - i64::from(from_colonies)).max(0);
        for (_, count) in &mut shelf.frames[class] {
            let part = wanted.min(i64::from(*count));
            *count = u32::try_from(part).unwrap_or(*count);
            wanted -= part;
        }
        shelf.frames[class].retain(|&(_, count)| count > 0);
    }
}

/// Fills one compartment's lines; returns the donors it draws on.
fn place_frames(
    tables: &Tables,
    kind: usize,
    piles: &mut [Pile],
    quota: &mut [Vec<i64>],
    compartment: &mut Compartment,
) -> Option<Vec<usize>> {
    let mut missing: Vec<(usize, i64)> = tables
        .needs
        .iter()
        .enumerate()
        .filter(|(_, need)| need.kind == kind)
        .map(|(index, need)| (index, i64::from(need.each)))
        .collect();
    let mut donors = Vec::new();
    while missing.iter().any(|&(_, left)| left > 0) {
        // What each pile could fill now; colonies first, the store room for what is left.
        let best = (0..piles.len())
            .map(|pile| (moves(&piles[pile], quota, &missing), pile))
            .filter(|(moves, _)| !moves.is_empty())
            .max_by_key(|(moves, pile)| {
                let frames: i64 = moves.iter().map(|m| m.2).sum();
                (frames, std::cmp::Reverse(*pile))
            });
        let (moves, pile) = best?;
        donors.extend(piles[pile].donor);
        for (class, need, mut count) in moves {
            quota[class][need] -= count;
            for (index, left) in &mut missing {
                if *index == need {
                    *left -= count;
                }
            }
            let heap = &mut piles[pile].frames[class];
            while count > 0 {
                let (origin, held) = heap.last_mut()?;
                let part = count.min(i64::from(*held));
                let frames = u32::try_from(part).ok()?;
                let line = tables.needs[need].line;
                compartment.frames.push(PlacedFrames {
                    line,
                    origin: *origin,
                    count: frames,
                });
                *held -= frames;
                count -= part;
                if *held == 0 {
                    heap.pop();
                }
            }
        }
    }
    Some(donors)
}

/// The frames (class, need, count) that a pile can give to what is missing.
fn moves(pile: &Pile, quota: &[Vec<i64>], missing: &[(usize, i64)]) -> Vec<(usize, usize, i64)> {
    let mut moves = Vec::new();
    let mut left = missing.to_vec();
    for (class, quota) in quota.iter().enumerate() {
        let mut at_hand = i64::from(pile.of(class));
        for (need, want) in &mut left {
            let count = at_hand.min(*want).min(quota[*need]);
            if count > 0 {
                moves.push((class, *need, count));
                *want -= count;
                at_hand -= count;
            }
        }
    }
    moves
}

/// Takes bees until `short` thousandths of a bee are covered, from the donors of the frames
/// first; returns by how much the last bee went over.
fn place_bees(
    tables: &Tables,
    site: usize,
    mut short: i64,
    donors: &[usize],
    bees: &mut [Vec<i64>],
    compartment: &mut Compartment,
) -> Option<i64> {
    let mut own = donors.to_vec();
    own.sort_unstable();
    own.dedup();
    let others = (0..tables.donors.len()).filter(|donor| own.binary_search(donor).is_err());
    for donor in own.iter().copied().chain(others) {
        if short <= 0 {
            break;
        }
        let stay = tables.donors[donor].stay[site];
        let part = bees[donor][site].min((short + stay - 1).div_euclid(stay.max(1)));
        if part > 0 && stay > 0 {
            bees[donor][site] -= part;
            short -= part * stay;
            let colony = tables.donors[donor].id;
            compartment.bees.push(PlacedBees {
                colony,
                bees: Bees(part),
            });
        }
    }
    (short <= 0).then_some(-short)
}
