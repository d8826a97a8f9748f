//! Feed for days without flight: what bees and brood use, what is in the combs, what is missing.
//!
//! An estimate. Bees emerge from the sealed brood and eat from then on; none dies; the brood has the
//! ages of steady laying (3 days egg, 6 larva, 12 sealed). Pollen, heating in the cold and what is
//! robbed are not in it.

/// Dry sugar that a grown bee uses in a day, in mg (Huang 2010, Michigan State, seen).
pub const BEE_MG_A_DAY: i64 = 11;

/// Carbohydrate that a larva uses in all, in tenths of mg: 59.4 mg (COLOSS Beebook, second hand).
pub const LARVA_TENTHS_MG: i64 = 594;

/// Days of egg, larva and sealed worker brood (ACT Beekeepers 2022, seen).
const AGES: (i64, i64, i64) = (3, 6, 12);

/// What one compartment holds.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Holds {
    /// Bees that stay.
    pub bees: i64,
    /// Cells of open brood, eggs among them.
    pub open_cells: i64,
    /// Cells of sealed brood.
    pub sealed_cells: i64,
    /// Stores in its combs, in g of honey.
    pub stores_grams: i64,
    /// Feed that its recipe asks for where a substitute serves, in g of honey equivalent.
    pub substitutes_grams: i64,
}

/// What one compartment needs, in g of dry sugar.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Needs {
    /// Used in these days, rounded up.
    pub used: i64,
    /// The same from its stores, rounded down.
    pub in_stores: i64,
    /// To feed: what is missing, or what the recipe asks for if that is more, rounded up.
    pub to_feed: i64,
}

/// What a compartment needs for so many days without flight. Figures below 0 count as 0.
#[must_use]
pub fn needs(holds: &Holds, days: u32) -> Needs {
    let count = |n: i64| i128::from(n.max(0));
    let days = i128::from(days);
    let (egg, larva, sealed) = AGES;
    // Open cells of every age from 0 to 9 days alike; each is fed in the days that it is a larva.
    let open = egg + larva;
    let fed: i128 = (0..open)
        .map(|age| (i128::from(open).min(i128::from(age) + days) - i128::from(age.max(egg))).max(0))
        .sum();
    let larvae = count(holds.open_cells) * fed * i128::from(LARVA_TENTHS_MG);
    let larvae = up(larvae, 10 * i128::from(open) * i128::from(larva));
    // Sealed cells of every age alike: one in twelve emerges each day, and eats from then on.
    let eaten: i128 = (1..=i128::from(sealed))
        .map(|day| (days - day).max(0))
        .sum();
    let bee = i128::from(BEE_MG_A_DAY);
    let young = up(count(holds.sealed_cells) * eaten * bee, i128::from(sealed));
    let used = up(count(holds.bees) * days * bee + larvae + young, 1000);
    let in_stores = count(holds.stores_grams) * 4 / 5;
    let asked = up(count(holds.substitutes_grams) * 4, 5);
    let grams = |n: i128| i64::try_from(n).unwrap_or(i64::MAX);
    Needs {
        used: grams(used),
        in_stores: grams(in_stores),
        to_feed: grams((used - in_stores).max(0).max(asked)),
    }
}

/// Division rounded up, of figures that are not negative.
fn up(n: i128, by: i128) -> i128 {
    (n + by - 1) / by
}

/// Dry sugar for so much honey, both in kg: 1 kg of sugar makes up for 1.25 kg of honey (British
/// Beekeepers Association, seen).
#[must_use]
pub fn sugar_for_honey(kg: f64) -> f64 {
    kg / 1.25
}

/// Water in litres for so much dry sugar in kg: 0.63 L to 1 kg (British Beekeepers Association,
/// seen), which they call 2:1.
#[must_use]
pub fn water_for_sugar(kg: f64) -> f64 {
    kg * 0.63
}

/// Syrup in kg made of so much dry sugar in kg, a litre of water weighing 1 kg.
#[must_use]
pub fn syrup_of_sugar(kg: f64) -> f64 {
    kg + water_for_sugar(kg)
}
