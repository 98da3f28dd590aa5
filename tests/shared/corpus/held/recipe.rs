//! The facts of a recipe.

use super::{Gathering, amount, figures, some};
use crate::corpus::fact::{Amount, Figures};
use crate::corpus::measure::{Measure, Scale};
use wortwright::recipe::{HotStep, Recipe};

impl Gathering<'_> {
    pub(super) fn recipe(&mut self, recipe: &Recipe) {
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
        if let Some(water) = &fermentation.top_up {
            let path = "recipe.fermentation.top_up";
            let line = self.lines.line(path);
            self.addition(path, line, "ferment", water, &Figures::new());
        }
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
    pub(super) fn pitching_heat(&mut self) {
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
}
