//! What is written to a file: where, in which format, and never over another unasked.

use crate::support::{Folder, file, spareframe, text};

#[test]
fn out_names_the_folder_that_is_missing_and_endings_that_are_known() {
    let dir = Folder::new();
    let first = file("first-round");
    let out = &dir.path("no/such/plan.yaml");
    let folder = dir.path("no/such");
    let missing = |path: &str, folder: &str| {
        format!(
            "error: cannot write {path}: there is no folder {folder}; make it first, or choose another place\n"
        )
    };
    // Before any work.
    for scenario in [first.as_str(), "no-such.yaml"] {
        spareframe(&["stock", scenario, "--out", out])
            .code(2)
            .stderr(&missing(out, &folder))
            .check();
    }
    let to = &dir.path("no/such");
    spareframe(&["share", &first, "--to", to])
        .code(2)
        .stderr(&missing(to, &dir.path("no")))
        .check();
    for (command, ending, known) in [
        (
            "stock",
            "xyz",
            "the plan ends in .xyz; choose one of .txt, .md, .json, .yaml, .svg",
        ),
        (
            "stock",
            "csv",
            "the plan ends in .csv; choose one of .txt, .md, .json, .yaml, .svg",
        ),
        (
            "share",
            "txt",
            "the plan ends in .txt; choose one of .html, .md, .csv, .ics, .json, .yaml",
        ),
    ] {
        let out = &dir.path(&format!("plan.{ending}"));
        spareframe(&[command, &first, "--out", out])
            .code(2)
            .stderr(&format!(
                "error: --out {out}: no format of {known}, or name one with --format\n"
            ))
            .check();
    }
    // What is named holds, whatever the ending; without either it is the usual one.
    for args in [
        &["--out", "plan.xyz", "--format", "json"][..],
        &["--out", "plan"],
        &["--out", "plan.TXT"],
    ] {
        let mut args = args.to_vec();
        let out = dir.path(args[1]);
        args[1] = &out;
        spareframe(&[&["stock", &first, "-q"], &args[..]].concat()).check();
    }
    assert!(dir.read("plan.xyz").starts_with('{'));
    assert_eq!(dir.read("plan"), dir.read("plan.TXT"));
}

#[test]
fn out_refuses_an_existing_file_replaces_it_by_force_and_leaves_nothing_beside() {
    let dir = Folder::new();
    let name = &dir.path("plan.md");
    spareframe(&["stock", &file("first-round"), "--out", name])
        .stderr(&format!("wrote {name}\n"))
        .check();
    let plan = std::fs::read_to_string(name).unwrap();
    assert!(plan.starts_with("# Stocking plan"), "{plan}");
    std::fs::write(name, "mine").unwrap();
    spareframe(&["stock", &file("first-round"), "--out", name])
        .code(2)
        .stderr(&format!("error: {name} exists; --force replaces it\n"))
        .check();
    assert_eq!(std::fs::read_to_string(name).unwrap(), "mine");
    spareframe(&[
        "stock",
        &file("first-round"),
        "--out",
        name,
        "--force",
        "-q",
    ])
    .check();
    assert_eq!(std::fs::read_to_string(name).unwrap(), plan);
    assert_eq!(dir.names(), ["plan.md"]);
}

#[test]
fn a_failed_run_leaves_no_file_and_never_the_old_one_cut_short() {
    let dir = Folder::new();
    let name = &dir.path("plan.yaml");
    spareframe(&["stock", "-", "--out", name])
        .stdin("spareframe: 1\n")
        .code(2)
        .stderr("<stdin>:...")
        .check();
    assert!(dir.names().is_empty());
    std::fs::write(name, "mine").unwrap();
    spareframe(&["stock", "-", "--out", name, "--force"])
        .stdin("spareframe: 1\n")
        .code(2)
        .stderr("<stdin>:...")
        .check();
    assert_eq!(std::fs::read_to_string(name).unwrap(), "mine");
}

#[test]
fn out_is_never_the_scenario_itself() {
    let dir = Folder::new();
    let name = &dir.write("may.yaml", text("first-round"));
    spareframe(&["stock", name, "--out", name, "--force"])
        .code(2)
        .stderr(&format!("error: --out {name} is the scenario itself; ..."))
        .check();
}
