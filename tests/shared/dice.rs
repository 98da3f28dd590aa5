//! Numbers that look random, and are the same on every machine and every run.

/// Marsaglia's xorshift, multiplied (2014: xorshift64*): enough to choose places.
#[derive(Debug)]
pub struct Dice(pub u64);

impl Dice {
    pub const fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_f491_4f6c_dd1d)
    }

    pub fn below(&mut self, end: usize) -> usize {
        (self.next() >> 33) as usize % end.max(1)
    }

    pub fn of<'a, T>(&mut self, choices: &'a [T]) -> &'a T {
        &choices[self.below(choices.len())]
    }
}
