//! Phrases of the season, shared by its writers.

use super::super::calendar::words::written;
use super::super::counted as counted_on;
use super::super::figures::{counted, whole};
use super::super::report::ProofState;
use super::super::words::clean;
use super::courses::some;
use super::report::{
    AgainstReport, AutumnReport, BoxesReport, HeadlineReport, QueensReport, SeasonReport,
    WantReport,
};

/// `on Tue 2031-05-20`.
pub(super) fn on(day: &str) -> String {
    format!("on {day}")
}

/// Several of a kind of box, by its name.
pub(super) fn plural(kind: &str) -> String {
    let kind = clean(kind);
    match kind.chars().last() {
        Some('x' | 's') => format!("{kind}es"),
        Some(c) if c.is_alphabetic() => format!("{kind}s"),
        _ => kind,
    }
}

/// The heading, with the scenario's title and day.
pub(super) fn heading(report: &SeasonReport) -> String {
    titled("The season", report.title.as_ref(), &report.day)
}

/// A heading, with the scenario's title and day.
pub(super) fn titled(of: &str, title: Option<&String>, day: &String) -> String {
    let mut heading = of.to_owned();
    for part in title.into_iter().chain([day]) {
        heading = format!("{heading}, {}", clean(part));
    }
    heading
}

/// What to stock today.
pub(super) fn today(h: &HeadlineReport) -> String {
    let new = h.stock_today - h.next_cells_today - h.nuclei_today;
    let parts = [
        (h.next_cells_today, "next cell", "next cells"),
        (h.nuclei_today, "nucleus", "nuclei"),
    ];
    let parts = parts.into_iter().filter(|(count, ..)| *count > 0);
    let parts: Vec<String> = parts
        .map(|(count, one, many)| counted(count, one, many))
        .collect();
    match (h.stock_today, parts.is_empty()) {
        (0, _) => "Stock nothing today.".to_owned(),
        (all, true) => format!("Stock {all} today."),
        (all, false) => format!("Stock {all} today: {new} new, {}.", parts.join(", ")),
    }
}

/// What it leads to, what another number would, how much more is possible, and why.
pub(super) fn sentences(report: &SeasonReport) -> Vec<String> {
    let h = &report.headline;
    let mut out = vec![leads_to(h)];
    out.extend(other(report));
    out.push(more(report));
    out.extend(super::near::sentences(report));
    if !h.held_back_by.is_empty() {
        let held: Vec<String> = h.held_back_by.iter().map(|held| clean(held)).collect();
        out.push(format!("What binds: {}.", held.join("; ")));
    }
    if h.fewer_by_real_frames > 0 {
        out.push(format!(
            "By sums of brood and bees it would be {} more today; the real frames do not part so.",
            h.fewer_by_real_frames
        ));
    }
    out.push(format!(
        "Today's round is a plan, {}; all after it is an outlook, not to the frame. {}.",
        match report.plan.headline.proof.as_ref().map(|proof| proof.state) {
            Some(ProofState::ProvedBest) => "proved and checked frame by frame",
            _ => "checked frame by frame",
        },
        look_again(h)
    ));
    out.extend(counted_on::sentence(report.counted_on.as_ref()));
    out
}

/// When to plan anew.
pub(super) fn look_again(h: &HeadlineReport) -> String {
    again(&h.look_again, h.next_round.as_deref())
}

/// The same by its day and the next round.
pub(super) fn again(day: &str, next_round: Option<&str>) -> String {
    let day = written(day);
    match next_round {
        Some(next) => format!(
            "Look again by {day}, before you graft for {}: count the colonies, and plan anew",
            written(next)
        ),
        None => format!("Look again on {day}, when the first queens may be taken"),
    }
}

pub(super) fn leads_to(h: &HeadlineReport) -> String {
    format!(
        "On the counts, {} by {}; in eight of ten seasons {}.",
        counted(h.queens, "mated queen", "mated queens"),
        written(&h.queens_by),
        between(h.queens_least, h.queens_most)
    )
}

pub(super) fn between(least: i64, most: i64) -> String {
    match least == most {
        true => least.to_string(),
        false => format!("{least} to {most}"),
    }
}

/// What the largest other number would lead to, else the next smaller one.
fn other(report: &SeasonReport) -> Option<String> {
    let all = &report.today_against_the_season;
    let planned = all.iter().position(|row| row.planned)?;
    let most = all.len() - 1;
    let row = match most > planned {
        true => all.get(most)?,
        false => all.get(planned.checked_sub(1)?)?,
    };
    let (now, then) = (all.get(planned)?, row);
    let wants = report.wants.iter().zip(now.met.iter().zip(&then.met));
    let less = wants.filter(|(_, (now, then))| then < now);
    let less: Vec<String> = less
        .take(2)
        .map(|(want, (now, then))| format!("{then} instead of {now} {}", short(want)))
        .collect();
    let queens = match then.queens == now.queens {
        true => format!("as many, {}", then.queens),
        false => then.queens.to_string(),
    };
    let less = match less.is_empty() {
        true => String::new(),
        false => format!(" ({})", less.join(", ")),
    };
    Some(format!("With {} today, {queens}{less}.", then.cells_today))
}

fn more(report: &SeasonReport) -> String {
    let h = &report.headline;
    let want = h.first_unmet.and_then(|at| report.wants.get(at - 1));
    let Some(want) = want else {
        return "All that is wanted is met.".to_owned();
    };
    let of = match want.asked {
        None => String::new(),
        Some(_) => format!(" of {}", title(want)),
    };
    match h.at_most_more {
        0 => format!("No season on these counts gives more{of}."),
        more => format!(
            "At most {more} more {} possible{of}.",
            if more == 1 { "is" } else { "are" }
        ),
    }
}

/// What is wanted, in a word or two.
pub(super) fn short(want: &WantReport) -> &'static str {
    match want.what {
        "nuclei" => "nuclei",
        "requeen" => "requeened",
        "winter" => "to winter",
        _ => "queens",
    }
}

/// What is wanted.
pub(super) fn title(want: &WantReport) -> String {
    let by = written(&want.by);
    let many = |one: &str, many: &str| match want.asked {
        Some(count) => counted(count.into(), one, many),
        None => format!("as many {many} as there can be"),
    };
    match want.what {
        "nuclei" => {
            let kind = want
                .box_kind
                .as_deref()
                .map_or(String::new(), |kind| format!(" in {}", plural(kind)));
            format!("{}{kind} by {by}", many("nucleus", "nuclei"))
        }
        "requeen" => {
            let names: Vec<String> = want.colonies.iter().map(|name| clean(name)).collect();
            let colonies = super::super::cautions::colonies(&names);
            format!("a queen each for {colonies} by {by}")
        }
        "winter" => format!("{} to winter in boxes", many("queen", "queens")),
        _ => format!("{} by {by}", many("queen", "queens")),
    }
}

/// What is wanted, and how far it is met.
pub(super) fn line(want: &WantReport) -> String {
    format!("{}: {}", title(want), met(want))
}

/// How far it is met.
pub(super) fn met(want: &WantReport) -> String {
    let whole = want.asked.is_some_and(|asked| want.met >= i64::from(asked));
    if whole {
        let all = match want.asked {
            Some(1) => "met",
            _ => "all",
        };
        return chance(want).map_or(all.to_owned(), |seasons| format!("{all}, {seasons}"));
    }
    let most = match want.at_most - want.met {
        0 => "no more is possible".to_owned(),
        more => format!("at most {more} more"),
    };
    let held: Vec<String> = want.held_back_by.iter().map(|held| clean(held)).collect();
    let held = match held.is_empty() {
        true => String::new(),
        false => format!("; held back by {}", held.join("; ")),
    };
    let whole = chance(want).map(|seasons| format!("; all of it {seasons}"));
    format!("{}, {most}{held}{}", want.met, whole.unwrap_or_default())
}

/// How often enough queens mate for it, in tenths, as nobody knows it better.
fn chance(want: &WantReport) -> Option<String> {
    let tenths = (want.enough_queens_percent? + 5) / 10;
    Some(match tenths {
        10 => "in nearly every season".to_owned(),
        0 => "in hardly any season".to_owned(),
        tenths => format!("in {tenths} of 10 seasons"),
    })
}

/// Columns of other numbers today: cells, each want, queens, honey, colonies too weak.
pub(super) fn against_columns(report: &SeasonReport) -> Vec<String> {
    let many = report.wants.len() > 1;
    let wants = report.wants.iter().filter(|_| many).enumerate();
    let wants = wants.map(|(at, want)| format!("{}. {}", at + 1, short(want)));
    let mut columns = vec!["Today".to_owned()];
    columns.extend(wants);
    columns.push("Queens".to_owned());
    if honey(report) {
        columns.push("Honey kg".to_owned());
    }
    columns
}

fn honey(report: &SeasonReport) -> bool {
    let rows = &report.today_against_the_season;
    rows.iter().any(|row| row.honey_given_up_g.is_some())
}

/// Columns with wants by their numbers alone, for where there is little room.
pub(super) fn narrow(columns: &[String]) -> Vec<String> {
    let number = |column: &String| match column.split_once(". ") {
        Some((number, _)) => format!("{number}."),
        None => column.replace(" kg", ""),
    };
    columns.iter().map(number).collect()
}

/// Kilograms to a tenth.
pub(super) fn kg(grams: i64) -> String {
    format!("{:.1}", super::super::build::decimal(grams, 1000.0))
}

pub(super) fn against(report: &SeasonReport, row: &AgainstReport) -> Vec<String> {
    let mark = if row.planned { " <" } else { "" };
    let mut cells = vec![format!("{}{mark}", row.cells_today)];
    if report.wants.len() > 1 {
        cells.extend(row.met.iter().map(ToString::to_string));
    }
    cells.push(row.queens.to_string());
    if honey(report) {
        let doubt = if row.dear() { "?" } else { "" };
        let honey = row.honey_given_up_g.map(|honey| kg(honey) + doubt);
        cells.push(honey.unwrap_or_default());
    }
    cells
}

/// What the columns of other numbers mean.
pub(super) fn against_legend(report: &SeasonReport) -> String {
    let by = written(&report.headline.queens_by);
    let mut legend = format!("Queens: counted on by {by}. <: as planned.");
    if honey(report) {
        legend += " Honey: given up over the season (estimate).";
    }
    let dear = report
        .today_against_the_season
        .iter()
        .any(AgainstReport::dear);
    if honey(report) && dear {
        legend += " ?: there may be a way that costs less.";
    }
    legend
}

/// Columns of other numbers of boxes.
pub(super) fn boxes_columns(report: &SeasonReport) -> Vec<String> {
    let mut columns = against_columns(report);
    if let Some(first) = columns.first_mut() {
        "Boxes".clone_into(first);
    }
    columns
}

pub(super) fn boxes(report: &SeasonReport, row: &BoxesReport) -> Vec<String> {
    let mut cells = vec![row.boxes.to_string()];
    if report.wants.len() > 1 {
        cells.extend(row.met.iter().map(ToString::to_string));
    }
    cells.push(row.queens.to_string());
    if honey(report) {
        cells.push(row.honey_given_up_g.map_or(String::new(), kg));
    }
    cells
}

/// Columns of queens by day.
pub(super) const QUEENS: [&str; 5] = ["By", "Cells", "Counted on", "In 8 of 10", "Used"];

pub(super) fn queens(row: &QueensReport) -> [String; 5] {
    [
        written(&row.day),
        row.cells.to_string(),
        row.queens.to_string(),
        between(row.queens_least, row.queens_most),
        row.used.to_string(),
    ]
}

/// Autumn, a line for each thing to do.
pub(super) fn autumn(autumn: &AutumnReport) -> Vec<String> {
    let by = written(&autumn.unite_by);
    let mut lines = Vec::new();
    for units in &autumn.units {
        let round = written(&units.round);
        lines.push(match units.compartments_each {
            ..=1 => format!(
                "{} in {} of {round}, each as it stands: one is strong enough",
                counted(units.units, "queen winters", "queens winter"),
                plural(&units.box_kind)
            ),
            each => format!(
                "{} in {} of {round}: {each} compartments make one by {by}; keep one queen, take the partitions out",
                counted(units.units, "queen winters", "queens winter"),
                plural(&units.box_kind)
            ),
        });
    }
    if !autumn.units.is_empty() {
        lines.push(format!(
            "feed each to {} kg by {by}, while it is warm; weigh it, as nothing here knows what it has",
            autumn.food_kg
        ));
    }
    for weak in &autumn.weak {
        let anyway = if weak.anyway {
            ", and would be so undrawn"
        } else {
            ""
        };
        lines.push(format!(
            "colony {} raises {} bees for winter, and {} are to be{anyway}; unite it by {by}, if it is healthy",
            clean(&weak.colony),
            some(weak.bees),
            whole(autumn.bees)
        ));
    }
    if lines.is_empty() {
        lines.push(format!(
            "all colonies raise {} bees or more for winter",
            whole(autumn.bees)
        ));
    }
    lines.push(format!(
        "stores are not followed through the season: weigh every colony, and feed it by {by}"
    ));
    lines.push("unite within a site alone, and never with one that may be sick".to_owned());
    lines
}

/// What the figures are.
pub(super) fn legend(report: &SeasonReport) -> Vec<String> {
    vec![format!(
        "Counted on: {:.0} of 100 cells give a mated queen, of the running sum, never rounded up. In 8 of 10: success \
         differs from round to round (standard deviation {:.0} of 100).",
        report.success * 100.0,
        report.spread * 100.0
    )]
}

/// Cautions.
pub(super) fn mind() -> Vec<String> {
    vec![
        "An outlook, not a count: all but today's round is reckoned from today's counts, in standard frames and sums of \
         bees. It orders nothing: count again before each round."
            .to_owned(),
        "Rounds to come are reckoned in brood and bees alone: combs with stores and drawn ones that boxes ask for are to be had \
         ready, and what a colony must keep of stores is looked at today only."
            .to_owned(),
        "Not in it: swarming, mites, disease, weather, robbing. A colony that swarms, a week of rain or one sick brood nest \
         changes all of it: look first."
            .to_owned(),
        "Each queen is taken to lay on as she does, as far as the season goes; feed where the bees find nothing. A colony \
         drawn on twice shows it first in the honey supers."
            .to_owned(),
    ]
}
