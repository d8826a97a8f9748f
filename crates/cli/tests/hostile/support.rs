//! Runs of the command whose time and memory are watched.

use std::io::Write;
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

/// Time allowed: an unoptimised program is some ten times slower, and shares its cores with other tests.
pub const LIMIT: Duration = Duration::from_secs(if cfg!(debug_assertions) { 30 } else { 2 });
pub const MOST_KB: u64 = 200_000;

/// Peak memory of a process so far, in kB; none where the system does not say.
pub fn peak(id: u32) -> Option<u64> {
    let status = std::fs::read_to_string(format!("/proc/{id}/status")).ok()?;
    let line = status.lines().find(|l| l.starts_with("VmHWM:"))?;
    line.split_whitespace().nth(1)?.parse().ok()
}

pub fn command() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_spareframe"));
    command.env_remove("CLICOLOR_FORCE");
    command
}

/// Runs it on this input, and holds it to time and memory.
pub fn watched(name: &str, command: &mut Command, input: Vec<u8>) -> Output {
    let started = Instant::now();
    let mut child = command
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    // The program may stop reading early, so a failed write is no fault.
    let feed = std::thread::spawn(move || {
        let _ = stdin.write_all(&input);
    });
    let id = child.id();
    let watch = std::thread::spawn(move || {
        let mut most = 0;
        while let Some(now) = peak(id) {
            most = most.max(now);
            std::thread::sleep(Duration::from_millis(1));
        }
        most
    });
    let output = child.wait_with_output().unwrap();
    let took = started.elapsed();
    feed.join().unwrap();
    let most = watch.join().unwrap();
    assert!(took < LIMIT, "{name}: {took:?}");
    assert!(most < MOST_KB, "{name}: {most} kB");
    println!("{name}: {took:?}, {most} kB");
    output
}

/// Exit code and stderr.
pub fn said(output: &Output) -> (Option<i32>, String) {
    let stderr = String::from_utf8(output.stderr.clone()).unwrap();
    (output.status.code(), stderr)
}

/// That nothing in it steers a terminal.
pub fn harmless(text: &str) -> bool {
    text.chars().all(|c| !c.is_control() || c == '\n')
}
