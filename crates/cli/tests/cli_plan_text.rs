//! What the writers show of one plan.

mod cli_support;

use cli_support::{heading, report, scenario, stocking};
use spareframe::output::plan_file::read_plan;
use spareframe::output::{self, TableOptions};
use spareframe_solver::{Goals, Outcome, Proof};

fn plain(width: usize) -> String {
    let text = output::table(
        &report(),
        TableOptions {
            width,
            verbose: true,
        },
    );
    anstream::adapter::strip_str(&text).to_string()
}

#[test]
fn the_table_fits_its_width() {
    for width in [60, 80, 100, 120] {
        let text = plain(width);
        for line in text.lines() {
            assert!(
                unicode_width::UnicodeWidthStr::width(line) <= width,
                "{width}: {line}\n{text}"
            );
        }
    }
}

#[test]
fn the_answer_stands_first_and_honey_is_named_an_estimate() {
    let text = plain(80);
    assert_eq!(text.lines().nth(2), Some("3 of 4 compartments stocked."));
    assert!(text.contains("Honey given up (estimate):"), "{text}");
    assert!(text.contains("treatment until 28 May"), "{text}");
}

#[test]
fn a_plan_in_yaml_or_json_is_read_back_as_it_was() {
    for text in [
        output::yaml(&report()).unwrap(),
        output::json(&report()).unwrap(),
    ] {
        let (plan, stated) = read_plan(&scenario(), text.as_bytes()).unwrap();
        assert_eq!(plan, stocking().plan);
        assert_eq!(stated.worth, Some(3.0));
        let again: output::Report = serde_yaml::from_str(&text).unwrap();
        assert_eq!(again, report());
    }
}

#[test]
fn unknown_names_are_reported_all_at_once_with_their_place() {
    let text = output::yaml(&report()).unwrap();
    let text = text.replacen("colony: Ash 1", "colony: Ash 9", 1).replacen(
        "line: stores",
        "line: store",
        1,
    );
    let problems = read_plan(&scenario(), text.as_bytes()).unwrap_err();
    assert_eq!(problems.len(), 2, "{problems:?}");
    assert!(
        problems[0].text.contains("did you mean \"Ash 1\"?"),
        "{problems:?}"
    );
    for (problem, word) in problems.iter().zip(["Ash 9", "store"]) {
        let line = text.lines().nth(problem.line as usize - 1).unwrap();
        assert!(
            line[problem.column as usize - 1..].starts_with(word),
            "{line} {problem:?}"
        );
    }
}

#[test]
fn each_substitute_is_named_and_fed() {
    let report = report();
    let second = &report.compartments[1];
    assert_eq!(second.frames[1].substitute, Some(1));
    assert_eq!(second.feed_kg, 0.5);
    assert!(report.cautions.iter().any(|c| c.id == "robbing"));
}

#[test]
fn a_gap_is_told_as_a_gap() {
    let mut open = stocking();
    open.proof = Proof::Open {
        goal: 1,
        bound: 4000,
        timed_out: true,
    };
    let goals = open.goals;
    let report = output::build(&scenario(), &heading(), &Outcome::Stocked(open), &goals);
    let text = output::table(&report, TableOptions::default());
    assert!(text.contains("Stopped by the time limit"), "{text}");
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains("Not proved: worth, here 3, at best 4."),
        "{text}"
    );
}

#[test]
fn nothing_possible_is_said_plainly() {
    let report = output::build(
        &scenario(),
        &heading(),
        &Outcome::Nothing,
        &Goals::default(),
    );
    let text = output::table(&report, TableOptions::default());
    assert!(text.contains("Nothing possible"), "{text}");
    assert!(!text.contains("Mind"), "{text}");
}

#[test]
fn markdown_cannot_be_broken_by_a_name() {
    let mut scenario = scenario();
    scenario.colonies[0].name = "a|b\u{1b}[31m<b>".into();
    let stocking = stocking();
    let goals = stocking.goals;
    let report = output::build(&scenario, &heading(), &Outcome::Stocked(stocking), &goals);
    let text = output::markdown(&report);
    assert!(text.contains("a\\|b\u{fffd}\\[31m\\<b\\>"), "{text}");
    assert!(!output::table(&report, TableOptions::default()).contains("\u{1b}[31m"));
}

#[test]
fn the_plan_schema_names_every_top_level_key() {
    let schema = output::plan_schema();
    let json = serde_json::to_value(report()).unwrap();
    for key in json.as_object().unwrap().keys() {
        assert!(schema["properties"].get(key).is_some(), "{key}");
    }
}
