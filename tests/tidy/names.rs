//! What a Rust file names of other files: its modules, its imports, and paths in the midst of its code.

use proc_macro2::{Span, TokenStream, TokenTree};
use syn::visit::{self, Visit};
use syn::{Attribute, Expr, Item, ItemMod, ItemUse, Lit, Macro, Path, UseTree, Visibility};

/// How an item with a name begins.
const ITEMS: &[&str] = &["const", "enum", "fn", "static", "struct", "trait", "type"];

/// A `mod name;`, whose body is another file.
#[derive(Debug)]
pub(crate) struct Module {
    /// The modules of this file that it stands inside of.
    pub(crate) inside: Vec<String>,
    /// Its name.
    pub(crate) name: String,
    /// What its `#[path = "…"]` says.
    pub(crate) path: Option<String>,
    /// The line, from 1.
    pub(crate) line: usize,
}

/// One name, or all of them, that a `use` brings in.
#[derive(Debug)]
pub(crate) struct Import {
    /// The modules of this file that it stands inside of.
    pub(crate) inside: Vec<String>,
    /// The path, without a star.
    pub(crate) path: Vec<String>,
    /// By what name it is known here; absent for a star.
    pub(crate) name: Option<String>,
    /// The line, from 1.
    pub(crate) line: usize,
}

/// All of it, of one file.
#[derive(Debug, Default)]
pub(crate) struct Names {
    /// Modules whose body is another file.
    pub(crate) modules: Vec<Module>,
    /// Modules whose body stands here, each with those around it.
    pub(crate) inline: Vec<Vec<String>>,
    /// What is imported.
    pub(crate) imports: Vec<Import>,
    /// Paths of two words or more in expressions, types, patterns and macros. Their `name` is absent.
    pub(crate) paths: Vec<Import>,
    /// Items that are defined here, with the modules around them as the beginning.
    pub(crate) defined: Vec<Vec<String>>,
    inside: Vec<String>,
}

impl Names {
    pub(crate) fn of(file: &syn::File) -> Self {
        let mut names = Self::default();
        names.visit_file(file);
        names
    }

    fn imports(&mut self, tree: &UseTree, before: &[String]) {
        let with = |last: &syn::Ident| [before, &[last.to_string()]].concat();
        // `a::{self}` brings in `a` itself.
        let whole = |last: &syn::Ident| if last == "self" { before.to_vec() } else { with(last) };
        let (path, name, span) = match tree {
            UseTree::Path(path) => return self.imports(&path.tree, &with(&path.ident)),
            UseTree::Group(group) => return group.items.iter().for_each(|tree| self.imports(tree, before)),
            UseTree::Name(name) => (whole(&name.ident), whole(&name.ident).pop(), name.ident.span()),
            UseTree::Rename(name) => (whole(&name.ident), Some(name.rename.to_string()), name.ident.span()),
            UseTree::Glob(star) => (before.to_vec(), None, star.star_token.span),
        };
        self.imports.push(Import { inside: self.inside.clone(), path, name, line: line_of(span) });
    }

    fn path(&mut self, path: Vec<String>, span: Span) {
        if path.len() > 1 {
            let inside = self.inside.clone();
            self.paths.push(Import { inside, path, name: None, line: line_of(span) });
        }
    }

    fn define(&mut self, name: &syn::Ident) {
        self.defined.push([&self.inside[..], &[name.to_string()]].concat());
    }

    /// The paths and items inside a macro, which are only tokens until it is expanded.
    fn tokens(&mut self, tokens: TokenStream) {
        let trees: Vec<TokenTree> = tokens.into_iter().collect();
        let is =
            |at: usize, mark: char| matches!(trees.get(at), Some(TokenTree::Punct(p)) if p.as_char() == mark);
        let mut at = 0;
        while at < trees.len() {
            match &trees[at] {
                TokenTree::Group(group) => self.tokens(group.stream()),
                TokenTree::Ident(first) => {
                    if let (true, Some(TokenTree::Ident(name))) =
                        (ITEMS.iter().any(|item| first == item), trees.get(at + 1))
                    {
                        self.define(name);
                    }
                    let begins = at == 0 || !['$', ':', '.'].iter().any(|mark| is(at - 1, *mark));
                    let mut path = vec![first.to_string()];
                    while let (true, true, Some(TokenTree::Ident(next))) =
                        (is(at + 1, ':'), is(at + 2, ':'), trees.get(at + 3))
                    {
                        path.push(next.to_string());
                        at += 3;
                    }
                    if begins {
                        self.path(path, first.span());
                    }
                }
                _ => {}
            }
            at += 1;
        }
    }
}

impl<'a> Visit<'a> for Names {
    fn visit_item(&mut self, item: &'a Item) {
        let name = match item {
            Item::Const(item) => Some(&item.ident),
            Item::Enum(item) => Some(&item.ident),
            Item::Fn(item) => Some(&item.sig.ident),
            Item::Macro(item) => item.ident.as_ref(),
            Item::Static(item) => Some(&item.ident),
            Item::Struct(item) => Some(&item.ident),
            Item::Trait(item) => Some(&item.ident),
            Item::Type(item) => Some(&item.ident),
            _ => None,
        };
        if let Some(name) = name {
            self.define(name);
        }
        visit::visit_item(self, item);
    }

    fn visit_item_mod(&mut self, module: &'a ItemMod) {
        let name = module.ident.to_string();
        if module.content.is_some() {
            self.inside.push(name);
            self.inline.push(self.inside.clone());
            visit::visit_item_mod(self, module);
            self.inside.pop();
        } else {
            let path = module.attrs.iter().find_map(named_path);
            let line = line_of(module.mod_token.span);
            self.modules.push(Module { inside: self.inside.clone(), name, path, line });
        }
    }

    fn visit_item_use(&mut self, item: &'a ItemUse) {
        // `::name` is another crate, always.
        if item.leading_colon.is_none() {
            self.imports(&item.tree, &[]);
        }
    }

    fn visit_path(&mut self, path: &'a Path) {
        if path.leading_colon.is_none() {
            let words = path.segments.iter().map(|segment| segment.ident.to_string()).collect();
            self.path(words, path.segments[0].ident.span());
        }
        visit::visit_path(self, path);
    }

    fn visit_macro(&mut self, mac: &'a Macro) {
        self.tokens(mac.tokens.clone());
        visit::visit_macro(self, mac);
    }

    // `pub(in crate::a)` says who may see it, and takes nothing from there.
    fn visit_visibility(&mut self, _: &'a Visibility) {}
}

fn line_of(span: Span) -> usize {
    span.start().line
}

fn named_path(attribute: &Attribute) -> Option<String> {
    let named = attribute.meta.require_name_value().ok().filter(|named| named.path.is_ident("path"))?;
    match &named.value {
        Expr::Lit(literal) => match &literal.lit {
            Lit::Str(text) => Some(text.value()),
            _ => None,
        },
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(text: &str) -> Names {
        Names::of(&syn::parse_file(text).unwrap_or_else(|error| panic!("{text}: {error}")))
    }

    fn joined(imports: &[Import]) -> Vec<String> {
        imports.iter().map(|import| import.path.join("::")).collect()
    }

    #[test]
    fn every_name_of_a_use_tree_is_seen() {
        let found = names("use crate::a::{self, b::{C, D as E}, f::*};\nuse ::std::fmt;\nuse super::g;\n");
        assert_eq!(
            joined(&found.imports),
            ["crate::a", "crate::a::b::C", "crate::a::b::D", "crate::a::f", "super::g"]
        );
        let known: Vec<_> = found.imports.iter().map(|import| import.name.as_deref()).collect();
        assert_eq!(known, [Some("a"), Some("C"), Some("E"), None, Some("g")]);
        assert_eq!(found.imports[4].line, 3);
    }

    #[test]
    fn paths_are_seen_in_code_types_and_macros() {
        let text = "pub(in crate::no) fn f(x: crate::a::B) -> self::C { m!(super::d::e(), $crate::no::no, x.y) }\n\
                    mod inner { const X: u8 = super::Y; }\n";
        let found = names(text);
        assert_eq!(joined(&found.paths), ["crate::a::B", "self::C", "super::d::e", "super::Y"]);
        assert_eq!((found.paths[3].inside.join("::").as_str(), found.paths[3].line), ("inner", 2));
        assert_eq!(found.defined, [vec!["f".to_owned()], vec!["inner".to_owned(), "X".to_owned()]]);
    }

    #[test]
    fn a_module_in_another_file_is_seen_with_its_path() {
        let found = names("mod a;\nmod b { #[path = \"odd/c.rs\"]\nmod c; }\n");
        let seen: Vec<_> = found.modules.iter().map(|found| (found.name.as_str(), found.line)).collect();
        assert_eq!(seen, [("a", 1), ("c", 3)]);
        assert_eq!(found.modules[1].path.as_deref(), Some("odd/c.rs"));
        assert_eq!(found.modules[1].inside, ["b"]);
    }
}
