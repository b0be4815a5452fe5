//! What would give everything a place: other teeth, or the least change of the case.

use super::arrange::{Arrangement, Effort, ShelvesMay, arrange, laid};
use crate::amounts::Amounts;
use crate::derive::{bay_plans, derive};
use crate::design::decisions;
use crate::design::edit::{Edit, apply};
use crate::design::{BaySize, Design, Opening, System};
use crate::inspect::{Figure, Finding, Remedy, Rule, Seriousness};
use crate::length::trimmed;
use crate::model::Model;

/// Steps that are spent on one case as it stands.
const STEPS: u64 = 1_000_000;

/// Steps that are spent on a case that is tried: dozens of them are.
const STEPS_A_TRIAL: u64 = 60_000;

/// A change of the case after which everything has a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// What is done: "Make the case 64 mm higher".
    pub words: String,
    /// The case after it, its shelves laid so that everything has its place.
    pub design: Design,
    /// How much more solid timber it takes, m³; less than nothing where it takes less.
    pub timber: f64,
    /// How much more sheet, m².
    pub sheet: f64,
}

/// What has no place with the shelves as they lie, as a finding; nothing where all has one.
pub(crate) fn findings(design: &Design, model: &Model) -> Vec<Finding> {
    let Some((stay, finding)) = without_place(design, model) else { return Vec::new() };
    vec![Finding { remedies: moved(design, &stay).into_iter().collect(), ..finding }]
}

/// What has no place, without what would mend it.
pub(crate) fn without_place(design: &Design, model: &Model) -> Option<(Arrangement, Finding)> {
    // What no shelf takes at all is told by itself.
    let stay = arrange(design, model, ShelvesMay::Stay, Effort::steps(STEPS)).ok()?;
    let left: u32 = stay.left.iter().filter(|left| !left.nowhere).map(|left| left.count).sum();
    if left == 0 {
        return None;
    }
    let name = |kind: usize| design.contents.get(kind).map_or("", |kind| &kind.name);
    let told: Vec<String> =
        stay.left.iter().filter(|left| !left.nowhere).map(|left| format!("{} × {}", left.count, name(left.kind))).collect();
    let finding = Finding {
        rule: Rule::AllPlaced,
        seriousness: Seriousness::AtRisk,
        parts: Vec::new(),
        explains: Vec::new(),
        joint: None,
        place: None,
        figures: vec![
            Figure::count("things", u32::try_from(stay.wanted).unwrap_or(u32::MAX)),
            Figure::count("with a place", u32::try_from(stay.placed).unwrap_or(u32::MAX)),
        ],
        message: format!("{} of {} have no place with the shelves as they lie: {}", left, stay.wanted, told.join(", ")),
        source: "the hand room and the loads of the design",
        remedies: Vec::new(),
    };
    Some((stay, finding))
}

/// The shelves laid so that more has a place, where that is possible.
fn moved(design: &Design, stay: &Arrangement) -> Option<Remedy> {
    let (after, moved) = laid(design, ShelvesMay::Move, Effort::steps(STEPS)).ok()??;
    let (before, after) = (bay_plans(design).ok()?, bay_plans(&after).ok()?);
    if moved.placed <= stay.placed {
        return None;
    }
    let mut changes = Vec::new();
    for (before, after) in before.iter().zip(&after) {
        let (Some(was), Some(is)) = (before.fitting.shelves(), after.fitting.shelves()) else { continue };
        if was.shelves != is.shelves {
            let teeth: Vec<String> = is.shelves.iter().map(u32::to_string).collect();
            changes.push((format!("{}.shelves", after.path), teeth.join(" ")));
        }
    }
    let words = if moved.left.is_empty() {
        "Lay the shelves so that all have one".to_owned()
    } else {
        format!("Lay the shelves so that {} of {} have one", moved.placed, moved.wanted)
    };
    Some(Remedy { words, changes })
}

/// The least changes of the case after which everything has a place, each of its own kind, those that take least timber first; none where
/// all has a place already, or nothing within reason gives it one.
pub fn changes(design: &Design) -> Vec<Change> {
    let Ok(model) = derive(design) else { return Vec::new() };
    let before = Amounts::of(&model);
    let mut found: Vec<Change> = ways(design)
        .into_iter()
        .filter_map(|way| {
            let (amount, design) = least(&way)?;
            let after = Amounts::of(&derive(&design).ok()?);
            let words = (way.words)(amount);
            Some(Change { words, design, timber: after.timber.value - before.timber.value, sheet: after.sheet.value - before.sheet.value })
        })
        .collect();
    found.sort_by(|a, b| a.timber.total_cmp(&b.timber).then_with(|| a.words.cmp(&b.words)));
    found
}

/// One way to change a case: by so many steps.
struct Way<'a> {
    words: Box<dyn Fn(u32) -> String + 'a>,
    /// The case after so many steps; none where there is none.
    after: Box<dyn Fn(u32) -> Option<Design> + 'a>,
    /// How many steps are within reason.
    most: u32,
}

/// From step to step, mm, in width and depth.
const STEP: f64 = 10.0;

fn ways(design: &Design) -> Vec<Way<'_>> {
    let set = |design: &mut Design, path: &str, value: f64| decisions::set(design, path, &value.to_string()).ok();
    let pitch = match design.interior.system() {
        Some(System::Pins) => design.pins.pitch,
        Some(System::Cleats) => design.cleats.step,
        Some(System::Housed) => design.housed.step,
        Some(System::Sawtooth) | None => design.sawtooth.pitch,
    }
    .to_mm();
    let mut ways: Vec<Way<'_>> = vec![
        Way {
            words: Box::new(|_| "Lay the shelves anew, and add those that are wanted".to_owned()),
            after: Box::new(|_| Some(design.clone())),
            most: 1,
        },
        Way {
            words: Box::new(move |steps| format!("Make the case {} mm higher", trimmed(f64::from(steps) * pitch))),
            after: Box::new(move |steps| {
                let mut design = design.clone();
                let height = design.carcase.height.to_mm() + f64::from(steps) * pitch;
                set(&mut design, "carcase.height", height).map(|()| design)
            }),
            most: 30,
        },
        Way {
            words: Box::new(|steps| format!("Make the case {} mm deeper", trimmed(f64::from(steps) * STEP))),
            after: Box::new(move |steps| {
                let mut design = design.clone();
                let depth = design.carcase.depth.to_mm() + f64::from(steps) * STEP;
                set(&mut design, "carcase.depth", depth).map(|()| design)
            }),
            most: 40,
        },
    ];
    let Opening::Split(split) = &design.interior else { return ways };
    for (bay, of) in split.bays.iter().enumerate() {
        let clear = match of.size {
            BaySize::Clear(clear) => Some(clear.to_mm()),
            // Only the one that takes what is left grows with the case.
            BaySize::Share(_) if split.bays.iter().filter(|bay| matches!(bay.size, BaySize::Share(_))).count() == 1 => None,
            BaySize::Share(_) => continue,
        };
        ways.push(Way {
            words: Box::new(move |steps| format!("Make bay {} and the case {} mm wider", bay + 1, trimmed(f64::from(steps) * STEP))),
            after: Box::new(move |steps| {
                let mut design = design.clone();
                let more = f64::from(steps) * STEP;
                let width = design.carcase.width.to_mm() + more;
                set(&mut design, "carcase.width", width)?;
                if let Some(clear) = clear {
                    set(&mut design, &format!("interior.bays.{}.size", bay + 1), clear + more)?;
                }
                Some(design)
            }),
            most: 60,
        });
    }
    let divider = split.divider.width.to_mm();
    let wide = |steps: u32| NARROWEST + f64::from(steps) * STEP;
    ways.push(Way {
        words: Box::new(move |steps| {
            format!("Add a bay {} mm wide; the case is then {} mm wider", trimmed(wide(steps)), trimmed(wide(steps) + divider))
        }),
        after: Box::new(move |steps| {
            let mut design = design.clone();
            let width = design.carcase.width.to_mm() + divider + wide(steps);
            // The others stay as wide as they are.
            let plans = bay_plans(&design).ok()?;
            if let Opening::Split(split) = &mut design.interior {
                for (bay, plan) in split.bays.iter_mut().zip(&plans) {
                    bay.size = BaySize::Clear(crate::Length::mm((plan.clear() * 1e6).round() / 1e6));
                }
            }
            apply(&mut design, &Edit::AddBay);
            set(&mut design, "carcase.width", width).map(|()| design)
        }),
        most: 80,
    });
    ways
}

/// The narrowest bay that is added, mm.
const NARROWEST: f64 = 100.0;

/// The fewest steps of a way after which everything has a place, and the case then.
fn least(way: &Way<'_>) -> Option<(u32, Design)> {
    // Twice as far until it does, then half way back: more of a case never holds less.
    let mut low = 0;
    let (mut most, mut best) = loop {
        let steps = (low * 2).clamp(1, way.most);
        if let Some(design) = (way.after)(steps).and_then(|design| filled(&design)) {
            break (steps, design);
        }
        if steps == way.most {
            return None;
        }
        low = steps;
    };
    while most - low > 1 {
        let middle = low.midpoint(most);
        match (way.after)(middle).and_then(|design| filled(&design)) {
            Some(design) => (most, best) = (middle, design),
            None => low = middle,
        }
    }
    Some((most, best))
}

/// The design with its shelves laid so that everything has a place; none where not everything gets one.
fn filled(design: &Design) -> Option<Design> {
    let (design, there) = laid(design, ShelvesMay::Come, Effort::steps(STEPS_A_TRIAL)).ok()??;
    there.left.is_empty().then_some(design)
}
