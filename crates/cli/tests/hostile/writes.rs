//! Files are written whole or not at all: killed runs, full disks, two runs at once, pipes, other users.

use crate::support::{command, said};
use std::fs;
use std::io::Read;
use std::os::unix::fs::{FileTypeExt, PermissionsExt, symlink};
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::{Command, Stdio};

const SCENARIO: &str = include_str!("../../../../scenarios/first-round.yaml");
const BINARY: &str = env!("CARGO_BIN_EXE_spareframe");

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let names = entries.map(|entry| entry.unwrap().file_name());
    let mut names: Vec<String> = names.map(|name| name.into_string().unwrap()).collect();
    names.sort();
    names
}

/// A folder with the scenario in it.
fn place() -> tempfile::TempDir {
    let place = tempfile::tempdir().unwrap();
    fs::write(place.path().join("s.yaml"), SCENARIO).unwrap();
    place
}

fn run(place: &Path, args: &[&str]) -> (Option<i32>, String) {
    let output = command().args(args).current_dir(place).output().unwrap();
    said(&output)
}

/// Runs in a shell that first limits files to some 1 kB; beyond, the system kills, or fails to write.
fn limited(place: &Path, killed: bool, args: &str) -> (Option<i32>, String) {
    let trap = if killed { "" } else { "trap '' XFSZ; " };
    let script = format!("{trap}ulimit -f 2; exec '{BINARY}' {args}");
    let mut shell = Command::new("sh");
    let output = shell.args(["-c", &script]).current_dir(place).output();
    said(&output.unwrap())
}

#[test]
fn a_run_that_is_killed_while_it_writes_is_in_nobodys_way() {
    let place = place();
    let killed = limited(place.path(), true, "stock s.yaml --out p.yaml -q");
    assert_eq!(killed.0, None);
    assert!(!place.path().join("p.yaml").exists());
    let next = run(place.path(), &["stock", "s.yaml", "--out", "p.yaml", "-q"]);
    assert_eq!(next, (Some(0), String::new()));
    assert_eq!(names(place.path()), ["p.yaml", "s.yaml"]);

    let old = fs::read(place.path().join("p.yaml")).unwrap();
    let killed = "stock s.yaml --most 4 --out p.yaml --force -q";
    assert_eq!(limited(place.path(), true, killed).0, None);
    assert_eq!(fs::read(place.path().join("p.yaml")).unwrap(), old);
}

#[test]
fn a_share_that_is_killed_while_it_writes_leaves_the_files_of_before() {
    let place = place();
    let share = ["share", "s.yaml", "--to", "d", "-q"];
    assert_eq!(run(place.path(), &share).0, Some(0));
    let held = || -> Vec<(String, Vec<u8>)> {
        let folder = place.path().join("d");
        let visible = names(&folder).into_iter().filter(|n| !n.starts_with('.'));
        let read = |name: String| (name.clone(), fs::read(folder.join(name)).unwrap());
        visible.map(read).collect()
    };
    let old = held();
    let killed = "share s.yaml --most 4 --to d --force -q";
    assert_eq!(limited(place.path(), true, killed).0, None);
    assert_eq!(held(), old);
    let (code, said) = limited(place.path(), false, killed);
    assert_eq!(code, Some(2));
    assert!(said.starts_with("error: cannot write d: "), "{said}");
    assert_eq!(held(), old);
    let files = names(&place.path().join("d"));
    assert!(files.iter().all(|name| !name.starts_with('.')), "{files:?}");
}

#[test]
fn files_of_a_share_that_came_to_no_end_are_put_back() {
    let place = place();
    let share = ["share", "s.yaml", "--to", "d", "-q"];
    assert_eq!(run(place.path(), &share).0, Some(0));
    let folder = place.path().join("d");
    let before = folder.join(".spareframe-before");
    fs::create_dir(&before).unwrap();
    for name in names(&folder).iter().filter(|name| !name.starts_with('.')) {
        fs::copy(folder.join(name), before.join(name)).unwrap();
    }
    fs::write(folder.join("plan.html"), "new").unwrap();
    fs::remove_file(folder.join("plan.json")).unwrap();
    fs::write(folder.join("own.txt"), "mine").unwrap();
    let (code, said) = run(place.path(), &share);
    assert_eq!(code, Some(2));
    assert!(said.contains("d was left half written; --force"), "{said}");
    let forced = [&share[..], &["--force"]].concat();
    assert_eq!(run(place.path(), &forced), (Some(0), String::new()));
    let files = [
        "calendar.ics",
        "frames.csv",
        "own.txt",
        "plan.html",
        "plan.json",
        "plan.md",
        "plan.yaml",
    ];
    assert_eq!(names(&folder), files);
    assert_ne!(fs::read(folder.join("plan.html")).unwrap(), b"new");
}

#[test]
fn a_disk_that_is_full_leaves_what_was_there_and_is_said_of_the_path_as_typed() {
    let place = place();
    fs::write(place.path().join("real.yaml"), "old").unwrap();
    symlink("real.yaml", place.path().join("link.yaml")).unwrap();
    let args = "stock s.yaml --out link.yaml --force -q";
    let (code, said) = limited(place.path(), false, args);
    assert_eq!(code, Some(2));
    let wanted = "error: cannot write link.yaml: File too large";
    assert!(said.starts_with(wanted), "{said}");
    let real = fs::read_to_string(place.path().join("real.yaml")).unwrap();
    assert_eq!(real, "old");
    assert_eq!(names(place.path()), ["link.yaml", "real.yaml", "s.yaml"]);
}

#[test]
fn two_tables_at_the_same_time_both_go_into_the_scenario() {
    let place = place();
    let path = place.path();
    fs::write(path.join("a.csv"), "colony,group,stores (%)\n6,1,5\n").unwrap();
    fs::write(path.join("b.csv"), "colony,group,stores (%)\n7,1,5\n").unwrap();
    for round in 0..10 {
        fs::write(path.join("s.yaml"), SCENARIO).unwrap();
        let start = |table: &str| {
            let mut command = command();
            command.args(["inspect", table, "--into", "s.yaml", "-q"]);
            command.current_dir(path).stderr(Stdio::piped());
            command.spawn().unwrap()
        };
        for child in [start("a.csv"), start("b.csv")] {
            let output = child.wait_with_output().unwrap();
            assert_eq!(said(&output), (Some(0), String::new()));
        }
        let new = fs::read_to_string(path.join("s.yaml")).unwrap();
        let changed = new.lines().zip(SCENARIO.lines()).filter(|(a, b)| a != b);
        assert_eq!(changed.count(), 2, "round {round}");
    }
}

#[test]
fn a_pipe_is_written_to_and_stays_one() {
    let place = place();
    let pipe = place.path().join("pipe");
    assert!(
        Command::new("mkfifo")
            .arg(&pipe)
            .status()
            .unwrap()
            .success()
    );
    for force in [&["--force"][..], &[]] {
        let reader = pipe.clone();
        let read = std::thread::spawn(move || {
            let mut text = String::new();
            fs::File::open(reader)
                .unwrap()
                .read_to_string(&mut text)
                .unwrap();
            text
        });
        let args = ["stock", "s.yaml", "--format", "json", "--out", "pipe", "-q"];
        let ended = run(place.path(), &[&args[..], force].concat());
        assert_eq!(ended, (Some(0), String::new()));
        // First, as whoever reads a pipe that is gone waits for ever.
        assert!(fs::metadata(&pipe).unwrap().file_type().is_fifo());
        assert!(read.join().unwrap().starts_with("{\n"));
    }
}

#[test]
fn what_is_write_protected_stays_as_it_is() {
    let place = place();
    let path = place.path().join("p.yaml");
    fs::write(&path, "mine").unwrap();
    fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).unwrap();
    let force = ["stock", "s.yaml", "--out", "p.yaml", "--force"];
    let wanted = "error: cannot write p.yaml: it is write-protected\n".to_owned();
    assert_eq!(run(place.path(), &force), (Some(2), wanted));
    assert_eq!(fs::read_to_string(&path).unwrap(), "mine");
}

#[test]
fn a_file_keeps_its_permissions_and_a_new_one_has_the_usual() {
    let place = place();
    let mode = |name: &str| {
        let facts = fs::metadata(place.path().join(name)).unwrap();
        facts.permissions().mode() & 0o777
    };
    let out = ["stock", "s.yaml", "--out", "p.yaml", "-q"];
    assert_eq!(run(place.path(), &out).0, Some(0));
    assert_eq!(mode("p.yaml"), mode("s.yaml"));
    let path = place.path().join("p.yaml");
    fs::set_permissions(path, fs::Permissions::from_mode(0o640)).unwrap();
    let forced = [&out[..], &["--force"]].concat();
    assert_eq!(run(place.path(), &forced).0, Some(0));
    assert_eq!(mode("p.yaml"), 0o640);
}

/// As somebody who may read and not write, and not read all.
#[test]
fn whoever_may_not_write_or_read_is_told_so() {
    let place = place();
    let path = place.path();
    let allow = |name: &str, mode| {
        fs::set_permissions(path.join(name), fs::Permissions::from_mode(mode)).unwrap();
    };
    fs::copy(BINARY, path.join("spareframe")).unwrap();
    fs::write(path.join("secret.yaml"), SCENARIO).unwrap();
    fs::create_dir(path.join("d")).unwrap();
    fs::write(path.join("t.csv"), "colony,group,stores (%)\n6,1,5\n").unwrap();
    allow("secret.yaml", 0o000);
    allow("d", 0o555);
    allow("", 0o555);
    let root = fs::metadata("/proc/self").is_ok_and(|facts| {
        use std::os::unix::fs::MetadataExt;
        facts.uid() == 0
    });
    let run = |args: &[&str]| {
        let mut command = Command::new(path.join("spareframe"));
        if root {
            command.gid(65_534).uid(65_534);
        }
        said(&command.args(args).current_dir(path).output().unwrap())
    };
    let denied = |what: &str| (Some(2), format!("error: cannot {what}: "));
    for (args, (code, wanted)) in [
        (&["stock", "secret.yaml"][..], denied("read secret.yaml")),
        (
            &["stock", "s.yaml", "--out", "p.yaml"],
            denied("write p.yaml"),
        ),
        (&["share", "s.yaml", "--to", "new"], denied("write new")),
        (
            &["share", "s.yaml", "--to", "d", "--force"],
            denied("write d"),
        ),
        (&["start", "d/mine"], denied("write d/mine.yaml")),
        (
            &["inspect", "t.csv", "--into", "s.yaml"],
            denied("write s.yaml"),
        ),
    ] {
        let (ended, said) = run(args);
        assert_eq!(ended, code, "{args:?}: {said}");
        assert!(said.to_lowercase().contains(&wanted), "{args:?}: {said}");
        assert!(
            said.to_lowercase().contains("permission denied"),
            "{args:?}: {said}"
        );
    }
    allow("", 0o755);
    allow("secret.yaml", 0o600);
}

/// The same bytes, whatever else the machine does.
#[test]
fn many_runs_at_once_say_the_same() {
    let runs = |count: usize, args: &[&str]| -> Vec<Vec<u8>> {
        let start = |_| {
            let mut command = command();
            command.args(args).stdout(Stdio::piped()).spawn().unwrap()
        };
        let children: Vec<_> = (0..count).map(start).collect();
        let output = |child: std::process::Child| child.wait_with_output().unwrap().stdout;
        children.into_iter().map(output).collect()
    };
    for command in ["stock", "why", "curve"] {
        let args = [
            command,
            "../../scenarios/first-round.yaml",
            "--format",
            "json",
            "-q",
        ];
        let alone = runs(1, &args);
        let together = runs(12, &args);
        assert!(together.iter().all(|bytes| *bytes == alone[0]), "{command}");
    }
}
