//! Numbers that a seed gives, the same in every run.

/// Dice: Marsaglia's xorshift with shifts 13, 7 and 17.
#[derive(Debug, Clone)]
pub struct Dice(u64);

impl Dice {
    /// The dice of a seed.
    #[must_use]
    pub fn new(seed: u64) -> Dice {
        Dice(seed.wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    /// A number below another; 0 where that is 0.
    pub fn below(&mut self, most: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) % most.max(1)
    }

    /// A place in something of a length.
    pub fn place(&mut self, length: usize) -> usize {
        usize::try_from(self.below(length as u64)).unwrap_or_default()
    }

    /// One of several.
    pub fn one_of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.place(all.len())]
    }
}
