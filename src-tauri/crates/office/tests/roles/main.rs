//! What each role is shown and may record.

#![cfg(test)]

mod books;
mod firm;
mod recording;

use firm::seated;
use office::Code;
use office::month::end::FirmMonth;
use office::{Id, Month, OfficeError, Recorder, Role, Wanted};
use serde_json::json;

fn code<T>(outcome: Result<T, OfficeError>) -> Option<Code> {
    outcome.err().map(|error| error.code)
}

#[test]
fn the_bookkeeper_sees_what_is_owed_and_no_cost_no_margin_no_pay() {
    let october = Month::parse("2026-10").unwrap();
    let (_home, owner) = seated(Role::Owner);
    let whole = office::month_end(&owner, october).unwrap();
    assert!(whole.firm.cost.is_positive() && !whole.jobs.is_empty());
    let lists = office::lists(&owner).unwrap();
    assert!(lists.people.iter().any(|person| person.hourly.is_some()) && !lists.burden.is_empty());

    let (_home, books) = seated(Role::Books);
    let seen = office::month_end(&books, october).unwrap();
    assert_eq!(seen.owed, whole.owed);
    assert!(seen.jobs.is_empty());
    assert_eq!(seen.firm, FirmMonth { name: seen.firm.name.clone(), ..FirmMonth::default() });
    let lists = office::lists(&books).unwrap();
    assert!(lists.people.iter().all(|person| person.hourly.is_none()) && lists.burden.is_empty());
    assert!(!lists.vendors.is_empty());
    assert!(office::rates(&books, books.clock.today()).unwrap().loaded.is_empty());
}

#[test]
fn papers_with_cost_or_the_whole_price_are_printed_for_the_owner_alone() {
    let pack = Wanted::MonthPack { month: Month::parse("2026-09").unwrap() };
    for (role, refused) in
        [(Role::Owner, None), (Role::Books, Some(Code::NotAllowed)), (Role::Crew, Some(Code::NotAllowed))]
    {
        let (_home, desk) = seated(role);
        assert_eq!(code(office::print(&desk, &pack)), refused, "{role}");
    }
}

#[test]
fn a_signed_proposal_is_not_for_the_crew_and_a_photo_of_the_work_is() {
    let (_home, mut desk) = seated(Role::Owner);
    let signed =
        office::attach(&mut desk, b"%PDF-1.7 signed", "application/pdf", Some("signed.pdf")).unwrap();
    let photo = office::attach(&mut desk, b"a picture of the deck", "image/png", None).unwrap();
    let mut recorder = Recorder::default();
    let job = json!({ "kind": "job", "number": "26-900", "title": "Re-roof", "customer": "Hester Vane",
        "site": "14 Millrace Lane", "date": "2026-11-03" });
    recorder.record(&mut desk, job).unwrap();
    let lines = json!([{ "code": "tear", "cost_kind": "labor", "description": "Tear off", "amount": "600.00",
        "hours": "16" }]);
    let contract = json!({ "kind": "contract", "date": "2026-11-03", "job": "26-900", "price": "1000.00",
        "included_sheets": "0", "proposal": signed.hash, "lines": lines });
    recorder.record(&mut desk, contract).unwrap();
    assert!(office::paper(&desk, &signed.hash).is_ok());
    let crew = office::people(&desk).unwrap().into_iter().find(|person| person.role == Role::Crew).unwrap();
    desk.sit(Id::parse(&crew.id).unwrap());
    assert_eq!(code(office::paper(&desk, &signed.hash)), Some(Code::NotAllowed));
    assert!(office::paper(&desk, &photo.hash).is_ok());
}

#[test]
fn what_is_not_of_a_role_is_refused_by_the_recorder_whichever_face_asks() {
    let (_home, mut desk) = seated(Role::Crew);
    let job = office::job_names(&desk).unwrap().remove(0).number;
    let warranty = json!({ "kind": "warranty", "date": "2026-11-03", "job": job, "begins": "2026-11-03",
        "years": 10, "terms": "Ours" });
    let mut recorder = Recorder::default();
    let refused = recorder.record(&mut desk, warranty.clone()).unwrap_err();
    assert_eq!(refused.code, Code::NotAllowed);
    assert!(refused.message.contains("Recording “warranty” is for the owner."), "{}", refused.message);
    assert_eq!(code(recorder.record_all(&mut desk, vec![warranty])), Some(Code::NotAllowed));
}
