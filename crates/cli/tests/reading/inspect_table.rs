//! What `inspect` reads in a table, and what it finds wrong in it, by row and column.

use crate::inspect_support::{YARD, errors, into, put};
use spareframe::inspect::{By, inspect, table};

#[test]
fn what_says_the_same_changes_nothing() {
    for table in [
        "colony,extra bees\nAsh,3500\n2,\n",
        "colony,group,count,brood,sealed (%)\nAsh,1,6,\"0,65\",60\n",
        "colony,brood (combs),bees\n2,\"4,0\",9 frames\nElm,5 combs,\n",
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
            "2:7 wrong-type: `six` in row 2, column `count` -> did you mean `6`?",
            "2:11 out-of-range: `160 %` in row 2, column `brood` -> correct the figure",
            "2:15 wrong-type: `maybe` in row 2, column `queen` -> write `yes` or `no`",
            "3:1 out-of-range: group 9 in row 3 for colony `Ash` -> correct the group; leave it empty for a new one",
            "4:1 two-readings: frames in row 4 for colony `2` -> count it the same way, or use --recount to put the table's count in its place",
            "5:1 two-readings: frames in row 5 for colony `Elm` -> count it the same way, or use --recount to put the table's count in its place",
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
        ("Ash,6\nElm,5\n", "1:1 missing-key"),
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
fn a_hold_is_lifted_by_any_no() {
    for word in ["no", "n", "0", "-", "false"] {
        let new = into(&format!("colony,hold\nElm,{word}\n"), YARD);
        assert!(new.contains("    hold: no\n"), "{word}");
    }
}

#[test]
fn names_and_units_are_read_whatever_the_capitals() {
    let new = into("Colony,Brood [Frames]\nELM,4\n", YARD);
    assert!(new.contains("brood: 4 frames "), "{new}");
    let twice = put(
        "colony,site,role,brood (combs)\nnew,home,nucleus,1\nNew,home,nucleus,2\n",
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

/// `13` in a column of bees was thirteen bees, whatever the scenario had before.
#[test]
fn a_small_number_of_bees_is_asked_about_and_frames_come_back_as_frames() {
    let found = errors("colony,bees\n2,13\n");
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(
        found[0].starts_with("2:3 two-meanings: `13`: bees, or frames"),
        "{found:?}"
    );
    assert!(found[0].contains("in row 2, column `bees`"), "{found:?}");
    assert!(found[0].contains("write `13 frames`"), "{found:?}");
    let yard = YARD.replace(
        "    stores: 2 frames\n",
        "    stores: 2 frames\n    bees: 18_000\n",
    );
    let written = table("s.yaml", yard.as_bytes(), Some(By::Colony))
        .unwrap()
        .table;
    let lines: Vec<&str> = written.lines().collect();
    assert!(
        lines[0].contains("brood (combs)") && lines[0].contains("bees (frames)"),
        "{written}"
    );
    assert!(
        lines[1].ends_with(",9") || lines[1].contains(",9,"),
        "{written}"
    );
    assert!(lines[2].contains("18_000 bees"), "{written}");
    assert_eq!(
        into(&written, &yard),
        yard,
        "what comes back changes nothing"
    );
}
