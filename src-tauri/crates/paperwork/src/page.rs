//! A page of plain text: headings, paragraphs wrapped to a width, and columns that line up.

/// Characters in a line.
const WIDTH: usize = 92;

/// How the cells of a column are set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// To the left: words.
    Left,
    /// To the right: figures.
    Right,
}

/// A page being written. Lines end in CRLF, so that any editor shows them.
#[derive(Clone, Debug, Default)]
pub struct Page {
    lines: Vec<String>,
}

impl Page {
    /// An empty page.
    #[must_use]
    pub fn new() -> Page {
        Page::default()
    }

    /// A heading with its rule, and room above it.
    pub fn heading(&mut self, text: &str) {
        self.gap();
        let text = one_line(text);
        self.lines.push(text.clone());
        self.lines.push("-".repeat(text.chars().count()));
    }

    /// A paragraph, wrapped between words.
    pub fn paragraph(&mut self, text: &str) {
        self.gap();
        self.wrap(text, "", "");
    }

    /// A point of a list.
    pub fn point(&mut self, text: &str) {
        self.wrap(text, "* ", "  ");
    }

    /// Rows in columns that line up. Each column is as wide as its widest cell.
    pub fn columns(&mut self, sides: &[Side], rows: &[Vec<String>]) {
        self.gap();
        let width = |column: usize| {
            rows.iter()
                .filter_map(|row| row.get(column))
                .map(|cell| one_line(cell).chars().count())
                .max()
                .unwrap_or(0)
        };
        let widths: Vec<usize> = (0..sides.len()).map(width).collect();
        for row in rows {
            let mut line = String::new();
            for ((cell, side), width) in row.iter().zip(sides).zip(&widths) {
                let cell = one_line(cell);
                let room = " ".repeat(width.saturating_sub(cell.chars().count()));
                if !line.is_empty() {
                    line.push_str("  ");
                }
                match side {
                    Side::Left => line.extend([cell.as_str(), room.as_str()]),
                    Side::Right => line.extend([room.as_str(), cell.as_str()]),
                }
            }
            self.lines.push(line.trim_end().to_owned());
        }
    }

    /// The page as a file.
    #[must_use]
    pub fn text(&self) -> Vec<u8> {
        let mut text = self.lines.join("\r\n");
        text.push_str("\r\n");
        text.into_bytes()
    }

    fn gap(&mut self) {
        if !self.lines.is_empty() {
            self.lines.push(String::new());
        }
    }

    fn wrap(&mut self, text: &str, first: &str, rest: &str) {
        let mut line = first.to_owned();
        let mut begun = false;
        for word in text.split_whitespace() {
            if begun && line.chars().count() + 1 + word.chars().count() > WIDTH {
                self.lines.push(std::mem::replace(&mut line, rest.to_owned()));
                begun = false;
            }
            if begun {
                line.push(' ');
            }
            line.push_str(word);
            begun = true;
        }
        self.lines.push(line);
    }
}

/// Text that stays on its line, whatever was typed.
fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::{Page, Side, WIDTH};

    #[test]
    fn a_page_lines_up_and_wraps() {
        let mut page = Page::new();
        page.heading("Control\ntotals");
        page.paragraph(&"word ".repeat(40));
        page.point(&"point ".repeat(30));
        let rows =
            [["cost", "1,200.00"], ["billed so far", "−5.00"]].map(|row| row.map(str::to_owned).to_vec());
        page.columns(&[Side::Left, Side::Right], &rows);
        let text = String::from_utf8(page.text()).unwrap();
        assert!(text.starts_with("Control totals\r\n--------------\r\n\r\nword word"));
        assert!(text.ends_with("cost           1,200.00\r\nbilled so far     −5.00\r\n"));
        assert!(text.contains("\r\n* point") && text.contains("\r\n  point"));
        assert!(text.lines().all(|line| line.chars().count() <= WIDTH));
        assert_eq!(text.matches("word").count(), 40);
    }
}
