//! Files and streams: findings, stale figures, widths.

use super::support::{plan, round};
use crate::support::{Folder, file, spareframe};
use serde_json::json;

/// A folder with the first round's plan, and another file.
fn folder(text: &str) -> (Folder, String, String) {
    let dir = Folder::new();
    let (plan, other) = (dir.path("plan.yaml"), dir.write("other.yaml", text));
    spareframe(&["stock", &file("first-round"), "-q", "--out", &plan]).check();
    (dir, plan, other)
}

#[test]
fn every_finding_of_both_files_comes_at_once_with_its_place() {
    let bad = "spareframe_plan: 1\ncompartments:\n  - box_kind: a\n    box_no: one\n    \
               compartment: 1\n    frames: [{line: b, frames: 1}]\n    bees: [{colony: c, bee: 1}]\n  \
               - {box_kind: a, box_no: 1, compartment: 1, frames: [], bees: []}\n  \
               - {box_kind: a, box_no: 1, compartment: 1, frames: [], bees: []}\n";
    let (_dir, _, other) = folder(bad);
    let worse = format!("{other}.yaml");
    std::fs::write(&worse, "spareframe_plan: 3\ncompartments: []\n").unwrap();
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_spareframe"))
        .args(["compare", &other, &worse])
        .output()
        .unwrap();
    assert_eq!((output.status.code(), output.stdout), (Some(2), vec![]));
    let said = String::from_utf8(output.stderr).unwrap();
    for (place, code) in [
        ("4:13", "wrong-type"),
        ("6:14", "missing-key"),
        ("7:24", "unknown-key"),
        ("9:5", "duplicate-key"),
    ] {
        assert!(
            said.contains(&format!("{other}:{place}\nerror[{code}]")),
            "{place} {code}\n{said}"
        );
    }
    assert!(
        said.contains(&format!("{worse}:1:18\nerror[out-of-range]")),
        "{said}"
    );
}

#[test]
fn a_scenario_is_no_plan_and_stdin_is_one_file() {
    let (_dir, plan, _) = folder("");
    let said = "a scenario";
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_spareframe"))
        .args(["compare", &plan, &file("first-round")])
        .output()
        .unwrap();
    let text = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(
        text.contains(said) && text.contains("name two plans"),
        "{text}"
    );
    spareframe(&["compare", "-", "-"])
        .code(2)
        .stderr("error: the old plan and the new one cannot both come from stdin (-)\n")
        .check();
    let own = std::fs::read_to_string(&plan).unwrap();
    spareframe(&["compare", &plan, "-"])
        .stdin(own)
        .stdout("From the old plan to the new one\n\nNothing has changed: ...")
        .check();
}

#[test]
fn figures_that_a_hand_edit_made_stale_are_noted_unless_quiet() {
    let (_dir, plan, other) = folder("");
    let text = std::fs::read_to_string(&plan).unwrap();
    let edited = text.replacen("colonies_opened: 5", "colonies_opened: 7", 1);
    assert_ne!(edited, text);
    std::fs::write(&other, edited).unwrap();
    spareframe(&["compare", &plan, &other])
        .stdout("...")
        .stderr(&format!(
            "note: {other}: states 7 colonies opened, and its ..."
        ))
        .check();
    spareframe(&["compare", &plan, &other, "-q"])
        .stdout("...")
        .check();
}

#[test]
fn the_table_fits_its_width_and_names_of_a_file_stay_text() {
    let old = round();
    let mut new = plan("nuclei");
    new["title"] = json!("# *bold* <b> \u{200b}");
    new["on_hold"] = json!([{"colony": "[x](y)", "reason": "`|`"}]);
    let dir = Folder::new();
    let old = dir.write("old.json", old.to_string());
    let new = dir.write("new.json", new.to_string());
    for width in [40, 80, 120] {
        let args = ["compare", &old, &new, "--width", &width.to_string()];
        let shown = spareframe(&args).stdout("...").check();
        let fits = |line: &str| unicode_width::UnicodeWidthStr::width(line) <= width;
        assert!(shown.lines().all(fits), "{shown}");
        assert!(shown.contains("differ in title or day"), "{shown}");
    }
    let args = ["compare", &old, &new, "--format", "markdown"];
    let shown = spareframe(&args).stdout("...").check();
    assert!(shown.contains("\\# \\*bold\\* \\<b\\>"), "{shown}");
    assert!(
        shown.contains("colony \\[x\\](y) is on hold now: \\`\\|\\`"),
        "{shown}"
    );
}
