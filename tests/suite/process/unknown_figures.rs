//! A figure that nobody knows is taken in the open, or the recipe is refused; it is never silently nothing.

use crate::brewing;
use wortwright::diagnostic::{Error, Severity, TextRef};
use wortwright::notation::read;
use wortwright::process::{Assumption, Figure, Prediction};
use wortwright::recipe::Content;
use wortwright::speech::Noted;

fn predicted(mash: &str, ferment: &str) -> Result<Prediction, Error> {
    let text = format!(
        "recipe Odd\nbatch 20 hL into fermenter\ntarget original 12 P\nmash\n{mash}ferment\n  pitch english ale yeast\n{ferment}"
    );
    brewing::predicted(&text)
}

#[test]
fn a_grain_of_unknown_fermentability_ferments_as_the_rest_of_the_grist() {
    let odd =
        "  50 % pale ale malt\n  50 % moon barley, 80 % extract dry, moisture 5 %, 6 EBC, 100 WK\n";
    let with = predicted(odd, "").unwrap();
    let mean = with.assumptions.iter().find_map(|a| match &a.what {
        Assumption::MeanOfGrist {
            name,
            figure: Figure::Fermentability,
            value,
        } => Some((name.as_str(), *value)),
        _ => None,
    });
    // The catalogue has 66 % for pale ale malt, the only one that is known.
    assert_eq!(mean, Some(("moon barley", 0.66)));
}

#[test]
fn where_nothing_is_known_the_recipe_is_refused() {
    let error = predicted(
        "  100 % moon barley, 80 % extract dry, moisture 5 %, 6 EBC\n",
        "",
    )
    .unwrap_err();
    assert!(error.to_string().contains("moon barley"), "{error}");
    assert!(error.help().unwrap().contains("fermentable"));
}

/// A dry hop isomerises nothing, so that the beer is the same whatever alpha acids it has, and nobody need state them.
#[test]
fn a_dry_hop_needs_no_alpha_acids() {
    let hopped = |line: &str| predicted("  100 % pale ale malt\n", &format!("  add {line}\n"));
    let unknown = hopped("20 g/hL hedgerow, pellets on day 5").unwrap();
    let stated = hopped("20 g/hL hedgerow, pellets, 9 % alpha on day 5").unwrap();
    assert_eq!(unknown.predicted, stated.predicted);
    let named = |a: &Noted<Assumption>| a.what == Assumption::DryHopsWithoutBitterness;
    assert!(unknown.assumptions.iter().any(named));

    let text = |block: &str| format!("recipe Odd\nbatch 20 L into fermenter\n{block}");
    let said = |block: &str| {
        let text = text(block);
        let reading = read(&[TextRef::new("odd", &text)]);
        let said = reading.diagnostics.iter();
        said.map(|d| (d.severity, d.code.as_str()))
            .collect::<Vec<_>>()
    };
    // It may still be a slip of the pen, which a warning says.
    assert_eq!(
        said("ferment\n  add 20 g hedgerow, pellets on day 5\n"),
        [(Severity::Warning, "unknown_ingredient")]
    );
    for hot in [
        "boil 60 min\n  20 g hedgerow, pellets at 60 min\n",
        "stand 20 min at 80 C\n  20 g hedgerow, pellets\n",
    ] {
        assert_eq!(said(hot), [(Severity::Error, "missing_alpha")], "{hot}");
    }
    // A host that sends such a hop without a text is refused all the same.
    let reading_of = text("boil 60 min\n  20 g hedgerow, pellets, 9 % alpha at 60 min\n");
    let mut recipe = read(&[TextRef::new("odd", &reading_of)]).recipe.unwrap();
    let Content::Single(hop) = &mut recipe.boil.additions[0].content else {
        panic!()
    };
    hop.facts.alpha = None;
    let error = wortwright::Job::builder(recipe).build().unwrap_err();
    assert!(error.to_string().contains("alpha acids"), "{error}");
}

#[test]
fn a_later_addition_without_a_gravity_is_said_to_go_in_at_the_end() {
    let late = predicted(
        "  100 % pale ale malt\n",
        "  add 10 % by volume on day 5\n    100 % apple juice, 12 Bx\n",
    );
    let assumptions = late.unwrap().assumptions;
    let said = |name: &str| {
        let wanted = Assumption::LateAddition { name: name.into() };
        assumptions.iter().any(|told| told.what == wanted)
    };
    assert!(said("apple juice"), "{assumptions:?}");
}
