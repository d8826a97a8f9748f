//! The picture of a curve: bars of what can be stocked, named, and legible by day and by night.

use crate::legible::{Shown, legible};
use crate::support::{Folder, file, spareframe, text};

const WOOD: &str = "#776A59";
const STORES: &str = "#E5C890";
const ACCENT: &str = "#0E5A66";
const WARN: &str = "#8C2F1B";

fn drawn(scenario: &str) -> String {
    let args = ["curve", "-", "-q", "--format", "svg"];
    let run = spareframe(&args).stdin(scenario);
    run.stdout("<svg role=\"img\" ...").check()
}

/// Left, top, right and foot of the full bars of a colour.
fn bars(picture: &str, colour: &str) -> Vec<[i32; 4]> {
    let document = roxmltree::Document::parse(picture).unwrap();
    let bars = document
        .descendants()
        .filter(|n| n.has_tag_name("rect") && n.attribute("fill") == Some(colour));
    bars.map(|bar| {
        let [x, y, wide, high] = ["x", "y", "width", "height"]
            .map(|key| bar.attribute(key).unwrap().parse::<i32>().unwrap());
        [x, y, x + wide, y + high]
    })
    .collect()
}

fn has(shown: &Shown, wanted: &str) -> bool {
    shown.texts.iter().any(|text| text == wanted)
}

#[test]
fn every_picture_is_legible_by_day_and_by_night() {
    for name in ["first-round", "forty", "nuclei", "thin-spring"] {
        let picture = drawn(&text(name));
        assert_eq!(picture, drawn(&text(name)), "twice the same");
        let shown = legible(&picture);
        assert!(has(&shown, "Cost in all, kg of honey"), "{name}");
        let plan = |text: &String| text.starts_with("today's plan: ");
        assert!(shown.texts.iter().any(plan), "{name}");
        assert!(shown.description.contains(" Today's plan: "), "{name}");
    }
}

#[test]
fn a_bar_stands_for_each_number_that_can_be_stocked() {
    let picture = drawn(&text("first-round"));
    let shown = legible(&picture);
    assert_eq!(
        shown.title,
        "Cost against compartments, First round, 2031-05-20"
    );
    let all = bars(&picture, WOOD);
    assert_eq!(all.len(), 10);
    for pair in all.windows(2) {
        assert!(pair[0][2] < pair[1][0], "a gap between {pair:?}");
        assert!(pair[0][1] > pair[1][1], "{pair:?} rise");
    }
    for number in 1..=10 {
        assert!(has(&shown, &number.to_string()), "{number}");
    }
    for wanted in [
        "5.10",
        "dear step: 9 to 10",
        "of it honey given up (estimate)",
        "honey cap of 3.00 kg, for the hatched part",
    ] {
        assert!(has(&shown, wanted), "{wanted}: {:?}", shown.texts);
    }
    // Of the last, 1.37 of 5.10 kg is honey, at the foot of its bar; it is hatched.
    let [.., last] = all[..] else { panic!() };
    let honey = bars(&picture, STORES);
    let [[left, top, right, foot]] = honey[..] else {
        panic!("{honey:?}");
    };
    assert_eq!((left, right, foot), (last[0], last[2], last[3]));
    let share = f64::from(foot - top) / f64::from(foot - last[1]);
    assert!((share - 1.37 / 5.10).abs() < 0.01, "{share}");
    assert!(picture.matches("stroke=\"#85601F\"").count() > 10);
}

#[test]
fn many_that_cost_no_honey_are_one_tread() {
    for (name, free, others) in [
        ("forty", "2 to 22: no honey", &["24"][..]),
        ("nuclei", "1 to 24: no honey", &["25", "26"]),
    ] {
        let picture = drawn(&text(name));
        let shown = legible(&picture);
        assert!(has(&shown, free), "{:?}", shown.texts);
        assert!(others.iter().all(|other| has(&shown, other)), "{name}");
        let all = bars(&picture, WOOD);
        let tread = &all[..all.len() - others.len()];
        assert!(tread.windows(2).all(|pair| pair[0][2] == pair[1][0]));
        let first = all.first().unwrap();
        assert_eq!(first[0], 42, "it begins where the axis does");
    }
}

#[test]
fn a_cap_out_of_reach_is_said_and_without_one_there_is_no_line() {
    let dashes = |picture: &str| picture.matches(WARN).count() - 2;
    let picture = drawn(&text("forty"));
    assert!(dashes(&picture) > 30);
    let high = text("forty").replacen("honey cap: 8 kg", "honey cap: 80 kg", 1);
    let picture = drawn(&high);
    assert_eq!(dashes(&picture), 0);
    assert!(has(
        &legible(&picture),
        "The honey cap of 80.00 kg lies higher."
    ));
    let picture = drawn(&text("nuclei"));
    assert_eq!(dashes(&picture), 0);
    assert!(!picture.contains("honey cap"));
}

#[test]
fn instead_of_an_empty_chart_there_is_a_sentence() {
    let none = text("first-round").replacen("cells: 12", "cells: 0", 1);
    let args = ["curve", "-", "-q", "--format", "svg"];
    let picture = spareframe(&args)
        .stdin(none)
        .code(1)
        .stdout("<svg ...")
        .check();
    let shown = legible(&picture);
    assert!(
        shown
            .texts
            .join(" ")
            .contains("Nothing possible: not one of 12")
    );
    assert!(bars(&picture, WOOD).is_empty());
    assert!(!picture.contains("<polyline"));
}

#[test]
fn a_page_marks_the_plan_that_it_holds() {
    let dir = Folder::new();
    let page = &dir.path("page.html");
    let args = [
        "share",
        &file("first-round"),
        "--most",
        "8",
        "-q",
        "--out",
        page,
    ];
    spareframe(&args).check();
    let page = std::fs::read_to_string(page).unwrap();
    let from = page
        .find("<svg role=\"img\" aria-labelledby=\"curve-title")
        .unwrap();
    let to = from + page[from..].find("</svg>").unwrap() + 6;
    let picture = &page[from..to];
    let shown = legible(picture);
    assert!(shown.description.ends_with("Today's plan: 8."));
    assert!(has(&shown, "today's plan: 8"), "{:?}", shown.texts);
    assert!(!has(
        &shown,
        "Every point is proved: no plan stocks as much"
    ));
    let middle = |bar: &roxmltree::Node| -> f64 {
        let [x, wide] =
            ["x", "width"].map(|key| bar.attribute(key).unwrap().parse::<f64>().unwrap());
        x + wide / 2.0
    };
    let document = roxmltree::Document::parse(picture).unwrap();
    let frame = document
        .descendants()
        .find(|n| n.has_tag_name("rect") && n.attribute("stroke") == Some(ACCENT));
    let eighth = bars(picture, WOOD)[7];
    let from = middle(&frame.unwrap()) - f64::from(eighth[0] + eighth[2]) / 2.0;
    assert!(from.abs() <= 1.0, "{from}");
}
