//! What several papers have in common: the firm, the customer, the roof's picture, photos.

use super::document::Document;
use desk::Code;
use desk::Desk;
use desk::OfficeError;
use desk::names::Names;
use ledger::facts::{Customer, Firm as FirmFact, Job};
use ledger::{Digest, Id};
use paperwork::PaperError;
use paperwork::papers::{AgeBucket, EdgeShape, Firm, Party, Photo, Pin, RoofPicture, SectionShape};
use trade::roof::{Measured, Roof};
use trade::{AgeTable, Qty};

/// The job, its customer and the firm's names, as papers name them.
pub(super) struct Heading {
    pub(super) firm: Firm,
    pub(super) customer: Party,
    pub(super) names: Names,
    pub(super) job: Job,
}

impl Heading {
    pub(super) fn of(desk: &Desk, id: Id) -> Result<Heading, OfficeError> {
        let books = desk.books();
        let names = Names::read(books)?;
        let Some(job) = names.jobs.get(&id).cloned() else {
            return Err(OfficeError::not_found("There is no such job.", "Choose one of the list."));
        };
        let firm = firm(desk, &desk::settings::firm_on(books, desk.clock.today())?);
        let customer = names.customers.get(&job.customer).map(party).unwrap_or_default();
        Ok(Heading { firm, customer, names, job })
    }

    /// The state whose law the work is under: where the house stands, which may not be where the firm sits.
    pub(super) fn state(&self) -> &str {
        self.job.state.as_deref().unwrap_or(&self.firm.state)
    }

    /// A name for the file of a paper about this job.
    pub(super) fn document(
        &self,
        what: &str,
        printed: Result<Vec<u8>, PaperError>,
    ) -> Result<Document, OfficeError> {
        document(&format!("{} {what}.pdf", self.job.number), printed)
    }
}

/// A paper under a name that any file system takes.
pub(super) fn document(name: &str, printed: Result<Vec<u8>, PaperError>) -> Result<Document, OfficeError> {
    let name: String =
        name.chars().map(|letter| if "/\\:*?\"<>|".contains(letter) { '-' } else { letter }).collect();
    let bytes = printed.map_err(|error| OfficeError {
        code: Code::Paper,
        field: None,
        message: error.to_string(),
        remedy: "Nothing was changed.".to_owned(),
    })?;
    Ok(Document { name, bytes })
}

pub(super) fn firm(desk: &Desk, firm: &FirmFact) -> Firm {
    Firm {
        name: firm.name.clone(),
        street: firm.street.clone(),
        town: firm.town.clone(),
        state: firm.state.clone(),
        zip: firm.zip.clone(),
        license: firm.license.clone(),
        phone: firm.phone.clone(),
        logo: firm
            .logo
            .and_then(|logo| photo(desk, logo, ""))
            .map(|mark| Photo { alt: format!("The mark of {}", firm.name), ..mark }),
    }
}

/// What is open by its age, a line each.
pub(super) fn age_buckets(ages: &AgeTable) -> Vec<AgeBucket> {
    ages.rows().map(|(age, amount)| AgeBucket { label: age.label().to_owned(), amount }).collect()
}

pub(super) fn party(customer: &Customer) -> Party {
    let lines = [&customer.address, &customer.phone, &customer.email];
    Party { name: customer.name.clone(), lines: lines.into_iter().flatten().cloned().collect() }
}

/// The roof from above, with its edges named; pins where there are conditions. A roof measured by hand has no
/// picture. The sheet on which it is drawn counts upwards, paper downwards.
pub(super) fn roof_picture(roof: &Roof, measured: &Measured, pins: Vec<Pin>) -> RoofPicture {
    let corners = roof.sections.iter().flat_map(|section| &section.outline);
    let top = corners.map(|corner| corner.y_in).max().unwrap_or_default();
    let down = |y: Qty| top - y;
    let drawn = roof.sections.iter().filter(|section| !section.outline.is_empty());
    let sections = drawn.map(|section| SectionShape {
        name: section.name.clone(),
        outline: section.outline.iter().map(|corner| (corner.x_in, down(corner.y_in))).collect(),
        slope: section.slope,
    });
    let edges = measured.sections.iter().flat_map(|section| &section.edges);
    let edges = edges.filter(|edge| edge.counted_ft.is_positive()).filter_map(|edge| {
        let (from, to) = (edge.from?, edge.to?);
        Some(EdgeShape {
            kind: edge.kind.to_string(),
            from: (from.x_in, down(from.y_in)),
            to: (to.x_in, down(to.y_in)),
            length_words: trade::shown::feet_and_inches(edge.length_ft),
        })
    });
    RoofPicture {
        sections: sections.collect(),
        edges: edges.collect(),
        pins: pins.into_iter().map(|pin| Pin { y: down(pin.y), ..pin }).collect(),
    }
}

/// A photo kept beside the ledger; `None` where its file is not there (a restored copy may lack it, and the paper then
/// says less rather than nothing).
pub(super) fn photo(desk: &Desk, hash: Digest, caption: &str) -> Option<Photo> {
    let (bytes, media_type) = desk::attachments::paper(desk, &hash.to_string()).ok()?;
    let is_picture = media_type == "image/jpeg" || media_type == "image/png";
    is_picture.then(|| Photo {
        bytes,
        caption: caption.to_owned(),
        alt: caption.to_owned(),
        marks: Vec::new(),
    })
}
