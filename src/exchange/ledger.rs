//! `ledger`: what a log says of its beer.

use super::AnswerJson;
use super::diagnostics::{AnswerDiagnostic, Diagnostics};
use super::entries::{Entry, entries, noted, steps};
use super::fault::{Fault, clipped};
use super::material::Material;
use super::request::Request;
use super::write::json;
use crate::ledger::{Alcohol, Basis, LedgerOptions, Remark, Shortcut, Step, ledger_with};
use crate::process::Assumption;
use crate::recipe::Log;
use crate::speech::Speaks;
use serde::Serialize;

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Ledger {
    alcohol: Alcohol,
    basis: Basis,
    steps: Vec<Entry<Step>>,
    shortcuts: Vec<Entry<Shortcut>>,
    assumptions: Vec<Entry<Assumption>>,
    remarks: Vec<Entry<Remark>>,
}

pub(super) fn answer(
    material: &Material<'_>,
    request: &Request,
) -> Result<AnswerJson, Diagnostics> {
    let (index, log) = chosen(material, request)?;
    let (catalogue, options) = (material.job.catalogue(), LedgerOptions::default());
    let style = request.style(None);
    let ledger = ledger_with((index, log), catalogue, options).map_err(|fault| {
        let place = material.log_line(index, fault.entry);
        let finding = AnswerDiagnostic::error(fault.code(), fault.text(style), place);
        let finding = finding.with_help(Some(fault.help().to_owned()));
        vec![finding.speaking_of(fault.place().cloned())]
    })?;
    Ok(json(&Ledger {
        alcohol: ledger.alcohol,
        basis: ledger.basis,
        steps: steps(&ledger.steps, style),
        shortcuts: entries(&ledger.shortcuts, style),
        assumptions: noted(&ledger.assumptions, style),
        remarks: noted(&ledger.remarks, style),
    }))
}

/// The log of the name that the request gives, or the only one.
fn chosen<'a>(
    material: &'a Material<'_>,
    request: &Request,
) -> Result<(usize, &'a Log), Diagnostics> {
    let logs = material.job.logs();
    let names: Vec<_> = logs.iter().map(Log::name).collect();
    let listed = || Some(format!("the logs are `{}`", names.join("`, `")));
    let Some(wanted) = &request.log else {
        return match logs {
            [only] => Ok((0, only)),
            [] => {
                let message = "expected a log, found none".to_owned();
                let help = "send a text with a `log` block as `document`, or models as `logs`";
                let finding =
                    AnswerDiagnostic::error(Fault::NoLog.code(), message, material.whole());
                Err(vec![finding.with_help(Some(help.to_owned()))])
            }
            _ => {
                let message = format!("expected `log`, the name of one of {} logs", logs.len());
                let finding = Fault::MissingField.at(material.request, 0..1, message);
                Err(vec![finding.with_help(listed())])
            }
        };
    };
    let mut logs = logs.iter().enumerate();
    logs.find(|(_, log)| log.is_called(wanted)).ok_or_else(|| {
        let message = format!("there is no log `{}`", clipped(wanted));
        let finding = Fault::UnknownValue.at_value(material.request, &["log"], message);
        vec![finding.with_help(listed().filter(|_| !names.is_empty()))]
    })
}
