//! `calendar`: days of a plan beside dates counted by hand, feed, and what is refused.

use crate::support::{Folder, file, spareframe, text};
use serde_json::Value;

const ROUND: &str = "queen-round";

fn calendar(scenario: &str) -> Value {
    let run = spareframe(&["calendar", "-", "--format", "json"]);
    run.stdin(scenario).json()
}

fn days(calendar: &Value, id: &str) -> (String, String) {
    let entries = calendar["entries"].as_array().unwrap();
    let entry = entries.iter().find(|entry| entry["id"] == id).unwrap();
    let day = |key: &str| entry[key].as_str().unwrap().to_owned();
    (day("first_day"), day("last_day"))
}

fn conflicts(calendar: &Value) -> Vec<&str> {
    let conflicts = calendar["conflicts"].as_array().unwrap();
    conflicts
        .iter()
        .map(|c| c["id"].as_str().unwrap())
        .collect()
}

/// Grafting on 10 May; the days are those of `crates/rearing/tests/published.rs`, here counted in a
/// paper calendar.
#[test]
fn days_are_counted_from_grafting() {
    let found = calendar(&text(ROUND));
    for (id, first, last) in [
        ("drone-eggs", "2031-04-22", "2031-04-26"),
        ("graft", "2031-05-10", "2031-05-10"),
        ("check", "2031-05-18", "2031-05-19"),
        ("stocking", "2031-05-19", "2031-05-19"),
        ("move-1", "2031-05-19", "2031-05-19"),
        ("ripe", "2031-05-20", "2031-05-20"),
        ("cells-in", "2031-05-20", "2031-05-20"),
        ("emergence", "2031-05-21", "2031-05-22"),
        ("feed-1", "2031-05-24", "2031-05-24"),
        ("feed-2", "2031-05-27", "2031-05-27"),
        ("mating-flights", "2031-05-28", "2031-06-01"),
        ("first-look", "2031-06-03", "2031-06-03"),
        ("eggs", "2031-05-29", "2031-06-13"),
        ("sealed", "2031-06-07", "2031-06-22"),
        ("take", "2031-06-15", "2031-06-26"),
        ("next-graft", "2031-06-07", "2031-06-07"),
        ("next-cell", "2031-06-17", "2031-06-17"),
        ("last-day-2", "2031-06-10", "2031-06-17"),
    ] {
        assert_eq!(days(&found, id), (first.into(), last.into()), "{id}");
    }
    assert_eq!(conflicts(&found), ["drones-too-late", "box-too-small-2"]);
}

#[test]
fn each_interval_can_be_ones_own() {
    let own = text(ROUND).replace(
        "  no flight: 5 days",
        "  intervals: {graft to ripe: 11 days, emergence to flights: 5 to 8 days, first look: 3 weeks}\n  no flight: 5 days",
    );
    let found = calendar(&own);
    assert_eq!(days(&found, "ripe").0, "2031-05-21");
    assert_eq!(
        days(&found, "mating-flights"),
        ("2031-05-28".into(), "2031-05-31".into())
    );
    assert_eq!(days(&found, "first-look").0, "2031-06-10");
    let intervals = found["intervals"].as_array().unwrap();
    let flights = intervals
        .iter()
        .find(|i| i["key"] == "emergence to flights");
    assert_eq!(flights.unwrap()["status"], "yours");
    assert!(conflicts(&found).contains(&"not-yet-ripe"));
}

#[test]
fn what_does_not_go_together_is_said() {
    let with = |old: &str, new: &str| {
        let changed = text(ROUND).replace(old, new);
        assert_ne!(changed, text(ROUND), "{old}");
        let found = calendar(&changed);
        conflicts(&found).join(" ")
    };
    assert!(with("larva age: 18", "larva age: 30").starts_with("larva-too-old"));
    let early = with("grafted: 2031-05-10", "grafted: 2031-05-06");
    assert!(
        early.starts_with("ripe-before-stocking out-before"),
        "{early}"
    );
    assert!(with("  grafted: 2031-05-10          #", "#").starts_with("not-known"));
    assert!(with("04-24", "04-20").starts_with("box-too-small-2"));
    assert_eq!(
        with("keeps queen: 3 to 4 weeks", "keeps queen: none"),
        "drones-too-late"
    );
    let two = with("  larva age", "  ripe: 2031-05-22\n  larva age");
    assert!(two.starts_with("two-dates"), "{two}");
    let virgins = with("  larva age", "  given: virgin queens\n  larva age");
    assert!(virgins.starts_with("no-virgin-yet"), "{virgins}");
}

/// 3 mini boxes of 700 bees without stores: 700 x 5 days x 11 mg (Huang 2010, seen) is 38.5 g of dry
/// sugar each; 0.63 L of water to 1 kg (British Beekeepers Association, seen).
#[test]
fn feed_is_what_bees_use_less_what_is_in_the_combs() {
    let found = calendar(&text(ROUND));
    let fed = found["feed"]["compartments"].as_array().unwrap();
    let mini: Vec<_> = fed.iter().filter(|c| c["box_kind"] == "mini box").collect();
    assert_eq!(mini.len(), 3);
    for c in mini {
        assert_eq!(c["use_estimate_kg"], 0.039);
        assert_eq!(c["sugar_kg"], 0.039);
        assert_eq!(c["water_l"], 0.025);
        assert_eq!(c["syrup_kg"], 0.064);
    }
    // Stores last, but where a few grams are short.
    let parted = fed.iter().filter(|c| c["box_kind"] == "parted box");
    let sugar = parted.map(|c| {
        let [used, stores] =
            ["use_estimate_kg", "in_stores_kg"].map(|key| c[key].as_f64().unwrap());
        assert!((c["sugar_kg"].as_f64().unwrap() - (used - stores).max(0.0)).abs() < 1e-9);
        c["sugar_kg"].as_f64().unwrap()
    });
    assert_eq!(sugar.collect::<Vec<_>>(), [0.0, 0.011, 0.0, 0.0]);
    let shopping = found["feed"]["shopping"].to_string();
    assert!(shopping.contains(r#""white sugar","amount":0.2,"unit":"kg""#));
}

#[test]
fn queens_to_expect_are_a_range_and_named_an_estimate() {
    let found = calendar(&text(ROUND));
    let queens = &found["expected_queens"];
    assert_eq!(queens["least_estimate"], 4.9);
    assert_eq!(queens["most_estimate"], 6.51);
    let own = text(ROUND).replace("  no flight", "  success: 40 to 60 %\n  no flight");
    let found = calendar(&own);
    assert_eq!(found["expected_queens"]["least_estimate"], 2.8);
    let table = spareframe(&["calendar", &file(ROUND)])
        .stdout("...")
        .check();
    assert!(table.contains("Mated queens to expect (estimate): 4.9 to 6.5 of 7."));
    assert!(table.contains("Sting"));
}

#[test]
fn without_a_stocking_day_there_is_none() {
    let none = text("thin-spring").replace("day: 2031-05-20", "");
    let none = none.replace("flow: [", "# [").replace("crop: ", "# ");
    spareframe(&["calendar", "-"])
        .stdin(none)
        .code(2)
        .stderr("error: a calendar needs the stocking day; add `day` to the scenario\n")
        .check();
}

#[test]
fn every_format_is_there_and_a_file_is_never_replaced_unasked() {
    let folder = Folder::new();
    for (name, start) in [
        ("c.md", "# Calendar, Queen round"),
        ("c.ics", "BEGIN:VCALENDAR"),
        ("c.json", "{"),
        ("c.yaml", "spareframe_calendar: 1"),
        ("c.txt", "Calendar, Queen round"),
    ] {
        let path = &folder.path(name);
        spareframe(&["calendar", &file(ROUND), "-q", "--out", path]).check();
        assert!(folder.read(name).starts_with(start), "{name}");
        let exists = format!("error: {path} exists; --force replaces it\n");
        spareframe(&["calendar", &file(ROUND), "--out", path])
            .code(2)
            .stderr(&exists)
            .check();
    }
}

#[test]
fn no_line_is_wider_than_asked() {
    for width in ["40", "80", "120"] {
        let out = spareframe(&["calendar", &file(ROUND), "-v", "--width", width])
            .stdout("...")
            .check();
        let widest = out.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(widest <= width.parse().unwrap(), "{widest}");
    }
}

#[test]
fn where_nothing_is_stocked_only_the_rearing_is_dated() {
    let none = text(ROUND)
        .replace("bees: 3000", "bees: 300000")
        .replace("bees: 700", "bees: 700000");
    let run = |format| {
        let args = ["calendar", "-", "-q", "--format", format];
        let run = spareframe(&args).stdin(none.clone()).code(1);
        run.stdout("...").check()
    };
    let found: Value = serde_json::from_str(&run("json")).unwrap();
    let entries = found["entries"].as_array().unwrap();
    let ids: Vec<_> = entries
        .iter()
        .map(|entry| entry["id"].as_str().unwrap())
        .collect();
    assert_eq!(ids, ["drone-eggs", "graft", "ripe", "emergence"]);
    assert_eq!(conflicts(&found), ["nothing-stocked"]);
    assert!(run("table").contains("No queens to expect: nothing is stocked."));
    assert_eq!(run("ics").matches("BEGIN:VEVENT").count(), 1);
}

/// The table of docs/calendar.md has the days and the status that are counted with.
#[test]
fn the_page_of_days_is_true() {
    let page = std::fs::read_to_string("../../docs/calendar.md").unwrap();
    for (name, row) in [
        ("check before", "donors checked"),
        ("cells in", "cells in"),
        ("graft to ripe", "cells ripe"),
        ("ripe to emergence", "queens emerge"),
        ("emergence to flights", "mating flights"),
        ("emergence to eggs", "first eggs"),
        ("first look", "first look"),
        ("eggs to sealed", "sealed brood"),
        ("age when taken", "queens taken"),
        ("taken to next cell", "next cell"),
        ("queenless before", "old queen out"),
        ("in the cage", "out of her cage"),
        ("small box keeps", "last days in a small box"),
        ("drone emergence", "drones' eggs"),
        ("drone maturity", "drones' eggs"),
    ] {
        let known = spareframe_rearing::INTERVALS
            .iter()
            .find(|known| known.name == name);
        let known = known.unwrap();
        let line = page
            .lines()
            .find(|line| line.starts_with(&format!("| {row} |")))
            .unwrap();
        let days = match known.days.least == known.days.most {
            true => known.days.least.to_string(),
            false => format!("{} to {}", known.days.least, known.days.most),
        };
        let cells: Vec<&str> = line.split('|').map(str::trim).collect();
        let found = cells[3].split([',', '+']).any(|part| part.trim() == days);
        assert!(found, "{name}: {line}");
        assert_eq!(cells[5], known.status.words(), "{name}");
    }
    assert_eq!(spareframe_rearing::INTERVALS.len(), 16);
}

#[test]
fn what_is_to_be_brought_holds_the_frames_that_fill_gaps() {
    let found = calendar(&text("first-round"));
    let bring = found["feed"]["shopping"].as_array().unwrap();
    let filler = bring.last().unwrap();
    assert_eq!(
        filler["item"],
        "from the store room, for gaps at home: comb 90% drawn"
    );
    assert_eq!(
        (&filler["amount"], &filler["unit"]),
        (&1.0.into(), &"frame".into())
    );
}
