//! Invariants of the code that no compiler holds; DEVELOPERS.md names them.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Every Rust file of a folder, with its text; lines of comments alone are left out.
fn sources(folder: &Path) -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    let mut folders = vec![root().join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                let text = fs::read_to_string(&path).unwrap();
                let code = text.lines().filter(|line| !line.trim().starts_with("//"));
                found.push((path, code.collect::<Vec<_>>().join("\n")));
            }
        }
    }
    found.sort();
    assert!(!found.is_empty(), "{}", folder.display());
    found
}

/// The sources of every crate of the program; that of the oracles is for tests alone.
fn all_crates() -> Vec<(PathBuf, String)> {
    let crates = fs::read_dir(root().join("crates")).unwrap();
    let folders = crates.map(|entry| entry.unwrap().path());
    let folders: Vec<PathBuf> = folders.filter(|path| !path.ends_with("oracles")).collect();
    assert_eq!(folders.len(), 8, "{folders:?}");
    let folders = folders.iter();
    folders
        .flat_map(|folder| sources(&folder.join("src")))
        .collect()
}

/// That none of these words is in the code, but where `may` says so.
fn nowhere(code: Vec<(PathBuf, String)>, words: &[&str], may: impl Fn(&Path) -> bool) {
    for (path, text) in code.iter().filter(|(path, _)| !may(path)) {
        let found = words.iter().find(|&&word| text.contains(word));
        assert!(found.is_none(), "{}: {found:?}", path.display());
    }
}

fn never(_: &Path) -> bool {
    false
}

#[test]
fn the_check_knows_nothing_of_the_optimiser() {
    let words = [
        "solve::",
        "share_of",
        "frame_charge",
        "hundred_charge",
        "place_of",
        "drawn_otherwise",
    ];
    nowhere(sources(Path::new("crates/solver/src/check")), &words, never);
}

#[test]
fn one_module_names_the_engines() {
    let words = [
        "good_lp", "microlp", "minilp", "clarabel", "pumpkin", "highs", "scip", "cbc",
    ];
    let door = |path: &Path| path.ends_with("solve/direct/backend.rs");
    nowhere(all_crates(), &words, door);
}

#[test]
fn solver_and_calendar_do_no_input_and_output_and_know_no_format() {
    let words = [
        "std::fs",
        "std::io",
        "std::env",
        "std::net",
        "std::process",
        "print!",
        "println!",
        "serde",
        " static ",
        "\nstatic ",
        "thread_local",
    ];
    for folder in [
        "crates/colony/src",
        "crates/engine/src",
        "crates/season/src",
        "crates/solver/src",
        "crates/weeks/src",
        "crates/rearing/src",
    ] {
        nowhere(sources(Path::new(folder)), &words, never);
    }
}

#[test]
fn the_clock_is_read_for_time_limits_alone() {
    let limits = |path: &Path| {
        let files = ["again.rs", "curve.rs", "master/mod.rs"];
        let mut files = files.iter().map(|file| format!("solver/src/solve/{file}"));
        files.any(|file| path.ends_with(file)) || path.ends_with("cli/src/app/limit.rs")
    };
    nowhere(all_crates(), &["Instant"], limits);
    nowhere(all_crates(), &["SystemTime", "Zoned", "Timestamp"], never);
}

#[test]
fn no_unordered_maps() {
    nowhere(all_crates(), &["HashMap", "HashSet"], never);
}

#[test]
fn no_file_ends_the_process_but_by_its_exit_code() {
    nowhere(all_crates(), &["process::exit"], never);
}

/// The modules of the command line beside each other, and which of them each names.
fn command_line() -> BTreeMap<String, BTreeSet<String>> {
    let files = sources(Path::new("crates/cli/src/app")).into_iter();
    let named = files.map(|(path, text)| {
        let name = path.file_stem().unwrap().to_str().unwrap().to_owned();
        let code = text.split("#[cfg(test)]").next().unwrap();
        let uses = code.split("super::").skip(1).flat_map(|rest| {
            let list = rest
                .strip_prefix('{')
                .and_then(|list| list.split('}').next());
            let list =
                list.unwrap_or_else(|| rest.split([':', ';', ' ', '(', ',']).next().unwrap());
            list.split(',')
                .map(|name| name.trim().to_owned())
                .collect::<Vec<_>>()
        });
        (name, uses.collect())
    });
    named.filter(|(name, _)| name != "mod").collect()
}

#[test]
fn files_of_the_command_line_form_no_circle() {
    let mut left = command_line();
    assert!(left.len() > 15, "{left:?}");
    loop {
        let names: BTreeSet<String> = left.keys().cloned().collect();
        let free = |uses: &BTreeSet<String>| uses.is_disjoint(&names);
        let before = left.len();
        left.retain(|_, uses| !free(uses));
        if left.len() == before {
            break;
        }
    }
    assert!(left.is_empty(), "in a circle, or above one: {left:?}");
}

#[test]
fn arguments_that_commands_share_are_declared_once() {
    let read =
        |name| fs::read_to_string(root().join("crates/cli/src/app/args").join(name)).unwrap();
    let args = read("mod.rs") + &read("shared.rs");
    let shared = [
        "scenario: PathBuf",
        "format: Option",
        "width: Option",
        "bom: bool",
        "time_limit: Option",
        "most: Option",
        "worth: Option",
        "set: Vec",
        "revision: u32",
        "quiet: bool",
        "verbose: bool",
    ];
    for field in shared {
        let declared = format!("    pub(in crate::app) {field}");
        assert_eq!(args.matches(&declared).count(), 1, "{field}");
    }
    for field in [") out: Option", ") force: bool"] {
        // `inspect` and `start` write what has no formats.
        assert!(args.matches(field).count() <= 3, "{field}");
    }
}
