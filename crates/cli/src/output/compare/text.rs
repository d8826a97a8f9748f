//! What has changed, for a terminal and as Markdown.

use super::super::markdown::{list, text};
use super::super::page::{CARE, HEAD, Page, TITLE};
use super::super::words::clean;
use super::changes::{About, Change, CompareReport, Named};

/// Groups in their order, with their headings.
const GROUPS: [(About, &str); 9] = [
    (About::Headline, "In short"),
    (About::Colonies, "What leaves the colonies"),
    (About::Compartments, "What goes into the compartments"),
    (About::Begun, "Begun and finished"),
    (About::Gaps, "What fills the gaps"),
    (About::Feed, "Feed"),
    (About::Carry, "What to carry"),
    (About::Holds, "On hold"),
    (About::Mind, "New cautions"),
];

/// Said wherever a plan is shown in part.
const WHOLE: &str = "Only changes are listed. All the rest stands in the new plan.";

/// The changes for a terminal. Headings carry ANSI styles.
#[must_use]
pub fn table(report: &CompareReport, width: usize) -> String {
    let mut page = Page::new(width, ());
    page.head(HEADING, TITLE);
    page.line("");
    page.styled(&answer(report), TITLE);
    if let Some(sentence) = scenarios(report) {
        page.item("", &sentence);
    }
    for (about, heading) in GROUPS {
        let changes = of(report, about);
        if changes.is_empty() {
            continue;
        }
        page.head(heading, if about == About::Mind { CARE } else { HEAD });
        for change in changes {
            page.item("- ", &line(change));
        }
    }
    if !report.changes.is_empty() {
        page.line("");
        page.item("", WHOLE);
    }
    page.out
}

const HEADING: &str = "From the old plan to the new one";

/// The changes as Markdown.
#[must_use]
pub fn markdown(report: &CompareReport) -> String {
    let mut out = format!("# {HEADING}\n\n**{}**\n\n", text(&answer(report)));
    if let Some(sentence) = scenarios(report) {
        out += &format!("{}\n\n", text(&sentence));
    }
    for (about, heading) in GROUPS {
        let lines: Vec<_> = of(report, about)
            .into_iter()
            .map(|c| text(&line(c)))
            .collect();
        list(&mut out, heading, &lines);
    }
    if !report.changes.is_empty() {
        out += &format!("{WHOLE}\n");
    }
    out.truncate(out.trim_end().len());
    out + "\n"
}

fn of(report: &CompareReport, about: About) -> Vec<&Change> {
    report
        .changes
        .iter()
        .filter(|change| change.about == about)
        .collect()
}

fn line(change: &Change) -> String {
    let says_itself = ["is ", "holds ", "stands "];
    match change.about {
        About::Mind => change.text.clone(),
        _ if says_itself
            .iter()
            .any(|start| change.text.starts_with(start)) =>
        {
            format!("{} {}", change.subject, change.text)
        }
        _ => format!("{}: {}", change.subject, change.text),
    }
}

fn answer(report: &CompareReport) -> String {
    if report.changes.is_empty() {
        return "Nothing has changed: both plans give the same frames and bees to the same \
                compartments."
            .to_owned();
    }
    let changed = |about, one, many| match of(report, about).len() {
        0 => None,
        n => Some(counted(n, one, many)),
    };
    let work = [
        changed(About::Colonies, "colony", "colonies"),
        changed(About::Compartments, "compartment", "compartments"),
    ];
    match work.into_iter().flatten().collect::<Vec<_>>() {
        work if work.is_empty() => {
            "Frames and bees go where they went before; something else has changed.".to_owned()
        }
        work => format!("Changed: {}.", work.join(", ")),
    }
}

fn counted(n: usize, one: &str, many: &str) -> String {
    super::super::figures::counted(i64::try_from(n).unwrap_or(i64::MAX), one, many)
}

/// Says so where the plans are of two scenarios or days.
fn scenarios(report: &CompareReport) -> Option<String> {
    let named = |plan: &Named| {
        let parts = [&plan.title, &plan.day].into_iter().flatten();
        let parts: Vec<_> = parts.map(|part| clean(part)).collect();
        match parts.is_empty() {
            true => "one without title and day".to_owned(),
            false => parts.join(", "),
        }
    };
    (!report.one_scenario).then(|| {
        format!(
            "The plans differ in title or day. Old: {}. New: {}.",
            named(&report.old),
            named(&report.new)
        )
    })
}
