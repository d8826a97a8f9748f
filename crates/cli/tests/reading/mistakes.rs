//! What a tired hand writes: each mistake is found where it is, with a way out that works.

use spareframe::scenario::{Finding, read, starter};

fn findings(text: &str) -> Vec<Finding> {
    read("yard.yaml", text.as_bytes()).findings
}

/// Changes to the starter: what stands there, what is written instead, the text that the place
/// shows, a part of the way out.
const MISTAKES: &[(&str, &str, &str, &str)] = &[
    // Quantities.
    ("crop: 20 kg", "crop: 20,5 kg", "20,5 kg", "`20.5 kg`"),
    ("crop: 20 kg", "crop: 20", "20 ", "`20 kg`"),
    ("crop: 20 kg", "crop: 44 lbs", "44 lbs", "`44 lb`"),
    ("crop: 20 kg", "crop: 20 KG", "20 KG", "`20 kg`"),
    ("crop: 20 kg", "crop: about 20 kg", "about", "write `20 kg`"),
    ("crop: 20 kg", "crop: 20 km", "20 km", "such as `6 kg`"),
    ("brood: 80 %", "brood: 80", "80,", "`80 %`"),
    ("brood: 80 %", "brood: 80 percent", "80 percent", "`80 %`"),
    ("brood: 5 combs", "brood: six", "six", "`6 combs`"),
    (
        "brood: 5 combs",
        "brood: 5 combs at 140 %",
        "5 combs at 140",
        "correct `140 %`",
    ),
    ("bees: 8 frames", "bees: 8 combs", "8 combs", "`8 frames`"),
    ("bees: 8 frames", "bees: 20.000", "20.000", "`20000`"),
    ("bees: 8 frames", "bees: 20,000", "20,000", "`20000`"),
    ("{count: 2, com", "{count: 2.5, com", "2.5", "whole number"),
    (
        "{count: 2, com",
        "{count: 2 frames, com",
        "2 frames",
        "alone: `2`",
    ),
    ("queen: yes", "queen: ja", "ja", "`yes`"),
    ("brood: 80 %,", "brood: 0,8,", "8,", "comma ends a value"),
    // Dates and coordinates.
    ("day: 2031-05-20", "day: 20.5.2031", "20.5", "`2031-05-20`"),
    (
        "day: 2031-05-20",
        "day: 2031-5-20",
        "2031-5",
        "`2031-05-20`",
    ),
    (
        "day: 2031-05-20",
        "day: 2031/5/20",
        "2031/5",
        "`2031-05-20`",
    ),
    ("day: 2031-05-20", "day: 20 May", "20 May", "year-month-day"),
    (
        "day: 2031-05-20",
        "day: 2031-05-32",
        "2031-05-32",
        "that month has 31 days",
    ),
    (
        "day: 2031-05-20",
        "day: 2031-13-01",
        "2031-13",
        "a year has 12 months",
    ),
    (
        "day: 2031-05-20",
        "day: 31.2.2031",
        "31.2",
        "year-month-day",
    ),
    (
        "[2031-06-10, 2031-07-05]",
        "June",
        "June",
        "[2031-06-10, 2031-07-05]",
    ),
    (
        "[48.10, 11.50]",
        "[48.10 N, 11.50 E]",
        "[48",
        "[48.1, 11.5]",
    ),
    ("[48.10, 11.50]", "48.10", "48.10", "[48.1, 11.5]"),
    // Keys and names.
    ("role: nucleus", "Rolle: nucleus", "Rolle", "`role`"),
    ("store room:", "store_room:", "store_room", "`store room`"),
    ("empty: 2", "queen: yes", "queen", "belongs to a frame"),
    (
        "empty: 2",
        "group: 2",
        "group",
        "belongs to an entry of `gone` or a frame in `done`",
    ),
    ("{count: 6, dr", "{cells: 4, dr", "cells", "comb"),
    (
        "role: nucleus",
        "settings: {}",
        "settings",
        "top of the file",
    ),
    ("site: home", "site: Home", "Home", "`home`"),
    ("  \"2\":", "  \"1\":", "\"1\"", "rename"),
    // Lists and maps.
    (
        "  - {count: 6, drawn: 0}              # foundation\n  - {count: 2, stores: 90 %} ",
        "  count: 6",
        "count",
        "`- `",
    ),
    ("home: {at: [48.10, 11.50]}", "home: [1]", "[1]", "keys"),
    // YAML itself; the place is where the parser stumbles.
    ("  home: {at", "\thome: {at", "home", "tab"),
    ("    role: nucleus ", "    role nucleus ", "role", "colon"),
    ("    role: nucleus ", "    role:nucleus ", "role", "colon"),
    ("\nsites:", "\nsites", "sites", "colon"),
    ("title: First", "title: First: ", ": ", "quotes"),
    ("    role: nucleus", "      role: nucleus", ":", "indent"),
    ("      - {count: 4", "      -{count: 4", "-{", "`- `"),
    ("stores: 15 %}", "stores: 15 %", "- {", "bracket"),
    ("title: First", "title: \"First", "1", "quote"),
    ("brood: 80 %", "brood: %80", "%80", "`80 %`"),
];

#[test]
fn each_mistake_is_found_alone_at_its_place_with_a_way_out() {
    for (from, to, place, way_out) in MISTAKES {
        assert!(starter().contains(from), "{from}");
        let text = starter().replacen(from, to, 1);
        let found = findings(&text);
        let shown: String = found.iter().map(|f| f.render(&text, false)).collect();
        let hit = found.iter().find(|f| f.way_out.contains(way_out));
        let hit = hit.unwrap_or_else(|| panic!("{to}: no {way_out}\n{shown}"));
        let line = text.lines().nth(hit.line - 1).unwrap();
        let there: String = line.chars().skip(hit.column - 1).collect();
        assert!(there.starts_with(place), "{to}: at `{there}`\n{shown}");
        // A comma too many makes two values of one; the rest are one finding each.
        let most = if to.contains(",8") { 2 } else { 1 };
        assert!(found.len() <= most, "{to}\n{shown}");
    }
}

/// A suggestion that is taken leaves no finding.
#[test]
fn suggestions_work() {
    for (from, to, _, _) in MISTAKES {
        let text = starter().replacen(from, to, 1);
        let found = findings(&text);
        let [finding] = found.as_slice() else {
            continue;
        };
        let meant = finding.way_out.strip_prefix("did you mean `");
        let Some(meant) = meant.and_then(|m| m.strip_suffix("`?")) else {
            continue;
        };
        let mut fixed = text.clone();
        fixed.replace_range(finding.span.clone(), meant);
        assert_eq!(findings(&fixed), [], "{to} -> {meant}");
    }
}

#[test]
fn a_plan_in_place_of_a_scenario_is_named_so() {
    let found = findings("spareframe_plan: 1\ncompartments: []\n");
    assert_eq!(found.len(), 1);
    assert_eq!(
        (found[0].code, found[0].found.as_str()),
        ("wrong-type", "a plan")
    );
}

#[test]
fn an_entry_in_words_is_to_be_keys_and_values_and_stays_in_its_list() {
    let text = starter().replace("store room:\n", "store room:\n  - 5 drawn combs\n");
    let found = findings(&text);
    let wrong = found
        .iter()
        .find(|f| f.found.contains("5 drawn combs"))
        .unwrap();
    assert_eq!(
        wrong.way_out,
        "write keys and values, as `{key: value, key: value}`"
    );
}

#[test]
fn bees_that_cannot_be_read_are_not_said_to_be_none() {
    let text = starter().replacen("bees: ", "bees: 2 cups # ", 3);
    let codes: Vec<&str> = findings(&text).iter().map(|f| f.code).collect();
    assert!(codes.contains(&"wrong-type"), "{codes:?}");
    assert!(!codes.contains(&"brood-uncovered"), "{codes:?}");
}
