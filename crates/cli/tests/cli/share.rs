//! `share`: what is handed on, and that nothing in a name can break out of it.

use crate::support::{Folder, file, spareframe};
use std::fs;

pub(crate) const FIRST: &str = "../../scenarios/first-round.yaml";
pub(crate) const FORTY: &str = "../../scenarios/forty.yaml";

const NASTY: &str = r#"
spareframe: 1
title: "</script><script>alert(1)</script>; a, b"
day: 2031-05-20
sites: {"=<b>s&'": {}}
colonies:
  "@<img src=x onerror=1>":
    hold: no
    role: "<i>role"
    frames:
      - {count: 6, place: "</title><script>", brood: 0.6, stores: 0.2}
      - {count: 4, stores: 0.8}
    extra bees: 20000
roles: {"<i>role": {}}
recipes:
  "+<u>r":
    lines: [{name: "=cmd|' /C calc'!A0", count: 1, brood: 0.3}]
    bees: 700
boxes: {"-<script>box": {count: 2, recipe: "+<u>r"}}
"#;

/// All properties that a calendar has; no name of a scenario begins a line of its own.
const PROPERTIES: &[&str] = &[
    "ACTION",
    "BEGIN",
    "CALSCALE",
    "DESCRIPTION",
    "DTEND",
    "DTSTAMP",
    "DTSTART",
    "END",
    "LOCATION",
    "PRODID",
    "SEQUENCE",
    "SUMMARY",
    "TRANSP",
    "TRIGGER",
    "UID",
    "VERSION",
];

pub(crate) fn share(scenario: &str, format: &str) -> String {
    spareframe(&["share", scenario, "--quiet", "--format", format])
        .stdout("...")
        .check()
}

fn nasty(format: &str) -> String {
    spareframe(&["share", "-", "--quiet", "--format", format])
        .stdin(NASTY)
        .stdout("...")
        .check()
}

#[test]
fn no_name_breaks_out_of_the_page() {
    let page = nasty("html");
    assert_eq!(page.matches("<script").count(), 3, "data, and our own");
    assert_eq!(page.matches("</script").count(), 3);
    for wrong in ["<img", "<b>s", "<i>role", "<u>r", "onerror=1>"] {
        assert!(!page.contains(wrong), "{wrong}");
    }
    assert!(page.contains("default-src 'none'"));
    assert!(!page.contains(" src=\""), "nothing is fetched");
    for link in page.split(" href=\"").skip(1) {
        assert!(link.starts_with('#') || link.starts_with("data:,"));
    }
}

#[test]
fn no_cell_of_the_table_is_a_formula() {
    let table = nasty("csv");
    assert!(table.contains("\r\nframes,'=<b>s&',"));
    for line in table.split("\r\n").skip(1) {
        for cell in line.split(',') {
            let cell = cell.trim_start_matches('"');
            assert!(!cell.starts_with(['=', '+', '-', '@']), "{cell}");
        }
    }
}

#[test]
fn the_calendar_is_folded_escaped_and_updates_itself() {
    let dates = nasty("ics");
    assert!(dates.split("\r\n").all(|line| line.len() <= 75));
    assert!(!dates.replace("\r\n", "").contains('\n'));
    for part in [
        "DTSTART;VALUE=DATE:20310520",
        "DTEND;VALUE=DATE:20310521",
        "BEGIN:VALARM",
        "SEQUENCE:0",
    ] {
        assert!(dates.contains(part), "{part}");
    }
    assert_eq!(dates.matches("PRODID").count(), 1);
    let whole = dates.replace("\r\n ", "");
    for line in whole.trim_end().split("\r\n") {
        let (name, _) = line.split_once([':', ';']).unwrap();
        assert!(PROPERTIES.contains(&name), "{line}");
    }
    let newer = spareframe(&["share", "-", "--format", "ics", "--revision", "1"])
        .stdin(NASTY)
        .stdout("...")
        .check();
    assert_eq!(newer.replace("SEQUENCE:1", "SEQUENCE:0"), dates);
}

#[test]
fn equal_input_gives_equal_bytes_and_the_page_stays_small() {
    for format in ["html", "csv", "ics", "json", "yaml", "markdown"] {
        assert_eq!(share(FIRST, format), share(FIRST, format), "{format}");
    }
    assert!(share(FORTY, "html").len() < 1_000_000);
}

#[test]
fn a_folder_is_written_whole_or_not_at_all() {
    let folder = Folder::new();
    let to = &folder.path("out");
    let run = |more: &[&str]| {
        let args = ["share", FIRST, "--quiet", "--to", to];
        spareframe(&[&args, more].concat())
    };
    run(&[]).check();
    assert_eq!(fs::read_dir(to).unwrap().count(), 6);
    run(&[]).code(2).stderr("...").check();
    folder.write("out/mine.txt", "mine");
    folder.write("out/plan.md", "old");
    run(&["--force"]).check();
    assert_eq!(folder.read("out/mine.txt"), "mine");
    assert_ne!(folder.read("out/plan.md"), "old");
    // The last file cannot be written: all others are put back.
    fs::remove_file(folder.path("out/calendar.ics")).unwrap();
    fs::create_dir(folder.path("out/calendar.ics")).unwrap();
    folder.write("out/plan.md", "old");
    run(&["--force"]).code(2).stderr("...").check();
    assert_eq!(folder.read("out/plan.md"), "old");
    assert_eq!(folder.names(), ["out"]);
}

#[test]
fn no_calendar_of_an_older_plan_stays_beside_one_without_a_day() {
    let folder = Folder::new();
    let to = &folder.path("plan");
    let run = |scenario: String, more: &[&str]| {
        let args = [&["share", "-", "-q", "--to", to], more].concat();
        spareframe(&args).stdin(scenario).check();
        let files = fs::read_dir(to).unwrap();
        let mut names: Vec<_> = files
            .map(|f| f.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names.join(" ")
    };
    let with = "calendar.ics frames.csv plan.html plan.json plan.md plan.yaml";
    assert_eq!(run(NASTY.to_owned(), &[]), with);
    folder.write("plan/mine.txt", "mine");
    let without = NASTY.replace("day: 2031-05-20\n", "");
    let names = "frames.csv mine.txt plan.html plan.json plan.md plan.yaml";
    assert_eq!(run(without, &["--force"]), names);
}

/// One column for each thing, and rows of frames and of bees.
#[test]
fn the_table_says_where_each_frame_is_from_and_what_is_in_already() {
    let text = share(&file("half-done"), "csv");
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let head = reader.headers().unwrap().clone();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let cell = |row: &csv::StringRecord, name: &str| {
        let at = head.iter().position(|column| column == name).unwrap();
        row[at].to_owned()
    };
    let plan: serde_json::Value = serde_json::from_str(&share(&file("half-done"), "json")).unwrap();
    let list = |value: &serde_json::Value| value.as_array().cloned().unwrap_or_default();
    let mut wanted = Vec::new();
    let site = |name: &serde_json::Value| {
        let colonies = list(&plan["colonies"]);
        let colony = colonies.iter().find(|colony| colony["colony"] == *name);
        colony.map_or(String::new(), |colony| {
            colony["site"].as_str().unwrap().to_owned()
        })
    };
    for c in list(&plan["compartments"])
        .iter()
        .chain(&list(&plan["begun"]))
    {
        for f in list(&c["frames"]) {
            let text = |key: &str| f[key].as_str().unwrap_or_default().to_owned();
            let number = |key: &str| f[key].as_u64().map_or(String::new(), |n| n.to_string());
            let done = f["done"].as_u64().unwrap_or(0).to_string();
            let row = [
                "frames".to_owned(),
                text("colony"),
                site(&f["colony"]),
                text("place"),
                done,
                number("substitute"),
            ];
            wanted.push(row);
        }
        for b in list(&c["bees"]) {
            let done = b["done"].as_u64().unwrap_or(0).to_string();
            let colony = b["colony"].as_str().unwrap().to_owned();
            wanted.push([
                "bees".to_owned(),
                colony,
                site(&b["colony"]),
                String::new(),
                done,
                String::new(),
            ]);
        }
    }
    for colony in list(&plan["colonies"]) {
        for gap in list(&colony["gaps_filled_with"]) {
            let place = gap["place"].as_str().unwrap_or_default();
            let row = ["gap", "", "", place, "0", ""];
            wanted.push(row.map(ToOwned::to_owned));
        }
    }
    let columns = [
        "row",
        "from colony",
        "from site",
        "place",
        "of them already in",
        "substitute",
    ];
    let found: Vec<[String; 6]> = rows
        .iter()
        .map(|row| columns.map(|name| cell(row, name)))
        .collect();
    assert_eq!(found, wanted);
    assert!(wanted.iter().any(|row| row[4] != "0"), "something is done");
    assert!(wanted.iter().any(|row| row[0] == "bees") && head.len() == 25);
}

#[test]
fn a_byte_order_mark_goes_before_a_table_where_it_is_asked_for() {
    let folder = Folder::new();
    let to = folder.path("d");
    let marked = |args: &[&str]| {
        let text = spareframe(args).stdout("...").check();
        text.starts_with('\u{feff}')
    };
    let csv = ["--format", "csv", "--bom", "-q"];
    assert!(marked(&[&["share", FIRST], &csv[..]].concat()));
    assert!(marked(&[&["curve", FIRST], &csv[..]].concat()));
    assert!(marked(&["inspect", "--table", FIRST, "--bom", "-q"]));
    assert!(!marked(&["share", FIRST, "--format", "csv", "-q"]));
    spareframe(&["share", FIRST, "--to", &to, "--bom", "-q"]).check();
    assert!(folder.read("d/frames.csv").starts_with("\u{feff}row,site,"));
    assert!(!folder.read("d/plan.md").starts_with('\u{feff}'));
    // What has a mark is read back.
    let table = folder.path("hives.csv");
    spareframe(&["inspect", "--table", FIRST, "--bom", "-q", "--out", &table]).check();
    spareframe(&["inspect", &table, "--into", FIRST, "--dry-run", "-q"]).check();
    spareframe(&["share", FIRST, "--format", "html", "--bom"])
        .code(2)
        .stderr("error: --bom goes with CSV, not with html; add --format csv or leave it out\n")
        .check();
}

#[test]
fn a_plan_without_rows_has_its_columns_all_the_same() {
    let nothing = "spareframe: 2\nsites: {a: }\ncolonies: {A: {brood: 5 combs, hold: sick}}\nrecipes: {r: {lines: [{brood: 30 %}]}}\nboxes: {b: {count: 1, recipe: r}}\n";
    let table = spareframe(&["share", "-", "-q", "--format", "csv"]);
    let table = table.stdin(nothing).code(1).stdout("...").check();
    assert!(table.starts_with("row,site,box kind,"), "{table}");
    assert_eq!(table.lines().count(), 1);
}
