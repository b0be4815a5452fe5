//! `wood sag`: how far a board sags between its supports.

use casewright_core::length::years;
use casewright_core::model::Material;
use casewright_core::strength::{
    Beam, Board, Borne, Creep, Hold, Limits, Load, Properties, Section, Support, Verdict, after, after_by_eurocode,
};
use casewright_core::timber::Timbers;
use casewright_core::worked::{Worked, figure};
use clap::{ArgGroup, Args};

use super::told::FOR_COMPARISON;
use super::{Told, millimetres, number};
use crate::failure::Failure;
use crate::find;
use crate::load::OwnTimber;

/// A board on its supports and what it bears.
#[derive(Debug, Args)]
#[command(group(ArgGroup::new("stuff").required(true).args(["species", "sheet"])))]
pub struct Question {
    /// The species, by its id, such as red_oak
    #[arg(long, value_name = "ID")]
    species: Option<String>,
    /// Instead of a species: a sheet, by its id, such as birch_plywood_18, its face grain along the board
    #[arg(long, value_name = "ID")]
    sheet: Option<String>,
    /// Another modulus of elasticity along the board than the table's, N/mm²
    #[arg(long, value_name = "N/mm²", value_parser = number, allow_hyphen_values = true)]
    modulus: Option<f64>,
    /// From the first support to the last, mm; it lies on both
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true)]
    length: f64,
    /// Width, mm
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true)]
    width: f64,
    /// Thickness, mm
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true)]
    thickness: f64,
    /// Load spread over its length, kilograms a metre
    #[arg(long, value_name = "KG", value_parser = number, allow_hyphen_values = true, default_value = "0")]
    load_per_metre: f64,
    /// Load in the middle, kilograms
    #[arg(long, value_name = "KG", value_parser = number, allow_hyphen_values = true, default_value = "0")]
    point: f64,
    /// Another support between the two, so far from the first, mm; as often as there are
    #[arg(long = "support", value_name = "MM", value_parser = millimetres, allow_hyphen_values = true)]
    supports: Vec<f64>,
    /// Both ends are built in, so that they can't turn, instead of lying on their supports
    #[arg(long)]
    built_in: bool,
    /// How long the load stays, years; 10 and more is for good
    #[arg(long, value_name = "YEARS", value_parser = number, allow_hyphen_values = true, default_value = "10")]
    years: f64,
    /// Leave its own weight out
    #[arg(long)]
    weightless: bool,
    #[command(flatten)]
    own: OwnTimber,
    /// Print JSON; its schema is assets/schema/wood.json
    #[arg(long)]
    pub json: bool,
}

impl Question {
    /// The sag at once and after years, the stresses, and how they stand to the limits.
    pub fn answer(&self) -> Result<Told, Failure> {
        let not_negative = [("--load-per-metre", self.load_per_metre), ("--point", self.point), ("--years", self.years)];
        if let Some((name, found)) = not_negative.into_iter().find(|(_, value)| *value < 0.0) {
            return Err(Failure::told(format!("{name}: {} is out of range; write 0 or more", figure(found))));
        }
        let timbers = self.own.timbers()?;
        let material = self.material(&timbers)?;
        let told = |error: &dyn std::error::Error| Failure::told(error.to_string());
        let of = Properties::of(&material, &timbers).map_err(|error| told(&error))?;
        let of = self.modulus.map_or_else(|| of.clone(), |modulus| of.clone().with_own_modulus(modulus));
        if of.density.is_none() && !self.weightless {
            return Err(Failure::told(format!(
                "no density is known for {}, so its own weight can't be told; leave it out with --weightless, or give the density in a table of your \
                 own with --timber",
                of.name
            )));
        }
        let section = Section::rectangle(self.width, self.thickness, &of).map_err(|error| told(&error))?;
        let beam = Beam { supports: self.held()?, ..Beam::simple(self.length, section.clone()) }
            .with(Load::kg_per_metre(self.load_per_metre, 0.0, self.length))
            .with(Load::kg_at(self.point, self.length / 2.0));
        let beam = if self.weightless { beam } else { beam.heavy() };
        let bent = beam.solve().map_err(|error| told(&error))?;
        let borne = Borne { of: &of, section: &section, loads: &beam.loads, bent: &bent };
        let span = bent.worst();
        let at_once = borne.at_once();
        let creep = Creep::of(&material).unwrap_or(Creep::Panel);
        let later = after(at_once.clone(), creep, self.years);
        let limits = Limits::default();
        let verdict = limits.judge(span.limit_length(), at_once.value, later.value);
        let stresses = [
            (borne.bending_stress(), ["bending_stress", "bending_allowed"], "bent"),
            (borne.shear_stress(), ["shear_stress", "shear_allowed"], "sheared along its grain"),
        ];
        let by_eurocode = Board::of(&material).and_then(|board| after_by_eurocode(&at_once, board));
        let but = if verdict == Verdict::Good { "but" } else { "and" };
        let over: String = stresses.iter().map(|((stress, allowed), _, way)| stressed(stress, allowed.as_ref(), (but, way))).collect();
        let answer = format!(
            "{} sags by {:.1} mm at once and by {:.1} mm after {}, {}: {}{}",
            of.name,
            at_once.value,
            later.value,
            years(self.years),
            share(span.limit_length(), later.value),
            judged(verdict, &limits, over.is_empty()),
            over
        );
        let mut figures = vec![("at_once", at_once), ("after", later)];
        figures.extend(by_eurocode.map(|sag| (FOR_COMPARISON, sag)));
        for ((stress, allowed), keys, _) in stresses {
            figures.push((keys[0], stress));
            figures.extend(allowed.map(|allowed| (keys[1], allowed)));
        }
        let mut notes = vec![super::NO_DESIGN_VALUES.to_owned()];
        if self.built_in {
            notes.push("Ends that can't turn at all are rare: housed, tenoned and screwed ones give, and are nearer to lying free (common practice, no source).".to_owned());
        }
        notes.extend(self.of_another_thickness(&timbers));
        Ok(Told { sum: "sag", answer, figures, notes })
    }

    /// What holds it, from its first end on.
    fn held(&self) -> Result<Vec<Support>, Failure> {
        if let Some(beside) = self.supports.iter().find(|at| !(1.0..=self.length - 1.0).contains(*at)) {
            let [beside, most] = [*beside, self.length - 1.0].map(figure);
            return Err(Failure::told(format!("--support: {beside} mm is out of range; write 1 to {most}, between its ends")));
        }
        let ends = if self.built_in { Hold::BuiltIn } else { Hold::Simple };
        let mut held: Vec<Support> = self.supports.iter().map(|at| Support { at: *at, hold: Hold::Simple }).collect();
        held.extend([0.0, self.length].map(|at| Support { at, hold: ends }));
        held.sort_by(|a, b| a.at.total_cmp(&b.at));
        if held.windows(2).any(|pair| pair[1].at - pair[0].at < 1.0) {
            return Err(Failure::told("--support: two supports are at one place; leave one of them out".to_owned()));
        }
        Ok(held)
    }

    /// That a sheet is reckoned with the figures of another thickness, where it is a tenth away or more: in one with faces they are not the same.
    fn of_another_thickness(&self, timbers: &Timbers) -> Option<String> {
        let sheet = timbers.sheet(self.sheet.as_deref()?).filter(|_| self.modulus.is_none())?;
        let thick = sheet.thickness.as_ref().map(|known| known.value).or(sheet.nominal)?;
        let told = || {
            let [thick, asked] = [thick, self.thickness].map(figure);
            format!(
                "The modulus is that of {}, {thick} mm; at {asked} mm it may be another, above all of a sheet with faces of veneer.",
                sheet.name
            )
        };
        ((self.thickness / thick - 1.0).abs() >= 0.1).then(told)
    }

    fn material(&self, timbers: &Timbers) -> Result<Material, Failure> {
        if let Some(id) = &self.sheet {
            return find::sheet(timbers, id).map(|sheet| Material::Sheet(sheet.id.clone()));
        }
        let id = self.species.as_deref().unwrap_or_default();
        find::species(timbers, id).map(|species| Material::Solid(species.id.clone()))
    }
}

/// A sag as a share of the length: "L/250".
fn share(length: f64, sag: f64) -> String {
    if sag > 0.0 { format!("L/{:.0}", length / sag) } else { "next to nothing".to_owned() }
}

/// What is to be told of a stress beside the sag: that it is more than the stuff should bear for years, or that this is not known.
fn stressed(stress: &Worked, allowed: Option<&Worked>, (but, way): (&str, &str)) -> String {
    match allowed {
        Some(allowed) if stress.value > allowed.value => {
            format!(
                "; {but} it is {way} with {} N/mm², more than the {} it should bear for years",
                figure(stress.value),
                figure(allowed.value)
            )
        }
        Some(_) => String::new(),
        None => format!("; whether it is {way} too hard is not judged: no strength is known"),
    }
}

/// How the sag stands to the limits; good is what is not stressed too hard either, as far as that is known.
fn judged(verdict: Verdict, limits: &Limits, holds: bool) -> String {
    match verdict {
        Verdict::Good if holds => format!("good, within {}", limits.made_for()),
        Verdict::Good => format!("within {}", limits.made_for()),
        Verdict::OverWorking | Verdict::Seen | Verdict::Fails => limits.words(verdict),
    }
}
