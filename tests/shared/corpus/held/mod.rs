//! The facts that the models hold, in the words of the corpus, each with the line that states it.

mod log;
mod plant;
mod recipe;

use super::fact::{Amount, Fact, Figure, Figures};
use super::lines::Lines;
use super::measure::{Measure, Scale};
use super::names::kinds_of;
use wortwright::catalogue::Catalogue;
use wortwright::notation::Reading;
use wortwright::quantity::{Quantity, Written};
use wortwright::recipe::{
    Addition, Amount as Stated, At, Batch, BatchPoint, HopForm, Ingredient, IonTargets, PackSize,
};

/// A fact that a model holds.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Held {
    pub fact: Fact,
    /// Figures that hold for it without being stated of it: the time and heat of the stand that it goes into.
    pub implied: Figures,
    /// What it may be called among the kinds of the corpus; empty for a setting.
    pub kinds: Vec<&'static str>,
    /// Its name in the catalogue, where it has one.
    pub entry: Option<String>,
    /// Whether another fact says it too: the heat at which yeast is pitched is what the wort is cooled to.
    pub is_shadow: bool,
}

impl Held {
    /// The fact under its name in the catalogue, with the one typed.
    pub(super) fn shown(&self) -> Fact {
        let mut fact = self.fact.clone();
        if let Some(entry) = &self.entry {
            fact.name = if *entry == fact.name {
                entry.clone()
            } else {
                format!("{entry} ({})", fact.name)
            };
        }
        fact
    }
}

/// All that a reading holds.
pub(super) fn held(reading: &Reading<'_>, text: &str, catalogue: &Catalogue) -> Vec<Held> {
    let mut gathering = Gathering {
        lines: Lines::of(reading, text, catalogue),
        catalogue,
        found: Vec::new(),
    };
    if let Some(recipe) = &reading.recipe {
        gathering.recipe(recipe);
    }
    for plant in &reading.brewhouses {
        gathering.plant(plant);
    }
    gathering.pitching_heat();
    gathering.stock(&reading.stock);
    for log in &reading.logs {
        gathering.log(log);
    }
    gathering.found
}

struct Gathering<'a> {
    lines: Lines<'a>,
    catalogue: &'a Catalogue,
    found: Vec<Held>,
}

fn amount<Q: Quantity>(written: &Written<Q>) -> Amount {
    Amount::Is(Measure::of(written))
}

fn figures<const N: usize>(stated: [(&str, Option<Measure>); N]) -> Figures {
    let stated = stated.into_iter();
    stated
        .filter_map(|(label, measure)| Some((label.to_owned(), Figure::Is(measure?))))
        .collect()
}

fn some<Q: Quantity>(written: Option<&Written<Q>>) -> Option<Measure> {
    written.map(Measure::of)
}

impl Gathering<'_> {
    fn setting(&mut self, line: usize, slot: [&str; 3], amount: Amount, figures: Figures) {
        let [stage, kind, name] = slot.map(str::to_owned);
        self.found.push(Held {
            fact: Fact {
                line,
                stage,
                kind,
                name,
                amount,
                figures,
                row: String::new(),
            },
            implied: Figures::new(),
            kinds: Vec::new(),
            entry: None,
            is_shadow: false,
        });
    }

    /// A setting that is one figure, if it is stated.
    fn figure<Q: Quantity>(&mut self, path: &str, slot: [&str; 3], written: Option<&Written<Q>>) {
        if let Some(written) = written {
            let line = self.lines.line(path);
            self.setting(line, slot, amount(written), Figures::new());
        }
    }

    fn batch(&mut self, path: &str, stage: &str, batch: Option<&Batch>) {
        if let Some(batch) = batch {
            let at = match batch.at {
                BatchPoint::IntoFermenter => "into fermenter",
                BatchPoint::EndOfBoil => "after boil",
                BatchPoint::Packaged => "packaged",
                _ => "?",
            };
            let line = self.lines.line(path);
            let volume = amount(&batch.volume);
            self.setting(line, [stage, "batch", at], volume, Figures::new());
        }
    }

    fn ions(&mut self, path: &str, stage: &str, ions: &IonTargets) {
        for (ion, stated) in ions.stated() {
            let field = if ion == "alkalinity" {
                format!("{path}.alkalinity_as_caco3_g_l")
            } else {
                format!("{path}.{ion}_g_l")
            };
            self.figure(&field, [stage, "water", ion], Some(stated));
        }
    }

    fn additions(&mut self, path: &str, stage: &str, additions: &[Addition], implied: &Figures) {
        let words: Vec<String> = additions
            .iter()
            .map(|addition| {
                let ingredient = addition.ingredient();
                ingredient.map_or(String::new(), |ingredient| ingredient.name.clone())
            })
            .collect();
        let lines = self.lines.of_list(path, &words);
        for (index, (addition, line)) in additions.iter().zip(lines).enumerate() {
            let path = format!("{path}[{index}]");
            self.addition(&path, line, stage, addition, implied);
        }
    }

    fn addition(&mut self, path: &str, line: usize, stage: &str, of: &Addition, implied: &Figures) {
        let timing = timing(of);
        if let Some(ingredient) = of.ingredient() {
            let amount = of.amount.as_ref().map_or(Amount::Unstated, stated);
            self.ingredient(line, stage, ingredient, amount, timing, implied);
            return;
        }
        // A blend's amount is all of its parts', and each has its own share of it.
        for (part, addition) in of.parts().iter().enumerate() {
            let path = format!("{path}.content.blend[{part}]");
            let line = match self.lines.line(&path) {
                0 => line,
                found => found,
            };
            if let Some(ingredient) = addition.ingredient() {
                let amount = addition.amount.as_ref().map_or(Amount::Unstated, stated);
                let amount = match (of.amount.as_ref().map(stated), amount) {
                    (Some(Amount::Is(whole)), Amount::Is(share))
                        if share.scale == Scale::Percent =>
                    {
                        Amount::Is(whole.times(share.total() / 100.0))
                    }
                    (_, amount) => amount,
                };
                self.ingredient(line, stage, ingredient, amount, timing.clone(), implied);
            }
        }
    }

    fn ingredient(
        &mut self,
        line: usize,
        stage: &str,
        ingredient: &Ingredient,
        amount: Amount,
        mut figures: Figures,
        implied: &Figures,
    ) {
        figures.extend(facts(ingredient));
        let kinds = kinds_of(ingredient, self.catalogue);
        // A rate of pitching stands where an amount does.
        let rate = ingredient.facts.pitch_rate.as_ref();
        let amount = match (amount, rate) {
            (Amount::Unstated, Some(rate)) => Amount::Is(Measure::of(rate)),
            (amount, _) => amount,
        };
        self.found.push(Held {
            fact: Fact {
                line,
                stage: stage.to_owned(),
                kind: kinds.first().copied().unwrap_or("other").to_owned(),
                name: ingredient.name.clone(),
                amount,
                figures,
                row: String::new(),
            },
            implied: implied.clone(),
            kinds,
            entry: ingredient.entry.clone(),
            is_shadow: false,
        });
    }
}

fn stated(of: &Stated) -> Amount {
    Amount::Is(match of {
        Stated::Mass(mass) => Measure::of(mass),
        Stated::Volume(volume) => Measure::of(volume),
        Stated::Concentration(dose) => Measure::of(dose),
        Stated::Dose(dose) => Measure::of(dose),
        Stated::Share(share) => Measure::of(share),
        Stated::ShareByVolume(share) => Measure::of(share),
        Stated::Bitterness(ibu) => Measure::of(ibu),
        Stated::Packs(packs) => {
            let each = match &packs.each {
                PackSize::Mass(mass) => Measure::of(mass),
                PackSize::Volume(volume) => Measure::of(volume),
                _ => return Amount::Unstated,
            };
            each.times(f64::from(packs.count))
        }
        Stated::PackCount(count) => Measure::new(Scale::Count, count.packs()),
        _ => return Amount::Unstated,
    })
}

fn timing(of: &Addition) -> Figures {
    let mut found = figures([("for", some(of.timing.contact.as_ref()))]);
    let mut put = |label: &str, figure| {
        found.insert(label.to_owned(), figure);
    };
    match &of.timing.at {
        Some(At::TimeLeft(time)) => put("left", Figure::Is(Measure::of(time))),
        Some(At::FirstWort) => put("left", Figure::Word("first-wort".into())),
        Some(At::Temperature(heat)) => put("at", Figure::Is(Measure::of(heat))),
        Some(At::Gravity(gravity)) => put("when", Figure::Is(Measure::of(gravity))),
        Some(At::AfterPitching(time)) => {
            let days = Measure::of(time).total() / (24.0 * 60.0);
            put("day", Figure::Is(Measure::new(Scale::Count, days)));
        }
        _ => {}
    }
    found
}

/// The figures that a line states of an ingredient.
fn facts(ingredient: &Ingredient) -> Figures {
    let facts = &ingredient.facts;
    let mut found = figures([
        ("colour", some(facts.colour.as_ref())),
        (
            "extract",
            facts
                .extract
                .as_ref()
                .map(|extract| Measure::of(&extract.value)),
        ),
        ("moisture", some(facts.moisture.as_ref())),
        ("alpha", some(facts.alpha.as_ref())),
        ("brix", some(facts.brix.as_ref())),
        ("pH", some(facts.ph.as_ref())),
        ("attenuation", some(facts.attenuation.as_ref())),
        ("strength", some(facts.alcohol.as_ref())),
    ]);
    let form = match facts.form {
        Some(HopForm::Pellet) => "pellet",
        Some(HopForm::Whole) => "cone",
        Some(HopForm::Fresh) => "fresh",
        Some(HopForm::Extract) => "extract",
        _ => return found,
    };
    found.insert("form".into(), Figure::Word(form.into()));
    found
}
