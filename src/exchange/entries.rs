//! Entries of lists: each with its code and figures, what it says, and the input that it speaks of.

use super::write::{Json, json};
use crate::learn::{LearntDay, Slip};
use crate::ledger::Step;
use crate::remedy::Remedy;
use crate::scale::Outcome;
use crate::speech::{Noted, Speaks, Style};
use crate::substitute::{Practice, Proposal};
use serde::{Serialize, Serializer, ser};
use std::marker::PhantomData;

/// An entry as JSON. What it is an entry of, its schema alone asks.
#[derive(Debug)]
pub(super) struct Entry<T> {
    json: serde_json::Result<Json>,
    of: PhantomData<T>,
}

/// The form of an entry.
#[cfg(feature = "schema")]
#[derive(schemars::JsonSchema)]
#[allow(dead_code, reason = "it is a form and never made")]
struct EntryForm<T> {
    #[schemars(flatten)]
    figures: T,
    text: String,
    #[schemars(skip_serializing_if = "Option::is_none")]
    place: Option<crate::diagnostic::Place>,
}

#[cfg(feature = "schema")]
impl<T: schemars::JsonSchema> schemars::JsonSchema for Entry<T> {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        format!("EntryOf{}", T::schema_name()).into()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        EntryForm::<T>::json_schema(generator)
    }
}

/// The code of an entry that has no figures.
#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Code<T> {
    code: T,
}

impl<T> Serialize for Entry<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match &self.json {
            Ok(json) => json.serialize(serializer),
            Err(error) => Err(ser::Error::custom(error)),
        }
    }
}

impl<T> Entry<T> {
    fn of(json: serde_json::Result<Json>) -> Self {
        Self {
            json,
            of: PhantomData,
        }
    }
}

/// What says something, with its figures.
pub(super) fn entries<T: Serialize + Speaks>(list: &[T], style: Style) -> Vec<Entry<T>> {
    let entry = |told: &T| Entry::of(json(told).and_then(|figures| said(figures, told, style)));
    list.iter().map(entry).collect()
}

/// What says something of an input, with its figures.
pub(super) fn noted<T: Serialize + Speaks>(list: &[Noted<T>], style: Style) -> Vec<Entry<T>> {
    let entry = |told: &Noted<T>| {
        Entry::of(json(&told.what).and_then(|figures| said(figures, told, style)))
    };
    list.iter().map(entry).collect()
}

/// Outcomes, whose remedies speak too.
pub(super) fn outcomes(list: &[Noted<Outcome>], style: Style) -> Vec<Entry<Outcome>> {
    let entry = |told: &Noted<Outcome>| {
        let remedies: Vec<Entry<Remedy>> = entries(told.remedies(), style);
        let figures = json(&told.what)?;
        let figures = figures.replaced("remedies", &json(&remedies)?);
        said(figures, told, style)
    };
    list.iter().map(|told| Entry::of(entry(told))).collect()
}

/// Proposals, whose practice speaks too; a juice's other ways are themselves proposals, one level deep.
pub(super) fn proposals(list: &[Proposal], style: Style) -> Vec<Entry<Proposal>> {
    let entry = |proposal: &Proposal| {
        let practice: Vec<Entry<Practice>> = noted(&proposal.practice, style);
        let ways = proposals(&proposal.other_ways, style);
        let figures = json(proposal)?;
        let figures = figures.replaced("practice", &json(&practice)?);
        let figures = figures.replaced("other_ways", &json(&ways)?);
        figures.with(&[("code", proposal.code()), ("text", &proposal.text(style))])
    };
    list.iter().map(|told| Entry::of(entry(told))).collect()
}

/// The lines of a log and the beer after each.
pub(super) fn steps(list: &[Step], style: Style) -> Vec<Entry<Step>> {
    let entry = |step: &Step| json(step)?.with(&[("text", &step.text(style))]);
    list.iter().map(|step| Entry::of(entry(step))).collect()
}

/// What was learnt of a plant.
pub(super) fn learnt<T: Serialize + Speaks>(list: &[T], style: Style) -> Vec<Entry<T>> {
    let entry = |told: &T| {
        let text = told.text(style);
        json(told)?.with(&[("code", told.code()), ("text", &text)])
    };
    list.iter().map(|told| Entry::of(entry(told))).collect()
}

/// The days that a plant learns from, whose slips speak.
pub(super) fn learnt_days(list: &[LearntDay], style: Style) -> Vec<Entry<LearntDay>> {
    let entry = |day: &LearntDay| {
        let slips: Vec<Entry<Slip>> = learnt(&day.slipped, style);
        let figures = json(day)?.replaced("slipped", &json(&slips)?);
        figures.with(&[("text", &day.text(style))])
    };
    list.iter().map(|day| Entry::of(entry(day))).collect()
}

/// What has no figures but its code: why nothing can stand for something, what the beer is without it.
pub(super) fn coded<T: Speaks + Serialize + Copy>(told: T, style: Style) -> Entry<Code<T>> {
    let code = json(&Code { code: told });
    Entry::of(code.and_then(|code| said(code, &told, style)))
}

/// Code and figures with what is said, and with the input that it speaks of.
fn said(figures: Json, told: &dyn Speaks, style: Style) -> serde_json::Result<Json> {
    let text = told.text(style);
    match told.place() {
        Some(place) => figures.with(&[("text", &text), ("place", &place.to_string())]),
        None => figures.with(&[("text", &text)]),
    }
}
