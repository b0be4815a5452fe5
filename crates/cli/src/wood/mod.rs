//! `wood`: small sums of timber, by the same functions as a case uses.

#![allow(clippy::doc_markdown, reason = "the help of the command line shows these texts as they stand")]

mod hang;
mod moisture;
mod movement;
mod of_case;
mod pin;
mod sag;
mod screw;
mod tip;
mod told;

use std::process::ExitCode;

use casewright_core::length;
use clap::Subcommand;

use crate::failure::Failure;
use told::Told;

/// What is to be worked out.
#[derive(Debug, Subcommand)]
pub enum Sum {
    /// The moisture that wood comes to in air, or the humidity that belongs to a moisture
    Moisture(moisture::Question),
    /// How much a board or a sheet changes from one moisture to another
    Move(movement::Question),
    /// How far a board sags between two supports, at once and after years
    Sag(sag::Question),
    /// The push at its top edge that tips a case, and when to anchor it
    Tip(tip::Question),
    /// What shelf pins press on the wood
    Pin(pin::Question),
    /// What draws a wood screw out of side grain, and what it bears sideways
    Screw(screw::Question),
    /// What the screws of a case on a wall must hold
    Hang(hang::Question),
}

/// What is told with every strength.
const NO_DESIGN_VALUES: &str = "The limits are ours, no standard's; the figures of timber are means of small clear pieces, no design values. Where \
     a failure could hurt someone, local code and licensed practice decide.";

/// Works it out, and tells the answer with formula, inputs and source.
pub fn run(sum: &Sum) -> Result<ExitCode, Failure> {
    let (told, json) = match sum {
        Sum::Moisture(question) => (question.answer()?, question.json),
        Sum::Move(question) => (question.answer()?, question.json),
        Sum::Sag(question) => (question.answer()?, question.json),
        Sum::Tip(question) => (question.answer()?, question.json),
        Sum::Pin(question) => (question.answer()?, question.json),
        Sum::Screw(question) => (question.answer()?, question.json),
        Sum::Hang(question) => (question.answer()?, question.json),
    };
    told.print(json)?;
    Ok(ExitCode::SUCCESS)
}

/// Reads a length, as `480`, `7/8 in` or `2 ft 3`, as millimetres; it must be more than nothing.
fn millimetres(text: &str) -> Result<f64, String> {
    let mm = length::parse(text).map_err(|error| error.expected().to_owned())?.to_mm();
    if mm > 0.0 { Ok(mm) } else { Err("write a length of more than 0 mm".to_owned()) }
}

/// Reads a number that is finite.
fn number(text: &str) -> Result<f64, String> {
    let number = text.trim().replace(',', ".").parse::<f64>().ok();
    number.filter(|number| number.is_finite()).ok_or_else(|| "write a number".to_owned())
}

/// Reads how many there are, of 1 to 1000.
fn count(text: &str) -> Result<u32, String> {
    let count = text.trim().parse::<u32>().ok();
    count.filter(|count| (1..=1000).contains(count)).ok_or_else(|| "write a whole number, 1 or more".to_owned())
}
