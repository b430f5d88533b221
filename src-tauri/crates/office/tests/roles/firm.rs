//! Somebody at the desk of the made-up firm.

use office::{Desk, Id, Role};

/// The made-up firm with somebody of a role at the desk.
pub(crate) fn seated(role: Role) -> (tempfile::TempDir, Desk) {
    let home = tempfile::tempdir().unwrap();
    let mut desk = office::sample::write(&home.path().join("firm.tearoff"), &mut |_, _| true).unwrap();
    let person = office::people(&desk).unwrap().into_iter().find(|person| person.role == role).unwrap();
    desk.sit(Id::parse(&person.id).unwrap());
    (home, desk)
}
