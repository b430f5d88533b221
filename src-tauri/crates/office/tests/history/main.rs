//! The record of the made-up firm: its parts sum to the whole, and every figure opens to what sums to it.

#![cfg(test)]

use office::explain::Behind;
use office::history::{By, ConditionGroup, ConditionHistory, HistoryFigure};
use office::{Clock, Decimal, Desk, Money, Month, OpenedRecord, Qty, Which, condition_history, opened};

fn with_sample(ask: impl FnOnce(&Desk, Month)) {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("firm.tearoff");
    drop(office::sample::write(&path, &mut |_, _| true).unwrap());
    let desk = Desk::read(&path, Clock::System).unwrap();
    ask(&desk, Month::parse("2026-10").unwrap());
}

fn which(by: By, key: &str, figure: HistoryFigure) -> Which {
    Which { by, key: key.to_owned(), figure }
}

fn all_groups(record: &ConditionHistory) -> Vec<(By, &[ConditionGroup])> {
    vec![
        (By::Place, &record.by_place),
        (By::Cause, &record.by_cause),
        (By::Age, &record.by_age),
        (By::Crew, &record.by_crew),
        (By::Month, &record.by_month),
    ]
}

/// The working comes to the figure, and the facts behind each term come to the term.
fn opens_true(opened: &OpenedRecord) {
    assert_eq!(opened.working.value(), opened.value, "{:?}", opened.figure);
    for term in &opened.working.terms {
        let Behind::Facts { facts } = &term.behind else { panic!("{term:?}") };
        assert_eq!(facts.iter().map(|fact| fact.amount).sum::<Decimal>(), term.value, "{:?}", opened.figure);
    }
}

fn same_sums(opened: &OpenedRecord, group: &ConditionGroup) {
    opens_true(opened);
    assert_eq!(&opened.group, group);
    assert_eq!(opened.conditions.len(), group.conditions);
    assert_eq!(opened.conditions.iter().map(|condition| condition.spent).sum::<Money>(), group.spent);
    assert_eq!(opened.conditions.iter().map(|condition| condition.billed).sum::<Money>(), group.billed);
    assert_eq!(
        opened.conditions.iter().map(|condition| condition.unrecovered).sum::<Money>(),
        group.unrecovered
    );
}

#[test]
fn the_parts_sum_to_the_whole_whatever_they_are_gathered_by() {
    with_sample(|desk, month| {
        let record = condition_history(desk, None, month).unwrap();
        assert!(record.all.conditions > 10 && record.all.unrecovered.is_positive());
        for (by, groups) in all_groups(&record) {
            assert!(!groups.is_empty(), "{by:?}");
            assert_eq!(
                groups.iter().map(|group| group.conditions).sum::<usize>(),
                record.all.conditions,
                "{by:?}"
            );
            assert_eq!(groups.iter().map(|group| group.sheets).sum::<Qty>(), record.all.sheets, "{by:?}");
            assert_eq!(groups.iter().map(|group| group.spent).sum::<Money>(), record.all.spent, "{by:?}");
            assert_eq!(groups.iter().map(|group| group.billed).sum::<Money>(), record.all.billed, "{by:?}");
            assert_eq!(
                groups.iter().map(|group| group.unrecovered).sum::<Money>(),
                record.all.unrecovered,
                "{by:?}"
            );
        }
        let unrecovered: Money = record.unrecovered.iter().map(|unrecovered| unrecovered.amount).sum();
        assert_eq!(unrecovered, record.all.unrecovered);
        let by_year =
            record.years.iter().map(|year| condition_history(desk, Some(*year), month).unwrap().all.spent);
        assert_eq!(by_year.sum::<Money>(), record.all.spent);
    });
}

#[test]
fn every_group_opens_to_finds_that_sum_to_it() {
    with_sample(|desk, month| {
        let record = condition_history(desk, None, month).unwrap();
        same_sums(
            &opened(desk, None, month, &which(By::All, "", HistoryFigure::Spent)).unwrap(),
            &record.all,
        );
        for (by, groups) in all_groups(&record) {
            for group in groups {
                let of =
                    opened(desk, None, month, &which(by, &group.key, HistoryFigure::Unrecovered)).unwrap();
                same_sums(&of, group);
                assert_eq!(of.value, Some(group.unrecovered.decimal()));
                assert!(of.conditions.is_sorted_by(|one, next| one.unrecovered >= next.unrecovered));
            }
        }
        for unrecovered in &record.unrecovered {
            let of = opened(
                desk,
                None,
                month,
                &which(By::Condition, &unrecovered.condition, HistoryFigure::Unrecovered),
            )
            .unwrap();
            assert_eq!(of.value, Some(unrecovered.amount.decimal()));
            assert_eq!(
                (of.conditions[0].job.as_str(), of.conditions[0].reason),
                (unrecovered.job.as_str(), Some(unrecovered.reason))
            );
        }
    });
}

#[test]
fn the_record_of_a_year_opens_to_finds_of_that_year() {
    with_sample(|desk, month| {
        let record = condition_history(desk, Some(2026), month).unwrap();
        let of = opened(desk, Some(2026), month, &which(By::All, "", HistoryFigure::Recovery)).unwrap();
        same_sums(&of, &record.all);
        assert!(of.conditions.iter().all(|condition| condition.date.year() == 2026));
        assert_eq!(of.value, record.all.recovery.map(|share| share.normalize()));
        assert!(of.rule.contains("Billed ÷ spent"));
    });
}

#[test]
fn roofs_and_kick_outs_open_to_the_roofs_counted() {
    with_sample(|desk, month| {
        let record = condition_history(desk, None, month).unwrap();
        let roofs = opened(desk, None, month, &which(By::All, "", HistoryFigure::Roofs)).unwrap();
        assert_eq!((roofs.roofs.len(), roofs.value), (record.roofs, Some(Decimal::from(record.roofs))));
        let kick_outs = &record.kick_outs;
        assert!(kick_outs.found.conditions > 0 && kick_outs.found.spent.is_positive());
        assert_eq!(kick_outs.without.len(), kick_outs.found.jobs);
        assert!(kick_outs.without.iter().all(|roof| roof.pieces >= 1));
        let pieces =
            opened(desk, None, month, &which(By::Cause, "missing-kick-out", HistoryFigure::PiecesCost))
                .unwrap();
        assert_eq!(pieces.roofs.iter().map(|roof| roof.counted).sum::<i64>(), kick_outs.pieces);
        assert_eq!(pieces.value, kick_outs.pieces_cost.map(Money::decimal));
        for figure in [HistoryFigure::Spent, HistoryFigure::Unrecovered, HistoryFigure::SpentAJob] {
            let of = opened(desk, None, month, &which(By::Cause, "missing-kick-out", figure)).unwrap();
            same_sums(&of, &kick_outs.found);
        }
    });
}

#[test]
fn a_figure_that_the_record_has_not_is_refused_with_those_that_it_has() {
    let asked = serde_json::json!({"by": "all", "key": "", "figure": "profit"});
    let refused = serde_json::from_value::<Which>(asked).unwrap_err().to_string();
    assert!(refused.contains("recovery") && refused.contains("pieces-cost"), "{refused}");
}
