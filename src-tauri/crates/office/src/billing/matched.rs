//! A vendor's bill held against the order that it fills: what was ordered and not billed before, what came, what is
//! billed now.

use desk::OfficeError;
use desk::names::Names;
use ledger::facts::{Bill, BillLine, Part, PurchaseOrder};
use ledger::{Books, Id};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use trade::{Amounted, Money, Qty};

/// A line of a bill, as far as it is held against an order.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Billed {
    pub(crate) code: Id,
    pub(crate) part: Option<Id>,
    pub(crate) quantity: Option<Qty>,
    pub(crate) amount: Money,
    pub(crate) came: Option<Qty>,
}

/// Where a bill is not what was ordered or came.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Difference {
    /// The code.
    pub code: String,
    /// What is to be paid as it stands.
    pub to_pay: Money,
    /// What is to be asked about.
    pub asked: Money,
    /// It in a sentence.
    pub text: String,
}

#[derive(Clone, Copy, Debug, Default)]
struct Sum {
    quantity: Option<Qty>,
    amount: Money,
}

impl Sum {
    /// Counted as long as every line of it is.
    fn add(&mut self, first: bool, quantity: Option<Qty>, amount: Money) {
        self.quantity = match (first, self.quantity, quantity) {
            (true, _, quantity) => quantity,
            (false, Some(sum), Some(quantity)) => Some(sum + quantity),
            _ => None,
        };
        self.amount += amount;
    }

    const fn amounted(self) -> Amounted {
        Amounted { quantity: self.quantity, amount: self.amount }
    }
}

/// What is held against what: a code, or one part of it.
type Of = (Id, Option<Id>);

fn sums(lines: impl Iterator<Item = (Of, Option<Qty>, Money)>) -> BTreeMap<Of, Sum> {
    let mut sums: BTreeMap<Of, Sum> = BTreeMap::new();
    for (of, quantity, amount) in lines {
        let first = !sums.contains_key(&of);
        sums.entry(of).or_default().add(first, quantity, amount);
    }
    sums
}

/// Where lines of a bill differ from an order: part by part under a code of which every line of the order and of its
/// bills names its part, else by the code as a whole. `but` is the bill itself, where it is recorded already.
pub(crate) fn differences(
    books: Books<'_>,
    names: &Names,
    (order, ordered): (Id, &PurchaseOrder),
    lines: &[Billed],
    but: Option<Id>,
) -> Result<Vec<Difference>, OfficeError> {
    let bills = books.by(Bill::purchase_order, order)?.into_iter();
    let bills = bills.filter(|held| but.is_none_or(|bill| held.entry.id < bill));
    let before: Vec<BillLine> =
        bills.flat_map(|held| held.fact.lines).filter(|line| line.job == ordered.job).collect();
    let all = ordered.lines.iter().map(|line| (line.code, line.part));
    let all = all.chain(before.iter().map(|line| (line.code, line.part)));
    let all = all.chain(lines.iter().map(|line| (line.code, line.part)));
    let by_code: BTreeSet<Id> = all.filter(|(_, part)| part.is_none()).map(|(code, _)| code).collect();
    let of = |code: Id, part: Option<Id>| (code, part.filter(|_| !by_code.contains(&code)));

    let mut left =
        sums(ordered.lines.iter().map(|line| (of(line.code, line.part), line.quantity, line.amount)));
    for line in before {
        let Some(sum) = left.get_mut(&of(line.code, line.part)) else { continue };
        sum.quantity = match (sum.quantity, line.quantity) {
            (Some(open), Some(taken)) => Some((open - taken).max(Qty::ZERO)),
            _ => None,
        };
        sum.amount = (sum.amount - line.amount).max(Money::ZERO);
    }
    let billed = sums(lines.iter().map(|line| (of(line.code, line.part), line.quantity, line.amount)));
    let mut found = Vec::new();
    for (key, billed) in billed {
        let open = left.get(&key).copied().unwrap_or_default();
        let mut counted = lines.iter().filter(|line| of(line.code, line.part) == key).map(|line| line.came);
        let came = counted.try_fold(Qty::ZERO, |sum, came| came.map(|came| sum + came));
        let to_pay = trade::to_pay(open.amounted(), came, billed.amounted());
        let asked = billed.amount - to_pay;
        if asked.is_positive() {
            let (code, part) = key;
            let code = names.code(code);
            let part = part.map(|part| books.newest::<Part>(part)).transpose()?.flatten();
            let what = part.map_or_else(|| code.clone(), |part| format!("{code}, {}", part.title));
            let text = told(&what, open, came, billed, asked);
            found.push(Difference { code, to_pay, asked, text });
        }
    }
    Ok(found)
}

fn told(what: &str, open: Sum, came: Option<Qty>, billed: Sum, asked: Money) -> String {
    let side = |sum: Sum| match sum.quantity {
        Some(quantity) => format!("{} for {}", quantity.decimal().normalize(), sum.amount.grouped()),
        None => sum.amount.grouped(),
    };
    let came = came.map(|came| format!(", {} came", came.decimal().normalize())).unwrap_or_default();
    format!(
        "{what}: {} ordered and not billed before{came}, {} billed. Ask about {}.",
        side(open),
        side(billed),
        asked.grouped()
    )
}
