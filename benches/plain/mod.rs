//! What the notation is measured against: the same content in plain structs, each figure with the unit it is written in.

#![allow(unreachable_pub, reason = "two benches share this file")]

use serde::{Deserialize, Serialize};
use std::fmt::Write;

/// A figure with its unit, as a program without the notation would keep it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Figure {
    pub number: f64,
    pub unit: String,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stated {
    pub label: String,
    pub number: f64,
    pub unit: String,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Item {
    pub amount: Option<Figure>,
    pub name: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub facts: Vec<Stated>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub form: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub timing: Option<Stated>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<Item>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Step {
    pub temperature: Figure,
    pub time: Figure,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stand {
    pub time: Figure,
    pub temperature: Figure,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub additions: Vec<Item>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Cool {
    pub to: Figure,
    pub time: Figure,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub method: Option<String>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Batch {
    pub volume: Figure,
    pub at: String,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Recipe {
    pub name: String,
    pub source: String,
    pub brewed_on: String,
    pub batch: Batch,
    pub targets: Vec<Stated>,
    pub shares: String,
    pub water: Vec<Stated>,
    pub mash: Vec<Item>,
    pub rests: Vec<Step>,
    pub mash_ph: f64,
    pub boil_time: Figure,
    pub boil: Vec<Item>,
    pub stands: Vec<Stand>,
    pub cool: Vec<Cool>,
    pub pitch: Item,
    pub holds: Vec<Step>,
    pub added: Vec<Item>,
    pub container: String,
    pub carbonation: Figure,
    pub carbonated_at: Figure,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Plant {
    pub name: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub batch: Option<Batch>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lauter: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sparge: Option<Figure>,
    pub figures: Vec<Stated>,
    pub cool: Cool,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub weigh: Vec<Stated>,
}

#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Sheet {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recipe: Option<Recipe>,
    pub plants: Vec<Plant>,
    pub stock: Vec<Item>,
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
pub fn sheet_of(bytes: usize) -> (String, Sheet) {
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
