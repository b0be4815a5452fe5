//! `check`: what will fail, what is at risk, what is worth knowing.

use std::fmt::Write as _;
use std::process::ExitCode;

use casewright_core::length::trimmed;
use casewright_core::sentence::capital;
use casewright_core::worked::Worked;
use casewright_core::{DryFit, Finding, Model, Seriousness};
use casewright_sheets::json;

use crate::arguments::Input;
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output;

/// Ends with 1 when something will fail.
pub fn run(input: &Input, as_json: bool, with_why: bool) -> Result<ExitCode, Failure> {
    let Case { design, model, solids } = load::case(input)?;
    let findings = DryFit::of(&design, &model, &solids).findings;
    if as_json {
        output::print_json(&json::check(&model, &findings))?;
    } else {
        output::print(&told_with(&model, &findings, with_why))?;
    }
    let fails = findings.iter().any(|finding| finding.seriousness == Seriousness::WillFail);
    Ok(if fails { ExitCode::from(1) } else { ExitCode::SUCCESS })
}

/// All that was found, the most serious first, under one line that sums it up.
pub fn told(model: &Model, findings: &[Finding]) -> String {
    told_with(model, findings, false)
}

/// The same, and how each figure comes about where that is asked for.
fn told_with(model: &Model, findings: &[Finding], with_why: bool) -> String {
    let mut text = format!("{}: {}, {}\n", model.name, count(model.parts.len(), "part"), summary(findings));
    for finding in findings {
        text.push('\n');
        text += &one(model, finding);
        let why = finding.figures.iter().filter_map(|figure| figure.why.as_deref()).filter(|_| with_why);
        for (index, line) in why.flat_map(Worked::explain).enumerate() {
            // Writing to a string can't fail.
            let _ = writeln!(text, "    {:<8}{line}", if index == 0 { "why" } else { "" });
        }
    }
    text
}

/// "1 will fail, 2 at risk", or "nothing found".
pub fn summary(findings: &[Finding]) -> String {
    let kinds = [Seriousness::WillFail, Seriousness::AtRisk, Seriousness::Note];
    let counts = kinds.map(|kind| (findings.iter().filter(|finding| finding.seriousness == kind).count(), kind));
    let words: Vec<_> = counts
        .into_iter()
        .filter(|(found, _)| *found > 0)
        .map(|(found, kind)| match kind {
            Seriousness::WillFail | Seriousness::AtRisk => format!("{found} {}", kind.word()),
            Seriousness::Note => count(found, "note"),
        })
        .collect();
    if words.is_empty() { "nothing found".to_owned() } else { words.join(", ") }
}

/// So many parts of a finding are named; `--json` names all.
const NAMED: usize = 4;

/// "1 part", "3 parts".
pub fn count(number: usize, word: &str) -> String {
    format!("{number} {word}{}", if number == 1 { "" } else { "s" })
}

/// One finding with all that is known of it.
pub fn one(model: &Model, finding: &Finding) -> String {
    let shape = match finding.seriousness {
        Seriousness::WillFail => '■',
        Seriousness::AtRisk => '▲',
        Seriousness::Note => '○',
    };
    let mut text = format!("{shape} {}: {}\n", capital(finding.seriousness.word()), finding.message);
    let mut line = |what: &str, words: &str| {
        if !words.is_empty() {
            // Writing to a string can't fail.
            let _ = writeln!(text, "    {what:<8}{words}");
        }
    };
    let parts: Vec<_> = finding.parts.iter().map(|part| model.part(*part)).collect();
    let mut names: Vec<_> = parts.iter().take(NAMED).map(|part| format!("{} ({}, {})", part.title, part.mark, part.name)).collect();
    if parts.len() > NAMED {
        names.push(format!("and {} more", parts.len() - NAMED));
    }
    line("parts", &names.join("; "));
    if let Some(place) = finding.place {
        line("place", &format!("{} right, {} up, {} forward, mm", trimmed(place.x), trimmed(place.y), trimmed(place.z)));
    }
    let figures = finding.figures.iter().map(|figure| format!("{} {} {}", figure.name, trimmed(figure.value), figure.unit));
    let figures: Vec<_> = figures.map(|figure| figure.trim_end().to_owned()).collect();
    line("figures", &figures.join("; "));
    line("by", finding.rule.reckoned());
    line("source", &finding.sources(model));
    for (index, remedy) in finding.remedies.iter().enumerate() {
        let changes: Vec<_> = remedy.changes.iter().map(|(name, value)| format!("--with {}", pasted(&format!("{name}={value}")))).collect();
        line(if index == 0 { "remedy" } else { "or" }, &[std::slice::from_ref(&remedy.words), &changes].concat().join("  "));
    }
    text
}

/// A word of a command line as it can be pasted: in quotes where a shell would else take it apart.
fn pasted(word: &str) -> String {
    let plain = |letter: char| letter.is_alphanumeric() || "._-=/:,+".contains(letter);
    if word.chars().all(plain) {
        return word.to_owned();
    }
    let quoted: String = word.chars().flat_map(|letter| "\\\"$`".contains(letter).then_some('\\').into_iter().chain([letter])).collect();
    format!("\"{quoted}\"")
}
