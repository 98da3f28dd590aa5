//! What the notation is measured against: the same content in plain structs, each figure with the unit it is written in.

use serde::{Deserialize, Serialize};
use std::fmt::Write;

/// A figure with its unit, as a program without the notation would keep it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Figure {
    pub(crate) number: f64,
    pub(crate) unit: String,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Stated {
    pub(crate) label: String,
    pub(crate) number: f64,
    pub(crate) unit: String,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Item {
    pub(crate) amount: Option<Figure>,
    pub(crate) name: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(crate) facts: Vec<Stated>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) form: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) timing: Option<Stated>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(crate) parts: Vec<Item>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Step {
    pub(crate) temperature: Figure,
    pub(crate) time: Figure,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Stand {
    pub(crate) time: Figure,
    pub(crate) temperature: Figure,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(crate) additions: Vec<Item>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Cool {
    pub(crate) to: Figure,
    pub(crate) time: Figure,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) method: Option<String>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Batch {
    pub(crate) volume: Figure,
    pub(crate) at: String,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Recipe {
    pub(crate) name: String,
    pub(crate) source: String,
    pub(crate) brewed_on: String,
    pub(crate) batch: Batch,
    pub(crate) targets: Vec<Stated>,
    pub(crate) shares: String,
    pub(crate) water: Vec<Stated>,
    pub(crate) mash: Vec<Item>,
    pub(crate) rests: Vec<Step>,
    pub(crate) mash_ph: f64,
    pub(crate) boil_time: Figure,
    pub(crate) boil: Vec<Item>,
    pub(crate) stands: Vec<Stand>,
    pub(crate) cool: Vec<Cool>,
    pub(crate) pitch: Item,
    pub(crate) holds: Vec<Step>,
    pub(crate) added: Vec<Item>,
    pub(crate) container: String,
    pub(crate) carbonation: Figure,
    pub(crate) carbonated_at: Figure,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Plant {
    pub(crate) name: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) batch: Option<Batch>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) lauter: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) sparge: Option<Figure>,
    pub(crate) figures: Vec<Stated>,
    pub(crate) cool: Cool,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(crate) weigh: Vec<Stated>,
}

#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub(crate) struct Sheet {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) recipe: Option<Recipe>,
    pub(crate) plants: Vec<Plant>,
    pub(crate) stock: Vec<Item>,
}

fn figure(number: f64, unit: &str) -> Figure {
    Figure {
        number,
        unit: unit.to_owned(),
    }
}

fn stated(label: &str, number: f64, unit: &str) -> Stated {
    Stated {
        label: label.to_owned(),
        number,
        unit: unit.to_owned(),
    }
}

fn lot(amount: Option<Figure>, name: &str, facts: Vec<Stated>) -> Item {
    Item {
        amount,
        name: name.to_owned(),
        facts,
        form: None,
        timing: None,
        parts: Vec::new(),
    }
}

/// A legal text of about `bytes` bytes, plants and stocks in turn, and the same content in plain structs.
pub(crate) fn sheet_of(bytes: usize) -> (String, Sheet) {
    let (mut text, mut sheet) = (String::new(), Sheet::default());
    while text.len() + 300 < bytes {
        let at = sheet.plants.len();
        let batch = (at % 40 + 5) as f64;
        write!(
            text,
            "brewhouse Stove top {at}\n  batch {batch} L into fermenter\n  kettle {} L\n  lauter bag, sparge 1.2 L\n  \
             absorption 0.65 L/kg\n  evaporation 2.6 L/h\n  kettle loss 0.6 L\n  altitude 350 m\n  \
             cool to 20 C in 25 min by coil\n  weigh malt 5 g, hops 0.5 g, salts 0.1 g\n\nstock\n  \
             6 kg     pale ale malt, 6 EBC\n  500 g    flaked wheat\n  {} g    northern brewer, pellet, 9 % alpha\n  \
             1500 mL  plum juice, 12 Bx, pH 3.3\n\n",
            batch * 2.0,
            at % 7 * 20 + 100,
        )
        .expect("a string takes every text");
        sheet.plants.push(Plant {
            name: format!("Stove top {at}"),
            batch: Some(Batch {
                volume: figure(batch, "L"),
                at: "into fermenter".to_owned(),
            }),
            lauter: Some("bag".to_owned()),
            sparge: Some(figure(1.2, "L")),
            figures: vec![
                stated("kettle", batch * 2.0, "L"),
                stated("absorption", 0.65, "L/kg"),
                stated("evaporation", 2.6, "L/h"),
                stated("kettle loss", 0.6, "L"),
                stated("altitude", 350.0, "m"),
            ],
            cool: Cool {
                to: figure(20.0, "C"),
                time: figure(25.0, "min"),
                method: Some("coil".to_owned()),
            },
            weigh: vec![
                stated("malt", 5.0, "g"),
                stated("hops", 0.5, "g"),
                stated("salts", 0.1, "g"),
            ],
        });
        let hops = (at % 7 * 20 + 100) as f64;
        sheet.stock.extend([
            lot(
                Some(figure(6.0, "kg")),
                "pale ale malt",
                vec![stated("colour", 6.0, "EBC")],
            ),
            lot(Some(figure(500.0, "g")), "flaked wheat", Vec::new()),
            Item {
                form: Some("pellet".to_owned()),
                ..lot(
                    Some(figure(hops, "g")),
                    "northern brewer",
                    vec![stated("alpha", 9.0, "%")],
                )
            },
            lot(
                Some(figure(1500.0, "mL")),
                "plum juice",
                vec![stated("brix", 12.0, "Bx"), stated("pH", 3.3, "")],
            ),
        ]);
    }
    (text, sheet)
}
