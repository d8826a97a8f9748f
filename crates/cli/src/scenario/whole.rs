//! The scenario as a whole: settings, combs, roles, store room, boxes, cells.

use super::boxes::{boxes, cells};
use super::done::{Counts, done};
use super::fields as t;
use super::frames::frame;
use super::known::Known;
use super::limits::{HUNDREDS, Limits, of_role, percent};
use super::parts::{colony, spell};
use super::places::{Spot, distances, spot, unused};
use super::queens::{queens, without};
use super::rearing::{Rearing, rearing};
use super::recipes::{Recipe, recipe};
use super::standing::{crowded, standing};
use super::stands::Stands;
use super::weeks::{count_day, raised_in};
use super::{Loaded, Places, fit, season};
use crate::reading::{At, Cx, Map, Names, Node, Value, describe, word};
use spareframe_rearing::IntervalId;
use spareframe_solver as s;
use spareframe_solver::honey::Season;
use spareframe_weeks::stands;
use std::collections::BTreeSet;

/// Something with a name, and where it is defined.
pub(crate) struct Defined {
    pub name: String,
    pub at: At,
}

/// Most colonies, or other things by name (a choice: five times the largest yard that was tried).
const MOST_NAMED: usize = 100_000;

/// Calls `each` for every entry of a map by name.
pub(crate) fn named(
    cx: &mut Cx,
    top: &Map,
    key: &str,
    mut each: impl FnMut(&mut Cx, String, &Node),
) {
    let Some(node) = top.get(key) else { return };
    let Some(entries) = cx.entries(node) else {
        return;
    };
    if entries.is_empty() {
        cx.error(
            "empty",
            node.at,
            format!("`{key}` without entries"),
            "at least one",
            "add one",
        );
    }
    if cx.too_many(node.at, entries.len(), key, MOST_NAMED) {
        return;
    }
    if let Some((k, _)) = entries.iter().find(|(k, v)| nameless(key, k, v)) {
        let way_out = format!(
            "give each a name, with its keys under it: `{key}: {{name of it: {{{}: ...}}}}`",
            word(k)
        );
        cx.error(
            "wrong-type",
            k.at,
            format!("{} where a name should be", describe(k)),
            "a name for each",
            way_out,
        );
        return;
    }
    for (k, v) in entries {
        let name = cx.name(k);
        each(cx, name, v);
    }
}

/// Whether an entry is a key of what should have a name, as `count: 2` right under `boxes`.
fn nameless(key: &str, name: &Node, value: &Node) -> bool {
    let section = match key {
        "colonies" => &t::COLONY,
        "boxes" => &t::BOX,
        "recipes" => &t::RECIPE,
        _ => return false,
    };
    let is_key = section.fields.iter().any(|f| f.key == word(name));
    is_key && !matches!(value.value, Value::Map(_))
}

/// A date as year-month-day, zeros included.
fn day_of(text: &str) -> Option<jiff::civil::Date> {
    let date = text.parse::<jiff::civil::Date>().ok()?;
    ((1900..=2200).contains(&date.year()) && text.len() == 10).then_some(date)
}

pub(crate) fn date(cx: &mut Cx, node: &Node) -> Option<jiff::civil::Date> {
    let day = day_of(word(node));
    if day.is_none() {
        cx.error(
            "wrong-type",
            node.at,
            describe(node),
            "a date such as 2031-05-20",
            meant(word(node)).map_or_else(
                || no_such_day(word(node)),
                |day| format!("did you mean `{day}`?"),
            ),
        );
    }
    day
}

/// What is wrong with a day that is written as one and is none.
fn no_such_day(text: &str) -> String {
    let parts: Vec<Option<i16>> = text.split('-').map(|part| part.parse().ok()).collect();
    let [Some(year), Some(month), Some(day)] = parts[..] else {
        return "write year-month-day".to_owned();
    };
    let month = i8::try_from(month).unwrap_or(0);
    match jiff::civil::Date::new(year, month, 1) {
        _ if !(1900..=2200).contains(&year) => "write a year from 1900 to 2200".to_owned(),
        Ok(first) if !(1..=i16::from(first.days_in_month())).contains(&day) => {
            format!("that month has {} days", first.days_in_month())
        }
        Err(_) => "a year has 12 months".to_owned(),
        Ok(_) => "write year-month-day".to_owned(),
    }
}

const MONTHS: [&str; 12] = [
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
];

/// Year first, or day first with points or a month in words, without zeros; with slashes where only one of
/// the two can be the month.
fn meant(text: &str) -> Option<jiff::civil::Date> {
    let parts = text.split(['-', '.', '/', ' ', ',']).map(str::trim);
    let parts: Vec<&str> = parts.filter(|part| !part.is_empty()).collect();
    let [a, b, c] = parts.as_slice() else {
        return None;
    };
    let in_words = |word: &str| {
        let word = word.to_lowercase();
        MONTHS
            .iter()
            .position(|month| word.len() >= 3 && word.starts_with(month))
            .map(|at| at + 1)
    };
    let number = |part: &str| part.parse::<usize>().ok();
    let of = |year: &str, month: usize, day: &str| day_of(&format!("{year}-{month:0>2}-{day:0>2}"));
    match (in_words(a), in_words(b)) {
        (None, None) if a.len() == 4 => of(a, number(b)?, c),
        (None, None) if text.contains('.') => of(c, number(b)?, a),
        (None, None) => match (number(a)?, number(b)?) {
            (month, 13..) => of(c, month, b),
            (13.., month) => of(c, month, a),
            _ => None,
        },
        (None, Some(month)) if a.len() == 4 => of(a, month, c),
        (None, Some(month)) => of(c, month, a),
        (Some(month), _) => of(c, month, b),
    }
}

/// Reads the scenario in the order in which its parts refer to each other.
pub(crate) fn convert(cx: &mut Cx, root: &Node) -> Option<Loaded> {
    if root.get("spareframe_plan").is_some() {
        cx.error(
            "wrong-type",
            root.at,
            "a plan",
            "a scenario",
            "name the scenario; `verify` takes the scenario first, then the plan",
        );
        return None;
    }
    let top = cx.map(root, &t::TOP)?;
    let mut sc = s::Scenario::default();
    let mut places = Places::default();
    let version = cx.quantity(&top, "spareframe", 1.0, None);
    let title = top.get("title").map(|n| cx.name(n));
    let day = top.get("day").and_then(|n| date(cx, n));
    let rides = settings(cx, &top, &mut sc, day);
    let own_combs = combs(cx, &top, &mut sc);
    let mut spots: Vec<Spot> = Vec::new();
    named(cx, &top, "sites", |cx, name, node| {
        let spot = spot(cx, name, node);
        spots.push(spot);
    });
    let mut known = Known {
        combs: sc.combs.clone(),
        comb_names: sc.combs.iter().map(|c| c.name.as_str()).collect(),
        sites: spots.iter().map(|spot| spot.name.as_str()).collect(),
        day,
        has_day: top.get("day").is_some(),
        rides,
        version: version.unwrap_or(t::VERSION as i64),
        ..Known::default()
    };
    let site = |spot: &Spot| s::Site {
        name: spot.name.clone(),
    };
    sc.sites = spots.iter().map(site).collect();
    sc.distances = distances(cx, &top, &spots, &known);
    let dearth = top.get("dearth");
    known.dearth = dearth.and_then(|n| spell(cx, n, &known, "dearth"));
    known.counted = count_day(cx, &top, &known);
    known.model = sc.colony_model;
    let mut rearing = match top.get("rearing") {
        Some(node) => rearing(cx, node, known.has_day),
        None => Rearing::default(),
    };
    known.without = without(&top, &rearing.intervals);
    known.raised = raised_in(&rearing);
    let usual = |id| i32::try_from(rearing.intervals.get(id).usual).unwrap_or(0);
    known.without_queen = usual(IntervalId::NextCell);
    known.cells_in = usual(IntervalId::CellsIn);
    let own_roles = roles(cx, &top, &mut known);
    let mut counts: Vec<Counts> = Vec::new();
    let mut reckoned = Vec::new();
    named(cx, &top, "colonies", |cx, name, node| {
        if let Some(donor) = colony(cx, name, node, &known) {
            let colony = s::ColonyId(sc.colonies.len());
            let give = |(group, frames)| s::Give {
                colony,
                group,
                frames,
            };
            sc.gives.extend(donor.gives.into_iter().map(give));
            sc.colonies.push(donor.colony);
            counts.push(Counts {
                full: donor.full,
                quick: donor.quick,
            });
            places.colonies.push(donor.places);
            places.at_a_glance.push(donor.quick);
            reckoned.push(donor.count);
        }
    });
    let combs = sc.colonies.iter().flat_map(|colony| &colony.frames);
    let combs: BTreeSet<s::CombId> = combs.map(|group| group.frame.comb).collect();
    known.usual = combs.first().copied().filter(|_| combs.len() == 1);
    for n in top.get("store room").map_or(&[][..], |n| cx.list(n)) {
        if let Some(f) = frame(cx, n, known.usual(), &known, true) {
            sc.store_room.push(s::SpareFrames {
                count: f.group.count,
                frame: f.group.frame,
            });
            places.store_room.push(f.place);
        }
    }
    let mut recipes: Vec<(Defined, Recipe)> = Vec::new();
    named(cx, &top, "recipes", |cx, name, node| {
        let recipe = recipe(cx, node, &known);
        recipes.push((Defined { name, at: node.at }, recipe));
    });
    let used = boxes(cx, &top, &recipes, &known, &mut sc, &mut rearing);
    if let Some(node) = top.get("cells") {
        cells(cx, node, &rearing.takes, &mut sc);
    }
    let standing = match top.get("standing") {
        Some(node) => standing(cx, node, (&known, known.counted), &sc),
        None => Vec::new(),
    };
    if let Some(day) = day {
        let of = (&sc.combs[..], &sc.colony_model);
        let then = |one: &Stands| stands(of, &one.stand(day), known.dearth, 0);
        sc.standing = standing.iter().map(then).collect();
        crowded(cx, &top, &sc);
    }
    let queens = queens(cx, &top, (&known, &rearing), &standing, &mut sc);
    let colonies: Names = match top.get("colonies").map(|n| &n.value) {
        Some(Value::Map(entries)) => entries.iter().map(|(name, _)| word(name)).collect(),
        _ => Names::default(),
    };
    let season = top.get("season");
    let season = season.and_then(|n| season::season(cx, n, (&known, &rearing), &sc, &colonies));
    if let Some(node) = top.get("done") {
        done(cx, node, (colonies, &counts), &mut sc);
    }
    // What could not be read would look unused or missing.
    if !cx.failed() {
        unused(cx, &spots, &sc);
        fit::unused(cx, &own_combs, &own_roles, &sc, &known);
        fit::recipes(cx, &recipes, &used, &sc);
    }
    Some(Loaded {
        scenario: sc,
        day,
        title,
        places,
        rearing,
        standing,
        queens,
        season,
        dearth: known.dearth,
        counted: known.counted,
        counts: reckoned,
        ways: counts,
    })
}

/// Reads the settings; returns what rides where neither colony nor role says so.
fn settings(
    cx: &mut Cx,
    top: &Map,
    sc: &mut s::Scenario,
    day: Option<jiff::civil::Date>,
) -> s::Percent {
    sc.colony_model.season = day.map(|day| Season {
        counted: day.day_of_year().into(),
        later: 0,
    });
    let Some(m) = top.get("settings").and_then(|n| cx.map(n, &t::SETTINGS)) else {
        return RIDES;
    };
    if let Some(v) = cx.quantity(&m, "homing distance", 1.0, None) {
        sc.drift.homing_metres = v.unsigned_abs();
    }
    if let Some(share) = percent(cx, &m, "flying share") {
        sc.drift.flying = share;
    }
    if let Some(v) = cx.quantity(&m, "forager mortality", 1000.0, None) {
        sc.colony_model.mortality = s::Milli(v);
    }
    let shift = cx.quantity(&m, "season shift", 1.0, None);
    if let (Some(season), Some(shift)) = (&mut sc.colony_model.season, shift) {
        season.later = i32::try_from(shift).unwrap_or(0);
    }
    sc.honey_cap = cx.quantity(&m, "honey cap", 1.0, None).map(s::Grams);
    if let Some(m) = m.get("prices").and_then(|n| cx.map(n, &t::PRICES)) {
        prices(cx, &m, &mut sc.prices);
    }
    percent(cx, &m, "rides").unwrap_or(RIDES)
}

/// Share of the bees that ride on a brood frame at least (a choice: what a light shake leaves).
const RIDES: s::Percent = s::Percent(50);

fn prices(cx: &mut Cx, m: &Map, prices: &mut s::Prices) {
    for (key, price) in [
        ("burden", &mut prices.burden),
        ("substitute", &mut prices.substitute),
        ("hive opened", &mut prices.opened),
        ("frame drawn otherwise", &mut prices.otherwise),
    ] {
        if let Some(grams) = cx.quantity(m, key, 1.0, None) {
            *price = s::Grams(grams);
        }
    }
}

/// Standard sizes and the file's own; an own one of a standard name stands instead of it.
fn combs(cx: &mut Cx, top: &Map, sc: &mut s::Scenario) -> Vec<Defined> {
    // Bees 130, cells 400 and stores 125 g for each dm2 of a side; two sides, hundredths of dm2.
    let hundreds = |area: i64| s::Hundreds(((area * 260 + 5000) / 10_000).max(1));
    let comb = |name: String, area: i64| s::Comb {
        name,
        bees: hundreds(area),
        cells: area * 8,
        stores: s::Grams(area * 250 / 100),
    };
    let standard = |(n, a, _): &(&str, i64, &str)| comb((*n).to_owned(), *a);
    sc.combs = t::STANDARD.iter().map(standard).collect();
    let mut own = Vec::new();
    named(cx, top, "combs", |cx, name, node| {
        let Some(m) = cx.map(node, &t::COMB) else {
            return;
        };
        let area = cx.quantity(&m, "area", 100.0, None);
        let mut c = comb(name.clone(), area.unwrap_or(0));
        let mut q = |key| cx.quantity(&m, key, 1.0, None);
        let (cells, stores) = (q("cells"), q("stores"));
        let bees = cx.quantity(&m, "bees", HUNDREDS, None);
        if m.get("area").is_none()
            && ["bees", "cells", "stores"]
                .iter()
                .any(|k| m.get(k).is_none())
        {
            cx.error(
                "missing-key",
                node.at,
                "neither `area` nor all of bees, cells, stores",
                "`area`",
                "add `area: 8.8 dm2`",
            );
        }
        c.bees = bees.map_or(c.bees, |bees| s::Hundreds(bees.max(1)));
        c.cells = cells.unwrap_or(c.cells);
        c.stores = stores.map_or(c.stores, s::Grams);
        own.push(Defined { name, at: node.at });
        let standard = t::STANDARD.len();
        match sc
            .combs
            .iter_mut()
            .take(standard)
            .find(|x| x.name == c.name)
        {
            Some(old) => *old = c,
            None => sc.combs.push(c),
        }
    });
    own
}

/// Built-in roles and the file's own; an own one of a built-in name stands instead of it.
fn roles(cx: &mut Cx, top: &Map, known: &mut Known) -> Vec<Defined> {
    known.role_names = ["production", "nucleus"].into_iter().collect();
    known.roles = vec![Limits::production(), Limits::nucleus()];
    let mut own = Vec::new();
    named(cx, top, "roles", |cx, name, node| {
        if let Some(m) = cx.map(node, &t::ROLE) {
            let limits = of_role(cx, &m, known);
            let id = known.role_names.add(&name);
            match known.roles.get_mut(id) {
                Some(built_in) => *built_in = limits,
                None => known.roles.push(limits),
            }
            own.push(Defined { name, at: node.at });
        }
    });
    own
}
