//! One word is one thing: `src/names.md` lists where each word that could be several stands, and what it means there.

use crate::json_fields::table;
use crate::public_items::listed;
use std::collections::BTreeSet;
use wortwright_tests::files;

#[test]
fn a_word_of_several_meanings_stands_where_the_table_says() {
    let items = listed();
    let rows = table(&files::read("src/names.md"), "One word, one thing");
    assert!(rows.len() > 3, "{rows:?}");
    for row in rows {
        let word = &row[0][0];
        let owner = |line: &String| {
            let (_, path) = line.split_once(' ')?;
            let (owner, last) = path.rsplit_once("::")?;
            let of_type = owner.find(|c: char| c.is_uppercase())?;
            (last.to_lowercase() == *word).then(|| owner[of_type..].to_owned())
        };
        let found: BTreeSet<String> = items.iter().filter_map(owner).collect();
        let stated: BTreeSet<String> = row[1].iter().cloned().collect();
        assert_eq!(found, stated, "`{word}`");
    }
}
