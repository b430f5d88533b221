//! The roof as measured, what it is built of, what that costs, and what the code and the house ask.

use crate::id::Id;
use crate::kind::{fact, row};
use jiff::civil::Date;
use trade::{
    CostKind, CutUp, DeckKind, EdgeKind, FeatureKind, Item, Origin, Qty, Rate, ShingleKind, Steepness, Topic,
};

row! {
    /// A color that a part comes in.
    PartColor in "part_color" {
        /// As it is ordered.
        color: String => open,
    } lists {}
}
fact! {
    /// A part as the firm buys it: which item of a roof it is bought for, and how it is packaged.
    Part as "part" in "part" {
        /// The first version, when this is a later one.
        revises: Option<Id> => open,
        /// A short word of the firm's own.
        name: String => open,
        /// What it is.
        title: String => open,
        /// The item of a roof that it is bought for.
        item: Item => open,
        /// The code it is charged to.
        code: Id => open,
        /// Kind of cost.
        cost_kind: CostKind => open,
        /// What it is bought in: bundle, roll, piece.
        package: String => open,
        /// How much of the item one package covers, in the item's measure.
        covers: Qty => open,
        /// What its shingles are.
        shingle: Option<ShingleKind> => open,
        /// Pieces in a square.
        pieces_per_square: Option<Qty> => open,
        /// Inches of a piece that the weather sees; of starter, inches of the edge that a piece runs along.
        exposure_in: Option<Qty> => open,
        /// Nails in each piece; of underlayment, in each square.
        nails_each: Option<Qty> => open,
        /// Net free area in square inches of a vent, each piece or each foot.
        free_area_sqin: Option<Qty> => open,
        /// Cubic feet of air a minute that a power vent moves.
        cfm: Option<Qty> => open,
        /// The product line it belongs to.
        product_line: Option<String> => open,
        /// No longer offered.
        #[serde(default)]
        retired: bool => open,
    } with {
        /// The colors it comes in; none where it has no choice of them.
        colors: PartColor,
    }
}
fact! {
    /// The color of a part, chosen with the homeowner after the contract. The newest one holds.
    ColorChoice as "color-choice" in "color_choice" {
        /// When.
        date: Date => open,
        /// The job.
        job: Id => open,
        /// The part.
        part: Id => open,
        /// The color.
        color: String => open,
        /// Who chose it.
        chosen_by: String => open,
    }
}
fact! {
    /// What a package of a part costs from a day on, at a vendor.
    PartPrice as "part-price" in "part_price" {
        /// From this day.
        date: Date,
        /// The part.
        part: Id,
        /// The vendor; absent where the firm sets the price itself.
        vendor: Option<Id>,
        /// Dollars a package, before tax.
        price: Rate,
    }
}
fact! {
    /// How many hours of work one measure of an item takes, from a day on.
    ProductionRate as "production-rate" in "production_rate" {
        /// From this day.
        date: Date,
        /// The item.
        item: Item,
        /// How steep.
        steepness: Steepness,
        /// On houses of this many stories and more.
        stories: i64,
        /// The code the hours are charged to.
        code: Id,
        /// Hours for one measure of the item.
        hours: Rate,
    }
}
fact! {
    /// What the code or the company standard asks of a topic, from a day on.
    Standard as "standard" in "standard" {
        /// From this day.
        date: Date => open,
        /// The topic.
        topic: Topic => open,
        /// Who asks.
        origin: Origin => open,
        /// How much.
        value: Qty => open,
        /// Where it is written.
        source: Option<String> => open,
    }
}
row! {
    /// A section of the roof: one plane.
    RoofSection in "roof_section" {
        /// Name.
        name: String => open,
        /// Rise in 12.
        slope: Qty => open,
        /// Its area on the slope, where it was measured by hand and not drawn.
        area_sqft: Option<Qty> => open,
    } lists {}
}
row! {
    /// A corner of a drawn section, seen from above.
    RoofCorner in "roof_corner" {
        /// The section, from 1.
        section: i64 => open,
        /// Inches to the right.
        x_in: Qty => open,
        /// Inches up the sheet.
        y_in: Qty => open,
        /// The edge from this corner to the next.
        edge: EdgeKind => open,
    } lists {}
}
row! {
    /// An edge of a section measured by hand.
    RoofEdge in "roof_edge" {
        /// The section, from 1.
        section: i64 => open,
        /// What it is.
        kind: EdgeKind => open,
        /// Its true length in feet.
        length_ft: Qty => open,
    } lists {}
}
row! {
    /// Something that comes through the roof or stands at it.
    RoofFeature in "roof_feature" {
        /// What.
        kind: FeatureKind => open,
        /// The section, from 1.
        section: Option<i64> => open,
        /// Inches to the right.
        x_in: Option<Qty> => open,
        /// Inches up the sheet.
        y_in: Option<Qty> => open,
        /// Width in inches.
        width_in: Option<Qty> => open,
        /// Length up the slope in inches.
        length_in: Option<Qty> => open,
        /// How many alike.
        count: i64 => open,
        /// Net free area of a vent that stays, in square inches each.
        free_area_sqin: Option<Qty> => open,
        /// What kind of vent stays.
        vent: Option<Item> => open,
    } lists {}
}
fact! {
    /// A job's roof as measured. The newest one counts.
    Roof as "roof" in "roof" {
        /// When.
        date: Date => open,
        /// The job.
        job: Id => open,
        /// Stories.
        stories: i64 => open,
        /// What the deck is made of.
        deck: DeckKind => open,
        /// Inches from rafter to rafter.
        rafter_spacing_in: Qty => open,
        /// Inches from the wall's face to the eave, level.
        overhang_in: Qty => open,
        /// Inches through the exterior wall.
        wall_thickness_in: Qty => open,
        /// Layers to tear off.
        layers: i64 => open,
        /// Attic floor under the roof.
        attic_floor_sqft: Qty => open,
        /// Climate zone, 1 to 8; absent where nobody has looked it up.
        climate_zone: Option<i64> => open,
        /// A class I or II vapor retarder lies on the warm side of the attic floor.
        vapor_retarder: bool => open,
        /// Wind so high that the shingles' maker asks for more nails.
        high_wind: bool => open,
        /// How cut-up it is.
        cut_up: CutUp => open,
        /// Built before 1978: paint may hold lead.
        built_before_1978: bool => open,
        /// Degrees clockwise from the top of the sheet to north.
        north_deg: i64 => open,
    } with {
        /// Its planes.
        sections: RoofSection,
        /// Corners of those that were drawn.
        corners: RoofCorner,
        /// Edges of those that were measured by hand.
        edges: RoofEdge,
        /// What stands on it.
        features: RoofFeature,
    }
}
