//! Recipes and their lines.

use super::fields as t;
use super::parts::Known;
use crate::reading::{At, Cx, Map, Node};
use s::{Ask, Bees, CombId, Grams, Milli};
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
}

fn ask(cx: &mut Cx, m: &Map, default: CombId, known: &Known) -> Ask {
    let comb = known.comb(cx, m, default);
    let mut q = |k: &str| cx.quantity(m, k, 1000.0, None).unwrap_or(0);
    let (brood, sealed, stores, drawn) = (q("brood"), q("sealed"), q("stores"), q("drawn"));
    let bare = cx.flag(m.get("foundation"));
    if brood.max(sealed) + stores > 1000 || (bare && brood + sealed + stores + drawn > 0) {
        cx.error(
            "impossible-line",
            m.at,
            "a line that no frame can meet",
            "brood and stores on one comb; foundation has neither",
            "lower the figures",
        );
    }
    if bare {
        return Ask::Foundation { comb };
    }
    Ask::AtLeast {
        comb,
        brood: Milli(brood),
        sealed: Milli(sealed),
        stores: Milli(stores),
        drawn: Milli(drawn),
    }
}

pub(crate) fn comb_of(a: Ask) -> CombId {
    match a {
        Ask::AtLeast { comb, .. } | Ask::Foundation { comb } => comb,
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
    let ask = ask(cx, &m, CombId(0), known);
    let mut others = m.get("or").map_or(&[][..], |n| cx.list(n));
    if cx.too_many(m.at, others.len(), "substitutes", MOST_SUBSTITUTES) {
        others = &[];
    }
    let substitutes = others
        .iter()
        .filter_map(|n| substitute(cx, n, comb_of(ask), known))
        .collect();
    Some(s::Line {
        name,
        count: cx.count(&m, "count").unwrap_or(1),
        ask,
        substitutes,
    })
}

pub(crate) fn recipe(cx: &mut Cx, node: &Node, known: &Known) -> Recipe {
    let mut out = Recipe::default();
    let Some(m) = cx.map(node, &t::RECIPE) else {
        return out;
    };
    let mut list = m.get("lines").map_or(&[][..], |n| cx.list(n));
    if cx.too_many(m.at, list.len(), "lines", MOST_LINES) {
        list = &[];
    }
    for (i, n) in list.iter().enumerate() {
        let Some(line) = line(cx, n, i + 1, known) else {
            continue;
        };
        if out.lines.iter().any(|other| other.name == line.name) {
            cx.error(
                "duplicate-key",
                n.at,
                format!("line `{}` again", line.name),
                "each line name once",
                "rename one",
            );
        }
        out.lines.push(line);
        out.places.push(n.at);
    }
    let full = out.lines.first().map(|l| known.bees_on(comb_of(l.ask)));
    out.bees = Bees(cx.quantity(&m, "bees", 1.0, full).unwrap_or(0));
    out
}
