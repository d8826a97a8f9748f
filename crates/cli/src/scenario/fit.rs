//! What is odd but possible: things defined and not used, and recipe lines that nothing at
//! hand can fill.

use super::known::Known;
use super::recipes::Recipe;
use super::whole::Defined;
use crate::reading::{At, Cx};
use s::{Ask, CombId, FrameState, Milli, Span};
use spareframe_solver as s;
use std::collections::BTreeSet;

/// Warns of own combs and roles that nothing uses.
pub(crate) fn unused(
    cx: &mut Cx,
    combs: &[Defined],
    roles: &[Defined],
    sc: &s::Scenario,
    known: &Known,
) {
    let lines = sc
        .boxes
        .iter()
        .flat_map(|b| b.lines.iter().chain(&b.again.lines));
    let asked = lines.flat_map(|l| asks(l).map(|ask| ask.comb));
    let there = frames(sc, true).chain(standing(sc)).map(|f| f.comb);
    let used: BTreeSet<CombId> = there.chain(asked).collect();
    for comb in combs {
        let id = known.comb_names.get(&comb.name);
        if id.is_some_and(|id| !used.contains(&CombId(id))) {
            warn(cx, comb, "comb", "a frame or a recipe line of it");
        }
    }
    let used: BTreeSet<&str> = sc.colonies.iter().map(|c| c.role.as_str()).collect();
    for role in roles {
        if !used.contains(role.name.as_str()) {
            warn(cx, role, "role", "a colony of that role");
        }
    }
}

fn warn(cx: &mut Cx, defined: &Defined, what: &str, expected: &str) {
    cx.warn(
        "unused-name",
        defined.at,
        format!("{what} `{}`", defined.name),
        expected,
        "use it or remove it",
    );
}

/// Warns of recipes that no box uses, and of lines of the others that no frame at hand fits.
pub(crate) fn recipes(cx: &mut Cx, recipes: &[(Defined, Recipe)], used: &[bool], sc: &s::Scenario) {
    let at_hand: BTreeSet<FrameState> = frames(sc, false).copied().collect();
    for ((defined, recipe), used) in recipes.iter().zip(used) {
        if !used {
            warn(cx, defined, "recipe", "a box that uses it");
            continue;
        }
        let lines = recipe.lines.iter().zip(&recipe.places);
        let again = recipe.again.lines.iter().zip(&recipe.places_again);
        let held = |line: &s::Line| standing(sc).any(|f| line.place_of(f).is_some());
        let again = again.filter(|(line, _)| !held(line));
        for (line, at) in lines.chain(again) {
            brood_by_accident(cx, line, *at, &at_hand);
            stores_by_accident(cx, line, *at, &at_hand);
            if asks(line).any(|ask| at_hand.iter().any(|f| ask.fits(f))) {
                continue;
            }
            let comb = line.ask.comb;
            let found = if asks(line).any(|ask| at_hand.iter().any(|f| f.comb == ask.comb)) {
                format!("no frame at hand for line `{}`", line.name)
            } else {
                let name = sc.combs.get(comb.0).map_or("", |c| c.name.as_str());
                format!("no frame of comb `{name}` at hand for line `{}`", line.name)
            };
            let others = other_sizes(line, &at_hand, sc);
            let way_out = match others.as_slice() {
                [] => "ask for less, name a substitute in `or`, or add frames".to_owned(),
                [one, ..] => format!(
                    "there are some of {}: write `comb: {one}` in the line, or as a substitute in `or`",
                    others.join(" and ")
                ),
            };
            cx.warn(
                "no-frame-fits",
                *at,
                found,
                "a frame in a colony or in the store room that fits the line or a substitute",
                way_out,
            );
        }
    }
}

/// Sizes of which there are frames that would fit, if the line asked for that size.
fn other_sizes(line: &s::Line, at_hand: &BTreeSet<FrameState>, sc: &s::Scenario) -> Vec<String> {
    let fits = |f: &&FrameState| {
        asks(line).any(|ask| {
            let of_its_size = Ask {
                comb: f.comb,
                ..ask
            };
            ask.comb != f.comb && of_its_size.fits(f)
        })
    };
    let combs: BTreeSet<CombId> = at_hand.iter().filter(fits).map(|f| f.comb).collect();
    let name = |id: &CombId| sc.combs.get(id.0).map(|comb| comb.name.clone());
    combs.iter().filter_map(name).collect()
}

/// Warns of a line, or a substitute of it, that says nothing of brood and that a frame with brood would
/// serve.
fn brood_by_accident(cx: &mut Cx, line: &s::Line, at: At, at_hand: &BTreeSet<FrameState>) {
    let silent = |ask: &Ask, _| ask.brood == Span::ANY && ask.sealed == Span::ANY;
    let with_brood = at_hand.iter().filter(|frame| frame.brood > Milli(0));
    let Some(of) = served(line, with_brood, silent) else {
        return;
    };
    cx.warn(
        "brood-by-accident",
        at,
        format!("frames with brood that fit {of}line `{}`", line.name),
        "`no brood: yes`, or how much brood there may be",
        "add `no brood: yes` for drawn comb or stores, or `brood: 0 to 60 %` if some is fine",
    );
}

/// Warns of a line, or a substitute of it, that asks for drawn comb, says nothing of stores, and that a comb more than half
/// full would serve.
fn stores_by_accident(cx: &mut Cx, line: &s::Line, at: At, at_hand: &BTreeSet<FrameState>) {
    // What is fed in any case is none the worse for stores.
    let silent = |ask: &Ask, feed: s::Grams| {
        let no_brood = ask.brood.least == Milli(0) && ask.sealed.least == Milli(0);
        no_brood && ask.stores == Span::ANY && ask.drawn.least > Milli(0) && feed.0 == 0
    };
    let full = |frame: &&FrameState| frame.stores > Milli(500) && frame.brood == Milli(0);
    let Some(of) = served(line, at_hand.iter().filter(full), silent) else {
        return;
    };
    cx.warn(
        "stores-by-accident",
        at,
        format!("full combs of stores that fit {of}line `{}`", line.name),
        "`stores: 0 to 20 %`, or how much there may be",
        "add `stores: 0 to 20 %` if the comb is to be empty; leave it if full ones are fine",
    );
}

/// Whether one of these frames would serve a line by an ask of this sort; the name of a substitute, if it is one.
fn served<'a>(
    line: &s::Line,
    mut frames: impl Iterator<Item = &'a FrameState>,
    silent: impl Fn(&Ask, s::Grams) -> bool,
) -> Option<String> {
    let others = line.substitutes.iter().map(|sub| (sub.ask, sub.feed));
    let own = (line.ask, s::Grams(0));
    let asks: Vec<(Ask, s::Grams)> = std::iter::once(own).chain(others).collect();
    let place = frames.find_map(|frame| {
        let place = line.place_of(frame)?;
        let asked = asks.get(place).filter(|(ask, feed)| silent(ask, *feed));
        asked.map(|_| place)
    })?;
    Some(match place {
        0 => String::new(),
        place => format!("substitute {place} of "),
    })
}

/// Frames of compartments that stand.
fn standing(sc: &s::Scenario) -> impl Iterator<Item = &FrameState> {
    let groups = sc.standing.iter().flat_map(|stands| &stands.frames);
    groups.map(|g| &g.frame)
}

fn asks(line: &s::Line) -> impl Iterator<Item = Ask> + '_ {
    std::iter::once(line.ask).chain(line.substitutes.iter().map(|sub| sub.ask))
}

/// All frames, or those alone that a plan may use.
fn frames(sc: &s::Scenario, all: bool) -> impl Iterator<Item = &FrameState> {
    let donors = sc.colonies.iter().filter(move |c| all || c.hold.is_none());
    let groups = donors.flat_map(|c| &c.frames);
    groups
        .filter(move |g| all || (!g.queen && g.count > 0))
        .map(|g| &g.frame)
        .chain(sc.store_room.iter().map(|e| &e.frame))
}
