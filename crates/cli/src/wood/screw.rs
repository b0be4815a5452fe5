//! `wood screw`: what draws a wood screw out, and what it bears sideways.

use casewright_core::strength::{screw_lateral, screw_lateral_allowed, screw_shank, screw_withdrawal, screw_withdrawal_allowed};
use casewright_core::worked::figure;
use clap::Args;

use super::pin::{beside, properties};
use super::{Told, count, millimetres, number};
use crate::failure::Failure;
use crate::find;
use crate::load::OwnTimber;

/// A wood screw in side grain.
#[derive(Debug, Args)]
pub struct Question {
    /// The species that its thread is in, by its id
    #[arg(long, value_name = "ID")]
    species: String,
    /// Its gauge, such as 8
    #[arg(long, value_name = "NUMBER", value_parser = count, required_unless_present = "shank")]
    gauge: Option<u32>,
    /// Instead of a gauge: the diameter of its shank, mm
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true, conflicts_with = "gauge")]
    shank: Option<f64>,
    /// How much of its thread is in the wood, mm
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true)]
    thread: f64,
    /// What pulls at it, N, to be told whether that may be asked
    #[arg(long, value_name = "N", value_parser = number, allow_hyphen_values = true)]
    pull: Option<f64>,
    #[command(flatten)]
    own: OwnTimber,
    /// Print JSON; its schema is assets/schema/wood.json
    #[arg(long)]
    pub json: bool,
}

impl Question {
    /// What draws it out, what may be asked, and what it bears sideways.
    pub fn answer(&self) -> Result<Told, Failure> {
        if let Some(pull) = self.pull.filter(|pull| *pull < 0.0) {
            return Err(Failure::told(format!("--pull: {} is out of range; write 0 or more", figure(pull))));
        }
        let shank = self.shank()?;
        let timbers = self.own.timbers()?;
        let of = properties(&self.species, &timbers)?;
        let unknown = || Failure::told(format!("{}: its specific gravity is not known, so nothing can be told of screws in it", of.name));
        let ultimate = screw_withdrawal(&of, shank, self.thread).ok_or_else(unknown)?;
        let allowed = screw_withdrawal_allowed(&of, shank, self.thread).ok_or_else(unknown)?;
        let softwood = find::species(&timbers, &self.species)?.softwood;
        let asked = self.pull.map_or_else(String::new, |pull| format!("; {}", beside(pull, "N", &allowed)));
        let answer = format!(
            "In the side grain of {} it is drawn out at {:.0} N, and {:.0} N may be asked of it{asked}",
            of.name, ultimate.value, allowed.value
        );
        let mut figures = vec![("withdrawal", ultimate), ("allowed", allowed)];
        if let Some(lateral) = screw_lateral(&of, softwood, shank) {
            figures.push(("lateral", lateral.clone()));
            figures.push(("lateral_allowed", screw_lateral_allowed(lateral, shank, self.thread)));
        }
        let notes = vec![
            "In end grain a screw holds about three quarters of that, and not reliably (from memory). Sideways the lateral load holds with seven \
             diameters of thread in the wood; with fewer it counts for less in proportion (ours). For boards ask their maker."
                .to_owned(),
            super::NO_DESIGN_VALUES.to_owned(),
        ];
        Ok(Told { sum: "screw", answer, figures, notes })
    }

    fn shank(&self) -> Result<f64, Failure> {
        let of_gauge = |gauge: u32| {
            screw_shank(gauge).ok_or_else(|| {
                Failure::told(format!("--gauge: {gauge} is not made; write 4 to 12, 14, 16, 18, 20 or 24, or its --shank in mm"))
            })
        };
        self.shank.map_or_else(|| of_gauge(self.gauge.unwrap_or_default()), Ok)
    }
}
