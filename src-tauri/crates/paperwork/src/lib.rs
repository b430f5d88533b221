//! What leaves the building: sets of CSV files that describe themselves, pages of text, and papers as PDF.
//!
//! Typed rows come in and bytes go out. A file is the same bytes whenever it is made of the same rows: nothing here
//! looks at a clock, a locale or the machine. A set is written whole or not at all, and over nothing.
//!
//! **This crate must never** know of the ledger, work a figure out, or decide what belongs in a file: whoever calls
//! it says so.

pub mod csv;
pub mod error;
pub mod folder;
pub mod package;
pub mod page;
pub mod papers;
pub mod single;
pub mod table;

pub use error::{PaperError, PaperworkError};
pub use folder::{Folder, Staged};
pub use package::Package;
pub use page::Page;
pub use table::{Cell, Column, Kind, Link, Table};
