//! `share`: what is handed on, and that nothing in a name can break out of it.

use crate::legible::contrast;
use crate::support::{Folder, file, spareframe};
use std::collections::BTreeMap;
use std::fs;

const FIRST: &str = "../../scenarios/first-round.yaml";
const FORTY: &str = "../../scenarios/forty.yaml";

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

fn share(scenario: &str, format: &str) -> String {
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
fn the_page_stands_for_its_plan() {
    let folder = Folder::new();
    let page = &folder.write("p.html", share(FIRST, "html"));
    let plan = &folder.write("p.yaml", share(FIRST, "yaml"));
    let by_plan = spareframe(&["verify", FIRST, plan]).stdout("...").check();
    let by_page = spareframe(&["verify", FIRST, page]).stdout("...").check();
    assert_eq!(by_plan, by_page);
    let changed = spareframe(&["compare", plan, page]).stdout("...").check();
    let same = spareframe(&["compare", plan, plan]).stdout("...").check();
    assert_eq!(changed, same);
    spareframe(&["stock", FIRST, "--quiet", "--near", page])
        .stdout("...")
        .check();
}

/// Sites with colonies to open come before those with boxes alone, however the scenario lists them; for
/// each frame group and each compartment there is room for what was found.
#[test]
fn sheets_are_in_the_order_of_work_with_room_for_what_was_found() {
    let scenario = fs::read_to_string(FIRST).unwrap();
    let turned = "sites:\n  far meadow: {at: [50.14, 8.27]}\n  home: {at: [50.10, 8.20]}\n";
    let start = scenario.find("sites:\n").unwrap();
    let end = start + scenario[start..].find("\n\n").unwrap();
    let turned = format!("{}{turned}{}", &scenario[..start], &scenario[end..]);
    let run = |format| {
        spareframe(&["share", "-", "--quiet", "--format", format])
            .stdin(turned.clone())
            .stdout("...")
            .check()
    };
    let page = run("html");
    let of = |text: &str| page.find(text).unwrap();
    assert!(of(">At home</h2>") < of(">At far meadow</h2>"));
    assert!(of("<b>Colony 6</b>") < of("ripe cell in</p>"));
    let plan: serde_json::Value = serde_json::from_str(&run("json")).unwrap();
    let list = |value: &serde_json::Value| value.as_array().unwrap().len();
    let colonies = plan["colonies"].as_array().unwrap();
    let groups: usize = colonies.iter().map(|c| list(&c["leaving"])).sum();
    let rooms = page.matches("class=\"note\"").count();
    assert!(rooms >= groups, "{rooms} of {groups}");
    let tables = page.matches("<caption>Found instead, in frames").count();
    assert_eq!(tables, colonies.len());
}

#[test]
fn the_page_holds_the_calendar() {
    let page = share(&file("queen-round"), "html");
    for part in [
        "Mated queens to expect (estimate): 4.9 to 6.5 of 7.",
        "<span class=\"day\">Wed 2031-05-28</span> to <span class=\"day\">Sun 2031-06-01</span>",
        "Drones are mature from Fri 2031-05-30",
        "Feed for 5 days without flight",
        "white sugar: 0.2 kg",
        "emergence to eggs: 4 to 22 days, Szabo et al. 1987",
        "Huang 2010",
    ] {
        assert!(page.contains(part), "{part}");
    }
}

#[test]
fn a_page_without_a_plan_is_a_finding() {
    let folder = Folder::new();
    let page = &folder.write("p.html", "<!doctype html><p>hello");
    let start = format!("{page}:1:1\nerror[wrong-type]...");
    spareframe(&["verify", FIRST, page])
        .code(2)
        .stderr(&start)
        .check();
}

#[test]
fn equal_input_gives_equal_bytes_and_the_page_stays_small() {
    for format in ["html", "csv", "ics", "json", "yaml", "markdown"] {
        assert_eq!(share(FIRST, format), share(FIRST, format), "{format}");
    }
    assert!(share(FORTY, "html").len() < 1_000_000);
}

#[test]
fn the_page_says_what_plan_and_curve_say() {
    let page = share(FORTY, "html");
    assert!(page.contains("All frames in this plan are Langstroth deep."));
    let curve = spareframe(&["curve", FORTY, "-q", "--format", "markdown"]);
    let curve = curve.stdout("# Cost against compartments...").check();
    let (sentences, steps) = curve.split_once("## Every step").unwrap();
    let sentences = sentences.lines().filter_map(|line| line.strip_prefix("- "));
    // A code span in a list is plain text in the page.
    let sentences: Vec<&str> = sentences.filter(|line| !line.contains('`')).collect();
    assert!(sentences.len() > 2, "{curve}");
    for sentence in sentences {
        assert!(page.contains(sentence), "{sentence}");
    }
    let last = steps
        .lines()
        .rfind(|line| line.starts_with("| 24 | "))
        .unwrap();
    let cells = last.trim_matches('|').split('|').map(str::trim);
    let cells: String = cells.map(|cell| format!("<td>{cell}</td>")).collect();
    assert!(page.contains(&cells), "{cells}");
    assert!(!page.contains("not a plan to work by"));
    for line in page
        .lines()
        .filter(|line| line.contains("type=\"checkbox\""))
    {
        assert!(!line.contains("honey given up"), "nothing to do: {line}");
    }
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

#[test]
fn the_page_draws_what_fills_a_gap() {
    let page = share(FIRST, "html");
    let hive = page.split("data-colony=\"0\"").nth(1).unwrap();
    let hive = hive.split("</article>").next().unwrap();
    for (part, times) in [
        ("class=\"up\"", 1),
        ("class=\"in ghost\"", 1),
        ("class=\"in stay\"", 15),
    ] {
        assert_eq!(hive.matches(part).count(), times, "{part}: {hive}");
    }
    assert!(page.contains("1 frame from the store room</b><small>comb 90% drawn"));
}

#[test]
fn frames_counted_at_a_glance_are_named_by_what_they_hold() {
    let page = spareframe(&["share", "-", "--quiet", "--format", "html"]);
    let page = page
        .stdin(spareframe::scenario::starter())
        .stdout("...")
        .check();
    let found = |colony: &str| {
        let inputs = page.split("<input type=\"number\"").skip(1);
        let of = format!("data-found=\"{colony}\"");
        let inputs = inputs.filter_map(|input| input.split('>').next());
        inputs
            .filter(|input| input.contains(&of))
            .collect::<Vec<_>>()
    };
    let rows = found("3");
    for name in ["brood", "stores", "empty"] {
        let count = format!("data-count=\"{name}\"");
        assert!(
            rows.iter().any(|row| row.contains(&count)),
            "{name}: {rows:?}"
        );
    }
    let numbered = |row: &&str| row.contains("data-group=\"1\"");
    assert!(
        found("1").iter().any(numbered),
        "listed frames keep their numbers"
    );
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

/// Marks that carry meaning stand out from what they lie on by 3 : 1, text by 4.5 : 1 (WCAG 2.2, criteria 1.4.11 and
/// 1.4.3), by day, by night and on paper.
#[test]
fn every_mark_and_every_word_of_the_page_stands_out() {
    let style = include_str!("../../templates/page.css");
    let colours = |from: &str| -> BTreeMap<String, String> {
        let block = style.split(from).nth(1).unwrap().split('}').next().unwrap();
        let pairs = block.split(';').filter_map(|pair| pair.split_once(':'));
        let pairs = pairs.filter(|(name, value)| name.starts_with("--") && value.starts_with('#'));
        let long = |value: &str| match value.len() {
            4 => value
                .chars()
                .skip(1)
                .fold("#".to_owned(), |all, c| format!("{all}{c}{c}")),
            _ => value.to_owned(),
        };
        pairs
            .map(|(name, value)| (name.to_owned(), long(value)))
            .collect()
    };
    let day = colours(":root{");
    let night = colours("(prefers-color-scheme:dark){:root{");
    let mut paper = day.clone();
    paper.extend(colours("@media print{:root{"));
    let marks = [
        ("--brood", "--wax"),
        ("--brood", "--store"),
        ("--hatch", "--store"),
        ("--wire", "--fnd"),
        ("--wood", "--paper"),
        ("--wood", "--surf"),
        ("--bee", "--paper"),
        ("--ink", "--surf"),
        ("--accent", "--surf"),
    ];
    let words = [
        ("--ink", "--paper"),
        ("--muted", "--paper"),
        ("--muted", "--surf"),
        ("--accent", "--paper"),
        ("--accent", "--surf"),
        ("--on", "--accent"),
        ("--ink", "--tint"),
    ];
    for (name, of) in [("day", day), ("night", night), ("paper", paper)] {
        let least = |pairs: &[(&str, &str)], least: f64| {
            for (one, other) in pairs {
                let got = contrast(&of[*one], &of[*other]);
                assert!(got >= least, "{name}: {one} on {other}: {got:.2}");
            }
        };
        least(&marks, 3.0);
        least(&words, 4.5);
    }
}
