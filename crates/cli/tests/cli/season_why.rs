//! `why --season` and `probe --season`: what binds, what one more brings, what rain takes.

use crate::support::{Folder, file, spareframe, text};
use serde_json::Value;
use unicode_width::UnicodeWidthStr;

fn json(arguments: &[&str]) -> Value {
    let mut all = arguments.to_vec();
    all.extend(["--format", "json", "-q"]);
    spareframe(&all).json()
}

fn numbers(value: &Value) -> Vec<i64> {
    let all = value.as_array().unwrap().iter();
    all.map(|value| value.as_i64().unwrap()).collect()
}

fn met(wants: &Value) -> Vec<i64> {
    let wants = wants.as_array().unwrap().iter();
    wants.map(|want| want["met"].as_i64().unwrap()).collect()
}

fn tried(why: &Value) -> Vec<Value> {
    let parts = ["one_more", "brings_nothing", "rained_out"];
    let parts = parts.iter().flat_map(|part| why[part].as_array().unwrap());
    parts.cloned().collect()
}

/// The scenario with one more colony like one of it, at the end.
fn with_one_more(yard: &str, like: &str) -> String {
    let (colonies, rest) = yard.split_once("\n\nstore room:").unwrap();
    let own = colonies.split_once(&format!("\n  \"{like}\":")).unwrap().1;
    let own = own.split_once("\n  \"").map_or(own, |(own, _)| own);
    format!("{colonies}\n  \"like {like}\":{own}\n\nstore room:{rest}")
}

/// What is promised of each change is what the season comes to that is planned anew with it.
#[test]
fn each_gain_is_that_of_the_season_planned_anew() {
    for name in ["season", "season-forty"] {
        let yard = file(name);
        let why = json(&["why", &yard, "--season"]);
        let all = tried(&why);
        assert!(all.len() > 6, "{name}");
        let base = met(&why["wants"]);
        for one in &all {
            let now = numbers(&one["met"]);
            let more = numbers(&one["met_more"]);
            let then: Vec<i64> = now
                .iter()
                .zip(&more)
                .map(|(now, more)| now - more)
                .collect();
            assert_eq!(then, base, "{name}: {one}");
            let sets: Vec<&str> = one["sets"]
                .as_array()
                .unwrap()
                .iter()
                .map(|set| set.as_str().unwrap())
                .collect();
            let change = one["change"].as_str().unwrap();
            // By wants, cost, queens, and the day that these are counted by.
            let found = match change.strip_prefix("1 more donor like colony ") {
                Some(like) => {
                    let folder = Folder::new();
                    let yard = folder.write("more.yaml", with_one_more(&text(name), like));
                    let mut season = json(&["season", &yard]);
                    let against = season["today_against_the_season"].take();
                    let mut rows = against.as_array().unwrap().iter();
                    let planned = rows.find(|row| row["planned"] == true).unwrap();
                    let cost = planned["cost_g"].clone();
                    let mut found = season["headline"].take();
                    found["wants"] = season["wants"].take();
                    found["cost_g"] = cost;
                    found
                }
                None => {
                    let mut arguments = vec!["probe", &yard, "--season"];
                    for set in &sets {
                        arguments.extend(["--set", set]);
                    }
                    json(&arguments)["rows"][1].take()
                }
            };
            assert_eq!(met(&found["wants"]), now, "{name}: {change}");
            assert_eq!(found["cost_g"], one["cost_g"], "{name}: {change}");
            if found["queens_by"] == why["headline"]["queens_by"] {
                assert_eq!(found["queens"], one["queens"], "{name}: {change}");
            }
        }
        // Those that are shown bring something, and are in order.
        let shown: Vec<Vec<i64>> = why["one_more"]
            .as_array()
            .unwrap()
            .iter()
            .map(|one| numbers(&one["met_more"]))
            .collect();
        assert!(shown.is_sorted_by(|a, b| a >= b), "{name}: {shown:?}");
        let none = vec![0; base.len()];
        assert!(shown.iter().all(|more| *more >= none), "{name}: {shown:?}");
        for one in why["brings_nothing"].as_array().unwrap() {
            assert!(numbers(&one["met_more"]) <= none, "{name}: {one}");
        }
    }
}

#[test]
fn a_row_of_probe_is_the_season_of_the_file_so_edited() {
    let folder = Folder::new();
    let yard = file("season");
    let edits = [
        (
            "season.cells=16",
            "  cells: 14\n  wants",
            "  cells: 16\n  wants",
        ),
        (
            "boxes.mating box.count=6",
            "{count: 8, comp",
            "{count: 6, comp",
        ),
        (
            "season.rained out=2031-06-17",
            "  cells: 14\n  wants",
            "  cells: 14\n  rained out: 2031-06-17\n  wants",
        ),
    ];
    let mut arguments = vec!["probe", &yard, "--season", "--alternatives"];
    let alternatives: String = (1..)
        .zip(&edits)
        .map(|(number, (set, ..))| {
            let (path, value) = set.split_once('=').unwrap();
            format!("alternative {number}:\n  {path}: {value}\n")
        })
        .collect();
    let alternatives = folder.write("alternatives.yaml", alternatives);
    arguments.push(&alternatives);
    let probed = json(&arguments);
    let rows = probed["rows"].as_array().unwrap();
    let seasons = edits.map(|(_, from, to)| text("season").replace(from, to));
    let seasons = std::iter::once(text("season")).chain(seasons);
    for (row, text) in rows.iter().zip(seasons) {
        let name = &row["name"];
        let season = json(&["season", &folder.write("yard.yaml", text)]);
        for key in [
            "stock_today",
            "queens",
            "queens_least",
            "queens_most",
            "queens_by",
            "look_again",
        ] {
            assert_eq!(row[key], season["headline"][key], "{name}, {key}");
        }
        assert_eq!(row["wants"], season["wants"], "{name}");
        if row["number"] != 0 {
            let more = numbers(&row["difference"]["met"]);
            let was = met(&rows[0]["wants"]);
            let now = was.iter().zip(&more).map(|(was, more)| was + more);
            assert_eq!(now.collect::<Vec<_>>(), met(&row["wants"]), "{name}");
        }
    }
}

/// All up to a round that is rained out is as it was: today's plan to the byte. Nothing comes of that round, and no fewer
/// boxes are free after it than cells were in them.
#[test]
fn rain_changes_nothing_before_it() {
    let folder = Folder::new();
    let dry = json(&["season", &file("season")]);
    let wet = text("season").replace(
        "  cells: 14\n  wants",
        "  cells: 14\n  rained out: [2031-06-17]\n  wants",
    );
    let yard = folder.write("wet.yaml", wet);
    let wet = json(&["season", &yard]);
    for round in 0..2 {
        for key in ["new", "next", "cells", "nuclei", "brood_combs", "bees"] {
            assert_eq!(
                dry["rounds"][round][key], wet["rounds"][round][key],
                "{round}, {key}"
            );
        }
    }
    assert_eq!(dry["plan"], wet["plan"]);
    let rained = &wet["rounds"][1];
    assert_eq!(
        (
            &rained["rained_out"],
            &rained["queens"],
            &rained["queens_most"]
        ),
        (&true.into(), &0.into(), &0.into())
    );
    let fewer =
        dry["headline"]["queens"].as_i64().unwrap() - wet["headline"]["queens"].as_i64().unwrap();
    // Of fourteen cells at 75 % ten queens, or eleven of the running sum; more where boxes without brood ask for more next time.
    assert!(fewer >= 10, "{fewer}");
    let shown = spareframe(&["season", &yard, "-q"]).stdout("...").check();
    assert!(shown.contains("rained out: no queen is counted on"));
    let dates = spareframe(&["season", &yard, "-q", "--format", "ics"])
        .stdout("...")
        .check();
    let taken =
        |line: &&str| line.starts_with("SUMMARY:") && line.contains("ated queens may be taken");
    assert_eq!(dates.lines().filter(taken).count(), 2);
    // And `why` says the same of it.
    let why = json(&["why", &file("season"), "--season"]);
    let rain = &why["rained_out"][1];
    assert_eq!(
        (&rain["round"], &rain["queens_more"]),
        (&"2031-06-17".into(), &(-fewer).into())
    );
}

/// Where brood is short, the colony is named, with the round and what it must keep; eased, it brings no more than its prices say.
#[test]
fn where_brood_is_short_a_colony_and_a_round_bind() {
    let folder = Folder::new();
    let short = text("season")
        .replace("{count: 8, comp", "{count: 40, comp")
        .replace("cells: 14\n", "cells: 60\n")
        .replace("cells: 14 ", "cells: 60 ");
    let yard = folder.write("short.yaml", short);
    let why = json(&["why", &yard, "--season"]);
    let wants = why["wants"].as_array().unwrap();
    let holds: Vec<&Value> = wants
        .iter()
        .flat_map(|want| want["colonies"].as_array().unwrap())
        .collect();
    assert!(!holds.is_empty());
    let rounds = ["2031-05-20", "2031-06-17", "2031-07-15"];
    for holds in &holds {
        assert!(
            rounds.contains(&holds["round"].as_str().unwrap()),
            "{holds}"
        );
        assert!(holds["worth"].as_f64().unwrap() > 0.0, "{holds}");
        let set = holds["set"].as_str().unwrap();
        let colony = holds["colony"].as_str().unwrap();
        assert!(set.starts_with(&format!("colonies.{colony}.")), "{holds}");
    }
    let shown = spareframe(&["why", &yard, "--season", "-q"])
        .stdout("...")
        .check();
    let first = &holds[0];
    assert!(
        shown.contains(&format!("colony {} on ", first["colony"].as_str().unwrap())),
        "{shown}"
    );
}

#[test]
fn no_line_is_wider_than_the_page_and_all_is_called_an_outlook() {
    let yard = file("season");
    for width in ["40", "60", "80", "120"] {
        let most: usize = width.parse().unwrap();
        for arguments in [
            vec!["why", &yard, "--season"],
            vec![
                "probe",
                &yard,
                "--season",
                "--set",
                "season.cells=10, 14, 18",
            ],
        ] {
            let all = [&arguments[..], &["--width", width, "-q"]].concat();
            let shown = spareframe(&all).stdout("...").check();
            for line in shown.lines() {
                assert!(line.width() <= most, "{width}: {line}");
            }
            assert!(shown.matches("utlook").count() >= 3, "{shown}");
            let words = shown.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(words.contains("Look again by Sun 2031-06-08"), "{shown}");
            for said in ["swarming", "mites", "weather"] {
                assert!(words.contains(said), "{said}: {shown}");
            }
        }
    }
}

#[test]
fn every_format_has_its_bytes_twice_alike() {
    let yard = file("season");
    for arguments in [
        vec!["why", &yard, "--season"],
        vec!["probe", &yard, "--season", "--set", "season.success=60 %"],
    ] {
        for format in ["table", "markdown", "json", "yaml"] {
            let all = [&arguments[..], &["--format", format, "-q"]].concat();
            let write = || spareframe(&all).stdout("...").check();
            let text = write();
            assert_eq!(text, write(), "{format}");
            assert!(text.ends_with('\n') && !text.ends_with("\n\n"), "{format}");
        }
    }
}

#[test]
fn without_the_flag_the_day_is_asked_about_and_the_way_to_the_season_is_named() {
    let shown = |arguments: &[&str]| {
        let text = spareframe(&[arguments, &["-q"]].concat())
            .stdout("...")
            .check();
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let (yard, plain) = (file("season"), file("first-round"));
    for (command, more) in [("why", &[][..]), ("probe", &["--set", "cells=8"][..])] {
        let way = format!("`spareframe {command} SCENARIO --season`");
        let with = shown(&[&[command, &yard], more].concat());
        assert_eq!(with.matches(&way).count(), 1, "{with}");
        let markdown = shown(&[&[command, &yard, "--format", "markdown"], more].concat());
        assert!(markdown.contains("SCENARIO --season"), "{markdown}");
        let without = shown(&[&[command, &plain], more].concat());
        assert!(!without.contains("--season"), "{without}");
    }
}

#[test]
fn what_is_wrong_is_told_with_the_way_out() {
    let plain = file("first-round");
    for command in [
        vec!["why", &plain, "--season", "-q"],
        vec!["probe", &plain, "--season", "--set", "cells=8", "-q"],
    ] {
        spareframe(&command).code(2).stderr("error: the scenario has no season; add `season: {rounds: [2031-05-20, 2031-06-17]}`...").check();
    }
    let yard = file("season");
    spareframe(&["probe", &yard, "--season", "--postpone", "2", "-q"])
        .code(2)
        .stderr("error: the argument '--season' cannot be used with '--postpone <DAYS>'...")
        .check();
    spareframe(&[
        "probe",
        &yard,
        "--season",
        "--set",
        "season.rained out=2031-06-18",
        "-q",
    ])
    .code(2)
    .stderr("--set:1:19\nerror[unknown-name]: found 2031-06-18, which is no round...")
    .check();
    // An alternative of which there is no season is an answer.
    let probed = json(&["probe", &yard, "--season", "--set", "day=2031-05-21"]);
    let row = &probed["rows"][1];
    assert!(
        row["no_season"]
            .as_str()
            .unwrap()
            .contains("is no round of the season"),
        "{row}"
    );
    assert_eq!(row["difference"], Value::Null);
}
