//! What holds for every scenario that comes with the program.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn scenarios() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../scenarios");
    let mut found: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    found.sort();
    assert!(found.len() >= 6);
    found
}

fn spareframe(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_spareframe"))
        .args(args)
        .env_remove("CLICOLOR_FORCE")
        .output()
        .unwrap()
}

fn stock(scenario: &Path, format: &str) -> Output {
    let path = scenario.to_str().unwrap();
    spareframe(&["stock", path, "--format", format])
}

#[test]
fn every_scenario_has_an_answer_without_a_word_on_stderr() {
    for scenario in scenarios() {
        let output = stock(&scenario, "table");
        let name = scenario.display();
        assert!(matches!(output.status.code(), Some(0 | 1)), "{name}");
        assert_eq!(String::from_utf8(output.stderr).unwrap(), "", "{name}");
        let text = String::from_utf8(output.stdout).unwrap();
        assert!(!text.contains('\u{1b}'), "{name}: colour in a pipe");
    }
}

#[test]
fn two_runs_give_equal_bytes_in_every_format() {
    for scenario in scenarios() {
        for format in ["table", "markdown", "json", "yaml"] {
            let (one, two) = (stock(&scenario, format), stock(&scenario, format));
            assert_eq!(one, two, "{} as {format}", scenario.display());
            assert!(!one.stdout.is_empty());
        }
    }
}

#[test]
fn every_plan_that_is_written_passes_verify() {
    let folder = tempfile::tempdir().unwrap();
    let mut plans = 0;
    for scenario in scenarios() {
        for format in ["json", "yaml"] {
            let output = stock(&scenario, format);
            if output.status.code() != Some(0) {
                continue;
            }
            let plan = folder.path().join(format!("plan.{format}"));
            fs::write(&plan, output.stdout).unwrap();
            let args = ["verify", scenario.to_str().unwrap(), plan.to_str().unwrap()];
            let checked = spareframe(&args);
            let text = String::from_utf8_lossy(&checked.stdout).into_owned();
            assert_eq!(
                checked.status.code(),
                Some(0),
                "{}: {text}",
                scenario.display()
            );
            plans += 1;
        }
    }
    assert!(plans >= 8);
}

/// Compartments stocked and honey given up, in grams, by the JSON plan of a scenario; where no colony states a
/// crop, no honey is estimated.
fn headline(scenario: &Path) -> (u64, i64) {
    let output = stock(scenario, "json");
    let plan: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let figure = |key: &str| plan["headline"][key].clone();
    (
        figure("compartments_stocked").as_u64().unwrap(),
        figure("honey_given_up_g").as_i64().unwrap_or(0),
    )
}

#[test]
fn no_scenario_gives_up_more_honey_than_a_careful_beekeeper_would() {
    for scenario in scenarios() {
        let (_, honey) = headline(&scenario);
        let most = if scenario.ends_with("forty.yaml") {
            8000
        } else {
            3000
        };
        assert!(honey <= most, "{}: {honey} g", scenario.display());
    }
}

#[test]
fn bees_that_fly_home_cost_compartments_in_the_home_yard() {
    let folder = tempfile::tempdir().unwrap();
    let all = scenarios();
    let home = all.iter().find(|s| s.ends_with("home-yard.yaml")).unwrap();
    let text = fs::read_to_string(home).unwrap();
    let far = folder.path().join("far.yaml");
    let moved = text.replacen("homing distance: 3 km", "homing distance: 0 km", 1);
    assert_ne!(text, moved);
    fs::write(&far, moved).unwrap();
    assert_eq!((headline(home).0, headline(&far).0), (8, 10));
}

#[test]
fn without_cells_nothing_can_be_stocked_and_the_exit_code_says_so() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("may.yaml");
    let name = path.to_str().unwrap();
    assert_eq!(spareframe(&["start", name]).status.code(), Some(0));
    assert_eq!(stock(&path, "table").status.code(), Some(0));
    let text = fs::read_to_string(&path).unwrap();
    let without: String = text
        .lines()
        .filter(|line| !line.starts_with("cells:"))
        .chain(["cells: 0"])
        .map(|line| format!("{line}\n"))
        .collect();
    fs::write(&path, without).unwrap();
    let output = stock(&path, "table");
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(1), "{said}");
}
