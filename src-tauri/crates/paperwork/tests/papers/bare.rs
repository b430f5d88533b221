//! An example of each paper with nothing in it that could be left out.

use jiff::civil::date;
use paperwork::papers::*;
use std::collections::BTreeMap;
use trade::Money;

use crate::full::s;

fn firm() -> Firm {
    Firm { name: s("Alder Creek Roofing"), town: s("Harlow Falls"), state: s("Minnesota"), ..Firm::default() }
}

fn customer() -> Party {
    Party { name: s("Ines Okafor"), lines: vec![] }
}

pub(crate) fn proposal() -> Proposal {
    Proposal {
        firm: firm(),
        customer: customer(),
        site: String::new(),
        number: s("1"),
        date: date(2026, 1, 2),
        valid_until: date(2026, 2, 2),
        opening: String::new(),
        roof: RoofPicture::default(),
        system: vec![],
        choices: vec![],
        compared: vec![],
        tax_words: String::new(),
        unit_prices: vec![],
        not_included: vec![],
        payments: vec![],
        signed_on: None,
        cancellation: None,
        notices: vec![],
        chosen: None,
    }
}

pub(crate) fn site_sheet() -> SiteSheet {
    SiteSheet {
        firm: firm(),
        job: s("Okafor reroof"),
        number: s("1"),
        site: String::new(),
        date: date(2026, 1, 2),
        called: BTreeMap::new(),
        begins_words: "not planned yet".into(),
        ends_words: None,
        days: None,
        reminder: "These are reminders and no safety plan.".into(),
        crew: vec![],
        roof: RoofPicture::default(),
        materials: vec![],
        order_of_work: vec![],
        ridge_cap_begins: None,
        before_work: vec![],
        cautions: vec![],
        included: vec![],
        unit_prices: vec![],
        checks: vec![],
    }
}

pub(crate) fn order_list() -> OrderList {
    let vendor = VendorOrder {
        vendor: s("Valley Building Supply"),
        number: None,
        ordered_on: None,
        needed_by: None,
        lines: vec![],
        total: None,
    };
    OrderList {
        firm: firm(),
        job: s("Okafor reroof"),
        number: s("1"),
        site: String::new(),
        date: date(2026, 1, 2),
        planned: s("not planned yet"),
        vendors: vec![vendor],
        note: None,
        with_prices: true,
    }
}

pub(crate) fn change_order() -> ChangeOrderPaper {
    ChangeOrderPaper {
        firm: firm(),
        customer: customer(),
        site: String::new(),
        job: s("Okafor reroof"),
        number: s("1"),
        date: date(2026, 1, 2),
        title: String::new(),
        place: s("ridge"),
        cause: s("other"),
        found_on: None,
        photos: vec![],
        roof: None,
        count_words: String::new(),
        cut_list: None,
        lines: vec![],
        pricing: Pricing::LumpSum,
        included: None,
        tax: None,
        total: Money::ZERO,
        end: EndDate::default(),
        if_left: String::new(),
        decision: None,
    }
}

pub(crate) fn invoice() -> InvoicePaper {
    InvoicePaper {
        firm: firm(),
        customer: customer(),
        site: String::new(),
        job: s("Okafor reroof"),
        number: s("1"),
        date: date(2026, 1, 2),
        due: None,
        kind: InvoiceKind::Deposit,
        lines: vec![],
        subtotal: Money::ZERO,
        tax: None,
        total: Money::ZERO,
        retained: None,
        payments: vec![],
        balance: Money::ZERO,
        how_to_pay: String::new(),
        standing: ContractStanding::default(),
    }
}

pub(crate) fn statement() -> StatementPaper {
    StatementPaper {
        firm: firm(),
        customer: customer(),
        date: date(2026, 1, 2),
        invoices: vec![],
        ages: vec![AgeBucket { label: s("Not yet due"), amount: Money::ZERO }],
        open: Money::ZERO,
        past_due: Money::ZERO,
        held: Money::ZERO,
        credits: Money::ZERO,
        balance: Money::ZERO,
        moves: vec![],
        how_to_pay: String::new(),
    }
}

pub(crate) fn completion() -> CompletionPacket {
    CompletionPacket {
        firm: firm(),
        customer: customer(),
        site: String::new(),
        job: s("Okafor reroof"),
        number: s("1"),
        date: date(2026, 1, 2),
        finished_on: None,
        parts: vec![],
        inspections: vec![],
        repaired: vec![],
        checks: vec![],
        open_points: vec![],
        warranty: vec![],
        care: vec![],
        sign_off: None,
    }
}

pub(crate) fn insulation() -> InsulationReceipt {
    InsulationReceipt {
        firm: firm(),
        customer: customer(),
        site: String::new(),
        job: s("Okafor reroof"),
        number: s("1"),
        date: date(2026, 1, 2),
        installer: s("Tam Lindqvist"),
        parts: vec![],
        note: String::new(),
    }
}

pub(crate) fn lead() -> LeadReceipt {
    LeadReceipt {
        firm: firm(),
        certificate: None,
        customer: customer(),
        site: s("14 Larch Lane"),
        job: s("Okafor reroof"),
        number: s("1"),
        date: date(2026, 1, 2),
        begins: None,
        earliest: None,
        mailed_by: None,
        given: vec![],
        kept_until: None,
    }
}

pub(crate) fn month_end() -> MonthEndPack {
    MonthEndPack {
        firm: firm(),
        date: date(2026, 1, 31),
        closed_by: Some("A-7:0011223344556677".to_owned()),
        figures: vec![],
        ranking: vec![],
        walk: Walk {
            from_label: s("Margin sold"),
            from: Money::ZERO,
            steps: vec![],
            to_label: s("Margin made"),
            to: Money::ZERO,
        },
        job_walks: vec![],
        recovery: vec![],
        billing: vec![],
        aging: vec![],
        bars: vec![],
        loose_ends: vec![],
        changes: vec![],
        jobs: vec![],
    }
}
