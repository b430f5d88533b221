//! Which letters can be printed. A letter that no font has would make the whole paper unreadable to a screen reader,
//! so it is written in other letters, and where there are none, as a question mark.

use typst::text::Font;

/// Longest run of letters without a place to break that the narrowest column can take.
const LONGEST_WORD: usize = 18;

/// The letters that every font has.
#[derive(Debug)]
pub struct Letters {
    has: Vec<bool>,
}

impl Letters {
    /// The letters that all of these fonts have.
    #[must_use]
    pub fn of(fonts: &[Font]) -> Letters {
        let everywhere = |letter: u32| fonts.iter().all(|font| font.info().coverage.contains(letter));
        // Beyond this plane lie no letters of a language that the fonts know.
        Letters { has: (0..0x1_0000).map(everywhere).collect() }
    }

    fn has(&self, letter: char) -> bool {
        usize::try_from(u32::from(letter)).is_ok_and(|at| self.has.get(at).copied().unwrap_or(false))
    }

    /// The text in letters that can be printed. Line breaks stay; other control characters go.
    #[must_use]
    pub fn clean(&self, text: &str) -> String {
        let mut clean = String::with_capacity(text.len());
        let mut run = 0;
        for letter in text.replace("\r\n", "\n").replace('\r', "\n").chars() {
            let from = clean.len();
            match letter {
                '\n' => clean.push('\n'),
                '\t' => clean.push(' '),
                _ if letter.is_control() || is_unseen(letter) => {}
                _ if self.has(letter) => clean.push(letter),
                _ => match in_other_letters(letter) {
                    Some(other) => clean.push_str(other),
                    None => clean.push('?'),
                },
            }
            for written in clean.split_off(from).chars() {
                run = if written.is_whitespace() || written == '-' { 0 } else { run + 1 };
                if run > LONGEST_WORD {
                    // A place to break, which is not seen.
                    clean.push('\u{200b}');
                    run = 1;
                }
                clean.push(written);
            }
        }
        clean
    }
}

/// Marks of direction, joiners and the like, which have no shape of their own; and accents that follow their letter.
fn is_unseen(letter: char) -> bool {
    matches!(
        letter,
        '\u{ad}'
            | '\u{300}'..='\u{36f}'
            | '\u{200b}'..='\u{200f}'
            | '\u{202a}'..='\u{202e}'
            | '\u{2060}'..='\u{2069}'
            | '\u{fe00}'..='\u{fe0f}'
            | '\u{feff}'
    )
}

/// The same in letters that every font has.
fn in_other_letters(letter: char) -> Option<&'static str> {
    let other = match letter {
        '\u{2000}'..='\u{200a}' | '\u{202f}' | '\u{205f}' | '\u{3000}' => " ",
        '\u{2010}' | '\u{2011}' => "-",
        '\u{2012}' | '\u{2015}' => "–",
        '′' | '‵' | 'ʹ' => "'",
        '″' | 'ʺ' => "\"",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '→' | '⇒' => "->",
        '←' => "<-",
        '≤' => "<=",
        '≥' => ">=",
        '≠' => "not =",
        '≈' => "about",
        '☐' | '☑' | '✓' | '✔' => "*",
        '●' | '○' | '◦' | '▪' | '■' | '‣' => "•",
        '№' => "No.",
        'ﬁ' => "fi",
        'ﬂ' => "fl",
        _ => return None,
    };
    Some(other)
}

#[cfg(test)]
mod tests {
    use super::Letters;

    fn latin() -> Letters {
        Letters { has: (0..0x1_0000_u32).map(|letter| (0x20..0x180).contains(&letter)).collect() }
    }

    #[test]
    fn what_the_fonts_have_stays_as_typed() {
        let text = "Müller & Søn <a> #b $c @d *e* _f_ \\g [h] {i} `j` ~k \"l\" 'm'\nnext";
        assert_eq!(latin().clean(text), text);
    }

    #[test]
    fn what_they_lack_is_written_otherwise() {
        assert_eq!(latin().clean("33⅓\t≤ 4′ 6″\r\nno\u{2011}break \u{200f}x"), "331/3 <= 4' 6\"\nno-break x");
        assert_eq!(latin().clean("屋根 😀\u{7}u\u{308}"), "?? ?u");
    }

    #[test]
    fn a_word_without_end_can_be_broken() {
        let long = "x".repeat(60);
        let clean = latin().clean(&long);
        assert_eq!(clean.replace('\u{200b}', ""), long);
        assert!(clean.split('\u{200b}').all(|part| part.chars().count() <= super::LONGEST_WORD));
        assert_eq!(
            latin().clean("eighteen-letters-and-many-more-in-parts"),
            "eighteen-letters-and-many-more-in-parts"
        );
    }
}
