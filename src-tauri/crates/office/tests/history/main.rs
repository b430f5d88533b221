//! The record of the made-up firm: its parts sum to the whole, and every figure opens to what sums to it.

#![cfg(test)]

use office::history::{By, ConditionGroup, ConditionHistory};
use office::{Clock, Desk, Money, Month, OpenedRecord, Qty, Which, condition_history, opened};

fn with_sample(ask: impl FnOnce(&Desk, Month)) {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("firm.tearoff");
    drop(office::sample::write(&path, &mut |_, _| true).unwrap());
    let desk = Desk::read(&path, Clock::System).unwrap();
    ask(&desk, Month::parse("2026-10").unwrap());
}

fn which(by: By, key: &str, figure: &str) -> Which {
    Which { by, key: key.to_owned(), figure: figure.to_owned() }
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

fn same_sums(opened: &OpenedRecord, group: &ConditionGroup) {
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
        let given_away: Money = record.given_away.iter().map(|unrecovered| unrecovered.amount).sum();
        assert_eq!(given_away, record.all.unrecovered);
        let by_year =
            record.years.iter().map(|year| condition_history(desk, Some(*year), month).unwrap().all.spent);
        assert_eq!(by_year.sum::<Money>(), record.all.spent);
    });
}

#[test]
fn every_group_opens_to_finds_that_sum_to_it() {
    with_sample(|desk, month| {
        let record = condition_history(desk, None, month).unwrap();
        same_sums(&opened(desk, None, month, &which(By::All, "", "spent")).unwrap(), &record.all);
        for (by, groups) in all_groups(&record) {
            for group in groups {
                let of = opened(desk, None, month, &which(by, &group.key, "unrecovered")).unwrap();
                same_sums(&of, group);
                assert_eq!(of.value, group.unrecovered.to_string());
                assert!(of.conditions.is_sorted_by(|one, next| one.unrecovered >= next.unrecovered));
                // What the working takes away from spent leaves the figure.
                let amounts: Vec<Money> =
                    of.steps.iter().map(|step| Money::parse(&step.value).unwrap()).collect();
                let [spent, billed, rest] = amounts[..] else { panic!("{:?}", of.steps) };
                assert_eq!(spent - billed - rest, group.unrecovered);
            }
        }
        for unrecovered in &record.given_away {
            let of = opened(desk, None, month, &which(By::Condition, &unrecovered.condition, "unrecovered"))
                .unwrap();
            assert_eq!(of.value, unrecovered.amount.to_string());
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
        let of = opened(desk, Some(2026), month, &which(By::All, "", "recovery")).unwrap();
        same_sums(&of, &record.all);
        assert!(of.conditions.iter().all(|condition| condition.date.year() == 2026));
        assert_eq!(of.value, record.all.recovery.unwrap().normalize().to_string());
        assert!(of.rule.contains("Billed ÷ spent"));
    });
}

#[test]
fn roofs_and_kick_outs_open_to_the_roofs_counted() {
    with_sample(|desk, month| {
        let record = condition_history(desk, None, month).unwrap();
        let roofs = opened(desk, None, month, &which(By::All, "", "roofs")).unwrap();
        assert_eq!((roofs.roofs.len(), roofs.value), (record.roofs, record.roofs.to_string()));
        let kick_outs = &record.kick_outs;
        assert!(kick_outs.found.conditions > 0 && kick_outs.found.spent.is_positive());
        assert_eq!(kick_outs.without.len(), kick_outs.found.jobs);
        assert!(kick_outs.without.iter().all(|roof| roof.pieces >= 1));
        let pieces = opened(desk, None, month, &which(By::Cause, "missing-kick-out", "pieces-cost")).unwrap();
        assert_eq!(pieces.roofs.iter().map(|roof| roof.counted).sum::<i64>(), kick_outs.pieces);
        assert_eq!(pieces.value, kick_outs.pieces_cost.unwrap().to_string());
        for figure in ["spent", "unrecovered", "spent-a-job"] {
            let of = opened(desk, None, month, &which(By::Cause, "missing-kick-out", figure)).unwrap();
            same_sums(&of, &kick_outs.found);
        }
    });
}

#[test]
fn a_figure_that_the_record_has_not_is_refused_in_words() {
    with_sample(|desk, month| {
        let refused = opened(desk, None, month, &which(By::All, "", "profit")).unwrap_err();
        assert_eq!(refused.message, "The record has no figure “profit”.");
        assert!(refused.remedy.contains("recovery") && refused.remedy.contains("pieces-cost"));
    });
}
