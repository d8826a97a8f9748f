//! Laying over the year.

/// How much more than on the day of the count the season may make of laying (a choice: beyond it the count
/// says little).
pub const MOST_RATIO: f64 = 2.0;

/// Days of a year of the formula.
const YEAR: i64 = 365;

/// Where in the year a colony was counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Season {
    /// Day of the year of the count, 1 for 1 January; any other year's day counts as the same of this one.
    pub counted: i32,
    /// Days by which the year runs later than the formula's; 182 for the other half of the world.
    pub later: i32,
}

impl Season {
    /// Laying so many days after the count against that on its day, 0..=[`MOST_RATIO`].
    ///
    /// ```
    /// use spareframe_colony::Season;
    /// let may = Season { counted: 135, later: 0 };
    /// assert_eq!(may.ratio(0), 1.0);
    /// assert!((may.ratio(61) - 0.735).abs() < 0.005);
    /// // Counted on 1 March, laying would be eight times as much on 1 June.
    /// assert_eq!(Season { counted: 60, later: 0 }.ratio(92), 2.0);
    /// ```
    #[must_use]
    pub fn ratio(&self, days: i32) -> f64 {
        if days == 0 {
            return 1.0;
        }
        let (then, now) = (self.share(days), self.share(0));
        if then > MOST_RATIO * now {
            MOST_RATIO
        } else if now > 0.0 {
            then / now
        } else {
            1.0
        }
    }

    /// Whether the season would more than double laying by then, which a count cannot tell.
    ///
    /// ```
    /// use spareframe_colony::Season;
    /// let march = Season { counted: 60, later: 0 };
    /// assert!(march.doubtful(30) && !march.doubtful(5));
    /// ```
    #[must_use]
    pub fn doubtful(&self, days: i32) -> bool {
        days != 0 && self.share(days) > MOST_RATIO * self.share(0)
    }

    fn share(&self, days: i32) -> f64 {
        let day = i64::from(self.counted) + i64::from(days) - i64::from(self.later);
        share_of_the_year((day - 1).rem_euclid(YEAR) as f64 + 1.0)
    }
}

/// Laying on a day of the year (1 is 1 January), as a share of the most, 0..=1.
///
/// ```
/// use spareframe_colony::share_of_the_year;
/// // 1 March, 1 June, 1 September.
/// for (day, share) in [(60.0, 0.12), (152.0, 0.98), (244.0, 0.09)] {
///     assert!((share_of_the_year(day) - share).abs() < 0.006);
/// }
/// ```
#[must_use]
pub fn share_of_the_year(day: f64) -> f64 {
    let not_yet = 1.0 - 1.0 / (1.0 + 385.0 * libm::exp(-2.0 * day / 30.0));
    let no_more = 1.0 / (1.0 + 36.0 * libm::exp(-2.0 * (day - 155.0) / 30.0));
    1.0 - not_yet.max(no_more)
}
