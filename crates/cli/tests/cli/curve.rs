//! `curve` at the command line: figures, formats, files, limits.

use crate::support::{Folder, file, spareframe, text};
use serde_json::Value;
use unicode_width::UnicodeWidthStr;

const NAMES: [&str; 6] = [
    "first-round",
    "forty",
    "home-yard",
    "nuclei",
    "taken-apart",
    "thin-spring",
];

/// Many more compartments than colonies, and names that no format may trip over.
fn hostile() -> String {
    text("forty")
        .replacen("Forty colonies", "\"<!-- & ]]> 'x' -->\"", 1)
        .replacen("mating box:", "\"=1+1, <b>&amp;half ]]> %\":", 1)
}

fn curve(name: &str) -> Value {
    spareframe(&["curve", &file(name), "--format", "json"]).json()
}

fn cost(point: &Value) -> i64 {
    point["cost_g"].as_i64().unwrap()
}

#[test]
fn the_answer_stands_first_and_honey_is_named_an_estimate() {
    let shown = spareframe(&["curve", &file("forty")])
        .stdout("Cost against compartments, Forty colonies, 2031-05-20\n\nAt most ...")
        .check();
    for part in [
        " of 40 compartments can be stocked under the honey cap of 8.00 kg",
        "of it honey given up (estimate).",
        "To see the plan of a row: `spareframe stock --most N`.",
        "Stocked  Cost kg  Honey kg  kg each",
        "Bars are the cost: # honey given up, - the rest.",
    ] {
        assert!(shown.contains(part), "{part}\n{shown}");
    }
    assert!(!shown.contains("About the honey estimate"), "{shown}");
    spareframe(&["curve", &file("forty"), "-v"])
        .stdout("...")
        .check()
        .find("\nAbout the honey estimate\n- Honey given up is an estimate")
        .unwrap();
}

#[test]
fn without_a_crop_honey_is_not_estimated() {
    let text = text("first-round");
    let with_crop = text.lines().filter(|line| !line.contains("crop:"));
    let with_crop = with_crop.filter(|line| !line.contains("flow:"));
    let bare = with_crop.collect::<Vec<_>>().join("\n");
    let shown = spareframe(&["curve", "-", "-q"])
        .stdin(bare)
        .stdout("...")
        .check();
    assert!(shown.contains("honey is not estimated"), "{shown}");
    assert!(!shown.contains("Honey kg"), "{shown}");
}

#[test]
fn the_last_point_is_what_stock_reaches() {
    for name in NAMES {
        let curve = curve(name);
        let plan = spareframe(&["stock", &file(name), "--format", "json"]).json();
        let last = curve["points"].as_array().unwrap().last().unwrap().clone();
        for key in ["worth", "cost_g", "honey_given_up_g", "burden"] {
            assert_eq!(last[key], plan["headline"][key], "{name}");
        }
        assert_eq!(last["proof"]["state"], "proved_best", "{name}");
    }
}

#[test]
fn stock_makes_a_plan_of_a_point_by_its_option() {
    for name in ["first-round", "nuclei"] {
        let curve = curve(name);
        for point in &curve["points"].as_array().unwrap()[1..] {
            let option = point["stock_with"].as_str().unwrap();
            let path = file(name);
            let mut args = vec!["stock", path.as_str(), "--format", "json"];
            args.extend(option.split(' '));
            let headline = &spareframe(&args).json()["headline"];
            assert_eq!(headline["cost_g"], point["cost_g"], "{name} {option}");
            assert_eq!(headline["worth"], point["worth"], "{name} {option}");
        }
    }
}

#[test]
fn two_runs_give_equal_bytes() {
    for name in NAMES {
        for format in ["table", "json"] {
            let args = ["curve", &file(name), "--format", format];
            let first = spareframe(&args).stdout("...").check();
            spareframe(&args).stdout(&first).check();
        }
    }
}

#[test]
fn every_count_is_a_point_and_whole_boxes_go_in_whole_steps() {
    let counts = |name: &str| -> Vec<usize> {
        let curve = curve(name);
        let points = curve["points"].as_array().unwrap().iter();
        let counts = points.map(|p| p["compartments"].as_u64().unwrap());
        counts
            .map(|count| usize::try_from(count).unwrap())
            .collect()
    };
    let (first, forty) = (counts("first-round"), counts("forty"));
    assert_eq!(first, (0..first.len()).collect::<Vec<_>>());
    assert_eq!(forty, (0..2 * forty.len()).step_by(2).collect::<Vec<_>>());
    let nuclei = curve("nuclei");
    assert_eq!(nuclei["counted_in"], "worth");
    let worths = nuclei["points"].as_array().unwrap().iter();
    let worths: Vec<f64> = worths.map(|p| p["worth"].as_f64().unwrap()).collect();
    assert!(worths.is_sorted() && worths[0] == 0.0, "{worths:?}");
}

#[test]
fn csv_yaml_and_json_hold_the_same_points() {
    let curve = curve("forty");
    let points = curve["points"].as_array().unwrap();
    let args = ["curve", &file("forty"), "--format", "yaml"];
    let yaml = spareframe(&args).stdout("spareframe_curve: 2\n...").check();
    let same: Value = serde_yaml::from_str(&yaml).unwrap();
    assert_eq!(same["points"].as_array().unwrap().len(), points.len());
    let args = ["curve", &file("forty"), "--format", "csv"];
    let text = spareframe(&args).stdout("compartments,worth,...").check();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let lines: Vec<_> = reader.records().map(Result::unwrap).collect();
    assert_eq!(lines.len(), points.len());
    for (line, point) in lines.iter().zip(points) {
        assert_eq!(line[0], point["compartments"].to_string());
        assert_eq!(line[2].parse::<i64>().unwrap(), cost(point));
        assert_eq!(line[3], point["honey_given_up_g"].to_string());
        assert_eq!(&line[10] == "yes", point["dear_step"] == true);
    }
}

#[test]
fn names_from_the_file_break_no_format() {
    let run = |format: &str| {
        let args = ["curve", "-", "-q", "--format", format];
        spareframe(&args).stdin(hostile()).stdout("...").check()
    };
    let lines = run("csv");
    let mut reader = csv::Reader::from_reader(lines.as_bytes()).into_records();
    assert!(reader.all(|record| record.is_ok_and(|record| record.len() == 14)));
    assert!(
        lines.contains("\"compartments of =1+1, <b>&amp;half ]]> %\""),
        "{lines}"
    );
    let json: Value = serde_json::from_str(&run("json")).unwrap();
    let name = &json["points"][0]["kinds"][0]["box_kind"];
    assert_eq!(name, "=1+1, <b>&amp;half ]]> %");
    let picture = run("svg");
    let document = roxmltree::Document::parse(&picture).unwrap();
    let title = document.descendants().find(|n| n.has_tag_name("title"));
    let title = title.unwrap().text().unwrap();
    assert_eq!(
        title,
        "Cost against compartments, <!-- & ]]> 'x' -->, 2031-05-20"
    );
    assert!(run("markdown").contains("\\<!-- \\& \\]\\]\\> 'x' --\\>"));
}

#[test]
fn the_table_fits_its_width_and_has_bars_at_every_width() {
    for width in [40, 52, 80, 120] {
        let size = width.to_string();
        for name in NAMES {
            let args = ["curve", &file(name), "-v", "--width", &size];
            let shown = spareframe(&args).stdout("...").check();
            for line in shown.lines() {
                assert!(line.width() <= width, "{name} at {width}: {line}");
            }
            let bars = shown.contains("----") || shown.contains("####");
            assert!(bars, "{name} at {width}:\n{shown}");
        }
        let args = ["curve", "-", "-q", "--width", &size];
        let shown = spareframe(&args).stdin(hostile()).stdout("...").check();
        assert!(shown.lines().all(|line| line.width() <= width), "{shown}");
    }
}

#[test]
fn the_honey_cap_holds_at_every_point() {
    let low = text("forty").replacen("honey cap: 8 kg", "honey cap: 1 kg", 1);
    let args = ["curve", "-", "--format", "json"];
    let low = spareframe(&args).stdin(low).stdout("{...").check();
    let low: Value = serde_json::from_str(&low).unwrap();
    assert_eq!(low["honey_cap_g"], 1000);
    let honey = |point: &Value| point["honey_given_up_g"].as_i64().unwrap();
    let points = low["points"].as_array().unwrap();
    assert!(points.iter().all(|point| honey(point) <= 1000));
}

#[test]
fn the_ending_of_out_decides_and_a_file_is_not_replaced_unasked() {
    let dir = Folder::new();
    for (ending, start) in [
        ("svg", "<svg "),
        ("csv", "compartments,"),
        ("md", "# Cost"),
        ("json", "{"),
        ("yml", "spareframe_curve: 2"),
        ("txt", "Cost against compartments"),
    ] {
        let name = &dir.path(&format!("curve.{ending}"));
        let args = ["curve", &file("first-round"), "--out", name];
        spareframe(&args).stderr(&format!("wrote {name}\n")).check();
        let written = std::fs::read_to_string(name).unwrap();
        assert!(written.starts_with(start), "{written}");
        spareframe(&args)
            .code(2)
            .stderr(&format!("error: {name} exists; --force replaces it\n"))
            .check();
        spareframe(&[&args[..], &["--force", "-q"]].concat()).check();
        assert_eq!(std::fs::read_to_string(name).unwrap(), written);
    }
    let own = &dir.write("own.yaml", text("first-round"));
    spareframe(&["curve", own, "--out", own, "--force"])
        .code(2)
        .stderr("error: --out ...")
        .check();
}

#[test]
fn nothing_possible_is_exit_1_in_every_format() {
    let none = text("first-round").replacen("cells: 12", "cells: 0", 1);
    for (format, start) in [
        (
            "table",
            "Cost against compartments, First round, 2031-05-20\n\nNothing possible: ...",
        ),
        ("markdown", "# Cost against..."),
        ("csv", "compartments,..."),
        ("json", "{..."),
        ("yaml", "spareframe_curve: 2..."),
        ("svg", "<svg ..."),
    ] {
        spareframe(&["curve", "-", "-q", "--format", format])
            .stdin(none.clone())
            .code(1)
            .stdout(start)
            .check();
    }
}

#[test]
fn a_time_limit_that_comes_first_says_so() {
    let args = ["curve", &file("forty"), "--time-limit", "0.000001"];
    let shown = spareframe(&args).stdout("...").check();
    assert!(
        shown.contains("Points may be missing: a search was stopped."),
        "{shown}"
    );
    let usual = spareframe(&["curve", &file("forty")]).stdout("...").check();
    spareframe(&["curve", &file("forty"), "--time-limit", "60"])
        .stdout(&usual)
        .check();
}

#[test]
fn bad_input_is_exit_2_with_every_finding() {
    spareframe(&["curve", "-", "-q"])
        .stdin("spareframe: 2\n")
        .code(2)
        .stderr("<stdin>:1:1\nerror[...")
        .check();
}
