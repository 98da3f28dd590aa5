//! Entries of lists that speak: code, figures, and the sentence.

use super::write::{Json, json};
use crate::correct::{Remark, Shortcut, Step, WayOn};
use crate::process::{Assumption, Warning};
use crate::remedy::Remedy;
use crate::scale::{Change, Drift, Outcome};
use crate::substitute::{NoSubstitute, Proposal};
use crate::wording::Style;
use serde::{Serialize, Serializer, ser};
use serde_json::Value;

/// An entry with its sentence.
#[derive(Debug)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Said<T> {
    #[cfg_attr(feature = "schema", schemars(flatten))]
    entry: T,
    text: String,
}

impl<T: Serialize> Serialize for Said<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        json(&self.entry)
            .and_then(|entry| entry.with("text", &self.text))
            .map_err(ser::Error::custom)?
            .serialize(serializer)
    }
}

/// What can be said in a sentence.
pub(super) trait Say: Sized {
    fn say(&self, style: Style) -> String;
}

macro_rules! say {
    ($($entry:ident)+) => {
        $(impl Say for $entry {
            fn say(&self, style: Style) -> String {
                self.text(style)
            }
        })+
    };
}

say!(Assumption Warning Change Drift Remedy Remark Step);

impl Say for WayOn {
    fn say(&self, style: Style) -> String {
        self.way.text(style)
    }
}

impl Say for Shortcut {
    fn say(&self, _: Style) -> String {
        self.text()
    }
}

/// Entries with their sentences.
pub(super) fn said<T: Say>(entries: Vec<T>, style: Style) -> Vec<Said<T>> {
    entries
        .into_iter()
        .map(|entry| Said {
            text: entry.say(style),
            entry,
        })
        .collect()
}

/// An outcome whose remedies speak too.
#[derive(Debug)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(with = "Said<Outcome>"))]
pub(super) struct SaidOutcome {
    outcome: Outcome,
    style: Style,
}

pub(super) fn said_outcomes(outcomes: Vec<Outcome>, style: Style) -> Vec<SaidOutcome> {
    outcomes
        .into_iter()
        .map(|outcome| SaidOutcome { outcome, style })
        .collect()
}

/// A proposal whose practice speaks too.
#[derive(Debug)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(with = "Said<Proposal>"))]
pub(super) struct SaidProposal {
    pub(super) proposal: Proposal,
    pub(super) style: Style,
}

impl Serialize for SaidProposal {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let form = spoken(&self.proposal, self.style).map_err(ser::Error::custom)?;
        Json::of(&form).serialize(serializer)
    }
}

/// As with outcomes, a handful of trees; a juice's other ways are themselves proposals, one level deep.
fn spoken(proposal: &Proposal, style: Style) -> serde_json::Result<Value> {
    let mut form = json(proposal)?.to_value()?;
    if let Some(fields) = form.as_object_mut() {
        fields.insert("text".to_owned(), proposal.text(style).into());
        if let Some(practice) = fields.get_mut("practice").and_then(|p| p.as_array_mut()) {
            for (entry, said) in practice.iter_mut().zip(&proposal.practice) {
                if let Some(entry) = entry.as_object_mut() {
                    entry.insert("text".to_owned(), said.text().into());
                }
            }
        }
        if !proposal.other_ways.is_empty() {
            let ways: Result<Vec<_>, _> = proposal
                .other_ways
                .iter()
                .map(|way| spoken(way, style))
                .collect();
            fields.insert("other_ways".to_owned(), ways?.into());
        }
    }
    Ok(form)
}

/// Why nothing can stand for something, with its sentence.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct SaidReason {
    code: NoSubstitute,
    text: &'static str,
}

impl SaidReason {
    pub(super) const fn of(reason: NoSubstitute) -> Self {
        Self {
            code: reason,
            text: reason.text(),
        }
    }
}

impl SaidOutcome {
    /// A plan has a handful of outcomes at most, so a tree for each costs nothing.
    fn form(&self) -> serde_json::Result<Value> {
        let mut form = json(&self.outcome)?.to_value()?;
        let remedies = said(self.outcome.remedies().to_vec(), self.style);
        if let Some(fields) = form.as_object_mut() {
            fields.insert("text".to_owned(), self.outcome.text(self.style).into());
            if !remedies.is_empty() {
                fields.insert("remedies".to_owned(), json(&remedies)?.to_value()?);
            }
        }
        Ok(form)
    }
}

impl Serialize for SaidOutcome {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let form = self.form().map_err(ser::Error::custom)?;
        Json::of(&form).serialize(serializer)
    }
}
