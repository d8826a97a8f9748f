//! `curve` at the command line: figures, formats, files, limits.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

mod cli_support;

use cli_support::spareframe;
use serde_json::Value;
use std::path::Path;
use std::process::{Command, Stdio};
use unicode_width::UnicodeWidthStr;

const NAMES: [&str; 6] = [
    "first-round",
    "forty",
    "home-yard",
    "nuclei",
    "taken-apart",
    "thin-spring",
];

fn file(name: &str) -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../scenarios");
    let path = folder.join(format!("{name}.yaml"));
    path.to_str().unwrap().to_owned()
}

fn text(name: &str) -> String {
    std::fs::read_to_string(file(name)).unwrap()
}

/// Many more compartments than colonies, and names that no format may trip over.
fn hostile() -> String {
    text("forty")
        .replacen("Forty colonies", "\"<!-- & ]]> 'x' -->\"", 1)
        .replacen("mating box:", "\"=1+1, <b>&amp;half ]]> %\":", 1)
}

fn json(args: &[&str]) -> Value {
    let text = spareframe(args).stdout("{...").check();
    serde_json::from_str(&text).unwrap()
}

fn curve(name: &str) -> Value {
    json(&["curve", &file(name), "--format", "json"])
}

fn honey(point: &Value) -> f64 {
    point["honey_given_up_charged_estimate_kg"]
        .as_f64()
        .unwrap()
}

#[test]
fn the_answer_stands_first_and_honey_is_named_an_estimate() {
    let shown = spareframe(&["curve", &file("forty")])
        .stdout("Honey against compartments, Forty colonies, 2031-05-20\n\nAt most 26 of 40...")
        .check();
    assert!(shown.contains("kg of honey (estimate)"), "{shown}");
    assert!(shown.contains("\n2 to 22         0        0 "), "{shown}");
    assert!(shown.contains("dear step\n"), "{shown}");
    assert!(!shown.contains("About the honey estimate"), "{shown}");
    spareframe(&["curve", &file("forty"), "-v"])
        .stdout("...")
        .check()
        .find("\nAbout the honey estimate\n- Honey given up is an estimate")
        .unwrap();
}

#[test]
fn the_last_point_that_is_allowed_today_is_what_stock_reaches() {
    for name in NAMES {
        let curve = curve(name);
        let plan = json(&["stock", &file(name), "--format", "json"]);
        let points = curve["points"].as_array().unwrap();
        let allowed = points.iter().rfind(|p| p["allowed_today"] == true).unwrap();
        let headline = &plan["headline"];
        let key = "honey_given_up_charged_estimate_kg";
        assert_eq!(allowed["worth"], headline["worth"], "{name}");
        assert_eq!(allowed[key], headline[key], "{name}");
        assert_eq!(allowed["proof"]["state"], "proved_best", "{name}");
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
    let counts = |name: &str| -> Vec<u64> {
        let curve = curve(name);
        let points = curve["points"].as_array().unwrap().iter();
        points
            .map(|p| p["compartments"].as_u64().unwrap())
            .collect()
    };
    assert_eq!(counts("first-round"), (0..=10).collect::<Vec<_>>());
    assert_eq!(counts("forty"), (0..=26).step_by(2).collect::<Vec<_>>());
    let nuclei = curve("nuclei");
    assert_eq!(nuclei["counted_in"], "worth");
    let points = nuclei["points"].as_array().unwrap();
    assert!(
        points
            .windows(2)
            .all(|pair| honey(&pair[0]) < honey(&pair[1]))
    );
}

#[test]
fn csv_yaml_and_json_hold_the_same_points() {
    let curve = json(&["curve", &file("forty"), "--format", "json"]);
    let points = curve["points"].as_array().unwrap();
    let args = ["curve", &file("forty"), "--format", "yaml"];
    let yaml = spareframe(&args).stdout("spareframe_curve: 1\n...").check();
    let same: Value = serde_yaml::from_str(&yaml).unwrap();
    assert_eq!(same["points"].as_array().unwrap().len(), points.len());
    let args = ["curve", &file("forty"), "--format", "csv"];
    let text = spareframe(&args).stdout("compartments,worth,...").check();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let lines: Vec<_> = reader.records().map(Result::unwrap).collect();
    assert_eq!(lines.len(), points.len());
    for (line, point) in lines.iter().zip(points) {
        assert_eq!(line[0], point["compartments"].to_string());
        assert_eq!(line[2].parse::<f64>().unwrap(), honey(point));
        assert_eq!(&line[6] == "yes", point["allowed_today"] == true);
        assert_eq!(&line[7] == "yes", point["dear_step"] == true);
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
    assert!(reader.all(|record| record.is_ok_and(|record| record.len() == 10)));
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
        "Honey against compartments, <!-- & ]]> 'x' -->, 2031-05-20"
    );
    assert!(run("markdown").contains("\\<!-- \\& \\]\\]\\> 'x' --\\>"));
}

#[test]
fn the_picture_is_described_labelled_and_readable_without_colour() {
    let args = ["curve", &file("forty"), "--format", "svg"];
    let picture = spareframe(&args).stdout("<svg role=\"img\" ...").check();
    assert_eq!(
        picture,
        spareframe(&args).stdout("...").check(),
        "twice the same"
    );
    let document = roxmltree::Document::parse(&picture).unwrap();
    let root = document.root_element();
    assert_eq!(root.attribute("aria-labelledby"), Some("title description"));
    let by_id = |id: &str| {
        let node = document
            .descendants()
            .find(|n| n.attribute("id") == Some(id));
        node.unwrap().text().unwrap().to_owned()
    };
    assert_eq!(
        by_id("title"),
        "Honey against compartments, Forty colonies, 2031-05-20"
    );
    let about = by_id("description");
    assert!(
        about.contains("24: 3.83 kg (dear step). 26: 9.81 kg (over cap)."),
        "{about}"
    );
    let texts: Vec<_> = document
        .descendants()
        .filter(|n| n.has_tag_name("text"))
        .filter_map(|n| n.text().map(str::trim))
        .collect();
    for wanted in [
        "compartments stocked",
        "honey given up in all, kg (estimate)",
        "honey cap of today: 8.00 kg",
        "dear step: 22 to 24",
        "1.92 kg for each compartment",
        "full point: allowed today; hollow point: over the honey cap of today",
    ] {
        assert!(texts.contains(&wanted), "{wanted}: {texts:?}");
    }
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
            let bars = ["first-round", "forty", "nuclei"].contains(&name);
            assert_eq!(shown.contains("####"), bars, "{name} at {width}:\n{shown}");
        }
        let args = ["curve", "-", "-q", "--width", &size];
        let shown = spareframe(&args).stdin(hostile()).stdout("...").check();
        assert!(shown.lines().all(|line| line.width() <= width), "{shown}");
    }
}

#[test]
fn a_cap_below_every_step_marks_them_and_changes_no_figure() {
    let low = text("forty").replacen("honey cap: 8 kg", "honey cap: 3 kg", 1);
    let args = ["curve", "-", "--format", "json"];
    let low = spareframe(&args).stdin(low).stdout("{...").check();
    let low: Value = serde_json::from_str(&low).unwrap();
    let usual = curve("forty");
    let (low, usual) = (
        low["points"].as_array().unwrap(),
        usual["points"].as_array().unwrap(),
    );
    assert_eq!(low.len(), usual.len());
    for (a, b) in low.iter().zip(usual) {
        assert_eq!(a["step"], b["step"]);
        assert_eq!(a["allowed_today"], honey(a) <= 3.0);
    }
}

#[test]
fn the_ending_of_out_decides_and_a_file_is_not_replaced_unasked() {
    let dir = tempfile::tempdir().unwrap();
    for (ending, start) in [
        ("svg", "<svg "),
        ("csv", "compartments,"),
        ("md", "# Honey"),
        ("json", "{"),
        ("yml", "spareframe_curve: 1"),
        ("txt", "Honey against compartments"),
    ] {
        let path = dir.path().join(format!("curve.{ending}"));
        let name = path.to_str().unwrap();
        let args = ["curve", &file("first-round"), "--out", name];
        spareframe(&args).stderr(&format!("wrote {name}\n")).check();
        let written = std::fs::read_to_string(&path).unwrap();
        assert!(written.starts_with(start), "{written}");
        spareframe(&args)
            .code(2)
            .stderr(&format!("error: {name} exists; --force replaces it\n"))
            .check();
        spareframe(&[&args[..], &["--force", "-q"]].concat()).check();
        assert_eq!(std::fs::read_to_string(&path).unwrap(), written);
    }
    let own = dir.path().join("own.yaml");
    std::fs::write(&own, text("first-round")).unwrap();
    let own = own.to_str().unwrap();
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
            "Honey against compartments, First round, 2031-05-20\n\nNothing possible: ...",
        ),
        ("markdown", "# Honey against..."),
        ("csv", "compartments,..."),
        ("json", "{..."),
        ("yaml", "spareframe_curve: 1..."),
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
    let shown = spareframe(&args).code(1).stdout("...").check();
    assert!(
        shown.contains("Stopped before any plan was found."),
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

#[test]
fn a_closed_pipe_ends_in_silence() {
    let (reader, writer) = std::io::pipe().unwrap();
    drop(reader);
    let output = Command::new(env!("CARGO_BIN_EXE_spareframe"))
        .args(["curve", &file("forty"), "--format", "svg"])
        .stdout(Stdio::from(writer))
        .stderr(Stdio::piped())
        .output()
        .unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!((output.status.code(), said.as_str()), (Some(0), ""));
}
