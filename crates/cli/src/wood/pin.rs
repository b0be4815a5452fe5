//! `wood pin`: what shelf pins press on the wood, and how they are sheared, bent and prise in their holes.

use casewright_core::model::Material;
use casewright_core::strength::{
    GRAVITY, Properties, allowed_bearing, allowed_bending, allowed_in_a_hole, allowed_shear, bearing_stress, pin_bending, pin_prising,
    pin_shear, steel_bending, steel_shear,
};
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
    /// The species of the shelf, that the pins press across its grain, by its id; of pin and shelf whichever is softer counts
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
    /// How far a pin stands out of its hole, mm
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true)]
    reach: f64,
    /// How much the shelf is shorter than the way between its uprights, mm: pushed over, it lies on less of the pins of one side
    #[arg(long, value_name = "MM", value_parser = number, allow_hyphen_values = true, default_value = "0")]
    play: f64,
    /// How deep a pin is in its hole, mm
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true, default_value = "12")]
    depth: f64,
    /// The species of the upright that the holes are in, by its id; without it that of the shelf
    #[arg(long, value_name = "ID")]
    upright: Option<String>,
    /// The species of pins of wood, by its id; without it they are of steel
    #[arg(long, value_name = "ID")]
    of: Option<String>,
    #[command(flatten)]
    own: OwnTimber,
    /// Print JSON; its schema is assets/schema/wood.json
    #[arg(long)]
    pub json: bool,
}

/// A stress with what may be asked for years, by the names that stand for them.
struct Judged {
    keys: [&'static str; 2],
    /// What it does, to follow "it".
    words: String,
    stress: Worked,
    allowed: Option<Worked>,
}

impl Judged {
    /// "is bent with 30 N/mm², more than the 20.6 N/mm² that it should bear for years".
    fn told(&self) -> String {
        let judged = match &self.allowed {
            Some(allowed) if self.stress.value > allowed.value => {
                format!("more than the {} that it should bear for years", allowed.text())
            }
            Some(allowed) => format!("within the {} that it should bear for years", allowed.text()),
            None => "and no table has what it bears so".to_owned(),
        };
        format!("{} with {}, {judged}", self.words, self.stress.text())
    }
}

impl Question {
    /// Every stress of a pin, as the case judges them, and what may be asked for years.
    pub fn answer(&self) -> Result<Told, Failure> {
        if self.kg < 0.0 {
            return Err(Failure::told(format!("--kg: {} is out of range; write 0 or more", figure(self.kg))));
        }
        let lies = self.reach - self.play;
        if self.play < 0.0 || lies <= 0.0 {
            let [play, reach] = [self.play, self.reach].map(figure);
            return Err(Failure::told(format!(
                "--play: {play} is out of range; write 0 or more, and less than the {reach} that a pin stands out"
            )));
        }
        let timbers = self.own.timbers()?;
        let shelf = properties(&self.species, &timbers)?;
        let upright = self.upright.as_ref().map_or_else(|| Ok(shelf.clone()), |id| properties(id, &timbers))?;
        let pin = self.of.as_ref().map(|id| properties(id, &timbers)).transpose()?;
        let judged = self.judged(&shelf, &upright, pin.as_ref(), lies);
        let told: Vec<String> = judged.iter().map(Judged::told).collect();
        let answer = format!("Each of {} pins {}", self.pins, told.join("; it "));
        let figures = judged.into_iter().flat_map(|one| {
            let [stress, allowed] = one.keys;
            [(stress, Some(one.stress)), (allowed, one.allowed)]
        });
        let figures = figures.filter_map(|(key, worked)| Some((key, worked?))).collect();
        let notes = vec![
            "A shelf that reaches further over its front pins than over its back pins presses more on them; in a case each pin is judged by what comes to it."
                .to_owned(),
            super::NO_DESIGN_VALUES.to_owned(),
        ];
        Ok(Told { sum: "pin", answer, figures, notes })
    }

    fn judged(&self, shelf: &Properties, upright: &Properties, pin: Option<&Properties>, lies: f64) -> [Judged; 4] {
        let force = self.kg * GRAVITY / f64::from(self.pins);
        let lever = self.reach - lies / 2.0;
        let softer = [Some(shelf), pin].into_iter().flatten().filter_map(allowed_bearing).min_by(|a, b| a.value.total_cmp(&b.value));
        let (sheared, bent) =
            pin.map_or_else(|| (Some(steel_shear()), Some(steel_bending())), |pin| (allowed_shear(pin), allowed_bending(pin)));
        let presses = format!("presses {}", shelf.name);
        let one = |keys, words: &str, stress, allowed| Judged { keys, words: words.to_owned(), stress, allowed };
        [
            one(["stress", "allowed"], &presses, bearing_stress(force, self.diameter, lies), softer),
            one(["shear", "allowed_shear"], "is sheared at its hole", pin_shear(force, self.diameter), sheared),
            one(["bending", "allowed_bending"], "is bent at its hole", pin_bending(force, self.diameter, lever), bent),
            one(
                ["prising", "allowed_prising"],
                "prises at the mouth of its hole",
                pin_prising(force, self.diameter, lever, self.depth),
                allowed_in_a_hole(upright, self.diameter),
            ),
        ]
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
