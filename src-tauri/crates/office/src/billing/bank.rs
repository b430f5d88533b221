//! The bank's statements held against the books: what each line is, what has not cleared, and how both balances come
//! to the same.

use crate::job::page::Source;
use desk::names::Names;
use desk::policy::Act;
use desk::{Desk, OfficeError};
use jiff::civil::Date;
use ledger::closed_lists::OtherBankLine;
use ledger::facts::{
    BankCleared, BankLine, BankStatement, ClearedItem, OverheadCost, Payment, Refund, VendorPayment,
};
use ledger::kind::FactRow;
use ledger::{Books, Entered, Fact, Id};
use serde::Serialize;
use std::collections::BTreeMap;
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
    /// The word of its kind.
    pub kind: String,
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

/// What was matched at once.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct MatchedLines {
    /// How many lines.
    pub matched: usize,
    /// How many of the statement are left.
    pub left: usize,
}

/// Where a line is: its statement, and its place in it from 1.
type Spot = (Id, i64);

/// All of it, read once.
pub(crate) struct Read {
    statements: Vec<Entered<BankStatement>>,
    cleared: BTreeMap<Spot, Entered<BankCleared>>,
    items: BTreeMap<Id, BankItem>,
    /// Of a payment that has cleared, the line's day.
    cleared_on: BTreeMap<Id, Date>,
}

/// The bank as it stands by a statement: the one with this last day, or the last.
///
/// # Errors
/// When there is none of that day, or the facts cannot be read.
pub fn bank(desk: &Desk, ends: Option<Date>) -> Result<Bank, OfficeError> {
    desk.books().in_one_read(|books| {
        let names = Names::read(books)?;
        let read = read(books, &names)?;
        let shown = read.shown(ends)?;
        Ok(read.bank(&names, shown))
    })
}

/// Matches every line of a statement that fits one payment, or one deposit, and no other.
///
/// # Errors
/// When there is no such statement, or whoever sits here may not.
pub fn match_fitting(desk: &mut Desk, ends: Option<Date>) -> Result<MatchedLines, OfficeError> {
    desk.check(Act::Record(BankCleared::KIND))?;
    let (facts, open) = desk.books().in_one_read(|books| {
        let names = Names::read(books)?;
        let read = read(books, &names)?;
        let Some(shown) = read.shown(ends)? else { return Ok((Vec::new(), 0)) };
        let bank = read.bank(&names, Some(shown));
        let facts: Vec<Fact> = bank
            .lines
            .iter()
            .filter(|line| line.state == LineState::Fits)
            .map(|line| {
                let items = line.items.iter().filter_map(named).collect();
                let (date, statement, place) = (line.date, shown.entry.id, line.place);
                BankCleared { date, statement, place, other: None, note: None, items }.into()
            })
            .collect();
        let open = bank.lines.iter().filter(|line| line.state != LineState::Matched).count();
        Ok::<_, OfficeError>((facts, open))
    })?;
    let matched = facts.len();
    desk.record(facts)?;
    Ok(MatchedLines { matched, left: open - matched })
}

/// A payment as a line names it.
fn named(item: &BankItem) -> Option<ClearedItem> {
    let id = Id::parse(&item.source.id).ok()?;
    let of = |kind: &str| Some(id).filter(|_| item.kind == kind);
    Some(ClearedItem {
        payment: of(Payment::KIND),
        refund: of(Refund::KIND),
        vendor_payment: of(VendorPayment::KIND),
        overhead_cost: of(OverheadCost::KIND),
    })
}

/// The lines of statements that nobody has said anything of and that are older than a month, with what they are.
pub(crate) fn open_before(books: Books<'_>, names: &Names, month: Month) -> Result<Vec<(Id, BankLine)>, OfficeError> {
    let read = read(books, names)?;
    let lines = read.lines().filter(|(spot, _)| !read.cleared.contains_key(spot));
    Ok(lines
        .filter(|(_, line)| line.date < month.first_day())
        .map(|((statement, _), line)| (statement, line.clone()))
        .collect())
}

fn read(books: Books<'_>, names: &Names) -> Result<Read, OfficeError> {
    let mut statements = books.all::<BankStatement>()?;
    statements.sort_by_key(|held| held.fact.date);
    let mut cleared = BTreeMap::new();
    // Of two devices that matched one line the first in order counts; the other stays to be taken back.
    for held in books.all::<BankCleared>()? {
        cleared.entry((held.fact.statement, held.fact.place)).or_insert(held);
    }
    let mut items = BTreeMap::new();
    let mut add = |entry: &ledger::Entry, fact: &Fact, date: Date, text: String, number: Option<String>| {
        let Some(amount) = fact.at_the_bank() else { return };
        let source = Source::of(entry, names);
        items.insert(entry.id, BankItem { source, kind: fact.kind().to_owned(), date, text, number, amount });
    };
    if !statements.is_empty() {
        for Entered { entry, fact, .. } in books.all::<Payment>()? {
            let (date, number) = (fact.date, fact.reference.clone());
            let text = format!("Payment of {}", names.customer(fact.customer));
            add(&entry, &fact.into(), date, text, number);
        }
        for Entered { entry, fact, .. } in books.all::<Refund>()? {
            let (date, number) = (fact.date, fact.reference.clone());
            let text = format!("Refund to {}", names.customer(fact.customer));
            add(&entry, &fact.into(), date, text, number);
        }
        for Entered { entry, fact, .. } in books.all::<VendorPayment>()? {
            let (date, number) = (fact.date, fact.reference.clone());
            let text = format!("Paid to {}", names.vendor(fact.vendor));
            add(&entry, &fact.into(), date, text, number);
        }
        for Entered { entry, fact, .. } in books.all::<OverheadCost>()? {
            let (date, text) = (fact.date, format!("{}: {}", names.overhead(fact.account), fact.description));
            add(&entry, &fact.into(), date, text, None);
        }
    }
    let mut read = Read { statements, cleared, items, cleared_on: BTreeMap::new() };
    let on: Vec<(Id, Date)> = read
        .lines()
        .filter_map(|(spot, line)| Some((read.cleared.get(&spot)?, line.date)))
        .flat_map(|(held, date)| held.fact.items.iter().filter_map(ClearedItem::id).map(move |id| (id, date)))
        .collect();
    read.cleared_on.extend(on);
    Ok(read)
}

impl Read {
    /// Every line of every statement.
    fn lines(&self) -> impl Iterator<Item = (Spot, &BankLine)> {
        self.statements.iter().flat_map(|held| {
            let id = held.entry.id;
            held.fact.lines.iter().zip(1..).map(move |(line, place)| ((id, place), line))
        })
    }

    fn shown(&self, ends: Option<Date>) -> Result<Option<&Entered<BankStatement>>, OfficeError> {
        let Some(ends) = ends else { return Ok(self.statements.last()) };
        let found = self.statements.iter().find(|held| held.fact.date == ends);
        found.map(Some).ok_or_else(|| {
            OfficeError::not_found(
                format!("No statement of the bank ends on {}.", trade::shown::day(ends)),
                "Take it in first, or ask for the last day of one that is here.",
            )
        })
    }

    fn bank(&self, names: &Names, shown: Option<&Entered<BankStatement>>) -> Bank {
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
                .map(|(_, item)| item.clone())
                .collect()
        });
        let mut free: Vec<BankItem> =
            self.items.iter().filter(|(id, _)| !self.cleared_on.contains_key(*id)).map(|(_, item)| item.clone()).collect();
        for list in [&mut not_cleared, &mut free] {
            list.sort_by(|left, right| (left.date, &left.text).cmp(&(right.date, &right.text)));
        }
        Bank {
            shown: shown.and_then(|held| heads.iter().find(|head| head.source.id == held.entry.id.to_string()).cloned()),
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
        let open: Vec<(Spot, &BankLine)> =
            self.lines().filter(|(spot, _)| spot.0 == held.entry.id && !self.cleared.contains_key(spot)).collect();
        let free: Vec<&BankItem> =
            self.items.iter().filter(|(id, _)| !self.cleared_on.contains_key(*id)).map(|(_, item)| item).collect();
        let of_line = |(_, line): &(Spot, &BankLine)| Moved {
            date: line.date,
            amount: line.amount,
            number: line.number.clone(),
        };
        let of_item =
            |item: &&BankItem| Moved { date: item.date, amount: item.amount, number: item.number.clone() };
        let lines: Vec<Moved> = open.iter().map(of_line).collect();
        let items: Vec<Moved> = free.iter().map(of_item).collect();
        let found: BTreeMap<Spot, Match> = open.iter().map(|(spot, _)| *spot).zip(match_up(&lines, &items)).collect();
        let item = |at: &usize| free.get(*at).map(|item| (*item).clone());
        (1..)
            .zip(&held.fact.lines)
            .map(|(place, line)| {
                let spot = (held.entry.id, place);
                let matched = self.cleared.get(&spot);
                let (state, items) = match (matched, found.get(&spot)) {
                    (Some(held), _) => {
                        let named = held.fact.items.iter().filter_map(ClearedItem::id);
                        (LineState::Matched, named.filter_map(|id| self.items.get(&id).cloned()).collect())
                    }
                    (None, Some(Match::Items(items))) => (LineState::Fits, items.iter().filter_map(item).collect()),
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

    fn has_cleared(&self, item: Id, by: Date) -> bool {
        self.cleared_on.get(&item).is_some_and(|on| *on <= by)
    }

    /// What the books hold by a day: of what was there before the first statement only what came to the bank later,
    /// since the rest was in the balance that it began with.
    fn counted(&self, by: Date) -> impl Iterator<Item = (Id, &BankItem)> {
        let first = self.statements.first().map(|held| held.fact.begins);
        self.items.iter().map(|(id, item)| (*id, item)).filter(move |(id, item)| {
            let since = first.is_some_and(|first| item.date >= first) || self.cleared_on.contains_key(id);
            since && (item.date <= by || self.has_cleared(*id, by))
        })
    }

    fn balances(&self, statement: &BankStatement) -> ReconciledBalances {
        let by = statement.date;
        let began = self.statements.first().map(|held| held.fact.opening).unwrap_or_default();
        let open = |(id, item): &(Id, &BankItem)| Some(item.amount).filter(|_| !self.has_cleared(*id, by));
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

/// The last four signs of an account's number: enough to know it by.
pub(crate) fn end_of(account: &str) -> String {
    let signs: Vec<char> = account.chars().filter(|sign| sign.is_alphanumeric()).collect();
    format!("…{}", signs[signs.len().saturating_sub(4)..].iter().collect::<String>())
}
