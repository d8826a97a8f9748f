//! Boxes: each is had ready in one place, and what goes to one that is elsewhere travels in a closed box, in every output.

use crate::share::share;
use crate::support::{Folder, file, spareframe, text};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// One box of two halves; its site, what stands in it and the sites of the two colonies, each good for one comb of brood, vary.
const TWO: &str = "\
spareframe: 2
day: 2031-05-20
sites: {home: {at: [50, 9]}, wood: {at: [50.05, 9.05]}, heath: {at: [50.1, 9.1]}}
colonies:
  Alder: {site: home, role: nucleus, brood: 3 combs, stores: 2 combs, bees: 7 frames}
  Birch: {site: wood, role: nucleus, brood: 3 combs, stores: 2 combs, bees: 7 frames}
store room: [{count: 4, stores: 70 %}]
recipes:
  half: {bees: 2000, lines: [{name: brood, brood: 40 %}, {name: food, stores: 50 %, no brood: yes}]}
boxes: {twin: {count: 1, compartments: 2, site: heath, recipe: half}}
cells: 2
";

fn plan(scenario: &str) -> Value {
    let run = spareframe(&["stock", "-", "-q", "--format", "json"]);
    run.stdin(scenario).json()
}

fn said(args: &[&str], scenario: &str) -> String {
    let run = spareframe(args).stdin(scenario).stdout("...");
    run.check().split_whitespace().collect::<Vec<_>>().join(" ")
}

fn page(scenario: &str) -> String {
    let dir = Folder::new();
    share(&dir.write("two.yaml", scenario), "html")
}

#[test]
fn a_box_is_had_ready_once_and_comes_by_where_more_goes_into_it() {
    let plan = plan(TWO);
    let ready = json!([{"box_kind": "twin", "box_no": 1, "site": "heath", "ready_at": "home", "then_at": ["wood"]}]);
    assert_eq!(plan["boxes"], ready);
    assert_eq!(plan.get("closed_boxes"), None);
    let filled: Vec<&Value> = plan["compartments"].as_array().unwrap().iter().collect();
    let filled: Vec<&Value> = filled.iter().map(|c| &c["filled_at"]).collect();
    assert!(filled.contains(&&json!("home")) && filled.contains(&&json!("wood")));
    let words = said(&["stock", "-", "-q"], TWO);
    for part in [
        "To home - 1 box, twin, to fill here, for heath ",
        "To wood - 1 box, twin, from home, to fill on here ",
        "To heath - 1 box, twin, filled at home and wood ",
    ] {
        assert!(words.contains(part), "{part}: {words}");
    }
    let page = page(TWO);
    assert_eq!(page.matches("<b>twin, empty</b>").count(), 1);
    assert!(page.contains("<b>twin, from home</b>"), "at wood");
    let markdown = said(&["stock", "-", "-q", "--format", "markdown"], TWO);
    assert!(
        markdown.contains("To wood: 1 box, twin, from home, to fill on here"),
        "{markdown}"
    );
}

#[test]
fn what_goes_to_a_box_that_stays_where_it_is_travels_in_a_closed_box() {
    // It stands at home, where one of the colonies is, or with bees in one half far off.
    let at_home = TWO.replace("site: heath, recipe", "site: home, recipe");
    let stands = TWO.replace("cells: 2", "cells: 1") + "\
standing:
  - {box: twin, number: 1, compartment: 1, since: 2031-05-01, queen: laying, seen: 2031-05-20, frames: [{brood: 60 %}, {stores: 40 %}]}
";
    for (scenario, from, to) in [(&at_home, "wood", "home"), (&stands, "home", "heath")] {
        let found = plan(scenario);
        let closed = &found["closed_boxes"][0];
        assert_eq!(
            (&closed["from_site"], &closed["to_site"]),
            (&from.into(), &to.into())
        );
        assert_eq!(
            (&closed["frames"], &closed["box_no"]),
            (&1.into(), &1.into())
        );
        let name = format!("twin 1.{}", closed["compartment"]);
        let words = said(&["stock", "-", "-q"], scenario);
        let ready =
            format!("To {from} - 1 closed carrying box, to {to} for {name}: 1 frame, some ");
        assert!(words.contains(&ready), "{ready}: {words}");
        let sheet = format!("- in a closed box to {to} for {name}");
        assert!(words.contains(&sheet), "{sheet}: {words}");
        let page = page(scenario);
        assert!(page.contains("<b>closed carrying box</b>"));
        let sheet = format!("in a closed box to {to} for {name}");
        assert!(page.contains(&sheet), "{sheet}");
        let empty = usize::from(to == "home");
        assert_eq!(page.matches("<b>twin, empty</b>").count(), empty, "{to}");
    }
    let found = plan(&stands);
    assert_eq!(found.get("boxes"), None, "it is there, with bees in it");
    assert!(!said(&["stock", "-", "-q"], &stands).contains("- 1 box, twin"));
}

#[test]
fn what_comes_from_elsewhere_in_closed_boxes_and_in_its_own_is_said_to_do_so() {
    let stands = "\
standing:
  - {box: twin, number: 1, compartment: 1, since: 2031-05-01, queen: laying, seen: 2031-05-20, frames: [{brood: 60 %}, {stores: 40 %}]}
";
    let closed = TWO.replace("cells: 2", "cells: 1") + stands;
    assert!(page(&closed).contains("in closed boxes, with"));
    let both = TWO.replace(
        "site: heath, recipe: half}}",
        "site: heath, recipe: half}, single: {count: 1, site: heath, recipe: half}}",
    );
    let both = both.replace("Birch: {", "Birch: {hold: swarming, ");
    let both = both.replace(
        "Alder: {site: home, role: nucleus, brood: 3",
        "Alder: {site: home, role: nucleus, brood: 5",
    ) + stands;
    let page = page(&both);
    assert!(page.contains("in their boxes and in closed ones, with"));
    assert!(!page.contains("in closed boxes, with"));
}

#[test]
fn closed_boxes_name_a_kind_once() {
    let three = TWO
        .replace("site: heath, recipe", "site: home, recipe")
        .replace("compartments: 2", "compartments: 3")
        .replace("cells: 2", "cells: 3")
        .replace(
            "Birch: {site: wood, role: nucleus, brood: 3",
            "Birch: {site: wood, role: nucleus, brood: 5",
        );
    let words = said(&["stock", "-", "-q"], &three);
    let (_, boxes) = words
        .split_once("in a closed box each to home for ")
        .unwrap();
    let boxes = boxes.split(" - ").next().unwrap();
    let numbers: Vec<&str> = boxes
        .strip_prefix("twin ")
        .unwrap()
        .split(" and ")
        .collect();
    assert_eq!(numbers.len(), 2, "{boxes}");
    assert!(
        numbers.iter().all(|number| number.starts_with("1.")),
        "{boxes}"
    );
}

#[test]
fn no_more_boxes_are_had_ready_than_there_are() {
    let mut seen = 0;
    for name in [
        "first-round",
        "forty",
        "half-done",
        "home-yard",
        "nuclei",
        "season",
        "second-round",
    ] {
        let found = plan(&text(name));
        let mut boxes: BTreeMap<String, u64> = BTreeMap::new();
        for of in found["boxes"].as_array().into_iter().flatten() {
            *boxes.entry(of["box_kind"].to_string()).or_default() += 1;
            seen += 1;
        }
        for kind in found["headline"]["kinds"].as_array().unwrap() {
            let ready = boxes
                .get(&kind["box_kind"].to_string())
                .copied()
                .unwrap_or(0);
            assert!(
                ready <= kind["boxes_used"].as_u64().unwrap(),
                "{name}: {kind}"
            );
        }
    }
    assert!(seen > 20);
}

#[test]
fn boxes_that_are_begun_are_not_empty_and_say_what_is_in_them() {
    let found = plan(&text("half-done"));
    let boxes = found["boxes"].as_array().unwrap();
    let begun = |b: &&Value| b.get("frames_in").is_some() || b.get("bees_in").is_some();
    let begun = boxes.iter().filter(begun).count();
    assert_eq!(begun, boxes.len(), "{boxes:?}");
    let page = share(&file("half-done"), "html");
    let amount = |what: &str| {
        let end = page.find(&format!("<b>mating box, {what}</b>")).unwrap();
        let from = page[..end].rfind(r#"<span class="qty">"#).unwrap();
        let text = &page[from..end];
        text.chars()
            .filter(char::is_ascii_digit)
            .collect::<String>()
    };
    assert_eq!(amount("begun"), begun.to_string());
    assert!(!page.contains("<b>mating box, empty</b>"));
    let words = said(&["stock", "-", "-q"], &text("half-done"));
    let frames: u64 = boxes.iter().filter_map(|b| b["frames_in"].as_u64()).sum();
    assert!(
        words.contains(&format!(
            "for far meadow; in already: {frames} frames and some "
        )),
        "{words}"
    );
}

#[test]
fn a_comb_that_comes_out_hangs_in_no_picture() {
    let found = plan(&text("second-round"));
    let stands = found["compartments"].as_array().unwrap().iter();
    let stands = stands.filter_map(|c| c["stands"]["frames"].as_array());
    let count = |key: &str| {
        let frames = stands.clone().flatten();
        frames.filter_map(|f| f[key].as_u64()).sum::<u64>()
    };
    let (all, out) = (count("frames"), count("out"));
    assert!(out > 0);
    let picture = spareframe(&["stock", &file("second-round"), "-q", "--format", "svg"]);
    let picture = picture.stdout("...").check();
    let document = roxmltree::Document::parse(&picture).unwrap();
    let there = document
        .descendants()
        .filter(|n| n.text() == Some("there") && n.is_element());
    assert_eq!(there.count() as u64, all - out);
}

#[test]
fn cells_do_not_come_out_of_the_store_room() {
    let words = said(&["stock", "-", "-q"], TWO);
    assert!(
        words.contains("filled at home and wood - 2 cells or queens, on 2031-05-21"),
        "{words}"
    );
}

#[test]
fn frames_of_bees_name_their_comb_where_a_colony_has_another() {
    // Birch gives bees, and no frame, as its own are of another size.
    let mut other = TWO.replace(
        "{site: wood, role: nucleus,",
        "{site: home, role: nucleus, comb: Dadant-Blatt,",
    );
    let alder = "{site: home, role: nucleus, comb: Zander, draw: {bees: 0 %}, rides: 0 %, brood: 4 combs, stores: 2 combs, \
                 bees: 8 frames}";
    let was = "{site: home, role: nucleus, brood: 3 combs, stores: 2 combs, bees: 7 frames}";
    for (from, to) in [
        (was, alder),
        ("{count: 4, ", "{count: 4, comb: Zander, "),
        ("brood, brood", "brood, comb: Zander, brood"),
        ("food, stores", "food, comb: Zander, stores"),
    ] {
        assert!(other.contains(from), "{from}");
        other = other.replacen(from, to, 1);
    }
    let words = said(&["stock", "-", "-q"], &other);
    assert!(
        words.contains(
            "All frames that this plan moves are Zander; frames of bees are those of their colony."
        ),
        "{words}"
    );
    assert!(
        words.contains("add about 1½ Dadant-Blatt frames of bees (some 4,000) in all"),
        "{words}"
    );
    assert!(
        words.contains("from colony Birch (½ Dadant-Blatt frame)"),
        "{words}"
    );
}

#[test]
fn on_a_narrow_page_no_figure_is_broken() {
    let narrow = spareframe(&["stock", &file("weeks"), "-q", "--width", "40"]);
    let narrow = narrow.stdout("...").check();
    let wide = spareframe(&["stock", &file("weeks"), "-q", "--width", "100"]);
    let wide = wide.stdout("...").check();
    let stays = wide
        .lines()
        .skip_while(|line| !line.starts_with("What stays"));
    let figures = stays.skip(2).take_while(|line| !line.is_empty());
    let figures: Vec<&str> = figures.flat_map(str::split_whitespace).collect();
    assert!(figures.len() > 15);
    for figure in figures {
        assert!(
            narrow
                .split_whitespace()
                .any(|word| word.trim_end_matches(';') == figure),
            "{figure}: {narrow}"
        );
    }
}
