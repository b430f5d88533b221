//! A Rust file as the parser sees it: code without comments and string contents, the strings, the functions, the test
//! lines, and what it names of other files.

use proc_macro2::{Delimiter, Span, TokenStream, TokenTree};

use crate::names::Names;

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

/// A function with a body, or the signature of one without.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Function {
    /// Its name.
    pub(crate) name: String,
    /// The line of its `fn`, from 1.
    pub(crate) first: usize,
    /// The line of its closing brace.
    pub(crate) last: usize,
}

/// A Rust file.
pub(crate) struct Source {
    /// The file with every byte of a comment or a string's contents made a blank. Line ends stay where they are.
    pub(crate) code: String,
    /// The string literals, in order.
    pub(crate) literals: Vec<Literal>,
    /// The functions, those inside a macro's braces included.
    pub(crate) functions: Vec<Function>,
    /// The modules, imports and paths.
    pub(crate) names: Names,
    test: Vec<bool>,
}

impl Source {
    /// Takes a file apart. `all_test` says that the whole of it belongs to a test; what is no Rust says why.
    pub(crate) fn parse(text: &str, all_test: bool) -> Result<Self, syn::Error> {
        let tokens: TokenStream = text.parse()?;
        let blanks = text.bytes().map(|byte| if byte == b'\n' { b'\n' } else { b' ' }).collect();
        let mut walk = Walk {
            text,
            code: blanks,
            literals: Vec::new(),
            functions: Vec::new(),
            test: vec![all_test; text.lines().count()],
        };
        walk.tokens(tokens.clone());
        let names = Names::of(&syn::parse2(tokens)?);
        let code = String::from_utf8(walk.code).expect("only whole tokens are copied");
        Ok(Self { code, literals: walk.literals, functions: walk.functions, names, test: walk.test })
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
}

/// The words of a line with the byte at which each begins.
pub(crate) fn words(code: &str) -> impl Iterator<Item = (usize, &str)> {
    let is_word = |letter: char| letter.is_alphanumeric() || letter == '_';
    let starts =
        code.char_indices().filter(move |&(at, letter)| is_word(letter) && !code[..at].ends_with(is_word));
    starts.map(move |(at, _)| {
        let end = code[at..].find(|letter: char| !is_word(letter)).map_or(code.len(), |end| at + end);
        (at, &code[at..end])
    })
}

/// Walks the tokens of a file once and copies them to where they stand.
struct Walk<'a> {
    text: &'a str,
    code: Vec<u8>,
    literals: Vec<Literal>,
    functions: Vec<Function>,
    test: Vec<bool>,
}

impl Walk<'_> {
    fn tokens(&mut self, tokens: TokenStream) {
        let trees: Vec<TokenTree> = tokens.into_iter().collect();
        for (index, tree) in trees.iter().enumerate() {
            let written = &self.text[tree.span().byte_range()];
            // A comment of documentation arrives as an attribute, each token of which spans the whole comment.
            if written.starts_with("//") || written.starts_with("/*") {
                continue;
            }
            match tree {
                TokenTree::Group(group) => {
                    self.copy(group.span_open());
                    self.tokens(group.stream());
                    self.copy(group.span_close());
                }
                TokenTree::Literal(literal) => self.literal(literal.span()),
                TokenTree::Ident(word) => {
                    if let (true, Some(TokenTree::Ident(name))) = (*word == "fn", trees.get(index + 1)) {
                        let first = word.span().start().line;
                        let function =
                            Function { name: name.to_string(), first, last: last_line(&trees[index..]) };
                        self.functions.push(function);
                    }
                    self.copy(word.span());
                }
                TokenTree::Punct(_) => {
                    if written == "#" {
                        self.attribute(&trees[index..]);
                    }
                    self.copy(tree.span());
                }
            }
        }
    }

    fn copy(&mut self, span: Span) {
        self.code[span.byte_range()].copy_from_slice(&self.text.as_bytes()[span.byte_range()]);
    }

    /// Keeps a string apart and leaves its contents blank, and those of a letter; a number is copied.
    fn literal(&mut self, span: Span) {
        let range = span.byte_range();
        let written = &self.text[range.clone()];
        if written.starts_with('\'') || written.starts_with("b'") {
            return;
        }
        let Some(quote) = written.find('"') else { return self.copy(span) };
        let end = written.rfind('"').unwrap_or(quote);
        let text = written[quote + 1..end].to_owned();
        self.literals.push(Literal { at: range.start + quote, line: span.start().line, text });
        for kept in [range.start..range.start + quote + 1, range.start + end..range.end] {
            self.code[kept.clone()].copy_from_slice(&self.text.as_bytes()[kept]);
        }
    }

    /// Marks the lines of an item that only a test build has, its attribute included.
    fn attribute(&mut self, trees: &[TokenTree]) {
        let whole_file = matches!(trees.get(1), Some(TokenTree::Punct(mark)) if mark.as_char() == '!');
        let Some(TokenTree::Group(group)) = trees.get(1 + usize::from(whole_file)) else { return };
        let written: String = self.text[group.span().byte_range()].split_whitespace().collect();
        if whole_file && written == "[cfg(test)]" {
            self.test.fill(true);
        } else if matches!(written.as_str(), "[cfg(test)]" | "[test]" | "[rstest]") {
            let first = trees[0].span().start().line;
            self.test.iter_mut().take(last_line(trees)).skip(first - 1).for_each(|test| *test = true);
        }
    }
}

/// The line on which an item ends: at its braces, or at the semicolon of one without.
fn last_line(trees: &[TokenTree]) -> usize {
    let end = trees.iter().find(|tree| match tree {
        TokenTree::Group(group) => group.delimiter() == Delimiter::Brace,
        TokenTree::Punct(mark) => mark.as_char() == ';',
        _ => false,
    });
    end.or(trees.last()).map_or(1, |tree| tree.span().end().line)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parse(text: &str) -> Source {
        Source::parse(text, false).unwrap_or_else(|error| panic!("{text}: {error}"))
    }

    fn strings(text: &str) -> Vec<String> {
        parse(text).literals.into_iter().map(|literal| literal.text).collect()
    }

    #[test]
    fn comments_are_blank_and_lines_stay_where_they_are() {
        assert_eq!(parse("use a; // b\nuse c;").code, "use a;     \nuse c;");
        assert_eq!(parse("use a; /* b /* c */\nd */ use e;").code, "use a;             \n     use e;");
        let documented = "/// — é\n#[doc = \"x\"]\nmod a;\n";
        let blank = " ".repeat("/// — é".len());
        assert_eq!(parse(documented).code, format!("{blank}\n#[doc = \" \"]\nmod a;\n"));
    }

    #[test]
    fn strings_of_every_kind_are_kept_apart() {
        assert_eq!(strings(r#"m! { "a\"b", b"c", '"', "d", b'"' }"#), ["a\\\"b", "c", "d"]);
        assert_eq!(strings("m! { r#\"say \"no\"\"#, br\"x\\\", 1 }"), ["say \"no\"", "x\\"]);
        assert_eq!(parse("m! { \"a // b\", 1.5 } // c").code, "m! { \"      \", 1.5 }     ");
        let literal = &parse("\nm! { r\"é\" }").literals[0];
        assert_eq!((literal.at, literal.line), (7, 2));
    }

    #[test]
    fn only_what_a_test_build_alone_has_is_test() {
        let text = "fn a() {\n}\n#[cfg(test)]\n#[allow(dead_code)]\nmod tests {\n  fn b() {}\n}\nfn c() {}\n";
        let source = parse(text);
        let shipped: Vec<usize> = (1..=8).filter(|&line| !source.is_test(line)).collect();
        assert_eq!(shipped, [1, 2, 8]);
        let whole = Source::parse(text, true).map(|source| (1..=8).all(|line| source.is_test(line)));
        assert!(matches!(whole, Ok(true)));
        assert!(parse("#![cfg(test)]\nfn a() {}\n").is_test(2));
    }

    #[test]
    fn a_function_ends_at_its_brace_inside_a_macro_too() {
        let text = "type F = fn(u8);\nfn a(x: [u8; 2]) {\n    if x { y }\n}\nm! {\n    fn b() {\n    }\n}\n";
        let found = parse(text).functions;
        let lines: Vec<_> =
            found.iter().map(|found| (found.name.as_str(), found.first, found.last)).collect();
        assert_eq!(lines, [("a", 2, 4), ("b", 6, 7)]);
    }

    #[test]
    fn words_are_whole() {
        let found: Vec<(usize, &str)> = words("a_b::c(f64x)").collect();
        assert_eq!(found, [(0, "a_b"), (5, "c"), (7, "f64x")]);
    }

    #[test]
    fn what_is_no_rust_is_said() {
        assert!(Source::parse("fn f( {", false).is_err());
        assert!(Source::parse("x y z", false).is_err());
    }
}
