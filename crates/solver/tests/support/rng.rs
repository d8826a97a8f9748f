//! A small generator of pseudo-random numbers, the same on every machine.

/// Splitmix64 (Steele, Lea and Flood 2014, "Fast splittable pseudorandom number generators").
pub struct Rng(u64);

impl Rng {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// `low ..= high`.
    pub fn range(&mut self, low: i64, high: i64) -> i64 {
        let span = (high - low + 1) as u64;
        low + (self.next() % span) as i64
    }

    pub fn count(&mut self, low: u32, high: u32) -> u32 {
        self.range(low.into(), high.into()) as u32
    }

    pub fn index(&mut self, len: usize) -> usize {
        self.range(0, len as i64 - 1) as usize
    }

    /// True in so many of 100 cases.
    pub fn percent(&mut self, share: i64) -> bool {
        self.range(0, 99) < share
    }

    pub fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        from[self.index(from.len())]
    }

    pub fn shuffle<T>(&mut self, items: &mut [T]) {
        for at in (1..items.len()).rev() {
            items.swap(at, self.index(at + 1));
        }
    }
}
