//! The page of `share`: that it says what the plan says, in the order of the hands, and can be read.

use crate::legible::contrast;
use crate::share::{FIRST, FORTY, share};
use crate::support::{Folder, file, spareframe};
use std::collections::BTreeMap;
use std::fs;

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
    // The first compartment that stays empty says what would stock it.
    let lack = "<p class=\"lack\">lacks 1 frame (brood 50%)</p>";
    assert_eq!(page.matches(lack).count(), 1);
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
