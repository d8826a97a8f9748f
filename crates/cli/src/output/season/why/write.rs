//! What holds a season back, for a terminal, and as Markdown.

use super::super::words as season;
use super::record::{ColonyHolds, TriedReport, WhySeason};
use super::words;
use crate::output::TableOptions;
use crate::output::markdown::{list, text};
use crate::output::page::{HEAD, Page, TITLE};
use crate::output::reasons::quoted;
use std::fmt::Write;

const TITLE_OF_ALL: &str = "What holds the season back";
const BINDS: &str = "What is wanted, and what binds (outlook)";
const ONE_MORE: &str = "What one more would bring (outlook)";
const RAIN: &str = "If a round is rained out (outlook)";

fn title(report: &WhySeason) -> String {
    season::titled(TITLE_OF_ALL, report.title.as_ref(), &report.day)
}

/// Lines on wants: each with its limits of colonies.
fn wants(report: &WhySeason) -> Vec<(String, Vec<String>)> {
    let all = report.wants.iter().map(|want| {
        let (_, many) = words::names(&want.want);
        let lines = want.colonies.iter().map(|holds| words::holds(holds, many));
        (words::want(want), lines.collect())
    });
    all.collect()
}

fn total(report: &WhySeason) -> Option<(String, Vec<String>)> {
    let total = report.total.as_ref()?;
    let holds = |holds: &ColonyHolds| words::holds(holds, "queens");
    Some((
        words::total(total)?,
        total.colonies.iter().map(holds).collect(),
    ))
}

/// What holds the season back, for a terminal. `verbose` shows each change as a setting, and what the honey estimate assumes.
#[must_use]
pub fn table(report: &WhySeason, options: TableOptions) -> String {
    let mut page = Page::new(options.width, ());
    page.head(&title(report), TITLE);
    page.line("");
    for line in words::lead(report) {
        page.item("", &line);
    }
    page.head(BINDS, HEAD);
    for (at, (want, lines)) in (1..).zip(wants(report)) {
        page.item(&format!("{at}. "), &want);
        for line in lines {
            page.item("   - ", &line);
        }
    }
    if let Some((line, lines)) = total(report) {
        page.item("", &line);
        for line in lines {
            page.item("   - ", &line);
        }
    }
    let shown = |tried: &TriedReport, line: String, page: &mut Page<()>| {
        page.item("- ", &line);
        for set in tried.sets.iter().filter(|_| options.verbose) {
            // Not wrapped, so that they can be copied.
            page.line(&format!("    --set {}", quoted(set)));
        }
    };
    page.head(ONE_MORE, HEAD);
    for tried in &report.one_more {
        shown(tried, words::one_more(report, tried), &mut page);
    }
    for line in words::nothing(report)
        .into_iter()
        .chain(words::legend(report))
    {
        page.item("", &line);
    }
    page.head(RAIN, HEAD);
    for tried in &report.rained_out {
        shown(tried, words::rain(report, tried), &mut page);
    }
    page.item("", words::RAIN);
    page.end(&report.mind, &report.estimate_assumptions, options.verbose)
}

/// What holds the season back, as Markdown, with each change as a setting.
#[must_use]
pub fn markdown(report: &WhySeason) -> String {
    let mut out = format!("# {}\n\n", text(&title(report)));
    for line in words::lead(report) {
        let _ = writeln!(out, "{}\n", text(&line));
    }
    let of_wants = (1..).zip(wants(report)).map(|(at, (want, lines))| {
        let parts = std::iter::once(format!("{at}: {want}")).chain(lines);
        text(&parts.collect::<Vec<_>>().join(". "))
    });
    let of_total = total(report).into_iter().map(|(line, lines)| {
        let parts = std::iter::once(line.trim_end_matches('.').to_owned()).chain(lines);
        text(&parts.collect::<Vec<_>>().join(". "))
    });
    list(
        &mut out,
        BINDS,
        &of_wants.chain(of_total).collect::<Vec<_>>(),
    );
    let item = |tried: &TriedReport, line: String| {
        let sets = tried
            .sets
            .iter()
            .map(|set| crate::output::reasons::code(set));
        format!("{}{}", text(&line), sets.collect::<String>())
    };
    let more = report.one_more.iter();
    let more = more.map(|tried| item(tried, words::one_more(report, tried)));
    let rest = words::nothing(report)
        .into_iter()
        .chain(words::legend(report));
    let rest = rest.map(|line| text(&line));
    list(&mut out, ONE_MORE, &more.chain(rest).collect::<Vec<_>>());
    let rain = report.rained_out.iter();
    let rain = rain.map(|tried| item(tried, words::rain(report, tried)));
    let rain = rain.chain([text(words::RAIN)]);
    list(&mut out, RAIN, &rain.collect::<Vec<_>>());
    let all = |lines: &[String]| -> Vec<String> { lines.iter().map(|line| text(line)).collect() };
    list(&mut out, "Cautions", &all(&report.mind));
    let assumed = all(&report.estimate_assumptions);
    list(&mut out, "About the honey estimate", &assumed);
    out.truncate(out.trim_end().len());
    out + "\n"
}
