//! Exit code, stdout and stderr of the commands.

use crate::support::{Folder, spareframe};

#[test]
fn no_arguments_show_help_and_are_bad_input() {
    spareframe(&[])
        .code(2)
        .stderr("Plans the stocking of mating boxes...")
        .check();
}

#[test]
fn a_missing_file_is_bad_input() {
    spareframe(&["stock", "no-such.yaml"])
        .code(2)
        .stderr("error: cannot read no-such.yaml: ...")
        .check();
}

#[test]
fn stdin_cannot_be_both_scenario_and_plan() {
    spareframe(&["verify", "-", "-"])
        .code(2)
        .stderr("error: scenario and plan cannot both come from stdin (-)\n")
        .check();
}

#[test]
fn a_file_over_16_mb_is_refused() {
    let dir = Folder::new();
    let path = &dir.path("huge.yaml");
    let file = std::fs::File::create(path).unwrap();
    file.set_len(16_000_001).unwrap();
    spareframe(&["stock", path])
        .code(2)
        .stderr(&format!(
            "error: {path} is larger than 16 MB; is it the right file?\n"
        ))
        .check();
}

#[test]
fn start_never_replaces_a_file_without_force() {
    let dir = Folder::new();
    let name = &dir.path("may.yaml");
    std::fs::write(name, "mine").unwrap();
    spareframe(&["start", name])
        .code(2)
        .stderr(&format!("error: {name} exists; --force replaces it\n"))
        .check();
    assert_eq!(std::fs::read_to_string(name).unwrap(), "mine");
}

#[test]
fn an_existing_out_file_is_refused_before_any_work() {
    let dir = Folder::new();
    let name = &dir.write("plan.md", "mine");
    spareframe(&["stock", "no-such.yaml", "--out", name])
        .code(2)
        .stderr(&format!("error: {name} exists; --force replaces it\n"))
        .check();
}

#[test]
fn a_time_limit_is_above_0() {
    spareframe(&["stock", "x", "--time-limit", "0"])
        .code(2)
        .stderr("error: invalid value '0' for '--time-limit <SECONDS>': expected seconds...")
        .check();
}

#[test]
fn schema_completions_and_manual_are_printed() {
    spareframe(&["schema", "--plan"]).stdout("{...").check();
    spareframe(&["completions", "bash"])
        .stdout("_spareframe() {...")
        .check();
    let page = spareframe(&["manual"]).stdout("...").check();
    assert!(page.contains("COMMAND STOCK"), "{page}");
}

/// The starter file and its plan, in a folder.
fn starter_and_plan(dir: &Folder) -> (String, String) {
    let (scenario, plan) = (dir.path("may.yaml"), dir.path("plan.yaml"));
    spareframe(&["start", &scenario])
        .stderr("wrote ...")
        .check();
    spareframe(&["stock", &scenario, "--out", &plan, "-q"]).check();
    (scenario, plan)
}

#[test]
fn the_starter_is_stocked_and_its_plan_holds() {
    let dir = Folder::new();
    let (scenario, plan) = &starter_and_plan(&dir);
    spareframe(&["verify", scenario, plan])
        .stdout("The plan holds: ...")
        .check();
    let edited = std::fs::read_to_string(plan)
        .unwrap()
        .replacen("frames: 1", "frames: 9", 1);
    std::fs::write(plan, edited).unwrap();
    spareframe(&["verify", scenario, plan])
        .code(1)
        .stdout("The plan does not hold: ...")
        .stderr("...")
        .check();
}

#[test]
fn verify_notes_a_figure_that_is_no_longer_right_unless_quiet() {
    let dir = Folder::new();
    let (scenario, plan) = &starter_and_plan(&dir);
    let text = std::fs::read_to_string(plan).unwrap();
    let edited = text.replacen("colonies_opened: 2", "colonies_opened: 7", 1);
    assert_ne!(text, edited);
    std::fs::write(plan, edited).unwrap();
    spareframe(&["verify", scenario, plan])
        .stdout("The plan holds: ...")
        .stderr(&format!(
            "note: {plan}: states colonies opened 7; as it stands it is 2\n"
        ))
        .check();
    spareframe(&["verify", scenario, plan, "-q"])
        .stdout("The plan holds: ...")
        .check();
}

/// Whatever can be written in several formats is written in each that its help names, to stdout and to a file of that
/// ending, and in no other.
#[test]
fn every_record_is_written_in_each_format_that_help_names() {
    let folder = Folder::new();
    let round = "../../scenarios/queen-round.yaml";
    let plan = folder.path("plan.yaml");
    spareframe(&["stock", round, "--out", &plan, "-q"]).check();
    for (command, formats) in [
        (&["stock", round][..], "table markdown json yaml svg"),
        (&["why", round], "table markdown json yaml"),
        (&["curve", round], "table markdown csv json yaml svg"),
        (
            &["probe", round, "--set", "cells=4..5"],
            "table markdown json yaml",
        ),
        (&["calendar", round], "table markdown ics json yaml"),
        (&["compare", &plan, &plan], "table markdown json yaml"),
        (&["share", round], "html markdown csv ics json yaml"),
    ] {
        let help = spareframe(&[command[0], "--help"]).stdout("...").check();
        let named: Vec<&str> = help
            .lines()
            .filter_map(|line| line.trim().strip_prefix("- ")?.split_once(':'))
            .map(|(name, _)| name)
            .collect();
        let formats: Vec<&str> = formats.split(' ').collect();
        assert_eq!(named, formats, "{command:?}");
        for format in [
            "table", "markdown", "csv", "json", "yaml", "html", "ics", "svg",
        ] {
            let args = [command, &["-q", "--format", format]].concat();
            if !formats.contains(&format) {
                spareframe(&args)
                    .code(2)
                    .stderr("error: invalid value...")
                    .check();
                continue;
            }
            let text = spareframe(&args).stdout("...").check();
            assert!(!text.is_empty(), "{args:?}");
            if format != "table" {
                let file = format!("{}.{format}", command[0]);
                let path = folder.path(&file);
                spareframe(&[command, &["-q", "--out", &path]].concat()).check();
                assert_eq!(folder.read(&file), text, "{args:?}");
            }
        }
    }
}
