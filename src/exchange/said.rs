//! Entries of lists that speak: code, figures, and the sentence.

use crate::correct::{Remark, Shortcut, Step, WayOn};
use crate::process::{Assumption, Warning};
use crate::remedy::Remedy;
use crate::scale::{Change, Drift, Outcome};
use crate::wording::Style;
use serde::{Serialize, Serializer, ser};

/// An entry with its sentence.
#[derive(Debug, Serialize)]
pub(super) struct Said<T> {
    #[serde(flatten)]
    entry: T,
    text: String,
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

say!(Assumption Warning Change Drift Remedy Step);

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

impl Say for Remark {
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

impl Serialize for SaidOutcome {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        // A plan has a handful of outcomes at most, so a tree for each costs nothing.
        let mut form = serde_json::to_value(&self.outcome).map_err(ser::Error::custom)?;
        let remedies = said(self.outcome.remedies().to_vec(), self.style);
        if let Some(fields) = form.as_object_mut() {
            fields.insert("text".to_owned(), self.outcome.text(self.style).into());
            if !remedies.is_empty() {
                let remedies = serde_json::to_value(remedies).map_err(ser::Error::custom)?;
                fields.insert("remedies".to_owned(), remedies);
            }
        }
        form.serialize(serializer)
    }
}
