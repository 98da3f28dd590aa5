//! A plan as it is stored, and taken up again.

use super::{Order, Plan, ScaleOptions, WeighOut};
use crate::catalogue::{Catalogue, Entry};
use crate::diagnostic::Error;
use crate::inverse::LaidOut;
use crate::notation::Format;
use crate::recipe::{BitternessModel, Brewhouse, Recipe, Shelf, Stock};
use crate::remedy::{Remedy, with_lines};
use serde::{Deserialize, Serialize};

/// Two plans agree when no figure of their recipes differs by more than this part of it.
const SAME: f64 = 1e-9;

/// A plan to be stored: everything that it was worked out from, and the beer that came of it.
///
/// ```
/// use wortwright::{Job, scale::Kept};
///
/// let text = "recipe Plain\nbatch 20 L into fermenter\ntarget original 12 P\nmash\n  100 % pale ale malt\nboil 60 min\n\
///     brewhouse Kitchen\n  batch 10 L into fermenter\n";
/// let plan = Job::read([("plain", text)])?.on("Kitchen")?.plan()?;
/// let stored = serde_json::to_string(&plan.keep())?;
/// assert_eq!(serde_json::from_str::<Kept>(&stored)?.resume()?, plan);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct Kept {
    #[serde(default)]
    #[cfg_attr(feature = "schema", schemars(with = "u64"))]
    format: Format,
    /// The recipe that was to be brewed, with what was taken for it.
    pub recipe: Recipe,
    /// The plant.
    pub brewhouse: Brewhouse,
    /// The plant that the recipe's figures speak for; absent for a commercial one with stated defaults.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub printed_on: Option<Brewhouse>,
    /// What was in the cupboard.
    #[serde(default)]
    pub stock: Stock,
    /// Own ingredients.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ingredients: Vec<Entry>,
    /// Whether amounts were rounded to what the plant can weigh.
    #[serde(default)]
    pub weigh_out: WeighOut,
    /// The bitterness model that a host chose.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bitterness_model: Option<BitternessModel>,
    /// Whether nothing is said of how far its figures may be off.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub without_spread: bool,
    /// Remedies that were taken.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub remedies: Vec<Remedy>,
    /// The recipe with the amounts and the figures of the plan; without it they are those of today.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub planned: Option<Recipe>,
}

impl Plan {
    /// The plan with its first way out taken; none where nothing is out of reach.
    ///
    /// Its sheet is what [`Plan::sheet`] prints of a plan that is out of reach.
    ///
    /// ```
    /// use wortwright::Job;
    ///
    /// let text = "recipe Strong\nbatch 10 L into fermenter\ntarget original 24 P\nmash\n  100 % pale ale malt\n\
    ///     brewhouse Pot\n  batch 10 L into fermenter\n  kettle 16 L\n  lauter bag\n";
    /// let plan = Job::read([("strong", text)])?.on("Pot")?.plan()?;
    /// let relieved = plan.with_first_remedy().expect("a way out");
    /// assert!(plan.remedy.is_some() && relieved.outcomes.is_empty());
    /// # Ok::<(), wortwright::Error>(())
    /// ```
    #[must_use]
    pub fn with_first_remedy(&self) -> Option<Self> {
        let remedy = self.remedy.as_ref()?;
        let mut kept = self.brews().kept.clone();
        kept.recipe = with_lines(&kept.recipe, &kept.brewhouse, std::slice::from_ref(remedy));
        kept.brewhouse = remedy.on_plant(kept.brewhouse);
        kept.remedies.push(remedy.clone());
        kept.resume().ok()
    }
}

impl Order<'_> {
    /// Everything that the order is made from; nothing of what comes of it.
    pub(super) fn kept(self) -> Kept {
        Kept {
            recipe: self.recipe.clone(),
            brewhouse: self.brewhouse.clone(),
            printed_on: self.printed_on.cloned(),
            stock: self.stock.clone(),
            ingredients: self.catalogue.own().to_vec(),
            weigh_out: self.options.weigh_out,
            bitterness_model: self.options.bitterness,
            without_spread: !self.options.spread,
            remedies: self.taken.to_vec(),
            ..Kept::default()
        }
    }
}

impl Kept {
    /// The plan.
    ///
    /// It is worked out anew from what it was worked out from. Where this version of the library comes to other amounts, those
    /// that are kept stand.
    ///
    /// # Errors
    ///
    /// As for [`Brew::plan`](crate::job::Brew::plan).
    pub fn resume(&self) -> Result<Plan, Error> {
        self.resumed(self.options())
    }

    /// The same without what is said of its spread.
    pub(crate) fn resume_plainly(&self) -> Result<Plan, Error> {
        self.resumed(self.options().without_spread())
    }

    fn resumed(&self, options: ScaleOptions) -> Result<Plan, Error> {
        let anew = self.plan(&self.recipe, self.printed_on.as_ref(), options);
        let Some(planned) = &self.planned else {
            return anew;
        };
        match anew {
            Ok(plan) if plan.recipe.agrees(planned, SAME) => Ok(plan),
            _ => {
                let exactly = options.with_weigh_out(WeighOut::Exact);
                self.plan(planned, Some(&self.brewhouse), exactly)
            }
        }
    }

    fn options(&self) -> ScaleOptions {
        ScaleOptions {
            weigh_out: self.weigh_out,
            bitterness: self.bitterness_model,
            spread: !self.without_spread,
        }
    }

    fn plan(
        &self,
        recipe: &Recipe,
        printed_on: Option<&Brewhouse>,
        options: ScaleOptions,
    ) -> Result<Plan, Error> {
        let catalogue = Catalogue::builtin().with(self.ingredients.iter().cloned());
        let order = Order {
            recipe,
            brewhouse: &self.brewhouse,
            printed_on,
            stock: &self.stock,
            shelf: &Shelf::of(&self.stock),
            catalogue: &catalogue,
            options,
            taken: &self.remedies,
        };
        order.plan(order.read(LaidOut::of(recipe, &catalogue)?)?)
    }
}
