//! The cautions whose text is always the same, in the order of the day.

use super::brew::Brew;
use super::code::Code;
use super::{Caution, Urgency};
use crate::catalogue::Kind;
use crate::process::Stage;
use std::borrow::Cow;

/// A caution and its trigger.
pub(super) struct Rule {
    code: Code,
    urgency: Urgency,
    text: &'static str,
    reference: &'static str,
    pub(super) applies: fn(&Brew<'_>) -> bool,
}

impl Rule {
    pub(super) fn caution(&self) -> Caution {
        Caution {
            code: self.code.as_str(),
            urgency: self.urgency,
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

/// Every such caution. A text that names no figure needs no source: it is common practice.
pub(super) const RULES: &[Rule] = &[
    Rule {
        code: Code::HotLiquids,
        urgency: DANGER,
        text: "Mash, hot wort and hot water scald in seconds: water of 60 °C burns the skin deeply within about 5 s. \
               Wear closed shoes and gloves, and keep children and animals away.",
        reference: "Moritz & Henriques (1947), values as reproduced by a safety page",
        applies: |brew| brew.is_hot(),
    },
    Rule {
        code: Code::BoilOver,
        urgency: DANGER,
        text: "Wort boils over without warning as it comes to the boil and whenever something goes in. Stay with it, \
               leave headroom, turn the heat down before adding anything.",
        reference: "",
        applies: |brew| brew.boils(),
    },
    Rule {
        code: Code::BurnerIndoors,
        urgency: DANGER,
        text: "Burn gas or charcoal outdoors only, unless the appliance is made for indoors: carbon monoxide kills and \
               has no smell. Put an alarm in the room.",
        reference: "",
        applies: |brew| brew.is_hot(),
    },
    Rule {
        code: Code::ElectricityNearWater,
        urgency: DANGER,
        text: "Plug heaters and pumps into a socket with a residual-current device (ground-fault interrupter), keep \
               plugs dry and above the floor, and unplug before you reach in.",
        reference: "",
        applies: |brew| brew.is_hot(),
    },
    Rule {
        code: Code::WetBag,
        urgency: CARE,
        text: "A wet bag is heavy, hot and drips. Lift it with a hoist or a second person, let it drain over the kettle, \
               and never lift it above your face.",
        reference: "",
        applies: |brew| brew.has_bag(),
    },
    Rule {
        code: Code::HotWortInGlass,
        urgency: DANGER,
        text: "Never pour hot wort or water into glass, which may burst. Never seal a rigid vessel while its contents \
               are hot, unless it is made for that: it collapses as it cools, or bursts if it is heated.",
        reference: "",
        applies: |brew| brew.is_hot(),
    },
    Rule {
        code: Code::HeatOffForSugar,
        urgency: CARE,
        text: "Turn the heat off before honey, sugar, syrup or malt extract goes in, and stir until it has dissolved: it \
               sinks and scorches, and the wort may surge up.",
        reference: "",
        applies: |brew| brew.has_at(Kind::Sugar, &[Stage::Mash, Stage::Boil, Stage::Stand]),
    },
    Rule {
        code: Code::Spirits,
        urgency: DANGER,
        text: "Spirits and their vapour catch fire: measure and add them away from burners, flames and sparks.",
        reference: "flash point of 40 % by volume about 26 °C (from memory, safety data sheets of ethanol and water)",
        applies: |brew| brew.has_spirits(),
    },
    Rule {
        code: Code::Acids,
        urgency: DANGER,
        text: "Acid for the mash burns skin and can blind: lactic acid of 80 % and phosphoric acid are corrosive. Wear \
               goggles and gloves, pour acid into water and never water into acid, keep it away from cleaning agents.",
        reference: "safety data sheets: lactic acid 80-90 %, phosphoric acid 40-50 %, serious eye damage",
        applies: |brew| brew.uses_acid(),
    },
    Rule {
        code: Code::CleaningAgents,
        urgency: DANGER,
        text: "Never mix a cleaner or sanitiser that holds chlorine with acid, nor with anything else: it sets free a \
               poisonous gas. Goggles and gloves for caustic and acid; rinse as the label says.",
        reference: "",
        applies: |brew| brew.is_hot() || brew.ferments(),
    },
    Rule {
        code: Code::SealedVessels,
        urgency: DANGER,
        text: "Never seal a fermenting vessel without a relief: it bursts. Use kegs within the pressure stamped on them, \
               with a regulator and a relief valve, and let the pressure out before you open one.",
        reference: "",
        applies: |brew| brew.ferments(),
    },
    Rule {
        code: Code::CarbonDioxide,
        urgency: DANGER,
        text: "Fermenting wort gives off about 20 times its volume of carbon dioxide, and a leaking cylinder more; it lies \
               low in a closed room or cellar and kills: 4 % in the air is at once dangerous. Air the room, and never \
               put your head into a fermenter.",
        reference: "1 L of 12 °P wort gives about 40 g (20 L) of gas, derived; IDLH 40 000 ppm (NIOSH)",
        applies: |brew| brew.ferments(),
    },
    Rule {
        code: Code::FoamOver,
        urgency: CARE,
        text: "Juice, sugar, hops or spices set gassy beer foaming over. Let the gas out first, leave a quarter of the \
               vessel empty, add slowly, and keep your face away.",
        reference: "",
        applies: |brew| brew.meets_gas(),
    },
    Rule {
        code: Code::BottlesPrimed,
        urgency: DANGER,
        text: "Bottles filled while sugar remains, or primed too much, burst. Prime only after two equal gravity readings \
               three days apart, count what is still unfermented, and use bottles made for pressure.",
        reference: "",
        applies: |brew| brew.may_be_primed(),
    },
    Rule {
        code: Code::KeptWithoutChilling,
        urgency: DANGER,
        text: "Wort or puree kept sealed and warm above pH 4.6 can grow the bacterium of botulism, whose toxin has no \
               smell or taste. Ferment it within a day, or keep it cold, or acidify it.",
        reference: "pH 4.6: 21 CFR 114.3, acidified foods (from memory)",
        applies: |brew| brew.is_unchilled() || brew.holds_puree(),
    },
    Rule {
        code: Code::UnpasteurisedJuice,
        urgency: CARE,
        text: "Raw juice or fruit can carry bacteria and parasites that make people ill, and wild yeast that makes \
               bottles burst. Use pasteurised juice, or heat it; serve nothing raw to children, the pregnant, or the ill.",
        reference: "",
        applies: |brew| brew.has_at(Kind::Juice, &[Stage::Stand, Stage::Ferment, Stage::Package]),
    },
    Rule {
        code: Code::MaltDust,
        urgency: CARE,
        text: "Malt dust harms the lungs, and a cloud of it can explode. Mill in the open air or well away from flames \
               and sparks, with a mask on.",
        reference: "",
        applies: |brew| brew.has(Kind::Malt) || brew.has(Kind::Grain),
    },
    Rule {
        code: Code::PetsAndHops,
        urgency: CARE,
        text: "Hops, fresh or spent, can kill a dog. Keep them and the spent grain away from animals.",
        reference: "Duncan et al., J. Am. Vet. Med. Assoc. 210 (1997) 51, as cited in veterinary summaries",
        applies: |brew| brew.has_hops(),
    },
    Rule {
        code: Code::AlcoholAndLaw,
        urgency: NOTE,
        text: "Beer makes drunk: not for children or the pregnant, nor before driving. The law of the place says who may \
               brew, how much, and whether it may be sold or must be taxed; home distilling is mostly forbidden.",
        reference: "",
        applies: |brew| brew.ferments(),
    },
    Rule {
        code: ALWAYS,
        urgency: NOTE,
        text: "This sheet is arithmetic, not a licence nor a proof of safety. Follow local codes, the makers' \
               instructions and licensed practice.",
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
