//! What the page of a plan shows of its season.

use super::super::calendar::words::written;
use super::super::words::clean;
use super::lanes::{BoxLane, Lanes, Part, Place};
use super::report::SeasonReport;
use super::{courses, words};
use jiff::civil::Date;

/// What is said above the lanes.
pub(super) mod captions {
    use super::super::super::figures::covered;
    use super::super::lanes::{KindLanes, Lanes};

    pub const QUEENS: &str = "counted on, and the range of eight of ten seasons. At the foot: days by which something is wanted.";
    pub const OUTLOOK: &str =
        "All after today is an outlook, not a plan: count the colonies again before each round.";

    pub fn colonies(lanes: &Lanes) -> String {
        let most = covered(lanes.most_brood).unwrap_or_default();
        let most = most.replace("frame", "full frame");
        let keeps = lanes.colonies.iter().any(|lane| lane.keeps.is_some());
        let keeps = match keeps {
            true => " Dots: what must stay.",
            false => "",
        };
        format!(
            "brood combs given, and brood as it is expected, a lane {most} high. Dashed: had none been given.{keeps} Bar: until \
             its brood is back."
        )
    }

    pub fn kind(kind: &KindLanes) -> String {
        match kind.nuclei {
            true => "nuclei made, each with a mated queen".to_owned(),
            false => {
                let kept = kind.lanes.iter().any(|lane| lane.kept.is_some());
                let kept = if kept {
                    " A plain bar: kept for winter."
                } else {
                    ""
                };
                format!(
                    "compartments: shut with the cell, then laying. From the crown on the queen may be taken.{kept}"
                )
            }
        }
    }
}

/// A figure that leads it.
pub(in super::super) struct SeasonFigure {
    pub amount: String,
    pub rest: String,
    pub what: String,
}

/// A lane of a colony: its name, shapes, and by place what it gives.
pub(in super::super) struct ColonyView {
    pub name: String,
    pub parts: Vec<Part>,
    pub gives: Vec<GivesView>,
}

/// What a colony gives in a round; no number: bees alone.
pub(in super::super) struct GivesView {
    pub at: String,
    pub combs: Option<u32>,
    pub outlook: bool,
}

/// A kind of box, with its lots of compartments.
pub(in super::super) struct KindView {
    pub name: String,
    pub caption: String,
    pub lanes: Vec<LotView>,
}

/// Compartments that share a lane.
pub(in super::super) struct LotView {
    pub many: String,
    pub parts: Vec<Part>,
    /// Where queens may be taken.
    pub crowns: Vec<String>,
    pub says: String,
}

/// Queens counted on from a day: where, how high, how many, in which range; where there is room on a telephone.
pub(in super::super) struct StepView {
    pub at: String,
    pub high: String,
    pub low: String,
    pub queens: i64,
    pub range: String,
    pub number_fits: bool,
    pub range_fits: bool,
}

/// A day that stands out: where, and what it is called.
pub(in super::super) struct MarkView {
    pub at: String,
    pub name: String,
}

/// The picture: lanes over an axis.
pub(in super::super) struct PictureView {
    /// Letters of the longest name.
    pub names: usize,
    /// Days of the axis.
    pub days: f64,
    pub months: Vec<MarkView>,
    pub weeks: Vec<MarkView>,
    pub rounds: Vec<MarkView>,
    pub wants: Vec<MarkView>,
    pub winter: Option<String>,
    pub colonies_caption: String,
    pub colonies: Vec<ColonyView>,
    pub kinds: Vec<KindView>,
    pub queens_caption: &'static str,
    pub queens: Vec<Part>,
    pub steps: Vec<StepView>,
}

/// A table: its caption, columns and rows, and what they mean.
pub(in super::super) struct TableView {
    pub caption: &'static str,
    pub columns: Vec<String>,
    pub rows: Vec<Vec<String>>,
    pub legend: Vec<String>,
}

/// The season on the page of its first round.
pub(in super::super) struct SeasonView {
    /// What stands at the head of the page.
    pub in_short: String,
    pub figures: Vec<SeasonFigure>,
    pub sentences: Vec<String>,
    /// What is wanted, how far it is met, and what is said of that.
    pub wants: Vec<[String; 3]>,
    pub picture: Option<PictureView>,
    pub left_alone: Option<String>,
    pub outlook: &'static str,
    /// Rounds: the day, and what is done.
    pub rounds: Vec<(String, Vec<String>)>,
    pub last_draw: Option<String>,
    /// Autumn: its day, and what is to be done.
    pub autumn: Option<(String, Vec<String>)>,
    pub mind: Vec<String>,
    pub tables: Vec<TableView>,
}

/// What the page shows.
pub(in super::super) fn view(report: &SeasonReport) -> SeasonView {
    let lanes = Lanes::of(report);
    let wants = report.wants.iter().map(|want| {
        let met = words::met(want);
        let (met, rest) = met
            .split_once([',', ';'])
            .map_or((met.as_str(), ""), |(met, rest)| (met, rest.trim()));
        [words::title(want), met.to_owned(), rest.to_owned()].map(plain_days)
    });
    let rounds = report.rounds.iter().map(|round| {
        let mark = if round.outlook {
            "outlook"
        } else {
            "today, a plan"
        };
        (
            format!("{} ({mark})", day(&round.day)),
            plain(courses::round(round).into_iter()),
        )
    });
    let autumn = report.autumn.as_ref();
    SeasonView {
        in_short: in_short(report),
        figures: figures(report),
        sentences: plain(words::sentences(report).into_iter().skip(1)),
        wants: wants.collect(),
        left_alone: courses::left_alone(report),
        outlook: captions::OUTLOOK,
        rounds: rounds.collect(),
        last_draw: report.last_draw.as_deref().map(day),
        autumn: autumn.map(|autumn| {
            let lines = words::autumn(autumn).into_iter();
            (day(&autumn.on), plain(lines))
        }),
        mind: report.mind.clone(),
        tables: tables(report, lanes.as_ref()),
        picture: lanes.as_ref().map(picture),
    }
}

/// Lines with their days as they are spoken.
fn plain(lines: impl Iterator<Item = String>) -> Vec<String> {
    lines.map(plain_days).collect()
}

/// Text with `17 June` in place of `2031-06-17`: the head of the page says the year.
#[expect(clippy::needless_pass_by_value, reason = "maps lines as they come")]
fn plain_days(text: String) -> String {
    let mut out = String::new();
    let mut rest = text.as_str();
    while let Some(first) = rest.chars().next() {
        let date: Option<Date> = rest.get(..DAY).and_then(|day| day.parse().ok());
        let taken = match date {
            Some(date) => {
                out += &date.strftime("%-d %B").to_string();
                DAY
            }
            None => {
                out.push(first);
                first.len_utf8()
            }
        };
        rest = rest.get(taken..).unwrap_or_default();
    }
    out
}

/// Letters of a day as year-month-day.
const DAY: usize = 10;

/// A day of the season: `Tue 17 June`.
fn day(day: &str) -> String {
    let date: Option<Date> = day.parse().ok();
    date.map_or(clean(day), |date| date.strftime("%a %-d %B").to_string())
}

fn in_short(report: &SeasonReport) -> String {
    let h = &report.headline;
    format!(
        "{} by {}, in eight of ten seasons {} (outlook)",
        super::super::figures::counted(h.queens, "mated queen", "mated queens"),
        day(&h.queens_by),
        words::between(h.queens_least, h.queens_most)
    )
}

fn figures(report: &SeasonReport) -> Vec<SeasonFigure> {
    let h = &report.headline;
    let new = h.stock_today - h.next_cells_today - h.nuclei_today;
    let parts = [
        (new, "new"),
        (h.next_cells_today, "next cells"),
        (h.nuclei_today, "nuclei"),
    ];
    let parts = parts.into_iter().filter(|(count, _)| *count > 0);
    let parts: Vec<String> = parts.map(|(count, of)| format!("{count} {of}")).collect();
    let figure = |amount: String, rest: String, what: String| SeasonFigure { amount, rest, what };
    let again = match &h.next_round {
        Some(next) => format!("look again, before you graft for {}", day(next)),
        None => "look again: first queens may be taken".to_owned(),
    };
    vec![
        figure(
            h.stock_today.to_string(),
            if parts.len() > 1 {
                parts.join(", ")
            } else {
                String::new()
            },
            "to stock today".to_owned(),
        ),
        figure(
            h.queens.to_string(),
            format!(
                "{} in 8 of 10 seasons",
                words::between(h.queens_least, h.queens_most)
            ),
            format!("mated queens by {} (outlook)", day(&h.queens_by)),
        ),
        figure(day(&h.look_again), String::new(), again),
    ]
}

fn picture(lanes: &Lanes) -> PictureView {
    let axis = &lanes.axis;
    let at = |at: f64| format!("{:.2}", 100.0 * at / axis.days.max(1.0));
    let marks = |marks: &[(f64, String)]| -> Vec<MarkView> {
        let marks = marks.iter().map(|(place, name)| MarkView {
            at: at(*place),
            name: name.clone(),
        });
        marks.collect()
    };
    let place = |high: f64| Place {
        left: 0.0,
        day: 1.0,
        top: 0.0,
        high,
    };
    let colonies = lanes.colonies.iter().map(|lane| ColonyView {
        name: lane.name.clone(),
        parts: lane.parts(axis, lanes.most_brood, place(COLONY)),
        gives: lane
            .gives
            .iter()
            .map(|gives| GivesView {
                at: at(gives.at),
                combs: Some(gives.combs).filter(|combs| *combs > 0),
                outlook: gives.outlook,
            })
            .collect(),
    });
    let kinds = lanes.kinds.iter().map(|kind| KindView {
        name: kind.name.clone(),
        caption: captions::kind(kind),
        lanes: kind
            .lanes
            .iter()
            .map(|lane| LotView {
                many: many(lane),
                parts: match kind.nuclei {
                    true => lane.nuclei(axis, place(BOX)),
                    false => lane.parts(place(BOX)),
                },
                crowns: match kind.nuclei {
                    true => Vec::new(),
                    false => lane.rounds.iter().map(|cell| at(cell.usable)).collect(),
                },
                says: lane.says.clone(),
            })
            .collect(),
    });
    let steps = lanes.queens.steps.iter().map(|step| StepView {
        at: at(step.at),
        high: format!("{:.1}", 100.0 * lanes.queens.share(step.most)),
        low: format!("{:.1}", 100.0 * (1.0 - lanes.queens.share(step.least))),
        queens: step.queens,
        range: words::between(step.least, step.most),
        number_fits: step.number,
        range_fits: step.range,
    });
    let names = lanes.colonies.iter().map(|lane| lane.name.chars().count());
    let lots = lots(lanes).map(|(_, lane)| many(lane).chars().count());
    PictureView {
        names: names.chain(lots).max().unwrap_or(0).clamp(2, 14),
        days: axis.days,
        months: marks(&axis.months),
        weeks: marks(&axis.weeks),
        rounds: marks(&axis.rounds),
        wants: marks(&axis.wants),
        winter: axis.winter.map(at),
        colonies_caption: captions::colonies(lanes),
        colonies: colonies.collect(),
        kinds: kinds.collect(),
        queens_caption: captions::QUEENS,
        queens: lanes.queens.parts(axis, place(QUEENS)),
        steps: steps.collect(),
    }
}

/// The same in tables, and other numbers today.
fn tables(report: &SeasonReport, lanes: Option<&Lanes>) -> Vec<TableView> {
    let giving = report.colonies.iter().filter(|colony| colony.gives());
    let rows = giving.map(|colony| courses::colony(report, colony));
    let rounds = lanes.iter().flat_map(|lanes| lots(lanes));
    let lots =
        rounds.map(|(kind, lane)| vec![kind.to_owned(), lane.count.to_string(), lane.says.clone()]);
    let against = report.today_against_the_season.iter();
    let queens = report.queens.iter().map(|row| words::queens(row).to_vec());
    let columns = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect();
    let tables = [
        TableView {
            caption: "Today against the season (outlook)",
            columns: words::against_columns(report),
            rows: against.map(|row| words::against(report, row)).collect(),
            legend: vec![words::against_legend(report)],
        },
        TableView {
            caption: "Colonies (outlook)",
            columns: courses::colony_columns(report),
            rows: rows.collect(),
            legend: vec![courses::colonies(report)],
        },
        TableView {
            caption: "Compartments (outlook)",
            columns: columns(&["Box", "How many", "What"]),
            rows: lots.collect(),
            legend: Vec::new(),
        },
        TableView {
            caption: "Queens by day (outlook)",
            columns: columns(&words::QUEENS),
            rows: queens.collect(),
            legend: words::legend(report),
        },
    ];
    let told = |table: &TableView| !table.rows.is_empty();
    tables.into_iter().filter(told).collect()
}

/// Heights of lanes on the page.
const COLONY: f64 = 40.0;
const BOX: f64 = 26.0;
const QUEENS: f64 = 100.0;

/// How many compartments share a lane.
pub(super) fn many(lane: &BoxLane) -> String {
    format!("{} \u{d7}", lane.count)
}

/// The figures of the answer, in sentences.
pub(super) fn lead(report: &SeasonReport) -> Vec<String> {
    let all = words::sentences(report);
    all.into_iter().take(1).collect()
}

/// The picture in words.
pub(super) fn description(report: &SeasonReport, lanes: Option<&Lanes>) -> String {
    let mut parts = vec![words::today(&report.headline)];
    parts.extend(words::sentences(report));
    for course in report.colonies.iter().filter(|colony| colony.gives()) {
        let lines = courses::course(course).join("; ");
        parts.push(format!("Colony {}: {lines}.", clean(&course.colony)));
    }
    parts.extend(courses::left_alone(report));
    for (kind, lane) in lanes.iter().flat_map(|lanes| lots(lanes)) {
        parts.push(format!("{} of {kind}: {}.", lane.count, lane.says));
    }
    for row in &report.queens {
        parts.push(format!(
            "By {}: {} mated queens, {} in eight of ten seasons.",
            written(&row.day),
            row.queens,
            words::between(row.queens_least, row.queens_most)
        ));
    }
    parts.join(" ")
}

/// Each lot of compartments, with its kind of box.
fn lots(lanes: &Lanes) -> impl Iterator<Item = (&str, &BoxLane)> {
    let kinds = lanes.kinds.iter();
    kinds.flat_map(|kind| kind.lanes.iter().map(|lane| (kind.name.as_str(), lane)))
}

#[cfg(test)]
mod tests {
    use super::plain_days;

    #[test]
    fn days_are_spoken_and_all_else_stays() {
        for (written, spoken) in [
            (
                "cells for Tue 2031-06-17; cells",
                "cells for Tue 17 June; cells",
            ),
            ("2031-06-17", "17 June"),
            (
                "\u{fc}\u{fc} 12,000 of 2031-06",
                "\u{fc}\u{fc} 12,000 of 2031-06",
            ),
            ("", ""),
        ] {
            assert_eq!(plain_days(written.to_owned()), spoken);
        }
    }
}
