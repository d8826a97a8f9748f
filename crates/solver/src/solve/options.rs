//! Draw options: what one colony can give under its own floors and caps.

use std::collections::BTreeMap;

use super::tables::{Donor, Item};

/// Most partial options kept for one colony; past it the list is cut and nothing is proved.
const MOST_STATES: usize = 6_000;

/// Frames that leave one colony together, and what follows from them.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct DrawOption {
    /// Frames for each class, as (class, count), counts above 0.
    pub supply: Vec<(usize, u32)>,
    /// Honey charged for the frames, mg.
    pub charge: i64,
    /// Most bees that may leave with this option.
    pub most_bees: i64,
    /// Bees on the frames that leave, at most `most_bees`.
    pub riding: i64,
    /// Frames drawn otherwise than in an earlier plan, less those drawn otherwise if the colony
    /// stays closed; 0 without one.
    pub otherwise: i64,
    /// Frames taken of each of the donor's items.
    pub take: Vec<u32>,
}

impl DrawOption {
    /// For the first two goals at least as good as another: no fewer frames of any class, no higher
    /// charge, no fewer bees.
    pub fn outdoes(&self, other: &Self) -> bool {
        covers(&self.supply, &other.supply)
            && self.charge <= other.charge
            && self.most_bees >= other.most_bees
    }
}

/// All options of a donor.
#[derive(Debug, Clone)]
pub(super) struct OptionList {
    /// The empty option (bees only) first, unless there is a wish. None where a wish cannot be met.
    pub options: Vec<DrawOption>,
    /// Some were left out: the list is too long to be complete.
    pub cut: bool,
}

#[derive(Debug, Clone)]
struct State {
    take: Vec<u32>,
    brood: i64,
    stores: i64,
    drawn: i64,
    charge: i64,
    bees: i64,
    otherwise: i64,
}

impl State {
    /// At least as good whatever is added later.
    fn beats(&self, other: &Self) -> bool {
        self.charge <= other.charge
            && self.bees >= other.bees
            && self.brood <= other.brood
            && self.stores <= other.stores
            && self.drawn <= other.drawn
            && self.otherwise <= other.otherwise
    }
}

/// Lists a donor's options item by item, dropping a partial option as soon as another of the
/// same frames is at least as good in everything that a floor, a cap or a goal looks at.
///
/// `wanted` holds for each class the most frames that all boxes together can use.
pub(super) fn list(donor: &Donor, wanted: &[i64]) -> OptionList {
    list_by(donor, wanted, &|_, _| 0)
}

/// The same, with options told apart by the frames that are drawn otherwise than in an earlier plan.
pub(super) fn list_near(donor: &Donor, wanted: &[i64]) -> OptionList {
    list_by(donor, wanted, &Item::otherwise)
}

/// The same, with options told apart by a figure of the frames taken of each item.
fn list_by(donor: &Donor, wanted: &[i64], otherwise: &dyn Fn(&Item, u32) -> i64) -> OptionList {
    let start = State {
        take: Vec::new(),
        brood: 0,
        stores: 0,
        drawn: 0,
        charge: 0,
        bees: 0,
        otherwise: 0,
    };
    let mut states: BTreeMap<Vec<u32>, Vec<State>> = BTreeMap::new();
    // Frames by class, then how far the wish for each item is met: what meets more of a wish is
    // never dropped for what meets less.
    let wishes: Vec<usize> = (0..donor.items.len())
        .filter(|&item| donor.items[item].give > 0)
        .collect();
    states.insert(vec![0; wanted.len() + wishes.len()], vec![start]);
    let mut cut = false;
    for (index, item) in donor.items.iter().enumerate() {
        let wish = wishes.iter().position(|&wish| wish == index);
        let mut next: BTreeMap<Vec<u32>, Vec<State>> = BTreeMap::new();
        let mut held = 0;
        for (supply, variants) in &states {
            let used: u32 = supply[..wanted.len()].iter().sum();
            for state in variants {
                for count in 0..=item.count {
                    let more = i64::from(count);
                    let grown = State {
                        take: state.take.iter().copied().chain([count]).collect(),
                        brood: state.brood + item.brood * more,
                        stores: state.stores + item.stores * more,
                        drawn: state.drawn + item.drawn * more,
                        charge: state.charge + item.charge * more,
                        bees: state.bees + item.bees * more,
                        otherwise: state.otherwise + otherwise(item, count),
                    };
                    let fits = i64::from(supply[item.class]) + more <= wanted[item.class]
                        && i64::from(used) + more <= donor.frames
                        && grown.brood <= donor.brood
                        && grown.stores <= donor.stores
                        && grown.drawn <= donor.drawn
                        && donor.honey.is_none_or(|cap| grown.charge <= cap);
                    if !fits {
                        break;
                    }
                    if held >= MOST_STATES && count > 0 {
                        cut = true;
                        break;
                    }
                    let mut key = supply.clone();
                    key[item.class] += count;
                    if let Some(wish) = wish {
                        key[wanted.len() + wish] = count.min(item.give);
                    }
                    held += insert(next.entry(key).or_default(), grown);
                }
            }
        }
        states = next;
    }
    let mut options: Vec<DrawOption> = Vec::new();
    for (supply, variants) in states {
        let (supply, met) = supply.split_at(wanted.len());
        let met = wishes
            .iter()
            .zip(met)
            .all(|(&item, &count)| count >= donor.items[item].give);
        if !met || supply.iter().sum::<u32>() < donor.give {
            continue;
        }
        let supply: Vec<(usize, u32)> = supply
            .iter()
            .copied()
            .enumerate()
            .filter(|&(_, count)| count > 0)
            .collect();
        let mut last: Vec<(i64, i64, i64)> = Vec::new();
        for state in variants {
            let most_bees = donor.most_bees(state.charge);
            let riding = state.bees.min(most_bees);
            if last.iter().any(|&(charge, bees, otherwise)| {
                charge <= state.charge && bees >= riding && otherwise <= state.otherwise
            }) {
                continue;
            }
            last.push((state.charge, riding, state.otherwise));
            let option = DrawOption {
                supply: supply.clone(),
                charge: state.charge,
                most_bees,
                riding,
                otherwise: state.otherwise,
                take: state.take,
            };
            options.push(option);
        }
    }
    OptionList { options, cut }
}

/// Adds a variant unless it is beaten; returns how many were added net of those it beats.
fn insert(variants: &mut Vec<State>, state: State) -> usize {
    if variants.iter().any(|held| held.beats(&state)) {
        return 0;
    }
    variants.retain(|held| !state.beats(held));
    variants.push(state);
    1
}

/// Leaves out what another option outdoes for the first three goals: no fewer frames of any
/// class, no higher charge. The empty option stays.
pub(super) fn lean(options: &[DrawOption]) -> Vec<DrawOption> {
    options
        .iter()
        .enumerate()
        .filter(|&(index, option)| {
            option.supply.is_empty()
                || !options.iter().enumerate().any(|(other_index, other)| {
                    other_index != index
                        && other.outdoes(option)
                        && (other.supply != option.supply
                            || other.charge < option.charge
                            || other_index < index)
                })
        })
        .map(|(_, option)| option.clone())
        .collect()
}

/// The short list where honey plays no part, so that more donors are alike.
pub(super) fn unpriced(options: &[DrawOption]) -> Vec<DrawOption> {
    let free = options.iter().map(|option| DrawOption {
        charge: 0,
        riding: 0,
        ..option.clone()
    });
    lean(&free.collect::<Vec<_>>())
}

fn covers(more: &[(usize, u32)], less: &[(usize, u32)]) -> bool {
    less.iter()
        .all(|&(class, count)| more.iter().any(|&(c, n)| c == class && n >= count))
}
