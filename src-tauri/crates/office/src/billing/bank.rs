//! The bank's statements held against the books: what each line is, what has not cleared, and how both balances come
//! to the same.

use crate::job::page::Source;
use desk::names::Names;
use desk::{Desk, OfficeError};
use jiff::civil::Date;
use ledger::closed_lists::OtherBankLine;
use ledger::facts::{
    BankCleared, BankLine, BankStatement, ClearedItem, OverheadCost, Payment, Refund, VendorPayment,
};
use ledger::kind::FactRow;
use ledger::{Books, Entered, Entry, Fact, Id};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use trade::bank::{Match, Moved, Reconciliation, match_up};
use trade::{Money, Month};

/// A statement in the list.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct StatementHead {
    /// Where it comes from.
    pub source: Source,
    /// The end of the account's number, where the bank gives one.
    pub account: Option<String>,
    /// Its first day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub begins: Date,
    /// Its last day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub ends: Date,
    /// What stood there before.
    pub opening: Money,
    /// What stood there after.
    pub closing: Money,
    /// How many lines.
    pub lines: usize,
    /// Of them, how many nobody has said what they are.
    pub open: usize,
    /// Whether it does not begin with what the one before ended with.
    pub gap_before: bool,
}

/// What the books hold that goes through the bank.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct BankItem {
    /// Where it comes from.
    pub source: Source,
    /// Its day in the books.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// What it is.
    pub text: String,
    /// The check's number, or the like.
    pub number: Option<String>,
    /// How much; below zero where it leaves the bank.
    pub amount: Money,
}

/// What became of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum LineState {
    /// Somebody has said what it is.
    Matched,
    /// It is taken for a payment, and nobody has said so yet.
    Fits,
    /// A payment has its number and another amount.
    OtherAmount,
    /// The books hold nothing that it is.
    NotInBooks,
}
trade::closed_list!(LineState, "state of a bank's line", {
    Matched => "matched": "Matched",
    Fits => "fits": "Fits",
    OtherAmount => "other-amount": "Another amount",
    NotInBooks => "not-in-books": "Not in the books",
});

/// A line of the statement.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct BankLineShown {
    /// Which, counted from 1.
    pub place: i64,
    /// Its day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// What the bank says of it.
    pub words: String,
    /// The check's number.
    pub number: Option<String>,
    /// How much; below zero where money left.
    pub amount: Money,
    /// What became of it.
    pub state: LineState,
    /// What somebody has said it is, to be taken back.
    pub matched: Option<Source>,
    /// The payments that it is, or is taken for.
    pub items: Vec<BankItem>,
    /// What it is, where the books hold no payment of it.
    pub other: Option<OtherBankLine>,
    /// Note.
    pub note: Option<String>,
}

/// How both balances come to the same.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ReconciledBalances {
    /// What the statement ends with.
    pub by_bank: Money,
    /// Money in by the books that the bank does not show yet.
    pub in_transit: Money,
    /// Money out by the books that the bank does not show yet.
    pub outstanding: Money,
    /// What the bank booked by mistake.
    pub bank_errors: Money,
    /// The bank's balance with all of it.
    pub bank_adjusted: Money,
    /// What stood at the bank before the first statement.
    pub books_began: Money,
    /// What the books have moved since.
    pub books_moved: Money,
    /// What the books come to.
    pub by_books: Money,
    /// What the statement shows and the books do not hold.
    pub not_in_books: Money,
    /// The books' balance with it.
    pub books_adjusted: Money,
    /// What is left unexplained.
    pub unexplained: Money,
}

/// The bank as the books see it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Bank {
    /// The statements, newest first.
    pub statements: Vec<StatementHead>,
    /// The one that is shown; none where none is here.
    pub shown: Option<StatementHead>,
    /// Its lines.
    pub lines: Vec<BankLineShown>,
    /// How many lines fit, and can be matched at once.
    pub fitting: usize,
    /// What the books hold by its last day and no statement shows by then.
    pub not_cleared: Vec<BankItem>,
    /// Every payment of the books that no line has been matched with, of which one may be chosen.
    pub free: Vec<BankItem>,
    /// How both balances come to the same.
    pub balances: Option<ReconciledBalances>,
}

/// Where a line is: its statement, and its place in it from 1.
pub(crate) type Spot = (Id, i64);

/// Whether a fact counts, by its entry and by what reversed it.
pub(crate) type Stands<'a> = &'a dyn Fn(&Entry, Option<Id>) -> Result<bool, OfficeError>;

/// A payment of the books that goes through the bank.
pub(crate) struct Item {
    pub(crate) entry: Entry,
    pub(crate) fact: Fact,
    pub(crate) date: Date,
    pub(crate) amount: Money,
    /// The check's number, or the like.
    pub(crate) number: Option<String>,
}

impl Item {
    /// What it is, in words.
    pub(crate) fn text(&self, names: &Names) -> String {
        match &self.fact {
            Fact::Payment(payment) => format!("Payment of {}", names.customer(payment.customer)),
            Fact::Refund(refund) => format!("Refund to {}", names.customer(refund.customer)),
            Fact::VendorPayment(payment) => format!("Paid to {}", names.vendor(payment.vendor)),
            Fact::OverheadCost(cost) => format!("{}: {}", names.overhead(cost.account), cost.description),
            _ => String::new(),
        }
    }

    fn shown(&self, names: &Names) -> BankItem {
        BankItem {
            source: Source::of(&self.entry, names),
            date: self.date,
            text: self.text(names),
            number: self.number.clone(),
            amount: self.amount,
        }
    }
}

/// Every line of the bank, and what has been said of it.
pub(crate) struct AtBank {
    /// The statements that stand, oldest first.
    pub(crate) statements: Vec<Entered<BankStatement>>,
    /// What each line was said to be.
    pub(crate) cleared: BTreeMap<Spot, Entered<BankCleared>>,
    /// Every payment that goes through the bank.
    pub(crate) items: BTreeMap<Id, Item>,
    /// Of a payment that has cleared, the line's day.
    pub(crate) cleared_on: BTreeMap<Id, Date>,
}

/// The bank as it stands by a statement: the one with this last day, or the last.
///
/// # Errors
/// When there is none of that day, or the facts cannot be read.
pub fn bank(desk: &Desk, ends: Option<Date>) -> Result<Bank, OfficeError> {
    desk.books().in_one_read(|books| bank_of(books, ends))
}

pub(crate) fn bank_of(books: Books<'_>, ends: Option<Date>) -> Result<Bank, OfficeError> {
    let names = Names::read(books)?;
    let read = AtBank::read(books)?;
    let shown = read.shown(ends)?;
    Ok(read.bank(&names, shown))
}

/// The lines of statements that nobody has said anything of, through a month, with the statements that they are in.
pub(crate) fn open_through(books: Books<'_>, month: Month) -> Result<Vec<(Id, BankLine)>, OfficeError> {
    let read = AtBank::lines_alone(books, &|_, reversed| Ok(reversed.is_none()))?;
    let open =
        read.lines().filter(|(spot, line)| !read.cleared.contains_key(spot) && line.date <= month.last_day());
    Ok(open.map(|((statement, _), line)| (statement, line.clone())).collect())
}

fn standing<T: FactRow>(books: Books<'_>, stands: Stands<'_>) -> Result<Vec<Entered<T>>, OfficeError> {
    let mut found = Vec::new();
    for held in books.all_with_reversed::<T>()? {
        if stands(&held.entry, held.reversed_by)? {
            found.push(held);
        }
    }
    Ok(found)
}

impl AtBank {
    /// What stands now.
    pub(crate) fn read(books: Books<'_>) -> Result<AtBank, OfficeError> {
        AtBank::where_it(books, &|_, reversed| Ok(reversed.is_none()))
    }

    /// What stands by some rule.
    pub(crate) fn where_it(books: Books<'_>, stands: Stands<'_>) -> Result<AtBank, OfficeError> {
        let mut read = AtBank::lines_alone(books, stands)?;
        if read.statements.is_empty() {
            return Ok(read);
        }
        let mut add = |entry: Entry, fact: Fact, date: Date, number: Option<String>| {
            if let Some(amount) = fact.at_the_bank() {
                read.items.insert(entry.id, Item { entry, fact, date, amount, number });
            }
        };
        for Entered { entry, fact, .. } in standing::<Payment>(books, stands)? {
            let (date, number) = (fact.date, fact.reference.clone());
            add(entry, fact.into(), date, number);
        }
        for Entered { entry, fact, .. } in standing::<Refund>(books, stands)? {
            let (date, number) = (fact.date, fact.reference.clone());
            add(entry, fact.into(), date, number);
        }
        for Entered { entry, fact, .. } in standing::<VendorPayment>(books, stands)? {
            let (date, number) = (fact.date, fact.reference.clone());
            add(entry, fact.into(), date, number);
        }
        for Entered { entry, fact, .. } in standing::<OverheadCost>(books, stands)? {
            let date = fact.date;
            add(entry, fact.into(), date, None);
        }
        Ok(read)
    }

    /// The statements and what was said of their lines, without the payments of the books. Two devices may have taken
    /// in the same days, or said two things of one line, or one of a payment twice: of those the first in order counts,
    /// and the other is a question until it is taken back.
    fn lines_alone(books: Books<'_>, stands: Stands<'_>) -> Result<AtBank, OfficeError> {
        let mut statements: Vec<Entered<BankStatement>> = Vec::new();
        for held in standing::<BankStatement>(books, stands)? {
            if !statements.iter().any(|known| overlap(&known.fact, &held.fact)) {
                statements.push(held);
            }
        }
        statements.sort_by_key(|held| held.fact.date);
        let mut read = AtBank {
            statements,
            cleared: BTreeMap::new(),
            items: BTreeMap::new(),
            cleared_on: BTreeMap::new(),
        };
        let dates: BTreeMap<Spot, Date> = read.lines().map(|(spot, line)| (spot, line.date)).collect();
        for held in standing::<BankCleared>(books, stands)? {
            let spot = (held.fact.statement, held.fact.place);
            let Some(date) = dates.get(&spot) else { continue };
            let ids: Vec<Id> = held.fact.items.iter().filter_map(ClearedItem::id).collect();
            if read.cleared.contains_key(&spot) || ids.iter().any(|id| read.cleared_on.contains_key(id)) {
                continue;
            }
            read.cleared_on.extend(ids.into_iter().map(|id| (id, *date)));
            read.cleared.insert(spot, held);
        }
        Ok(read)
    }

    /// Leaves out what was said of lines whose payments do not all stand: one device took back what another matched.
    pub(crate) fn only_whole(&mut self) {
        let items = &self.items;
        self.cleared.retain(|_, held| {
            held.fact.items.iter().all(|item| item.id().is_some_and(|id| items.contains_key(&id)))
        });
        let said = self.cleared.values().flat_map(|held| held.fact.items.iter().filter_map(ClearedItem::id));
        let said: BTreeSet<Id> = said.collect();
        self.cleared_on.retain(|id, _| said.contains(id));
    }

    /// Every line of every statement.
    pub(crate) fn lines(&self) -> impl Iterator<Item = (Spot, &BankLine)> {
        self.statements.iter().flat_map(|held| {
            let id = held.entry.id;
            held.fact.lines.iter().zip(1..).map(move |(line, place)| ((id, place), line))
        })
    }

    pub(crate) fn shown(&self, ends: Option<Date>) -> Result<Option<&Entered<BankStatement>>, OfficeError> {
        let Some(ends) = ends else { return Ok(self.statements.last()) };
        let found = self.statements.iter().find(|held| held.fact.date == ends);
        found.map(Some).ok_or_else(|| {
            OfficeError::not_found(
                format!("No statement of the bank ends on {}.", trade::shown::day(ends)),
                "Take it in first, or ask for the last day of one that is here.",
            )
        })
    }

    pub(crate) fn bank(&self, names: &Names, shown: Option<&Entered<BankStatement>>) -> Bank {
        let heads: Vec<StatementHead> = self
            .statements
            .iter()
            .enumerate()
            .map(|(at, held)| {
                let before = at.checked_sub(1).and_then(|at| self.statements.get(at));
                self.head(names, held, before)
            })
            .collect();
        let lines = shown.map(|held| self.shown_lines(names, held)).unwrap_or_default();
        let mut not_cleared: Vec<BankItem> = shown.map_or_else(Vec::new, |held| {
            self.counted(held.fact.date)
                .filter(|(id, _)| !self.has_cleared(*id, held.fact.date))
                .map(|(_, item)| item.shown(names))
                .collect()
        });
        let mut free: Vec<BankItem> = self.free().map(|item| item.shown(names)).collect();
        for list in [&mut not_cleared, &mut free] {
            list.sort_by(|left, right| (left.date, &left.text).cmp(&(right.date, &right.text)));
        }
        Bank {
            shown: shown.and_then(|held| {
                heads.iter().find(|head| head.source.id == held.entry.id.to_string()).cloned()
            }),
            fitting: lines.iter().filter(|line| line.state == LineState::Fits).count(),
            lines,
            not_cleared,
            free,
            balances: shown.map(|held| self.balances(&held.fact)),
            statements: heads.into_iter().rev().collect(),
        }
    }

    fn head(
        &self,
        names: &Names,
        held: &Entered<BankStatement>,
        before: Option<&Entered<BankStatement>>,
    ) -> StatementHead {
        let statement = &held.fact;
        let places = (1..).take(statement.lines.len());
        StatementHead {
            source: Source::of(&held.entry, names),
            account: statement.account.as_deref().map(end_of),
            begins: statement.begins,
            ends: statement.date,
            opening: statement.opening,
            closing: statement.closing,
            lines: statement.lines.len(),
            open: places.filter(|place| !self.cleared.contains_key(&(held.entry.id, *place))).count(),
            gap_before: before.is_some_and(|before| before.fact.closing != statement.opening),
        }
    }

    /// The lines of a statement; those that nobody has said anything of, with what they are taken for.
    fn shown_lines(&self, names: &Names, held: &Entered<BankStatement>) -> Vec<BankLineShown> {
        let open: Vec<(Spot, &BankLine)> = self
            .lines()
            .filter(|(spot, _)| spot.0 == held.entry.id && !self.cleared.contains_key(spot))
            .collect();
        let free: Vec<&Item> = self.free().collect();
        let of_line = |(_, line): &(Spot, &BankLine)| Moved {
            date: line.date,
            amount: line.amount,
            number: line.number.clone(),
        };
        let of_item =
            |item: &&Item| Moved { date: item.date, amount: item.amount, number: item.number.clone() };
        let lines: Vec<Moved> = open.iter().map(of_line).collect();
        let items: Vec<Moved> = free.iter().map(of_item).collect();
        let found: BTreeMap<Spot, Match> =
            open.iter().map(|(spot, _)| *spot).zip(match_up(&lines, &items)).collect();
        let item = |at: &usize| free.get(*at).map(|item| item.shown(names));
        (1..)
            .zip(&held.fact.lines)
            .map(|(place, line)| {
                let spot = (held.entry.id, place);
                let matched = self.cleared.get(&spot);
                let (state, items) = match (matched, found.get(&spot)) {
                    (Some(held), _) => {
                        let named = held.fact.items.iter().filter_map(ClearedItem::id);
                        (
                            LineState::Matched,
                            named
                                .filter_map(|id| self.items.get(&id))
                                .map(|item| item.shown(names))
                                .collect(),
                        )
                    }
                    (None, Some(Match::Items(items))) => {
                        (LineState::Fits, items.iter().filter_map(item).collect())
                    }
                    (None, Some(Match::OtherAmount(at))) => {
                        (LineState::OtherAmount, item(at).into_iter().collect())
                    }
                    (None, _) => (LineState::NotInBooks, Vec::new()),
                };
                BankLineShown {
                    place,
                    date: line.date,
                    words: line.words.clone(),
                    number: line.number.clone(),
                    amount: line.amount,
                    state,
                    matched: matched.map(|held| Source::of(&held.entry, names)),
                    items,
                    other: matched.and_then(|held| held.fact.other),
                    note: matched.and_then(|held| held.fact.note.clone()),
                }
            })
            .collect()
    }

    /// The payments that no line has been matched with.
    fn free(&self) -> impl Iterator<Item = &Item> {
        self.items.iter().filter(|(id, _)| !self.cleared_on.contains_key(*id)).map(|(_, item)| item)
    }

    pub(crate) fn has_cleared(&self, item: Id, by: Date) -> bool {
        self.cleared_on.get(&item).is_some_and(|on| *on <= by)
    }

    /// What the books hold by a day: of what was there before the first statement only what came to the bank later,
    /// since the rest was in the balance that it began with.
    pub(crate) fn counted(&self, by: Date) -> impl Iterator<Item = (Id, &Item)> {
        let first = self.statements.first().map(|held| held.fact.begins);
        self.items.iter().map(|(id, item)| (*id, item)).filter(move |(id, item)| {
            let since = first.is_some_and(|first| item.date >= first) || self.cleared_on.contains_key(id);
            since && (item.date <= by || self.has_cleared(*id, by))
        })
    }

    fn balances(&self, statement: &BankStatement) -> ReconciledBalances {
        let by = statement.date;
        let began = self.statements.first().map(|held| held.fact.opening).unwrap_or_default();
        let open = |(id, item): &(Id, &Item)| Some(item.amount).filter(|_| !self.has_cleared(*id, by));
        let not_cleared: Vec<Money> = self.counted(by).filter_map(|one| open(&one)).collect();
        let (mut other, mut errors, mut not_in_books) = (Money::ZERO, Money::ZERO, Money::ZERO);
        for (spot, line) in self.lines().filter(|(_, line)| line.date <= by) {
            match self.cleared.get(&spot).map(|held| held.fact.other) {
                None => not_in_books += line.amount,
                Some(Some(OtherBankLine::BankError)) => errors += line.amount,
                Some(Some(_)) => other += line.amount,
                Some(None) => {}
            }
        }
        let moved = self.counted(by).map(|(_, item)| item.amount).sum::<Money>() + other;
        let out = |amount: &&Money| amount.is_negative();
        let both = Reconciliation {
            by_bank: statement.closing,
            in_transit: not_cleared.iter().filter(|amount| !out(amount)).copied().sum(),
            outstanding: -not_cleared.iter().filter(out).copied().sum::<Money>(),
            bank_errors: errors,
            by_books: began + moved,
            not_in_books,
        };
        ReconciledBalances {
            by_bank: both.by_bank,
            in_transit: both.in_transit,
            outstanding: both.outstanding,
            bank_errors: both.bank_errors,
            bank_adjusted: both.bank_adjusted(),
            books_began: began,
            books_moved: moved,
            by_books: both.by_books,
            not_in_books: both.not_in_books,
            books_adjusted: both.books_adjusted(),
            unexplained: both.unexplained(),
        }
    }
}

/// Whether two statements share a day.
fn overlap(one: &BankStatement, other: &BankStatement) -> bool {
    one.begins <= other.date && other.begins <= one.date
}

/// The last four signs of an account's number: enough to know it by.
pub(crate) fn end_of(account: &str) -> String {
    let signs: Vec<char> = account.chars().filter(|sign| sign.is_alphanumeric()).collect();
    format!("…{}", signs[signs.len().saturating_sub(4)..].iter().collect::<String>())
}
