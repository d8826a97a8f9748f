//! Sentences on the curve as a whole.

use super::super::figures::{counted, kilos};
use super::super::report::ProofState;
use super::super::words::clean;
use super::report::{CountedIn, CurveReport, PointReport};

/// What is set against what.
pub(in crate::output) fn subject(report: &CurveReport) -> &'static str {
    match report.counted_in {
        CountedIn::Compartments => "Honey against compartments",
        CountedIn::Worth => "Honey against worth",
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

/// Honey of a point, in kg.
pub(super) fn honey(point: &PointReport) -> f64 {
    point.honey_given_up_charged_estimate_kg
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
    let Some(last) = report.points.last().filter(|last| last.compartments > 0) else {
        return vec![nothing(report)];
    };
    let mut all = vec![answer(report, last)];
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
            "Nothing possible: not one of {} can be stocked without breaking a rule, whatever the \
             honey cap.",
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
    let most = format!(
        "At most {most}, for {} of honey (estimate).",
        kilos(honey(last))
    );
    let Some(cap) = report.honey_cap_kg.map(kilos) else {
        return most;
    };
    if last.allowed_today {
        return format!("{most} That is within today's honey cap of {cap}.");
    }
    let allowed = report.points.iter().rfind(|point| point.allowed_today);
    let today = allowed.map_or("nothing".to_owned(), |point| {
        format!("{}, for {}", named(report, point), kilos(honey(point)))
    });
    format!("{most} Under today's honey cap of {cap} it is {today}.")
}

fn free(report: &CurveReport) -> Option<String> {
    let free = report.points.iter().rfind(|point| honey(point) == 0.0)?;
    let all = report.points.last() == Some(free);
    Some(match (all, report.counted_in, free.compartments) {
        (true, ..) => "None of them costs honey.".to_owned(),
        (_, CountedIn::Worth, _) => format!("Free of honey: up to {}.", named(report, free)),
        (_, _, 0) => "Even the first costs honey.".to_owned(),
        (_, _, 1) => "The first costs no honey.".to_owned(),
        (_, _, n) => format!("The first {n} cost no honey."),
    })
}

fn dear(report: &CurveReport, last: &PointReport) -> String {
    let dear = report.points.iter().position(|point| point.dear_step);
    let step = dear.and_then(|to| report.points.get(to.checked_sub(1)?..=to));
    let Some([before, point]) = step else {
        return match (report.complete, honey(last) == 0.0) {
            (false, _) => "The dear step is not named: points may be missing.".to_owned(),
            (_, true) => "No step is dear: no step costs honey.".to_owned(),
            (_, false) => {
                "No step is dear: the last ones cost no more than the average.".to_owned()
            }
        };
    };
    let all = match report.counted_in {
        CountedIn::Compartments => f64::from(last.compartments),
        CountedIn::Worth => last.worth,
    };
    format!(
        "Dear step: from {} to {}, {} for each {}. From there on they cost more, taken together, \
         than the average of {}.",
        amount(report, before),
        amount(report, point),
        kilos(price(point)),
        unit(report),
        kilos(honey(last) / all)
    )
}

/// Price of the step that leads to a point, in kg; 0 for the first point.
fn price(point: &PointReport) -> f64 {
    point.step.map_or(0.0, |step| step.price_estimate_kg)
}

/// The dear step beside its point, in two short lines.
pub(super) fn dear_label(
    report: &CurveReport,
    before: &PointReport,
    point: &PointReport,
) -> [String; 2] {
    [
        format!(
            "dear step: {} to {}",
            amount(report, before),
            amount(report, point)
        ),
        format!("{} for each {}", kilos(price(point)), unit(report)),
    ]
}

fn proof(report: &CurveReport) -> String {
    let open = report.points.iter().filter(|point| !proved(point)).count();
    let open = match open {
        0 => "Every point is proved: no plan stocks as much for less honey.".to_owned(),
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
pub(super) const JOINED: &str = "A row such as 3 to 7 stands for steps of one price; its honey is \
                                 that of the last.";

/// What rows, bars and short marks mean.
pub(super) fn legend(report: &CurveReport, joined: bool, short: bool) -> Vec<String> {
    let mut legend = Vec::new();
    if joined {
        legend.push(JOINED);
    }
    if report.points.iter().any(|point| !point.allowed_today) {
        legend.push("Bars of - are over today's honey cap, |, and not allowed today.");
    }
    if short && report.points.iter().any(|point| point.dear_step) {
        legend.push("The dear step leads to the row with <.");
    }
    legend.into_iter().map(str::to_owned).collect()
}
