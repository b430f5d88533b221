//! What is told before work begins and on the roof: the right to cancel, the pamphlet on lead, and what can hurt.

use jiff::civil::{Date, date};
use rstest::rstest;
use trade::{
    HazardKind, PamphletStanding, Qty, Site, begins_while_cancelable, hazards, lead_record_until,
    pamphlet_days, pamphlet_standing,
};

/// 40 CFR 745.84(a)(1), read; days computed: a receipt 60 days before passes, 61 fails; mailed 7 passes, 6 fails.
#[rstest]
#[case::the_day_itself(date(2026, 5, 4), false, PamphletStanding::InTime)]
#[case::sixty(date(2026, 3, 5), false, PamphletStanding::InTime)]
#[case::sixty_one(date(2026, 3, 4), false, PamphletStanding::TooEarly { days: 61 })]
#[case::mailed_seven(date(2026, 4, 27), true, PamphletStanding::InTime)]
#[case::mailed_six(date(2026, 4, 28), true, PamphletStanding::MailedTooLate { days: 6 })]
#[case::mailed_sixty(date(2026, 3, 5), true, PamphletStanding::InTime)]
#[case::mailed_sixty_one(date(2026, 3, 4), true, PamphletStanding::TooEarly { days: 61 })]
#[case::too_late(date(2026, 5, 5), false, PamphletStanding::AfterTheBeginning)]
fn a_pamphlet_is_given_at_most_sixty_days_and_mailed_at_least_seven_days_before(
    #[case] given: Date,
    #[case] mailed: bool,
    #[case] standing: PamphletStanding,
) {
    assert_eq!(pamphlet_standing(given, mailed, date(2026, 5, 4)), standing);
}

/// The same days, asked the other way round.
#[test]
fn the_days_of_a_pamphlet_are_the_first_and_last_in_time() {
    let begins = date(2026, 5, 4);
    let (earliest, mailed_by) = pamphlet_days(begins);
    assert_eq!((earliest, mailed_by), (date(2026, 3, 5), date(2026, 4, 27)));
    assert_eq!(pamphlet_standing(earliest, false, begins), PamphletStanding::InTime);
    assert_eq!(pamphlet_standing(mailed_by, true, begins), PamphletStanding::InTime);
}

/// 40 CFR 745.86(a), read; dates computed. The leap day is kept to the last of February.
#[test]
fn the_record_of_it_is_kept_three_years() {
    assert_eq!(lead_record_until(date(2026, 5, 8)), date(2029, 5, 8));
    assert_eq!(lead_record_until(date(2028, 2, 29)), date(2031, 2, 28));
}

/// 16 CFR 429.1, read; dates computed. Signed on Tuesday 24 November 2026, the last day is Saturday the 28th.
#[test]
fn work_inside_the_days_to_cancel_is_told() {
    let (signed, last) = (date(2026, 11, 24), date(2026, 11, 28));
    assert_eq!(begins_while_cancelable(signed, signed), Some(last));
    assert_eq!(begins_while_cancelable(signed, last), Some(last));
    assert_eq!(begins_while_cancelable(signed, date(2026, 11, 29)), None);
}

/// 29 CFR 1926.500(b), read: over 4 in 12 is steep, 4 in 12 is not.
#[test]
fn a_steep_roof_has_the_rule_for_steep_ones() {
    let falls = |slope: &str| {
        let site = Site { steepest: Some(Qty::parse(slope).unwrap()), built_before_1978: None };
        hazards(site).into_iter().find(|hazard| hazard.kind == HazardKind::Falls).unwrap()
    };
    assert_eq!(falls("4").source, Some("29 CFR 1926.501(b)(13)"));
    assert_eq!(falls("4.25").source, Some("29 CFR 1926.501(b)(11), (b)(13)"));
    assert!(falls("8").words.contains("At 8 in 12 this roof is steep"), "{}", falls("8").words);
}

/// Where the house is known to be younger nobody is told of lead; where nobody said, the crew is told to find out.
#[test]
fn lead_is_told_of_old_houses_alone() {
    let lead = |built_before_1978| {
        let all = hazards(Site { steepest: None, built_before_1978 });
        all.into_iter().find(|hazard| hazard.kind == HazardKind::Lead).map(|hazard| hazard.words)
    };
    assert_eq!(lead(Some(false)), None);
    assert!(lead(Some(true)).unwrap().contains("built before 1978. More than 20 sq ft"));
    assert!(lead(None).unwrap().contains("find out whether"));
}

#[test]
fn each_hazard_stands_once_and_what_the_law_asks_names_it() {
    let all = hazards(Site::default());
    let mut kinds: Vec<HazardKind> = all.iter().map(|hazard| hazard.kind).collect();
    assert_eq!(kinds.len(), 9);
    kinds.sort_unstable();
    kinds.dedup();
    assert_eq!(kinds.len(), 9);
    for hazard in &all {
        let practice = matches!(hazard.kind, HazardKind::Heat | HazardKind::Loads);
        assert_eq!(hazard.source.is_none(), practice, "{:?}", hazard.kind);
    }
}

/// Company rule: what is in the old roof is found out before the tear-off, and dust, heat and loads come with the work.
#[test]
fn what_is_in_the_old_roof_comes_first_until_it_is_torn_and_the_work_after() {
    for hazard in hazards(Site::default()) {
        let before_and_after = match hazard.kind {
            HazardKind::Falls | HazardKind::Holes | HazardKind::PowerLines => (true, true),
            HazardKind::Asbestos | HazardKind::Lead | HazardKind::Ladders => (true, false),
            HazardKind::Silica | HazardKind::Heat | HazardKind::Loads => (false, true),
        };
        let told = (hazard.comes_first(false), hazard.comes_first(true));
        assert_eq!(told, before_and_after, "{:?}", hazard.kind);
    }
}
