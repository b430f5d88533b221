//! Whatever takes in what somebody else wrote.

use crate::liar::Liar;
use crate::mutate;
use acceptance::dice::Dice;
use exchange::{Content, DeviceSecrets, Store, pack, unpack};
use intake::{Choices, DateOrder, Kind};
use ledger::{ChainPart, Digest};
use office::{Clock, Desk, Estimate, Recorder, booked_months, loose_ends, month_end};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use trade::roof::Roof;

/// Something that takes inputs.
pub(crate) trait Reader {
    /// Its word.
    fn kind(&self) -> &'static str;
    /// An input.
    fn input(&self, dice: &mut Dice) -> Vec<u8>;
    /// Gives it an input. Answers whether it was taken.
    fn read(&mut self, input: &[u8]) -> bool;
    /// What was taken has spoiled nothing.
    fn is_sound(&mut self);
}

/// The made-up firm, as the newest golden file keeps it, with its owner at the desk on its last day.
struct Firm {
    _home: tempfile::TempDir,
    path: PathBuf,
    desk: Desk,
}

impl Firm {
    fn new() -> Firm {
        let home = tempfile::tempdir().expect("a folder");
        let path = home.path().join("firm.tearoff");
        let golden = format!("golden/{}.tearoff.zst", ledger::open::known_version());
        let packed =
            std::fs::File::open(Path::new(env!("CARGO_MANIFEST_DIR")).join(golden)).expect("it is kept");
        std::fs::write(&path, zstd::decode_all(packed).expect("it unpacks")).expect("a file");
        let clock = Clock::fixed("2026-11-04T13:00:00Z".parse().expect("a moment"));
        let desk = Desk::open(&path, clock).expect("the made-up firm");
        Firm { _home: home, path, desk }
    }

    /// Every report of every month can be made, and nothing reads otherwise than it was written.
    fn is_sound(&self) {
        let (mut month, last) = booked_months(&self.desk).expect("months").expect("some");
        while month <= last {
            month_end(&self.desk, month).unwrap_or_else(|error| panic!("{month}: {error}"));
            loose_ends(&self.desk, month).unwrap_or_else(|error| panic!("{month}: {error}"));
            month = month.next();
        }
        let verdict = ledger::verify(&self.path, &mut |_| true).expect("a verdict");
        // Its papers were not kept with it.
        assert!(verdict.is_good_but_for_files(), "{:#?}", verdict.problems);
    }
}

/// The lines of the made-up firm's own facts.
fn lines() -> Vec<Value> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../sample-data");
    let mut files: Vec<PathBuf> =
        std::fs::read_dir(folder).expect("the sample").map(|file| file.expect("a file").path()).collect();
    files.sort();
    let texts = files.iter().filter(|path| path.extension().is_some_and(|end| end == "jsonl"));
    let texts: Vec<String> = texts.map(|path| std::fs::read_to_string(path).expect("a file")).collect();
    texts.iter().flat_map(|text| text.lines()).map(|line| serde_json::from_str(line).expect("JSON")).collect()
}

/// Facts as the recorder reads them, of every kind alike.
struct Facts {
    firm: Firm,
    of_kinds: Vec<Vec<Value>>,
    made: u64,
}

pub(crate) fn facts() -> impl Reader {
    let mut kinds = std::collections::BTreeMap::<String, Vec<Value>>::new();
    for line in lines() {
        if let Some(kind) = line["kind"].as_str() {
            kinds.entry(kind.to_owned()).or_default().push(line);
        }
    }
    Facts { firm: Firm::new(), of_kinds: kinds.into_values().collect(), made: 0 }
}

impl Reader for Facts {
    fn kind(&self) -> &'static str {
        "facts"
    }

    fn input(&self, dice: &mut Dice) -> Vec<u8> {
        let (of_kind, of_another) = (dice.one_of(&self.of_kinds), dice.one_of(&self.of_kinds));
        let (mut base, other) = (dice.one_of(of_kind).clone(), dice.one_of(of_another));
        // In the open month, so that it is not refused for its day alone.
        if base.get("date").is_some() && dice.below(4) > 0 {
            base["date"] = json!("2026-11-04");
        }
        mutate::value(&base, other, dice).to_string().into_bytes()
    }

    fn read(&mut self, input: &[u8]) -> bool {
        let Ok(fact) = serde_json::from_slice::<Value>(input) else { return false };
        let taken = Recorder::default().record(&mut self.firm.desk, fact).is_ok();
        if taken {
            self.made += 1;
            let (_, last) = booked_months(&self.firm.desk).expect("months").expect("some");
            month_end(&self.firm.desk, last).unwrap_or_else(|error| panic!("{last}: {error}"));
        }
        taken
    }

    fn is_sound(&mut self) {
        self.firm.is_sound();
    }
}

/// CSV of every kind, statements, and roofs as measured.
struct Tables {
    firm: Firm,
}

pub(crate) fn tables() -> impl Reader {
    Tables { firm: Firm::new() }
}

const OFX: &str = "OFXHEADER:100\nDATA:OFXSGML\nVERSION:102\nSECURITY:NONE\nENCODING:USASCII\nCHARSET:1252\n\
    COMPRESSION:NONE\nOLDFILEUID:NONE\nNEWFILEUID:NONE\n\n<OFX>\n<SIGNONMSGSRSV1><SONRS><STATUS><CODE>0<SEVERITY>INFO\
    </STATUS><DTSERVER>20261102\n<LANGUAGE>ENG</SONRS></SIGNONMSGSRSV1>\n<BANKMSGSRSV1><STMTTRNRS><TRNUID>0\n<STMTRS>\
    <CURDEF>USD\n<BANKACCTFROM><BANKID>000000000<ACCTID>000123454471<ACCTTYPE>CHECKING</BANKACCTFROM>\n<BANKTRANLIST>\
    <DTSTART>20261101<DTEND>20261130\n<STMTTRN>\n<TRNTYPE>OTHER\n<DTPOSTED>20261104\n<TRNAMT>+150.00\n<FITID>a1\n<NAME>\
    Deposit &amp; more\n</STMTTRN>\n</BANKTRANLIST>\n<LEDGERBAL><BALAMT>79518.61<DTASOF>20261130</LEDGERBAL>\n</STMTRS>\
    </STMTTRNRS></BANKMSGSRSV1></OFX>\n";

/// A whole file of each kind: the word of the kind, a line's end, and the file.
const TABLES: [&str; 9] = [
    "customers\nName,Address,Phone,Email\nIda Vale,\"4 Mill Lane, Ashby\",555-0100,ida@example.org\nOl Marsh,,,\n",
    "jobs\nNumber,Title,Customer,Site,Date\n26-101,Porch,Hester Vane,4 Mill Lane,2026-11-04\n",
    "bills\nVendor;Reference;Date;Job;Code;Kind;Description;Quantity;Unit price;Amount\n\
     Millrace Haulage;901;04.11.2026;26-013;tear;disposal;Load;1,5;20,00;30,00\n",
    "hours\nDate,Person,Job,Code,Hours\n\
     3/24/2026,Petra Lundgate,26-013,tear,2\n11/4/2026,Petra Lundgate,26-013,tear,7.5\n",
    "payments\nDate,Customer,Amount,Method\n2026-11-04,Hester Vane,1200.50,check\n",
    "prices\nItem,Description,Unit,Price\nlaminated,Shingle,bundle,38.25\n",
    "bank\nDate,Words,Amount,Balance\n2026-11-25,Check 640,-300.00,79068.61\n2026-11-27,Put in,500.00,79568.61\n",
    OFX,
    "roof\nSection,Slope,Area,Eave,Rake,Ridge\nfront,6/12,640,40,16,40\nback,6/12,640,40,16,40\n",
];

impl Reader for Tables {
    fn kind(&self) -> &'static str {
        "tables"
    }

    fn input(&self, dice: &mut Dice) -> Vec<u8> {
        let whole = (*dice.one_of(&TABLES)).to_owned();
        let other = dice.one_of(&TABLES).as_bytes();
        let whole = if whole.starts_with("OFX") { format!("bank\n{whole}") } else { whole };
        let (kind, file) = whole.split_once('\n').expect("its kind");
        let file = if dice.below(12) == 0 {
            file.as_bytes().to_vec()
        } else {
            mutate::bytes(file.as_bytes(), other, dice)
        };
        [kind.as_bytes(), b"\n", &file].concat()
    }

    fn read(&mut self, input: &[u8]) -> bool {
        let Some(end) = input.iter().position(|byte| *byte == b'\n') else { return false };
        let (kind, file) = (std::str::from_utf8(&input[..end]).unwrap_or(""), &input[end + 1..]);
        if kind == "roof" {
            return intake::roof(file, &Choices::default()).problems.is_empty();
        }
        let Ok(kind) = Kind::parse(kind) else { return false };
        let choices = Choices {
            date_order: Some(DateOrder::MonthFirst),
            make_missing: true,
            closing_balance: Some(office::Money::ZERO),
            ..Choices::default()
        };
        let mut taken = false;
        for choices in [Choices::default(), choices] {
            let parsed = intake::read(kind, file, &choices);
            let _ = intake::recall(&self.firm.desk, kind, file);
            let _ = intake::preview(&self.firm.desk, &parsed);
            taken |= intake::apply(&mut self.firm.desk, &parsed, &mut |_| true).is_ok();
        }
        taken
    }

    fn is_sound(&mut self) {
        self.firm.is_sound();
    }
}

/// Parcels as a store or a stick brings them, and what stands in one that a device of the firm has locked.
struct Parcels {
    devices: Vec<crate::firm::Device>,
    locked: Vec<Vec<u8>>,
    open: Vec<Vec<u8>>,
}

pub(crate) fn parcels() -> impl Reader {
    let dice = Liar::new(1);
    let store = dice.honest();
    let mut devices = crate::firm::firm();
    crate::firm::settle(&mut devices, &store);
    // The tablet's and the bookkeeper's newest facts are in the store, and the owner has not fetched them yet.
    for device in [1, 2] {
        for _ in 0..6 {
            devices[device].something_happens(&dice);
        }
        devices[device].takes_a_photo(&dice);
        crate::firm::exchange(&mut devices[device], &store);
    }
    let names = store.list("parcels/").expect("a list");
    let locked: Vec<Vec<u8>> = names.iter().filter_map(|name| store.get(name).expect("it")).collect();
    let owner = &devices[0];
    let opened = locked.iter().filter_map(|bytes| opened(bytes, &owner.secrets));
    let open = opened.map(|content| postcard::to_stdvec(&content).expect("bytes")).collect();
    Parcels { devices, locked, open }
}

/// What a parcel holds, by whomever it is signed.
fn opened(bytes: &[u8], secrets: &DeviceSecrets) -> Option<Content> {
    let name = Digest::of(bytes).to_string();
    unpack(&name, bytes, secrets, &|_| None).ok().map(|(_, content)| content)
}

impl Parcels {
    fn take(&mut self, part: ChainPart) -> bool {
        let at = self.devices[0].tick();
        let ledger = self.devices[0].desk.ledger().expect("a writer");
        let came = ledger.take_in(&[part], at, &|_, _| true).expect("the disk is well");
        // Right whole, whether or not it had come before: each is new only once.
        came.refused.is_empty() && came.waiting.is_empty() && came.forks.is_empty()
    }
}

impl Reader for Parcels {
    fn kind(&self) -> &'static str {
        "parcels"
    }

    /// The first byte says whether what follows is locked.
    fn input(&self, dice: &mut Dice) -> Vec<u8> {
        let is_open = dice.below(5) > 0;
        let all = if is_open { &self.open } else { &self.locked };
        let (whole, other) = (dice.one_of(all), dice.one_of(all));
        // Keys are new in each run and with them the order of the parcels, so that no seed settles which are whole.
        let bytes = if dice.below(4) == 0 { whole.clone() } else { mutate::bytes(whole, other, dice) };
        [&[u8::from(is_open)], bytes.as_slice()].concat()
    }

    fn read(&mut self, input: &[u8]) -> bool {
        let Some((is_open, bytes)) = input.split_first() else { return false };
        let content = match is_open {
            0 => opened(bytes, &self.devices[0].secrets),
            _ => postcard::from_bytes(bytes).ok(),
        };
        let Some(content) = content else { return false };
        // A device of the firm may pack whatever it likes.
        let to = self.devices[0].secrets.locks_with();
        let again = pack("C", &self.devices[2].secrets, &content, &[&to]).expect("a parcel");
        match opened(&again.bytes, &self.devices[0].secrets) {
            Some(Content::Chain(part)) => self.take(part),
            _ => false,
        }
    }

    fn is_sound(&mut self) {
        let verdict = ledger::verify(&self.devices[0].desk.path(), &mut |_| true).expect("a verdict");
        // Photos of what came by hand lie where they were taken.
        assert!(verdict.is_good_but_for_files(), "{:#?}", verdict.problems);
    }
}

/// Roofs as they are drawn and typed, alone and within an estimate.
struct Roofs {
    firm: Firm,
    estimate: Value,
    roofs: Vec<Value>,
}

/// A job of the made-up firm without a contract.
const JOB: &str = "26-024";

pub(crate) fn roofs() -> impl Reader {
    let firm = Firm::new();
    let begun = office::begin(&firm.desk, JOB, None).expect("an estimate");
    let estimate = serde_json::to_value(begun).expect("JSON");
    let roofs = lines().iter().map(|line| line["draft"]["roof"].clone()).filter(Value::is_object).collect();
    Roofs { firm, estimate, roofs }
}

impl Reader for Roofs {
    fn kind(&self) -> &'static str {
        "roofs"
    }

    fn input(&self, dice: &mut Dice) -> Vec<u8> {
        let (roof, other) = (dice.one_of(&self.roofs), dice.one_of(&self.roofs));
        if dice.below(4) > 0 {
            return mutate::value(roof, other, dice).to_string().into_bytes();
        }
        let mut estimate = self.estimate.clone();
        estimate["roof"] = roof.clone();
        mutate::value(&estimate, other, dice).to_string().into_bytes()
    }

    fn read(&mut self, input: &[u8]) -> bool {
        let Ok(value) = serde_json::from_slice::<Value>(input) else { return false };
        if let Ok(roof) = serde_json::from_value::<Roof>(value.clone()) {
            return trade::roof::measure(&roof).is_ok();
        }
        let Ok(estimate) = serde_json::from_value::<Estimate>(value) else { return false };
        office::calculate(&self.firm.desk, JOB, &estimate).is_ok()
    }

    fn is_sound(&mut self) {}
}
