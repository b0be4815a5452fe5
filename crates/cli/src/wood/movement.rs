//! `wood move`: how much a board or a sheet changes.

use casewright_core::design::Dimension;
use casewright_core::timber::movement::{GOOD_FROM_TO, worked_movement};
use casewright_core::timber::{Rates, Sawn};
use casewright_core::worked::{Worked, figure};
use clap::{ArgGroup, Args, ValueEnum};

use super::{Told, millimetres, number};
use crate::failure::Failure;
use crate::find;
use crate::load::OwnTimber;

/// A size and two moistures.
#[derive(Debug, Args)]
#[command(group(ArgGroup::new("stuff").required(true).args(["species", "sheet"])))]
pub struct Question {
    /// The species, by its id, such as white_oak
    #[arg(long, value_name = "ID")]
    species: Option<String>,
    /// Instead of a species: a sheet, by its id, such as veneered_mdf_12
    #[arg(long, value_name = "ID", conflicts_with_all = ["sawn", "rings"])]
    sheet: Option<String>,
    /// How it was sawn; unknown, and what is not told, is taken as flat
    #[arg(long, value_enum)]
    sawn: Option<Saw>,
    /// Angle between the growth rings and the wide face, degrees: it is sawn rift then; 45 where rift is all that is told
    #[arg(long, value_name = "DEGREES", value_parser = number, allow_hyphen_values = true)]
    rings: Option<f64>,
    /// Width across the grain at the first moisture, mm or as "7 1/2 in"
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true)]
    width: f64,
    /// The moisture before, % of dry mass; of a sheet that of solid wood in the same air, not its own
    #[arg(long, value_name = "%", value_parser = number, allow_hyphen_values = true)]
    from: f64,
    /// The moisture after, % of dry mass; of a sheet that of solid wood in the same air, not its own
    #[arg(long, value_name = "%", value_parser = number, allow_hyphen_values = true)]
    to: f64,
    #[command(flatten)]
    own: OwnTimber,
    /// Print JSON; its schema is assets/schema/wood.json
    #[arg(long)]
    pub json: bool,
}

/// How a board was sawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Saw {
    /// Nobody looked
    Unknown,
    /// Rings along the wide face
    Flat,
    /// Rings at a slant, see --rings
    Rift,
    /// Rings square to the wide face
    Quartered,
}

/// Above the fibre saturation wood moves no more, % (Wood Handbook FPL-GTR-190, chapter 4: about 30, read).
const SATURATED: f64 = 30.0;

impl Question {
    /// The change and the size after it.
    pub fn answer(&self) -> Result<Told, Failure> {
        for (name, moisture) in [("--from", self.from), ("--to", self.to)] {
            if !(0.0..=SATURATED).contains(&moisture) {
                let found = figure(moisture);
                return Err(Failure::told(format!("{name}: {found} % is out of range; wood moves from 0 to {SATURATED} % moisture")));
            }
        }
        let (rates, what) = self.rates()?;
        let change = worked_movement(Worked::given("width", self.width, "mm"), rates.worked(Dimension::Width), self.from, self.to);
        let after = self.width + change.value;
        let verb = if change.value < 0.0 { "shrinks" } else { "grows" };
        let answer = format!("{what} {verb} by {:.1} mm, from {} to {:.1} mm", change.value.abs(), figure(self.width), after);
        let mut notes = Vec::new();
        if [self.from, self.to].iter().any(|moisture| !(GOOD_FROM_TO.0..=GOOD_FROM_TO.1).contains(moisture)) {
            notes.push(format!(
                "Movement is reckoned from {} to {} % moisture; outside it is a rough guide.",
                GOOD_FROM_TO.0, GOOD_FROM_TO.1
            ));
        }
        if self.sheet.is_some() {
            notes.push("The moistures are those of solid wood in the same air (see wood moisture); a sheet's own are lower, and it is told by the air.".to_owned());
        }
        notes.extend(self.otherwise()?);
        let width_after = Worked::by(
            "width after",
            after,
            "mm",
            ("width + change", "arithmetic"),
            vec![Worked::given("width", self.width, "mm"), Worked::given("change", change.value, "mm")],
        );
        Ok(Told { sum: "move", answer, figures: vec![("change", change), ("width_after", width_after)], notes })
    }

    fn rates(&self) -> Result<(Rates, String), Failure> {
        let timbers = self.own.timbers()?;
        if let Some(id) = &self.sheet {
            let sheet = find::sheet(&timbers, id)?;
            return Ok((Rates::of_sheet(Some(sheet)), sheet.name.clone()));
        }
        let sawn = self.sawn()?;
        let species = find::species(&timbers, self.species.as_deref().unwrap_or_default())?;
        Ok((Rates::of_solid(Some(species), sawn), format!("{}, {},", species.name, sawn.words())))
    }

    /// What another published figure makes of it, where that is a tenth away or more.
    fn otherwise(&self) -> Result<Option<String>, Failure> {
        let timbers = self.own.timbers()?;
        let Some(id) = &self.species else { return Ok(None) };
        let (species, sawn) = (find::species(&timbers, id)?, self.sawn()?);
        Ok(species.doubted(sawn, self.width, self.from, &[self.to]))
    }

    fn sawn(&self) -> Result<Sawn, Failure> {
        let sawn = self.sawn.unwrap_or(if self.rings.is_some() { Saw::Rift } else { Saw::Unknown });
        if let Some(rings) = self.rings.filter(|_| sawn != Saw::Rift) {
            let rings = figure(rings);
            return Err(Failure::told(format!(
                "--rings {rings}: an angle of the rings is asked of rift alone; leave it out, or write --sawn rift --rings {rings}"
            )));
        }
        Ok(match sawn {
            Saw::Unknown => Sawn::Unknown,
            Saw::Flat => Sawn::Flat,
            Saw::Rift => {
                let rings = self.rings.unwrap_or(45.0);
                if !(0.0..=90.0).contains(&rings) {
                    return Err(Failure::told(format!("--rings: {}° is out of range; write 0 (flat) to 90 (quartered)", figure(rings))));
                }
                Sawn::Rift { rings }
            }
            Saw::Quartered => Sawn::Quartered,
        })
    }
}
