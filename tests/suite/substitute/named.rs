//! Missing lines are named as the recipe names them.

use wortwright::diagnostic::{Error, ErrorKind};
use wortwright::job::Job;
use wortwright::substitute::{NoSubstitute, Proposals, SubstituteOptions};

const PLANT: &str = "brewhouse Pot\n  batch 20 L into fermenter\n  kettle 36 L\n  lauter bag\n";
const BITTER: &str = "Bitter\n20 L, OG 1.044, 30 IBU\nMash 66 C 60 min\n3.6 kg Maris Otter\n300 g crystal 60\n\
     200 g torrified wheat\nBoil 60 min\n34 g Fuggle (4.8%) @ 60\n28 g saaz @ 5\nEnglish ale yeast, 19 C\n";

fn asked(beer: &str, missing: &[&str]) -> Result<Vec<Proposals>, Error> {
    let brew = Job::read([("beer", beer), ("pot", PLANT)])?.on("Pot")?;
    let options = SubstituteOptions::default().with_missing(missing.iter().copied());
    Ok(brew.substitutes_with(&options)?.missing)
}

#[test]
fn the_words_of_the_recipe_name_its_lines() {
    for (typed, name) in [
        ("crystal 60", "caramel malt 150 EBC"),
        ("torrified wheat", "torrefied wheat"),
        ("saaz", "Saazer"),
        ("Fuggle", "Fuggle"),
    ] {
        let found = asked(BITTER, &[typed]).unwrap();
        assert_eq!(found[0].name, name, "{typed}");
    }
}

#[test]
fn a_name_of_several_lines_is_asked_for() {
    let two = BITTER.replace("200 g torrified wheat", "200 g crystal 120");
    let refused = asked(&two, &["crystal"]).unwrap_err();
    assert_eq!(refused.kind(), ErrorKind::UnknownName);
    assert!(
        refused.message().contains("may be"),
        "{}",
        refused.message()
    );
}

/// Grades of one malt are lots of their own: 40 and 80 degrees Lovibond are 105 and 211 EBC.
#[test]
fn another_grade_of_the_cupboard_is_a_candidate() {
    let stock =
        "\nstock\n  4 kg maris otter\n  1 kg crystal 40\n  1 kg crystal 80\n  none crystal 60\n";
    let found = asked(&format!("{BITTER}{stock}"), &[]).unwrap();
    assert_eq!(found.len(), 1);
    let leaders: Vec<_> = found[0]
        .proposals
        .iter()
        .filter_map(|p| p.leader())
        .collect();
    assert_eq!(
        leaders[..2],
        ["caramel malt 120 EBC", "caramel malt 200 EBC"]
    );
}

#[test]
fn a_culture_that_sours_the_wort_is_answered() {
    let sour = "recipe Sour\nbatch 20 L\ntarget original 12 P\nmash\n  100 % pilsner malt\n\
         sour 36 h at 40 C to pH 3.4 with 10 g lactobacillus culture\nboil 60 min\nferment\n  pitch irish ale yeast at 19 C\n";
    let found = asked(sour, &["lactobacillus culture"]).unwrap();
    assert_eq!(found[0].no_substitute, Some(NoSubstitute::AnotherCulture));
}
