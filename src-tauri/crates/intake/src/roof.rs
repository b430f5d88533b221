//! A roof's measures out of a CSV: a row a section, with its area and the lengths of its edges. They become an
//! estimate's sections and no facts, so that there is nothing to hold against the ledger.

use crate::amounts::{self, NoNumber};
use crate::choices::Choices;
use crate::columns::{self, Field, Mapping, Reads};
use crate::problem::{Problem, Problems, Question};
use crate::table::{self, Record, Table};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use trade::Qty;
use trade::roof::{EdgeKind, Section, Typed, TypedEdge};

const fn length(name: &'static str, what: &'static str, headers: &'static [&'static str]) -> Field {
    Field { name, required: false, what, reads: Reads::Quantity, headers }
}

/// The columns there may be, in any order. Their other headers are those under which people write them (common
/// practice, no source).
const FIELDS: [Field; 11] = [
    Field {
        name: "section",
        required: true,
        what: "section's name",
        reads: Reads::Text,
        headers: &["section", "facet", "face", "plane", "name", "section name", "roof section"],
    },
    Field {
        name: "slope",
        required: true,
        what: "slope, the rise in 12",
        reads: Reads::Quantity,
        headers: &["slope", "pitch", "slope in 12", "rise in 12", "rise", "roof pitch", "roof slope"],
    },
    Field {
        name: "area_sqft",
        required: true,
        what: "area in square feet",
        reads: Reads::Quantity,
        headers: &[
            "area sqft",
            "area",
            "area sf",
            "sqft",
            "square feet",
            "area square feet",
            "surface",
            "roof area",
        ],
    },
    length("eave_ft", "length of eaves", &["eave ft", "eave", "eaves", "eaves ft", "eave length"]),
    length(
        "rake_ft",
        "length of rakes",
        &["rake ft", "rake", "rakes", "rakes ft", "rake length", "gable", "gables"],
    ),
    length(
        "valley_ft",
        "length of valleys",
        &["valley ft", "valley", "valleys", "valleys ft", "valley length"],
    ),
    length("hip_ft", "length of hips", &["hip ft", "hip", "hips", "hips ft", "hip length"]),
    length("ridge_ft", "length of ridges", &["ridge ft", "ridge", "ridges", "ridges ft", "ridge length"]),
    length(
        "wall_ft",
        "length of side walls",
        &["wall ft", "wall", "walls", "walls ft", "side wall", "step flashing"],
    ),
    length(
        "headwall_ft",
        "length of head walls",
        &["headwall ft", "headwall", "headwalls", "headwalls ft", "apron"],
    ),
    length(
        "transition_ft",
        "length where the slope changes",
        &["transition ft", "transition", "transitions", "transitions ft", "slope change"],
    ),
];

/// What came of reading a file.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
pub struct RoofFile {
    /// Its sections, as measured by hand; none where anything stands in the way.
    pub sections: Vec<Section>,
    /// Which column holds which field.
    pub mapping: Mapping,
    /// What is wrong, by line and column.
    pub problems: Vec<Problem>,
    /// What has to be asked first.
    pub questions: Vec<Question>,
    /// Headers of columns that were not read.
    pub unread: Vec<String>,
}

/// Reads sections as measured by hand: rise in 12, square feet on the slope, true feet of edge. An empty cell is none
/// of that edge. Of the choices, the separator, the mapping and the style of numbers count.
///
/// All or nothing: with any problem or question there are no sections.
#[must_use]
pub fn roof(bytes: &[u8], choices: &Choices) -> RoofFile {
    let table = match table::read(bytes, choices.separator) {
        Ok(table) => table,
        Err(no_table) => {
            let (problems, questions) = (no_table.problems, no_table.questions);
            return RoofFile { problems, questions, ..RoofFile::default() };
        }
    };
    let mut problems = Problems::default();
    let matched =
        columns::match_up(&FIELDS, "roof measures", &table, choices.mapping.as_ref(), &mut problems);
    let full: Vec<&Record> = table.records.iter().filter(|record| !record.is_blank()).collect();
    let numbers = full.iter().flat_map(|record| {
        let cells = matched.places.iter().filter(|(field, _)| **field != "section");
        cells.filter_map(|(field, place)| Some((record.line, number_in(field, record.cell(*place)?.trim()))))
    });
    let numbers: Vec<(u64, &str)> = numbers.collect();
    let style = amounts::decide(numbers.into_iter(), choices.number_style);
    style.problem.into_iter().for_each(|problem| problems.push(problem));
    let questions: Vec<Question> = matched.questions.into_iter().chain(style.question).collect();
    let mut reading = Reading { table: &table, places: &matched.places, style: style.style, problems };
    if full.is_empty() {
        let (message, remedy) = ("There is no section under the header.", "Add a line for each.");
        reading.problems.push(Problem::of_file(message, remedy));
    }
    let mut names = BTreeSet::new();
    let mut sections = Vec::with_capacity(full.len());
    for record in full {
        let section = reading.section(record);
        if !section.name.is_empty() && !names.insert(section.name.clone()) {
            let message = format!("Another line has the section “{}” too.", section.name);
            reading.wrong(record, "section", &message, "Give each its own name.");
        }
        sections.push(section);
    }
    let problems = reading.problems.finish();
    if !(problems.is_empty() && questions.is_empty()) {
        sections.clear();
    }
    RoofFile { sections, mapping: matched.mapping, problems, questions, unread: matched.unused }
}

/// The number in a cell: of a slope, the rise alone, which may be written `6`, `6/12`, `6:12` or `6 in 12`.
fn number_in<'a>(field: &str, text: &'a str) -> &'a str {
    if field != "slope" {
        return text;
    }
    let text = text.trim_end_matches('"').trim();
    let rise = ["/", ":", "in", "-"].iter().find_map(|sign| {
        let (rise, run) = text.split_once(sign)?;
        (run.trim() == "12").then_some(rise.trim())
    });
    rise.unwrap_or(text)
}

struct Reading<'a> {
    table: &'a Table,
    places: &'a BTreeMap<&'static str, usize>,
    style: Option<amounts::NumberStyle>,
    problems: Problems,
}

impl Reading<'_> {
    fn wrong(&mut self, record: &Record, field: &str, message: &str, remedy: &str) {
        let header = self.places.get(field).and_then(|place| self.table.header.get(*place));
        self.problems.push(Problem::at(record.line, header.map(|cell| cell.trim()), message, remedy));
    }

    /// A figure; what is wrong with it is a problem, and it is zero then.
    fn figure(&mut self, record: &Record, field: &Field) -> Qty {
        let Some(text) = self.places.get(field.name).and_then(|place| record.cell(*place)) else {
            return Qty::ZERO;
        };
        let text = number_in(field.name, text.trim());
        let (message, remedy) = match text {
            "" if !field.required => return Qty::ZERO,
            "" => ("It is missing.".to_owned(), "Type it."),
            text => match amounts::read(text, self.style).map(|plain| Qty::parse(&plain)) {
                Ok(Ok(figure)) if figure.is_negative() => {
                    (format!("{text} is below zero."), "Type it without a minus.")
                }
                Ok(Ok(figure)) if field.required && figure.is_zero() => {
                    ("It is zero.".to_owned(), "Type what was measured.")
                }
                Ok(Ok(figure)) => return figure,
                Ok(Err(error)) => (error.to_string(), ""),
                Err(NoNumber::Open) => return Qty::ZERO,
                Err(NoNumber::Wrong(message, remedy)) => (message, remedy),
            },
        };
        self.wrong(record, field.name, &message, remedy);
        Qty::ZERO
    }

    fn section(&mut self, record: &Record) -> Section {
        let [name, slope, area, lengths @ ..] = &FIELDS;
        let place = self.places.get(name.name).copied();
        let text = place.and_then(|place| record.cell(place)).unwrap_or_default().trim().to_owned();
        if text.is_empty() && place.is_some() {
            self.wrong(record, name.name, "The section has no name.", "Give it one, such as “front”.");
        }
        let slope = self.figure(record, slope);
        let area_sqft = self.figure(record, area);
        let mut edges = Vec::new();
        for field in lengths {
            let length_ft = self.figure(record, field);
            let kind = EdgeKind::parse(field.name.trim_end_matches("_ft"));
            if let (Ok(kind), true) = (kind, length_ft.is_positive()) {
                edges.push(TypedEdge { kind, length_ft });
            }
        }
        Section { name: text, slope, outline: Vec::new(), typed: Some(Typed { area_sqft, edges }) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::amounts::NumberStyle;
    use crate::table::Separator;

    const GOOD: &str = "section,slope,area_sqft,eave_ft,rake_ft,valley_ft,hip_ft,ridge_ft,wall_ft,headwall_ft,\
                        transition_ft\r\nfront,6,\"1,234.5\",40,36.5,,,40,,,\r\nback,6,1180,40,36.5,0,,,,,\r\n";

    fn read(text: &str) -> RoofFile {
        roof(text.as_bytes(), &Choices::default())
    }

    /// The lines and columns of what is wrong, where nothing was taken.
    fn places(text: &str) -> Vec<(Vec<u64>, Option<String>)> {
        let file = read(text);
        assert!(file.sections.is_empty(), "half a roof was taken: {:?}", file.sections);
        file.problems.into_iter().map(|problem| (problem.lines, problem.column)).collect()
    }

    fn at(line: u64, column: &str) -> (Vec<u64>, Option<String>) {
        (vec![line], Some(column.to_owned()))
    }

    #[test]
    fn a_row_a_section_with_the_edges_it_has() {
        let RoofFile { sections, problems, questions, .. } = read(GOOD);
        assert_eq!((problems, questions), (vec![], vec![]));
        assert_eq!(sections.len(), 2);
        let front = &sections[0];
        assert_eq!((front.name.as_str(), front.slope), ("front", Qty::from_e4(60_000)));
        let typed = front.typed.as_ref().unwrap();
        assert_eq!(typed.area_sqft, Qty::from_e4(12_345_000));
        let edges: Vec<_> = typed.edges.iter().map(|edge| (edge.kind, edge.length_ft.to_string())).collect();
        let wanted = [(EdgeKind::Eave, "40"), (EdgeKind::Rake, "36.5"), (EdgeKind::Ridge, "40")];
        assert_eq!(edges, wanted.map(|(kind, feet)| (kind, feet.to_owned())));
        assert_eq!(sections[1].typed.as_ref().unwrap().edges.len(), 2);
    }

    #[test]
    fn columns_may_stand_in_any_order_and_some_may_be_left_out() {
        let RoofFile { sections, problems, .. } = read("\u{feff}Area_sqft, Slope ,section\n900,4,shed\n\n");
        assert_eq!(problems, []);
        assert_eq!(sections[0].name, "shed");
        assert_eq!(sections[0].typed.as_ref().unwrap().area_sqft, Qty::from_e4(9_000_000));
    }

    #[test]
    fn what_is_wrong_is_named_by_line_and_column_and_nothing_is_taken() {
        let text = "section,slope,area_sqft,eave_ft\nfront,6,1200,40\n,6,900,x\nfront,,-3,1\n";
        assert_eq!(
            places(text),
            [at(3, "section"), at(3, "eave_ft"), at(4, "slope"), at(4, "area_sqft"), at(4, "section")]
        );
        assert_eq!(places("section,slope,area_sqft\na,6,100\na,6,100\n"), [at(3, "section")]);
        assert_eq!(places("section,slope,area_sqft\na,6,100,7\n"), [(vec![2], None)]);
        assert_eq!(places("section,slope,area_sqft\na,0,100\n"), [at(2, "slope")]);
    }

    #[test]
    fn columns_that_are_missing_strange_or_doubled_are_named() {
        assert_eq!(places("section,area_sqft\nfront,1200\n"), [(vec![1], None)]);
        assert_eq!(places("section,slope,slope,area_sqft\nfront,6,6,1200\n"), [at(1, "slope")]);
        assert_eq!(places(""), [(vec![], None)]);
        assert_eq!(places("section,slope,area_sqft\n"), [(vec![], None)]);
        let unknown = read("section,slope,mystery\nfront,6,100\n");
        assert!(unknown.problems[0].message.contains("area in square feet"), "{:?}", unknown.problems);
        assert!(unknown.problems[0].remedy.contains("“mystery”"), "{:?}", unknown.problems);
    }

    #[test]
    fn other_heads_semicolons_and_slopes_as_people_write_them() {
        let text = "Facet;Pitch;Area (sq ft);Eaves;Gutter\nfront;6/12;1.234,5;40,5;3\nback;4:12;900;;\n\
                    shed;3 in 12;80;;\n";
        let file = read(text);
        assert_eq!((file.problems, file.questions), (vec![], vec![]));
        assert_eq!(file.unread, ["Gutter"]);
        let slopes: Vec<_> = file.sections.iter().map(|section| section.slope.to_string()).collect();
        assert_eq!(slopes, ["6", "4", "3"]);
        let front = file.sections[0].typed.as_ref().unwrap();
        assert_eq!(front.area_sqft, Qty::from_e4(12_345_000));
        assert_eq!(front.edges[0].length_ft, Qty::from_e4(405_000));
        let tabs = read("name\tslope\tsq ft\teave\na\t12/12\t1,200\t40.5\n");
        assert_eq!((tabs.problems, tabs.sections[0].slope), (vec![], Qty::from_e4(120_000)));
        assert_eq!(places("section,slope,area_sqft\nfront,6/13,100\n"), [at(2, "slope")]);
    }

    #[test]
    fn what_the_file_does_not_show_is_asked_and_not_guessed() {
        let text = "section\tslope\tarea\nfront\t6\t1,200\n";
        let asked = read(text);
        assert_eq!((asked.sections.len(), asked.problems.len(), asked.questions.len()), (0, 0, 1));
        let with = |style| Choices { number_style: Some(style), ..Choices::default() };
        let area = |style| roof(text.as_bytes(), &with(style)).sections[0].typed.clone().unwrap().area_sqft;
        assert_eq!(area(NumberStyle::Point), Qty::from_e4(12_000_000));
        assert_eq!(area(NumberStyle::Comma), Qty::from_e4(12_000));
        let text = "section;slope;area, sq ft\nfront;6;900\n";
        assert_eq!(read(text).questions.len(), 1);
        let choices = Choices { separator: Some(Separator::Semicolon), ..Choices::default() };
        assert_eq!(roof(text.as_bytes(), &choices).sections.len(), 1);
    }
}
