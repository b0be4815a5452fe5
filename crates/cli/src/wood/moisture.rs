//! `wood moisture`: what wood comes to in air.

use casewright_core::length::trimmed_to;
use casewright_core::timber::Air;
use casewright_core::timber::moisture::margin;
use casewright_core::worked::{Worked, figure};
use clap::{ArgGroup, Args};

use super::{Told, number};
use crate::failure::Failure;
use crate::find;
use crate::load::OwnTimber;

/// Air and, turned round, moisture.
#[derive(Debug, Args)]
#[command(group(ArgGroup::new("air or wood").required(true).args(["rh", "moisture"])))]
pub struct Question {
    /// Temperature of the air, °C, 0 to 50
    #[arg(long, value_name = "°C", value_parser = number, allow_hyphen_values = true)]
    temperature: f64,
    /// Relative humidity of the air, %, 5 to 95
    #[arg(long, value_name = "%", value_parser = number, allow_hyphen_values = true)]
    rh: Option<f64>,
    /// Instead of --rh: the moisture of the wood, % of dry mass, to be told the humidity at which it stays so
    #[arg(long, value_name = "%", value_parser = number, allow_hyphen_values = true)]
    moisture: Option<f64>,
    /// The species, to be told how far it was seen to stray from the one curve for all
    #[arg(long, value_name = "ID")]
    species: Option<String>,
    #[command(flatten)]
    own: OwnTimber,
    /// Print JSON; its schema is assets/schema/wood.json
    #[arg(long)]
    pub json: bool,
}

impl Question {
    /// The moisture or the humidity, with its margin.
    pub fn answer(&self) -> Result<Told, Failure> {
        let timbers = self.own.timbers()?;
        let species = self.species.as_deref().map(|id| find::species(&timbers, id)).transpose()?;
        let humidity = self.rh.unwrap_or_default();
        let worked = match self.moisture {
            Some(moisture) => Air::worked_of_moisture(self.temperature, moisture),
            None => Air { temperature: self.temperature, humidity }.worked(),
        };
        let worked = worked.map_err(|error| Failure::told(error.to_string()))?;
        let margin = margin(species.map(|species| species.id.as_str()));
        let told = |by: f64| trimmed_to(by.max(0.0), 1);
        let whose = if margin.own { "this species was" } else { "of the species measured some were" };
        let note = format!(
            "One curve serves all species: {whose} up to {} % below and {} % above it ({}; {}).",
            told(-margin.below),
            told(margin.above),
            margin.source,
            margin.how
        );
        Ok(Told { sum: "moisture", answer: self.sentence(&worked), notes: vec![note], figures: vec![(self.key(), worked)] })
    }

    fn key(&self) -> &'static str {
        if self.moisture.is_some() { "humidity" } else { "moisture" }
    }

    fn sentence(&self, worked: &Worked) -> String {
        let value = worked.value;
        let temperature = figure(self.temperature);
        match self.moisture {
            Some(moisture) => {
                format!("Wood of {} % moisture belongs to air of {value:.0} % humidity at {temperature} °C", figure(moisture))
            }
            None => format!(
                "Wood comes to {value:.1} % moisture in air of {} % humidity at {temperature} °C",
                figure(self.rh.unwrap_or_default())
            ),
        }
    }
}
