//! `season` at the command line: today's round, what it leads to, formats, what is wrong.

use crate::support::{Folder, file, spareframe, text};
use serde_json::Value;
use unicode_width::UnicodeWidthStr;

fn season(arguments: &[&str]) -> Value {
    let mut all = vec!["season"];
    all.extend(arguments);
    all.extend(["--format", "json", "-q"]);
    spareframe(&all).json()
}

fn number(value: &Value) -> i64 {
    value.as_i64().unwrap()
}

#[test]
fn one_round_and_nothing_else_is_the_plan_of_stock_to_the_byte() {
    let folder = Folder::new();
    for (name, day) in [
        ("first-round", "2031-05-20"),
        ("second-round", "2031-06-10"),
        ("nuclei", "2031-05-20"),
    ] {
        for wants in ["", "\n  wants: [{queens: most}]"] {
            let season = format!("{}\nseason:\n  rounds: [{day}]{wants}\n", text(name));
            let yard = folder.write(&format!("{name}.yaml"), season);
            let plan = folder.path("plan.yaml");
            spareframe(&[
                "season", &yard, "--plan", &plan, "--force", "--format", "json", "-q",
            ])
            .json();
            let stock = folder.path("stock.yaml");
            spareframe(&["stock", &yard, "--out", &stock, "--force", "-q"]).check();
            assert_eq!(
                folder.read("plan.yaml"),
                folder.read("stock.yaml"),
                "{name}{wants}"
            );
        }
    }
}

/// Of ten cells, with a mean of 75 % and a deviation of 16 % between rounds, five or fewer give a queen in 17 of a hundred
/// rounds (beta-binomial, worked out in crates/rearing/src/chance.rs and by hand).
#[test]
fn a_want_says_in_how_many_seasons_enough_queens_mate() {
    let whole = text("season");
    let (yard, _) = whole.split_once("\nseason:").unwrap();
    let folder = Folder::new();
    let percent = |wants: &str| -> Vec<Option<i64>> {
        let rounds = "season:\n  rounds: [2031-05-20]\n  cells: 10\n  success: 75 %\n  wants:\n";
        let file = folder.write("yard.yaml", format!("{yard}\n{rounds}{wants}"));
        let found = season(&[&file]);
        let wants = found["wants"].as_array().unwrap();
        wants
            .iter()
            .map(|want| want["enough_queens_percent"].as_i64())
            .collect()
    };
    // Of no more cells than are counted with, eight for six queens, it is less often enough.
    let six = "    - {queens: 6, by: 2031-07-01}\n";
    assert_eq!(percent(six), [Some(66)]);
    let most = "    - {queens: most}\n";
    assert_eq!(percent(&format!("{six}{most}")), [Some(83), None]);
    // What comes before needs its queens, too.
    let both = "    - {queens: 2, by: 2031-07-01}\n    - {queens: 4, by: 2031-07-01}\n    - {queens: most}\n";
    let [first, second, third] = percent(both)[..] else {
        panic!()
    };
    assert!(first > Some(98));
    assert_eq!((second, third), (Some(83), None));
}

#[test]
fn todays_round_is_a_plan_that_verify_passes_and_the_rest_is_an_outlook() {
    let folder = Folder::new();
    let plan = folder.path("plan.json");
    let found = season(&[&file("season"), "--plan", &plan]);
    spareframe(&["verify", &file("season"), &plan, "-q"])
        .stdout("...")
        .check();
    let stocked = &found["plan"]["headline"]["compartments_stocked"];
    assert_eq!(&found["headline"]["stock_today"], stocked);
    let rounds = found["rounds"].as_array().unwrap();
    let outlook: Vec<bool> = rounds
        .iter()
        .map(|r| r["outlook"].as_bool().unwrap())
        .collect();
    assert_eq!(outlook, [false, true, true]);
    // What goes in today is what colonies give in today's plan.
    let combs: f64 = found["colonies"]
        .as_array()
        .unwrap()
        .iter()
        .map(|colony| colony["rounds"][0]["brood_combs"].as_f64().unwrap())
        .sum();
    assert!(combs >= rounds[0]["brood_combs"].as_f64().unwrap());
    // Whoever is on hold gives nothing.
    let names = found["colonies"].as_array().unwrap().iter();
    assert!(
        names
            .map(|colony| &colony["colony"])
            .all(|name| name != "7")
    );
}

#[test]
fn figures_of_the_season_agree_with_each_other() {
    for name in ["season", "season-forty"] {
        let found = season(&[&file(name)]);
        let wants = found["wants"].as_array().unwrap();
        for want in wants {
            assert!(number(&want["met"]) <= number(&want["at_most"]), "{name}");
            if let Some(asked) = want["asked"].as_i64() {
                assert!(number(&want["met"]) <= asked, "{name}");
            }
        }
        let mut before = 0;
        for day in found["queens"].as_array().unwrap() {
            let queens = number(&day["queens"]);
            assert!(queens >= before && number(&day["used"]) <= queens, "{name}");
            assert!(
                number(&day["queens_least"]) <= queens && queens <= number(&day["queens_most"]),
                "{name}"
            );
            before = queens;
        }
        let against = found["today_against_the_season"].as_array().unwrap();
        let planned: Vec<&Value> = against
            .iter()
            .filter(|row| row["planned"] == true)
            .collect();
        assert_eq!(planned.len(), 1, "{name}");
        assert_eq!(planned[0]["queens"], found["headline"]["queens"], "{name}");
    }
}

#[test]
fn no_line_is_wider_than_the_page_and_outlook_is_said_each_time() {
    for (name, width) in [
        ("season", 40),
        ("season", 60),
        ("season", 80),
        ("season-forty", 40),
        ("season-forty", 120),
    ] {
        let shown = spareframe(&["season", &file(name), "--width", &width.to_string(), "-q"])
            .stdout("...")
            .check();
        for line in shown.lines() {
            assert!(line.width() <= width, "{name}, {width}: {line}");
        }
        assert!(shown.matches("utlook").count() >= 6, "{name}");
        for said in ["swarming", "mites", "weather"] {
            assert!(shown.contains(said), "{name}: {said}");
        }
    }
}

#[test]
fn every_format_has_its_bytes_twice_alike() {
    for format in ["table", "markdown", "csv", "ics", "json", "yaml", "svg"] {
        let write = || {
            spareframe(&["season", &file("season"), "--format", format, "-q"])
                .stdout("...")
                .check()
        };
        let text = write();
        assert_eq!(text, write(), "{format}");
        assert!(
            text.contains("2031-06-17") || text.contains("20310617"),
            "{format}"
        );
    }
}

#[test]
fn the_calendar_has_each_round_and_says_that_it_is_an_outlook() {
    let dates = spareframe(&["season", &file("season"), "--format", "ics", "-q"])
        .stdout("...")
        .check();
    let dates = dates.replace("\r\n ", "");
    for day in [
        "20310520", "20310608", "20310617", "20310706", "20310715", "20310903",
    ] {
        assert!(
            dates.contains(&format!("DTSTART;VALUE=DATE:{day}")),
            "{day}"
        );
    }
    assert_eq!(dates.matches("SUMMARY:Stock the boxes").count(), 1);
    assert_eq!(dates.matches("SUMMARY:Outlook: stock the boxes").count(), 2);
    assert!(dates.matches("An outlook").count() >= 8);
}

#[test]
fn more_boxes_never_lead_to_less() {
    let found = season(&[&file("season"), "--boxes", "3..9 by 3"]);
    let rows = found["boxes"].as_array().unwrap();
    let of = |key: &str| -> Vec<i64> { rows.iter().map(|row| number(&row[key])).collect() };
    assert_eq!(of("boxes"), [3, 6, 9]);
    assert!(of("queens").is_sorted(), "{:?}", of("queens"));
}

#[test]
fn what_has_no_season_today_is_told_the_way_out() {
    let folder = Folder::new();
    let none = file("first-round");
    let fails = |arguments: &[&str], said: &str| {
        let all = [&["season"], arguments, &["-q"]].concat();
        spareframe(&all)
            .code(2)
            .stderr(&format!("error: {said}..."))
            .check();
    };
    fails(
        &[&none],
        "the scenario has no season; add `season: {rounds: [2031-05-20, 2031-06-17]}`",
    );
    let later = text("season").replace("day: 2031-05-20 ", "day: 2031-05-27 ");
    let later = folder.write("later.yaml", later);
    fails(
        &[&later],
        "today, 2031-05-27, is no round of the season: the next is 2031-06-17; go on to it with `spareframe onward",
    );
    let over = text("season").replace("day: 2031-05-20 ", "day: 2031-09-27 ");
    let over = folder.write("over.yaml", over);
    fails(&[&over], "all rounds of the season are over");
    fails(
        &[&file("season"), "--boxes", "many"],
        "--boxes many: write numbers as 6..40, and of several kinds which: `mating box=6..40`",
    );
}

/// A colony that is to be requeened has a break in laying around the want's day; where no day is said, around the last on which
/// queens may be taken.
#[test]
fn a_colony_that_is_requeened_raises_fewer_bees_for_winter() {
    let whole = text("season");
    let (yard, _) = whole.split_once("\nseason:").unwrap();
    let folder = Folder::new();
    let winter = |want: &str| -> i64 {
        let season = format!(
            "season:\n  rounds: [2031-05-20, 2031-06-17, 2031-07-15]\n  cells: 14\n  wants: [{want}{{queens: most}}]\n  \
             winter: {{on: 2031-10-15, bees: 5000}}\n"
        );
        let file = folder.write("yard.yaml", format!("{yard}\n{season}"));
        let found = self::season(&[&file]);
        let colonies = found["colonies"].as_array().unwrap();
        let third = colonies
            .iter()
            .find(|colony| colony["colony"] == "3")
            .unwrap();
        number(&third["winter_bees_undrawn"])
    };
    let never = winter("");
    let last = winter("{requeen: [\"3\"]}, ");
    assert!(last < never - 3000, "{last} {never}");
    // The last day on which queens of the last round may be taken.
    assert_eq!(last, winter("{requeen: [\"3\"], by: 2031-08-11}, "));
    // Before the bees for winter are raised it costs none of them.
    let early = winter("{requeen: [\"3\"], by: 2031-07-01}, ");
    assert!(early > last && early <= never, "{early} {last} {never}");
}
