//! The facts that the models hold, in the words of the corpus, each with the line that states it.

use super::fact::{Amount, Fact, Figure, Figures};
use super::lines::Lines;
use super::measure::{Measure, Scale};
use super::names::kinds_of;
use wortwright::catalogue::Catalogue;
use wortwright::notation::Reading;
use wortwright::quantity::{Quantity, Written};
use wortwright::recipe::{
    Addition, Amount as Stated, At, Batch, BatchPoint, Brewhouse, CoolingMethod, Evaporation,
    HopForm, HotStep, Ingredient, Lauter, Log, LogEntry, LogEvent, Lot, PackSize, Recipe, Stock,
    YieldPoint,
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

    fn recipe(&mut self, recipe: &Recipe) {
        let name = recipe.name.as_str();
        if !name.is_empty() {
            let line = self.lines.line("recipe.name");
            let slot = ["recipe", "name", name];
            self.setting(line, slot, Amount::Unstated, Figures::new());
        }
        self.batch("recipe.batch", "recipe", recipe.batch.as_ref());
        self.targets(recipe);
        self.ions("recipe.water", "water", &recipe.water);
        self.mash(recipe);
        self.hot_side(recipe);
        self.fermentation(recipe);
        self.package(recipe);
    }

    fn targets(&mut self, recipe: &Recipe) {
        let targets = &recipe.targets;
        let path = |field: &str| format!("recipe.targets.{field}");
        let original = ["recipe", "original", "-"];
        self.figure(&path("original_plato"), original, targets.original.as_ref());
        for (field, name, extract) in [
            ("final_plato", "-", &targets.final_extract),
            ("wort_final_plato", "wort", &targets.wort_final),
        ] {
            self.figure(&path(field), ["recipe", "final", name], extract.as_ref());
        }
        for (field, name, alcohol) in [
            ("alcohol_abv_pct", "-", &targets.alcohol),
            ("wort_alcohol_abv_pct", "wort", &targets.wort_alcohol),
        ] {
            self.figure(&path(field), ["recipe", "alcohol", name], alcohol.as_ref());
        }
        for (field, name, ibu) in [
            ("bitterness_ibu", "-", &targets.bitterness),
            ("wort_bitterness_ibu", "wort", &targets.wort_bitterness),
        ] {
            self.figure(&path(field), ["recipe", "bitterness", name], ibu.as_ref());
        }
        for (field, name, colour) in [
            ("colour_ebc", "-", &targets.colour),
            ("wort_colour_ebc", "wort", &targets.wort_colour),
        ] {
            self.figure(&path(field), ["recipe", "colour", name], colour.as_ref());
        }
        if let Some(gas) = &targets.carbonation {
            let line = self.lines.line(&path("carbonation_g_l"));
            let gas = Measure::of(gas).as_scale(Scale::Gas);
            let slot = ["package", "carbonate", "-"];
            self.setting(line, slot, Amount::Is(gas), Figures::new());
        }
    }

    fn ions(&mut self, path: &str, stage: &str, ions: &wortwright::recipe::IonTargets) {
        for (ion, stated) in ions.stated() {
            let field = if ion == "alkalinity" {
                format!("{path}.alkalinity_as_caco3_g_l")
            } else {
                format!("{path}.{ion}_g_l")
            };
            self.figure(&field, [stage, "water", ion], Some(stated));
        }
    }

    fn mash(&mut self, recipe: &Recipe) {
        let mash = &recipe.mash;
        self.additions(
            "recipe.mash.additions",
            "mash",
            &mash.additions,
            &Figures::new(),
        );
        let liquor = ["mash", "mash-in", "-"];
        self.figure("recipe.mash.liquor_l_per_kg", liquor, mash.liquor.as_ref());
        self.figure("recipe.mash.ph", ["mash", "ph", "-"], mash.ph.as_ref());
        let words: Vec<String> = mash
            .rests
            .iter()
            .map(|rest| rest.temperature.number().to_string())
            .collect();
        let lines = self.lines.of_list("recipe.mash.rests", &words);
        for (rest, line) in mash.rests.iter().zip(lines) {
            let time = figures([("for", Some(Measure::of(&rest.time)))]);
            let slot = ["mash", "rest", "-"];
            self.setting(line, slot, amount(&rest.temperature), time);
        }
        if let Some(sparge) = &mash.sparge {
            let line = self.lines.line("recipe.mash.sparge");
            let volume = sparge.volume.as_ref().map_or(Amount::Unstated, amount);
            let heat = figures([("at", some(sparge.temperature.as_ref()))]);
            self.setting(line, ["mash", "sparge", "-"], volume, heat);
        }
    }

    fn hot_side(&mut self, recipe: &Recipe) {
        let boil = &recipe.boil;
        self.figure(
            "recipe.boil.time_min",
            ["boil", "boil-time", "-"],
            boil.time.as_ref(),
        );
        self.additions(
            "recipe.boil.additions",
            "boil",
            &boil.additions,
            &Figures::new(),
        );
        for (index, step) in recipe.hot_side.iter().enumerate() {
            match step {
                HotStep::Stand(stand) => {
                    let path = format!("recipe.hot_side[{index}].stand");
                    let line = self.lines.line(&path);
                    let heat = some(stand.temperature.as_ref());
                    let time = figures([("for", Some(Measure::of(&stand.time)))]);
                    let amount = heat.clone().map_or(Amount::Unstated, Amount::Is);
                    self.setting(line, ["stand", "stand", "-"], amount, time.clone());
                    let mut implied = time;
                    implied.extend(figures([("at", heat)]));
                    let path = format!("{path}.additions");
                    self.additions(&path, "stand", &stand.additions, &implied);
                }
                HotStep::Cool(cool) => {
                    let line = self.lines.line(&format!("recipe.hot_side[{index}].cool"));
                    let time = figures([("for", some(cool.time.as_ref()))]);
                    self.setting(line, ["boil", "cool", "-"], amount(&cool.to), time);
                }
                _ => {}
            }
        }
    }

    fn fermentation(&mut self, recipe: &Recipe) {
        let fermentation = &recipe.fermentation;
        if let Some(pitch) = &fermentation.pitch {
            let path = "recipe.fermentation.pitch";
            let line = self.lines.line(path);
            self.addition(path, line, "ferment", pitch, &Figures::new());
        }
        let words: Vec<String> = fermentation
            .holds
            .iter()
            .map(|hold| hold.temperature.number().to_string())
            .collect();
        let lines = self.lines.of_list("recipe.fermentation.holds", &words);
        for (hold, line) in fermentation.holds.iter().zip(lines) {
            let time = figures([("for", some(hold.time.as_ref()))]);
            let slot = ["ferment", "hold", "-"];
            self.setting(line, slot, amount(&hold.temperature), time);
        }
        let additions = &fermentation.additions;
        let path = "recipe.fermentation.additions";
        self.additions(path, "ferment", additions, &Figures::new());
    }

    /// The heat at which yeast is pitched, as settings of their own.
    fn pitching_heat(&mut self) {
        let pitched: Vec<(usize, Measure)> = self
            .found
            .iter()
            .filter(|held| held.fact.stage == "ferment" && held.kinds.contains(&"yeast"))
            .filter_map(|held| Some((held.fact.line, held.fact.measure("at")?.clone())))
            .collect();
        for (line, heat) in pitched {
            for slot in [["ferment", "pitch", "-"], ["boil", "cool", "-"]] {
                self.setting(line, slot, Amount::Is(heat.clone()), Figures::new());
                if let Some(last) = self.found.last_mut() {
                    last.is_shadow = true;
                }
            }
        }
    }

    fn package(&mut self, recipe: &Recipe) {
        let package = &recipe.package;
        if let Some(container) = &package.container {
            let line = self.lines.line("recipe.package.container");
            let slot = ["package", container.as_str(), "-"];
            self.setting(line, slot, Amount::Unstated, Figures::new());
        }
        let heat = figures([("at", some(package.temperature.as_ref()))]);
        if let Some(gas) = &package.carbonation {
            let line = self.lines.line("recipe.package.carbonation_g_l");
            let gas = Measure::of(gas).as_scale(Scale::Gas);
            self.setting(line, ["package", "carbonate", "-"], Amount::Is(gas), heat);
        } else if !heat.is_empty() {
            let line = self.lines.line("recipe.package.temperature_c");
            let slot = ["package", "carbonate", "-"];
            self.setting(line, slot, Amount::Unstated, heat);
        }
        let path = "recipe.package.additions";
        self.additions(path, "package", &package.additions, &Figures::new());
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
            },
            implied: implied.clone(),
            kinds,
            entry: ingredient.entry.clone(),
            is_shadow: false,
        });
    }

    fn plant(&mut self, plant: &Brewhouse) {
        let of = |field: &str| format!("brewhouses[{}].{field}", plant.name);
        if !plant.name.is_empty() {
            let line = self.lines.line(&format!("brewhouses[{}]", plant.name));
            let slot = ["plant", "name", plant.name.as_str()];
            self.setting(line, slot, Amount::Unstated, Figures::new());
        }
        self.batch(&of("batch"), "plant", plant.batch.as_ref());
        for (field, kind, name, volume) in [
            ("mash_tun_l", "mash-tun", "-", &plant.mash_tun),
            ("kettle_l", "kettle", "-", &plant.kettle),
            ("fermenter_l", "fermenter-size", "-", &plant.fermenter),
            ("tun_loss_l", "loss", "mash tun", &plant.tun_loss),
            ("kettle_loss_l", "loss", "kettle", &plant.kettle_loss),
            (
                "fermenter_loss_l",
                "loss",
                "fermenter",
                &plant.fermenter_loss,
            ),
        ] {
            self.figure(&of(field), ["plant", kind, name], volume.as_ref());
        }
        self.figure(
            &of("liquor_l_per_kg"),
            ["plant", "mash-in", "-"],
            plant.liquor.as_ref(),
        );
        let absorption = plant.absorption.as_ref();
        self.figure(
            &of("absorption_l_per_kg"),
            ["plant", "absorption", "-"],
            absorption,
        );
        let retention = plant.retention.as_ref();
        self.figure(
            &of("retention_l_per_kg"),
            ["plant", "absorption", "retention"],
            retention,
        );
        let conversion = plant.conversion.as_ref();
        self.figure(
            &of("conversion_pct"),
            ["plant", "efficiency", "conversion"],
            conversion,
        );
        self.figure(
            &of("altitude_m"),
            ["plant", "altitude", "-"],
            plant.altitude.as_ref(),
        );
        self.figure(
            &of("stand_min"),
            ["plant", "stand", "-"],
            plant.stand.as_ref(),
        );
        self.figure(
            &of("coolant_c"),
            ["plant", "water", "coolant"],
            plant.coolant.as_ref(),
        );
        self.lautering(plant, &of("lauter"));
        if let Some(reached) = &plant.extract_yield {
            let line = self.lines.line(&of("extract_yield"));
            let name = match reached.at {
                YieldPoint::IntoFermenter => "into fermenter",
                _ => "-",
            };
            let slot = ["plant", "efficiency", name];
            self.setting(line, slot, amount(&reached.value), Figures::new());
        }
        if let Some(evaporation) = &plant.evaporation {
            let line = self.lines.line(&of("evaporation"));
            let rate = match evaporation {
                Evaporation::Rate(rate) => Measure::of(rate),
                Evaporation::SharePerHour(share) => {
                    Measure::of(share).as_scale(Scale::PercentPerHour)
                }
                _ => return,
            };
            let slot = ["plant", "evaporation", "-"];
            self.setting(line, slot, Amount::Is(rate), Figures::new());
        }
        self.cooling(plant, &of("cooling"));
        if let Some(water) = &plant.water {
            self.ions(&of("water.ions"), "plant", &water.ions);
            self.figure(&of("water.ph"), ["plant", "ph", "-"], water.ph.as_ref());
        }
    }

    fn lautering(&mut self, plant: &Brewhouse, path: &str) {
        let Some(lauter) = &plant.lauter else {
            return;
        };
        let line = self.lines.line(path);
        let (name, sparge) = match lauter {
            Lauter::Bag(bag) => ("bag", bag.sparge.as_ref()),
            Lauter::Batch(_) => ("batch", None),
            Lauter::Continuous(_) => ("continuous", None),
            Lauter::NoMash => ("no mash", None),
            _ => ("?", None),
        };
        let slot = ["plant", "lauter", name];
        self.setting(line, slot, Amount::Unstated, Figures::new());
        if let Some(volume) = sparge {
            let slot = ["plant", "sparge", "-"];
            self.setting(line, slot, amount(volume), Figures::new());
        }
        if let Lauter::Continuous(continuous) = lauter
            && let Some(reached) = &continuous.reached
        {
            let slot = ["plant", "efficiency", "-"];
            self.setting(line, slot, amount(reached), Figures::new());
        }
    }

    fn cooling(&mut self, plant: &Brewhouse, path: &str) {
        let Some(cooling) = &plant.cooling else {
            return;
        };
        let line = self.lines.line(path);
        let name = match cooling.method {
            Some(CoolingMethod::Coil) => "coil",
            Some(CoolingMethod::Plate) => "plate",
            Some(CoolingMethod::NoChill) => "no-chill",
            _ => "-",
        };
        let to = cooling.to.as_ref().map_or(Amount::Unstated, amount);
        let time = figures([("for", some(cooling.time.as_ref()))]);
        self.setting(line, ["plant", "cool", name], to, time);
    }

    fn stock(&mut self, stock: &Stock) {
        let words: Vec<String> = stock
            .lots
            .iter()
            .map(|lot| lot.ingredient().name.clone())
            .collect();
        let lines = self.lines.of_list("stock.lots", &words);
        for (lot, line) in stock.lots.iter().zip(lines) {
            let amount = match lot {
                Lot::Held(_, amount) => stated(amount),
                Lot::Any(_) => Amount::Word("any".into()),
                _ => Amount::Word("none".into()),
            };
            let nothing = Figures::new();
            self.ingredient(
                line,
                "stock",
                lot.ingredient(),
                amount,
                Figures::new(),
                &nothing,
            );
        }
    }

    fn log(&mut self, log: &Log) {
        let path = format!("logs[{}]", log.name());
        if let Some(name) = &log.name {
            let line = self.lines.line(&path);
            let slot = ["log", "name", name.as_str()];
            self.setting(line, slot, Amount::Unstated, Figures::new());
        }
        let words: Vec<String> = log.entries.iter().map(word_of_entry).collect();
        let lines = self.lines.of_list(&format!("{path}.entries"), &words);
        for (entry, line) in log.entries.iter().zip(lines) {
            self.entry(entry, line);
        }
    }

    fn entry(&mut self, entry: &LogEntry, line: usize) {
        let day = entry.day.as_ref().map(|day| {
            let days = Measure::of(day).total() / (24.0 * 60.0);
            Measure::new(Scale::Count, days)
        });
        match &entry.what {
            LogEvent::Pitched(pitched) => {
                let time = figures([("day", day.clone())]);
                let slot = ["log", "reading", "original"];
                self.setting(line, slot, amount(&pitched.volume), time);
                let heat = some(pitched.temperature.as_ref());
                let figures = figures([("day", day), ("at", heat)]);
                self.setting(line, slot, amount(&pitched.shown), figures);
            }
            LogEvent::Reading(reading) => {
                let heat = some(reading.temperature.as_ref());
                let figures = figures([("day", day), ("at", heat)]);
                self.setting(
                    line,
                    ["log", "reading", "-"],
                    amount(&reading.shown),
                    figures,
                );
            }
            LogEvent::Drawn(drawn) => {
                let figures = figures([("day", day)]);
                self.setting(line, ["log", "drawn", "-"], amount(&drawn.volume), figures);
            }
            LogEvent::Added(added) => {
                let figures = figures([("day", day)]);
                let amount = stated(&added.amount);
                let nothing = Figures::new();
                self.ingredient(line, "log", &added.ingredient, amount, figures, &nothing);
            }
            _ => {}
        }
    }
}

/// What a line of a log shows of an entry.
fn word_of_entry(entry: &LogEntry) -> String {
    match &entry.what {
        LogEvent::Pitched(pitched) => pitched.volume.number().to_string(),
        LogEvent::Reading(reading) => reading.shown.number().to_string(),
        LogEvent::Drawn(drawn) => drawn.volume.number().to_string(),
        LogEvent::Added(added) => added.ingredient.name.clone(),
        _ => String::new(),
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
