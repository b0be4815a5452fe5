//! What the whole job takes: hours operation by operation, material, and money.

use crate::amounts::{Amounts, Bought, Cost, materials, work};
use crate::boards::Spent;
use crate::cutlist::CutList;
use crate::design::{Design, Priced, Veneered, Work, finish_id, hardware_id};
use crate::joint::JointKind;
use crate::model::{Joint, Material, Model, PartKind};
use crate::rough::strips;
use crate::takeoff::{TakeOff, litres, surfaces, veneered};
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
    /// Timber and sheets, with what is bought besides; where boards and sheets are counted one by one, nothing of these. Then what is used besides and has a price.
    pub materials: Vec<Bought>,
    /// Boards and sheets one by one, where they are laid out or bought.
    pub stock: Option<Spent>,
    /// Hours and money of these.
    pub cost: Cost,
    /// What is used besides and has no price: it is not in the sum.
    pub besides: Vec<Bought>,
}

impl Job {
    /// Of a model of a design, with timber and sheets by what the rough sizes add up to.
    pub fn of(design: &Design, model: &Model) -> Job {
        Job::from_stock(design, model, None)
    }

    /// The same, with timber and sheets as they are cut from what is on hand, or bought, where that is known.
    pub fn from_stock(design: &Design, model: &Model, stock: Option<Spent>) -> Job {
        let money = &design.money;
        let operations = operations(design, model);
        let timber = if stock.is_some() { Vec::new() } else { materials(&CutList::of(design, model), |_| true, money) };
        let (priced, besides): (Vec<Bought>, Vec<Bought>) =
            supplies(design, model).into_iter().partition(|bought| money.price(bought.of, &bought.id).is_some());
        let materials: Vec<Bought> = timber.into_iter().chain(veneer(design, model)).chain(priced).collect();
        let hours = operations.iter().map(|operation| operation.hours.clone()).collect();
        let paid = stock.iter().flat_map(Spent::worked).collect();
        let without_price = stock.iter().flat_map(Spent::without_price).map(|name| format!("the price of {name}")).collect();
        let cost = Cost::sum_with(money, materials.clone(), (paid, without_price), hours);
        Job { operations, materials, stock, cost, besides }
    }
}

/// Veneer that is glued on here: bought, or the timber that it is sawn from.
fn veneer(design: &Design, model: &Model) -> Vec<Bought> {
    let of = |comes: Veneered| if comes == Veneered::Sawn { (Priced::Timber, "sawn here") } else { (Priced::Veneer, "bought") };
    let line = |veneer: crate::takeoff::Veneers| {
        let (of, comes) = of(veneer.comes);
        Bought { of, id: design.timber.frame.clone(), name: format!("{}, veneer {comes}", veneer.made_of), amount: veneer.to_buy }
    };
    TakeOff::of(design, model).veneer.into_iter().map(line).collect()
}

/// Finish, glue and what is bought ready.
fn supplies(design: &Design, model: &Model) -> Vec<Bought> {
    let taken = TakeOff::of(design, model);
    let ready = taken.bought.iter().map(|ready| Bought {
        of: Priced::Hardware,
        id: hardware_id(&ready.title),
        name: ready.title.clone(),
        amount: Worked::given(ready.title.clone(), ready.count as f64, "pieces"),
    });
    let finish = taken.litres.into_iter().map(|litres| Bought {
        of: Priced::Finish,
        id: finish_id(design.timber.finish).to_owned(),
        name: "finish".to_owned(),
        amount: litres,
    });
    let grams = taken.glue;
    let kilos = Worked::by("glue", grams.value / 1000.0, "kg", ("g ÷ 1000", "arithmetic"), vec![grams]);
    let glue = Bought { of: Priced::Glue, id: design.shop.glue.family.clone(), name: "glue".to_owned(), amount: kilos };
    ready.chain(finish).chain([glue]).filter(|bought| bought.amount.value > 0.0).collect()
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
    let (bought, sawn) = (veneered(design, model, Veneered::Bought), veneered(design, model, Veneered::Sawn));
    let all: [(&str, f64, &str, Rate, &str); 13] = [
        ("from rough board to its sizes", solid(model), "parts", |work| work.part, "money.work.part"),
        ("wide parts glued up from strips", glued_up(design, model), "m²", |work| work.edges, "money.work.edges"),
        ("sheet sawn to size", Amounts::of(model).sheet.value, "m²", |work| work.cut, "money.work.cut"),
        ("veneer sawn", 2.0 * sawn, "m²", |work| work.resaw, "money.work.resaw"),
        ("leaves of veneer joined edge to edge", 2.0 * (bought + sawn), "m²", |work| work.edges, "money.work.edges"),
        ("veneer pressed", bought + sawn, "m²", |work| work.press, "money.work.press"),
        ("veneer sanded", bought + sawn, "m²", |work| work.sand, "money.work.sand"),
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

    /// Finish, glue and screws are told with what would be their price, and not in the sum until they have one; then they are, at their price.
    #[test]
    fn what_is_used_besides_is_in_the_sum_once_it_has_a_price() {
        let mut design = demo();
        let bare = of(&design);
        let total = |job: &Job| job.cost.total.as_ref().expect("all has a price").value;
        let besides = |of: Priced| bare.besides.iter().find(|bought| bought.of == of).expect("it is told");
        let (finish, glue, screws) = (besides(Priced::Finish), besides(Priced::Glue), besides(Priced::Hardware));
        assert!((glue.amount.value - TakeOff::of(&design, &crate::derive(&design).expect("the demo")).glue.value / 1000.0).abs() < 1e-12);
        for (bought, price) in [(finish, "30"), (glue, "10"), (screws, "0.05")] {
            set(&mut design, &bought.of.path(&bought.id), price).expect("a price");
        }
        let priced = of(&design);
        let by_hand = 30.0 * finish.amount.value + 10.0 * glue.amount.value + 0.05 * screws.amount.value;
        assert!((total(&priced) - total(&bare) - by_hand).abs() < 1e-6, "{by_hand}");
        assert_eq!(priced.besides.len() + 3, bare.besides.len());
    }

    /// Each button is screwed to the top: so many screws stand beside the timber.
    #[test]
    fn screws_are_counted() {
        let design = demo();
        let model = crate::derive(&design).expect("the demo");
        let buttons = model.parts.iter().filter(|part| part.kind == PartKind::Button).count();
        let all = crate::takeoff::hardware(&design, &model);
        let counted: usize = all.iter().filter(|ready| ready.title.contains("crew")).map(|ready| ready.count).sum();
        assert!(buttons > 0 && counted >= buttons, "{counted} {buttons}");
    }
}
