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

/// Reads sections as measured by hand: rise in 12, square feet on the slope, true feet of edge. An empty cell is none
/// of that edge.
///
/// All or nothing: with any problem there are no sections. A problem's field is `line N, COLUMN`.
#[must_use]
pub fn roof_csv(text: &str) -> (Vec<Section>, Vec<Problem>) {
    let mut problems = Vec::new();
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(text.as_bytes());
    let mut records = Vec::new();
    for record in reader.records() {
        match record {
            Ok(record) => records.push(record),
            Err(error) => {
                let words = format!("The file cannot be read as CSV: {error}. Save it as CSV again.");
                return (Vec::new(), vec![wrong("file", None, &words)]);
            }
        }
    }
    let mut lines = records.into_iter();
    let Some(head) = lines.next() else {
        let words = format!("The file is empty. Its first line names the columns: {}.", COLUMNS.join(", "));
        return (Vec::new(), vec![wrong("file", None, &words)]);
    };
    let columns = columns(&head, &mut problems);
    let mut sections = Vec::new();
    let mut names = BTreeSet::new();
    for (index, record) in lines.enumerate() {
        if record.iter().all(|cell| cell.trim().is_empty()) {
            continue;
        }
        let line = record.position().map_or(index as u64 + 2, csv::Position::line);
        let Some(section) = row(line, &columns, &record, &mut problems) else { continue };
        if !names.insert(section.name.clone()) {
            let words = "Another line has the same section. Give each its own name.";
            problems.push(wrong(&format!("line {line}, section"), Some(&section.name), words));
        }
        sections.push(section);
    }
    if sections.is_empty() && problems.is_empty() {
        problems.push(wrong("line 2", None, "There is no section under the columns. Add a line for each."));
    }
    if problems.is_empty() { (sections, problems) } else { (Vec::new(), problems) }
}

/// For each cell of a row, which of ours it is.
fn columns(head: &StringRecord, problems: &mut Vec<Problem>) -> Vec<Option<usize>> {
    let mut found = Vec::new();
    for cell in head {
        let name = cell.trim().to_ascii_lowercase();
        let known = COLUMNS.iter().position(|column| *column == name);
        let field = format!("line 1, {}", cell.trim());
        match known {
            None if name.is_empty() => {}
            None => {
                let words = format!(
                    "“{}” is no column of a roof. Name it one of {}.",
                    cell.trim(),
                    COLUMNS.join(", ")
                );
                problems.push(wrong(&field, None, &words));
            }
            Some(_) if found.contains(&known) => {
                problems.push(wrong(&field, None, "The column stands there twice. Leave one of them out."));
            }
            Some(_) => {}
        }
        found.push(known);
    }
    for (index, column) in COLUMNS.iter().enumerate().take(NEEDED) {
        if !found.contains(&Some(index)) {
            let words = format!("The column {column} is missing. Add it to the first line.");
            problems.push(wrong(&format!("line 1, {column}"), None, &words));
        }
    }
    found
}

/// A section, if every cell of its row can be read.
fn row(
    line: u64,
    columns: &[Option<usize>],
    record: &StringRecord,
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
        let words = match parsed(typed) {
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

/// A figure as it is typed, with or without commas between thousands.
fn parsed(typed: &str) -> Result<Qty, AmountError> {
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
        let (sections, problems) = roof_csv(text);
        assert!(sections.is_empty(), "half a roof was taken: {sections:?}");
        problems.into_iter().map(|problem| problem.field).collect()
    }

    #[test]
    fn a_row_a_section_with_the_edges_it_has() {
        let (sections, problems) = roof_csv(GOOD);
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
        let (sections, problems) = roof_csv("\u{feff}Area_sqft, Slope ,section\n900,4,shed\n\n");
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
        assert_eq!(fields("section,slope,area_sqft,gutter_ft\nfront,6,1200,3\n"), ["line 1, gutter_ft"]);
        assert_eq!(fields("section,slope,slope,area_sqft\nfront,6,6,1200\n"), ["line 1, slope"]);
        assert_eq!(fields(""), ["file"]);
        assert_eq!(fields("section,slope,area_sqft\n"), ["line 2"]);
    }
}
