//! Whether a new roof may go over what was found under the old one.

/// Whether work stops at a hidden condition: shingles go on a solid, sound deck alone, so that where the homeowner
/// declines the repair of the deck, or of what carries it, nothing is laid over it until it is repaired after all, be
/// it at the firm's own cost. What does not carry the roof stops nothing.
///
/// Source: IRC R908.3 for roofs put over what is there; of it R908.3.1.1, which lets nothing be laid over what is
/// soaked, was read. The local code governs. That the rest of the roof goes on: common practice, no source.
#[must_use]
pub const fn work_stops(bears_the_roof: bool, declined: bool, firm_repairs: bool, repaired: bool) -> bool {
    bears_the_roof && declined && !firm_repairs && !repaired
}

#[cfg(test)]
mod tests {
    use super::work_stops;

    #[test]
    fn declined_rot_is_never_roofed_over() {
        assert!(work_stops(true, true, false, false), "declined");
        assert!(!work_stops(true, false, false, false), "not declined");
        assert!(!work_stops(true, true, true, false), "the firm repairs it");
        assert!(!work_stops(true, true, false, true), "repaired after all");
        assert!(!work_stops(false, true, false, false), "insulation carries no roof");
    }
}
