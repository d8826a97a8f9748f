//! Files, streams and widths.

use crate::support::{Folder, file, spareframe};
use unicode_width::UnicodeWidthStr;

#[test]
fn every_width_holds_and_a_pipe_has_no_colour() {
    let first = file("first-round");
    for width in ["40", "60", "64", "80", "120"] {
        let args = [
            "probe",
            &first,
            "--set",
            "cells=8,10",
            "--set",
            "colonies.6.hold=no,ill",
            "--width",
            width,
        ];
        let table = spareframe(&args).stdout("What if...").check();
        assert!(!table.contains('\u{1b}'));
        assert!(table.contains("estimate"));
        for line in table.lines() {
            assert!(line.width() <= width.parse().unwrap(), "{width}: {line}");
        }
    }
}

#[test]
fn files_are_read_and_written_as_by_stock() {
    let folder = Folder::new();
    let out = &folder.path("answer.md");
    let first = file("first-round");
    let args = ["probe", &first, "--set", "cells=8", "--out", out];
    spareframe(&args).stderr(&format!("wrote {out}\n")).check();
    let written = std::fs::read_to_string(out).unwrap();
    assert!(
        written.starts_with("# What if, First round, 2031-05-20\n"),
        "{written}"
    );
    let exists = format!("error: {out} exists; --force replaces it\n");
    spareframe(&args).code(2).stderr(&exists).check();
    spareframe(&[&args[..], &["--force", "-q"]].concat()).check();
    let both = ["probe", "-", "--alternatives", "-"];
    spareframe(&both)
        .code(2)
        .stderr("error: scenario and alternatives cannot both come from stdin (-)\n")
        .check();
    spareframe(&["probe", &first, "--alternatives", "-", "--format", "json"])
        .stdin("fewer: {cells: 8}")
        .stdout("{...")
        .check();
    let itself = [
        "probe",
        &first,
        "--alternatives",
        out,
        "--out",
        out,
        "--force",
    ];
    spareframe(&itself)
        .code(2)
        .stderr("error: --out ...")
        .check();
    spareframe(&["probe", &first])
        .code(2)
        .stderr("error: the following required arguments...")
        .check();
}
