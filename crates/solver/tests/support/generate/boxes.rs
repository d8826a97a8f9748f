//! Kinds of box and their recipes.

use super::{Scale, comb_id};
use crate::support::rng::Rng;
use spareframe_solver::*;

pub(super) fn boxes(rng: &mut Rng, scale: &Scale) -> Vec<BoxKind> {
    // Boxes and compartments in each, at most four compartments in all.
    let shapes: &[(u32, u32)] = match rng.range(0, 6) {
        0 => &[(3, 1)],
        1 => &[(2, 2)],
        2 => &[(1, 3), (1, 1)],
        3 => &[(1, 2), (2, 1)],
        4 => &[(1, 2), (1, 2)],
        5 => &[(2, 1)],
        _ => &[(1, 2), (1, 1), (1, 1)],
    };
    let apart = rng.percent(scale.apart);
    let site = rng.index(3);
    let other = (site + 1) % 3;
    let named = shapes.iter().zip(["narrow", "square", "wide"]);
    named
        .map(|(&(count, compartments), name)| {
            let site = SiteId(if apart && rng.percent(50) {
                other
            } else {
                site
            });
            let lines = (0..rng.pick(&[1, 1, 1, 2, 2, 3])).map(|number| line(rng, number));
            let lines = lines.collect();
            BoxKind {
                name: name.into(),
                count,
                compartments,
                site,
                worth: Worth(rng.pick(&[1000, 1000, 700, 1400, 2000, 2200])),
                whole: compartments > 1 && rng.percent(40),
                lines,
                bees: fewest(rng, scale.fewest),
                again: spareframe_solver::Recipe::default(),
            }
        })
        .collect()
}

/// None, some, or whole hundreds.
fn fewest(rng: &mut Rng, most: i64) -> Bees {
    Bees(match rng.range(0, 9) {
        0 => 0,
        1..=3 => 100 * rng.range(1, most / 100),
        _ => rng.range(1, most),
    })
}

pub(super) fn line(rng: &mut Rng, number: i64) -> Line {
    let comb = comb_id(rng);
    let ask_for = ask(rng, comb);
    let substitutes = (0..rng.pick(&[0, 0, 0, 1, 2])).map(|_| Substitute {
        ask: ask(rng, comb),
        feed: Grams(rng.range(0, 5) * 100),
    });
    Line {
        name: format!("line {number}"),
        substitutes: substitutes.collect(),
        count: rng.pick(&[1, 1, 1, 2]),
        ask: ask_for,
    }
}

fn ask(rng: &mut Rng, comb: CombId) -> Ask {
    let mut ask = Ask::any(comb);
    match rng.range(0, 11) {
        0..=3 => {
            ask.brood = Span::from(rng.range(1, 5) * 100);
            if rng.percent(30) {
                ask.sealed = Span::from(rng.range(0, ask.brood.least.0));
            }
        }
        4 => ask.stores = Span::from(rng.range(1, 6) * 100),
        5 => {
            ask.stores = Span::from(rng.range(1, 6) * 100);
            ask.brood = Span::NONE;
        }
        6 => {
            ask.drawn = Span::from(rng.pick(&[500, 900, 1000]));
            ask.brood = Span::NONE;
        }
        7 => ask.drawn = Span::from(rng.pick(&[500, 900, 1000])),
        8 => ask.brood = Span::of(rng.range(0, 3) * 100, rng.range(4, 9) * 100),
        9 => return Ask::foundation(comb),
        10 => {}
        _ => {
            ask.brood = Span::from(100);
            ask.stores = Span::of(100, rng.pick(&[500, 1000]));
        }
    }
    ask
}
