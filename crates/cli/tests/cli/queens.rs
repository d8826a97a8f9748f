//! Mated queens out of what stands: who gets which, on which day, in every output.

use crate::support::{Folder, spareframe, text};
use serde_json::Value;

const OUT: &str = "queens-out";

fn plan(scenario: &str) -> Value {
    let run = spareframe(&["stock", "-", "-q", "--format", "json"]);
    run.stdin(scenario).json()
}

fn said(args: &[&str], scenario: &str) -> String {
    let run = spareframe(args).stdin(scenario);
    let text = run.stdout("...").check();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Colony, the compartment of its queen, when the old one is out, when the new one is in.
fn colonies(plan: &Value) -> Vec<[String; 4]> {
    let word = |v: &Value| v.as_str().unwrap_or("-").to_owned();
    let colonies = plan["queens"]["colonies"].as_array().unwrap().iter();
    colonies
        .map(|c| {
            let gets = &c["gets"]["queen"];
            [&c["colony"], gets, &c["old_queen_out"], &c["goes_in"]].map(word)
        })
        .collect()
}

fn is(colony: [&str; 4]) -> [String; 4] {
    colony.map(str::to_owned)
}

fn caution<'a>(plan: &'a Value, id: &str) -> Option<&'a str> {
    let mut all = plan["cautions"].as_array().unwrap().iter();
    all.find(|c| c["id"] == id)
        .map(|c| c["text"].as_str().unwrap())
}

#[test]
fn queens_go_to_colonies_in_order_and_then_to_boxes() {
    let plan = plan(&text(OUT));
    let none = "2031-06-28";
    assert_eq!(
        colonies(&plan),
        [
            is(["Linden", "mating box 1.1", none, "2031-06-30"]),
            is(["Hazel", "mating box 2.1", "2031-06-30", "2031-07-02"]),
        ]
    );
    let stocked = plan["compartments"].as_array().unwrap();
    let nuclei: Vec<_> = stocked
        .iter()
        .filter(|c| c["box_kind"] == "nucleus box")
        .collect();
    assert_eq!(nuclei.len(), 1, "two queens of three are given to colonies");
    assert_eq!(nuclei[0]["queen"]["from"], "mating box 1.2");
    let queens = &plan["queens"];
    assert_eq!(
        (&queens["at_hand"], &queens["boxes_on"]),
        (&3.into(), &"2031-07-01".into())
    );
    assert_eq!(queens["later"][0]["queen"], "mating box 2.2");
    assert_eq!(queens["later"][0]["of_age"], "2031-07-04");
    let accepted = queens["accepted"].as_array().unwrap();
    let shares: Vec<_> = accepted
        .iter()
        .map(|a| (&a["queens"], &a["least_share"], &a["most_share"]))
        .collect();
    let (two, one) = (2.into(), 1.into());
    let [full, nuclei] =
        [(0.49, 0.81), (0.75, 0.95)].map(|(least, most)| (Value::from(least), Value::from(most)));
    assert_eq!(
        shares,
        [(&two, &full.0, &full.1), (&one, &nuclei.0, &nuclei.1)]
    );
    // Linden was prepared in time, Hazel is not.
    let old = caution(&plan, "old-queen").unwrap();
    assert!(
        old.contains("still in colony Hazel") && old.contains("past the day for colony Hazel"),
        "{old}"
    );
    assert!(caution(&plan, "queen-in").unwrap().contains("wild cells"));
    assert!(caution(&plan, "queen-look").is_some());
    assert_eq!(caution(&plan, "long-queenless"), None);
    let unseen = caution(&plan, "queen-not-located");
    assert!(unseen.is_none_or(|text| !text.contains("Linden")));
}

#[test]
fn a_colony_without_a_queen_at_hand_waits_for_the_next_or_for_none() {
    let scenario = text(OUT).replace(
        "requeen:\n",
        "requeen:\n  - {colony: Rowan, prepared: 2031-06-02}\n",
    );
    let scenario = scenario.replace("seen: 2031-06-20,", "seen: 2031-06-24,");
    let found = plan(&scenario);
    assert_eq!(
        colonies(&found),
        [
            is(["Rowan", "mating box 1.1", "2031-06-02", "2031-06-30"]),
            is(["Linden", "mating box 2.1", "2031-06-28", "2031-06-30"]),
            is(["Hazel", "mating box 1.2", "2031-06-30", "2031-07-02"]),
        ]
    );
    // Its queen is of age two days from now, and its old queen goes out today, in time.
    let words = said(&["stock", "-", "-q"], &scenario);
    assert!(
        words.contains("where she is of age on Wed 2031-07-02; she goes in on Wed 2031-07-02."),
        "{words}"
    );
    assert!(!words.contains("past the day"), "{words}");
    assert!(
        caution(&found, "long-queenless")
            .unwrap()
            .contains("colony Rowan")
    );
    assert!(!words.contains("Nucleus box 1"), "no queen is left for it");
    let none = text(OUT)
        .replace("queen: to be taken", "queen: laying")
        .replace("queen: mated", "queen: laying");
    let words = said(&["stock", "-", "-q"], &none);
    assert!(
        words.contains(
            "Colony Hazel, at orchard: no queen is in sight for it; leave its old queen in."
        ),
        "{words}"
    );
    assert!(
        words.contains("it has had none since Sat 2031-06-28: give it a cell, or unite it."),
        "{words}"
    );
    let late = text(OUT).replace("by: 2031-07-10", "by: 2031-07-01");
    let words = said(&["stock", "-", "-q"], &late);
    assert!(
        words.contains("That is later than Tue 2031-07-01."),
        "{words}"
    );
}

#[test]
fn the_calendar_has_the_days_of_each_colony_and_of_boxes() {
    let run = spareframe(&["calendar", "-", "--format", "json"]);
    let calendar = run.stdin(text(OUT)).json();
    let entries = calendar["entries"].as_array().unwrap();
    let day = |id: &str| {
        let entry = entries.iter().find(|e| e["id"] == id);
        entry.map(|e| e["first_day"].as_str().unwrap())
    };
    for (id, first) in [
        ("queen-in-1", Some("2031-06-30")),
        ("queen-look-1", Some("2031-07-03")),
        ("old-queen-1", None),
        ("old-queen-2", Some("2031-06-30")),
        ("queen-in-2", Some("2031-07-02")),
        ("queen-look-2", Some("2031-07-05")),
        ("box-queens-2", Some("2031-07-01")),
        ("box-look-2", Some("2031-07-15")),
        ("cells-in", Some("2031-07-01")),
    ] {
        assert_eq!(day(id), first, "{id}");
    }
    assert_eq!(
        calendar["expected_queens"]["compartments"], 1,
        "the one with a cell"
    );
    assert_eq!(calendar["accepted"].as_array().unwrap().len(), 2);
    let used = calendar["intervals"].as_array().unwrap();
    let used = |key: &str| used.iter().any(|i| i["key"] == key);
    assert!(used("queenless before") && used("in the cage"));
    // One's own days.
    let own = text(OUT).replace(
        "rearing:\n",
        "rearing:\n  intervals: {queenless before: 5 days}\n",
    );
    let run = spareframe(&["calendar", "-", "--format", "json"])
        .stdin(own)
        .json();
    let entries = run["entries"].as_array().unwrap();
    let hazel = entries.iter().find(|e| e["id"] == "queen-in-2").unwrap();
    assert_eq!(hazel["first_day"], "2031-07-05");
    // Where boxes take queens alone, nothing is reared for them.
    let alone = text(OUT).replace("cells: 1", "cells: 0");
    let run = spareframe(&["calendar", "-", "--format", "json", "-q"])
        .stdin(alone)
        .json();
    let entries = run["entries"].as_array().unwrap();
    let ids: Vec<_> = entries.iter().map(|e| e["id"].as_str().unwrap()).collect();
    assert!(
        ids.contains(&"queens-in") && !ids.contains(&"mating-flights") && !ids.contains(&"graft"),
        "{ids:?}"
    );
    assert_eq!(run["expected_queens"]["least_share"], 0.75);
    // Queens alone: their days, and none of a rearing that nobody speaks of.
    let alone = text(OUT).replace("  grafted: 2031-06-21 ", "  no flight: 6 days #");
    let alone = alone.replace("cells: 1", "cells: {mating box: 0, nucleus box: 0}");
    let run = spareframe(&["calendar", "-", "--format", "json", "-q"]);
    let run = run.stdin(alone).json();
    let ids = run["entries"]
        .as_array()
        .unwrap()
        .iter()
        .map(|e| e["id"].as_str().unwrap());
    let ids: Vec<_> = ids.collect();
    assert_eq!(
        ids,
        [
            "queen-in-1",
            "old-queen-2",
            "queen-in-2",
            "queen-look-1",
            "queen-look-2"
        ]
    );
    assert!(run["mind"].to_string().contains("wild cells"));
}

#[test]
fn what_is_handed_on_names_each_queen_where_she_is_taken_and_where_she_goes() {
    let page = said(&["share", "-", "--format", "html"], &text(OUT));
    for line in [
        "find the queen before anything else and take her out; be sure that there is no second one",
        "Mon 2031-06-30: take the queen out of mating box 1.1, for colony Linden",
        "Tue 2031-07-01: take the queen out of mating box 1.2, for nucleus box 1",
        "Wed 2031-07-02: break all wild cells in colony Hazel; then its queen in, from mating box 2.1",
        "Colony Linden, at orchard: queen from mating box 1.1, at old quarry; she goes in today.",
        "<dt>Queen</dt><dd>queen from mating box 1.2",
        "Accepted (estimate): 1.0 to 1.6 of 2 into full colonies",
    ] {
        assert!(page.contains(line), "{line}");
    }
    let folder = Folder::new();
    let path = folder.write("yard.yaml", text(OUT));
    let table = spareframe(&["share", &path, "--format", "csv"])
        .stdout("...")
        .check();
    let rows: Vec<&str> = table
        .lines()
        .filter(|row| row.starts_with("queen,"))
        .collect();
    assert_eq!(rows.len(), 3, "{table}");
    assert!(
        rows[1].ends_with(",mating box 1.1,Linden,2031-06-30"),
        "{table}"
    );
    // A plan with queens is read back.
    let plan = folder.path("plan.json");
    spareframe(&["stock", &path, "--out", &plan, "-q"]).check();
    spareframe(&["verify", &path, &plan]).stdout("...").check();
}

#[test]
fn what_stands_is_shown_with_where_its_queens_go() {
    let words = said(&["standing", "-"], &text(OUT));
    assert!(
        words.contains("3 mated queens at hand, 1 of age later."),
        "{words}"
    );
    assert!(
        words.contains("Colony Linden, at orchard: queen from mating box 1.1"),
        "{words}"
    );
    assert!(
        words.contains("Free, to keep or to sell: mating box 1.2, at old quarry."),
        "{words}"
    );
    let json = spareframe(&["standing", "-", "--format", "json"])
        .stdin(text(OUT))
        .json();
    assert_eq!(json["queens"]["colonies"][1]["goes_in"], "2031-07-02");
}

#[test]
fn queens_from_elsewhere_are_counted_with_the_cells() {
    let bought = text(OUT).replace("cells: 1", "cells: {mating box: 1, nucleus box: 2}");
    let plan = plan(&bought);
    let stocked = plan["compartments"].as_array().unwrap();
    let from = stocked.iter().filter_map(|c| c["queen"]["from"].as_str());
    assert_eq!(from.collect::<Vec<_>>(), ["mating box 1.2", "elsewhere"]);
}

#[test]
fn a_later_day_has_the_queens_that_are_of_age_by_then() {
    let run = spareframe(&[
        "when",
        "-",
        "--until",
        "2031-07-04",
        "--every",
        "2",
        "--format",
        "json",
    ]);
    let when = run.stdin(text(OUT)).json();
    let stocked = when["days"].as_array().unwrap().iter();
    let stocked: Vec<_> = stocked
        .map(|day| day["compartments_stocked"].as_u64().unwrap())
        .collect();
    assert_eq!(stocked, [2, 2, 3]);
}

const GIVEN: &str =
    "closed 2031-06-30: 2 compartments with bees from 1 colony; 2 queens given; it is now ";

/// The scenario after its day, with its plan carried out.
fn closed(scenario: &str, to: &str, said: &str) -> String {
    let folder = Folder::new();
    let path = folder.write("yard.yaml", scenario);
    let plan = folder.path("plan.json");
    let stock = spareframe(&["stock", &path, "--out", &plan, "-q"]);
    stock.check();
    let next = folder.path("next.yaml");
    let args = ["onward", &path, "--plan", &plan, "--to", to, "--out", &next];
    let run = spareframe(&args).stderr(&format!("{said}..."));
    run.check();
    std::fs::read_to_string(next).unwrap()
}

#[test]
fn a_day_that_is_closed_gives_colonies_their_queens_and_makes_colonies_of_nuclei() {
    let next = closed(&text(OUT), "2031-07-02", GIVEN);
    let read = spareframe::scenario::read("next.yaml", next.as_bytes());
    let found: Vec<_> = read.findings.iter().map(|f| f.code).collect();
    assert_eq!(found, ["no-cells"], "no cell is left");
    let loaded = read.loaded.unwrap();
    let names: Vec<_> = loaded
        .scenario
        .colonies
        .iter()
        .map(|c| c.name.as_str())
        .collect();
    assert_eq!(names, ["Linden", "Hazel", "Rowan", "nucleus box 1"]);
    let nucleus = &loaded.scenario.colonies[3];
    assert_eq!((nucleus.role.as_str(), nucleus.site.0), ("nucleus", 1));
    assert_eq!(nucleus.frames.iter().map(|g| g.count).sum::<u32>(), 3);
    assert_eq!(loaded.scenario.boxes[1].count, 1, "its box is used");
    assert!(loaded.scenario.standing.iter().all(|s| s.kind.0 == 0));
    // Two queens have left, and none of theirs is at hand; Hazel has been without one for two days.
    let queens = &loaded.queens;
    let stand: Vec<_> = queens.stand.iter().map(|q| q.name.as_str()).collect();
    assert_eq!(stand, ["mating box 2.1", "mating box 2.2"]);
    assert_eq!(queens.requeen.len(), 1);
    let stock = spareframe(&["stock", "-", "-q", "--format", "json"]);
    let plan = stock.stdin(next.as_str()).json();
    assert_eq!(
        colonies(&plan),
        [is(["Hazel", "mating box 2.1", "2031-06-30", "2031-07-02"])]
    );
    assert!(next.contains("requeened: 2031-06-30"), "{next}");
    let empty = loaded
        .standing
        .iter()
        .filter(|s| s.queen == spareframe::scenario::Queen::None);
    assert_eq!(empty.count(), 2, "{next}");
    // Once all have their queens there is nothing to requeen, and the cells are as they were.
    let after = closed(&next, "2031-07-05", "");
    assert!(!after.contains("requeen:"), "{after}");
    assert!(after.contains("cells: 0"), "{after}");
}

#[test]
fn names_of_new_colonies_are_free_and_written_so_that_they_are_read() {
    let odd = text(OUT)
        .replace("nucleus box:", "\"nuc: 3\":")
        .replace("  Rowan:", "  \"nuc: 3 1\":");
    let next = closed(&odd, "2031-07-01", GIVEN);
    let loaded = spareframe::scenario::read("next.yaml", next.as_bytes())
        .loaded
        .unwrap();
    assert_eq!(loaded.scenario.colonies[3].name, "nuc: 3 2");
}

#[test]
fn a_day_on_which_queens_alone_go_out_is_no_day_without_work() {
    // No nucleus is ever so strong.
    let alone = text(OUT).replace("    bees: 5000\n", "    bees: 500000\n");
    let alone = alone.replace("\ncells: ", "\ncells: 0 # ");
    for command in ["stock", "calendar"] {
        let said = said(&[command, "-", "-q"], &alone);
        assert!(said.contains("Linden"), "{said}");
    }
    let folder = Folder::new();
    let to = folder.path("plan");
    spareframe(&["share", "-", "-q", "--to", &to])
        .stdin(alone.clone())
        .check();
    // Nothing is stocked, and no queen goes anywhere today.
    let nothing = alone.replace("  - {colony: Linden, prepared: 2031-06-28}\n", "");
    let nothing = nothing.replace("to be taken, seen: 2031-06-30", "laying, seen: 2031-06-30");
    let nothing = nothing.replace("queen: mated", "queen: laying");
    spareframe(&["stock", "-", "-q"])
        .stdin(nothing)
        .code(1)
        .stdout("...")
        .check();
}

#[test]
fn a_nucleus_in_a_parted_box_stands_with_the_queen_that_it_was_given() {
    let parted = text(OUT).replace(
        "nucleus box: {count: 2,",
        "nucleus box: {count: 1, compartments: 2,",
    );
    assert!(parted.contains("compartments: 2, site: old quarry, recipe: nucleus"));
    let rounds = |text: &str| {
        let run = spareframe(&["standing", "-", "-q"])
            .stdin(text)
            .stdout("...")
            .check();
        let at = run.find("Success so far").unwrap();
        run[at..].lines().next().unwrap().to_owned()
    };
    let next = closed(&parted, "2031-07-01", GIVEN);
    assert!(
        next.contains("- box: nucleus box") && next.contains("nucleus box: {count: 1,"),
        "{next}"
    );
    let shown = said(&["standing", "-", "-q"], &next);
    let wanted = "a nucleus with the queen that it was given: write it into `colonies` once it has a hive of its own: \
                  nucleus box 1.1";
    assert!(shown.contains(wanted), "{shown}");
    // She is no round of her own.
    assert_eq!(rounds(&next), rounds(&parted));
}

/// A box stands far off with a ripe queen in one half and room in the other; two colonies at home.
const FEW: &str = "\
spareframe: 2
day: 2031-06-20
sites: {home: {at: [50, 9]}, out: {at: [50.05, 9.05]}}
colonies:
  Poplar: {site: home, role: nucleus, brood: 5 combs, stores: 3 combs, bees: 8 frames}
  Quince: {site: home, brood: 5 combs, stores: 2 combs, bees: 8 frames}
store room: [{count: 4, stores: 70 %}]
recipes:
  half: {bees: 2500, lines: [{name: brood, brood: 40 %}, {name: food, stores: 50 %, no brood: yes}]}
boxes: {twin: {count: 1, compartments: 2, site: out, recipe: half}}
cells: 1
standing:
  - {box: twin, number: 1, compartment: 1, since: 2031-05-15, queen: to be taken, seen: 2031-06-18, frames: [{brood: 60 %}, {stores: 40 %}]}
requeen: [{colony: Poplar}]
";

fn colony<'a>(plan: &'a Value, name: &str) -> Option<&'a Value> {
    let mut all = plan["colonies"].as_array().unwrap().iter();
    all.find(|c| c["colony"] == name)
}

#[test]
fn an_old_queen_that_goes_out_today_is_not_put_back() {
    // The colony that gives, and the one from which nothing is taken.
    let alone = FEW.replace("{colony: Poplar}", "{colony: Quince}");
    let words = said(&["stock", "-", "-q"], FEW);
    assert!(
        words.contains(
            "find the queen before anything else and take her out; be sure that there is no second one"
        ),
        "{words}"
    );
    assert!(!words.contains("queen back"), "{words}");
    assert!(!words.contains("set her frame aside"), "{words}");
    assert!(words.contains("1 colony opened, "), "{words}");
    let words = said(&["stock", "-", "-q"], &alone);
    assert!(
        words.contains("Colony Quince (production, at home): gives nothing - find the queen"),
        "{words}"
    );
    assert!(
        words.contains("2 colonies opened, 1 of them for its queen alone, "),
        "{words}"
    );
    assert!(words.contains("Today 2 hives are opened"), "{words}");
    assert_eq!(words.matches("queen back").count(), 1, "Poplar's: {words}");
    let plan = plan(&alone);
    let quince = colony(&plan, "Quince").unwrap();
    let since = &quince["queens"]["old_out"];
    assert_eq!(
        (since, &quince["leaving"]),
        (&"2031-06-20".into(), &serde_json::json!([]))
    );
    assert_eq!(plan["headline"]["colonies_opened"], 1);
    assert_eq!(plan["headline"]["colonies_opened_for_queens"], 1);
}

#[test]
fn on_the_page_a_hive_opened_for_its_queen_has_a_sheet_and_does_not_stay_shut() {
    let dir = Folder::new();
    let scenario = dir.write(
        "few.yaml",
        FEW.replace("{colony: Poplar}", "{colony: Quince}"),
    );
    let run = spareframe(&["share", &scenario, "-q", "--format", "html"]);
    let page = run.stdout("<!DOCTYPE html>...").check();
    assert!(!page.contains("Stay shut"), "both are opened");
    assert!(page.contains(r#"data-name="Quince""#));
    assert!(page.contains("Colony Quince: its old queen comes out; nothing is taken."));
    assert!(
        page.contains("Open 2 colonies"),
        "{}",
        page.find("Open ").unwrap()
    );
    assert!(
        !page.contains("find the old queen of colony Quince, and take her out"),
        "its sheet says it"
    );
}

#[test]
fn a_colony_without_a_queen_is_not_searched_and_its_wild_cells_do_not_leave() {
    let out = FEW.replace("{colony: Poplar}", "{colony: Poplar, prepared: 2031-06-18}");
    let words = said(&["stock", "-", "-q"], &out);
    assert!(
        words.contains(
            "no queen to find: the old one is out since Wed 2031-06-18 - look the brood comb that leaves over, and break every \
             wild cell on it"
        ),
        "{words}"
    );
    assert!(
        !words.contains("find the queen") && !words.contains("queen back"),
        "{words}"
    );
    let plan = plan(&out);
    assert!(
        caution(&plan, "wild-cells-moved")
            .unwrap()
            .contains("colony Poplar")
    );
    assert_eq!(caution(&plan, "queen-not-located"), None);
    // Her follower goes in the same evening.
    assert!(
        words.contains(
            "towards evening: break all wild cells, then the new queen in, from twin 1.1, at out"
        ),
        "{words}"
    );
}
