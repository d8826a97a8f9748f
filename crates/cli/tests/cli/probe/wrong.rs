//! Changes that are wrong, odd or hostile.

use crate::support::{Folder, file, spareframe, text};
use std::process::Command;

#[test]
fn all_that_is_wrong_is_found_at_once_and_where_it_was_typed() {
    let folder = Folder::new();
    let alternatives = "weak:\n  colonies.44.crop: 3 kg\n  celsl: 3\nstrong:\n  cells: many\n  boxes.mating box.recipe: ~\nbare:\nnone: {}\n";
    let path = &folder.write("alternatives.yaml", alternatives);
    let first = file("first-round");
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
    let many: String = (0..100_000)
        .map(|n| format!("a{n}: {{cells: {n}}}\n"))
        .collect();
    let folder = Folder::new();
    let path = &folder.write("many.yaml", many);
    let first = file("first-round");
    let deep = format!("cells={}{}", "[".repeat(5000), "]".repeat(5000));
    let long = format!("{}=1", "a.".repeat(5000));
    let name = format!("colonies.{}=1", "x".repeat(100_000));
    let cases: &[(&[&str], &str)] = &[
        (&["--alternatives", path], "expected at most 1000"),
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
