//! What the whole job takes: hours operation by operation, material, and money.

use crate::amounts::{Amounts, Bought, Cost, materials, work};
use crate::cutlist::CutList;
use crate::design::{Design, Work};
use crate::joint::JointKind;
use crate::model::{Joint, Material, Model, PartKind};
use crate::rough::strips;
use crate::takeoff::{Ready, hardware, litres, surfaces};
use crate::worked::Worked;

/// An operation, how often it comes, and how long it takes.
#[derive(Clone, Debug, PartialEq)]
pub struct Operation {
    /// What is done.
    pub name: &'static str,
    /// How much of it there is.
    pub amount: f64,
    /// In what that is counted.
    pub unit: &'static str,
    /// Hours for each.
    pub each: f64,
    /// The decision that holds these.
    pub rate: &'static str,
    /// Hours in all.
    pub hours: Worked,
}

/// What a job takes.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// The operations, in the order of the work.
    pub operations: Vec<Operation>,
    /// Timber and sheets, with what is bought besides.
    pub materials: Vec<Bought>,
    /// Hours and money of these.
    pub cost: Cost,
    /// What is used besides and has no price of its own here.
    pub besides: Vec<Ready>,
}

impl Job {
    /// Of a model of a design.
    pub fn of(design: &Design, model: &Model) -> Job {
        let operations = operations(design, model);
        let materials = materials(&CutList::of(design, model), |_| true, &design.money);
        let hours = operations.iter().map(|operation| operation.hours.clone()).collect();
        Job { cost: Cost::sum(&design.money, materials.clone(), hours), operations, materials, besides: hardware(design, model) }
    }
}

/// Which of the maker's rates holds for an operation.
type Rate = fn(&Work) -> f64;

/// All operations of a job that come at least once.
pub fn operations(design: &Design, model: &Model) -> Vec<Operation> {
    let rates = &design.money.work;
    let area = surfaces(model).value;
    let coated = if litres(design, model).is_some() { area * f64::from(design.timber.coating.coats) } else { 0.0 };
    let (joints, metres, fixings) = counted(model);
    let glued = model.joints.iter().filter(|joint| joint.glued).count() as f64;
    let all: [(&str, f64, &str, Rate, &str); 9] = [
        ("from rough board to its sizes", solid(model), "parts", |work| work.part, "money.work.part"),
        ("wide parts glued up from strips", glued_up(design, model), "m²", |work| work.edges, "money.work.edges"),
        ("sheet sawn to size", Amounts::of(model).sheet.value, "m²", |work| work.cut, "money.work.cut"),
        ("joints cut and fitted", joints, "joints", |work| work.joint, "money.work.joint"),
        ("grooves", metres, "m", |work| work.groove, "money.work.groove"),
        ("smoothed", area, "m²", |work| work.smooth, "money.work.smooth"),
        ("joints glued up", glued, "joints", |work| work.glue, "money.work.glue"),
        ("screws, clips and plates put in", fixings, "pieces", |work| work.fixing, "money.work.fixing"),
        ("coated", coated, "m²", |work| work.coat, "money.work.coat"),
    ];
    let operation = |(name, amount, unit, each, rate): (_, _, _, Rate, _)| Operation {
        name,
        amount,
        unit,
        each: each(rates),
        rate,
        hours: work(name, amount, unit, rates, each),
    };
    all.into_iter().map(operation).filter(|operation| operation.amount > 0.0).collect()
}

/// Parts that are milled; loose tenons and dowels are part of their joints.
fn solid(model: &Model) -> f64 {
    let milled = |kind| !matches!(kind, PartKind::LooseTenon | PartKind::Dowel | PartKind::Shim);
    model.parts.iter().filter(|part| matches!(part.material, Material::Solid(_)) && milled(part.kind)).count() as f64
}

/// Parts that no machine flattens in one piece, m².
fn glued_up(design: &Design, model: &Model) -> f64 {
    let more = design.timber.rough.width.to_mm();
    let wide = model
        .parts
        .iter()
        .filter(|part| matches!(part.material, Material::Solid(_)) && strips(&design.shop.machines, part.lwt().y, more, f64::INFINITY) > 1);
    wide.map(|part| part.lwt().x * part.lwt().y / 1e6).sum()
}

/// Joints that are cut and fitted one by one, grooves in metres, and fixings that are put in.
fn counted(model: &Model) -> (f64, f64, f64) {
    let (mut joints, mut metres, mut fixings) = (0.0, 0.0, 0.0);
    for joint in &model.joints {
        match &joint.kind {
            JointKind::Groove(_) | JointKind::Tongue(_) => metres += joint.contact.extent.x / 1e3,
            JointKind::Screws(_)
            | JointKind::Clip(_)
            | JointKind::Plate(_)
            | JointKind::SlottedScrew(_)
            | JointKind::ScrewedUp(_)
            | JointKind::Plain(_) => fixings += screws(joint),
            JointKind::LooseTenons(_)
            | JointKind::Tenon(_)
            | JointKind::Dowels(_)
            | JointKind::Lap(_)
            | JointKind::Bridle(_)
            | JointKind::Button(_)
            | JointKind::Notch(_)
            | JointKind::Seat(_)
            | JointKind::Pin(_)
            | JointKind::Housing(_)
            | JointKind::SlidingDovetail(_)
            | JointKind::Rabbet(_)
            | JointKind::BoxJoint(_)
            | JointKind::Dovetail(_)
            | JointKind::Breadboard(_) => joints += 1.0,
        }
    }
    (joints, metres, fixings)
}

fn screws(joint: &Joint) -> f64 {
    joint.kind.screws().map_or(0.0, |(count, _)| count as f64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::decisions::set;

    fn demo() -> Design {
        crate::design::text::read(include_str!("../../../examples/records_cabinet.ron")).expect("the demo")
    }

    fn of(design: &Design) -> Job {
        Job::of(design, &crate::derive(design).expect("the demo"))
    }

    /// Each line is its amount times its rate, all lines are the hours, and these at 45 with the priced material are the total.
    #[test]
    fn hours_add_up_line_by_line_and_follow_their_rates() {
        let job = of(&demo());
        let by_hand: f64 = job.operations.iter().map(|operation| operation.amount * operation.each).sum();
        assert!((job.cost.hours.value - by_hand).abs() < 1e-9 && by_hand > 10.0, "{by_hand}");
        let material: f64 =
            job.materials.iter().map(|bought| bought.amount.value * demo().money.price(bought.of, &bought.id).expect("a price")).sum();
        let total = job.cost.total.as_ref().expect("all has a price").value;
        assert!((total - material - 45.0 * by_hand).abs() < 1e-6, "{total}");
        for operation in &job.operations {
            let mut design = demo();
            set(&mut design, operation.rate, "0").expect("a rate");
            let without = of(&design).cost.hours.value;
            assert!((by_hand - without - operation.hours.value).abs() < 1e-9, "{}", operation.name);
        }
    }

    /// The top of 1,400 × 498 is the one part that is too wide for the surface planer: 0.6972 m²; the panels run in grooves all round.
    #[test]
    fn what_is_counted_is_what_is_there() {
        let design = demo();
        let model = crate::derive(&design).expect("the demo");
        let amount = |name: &str| {
            operations(&design, &model).into_iter().find(|operation| operation.name == name).map_or(0.0, |operation| operation.amount)
        };
        assert!((amount("wide parts glued up from strips") - 1.4 * 0.498).abs() < 1e-6);
        let round: f64 =
            model.parts.iter().filter(|part| part.kind == PartKind::Panel).map(|part| 2.0 * (part.lwt().x + part.lwt().y) / 1e3).sum();
        assert!((amount("grooves") - round).abs() < 0.05 * round, "{} {round}", amount("grooves"));
        // Three coats.
        assert!((amount("coated") - 3.0 * amount("smoothed")).abs() < 1e-9);
        let mut bare = design.clone();
        set(&mut bare, "timber.finish", "bare").expect("a finish");
        assert!(!operations(&bare, &model).iter().any(|operation| operation.name == "coated"));
    }

    /// Each button is screwed to the top: so many screws stand beside the timber.
    #[test]
    fn screws_are_counted() {
        let design = demo();
        let model = crate::derive(&design).expect("the demo");
        let buttons = model.parts.iter().filter(|part| part.kind == PartKind::Button).count();
        let counted: usize = hardware(&design, &model).iter().filter(|ready| ready.title.contains("crew")).map(|ready| ready.count).sum();
        assert!(buttons > 0 && counted >= buttons, "{counted} {buttons}");
    }
}
