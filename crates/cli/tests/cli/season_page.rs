//! The season where it is handed on: today's round as it decides it, on the page, in the folder, in the picture.

use crate::legible::legible;
use crate::share::{FIRST, share};
use crate::support::{Folder, file, spareframe, text};
use serde_json::Value;

const SEASONS: [&str; 2] = ["season", "season-forty"];

fn season(name: &str) -> Value {
    spareframe(&["season", &file(name), "--format", "json", "-q"]).json()
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

fn gives(round: &&Value) -> bool {
    round["brood_combs"] != 0 || round["bees_given"] != 0
}

#[test]
fn what_is_handed_on_is_todays_round_as_the_season_decides_it() {
    let folder = Folder::new();
    for name in SEASONS {
        let plan = folder.path("plan.yaml");
        spareframe(&["season", &file(name), "--plan", &plan, "--force", "-q"])
            .stdout("...")
            .check();
        assert_eq!(
            folder.read("plan.yaml"),
            share(&file(name), "yaml"),
            "{name}"
        );
        let page = folder.write("page.html", share(&file(name), "html"));
        spareframe(&["verify", &file(name), &page, "-q"])
            .stdout("...")
            .check();
    }
}

#[test]
fn the_page_says_of_the_season_what_the_season_says() {
    for name in SEASONS {
        let (page, found) = (share(&file(name), "html"), season(name));
        let head = &found["headline"];
        for (figure, said) in [
            (&head["stock_today"], "to stock today"),
            (&head["queens"], "mated queens by "),
        ] {
            let part = page.split(&format!("<div><dt>{said}")).nth(1).unwrap();
            let shown = part.split("<b>").nth(1).unwrap().split('<').next().unwrap();
            assert_eq!(shown, figure.to_string(), "{name}: {said}");
        }
        let lanes = page.matches("<div class=\"lane co\">").count();
        let giving = list(&found["colonies"])
            .iter()
            .filter(|colony| list(&colony["rounds"]).iter().any(|round| gives(&round)));
        assert_eq!(
            lanes,
            giving.count(),
            "{name}: who is left alone has no lane"
        );
        assert!(page.matches("outlook").count() > 8, "{name}");
        for said in ["swarming, mites, disease", "Left alone: colonies"] {
            assert!(page.contains(said), "{name}: {said}");
        }
        assert!(page.len() < 600 * 1024, "{name}: {}", page.len());
        assert!(!page.contains("NaN") && !page.contains("inf"), "{name}");
    }
}

#[test]
fn the_picture_of_a_season_shows_every_draw_and_is_legible() {
    for name in SEASONS {
        let draw = || {
            spareframe(&["season", &file(name), "--format", "svg", "-q"])
                .stdout("<svg role=\"img\" ...")
                .check()
        };
        let (picture, found) = (draw(), season(name));
        assert_eq!(picture, draw(), "twice the same");
        let shown = legible(&picture);
        let rounds = list(&found["colonies"])
            .iter()
            .flat_map(|colony| list(&colony["rounds"]));
        let mut combs: Vec<String> = rounds
            .filter(|round| round["brood_combs"] != 0)
            .map(|round| round["brood_combs"].to_string())
            .collect();
        let number = "font-size=\"13\" fill=\"#0E5A66\">";
        let drawn = picture.split(number).skip(1);
        let mut drawn: Vec<String> = drawn
            .map(|rest| rest.split('<').next().unwrap().to_owned())
            .collect();
        combs.sort();
        drawn.sort();
        assert_eq!(drawn, combs, "{name}");
        for part in ["today", "Colonies", "Mated queens"] {
            assert!(
                shown.texts.iter().any(|text| text == part),
                "{name}: {part}"
            );
        }
        for part in ["outlook", "in eight of ten seasons", "Left alone: "] {
            assert!(shown.description.contains(part), "{name}: {part}");
        }
    }
}

/// Compartments that go through a season alike share a lane; in each round they are as many as are planned.
#[test]
fn lots_of_compartments_add_up_to_each_round() {
    for name in SEASONS {
        let (page, found) = (share(&file(name), "html"), season(name));
        let table = page
            .split("<caption>Compartments (outlook)")
            .nth(1)
            .unwrap();
        let table = table.split("</table>").next().unwrap();
        let rows: Vec<(i64, &str)> = table
            .split("<tr><th scope=\"row\">")
            .skip(1)
            .map(|row| {
                let mut cells = row.split("<td>").skip(1);
                let count = cells.next().unwrap().split('<').next().unwrap();
                (count.parse().unwrap(), cells.next().unwrap())
            })
            .collect();
        for round in list(&found["rounds"]) {
            let day = round["day"].as_str().unwrap();
            for (key, what) in [
                ("new", "stocked"),
                ("next", "next cell"),
                ("nuclei_in", "made on"),
            ] {
                let planned = list(&round[key])
                    .iter()
                    .map(|kind| kind["compartments"].as_i64().unwrap());
                let with = |says: &str| {
                    let mut after = says.split(what).skip(1);
                    after.any(|rest| rest[..15].contains(day))
                };
                let shown = rows.iter().filter(|(_, says)| with(says));
                let shown: i64 = shown.map(|(count, _)| count).sum();
                assert_eq!(shown, planned.sum::<i64>(), "{name}: {what} {day}");
            }
        }
    }
}

#[test]
fn the_folder_has_the_season_and_the_calendar_its_rounds() {
    let folder = Folder::new();
    let to = folder.path("out");
    let write = |scenario: &str| {
        spareframe(&["share", scenario, "-q", "--to", &to, "--force"]).check();
        let mut names: Vec<String> = std::fs::read_dir(&to)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names.join(" ")
    };
    let plan = "calendar.ics frames.csv plan.html plan.json plan.md plan.yaml";
    assert_eq!(
        write(&file("season")),
        format!("{plan} season.csv season.svg")
    );
    let table = spareframe(&["season", &file("season"), "--format", "csv", "-q"])
        .stdout("...")
        .check();
    assert_eq!(folder.read("out/season.csv"), table);
    let dates = folder.read("out/calendar.ics").replace("\r\n ", "");
    for (day, what) in [
        (
            "20310520",
            "Draw frames and bees\\, stock the boxes: 14 mating box",
        ),
        ("20310608", "Count the colonies\\, and plan the season anew"),
        ("20310608", "Outlook: graft for 14 cells"),
        ("20310617", "Outlook: stock the boxes"),
        ("20310715", "Outlook: stock the boxes"),
        ("20310903", "Outlook: unite and feed for winter"),
    ] {
        let start = format!("DTSTART;VALUE=DATE:{day}");
        let events = dates.split("BEGIN:VEVENT");
        let mut on = events.filter(|event| event.contains(&start));
        assert!(
            on.any(|event| event.contains(&format!("SUMMARY:{what}"))),
            "{day}: {what}"
        );
    }
    assert!(!dates.contains("Graft for the next round"), "said once");
    // Of an older season nothing stays.
    assert_eq!(write(FIRST), plan);
}

#[test]
fn where_there_is_no_season_today_its_page_says_why() {
    let page = |scenario: String, more: &[&str]| {
        let args = [&["share", "-", "-q", "--format", "html"], more].concat();
        spareframe(&args).stdin(scenario).stdout("...").check()
    };
    let between = text("season").replace("day: 2031-05-20 ", "day: 2031-05-27 ");
    for (page, why) in [
        (page(between, &[]), "is no round of the season"),
        (
            page(text("season"), &["--most", "4"]),
            "a ceiling was asked for",
        ),
    ] {
        assert!(
            page.contains("The season is left out: ") && page.contains(why),
            "{why}"
        );
        assert!(!page.contains("id=\"season\""));
    }
    let capped = share(&file("season"), "json");
    let four = spareframe(&[
        "share",
        &file("season"),
        "-q",
        "--most",
        "4",
        "--format",
        "json",
    ])
    .json();
    let all: Value = serde_json::from_str(&capped).unwrap();
    let stocked = |plan: &Value| plan["headline"]["compartments_stocked"].as_i64().unwrap();
    assert_eq!((stocked(&four), stocked(&all)), (4, 14));
}

/// With one round and nothing else asked for the plan is that of `stock`, and the page keeps all that it says of it.
#[test]
fn one_round_alone_keeps_curve_and_reasons() {
    let one = format!("{}\nseason:\n  rounds: [2031-05-20]\n", text("first-round"));
    let page = spareframe(&["share", "-", "-q", "--format", "html"])
        .stdin(one)
        .stdout("...")
        .check();
    for part in ["id=\"season\"", "id=\"curve\"", "id=\"when\""] {
        assert!(page.contains(part), "{part}");
    }
    assert!(!share(&file("season"), "html").contains("id=\"curve\""));
}
