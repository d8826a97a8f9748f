//! Hostile files end in a clear error within 2 s and 200 MB, and no text whatever panics.

use proptest::prelude::*;
use spareframe::output::plan_file::read_plan;
use spareframe::scenario::{read, starter};
use std::io::Write;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Time allowed: an unoptimised program is several times slower.
const LIMIT: Duration = Duration::from_secs(if cfg!(debug_assertions) { 10 } else { 2 });
const MOST_KB: u64 = 200_000;

/// Peak memory of a process so far, in kB; none where the system does not say.
fn peak(id: u32) -> Option<u64> {
    let status = std::fs::read_to_string(format!("/proc/{id}/status")).ok()?;
    let line = status.lines().find(|l| l.starts_with("VmHWM:"))?;
    line.split_whitespace().nth(1)?.parse().ok()
}

/// Runs `stock` on these bytes, by file or by stdin; returns its stderr.
fn stock(name: &str, bytes: &[u8], by_file: bool) -> String {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("hostile.yaml");
    std::fs::write(&path, bytes).unwrap();
    let started = Instant::now();
    let mut child = Command::new(env!("CARGO_BIN_EXE_spareframe"))
        .arg("stock")
        .arg(if by_file {
            path.as_os_str()
        } else {
            "-".as_ref()
        })
        .env_remove("CLICOLOR_FORCE")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    let input = if by_file { Vec::new() } else { bytes.to_vec() };
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
    let stderr = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2), "{name}: {stderr}");
    assert_eq!(output.stdout, b"", "{name}");
    assert!(took < LIMIT, "{name}: {took:?}");
    assert!(most < MOST_KB, "{name}: {most} kB");
    assert!(
        stderr.chars().all(|c| !c.is_control() || c == '\n'),
        "{name}: an escape reached the terminal"
    );
    println!("{name}: {took:?}, {most} kB");
    stderr
}

fn many(text: &str, bytes: usize) -> Vec<u8> {
    text.as_bytes().repeat(bytes / text.len())
}

#[test]
fn hostile_files_end_in_a_clear_error_within_time_and_memory() {
    const ALL: usize = 15_900_000;
    let bomb = "a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b,*b,*b]\n";
    let noise: Vec<u8> = (0..50_000_000_u64)
        .map(|i| 32 + (i.wrapping_mul(0x9e37_79b9_7f4a_7c15) >> 57) as u8 % 95)
        .collect();
    let mut keys = String::new();
    for i in 0..ALL / 14 {
        keys += &format!("key{i:07}: 1\n");
    }
    let with = |top: &str, each: &dyn Fn(usize) -> String, count: usize| {
        let parts = "spareframe: 2\nsites: {a: }\nrecipes: {r: {lines: [{brood: 5 %}]}}\nfoo: 1\n";
        let all: String = (0..count).map(each).collect();
        format!("{parts}{top}\n{all}").into_bytes()
    };
    for (name, bytes, wanted) in [
        (
            "half a million colonies",
            with(
                "colonies:",
                &|i| format!("  c{i:07}: {{brood: 3 combs}}\n"),
                ALL / 30,
            ),
            "[too-large]",
        ),
        (
            "colonies at fault",
            with(
                "colonies:",
                &|i| format!("  c{i:07}: {{site: b}}\n"),
                100_000,
            ),
            "[unknown-name]",
        ),
        (
            "quick counts of many frames",
            with(
                "colonies:",
                &|i| format!("  c{i:07}: {{brood: 200 combs, empty: 200, bees: 100000}}\n"),
                100_000,
            ),
            "[unknown-key]",
        ),
        (
            "combs without end",
            with("combs:", &|i| format!("  c{i}: {{area: 8}}\n"), 100_000),
            "[unknown-key]",
        ),
        (
            "roles without end",
            with("roles:", &|i| format!("  r{i}: {{draw: all}}\n"), 100_000),
            "[unknown-key]",
        ),
        (
            "kinds of box without end",
            with(
                "boxes:",
                &|i| format!("  b{i}: {{count: 1, recipe: r}}\n"),
                100_000,
            ),
            "kinds of box",
        ),
        (
            "names nearly known",
            with(
                "combs: {abcdefghijklmnopqrstuvwxyzabcdefghijklm: {area: 8}}\ncolonies:",
                &|i| format!("  c{i}: {{comb: abcdefghijklmnopqrstuvwxyzabcdefgh{i:05}}}\n"),
                99_000,
            ),
            "[unknown-name]",
        ),
        ("alias bomb", bomb.as_bytes().to_vec(), "[yaml]"),
        ("anchors", many("- &a b\n", ALL), "a map of"),
        ("brackets", many("[", ALL), "[too-large]"),
        ("braces", many("{a: ", ALL), "[too-large]"),
        ("nested lists", many("- ", ALL), "[too-large]"),
        (
            "indents",
            (0..4000)
                .flat_map(|i| format!("{}a:\n", " ".repeat(i)).into_bytes())
                .collect(),
            "[too-large]",
        ),
        ("list of values", many("- a\n", ALL), "[too-large]"),
        (
            "flow list",
            [b"title: ".to_vec(), many("[a],", ALL)].concat(),
            "error",
        ),
        ("unknown keys", keys.into_bytes(), "[unknown-key]"),
        (
            "one key again and again",
            many("day: 1\n", ALL),
            "[duplicate-key]",
        ),
        ("one long word", many("a", ALL), "[wrong-type]"),
        (
            "one long quoted text",
            [b"title: '".to_vec(), many("ab ", ALL), b"'".to_vec()].concat(),
            "error",
        ),
        ("comments", many("# nothing\n", ALL), "[empty]"),
        ("blank lines", many("\n", ALL), "[empty]"),
        ("noise", noise[..ALL].to_vec(), "error"),
        ("50 MB of noise", noise.clone(), "16 MB"),
        ("NUL", b"title: a\0b".to_vec(), "[encoding]"),
        (
            "NUL far in",
            [many("# nothing\n", ALL), vec![0]].concat(),
            "[encoding]",
        ),
        ("invalid UTF-8", b"title: \xc3\x28".to_vec(), "[encoding]"),
        (
            "escapes",
            b"\x1b[31mtitle\x1b]0;x\x07: [\x1b[2J\n\xe2\x80\xae: 1".to_vec(),
            "error",
        ),
        (
            "escapes in quotes",
            b"title: \"\\e[31m\"\n\"a\\e[2J\": {b: \"\\u202e\"}".to_vec(),
            "[control-character]",
        ),
        ("nothing", Vec::new(), "[empty]"),
    ] {
        for by_file in [true, false] {
            let stderr = stock(name, &bytes, by_file);
            assert!(
                stderr.contains(wanted),
                "{name}: {}",
                &stderr[..stderr.len().min(500)]
            );
        }
    }
}

/// Cuts, doublings and foreign words anywhere in a text.
fn mutated(text: &'static str) -> impl Strategy<Value = String> {
    let words = prop::sample::select(vec![
        "",
        " ",
        "\n",
        "\t",
        "-",
        ": ",
        "[",
        "]",
        "{",
        "}",
        "&a ",
        "*a",
        "'",
        "\"",
        "#",
        "0",
        "-1",
        "1e9",
        "999999999999",
        "%",
        " kg",
        "frames",
        "draw: all",
        "\u{1b}[2J",
        "\u{202e}",
        "é",
        "!t ",
        "---\n",
        "~",
        "count: 10000",
    ]);
    let change = (
        any::<prop::sample::Index>(),
        0..40usize,
        words,
        any::<bool>(),
    );
    prop::collection::vec(change, 1..6).prop_map(move |changes| {
        let mut chars: Vec<char> = text.chars().collect();
        for (at, len, word, double) in changes {
            let at = at.index(chars.len().max(1)).min(chars.len());
            let end = (at + len).min(chars.len());
            let mut new: Vec<char> = word.chars().collect();
            if double {
                new.extend(&chars[at..end]);
                new.extend(&chars[at..end]);
            }
            chars.splice(at..end, new);
        }
        chars.into_iter().collect()
    })
}

/// Everything that is done with a scenario but the search.
fn survive(bytes: &[u8]) {
    let result = read("t.yaml", bytes);
    let source = String::from_utf8_lossy(bytes);
    for finding in result.findings.iter().take(20) {
        let shown = finding.render(&source, false);
        assert!(
            shown.chars().all(|c| !c.is_control() || c == '\n'),
            "{shown:?}"
        );
        assert!(!finding.way_out.is_empty() && finding.line >= 1);
    }
    let failed = result
        .findings
        .iter()
        .any(|f| f.severity == spareframe::scenario::Severity::Error);
    assert_eq!(failed, result.loaded.is_none());
}

fn config() -> ProptestConfig {
    ProptestConfig {
        cases: 400,
        failure_persistence: None,
        rng_seed: proptest::test_runner::RngSeed::Fixed(20_310_520),
        ..ProptestConfig::default()
    }
}

const PLAN: &str = "spareframe_plan: 1\nheadline: {worth: 1.0, bees_shaken: 3}\ncompartments:\n- box_kind: mating box\n  box_no: 1\n  compartment: 1\n  frames:\n  - {line: brood, frames: 1, colony: \"2\", frame_group: 1}\n  - {line: foundation, frames: 1, store_room_entry: 1}\n  bees:\n  - {colony: \"2\", bees: 2000}\n";

proptest! {
    #![proptest_config(config())]

    #[test]
    fn no_bytes_panic(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        survive(&bytes);
    }

    #[test]
    fn no_change_to_the_starter_panics(text in mutated(starter())) {
        survive(text.as_bytes());
    }

    #[test]
    fn no_change_to_a_plan_panics(text in mutated(PLAN)) {
        let scenario = read("t.yaml", starter().as_bytes()).loaded.unwrap().scenario;
        let result = read_plan(&scenario, "p.yaml", text.as_bytes());
        for finding in &result.findings {
            let _ = finding.render(&text, true);
        }
        if let Some((plan, _)) = result.plan {
            let _ = spareframe_solver::check(&scenario, &plan);
            let stocking = spareframe_solver::Stocking {
                plan,
                goals: Default::default(),
                proof: spareframe_solver::Proof::Best,
            };
            let outcome = spareframe_solver::Outcome::Stocked(stocking);
            let report = spareframe::output::build(&scenario, &Default::default(), &outcome, &Default::default());
            let _ = spareframe::output::table(&report, Default::default());
            let _ = spareframe::output::markdown(&report);
        }
    }
}

#[test]
fn the_plan_that_is_changed_is_read_as_it_is() {
    let scenario = read("t.yaml", starter().as_bytes())
        .loaded
        .unwrap()
        .scenario;
    assert_eq!(read_plan(&scenario, "p.yaml", PLAN.as_bytes()).findings, []);
}
