//! What is often written in a first scenario: each is found with a way out that leads on.

use spareframe::scenario::{read, starter};

/// Changes to the starter: what stands there, what is written instead, a part of the way out.
const WRITTEN: &[(&str, &str, &str)] = &[
    // The blank after the colon, in lines and in brackets.
    (
        "brood: 5 combs",
        "brood:3.5",
        "blank behind the colon: `brood: 3.5`",
    ),
    (
        "4, stores: 90 %}",
        "4, stores:90 %}",
        "blank behind the colon: `stores: 90 %`",
    ),
    // Rough figures, and other words of the trade.
    (
        "bees: 13 frames",
        "bees: about 12 frames",
        "write `12 frames`",
    ),
    (
        "bees: 13 frames",
        "bees: 6 seams",
        "did you mean `6 frames`?",
    ),
    (
        "comb: Langstroth deep\n    role: nucleus",
        "hive: Dadant\n    role: nucleus",
        "did you mean `comb`?",
    ),
    (
        "{count: 2, stores: 90 %}",
        "{count: 2, honey: 90 %}",
        "did you mean `stores`?",
    ),
    ("colonies:", "hives:", "did you mean `colonies`?"),
    ("    lines:", "    frames:", "did you mean `lines`?"),
    ("cells: 4 ", "queens: 4 ", "did you mean `cells`?"),
    (
        "grafted: 2031",
        "grafting day: 2031",
        "did you mean `grafted`?",
    ),
    ("all frames: 20", "combs: 20", "did you mean `all frames`?"),
    ("empty: 2", "drawn comb: 2", "did you mean `empty`?"),
    ("day: 2031", "date: 2031", "did you mean `day`?"),
    ("{at: [48.10", "{coordinates: [48.10", "did you mean `at`?"),
    (
        "site: mating yard",
        "location: mating yard",
        "did you mean `site`?",
    ),
    // Names in short.
    ("role: nucleus", "role: nuc", "did you mean `nucleus`?"),
    (
        "role: nucleus",
        "role: Dadant",
        "write `comb: Dadant-Blatt`",
    ),
    (
        "comb: Langstroth deep\n    role: nucleus",
        "comb: Dadant\n    role: nucleus",
        "`Dadant-Blatt`",
    ),
    (
        "comb: Langstroth deep\n    role: nucleus",
        "comb: Langstroth\n    role: nucleus",
        "`Langstroth deep` or `Langstroth medium`",
    ),
    (
        "comb: Langstroth deep\n    role: nucleus",
        "comb: Hoffman\n    role: nucleus",
        "`combs: {ours: {area:",
    ),
    (
        "recipe: mating",
        "recipe: Mating box",
        "did you mean `mating`?",
    ),
    // Counts in other words.
    ("all frames: 20", "frames: 20", "write `all frames: 20`"),
    (
        "brood: 5 combs",
        "brood: 60 %",
        "say on how many combs: `6 combs at 60 %`",
    ),
    ("brood: 5 combs", "brood: five", "did you mean `5 combs`?"),
    (
        "brood: 5 combs",
        "brood: 5 of 10",
        "write `5 combs`, and `all frames: 10`",
    ),
    (
        "brood: 5 combs",
        "brood: 5½ combs",
        "did you mean `5.5 combs`?",
    ),
    (
        "stores: 2 combs",
        "stores: 4 kg",
        "did you mean `1.8 full frames`?",
    ),
    (
        "bees: 8 frames",
        "bees: 2 kg",
        "1 kg is about 10,000: did you mean `20000`?",
    ),
    (
        "count: 2, compartments",
        "count: two, compartments",
        "did you mean `2`?",
    ),
    (
        "foundation: yes",
        "foundation",
        "say `yes` behind the colon",
    ),
    ("queen: yes", "queen: ja", "did you mean `yes`?"),
    (
        "queen: yes",
        "bees: 1500, queen: yes",
        "write `65 %`, if it is bees: 2300 cover this comb",
    ),
    (
        "role: nucleus ",
        "draw: none\n    role: nucleus ",
        "`draw: {frames: 0, bees: 0}`",
    ),
    (
        "keep: {brood: 6 combs, stores: 12 kg}",
        "keep: nothing",
        "leave `keep` out",
    ),
    (
        "  mating box: {count: 2, ",
        "  count: 2\n  mating box: {count: 2, ",
        "give each a name",
    ),
    // Dates and places.
    (
        "day: 2031-05-20",
        "day: 05/20/2031",
        "did you mean `2031-05-20`?",
    ),
    ("2031-05-11", "11 May 2031", "did you mean `2031-05-11`?"),
    (
        "[2031-06-10, 2031-07-05]",
        "2031-06-10 to 2031-07-05",
        "did you mean `[2031-06-10, 2031-07-05]`?",
    ),
    (
        "{at: [48.10, 11.50]}",
        "\n    at: 48.10, 11.50",
        "did you mean `[48.1, 11.5]`?",
    ),
    (
        "[48.15, 11.58]",
        "[11.58, 48.15]",
        "swap those of `mating yard`? Latitude comes first: `[48.15, 11.58]`",
    ),
    // What is there in another size.
    (
        "deep, count: 1, foundation",
        "medium, count: 1, foundation",
        "there are some of Langstroth deep: write `comb: Langstroth deep`",
    ),
];

#[test]
fn what_is_often_written_is_found_with_a_way_out_that_leads_on() {
    let mut wrong = Vec::new();
    for (from, to, way_out) in WRITTEN {
        assert!(starter().contains(from), "{from}");
        let text = starter().replacen(from, to, 1);
        let found = read("yard.yaml", text.as_bytes()).findings;
        if !found.iter().any(|f| f.way_out.contains(way_out)) {
            let shown: String = found.iter().map(|f| f.render(&text, false)).collect();
            wrong.push(format!("{to}: no {way_out}\n{shown}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A way out that says what was meant is one: with it there is no finding.
#[test]
fn what_is_said_to_be_meant_is_read() {
    for (from, to, _) in WRITTEN {
        let text = starter().replacen(from, to, 1);
        let found = read("yard.yaml", text.as_bytes()).findings;
        let [finding] = found.as_slice() else {
            continue;
        };
        let meant = finding.way_out.split("did you mean `").nth(1);
        let Some(meant) = meant.and_then(|m| m.strip_suffix("`?")) else {
            continue;
        };
        if meant.contains('`') {
            continue;
        }
        let mut fixed = text.clone();
        fixed.replace_range(finding.span.clone(), meant);
        let left = read("yard.yaml", fixed.as_bytes()).findings;
        let left: Vec<_> = left
            .iter()
            .filter(|f| f.span.start == finding.span.start)
            .collect();
        assert!(left.is_empty(), "{to} -> {meant}: {left:?}");
    }
}
