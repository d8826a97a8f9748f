//! Recipes and their lines.

use super::cx::{Cx, Map};
use super::parts::Known;
use super::tables as t;
use super::tree::Node;
use s::{Ask, Bees, CombId, Grams, Milli};
use spareframe_solver as s;

fn ask(cx: &mut Cx, m: &Map, default: CombId, known: &Known) -> Ask {
    let comb = known.comb(cx, m, default);
    let q = |cx: &mut Cx, k: &str| cx.quantity(m, k, 1000.0, None).unwrap_or(0);
    let (brood, sealed, stores, drawn) = (
        q(cx, "brood"),
        q(cx, "sealed"),
        q(cx, "stores"),
        q(cx, "drawn"),
    );
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
fn comb_of(a: Ask) -> CombId {
    match a {
        Ask::AtLeast { comb, .. } | Ask::Foundation { comb } => comb,
    }
}

pub(crate) fn recipe(cx: &mut Cx, node: &Node, known: &Known) -> (Vec<s::Line>, Bees) {
    let Some(m) = cx.map(node, &t::RECIPE) else {
        return (Vec::new(), Bees(0));
    };
    let mut lines: Vec<s::Line> = Vec::new();
    let list = m.get("lines").map_or(&[][..], |n| cx.list(n));
    for (i, n) in list.iter().enumerate() {
        let Some(l) = cx.map(n, &t::LINE) else {
            continue;
        };
        let name = l
            .get("name")
            .map_or_else(|| format!("line {}", i + 1), |n| cx.name(n));
        if lines.iter().any(|x| x.name == name) {
            cx.error(
                "duplicate-key",
                n.at,
                format!("line `{name}` again"),
                "each line name once",
                "rename one",
            );
        }
        let a = ask(cx, &l, CombId(0), known);
        let mut substitutes = Vec::new();
        for n in l.get("or").map_or(&[][..], |n| cx.list(n)) {
            if let Some(o) = cx.map(n, &t::LINE) {
                let ask = ask(cx, &o, comb_of(a), known);
                substitutes.push(s::Substitute {
                    ask,
                    feed: Grams(cx.quantity(&o, "feed", 1.0, None).unwrap_or(0)),
                });
            }
        }
        lines.push(s::Line {
            name,
            count: cx.quantity(&l, "count", 1.0, None).unwrap_or(1) as u32,
            ask: a,
            substitutes,
        });
    }
    let full = lines.first().map(|l| known.bees_on(comb_of(l.ask)));
    let bees = cx.quantity(&m, "bees", 1.0, full).unwrap_or(0);
    (lines, Bees(bees))
}
