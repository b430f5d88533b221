//! Who a paper is from and whom it is for.

use serde::Serialize;

use super::Photo;

/// The firm whose paper it is.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Firm {
    /// Its name.
    pub name: String,
    /// The street address of its place of business.
    pub street: Option<String>,
    /// Its town.
    pub town: String,
    /// Its state.
    pub state: String,
    /// Its ZIP code.
    pub zip: Option<String>,
    /// Its license, in the words that its state asks for.
    pub license: Option<String>,
    /// Where it can be called.
    pub phone: Option<String>,
    /// Its mark, at the head of the paper.
    pub logo: Option<Photo>,
}

/// A customer or another party, with an address by lines.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Party {
    /// Its name.
    pub name: String,
    /// Street, town and so on, a line each.
    pub lines: Vec<String>,
}
