//! `season --near`: what people were told is kept as far as wants and cost allow, and what changes is said.

use crate::support::{Folder, file, spareframe, text};
use serde_json::Value;

/// A folder with the season of twelve and what was told of it.
fn told() -> (Folder, String) {
    let folder = Folder::new();
    let season = spareframe(&["season", &file("season"), "--format", "json", "-q"]);
    let told = folder.write("told.json", season.stdout("...").check());
    (folder, told)
}

#[test]
fn where_no_count_changed_the_season_is_the_same_to_the_byte() {
    let (folder, told) = told();
    let before = folder.read("told.json");
    let note = format!("note: {told}: nothing to change, the season stays as it is\n");
    let near = ["season", &file("season"), "--near", &told, "--format"];
    let run = |format| spareframe(&[&near[..], &[format]].concat());
    run("json").stdout(&before).stderr(&note).check();
    let yaml = folder.write("told.yaml", run("yaml").stdout("...").stderr(&note).check());
    let near = [
        "season",
        &file("season"),
        "--near",
        &yaml,
        "--format",
        "json",
        "-q",
    ];
    spareframe(&near).stdout(&before).check();
}

#[test]
fn a_weaker_colony_changes_as_little_as_pays_and_it_is_said_why() {
    let (folder, told) = told();
    let before: Value = serde_json::from_str(&folder.read("told.json")).unwrap();
    // Colony 8, a donor, has lost half of its brood and bees.
    let weak = text("season").replacen("{count: 6, brood: 65 %", "{count: 3, brood: 65 %", 1);
    let yard = folder.write(
        "weak.yaml",
        weak.replacen("extra bees: 2500", "extra bees: 0", 1),
    );
    let of = |more: &[&str]| {
        let all = [&["season", &yard, "--format", "json", "-q"], more].concat();
        spareframe(&all).json()
    };
    let (near, anew) = (of(&["--near", &told]), of(&[]));
    let said = &near["near"];
    assert_eq!(said["day"], "2031-05-20");
    assert_eq!(said["price_g"], 100);
    let otherwise = said["otherwise"].as_i64().unwrap();
    assert!(otherwise > 0 && otherwise < apart(&before, &anew), "{said}");
    assert_eq!(otherwise, apart(&before, &near));
    let met = |season: &Value| -> Vec<i64> {
        let wants = season["wants"].as_array().unwrap().iter();
        wants.map(|want| want["met"].as_i64().unwrap()).collect()
    };
    assert_eq!(met(&near), met(&anew));
    let why = said["why"].as_array().unwrap();
    assert!(
        why.iter()
            .any(|why| why.as_str().unwrap().starts_with("colony 8 cannot spare")),
        "{why:?}"
    );
    let shown = spareframe(&["season", &yard, "--near", &told, "-q"])
        .stdout("...")
        .check();
    let shown = shown.replace('\n', " ");
    for part in [
        "Near to the season of 2031-05-20: ",
        "otherwise than was told, at 100 g of honey each.",
        "As it was told it cannot be: colony 8 cannot spare",
    ] {
        assert!(shown.contains(part), "{part}: {shown}");
    }
}

/// Compartments and brood combs by which two seasons differ, in the rounds of the first.
fn apart(then: &Value, now: &Value) -> i64 {
    let rounds = |season: &Value, key: &str| -> Vec<(String, i64)> {
        let all = season["rounds"].as_array().unwrap().iter();
        let counted = all.flat_map(|round| {
            let counts = round[key].as_array().into_iter().flatten();
            let day = round["day"].as_str().unwrap();
            counts.map(move |of| {
                (
                    format!("{day} {}", of["box_kind"]),
                    of["compartments"].as_i64().unwrap(),
                )
            })
        });
        counted.collect()
    };
    let mut counts = std::collections::BTreeMap::<String, i64>::new();
    for (season, sign) in [(then, -1), (now, 1)] {
        for key in ["new", "next", "nuclei_in"] {
            for (of, count) in rounds(season, key) {
                *counts.entry(of).or_default() += sign * count;
            }
        }
        for colony in season["colonies"].as_array().unwrap() {
            for round in colony["rounds"].as_array().unwrap() {
                let (combs, bees) = (&round["brood_combs"], &round["bees_given"]);
                let counted = combs
                    .as_i64()
                    .unwrap()
                    .max(i64::from(bees.as_i64() > Some(0)));
                let of = format!("{} {}", colony["colony"], round["day"]);
                *counts.entry(of).or_default() += sign * counted;
            }
        }
    }
    counts.values().map(|by| by.abs()).sum()
}

#[test]
fn rounds_that_are_over_are_left_out_and_what_is_gone_is_noted() {
    let (folder, told) = told();
    let from = folder.read("told.json");
    let changed = from
        .replace("\"day\": \"2031-06-17\"", "\"day\": \"2031-06-19\"")
        .replace("\"colony\": \"9\"", "\"colony\": \"old hive\"");
    assert_ne!(from, changed);
    folder.write("told.json", changed);
    let note = format!(
        "note: {told}: round 2031-06-19 is no longer there\n\
         note: {told}: colony `old hive` is no longer there\n"
    );
    let near = [
        "season",
        &file("season"),
        "--near",
        &told,
        "--format",
        "json",
    ];
    let near = spareframe(&near).stderr(&note).json();
    // Of the round that is new nothing was told.
    let days: Vec<&str> = near["near"]["colonies"]
        .as_array()
        .unwrap()
        .iter()
        .map(|of| of["day"].as_str().unwrap())
        .collect();
    assert!(!days.contains(&"2031-06-17"), "{days:?}");
}

#[test]
fn what_is_no_season_is_refused_with_a_way_out() {
    let folder = Folder::new();
    let way_out = "name a season, as `spareframe season SCENARIO --out season.json` writes it";
    for (content, found) in [
        ("spareframe: 2\n", "a scenario"),
        ("spareframe_plan: 2\n", "a plan of one day"),
        ("rounds: []\n", "no `spareframe_season`"),
        ("spareframe_season: 9\n", "version `9`"),
        ("spareframe_season: 1\nrounds: 3\n", "`3`"),
        ("spareframe_season: 1\nrounds: [{day: soon}]\n", "`soon`"),
        (
            "spareframe_season: 1\nrounds: [{day: 2031-06-17, new: [{box_kind: a, compartments: -1}]}]\n",
            "`-1`",
        ),
        (
            "spareframe_season: 1\ncolonies: [{colony: a, rounds: [{day: 2031-06-17, bees_given: 3}]}]\n",
            "no `brood_combs`",
        ),
    ] {
        let path = folder.write("told.yaml", content);
        let mut command = assert_cmd::Command::cargo_bin("spareframe").unwrap();
        let output = command
            .args(["season", &file("season"), "--near", &path])
            .output();
        let output = output.unwrap();
        assert_eq!(output.status.code(), Some(2));
        let said = String::from_utf8(output.stderr).unwrap().replace('\n', " ");
        assert!(
            said.contains(found) && said.contains(way_out),
            "{content}: {said}"
        );
    }
    spareframe(&["season", "-", "--near", "-"])
        .code(2)
        .stderr("error: scenario and season cannot both come from stdin (-)\n")
        .check();
}
