//! Compartments that stand: next cells in a plan and all that comes with it.

use crate::support::{Folder, file, spareframe, text};
use serde_json::{Value, json};

fn plan(scenario: &str) -> Value {
    let run = spareframe(&["stock", "-", "-q", "--format", "json"]);
    run.stdin(scenario).json()
}

fn second_round() -> String {
    text("second-round")
}

/// The compartments of a list as box and compartment.
fn numbers(list: &Value) -> Vec<(u64, u64)> {
    let number = |c: &Value, key: &str| c[key].as_u64().unwrap();
    let all = list.as_array().unwrap().iter();
    all.map(|c| (number(c, "box_no"), number(c, "compartment")))
        .collect()
}

#[test]
fn next_cells_are_told_from_new_stockings_and_from_what_merely_stands() {
    let plan = plan(&second_round());
    let headline = &plan["headline"];
    let counts = [
        "compartments_stocked",
        "compartments_standing",
        "next_cells_wanted",
        "next_cells",
    ];
    assert_eq!(
        counts.map(|key| headline[key].as_u64()),
        [5, 6, 3, 3].map(Some)
    );
    assert_eq!(
        numbers(&plan["compartments"]),
        [(1, 2), (2, 1), (3, 2), (4, 1), (4, 2)]
    );
    assert_eq!(numbers(&plan["standing"]), [(1, 1), (2, 2), (3, 1)]);
    assert_eq!(plan["standing"][2]["no_next_cell"], "2 rounds have failed");
    // One frame of brood, and one of three comes out; nothing but a cell; bees alone.
    let [first, second, third] = [0, 1, 2].map(|at| &plan["compartments"][at]);
    assert_eq!(first["frames"][0]["line"], "brood");
    assert_eq!(first["frames_out"], 1);
    assert_eq!(first["stands"]["queen"], "none");
    assert_eq!(
        (&second["frames"], &second["bees"]),
        (&json!([]), &json!([]))
    );
    assert_eq!(third["frames"], json!([]));
    assert_eq!(third["bees"][0]["bees"], third["bees_needed"]);
}

#[test]
fn boxes_that_stand_are_not_carried_again_and_a_cell_comes_for_each() {
    let scenario = file("second-round");
    let table = spareframe(&["stock", &scenario])
        .stdout("Stocking plan...")
        .check();
    assert!(
        table.contains("- 1 box, mating box, to fill here, for far meadow\n"),
        "{table}"
    );
    assert!(table.contains("- 5 cells or queens"), "{table}");
    assert!(
        table.contains("take\n   the queen out of mating box 3.2"),
        "{table}"
    );
    let dir = Folder::new();
    let plan = &dir.path("plan.yaml");
    spareframe(&["stock", &scenario, "-q", "--out", plan]).check();
    // All are new: a box is brought, and five cells.
    let none = dir.write("none.yaml", "spareframe_plan: 2\ncompartments: []\n");
    let compared = spareframe(&["compare", &none, plan]).stdout("...").check();
    assert!(compared.contains("1 box, mating box"), "{compared}");
    assert!(
        compared.contains("mating box 2.1: gets a next cell"),
        "{compared}"
    );
    spareframe(&["verify", &scenario, plan])
        .stdout("The plan holds: 5 compartments...")
        .check();
}

#[test]
fn where_there_is_no_cell_for_all_what_lacks_nothing_comes_first() {
    let one = second_round().replace("cells: 5", "cells: 1");
    let plan = plan(&one);
    assert_eq!(numbers(&plan["compartments"]), [(2, 1)]);
    let lacks = &plan["standing"][1]["lacks"];
    assert_eq!(
        lacks,
        &json!({"frames": [{"line": "brood", "frames": 1}], "bees": 0})
    );
    let why = spareframe(&["why", "-"])
        .stdin(one.as_str())
        .stdout("...")
        .check();
    assert!(
        why.contains("- mating box 1.2 lacks 1 frame (brood)"),
        "{why}"
    );
    assert!(why.contains("1 of 5 compartments"), "{why}");
    let most = [
        "stock",
        &file("second-round"),
        "--most",
        "1",
        "-q",
        "--format",
        "json",
    ];
    assert_eq!(numbers(&spareframe(&most).json()["compartments"]), [(2, 1)]);
}

#[test]
fn a_box_with_a_worth_of_more_gets_the_cell_that_one_lacking_nothing_could_have() {
    let one = second_round().replace("cells: 5", "cells: 1");
    let big = "boxes:\n  big box: {count: 1, site: far meadow, recipe: compartment, worth: 2}\n";
    let plan = plan(&one.replace("boxes:\n", big));
    assert_eq!(plan["compartments"][0]["box_kind"], "big box");
}

#[test]
fn wild_cells_are_looked_for_before_the_new_queen_flies() {
    let calendar = ["calendar", &file("second-round"), "--format", "json"];
    let calendar = spareframe(&calendar).json();
    let entries = calendar["entries"].as_array().unwrap();
    let day = |id: &str| {
        let entry = entries.iter().find(|entry| entry["id"] == id).unwrap();
        entry["first_day"].as_str().unwrap().to_owned()
    };
    assert_eq!(day("cells-in"), "2031-06-11");
    assert_eq!(day("wild-cells"), "2031-06-18");
    assert!(day("wild-cells") < day("mating-flights"));
    let first = ["calendar", &file("first-round"), "--format", "json"];
    let first = spareframe(&first).json().to_string();
    assert!(!first.contains("wild-cells"));
}

#[test]
fn what_is_handed_on_names_every_next_cell() {
    let dir = Folder::new();
    let to = dir.path("out");
    spareframe(&["share", &file("second-round"), "--to", &to, "-q"]).check();
    let csv = dir.read("out/frames.csv");
    let next = csv.lines().filter(|line| line.starts_with("next cell,"));
    assert_eq!(next.count(), 3, "{csv}");
    let page = dir.read("out/plan.html");
    for said in [
        "<h2>Bees stand, nothing goes in</h2>",
        "wild cells broken</p>",
        "gets: the cell alone: it lacks nothing",
        "closed carrying box",
    ] {
        assert!(page.contains(said), "{said}");
    }
    let dates = dir.read("out/calendar.ics").replace("\r\n ", "");
    assert!(
        dates.contains("5 mating box (3 of them stand already)"),
        "{dates}"
    );
    assert!(
        dates.contains("SUMMARY:Look for wild cells again"),
        "{dates}"
    );
}

/// Two nuclei whose bees are free to the cost, as the share of brood they give is the greater; a half of a twin and a single
/// without a queen.
const HALF_AND_SINGLE: &str = "
spareframe: 2
day: 2031-06-16
sites:
  home: {at: [48.60, 11.20]}
  quarry: {at: [48.64, 11.27]}
colonies:
  Jutta: {site: home, comb: Zander, role: nucleus, brood: 5 combs, stores: 2 combs, bees: 7 frames}
  Klara: {site: home, comb: Zander, role: nucleus, brood: 3 combs, stores: 2 combs, bees: 5 frames}
store room:
  - {comb: Zander, count: 3, drawn: 100 %}
  - {comb: Zander, count: 4, stores: 75 %}
recipes:
  nuc:
    bees: 3000
    lines:
      - {name: brood, brood: 45 %}
      - {name: food, stores: 50 %, no brood: yes}
      - {name: drawn, drawn: 80 %, no brood: yes, stores: 0 to 20 %, or: [{foundation: yes}]}
    again: {bees: 2500, lines: [{name: brood, brood: 20 %}, {name: food, stores: 30 %}]}
boxes:
  twin: {count: 4, compartments: 2, site: quarry, recipe: nuc}
  single: {count: 2, site: home, recipe: nuc}
cells: 2
standing:
  - {box: twin, number: 1, compartment: 2, since: 2031-05-19, queen: none, seen: 2031-06-15, frames: [
      {comb: Zander, stores: 30 %, bees: 60 %}, {comb: Zander, stores: 20 %, bees: 40 %}, {comb: Zander, bees: 20 %}]}
  - {box: single, number: 1, since: 2031-05-26, queen: none, seen: 2031-06-15, frames: [
      {comb: Zander, stores: 60 %, bees: 60 %}, {comb: Zander, stores: 60 %, bees: 20 %}, {comb: Zander, bees: 20 %}]}
";

#[test]
fn of_plans_as_good_one_gives_its_next_cell_to_each_box_that_stands_before_a_new_one_is_stocked() {
    let headline = &plan(HALF_AND_SINGLE)["headline"];
    let counts = ["compartments_stocked", "next_cells_wanted", "next_cells"];
    assert_eq!(
        counts.map(|key| headline[key].as_u64()),
        [2, 2, 2].map(Some)
    );
    assert_eq!(headline["proof"]["state"], "proved_best");
}
