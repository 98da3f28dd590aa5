//! One JSON request in, one JSON answer out, for hosts in any language.
//!
//! A host sends texts or models with what it asks, and shows the sentences of the answer or works on with its figures:
//!
//! ```
//! let beer = std::fs::read_to_string("examples/data/saltmarsh-lantern.gyle")?;
//! let home = std::fs::read_to_string("examples/data/stove-top.gyle")?;
//! let texts = serde_json::json!([{"name": "beer", "text": beer}, {"name": "home", "text": home}]);
//! let request = serde_json::json!({"format": 1, "id": 7, "ask": "scale", "documents": texts, "to": "Stove top"});
//! let answer: serde_json::Value = serde_json::from_str(&wortwright::exchange::answer(&request.to_string()))?;
//! assert_eq!((&answer["id"], &answer["ok"]), (&7.into(), &true.into()));
//! assert_eq!(answer["result"]["additions"][0]["mass_kg"], 1.485); // of pale ale malt
//! let refused = wortwright::exchange::answer(r#"{"format": 1, "ask": "raed"}"#);
//! assert!(refused.contains(r#""ok":false"#) && refused.contains("did you mean `read`?"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! | for | see |
//! |---|---|
//! | the call; it never fails: whatever it is given, the answer is valid JSON with `format` and `ok` | [`answer`] |
//! | the questions, and the fields of a request | [`Ask`], [Request](#request), [Readings](#readings) |
//! | what comes back, by question | [Answer](#answer) |
//! | models that a host stored, read again | [`stored`], [`Stored`], [`UnknownField`] |
//! | every code, to match on | [`CODES`], [Codes](#codes) |
//! | how a concept is called in Rust, in JSON and on the sheet | [Names](#names) |
//! | a process that serves it line by line; a call from C | the example `exchange_lines`, `c_api` behind its feature |
//!
//! # Request
//!
//! An object. A field that nobody knows is an error that names the nearest one, and so is a field or option that does
//! nothing for what is asked.
//!
//! | field | holds |
//! |---|---|
//! | `format` | 1 |
//! | `ask` | `read`, `predict`, `scale`, `substitute`, `ledger`, `correct`, `sheet`, `learn` or `catalogue` |
//! | `id` | any string, number, boolean or null; the answer repeats it to the last digit |
//! | `document` | one text in the notation |
//! | `documents` | several: `[{"name": …, "text": …}]` |
//! | `recipe`, `brewhouses`, `stock`, `logs` | the models as `read` answers them, in place of texts or beside them |
//! | `log` | for `ledger`: the name of one of several logs |
//! | `ingredients` | the host's own catalogue entries, as `catalogue` answers them |
//! | `to` | the name of a plant; `scale`, `substitute`, `correct`, `sheet` and `learn` without it take the only plant with a batch, `predict` the plant that the recipe was brewed on |
//! | `name` or `class` | for `catalogue`: a name, or a class such as `base malt`, or a kind such as `hop` |
//! | `from_stock` | for `substitute`, `true`: the stock is all there is; what it does not list is missing too, and nothing is bought |
//! | `missing` | for `substitute`: names as the recipe writes them; without it, what the stock lacks |
//! | `take` | for `scale`, `sheet` and `correct`: `[{"missing": …, "proposal": …}]`, proposals as `substitute` answers them, and `{"remedy": …}`, remedies as the `outcomes` of `scale` list them |
//! | `reading` | for `correct`: what was measured, `{"what": …, "value": …, "unit": …, "at_c": …}`, see below |
//! | `days` | for `learn`, where not all logs are of one recipe: `[{"plan": {"recipe": …, "brewhouse": …}, "log": …}]`, the models as `read` answers them, or plans that a host in Rust [kept](crate::scale::Kept) |
//! | `options` | `units` (`metric`, `us`, `imperial`), `gravity` (`plato`, `specific_gravity`), `temperature` (`celsius`, `fahrenheit`), `colour` (`ebc`, `srm`) for the sentences, by default those in which the plant was written; `bitterness_model` (`tinseth`, `kinetic`); for `predict`, `scale` and `sheet` also `spread` (`false` for answers without it: it takes longer than the rest of a plan); `decimal_comma` (`refused`, `accepted`); for `sheet` also `sheet` (`brief`, `full`) and `start` (`"8:30"`); for `substitute` also `candidates` (`stock`, `shop`, `catalogue`; by default `shop`), `colour_match` (`band`, `exact`), `limit` (1 to 50), `weights` (0 to 1000 each, see [`Weights`](crate::substitute::Weights)) |
//!
//! # Readings
//!
//! | `what` | `unit` | beside the value |
//! |---|---|---|
//! | `before_boil`, `after_boil` in the kettle, `in_fermenter` | `P`, `SG`, `Bx`, or a volume | `volume_l`, and `volume_at_c` where that volume was not read at 20 °C |
//! | `juice` | `P`, `SG`, `Bx` | `name` as the recipe writes it |
//! | `stopped`, where the gravity no longer falls | `P`, `SG`, `Bx` | |
//! | `mash_ph` | `pH` | `wanted_ph`, where it is neither the recipe's nor the usual 5.2 to 5.6 |
//! | `addition_at`, another gravity than planned before a later addition | `P`, `SG`, `Bx` | `name` as the recipe writes it |
//! | `packaging` | a volume | `warmest_c` since it stopped fermenting, `final_plato` as read |
//!
//! `at_c` is the temperature of what was measured, 20 °C if absent: `P` and `SG` are a hydrometer's and corrected for it, a volume is
//! brought to 20 °C, a mash sample must be cool. `Bx` is a refractometer's that compensates, so that it takes no `at_c`: of wort it is divided by `wort_correction`
//! (1.04 if absent), in fermenting beer it is undone with the extract that the wort and all additions so far had. Of juice it is what the
//! label says. Volumes are in `L`, `hL`, `mL`, `gal`, `qt`, `bbl` or `imp gal`. Where only the gravity or only the volume of a wort is
//! known, the other is taken as planned and a remark says so; where that is off, the other is asked for before anything is added.
//!
//! # Answer
//!
//! `{"format":1,"id":…,"ok":true,"diagnostics":[…],"result":{…}}`, where the diagnostics are warnings, or
//! `{"format":1,"id":…,"ok":false,"diagnostics":[…]}`. A diagnostic is `{severity, code, message, help, in, line, column,
//! length}` and may have `labels: [{text, in, line, column, length}]`; `in` is `request`, `document` or the name of one of
//! the `documents`; line and column count characters from 1, and are absent where the text as a whole is meant. Where that line
//! states an input, its path in the models stands as `place`.
//!
//! | ask | result |
//! |---|---|
//! | `read` | `recipe`, `brewhouses`, `stock`, `logs`, `ingredients`, `assumptions`, and `text`: all of it in canonical notation, comments kept |
//! | `predict` | `predicted`, `spread`, `published`, `volumes`, `gas`, `assumptions`, `warnings` |
//! | `scale` | `predicted`, `spread`, `spread_of_difference`, `published`, `source`, `volumes`, `water`, `additions`, `yeast_billion_cells`, `gas`, `changes`, `assumptions`, `warnings`, `outcomes`, `cautions`, `drift`, `shopping`, `text` (the plan as notation) |
//! | `substitute` | `missing`: `[{name, line, kind, candidates, proposals, no_substitute, without}]`; `sets` where several are missing: `[{proposals, distance, predicted, noticed, summary}]`, a proposal for each with lots that suffice for all, the beer predicted for the set |
//! | `ledger` | `alcohol`, `basis` (`measured`, `predicted`), `steps`, `shortcuts`, `assumptions`, `remarks` |
//! | `correct` | `corrected` (the reading at 20 °C), `planned`, `advice`: the ways on, each with what is `predicted` if it is taken; `assumptions`, `remarks`, `warnings` |
//! | `sheet` | `text`: the plan as a brew sheet in plain text |
//! | `learn` | `brewhouse` and `text`: the plant with what was learnt, as model and as lines to paste; `figures`: `[{name, value, one_sigma, prior, prior_one_sigma, unit, text}]`, `days`: `[{name, predicted, predicted_before, read, moved, slipped}]`, `next_day`, `not_told_apart`, `remarks` |
//! | `catalogue` | `entries` and, for a name, `reached`; or `near` names |
//!
//! `spread` has for each figure of `predicted`, by its name, `{one_sigma, causes}`: the standard deviation in the unit of the figure and
//! its three largest causes, `{code, name, share_pct, text}` with their shares of the variance; and `measure`: for each main figure the
//! one measurement that narrows it most, `{figure, what, name, would_leave, text}`. `spread_of_difference` has the same for plan less
//! source: what both rest on alike cancels.
//!
//! A field's name ends in its unit, and figures carry 12 significant digits. What is unknown is absent. Every entry of
//! `changes`, `assumptions`, `warnings`, `outcomes`, `remedies`, `cautions`, `drift`, `shortcuts`,
//! `remarks`, `practice`, `proposals` and `advice` has a `code`, a sentence as `text`, and its
//! figures; where it speaks of an input, the path of that field in the models (`recipe.mash.additions[2].amount`, a plant by its
//! name) stands as `place`. With something taken, the recipe is the one with it. Fields may be added; none is renamed or removed.
//!
//! The JSON schemas of all this stand in the module `schema`, behind the feature of that name.
//!
#![doc = include_str!("codes.md")]
#![doc = include_str!("../names.md")]

mod ask;
mod day;
mod diagnostics;
mod entries;
mod fault;
mod json_text;
mod learn;
mod ledger;
mod listing;
mod material;
mod measured;
mod misfit;
mod plan;
mod read;
mod reading;
mod request;
#[cfg(feature = "schema")]
pub mod schema;
mod spread;
mod stored;
mod substitutes;
mod take;
mod write;

pub use ask::Ask;
pub use fault::CODES;
pub use stored::{Stored, UnknownField, stored};

use diagnostics::{AnswerDiagnostic, Diagnostics, Location, REQUEST};
use fault::Fault;
use material::{Material, Sent};
use request::{FORMAT, Request};
use serde::Serialize;
use write::{Json, json};

/// The answer to a request, both as JSON. What is wrong with the request stands in the answer.
pub fn answer(request: &str) -> String {
    let id = request::id_of(request);
    match Request::read(request) {
        Ok(read) => match read.ask {
            Ask::Read => worked(request, read, id, &reading::answer),
            Ask::Predict => worked(request, read, id, &plan::predict),
            Ask::Scale => worked(request, read, id, &plan::scale),
            Ask::Substitute => worked(request, read, id, &substitutes::answer),
            Ask::Ledger => worked(request, read, id, &ledger::answer),
            Ask::Correct => worked(request, read, id, &day::answer),
            Ask::Sheet => worked(request, read, id, &plan::sheet),
            Ask::Learn => worked(request, read, id, &learn::answer),
            Ask::Catalogue => listing::answer(request, read, id),
        },
        Err(findings) => refuse(id, &findings),
    }
}

/// A result as JSON, or why it cannot be written.
type AnswerJson = serde_json::Result<Json>;

/// Reads what a request gives to work on, and answers what `work` makes of it; with the warnings of reading, either way.
fn worked(
    text: &str,
    mut request: Request,
    id: Option<&str>,
    work: &dyn Fn(&Material<'_>, &Request) -> Result<AnswerJson, Diagnostics>,
) -> String {
    let sent = Sent::taken_from(&mut request);
    let material = match Material::of(text, &request, sent) {
        Ok(material) => material,
        Err(findings) => return refuse(id, &findings),
    };
    match work(&material, &request) {
        Ok(result) => reply(id, &material.findings, result),
        Err(findings) => refuse(id, &material.refused(findings)),
    }
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct Answer<'a, R> {
    #[cfg_attr(feature = "schema", schemars(schema_with = "schema::format"))]
    format: u64,
    #[cfg_attr(feature = "schema", schemars(schema_with = "schema::id"))]
    #[serde(skip_serializing_if = "Option::is_none")]
    id: Option<Json>,
    ok: bool,
    diagnostics: &'a [AnswerDiagnostic],
    #[serde(skip_serializing_if = "Option::is_none")]
    result: Option<R>,
}

impl Answer<'_, Json> {
    fn written(&self) -> serde_json::Result<String> {
        json(self).map(Json::into_text)
    }
}

/// An answer with its warnings.
fn reply(id: Option<&str>, diagnostics: &[AnswerDiagnostic], result: AnswerJson) -> String {
    let written = result.and_then(|result| {
        let answer = Answer {
            format: FORMAT,
            id: id.map(Json::known),
            ok: true,
            diagnostics,
            result: Some(result),
        };
        answer.written()
    });
    written.unwrap_or_else(|error| {
        let finding = AnswerDiagnostic::error(
            Fault::NotWritable.code(),
            format!("the answer cannot be written: {error}"),
            Location::whole(REQUEST),
        );
        refuse(id, &[finding])
    })
}

/// A refusal with its reasons.
fn refuse(id: Option<&str>, diagnostics: &[AnswerDiagnostic]) -> String {
    let answer = Answer {
        format: FORMAT,
        id: id.map(Json::known),
        ok: false,
        diagnostics,
        result: None,
    };
    // Strings, counts and an id that was valid JSON before: this cannot fail, but a fallback costs nothing.
    answer
        .written()
        .unwrap_or_else(|_| format!(r#"{{"format":{FORMAT},"ok":false,"diagnostics":[]}}"#))
}
