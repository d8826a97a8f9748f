//! The season as Markdown, to print or to keep; today's plan follows it.

use super::super::calendar::words::written;
use super::super::markdown::{head, list, markdown as of_plan, row, text};
use super::report::SeasonReport;
use super::{courses, words};
use std::fmt::Write;

/// The season as Markdown, with today's plan behind it.
#[must_use]
pub fn markdown(report: &SeasonReport) -> String {
    let mut out = format!("# {}\n\n", text(&words::heading(report)));
    let _ = writeln!(out, "**{}**\n", text(&words::today(&report.headline)));
    for sentence in words::sentences(report) {
        let _ = writeln!(out, "{}\n", text(&sentence));
    }
    let wants = report.wants.iter().enumerate();
    let wants = wants.map(|(at, want)| text(&format!("{}: {}", at + 1, words::line(want))));
    list(
        &mut out,
        "Wanted, the first first",
        &wants.collect::<Vec<_>>(),
    );
    let mut table = |title: &str, columns: &[&str], rows: Vec<Vec<String>>| {
        if rows.is_empty() {
            return;
        }
        head(&mut out, title, columns);
        for cells in rows {
            let cells: Vec<String> = cells.iter().map(|cell| text(cell)).collect();
            row(&mut out, &cells);
        }
        out.push('\n');
    };
    let named = |columns: &[String]| columns.to_vec();
    let columns = named(&words::against_columns(report));
    let columns: Vec<&str> = columns.iter().map(String::as_str).collect();
    let rows = report.today_against_the_season.iter();
    let rows = rows.map(|row| words::against(report, row)).collect();
    table("Today against the season (outlook)", &columns, rows);
    let columns = named(&words::boxes_columns(report));
    let columns: Vec<&str> = columns.iter().map(String::as_str).collect();
    let rows = report.boxes.iter().map(|row| words::boxes(report, row));
    table("With so many boxes (outlook)", &columns, rows.collect());
    let rounds = report.rounds.iter().map(|round| {
        let mark = if round.outlook {
            " (outlook)"
        } else {
            ", today"
        };
        vec![
            format!("{}{mark}", written(&round.day)),
            courses::round(round).join("; "),
        ]
    });
    table("Rounds", &["Day", "What"], rounds.collect());
    let giving = report.colonies.iter().filter(|colony| colony.gives());
    let colonies =
        giving.map(|colony| vec![colony.colony.clone(), courses::course(colony).join("; ")]);
    table(
        "Colonies (outlook)",
        &["Colony", "Course"],
        colonies.collect(),
    );
    let queens = report.queens.iter().map(|row| words::queens(row).to_vec());
    table("Queens by day (outlook)", &words::QUEENS, queens.collect());
    let legend = [words::against_legend(report), courses::colonies(report)];
    let lines = courses::left_alone(report).into_iter().chain(legend);
    for line in lines.chain(words::legend(report)) {
        let _ = writeln!(out, "{}\n", text(&line));
    }
    let all = |lines: &[String]| -> Vec<String> { lines.iter().map(|line| text(line)).collect() };
    if let Some(autumn) = &report.autumn {
        let title = format!("Autumn, for {} (outlook)", written(&autumn.on));
        list(&mut out, &title, &all(&words::autumn(autumn)));
    }
    list(&mut out, "Cautions", &all(&report.mind));
    list(
        &mut out,
        "About the honey estimate",
        &all(&report.estimate_assumptions),
    );
    out + &of_plan(&report.plan)
}
