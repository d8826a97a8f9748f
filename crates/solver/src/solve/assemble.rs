//! From counts to compartments: which frames serve which line.

use super::backend::{Answer, Model, Sense};
use super::choice::Choice;
use super::near::{Earlier, Then};
use super::placing::{keep_frames, place_bees, place_frames, slots};
use super::tables::{Part, Tables, share_out};
use crate::plan::{Origin, Plan};
use crate::scenario::Scenario;

/// Frames of one source, by class, still to be placed.
pub(super) struct Pile {
    /// Position in the donors; `None` is the store room.
    pub donor: Option<usize>,
    /// For each class: where the frames are and how many.
    pub frames: Vec<Vec<(Origin, u32)>>,
}

impl Pile {
    /// Frames of a class.
    pub fn of(&self, class: usize) -> u32 {
        self.frames[class].iter().map(|&(_, count)| count).sum()
    }

    /// Frames of a class from one origin.
    pub fn held(&self, class: usize, origin: Origin) -> u32 {
        let of = self.frames[class]
            .iter()
            .filter(|&&(from, _)| from == origin);
        of.map(|&(_, count)| count).sum()
    }
}

/// Builds the plan. Each compartment draws on as few colonies as the frames at hand allow,
/// found by always taking next the colony that fills most of what is still missing.
pub(super) fn assemble(scenario: &Scenario, tables: &Tables, choice: &Choice) -> Option<Plan> {
    assemble_near(scenario, tables, choice, None)
}

/// The same, but first each compartment gets what an earlier plan puts into it, as far as that is
/// among what is chosen.
pub(super) fn assemble_near(
    scenario: &Scenario,
    tables: &Tables,
    choice: &Choice,
    then: Option<&Then>,
) -> Option<Plan> {
    let none = Earlier::default();
    let earlier = then.map_or(&none, |then| &then.earlier);
    let mut piles = piles(tables, choice);
    let mut quota = quota(tables, choice, &piles, earlier)?;
    let (shelf, colonies) = piles.split_at_mut(1);
    leave_on_shelf(&mut shelf[0], colonies, &quota, earlier);
    let mut slots = slots(scenario, tables, choice, &piles, earlier)?;
    keep_frames(tables, &mut slots, &mut piles, &mut quota);
    for slot in &mut slots {
        place_frames(tables, slot, &mut piles, &mut quota)?;
    }
    place_bees(tables, &mut slots, choice.bees.clone())?;
    Some(tables.done.complete(Plan {
        compartments: slots.into_iter().map(|slot| slot.compartment).collect(),
        ..Plan::default()
    }))
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
            for (part, count) in item.groups.iter().zip(share_out(&item.groups, count)) {
                if count > 0 {
                    frames[item.class].push((Origin::Colony(donor.id, part.group), count));
                }
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
/// Between equal places, frames serve what they serve in an earlier plan.
fn quota(
    tables: &Tables,
    choice: &Choice,
    piles: &[Pile],
    earlier: &Earlier,
) -> Option<Vec<Vec<i64>>> {
    let served = earlier.served(tables);
    // All that can be kept together weighs less than one place.
    let kept = 0.5 / (served.values().sum::<i64>() as f64 + 1.0);
    let mut model = Model::default();
    let mut cols = vec![vec![Vec::new(); tables.needs.len()]; tables.classes.len()];
    let mut cost = Vec::new();
    for (class, serves) in tables.classes.iter().enumerate() {
        let at_hand: u32 = piles.iter().map(|pile| pile.of(class)).sum();
        let from_colonies: u32 = piles.iter().skip(1).map(|pile| pile.of(class)).sum();
        let mut row = Vec::new();
        for (need, rank) in serves.iter().enumerate() {
            if let Some(rank) = rank {
                let col = model.share(f64::from(at_hand));
                cost.push((col, f64::from(*rank)));
                cols[class][need].push(col);
                row.push((col, 1.0));
                if let Some(&count) = served.get(&(class, need)) {
                    let col = model.share((count as f64).min(f64::from(at_hand)));
                    cost.push((col, f64::from(*rank) - kept));
                    cols[class][need].push(col);
                    row.push((col, 1.0));
                }
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
            .flat_map(|class| &class[index])
            .map(|&col| (col, 1.0))
            .collect();
        let wanted = choice.compartments[need.kind] * i64::from(need.each);
        model.row(row, Sense::Equal, wanted as f64);
    }
    model.minimise(&cost);
    let Answer::Best(values) = model.solve(None) else {
        return None;
    };
    let read = |cols: &Vec<usize>| cols.iter().map(|&col| values[col].round() as i64).sum();
    Some(
        cols.iter()
            .map(|class| class.iter().map(read).collect())
            .collect(),
    )
}

/// The choice without the frames that nothing needs, and with the bees shared out anew.
pub(super) fn trim(tables: &Tables, choice: &Choice) -> Option<Choice> {
    let piles = piles(tables, choice);
    let quota = quota(tables, choice, &piles, &Earlier::default())?;
    let mut over: Vec<i64> = quota
        .iter()
        .enumerate()
        .map(|(class, served)| {
            let from_colonies: u32 = piles.iter().skip(1).map(|pile| pile.of(class)).sum();
            i64::from(from_colonies) - served.iter().sum::<i64>()
        })
        .collect();
    let mut trimmed = choice.clone();
    for (index, donor) in tables.donors.iter().enumerate() {
        let Some(take) = &mut trimmed.takes[index] else {
            continue;
        };
        for (item, count) in donor.items.iter().zip(take) {
            let back = over[item.class].clamp(0, i64::from(*count));
            over[item.class] -= back;
            *count = u32::try_from(i64::from(*count) - back).ok()?;
        }
    }
    trimmed.bees = super::bees::share(tables, &trimmed, &trimmed.limits(tables))?;
    Some(trimmed)
}

/// Takes from the store room only what the colonies' frames leave to be served, and of that first
/// what an earlier plan takes.
fn leave_on_shelf(shelf: &mut Pile, colonies: &[Pile], quota: &[Vec<i64>], earlier: &Earlier) {
    for (class, served) in quota.iter().enumerate() {
        let from_colonies: u32 = colonies.iter().map(|pile| pile.of(class)).sum();
        let wanted = (served.iter().sum::<i64>() - i64::from(from_colonies)).max(0);
        let entries = &mut shelf.frames[class];
        let parts: Vec<Part> = entries
            .iter()
            .map(|&(origin, count)| Part {
                group: 0,
                count,
                then: earlier.taken(origin).min(count),
            })
            .collect();
        let given = share_out(&parts, u32::try_from(wanted).unwrap_or(u32::MAX));
        for ((_, count), given) in entries.iter_mut().zip(given) {
            *count = given;
        }
        entries.retain(|&(_, count)| count > 0);
    }
}
