//! Reading a printed paper back, with a reader of PDF that knows nothing of ours.

use pdf_extract::content::Content;
use pdf_extract::{Dictionary, Document, Object};
use serde_json::Value;

/// All the text of a paper.
pub(crate) fn text(bytes: &[u8]) -> String {
    pdf_extract::extract_text_from_mem(bytes).unwrap()
}

pub(crate) fn pages(bytes: &[u8]) -> usize {
    Document::load_mem(bytes).unwrap().get_pages().len()
}

/// How many pictures of dots it holds.
pub(crate) fn pictures(bytes: &[u8]) -> usize {
    let document = Document::load_mem(bytes).unwrap();
    let streams = document.objects.values().filter_map(|object| object.as_stream().ok());
    let is_picture =
        |dict: &Dictionary| dict.get(b"Subtype").and_then(Object::as_name).is_ok_and(|name| name == b"Image");
    streams.filter(|stream| is_picture(&stream.dict)).count()
}

/// Text without its spaces and places to break: where a line ends is the page's business.
pub(crate) fn bare(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_whitespace() && *letter != '\u{200b}').collect()
}

pub(crate) fn holds(text: &str, words: &str) -> bool {
    bare(text).contains(&bare(words))
}

/// The names of fields that are kept for the machine, or choose words of the paper's own; and shares, which a test of
/// their own looks for.
const UNSHOWN: &[&str] = &[
    "photo_file",
    "alt",
    "marks",
    "kind",
    "about",
    "choice",
    "drawn",
    "outline",
    "from",
    "to",
    "x",
    "y",
    "rate",
    "share",
    "markup",
    "recovery",
];

/// Every text and number of a paper's data that is to be read on it.
pub(crate) fn strings(data: &Value) -> Vec<String> {
    match data {
        Value::String(text) => vec![text.clone()],
        Value::Array(values) => values.iter().flat_map(strings).collect(),
        Value::Object(fields) => {
            let shown = fields.iter().filter(|(name, value)| {
                // An edge's spots are drawn; the ends of a walk are amounts.
                !UNSHOWN.contains(&name.as_str())
                    || (matches!(name.as_str(), "from" | "to") && value.is_string())
                    || (name.as_str() == "kind" && fields.contains_key("length_words"))
            });
            // Where a piece lies on its sheet is drawn, and so are the sections' corners.
            shown
                .filter(|(name, _)| !name.ends_with("_in") || !name.starts_with(['x', 'y']))
                .flat_map(|(_, value)| strings(value))
                .collect()
        }
        Value::Null | Value::Bool(_) | Value::Number(_) => Vec::new(),
    }
}

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// How a value of the data is written on paper: amounts, dates and numbers in the house's way, words as they are.
/// Written apart from the templates, on purpose.
pub(crate) fn as_shown(value: &str) -> String {
    let plain = value.strip_prefix('-').unwrap_or(value);
    let sign = if plain.len() == value.len() { "" } else { "−" };
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    if let [year, month, day] = value.split('-').collect::<Vec<_>>()[..]
        && digits(year)
        && year.len() == 4
        && digits(month)
        && digits(day)
    {
        let month = MONTHS[month.parse::<usize>().unwrap() - 1];
        return format!("{month} {}, {year}", day.parse::<u32>().unwrap());
    }
    match plain.split_once('.') {
        Some((whole, cents)) if digits(whole) && digits(cents) && cents.len() == 2 => {
            format!("{sign}${}.{cents}", in_threes(whole))
        }
        // Shares and unit prices are shown as such; their digits are looked for by tests of their own.
        Some((whole, decimals)) if digits(whole) && digits(decimals) => String::new(),
        None if digits(plain) && plain.len() > 3 => in_threes(plain),
        _ if digits(plain) => format!("{sign}{plain}"),
        _ => value.to_owned(),
    }
}

fn in_threes(whole: &str) -> String {
    let mut out = String::new();
    for (at, digit) in whole.chars().enumerate() {
        if at > 0 && (whole.len() - at).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

/// How many letters of the page that holds these words are set in bold of at least so many points.
#[expect(clippy::float_arithmetic, reason = "the size of letters in a PDF is a float")]
pub(crate) fn bold_letters(bytes: &[u8], words: &str, points: f32) -> usize {
    let document = Document::load_mem(bytes).unwrap();
    let texts = pdf_extract::extract_text_from_mem_by_pages(bytes).unwrap();
    let at = texts.iter().position(|text| holds(text, words)).unwrap();
    let page = *document.get_pages().values().nth(at).unwrap();
    let fonts = document.get_page_fonts(page).unwrap();
    let content = Content::decode(&document.get_page_content(page).unwrap()).unwrap();
    let number = |object: &Object| object.as_float().unwrap_or_default();
    let (mut bold, mut size, mut scale, mut letters) = (false, 0.0, 1.0, 0);
    for operation in &content.operations {
        let operands = &operation.operands;
        match operation.operator.as_str() {
            "Tf" => {
                let font = operands[0].as_name().unwrap();
                bold = name_of(fonts[font], b"BaseFont").contains("Bold");
                size = number(&operands[1]);
            }
            "Tm" => scale = number(&operands[0]),
            "Tj" | "TJ" if bold && size * scale >= points => {
                letters += operands.iter().map(glyphs).sum::<usize>();
            }
            _ => {}
        }
    }
    letters
}

/// How many letters an operand shows: each has two bytes.
fn glyphs(shown: &Object) -> usize {
    match shown {
        Object::String(bytes, _) => bytes.len() / 2,
        Object::Array(items) => items.iter().map(glyphs).sum(),
        _ => 0,
    }
}

fn name_of(dictionary: &Dictionary, key: &[u8]) -> String {
    match dictionary.get(key) {
        Ok(Object::Name(name)) => String::from_utf8_lossy(name).into_owned(),
        _ => String::new(),
    }
}

/// What PDF/UA-1 asks of the file and a reader of PDF can check: marked, tagged, a language, a title that is shown, the
/// mark of the standard, fonts inside; one heading of the first level before any deeper; headings on every table; words
/// for every picture.
pub(crate) fn assert_accessible(bytes: &[u8], name: &str) {
    let document = Document::load_mem(bytes).unwrap();
    let catalog = document.catalog().unwrap();
    let inside = |key: &[u8]| document.get_dict_in_dict(catalog, key).unwrap();
    assert!(inside(b"MarkInfo").get(b"Marked").unwrap().as_bool().unwrap(), "{name}: not marked");
    assert!(
        inside(b"ViewerPreferences").get(b"DisplayDocTitle").unwrap().as_bool().unwrap(),
        "{name}: no title"
    );
    assert_eq!(catalog.get(b"Lang").unwrap().as_str().unwrap(), b"en-US", "{name}");
    let metadata = document.get_object(catalog.get(b"Metadata").unwrap().as_reference().unwrap()).unwrap();
    let stream = metadata.as_stream().unwrap();
    let content = stream.decompressed_content().unwrap_or_else(|_| stream.content.clone());
    let xmp = String::from_utf8(content).unwrap();
    assert!(xmp.contains("<pdfuaid:part>1</pdfuaid:part>"), "{name}: not PDF/UA-1:\n{xmp}");
    assert!(xmp.contains("dc:title"), "{name}: no title:\n{xmp}");

    let mut tags = Vec::new();
    walk(&document, catalog.get(b"StructTreeRoot").unwrap(), &mut tags);
    let mut deepest = 0;
    for (tag, has_words) in &tags {
        if let Some(level) = tag.strip_prefix('H').and_then(|level| level.parse::<u32>().ok()) {
            assert!(level <= deepest + 1, "{name}: a heading of level {level} after level {deepest}");
            deepest = level;
        }
        assert!(tag != "Figure" || *has_words, "{name}: a picture without words");
    }
    let count = |wanted: &str| tags.iter().filter(|(tag, _)| tag == wanted).count();
    assert!(count("H1") > 0, "{name}: no heading");
    assert!(count("TH") >= count("Table"), "{name}: a table without headings");
    for object in document.objects.values() {
        if let Ok(dictionary) = object.as_dict()
            && name_of(dictionary, b"Type") == "FontDescriptor"
        {
            let embedded = [&b"FontFile"[..], b"FontFile2", b"FontFile3"];
            assert!(embedded.iter().any(|key| dictionary.has(key)), "{name}: a font is not inside");
        }
    }
}

/// The tags of the structure tree in reading order, each with whether it has words for a picture.
fn walk(document: &Document, object: &Object, tags: &mut Vec<(String, bool)>) {
    match object {
        Object::Reference(id) => walk(document, document.get_object(*id).unwrap(), tags),
        Object::Array(children) => children.iter().for_each(|child| walk(document, child, tags)),
        Object::Dictionary(dictionary) => {
            if dictionary.has(b"S") {
                tags.push((name_of(dictionary, b"S"), dictionary.has(b"Alt")));
            }
            if let Ok(children) = dictionary.get(b"K") {
                walk(document, children, tags);
            }
        }
        _ => {}
    }
}
