//! The closed sets of words that the tables use.

use serde::{Deserialize, Serialize};

/// Defines a closed set of words: a variant for each, the word as the tables print it, and all of them in order.
macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($(#[$variant_doc:meta])* $variant:ident = $text:literal,)+ }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[serde(rename_all = "snake_case")]
        pub enum $name {
            $($(#[$variant_doc])* $variant,)+
        }

        impl $name {
            /// Every value, in order.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];

            /// The words that the trade and the tables use.
            pub const fn as_str(self) -> &'static str {
                match self {
                    $(Self::$variant => $text,)+
                }
            }
        }

        crate::quantity::agreement::equal!($name);

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(self.as_str())
            }
        }
    };
}

words! {
    /// What an ingredient is to the brewer.
    Kind {
        /// Malted grain, mashed.
        Malt = "malt",
        /// Unmalted or roasted grain, and lautering aids.
        Grain = "grain",
        /// Sugar, syrup, honey, malt extract or colouring: dissolves as it is.
        Sugar = "sugar",
        /// Fruit juice, puree or concentrate.
        Juice = "juice",
        /// Water, spirits and other drinks that are poured in as they are.
        Beverage = "beverage",
        /// Hops in any form.
        Hop = "hop",
        /// Herbs, spices, flowers, woods.
        Botanical = "botanical",
        /// Yeast and other cultures.
        Yeast = "yeast",
        /// Brewing salts.
        Salt = "salt",
        /// Acids for water and mash.
        Acid = "acid",
        /// Process aids: finings, nutrients, enzymes.
        Aid = "aid",
        /// Anything else, carried along per litre.
        Other = "other",
    }
}

words! {
    /// Where the figures of a row come from.
    Provenance {
        /// The main figures were read in the named source, or computed from atomic weights.
        Read = "read",
        /// Some figures were read, the others recalled; the source says which.
        Mixed = "mixed",
        /// All figures were recalled, or are common practice: typical values, to be verified.
        Memory = "memory",
        /// The host or the brewer stated them.
        Host = "host",
    }
}

words! {
    /// How easily a small brewer can buy it. Editorial judgement, no source.
    Commonness {
        /// Hardly ever sold in small amounts.
        Rare = "0",
        /// Specialist shops.
        Specialist = "1",
        /// Most good shops.
        GoodShops = "2",
        /// Any homebrew shop or supermarket.
        Everywhere = "3",
    }
}

words! {
    /// What a fermentable does in a grist or kettle: it is replaced by one that does the same first. Common practice, no source.
    FermentableFunction {
        /// Enzymes and the body of the beer, with husks.
        Base = "base",
        /// Malt of wheat, rye and their like, without husks.
        Huskless = "base, huskless",
        /// Malt of grain without gluten, which swells above the malt's own enzymes.
        GlutenFree = "base, gluten-free",
        /// Enzymes above all.
        EnzymeSource = "enzyme source",
        /// Body and head.
        BodyGrain = "body and head grain",
        /// Extract that tastes of little.
        StarchAdjunct = "neutral starch adjunct",
        /// Kilned high.
        Kilned = "kilned flavour",
        /// Toasted.
        Toasted = "toasted flavour",
        /// Caramel.
        Caramel = "caramel",
        /// Roasted.
        Roast = "roast",
        /// Smoked.
        Smoke = "smoke",
        /// Smoked with peat: a tenth of it tastes as strong, and of something else.
        PeatSmoke = "peat smoke",
        /// Acid of a mash.
        Acid = "acid",
        /// Sugar that ferments and tastes of little.
        NeutralSugar = "neutral sugar",
        /// Sugar that colours and tastes.
        ColourSugar = "flavour and colour sugar",
        /// Sugar that tastes and hardly colours.
        FlavourSugar = "flavour sugar",
        /// Syrup of which a part stays.
        Syrup = "partly fermentable syrup",
        /// Sweetness or body that does not ferment.
        Sweetening = "sweetening or body, not fermented",
        /// The base of a beer from extract.
        ExtractBase = "extract base",
        /// The same, coloured.
        ColouredExtract = "extract base, coloured",
        /// Colour alone.
        ColourOnly = "colour only",
        /// Helps the wort to run.
        LauteringAid = "lautering aid",
    }
}

words! {
    /// Whether a mash of some 20 L, without a cooker or a mill for flour, can use a fermentable. Common practice, no source.
    SmallMash {
        /// As it is.
        Plain = "yes",
        /// Milled close, or twice: harder than malt.
        HardMill = "milled hard",
        /// Boiled soft in a second pot first.
        SecondPot = "with a second pot",
        /// With heat-stable enzyme.
        Enzyme = "with enzyme",
        /// Hardly: it clumps, or is too hard.
        Impractical = "no",
    }
}

words! {
    /// What a herb, spice, flower or wood does in a beer: it is replaced by one that does the same. Common practice, no source.
    BotanicalJob {
        /// Peel of citrus fruit.
        CitrusPeel = "citrus peel",
        /// Leaves and stalks that taste of lemon.
        CitrusHerb = "citrus herb",
        /// Seeds that taste of citrus and flowers.
        CitrusSpice = "citrus spice",
        /// Peppers.
        Pepper = "pepper",
        /// Ginger and its kin.
        HotRoot = "hot root",
        /// Chilli.
        Heat = "heat",
        /// Cinnamon barks.
        Cinnamon = "cinnamon",
        /// Nutmeg and mace.
        Nutmeg = "nutmeg",
        /// Clove and allspice.
        Clove = "clove",
        /// What tastes of anise.
        Anise = "anise",
        /// Caraway and cumin.
        Caraway = "caraway",
        /// Liquorice.
        Liquorice = "liquorice",
        /// Vanilla and tonka.
        Vanilla = "vanilla",
        /// Woodruff and clover.
        Hay = "hay",
        /// Flowers that taste of honey and apple.
        HoneyedFlower = "honeyed flower",
        /// Flowers of perfume.
        PerfumedFlower = "perfumed flower",
        /// Herbs of beers without hops.
        GruitHerb = "gruit herb",
        /// Bitter herbs, roots and woods.
        BitteringHerb = "bittering herb",
        /// Resin of juniper, spruce and pine.
        Conifer = "conifer",
        /// Herbs of the kitchen.
        KitchenHerb = "kitchen herb",
        /// Mints.
        Mint = "mint",
        /// Teas.
        Tea = "tea",
        /// Coffee.
        Coffee = "coffee",
        /// Cocoa.
        Cocoa = "cocoa",
        /// Nuts.
        Nut = "nut",
        /// Coconut.
        Coconut = "coconut",
        /// Oak in any shape.
        Oak = "oak",
        /// Other woods.
        OtherWood = "other wood",
    }
}

words! {
    /// What a process aid does: it is replaced by one that does the same. Common practice, no source.
    AidJob {
        /// Clears the wort in the kettle.
        KettleFining = "kettle fining",
        /// Settles yeast in the cold.
        CaskFining = "cask fining",
        /// Clears wine and cider.
        WineFining = "wine fining",
        /// Takes the protein of chill haze.
        HazeProtein = "chill haze, protein",
        /// Takes its tannin.
        HazeTannin = "chill haze, tannin",
        /// Makes the bed of a filter.
        FilterBed = "filter bed",
        /// Liquefies starch.
        StarchEnzyme = "starch enzyme",
        /// Splits dextrins into sugar, in the beer too.
        DextrinEnzyme = "dextrin enzyme",
        /// Splits their branches.
        DebranchingEnzyme = "debranching enzyme",
        /// Thins gum.
        GumEnzyme = "gum enzyme",
        /// Splits pectin.
        PectinEnzyme = "pectin enzyme",
        /// Keeps diacetyl from forming.
        DiacetylEnzyme = "diacetyl enzyme",
        /// Feeds yeast.
        YeastFood = "yeast food",
        /// Brings zinc.
        Zinc = "zinc",
        /// Keeps foam down.
        LessFoam = "less foam",
        /// Holds foam up.
        MoreFoam = "more foam",
        /// Helps isinglass.
        AuxiliaryFining = "auxiliary fining",
    }
}

words! {
    /// What a juice or fruit does in a beer: it is replaced by one that does the same first. Common practice, no source.
    JuiceFunction {
        /// Grape sugar, white.
        WhiteVinous = "vinous sugar juice, white",
        /// Grape sugar, red.
        RedVinous = "vinous sugar juice, red",
        /// Apple, pear and quince.
        Orchard = "orchard juice",
        /// Berries and stone fruit that colour.
        ColouredBerry = "coloured berry or stone fruit",
        /// Fruit that hardly colours.
        PaleFruit = "pale fruit",
        /// Acid above all.
        Acidulant = "acidulant juice",
        /// Sugar that tastes of little.
        SweetNeutral = "sweet neutral juice",
        /// Body, with little acid.
        LowAcid = "body, low acid",
        /// Water with a trace of flavour.
        Watery = "water with a trace",
    }
}

words! {
    /// What a fermentable is made for.
    FermentableClass {
        /// Pale malt that can make up the grist.
        BaseMalt = "base malt",
        /// Malt dried over smoke.
        SmokedMalt = "smoked malt",
        /// Malt kilned hot for colour and malt aroma.
        HighKilnedMalt = "high-kilned malt",
        /// Malt toasted dry after kilning.
        ToastedMalt = "toasted malt",
        /// Malt stewed and caramelised; also called crystal malt.
        CaramelMalt = "caramel malt",
        /// Malt roasted above 200 °C.
        RoastedMalt = "roasted malt",
        /// Malt with lactic acid.
        AcidMalt = "acid malt",
        /// Unmalted grain, roasted.
        RoastedGrain = "roasted grain",
        /// Unmalted grain: raw, flaked, torrefied, grits, flour or starch.
        UnmaltedGrain = "unmalted grain",
        /// Sugar in solid form.
        Sugar = "sugar",
        /// Sugar dissolved in water.
        Syrup = "syrup",
        /// Honey.
        Honey = "honey",
        /// Dried or liquid malt extract.
        MaltExtract = "malt extract",
        /// Caramel colour or a beer brewed for its colour.
        Colouring = "colouring",
        /// Husks that open the grain bed and give no extract.
        LauteringAid = "lautering aid",
    }
}

impl FermentableClass {
    /// The kind that follows from the class.
    pub const fn kind(self) -> Kind {
        match self {
            Self::BaseMalt
            | Self::SmokedMalt
            | Self::HighKilnedMalt
            | Self::ToastedMalt
            | Self::CaramelMalt
            | Self::RoastedMalt
            | Self::AcidMalt => Kind::Malt,
            Self::RoastedGrain | Self::UnmaltedGrain | Self::LauteringAid => Kind::Grain,
            Self::Sugar | Self::Syrup | Self::Honey | Self::MaltExtract | Self::Colouring => {
                Kind::Sugar
            }
        }
    }
}

words! {
    /// Whether enzymes of a mash are needed before the extract can ferment.
    NeedsMash {
        /// It must be mashed, alone or with a malt that brings the enzymes.
        Yes = "yes",
        /// It may be steeped or dissolved.
        No = "no",
    }
}

words! {
    /// A degree told without a figure. Editorial judgement, no source.
    Level {
        /// None.
        None = "none",
        /// A little.
        Low = "low",
        /// A middling amount.
        Medium = "med",
        /// Much.
        High = "high",
    }
}

words! {
    /// Hue class of a juice; absorbance at 430 nm does not describe red juices.
    ColourClass {
        /// Hardly coloured.
        WaterWhite = "water-white",
        /// Pale yellow.
        Straw = "straw",
        /// Yellow.
        Golden = "golden",
        /// Brownish.
        Amber = "amber",
        /// Light red.
        Pink = "pink",
        /// Red.
        Red = "red",
        /// So deep that it looks black.
        PurpleBlack = "purple-black",
    }
}

words! {
    /// How whole fruit and puree hold liquid.
    FruitClass {
        /// Chopped, such as apples.
        Firm = "firm",
        /// With a stone; thawed or crushed.
        Stone = "stone",
        /// Thawed or crushed.
        Berry = "berry",
        /// A puree without seeds, and what falls to one.
        Pulp = "pulp",
        /// Dried fruit.
        Dried = "dried",
    }
}

words! {
    /// The acids that fruit is sour by.
    FruitAcid {
        /// Aconitic acid.
        Aconitic = "aconitic",
        /// Citric acid.
        Citric = "citric",
        /// Isocitric acid.
        Isocitric = "isocitric",
        /// Malic acid.
        Malic = "malic",
        /// Oxalic acid.
        Oxalic = "oxalic",
        /// Quinic acid.
        Quinic = "quinic",
        /// Tartaric acid.
        Tartaric = "tartaric",
    }
}

words! {
    /// What a hop cultivar is grown for.
    HopUse {
        /// Aroma.
        Aroma = "aroma",
        /// Bitterness.
        Bittering = "bittering",
        /// Both.
        Dual = "dual",
    }
}

words! {
    /// How much care a botanical asks for.
    CautionLevel {
        /// A word of information.
        Info = "info",
        /// A warning to people who are at risk.
        Warn = "warn",
        /// A legal or intake limit, or a regulated allergen.
        Limit = "limit",
        /// Not to be used: never offered.
        Block = "block",
    }
}

words! {
    /// What a salt or acid is used for.
    WaterAgentUse {
        /// Brings ions to brewing water.
        WaterSalt = "water salt",
        /// Feeds yeast.
        NutrientSalt = "yeast nutrient salt",
        /// Brings sulphur dioxide.
        Sulphite = "sulphite",
        /// Holds yeast and moulds back.
        Preservative = "preservative",
        /// Lowers the pH.
        Acid = "acid",
    }
}

words! {
    /// What a process aid does.
    AidPurpose {
        /// Clears wort or beer.
        Fining = "fining",
        /// Forms or assists a filter, or is filtered out with what it binds.
        FilterAid = "filter aid",
        /// Splits starch, gum, pectin or protein.
        Enzyme = "enzyme",
        /// Feeds yeast.
        Nutrient = "nutrient",
        /// Holds foam down or up.
        FoamControl = "foam control",
    }
}

words! {
    /// What a culture was selected for.
    YeastUse {
        /// Top-fermented beer.
        Ale = "ale",
        /// Bottom-fermented beer.
        Lager = "lager",
        /// Wine, cider and mead.
        Wine = "wine",
        /// Brettanomyces and its like.
        Wild = "wild",
        /// Lactic acid bacteria.
        Bacteria = "bacteria",
        /// Something else.
        Other = "other",
    }
}

words! {
    /// How readily a yeast clumps and settles.
    Flocculation {
        /// Stays in suspension.
        Low = "low",
        /// Settles in days.
        Medium = "medium",
        /// Settles fast.
        High = "high",
    }
}

words! {
    /// A trait that a yeast has, lacks, or has in some of its strains.
    StrainTrait {
        /// The culture has it.
        Yes = "yes",
        /// The culture lacks it.
        No = "no",
        /// Some strains have it: take care as if it did.
        Possible = "possible",
    }
}

words! {
    /// What the colour of a sugar, syrup or extract refers to.
    ColourBasis {
        /// A kilogram made up to a litre.
        FullStrength = "full strength",
        /// A solution of 10 % of its solids by mass.
        TenPercentSolution = "10 % solution",
        /// A pound in a US gallon.
        PoundPerGallon = "lb/gal",
        /// The liquid as it is.
        Undiluted = "undiluted",
    }
}

words! {
    /// Whether a yeast ferments maltotriose.
    MaltotrioseUse {
        /// It does.
        Yes = "yes",
        /// It leaves part of it.
        Partly = "partly",
        /// It does in months.
        Slow = "slow",
        /// Some strains do.
        Variable = "variable",
        /// It leaves all of it.
        No = "no",
    }
}

words! {
    /// Something that must be told to who drinks the beer.
    Allergen {
        /// Cereal containing gluten: barley.
        Barley = "barley",
        /// Cereal containing gluten: wheat, spelt and their kin.
        Wheat = "wheat",
        /// Cereal containing gluten: rye.
        Rye = "rye",
        /// Cereal that law counts among those containing gluten: oats.
        Oats = "oats",
        /// Buckwheat, regulated in some countries.
        Buckwheat = "buckwheat",
        /// Milk and lactose.
        Milk = "milk",
        /// Egg.
        Egg = "egg",
        /// Fish.
        Fish = "fish",
        /// Crustaceans.
        Crustaceans = "crustaceans",
        /// Celery.
        Celery = "celery",
        /// Mustard.
        Mustard = "mustard",
        /// Peanut.
        Peanut = "peanut",
        /// Sesame.
        Sesame = "sesame",
        /// Tree nuts, and coconut where it is counted among them.
        TreeNuts = "tree nuts",
        /// Sulphites, certain or possible: above 10 mg/L they must be declared in the EU (Regulation (EU) 1169/2011,
        /// from memory).
        Sulphites = "sulphites",
    }
}
