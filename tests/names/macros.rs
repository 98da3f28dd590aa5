//! What the crate's own macros make: `macro_rules!` played on tokens, as far as the crate uses it.

use proc_macro2::{Delimiter, Group, Ident, Span, TokenStream, TokenTree};
use std::collections::BTreeMap;
use syn::parse::{Parse, ParseStream, Parser};
use syn::{Expr, ImplItem, Item, ItemMacro, Meta, Path, Type, Visibility};

/// What a name of a pattern stands for: tokens, or one such for each repetition.
#[derive(Clone)]
enum Bound {
    Tokens(TokenStream),
    Repeated(Vec<Bound>),
}

type Bindings = BTreeMap<String, Bound>;

/// What begins with a dollar sign in a pattern or template.
enum Dollar<'a> {
    /// `$name:fragment`, or `$name` with an empty fragment.
    Name(String, String),
    /// `$( … ) separator operator`.
    Repetition {
        inner: Vec<TokenTree>,
        /// One mark, of up to two characters, or none.
        separator: &'a [TokenTree],
        at_most_once: bool,
    },
}

fn is_punct(token: Option<&TokenTree>, c: char) -> bool {
    matches!(token, Some(TokenTree::Punct(punct)) if punct.as_char() == c)
}

fn is_operator(token: Option<&TokenTree>) -> bool {
    ['*', '+', '?'].iter().any(|c| is_punct(token, *c))
}

/// What begins with the dollar sign at the head of these tokens, and how many tokens it takes.
fn dollar(tokens: &[TokenTree], is_pattern: bool) -> Option<(Dollar<'_>, usize)> {
    if !is_punct(tokens.first(), '$') {
        return None;
    }
    match tokens.get(1)? {
        TokenTree::Ident(name) => match tokens.get(3) {
            Some(TokenTree::Ident(fragment)) if is_pattern && is_punct(tokens.get(2), ':') => {
                Some((Dollar::Name(name.to_string(), fragment.to_string()), 4))
            }
            _ => Some((Dollar::Name(name.to_string(), String::new()), 2)),
        },
        TokenTree::Group(group) => {
            let operator = (2..5).find(|at| is_operator(tokens.get(*at)))?;
            let repetition = Dollar::Repetition {
                inner: group.stream().into_iter().collect(),
                separator: &tokens[2..operator],
                at_most_once: is_punct(tokens.get(operator), '?'),
            };
            Some((repetition, operator + 1))
        }
        _ => None,
    }
}

/// Every name of a pattern or template.
fn names(tokens: &[TokenTree], is_pattern: bool, found: &mut Vec<String>) {
    let mut at = 0;
    while at < tokens.len() {
        at += match dollar(&tokens[at..], is_pattern) {
            Some((Dollar::Name(name, _), length)) => {
                found.push(name);
                length
            }
            Some((Dollar::Repetition { inner, .. }, length)) => {
                names(&inner, is_pattern, found);
                length
            }
            None => {
                if let TokenTree::Group(group) = &tokens[at] {
                    let inner: Vec<_> = group.stream().into_iter().collect();
                    names(&inner, is_pattern, found);
                }
                1
            }
        };
    }
}

/// How many tokens of the input a syntax takes.
fn taken<T: Parse>(input: &[TokenTree]) -> Option<usize> {
    let stream: TokenStream = input.iter().cloned().collect();
    let parser = |input: ParseStream<'_>| {
        input.parse::<T>()?;
        input.parse::<TokenStream>()
    };
    let rest = parser.parse2(stream).ok()?;
    Some(input.len() - rest.into_iter().count())
}

fn fragment(kind: &str, input: &[TokenTree]) -> Option<usize> {
    match (kind, input.first()) {
        ("ident", Some(TokenTree::Ident(_)))
        | ("literal", Some(TokenTree::Literal(_)))
        | ("tt", Some(_)) => Some(1),
        ("literal", _) => is_punct(input.first(), '-').then_some(2),
        ("meta", _) => taken::<Meta>(input),
        ("ty", _) => taken::<Type>(input),
        ("path", _) => taken::<Path>(input),
        ("expr", _) => taken::<Expr>(input),
        ("vis", _) => taken::<Visibility>(input),
        ("ident" | "tt", _) => None,
        _ => panic!("no macro of the crate had a `{kind}` so far"),
    }
}

/// Matches the pattern with what the input begins with; gives how many tokens it took.
fn matched(pattern: &[TokenTree], input: &[TokenTree]) -> Option<(Bindings, usize)> {
    let mut bindings = Bindings::new();
    let (mut at, mut read) = (0, 0);
    while at < pattern.len() {
        let rest = &input[read..];
        match dollar(&pattern[at..], true) {
            Some((Dollar::Name(name, kind), length)) => {
                let count = fragment(&kind, rest)?;
                let tokens = rest[..count].iter().cloned().collect();
                bindings.insert(name, Bound::Tokens(tokens));
                (at, read) = (at + length, read + count);
            }
            Some((
                Dollar::Repetition {
                    inner,
                    separator,
                    at_most_once,
                },
                length,
            )) => {
                let mut inside = Vec::new();
                names(&inner, true, &mut inside);
                let mut each: Vec<Bindings> = Vec::new();
                loop {
                    let mut start = read;
                    if !each.is_empty() {
                        let marks = input[start..].iter().zip(separator);
                        let same =
                            marks.filter(|(one, other)| one.to_string() == other.to_string());
                        if same.count() < separator.len() {
                            break;
                        }
                        start += separator.len();
                    }
                    match matched(&inner, &input[start..]) {
                        Some((found, count)) if count > 0 => {
                            each.push(found);
                            read = start + count;
                        }
                        _ => break,
                    }
                    if at_most_once {
                        break;
                    }
                }
                for name in inside {
                    let all = each.iter().filter_map(|found| found.get(&name).cloned());
                    let all = Bound::Repeated(all.collect());
                    bindings.insert(name, all);
                }
                at += length;
            }
            None => {
                match (&pattern[at], rest.first()?) {
                    (TokenTree::Group(wanted), TokenTree::Group(found)) => {
                        if wanted.delimiter() != found.delimiter() {
                            return None;
                        }
                        bindings.extend(whole(wanted.stream(), found.stream())?);
                    }
                    (wanted, found) if wanted.to_string() == found.to_string() => {}
                    _ => return None,
                }
                (at, read) = (at + 1, read + 1);
            }
        }
    }
    Some((bindings, read))
}

/// Matches the pattern with all of the input.
fn whole(pattern: TokenStream, input: TokenStream) -> Option<Bindings> {
    let pattern: Vec<_> = pattern.into_iter().collect();
    let input: Vec<_> = input.into_iter().collect();
    let (bindings, count) = matched(&pattern, &input)?;
    (count == input.len()).then_some(bindings)
}

/// The template with what its names stand for.
fn filled(template: &[TokenTree], bindings: &Bindings) -> TokenStream {
    let mut made = TokenStream::new();
    let mut at = 0;
    while at < template.len() {
        at += match dollar(&template[at..], false) {
            Some((Dollar::Name(name, _), length)) => {
                match bindings.get(&name) {
                    Some(Bound::Tokens(tokens)) => made.extend(tokens.clone()),
                    _ if name == "crate" => {
                        made.extend([TokenTree::from(Ident::new("crate", Span::call_site()))]);
                    }
                    _ => panic!("`{name}` stands for no tokens here"),
                }
                length
            }
            Some((
                Dollar::Repetition {
                    inner, separator, ..
                },
                length,
            )) => {
                let mut inside = Vec::new();
                names(&inner, false, &mut inside);
                let of_name = |name: &String| match bindings.get(name) {
                    Some(Bound::Repeated(each)) => Some(each.len()),
                    _ => None,
                };
                for index in 0..inside.iter().find_map(of_name).unwrap_or(0) {
                    let mut here = bindings.clone();
                    for bound in here.values_mut() {
                        if let Bound::Repeated(each) = bound
                            && let Some(one) = each.get(index)
                        {
                            *bound = one.clone();
                        }
                    }
                    if index > 0 {
                        made.extend(separator.iter().cloned());
                    }
                    made.extend(filled(&inner, &here));
                }
                length
            }
            None => {
                made.extend([match &template[at] {
                    TokenTree::Group(group) => {
                        let inner: Vec<_> = group.stream().into_iter().collect();
                        Group::new(group.delimiter(), filled(&inner, bindings)).into()
                    }
                    token => token.clone(),
                }]);
                1
            }
        };
    }
    made
}

/// What a macro makes of these tokens, by the first of its rules that they fit.
fn played(macro_rules: &ItemMacro, input: &TokenStream) -> TokenStream {
    let tokens: Vec<_> = macro_rules.mac.tokens.clone().into_iter().collect();
    let mut groups = tokens.iter().filter_map(|token| match token {
        TokenTree::Group(group) => Some(group),
        _ => None,
    });
    while let (Some(pattern), Some(template)) = (groups.next(), groups.next()) {
        if let Some(bindings) = whole(pattern.stream(), input.clone()) {
            assert_ne!(template.delimiter(), Delimiter::None);
            let template: Vec<_> = template.stream().into_iter().collect();
            return filled(&template, &bindings);
        }
    }
    panic!("no rule of `{:?}` fits {input}", macro_rules.ident);
}

/// The items that a macro makes.
pub(crate) fn items(macro_rules: &ItemMacro, input: &TokenStream) -> Vec<Item> {
    let made = played(macro_rules, input);
    let read = syn::parse2::<syn::File>(made.clone());
    read.unwrap_or_else(|error| panic!("{error}: {made}")).items
}

/// The methods that a macro makes.
pub(crate) fn methods(macro_rules: &ItemMacro, input: &TokenStream) -> Vec<ImplItem> {
    let made = played(macro_rules, input);
    let parser = |input: ParseStream<'_>| {
        let mut found = Vec::new();
        while !input.is_empty() {
            found.push(input.parse::<ImplItem>()?);
        }
        Ok(found)
    };
    parser.parse2(made).unwrap()
}
