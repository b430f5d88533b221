//! A Rust file taken apart just far enough: code without comments and string contents, the strings, the test lines.

/// A string literal of the file.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Literal {
    /// Where its opening quote stands, in bytes.
    pub(crate) at: usize,
    /// The line of that quote, from 1.
    pub(crate) line: usize,
    /// What is between the quotes, as written.
    pub(crate) text: String,
}

/// A Rust file.
pub(crate) struct Source {
    /// The file with every byte of a comment or a string's contents made a blank. Line ends stay where they are.
    pub(crate) code: String,
    /// The string literals, in order.
    pub(crate) literals: Vec<Literal>,
    test: Vec<bool>,
}

impl Source {
    /// Takes a file apart. `all_test` says that the whole of it belongs to a test.
    pub(crate) fn parse(text: &str, all_test: bool) -> Self {
        let (code, literals) = Mask::of(text);
        let lines = code.lines().count();
        let mut source = Self { code, literals, test: vec![all_test; lines] };
        for (from, to) in test_items(&source.code) {
            let (first, last) = (source.line_at(from), source.line_at(to));
            source.test.iter_mut().take(last).skip(first - 1).for_each(|test| *test = true);
        }
        source
    }

    /// The lines of code, from 1.
    pub(crate) fn lines(&self) -> impl Iterator<Item = (usize, &str)> {
        self.code.lines().enumerate().map(|(index, code)| (index + 1, code))
    }

    /// Whether the line belongs to a test.
    pub(crate) fn is_test(&self, line: usize) -> bool {
        self.test.get(line - 1).copied().unwrap_or(false)
    }

    /// Makes every line a test's.
    pub(crate) fn all_is_test(&mut self) {
        self.test.fill(true);
    }

    /// The line of a byte, from 1.
    pub(crate) fn line_at(&self, at: usize) -> usize {
        self.code.as_bytes()[..at].iter().filter(|&&byte| byte == b'\n').count() + 1
    }
}

/// The word at the start of `code`: an identifier or keyword, empty if none is there.
pub(crate) fn word(code: &str) -> &str {
    let end = code.find(|letter: char| !is_word(letter)).unwrap_or(code.len());
    &code[..end]
}

/// The words of a line with the byte at which each begins.
pub(crate) fn words(code: &str) -> impl Iterator<Item = (usize, &str)> {
    let starts =
        code.char_indices().filter(|&(at, letter)| is_word(letter) && !code[..at].ends_with(is_word));
    starts.map(|(at, _)| (at, word(&code[at..])))
}

fn is_word(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '_'
}

/// Where an item that begins at `from` ends: at its closing brace, or at the semicolon of one without a body.
pub(crate) fn item_end(code: &str, from: usize) -> Option<usize> {
    let mut depth = 0_usize;
    for (at, letter) in code[from..].char_indices() {
        match letter {
            '(' | '[' => depth += 1,
            ')' | ']' => depth = depth.saturating_sub(1),
            ';' if depth == 0 => return Some(from + at),
            '{' if depth == 0 => return closing(code, from + at),
            _ => {}
        }
    }
    None
}

/// The brace or bracket that closes the one at `open`.
fn closing(code: &str, open: usize) -> Option<usize> {
    let mut depth = 0_usize;
    for (at, letter) in code[open..].char_indices() {
        match letter {
            '{' | '[' | '(' => depth += 1,
            '}' | ']' | ')' => {
                depth = depth.saturating_sub(1);
                if depth == 0 {
                    return Some(open + at);
                }
            }
            _ => {}
        }
    }
    None
}

/// First and last byte of every item that only a test build has.
fn test_items(code: &str) -> Vec<(usize, usize)> {
    if code.contains("#![cfg(test)]") {
        return vec![(0, code.len())];
    }
    let mut items = Vec::new();
    for mark in ["#[cfg(test)]", "#[test]", "#[rstest]"] {
        for (from, _) in code.match_indices(mark) {
            let mut item = from + mark.len();
            // Other attributes may stand between the mark and its item.
            while let Some(start) = code[item..].find(|letter: char| !letter.is_whitespace()) {
                item += start;
                if !code[item..].starts_with("#[") {
                    break;
                }
                item = closing(code, item + 1).map_or(code.len(), |end| end + 1);
            }
            items.push((from, item_end(code, item).unwrap_or(code.len())));
        }
    }
    items
}

/// Walks a file once, copying code and blanking the rest.
struct Mask<'a> {
    text: &'a str,
    at: usize,
    code: Vec<u8>,
    literals: Vec<Literal>,
}

impl<'a> Mask<'a> {
    fn of(text: &'a str) -> (String, Vec<Literal>) {
        let mut mask = Self { text, at: 0, code: Vec::with_capacity(text.len()), literals: Vec::new() };
        while mask.at < text.len() {
            mask.step();
        }
        (String::from_utf8(mask.code).expect("only whole characters are blanked"), mask.literals)
    }

    fn rest(&self) -> &'a str {
        &self.text[self.at..]
    }

    fn copy(&mut self, bytes: usize) {
        self.code.extend_from_slice(&self.text.as_bytes()[self.at..self.at + bytes]);
        self.at += bytes;
    }

    fn blank(&mut self, bytes: usize) {
        let blanked = self.text.as_bytes()[self.at..self.at + bytes].iter();
        self.code.extend(blanked.map(|&byte| if byte == b'\n' { b'\n' } else { b' ' }));
        self.at += bytes;
    }

    fn step(&mut self) {
        let rest = self.rest();
        let first = rest.chars().next().expect("the walk ends before the file does");
        if rest.starts_with("//") {
            self.blank(rest.find('\n').unwrap_or(rest.len()));
        } else if rest.starts_with("/*") {
            self.blank(block_comment(rest));
        } else if first == '"' {
            self.string();
        } else if first == '\'' {
            self.letter_or_lifetime();
        } else if is_word(first) {
            self.word_or_string();
        } else {
            self.copy(first.len_utf8());
        }
    }

    /// A word, or one of the prefixes of a string: `b""`, `c""`, `r""`, `r#""#`, `br#""#`.
    fn word_or_string(&mut self) {
        let word = word(self.rest());
        self.copy(word.len());
        let hashes = self.rest().bytes().take_while(|&byte| byte == b'#').count();
        if matches!(word, "r" | "br" | "cr") && self.rest()[hashes..].starts_with('"') {
            self.copy(hashes);
            self.raw_string(hashes);
        }
    }

    fn string(&mut self) {
        let rest = self.rest();
        let mut end = rest.len();
        let mut escaped = false;
        for (at, letter) in rest.char_indices().skip(1) {
            match letter {
                _ if escaped => escaped = false,
                '\\' => escaped = true,
                '"' => {
                    end = at;
                    break;
                }
                _ => {}
            }
        }
        self.keep(end);
    }

    fn raw_string(&mut self, hashes: usize) {
        let closing = format!("\"{}", "#".repeat(hashes));
        let rest = self.rest();
        let end = rest[1..].find(&closing).map_or(rest.len(), |at| at + 1);
        self.keep(end);
        self.copy(hashes.min(self.rest().len()));
    }

    /// Keeps the literal that ends at `end`, counted from its opening quote, and blanks its contents.
    fn keep(&mut self, end: usize) {
        let text = self.rest()[1.min(end)..end].to_owned();
        let line = self.code.iter().filter(|&&byte| byte == b'\n').count() + 1;
        self.literals.push(Literal { at: self.at, line, text });
        self.copy(1);
        self.blank(end - 1);
        if !self.rest().is_empty() {
            self.copy(1);
        }
    }

    fn letter_or_lifetime(&mut self) {
        let mut letters = self.rest().char_indices().skip(1);
        let second = letters.next();
        let third = letters.next();
        match (second, third) {
            (Some((_, '\\')), Some((escaped, _))) => {
                let after =
                    self.rest()[escaped + 1..].find('\'').map_or(self.rest().len(), |at| escaped + 1 + at);
                self.blank((after + 1).min(self.rest().len()));
            }
            (Some(_), Some((at, '\''))) => self.blank(at + 1),
            _ => self.copy(1),
        }
    }
}

/// How long the block comment at the start of `rest` is; they nest.
fn block_comment(rest: &str) -> usize {
    let mut depth = 0_usize;
    let mut at = 0;
    while at < rest.len() {
        if rest[at..].starts_with("/*") {
            depth += 1;
            at += 2;
        } else if rest[at..].starts_with("*/") {
            depth -= 1;
            at += 2;
            if depth == 0 {
                return at;
            }
        } else {
            at += rest[at..].chars().next().map_or(1, char::len_utf8);
        }
    }
    rest.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn code(text: &str) -> String {
        Source::parse(text, false).code
    }

    fn strings(text: &str) -> Vec<String> {
        Source::parse(text, false).literals.into_iter().map(|literal| literal.text).collect()
    }

    #[test]
    fn comments_are_blank_and_lines_stay_where_they_are() {
        assert_eq!(code("a // b\nc"), "a     \nc");
        assert_eq!(code("a /* b /* c */\nd */ e"), "a             \n     e");
        assert_eq!(code("// — é\nx"), format!("{}\nx", " ".repeat("// — é".len())));
    }

    #[test]
    fn strings_of_every_kind_are_kept_apart() {
        assert_eq!(strings(r#"f("a\"b", b"c", '"', "d")"#), ["a\\\"b", "c", "d"]);
        assert_eq!(strings("f(r#\"say \"no\"\"#, br\"x\\\", 1)"), ["say \"no\"", "x\\"]);
        assert_eq!(code("f(\"a // b\") // c"), "f(\"      \")     ");
        assert_eq!(strings("let r#type = for_r; \"x\""), ["x"]);
    }

    #[test]
    fn a_lifetime_is_not_the_start_of_a_letter() {
        assert_eq!(strings("fn f<'a>(x: &'a str) -> char { '\\'' } \"y\""), ["y"]);
        assert_eq!(code("x('{', 'a, '\\u{7b}')"), "x(   , 'a,         )");
    }

    #[test]
    fn only_what_a_test_build_alone_has_is_test() {
        let text = "fn a() {\n}\n#[cfg(test)]\n#[allow(dead_code)]\nmod tests {\n  fn b() {}\n}\nfn c() {}\n";
        let source = Source::parse(text, false);
        let shipped: Vec<usize> = (1..=8).filter(|&line| !source.is_test(line)).collect();
        assert_eq!(shipped, [1, 2, 8]);
        assert!((1..=8).all(|line| Source::parse(text, true).is_test(line)));
        assert!(Source::parse("#![cfg(test)]\nfn a() {}\n", false).is_test(2));
    }

    #[test]
    fn an_item_ends_at_its_brace_or_its_semicolon() {
        let text = "fn a(x: [u8; 2]) { if x { y } }\nmod b;";
        assert_eq!(item_end(text, 0), Some(30));
        assert_eq!(item_end(text, 32), Some(37));
    }

    #[test]
    fn words_are_whole() {
        let found: Vec<(usize, &str)> = words("a_b::c(f64x)").collect();
        assert_eq!(found, [(0, "a_b"), (5, "c"), (7, "f64x")]);
    }
}
