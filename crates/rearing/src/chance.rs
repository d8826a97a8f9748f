//! How many queens may come of rounds that differ in luck: beta-binomial, as weather and drones are shared by all boxes of a
//! round.

/// Chances of 0, 1, … mated queens of so many cells of one round. `mean` is the share that gives a queen on average, 0..=1,
/// `spread` the standard deviation of that share between rounds: 0 is every cell for itself (binomial), and at most all that
/// the mean leaves room for.
///
/// ```
/// use spareframe_rearing::{mated, quantile};
/// // Ten cells: five queens or fewer in 17 of a hundred rounds, and in 8 where only cells differ.
/// let few = |spread| mated(10, 0.75, spread).iter().take(6).sum::<f64>();
/// assert!((few(0.16) - 0.17).abs() < 0.005);
/// assert!((few(0.0) - 0.08).abs() < 0.005);
/// ```
#[must_use]
pub fn mated(cells: u32, mean: f64, spread: f64) -> Vec<f64> {
    let mean = if mean.is_finite() {
        mean.clamp(0.0, 1.0)
    } else {
        0.0
    };
    let room = mean * (1.0 - mean);
    // One sum less for each cell: the chance of k queens among those looked at so far (Polya's urn).
    let weight = match spread.is_finite() && spread > 0.0 && room > 0.0 {
        true => room / (spread * spread) - 1.0,
        false => f64::INFINITY,
    };
    let weight = weight.max(1e-6);
    let mut chances = vec![1.0];
    for seen in 0..cells {
        let mut next = vec![0.0; chances.len() + 1];
        for (queens, chance) in chances.iter().enumerate() {
            let share = match weight.is_finite() {
                true => (mean * weight + queens as f64) / (weight + f64::from(seen)),
                false => mean,
            };
            next[queens] += chance * (1.0 - share);
            next[queens + 1] += chance * share;
        }
        chances = next;
    }
    chances
}

/// Chances of the sum of two numbers that are independent of each other.
#[must_use]
pub fn together(a: &[f64], b: &[f64]) -> Vec<f64> {
    let mut sum = vec![0.0; (a.len() + b.len()).saturating_sub(1)];
    for (at, one) in a.iter().enumerate() {
        for (more, other) in b.iter().enumerate() {
            sum[at + more] += one * other;
        }
    }
    sum
}

/// The least number that is not exceeded with so great a chance, 0..=1.
///
/// ```
/// use spareframe_rearing::{mated, quantile, together};
/// // Four rounds of ten cells: 25 to 35 in eight of ten seasons, 26 to 33 where rounds do not differ.
/// let season = |spread| {
///     let round = mated(10, 0.75, spread);
///     let two = together(&round, &round);
///     together(&two, &two)
/// };
/// let within = |spread| [0.1, 0.9].map(|share| quantile(&season(spread), share));
/// assert_eq!(within(0.16), [25, 35]);
/// assert_eq!(within(0.0), [26, 33]);
/// ```
#[must_use]
pub fn quantile(chances: &[f64], share: f64) -> usize {
    let mut sum = 0.0;
    for (number, chance) in chances.iter().enumerate() {
        sum += chance;
        if sum >= share {
            return number;
        }
    }
    chances.len().saturating_sub(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chances_sum_to_one_and_keep_the_mean() {
        for (cells, mean, spread) in [
            (0, 0.7, 0.1),
            (12, 0.75, 0.16),
            (30, 0.4, 0.0),
            (5, 1.0, 0.2),
            (9, 0.5, 0.5),
        ] {
            let chances = mated(cells, mean, spread);
            assert_eq!(chances.len(), cells as usize + 1);
            assert!((chances.iter().sum::<f64>() - 1.0).abs() < 1e-12);
            let on_average: f64 = chances
                .iter()
                .enumerate()
                .map(|(n, chance)| n as f64 * chance)
                .sum();
            assert!((on_average - mean * f64::from(cells)).abs() < 1e-9);
        }
    }

    #[test]
    fn rounds_that_hardly_differ_are_binomial() {
        let (near, limit) = (mated(20, 0.75, 1e-4), mated(20, 0.75, 0.0));
        assert!(near.iter().zip(&limit).all(|(a, b)| (a - b).abs() < 1e-5));
        // 20 over 15, times 0.75^15 times 0.25^5.
        assert!((limit[15] - 15_504.0 * 0.75_f64.powi(15) * 0.25_f64.powi(5)).abs() < 1e-12);
        assert_eq!(mated(1, 0.6, 0.2), mated(1, 0.6, 0.0));
    }

    /// Success of the round is drawn first, then each cell: a hundred thousand rounds.
    #[test]
    fn a_hundred_thousand_rounds_come_out_alike() {
        let mut state = 1_u64;
        let mut draw = || {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (state >> 11) as f64 / (1_u64 << 53) as f64
        };
        // Beta(3, 1) is the greatest of three even draws: mean 3/4, variance 3/80.
        let (cells, samples) = (8_u32, 100_000);
        let mut counts = vec![0_u32; cells as usize + 1];
        for _ in 0..samples {
            let share = draw().max(draw()).max(draw());
            let queens = (0..cells).filter(|_| draw() < share).count();
            counts[queens] += 1;
        }
        let exact = mated(cells, 0.75, (3.0_f64 / 80.0).sqrt());
        for (count, chance) in counts.iter().zip(&exact) {
            assert!((f64::from(*count) / f64::from(samples) - chance).abs() < 0.006);
        }
    }
}
