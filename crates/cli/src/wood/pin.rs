//! `wood pin`: what shelf pins press on the wood.

use casewright_core::model::Material;
use casewright_core::strength::{GRAVITY, Properties, allowed_bearing, pin_bearing};
use casewright_core::timber::Timbers;
use casewright_core::worked::{Worked, figure};
use clap::Args;

use super::{Told, count, millimetres, number};
use crate::failure::Failure;
use crate::find;
use crate::load::OwnTimber;

/// A shelf on pins.
#[derive(Debug, Args)]
pub struct Question {
    /// The species that the pins press across its grain, by its id: of the shelf or of the side, whichever is softer
    #[arg(long, value_name = "ID")]
    species: String,
    /// What the shelf bears with its own weight, kilograms
    #[arg(long, value_name = "KG", value_parser = number, allow_hyphen_values = true)]
    kg: f64,
    /// How many pins bear it, each alike
    #[arg(long, value_name = "COUNT", value_parser = count, default_value = "4")]
    pins: u32,
    /// Diameter of a pin, mm
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true)]
    diameter: f64,
    /// How far a pin reaches under the shelf or into the side, whichever is less, mm
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true)]
    reach: f64,
    #[command(flatten)]
    own: OwnTimber,
    /// Print JSON; its schema is assets/schema/wood.json
    #[arg(long)]
    pub json: bool,
}

impl Question {
    /// The stress under a pin, and what may be asked for years.
    pub fn answer(&self) -> Result<Told, Failure> {
        if self.kg < 0.0 {
            return Err(Failure::told(format!("--kg: {} is out of range; write 0 or more", figure(self.kg))));
        }
        let timbers = self.own.timbers()?;
        let of = properties(&self.species, &timbers)?;
        let stress = pin_bearing(self.kg * GRAVITY / f64::from(self.pins), self.diameter, self.reach);
        let allowed = allowed_bearing(&of);
        let judged = match &allowed {
            Some(allowed) if stress.value > allowed.value => format!("more than the {} that it should bear for years", allowed.text()),
            Some(allowed) => format!("within the {} that it should bear for years", allowed.text()),
            None => "and no table has what it bears across its grain".to_owned(),
        };
        let answer = format!("Each of {} pins presses {} with {}, {judged}", self.pins, of.name, stress.text());
        let figures = [("stress", Some(stress)), ("allowed", allowed)];
        let figures = figures.into_iter().filter_map(|(key, worked)| Some((key, worked?))).collect();
        Ok(Told { sum: "pin", answer, figures, notes: vec![super::NO_DESIGN_VALUES.to_owned()] })
    }
}

/// What a species bears.
pub fn properties(species: &str, timbers: &Timbers) -> Result<Properties, Failure> {
    let id = find::species(timbers, species)?.id.clone();
    Properties::of(&Material::Solid(id), timbers).map_err(|error| Failure::told(error.to_string()))
}

/// How far a figure that was given stands above one that was worked out, in words.
pub fn beside(given: f64, unit: &'static str, allowed: &Worked) -> String {
    let verb = if given > allowed.value { "more than" } else { "within" };
    format!("{} {unit} is {verb} the {} that may be asked", figure(given), allowed.text())
}
