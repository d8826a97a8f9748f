//! What each compartment needs in days without flight, and what to buy for it.

use super::super::build::decimal;
use super::super::report::{CompartmentReport, Holds as Content};
use super::super::words::{Words, clean};
use super::build::MATED_QUEENS;
use super::build::Round;
use super::record::{CompartmentFeed, FeedReport, ShoppingItem};
use spareframe_rearing::feed::{Holds, Needs, needs, syrup_of_sugar, water_for_sugar};
use spareframe_solver::{Comb, Scenario};
use std::collections::BTreeMap;

pub(super) fn feed(round: &Round) -> FeedReport {
    let days = round.known.no_flight;
    let combs = combs(round.scenario);
    let stocked = round.report.compartments.iter();
    let fed: Vec<(&CompartmentReport, Needs)> = stocked
        .map(|c| (c, needs(&holds(&combs, c), days)))
        .collect();
    let words = Words::of(round.report);
    let total = fed.iter().map(|(_, needs)| needs.to_feed);
    let total = total.fold(0, i64::saturating_add);
    FeedReport {
        days,
        compartments: fed
            .iter()
            .map(|(c, needs)| compartment(&words, c, needs))
            .collect(),
        shopping: shopping(round, total),
        assumptions: assumptions(),
    }
}

fn combs(scenario: &Scenario) -> BTreeMap<&str, &Comb> {
    let combs = scenario.combs.iter();
    combs.map(|comb| (comb.name.as_str(), comb)).collect()
}

fn holds(combs: &BTreeMap<&str, &Comb>, c: &CompartmentReport) -> Holds {
    let mut all = Holds {
        bees: c.all_bees(),
        substitutes_grams: thousandths(c.feed_kg),
        ..Holds::default()
    };
    for (count, holds) in c.all_frames() {
        if let Some(comb) = combs.get(holds.comb.as_str()) {
            add(&mut all, comb, (count, holds));
        }
    }
    all
}

fn add(all: &mut Holds, comb: &Comb, (count, holds): (u32, &Content)) {
    let share = |share: f64, of: i64| {
        let each = thousandths(share).saturating_mul(of) / 1000;
        each.saturating_mul(i64::from(count))
    };
    let sealed = share(holds.sealed_share, comb.cells);
    let brood = share(holds.brood_share, comb.cells);
    all.sealed_cells = all.sealed_cells.saturating_add(sealed);
    all.open_cells = all.open_cells.saturating_add((brood - sealed).max(0));
    let stores = share(holds.stores_share, comb.stores.0);
    all.stores_grams = all.stores_grams.saturating_add(stores);
}

#[expect(clippy::cast_possible_truncation, reason = "figures of an apiary")]
fn thousandths(value: f64) -> i64 {
    (value * 1000.0).round() as i64
}

fn compartment(words: &Words, c: &CompartmentReport, needs: &Needs) -> CompartmentFeed {
    let kg = |grams: i64| decimal(grams, 1000.0);
    let sugar = kg(needs.to_feed);
    CompartmentFeed {
        name: words.compartment(c),
        box_kind: c.box_kind.clone(),
        box_no: c.box_no,
        compartment: c.compartment,
        site: c.site.clone(),
        use_estimate_kg: kg(needs.used),
        in_stores_kg: kg(needs.in_stores),
        sugar_kg: sugar,
        water_l: rounded(water_for_sugar(sugar)),
        syrup_kg: rounded(syrup_of_sugar(sugar)),
    }
}

/// To a thousandth.
fn rounded(value: f64) -> f64 {
    (value * 1000.0).round() / 1000.0
}

fn item(item: &str, amount: f64, unit: &str) -> ShoppingItem {
    ShoppingItem {
        item: item.to_owned(),
        amount,
        unit: unit.to_owned(),
    }
}

/// Frames of the store room for the gaps in colonies, an item for each look and site.
fn fillers(round: &Round) -> Vec<ShoppingItem> {
    let words = Words::of(round.report);
    let loads = round.report.carry.iter();
    let lines = loads.flat_map(|load| {
        words
            .gap_frames(load)
            .into_iter()
            .map(move |gap| (load, gap))
    });
    let named = lines.map(|(load, (content, frames))| {
        let site = clean(&load.to_site);
        let what = format!("from the store room, for gaps at {site}: {content}");
        (what, frames)
    });
    let unit = |frames| if frames == 1 { "frame" } else { "frames" };
    named
        .map(|(what, frames)| item(&what, decimal(frames, 1.0), unit(frames)))
        .collect()
}

fn shopping(round: &Round, grams: i64) -> Vec<ShoppingItem> {
    let stocked = round.report.headline.compartments_stocked;
    let mut list = Vec::new();
    let queens = stocked - round.cells();
    for (what, count) in [(round.given(), round.cells()), (MATED_QUEENS, queens)] {
        if count > 0 {
            list.push(item(what, f64::from(count), ""));
        }
    }
    if grams > 0 {
        // To the next 100 g and 0.1 L, as it is bought and filled.
        let sugar = decimal(grams.saturating_add(99) / 100, 10.0);
        list.push(item("white sugar", sugar, "kg"));
        let water = (water_for_sugar(sugar) * 10.0).ceil() / 10.0;
        list.push(item("water", water, "L"));
        let syrup = (syrup_of_sugar(sugar) * 10.0).ceil() / 10.0;
        list.push(item("which make syrup", syrup, "kg"));
    }
    list.extend(fillers(round));
    list
}

fn assumptions() -> Vec<String> {
    [
        "Feed is an estimate. A grown bee uses 11 mg of dry sugar a day (Huang 2010, seen), a larva 59.4 mg in all (COLOSS Beebook, second hand).",
        "Bees emerge from the sealed brood and eat; none dies. Brood has the ages of steady laying: 3 days egg, 6 larva, 12 sealed (ACT Beekeepers 2022, seen).",
        "1 kg of sugar makes up for 1.25 kg of honey; syrup is 1 kg of sugar to 0.63 L of water (British Beekeepers Association, seen).",
        "Where a recipe asks for feed in place of stores and that is more, it is that.",
        "Not in it: nectar, pollen, heating on cold nights, robbing.",
    ]
    .map(str::to_owned)
    .to_vec()
}
