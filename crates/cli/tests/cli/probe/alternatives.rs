//! Which alternatives are tried, and what is said of each.

use super::support::{names, rows};
use crate::support::{Folder, file, spareframe, text};
use serde_json::Value;

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
    assert_eq!(change["as_it_is"]["frames"], 10);
}

#[test]
fn the_plan_of_one_is_what_stock_says_of_the_edited_file() {
    let edited = text("first-round").replace("\ncells: 12\n", "\ncells: 9\n");
    assert_ne!(edited, text("first-round"));
    let first = file("first-round");
    let folder = Folder::new();
    let names = &folder.write("names.yaml", "few: {cells: 9}\n\"3\": {cells: 8}\n");
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
