//! What is recorded as done, as the reader has it.

use spareframe::scenario::{Finding, read};
use spareframe_solver::{ColonyId, Compartment, Hundreds, Origin, PlacedBees};

/// The one record of a scenario of Zander frames (2100 bees), and all findings.
fn record(done: &str) -> (Option<Compartment>, Vec<Finding>) {
    let text = format!(
        "spareframe: 2\nsites: {{a: }}\ncolonies:\n  Ash:\n    comb: Zander\n    frames: [{{count: 9, brood: 60 %}}, {{count: 3, stores: 60 %}}]\n\
         recipes:\n  r:\n    bees: 5000\n    lines:\n      - {{name: brood, comb: Zander, count: 2, brood: 50 %}}\n      - {{name: food, comb: Zander, stores: 50 %, no brood: yes}}\n      - {{name: part brood, comb: Zander, brood: 20 %}}\n\
         boxes: {{b: {{count: 1, recipe: r}}}}\ndone:\n  - {{box: b, {done}}}\n"
    );
    let read = read("yard.yaml", text.as_bytes());
    let record = read.loaded.map(|loaded| loaded.scenario.done[0].clone());
    (record, read.findings)
}

fn lines(done: &str) -> Vec<(usize, u32)> {
    let (record, found) = record(done);
    assert_eq!(found, [], "{done}");
    let frames = record.unwrap().frames;
    frames.iter().map(|f| (f.line, f.count)).collect()
}

#[test]
fn frames_of_one_entry_fill_the_lines_that_they_fit_in_their_order() {
    let three = "frames: [{colony: Ash, group: 1, count: 3}]";
    assert_eq!(lines(three), [(0, 2), (2, 1)]);
    let named =
        "frames: [{colony: Ash, group: 1, line: part brood}, {colony: Ash, group: 1, count: 2}]";
    assert_eq!(lines(named), [(2, 1), (0, 2)]);
    let food = "frames: [{colony: Ash, group: 2}]";
    assert_eq!(lines(food), [(1, 1)]);
}

#[test]
fn frames_beyond_the_room_of_all_lines_that_they_fit_are_found() {
    for done in [
        "frames: [{colony: Ash, group: 1, count: 4}]",
        "frames: [{colony: Ash, group: 1, count: 2}, {colony: Ash, group: 1, count: 2}]",
        "frames: [{colony: Ash, group: 1, count: 3, line: brood}]",
        "frames: [{colony: Ash, group: 1, line: food}]",
        "frames: [{colony: Ash, group: 2, count: 2}]",
    ] {
        let codes: Vec<_> = record(done).1.iter().map(|f| f.code).collect();
        assert_eq!(codes, ["frames-misplaced"], "{done}");
    }
}

#[test]
fn bees_are_put_in_as_a_number_or_in_frames_and_halves_of_frames() {
    for (bees, hundreds) in [
        ("1.5 frames", 32),
        ("0.5 frames", 11),
        ("1591", 16),
        ("2 frames", 42),
        ("1_649 bees", 16),
    ] {
        let (record, found) = record(&format!("bees: {{Ash: {bees}}}"));
        assert_eq!(found, [], "{bees}");
        let loose = PlacedBees {
            colony: ColonyId(0),
            riding: Hundreds(0),
            loose: Hundreds(hundreds),
        };
        assert_eq!(record.unwrap().bees, [loose], "{bees}");
    }
}

#[test]
fn no_more_bees_are_put_in_than_there_were() {
    // 9 x 21 + 3 x 11 hundreds.
    assert_eq!(record("bees: {Ash: 22_200}").1, []);
    let found = record("bees: {Ash: 22_300}").1;
    assert_eq!(found[0].found, "22300 bees taken of 22200");
}

/// The one record of a colony in quick counts: six combs of brood and half of one, three of stores.
fn of_counts(done: &str) -> (Option<Compartment>, Vec<Finding>) {
    let text = format!(
        "spareframe: 2\nsites: {{a: }}\ncolonies: {{Ash: {{brood: 6.5 combs, stores: 3 combs, bees: 20_000}}}}\n\
         recipes: {{r: {{bees: 5000, lines: [{{name: brood, count: 8, brood: 20 %}}, {{name: food, stores: 50 %, no brood: yes}}]}}}}\n\
         boxes: {{b: {{count: 1, recipe: r}}}}\ndone:\n  - {{box: b, frames: [{{colony: Ash, {done}}}]}}\n"
    );
    let read = read("yard.yaml", text.as_bytes());
    let record = read.loaded.map(|loaded| loaded.scenario.done[0].clone());
    (record, read.findings)
}

#[test]
fn frames_of_quick_counts_are_named_as_they_were_counted() {
    let taken = |done: &str| {
        let (record, found) = of_counts(done);
        assert_eq!(found, [], "{done}");
        let frames = record.unwrap().frames;
        let each = frames.iter().map(|f| (f.line, f.origin, f.count));
        each.collect::<Vec<_>>()
    };
    let group = |group| Origin::Colony(ColonyId(0), group);
    // The half comb of brood is a group of its own, and no stores.
    assert_eq!(taken("of: stores"), [(1, group(2), 1)]);
    assert_eq!(
        taken("of: brood, count: 7"),
        [(0, group(0), 6), (0, group(1), 1)]
    );
}

#[test]
fn a_group_number_of_quick_counts_is_asked_about() {
    let first = |done: &str| {
        let found = of_counts(done).1;
        (found[0].code, found[0].way_out.clone())
    };
    let group = first("group: 2");
    assert_eq!(
        group,
        ("two-meanings", "write `of: stores` instead".to_owned())
    );
    assert_eq!(first("count: 2").0, "missing-key");
    assert_eq!(first("of: brood, count: 8").0, "not-to-take");
    assert_eq!(first("of: foundation").0, "not-to-take");
    let listed = record("frames: [{colony: Ash, of: brood}]").1;
    assert_eq!(listed[0].way_out, "write `group:` instead");
}
