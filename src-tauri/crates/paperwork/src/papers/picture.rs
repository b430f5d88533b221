//! What the papers draw: roofs, cut lists, walks, bars and photos.
//!
//! Lengths are inches on the plan or on the sheet; shares of a photo are fractions from 0 (left, top) to 1.

use serde::{Serialize, Serializer};
use trade::{Money, Qty, Rate};

/// A roof seen from above, in inches on the plan: x to the right, y down the sheet as it is drawn.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct RoofPicture {
    /// Its sections. An outline of fewer than three corners is left out.
    pub sections: Vec<SectionShape>,
    /// Its edges, each once.
    pub edges: Vec<EdgeShape>,
    /// What is pinned to a spot of it.
    pub pins: Vec<Pin>,
}

/// One plane of a roof.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SectionShape {
    /// What the section is called.
    pub name: String,
    /// Its corners in order, (x, y) in inches.
    pub outline: Vec<(Qty, Qty)>,
    /// Rise in 12.
    pub slope: Qty,
}

/// A named edge of a roof.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct EdgeShape {
    /// Eave, rake, valley, hip, ridge, roof-to-wall and so on, in words.
    pub kind: String,
    /// Where it begins, (x, y) in inches.
    pub from: (Qty, Qty),
    /// Where it ends.
    pub to: (Qty, Qty),
    /// Its true length in words, such as "16 ft 5 in".
    pub length_words: String,
}

/// A spot on a roof with what is there.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Pin {
    /// Inches from the left.
    pub x: Qty,
    /// Inches from the top.
    pub y: Qty,
    /// What is there.
    pub label: String,
}

/// How sheets are cut, drawn to scale.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CutList {
    /// The sheets, in order.
    pub sheets: Vec<SheetShape>,
    /// A sheet's long side, in inches.
    pub sheet_width_in: Qty,
    /// A sheet's short side, in inches.
    pub sheet_height_in: Qty,
}

/// One sheet with what is cut from it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct SheetShape {
    /// The pieces.
    pub pieces: Vec<PieceShape>,
}

/// One piece on its sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PieceShape {
    /// Its number or letter.
    pub label: String,
    /// Inches from the sheet's left edge.
    pub x_in: Qty,
    /// Inches from the sheet's top edge.
    pub y_in: Qty,
    /// Inches along the sheet's long side.
    pub width_in: Qty,
    /// Inches along the sheet's short side.
    pub height_in: Qty,
}

/// A staircase from one amount to another. The steps are drawn as they come: whoever makes it sees to the sum.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Walk {
    /// What it starts from.
    pub from_label: String,
    /// That amount.
    pub from: Money,
    /// What moved it, in order, and by how much.
    pub steps: Vec<(String, Money)>,
    /// What it ends at.
    pub to_label: String,
    /// That amount.
    pub to: Money,
}

/// Bars with one amount each, to the right of a common line; what is negative goes to its left.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Bars {
    /// What is compared, for the heading of the column of names.
    pub heading: String,
    /// The bars, in order.
    pub rows: Vec<Bar>,
}

/// One bar.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Bar {
    /// Its name.
    pub label: String,
    /// Its length.
    pub amount: Money,
}

/// A photo, or another picture of dots such as a signature.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Photo {
    /// The file: JPEG or PNG, upright.
    #[serde(rename = "photo_file", serialize_with = "name_of_bytes")]
    pub bytes: Vec<u8>,
    /// What stands below it.
    pub caption: String,
    /// What it shows, for who cannot see it. The caption where this is empty.
    pub alt: String,
    /// What was drawn on it.
    pub marks: Vec<Mark>,
}

/// Something drawn on a photo. Spots are fractions of its width and height; what lies outside is drawn at the edge.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Mark {
    /// An arrow to a spot.
    Arrow {
        /// Where it begins, across.
        from_x: Rate,
        /// Where it begins, down.
        from_y: Rate,
        /// Its point, across.
        to_x: Rate,
        /// Its point, down.
        to_y: Rate,
    },
    /// A ring around a spot.
    Ring {
        /// Its middle, across.
        x: Rate,
        /// Its middle, down.
        y: Rate,
        /// Its radius, as a fraction of the photo's width.
        radius: Rate,
    },
    /// A few words beside a spot.
    Note {
        /// Where the words begin, across.
        x: Rate,
        /// Where the words begin, down.
        y: Rate,
        /// The words.
        text: String,
    },
}

/// In the data a photo is named by its contents; the press puts the file's name there.
fn name_of_bytes<S: Serializer>(bytes: &[u8], serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_str(&blake3::hash(bytes).to_hex())
}
