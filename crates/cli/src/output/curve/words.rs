//! Sentences on the curve as a whole.

use super::super::build::decimal;
use super::super::counted as counted_on;
use super::super::figures::{counted, kilos};
use super::super::report::ProofState;
use super::super::words::clean;
use super::report::{CountedIn, CurveReport, PointReport};

/// What is set against what.
pub(in crate::output) fn subject(report: &CurveReport) -> &'static str {
    match report.counted_in {
        CountedIn::Compartments => "Cost against compartments",
        CountedIn::Worth => "Cost against worth",
    }
}

/// The heading, with the scenario's title and day.
pub(super) fn heading(report: &CurveReport) -> String {
    let mut heading = subject(report).to_owned();
    for part in [&report.title, &report.day].into_iter().flatten() {
        heading = format!("{heading}, {}", clean(part));
    }
    heading
}

/// Grams in kg.
pub(super) fn kg(grams: i64) -> f64 {
    decimal(grams, 1000.0)
}

/// Whether honey is estimated.
pub(super) fn estimated(report: &CurveReport) -> bool {
    let mut points = report.points.iter();
    points.any(|point| point.honey_given_up_g.is_some())
}

/// How many, or what worth, a point is.
pub(super) fn amount(report: &CurveReport, point: &PointReport) -> String {
    match report.counted_in {
        CountedIn::Compartments => point.compartments.to_string(),
        CountedIn::Worth => point.worth.to_string(),
    }
}

/// What one price is for.
pub(super) fn unit(report: &CurveReport) -> &'static str {
    match report.counted_in {
        CountedIn::Compartments => "compartment",
        CountedIn::Worth => "1 of worth",
    }
}

/// All sentences above the table, the answer first.
pub(in crate::output) fn sentences(report: &CurveReport) -> Vec<String> {
    let mut all = findings(report);
    all.extend((all.len() > 1).then(|| to_plan(report)));
    all
}

/// What was found, the answer first.
pub(super) fn findings(report: &CurveReport) -> Vec<String> {
    let Some(last) = report.points.last().filter(|last| last.compartments > 0) else {
        return vec![nothing(report)];
    };
    let mut all = vec![answer(report, last)];
    all.extend(counted_on::sentence(report.counted_on.as_ref()));
    all.extend(free(report));
    all.push(dear(report, last));
    all.push(proof(report));
    all
}

/// The point in words: `24 compartments`, or `worth 26 in 11 compartments`.
fn named(report: &CurveReport, point: &PointReport) -> String {
    let count = counted(i64::from(point.compartments), "compartment", "compartments");
    match report.counted_in {
        CountedIn::Compartments => count,
        CountedIn::Worth => format!("worth {} in {count}", point.worth),
    }
}

fn in_all(report: &CurveReport) -> String {
    let in_all = i64::try_from(report.compartments_in_all).unwrap_or(i64::MAX);
    counted(in_all, "compartment", "compartments")
}

fn nothing(report: &CurveReport) -> String {
    if report.complete && report.points.iter().all(proved) {
        format!(
            "Nothing possible: not one of {} can be stocked without breaking a rule.",
            in_all(report)
        )
    } else {
        "Stopped before any plan was found. There may be one: give it more time.".to_owned()
    }
}

/// Whether nothing better is possible.
pub(super) fn proved(point: &PointReport) -> bool {
    point.proof.state == ProofState::ProvedBest
}

fn answer(report: &CurveReport, last: &PointReport) -> String {
    let in_all = in_all(report);
    let most = match report.counted_in {
        CountedIn::Compartments => format!("{} of {in_all} can be stocked", last.compartments),
        CountedIn::Worth => format!(
            "worth {} can be stocked, in {} of {in_all}",
            last.worth, last.compartments
        ),
    };
    let cost = kilos(kg(last.cost_g));
    let cap = match report.honey_cap_g {
        Some(cap) => format!(" under the honey cap of {}", kilos(kg(cap))),
        None => String::new(),
    };
    let honey = match last.honey_given_up_g {
        Some(honey) => format!("{} of it honey given up (estimate)", kilos(kg(honey))),
        None => "honey is not estimated, as no colony states a crop".to_owned(),
    };
    format!("At most {most}{cap}. They cost {cost}; {honey}.")
}

/// Whether honey is given up.
pub(super) fn costs_honey(point: &PointReport) -> bool {
    point.honey_given_up_g.is_some_and(|honey| honey > 0)
}

/// How many cost no honey, where some do.
fn free(report: &CurveReport) -> Option<String> {
    let points = &report.points;
    let first = points.iter().position(costs_honey)?;
    let last = points.iter().rposition(|point| !costs_honey(point))?;
    let free = points.get(last)?;
    // More may need less, where boxes of another kind or whole ones take the place of others.
    let but = match first < last {
        true => ", though not every row before it",
        false => "",
    };
    Some(match (report.counted_in, free.compartments) {
        (_, 0) => "Even the first costs honey.".to_owned(),
        (CountedIn::Worth, _) => format!("Free of honey: up to {}{but}.", named(report, free)),
        (_, 1) => "The first costs no honey.".to_owned(),
        (_, n) => format!("The first {n} cost no honey{but}."),
    })
}

/// How a point becomes a plan.
fn to_plan(report: &CurveReport) -> String {
    let option = match report.counted_in {
        CountedIn::Compartments => "--most N",
        CountedIn::Worth => "--worth W",
    };
    format!("To see the plan of a row: `spareframe stock {option}`.")
}

fn dear(report: &CurveReport, last: &PointReport) -> String {
    let dear = report.points.iter().position(|point| point.dear_step);
    let step = dear.and_then(|to| report.points.get(to.checked_sub(1)?..=to));
    let Some([before, point]) = step else {
        return match (report.complete, last.cost_g == 0) {
            (false, _) => "The dear step is not named: points may be missing.".to_owned(),
            (_, true) => "No step is dear: no step costs anything.".to_owned(),
            (_, false) => {
                "No step is dear: the last ones cost no more than the average and half of it again."
                    .to_owned()
            }
        };
    };
    let all = match report.counted_in {
        CountedIn::Compartments => f64::from(last.compartments),
        CountedIn::Worth => last.worth,
    };
    format!(
        "Dear step: from {} to {}, {} for each {}. From there on, all together, they cost more than the \
         average of {} and half of it again.",
        amount(report, before),
        amount(report, point),
        kilos(price(point)),
        unit(report),
        kilos(kg(last.cost_g) / all)
    )
}

/// Price of the step that leads to a point, in kg; 0 for the first point.
fn price(point: &PointReport) -> f64 {
    point.step.map_or(0.0, |step| step.price_g / 1000.0)
}

fn proof(report: &CurveReport) -> String {
    let open = report.points.iter().filter(|point| !proved(point)).count();
    let open = match open {
        0 => "Every point is proved: no plan stocks as much for less.".to_owned(),
        n => {
            let points = counted(i64::try_from(n).unwrap_or(i64::MAX), "point", "points");
            format!("Not proved: {points}, marked with a question mark.")
        }
    };
    match report.complete {
        true => open,
        false => format!("Points may be missing: a search was stopped. {open}"),
    }
}

/// What a row of several points means.
pub(super) const JOINED: &str = "A row such as 3 to 7 joins steps of the same price; its cost is \
                                 that of the last.";

/// What rows, bars and short marks mean.
pub(super) fn legend(report: &CurveReport, joined: bool, bars: bool, short: bool) -> Vec<String> {
    let mut legend = Vec::new();
    if joined {
        legend.push(JOINED);
    }
    match (bars, estimated(report)) {
        (false, _) => {}
        (true, true) => legend.push("Bars are the cost: # honey given up, - the rest."),
        (true, false) => legend.push("Bars are the cost."),
    }
    if short && report.points.iter().any(|point| point.dear_step) {
        legend.push("The dear step leads to the row with <.");
    }
    legend.into_iter().map(str::to_owned).collect()
}
