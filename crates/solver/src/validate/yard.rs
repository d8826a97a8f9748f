//! Combs, places, boxes, cells and settings.

use super::{
    Findings, Flaw, MOST_BEES, MOST_CELLS, MOST_COUNT, MOST_GRAMS, MOST_ON_A_COMB, MOST_PRICE,
    MOST_WORTH, at,
};
use crate::scenario::{Ask, Line, Scenario};
use crate::units::Bees;
use std::fmt::Display;

pub(super) fn combs(scenario: &Scenario, findings: &mut Findings) {
    findings.names("combs", scenario.combs.iter().map(|comb| &comb.name));
    for (index, comb) in scenario.combs.iter().enumerate() {
        let of = &at("combs", index);
        findings.within(of, "bees", comb.bees.0, (1, MOST_ON_A_COMB));
        findings.within(of, "cells", comb.cells, (0, MOST_CELLS));
        findings.within(of, "stores", comb.stores.0, (0, MOST_GRAMS));
    }
}

pub(super) fn places(scenario: &Scenario, findings: &mut Findings) {
    findings.names("sites", scenario.sites.iter().map(|site| &site.name));
    let (rows, sites) = (&scenario.distances, scenario.sites.len());
    let square = rows.len() == sites && rows.iter().all(|row| row.len() == sites);
    if !square {
        findings.add("distances", Flaw::NotSquare);
        return;
    }
    for (from, row) in rows.iter().enumerate() {
        for (to, &metres) in row.iter().enumerate() {
            let back = rows.get(to).and_then(|row| row.get(from));
            let field = || format!("distances[{from}][{to}]");
            if from == to && metres != 0 {
                findings.range(field(), metres.into(), 0, 0);
            } else if from < to && back != Some(&metres) {
                findings.add(field(), Flaw::NotSymmetric);
            }
        }
    }
}

pub(super) fn boxes(scenario: &Scenario, findings: &mut Findings) {
    findings.names("boxes", scenario.boxes.iter().map(|kind| &kind.name));
    for (index, kind) in scenario.boxes.iter().enumerate() {
        let of = &at("boxes", index);
        findings.within(of, "count", kind.count.into(), (0, MOST_COUNT));
        let compartments = kind.compartments.into();
        findings.within(of, "compartments", compartments, (1, MOST_COUNT));
        findings.id(of, "site", kind.site.0, scenario.sites.len());
        findings.within(of, "worth", kind.worth.0, (1, MOST_WORTH));
        recipe(scenario, of, (&kind.lines, kind.bees), findings);
        let again = format!("{of}.again");
        recipe(
            scenario,
            &again,
            (&kind.again.lines, kind.again.bees),
            findings,
        );
    }
}

fn recipe(scenario: &Scenario, of: &str, (lines, bees): (&[Line], Bees), findings: &mut Findings) {
    findings.within(&of, "bees", bees.0, (0, MOST_BEES));
    let list = format!("{of}.lines");
    findings.names(&list, lines.iter().map(|line| &line.name));
    for (index, line) in lines.iter().enumerate() {
        self::line(scenario, &at(&list, index), line, findings);
    }
}

fn line(scenario: &Scenario, of: &str, line: &Line, findings: &mut Findings) {
    findings.within(&of, "count", line.count.into(), (1, MOST_COUNT));
    ask(scenario, &format!("{of}.ask"), &line.ask, findings);
    for (index, substitute) in line.substitutes.iter().enumerate() {
        let of = &at(&format!("{of}.substitutes"), index);
        ask(scenario, &format!("{of}.ask"), &substitute.ask, findings);
        findings.within(of, "feed", substitute.feed.0, (0, MOST_GRAMS));
    }
}

fn ask(scenario: &Scenario, of: &dyn Display, ask: &Ask, findings: &mut Findings) {
    findings.id(of, "comb", ask.comb.0, scenario.combs.len());
    let spans = [
        ("brood", ask.brood),
        ("sealed", ask.sealed),
        ("stores", ask.stores),
        ("drawn", ask.drawn),
    ];
    for (name, span) in spans {
        let most = span.most.0.clamp(0, 1000);
        findings.within(of, &format!("{name}.most"), span.most.0, (0, 1000));
        findings.within(of, &format!("{name}.least"), span.least.0, (0, most));
    }
}

pub(super) fn cells(scenario: &Scenario, findings: &mut Findings) {
    for (index, batch) in scenario.cells.iter().flatten().enumerate() {
        let of = &at("cells", index);
        for (index, kind) in batch.boxes.iter().enumerate() {
            findings.id(of, &at("boxes", index), kind.0, scenario.boxes.len());
        }
    }
}

pub(super) fn settings(scenario: &Scenario, findings: &mut Findings) {
    findings.within(&"drift", "flying", scenario.drift.flying.0, (0, 100));
    if let Some(cap) = scenario.honey_cap {
        let (found, most) = (cap.0.into(), i64::MAX.into());
        findings.range("honey_cap", found, 0, most);
    }
    let prices = &scenario.prices;
    for (name, price) in [
        ("burden", prices.burden),
        ("substitute", prices.substitute),
        ("opened", prices.opened),
        ("otherwise", prices.otherwise),
    ] {
        findings.within(&"prices", name, price.0, (0, MOST_PRICE));
    }
    let mortality = scenario.colony_model.mortality.0;
    findings.within(&"colony_model", "mortality", mortality, (0, 1000));
}
