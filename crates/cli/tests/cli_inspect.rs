//! `inspect`: a table goes into a scenario and nothing else in it changes; what is wrong is named by
//! row and column; a scenario, its table and back.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

mod cli_support;

use cli_support::spareframe;
use proptest::prelude::*;
use spareframe::inspect::{By, Inspected, inspect, table};
use spareframe::scenario::{read, starter};
use std::fmt::Write;
use std::fs;

const YARD: &str = "\
# Colonies in May
spareframe: 1
day: 2031-05-20
sites: {home: {at: [48.1, 11.5]}, far: {at: [48.2, 11.5]}}
colonies:
  # by the gate
  Ash:                      # strong
    site: home
    role: nucleus
    frames:                 # seen on 12 May
      - {count: 6, brood: 65 %, sealed: 60 %, stores: 15 %}   # upper box
      - count: 1            # hers
        brood: 60 %
        queen: yes
      - {count: 3, stores: 80 %}
    extra bees: 3_500
  \"2\": {site: home, role: nucleus, brood: 4, stores: 2, bees: 9 frames}
  Elm:
    site: far
    role: nucleus
    brood: 5 frames         # of the record card
    stores: 2 frames

recipes: {r: {lines: [{brood: 30 %}]}}
boxes: {b: {count: 2, site: far, recipe: r}}
";

fn put(table: &str, scenario: &str, by: Option<By>, recount: bool) -> Inspected {
    inspect(
        ("t.csv", table.as_bytes()),
        ("s.yaml", scenario.as_bytes()),
        by,
        recount,
    )
}

/// The new text; the table must be right.
fn into(table: &str, scenario: &str) -> String {
    let found = put(table, scenario, None, false);
    assert_eq!(found.findings, [], "{table}");
    found.text.unwrap()
}

/// Lines that are otherwise, old and new.
fn otherwise(old: &str, new: &str) -> Vec<String> {
    let lines = similar(old, new);
    lines
        .into_iter()
        .filter(|line| !line.starts_with(' '))
        .collect()
}

fn similar(old: &str, new: &str) -> Vec<String> {
    let difference = similar::TextDiff::from_lines(old, new);
    let changes = difference.iter_all_changes();
    changes
        .map(|c| format!("{}{}", c.tag(), c.value().trim_end()))
        .collect()
}

fn errors(table: &str) -> Vec<String> {
    let found = put(table, YARD, None, false);
    assert_eq!(found.text, None, "{table}");
    let all = found.findings.iter();
    all.map(|f| {
        format!(
            "{}:{} {}: {} -> {}",
            f.line, f.column, f.code, f.found, f.way_out
        )
    })
    .collect()
}

#[test]
fn a_row_for_each_colony_changes_its_figures_and_nothing_else() {
    let new = into(
        "colony,brood (frames),stores (frames)\nElm,\"4,5\",\n2,3,1.5\n",
        YARD,
    );
    assert_eq!(
        otherwise(YARD, &new),
        [
            "-  \"2\": {site: home, role: nucleus, brood: 4, stores: 2, bees: 9 frames}",
            "+  \"2\": {site: home, role: nucleus, brood: 3 frames, stores: 1.5 frames, bees: 9 frames}",
            "-    brood: 5 frames         # of the record card",
            "+    brood: 4.5 frames         # of the record card",
        ]
    );
}

#[test]
fn a_row_for_each_frame_group_changes_that_group() {
    let new = into(
        "colony,group,count,brood (%)\nAsh,1,5,70\nAsh,2,,55\nAsh,,2,\n",
        YARD,
    );
    assert_eq!(
        otherwise(YARD, &new),
        [
            "-      - {count: 6, brood: 65 %, sealed: 60 %, stores: 15 %}   # upper box",
            "+      - {count: 5, brood: 70 %, sealed: 60 %, stores: 15 %}   # upper box",
            "-        brood: 60 %",
            "+        brood: 55 %",
            "+      - {count: 2}",
        ]
    );
}

#[test]
fn without_groups_the_rows_are_the_frames_of_the_colony() {
    let new = into(
        "colony,count,brood (%),stores (%),queen\nAsh,5,60,10,\n,1,50,,x\n",
        YARD,
    );
    assert_eq!(
        otherwise(YARD, &new),
        [
            "-      - {count: 6, brood: 65 %, sealed: 60 %, stores: 15 %}   # upper box",
            "+      - {count: 5, brood: 60 %, stores: 10 %}   # upper box",
            "-        brood: 60 %",
            "+        brood: 50 %",
            "-      - {count: 3, stores: 80 %}",
        ]
    );
    let more = into(
        "colony,count,brood (%)\nAsh,5,60\nAsh,1,60\nAsh,2,\nAsh,4,10\n",
        &YARD.replace("        queen: yes\n", ""),
    );
    assert!(more.contains("      - {count: 2}\n      - {count: 4, brood: 10 %}\n    extra bees"));
}

#[test]
fn keys_that_are_new_stand_behind_the_others() {
    let new = into(
        "colony;hold;empty;site\nElm;robbed: look, \"soon\";2;home\nash;;;\n2;no;1;\n",
        YARD,
    );
    assert_eq!(
        otherwise(YARD, &new),
        [
            "-  \"2\": {site: home, role: nucleus, brood: 4, stores: 2, bees: 9 frames}",
            "+  \"2\": {site: home, role: nucleus, brood: 4, stores: 2, bees: 9 frames, hold: no, empty: 1}",
            "-    site: far",
            "+    site: home",
            "+    hold: \"robbed: look, \\\"soon\\\"\"",
            "+    empty: 2",
        ]
    );
}

#[test]
fn a_colony_that_is_not_there_comes_last() {
    let new = into(
        "colony,site,role,brood,stores\nOak 4,home,nucleus,3,1\n=Yew,far,nucleus,2,1\n",
        YARD,
    );
    let lines: String = otherwise(YARD, &new).join("\n");
    assert_eq!(
        lines,
        "+  Oak 4:\n+    site: home\n+    role: nucleus\n+    brood: 3\n+    stores: 1\n\
         +  \"=Yew\":\n+    site: far\n+    role: nucleus\n+    brood: 2\n+    stores: 1"
    );
    let frames = into(
        "colony,site,role,count,brood (%)\nOak,home,nucleus,3,60\nOak,,,2,\n",
        YARD,
    );
    assert!(frames.contains("  Oak:\n    site: home\n    role: nucleus\n    frames:\n      - {count: 3, brood: 60 %}\n      - {count: 2}\n"));
    let found = put(
        "colony,site,role,brood,stores\nOak,home,nucleus,3,1\nElm,far,,,\n",
        YARD,
        None,
        false,
    );
    assert_eq!(
        (found.added, found.changed),
        (vec!["Oak".to_owned()], vec![])
    );
}

#[test]
fn what_says_the_same_changes_nothing() {
    for table in [
        "colony,extra bees\nAsh,3500\n2,\n",
        "colony,group,count,brood,sealed (%)\nAsh,1,6,\"0,65\",60\n",
        "colony,brood (frames),bees\n2,\"4,0\",9 frames\nElm,5,\n",
        "colony,group,queen\nAsh,2,x\n",
    ] {
        assert_eq!(into(table, YARD), YARD, "{table}");
    }
}

#[test]
fn separators_marks_and_line_ends_are_those_of_any_spreadsheet() {
    let plain = into("colony,brood,bees\nElm,4.5,20000\n", YARD);
    for table in [
        "colony;brood;bees\nElm;4,5;20.000\n",
        "colony\tbrood\tbees\r\nElm\t4,5\t20 000\r\n",
        "sep=;\nColony;BROOD;Bees\n\nElm;4,5;20'000\n;;\n",
        "\u{feff}hive;brood;bees\r\n\r\n  Elm ;4.5;20\u{202f}000\r\n",
        "\"colony\",\"brood\",\"bees\"\n\"Elm\",\"4,5\",\"20,000\"",
        "colony;bees;brood\rElm;20000;4,5\r",
    ] {
        let other = into(table, YARD);
        let sorted = |text: &str| {
            let mut lines: Vec<&str> = text.lines().collect();
            lines.sort_unstable();
            lines.join("\n")
        };
        assert_eq!(sorted(&other), sorted(&plain), "{table}");
    }
    let lines = into(
        "colony,brood,bees\nElm,4.5,20000\n",
        &YARD.replace('\n', "\r\n"),
    );
    assert_eq!(lines, plain.replace('\n', "\r\n"));
}

#[test]
fn each_bad_cell_is_named_by_row_and_column() {
    assert_eq!(
        errors(
            "colony,group,count,brood (%),queen\nAsh,1,six,160,maybe\nAsh,9,1,20,\n2,1,1,10,\nElm,1,2,,\n"
        ),
        [
            "2:7 wrong-type: `six` in row 2, column `count` -> write a whole number",
            "2:11 out-of-range: `160 %` in row 2, column `brood` -> correct the figure",
            "2:15 wrong-type: `maybe` in row 2, column `queen` -> write `yes` or `no`",
            "3:1 out-of-range: group 9 in row 3 for colony `Ash` -> correct the group; leave it empty for a new one",
            "4:1 two-readings: frames in row 4 for colony `2` -> give it in the same way, or let --recount put the table's in its place",
            "5:1 two-readings: frames in row 5 for colony `Elm` -> give it in the same way, or let --recount put the table's in its place",
        ]
    );
}

#[test]
fn what_only_the_scenario_can_tell_is_named_by_row_and_column_too() {
    let found = errors(
        "colony,group,brood (%),stores (%),site,role\nAsh,1,80,40,,\nAsh,2,,,hme,\nYew,,10,,,\n",
    );
    assert_eq!(found.len(), 3, "{found:?}");
    assert!(
        found[0].starts_with("2:1 frame-overfull: brood and stores of 120 %"),
        "{found:?}"
    );
    assert!(
        found[1]
            .starts_with("3:9 unknown-name: `hme` in row 3, column `site` -> did you mean `home`?"),
        "{found:?}"
    );
    assert!(
        found[2].starts_with("4:1 missing-key: no `site` in row 4"),
        "{found:?}"
    );
}

#[test]
fn a_table_that_is_none_is_found() {
    for (table, code) in [
        ("", "1:1 empty"),
        ("colony,brood\n", "1:1 empty"),
        ("Ash,6\nElm,5\n", "1:1 unknown-key: column `ash`"),
        (
            "colony,brood,Brood (frames)\nElm,1,2\n",
            "1:14 duplicate-key",
        ),
        ("colony,brood (kg)\nElm,1\n", "1:8 wrong-type"),
        ("colony,flow\nElm,2031\n", "1:8 unknown-key"),
        ("colony,brood\nElm,4,5\n", "2:7 wrong-type"),
        ("colony,brood\n,4\n", "2:1 empty"),
        ("colony,brood\nElm,4\nElm,5\n", "3:1 duplicate-key"),
        ("colony,group\nAsh,1\nAsh,1\n", "3:1 duplicate-key"),
        (
            "colony,count,site,queen\nAsh,1,home,\nAsh,2,far,\n",
            "3:7 two-readings",
        ),
        ("colony,hold\nElm,\"a\u{7}b\"\n", "2:5 control-character"),
        (
            "colony,brood,hold\n2,5,\"rained\nElm,4,fine\n",
            "2:5 wrong-type: a quote that is never closed",
        ),
        (
            "colony,count\nAsh,4\nAsh,1\n",
            "2:1 missing-key: no column `queen` in row 2",
        ),
    ] {
        let found = errors(table);
        assert!(found[0].starts_with(code), "{table}: {found:?}");
    }
    let latin = inspect(
        ("t.csv", b"colony,hold\nElm,\xfcber\n"),
        ("s.yaml", YARD.as_bytes()),
        None,
        false,
    );
    assert_eq!(latin.findings[0].code, "encoding");
}

#[test]
fn the_other_way_of_counting_takes_its_place_only_where_asked() {
    let table = "colony,brood,stores\nAsh,5,2\n";
    assert!(errors(table)[0].contains("two-readings"));
    let new = put(table, YARD, None, true).text.unwrap();
    assert!(
        new.contains("    extra bees: 3_500\n    brood: 5\n    stores: 2\n"),
        "{new}"
    );
    assert!(!new.contains("upper box"));
    let frames = put(
        "colony,count,brood (%)\nElm,5,70\n2,4,60\n",
        YARD,
        None,
        true,
    )
    .text
    .unwrap();
    assert!(
        frames.contains("    role: nucleus\n    frames:\n      - {count: 5, brood: 70 %}\n\n"),
        "{frames}"
    );
    assert!(
        frames.contains("\"2\": {site: home, role: nucleus, frames: [{count: 4, brood: 60 %}]}"),
        "{frames}"
    );
}

#[test]
fn a_way_of_writing_that_cannot_be_changed_is_refused_not_spoilt() {
    let odd = YARD.replace(
        "  Elm:\n    site: far\n    role: nucleus\n    brood: 5 frames         # of the record card\n    stores: 2 frames\n",
        "  ? Elm\n  : {site: far, role: nucleus, brood: 5, stores: 2}\n",
    );
    assert!(read("s", odd.as_bytes()).loaded.is_some());
    let found = put("colony,empty\nElm,2\n", &odd, None, false);
    // Changed rightly or refused.
    if let Some(text) = found.text {
        let loaded = read("s", text.as_bytes()).loaded.unwrap();
        assert_eq!(
            loaded.scenario.colonies[2]
                .frames
                .iter()
                .map(|g| g.count)
                .sum::<u32>(),
            9
        );
    } else {
        assert_eq!(found.findings[0].code, "yaml");
    }
}

#[test]
fn a_dry_run_shows_the_difference_and_writes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let (scenario, table) = (folder.path().join("s.yaml"), folder.path().join("t.csv"));
    fs::write(&scenario, YARD).unwrap();
    fs::write(&table, "colony,brood\nElm,4\n").unwrap();
    let (s, t) = (scenario.to_str().unwrap(), table.to_str().unwrap());
    let shown = spareframe(&["inspect", t, "--into", s, "--dry-run"])
        .stdout("...")
        .stderr("nothing written; changed: Elm\n")
        .check();
    assert!(
        shown
            .contains("-    brood: 5 frames         # of the record card\n+    brood: 4         #")
    );
    assert_eq!(fs::read_to_string(&scenario).unwrap(), YARD);
    let other = folder.path().join("other.yaml");
    let o = other.to_str().unwrap();
    spareframe(&["inspect", t, "--into", s, "--out", o, "-q"]).check();
    assert_eq!(fs::read_to_string(&scenario).unwrap(), YARD);
    spareframe(&["inspect", t, "--into", s])
        .stderr(&format!("wrote {s}; changed: Elm\n"))
        .check();
    assert_eq!(fs::read(&scenario).unwrap(), fs::read(&other).unwrap());
    spareframe(&["inspect", t, "--into", s])
        .stderr(&format!("{s} stays as it is: the table says nothing new\n"))
        .check();
    fs::write(&table, "colony,brood\nElm,many\n").unwrap();
    spareframe(&["inspect", t, "--into", s, "-q"])
        .code(2)
        .stderr(&format!("{t}:2:5\nerror[wrong-type]..."))
        .check();
    assert_eq!(fs::read(&scenario).unwrap(), fs::read(&other).unwrap());
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
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

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
        let start = format!("spareframe: 1\nsites: {{home: }}\n{colonies}recipes: {{r: {{lines: [{{brood: 1 %}}]}}}}\nboxes: {{b: {{count: 1, recipe: r}}}}\n");
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
            prop_assert!(found.findings.is_empty(), "{:?}", found.findings);
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
    let new = into("colony,brood (frames)\n2,4\n", starter());
    assert!(new.contains("brood: 4 frames       # quick counts"));
}

#[test]
fn rows_are_those_of_the_spreadsheet() {
    let rows = |table: &str| {
        let found = errors(table).join(" ");
        let rows: Vec<String> = found
            .split("in row ")
            .skip(1)
            .map(|rest| rest.chars().take_while(char::is_ascii_digit).collect())
            .collect();
        rows.join(" ")
    };
    // A stray inch mark, lines that end in CR alone, a cell of two lines, a first line that is none.
    assert_eq!(
        rows("colony,notes,brood\n2,board 5\" wide,5\nElm,x,four\nAsh,,\nElm,,\n"),
        "3 5"
    );
    assert_eq!(rows("colony,brood\r2,5\rElm,four\r"), "3");
    assert_eq!(rows("colony,note,brood\n2,\"a\nb\",5\nElm,,four\n"), "3");
    assert_eq!(rows("sep=;\ncolony;brood\n2;5\nElm;four\n"), "3");
    assert_eq!(rows("colony,brood\n\n2,5\n\nElm,four\n"), "5");
}

#[test]
fn all_bees_are_all_bees_however_they_were_counted_before() {
    let new = put("colony,brood,bees\nAsh,5,25000\n", YARD, None, true)
        .text
        .unwrap();
    assert!(!new.contains("extra bees"), "{new}");
    let beside = put(
        "colony,brood,bees,extra bees\nAsh,5,25000,500\n",
        YARD,
        None,
        true,
    );
    assert!(beside.text.unwrap().contains("    extra bees: 500\n"));
}

#[test]
fn a_hold_is_lifted_by_any_no() {
    for word in ["no", "n", "0", "-", "false"] {
        let new = into(&format!("colony,hold\nElm,{word}\n"), YARD);
        assert!(new.contains("    hold: no\n"), "{word}");
    }
}

#[test]
fn what_is_said_beside_others_stays() {
    let yard = YARD.replace(
        "        brood: 60 %\n",
        "        brood: 60 %   # patchy\n        # look again\n        stores: 10 %  # little\n",
    );
    let table = "colony,count,brood (%),stores (%),queen\nAsh,6,65,15,\nAsh,,60,,x\nAsh,3,,80,\n";
    assert_eq!(
        otherwise(&yard, &into(table, &yard)),
        [
            "-      - {count: 6, brood: 65 %, sealed: 60 %, stores: 15 %}   # upper box",
            "-      - count: 1            # hers",
            "+      - {count: 6, brood: 65 %, stores: 15 %}   # upper box",
            "+      -             # hers",
            "-        stores: 10 %  # little",
        ]
    );
    let flow = YARD.replace(
        "{count: 6, brood: 65 %, sealed: 60 %, stores: 15 %}   # upper box",
        "{count: 6, # six\n         brood: 65 %, sealed: 60 %, # seen\n         stores: 15 %}",
    );
    let new = into(
        "colony,count,brood (%),queen\nAsh,6,65,\nAsh,1,60,x\nAsh,3,,\n",
        &flow,
    );
    assert!(
        new.contains("{count: 6, # six\n         brood: 65 %, # seen\n         }"),
        "{new}"
    );
    // Lines of their own between frames that go, and behind the last colony.
    let between = YARD.replace(
        "      - {count: 3,",
        "      # from the shelf\n      - {count: 3,",
    );
    let new = into(
        "colony,count,brood (%),queen\nAsh,6,65,\nAsh,1,60,x\n",
        &between,
    );
    assert!(
        new.contains("      # from the shelf\n    extra bees"),
        "{new}"
    );
    let behind = YARD.replace(
        "    stores: 2 frames\n\n",
        "    stores: 2 frames\n    # weak\n\n",
    );
    let new = into("colony,site,role,brood\nYew,far,nucleus,3\n", &behind);
    assert!(new.contains("    # weak\n  Yew:\n"), "{new}");
}

#[test]
fn line_ends_may_be_mixed() {
    let mixed = YARD.replacen('\n', "\r\n", 1).replace(
        "    role: nucleus\n    brood: 5",
        "    role: nucleus # note end X\n    brood: 5",
    );
    let table = "colony,count,brood (%)\nElm,5,70\n";
    let new = put(table, &mixed, None, true).text.unwrap();
    assert!(new.contains("# note end X"), "{new}");
}

#[test]
fn colonies_of_any_shape_are_changed() {
    let yard = |colony: &str| {
        format!(
            "spareframe: 1\nsites: {{home: }}\nroles: {{r: {{}}}}\ncolonies:\n{colony}recipes: {{r: {{lines: [{{brood: 1 %}}]}}}}\nboxes: {{b: {{count: 1, recipe: r}}}}\n"
        )
    };
    for (colony, table, new) in [
        (
            "  N:\n    brood: 5\n    bees: 9 frames\n",
            "colony,count\nN,3\n",
            "  N:\n    frames:\n      - {count: 3}\n",
        ),
        (
            "  N:\n    frames:\n      - {count: 4}\n",
            "colony,brood\nN,3\n",
            "  N:\n    brood: 3\n",
        ),
        (
            "  N: {brood: 5}\n",
            "colony,count\nN,3\n",
            "  N: {frames: [{count: 3}]}\n",
        ),
        ("  N:\n", "colony,brood\nN,3\n", "  N: {brood: 3}\n"),
        (
            "  N:\n    frames:\n      -\n        count: 2\n",
            "colony,group,count\nN,,3\n",
            "      -\n        count: 2\n      - {count: 3}\n",
        ),
        (
            "  N:\n    frames:\n    - # first\n      count: 2\n",
            "colony,group,count\nN,,3\n",
            "    - # first\n      count: 2\n    - {count: 3}\n",
        ),
        (
            "  N:\n    frames:\n    - {count: 2}\n",
            "colony,group,count\nN,,3\n",
            "    - {count: 2}\n    - {count: 3}\n",
        ),
        (
            "  N:\n    frames:\n    - {count: 2}   # keep\n    # own\n    - {count: 1}   # gone\n",
            "colony,count\nN,3\n",
            "    - {count: 3}   # keep\n    # own\nrecipes",
        ),
        (
            "  N:\n    frames:\n    - {count: 2}\n    extra bees: 3000\n",
            "colony,brood\nN,3\n",
            "  N:\n    extra bees: 3000\n    brood: 3\n",
        ),
        (
            "  N: {frames: [\n      {count: 2},  # first\n      # own\n      {count: 1}   # gone\n    ]}   # end\n",
            "colony,count\nN,3\n",
            "[\n      {count: 3},  # first\n      # own\n         # gone\n    ]}   # end\n",
        ),
        (
            "  N:\n    frames:\n      - {stores: 10 %, # c\n         brood: 60 %}\n",
            "colony,count,brood (%)\nN,,60\n",
            "- { # c\n         brood: 60 %}\n",
        ),
        (
            "  N:\n    frames:\n      - {}\n",
            "colony,count,brood (%)\nN,2,60\n",
            "- {count: 2, brood: 60 %}\n",
        ),
        (
            "  N: {frames: [{count: 2}, {count: 1}]}\n",
            "colony,count\nN,3\n",
            "  N: {frames: [{count: 3}]}\n",
        ),
    ] {
        let found = put(table, &yard(colony), None, true);
        assert_eq!(found.findings, [], "{colony}");
        assert!(found.text.unwrap().contains(new), "{colony}");
    }
}

#[test]
fn names_and_units_are_read_whatever_the_capitals() {
    let new = into("Colony,Brood [Frames]\nELM,4\n", YARD);
    assert!(new.contains("brood: 4 frames "), "{new}");
    let twice = put(
        "colony,site,role,brood\nnew,home,nucleus,1\nNew,home,nucleus,2\n",
        YARD,
        None,
        false,
    );
    assert_eq!(twice.findings[0].code, "duplicate-key");
    let alike = into(
        "colony,group,count,extra bees\nAsh,1,6,4000\nAsh,2,1,4000 bees\n",
        YARD,
    );
    assert!(alike.contains("extra bees: 4000\n"));
}

#[cfg(unix)]
#[test]
fn a_link_stays_one_and_what_it_leads_to_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let (real, link) = (
        folder.path().join("real.yaml"),
        folder.path().join("link.yaml"),
    );
    fs::write(&real, YARD).unwrap();
    std::os::unix::fs::symlink(&real, &link).unwrap();
    let mode = |path| {
        use std::os::unix::fs::PermissionsExt;
        fs::metadata(path).unwrap().permissions().mode()
    };
    let before = mode(&real);
    spareframe(&["inspect", "-", "--into", link.to_str().unwrap(), "-q"])
        .stdin("colony,brood\nElm,4\n")
        .check();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert!(
        fs::read_to_string(&real)
            .unwrap()
            .contains("    brood: 4  ")
    );
    assert_eq!(mode(&real), before);
}
