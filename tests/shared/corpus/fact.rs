//! A fact as the corpus states it.

use super::measure::{Measure, Scale};
use std::collections::BTreeMap;
use std::fmt;

/// One fact of a text.
#[derive(Debug, Clone, PartialEq)]
pub struct Fact {
    /// From 1; 0 where it is not known.
    pub line: usize,
    pub stage: String,
    pub kind: String,
    /// `-` where it has none.
    pub name: String,
    pub amount: Amount,
    pub figures: Figures,
    /// Its row in the corpus, by which it is shown; empty for what a model holds.
    pub row: String,
}

/// How much.
#[derive(Debug, Clone, PartialEq)]
pub enum Amount {
    Unstated,
    /// A brewer would have to ask.
    Ask,
    /// `none` and `any` of a stock.
    Word(String),
    Is(Measure),
}

/// By label.
pub type Figures = BTreeMap<String, Figure>;

/// A figure of a fact.
#[derive(Debug, Clone, PartialEq)]
pub enum Figure {
    Is(Measure),
    Word(String),
}

impl Figure {
    pub fn agrees(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Is(one), Self::Is(other)) => one.agrees(other),
            (Self::Word(one), Self::Word(other)) => one == other,
            _ => false,
        }
    }
}

impl Fact {
    /// `STAGE | KIND | NAME | AMOUNT | FIGURES`, on a line of the text.
    pub fn parse(line: usize, fields: &[&str]) -> Result<Self, String> {
        let [stage, kind, name, amount, figures] = fields else {
            return Err(format!("five fields expected, found {fields:?}"));
        };
        Ok(Self {
            line,
            stage: (*stage).to_owned(),
            kind: (*kind).to_owned(),
            name: (*name).to_owned(),
            amount: amount_of(kind, amount)?,
            figures: figures_of(figures)?,
            row: fields.join(" | "),
        })
    }

    pub fn figure(&self, label: &str) -> Option<&Figure> {
        self.figures.get(label)
    }

    /// The measure of a figure.
    pub fn measure(&self, label: &str) -> Option<&Measure> {
        match self.figure(label) {
            Some(Figure::Is(measure)) => Some(measure),
            _ => None,
        }
    }
}

impl Amount {
    pub const fn measure(&self) -> Option<&Measure> {
        match self {
            Self::Is(measure) => Some(measure),
            _ => None,
        }
    }
}

fn amount_of(kind: &str, text: &str) -> Result<Amount, String> {
    Ok(match text {
        "-" => Amount::Unstated,
        "ask" => Amount::Ask,
        "none" | "any" => Amount::Word(text.to_owned()),
        _ => {
            let measure = Measure::parse(text).ok_or_else(|| format!("no amount: {text}"))?;
            // Grams of carbon dioxide, not of sugar.
            let of_gas = kind == "carbonate" && measure.scale == Scale::GramsPerLitre;
            Amount::Is(if of_gas {
                measure.as_scale(Scale::Gas)
            } else {
                measure
            })
        }
    })
}

/// `alpha 5.8 %, left 15 min`; nothing for `-`.
fn figures_of(text: &str) -> Result<Figures, String> {
    let mut figures = Figures::new();
    if text == "-" {
        return Ok(figures);
    }
    for figure in text.split(", ") {
        let (label, value) = figure
            .split_once(' ')
            .ok_or_else(|| format!("no figure: {figure}"))?;
        let measure = match label {
            "colour" => Measure::malt_colour(value),
            "pH" => value
                .parse()
                .ok()
                .map(|value| Measure::new(Scale::Ph, value)),
            "day" => value
                .parse()
                .ok()
                .map(|value| Measure::new(Scale::Count, value)),
            "form" | "date" | "clock" | "per" => None,
            _ => Measure::parse(value),
        };
        let figure = measure.map_or_else(|| Figure::Word(value.to_owned()), Figure::Is);
        figures.insert(label.to_owned(), figure);
    }
    Ok(figures)
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unstated => f.write_str("-"),
            Self::Ask => f.write_str("ask"),
            Self::Word(word) => f.write_str(word),
            Self::Is(measure) => measure.fmt(f),
        }
    }
}

impl fmt::Display for Fact {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.row.is_empty() {
            return f.write_str(&self.row);
        }
        let Self {
            stage,
            kind,
            name,
            amount,
            ..
        } = self;
        write!(f, "{stage} | {kind} | {name} | {amount} | ")?;
        if self.figures.is_empty() {
            return f.write_str("-");
        }
        for (index, (label, figure)) in self.figures.iter().enumerate() {
            let comma = if index == 0 { "" } else { ", " };
            match figure {
                Figure::Is(measure) => write!(f, "{comma}{label} {measure}")?,
                Figure::Word(word) => write!(f, "{comma}{label} {word}")?,
            }
        }
        Ok(())
    }
}
