//! The cautions whose text is always the same, in the order of the day.

use super::brew::Brew;
use super::code::Code;
use super::{BrewStep, Caution, Urgency};
use crate::catalogue::Kind;
use crate::process::Stage;
use std::borrow::Cow;

/// A caution and its trigger.
pub(super) struct Rule {
    code: Code,
    urgency: Urgency,
    step: BrewStep,
    text: &'static str,
    reference: &'static str,
    pub(super) applies: fn(&Brew<'_>) -> bool,
}

impl Rule {
    pub(super) fn caution(&self) -> Caution {
        Caution {
            code: self.code.as_str(),
            urgency: self.urgency,
            step: self.step,
            text: Cow::Borrowed(self.text),
            reference: (!self.reference.is_empty()).then_some(Cow::Borrowed(self.reference)),
        }
    }
}

/// The caution of every sheet.
pub(super) const ALWAYS: Code = Code::ArithmeticOnly;

const DANGER: Urgency = Urgency::Danger;
const CARE: Urgency = Urgency::Care;
const NOTE: Urgency = Urgency::Note;

/// Of every acid, wherever it goes in.
const ACID_BURNS: &str =
    "Strong acid burns skin and eyes: goggles, gloves, acid into water, never water into acid.";
const ACID_REFERENCE: &str =
    "safety data sheets: lactic acid 80-90 %, phosphoric acid 40-50 %, serious eye damage";

/// Every such caution. A text that names no figure needs no source: it is common practice.
pub(super) const RULES: &[Rule] = &[
    Rule {
        code: Code::HotLiquids,
        urgency: DANGER,
        step: BrewStep::WholeDay,
        text: "Hot liquids burn deeply, at 60 °C (140 °F) in about 5 s. Wear closed shoes and \
               gloves, never carry a full hot kettle, keep children and animals away.",
        reference: "Moritz & Henriques (1947), as tabulated in burn-prevention guidance",
        applies: |brew| brew.is_hot(),
    },
    Rule {
        code: Code::BoilOver,
        urgency: DANGER,
        step: BrewStep::Boil,
        text: "Wort boils over suddenly: stay with it, leave headspace, turn down before each addition.",
        reference: "",
        applies: |brew| brew.boils(),
    },
    Rule {
        code: Code::BurnerIndoors,
        urgency: DANGER,
        step: BrewStep::WholeDay,
        text: "Use gas or charcoal burners outdoors unless made for indoor use: carbon monoxide has no smell and \
               kills. Fit a CO alarm, and never use bottled gas in a cellar, where it pools.",
        reference: "",
        applies: |brew| brew.is_hot(),
    },
    Rule {
        code: Code::ElectricityNearWater,
        urgency: DANGER,
        step: BrewStep::WholeDay,
        text: "Heaters and pumps: RCD (GFCI) outlet, dry plugs off the floor, unplug before reaching in.",
        reference: "",
        applies: |brew| brew.is_hot(),
    },
    Rule {
        code: Code::WetBag,
        urgency: CARE,
        step: BrewStep::Mash,
        text: "A wet bag is heavy and scalding: lift it with a hoist or a helper, never above your face.",
        reference: "",
        applies: |brew| brew.has_bag(),
    },
    Rule {
        code: Code::KettleSouring,
        urgency: CARE,
        step: BrewStep::Souring,
        text: "Acidify the wort below pH 4.5 before the culture goes in, cover it against air, boil it afterwards: warm, \
               sweet wort above pH 4.6 grows dangerous bacteria, and smells of vomit or feet mean it is spoilt.",
        reference: "below pH 4.5 first: common practice, no source; pH 4.6: 21 CFR 114.3 (from memory)",
        applies: |brew| brew.is_soured(),
    },
    Rule {
        code: Code::AcidBeforeSouring,
        urgency: DANGER,
        step: BrewStep::Souring,
        text: ACID_BURNS,
        reference: ACID_REFERENCE,
        // Said once, where it is met first.
        applies: |brew| brew.is_soured() && !brew.uses_acid(),
    },
    Rule {
        code: Code::HotWortInGlass,
        urgency: DANGER,
        step: BrewStep::Cooling,
        text: "Never pour hot wort into glass (it shatters) or seal a rigid vessel hot (it collapses).",
        reference: "",
        applies: |brew| brew.is_hot(),
    },
    Rule {
        code: Code::HeatOffForSugar,
        urgency: CARE,
        step: BrewStep::Boil,
        text: "Heat off before honey, sugar, syrup or malt extract; stir until dissolved: it scorches.",
        reference: "",
        applies: |brew| brew.has_at(Kind::Sugar, &[Stage::Mash, Stage::Boil, Stage::Stand]),
    },
    Rule {
        code: Code::Spirits,
        urgency: DANGER,
        step: BrewStep::Additions,
        text: "Spirits and their vapour catch fire: measure and add them away from burners, flames and sparks.",
        reference: "flash point of 40 % by volume about 26 °C (from memory, safety data sheets of ethanol and water)",
        applies: |brew| brew.has_spirits(),
    },
    Rule {
        code: Code::Acids,
        urgency: DANGER,
        step: BrewStep::Water,
        text: ACID_BURNS,
        reference: ACID_REFERENCE,
        applies: |brew| brew.uses_acid(),
    },
    Rule {
        code: Code::Caustics,
        urgency: DANGER,
        step: BrewStep::Water,
        text: "Slaked lime and caustic soda burn skin and eyes: goggles, gloves, a little at a time into cold \
               water.",
        reference: "",
        applies: |brew| brew.uses_caustic(),
    },
    Rule {
        code: Code::GlassVessels,
        urgency: DANGER,
        step: BrewStep::Fermentation,
        text: "Glass fermenters break and cut deeply: carry them in a crate or harness, with dry hands.",
        reference: "",
        applies: |brew| brew.may_ferment_in_glass(),
    },
    Rule {
        code: Code::CleaningAgents,
        urgency: DANGER,
        step: BrewStep::Afterwards,
        text: "Never mix cleaners: chlorine with acid or ammonia gives off toxic gas. Wear goggles and gloves for \
               caustic, acid and peracetic acid, add caustic to cold water (never the reverse), and rinse as the \
               label says.",
        reference: "",
        applies: |brew| brew.is_hot() || brew.ferments(),
    },
    Rule {
        code: Code::SealedVessels,
        urgency: DANGER,
        step: BrewStep::WholeDay,
        text: "Never seal a fermenting vessel without airlock, blow-off or relief valve: it bursts.",
        reference: "",
        applies: |brew| brew.ferments(),
    },
    Rule {
        code: Code::Kegs,
        urgency: DANGER,
        step: BrewStep::WholeDay,
        text: "Kegs: below the stamped pressure, with regulator and relief valve; vent before opening.",
        reference: "",
        applies: |brew| brew.ferments() && brew.may_be_kegged(),
    },
    Rule {
        code: Code::CarbonDioxide,
        urgency: DANGER,
        step: BrewStep::Fermentation,
        text: "CO2 kills in low, closed rooms (4 % in air): ventilate, keep your head out of fermenters.",
        reference: "IDLH 40 000 ppm (NIOSH); 1 L of 12 °P wort gives about 40 g (20 L) of gas, derived",
        applies: |brew| brew.ferments(),
    },
    Rule {
        code: Code::FoamOver,
        urgency: CARE,
        step: BrewStep::Additions,
        text: "Additions make gassy beer foam over: let gas out, leave a fifth empty, add slowly.",
        reference: "",
        applies: |brew| brew.meets_gas(),
    },
    Rule {
        code: Code::CloggedAirlock,
        step: BrewStep::Additions,
        urgency: DANGER,
        text: "Fruit and hops clog airlocks, lids burst: fit a wide blow-off tube that ends in water.",
        reference: "",
        applies: |brew| brew.has_fruit_or_hops_in_fermenter(),
    },
    Rule {
        code: Code::BottlesPrimed,
        urgency: DANGER,
        step: BrewStep::Packaging,
        text: "Early or over-primed bottles explode: stable gravity first, pressure-rated bottles only.",
        reference: "",
        applies: |brew| brew.may_be_primed(),
    },
    Rule {
        code: Code::KeptWithoutChilling,
        urgency: DANGER,
        step: BrewStep::Cooling,
        text: "Wort or purée sealed warm above pH 4.6 can grow Clostridium botulinum, whose toxin cannot be seen, \
               smelt or tasted. Pitch within 24 hours, or keep it below 3 °C (37 °F), or acidify it below pH 4.6.",
        reference: "pH 4.6: 21 CFR 114.3, acidified foods; 3 °C: limit for non-proteolytic strains (both from memory)",
        applies: |brew| brew.is_unchilled() || brew.holds_puree(),
    },
    Rule {
        code: Code::UnpasteurisedJuice,
        urgency: CARE,
        step: BrewStep::Additions,
        text: "Raw juice or fruit carries bacteria and wild yeast: buy it pasteurised, or heat it first.",
        reference: "",
        applies: |brew| brew.has_at(Kind::Juice, &[Stage::Stand, Stage::Ferment, Stage::Package]),
    },
    Rule {
        code: Code::MaltDust,
        urgency: CARE,
        step: BrewStep::Mash,
        text: "Malt dust harms lungs and can explode: mill outdoors or away from sparks, wearing a mask.",
        reference: "",
        applies: |brew| brew.has(Kind::Malt) || brew.has(Kind::Grain),
    },
    Rule {
        code: Code::AlcoholAndLaw,
        urgency: NOTE,
        step: BrewStep::Afterwards,
        text: "Beer is not for children, during pregnancy, or before driving. Home-brewing law (age, quantity, tax, \
               sale) differs by country: check yours.",
        reference: "",
        applies: |brew| brew.ferments(),
    },
    Rule {
        code: ALWAYS,
        urgency: NOTE,
        step: BrewStep::WholeDay,
        text: "A calculation, not a safety assessment: follow local regulations and professional practice.",
        reference: "",
        applies: |_| true,
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn codes_are_unique_and_texts_are_one_or_two_sentences() {
        let codes: BTreeSet<_> = RULES.iter().map(|rule| rule.code).collect();
        assert_eq!(codes.len(), RULES.len());
        for rule in RULES {
            assert!(rule.text.ends_with('.'), "{:?}", rule.code);
            assert!(!rule.text.contains("  "), "{:?}", rule.code);
            assert!(rule.text.matches(". ").count() <= 1, "{:?}", rule.code);
        }
    }

    #[test]
    fn a_text_with_a_figure_names_its_source() {
        for rule in RULES {
            let figure = rule.text.chars().any(|c| c.is_ascii_digit());
            assert!(!figure || !rule.reference.is_empty(), "{:?}", rule.code);
        }
    }
}
