//! What can only be judged once several lines are read.

use super::Lower;
use super::figure::is_fermentable;
use super::item::{Item, Stated};
use crate::diagnostic::{Code, Diagnostic, Span, nearest};
use crate::notation::note::ReadingNote;
use crate::recipe::{Amount, Brewhouse, Content, Lauter};

/// Shares within this of a hundred are printed ones that were rounded.
const ROUNDED_PERCENT: f64 = 0.5;
/// Sums of decimal shares are exact to this.
const EXACT_PERCENT: f64 = 1e-9;

/// A fermentable on the wort side and how its amount was stated.
#[derive(Debug, Clone, Copy)]
pub(super) struct Fermentable {
    span: Span,
    share_percent: Option<f64>,
}

impl Lower<'_> {
    /// Remembers an item of the wort side for the sum of shares.
    pub(super) fn count(&mut self, item: Option<&Item>) {
        let Some(item) = item else {
            self.shares_unsure = true;
            return;
        };
        let counts = match &item.addition.content {
            Content::Single(ingredient) => is_fermentable(ingredient.kind),
            Content::Blend(parts) => parts
                .iter()
                .any(|part| part.ingredient().is_some_and(|i| is_fermentable(i.kind))),
        };
        if !counts {
            return;
        }
        match &item.stated {
            Stated::Amount(amount, _) => self.fermentables.push(Fermentable {
                span: item.span,
                share_percent: match amount {
                    Amount::Share(share) => Some(share.number()),
                    _ => None,
                },
            }),
            Stated::Nothing | Stated::Faulty => self.shares_unsure = true,
        }
    }

    pub(super) fn check_whole(&mut self) {
        let Some(opened) = self.opened else {
            return;
        };
        if self.named.is_none() {
            self.push(
                Diagnostic::warning(
                    Code::NamelessRecipe,
                    opened,
                    "expected a `recipe` line before this one",
                )
                .with_help("begin with `recipe` and the name of the beer"),
            );
        }
        self.check_shares(opened);
        self.check_plant();
        self.check_sense();
    }

    fn check_shares(&mut self, opened: Span) {
        let mut stated = self.fermentables.iter().copied();
        let share = stated.clone().find(|f| f.share_percent.is_some());
        let mass = stated.find(|f| f.share_percent.is_none());
        if let (Some(share), Some(mass)) = (share, mass) {
            self.push(
                Diagnostic::error(
                    Code::SharesBesideMasses,
                    mass.span,
                    "expected a share in `%`, as for the other fermentables, found a mass",
                )
                .with_label(share.span, "this one is a share")
                .with_help(
                    "write all fermentables of mash, boil and stands as shares, or all of them as masses",
                ),
            );
            return;
        }
        if let (None, Some(_), Some(basis)) = (share, mass, self.basis_line) {
            let message = "expected fermentables in `%` for a basis of shares, found masses";
            self.push(
                Diagnostic::warning(Code::UnusedLine, basis, message)
                    .with_help("delete the `shares` line: masses need none"),
            );
        }
        if share.is_none() || self.shares_unsure {
            return;
        }
        let sum: f64 = self
            .fermentables
            .iter()
            .filter_map(|f| f.share_percent)
            .sum();
        let span = self.seen.place("mash").unwrap_or(opened);
        self.check_sum(sum, span, "the fermentables");
    }

    /// Notes shares that were rounded; complains if they do not add up.
    fn check_sum(&mut self, sum: f64, span: Span, of: &str) {
        let off = sum - 100.0;
        if off.abs() <= EXACT_PERCENT {
            return;
        }
        let text = tidy(sum);
        if off.abs() <= ROUNDED_PERCENT + EXACT_PERCENT {
            self.notes
                .push(ReadingNote::SharesNormalised { sum_pct: sum, span });
            return;
        }
        let (by, what) = (
            tidy(off.abs()),
            if off > 0.0 { "too much" } else { "missing" },
        );
        self.push(
            Diagnostic::error(
                Code::SharesDoNotAddUp,
                span,
                format!("expected the shares of {of} to add up to 100 %, found {text} %"),
            )
            .with_help(format!(
                "{by} % {what}: correct a share or add the missing line"
            )),
        );
    }

    /// Shares among the parts of a blend.
    pub(super) fn check_blend(&mut self, items: &[Item], span: Span) {
        let share = |item: &Item| match &item.stated {
            Stated::Amount(Amount::Share(share), _) => Some(share.number()),
            _ => None,
        };
        let sum: f64 = items.iter().filter_map(share).sum();
        let shares = items.iter().filter(|item| share(item).is_some()).count();
        let faulty = items
            .iter()
            .any(|item| !matches!(item.stated, Stated::Amount(..)));
        if shares == 0 || faulty {
            return;
        }
        if shares < items.len() {
            let other = items.iter().find(|item| share(item).is_none());
            self.push(
                Diagnostic::error(
                    Code::SharesBesideMasses,
                    other.map_or(span, |item| item.span),
                    "expected a share in `%`, as for the other parts of the blend",
                )
                .with_help("write all parts as shares, or all of them as amounts"),
            );
            return;
        }
        self.check_sum(sum, span, "the parts of a blend");
    }

    fn check_plant(&mut self) {
        let Some(name) = &self.recipe.brewed_on else {
            return;
        };
        if self.brewhouses.is_empty() {
            return;
        }
        let span = self.plant_named.unwrap_or_default();
        match Brewhouse::find(name, &self.brewhouses) {
            Err(unknown) => {
                let names = self.brewhouses.iter().map(|plant| plant.name.as_str());
                let help = match (nearest(name, names).first(), unknown.help()) {
                    (Some(near), _) => format!("did you mean `{near}`?"),
                    (None, Some(all)) => format!("{all}; or add a block `brewhouse {name}`"),
                    (None, None) => format!("add a block `brewhouse {name}`"),
                };
                let message = format!("expected the name of a `brewhouse` block, found `{name}`");
                self.push(Diagnostic::warning(Code::UnknownPlant, span, message).with_help(help));
            }
            Ok(plant)
                if plant.lauter == Some(Lauter::NoMash) && self.recipe.mash.sparge.is_some() =>
            {
                let message = format!("expected no sparge, since `{name}` has no mash");
                self.push(
                    Diagnostic::error(Code::SpargeWithoutMash, span, message)
                        .with_help("delete the `sparge` line, or `no mash` of the plant"),
                );
            }
            Ok(_) => {}
        }
    }
}

/// A sum without the dust of binary fractions.
fn tidy(percent: f64) -> String {
    let text = format!("{percent:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
