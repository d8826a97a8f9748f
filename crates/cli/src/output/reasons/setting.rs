//! A change as `PATH=VALUE`, to be tried without touching the file.

use spareframe_solver::why::{Cap, Change, Floor, Limit};
use spareframe_solver::{Ask, BoxKind, CellBatch, Hundreds, Milli, Scenario, share_of};

/// A name as a step of a path.
fn step(name: &str) -> String {
    crate::probe::key(name)
}

/// A text in double quotes, as YAML reads it.
fn text(raw: &str) -> String {
    serde_json::to_string(raw).unwrap_or_default()
}

/// Thousandths as a decimal, without zeros at the end.
fn thousandths(value: i64) -> String {
    let whole = format!("{}.{:03}", value / 1000, value % 1000);
    whole.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn percent(share: i64) -> String {
    let whole = format!("{}.{}", share / 10, share % 10);
    format!("{} %", whole.trim_end_matches(".0"))
}

/// Grams as kilograms.
fn kilograms(grams: i64) -> String {
    format!("{} kg", thousandths(grams))
}

/// A change that is made alone, as `PATH=VALUE`.
pub(crate) fn set(scenario: &Scenario, change: &Change) -> String {
    set_beside(scenario, change, 0)
}

/// The change as `PATH=VALUE`; `place` is its place among those that are made together, from 0.
pub(super) fn set_beside(scenario: &Scenario, change: &Change, place: usize) -> String {
    let by = change.by;
    let colony = change.limit.colony();
    let colony = colony.and_then(|id| scenario.colonies.get(id.0));
    let colony = colony.map_or(String::new(), |colony| step(&colony.name));
    let now = change.limit.now(scenario);
    match change.limit {
        Limit::Frames(ask) => frames(scenario, &ask, by, place),
        Limit::BeesAt(site) => {
            let extra = format!("extra bees: {}", Hundreds(by).bees().0);
            outside(scenario, site.0, &extra, place)
        }
        Limit::Cells => cells(scenario, by),
        Limit::Boxes(id) => format!("boxes.{}.count={}", kind(scenario, id.0), now + by),
        Limit::Whole(id) => format!("boxes.{}.whole=no", kind(scenario, id.0)),
        Limit::HoneyCap => format!("settings.honey cap={}", kilograms(now + by)),
        Limit::Floor(_, floor) => {
            let to = (now - by).max(0);
            let (key, value) = match floor {
                Floor::Brood => ("brood", format!("{} frames", thousandths(to))),
                Floor::Bees => ("bees", Hundreds(to).bees().0.to_string()),
                Floor::Stores => ("stores", kilograms(to)),
                Floor::Drawn => ("drawn", format!("{} frames", thousandths(to))),
                Floor::Covered => ("covered", format!("{to} %")),
            };
            format!("colonies.{colony}.keep.{key}={value}")
        }
        Limit::Cap(_, cap) => {
            let to = now + by;
            let (key, value) = match cap {
                Cap::Frames => ("frames", to.to_string()),
                Cap::Brood => ("brood", format!("{} frames", thousandths(to))),
                Cap::Bees => ("bees", Hundreds(to).bees().0.to_string()),
                Cap::Honey => ("honey", kilograms(to)),
            };
            format!("colonies.{colony}.draw.{key}={value}")
        }
        Limit::Rides(_) => format!("colonies.{colony}.rides={} %", (now - by).max(0)),
        Limit::Hold(_) => format!("colonies.{colony}.hold=no"),
    }
}

fn kind(scenario: &Scenario, index: usize) -> String {
    let kind = scenario.boxes.get(index);
    kind.map_or(String::new(), |kind| step(&kind.name))
}

/// A colony of no name in the file that stands for what comes from outside.
fn outside(scenario: &Scenario, site: usize, what: &str, place: usize) -> String {
    let taken = |name: &str| scenario.colonies.iter().any(|c| c.name == name);
    let name = (1..)
        .map(|n| match n {
            1 => "from outside".to_owned(),
            n => format!("from outside {n}"),
        })
        .filter(|name| !taken(name))
        .nth(place);
    let name = name.unwrap_or_default();
    let site = crate::output::build::site(scenario, site);
    format!(
        "colonies.{name}={{site: {}, draw: all, {what}}}",
        text(&site)
    )
}

fn cells(scenario: &Scenario, by: i64) -> String {
    let batches = scenario.cells.as_deref().unwrap_or_default();
    let for_all = |batch: &&CellBatch| batch.boxes.is_empty();
    let all: i64 = batches
        .iter()
        .filter(for_all)
        .map(|batch| i64::from(batch.count))
        .sum();
    if batches.iter().all(|batch| batch.boxes.is_empty()) {
        return format!("cells={}", all + by);
    }
    let batch = |count: i64, kinds: Vec<&BoxKind>| {
        let kinds: Vec<String> = kinds.iter().map(|kind| text(&kind.name)).collect();
        format!("{{count: {count}, for: [{}]}}", kinds.join(", "))
    };
    let own = batches.iter().filter(|batch| !batch.boxes.is_empty());
    let mut list: Vec<String> = own
        .map(|own| {
            let kinds = own.boxes.iter().filter_map(|id| scenario.boxes.get(id.0));
            batch(own.count.into(), kinds.collect())
        })
        .collect();
    // Where all are for some boxes alone, cells for any box may not be for those that take queens.
    list.push(match batches.iter().any(|batch| for_all(&batch)) {
        true => format!("{{count: {}}}", all + by),
        false => batch(by, scenario.boxes.iter().collect()),
    });
    format!("cells=[{}]", list.join(", "))
}

/// Frames without brood lie in the store room; frames with brood hang in a colony without bees.
fn frames(scenario: &Scenario, ask: &Ask, count: i64, place: usize) -> String {
    let comb = |id: usize| {
        let comb = scenario.combs.get(id);
        text(&comb.map(|comb| comb.name.clone()).unwrap_or_default())
    };
    let (sealed, stores) = (ask.sealed.least.0, ask.stores.least.0);
    let brood = ask.brood.least.0.max(sealed);
    let drawn = ask.drawn.least.0.max(brood + stores);
    let mut held = format!("count: {count}, comb: {}", comb(ask.comb.0));
    if brood > 0 {
        // The file gives the sealed share of the brood.
        let of_brood = (0..=1000).find(|&share| share_of(Milli(share), brood) >= sealed);
        let of_brood = percent(of_brood.unwrap_or(1000));
        held += &format!(", brood: {}, sealed: {of_brood}", percent(brood));
    }
    if stores > 0 {
        held += &format!(", stores: {}", percent(stores));
    }
    held += &format!(", drawn: {}", percent(drawn));
    if brood == 0 {
        return format!("store room[+]={{{held}}}");
    }
    let site = scenario.colonies.first().map(|c| c.site.0);
    let site = site.or(scenario.boxes.first().map(|kind| kind.site.0));
    let frames = format!("frames: [{{{held}, bees: 0 %}}]");
    outside(scenario, site.unwrap_or(0), &frames, place)
}
