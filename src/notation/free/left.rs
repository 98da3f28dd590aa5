//! What no line of the notation says: it is told, or asked about where it may have been an ingredient.

use super::draft::{line, tokens};
use super::group::{Figure, Group, Link, Name};
use super::said::{Part, trade};
use super::scan::scan;
use super::sheet::Sheet;
use super::told::Told;
use crate::catalogue::Kind;
use crate::diagnostic::{Code, Diagnostic};
use crate::notation::tree::Line;
use crate::quantity::Dimension;

/// Words of what is mashed.
const GRAINS: [&str; 9] = [
    "malt", "barley", "wheat", "oat", "oats", "rye", "spelt", "maize", "flakes",
];

impl Sheet<'_> {
    /// Whether a line that cannot be read speaks of no ingredient.
    pub(super) fn is_remark(&self, typed: &Line<'_>) -> bool {
        let bits = scan(typed.tokens());
        let is_slip = |group: &Group| {
            let words = group.others.join(" ");
            !words.is_empty()
                && group.figures.is_empty()
                && !self.names.catalogue.near(&words, None).is_empty()
        };
        self.groups(&bits).iter().all(|group| {
            group.name.is_none()
                && group.figures.is_empty()
                && group.doubt.is_none()
                && !is_slip(group)
        })
    }

    /// Whether a line speaks of waters and of nothing that is counted: `tap cut half and half with rain water`, `5 L spring water`.
    pub(super) fn is_of_waters(&self, typed: &Line<'_>) -> bool {
        let groups = self.groups(&scan(typed.tokens()));
        let is_water = |name: &Name| self.names.resolve(&name.words, &[Kind::Beverage]).is_some();
        groups
            .iter()
            .any(|group| group.name.as_ref().is_some_and(is_water))
            && groups.iter().all(|group| {
                let is_litres = |figure: &Figure| figure.dimension() == Some(Dimension::Volume);
                group.figures.iter().all(is_litres)
                    && group.doubt.is_none()
                    && group.name.as_ref().is_none_or(is_water)
            })
    }

    /// A line that says nothing that can be read: an ingredient that is not known is complained of, all else is told.
    pub(super) fn unread(&mut self, typed: &Line<'_>, part: Part) {
        let bits = scan(typed.tokens());
        for mut group in self.groups(&bits) {
            let unknown = group
                .name
                .take()
                .filter(|name| !name.is_known || name.is_quoted);
            let amount = group.amounts().next().copied();
            let amount = amount.filter(|_| part != Part::Head);
            if unknown.is_none() {
                self.unknown(&mut group, part);
            }
            if let (Some(name), Some(amount)) = (unknown, amount) {
                let mut whole = tokens(&amount.text(), amount.span);
                let text = name.words.join(" ");
                let text = if name.is_quoted {
                    format!("\"{}\"", text.replace('"', "\"\""))
                } else {
                    text
                };
                whole.extend(tokens(&text, name.span));
                self.lines(part).push(line(whole, Vec::new()));
                group.figures.retain(|figure| figure.at != amount.at);
            }
            self.leave(&group);
        }
    }

    /// Words beside an amount by weight, in a part of the sheet that holds ingredients: one that is not known, which is complained of
    /// and not left out.
    pub(super) fn unknown(&mut self, group: &mut Group, part: Part) {
        let is_listed = matches!(part, Part::Mash | Part::Boil | Part::Stand | Part::Ferment);
        let is_weight = |figure: &Figure| {
            matches!(
                figure.dimension(),
                Some(Dimension::Mass | Dimension::Concentration | Dimension::Bitterness)
            )
        };
        let Some(amount) = group.figures.iter().copied().find(is_weight) else {
            return;
        };
        let is_name = (1..=4).contains(&group.others.len())
            && group.name.is_none()
            && group.said.is_empty()
            && group.phrase.is_empty()
            && !group.others.iter().all(|word| trade().is_how_made(word));
        // Among the grist the name must say that it is grain: `Grist 24 kg` and `a 50 lb sack` are none.
        let is_grain = |word: &String| GRAINS.contains(&word.as_str());
        let may_be = part != Part::Mash || group.others.iter().any(is_grain);
        if !is_listed || !is_name || !may_be || group.is_denied {
            return;
        }
        let span = group.span.unwrap_or(amount.span);
        let mut whole = tokens(&amount.text(), amount.span);
        whole.extend(tokens(&group.others.join(" "), span));
        group.figures.retain(|figure| figure.at != amount.at);
        group.others.clear();
        self.lines(part).push(line(whole, Vec::new()));
    }

    /// `2 pineapples`: how many of an ingredient, of which one weighs that nobody knows. It is asked, so that nothing that goes in
    /// counts for nothing.
    fn uncounted(&mut self, group: &Group) -> Option<Figure> {
        let is_listed = matches!(
            self.part,
            Part::Mash | Part::Boil | Part::Stand | Part::Ferment | Part::Package
        );
        let name = group.name.as_ref().filter(|name| name.is_known)?;
        let stands_alone = group.said.is_empty() && group.others.len() < 3 && !group.is_denied;
        if !is_listed || !stands_alone || group.amounts().next().is_some() {
            return None;
        }
        let end = name.at + name.words.len();
        let is_count = |figure: &&Figure| {
            figure.bare.is_some()
                && figure.link == Link::None
                && (figure.at < name.at && figure.at + 2 >= name.at || figure.at == end)
        };
        let count = group.figures.iter().find(is_count).copied()?;
        let (number, name) = (count.text(), name.words.join(" "));
        let message = format!("expected how much {number} {name} are, found no weight of one");
        let help = format!("write the weight of all: `400 g {name}`");
        let found = Diagnostic::error(Code::MissingUnit, count.span, message).with_help(help);
        self.told.push(Told::Asked(found));
        Some(count)
    }

    /// What is left of a group.
    pub(super) fn leave(&mut self, group: &Group) {
        let uncounted = self.uncounted(group);
        for figure in &group.figures {
            if uncounted.is_some_and(|count| count.at == figure.at) {
                continue;
            }
            self.told.push(Told::NotUsed(figure.text(), figure.span));
        }
        if !group.others.is_empty()
            && let Some(span) = group.span
        {
            self.told.push(Told::Remark(group.others.join(" "), span));
        }
    }
}
