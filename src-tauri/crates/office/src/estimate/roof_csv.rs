//! A roof's measures out of a CSV of ours: a row a section, with its area and the lengths of its edges.

use super::view::Problem;
use csv::StringRecord;
use std::collections::BTreeSet;
use trade::roof::{EdgeKind, Section, Typed, TypedEdge};
use trade::{AmountError, Qty};

/// The columns that may stand in the first line, in any order: words, then slope, then area, then a length each.
pub const COLUMNS: [&str; 11] = [
    "section",
    "slope",
    "area_sqft",
    "eave_ft",
    "rake_ft",
    "valley_ft",
    "hip_ft",
    "ridge_ft",
    "wall_ft",
    "headwall_ft",
    "transition_ft",
];

/// Without these, a row says nothing of a roof.
const NEEDED: usize = 3;

/// Other heads under which people write these columns (common practice, no source), without case, spaces and signs, in
/// the order of `COLUMNS`.
const ALSO: [&[&str]; COLUMNS.len()] = [
    &["facet", "face", "plane", "name", "sectionname", "roofsection"],
    &["pitch", "slopein12", "risein12", "rise", "roofpitch", "roofslope"],
    &["area", "areasf", "sqft", "squarefeet", "areasquarefeet", "surface", "roofarea"],
    &["eave", "eaves", "eavesft", "eavelength"],
    &["rake", "rakes", "rakesft", "rakelength", "gable", "gables"],
    &["valley", "valleys", "valleysft", "valleylength"],
    &["hip", "hips", "hipsft", "hiplength"],
    &["ridge", "ridges", "ridgesft", "ridgelength"],
    &["wall", "walls", "wallsft", "sidewall", "stepflashing"],
    &["headwall", "headwalls", "headwallsft", "apron"],
    &["transition", "transitions", "transitionsft", "slopechange"],
];

/// What came of reading a file.
#[derive(Debug, Default)]
pub struct RoofFile {
    /// Its sections; none where there is any problem.
    pub sections: Vec<Section>,
    /// What is wrong.
    pub problems: Vec<Problem>,
    /// Heads of columns that are none of ours, and were not read.
    pub unread: Vec<String>,
}

/// Reads sections as measured by hand: rise in 12, square feet on the slope, true feet of edge. An empty cell is none
/// of that edge. Commas, semicolons or tabs part the cells, as the first line shows.
///
/// All or nothing: with any problem there are no sections. A problem's field is `line N, COLUMN`.
#[must_use]
pub fn roof_csv(text: &str) -> RoofFile {
    let mut found = RoofFile::default();
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let separator = separator(text);
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator)
        .from_reader(text.as_bytes());
    let mut records = Vec::new();
    for record in reader.records() {
        match record {
            Ok(record) => records.push(record),
            Err(error) => {
                let words = format!("The file cannot be read as CSV: {error}. Save it as CSV again.");
                return refused(wrong("file", None, &words));
            }
        }
    }
    let mut lines = records.into_iter();
    let Some(head) = lines.next() else {
        let words = format!("The file is empty. Its first line names the columns: {}.", COLUMNS.join(", "));
        return refused(wrong("file", None, &words));
    };
    let columns = columns(&head, &mut found);
    let mut names = BTreeSet::new();
    for (index, record) in lines.enumerate() {
        if record.iter().all(|cell| cell.trim().is_empty()) {
            continue;
        }
        let line = record.position().map_or(index as u64 + 2, csv::Position::line);
        let decimal_comma = separator == b';';
        let Some(section) = row(line, &columns, &record, decimal_comma, &mut found.problems) else {
            continue;
        };
        if !names.insert(section.name.clone()) {
            let words = "Another line has the same section. Give each its own name.";
            found.problems.push(wrong(&format!("line {line}, section"), Some(&section.name), words));
        }
        found.sections.push(section);
    }
    if found.sections.is_empty() && found.problems.is_empty() {
        let words = "There is no section under the columns. Add a line for each.";
        found.problems.push(wrong("line 2", None, words));
    }
    if !found.problems.is_empty() {
        found.sections.clear();
    }
    found
}

fn refused(problem: Problem) -> RoofFile {
    RoofFile { problems: vec![problem], ..RoofFile::default() }
}

/// What parts the cells of the first line: whichever stands there most often.
fn separator(text: &str) -> u8 {
    let head = text.lines().next().unwrap_or_default().as_bytes();
    let count = |wanted: u8| head.iter().filter(|each| **each == wanted).count();
    let most = |best: u8, next: u8| if count(next) > count(best) { next } else { best };
    [b';', b'\t'].into_iter().fold(b',', most)
}

/// A head without case, spaces and signs.
fn plain(head: &str) -> String {
    head.chars().filter(|letter| letter.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// Which of our columns a head means.
fn meant(head: &str) -> Option<usize> {
    let head = plain(head);
    let by_name = COLUMNS.iter().position(|column| plain(column) == head);
    by_name.or_else(|| ALSO.iter().position(|others| others.contains(&head.as_str())))
}

/// For each cell of a row, which of ours it is.
fn columns(head: &StringRecord, file: &mut RoofFile) -> Vec<Option<usize>> {
    let mut found = Vec::new();
    for cell in head {
        let known = meant(cell);
        let field = format!("line 1, {}", cell.trim());
        match known {
            None if cell.trim().is_empty() => {}
            None => file.unread.push(cell.trim().to_owned()),
            Some(_) if found.contains(&known) => {
                let words = "The column stands there twice. Leave one of them out.";
                file.problems.push(wrong(&field, None, words));
            }
            Some(_) => {}
        }
        found.push(known);
    }
    for (index, column) in COLUMNS.iter().enumerate().take(NEEDED) {
        if !found.contains(&Some(index)) {
            let unread = match file.unread.as_slice() {
                [] => String::new(),
                unread => format!(" Not understood: {}.", unread.join(", ")),
            };
            let words = format!("The column {column} is missing. Name it so in the first line.{unread}");
            file.problems.push(wrong(&format!("line 1, {column}"), None, &words));
        }
    }
    found
}

/// A section, if every cell of its row can be read.
fn row(
    line: u64,
    columns: &[Option<usize>],
    record: &StringRecord,
    decimal_comma: bool,
    problems: &mut Vec<Problem>,
) -> Option<Section> {
    let before = problems.len();
    let cell = |wanted: usize| {
        let place = columns.iter().position(|column| *column == Some(wanted));
        place.and_then(|place| record.get(place)).map_or("", str::trim)
    };
    if record.iter().skip(columns.len()).any(|cell| !cell.trim().is_empty()) {
        let words = "The line has more cells than there are columns. Check it for a stray comma.";
        problems.push(wrong(&format!("line {line}"), None, words));
    }
    let name = cell(0);
    if name.is_empty() && columns.contains(&Some(0)) {
        let words = "The section has no name. Give it one, such as “front”.";
        problems.push(wrong(&format!("line {line}, section"), None, words));
    }
    let mut figure = |index: usize| -> Qty {
        let typed = cell(index);
        if typed.is_empty() && (index >= NEEDED || !columns.contains(&Some(index))) {
            return Qty::ZERO;
        }
        let column = COLUMNS.get(index).copied().unwrap_or_default();
        let read = if index == 1 { rise(typed, decimal_comma) } else { parsed(typed, decimal_comma) };
        let words = match read {
            Ok(figure) if figure.is_negative() => format!("{typed} is below zero. Type it without a minus."),
            Ok(figure) if index < NEEDED && figure.is_zero() => "It is missing. Type it.".to_owned(),
            Ok(figure) => return figure,
            Err(_) if typed.is_empty() => "It is missing. Type it.".to_owned(),
            Err(error) => format!("{error}"),
        };
        let section = (!name.is_empty()).then_some(name);
        problems.push(wrong(&format!("line {line}, {column}"), section, &words));
        Qty::ZERO
    };
    let slope = figure(1);
    let area_sqft = figure(2);
    let mut edges = Vec::new();
    for (index, column) in COLUMNS.iter().enumerate().skip(NEEDED) {
        let length_ft = figure(index);
        let kind = EdgeKind::parse(column.trim_end_matches("_ft"));
        if let (Ok(kind), true) = (kind, length_ft.is_positive()) {
            edges.push(TypedEdge { kind, length_ft });
        }
    }
    let typed = Some(Typed { area_sqft, edges });
    (problems.len() == before).then(|| Section { name: name.to_owned(), slope, outline: Vec::new(), typed })
}

/// A rise in 12 as it is typed: `6`, `6/12`, `6:12` or `6 in 12`.
fn rise(typed: &str, decimal_comma: bool) -> Result<Qty, AmountError> {
    let typed = typed.trim_end_matches('"').trim();
    let rise = ["/", ":", "in", "-"].iter().find_map(|sign| {
        let (rise, run) = typed.split_once(sign)?;
        (run.trim() == "12").then_some(rise.trim())
    });
    parsed(rise.unwrap_or(typed), decimal_comma)
}

/// A figure as it is typed, with or without marks between thousands. Where semicolons part the cells, a comma is the
/// decimal mark.
fn parsed(typed: &str, decimal_comma: bool) -> Result<Qty, AmountError> {
    if decimal_comma && typed.contains(',') {
        return Qty::parse(&typed.replace('.', "").replace(',', "."));
    }
    let mut groups = typed.split('.').next().unwrap_or_default().split(',').skip(1).peekable();
    let grouped = groups.peek().is_some() && groups.all(|group| group.len() == 3);
    if grouped { Qty::parse(&typed.replace(',', "")) } else { Qty::parse(typed) }
}

fn wrong(field: &str, section: Option<&str>, words: &str) -> Problem {
    Problem {
        field: field.to_owned(),
        section: section.map(str::to_owned),
        edge: None,
        words: words.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOOD: &str = "section,slope,area_sqft,eave_ft,rake_ft,valley_ft,hip_ft,ridge_ft,wall_ft,headwall_ft,\
                        transition_ft\r\nfront,6,\"1,234.5\",40,36.5,,,40,,,\r\nback,6,1180,40,36.5,0,,,,,\r\n";

    fn fields(text: &str) -> Vec<String> {
        let file = roof_csv(text);
        assert!(file.sections.is_empty(), "half a roof was taken: {:?}", file.sections);
        file.problems.into_iter().map(|problem| problem.field).collect()
    }

    #[test]
    fn a_row_a_section_with_the_edges_it_has() {
        let RoofFile { sections, problems, .. } = roof_csv(GOOD);
        assert_eq!(problems, []);
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
        let RoofFile { sections, problems, .. } =
            roof_csv("\u{feff}Area_sqft, Slope ,section\n900,4,shed\n\n");
        assert_eq!(problems, []);
        assert_eq!(sections[0].name, "shed");
        assert_eq!(sections[0].typed.as_ref().unwrap().area_sqft, Qty::from_e4(9_000_000));
    }

    #[test]
    fn what_is_wrong_is_named_by_line_and_column_and_nothing_is_taken() {
        let text = "section,slope,area_sqft,eave_ft\nfront,6,1200,40\n,6,900,x\nfront,,-3,1\n";
        assert_eq!(
            fields(text),
            ["line 3, section", "line 3, eave_ft", "line 4, slope", "line 4, area_sqft"]
        );
        assert_eq!(fields("section,slope,area_sqft\na,6,100\na,6,100\n"), ["line 3, section"]);
        assert_eq!(fields("section,slope,area_sqft\na,6,100,7\n"), ["line 2"]);
    }

    #[test]
    fn columns_that_are_missing_strange_or_doubled_are_named() {
        assert_eq!(fields("section,area_sqft\nfront,1200\n"), ["line 1, slope"]);
        assert_eq!(fields("section,slope,slope,area_sqft\nfront,6,6,1200\n"), ["line 1, slope"]);
        assert_eq!(fields(""), ["file"]);
        assert_eq!(fields("section,slope,area_sqft\n"), ["line 2"]);
    }

    #[test]
    fn other_heads_semicolons_and_slopes_as_people_write_them() {
        let text = "Facet;Pitch;Area (sq ft);Eaves;Gutter\nfront;6/12;1.234,5;40,5;3\nback;4:12;900;;\n\
                    shed;3 in 12;80;;\n";
        let file = roof_csv(text);
        assert_eq!(file.problems, []);
        assert_eq!(file.unread, ["Gutter"]);
        let slopes: Vec<_> = file.sections.iter().map(|section| section.slope.to_string()).collect();
        assert_eq!(slopes, ["6", "4", "3"]);
        let front = file.sections[0].typed.as_ref().unwrap();
        assert_eq!(front.area_sqft, Qty::from_e4(12_345_000));
        assert_eq!(front.edges[0].length_ft, Qty::from_e4(405_000));
        let tabs = roof_csv("name\tslope\tsq ft\na\t12/12\t1,200\n");
        assert_eq!((tabs.problems, tabs.sections[0].slope), (vec![], Qty::from_e4(120_000)));
        assert_eq!(fields("section,slope,area_sqft\nfront,6/13,100\n"), ["line 2, slope"]);
        let unknown = roof_csv("section,slope,mystery\nfront,6,100\n");
        assert!(unknown.problems[0].words.ends_with("Not understood: mystery."), "{:?}", unknown.problems);
    }
}
