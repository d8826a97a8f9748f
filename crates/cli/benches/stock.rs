//! How long reading, solving and checking take.
//!
//! `cargo bench -p spareframe --bench stock` measures; with `-- --test` each runs once.

use divan::{Bencher, black_box};
use rayon::prelude::*;
use spareframe::output::probe::row;
use spareframe::output::share::{Shared, csv, html, ics};
use spareframe::output::{self, Notes, Report, build, held_back_by, json, yaml};
use spareframe::probe::{Typed, question};
use spareframe::scenario::read;
use spareframe_colony::{Colony, Season, Setting};
use spareframe_solver::honey::rates;
use spareframe_solver::why::{WhyOptions, why};
use spareframe_solver::{Draw, Outcome, Scenario, SolveOptions, Stocking, check, curve, solve};
use spareframe_weeks::{Counts, expected};
use std::path::Path;

fn main() {
    divan::main();
}

const NAMES: [&str; 6] = [
    "first-round",
    "forty",
    "home-yard",
    "nuclei",
    "taken-apart",
    "thin-spring",
];

/// Those of them with more than one compartment to check.
const STOCKED: [&str; 5] = ["first-round", "forty", "home-yard", "nuclei", "taken-apart"];

fn text(name: &str) -> Vec<u8> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../scenarios");
    std::fs::read(folder.join(format!("{name}.yaml"))).expect("a scenario of this name")
}

fn scenario(name: &str) -> Scenario {
    let loaded = read(name, &text(name)).loaded;
    loaded.expect("a scenario without errors").scenario
}

/// The first round so many times over: colonies, boxes, cells and spare frames. The crops differ,
/// so that no two colonies are quite alike.
fn yard(times: u32) -> Scenario {
    let one = scenario("first-round");
    let mut yard = one.clone();
    yard.colonies.clear();
    for round in 0..times {
        for colony in &one.colonies {
            let mut colony = colony.clone();
            colony.name = format!("{} of {round}", colony.name);
            if let Some(crop) = &mut colony.crop {
                crop.honey.0 += i64::from(round) * 137 % 4000;
            }
            yard.colonies.push(colony);
        }
    }
    for kind in &mut yard.boxes {
        kind.count *= times;
    }
    for spare in &mut yard.store_room {
        spare.count *= times;
    }
    for batch in yard.cells.iter_mut().flatten() {
        batch.count *= times;
    }
    yard
}

#[divan::bench(args = NAMES)]
fn reading(bencher: Bencher, name: &str) {
    let text = text(name);
    bencher.bench(|| read(name, black_box(&text)));
}

#[divan::bench(args = NAMES)]
fn solving(bencher: Bencher, name: &str) {
    let scenario = scenario(name);
    bencher.bench(|| solve(black_box(&scenario), &SolveOptions::default()));
}

#[divan::bench(args = STOCKED)]
fn checking(bencher: Bencher, name: &str) {
    let scenario = scenario(name);
    let Outcome::Stocked(stocking) = solve(&scenario, &SolveOptions::default()) else {
        panic!("nothing is stocked in {name}")
    };
    bencher.bench(|| check(black_box(&scenario), black_box(&stocking.plan)));
}

/// 9 colonies for each time.
#[divan::bench(args = [1, 4, 16, 22], sample_count = 5)]
fn yards(bencher: Bencher, times: u32) {
    let scenario = yard(times);
    bencher.bench(|| solve(black_box(&scenario), &SolveOptions::default()));
}

/// Forty colonies without caps and with low floors, and boxes and spare frames for so many
/// compartments, so that all of them can be stocked, the later ones for much honey.
fn wide(compartments: u32) -> Scenario {
    let mut yard = scenario("forty");
    for colony in &mut yard.colonies {
        colony.draw = Draw::default();
        colony.keep.brood.0 /= 4;
        colony.keep.bees.0 /= 2;
        colony.keep.stores.0 /= 2;
    }
    for spare in &mut yard.store_room {
        spare.count = spare.count * compartments / 40;
    }
    for kind in &mut yard.boxes {
        kind.count = compartments / kind.compartments;
        kind.whole = false;
    }
    yard.honey_cap = None;
    yard.cells = None;
    yard
}

/// One search, to set the curve against.
#[divan::bench(args = [40, 100], sample_count = 10)]
fn one_of_forty(bencher: Bencher, compartments: u32) {
    let scenario = wide(compartments);
    bencher.bench(|| solve(black_box(&scenario), &SolveOptions::default()));
}

/// The whole curve of the same.
#[divan::bench(args = [40, 100], sample_count = 10)]
fn curve_of_forty(bencher: Bencher, compartments: u32) {
    let scenario = wide(compartments);
    bencher.bench(|| curve(black_box(&scenario), &SolveOptions::default()));
}

/// The reasons of a plan, beside the plan itself in `solving` and `yards`: forty colonies, and the first
/// round 1, 4 and 22 times over, which is 9, 36 and 198 colonies.
#[divan::bench(args = [0, 1, 4, 22], sample_count = 5)]
fn reasons(bencher: Bencher, times: u32) {
    let scenario = match times {
        0 => scenario("forty"),
        times => yard(times),
    };
    let found = solve(&scenario, &SolveOptions::default());
    bencher.bench(|| why(black_box(&scenario), &found, &WhyOptions::default()));
}

/// Honey rates of 9 colonies for each time.
#[divan::bench(args = [1, 16])]
fn rating(bencher: Bencher, times: u32) {
    let yard = yard(times);
    bencher.bench(|| {
        let colonies = black_box(&yard.colonies).iter();
        let rates = colonies.map(|colony| rates(&yard.combs, colony, &yard.colony_model));
        rates.map(|rates| rates.bees).sum::<i64>()
    });
}

/// From the file to a plan in JSON, as `stock` does it.
#[divan::bench(args = ["first-round", "forty"])]
fn one_plan(bencher: Bencher, name: &str) {
    let text = text(name);
    bencher.bench(|| {
        let (scenario, notes, _, report) = planned(name, black_box(&text));
        json(&report).expect("JSON").len() + scenario.colonies.len() + notes.places.colonies.len()
    });
}

/// From the file to all that `share` writes: page with curve, reasons and calendar, Markdown, CSV, iCalendar, JSON
/// and YAML.
#[divan::bench(args = ["first-round", "forty"])]
fn sharing(bencher: Bencher, name: &str) {
    let text = text(name);
    bencher.bench(|| {
        let (scenario, notes, outcome, report) = planned(name, black_box(&text));
        let (found, reasons) = rayon::join(
            || curve(&scenario, &SolveOptions::default()),
            || why(&scenario, &outcome, &WhyOptions::default()),
        );
        let reasons = output::reasons::build(
            &scenario,
            &notes,
            &report,
            &stocked(&outcome).plan,
            &reasons,
        );
        let curve = output::curve::build(&scenario, &notes, &found);
        let calendar = output::calendar::build(&scenario, &notes, &report);
        let shared = Shared {
            when: None,
            notes: &notes,
            scenario: &scenario,
            source: &String::from_utf8_lossy(&text),
            report: &report,
            curve: Some(&curve),
            reasons: Some(&reasons),
            revision: 0,
            calendar: calendar.as_ref(),
            season: None,
            without_season: None,
        };
        let files = [
            html(&shared).expect("a page"),
            output::markdown(&report),
            csv(&report).expect("a table"),
            ics(&report, calendar.as_ref(), None, 0).expect("a day"),
            json(&report).expect("JSON"),
            yaml(&report).expect("YAML"),
        ];
        assert!(files[0].len() < 1_000_000);
        files.iter().map(String::len).sum::<usize>()
    });
}

fn planned(name: &str, text: &[u8]) -> (Scenario, Notes, Outcome, Report) {
    let loaded = read(name, text).loaded.expect("a scenario without errors");
    let notes = Notes::from(&loaded);
    let scenario = loaded.scenario;
    let outcome = solve(&scenario, &SolveOptions::default());
    let (goals, _) = check(&scenario, &stocked(&outcome).plan);
    let mut report = build(&scenario, &notes, &outcome, &goals);
    report.held_back_by = held_back_by(&scenario, &notes, &outcome, &WhyOptions::default());
    (scenario, notes, outcome, report)
}

fn stocked(outcome: &Outcome) -> &Stocking {
    match outcome {
        Outcome::Stocked(stocking) => stocking,
        _ => panic!("nothing is stocked"),
    }
}

/// A hundred alternatives on forty colonies, each read, searched and set beside the plan as it is.
#[divan::bench(sample_count = 5)]
fn probing(bencher: Bencher) {
    let file = text("forty");
    let typed = Typed {
        sets: vec![
            "cells=20..24".into(),
            "settings.honey cap=2..11.5 kg by 0.5".into(),
        ],
        ..Typed::default()
    };
    bencher.bench(|| {
        let (asked, _) = question("forty", black_box(&file), &typed);
        let asked = asked.expect("a question without errors");
        assert_eq!(asked.alternatives.len(), 100);
        let rows: Vec<_> = (asked.alternatives.par_iter())
            .map(|alternative| {
                let loaded = asked
                    .load(alternative)
                    .expect("an alternative without errors");
                let outcome = solve(&loaded.scenario, &SolveOptions::default());
                let Outcome::Stocked(stocking) = &outcome else {
                    panic!("nothing is stocked")
                };
                let (goals, _) = check(&loaded.scenario, &stocking.plan);
                row(&loaded.scenario, &outcome, &goals)
            })
            .collect();
        rows.len()
    });
}

/// Plans of forty colonies on each of 29 days, one after the other.
#[divan::bench(sample_count = 5)]
fn days_of_forty(bencher: Bencher) {
    let yard = scenario("forty");
    bencher.bench(|| {
        let plan = |day| {
            let later = expected(black_box(&yard), &Counts::default(), None, day)
                .expect("nothing is begun");
            solve(&later, &SolveOptions::default())
        };
        (0..=28).map(plan).collect::<Vec<_>>().len()
    });
}

/// A colony carried through 140 days.
#[divan::bench]
fn colony_of_140_days(bencher: Bencher) {
    let season = Some(Season {
        counted: 91,
        later: 0,
    });
    let setting = Setting {
        season,
        ..Setting::default()
    };
    let colony = Colony::counted(30_000.0, 12_600.0, 16_800.0, &setting);
    bencher.bench(|| {
        let mut later = black_box(colony);
        later.run(&setting, 140);
        later
    });
}
