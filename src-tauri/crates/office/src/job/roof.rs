//! The roof as drawn and the roof as a fact: the same measures, in rows.

use desk::OfficeError;
use jiff::civil::Date;
use ledger::facts::{Roof as RoofFact, RoofCorner, RoofEdge, RoofFeature, RoofSection};
use ledger::{Books, Id};
use trade::Qty;
use trade::roof::{Corner, Feature, House, Measured, Point, Roof, Section, Typed, TypedEdge};

/// The fact of a roof. What its plan told of the house is written down as it counted that day.
pub(crate) fn to_fact(roof: &Roof, measured: &Measured, north_deg: i64, job: Id, date: Date) -> RoofFact {
    let number = |index: usize| i64::try_from(index + 1).unwrap_or(i64::MAX);
    let named = |name: &str| roof.sections.iter().position(|section| section.name == name).map(number);
    let (mut corners, mut edges) = (Vec::new(), Vec::new());
    for (index, section) in roof.sections.iter().enumerate() {
        corners.extend(section.outline.iter().map(|corner| RoofCorner {
            section: number(index),
            x_in: corner.x_in,
            y_in: corner.y_in,
            edge: corner.edge,
        }));
        let typed = section.typed.iter().flat_map(|typed| &typed.edges);
        edges.extend(typed.map(|edge| RoofEdge {
            section: number(index),
            kind: edge.kind,
            length_ft: edge.length_ft,
        }));
    }
    RoofFact {
        date,
        job,
        stories: roof.house.stories,
        deck: roof.house.deck,
        rafter_spacing_in: roof.house.rafter_spacing_in,
        overhang_in: roof.house.overhang_in,
        wall_thickness_in: roof.house.wall_thickness_in,
        layers: roof.house.layers,
        attic_floor_sqft: measured.attic_floor_sqft,
        climate_zone: roof.house.climate_zone,
        vapor_retarder: roof.house.vapor_retarder,
        high_wind: roof.house.high_wind,
        cut_up: measured.cut_up,
        built_before_1978: roof.house.built_before_1978,
        north_deg,
        sections: roof
            .sections
            .iter()
            .map(|section| RoofSection {
                name: section.name.clone(),
                slope: section.slope,
                area_sqft: section.typed.as_ref().map(|typed| typed.area_sqft),
            })
            .collect(),
        corners,
        edges,
        features: roof
            .features
            .iter()
            .map(|feature| RoofFeature {
                kind: feature.kind,
                section: feature.section.as_deref().and_then(named),
                x_in: feature.at.map(|at| at.x_in),
                y_in: feature.at.map(|at| at.y_in),
                width_in: feature.width_in,
                length_in: feature.length_in,
                count: feature.count,
                free_area_sqin: feature.free_area_sqin,
                vent: feature.vent,
            })
            .collect(),
    }
}

/// The roof of a fact, and where north is.
#[must_use]
pub(crate) fn of_fact(fact: &RoofFact) -> (Roof, i64) {
    let is_of = |section: i64, index: usize| usize::try_from(section).is_ok_and(|number| number == index + 1);
    let name = |section: i64| {
        let index = usize::try_from(section).ok()?.checked_sub(1)?;
        fact.sections.get(index).map(|section| section.name.clone())
    };
    let sections = fact.sections.iter().enumerate().map(|(index, section)| {
        let outline = fact.corners.iter().filter(|corner| is_of(corner.section, index));
        let edges = fact.edges.iter().filter(|edge| is_of(edge.section, index));
        Section {
            name: section.name.clone(),
            slope: section.slope,
            outline: outline
                .map(|corner| Corner { x_in: corner.x_in, y_in: corner.y_in, edge: corner.edge })
                .collect(),
            typed: section.area_sqft.map(|area_sqft| Typed {
                area_sqft,
                edges: edges.map(|edge| TypedEdge { kind: edge.kind, length_ft: edge.length_ft }).collect(),
            }),
        }
    });
    let point = |x: Option<Qty>, y: Option<Qty>| Some(Point { x_in: x?, y_in: y? });
    let features = fact.features.iter().map(|feature| Feature {
        kind: feature.kind,
        section: feature.section.and_then(name),
        at: point(feature.x_in, feature.y_in),
        width_in: feature.width_in,
        length_in: feature.length_in,
        count: feature.count,
        free_area_sqin: feature.free_area_sqin,
        vent: feature.vent,
    });
    let roof = Roof {
        sections: sections.collect(),
        features: features.collect(),
        house: House {
            stories: fact.stories,
            deck: fact.deck,
            rafter_spacing_in: fact.rafter_spacing_in,
            overhang_in: fact.overhang_in,
            wall_thickness_in: fact.wall_thickness_in,
            layers: fact.layers,
            attic_floor_sqft: Some(fact.attic_floor_sqft),
            climate_zone: fact.climate_zone,
            vapor_retarder: fact.vapor_retarder,
            high_wind: fact.high_wind,
            cut_up: Some(fact.cut_up),
            built_before_1978: fact.built_before_1978,
        },
    };
    (roof, fact.north_deg)
}

/// The newest live roof of a job, and where north is.
pub(crate) fn measured_roof(books: Books<'_>, job: Id) -> Result<Option<(Roof, i64)>, OfficeError> {
    let newest = books.by(RoofFact::job, job)?.into_iter().max_by_key(|held| (held.fact.date, held.entry.id));
    Ok(newest.map(|held| of_fact(&held.fact)))
}
