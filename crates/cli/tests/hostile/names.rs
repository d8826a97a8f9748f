//! What was typed comes back as text; output that cannot be written is no success.

use crate::support::{command, harmless, said, watched};
use std::ffi::OsStr;
use std::fs::File;
use std::os::unix::ffi::OsStrExt;

/// A name that would colour a terminal, name its window, turn text round and fake a message.
const NASTY: &[u8] = b"a\x1b[31mb\x1b]0;title\x07\xe2\x80\xae\nerror: y.yaml";

#[test]
fn names_of_files_are_shown_escaped_on_one_line() {
    let nasty = OsStr::from_bytes(NASTY);
    let shown = "a\\u{1b}[31mb\\u{1b}]0;title\\u{7}\\u{202e}\\nerror: y.yaml";
    let folder = tempfile::tempdir().unwrap();
    let run = |args: &[&OsStr]| {
        let output = command().args(args).current_dir(&folder).output().unwrap();
        let (_, stderr) = said(&output);
        assert!(harmless(&stderr), "{args:?}: {stderr}");
        assert!(stderr.contains(shown), "{args:?}: {stderr}");
        stderr
    };
    let word = OsStr::new;
    let missing = run(&[word("stock"), nasty]);
    assert_eq!(missing.lines().count(), 1, "{missing}");
    let wrote = run(&[word("start"), nasty]);
    assert_eq!(wrote.lines().count(), 1, "{wrote}");
    for args in [
        &[word("start"), nasty][..],
        &[word("stock"), nasty, word("--out"), nasty],
        &[word("verify"), nasty, word("none")],
        &[nasty],
        &[word("stock"), word("--most"), nasty, word("x")],
        &[word("stock"), word("--format"), nasty, word("x")],
        &[word("stock"), word("x"), nasty],
        &[word("probe"), word("x"), word("--give"), nasty],
    ] {
        let output = command().args(args).current_dir(&folder).output().unwrap();
        let (_, stderr) = said(&output);
        assert!(harmless(&stderr), "{args:?}: {stderr}");
    }
}

#[test]
fn what_cannot_be_written_to_stdout_is_said_and_no_success() {
    let full = || File::options().write(true).open("/dev/full").ok();
    if full().is_none() {
        return;
    }
    for args in [
        &["--help"][..],
        &["--version"],
        &["stock", "--help"],
        &["stock", "../../scenarios/nuclei.yaml"],
        &["schema"],
        &["completions", "bash"],
        &["manual"],
    ] {
        let output = command().args(args).stdout(full().unwrap()).output();
        let (code, stderr) = said(&output.unwrap());
        assert_eq!(code, Some(2), "{args:?}");
        let wanted = "error: cannot write to stdout: ";
        assert!(stderr.contains(wanted), "{args:?}: {stderr}");
    }
}

#[test]
fn help_into_a_closed_pipe_ends_in_silence() {
    for args in [&["--help"][..], &["--version"], &["probe", "--help"]] {
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        let output = command().args(args).stdout(writer).output().unwrap();
        assert_eq!(said(&output), (Some(0), String::new()), "{args:?}");
    }
}

#[test]
fn alternatives_are_counted_before_they_are_made() {
    let value = vec!["1..1000"; 16_000].join(",");
    let set = format!("cells={value}");
    let mut command = command();
    command.args(["probe", "../../scenarios/first-round.yaml", "--set", &set]);
    let (code, stderr) = said(&watched("alternatives", &mut command, Vec::new()));
    assert_eq!(code, Some(2));
    assert!(stderr.contains("more than 1000 values"), "{stderr}");
}
