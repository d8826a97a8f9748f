//! Invariants of the code that no compiler holds; DEVELOPERS.md names them.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

use std::fs;
use std::path::{Path, PathBuf};

/// Every Rust file of a folder, with its text.
fn sources(folder: &str) -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    let mut folders = vec![
        Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("../..")
            .join(folder),
    ];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                let text = fs::read_to_string(&path).unwrap();
                found.push((path, text));
            }
        }
    }
    found.sort();
    found
}

#[test]
fn the_check_knows_nothing_of_the_optimiser() {
    let mut checks = 0;
    for (path, text) in sources("crates/solver/src") {
        if !path.to_string_lossy().contains("src/check") {
            continue;
        }
        checks += 1;
        for word in [
            "solve::",
            "share_of",
            "frame_charge",
            "hundred_charge",
            "place_of",
            "drawn_otherwise",
        ] {
            let code = text.lines().filter(|line| !line.trim().starts_with("//"));
            assert!(
                !code.into_iter().any(|line| line.contains(word)),
                "{}: {word}",
                path.display()
            );
        }
    }
    assert!(checks > 0);
}

#[test]
fn one_module_names_the_engines() {
    for folder in ["crates/solver/src", "crates/cli/src"] {
        for (path, text) in sources(folder) {
            let door = path.ends_with("solve/direct/backend.rs");
            assert!(door || !text.contains("good_lp"), "{}", path.display());
        }
    }
}

#[test]
fn the_solver_does_no_input_and_output_and_knows_no_format() {
    for (path, text) in sources("crates/solver/src") {
        let code = text
            .lines()
            .filter(|line| !line.trim().starts_with("//"))
            .collect::<Vec<_>>()
            .join("\n");
        for word in [
            "std::fs",
            "std::io",
            "println!",
            "serde",
            "std::env",
            "static mut",
        ] {
            assert!(!code.contains(word), "{}: {word}", path.display());
        }
    }
}

#[test]
fn no_unordered_maps() {
    for folder in ["crates/solver/src", "crates/cli/src"] {
        for (path, text) in sources(folder) {
            for word in ["HashMap", "HashSet"] {
                assert!(!text.contains(word), "{}: {word}", path.display());
            }
        }
    }
}

#[test]
fn no_file_ends_the_process_but_by_its_exit_code() {
    for (path, text) in sources("crates/cli/src") {
        assert!(!text.contains("process::exit"), "{}", path.display());
    }
}
