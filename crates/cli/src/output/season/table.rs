//! The season for a terminal: the answer, then wants, rounds, colonies, queens, autumn.

use super::super::calendar::words::written;
use super::super::headline;
use super::super::page::{HEAD, Page, TITLE};
use super::super::table::TableOptions;
use super::super::words::clean;
use super::report::SeasonReport;
use super::{courses, words};

/// The season as a terminal table. Headings carry ANSI styles; print it through a stream that strips
/// them where they are not wanted.
#[must_use]
pub fn table(report: &SeasonReport, options: TableOptions) -> String {
    let mut page = Page::new(options.width, ());
    page.head(&words::heading(report), TITLE);
    page.line("");
    page.styled(&words::today(&report.headline), TITLE);
    for sentence in words::sentences(report) {
        page.item("", &sentence);
    }
    if report.wants.len() > 1 || report.headline.first_unmet.is_none() {
        page.head("Wanted, the first first", HEAD);
        for (at, want) in report.wants.iter().enumerate() {
            page.item(&format!("{}. ", at + 1), &words::line(want));
        }
    }
    against(&mut page, report);
    boxes(&mut page, report);
    rounds(&mut page, report);
    colonies(&mut page, report, options.verbose);
    page.head("Queens by day (outlook)", HEAD);
    let rows = report.queens.iter().map(|row| words::queens(row).to_vec());
    page.table(&words::QUEENS, rows.collect());
    for line in words::legend(report) {
        page.item("", &line);
    }
    if let Some(autumn) = &report.autumn {
        let title = format!("Autumn, for {} (outlook)", written(&autumn.on));
        page.head(&title, HEAD);
        for line in words::autumn(autumn) {
            page.item("- ", &line);
        }
    }
    page.end(&report.mind, &report.estimate_assumptions, options.verbose)
}

fn head_of(columns: &[String]) -> Vec<&str> {
    columns.iter().map(String::as_str).collect()
}

fn against(page: &mut Page<()>, report: &SeasonReport) {
    if report.today_against_the_season.len() < 2 {
        return;
    }
    page.head("Today against the season (outlook)", HEAD);
    let rows = report.today_against_the_season.iter();
    let rows = rows.map(|row| words::against(report, row)).collect();
    numbers(page, words::against_columns(report), rows);
    page.item("", &words::against_legend(report));
}

/// A table of numbers, with short columns where there is little room.
fn numbers(page: &mut Page<()>, columns: Vec<String>, rows: Vec<Vec<String>>) {
    let short = words::narrow(&columns);
    match page.fits(&head_of(&columns), &rows) {
        true => page.table(&head_of(&columns), rows),
        false => page.table(&head_of(&short), rows),
    }
}

fn boxes(page: &mut Page<()>, report: &SeasonReport) {
    let Some(first) = report.boxes.first() else {
        return;
    };
    let title = format!("With so many of {} (outlook)", clean(&first.box_kind));
    page.head(&title, HEAD);
    let rows = report.boxes.iter().map(|row| words::boxes(report, row));
    numbers(page, words::boxes_columns(report), rows.collect());
}

fn rounds(page: &mut Page<()>, report: &SeasonReport) {
    page.head("Rounds", HEAD);
    for round in &report.rounds {
        let mark = if round.outlook {
            " (outlook)"
        } else {
            ", today"
        };
        let lines = courses::round(round);
        page.item("", &format!("{}{mark}", written(&round.day)));
        for line in lines {
            page.item("  - ", &line);
        }
    }
    if let Some(last) = &report.last_draw {
        let last = written(last);
        page.item(
            "",
            &format!("No frames and no bees leave a colony after {last}."),
        );
    }
}

fn colonies(page: &mut Page<()>, report: &SeasonReport, verbose: bool) {
    let giving = || report.colonies.iter().filter(|colony| colony.gives());
    if giving().next().is_some() {
        page.head("Colonies (outlook)", HEAD);
    }
    let columns = courses::colony_columns(report);
    let columns = head_of(&columns);
    let rows: Vec<Vec<String>> = giving()
        .map(|colony| courses::colony(report, colony))
        .collect();
    let fits = page.fits(&columns, &rows);
    if fits && !rows.is_empty() {
        page.table(&columns, rows);
        page.item("", &courses::colonies(report));
    }
    for colony in giving().filter(|_| verbose || !fits) {
        page.item("", &format!("colony {}", clean(&colony.colony)));
        for line in courses::course(colony) {
            page.item("  - ", &line);
        }
    }
    if let Some(line) = courses::left_alone(report) {
        page.item("", &line);
    }
    page.head("Today's plan, in short", HEAD);
    page.item("", &headline::answer(&report.plan.headline));
    for sentence in headline::sentences(&report.plan) {
        page.item("", &sentence);
    }
    page.item("", "`--plan FILE` writes it whole, frame by frame.");
}
