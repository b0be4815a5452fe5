//! `wood tip`: what tips a case that stands on the floor, shut and with its doors and drawers open.

use casewright_core::design::Limits;
use casewright_core::loads::{Push, Standing};
use casewright_core::stability::{Anchor, CAUTIONS, Case, Edge, State};
use casewright_core::strength::GRAVITY;
use casewright_core::worked::{Worked, figure};
use clap::Args;

use super::of_case::OfCase;
use super::{Told, millimetres, number};
use crate::failure::Failure;

/// A case as a plain box that weighs the same all through, or that of a design; with doors and drawers, by their figures.
#[derive(Debug, Args)]
pub struct Question {
    /// Width, mm
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true, required_unless_present = "file")]
    width: Option<f64>,
    /// Height, mm
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true, required_unless_present = "file")]
    height: Option<f64>,
    /// Depth of what it stands on, mm
    #[arg(long, value_name = "MM", value_parser = millimetres, allow_hyphen_values = true, required_unless_present = "file")]
    depth: Option<f64>,
    /// What it weighs without doors and drawers, kilograms
    #[arg(long, value_name = "KG", value_parser = number, allow_hyphen_values = true, required_unless_present = "file")]
    mass: Option<f64>,
    #[command(flatten)]
    of: OfCase,
    /// A door on its front, as often as there are: what it weighs and how wide it is, such as 4,400
    #[arg(long = "door", value_name = "KG,MM", value_parser = door)]
    doors: Vec<[f64; 2]>,
    /// A drawer, as often as there are: what it weighs, what is in it, and how far it comes out, such as 3,10,350
    #[arg(long = "drawer", value_name = "KG,KG,MM", value_parser = drawer)]
    drawers: Vec<[f64; 3]>,
    /// Print JSON; its schema is assets/schema/wood.json
    #[arg(long)]
    pub json: bool,
}

/// Reads as many figures as are wanted, with commas between them, all of 0 or more.
fn figures<const N: usize>(text: &str, like: &str) -> Result<[f64; N], String> {
    let read: Option<Vec<f64>> =
        text.split(',').map(|part| part.trim().parse().ok().filter(|value: &f64| value.is_finite() && *value >= 0.0)).collect();
    read.and_then(|read| read.try_into().ok())
        .ok_or_else(|| format!("write {N} figures of 0 or more with commas between them, such as {like}"))
}

fn door(text: &str) -> Result<[f64; 2], String> {
    figures(text, "4,400")
}

fn drawer(text: &str) -> Result<[f64; 3], String> {
    figures(text, "3,10,350")
}

impl Question {
    /// The push at its top edge that tips it, and whether to anchor it.
    pub fn answer(&self) -> Result<Told, Failure> {
        let of = self.of.standing()?;
        match of {
            None if self.doors.is_empty() && self.drawers.is_empty() => self.plain(),
            None => {
                let [width, height, depth, mass] = self.sizes()?;
                Ok(self.opened(Case::plain(width, height, depth, mass), &Limits::default(), None))
            }
            Some((design, _, standing)) => Ok(self.opened(standing.case.clone(), &design.limits, Some(&standing))),
        }
    }

    fn sizes(&self) -> Result<[f64; 4], Failure> {
        let [width, height, depth, mass] = [self.width, self.height, self.depth, self.mass].map(Option::unwrap_or_default);
        if mass <= 0.0 {
            return Err(Failure::told(format!("--mass: {} kg is out of range; write more than 0", figure(mass))));
        }
        Ok([width, height, depth, mass])
    }

    /// With its doors and drawers, in every state.
    fn opened(&self, mut case: Case, limits: &Limits, of: Option<&Standing>) -> Told {
        for [kg, width] in &self.doors {
            case = case.with_door(*kg, *width);
        }
        for [kg, contents, travel] in &self.drawers {
            case = case.with_drawer(*kg, *contents, *travel);
        }
        let mut standing = Standing::of_case(case, limits);
        if let Some(of) = of.filter(|_| self.doors.is_empty() && self.drawers.is_empty()) {
            standing.clone_from(of);
        } else if let Some(fixing) = of.and_then(|of| of.fixing.as_ref()) {
            standing = standing.anchored(limits, fixing.height, fixing.count);
        }
        let (governing, _) = standing.governing();
        let pushes: Vec<String> = governing.iter().map(|push| push.words()).collect();
        let mut reasons: Vec<String> = standing.reasons.iter().map(Anchor::words).collect();
        reasons.extend(standing.leans_on(limits));
        let anchor = match &standing.fixing {
            Some(fixing) => format!(
                "it is anchored: each of {} fixings {:.0} mm above the floor must hold a pull of {:.0} N",
                fixing.count, fixing.height, fixing.each.value
            ),
            None if reasons.is_empty() => "it stands by itself".to_owned(),
            None => format!("anchor it: {}", reasons.join("; ")),
        };
        let key = |push: &Push| if push.over == Edge::Front { "push" } else { "push_another_way" };
        let told = governing.iter().map(|push| (key(push), push.newtons.clone().named(push.words())));
        let on_drawers = (0..standing.case.drawers.len()).filter_map(|drawer| Some(("load_on_drawer", on_drawer(&standing.case, drawer)?)));
        let held = standing.fixing.iter().map(|fixing| ("pull_on_fixing", fixing.each.clone()));
        let figures = told.chain(on_drawers).chain(held).collect();
        let mut notes: Vec<String> = CAUTIONS.iter().map(|caution| (*caution).to_owned()).collect();
        if !self.doors.is_empty() || !self.drawers.is_empty() {
            notes.push("Doors hang on the left and are opened to a right angle; drawers are taken to lie in the middle of the case, half as high as it is.".to_owned());
        }
        Told { sum: "tip", answer: format!("{}; {anchor}", pushes.join("; ")), figures, notes }
    }

    fn plain(&self) -> Result<Told, Failure> {
        let sizes = self.sizes()?;
        let [width, height, depth, mass] = sizes;
        let case = Case::plain(width, height, depth, mass);
        let push = forward(sizes, case.tipping(State::EMPTY).push);
        let limits = Limits::default();
        let mut reasons: Vec<String> = case.anchor(&limits.stands()).iter().map(Anchor::words).collect();
        if case.tipping_over(Edge::Left, State::EMPTY).push < limits.push {
            reasons.push("a light push tips it sideways, unless its sides stand between walls".to_owned());
        }
        let anchor = if reasons.is_empty() { "it stands by itself".to_owned() } else { format!("anchor it: {}", reasons.join("; ")) };
        let sideways = sideways(sizes, case.tipping_over(Edge::Left, State::EMPTY).push);
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
}

/// What tips it at the front of one of its drawers with all that opens open, kg.
fn on_drawer(case: &Case, drawer: usize) -> Option<Worked> {
    let kg = case.load_on_drawer(drawer, State::ALL_OUT)?;
    let inputs = vec![
        Worked::given("moment by which it holds itself, all of it open", case.tipping(State::ALL_OUT).holds / 1000.0, "N·m"),
        Worked::given("moment of 1 kg at the front of that drawer", case.turned_by(drawer, 1.0)? / 1000.0, "N·m"),
    ];
    let formula = ("moment that holds ÷ moment of 1 kg, about the front feet", "statics");
    Some(Worked::by(format!("load on open drawer {} that tips it, empty", drawer + 1), kg, "kg", formula, inputs))
}

fn sideways([width, height, _, mass]: [f64; 4], newtons: f64) -> Worked {
    let formula = ("mass × free fall × half the width ÷ height", "statics");
    pushed("push that tips it sideways", newtons, [mass, height], ("width", width), formula)
}

fn forward([_, height, depth, mass]: [f64; 4], newtons: f64) -> Worked {
    let formula = ("mass × free fall × half the depth ÷ height", "statics");
    pushed("push at the top edge that tips it", newtons, [mass, height], ("depth", depth), formula)
}

/// A push at the top that tips a case over its foot.
fn pushed(
    name: &'static str,
    newtons: f64,
    [mass, height]: [f64; 2],
    (called, foot): (&'static str, f64),
    formula: (&'static str, &'static str),
) -> Worked {
    let inputs = vec![
        Worked::given("mass", mass, "kg"),
        Worked::given("acceleration of free fall", GRAVITY, "m/s²"),
        Worked::given(called, foot, "mm"),
        Worked::given("height", height, "mm"),
    ];
    Worked::by(name, newtons, "N", formula, inputs)
}
