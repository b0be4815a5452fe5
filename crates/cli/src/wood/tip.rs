//! `wood tip`: what tips a case that stands on the floor.

use casewright_core::stability::{Anchor, Case, Edge, Limits, State};
use casewright_core::strength::GRAVITY;
use casewright_core::worked::{Worked, figure};
use clap::Args;

use super::{Told, millimetres, number};
use crate::failure::Failure;

/// A case as a plain box that weighs the same all through.
#[derive(Debug, Args)]
pub struct Question {
    /// Width, mm
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true)]
    width: f64,
    /// Height, mm
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true)]
    height: f64,
    /// Depth of what it stands on, mm
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true)]
    depth: f64,
    /// What it weighs, kilograms
    #[arg(long, value_name = "KG", value_parser = number, allow_hyphen_values = true)]
    mass: f64,
    /// Print JSON; its schema is assets/schema/wood.json
    #[arg(long)]
    pub json: bool,
}

impl Question {
    /// The push at its top edge that tips it, and whether to anchor it.
    pub fn answer(&self) -> Result<Told, Failure> {
        if self.mass <= 0.0 {
            return Err(Failure::told(format!("--mass: {} kg is out of range; write more than 0", figure(self.mass))));
        }
        let case = Case::plain(self.width, self.height, self.depth, self.mass);
        let push = self.push(case.tipping(State::EMPTY).push);
        let limits = Limits::default();
        let mut reasons: Vec<String> = case.anchor(&limits).iter().map(Anchor::words).collect();
        if case.tipping_over(Edge::Left, State::EMPTY).push < limits.push {
            reasons.push("a light push tips it sideways, unless its sides stand between walls".to_owned());
        }
        let anchor = if reasons.is_empty() { "it stands by itself".to_owned() } else { format!("anchor it: {}", reasons.join("; ")) };
        let sideways = self.sideways(case.tipping_over(Edge::Left, State::EMPTY).push);
        let answer = format!(
            "It tips when its top edge is pushed forward with {:.0} N ({:.1} kg), or sideways with {:.0} N; {anchor}",
            push.value,
            push.value / GRAVITY,
            sideways.value
        );
        let notes = vec![
            "Anchor a case to the structure of the wall by local code and licensed practice. The limits are ours, set with reference to ASTM F2057-23 \
             (read in a summary); they promise no compliance."
                .to_owned(),
        ];
        Ok(Told { sum: "tip", answer, figures: vec![("push", push), ("sideways", sideways)], notes })
    }

    fn sideways(&self, newtons: f64) -> Worked {
        let inputs = vec![
            Worked::given("mass", self.mass, "kg"),
            Worked::given("acceleration of free fall", GRAVITY, "m/s²"),
            Worked::given("width", self.width, "mm"),
            Worked::given("height", self.height, "mm"),
        ];
        Worked::by("push that tips it sideways", newtons, "N", ("mass × free fall × half the width ÷ height", "statics"), inputs)
    }

    fn push(&self, newtons: f64) -> Worked {
        let inputs = vec![
            Worked::given("mass", self.mass, "kg"),
            Worked::given("acceleration of free fall", GRAVITY, "m/s²"),
            Worked::given("depth", self.depth, "mm"),
            Worked::given("height", self.height, "mm"),
        ];
        Worked::by("push at the top edge that tips it", newtons, "N", ("mass × free fall × half the depth ÷ height", "statics"), inputs)
    }
}
