//! Numbers for tests that look random and are the same in every run.

/// Marsaglia's xorshift, from memory.
pub(crate) struct SeededNumbers(pub(crate) u64);

impl SeededNumbers {
    /// The next one, from 0 to 1.
    pub(crate) fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// The next one between two bounds.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }

    /// A whole number below `count`.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        ((self.next() * count as f64) as usize).min(count - 1)
    }

    /// As often yes as no.
    pub(crate) fn coin(&mut self) -> bool {
        self.below(2) == 0
    }

    /// A list of `low` to `high` entries.
    pub(crate) fn list<T>(
        &mut self,
        low: usize,
        high: usize,
        mut entry: impl FnMut(&mut Self) -> T,
    ) -> Vec<T> {
        let count = low + self.below(high - low + 1);
        (0..count).map(|_| entry(self)).collect()
    }
}
