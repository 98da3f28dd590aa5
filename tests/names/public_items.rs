//! Everything that a host can name, as a list in `tests/golden/public_items.txt` that changes only on purpose.
//!
//! `WORTWRIGHT_WRITE=1 cargo test --test names` writes it anew. The sources are parsed, the crate's macros played, `pub mod`
//! and `pub use` followed from the top; what stands behind a feature is listed with the rest.

use crate::macros;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use syn::{Attribute, Fields, ImplItem, Item, ItemMacro, TraitItem, Type, UseTree, Visibility};
use wortwright_tests::files::golden;

/// Where a module or an item stands: the names from the top of the crate.
pub(crate) type Names = Vec<String>;

#[derive(Default)]
pub(crate) struct Tree {
    /// What each module defines, by its place.
    items: BTreeMap<Names, Vec<Item>>,
    /// Names that a module brings in: the name there, where it comes from, whether hosts see it.
    uses: BTreeMap<Names, Vec<(String, Names, bool)>>,
}

fn is_public(visibility: &Visibility) -> bool {
    matches!(visibility, Visibility::Public(_))
}

/// Tests and what is only there for the docs are nothing to name.
fn is_left_out(attributes: &[Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        attribute.path().is_ident("cfg")
            && attribute.meta.require_list().is_ok_and(|list| {
                let said = list.tokens.to_string();
                said == "test" || said == "doc" || said == "doctest"
            })
    })
}

impl Tree {
    /// The modules of the crate.
    pub(crate) fn of_sources() -> Self {
        let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("../src");
        let top = syn::parse_file(&fs::read_to_string(source.join("lib.rs")).unwrap()).unwrap();
        let mut tree = Self::default();
        tree.read(&[], top.items, &source);
        tree.play_macros();
        tree
    }

    /// Puts what the crate's macros make in the place of their calls.
    fn play_macros(&mut self) {
        let modules: Vec<Names> = self.items.keys().cloned().collect();
        for module in modules {
            let items = self.items[&module].clone();
            let made = items.into_iter().flat_map(|item| self.made(&module, item));
            let made = made.collect();
            self.items.insert(module, made);
        }
    }

    /// An item, or what the macro makes that it calls; methods of a type likewise.
    fn made(&self, module: &[String], item: Item) -> Vec<Item> {
        match item {
            Item::Macro(call) if call.ident.is_none() && !is_left_out(&call.attrs) => {
                let Some(found) = self.macro_of(&call.mac.path, module) else {
                    return vec![Item::Macro(call)];
                };
                let items = macros::items(found, &call.mac.tokens).into_iter();
                items.flat_map(|item| self.made(module, item)).collect()
            }
            Item::Impl(mut block) => {
                let methods = block.items.into_iter().flat_map(|item| match item {
                    ImplItem::Macro(call) => match self.macro_of(&call.mac.path, module) {
                        Some(found) => macros::methods(found, &call.mac.tokens),
                        None => vec![ImplItem::Macro(call)],
                    },
                    item => vec![item],
                });
                block.items = methods.collect();
                vec![Item::Impl(block)]
            }
            item => vec![item],
        }
    }

    /// The macro of the crate that a module calls so: its own, that of a module around it, or one that it brings in.
    fn macro_of(&self, path: &syn::Path, module: &[String]) -> Option<&ItemMacro> {
        let words: Vec<String> = path.segments.iter().map(|s| s.ident.to_string()).collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        if words.len() > 1 {
            return self.macro_at(&from_words(&words, module), 0);
        }
        (0..=module.len()).rev().find_map(|length| {
            let at = [&module[..length], &[words[0].to_owned()]].concat();
            self.macro_at(&at, 0)
        })
    }

    fn macro_at(&self, at: &[String], depth: usize) -> Option<&ItemMacro> {
        let (name, module) = at.split_last()?;
        let own = self.items.get(module)?.iter().find_map(|item| match item {
            Item::Macro(item) if item.ident.as_ref().is_some_and(|ident| ident == name) => {
                Some(item)
            }
            _ => None,
        });
        own.or_else(|| {
            let uses = self.uses.get(module)?;
            let (_, from, _) = uses.iter().find(|(brought, _, _)| brought == name)?;
            (depth < 20).then(|| self.macro_at(from, depth + 1))?
        })
    }

    /// What each module defines, with what macros make there.
    pub(crate) fn modules(&self) -> impl Iterator<Item = &[Item]> {
        self.items.values().map(Vec::as_slice)
    }

    /// Everything that a module brings in, as places from the top; re-exports aside.
    pub(crate) fn brought_into(&self, module: &[String]) -> Vec<Names> {
        let uses = self.uses.get(module).into_iter().flatten();
        uses.filter(|(_, _, exported)| !exported)
            .map(|(_, from, _)| from.clone())
            .collect()
    }

    fn read(&mut self, module: &[String], items: Vec<Item>, folder: &Path) {
        let mut kept = Vec::new();
        let mut uses = Vec::new();
        for item in items {
            match item {
                Item::Mod(mut inner) if !is_left_out(&inner.attrs) => {
                    let name = inner.ident.to_string();
                    let at = [module, std::slice::from_ref(&name)].concat();
                    let inside = folder.join(&name);
                    let content = match inner.content.take() {
                        Some((_, items)) => items,
                        None => parsed(&inside),
                    };
                    self.read(&at, content, &inside);
                    kept.push(Item::Mod(inner));
                }
                Item::Use(used) => {
                    brought(&used.tree, &mut Vec::new(), module, &mut |name, from| {
                        uses.push((name, from, is_public(&used.vis)));
                    });
                }
                other => kept.push(other),
            }
        }
        self.items.insert(module.to_vec(), kept);
        self.uses.insert(module.to_vec(), uses);
    }

    /// Where the item of that place is defined, through any re-exports.
    pub(crate) fn defined(&self, at: &[String], depth: usize) -> Option<Names> {
        let (name, module) = at.split_last()?;
        let defines = |item: &Item| named(item).is_some_and(|found| found.0 == *name);
        if self.items.get(module)?.iter().any(defines) {
            return Some(at.to_vec());
        }
        let uses = self.uses.get(module)?;
        let (_, from, _) = uses.iter().find(|(brought, _, _)| brought == name)?;
        (depth < 20).then(|| self.defined(from, depth + 1))?
    }

    /// Lists what hosts see of a module.
    fn list(&self, module: &[String], shown: &str, lines: &mut BTreeSet<String>) {
        for item in self.items.get(module).into_iter().flatten() {
            if let Some((name, visibility)) = named(item)
                && is_public(visibility)
            {
                self.list_item(&[module, &[name]].concat(), shown, lines);
            }
        }
        for (name, from, public) in self.uses.get(module).into_iter().flatten() {
            if *public && let Some(at) = self.defined(from, 0) {
                let renamed = at.last() != Some(name);
                if renamed {
                    lines.insert(format!("{shown}::{name} = {}", at.join("::")));
                }
                self.list_item(&at, shown, lines);
            }
        }
    }

    fn list_item(&self, at: &[String], shown: &str, lines: &mut BTreeSet<String>) {
        let Some((name, module)) = at.split_last() else {
            return;
        };
        let found = self.items[module]
            .iter()
            .filter(|item| named(item).is_some_and(|found| found.0 == *name));
        for item in found {
            let path = format!("{shown}::{name}");
            match item {
                Item::Mod(_) => {
                    lines.insert(format!("mod {path}"));
                    self.list(at, &path, lines);
                }
                Item::Struct(item) => {
                    lines.insert(format!("struct {path}"));
                    fields(&item.fields, &path, lines);
                    self.methods(at, &path, lines);
                }
                Item::Enum(item) => {
                    lines.insert(format!("enum {path}"));
                    for variant in &item.variants {
                        let variant_path = format!("{path}::{}", variant.ident);
                        lines.insert(format!("variant {variant_path}"));
                        for field in variant.fields.iter().filter_map(|f| f.ident.as_ref()) {
                            lines.insert(format!("field {variant_path}::{field}"));
                        }
                    }
                    self.methods(at, &path, lines);
                }
                Item::Trait(item) => {
                    lines.insert(format!("trait {path}"));
                    for inner in &item.items {
                        if let TraitItem::Fn(method) = inner {
                            lines.insert(format!("method {path}::{}", method.sig.ident));
                        }
                    }
                }
                Item::Fn(_) => drop(lines.insert(format!("fn {path}"))),
                Item::Const(_) => drop(lines.insert(format!("const {path}"))),
                Item::Static(_) => drop(lines.insert(format!("static {path}"))),
                Item::Type(_) => drop(lines.insert(format!("type {path}"))),
                _ => {}
            }
        }
    }

    /// The public functions of a type, wherever they are written.
    fn methods(&self, at: &[String], shown: &str, lines: &mut BTreeSet<String>) {
        for (module, items) in &self.items {
            for item in items {
                let Item::Impl(block) = item else { continue };
                let Type::Path(of) = &*block.self_ty else {
                    continue;
                };
                let Some(last) = of.path.segments.last() else {
                    continue;
                };
                let here = [&module[..], &[last.ident.to_string()]].concat();
                if block.trait_.is_some() || self.defined(&here, 0).as_deref() != Some(at) {
                    continue;
                }
                for inner in &block.items {
                    match inner {
                        ImplItem::Fn(method) if is_public(&method.vis) => {
                            lines.insert(format!("method {shown}::{}", method.sig.ident));
                        }
                        ImplItem::Const(constant) if is_public(&constant.vis) => {
                            lines.insert(format!("const {shown}::{}", constant.ident));
                        }
                        _ => {}
                    }
                }
            }
        }
    }
}

/// The file of a module, beside its folder or in it.
fn parsed(place: &Path) -> Vec<Item> {
    let beside = place.with_extension("rs");
    let file: PathBuf = if beside.exists() {
        beside
    } else {
        place.join("mod.rs")
    };
    let text = fs::read_to_string(&file).unwrap_or_else(|e| panic!("{}: {e}", file.display()));
    syn::parse_file(&text).unwrap().items
}

fn fields(fields: &Fields, shown: &str, lines: &mut BTreeSet<String>) {
    for field in fields.iter().filter(|field| is_public(&field.vis)) {
        let name = field
            .ident
            .as_ref()
            .map_or("0".to_owned(), ToString::to_string);
        lines.insert(format!("field {shown}::{name}"));
    }
}

/// The name of an item and who sees it.
fn named(item: &Item) -> Option<(String, &Visibility)> {
    let (ident, visibility) = match item {
        Item::Mod(item) => (&item.ident, &item.vis),
        Item::Struct(item) => (&item.ident, &item.vis),
        Item::Enum(item) => (&item.ident, &item.vis),
        Item::Trait(item) => (&item.ident, &item.vis),
        Item::Fn(item) => (&item.sig.ident, &item.vis),
        Item::Const(item) => (&item.ident, &item.vis),
        Item::Static(item) => (&item.ident, &item.vis),
        Item::Type(item) => (&item.ident, &item.vis),
        _ => return None,
    };
    Some((ident.to_string(), visibility))
}

/// Each name that a `use` brings into a module, and where it comes from.
fn brought(
    tree: &UseTree,
    before: &mut Names,
    module: &[String],
    found: &mut dyn FnMut(String, Names),
) {
    match tree {
        UseTree::Path(path) => {
            before.push(path.ident.to_string());
            brought(&path.tree, before, module, found);
            before.pop();
        }
        UseTree::Group(group) => {
            for tree in &group.items {
                brought(tree, before, module, found);
            }
        }
        UseTree::Name(name) => found(name.ident.to_string(), from(before, &name.ident, module)),
        UseTree::Rename(name) => found(name.rename.to_string(), from(before, &name.ident, module)),
        UseTree::Glob(_) => {}
    }
}

/// The place that a path names, from the top of the crate.
fn from(before: &[String], last: &syn::Ident, module: &[String]) -> Names {
    let last = last.to_string();
    let words: Vec<&str> = before
        .iter()
        .map(String::as_str)
        .chain([last.as_str()])
        .collect();
    from_words(&words, module)
}

/// The same of a path's words.
pub(crate) fn from_words(words: &[&str], module: &[String]) -> Names {
    let mut place = module.to_vec();
    for word in words {
        match *word {
            "crate" => place.clear(),
            "self" => {}
            "super" => drop(place.pop()),
            _ => place.push((*word).to_owned()),
        }
    }
    place
}

/// Every public item.
pub(crate) fn listed() -> BTreeSet<String> {
    let mut lines = BTreeSet::new();
    Tree::of_sources().list(&[], "wortwright", &mut lines);
    lines
}

#[test]
fn the_list_of_public_items_is_up_to_date() {
    let lines = listed();
    // What macros make: a newtype, a figure of a row, an enum's word, a chained method.
    for made in [
        "method wortwright::quantity::Extract::from_plato",
        "field wortwright::catalogue::Hop::alpha_range",
        "variant wortwright::catalogue::Kind::Malt",
        "method wortwright::recipe::Recipe::original",
    ] {
        assert!(lines.contains(made), "{made}");
    }
    assert!(lines.contains("fn wortwright::exchange::answer"));
    let by_path = |line: &&String| line.split_once(' ').map(|(_, path)| path.to_owned());
    let mut lines: Vec<&String> = lines.iter().collect();
    lines.sort_by_key(by_path);
    let text: String = lines
        .iter()
        .flat_map(|line| [line.as_str(), "\n"])
        .collect();
    let known = golden("tests/golden/public_items.txt", &text);
    let (known, found): (BTreeSet<_>, BTreeSet<_>) =
        (known.lines().collect(), text.lines().collect());
    let gone: Vec<_> = known.difference(&found).collect();
    let new: Vec<_> = found.difference(&known).collect();
    assert!(
        gone.is_empty() && new.is_empty(),
        "gone: {gone:#?}\nnew: {new:#?}\nwrite the list anew if that is meant, see the head of this file"
    );
}
