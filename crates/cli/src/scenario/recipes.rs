//! Recipes and their lines.

use super::fields as t;
use super::known::Known;
use crate::reading::{At, Cx, Map, Node, word};
use s::{Ask, Bees, CombId, Grams, Hundreds, Milli, Span};
use spareframe_solver as s;

/// Most lines of a recipe, and most substitutes of a line (choices: a nucleus takes a dozen
/// frames). Every kind of box holds its own.
const MOST_LINES: usize = 50;
const MOST_SUBSTITUTES: usize = 20;

/// A recipe as read: its lines, where each stands, and the fewest bees.
#[derive(Default)]
pub(crate) struct Recipe {
    pub lines: Vec<s::Line>,
    pub places: Vec<At>,
    pub bees: Bees,
    /// What one that stands is to hold for its next cell, and where its lines stand.
    pub again: s::Recipe,
    pub places_again: Vec<At>,
}

/// A share as a line asks for it: least, or from least to most.
fn span(cx: &mut Cx, m: &Map, key: &str) -> Span {
    let Some((least, most)) = cx.range(m, key, 1000.0) else {
        return Span::ANY;
    };
    match m.get(key).map(word) {
        Some(text) if text.contains(" to ") => Span::of(least, most),
        _ => Span::from(least),
    }
}

fn ask(cx: &mut Cx, m: &Map, default: CombId, known: &Known) -> Ask {
    let comb = known.comb(cx, m, default);
    let mut asked = Ask {
        comb,
        brood: span(cx, m, "brood"),
        sealed: span(cx, m, "sealed"),
        stores: span(cx, m, "stores"),
        drawn: span(cx, m, "drawn"),
    };
    let broodless = cx.flag(m.get("no brood"));
    let bare = cx.flag(m.get("foundation"));
    let brood = asked.brood.least.max(asked.sealed.least);
    let filled = brood + asked.stores.least;
    let none = Milli(0);
    if filled > asked.drawn.most.min(Milli(1000))
        || asked.sealed.least > asked.brood.most
        || (broodless && brood > none)
        || (bare && filled.max(asked.drawn.least) > none)
    {
        cx.error(
            "impossible-line",
            m.at,
            "a line that no frame can meet",
            "room for brood and stores on the drawn comb; foundation has neither",
            "lower the figures",
        );
    }
    if broodless {
        asked.brood = Span::NONE;
    }
    match bare {
        true => Ask::foundation(comb),
        false => asked,
    }
}

fn substitute(cx: &mut Cx, node: &Node, comb: CombId, known: &Known) -> Option<s::Substitute> {
    let m = cx.map(node, &t::SUBSTITUTE)?;
    Some(s::Substitute {
        ask: ask(cx, &m, comb, known),
        feed: Grams(cx.quantity(&m, "feed", 1.0, None).unwrap_or(0)),
    })
}

fn line(cx: &mut Cx, node: &Node, number: usize, known: &Known) -> Option<s::Line> {
    let m = cx.map(node, &t::LINE)?;
    let name = match m.get("name") {
        Some(n) => cx.name(n),
        None => format!("line {number}"),
    };
    let ask = ask(cx, &m, known.usual(), known);
    let mut others = m.get("or").map_or(&[][..], |n| cx.list(n));
    if cx.too_many(m.at, others.len(), "substitutes", MOST_SUBSTITUTES) {
        others = &[];
    }
    let substitutes = others
        .iter()
        .filter_map(|n| substitute(cx, n, ask.comb, known))
        .collect();
    Some(s::Line {
        name,
        count: cx.count(&m, "count").unwrap_or(1),
        ask,
        substitutes,
    })
}

pub(crate) fn recipe(cx: &mut Cx, node: &Node, known: &Known) -> Recipe {
    let Some(m) = cx.map(node, &t::RECIPE) else {
        return Recipe::default();
    };
    let (first, places) = contents(cx, &m, known);
    uncovered(cx, &m, &first, known);
    let again = m.get("again").and_then(|n| cx.map(n, &t::AGAIN));
    let again = again.map(|m| {
        let again = contents(cx, &m, known);
        uncovered(cx, &m, &again.0, known);
        again
    });
    let (again, places_again) = again.unwrap_or_default();
    Recipe {
        lines: first.lines,
        places,
        bees: first.bees,
        again,
        places_again,
    }
}

/// Lines and fewest bees, and where each line stands.
fn contents(cx: &mut Cx, m: &Map, known: &Known) -> (s::Recipe, Vec<At>) {
    let mut list = m.get("lines").map_or(&[][..], |n| cx.list(n));
    if cx.too_many(m.at, list.len(), "lines", MOST_LINES) {
        list = &[];
    }
    let (mut lines, mut places) = (Vec::<s::Line>::new(), Vec::new());
    for (i, n) in list.iter().enumerate() {
        let Some(line) = line(cx, n, i + 1, known) else {
            continue;
        };
        if lines.iter().any(|other| other.name == line.name) {
            cx.error(
                "duplicate-key",
                n.at,
                format!("line `{}` again", line.name),
                "each line name once",
                "rename one",
            );
        }
        lines.push(line);
        places.push(n.at);
    }
    let first = lines.first().map_or(known.usual(), |line| line.ask.comb);
    let full = known.bees_on(first).bees();
    let bees = Bees(cx.quantity(m, "bees", 1.0, Some(full.0)).unwrap_or(0));
    (s::Recipe { lines, bees }, places)
}

/// Warns where the fewest bees do not cover the brood that the lines ask for at least.
fn uncovered(cx: &mut Cx, m: &Map, recipe: &s::Recipe, known: &Known) {
    let cover = |line: &s::Line| {
        let brood = line.ask.brood.least.max(line.ask.sealed.least);
        brood.0 * i64::from(line.count) * known.bees_on(line.ask.comb).bees().0
    };
    let cover = recipe.lines.iter().map(cover).sum::<i64>();
    // Of bees that could not be read, that is what is said.
    let unread = |n: &Node| !word(n).starts_with('0');
    if recipe.bees.0 == 0 && m.get("bees").is_some_and(unread) {
        return;
    }
    if cover > recipe.bees.0 * 1000 {
        let cover = Hundreds(cover.div_euclid(100_000) + i64::from(cover % 100_000 > 0));
        cx.warn(
            "brood-uncovered",
            m.get("bees").map_or(m.at, |n| n.at),
            format!("{} as its fewest bees", recipe.bees.0),
            format!(
                "at least {}, to cover the brood of its lines",
                cover.bees().0
            ),
            "raise `bees`, or ask for less brood",
        );
    }
}
