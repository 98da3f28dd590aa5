//! Amounts that are read as they stand and are often typed for others: each is read, and asked about.

use super::Lower;
use super::figure::is_fermentable;
use super::item::Stated;
use crate::catalogue::Kind;
use crate::diagnostic::{Code, Diagnostic};
use crate::notation::tree::{Token, text_of};
use crate::quantity::Unit;
use crate::recipe::{Amount, Ingredient};

/// Words of what is poured and not weighed.
const LIQUIDS: [&str; 5] = ["juice", "must", "cider", "wine", "antifoam"];

impl Lower<'_> {
    /// Asks about an amount that may be a slip, as it is `typed`.
    pub(super) fn slips_of_amount(
        &mut self,
        typed: &[Token<'_>],
        stated: &Stated,
        of: &Ingredient,
    ) {
        let Stated::Amount(Amount::Mass(mass), span) = stated else {
            return;
        };
        let may_be = matches!(mass.unit(), Unit::Ounce | Unit::Gram | Unit::Tonne);
        if !may_be && mass.range().is_none() {
            return;
        }
        let typed = text_of(typed);
        let typed = typed.as_str();
        let name = of.entry.as_deref().unwrap_or(&of.name);
        let is_liquid = of.kind == Kind::Beverage
            || matches!(of.kind, Kind::Juice | Kind::Aid)
                && name.split(' ').any(|word| LIQUIDS.contains(&word));
        let number = typed.split(' ').next().unwrap_or("");
        if mass.range().is_some() && of.kind == Kind::Hop {
            let middle = format!("{} {}", mass.number(), mass.unit().symbol());
            let message =
                format!("expected one amount of `{name}`, found `{typed}`; assumed {middle}");
            let found = Diagnostic::warning(Code::AmbiguousNumber, *span, message);
            self.push(found.with_help(format!("write one amount, such as `{middle} {name}`")));
            return;
        }
        let (message, help) = if mass.unit() == Unit::Ounce && is_liquid {
            (
                format!("expected ounces of weight or of volume of `{name}`; assumed weight"),
                format!("write `{number} fl oz`, or the mass in g"),
            )
        } else if typed.ends_with('T') && !matches!(of.kind, Kind::Malt | Kind::Grain) {
            (
                format!("expected tablespoons or tonnes of `{name}`; assumed tonnes"),
                format!("write `{number} tbsp`, or the mass in kg"),
            )
        } else if mass.unit() == Unit::Gram && is_fermentable(of.kind) && is_of_thousands(typed) {
            let whole = typed.replace(['.', 'g', ' '], "");
            (
                format!("expected grams with or without a part of them; assumed {typed}"),
                format!("write `{whole} g`, or the mass in kg"),
            )
        } else {
            return;
        };
        self.push(Diagnostic::warning(Code::AmbiguousNumber, *span, message).with_help(help));
    }
}

/// `1.250 g`: three digits behind the point, as where it parts thousands.
fn is_of_thousands(typed: &str) -> bool {
    let number = typed.split([' ', 'g']).next().unwrap_or("");
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    number.split_once('.').is_some_and(|(thousands, hundreds)| {
        hundreds.len() == 3 && thousands != "0" && digits(thousands) && digits(hundreds)
    })
}
