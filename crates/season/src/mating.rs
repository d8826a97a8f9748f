//! How many queens mate: the number of one round varies more than coins do.

/// Standard deviation of the share between rounds (a choice inside what diaries report, 0.10 to 0.20; no paper was found).
pub const BETWEEN_ROUNDS: f64 = 0.16;

/// Chances of every number of mated queens, from 0 on.
#[derive(Debug, Clone, PartialEq)]
pub struct Mating(Vec<f64>);

impl Mating {
    /// So many for certain.
    ///
    /// ```
    /// use spareframe_season::Mating;
    /// assert_eq!(Mating::sure(3).quantile(0.5), 3);
    /// ```
    #[must_use]
    pub fn sure(count: u32) -> Self {
        let mut chances = vec![0.0; count as usize + 1];
        if let Some(last) = chances.last_mut() {
            *last = 1.0;
        }
        Self(chances)
    }

    /// Of so many cells of one round, a share of which mates on average (0 to 1), with such a standard deviation of that
    /// share between rounds: beta-binomial; binomial where the deviation is 0. A deviation that no share can have counts
    /// as the greatest.
    ///
    /// ```
    /// use spareframe_season::Mating;
    /// let round = Mating::round(10, 0.75, 0.16);
    /// // Five or fewer of ten: 17 %; with coins 8 %.
    /// assert!((round.at_most(5) - 0.17).abs() < 0.005);
    /// assert!((Mating::round(10, 0.75, 0.0).at_most(5) - 0.08).abs() < 0.005);
    /// let four = (0..4).fold(Mating::sure(0), |sum, _| sum.and(&round));
    /// assert_eq!((four.quantile(0.1), four.quantile(0.9)), (25, 35));
    /// ```
    #[must_use]
    pub fn round(cells: u32, share: f64, between: f64) -> Self {
        let share = share.clamp(0.0, 1.0);
        let variance = share * (1.0 - share);
        let all = variance / (between * between) - 1.0;
        let count = f64::from(cells);
        // The weight of each number by that of the one before: n choose k times rising factorials.
        let (a, b) = (share * all, (1.0 - share) * all);
        let ratio = |k: f64| match between > 0.0 && all > 1e-6 {
            true => (count - k) / (k + 1.0) * (a + k) / (b + count - k - 1.0),
            false => (count - k) / (k + 1.0) * share / (1.0 - share),
        };
        if variance <= 0.0 {
            return if share > 0.5 {
                Self::sure(cells)
            } else {
                Self(one_of(cells, 0))
            };
        }
        let mut logs = vec![0.0_f64];
        for k in 0..cells {
            let last = logs.last().copied().unwrap_or(0.0);
            logs.push(last + ratio(f64::from(k)).ln());
        }
        let most = logs.iter().copied().fold(f64::MIN, f64::max);
        let weights: Vec<f64> = logs.iter().map(|log| (log - most).exp()).collect();
        let sum: f64 = weights.iter().sum();
        Self(weights.iter().map(|weight| weight / sum).collect())
    }

    /// Both together, one independent of the other.
    #[must_use]
    pub fn and(&self, other: &Self) -> Self {
        let mut chances = vec![0.0; self.0.len() + other.0.len() - 1];
        for (a, one) in self.0.iter().enumerate() {
            for (b, another) in other.0.iter().enumerate() {
                chances[a + b] += one * another;
            }
        }
        Self(chances)
    }

    /// The chance of so many or fewer.
    #[must_use]
    pub fn at_most(&self, count: i64) -> f64 {
        let of = usize::try_from(count + 1).unwrap_or(0).min(self.0.len());
        self.0[..of].iter().sum::<f64>().min(1.0)
    }

    /// The fewest that are not exceeded with such a chance, 0 to 1.
    #[must_use]
    pub fn quantile(&self, chance: f64) -> i64 {
        let mut sum = 0.0;
        for (count, each) in self.0.iter().enumerate() {
            sum += each;
            if sum + 1e-12 >= chance {
                return count as i64;
            }
        }
        self.0.len() as i64 - 1
    }

    /// The mean.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.0
            .iter()
            .enumerate()
            .map(|(count, chance)| count as f64 * chance)
            .sum()
    }
}

fn one_of(cells: u32, at: usize) -> Vec<f64> {
    let mut chances = vec![0.0; cells as usize + 1];
    chances[at] = 1.0;
    chances
}
