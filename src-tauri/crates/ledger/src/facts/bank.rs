//! The bank's statements as they came, and what of the books its lines are.

use crate::closed_lists::OtherBankLine;
use crate::id::Id;
use crate::kind::{fact, row};
use jiff::civil::Date;
use trade::Money;

row! {
    /// A line of a statement.
    BankLine in "bank_statement_line" {
        /// When the bank booked it.
        date: Date,
        /// How much; below zero where money left the bank.
        amount: Money,
        /// What the bank says of it.
        words: String,
        /// The number of the check, where the bank gives one.
        number: Option<String>,
        /// The bank's own mark of the line.
        bank_id: Option<String>,
    } lists {}
}
fact! {
    /// A statement of the bank: what stood there before and after, and every line between.
    BankStatement as "bank-statement" in "bank_statement" {
        /// The last day that it covers.
        date: Date,
        /// The first day that it covers.
        begins: Date,
        /// The account's number, as the bank writes it.
        account: Option<String>,
        /// What stood there before the first day.
        opening: Money,
        /// What stood there after the last day.
        closing: Money,
    } with {
        /// Its lines.
        lines: BankLine,
    }
}
row! {
    /// A payment that a line of a statement is, or is a part of: one of the four.
    ClearedItem in "bank_cleared_item" {
        /// Money of a customer.
        payment: Option<Id>,
        /// Or money given back to one.
        refund: Option<Id>,
        /// Or money that went to a vendor.
        vendor_payment: Option<Id>,
        /// Or a cost of the firm that left the bank without a bill.
        overhead_cost: Option<Id>,
    } lists {}
}
fact! {
    /// What a line of a statement is: payments that the books hold, or what they hold no payment of.
    BankCleared as "bank-cleared" in "bank_cleared" {
        /// The line's own day.
        date: Date,
        /// The statement.
        statement: Id,
        /// Which of its lines, counted from 1.
        place: i64,
        /// What it is, where the books hold no payment of it.
        other: Option<OtherBankLine>,
        /// Note.
        note: Option<String>,
    } with {
        /// The payments.
        items: ClearedItem,
    }
}

impl ClearedItem {
    /// The payment, whichever of the four it is.
    #[must_use]
    pub fn id(&self) -> Option<Id> {
        let named = [self.payment, self.refund, self.vendor_payment, self.overhead_cost];
        let mut named = named.into_iter().flatten();
        named.next().filter(|_| named.next().is_none())
    }
}
