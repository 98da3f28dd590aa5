//! One name is one thing among the types that leave a module of the top.

use std::collections::BTreeMap;
use syn::{Item, Visibility};
use wortwright_tests::sources::sources;

fn leaves(visibility: &Visibility) -> bool {
    match visibility {
        Visibility::Public(_) => true,
        Visibility::Restricted(to) => to.path.is_ident("crate"),
        Visibility::Inherited => false,
    }
}

#[test]
fn no_two_types_that_leave_their_module_have_one_name() {
    let mut places: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for source in sources("") {
        for item in syn::parse_file(&source.text).unwrap().items {
            let (name, visibility) = match &item {
                Item::Struct(item) => (&item.ident, &item.vis),
                Item::Enum(item) => (&item.ident, &item.vis),
                Item::Trait(item) => (&item.ident, &item.vis),
                Item::Type(item) => (&item.ident, &item.vis),
                _ => continue,
            };
            if leaves(visibility) {
                let place = source.path.clone();
                places.entry(name.to_string()).or_default().push(place);
            }
        }
    }
    assert!(places.len() > 300, "{}", places.len());
    places.retain(|_, places| places.len() > 1);
    assert!(places.is_empty(), "{places:#?}");
}
