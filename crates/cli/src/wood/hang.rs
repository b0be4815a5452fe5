//! `wood hang`: what the screws of a case on a wall must hold.

use casewright_core::stability::{CAUTIONS, Hanging, LIFT};
use casewright_core::strength::GRAVITY;
use casewright_core::worked::{Worked, figure};
use clap::Args;

use super::of_case::OfCase;
use super::{Told, count, millimetres, number};
use crate::failure::Failure;

/// A case hung from a rail at its top, bearing against the wall at its foot.
#[derive(Debug, Args)]
pub struct Question {
    /// What it weighs loaded, kilograms
    #[arg(long, value_name = "KG", value_parser = number, allow_hyphen_values = true, required_unless_present = "file")]
    mass: Option<f64>,
    /// What it weighs empty, kilograms; without it, as when loaded
    #[arg(long, value_name = "KG", value_parser = number, allow_hyphen_values = true)]
    empty: Option<f64>,
    /// How far its centre of mass is out from the wall, mm
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true, required_unless_present = "file")]
    out: Option<f64>,
    #[command(flatten)]
    of: OfCase,
    /// From the rail down to where its foot bears against the wall, mm
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true)]
    between: f64,
    /// Screws in the rail
    #[arg(long, value_name = "COUNT", value_parser = count, default_value = "2")]
    screws: u32,
    /// Print JSON; its schema is assets/schema/wood.json
    #[arg(long)]
    pub json: bool,
}

/// What hangs of a design.
struct Hung {
    /// Loaded and empty, kg.
    mass: f64,
    empty: f64,
    /// From the wall to its centre of mass, mm.
    out: f64,
    /// "With all its 21 boxes".
    with: String,
}

impl Question {
    /// What bears down on each screw and pulls at it, and whether it can be lifted off.
    pub fn answer(&self) -> Result<Told, Failure> {
        let of = self.of_design()?;
        let mass = self.mass.or(of.as_ref().map(|of| of.mass)).unwrap_or_default();
        let out = self.out.or(of.as_ref().map(|of| of.out)).unwrap_or_default();
        let empty = self.empty.or(of.as_ref().map(|of| of.empty)).unwrap_or(mass);
        let out_of_range = |name: &str, kg: f64| Failure::told(format!("{name}: {} kg is out of range; write more than 0", figure(kg)));
        if mass <= 0.0 {
            return Err(out_of_range("--mass", mass));
        }
        if empty <= 0.0 || empty > mass {
            let range = format!("--empty: {} kg is out of range; write more than 0 and no more than the mass loaded", figure(empty));
            return Err(Failure::told(range));
        }
        let hanging = Hanging { loaded: mass, empty, out, between: self.between, screws: self.screws };
        let Some(plan) = hanging.plan() else { return Err(Failure::told("--screws: write 1 or more".to_owned())) };
        let down = Worked::by(
            "downward on each screw",
            plan.each_down,
            "N",
            ("mass × free fall / screws", "statics"),
            vec![Worked::given("mass, loaded", mass, "kg"), Worked::given("acceleration of free fall", GRAVITY, "m/s²"), self.shared()],
        );
        let pull = Worked::by(
            "pull on each screw",
            plan.each_pull,
            "N",
            ("mass × free fall × distance of its centre from the wall / height between rail and foot / screws", "statics"),
            vec![
                Worked::given("mass, loaded", mass, "kg"),
                Worked::given("acceleration of free fall", GRAVITY, "m/s²"),
                Worked::given("from the wall to its centre of mass", out, "mm"),
                Worked::given("from the rail down to its foot", self.between, "mm"),
                self.shared(),
            ],
        );
        let lifted = if plan.stays_down {
            format!("its own weight keeps it on against an upward push of {LIFT:.0} N")
        } else {
            format!("an upward push of {LIFT:.0} N at its front edge lifts it off, so give it a catch below")
        };
        let with = of.filter(|_| self.mass.is_none()).map_or_else(String::new, |of| format!("{} it weighs {} kg. ", of.with, figure(mass)));
        let answer = format!(
            "{with}Its rail bears {:.0} N down and {:.0} N of pull; each of {} screws {:.0} N and {:.0} N; {lifted}",
            plan.down, plan.pull, self.screws, plan.each_down, plan.each_pull
        );
        let figures = vec![("each_down", down), ("each_pull", pull)];
        Ok(Told { sum: "hang", answer, figures, notes: CAUTIONS.iter().map(|caution| (*caution).to_owned()).collect() })
    }

    /// The case of a design, its back to the wall, with all its boxes that find a place; nothing where none is named.
    fn of_design(&self) -> Result<Option<Hung>, Failure> {
        let Some((_, model, standing)) = self.of.standing()? else { return Ok(None) };
        let (back, high) = model.bounds.map_or((standing.case.feet.back, standing.case.height), |bounds| (bounds.min.z, bounds.size().y));
        if self.between > high {
            let [between, high] = [self.between, high].map(figure);
            return Err(Failure::told(format!("--between: {between} mm is out of range; the case is {high} mm high, so write less")));
        }
        let filled = standing.filled.as_ref();
        let mass = filled.map_or(standing.loaded, |filled| filled.mass);
        let out = [mass, standing.loaded, standing.empty].map(|mass| mass.centre.z).into_iter().fold(f64::NEG_INFINITY, f64::max) - back;
        let with = filled.map_or("its heaviest boxes".to_owned(), casewright_core::loads::Filled::words);
        Ok(Some(Hung { mass: mass.kg, empty: standing.empty.kg, out, with: format!("With {with}") }))
    }

    fn shared(&self) -> Worked {
        Worked::given("screws", f64::from(self.screws), "")
    }
}
