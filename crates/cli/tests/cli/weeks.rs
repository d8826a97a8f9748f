//! A scenario that speaks of a later day than that of its counts.

use crate::support::{spareframe, text};

/// The home yard, counted so many days before its stocking day.
fn counted(day: &str) -> String {
    let text = text("home-yard");
    assert!(text.contains("\nday: 2031-05-20"), "{text}");
    text.replace(
        "\nday: 2031-05-20",
        &format!("\ncounted: {day}\nday: 2031-05-20"),
    )
}

/// Without line ends, as they differ between formats.
fn answer(arguments: &[&str], text: &str) -> String {
    let done = spareframe(arguments)
        .stdin(text)
        .stdout("...")
        .stderr("...")
        .check();
    done.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn every_answer_says_that_it_is_expected_and_from_which_count() {
    let said = "Counted on 2031-05-13; what stands here for 2031-05-20 is expected.";
    for command in [
        &["stock", "-"][..],
        &["stock", "-", "--format", "markdown"],
        &["why", "-"],
        &["curve", "-"],
        &["curve", "-", "--format", "markdown"],
        &["probe", "-", "--set", "cells=3"],
        &["probe", "-", "--set", "cells=3", "--format", "markdown"],
        &["when", "-", "--until", "2031-05-21"],
        &["when", "-", "--until", "2031-05-21", "--format", "markdown"],
        &["calendar", "-"],
        &["calendar", "-", "--format", "markdown"],
        &["share", "-", "--format", "html"],
    ] {
        assert!(
            answer(command, &counted("2031-05-13")).contains(said),
            "{command:?}"
        );
        assert!(
            !answer(command, &counted("2031-05-20")).contains("Counted on"),
            "{command:?}"
        );
    }
}

#[test]
fn a_plan_says_of_each_colony_from_which_count_it_is() {
    let plan = |text: String| {
        spareframe(&["stock", "-", "--format", "json", "-q"])
            .stdin(text)
            .json()
    };
    let earlier = plan(counted("2031-05-13"));
    assert_eq!(earlier["headline"]["counted_on"]["first_day"], "2031-05-13");
    for colony in earlier["colonies"].as_array().unwrap() {
        assert_eq!(colony["counted"], "2031-05-13");
    }
    assert_eq!(plan(counted("2031-05-20")), plan(text("home-yard")));
}
