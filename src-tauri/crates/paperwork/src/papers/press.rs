//! The press: a template, its data and its photos become the bytes of a PDF.

use std::sync::LazyLock;

use serde::Serialize;
use serde_json::Value;
use typst::diag::SourceDiagnostic;
use typst::foundations::{Bytes, Smart};
use typst::text::Font;
use typst_as_lib::{TypstAsLibError, TypstEngine};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

use super::letters::Letters;
use super::{Firm, Photo};
use crate::PaperError;

/// Which paper is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Proposal,
    SiteSheet,
    OrderList,
    ChangeOrder,
    Invoice,
    Statement,
    Completion,
    MonthEnd,
    Insulation,
    Lead,
}

impl Kind {
    /// What the paper is called in a sentence.
    fn name(self) -> &'static str {
        match self {
            Kind::Proposal => "proposal",
            Kind::SiteSheet => "site sheet",
            Kind::OrderList => "order list",
            Kind::ChangeOrder => "change order",
            Kind::Invoice => "invoice",
            Kind::Statement => "statement",
            Kind::Completion => "completion packet",
            Kind::MonthEnd => "month-end pack",
            Kind::Insulation => "insulation receipt",
            Kind::Lead => "lead pamphlet receipt",
        }
    }

    /// The template's name and text.
    fn template(self) -> (&'static str, &'static str) {
        match self {
            Kind::Proposal => ("proposal.typ", include_str!("../../papers/proposal.typ")),
            Kind::SiteSheet => ("site-sheet.typ", include_str!("../../papers/site-sheet.typ")),
            Kind::OrderList => ("order-list.typ", include_str!("../../papers/order-list.typ")),
            Kind::ChangeOrder => ("change-order.typ", include_str!("../../papers/change-order.typ")),
            Kind::Invoice => ("invoice.typ", include_str!("../../papers/invoice.typ")),
            Kind::Statement => ("statement.typ", include_str!("../../papers/statement.typ")),
            Kind::Completion => ("completion.typ", include_str!("../../papers/completion.typ")),
            Kind::MonthEnd => ("month-end.typ", include_str!("../../papers/month-end.typ")),
            Kind::Insulation => ("insulation.typ", include_str!("../../papers/insulation.typ")),
            Kind::Lead => ("lead.typ", include_str!("../../papers/lead.typ")),
        }
    }
}

/// What several templates use.
const SHARED: [(&str, &str); 5] = [
    ("figures.typ", include_str!("../../papers/figures.typ")),
    ("common.typ", include_str!("../../papers/common.typ")),
    ("notices.typ", include_str!("../../papers/notices.typ")),
    ("pictures.typ", include_str!("../../papers/pictures.typ")),
    ("system.typ", include_str!("../../papers/system.typ")),
];

/// The only fonts there are: a paper must look the same on every machine.
const FONTS: [&[u8]; 4] = [
    include_bytes!("../../fonts/AtkinsonHyperlegibleNext-Regular.ttf"),
    include_bytes!("../../fonts/AtkinsonHyperlegibleNext-Bold.ttf"),
    include_bytes!("../../fonts/AtkinsonHyperlegibleMono-Regular.ttf"),
    include_bytes!("../../fonts/AtkinsonHyperlegibleMono-Bold.ttf"),
];

/// Reading the fonts takes longer than setting a page, so it is done once.
static CASE: LazyLock<(Vec<Font>, Letters)> = LazyLock::new(|| {
    let fonts: Vec<Font> = FONTS.iter().filter_map(|bytes| Font::new(Bytes::new(*bytes), 0)).collect();
    let letters = Letters::of(&fonts);
    (fonts, letters)
});

/// Prints a paper of the firm. `photos` are those whose names the data holds besides the firm's mark, in the order of
/// the data.
pub(super) fn print<T: Serialize>(
    kind: Kind,
    firm: &Firm,
    data: &T,
    photos: &[&Photo],
) -> Result<Vec<u8>, PaperError> {
    let paper = kind.name();
    let photos: Vec<&Photo> = firm.logo.iter().chain(photos.iter().copied()).collect();
    let photos = photos.as_slice();
    let fault = |problem: String| PaperError::Set { paper, problem };
    let mut value = serde_json::to_value(data).map_err(|error| fault(error.to_string()))?;
    // Made before the files are named, so that it stands for the photos' contents too.
    let ident = blake3::hash(format!("{paper}\n{value}").as_bytes()).to_hex().to_string();

    let files = photo_files(paper, photos)?;
    let (fonts, letters) = &*CASE;
    prepare(&mut value, letters, &files);
    let json = serde_json::to_vec(&value).map_err(|error| fault(error.to_string()))?;

    let binaries = files
        .iter()
        .zip(photos)
        .map(|(file, photo)| (file.path.as_str(), photo.bytes.clone()))
        .chain([("data.json", json)]);
    let engine = TypstEngine::builder()
        .main_file(kind.template())
        .fonts(fonts.iter().cloned())
        .with_static_source_file_resolver(SHARED)
        .with_static_file_resolver(binaries)
        .build();
    let document: PagedDocument = engine.compile().output.map_err(|error| unset(paper, &error, photos))?;

    let standards =
        PdfStandards::new(&[PdfStandard::Ua_1]).map_err(|error| fault(error.message().to_string()))?;
    let options = PdfOptions {
        ident: Smart::Custom(ident),
        creator: Smart::Custom(Some("Tearoff".to_owned())),
        standards,
        ..PdfOptions::default()
    };
    typst_pdf::pdf(&document, &options).map_err(|errors| fault(words_of(&errors)))
}

/// A photo's name in the data and the file that stands for it.
struct PhotoFile {
    hash: String,
    path: String,
}

/// The file of each photo. The names are few and always the same, because the typesetter never forgets a name.
fn photo_files(paper: &'static str, photos: &[&Photo]) -> Result<Vec<PhotoFile>, PaperError> {
    let named = photos.iter().enumerate().map(|(at, photo)| {
        let kind = if photo.bytes.starts_with(b"\xff\xd8\xff") {
            "jpg"
        } else if photo.bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
            "png"
        } else {
            return Err(PaperError::Photo { paper, photo: photo_words(photo, at) });
        };
        let hash = blake3::hash(&photo.bytes).to_hex().to_string();
        Ok(PhotoFile { hash, path: format!("photo-{at}.{kind}") })
    });
    named.collect()
}

/// How an error names a photo.
fn photo_words(photo: &Photo, at: usize) -> String {
    let words = [&photo.caption, &photo.alt].into_iter().find(|words| !words.is_empty());
    words.map_or_else(|| format!("number {}", at + 1), |words| format!("“{words}”"))
}

/// Puts the files' names where the photos' are, and lets only letters through that the fonts have.
fn prepare(value: &mut Value, letters: &Letters, files: &[PhotoFile]) {
    match value {
        Value::String(text) => *text = letters.clean(text),
        Value::Array(values) => values.iter_mut().for_each(|value| prepare(value, letters, files)),
        Value::Object(fields) => {
            for (name, value) in fields.iter_mut() {
                match value {
                    Value::String(hash) if name == "photo_file" => {
                        if let Some(file) = files.iter().find(|file| file.hash == *hash) {
                            *hash = file.path.clone();
                        }
                    }
                    other => prepare(other, letters, files),
                }
            }
        }
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

/// Why a paper could not be set. A photo that begins well and is broken further on shows only here.
fn unset(paper: &'static str, error: &TypstAsLibError, photos: &[&Photo]) -> PaperError {
    let problem = match error {
        TypstAsLibError::TypstSource(diagnostics) => words_of(diagnostics),
        other => other.to_string(),
    };
    if problem.contains("failed to decode image") {
        let photo = match photos {
            [photo] => photo_words(photo, 0),
            _ => "one of its photos".to_owned(),
        };
        return PaperError::Photo { paper, photo };
    }
    PaperError::Set { paper, problem }
}

fn words_of(diagnostics: &[SourceDiagnostic]) -> String {
    let messages: Vec<&str> = diagnostics.iter().map(|diagnostic| diagnostic.message.as_str()).collect();
    messages.join("; ")
}
