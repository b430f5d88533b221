//! Which offers are believed: signed by a device of the roster, within what that device may record and take back,
//! and not beyond the entry from which on a device that left is no longer believed.

use super::offer::{Offer, drop_from};
use super::report::{FOUNDER_KEY, MayRecord, RefusedPart, TakenIn};
use crate::chain_part::Checked;
use crate::error::LedgerError;
use crate::facts::{Device, DeviceLeft, Fact, Reversal};
use crate::id::{Id, PublicKey};
use crate::kind::FactRow;
use crate::read::{self, Books};
use crate::roster::{FOUNDER, Member, Roster, Said};
use std::collections::HashMap;

/// Device facts, and facts of devices that left.
#[derive(Default)]
struct SaidOfDevices {
    devices: Vec<Said<Device>>,
    left: Vec<Said<DeviceLeft>>,
}

impl SaidOfDevices {
    fn held(books: &Books<'_>) -> Result<SaidOfDevices, LedgerError> {
        Ok(SaidOfDevices {
            devices: books.all::<Device>()?.into_iter().map(Said::from).collect(),
            left: books.all::<DeviceLeft>()?.into_iter().map(Said::from).collect(),
        })
    }

    fn add(&mut self, offer: &Offer) {
        for checked in &offer.checked {
            let Some(record) = &checked.record else { continue };
            if !["device", "device-left"].contains(&checked.spec.kind) {
                continue;
            }
            let (by, id) = (checked.header.device.clone(), checked.header.id);
            match Fact::from_record(checked.spec.kind, record) {
                Ok(Fact::Device(fact)) => self.devices.push(Said { by, id, fact }),
                Ok(Fact::DeviceLeft(fact)) => self.left.push(Said { by, id, fact }),
                _ => {}
            }
        }
    }
}

/// Keeps the offers that are believed and says of the others why not.
pub(super) fn keep_believed(
    books: &Books<'_>,
    offers: &mut Vec<Offer>,
    may_record: MayRecord<'_>,
    report: &mut TakenIn,
) -> Result<(), LedgerError> {
    let taken_back = taken_back(books, offers)?;
    let may = |member: &Member, checked: &Checked| {
        let target = taken_back.get(&checked.header.id);
        may_record(member, checked.spec.kind) && target.is_none_or(|kind| may_record(member, kind))
    };
    let founder = books.setting(FOUNDER_KEY)?.and_then(|text| PublicKey::parse(&text).ok());
    loop {
        let (believed, roster) = believed(books, offers, founder, &may)?;
        let too_far = |offer: &Offer| {
            let left = roster.member(offer.device()).and_then(|member| member.last_seq);
            left.filter(|last| offer.head.device_seq > *last)
        };
        let gone =
            offers.iter().zip(&believed).position(|(offer, believed)| *believed && too_far(offer).is_some());
        if let Some(place) = gone {
            let last = too_far(&offers[place]).unwrap_or_default();
            let problem = format!("the device has left, and is believed through its entry {last}");
            drop_from(offers, place, &problem, report);
            continue;
        }
        let mut place = 0;
        offers.retain(|offer| {
            place += 1;
            if !believed[place - 1] {
                say_why(offer, &roster, &may, report);
            }
            believed[place - 1]
        });
        return Ok(());
    }
}

/// Whether a device may have written an entry.
type May<'a> = &'a dyn Fn(&Member, &Checked) -> bool;

/// The kinds of what is taken back, by the reversal. What nobody here has heard of is waited for.
fn taken_back(books: &Books<'_>, offers: &[Offer]) -> Result<HashMap<Id, String>, LedgerError> {
    let mut kinds = HashMap::new();
    let all = || offers.iter().flat_map(|offer| offer.checked.iter().chain(&offer.filled));
    for checked in all().filter(|checked| checked.spec.kind == Reversal::KIND) {
        let fact = checked.record.as_ref().map(|record| Fact::from_record(checked.spec.kind, record));
        let Some(Ok(Fact::Reversal(reversal))) = fact else { continue };
        let kind = match read::entry_of(books.conn, reversal.reverses)? {
            Some(entry) => Some(entry.kind),
            None => {
                let offered = all().find(|other| other.header.id == reversal.reverses);
                offered.map(|other| other.spec.kind.to_owned())
            }
        };
        kinds.extend(kind.map(|kind| (checked.header.id, kind)));
    }
    Ok(kinds)
}

/// For each offer whether it is believed, and the roster that they make together. Begins with the devices that are
/// known, and goes on with those that believed ones add: a device can never vouch for itself, save the founder.
fn believed(
    books: &Books<'_>,
    offers: &[Offer],
    founder: Option<PublicKey>,
    may: May<'_>,
) -> Result<(Vec<bool>, Roster), LedgerError> {
    let mut said = SaidOfDevices::held(books)?;
    let mut believed = vec![false; offers.len()];
    loop {
        let roster = Roster::of(&said.devices, &said.left);
        let mut is_new = false;
        for place in 0..offers.len() {
            let offer = &offers[place];
            let follows = offers[..place]
                .iter()
                .zip(&believed)
                .all(|(other, is)| *is || other.device() != offer.device());
            if believed[place] || !follows {
                continue;
            }
            believed[place] = match roster.member(offer.device()) {
                Some(member) => {
                    offer.head.is_of(&member.signs_with)
                        && offer.checked.iter().all(|checked| may(member, checked))
                }
                None => offer.device() == FOUNDER && founder.is_some_and(|key| offer.head.is_of(&key)),
            };
            if believed[place] {
                said.add(offer);
                is_new = true;
            }
        }
        if !is_new {
            return Ok((believed, roster));
        }
    }
}

fn say_why(offer: &Offer, roster: &Roster, may: May<'_>, report: &mut TakenIn) {
    let device = offer.device().to_owned();
    let Some(member) = roster.member(&device) else {
        report.waiting.insert(device, "nobody has said yet that it is a device of the firm".to_owned());
        return;
    };
    let strange = offer.checked.iter().find(|checked| !may(member, checked));
    let problem = if !offer.head.is_of(&member.signs_with) {
        "it is not signed by the device whose letters it bears".to_owned()
    } else if let Some(checked) = strange {
        format!(
            "its entry {} is a {}, which such a device does not record",
            checked.header.device_seq, checked.spec.kind
        )
    } else {
        "what comes before it is not believed".to_owned()
    };
    report.refused.push(RefusedPart { device, device_seq: offer.head.device_seq, problem });
}
