//! A kitchen: a recipe, its plants and a stock, asked for substitutes.

use wortwright::catalogue::Catalogue;
use wortwright::diagnostic::{Error, TextRef};
use wortwright::job::{Brew, Job, JobBuilder};
use wortwright::notation::read;
use wortwright::quantity::uom::si::mass::kilogram;
use wortwright::recipe::{Brewhouse, Recipe, Stock};
use wortwright::scale::{Plan, ScaleOptions, WeighOut};
use wortwright::substitute::{Candidates, ColourMatch, Proposals, SubstituteOptions, Together};
use wortwright_tests::fixtures::{DEMO, DEMO_PLANT, changed, fixture};

/// A recipe, its plants and a stock, read from a text.
pub(crate) struct Kitchen {
    pub(crate) recipe: Recipe,
    pub(crate) plants: Vec<Brewhouse>,
    pub(crate) stock: Stock,
}

impl Kitchen {
    pub(crate) fn read(text: &str) -> Self {
        let sources = [TextRef::new("kitchen", text)];
        let reading = read(&sources);
        assert!(reading.is_usable(), "{:?}\n{text}", reading.diagnostics);
        Self {
            recipe: reading.recipe.clone().unwrap(),
            plants: reading.brewhouses.clone(),
            stock: reading.stock.clone(),
        }
    }

    pub(crate) fn target(&self) -> &Brewhouse {
        self.plants.iter().find(|p| p.batch.is_some()).unwrap()
    }

    /// The brew of a recipe on its target with its stock, amounts not rounded to a scale.
    pub(crate) fn brew_of(&self, recipe: &Recipe) -> Brew {
        self.brew_by(recipe, Catalogue::builtin())
    }

    fn brew_by(&self, recipe: &Recipe, catalogue: Catalogue) -> Brew {
        let job = Job::builder(recipe.clone()).catalogue(catalogue);
        let plants = self.plants.iter().cloned();
        let job = plants.fold(job, JobBuilder::plant);
        let job = job.stock(self.stock.clone()).build().unwrap();
        let exact = ScaleOptions::default().with_weigh_out(WeighOut::Exact);
        job.on_with(&self.target().name, &exact).unwrap()
    }

    /// The plan of the recipe as printed, nothing replaced.
    pub(crate) fn printed(&self) -> Plan {
        self.brew_of(&self.recipe).plan().unwrap()
    }

    pub(crate) fn propose(&self, missing: &[&str], options: &SubstituteOptions) -> Vec<Proposals> {
        self.propose_from(Catalogue::builtin(), missing, options)
            .unwrap()
    }

    pub(crate) fn propose_from(
        &self,
        catalogue: Catalogue,
        missing: &[&str],
        options: &SubstituteOptions,
    ) -> Result<Vec<Proposals>, Error> {
        let options = options.clone().with_missing(missing.iter().copied());
        let brew = self.brew_by(&self.recipe, catalogue);
        Ok(brew.substitutes_with(&options)?.missing)
    }

    pub(crate) fn sets(&self, missing: &[&str], options: &SubstituteOptions) -> Together {
        let options = options.clone().with_missing(missing.iter().copied());
        self.brew_of(&self.recipe).sets_with(&options).unwrap()
    }
}

/// A recipe with this grist and these blocks after its mash, on a small plant, with these lots.
pub(crate) fn pot(grist: &str, after: &str, lots: &str) -> String {
    let changes = [
        ("  # grist\n", grist),
        ("# after the mash\n", after),
        ("  # lots\n", lots),
    ];
    changed(&fixture("substitute/pot"), &changes)
}

pub(crate) fn demo_text() -> String {
    format!("{DEMO}\n{DEMO_PLANT}")
}

/// Kilograms of one addition of a plan.
pub(crate) fn mass_kg(plan: &Plan, name: &str) -> f64 {
    let addition = plan.additions.iter().find(|a| a.name == name).unwrap();
    addition.mass.unwrap().get::<kilogram>()
}

pub(crate) fn demo() -> Kitchen {
    Kitchen::read(&demo_text())
}

pub(crate) fn whole() -> SubstituteOptions {
    SubstituteOptions::default().with_candidates(Candidates::Catalogue)
}

/// What is at hand alone.
pub(crate) fn in_stock() -> SubstituteOptions {
    SubstituteOptions::default().with_candidates(Candidates::Stock)
}

/// The same with the wort's colour kept to the last digit: what can be worked out by hand.
pub(crate) fn exactly_in_stock() -> SubstituteOptions {
    in_stock().with_colour_match(ColourMatch::Exact)
}

/// The whole catalogue, the wort's colour kept to the last digit.
pub(crate) fn exact() -> SubstituteOptions {
    whole().with_colour_match(ColourMatch::Exact)
}
