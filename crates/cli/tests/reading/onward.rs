//! Days that are closed: nothing is made or lost, and a days and b days are a and b days together.

use jiff::ToSpan;
use jiff::civil::Date;
use spareframe::onward::{done, done_by_table, onward};
use spareframe::output::build;
use spareframe::output::share::csv;
use spareframe::scenario::{Loaded, Severity, read};
use spareframe_solver::{
    CombId, Compartment, FrameGroup, FrameState, Hundreds, Outcome, Plan, Scenario, SolveOptions,
    solve,
};
use std::collections::BTreeMap;

/// Figures at random, the same from the same seed (splitmix64).
struct Rng(u64);

impl Rng {
    fn below(&mut self, most: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (z ^ (z >> 31)) % most
    }

    fn of<'a>(&mut self, all: &[&'a str]) -> &'a str {
        all[usize::try_from(self.below(all.len() as u64)).unwrap()]
    }

    fn share(&mut self, least: u64, most: u64) -> String {
        format!("{} %", least + self.below(most - least + 1))
    }
}

/// A yard at random, with comments, in lines and in brackets.
fn yard(seed: u64) -> String {
    let rng = &mut Rng(seed);
    let mut text = "# A yard.\nspareframe: 2\nday: 2031-05-20   # Tuesday\nsites: {home: , hut: , far: }\n\
        distances:\n  - {from: home, to: hut, is: 500 m}\n  - {from: home, to: far, is: 6 km}\n  - {from: hut, to: far, is: 6 km}\n"
        .to_owned();
    if rng.below(3) == 0 {
        text += "counted: 2031-05-12\n";
    }
    text += "colonies:\n";
    for colony in 1..=2 + rng.below(4) {
        let role = rng.of(&["production", "nucleus", "lender"]);
        let site = rng.of(&["home", "far"]);
        let name = rng.of(&["Ash", "\"4", "Elm: "]);
        let name = name.trim_start_matches('"').replace(": ", " b");
        text += &format!(
            "  \"{name} {colony}\":   # colony {colony}\n    site: {site}\n    role: {role}\n"
        );
        if rng.below(2) == 0 {
            let (brood, sealed) = (rng.share(20, 80), rng.share(20, 80));
            text += &format!(
                "    frames:\n      - {{count: {}, brood: {}, sealed: {}, stores: {}}}   # the best\n      \
                 - {{count: 1, brood: {brood}, sealed: {sealed}, queen: yes}}\n      - {{count: {}, stores: {}, bees: {}}}\n      - {{count: {}}}\n",
                2 + rng.below(6),
                rng.share(40, 80),
                rng.share(30, 70),
                rng.share(0, 20),
                1 + rng.below(4),
                rng.share(30, 100),
                rng.share(0, 100),
                1 + rng.below(4),
            );
        } else {
            let brood = 4 + rng.below(5);
            text += &format!(
                "    brood: {brood}.5 combs at {}\n    stores: {}.5 combs\n    empty: {}\n    bees: {} frames\n",
                rng.share(50, 80),
                1 + rng.below(3),
                rng.below(3),
                brood + rng.below(6),
            );
        }
        text += &format!("    extra bees: {}\n", 100 * (10 + rng.below(90)));
        if rng.below(2) == 0 {
            text += "    crop: 20 kg\n    flow: [2031-06-01, 2031-06-25]\n";
        }
        text += "    # more of it\n";
    }
    text += "roles: {lender: {draw: {frames: 6}}}\n";
    text += match rng.below(3) {
        0 => "store room: [{count: 3, stores: 80 %}, {count: 4}, {count: 2, comb: mini}]\n",
        1 => {
            "store room:\n  # combs\n  - {count: 6, drawn: 90 %}   # old ones\n  - count: 2\n    stores: 90 %\n  - {count: 30, comb: mini}\n"
        }
        _ => {
            "store room:\n  - {count: 2}\n  - {count: 5, drawn: 0}\n  - {count: 12, comb: mini, stores: 20 %}\n"
        }
    };
    text += "recipes:\n  half: {bees: 2000, again: {bees: 2500, lines: [{name: again, brood: 20 %}]}, lines: [{name: brood, brood: 40 %}, {name: food, stores: 20 %, no brood: yes, or: [{drawn: 80 %, no brood: yes, feed: 1 kg}]}]}\n  \
        mini: {bees: 600, lines: [{comb: mini, count: 3, drawn: 50 %}]}\nboxes:\n";
    text += &format!(
        "  mating box: {{count: {}, compartments: 2, site: {}, recipe: half}}\n  small box: {{count: {}, site: {}, recipe: mini, worth: 0.6}}\n",
        1 + rng.below(4),
        rng.of(&["home", "hut", "far"]),
        1 + rng.below(4),
        rng.of(&["home", "far"]),
    );
    text += match rng.below(4) {
        0 => "",
        1 => "cells: 9\n",
        2 => "cells: {mating box: 6, small box: 5}   # more\n",
        _ => "cells:\n  - {count: 3, for: [mating box]}\n  - {count: 4}\n",
    };
    text + "# The end.\n"
}

fn loaded(text: &str) -> Loaded {
    let read = read("yard.yaml", text.as_bytes());
    let errors: Vec<_> = read
        .findings
        .iter()
        .filter(|f| f.severity == Severity::Error)
        .collect();
    assert!(errors.is_empty(), "{errors:?}\n{text}");
    read.loaded.unwrap()
}

fn best(scenario: &Scenario) -> Option<Plan> {
    match solve(scenario, &SolveOptions::default()) {
        Outcome::Stocked(found) => Some(found.plan),
        _ => None,
    }
}

/// The text of a day, closed with a plan, so many days on.
fn next(text: &str, plan: Option<&Plan>, days: i32) -> String {
    let loaded = loaded(text);
    let day: Date = loaded.day.unwrap();
    let done = done(&loaded.scenario, plan).unwrap();
    let closed = onward(
        ("yard.yaml", text.as_bytes()),
        &loaded,
        &done,
        (day, (day + days.days()).into()),
    );
    closed
        .unwrap()
        .text
        .unwrap_or_else(|| panic!("cannot be changed:\n{text}"))
}

/// All that there is in colonies, store room and compartments: frames by comb, bees, and thousandths of brood, sealed
/// brood and stores.
#[derive(Debug, Default, PartialEq, Eq)]
struct Sums {
    frames: BTreeMap<CombId, u32>,
    bees: i64,
    brood: i64,
    sealed: i64,
    stores: i64,
}

impl Sums {
    fn of(scenario: &Scenario) -> Self {
        let mut sums = Self::default();
        for colony in &scenario.colonies {
            sums.hive(&colony.frames, colony.extra_bees);
        }
        for spare in &scenario.store_room {
            sums.add(&spare.frame, spare.count);
        }
        for stands in &scenario.standing {
            sums.hive(&stands.frames, stands.extra_bees);
        }
        sums
    }

    fn hive(&mut self, frames: &[FrameGroup], extra: Hundreds) {
        frames.iter().for_each(|g| self.add(&g.frame, g.count));
        self.bees += extra.0;
    }

    fn add(&mut self, frame: &FrameState, count: u32) {
        *self.frames.entry(frame.comb).or_default() += count;
        let times = |figure: i64| figure * i64::from(count);
        self.bees += times(frame.bees.0);
        self.brood += times(frame.brood.0);
        self.sealed += times(frame.sealed.0);
        self.stores += times(frame.stores.0);
    }
}

/// Bees that fly home, of those that go into a compartment.
fn flown(scenario: &Scenario, compartment: &Compartment) -> i64 {
    let to = scenario.boxes[compartment.kind.0].site.0;
    let flies = |from: usize| scenario.distances[from][to] < scenario.drift.homing_metres;
    let of = |bees: &spareframe_solver::PlacedBees| {
        let taken = bees.taken().bees().0;
        match flies(scenario.colonies[bees.colony.0].site.0) {
            true => taken * scenario.drift.flying.0 / 100,
            false => 0,
        }
    };
    compartment.bees.iter().map(of).sum()
}

fn balance(before: &Scenario, after: &Scenario, plan: &Plan, text: &str) {
    let (was, is) = (Sums::of(before), Sums::of(after));
    assert_eq!(was.frames, is.frames, "frames\n{text}");
    assert_eq!(
        (was.brood, was.stores),
        (is.brood, is.stores),
        "brood and stores\n{text}"
    );
    let combs = was.frames.values().sum::<u32>();
    assert!(
        (was.sealed - is.sealed).abs() <= i64::from(combs),
        "sealed\n{text}"
    );
    let flown: i64 = plan.compartments.iter().map(|c| flown(before, c)).sum();
    let lost = 100 * (was.bees - is.bees) - flown;
    // Each compartment is counted to the hundred.
    let most = 50 * plan.compartments.len() as i64;
    assert!(lost.abs() <= most, "bees: {lost} of {flown} flown\n{text}");
    let cells = |scenario: &Scenario| {
        let batches = scenario.cells.as_ref()?.iter();
        Some(batches.map(|batch| i64::from(batch.count)).sum::<i64>())
    };
    let used = cells(before).zip(cells(after)).map(|(was, is)| was - is);
    assert!(
        used.is_none_or(|used| used == plan.compartments.len() as i64),
        "cells\n{text}"
    );
    let stood = |c: &Compartment| before.standing.iter().any(|stands| stands.is(c));
    let new = plan.compartments.iter().filter(|c| !stood(c)).count();
    assert_eq!(after.standing.len(), before.standing.len() + new);
    assert_eq!(after.validate(), Ok(()), "{text}");
}

fn cases(usual: u64) -> std::ops::Range<u64> {
    let set = |name: &str| std::env::var(name).ok().and_then(|v| v.parse().ok());
    let first = set("SPAREFRAME_FIRST_SEED").unwrap_or(0);
    first..first + set("SPAREFRAME_CASES").unwrap_or(usual)
}

/// More boxes for the next round, and as many cells as one likes.
fn with_boxes(text: &str) -> String {
    let mut out = String::new();
    let mut in_cells = false;
    for line in text.lines() {
        in_cells = line.starts_with("cells:") || (in_cells && line.starts_with("  - "));
        if !in_cells {
            out += &line.replace("box: {count: ", "box: {count: 1");
            out += "\n";
        }
    }
    out
}

#[test]
fn a_day_without_anything_done_leaves_the_bytes_as_they_are() {
    for seed in cases(40) {
        let text = yard(seed);
        assert_eq!(next(&text, None, 0), text);
        let later = next(&text, None, 9);
        assert_eq!(
            later.lines().count(),
            text.lines().count() + usize::from(!text.contains("counted"))
        );
    }
}

#[test]
fn nothing_is_made_or_lost_by_closing_a_day() {
    let (mut stocked, mut later, mut again) = (0, 0, 0);
    for seed in cases(60) {
        let text = yard(seed);
        let first = loaded(&text);
        let Some(plan) = best(&first.scenario) else {
            continue;
        };
        stocked += plan.compartments.len();
        let closed = next(&text, Some(&plan), 0);
        assert_eq!(
            text.matches('#').count(),
            closed.matches('#').count()
                + usize::from(!closed.contains("old ones") && text.contains("old ones"))
        );
        balance(&first.scenario, &loaded(&closed).scenario, &plan, &closed);
        // Days later, of colonies as they are expected, with what has become different since.
        let on = with_boxes(&next(&text, Some(&plan), 10));
        // Every other compartment is without a queen, and may get its next cell.
        let mut odd = false;
        let lost = on.split_inclusive('\n').map(|line| {
            odd ^= line.contains("queen: cell");
            if odd {
                line.replace("queen: cell", "queen: none")
            } else {
                line.to_owned()
            }
        });
        let on: String = lost.collect();
        let second = loaded(&on);
        let Some(plan) = best(&second.scenario) else {
            continue;
        };
        later += plan.compartments.len();
        let stood = |c: &Compartment| second.scenario.standing.iter().any(|s| s.is(c));
        again += plan.compartments.iter().filter(|c| stood(c)).count();
        let closed = next(&on, Some(&plan), 0);
        balance(&second.scenario, &loaded(&closed).scenario, &plan, &closed);
        // No compartment holds more than it has room for, but brood that nothing else has room for.
        for stands in &loaded(&closed).scenario.standing {
            let frames = stands
                .frames
                .iter()
                .filter(|group| group.frame.brood.0 == 0);
            let (bare, all) = (
                frames.map(|g| g.count).sum::<u32>(),
                stands.frames.iter().map(|g| g.count),
            );
            assert!(
                bare == 0 || all.sum::<u32>() <= if stands.kind.0 == 0 { 2 } else { 3 },
                "{stands:?}\n{closed}"
            );
        }
        assert!(matches!(
            solve(&loaded(&closed).scenario, &SolveOptions::default()),
            Outcome::Stocked(_) | Outcome::Nothing
        ));
    }
    assert!(
        stocked > 100 && later > 30 && again > 30,
        "{stocked} {later} {again}: the yards are too poor"
    );
}

#[test]
fn days_and_days_are_the_days_together() {
    for seed in cases(40) {
        let text = yard(seed);
        let plan = best(&loaded(&text).scenario);
        let closed = next(&text, plan.as_ref(), 0);
        for (a, b) in [(1, 6), (9, 12)] {
            let parted = loaded(&next(&next(&closed, None, a), None, b));
            let whole = loaded(&next(&text, plan.as_ref(), a + b));
            assert_eq!(parted, whole, "{closed}");
        }
        // Closed and gone on at once, or one after the other.
        assert_eq!(next(&closed, None, 5), next(&text, plan.as_ref(), 5));
    }
}

#[test]
fn the_table_of_a_plan_is_the_plan_carried_out() {
    let mut tables = 0;
    for seed in cases(60) {
        let text = yard(seed);
        let first = loaded(&text);
        let outcome = solve(&first.scenario, &SolveOptions::default());
        let Outcome::Stocked(found) = &outcome else {
            continue;
        };
        let notes = (&first).into();
        let report = build(&first.scenario, &notes, &outcome, &found.goals);
        let table = csv(&report).unwrap();
        let (done, findings) = done_by_table(&first, ("frames.csv", table.as_bytes()));
        assert_eq!(findings, [], "{table}");
        let day = first.day.unwrap();
        let to = (day, (day + 9.days()).into());
        let file = ("yard.yaml", text.as_bytes());
        let closed = onward(file, &first, &done.unwrap(), to).unwrap();
        assert_eq!(
            closed.text,
            Some(next(&text, Some(&found.plan), 9)),
            "{table}"
        );
        tables += 1;
    }
    assert!(tables > 30, "{tables}: the yards are too poor");
}

#[test]
fn what_is_recorded_stands_where_the_plan_says_otherwise() {
    let text = "spareframe: 2\nday: 2031-05-20\nsites: {a: }\ncolonies:\n  Ash: {role: nucleus, frames: [{count: 6, brood: 60 %}, {count: 3, stores: 80 %}], extra bees: 9000}\n\
        recipes: {r: {bees: 1500, lines: [{brood: 40 %}]}}\nboxes: {b: {count: 2, recipe: r}}\n";
    let plan = best(&loaded(text).scenario).unwrap();
    assert_eq!(plan.compartments.len(), 2);
    let recorded = format!(
        "{text}done: [{{box: b, frames: [{{colony: Ash, group: 1}}], bees: {{Ash: 4000}}}}]\n"
    );
    let closed = loaded(&next(&recorded, Some(&plan), 0));
    let bees: Vec<Hundreds> = closed.scenario.standing.iter().map(|s| s.bees()).collect();
    // A third flies home.
    assert_eq!(bees.iter().max(), Some(&Hundreds(27)));
    assert_eq!(closed.scenario.standing.len(), 2);
    // Without the plan, what is recorded alone.
    assert_eq!(loaded(&next(&recorded, None, 0)).scenario.standing.len(), 1);
}

#[test]
fn line_ends_and_brackets_of_a_file_stay_as_they_are() {
    for seed in cases(10) {
        let text = yard(seed);
        let Some(plan) = best(&loaded(&text).scenario) else {
            continue;
        };
        let plain = next(&text, Some(&plan), 6);
        let returns = next(&text.replace('\n', "\r\n"), Some(&plan), 6);
        assert_eq!(returns, plain.replace('\n', "\r\n"));
    }
    let json = r#"{"spareframe": 2, "day": "2031-05-20", "sites": {"a": {}}, "colonies": {"Ash": {"role": "nucleus",
        "frames": [{"count": 6, "brood": 0.6}, {"count": 3, "stores": 0.8}], "extra bees": 9000}},
        "store room": [{"count": 1}, {"count": 2, "drawn": 0}],
        "recipes": {"r": {"bees": 1500, "lines": [{"brood": 0.4}, {"drawn": 0.5, "no brood": true}]}},
        "boxes": {"b": {"count": 2, "recipe": "r"}}, "cells": [{"count": 1}, {"count": 3}],
        "done": [{"box": "b", "frames": [{"colony": "Ash", "group": 1}, {"store room": 1}], "bees": {"Ash": 3000}}]}"#;
    let closed = next(json, None, 7);
    let again = loaded(&closed);
    assert_eq!(again.scenario.standing.len(), 1, "{closed}");
    assert_eq!(again.scenario.store_room.len(), 1);
    assert!(
        closed.contains(r#""day": 2031-05-27, counted: 2031-05-20"#),
        "{closed}"
    );
}
