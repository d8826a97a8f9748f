//! The picture of a plan: every frame that leaves and every frame that is placed, legible by day and by night.

use crate::legible::legible;
use crate::support::{spareframe, text};

fn drawn(scenario: &str) -> String {
    let args = ["stock", "-", "-q", "--format", "svg"];
    let run = spareframe(&args).stdin(scenario);
    run.stdout("<svg role=\"img\" ...").check()
}

fn plan(scenario: &str) -> serde_json::Value {
    let args = ["stock", "-", "-q", "--format", "json"];
    let json = spareframe(&args).stdin(scenario).stdout("{...").check();
    serde_json::from_str(&json).unwrap()
}

fn list(value: &serde_json::Value) -> &[serde_json::Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

fn frames<'a>(groups: impl Iterator<Item = &'a serde_json::Value>) -> u64 {
    groups.filter_map(|group| group["frames"].as_u64()).sum()
}

/// Frames that leave are named by where they go, placed ones by where they come from; both are those of the plan.
#[test]
fn the_picture_shows_every_frame_of_the_plan() {
    for name in [
        "first-round",
        "forty",
        "nuclei",
        "thin-spring",
        "half-done",
        "second-round",
    ] {
        let (picture, plan) = (drawn(&text(name)), plan(&text(name)));
        assert_eq!(picture, drawn(&text(name)), "twice the same");
        let shown = legible(&picture);
        let leave = frames(
            list(&plan["colonies"])
                .iter()
                .flat_map(|c| list(&c["leaving"])),
        );
        let begun = list(&plan["begun"]);
        let placed = list(&plan["compartments"]).iter().chain(begun);
        let placed = frames(placed.flat_map(|c| list(&c["frames"])));
        // Blue letters name frames that move, but for those that a half done day has placed.
        let blue = picture.matches("fill=\"#0E5A66\">").count() as u64;
        let done = list(&plan["compartments"]).iter().chain(begun);
        let done = done.flat_map(|c| list(&c["frames"]));
        let done: u64 = done.filter_map(|frames| frames["done"].as_u64()).sum();
        assert_eq!(blue, leave + placed - done, "{name}");
        assert!(
            shown.description.contains(" gives ") || leave == 0,
            "{name}"
        );
        for colony in list(&plan["colonies"]) {
            let named = format!("Colony {}, ", colony["colony"].as_str().unwrap());
            assert!(
                shown.texts.iter().any(|text| text.starts_with(&named)),
                "{name}: {named}"
            );
        }
    }
}

#[test]
fn a_plan_of_nothing_is_a_sentence_above_empty_boxes() {
    let nothing = text("first-round").replacen("cells: 12", "cells: 0", 1);
    let picture = spareframe(&["stock", "-", "-q", "--format", "svg"])
        .stdin(nothing)
        .code(1)
        .stdout("<svg ...")
        .check();
    let shown = legible(&picture);
    assert!(
        shown
            .texts
            .iter()
            .any(|text| text.starts_with("Nothing can be stocked")),
        "{:?}",
        shown.texts
    );
    assert!(shown.texts.iter().any(|text| text == "stays empty"));
}
