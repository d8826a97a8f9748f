//! Every reader against texts that are changed at random: none panics, takes more than 2 s or more than 200 MB, or
//! lets an escape reach the terminal.
//!
//! CI takes a few hundred of each; `SPAREFRAME_CASES=100000 cargo test --release -p spareframe --test readers`
//! takes that many.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

#[allow(dead_code, reason = "other tests use the rest")]
#[path = "../hostile/support.rs"]
mod support;

use jiff::ToSpan;
use proptest::prelude::*;
use proptest::sample::Index;
use proptest::test_runner::{RngSeed, TestRunner};
use spareframe::inspect::{inspect, look};
use spareframe::onward::{done, done_by_table, onward};
use spareframe::output::compare::compare;
use spareframe::output::{Notes, build, markdown, standing, table};
use spareframe::plan::{read_back, read_earlier, read_plan, read_sheet};
use spareframe::probe::{Typed, question};
use spareframe::scenario::{Finding, Loaded, Places, Severity, read, starter};
use spareframe_solver::{Outcome, Plan, Proof, Scenario, Stocking, check};
use std::process::Command;
use std::time::Instant;
use support::{LIMIT, MOST_KB, harmless, peak};

/// Cases of each reader where nothing else is said.
const CASES: u32 = 300;

/// Runs a reader on changed texts. Seeded, so that each run has the same ones; `SPAREFRAME_FIRST_SEED` is another.
fn tried(texts: &[Vec<u8>], reader: impl Fn(&[u8])) {
    let set = |name: &str| std::env::var(name).ok().and_then(|v| v.parse().ok());
    let config = ProptestConfig {
        cases: set("SPAREFRAME_CASES").map_or(CASES, |cases: u64| cases as u32),
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(set("SPAREFRAME_FIRST_SEED").unwrap_or(20_310_520)),
        max_shrink_iters: 500,
        ..ProptestConfig::default()
    };
    let ended = TestRunner::new(config).run(&changed(texts.len()), |(which, changes)| {
        let bytes = apply(&texts[which], &changes);
        let started = Instant::now();
        reader(&bytes);
        let took = started.elapsed();
        prop_assert!(took < LIMIT, "{took:?} for {} bytes", bytes.len());
        Ok(())
    });
    if let Err(error) = ended {
        panic!("{error}");
    }
    let most = peak(std::process::id());
    assert!(most.is_none_or(|most| most < MOST_KB), "{most:?} kB");
}

/// Words of the formats, and such as break them.
const WORDS: &[&str] = &[
    "",
    " ",
    "\n",
    "\r\n",
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
    "1e-9",
    "nan",
    "999999999999",
    "9223372036854775807",
    "18446744073709551616",
    "0.1",
    "%",
    " kg",
    "frames",
    "draw: all",
    "\u{1b}[2J",
    "\u{202e}",
    "\u{feff}",
    "\0",
    "é",
    "!t ",
    "---\n",
    "~",
    "null",
    "yes",
    "count: 10000",
    "|\n",
    ">-\n",
    "? ",
    "<<: ",
    "=",
    ";",
    ",",
    "..",
    " by ",
    "[+]",
    "[0]",
    "[99]",
    ".",
    "<script>",
    "</script>",
    "<!--",
    "\\u0000",
    "&lt;",
    "<!doctype html>",
    "spareframe: 1",
    "spareframe_plan: 1",
];

/// One change: where, how many bytes, what goes in, and how.
#[derive(Debug, Clone)]
struct Change {
    at: Index,
    bytes: usize,
    word: &'static str,
    way: Way,
}

#[derive(Debug, Clone, Copy)]
enum Way {
    Replace,
    /// The bytes stand twice more behind the word.
    Double,
    /// Something from elsewhere in the text goes in.
    Bring(Index),
    Flip(u8),
    CutShort,
}

fn changed(texts: usize) -> impl Strategy<Value = (usize, Vec<Change>)> {
    let way = prop_oneof![
        4 => Just(Way::Replace),
        2 => Just(Way::Double),
        2 => any::<Index>().prop_map(Way::Bring),
        2 => any::<u8>().prop_map(Way::Flip),
        1 => Just(Way::CutShort),
    ];
    let bytes = prop_oneof![4 => 0..4_usize, 2 => 0..40_usize, 1 => 0..400_usize];
    let word = prop::sample::select(WORDS);
    let change = (any::<Index>(), bytes, word, way);
    let change = change.prop_map(|(at, bytes, word, way)| Change {
        at,
        bytes,
        word,
        way,
    });
    (0..texts, prop::collection::vec(change, 1..7))
}

fn apply(text: &[u8], changes: &[Change]) -> Vec<u8> {
    let mut bytes = text.to_vec();
    for change in changes {
        let at = change.at.index(bytes.len() + 1);
        let end = (at + change.bytes).min(bytes.len());
        let mut new = change.word.as_bytes().to_vec();
        match change.way {
            Way::Replace => {}
            Way::Double => {
                new.extend(&bytes[at..end]);
                new.extend(&bytes[at..end]);
            }
            Way::Bring(from) => {
                let from = from.index(bytes.len() + 1);
                new.extend(&bytes[from..(from + change.bytes).min(bytes.len())]);
            }
            Way::Flip(mask) => new = bytes[at..end].iter().map(|byte| byte ^ mask).collect(),
            Way::CutShort => {
                bytes.truncate(at);
                continue;
            }
        }
        bytes.splice(at..end, new);
    }
    bytes
}

/// That findings can be shown, and whether one is an error.
fn shown(findings: &[Finding], bytes: &[u8]) -> bool {
    let source = String::from_utf8_lossy(bytes);
    for finding in findings.iter().take(20) {
        let shown = finding.render(&source, false);
        assert!(harmless(&shown), "{shown:?}");
        assert!(!finding.way_out.is_empty() && finding.line >= 1);
    }
    findings.iter().any(|f| f.severity == Severity::Error)
}

/// All that is done with a scenario but the search.
fn scenario(bytes: &[u8]) {
    let result = read("t.yaml", bytes);
    assert_eq!(shown(&result.findings, bytes), result.loaded.is_none());
    if let Some(loaded) = result.loaded {
        closed(&loaded, bytes);
    }
}

/// The day is closed, and gone on from.
fn closed(loaded: &Loaded, bytes: &[u8]) {
    let _ = standing::build(loaded);
    let (Some(day), Ok(done)) = (loaded.day, done(&loaded.scenario, None)) else {
        return;
    };
    for days in [0, 9] {
        let Ok(to) = day.checked_add(days.days()) else {
            return;
        };
        let next = onward(("t.yaml", bytes), loaded, &done, (day, to.into())).unwrap();
        let Some(text) = next.text else { continue };
        let same = days == 0 && done.compartments.is_empty();
        assert!(!same || text.as_bytes() == bytes);
        let _ = read("t.yaml", text.as_bytes());
    }
}

fn texts(folder: &str) -> Vec<Vec<u8>> {
    let entries = std::fs::read_dir(folder).unwrap();
    let mut paths: Vec<_> = entries.map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    let read = |path| std::fs::read(path).unwrap();
    paths.into_iter().map(read).collect()
}

fn yard() -> (Scenario, Vec<u8>) {
    let text = std::fs::read("../../scenarios/half-done.yaml").unwrap();
    (read("s.yaml", &text).loaded.unwrap().scenario, text)
}

/// What the command writes of that yard.
fn written(args: &[&str]) -> Vec<u8> {
    let mut command = Command::new(env!("CARGO_BIN_EXE_spareframe"));
    let output = command
        .args(args)
        .arg("../../scenarios/half-done.yaml")
        .output();
    let output = output.unwrap();
    assert!(output.status.success(), "{args:?}");
    output.stdout
}

/// All that is done with a plan.
fn plan(scenario: &Scenario, bytes: &[u8]) {
    let result = read_plan(scenario, "p.yaml", bytes);
    shown(&result.findings, bytes);
    if let Some((plan, _)) = result.plan {
        stocked(scenario, plan);
    }
    let earlier = read_earlier(scenario, &Places::default(), "p.yaml", bytes);
    shown(&earlier.findings, bytes);
    let sheet = read_sheet("p.yaml", bytes);
    shown(&sheet.findings, bytes);
    if let Some(sheet) = sheet.sheet {
        let _ = compare(&sheet, &sheet);
    }
}

fn stocked(scenario: &Scenario, plan: Plan) {
    let (goals, _) = check(scenario, &plan);
    let stocking = Stocking {
        plan,
        goals,
        proof: Proof::Best,
    };
    let report = build(
        scenario,
        &Notes::default(),
        &Outcome::Stocked(stocking),
        &goals,
    );
    let _ = table(&report, Default::default());
    let _ = markdown(&report);
}

#[test]
fn bytes_without_sense() {
    let noise: Vec<u8> = (0..=255).collect();
    let (yard, text) = yard();
    tried(&[noise], |bytes| {
        scenario(bytes);
        plan(&yard, bytes);
        let found = inspect(("t.csv", bytes), ("s.yaml", &text), None, false);
        shown(&found.findings, bytes);
    });
}

#[test]
fn scenarios() {
    let mut texts = texts("../../scenarios");
    texts.push(starter().as_bytes().to_vec());
    tried(&texts, scenario);
}

#[test]
fn plans() {
    let (yard, _) = yard();
    let texts = ["yaml", "json"].map(|format| written(&["stock", "--format", format]));
    tried(&texts, |bytes| plan(&yard, bytes));
}

#[test]
fn pages() {
    let (yard, _) = yard();
    let page = written(&["share", "--format", "html"]);
    tried(&[page], |bytes| match read_back("p.html", bytes) {
        Ok(inner) => plan(&yard, &inner),
        Err(findings) => assert!(shown(&findings, bytes)),
    });
}

#[test]
fn tables() {
    let (_, yard) = yard();
    let mut texts = texts("../../docs/tables");
    texts.extend(["frame", "colony"].map(|by| written(&["inspect", "--by", by, "--table"])));
    tried(&texts, |bytes| {
        for recount in [false, true] {
            let found = inspect(("t.csv", bytes), ("s.yaml", &yard), None, recount);
            let failed = shown(&found.findings, bytes) | shown(&found.in_scenario, &yard);
            assert!(failed || found.text.is_some());
        }
    });
}

#[test]
fn tables_of_what_was_done() {
    let text = std::fs::read("../../scenarios/half-done.yaml").unwrap();
    let yard = read("s.yaml", &text).loaded.unwrap();
    let table = written(&["share", "--format", "csv"]);
    tried(&[table], |bytes| {
        let (done, findings) = done_by_table(&yard, ("t.csv", bytes));
        let failed = shown(&findings, bytes);
        assert_eq!(failed, done.is_none());
    });
}

#[test]
fn looks() {
    let text = std::fs::read("../../scenarios/weeks.yaml").unwrap();
    let typed = [
        "parted box 1.1=sealed brood, bees 3 frames, brood 1.5 combs at 40 %",
        "mini box 3=none\nparted box 2.2=dead",
    ];
    let texts = typed.map(|typed| typed.as_bytes().to_vec());
    tried(&texts, |bytes| {
        let typed = [String::from_utf8_lossy(bytes).into_owned()];
        let found = look(&typed, ("s.yaml", &text));
        let failed = shown(&found.findings, bytes);
        assert!(failed != found.text.is_some());
    });
}

#[test]
fn paths() {
    let (_, yard) = yard();
    let sets = [
        "cells=8..10",
        "colonies.\"1\".frames[2].count=3",
        "drift.share=10..40 % by 5",
        "recipes.fill.lines[1].brood=30 %, 40 %",
        "colonies.\"6\".keep.stores=4..7 kg by 0.5",
        "colonies.\"6\".frames[+]={count: 2, brood: 40 %}",
        "boxes.\"mating box\".count=~",
    ];
    let texts = sets.map(|set| set.as_bytes().to_vec());
    tried(&texts, |bytes| {
        let typed = String::from_utf8_lossy(bytes).into_owned();
        for typed in [
            Typed {
                sets: vec![typed.clone()],
                ..Typed::default()
            },
            Typed {
                gives: vec![typed.clone()],
                ..Typed::default()
            },
            Typed {
                spares: vec![typed.clone()],
                ..Typed::default()
            },
            Typed {
                alternatives: Some(("a.yaml".into(), bytes.to_vec())),
                ..Typed::default()
            },
        ] {
            let (asked, remarks) = question("s.yaml", &yard, &typed);
            for remark in &remarks {
                shown(
                    std::slice::from_ref(&remark.finding),
                    remark.source.as_bytes(),
                );
            }
            let Some(asked) = asked else {
                continue;
            };
            for alternative in asked.alternatives.iter().take(3) {
                let _ = (asked.load(alternative), asked.changes(alternative));
            }
        }
    });
}
