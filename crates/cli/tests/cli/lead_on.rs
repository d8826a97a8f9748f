//! Answers that lead on: what was asked amiss, what limits nothing, what stands where.

use crate::support::{file, spareframe};
use serde_json::Value;

fn said(args: &[&str]) -> String {
    spareframe(args).stdout("...").check()
}

/// One line, whatever the width.
fn joined(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_wish_in_another_way_is_told_how_it_is_written() {
    let first = file("first-round");
    for typed in ["4+1", "4:1", "4 1", "4x1"] {
        let told = format!(
            "--give:1:1\nerror[wrong-type]: found no colony with frames\n  |\n1 | {typed}\n  | ^^^ ex\
             pected COLONY=FRAMES or COLONY[N]=FRAMES, frame groups from 1\n  |\n  = help: did you mean `4=1`?..."
        );
        let asked = ["probe", &first, "--give", typed];
        spareframe(&asked).code(2).stderr(&told).check();
    }
}

#[test]
fn more_compartments_than_the_boxes_have_are_no_limit_and_said_so() {
    let text = joined(&said(&["stock", &file("first-round"), "--most", "20"]));
    let none = "As asked, at most 20 compartments. That limits nothing: the boxes have 12.";
    assert!(text.contains(none), "{text}");
    let text = joined(&said(&["stock", &file("first-round"), "--most", "8"]));
    assert!(
        text.contains("As asked, at most 8 compartments. Cost"),
        "{text}"
    );
}

#[test]
fn a_plan_states_the_order_of_the_goals_once() {
    for format in ["table", "markdown"] {
        let text = said(&["stock", &file("first-round"), "--format", format]);
        let times = joined(&text)
            .matches("Worth counts first, then cost.")
            .count();
        assert_eq!(times, 1, "{format}");
    }
}

#[test]
fn reasons_name_what_hardly_holds_back_on_request_alone() {
    let (short, long) = (
        said(&["why", &file("first-round")]),
        said(&["why", &file("first-round"), "-v"]),
    );
    assert!(!short.contains("hardly a change"), "{short}");
    assert!(long.contains("hardly a change"), "{long}");
    let lines = joined(&short).matches("changes little or nothing").count();
    assert_eq!(lines, 1, "{short}");
}

/// Each row of the curve is the plan that its own setting brings, box for box.
#[test]
fn the_curve_and_the_plan_name_the_same_boxes() {
    for name in ["nuclei", "queen-round"] {
        let curve = spareframe(&["curve", &file(name), "--format", "json"]).json();
        let kinds = |of: &Value| -> Vec<(String, u64)> {
            let kinds = of["kinds"].as_array().unwrap().iter();
            let count = |k: &Value| {
                k["compartments"]
                    .as_u64()
                    .or(k["compartments_stocked"].as_u64())
            };
            let each = kinds.map(|k| (k["box_kind"].to_string(), count(k).unwrap()));
            each.collect()
        };
        for point in curve["points"].as_array().unwrap().iter().skip(1) {
            let with = point["stock_with"].as_str().unwrap();
            let mut args = vec!["stock".to_owned(), file(name)];
            args.extend(with.split(' ').map(str::to_owned));
            args.extend(["--format", "json"].map(str::to_owned));
            let args: Vec<&str> = args.iter().map(String::as_str).collect();
            let plan = spareframe(&args).json();
            assert_eq!(kinds(&plan["headline"]), kinds(point), "{name} {with}");
        }
    }
}

#[test]
fn a_number_of_compartments_of_different_worth_says_how_the_curve_counts() {
    let text = joined(&said(&["stock", &file("nuclei"), "--most", "9"]));
    assert!(
        text.contains(
            "Of so many, those worth most are stocked, whatever they cost: `--worth` asks for"
        ),
        "{text}"
    );
}

#[test]
fn bees_are_as_round_in_what_has_changed_as_in_a_plan() {
    let text = said(&["probe", &file("first-round"), "--set", "cells=8"]);
    assert!(
        text.contains("and some 1,200 bees") && text.contains("some 500 bees fewer"),
        "{text}"
    );
}

#[test]
fn a_group_of_a_colony_counted_at_a_glance_is_not_to_be_named() {
    let told = "--give:1:1\nerror[out-of-range]: found entry 1\n  |\n1 | 3[1]=1\n  | ^^^^ expected an entry; there is none\n  \
                |\n  = help: a colony counted at a glance has no groups to name: write `COLONY=FRAMES`...";
    let asked = ["probe", "-", "--give", "3[1]=1"];
    let run = spareframe(&asked).stdin(spareframe::scenario::starter());
    run.code(2).stderr(told).check();
}
