//! `probe` at the command line: alternatives, streams, files, widths.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

mod cli_support;

use cli_support::spareframe;
use serde_json::Value;
use std::path::Path;
use std::process::{Command, Stdio};
use unicode_width::UnicodeWidthStr;

fn file(name: &str) -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../scenarios");
    let path = folder.join(format!("{name}.yaml"));
    path.to_str().unwrap().to_owned()
}

fn text(name: &str) -> String {
    std::fs::read_to_string(file(name)).unwrap()
}

/// The rows of an answer in JSON.
fn rows(args: &[&str]) -> Vec<Value> {
    let mut all = vec!["probe"];
    all.extend(args);
    all.extend(["--format", "json", "-q"]);
    let text = spareframe(&all).stdout("{...").check();
    let report: Value = serde_json::from_str(&text).unwrap();
    report["rows"].as_array().unwrap().clone()
}

fn names(rows: &[Value]) -> Vec<&str> {
    rows.iter()
        .map(|row| row["name"].as_str().unwrap())
        .collect()
}

#[test]
fn every_combination_is_tried_the_first_change_slowest() {
    let first = file("first-round");
    let args = [
        &first,
        "--set",
        "cells=8,10..11",
        "--set",
        "settings.honey cap=1..2 kg by 0.5",
    ];
    let rows = rows(&args);
    let wanted = [
        "as it is",
        "cells=8, settings.honey cap=1 kg",
        "cells=8, settings.honey cap=1.5 kg",
        "cells=8, settings.honey cap=2 kg",
        "cells=10, settings.honey cap=1 kg",
        "cells=10, settings.honey cap=1.5 kg",
        "cells=10, settings.honey cap=2 kg",
        "cells=11, settings.honey cap=1 kg",
        "cells=11, settings.honey cap=1.5 kg",
        "cells=11, settings.honey cap=2 kg",
    ];
    assert_eq!(names(&rows), wanted);
    let numbers: Vec<_> = rows
        .iter()
        .map(|row| row["number"].as_u64().unwrap())
        .collect();
    assert_eq!(numbers, (0..10).collect::<Vec<u64>>());
}

#[test]
fn what_is_the_same_in_all_is_said_once_and_alone_it_is_the_name() {
    let first = file("first-round");
    let set = [
        "--set",
        "cells=8",
        "--set",
        "colonies.6.hold=treatment, until June",
    ];
    let alone = rows(&[&[first.as_str()], &set[..]].concat());
    assert_eq!(
        names(&alone)[1],
        "cells=8, colonies.6.hold=treatment, until June"
    );
    let args = [
        &["probe", &first, "--spare", "7", "--set", "cells=8,9"],
        &set[2..],
    ]
    .concat();
    let table = spareframe(&args).stdout("What if, ...").check();
    let in_all = "In every alternative: colonies.6.hold=treatment, until June, spare 7.";
    assert!(table.contains(in_all), "{table}");
    assert!(table.contains(" 2   cells=9 "), "{table}");
}

#[test]
fn a_row_says_what_it_comes_to_beside_the_plan_as_it_is() {
    let rows = rows(&[
        &file("first-round"),
        "--set",
        "cells=0,9,12",
        "--spare",
        "6",
    ]);
    let nothing = &rows[1];
    assert_eq!(nothing["answer"], "nothing_possible");
    assert_eq!(nothing["difference"]["compartments_stocked"], -10);
    let same = rows[3]["difference"]["honey_given_up_g"].as_i64();
    assert_eq!(rows[0]["difference"], Value::Null);
    assert!(same.is_some());
    let six = |row: &Value| {
        let list = row["colonies"].as_array().unwrap();
        list.iter().find(|change| change["colony"] == "6").cloned()
    };
    let change = six(&rows[2]).unwrap();
    assert_eq!(change["gives"]["frames"], 0);
    assert_eq!(change["as_it_is"]["frames"], 9);
}

#[test]
fn the_plan_of_one_is_what_stock_says_of_the_edited_file() {
    let edited = text("first-round").replace("\ncells: 12\n", "\ncells: 9\n");
    assert_ne!(edited, text("first-round"));
    let first = file("first-round");
    let folder = tempfile::tempdir().unwrap();
    let names = folder.path().join("names.yaml");
    std::fs::write(&names, "few: {cells: 9}\n\"3\": {cells: 8}\n").unwrap();
    let names = names.to_str().unwrap();
    for format in ["table", "markdown", "json", "yaml"] {
        let stock = ["stock", "-", "--format", format, "-v"];
        let plan = spareframe(&stock)
            .stdin(edited.clone())
            .stdout("...")
            .check();
        let typed = ["--set", "cells=8,9,10", "--plan", "2"];
        let named = ["--set", "cells=8,9,10", "--plan", "cells=9"];
        let given = ["--alternatives", names, "--plan", "few"];
        for asked in [typed, named, given] {
            let args = [&["probe", &first, "--format", format, "-v"], &asked[..]].concat();
            spareframe(&args).stdout(&plan).check();
        }
    }
    let today = spareframe(&["stock", &first]).stdout("...").check();
    let args = ["probe", &first, "--set", "cells=8", "--plan", "0"];
    spareframe(&args).stdout(&today).check();
    let eight = ["probe", &first, "--set", "cells=8", "--plan", "1"];
    let eight = spareframe(&eight).stdout("...").check();
    let by_name = ["probe", &first, "--alternatives", names, "--plan", "3"];
    spareframe(&by_name).stdout(&eight).check();
    spareframe(&["probe", &first, "--set", "cells=8", "--plan", "7"])
        .code(2)
        .stderr("error: --plan 7: no such alternative; write its name, or its number from 0 (as it is) to 1\n")
        .check();
    spareframe(&["probe", &first, "--set", "cells=0", "--plan", "1", "-q"])
        .code(1)
        .stdout("Stocking plan...")
        .check();
}

#[test]
fn all_that_is_wrong_is_found_at_once_and_where_it_was_typed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("alternatives.yaml");
    let alternatives = "weak:\n  colonies.44.crop: 3 kg\n  celsl: 3\nstrong:\n  cells: many\n  boxes.mating box.recipe: ~\nbare:\nnone: {}\n";
    std::fs::write(&path, alternatives).unwrap();
    let first = file("first-round");
    let path = path.to_str().unwrap();
    let mut args = vec!["probe", first.as_str(), "--alternatives", path];
    for set in [
        "settings.honey cap=3 pints",
        "colonies.1.site=hom",
        "store room[9].count=2",
        "recipes.compartment.lines[+].count=2",
        "boxes.\"mating box.count=2",
        "day",
        "title=",
        "roles.nucleus.keep.brood=1..999999",
        "recipes.compartment.bees=20,000",
        "sites.home.at[1].x=3",
        "colonies[1]={}",
        "cells.mating box=3",
        "colonies.8.crop=~",
        "colonies.2.crop=~",
    ] {
        args.extend(["--set", set]);
    }
    args.extend(["--spare", "Asch"]);
    let mut command = Command::new(env!("CARGO_BIN_EXE_spareframe"));
    let output = command.args(&args).output().unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(output.stdout.is_empty());
    for part in [
        &format!("{path}:2:3\nerror[unknown-name]: found `44`"),
        &format!("{path}:3:3\nerror[unknown-key]: found `celsl`"),
        "help: did you mean `cells`?",
        &format!("{path}:5:10\nerror[wrong-type]: found `many`"),
        "found no `recipe`, with ",
        &format!("{path}:7:5\nerror[wrong-type]: found nothing"),
        &format!("{path}:8:7\nerror[empty]: found an alternative without changes"),
        "--set:1:20\nerror[wrong-type]: found `3 pints`",
        "help: did you mean `home`?",
        "--set:1:11\nerror[out-of-range]: found entry 9",
        "found a key of a new entry",
        "help: close the quote, and put a point after it",
        "found a change without `=`",
        "found nothing where a value should be",
        "expected at most 1000 figures",
        "did you mean `20_000`?",
        "expected nothing below a value of kind number",
        "found entry 1",
        "expected a map in the file",
        "found `crop` that is not there",
        "found `flow` without `crop`, with ",
        "--spare:1:1\nerror[unknown-name]: found `Asch`",
    ] {
        assert!(said.contains(part), "{part}\n---\n{said}");
    }
}

#[test]
fn a_name_with_a_point_wants_quotes_and_a_change_stands_once() {
    let scenario = text("first-round").replace("  \"1\":", "  \"St. John\":");
    let asked = |sets: &[&str], said: &str| {
        let mut args = vec!["probe", "-"];
        sets.iter().for_each(|set| args.extend(["--set", set]));
        let mut command = assert_cmd::Command::cargo_bin("spareframe").unwrap();
        let output = command
            .args(&args)
            .write_stdin(scenario.clone())
            .output()
            .unwrap();
        let text = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(2), "{text}");
        assert!(text.contains(said), "{text}");
    };
    let quotes = "put a name with a point in quotes: `\"St. John\"`";
    asked(&["colonies.St. John.crop=9 kg"], quotes);
    asked(&["cells=3", "cells=4"], "found `cells` again");
    let twice = ["colonies.2.draw.frames=1", "colonies.2.draw=all"];
    asked(&twice, "found `colonies.2.draw` again");
    let gone = ["colonies.2.frames[2]=~", "colonies.2.frames[2].count=1"];
    asked(&gone, "found `colonies.2.frames[2].count` again");
    spareframe(&[
        "probe",
        "-",
        "--set",
        "colonies.\"St. John\".crop=9 kg",
        "-q",
    ])
    .stdin(scenario.clone())
    .stdout("What if...")
    .check();
    // The whole first, then what is changed within it, is fine.
    let in_order = [
        "--set",
        "colonies.2.draw={frames: 1}",
        "--set",
        "colonies.2.draw.honey=1 kg",
    ];
    spareframe(&[&["probe", "-", "-q"], &in_order[..]].concat())
        .stdin(scenario.clone())
        .stdout("What if...")
        .check();
}

#[test]
fn hostile_changes_are_found_in_no_time() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("many.yaml");
    let many: String = (0..100_000)
        .map(|n| format!("a{n}: {{cells: {n}}}\n"))
        .collect();
    std::fs::write(&path, many).unwrap();
    let first = file("first-round");
    let deep = format!("cells={}{}", "[".repeat(5000), "]".repeat(5000));
    let long = format!("{}=1", "a.".repeat(5000));
    let name = format!("colonies.{}=1", "x".repeat(100_000));
    let cases: &[(&[&str], &str)] = &[
        (
            &["--alternatives", path.to_str().unwrap()],
            "expected at most 1000",
        ),
        (&["--set", &deep], "too many or too deeply nested"),
        (&["--set", &long], "shorten it"),
        (&["--set", &name], "a map of `key: value`"),
        (
            &["--set", "cells=0..10000000000"],
            "expected at most 1000 figures",
        ),
        (
            &[
                "--set",
                "cells=1..200",
                "--set",
                "colonies.1.crop=1..200 kg",
            ],
            "found 40000 alternatives",
        ),
        (&["--set", "title=\u{1b}[31mred"], "unexpected character"),
        (&["--set", "title=\"\\e[31mred\""], "control character"),
        (&["--set", "colonies.\u{1b}.crop=1 kg"], "found `?`"),
        (&["--set", "cells=*anchor"], "an alias"),
        (&["--set", "cells=!tag 3"], "a tag"),
        (&["--set", "cells=3\n---\n4"], "a second document"),
        (&["--set", "=3"], "a path such as"),
    ];
    for (args, said) in cases {
        let mut command = Command::new(env!("CARGO_BIN_EXE_spareframe"));
        let output = command
            .args(["probe", &first])
            .args(*args)
            .output()
            .unwrap();
        let text = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(2), "{said}: {text}");
        assert!(text.contains(said), "{said}: {text}");
        assert!(!text.contains('\u{1b}') && text.len() < 20_000, "{said}");
    }
}

#[test]
fn warnings_of_the_file_are_said_once_and_those_of_changes_with_the_change() {
    let scenario =
        text("first-round").replacen("sites:\n", "sites:\n  spare: {at: [50.2, 8.3]}\n", 1);
    let args = [
        "probe",
        "-",
        "--set",
        "cells=8..12",
        "--set",
        "colonies.1.keep.brood=90",
    ];
    let mut command = assert_cmd::Command::cargo_bin("spareframe").unwrap();
    let output = command
        .args(args)
        .write_stdin(scenario.clone())
        .output()
        .unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(said.matches("warning[").count(), 2, "{said}");
    assert!(said.contains("site `spare`"), "{said}");
    assert!(said.contains("--set:1:23\nwarning[keep-above]"), "{said}");
    spareframe(&[&args[..], &["-q"]].concat())
        .stdin(scenario)
        .stdout("What if...")
        .check();
}

#[test]
fn every_width_holds_and_a_pipe_has_no_colour() {
    let first = file("first-round");
    for width in ["40", "60", "64", "80", "120"] {
        let args = [
            "probe",
            &first,
            "--set",
            "cells=8,10",
            "--set",
            "colonies.6.hold=no,ill",
            "--width",
            width,
        ];
        let table = spareframe(&args).stdout("What if...").check();
        assert!(!table.contains('\u{1b}'));
        assert!(table.contains("estimate"));
        for line in table.lines() {
            assert!(line.width() <= width.parse().unwrap(), "{width}: {line}");
        }
    }
}

#[test]
fn a_closed_pipe_ends_in_silence() {
    let (reader, writer) = std::io::pipe().unwrap();
    drop(reader);
    let output = Command::new(env!("CARGO_BIN_EXE_spareframe"))
        .args(["probe", &file("first-round"), "--set", "cells=8"])
        .stdout(Stdio::from(writer))
        .stderr(Stdio::piped())
        .output()
        .unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!((output.status.code(), said.as_str()), (Some(0), ""));
}

#[test]
fn files_are_read_and_written_as_by_stock() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("answer.md");
    let out = out.to_str().unwrap();
    let first = file("first-round");
    let args = ["probe", &first, "--set", "cells=8", "--out", out];
    spareframe(&args).stderr(&format!("wrote {out}\n")).check();
    let written = std::fs::read_to_string(out).unwrap();
    assert!(
        written.starts_with("# What if, First round, 2031-05-20\n"),
        "{written}"
    );
    let exists = format!("error: {out} exists; --force replaces it\n");
    spareframe(&args).code(2).stderr(&exists).check();
    spareframe(&[&args[..], &["--force", "-q"]].concat()).check();
    let both = ["probe", "-", "--alternatives", "-"];
    spareframe(&both)
        .code(2)
        .stderr("error: scenario and alternatives cannot both come from stdin (-)\n")
        .check();
    spareframe(&["probe", &first, "--alternatives", "-", "--format", "json"])
        .stdin("fewer: {cells: 8}")
        .stdout("{...")
        .check();
    let itself = [
        "probe",
        &first,
        "--alternatives",
        out,
        "--out",
        out,
        "--force",
    ];
    spareframe(&itself)
        .code(2)
        .stderr("error: --out ...")
        .check();
    spareframe(&["probe", &first])
        .code(2)
        .stderr("error: the following required arguments...")
        .check();
}

#[test]
fn the_same_question_gives_the_same_bytes_in_every_format() {
    for format in ["table", "markdown", "json", "yaml"] {
        let args = [
            "probe",
            &file("home-yard"),
            "--set",
            "settings.honey cap=0..8 kg by 2",
            "--format",
            format,
        ];
        let once = spareframe(&args).stdout("...").check();
        spareframe(&args).stdout(&once).check();
    }
}

#[test]
fn a_time_limit_is_for_each_plan_and_its_rows_say_so() {
    let args = ["--set", "cells=20,24", "--time-limit", "0.000001"];
    let rows = rows(&[&[file("forty").as_str()], &args[..]].concat());
    for row in &rows {
        let stopped = row["answer"] == "stopped_without_plan"
            || row["proof"]["state"] == "stopped_by_time_limit";
        assert!(stopped, "{row}");
    }
    let table = spareframe(&[&["probe", &file("forty")], &args[..]].concat())
        .stdout("...")
        .check();
    assert!(table.contains("time limit"), "{table}");
}

#[test]
fn a_wish_is_kept_or_said_not_to_be_met_and_its_cost_is_said() {
    let first = file("first-round");
    let rows = rows(&[&first, "--give", "4=0..2"]);
    assert_eq!(names(&rows)[1..], ["give 4=0", "give 4=1", "give 4=2"]);
    assert_eq!(rows[1]["difference"]["cost_g"], 0);
    assert_eq!(rows[1]["colonies"], serde_json::json!([]));
    let four = |row: &Value| {
        let list = row["colonies"].as_array().unwrap();
        let four = list.iter().find(|change| change["colony"] == "4");
        four.map_or(0, |change| change["gives"]["frames"].as_u64().unwrap())
    };
    assert_eq!(four(&rows[2]), 1);
    assert_eq!(rows[3]["answer"], "wish_not_met");
    assert_eq!(rows[3]["difference"], Value::Null);
    assert_eq!(rows[3]["wishes"][0]["not_met"], "limits");
    let table = ["probe", &first, "--give", "4[1]=1", "--spare", "6"];
    let table = spareframe(&table).stdout("What if...").check();
    let cost = "This choice costs 3 compartments and saves 0.83 kg of honey in cost.";
    assert!(table.contains(cost), "{table}");
    let mixed = ["probe", &first, "--give", "4=1", "--set", "cells=8"];
    let mixed = spareframe(&mixed).stdout("What if...").check();
    assert!(!mixed.contains("This choice costs"), "{mixed}");
}

#[test]
fn a_wish_in_the_file_is_the_same_and_every_command_knows_it() {
    let first = file("first-round");
    let with = |frames: &str| {
        let wish = format!("  \"6\":\n    give: {frames}\n");
        let text = text("first-round");
        let at = text.find("  \"6\":").unwrap();
        let rest = text[at..].split_once('\n').unwrap().1;
        format!("{}{wish}{rest}", &text[..at])
    };
    for frames in ["10", "11"] {
        let code = i32::from(frames == "11");
        let plan = spareframe(&["stock", "-"])
            .stdin(with(frames))
            .code(code)
            .stdout("...")
            .check();
        let give = format!("6={frames}");
        let probe = ["probe", &first, "--give", &give, "--plan", "1"];
        spareframe(&probe).code(code).stdout(&plan).check();
        let why = spareframe(&["why", "-"])
            .stdin(with(frames))
            .code(code)
            .stdout("...")
            .check();
        assert_eq!(why == plan, frames == "11", "{why}");
    }
    let unmet = spareframe(&["stock", "-"])
        .stdin(with("11"))
        .code(1)
        .stdout("...")
        .check();
    assert!(
        unmet.contains("No plan gives the frames that are wished for."),
        "{unmet}"
    );
    assert!(
        unmet.contains("Colony 6 cannot give 11 frames: its floors and caps"),
        "{unmet}"
    );
    let folder = tempfile::tempdir().unwrap();
    let plan = folder.path().join("plan.yaml");
    let plan = plan.to_str().unwrap();
    spareframe(&["stock", "-", "--out", plan, "-q"])
        .stdin(with("10"))
        .check();
    spareframe(&["verify", "-", plan])
        .stdin(with("10"))
        .stdout("The plan holds: ...")
        .check();
    let broken = spareframe(&["verify", "-", plan])
        .stdin(with("12"))
        .code(1)
        .stdout("...")
        .check();
    let breach =
        "give: colony 6: found 10 frames taken, expected at least 12 frames, as wished for";
    assert!(broken.contains(breach), "{broken}");
    let curve = spareframe(&["curve", "-"])
        .stdin(with("10"))
        .stdout("...")
        .check();
    assert!(
        curve.contains("Wishes (`give`) are left out here"),
        "{curve}"
    );
    let store = text("first-round").replace(
        "{count: 8, drawn: 90 %}",
        "{count: 8, drawn: 90 %, give: 1}",
    );
    spareframe(&["stock", "-"])
        .stdin(store)
        .code(2)
        .stderr("<stdin>:117:5\nerror[out-of-range]: found brood, bees, a queen or a wish in the store room...")
        .check();
}
