//! Mated queens against the binomial and against samples.

use super::yard::Rng;
use spareframe_season::Mating;

fn binomial(n: u32, p: f64) -> Vec<f64> {
    // Pascal's triangle, cell by cell.
    let mut chances = vec![1.0];
    for _ in 0..n {
        let mut next = vec![0.0; chances.len() + 1];
        for (k, chance) in chances.iter().enumerate() {
            next[k] += chance * (1.0 - p);
            next[k + 1] += chance * p;
        }
        chances = next;
    }
    chances
}

#[test]
fn without_spread_it_is_the_binomial_and_a_single_cell_is_a_coin() {
    for (n, p) in [(1, 0.75), (10, 0.75), (40, 0.6), (200, 0.9)] {
        let coins = binomial(n, p);
        for between in [0.0, 1e-5] {
            let found = Mating::round(n, p, between);
            let mut sum = 0.0;
            for (k, chance) in coins.iter().enumerate() {
                sum += chance;
                assert!(
                    (found.at_most(k as i64) - sum).abs() < 1e-5,
                    "{n} {p} {between} {k}"
                );
            }
        }
    }
    let coin = Mating::round(1, 0.75, 0.16);
    assert!((coin.at_most(0) - 0.25).abs() < 1e-12);
    for p in [0.0, 1.0] {
        assert_eq!(Mating::round(7, p, 0.16).quantile(0.5), (7.0 * p) as i64);
    }
}

#[test]
fn a_hundred_thousand_samples_agree() {
    let rng = &mut Rng::new(7);
    let mut unit = || (rng.next() >> 11) as f64 / (1_u64 << 53) as f64;
    // Beta with whole parameters 6 and 2 is the sixth smallest of seven numbers at random.
    let (mean, between) = (0.75, (0.75 * 0.25 / 9.0_f64).sqrt());
    let exact = Mating::round(10, mean, between).and(&Mating::round(6, mean, between));
    let mut counts = [0_u32; 17];
    let samples = 100_000;
    for _ in 0..samples {
        let mut mated = 0;
        for cells in [10, 6] {
            let mut order: Vec<f64> = (0..7).map(|_| unit()).collect();
            order.sort_by(f64::total_cmp);
            let share = order[5];
            mated += (0..cells).filter(|_| unit() < share).count();
        }
        counts[mated] += 1;
    }
    let mut sum = 0;
    for (k, count) in counts.iter().enumerate() {
        sum += count;
        let sampled = f64::from(sum) / f64::from(samples);
        assert!((sampled - exact.at_most(k as i64)).abs() < 0.006, "{k}");
    }
    assert!((exact.mean() - 12.0).abs() < 1e-9);
}
