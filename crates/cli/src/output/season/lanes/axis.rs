//! The axis of a season: its days from left to right, months and weeks, and the days that stand out.

use super::super::report::SeasonReport;
use jiff::civil::Date;
use jiff::{ToSpan, Unit};

/// Room for all days on the narrowest picture, pixels, and what a small letter takes of it.
const NARROW: f64 = 284.0;
const LETTER: f64 = 7.2;
/// Part of the days that is left free before today, and after the last.
const BEFORE: f64 = 0.045;
const AFTER: f64 = 0.015;

/// Days from left to right. Places are days from its beginning.
#[derive(Debug)]
pub(in super::super::super) struct Axis {
    first: Date,
    /// How many days it is long.
    pub days: f64,
    pub today: f64,
    /// The last day on which anything is counted.
    pub last: f64,
    /// Where a month begins, or the axis in it, and what it is called, if there is room.
    pub months: Vec<(f64, String)>,
    /// Each Monday, and its day of the month.
    pub weeks: Vec<(f64, String)>,
    /// Each round, and what it is called; the first is today's.
    pub rounds: Vec<(f64, String)>,
    /// Each day by which something is wanted, and the numbers of the wants.
    pub wants: Vec<(f64, String)>,
    /// The day by which to look again, before the next round.
    pub look_again: Option<f64>,
    /// The winter's day.
    pub winter: Option<f64>,
}

fn date(day: &str) -> Option<Date> {
    day.parse().ok()
}

fn between(from: Date, to: Date) -> f64 {
    let days = from.until((Unit::Day, to));
    days.map_or(0.0, |days| f64::from(days.get_days()))
}

impl Axis {
    pub fn of(report: &SeasonReport) -> Option<Self> {
        let today = date(&report.day)?;
        let last = report.weeks.last().and_then(|day| date(day));
        let last = last.unwrap_or(today).max(today);
        let long = between(today, last);
        #[expect(clippy::cast_possible_truncation, reason = "days of a season")]
        let part = |of: f64| (long * of).ceil().max(2.0) as i64;
        let first = today.saturating_sub(part(BEFORE).days());
        let end = last.saturating_add(part(AFTER).days());
        let mut axis = Self {
            first,
            days: between(first, end),
            today: between(first, today),
            last: between(first, last),
            months: Vec::new(),
            weeks: Vec::new(),
            rounds: Vec::new(),
            wants: Vec::new(),
            look_again: None,
            winter: report.autumn.as_ref().and_then(|autumn| {
                let on = date(&autumn.on)?;
                Some(between(first, on))
            }),
        };
        axis.look_again = report.headline.next_round.as_ref().and_then(|_| {
            let day = date(&report.headline.look_again)?;
            (day > today).then(|| between(first, day))
        });
        axis.months_and_weeks(end);
        axis.rounds = axis.rounds_of(report);
        axis.wants = axis.wants_of(report);
        Some(axis)
    }

    /// The place of a day.
    pub fn at(&self, day: &str) -> Option<f64> {
        date(day).map(|day| between(self.first, day))
    }

    /// Pixels that a stretch of days takes on the narrowest picture.
    pub fn narrow(&self, days: f64) -> f64 {
        days * NARROW / self.days.max(1.0)
    }

    fn months_and_weeks(&mut self, end: Date) {
        let mut day = self.first;
        while day <= end {
            let next = day.first_of_month().saturating_add(1.month());
            let room = self.narrow(between(day, next.min(end)));
            let fits = |name: &String| name.chars().count() as f64 * LETTER + 4.0 <= room;
            let names = ["%B", "%b"].map(|form| day.strftime(form).to_string());
            let name = names.into_iter().find(fits);
            self.months
                .push((between(self.first, day), name.unwrap_or_default()));
            day = next;
        }
        let monday = i64::from(self.first.weekday().to_monday_zero_offset());
        let mut day = self.first.saturating_add(((7 - monday) % 7).days());
        while day <= end {
            self.weeks
                .push((between(self.first, day), day.day().to_string()));
            day = day.saturating_add(7.days());
        }
    }

    /// Rounds by day and month where there is room for both, else by the day.
    fn rounds_of(&self, report: &SeasonReport) -> Vec<(f64, String)> {
        let days = report.rounds.iter().filter_map(|round| date(&round.day));
        let days: Vec<Date> = days.collect();
        let apart = days.windows(2).filter_map(|pair| match pair {
            [a, b] => Some(between(*a, *b)),
            _ => None,
        });
        let apart = apart.fold(f64::MAX, f64::min);
        let form = match self.narrow(apart) >= 6.0 * LETTER + 4.0 {
            true => "%-d %b",
            false => "%-d",
        };
        let named = days.iter().enumerate().map(|(nth, day)| {
            let name = match nth {
                0 => "today".to_owned(),
                _ => day.strftime(form).to_string(),
            };
            (between(self.first, *day), name)
        });
        named.collect()
    }

    fn wants_of(&self, report: &SeasonReport) -> Vec<(f64, String)> {
        let mut found: Vec<(f64, String)> = Vec::new();
        let wants = report.wants.iter().enumerate();
        for (nth, want) in wants.filter(|(_, want)| want.what != "winter") {
            let Some(at) = self.at(&want.by) else {
                continue;
            };
            let number = (nth + 1).to_string();
            match found.iter_mut().find(|(known, _)| (known - at).abs() < 0.5) {
                Some((_, numbers)) => *numbers += &format!(", {number}"),
                None => found.push((at, number)),
            }
        }
        found.sort_by(|a, b| a.0.total_cmp(&b.0));
        found
    }
}
