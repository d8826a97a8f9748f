//! Figures as large and as small as a file may hold: no sum overflows, and every plan stands up to the check.

use spareframe::scenario::{Severity, read};
use spareframe_solver::{Outcome, Scenario, SolveOptions, check, curve, solve};
use std::ops::Range;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::Duration;

/// Figures to try, the largest first.
const FIGURES: [&str; 9] = [
    "1000000000",
    "100000000",
    "1000000",
    "100000",
    "10000",
    "1000",
    "100",
    "1",
    "0",
];

/// A search may take so long (a choice: enough for some plan).
const LONG: Duration = Duration::from_millis(100);

/// Where figures stand in a text.
fn figures(text: &str) -> Vec<Range<usize>> {
    let digit = |at: usize| text.as_bytes()[at].is_ascii_digit();
    let mut found = Vec::new();
    let mut at = 0;
    while at < text.len() {
        let end = (at..text.len()).find(|&i| !digit(i)).unwrap_or(text.len());
        // Figures within words, dates and versions are names.
        let before = text[..at].chars().next_back();
        let alone = before.is_none_or(|c| matches!(c, ' ' | '[' | '{' | ','));
        let behind = text[end..].chars().next();
        let whole = behind.is_none_or(|c| matches!(c, ' ' | ']' | '}' | ',' | '\n'));
        if end > at && alone && whole {
            found.push(at..end);
        }
        at = end.max(at + 1);
    }
    found
}

fn scenario(text: &str) -> Option<Scenario> {
    let read = read("extreme.yaml", text.as_bytes());
    let wrong = |severity| severity == Severity::Error;
    let failed = read.findings.iter().any(|f| wrong(f.severity));
    read.loaded.filter(|_| !failed).map(|l| l.scenario)
}

/// Plan, check and curve; in tests every sum that overflows panics.
fn worked_out(text: &str) {
    let Some(scenario) = scenario(text) else {
        return;
    };
    let options = SolveOptions {
        time_limit: Some(LONG),
        ..SolveOptions::default()
    };
    let work = || {
        if let Outcome::Stocked(found) = solve(&scenario, &options) {
            let (goals, breaches) = check(&scenario, &found.plan);
            assert_eq!((goals, breaches), (found.goals, vec![]));
        }
        let _ = curve(&scenario, &options);
    };
    let ended = catch_unwind(AssertUnwindSafe(work));
    assert!(ended.is_ok(), "{text}");
}

#[test]
fn no_figure_that_may_be_written_makes_a_sum_overflow() {
    for name in ["nuclei", "home-yard", "taken-apart"] {
        let path = format!("../../scenarios/{name}.yaml");
        let text = std::fs::read_to_string(path).unwrap();
        let places = figures(&text);
        assert!(places.len() > 30, "{name}: {}", places.len());
        // All at once, each as large as goes; from the end, so that places stay right.
        let mut all = text.clone();
        for place in places.iter().rev() {
            let tried = FIGURES.iter().map(|figure| {
                let mut tried = all.clone();
                tried.replace_range(place.clone(), figure);
                tried
            });
            if let Some(largest) = tried.into_iter().find(|tried| scenario(tried).is_some()) {
                all = largest;
            }
        }
        assert_ne!(all, text);
        worked_out(&all);
        // Each by itself.
        for place in &places {
            let largest = FIGURES.iter().find_map(|figure| {
                let mut tried = text.clone();
                tried.replace_range(place.clone(), figure);
                scenario(&tried).map(|_| tried)
            });
            if let Some(largest) = largest {
                worked_out(&largest);
            }
        }
    }
}
