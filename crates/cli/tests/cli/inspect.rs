//! `inspect`: files and the command, a scenario to its table and back, and any bytes.

use crate::inspect_support::{YARD, into, put};
use crate::support::{Folder, spareframe};
use proptest::prelude::*;
use spareframe::inspect::{By, inspect, table};
use spareframe::scenario::starter;
use std::fmt::Write;
use std::fs;

#[test]
fn a_dry_run_shows_the_difference_and_writes_nothing() {
    let folder = Folder::new();
    let yard = YARD.replace("stores: 2,", "stores: 2 combs,");
    let yard = yard.replace("stores: 2 frames", "stores: 2 combs");
    let s = &folder.write("s.yaml", &yard);
    let t = &folder.write("t.csv", "colony,brood (combs)\nElm,4\n");
    let shown = spareframe(&["inspect", t, "--into", s, "--dry-run"])
        .stdout("...")
        .stderr("nothing written; changed: Elm\n")
        .check();
    assert!(shown.contains(
        "-    brood: 5 combs          # of the record card\n+    brood: 4 combs          #"
    ));
    assert_eq!(folder.read("s.yaml"), yard);
    let o = &folder.path("other.yaml");
    spareframe(&["inspect", t, "--into", s, "--out", o, "-q"]).check();
    assert_eq!(folder.read("s.yaml"), yard);
    spareframe(&["inspect", t, "--into", s])
        .stderr(&format!("wrote {s}; changed: Elm\n"))
        .check();
    assert_eq!(folder.read("s.yaml"), folder.read("other.yaml"));
    spareframe(&["inspect", t, "--into", s])
        .stderr(&format!("{s} stays as it is: the table says nothing new\n"))
        .check();
    folder.write("t.csv", "colony,brood\nElm,many\n");
    spareframe(&["inspect", t, "--into", s, "-q"])
        .code(2)
        .stderr(&format!("{t}:2:5\nerror[wrong-type]..."))
        .check();
    assert_eq!(folder.read("s.yaml"), folder.read("other.yaml"));
}

#[test]
fn a_scenario_its_table_and_back() {
    for by in [By::Frame, By::Colony] {
        let written = table("s.yaml", YARD.as_bytes(), Some(by)).unwrap();
        assert_eq!(into(&written.table, YARD), YARD);
    }
    for entry in fs::read_dir("../../scenarios").unwrap() {
        let text = fs::read_to_string(entry.unwrap().path()).unwrap();
        let written = table("s.yaml", text.as_bytes(), None).unwrap();
        let found = put(&written.table, &text, None, false);
        assert_eq!(found.text.as_deref(), Some(text.as_str()));
        assert_eq!(found.changed.len() + found.added.len(), 0);
    }
}

#[test]
fn no_cell_that_is_written_is_a_formula_and_none_is_spoilt_by_it() {
    let nasty = YARD
        .replace("Elm:", "\"=cmd|' /C calc'!A0\":")
        .replace("Ash:", "\"@sum\":");
    let mut names = 0;
    for by in [By::Colony, By::Frame] {
        let written = table("s.yaml", nasty.as_bytes(), Some(by)).unwrap();
        for line in written.table.lines() {
            assert!(!line.starts_with(['=', '+', '-', '@']), "{line}");
            names += usize::from(line.starts_with('\''));
        }
        assert_eq!(into(&written.table, &nasty), nasty);
    }
    assert_eq!(names, 4);
}

/// A table of frames, with figures as the writer has them.
fn frames_table(colonies: &[Vec<(u32, u32, u32)>]) -> String {
    let mut out = String::from(
        "colony,group,count,place,brood (%),sealed (%),stores (%),drawn (%),bees (%),queen\r\n",
    );
    for (c, frames) in colonies.iter().enumerate() {
        for (i, (count, brood, stores)) in frames.iter().enumerate() {
            let _ = write!(out, "Hive {c},{},{count},,{brood},,{stores},,,\r\n", i + 1);
        }
    }
    out
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    /// CSV to scenario to CSV: whatever the table says comes back, byte for byte, and what it does not
    /// speak of is as it was.
    #[test]
    fn a_table_a_scenario_and_back(
        first in proptest::collection::vec(proptest::collection::vec((1_u32..9, 0_u32..60, 0_u32..40), 1..5), 1..5),
        second in proptest::collection::vec(proptest::collection::vec((1_u32..9, 0_u32..60, 0_u32..40), 1..5), 1..5),
        flow in any::<bool>(),
    ) {
        let mut colonies = String::from("colonies:\n");
        for c in 0..5 {
            colonies += &match flow {
                true => format!("  Hive {c}: {{role: nucleus, frames: [{{count: 1}}]}}  # of {c}\n"),
                false => format!("  Hive {c}:\n    # of {c}\n    role: nucleus\n    frames:\n      - count: 1\n"),
            };
        }
        let start = format!("spareframe: 2\nsites: {{home: }}\n{colonies}recipes: {{r: {{lines: [{{brood: 1 %}}]}}}}\nboxes: {{b: {{count: 1, recipe: r}}}}\n");
        let mut text = start;
        for colonies in [first, second] {
            let rows = frames_table(&colonies);
            // Frames that are there and not in the table would stay.
            let whole = rows.replace(",group,", ",").lines().map(|line| {
                let cells: Vec<&str> = line.split(',').collect();
                let keep = cells.iter().enumerate().filter(|(i, _)| *i != 1 || cells.len() == 9);
                keep.map(|(_, cell)| *cell).collect::<Vec<_>>().join(",") + "\n"
            }).collect::<String>();
            let found = put(&whole, &text, None, false);
            let wrong = found.findings.iter().find(|f| f.code != "more-than-laid");
            prop_assert!(wrong.is_none(), "{wrong:?}");
            text = found.text.unwrap();
            let written = table("s.yaml", text.as_bytes(), None).unwrap().table;
            for line in rows.lines() {
                prop_assert!(written.contains(line), "{line} not in\n{written}");
            }
            for c in 0..5 {
                let comment = format!("# of {c}\n");
                prop_assert!(text.contains(&comment));
            }
            prop_assert_eq!(put(&written, &text, None, false).text.unwrap(), text.clone());
        }
    }

    /// No bytes of a table panic, and none changes more than the colonies.
    #[test]
    fn no_table_panics(bytes in proptest::collection::vec(any::<u8>(), 0..200), text in "[a-z,;\t\"' 0-9%()\r\n=-]{0,120}") {
        for table in [bytes, text.clone().into_bytes(), format!("colony,count\n{text}").into_bytes()] {
            for recount in [false, true] {
                let found = inspect(("t.csv", &table), ("s.yaml", YARD.as_bytes()), None, recount);
                if let Some(new) = found.text {
                    prop_assert!(new.starts_with("# Colonies in May\n"));
                    let end = "boxes: {b: {count: 2, site: far, recipe: r}}\n";
                    prop_assert!(new.ends_with(end), "{new}");
                }
            }
        }
    }
}

#[test]
fn the_starter_takes_a_table() {
    let new = into("colony,brood (combs)\n3,4\n", starter());
    assert!(new.contains("    brood: 4 combs\n"));
}

#[cfg(unix)]
#[test]
fn a_link_stays_one_and_what_it_leads_to_is_written() {
    let folder = Folder::new();
    let (real, link) = (&folder.write("real.yaml", YARD), &folder.path("link.yaml"));
    std::os::unix::fs::symlink(real, link).unwrap();
    let mode = |path| {
        use std::os::unix::fs::PermissionsExt;
        fs::metadata(path).unwrap().permissions().mode()
    };
    let before = mode(real);
    spareframe(&["inspect", "-", "--into", link, "-q"])
        .stdin("colony,brood (combs)\nElm,4\n")
        .check();
    assert!(fs::symlink_metadata(link).unwrap().is_symlink());
    assert!(folder.read("real.yaml").contains("    brood: 4 combs  "));
    assert_eq!(mode(real), before);
}
