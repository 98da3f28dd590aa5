//! `ledger`: what a log says of its beer.

use super::fault::Fault;
use super::finding::{Finding, Findings};
use super::material::{Material, Sent};
use super::request::Request;
use super::said::{Said, said};
use super::{refuse, reply};
use crate::correct::{self, Alcohol, Basis, Remark, Shortcut, Step};
use crate::process::Assumption;
use serde::Serialize;

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Ledger {
    alcohol: Alcohol,
    basis: Basis,
    steps: Vec<Said<Step>>,
    shortcuts: Vec<Said<Shortcut>>,
    assumptions: Vec<Said<Assumption>>,
    remarks: Vec<Said<Remark>>,
}

pub(super) fn answer(text: &str, mut request: Request, id: Option<&str>) -> String {
    let sent = Sent::taken_from(&mut request);
    let material = match Material::of(text, &request, sent) {
        Ok(material) => material,
        Err(findings) => return refuse(id, &findings),
    };
    match followed(&material, &request) {
        Ok(result) => reply(id, &material.findings, result),
        Err(findings) => refuse(id, &material.refused(findings)),
    }
}

fn followed(material: &Material<'_>, request: &Request) -> Result<Ledger, Findings> {
    let log = material.log.as_ref().ok_or_else(|| {
        let message = "expected a log to follow, found none".to_owned();
        let help = "send a text with a `log` block as `document`, or a model as `log`";
        let finding = Finding::error(Fault::NoLog.code(), message, material.whole());
        vec![finding.with_help(Some(help.to_owned()))]
    })?;
    let ledger = correct::ledger(log, &material.catalogue).map_err(|fault| {
        let place = material.log_line(fault.entry);
        let finding = Finding::error(fault.code(), fault.to_string(), place);
        vec![finding.with_help(Some(fault.help().to_owned()))]
    })?;
    let style = request.style(None);
    Ok(Ledger {
        alcohol: ledger.alcohol,
        basis: ledger.basis,
        steps: said(ledger.steps, style),
        shortcuts: said(ledger.shortcuts, style),
        assumptions: said(ledger.assumptions, style),
        remarks: said(ledger.remarks, style),
    })
}
