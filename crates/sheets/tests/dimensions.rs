//! What the drawings of random cases say, read back and held against the parts: each figure right, none twice, enough to make the case.

use std::collections::HashSet;

use casewright_core::design::{Design, Opening, decisions, text};
use casewright_core::length::Units;
use casewright_core::model::{Part, PartKind};
use casewright_core::{Model, ShapeCache, Solids, derive};
use casewright_sheets::drawing::{Angle, Decimal, Dimension, Drafting, Page, Sheet};
use casewright_sheets::pages;

const DEMO: &str = include_str!("../../../examples/records_cabinet.ron");

/// How many cases are drawn.
const CASES: usize = 200;

/// Numbers that are the same every time.
struct Dice(u64);

impl Dice {
    fn below(&mut self, many: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % many
    }

    /// Whole or half millimetres.
    fn length(&mut self, from: u64, to: u64) -> String {
        let half = if self.below(4) == 0 { ".5" } else { "" };
        format!("{}{half}", from + self.below(to - from))
    }
}

/// The demo with other sizes, one to three bays, other frames.
fn design(dice: &mut Dice) -> Option<Design> {
    let mut design = text::read(DEMO).expect("the demo");
    let bays = 1 + dice.below(3);
    if let Opening::Split(split) = &mut design.interior {
        let last = split.bays.last().cloned()?;
        if bays == 1 {
            design.interior = last.opening;
        } else if bays == 2 {
            split.bays.remove(0);
        }
    }
    let width = 300 + 420 * bays;
    let mut set = vec![
        ("carcase.width", dice.length(width, width + 500)),
        ("carcase.height", dice.length(1500, 2100)),
        ("carcase.depth", dice.length(330, 700)),
        ("carcase.post.width", dice.length(40, 60)),
        ("carcase.post.depth", dice.length(44, 60)),
        ("carcase.rails.thickness", dice.length(20, 28)),
        ("carcase.rails.top", dice.length(60, 100)),
        ("carcase.rails.bottom", dice.length(80, 140)),
        ("carcase.rails.middle", dice.length(50, 90)),
        ("carcase.rails.foot", dice.length(0, 90)),
        ("carcase.rails.reveal", dice.length(0, 8)),
        ("carcase.top.thickness", dice.length(18, 34)),
        ("carcase.top.over_front", dice.length(0, 30)),
        ("carcase.top.over_back", dice.length(0, 20)),
        ("carcase.top.over_sides", dice.length(0, 30)),
    ];
    for side in ["carcase.left.middle_rails", "carcase.right.middle_rails", "carcase.back.middle_rails"] {
        set.push((side, dice.below(3).to_string()));
    }
    if bays > 1 {
        set.push(("interior.divider.width", dice.length(44, 70)));
    }
    for (name, value) in set {
        decisions::set(&mut design, name, &value).ok()?;
    }
    Some(design)
}

fn drafting(dice: &mut Dice) -> Drafting {
    Drafting {
        sheet: Sheet::ALL[dice.below(4) as usize],
        angle: if dice.below(2) == 0 { Angle::First } else { Angle::Third },
        decimal: if dice.below(2) == 0 { Decimal::Point } else { Decimal::Comma },
        units: if dice.below(4) == 0 { Units::Inches } else { Units::Millimetres },
        ..Drafting::default()
    }
}

/// Each figure with what it measures, and the sheet it is on.
fn said(pages: &[Page]) -> Vec<(&str, &Dimension, &str)> {
    let mut all = Vec::new();
    for page in pages {
        all.extend(page.ink.dimensions.iter().map(|it| (page.ink.texts[it.text].text.as_str(), it, page.name.as_str())));
    }
    all
}

/// Every place along an axis at which a part, a cut of it or a room begins or ends.
fn places(model: &Model, solids: &Solids, axis: usize) -> Vec<f64> {
    let mut places = vec![0.0];
    for part in &model.parts {
        for block in [part.block(), part.body()] {
            places.extend([block.min[axis], block.max[axis]]);
        }
        places.extend(solids.shape(part.id).iter().flat_map(|shape| &shape.positions).map(|at| part.pose.point(*at)[axis]));
    }
    places.extend(model.rooms.iter().flat_map(|room| [room.space.min[axis], room.space.max[axis]]));
    places.sort_by(f64::total_cmp);
    places
}

fn has(places: &[f64], at: f64) -> bool {
    let next = places.partition_point(|place| *place < at - 0.03);
    places.get(next).is_some_and(|place| *place < at + 0.03)
}

/// Which of the places that dimensions tie to each other lie with the first.
fn tied(said: &[(&str, &Dimension, &str)], axis: usize, datum: f64) -> Vec<f64> {
    let mut known = vec![datum];
    loop {
        let before = known.len();
        for (_, it, _) in said.iter().filter(|(_, it, _)| it.axis == axis && !it.auxiliary) {
            let knows = |known: &[f64], at: f64| known.iter().any(|other| (other - at).abs() < 6e-3);
            match (knows(&known, it.from), knows(&known, it.to)) {
                (true, false) => known.push(it.to),
                (false, true) => known.push(it.from),
                (true, true) | (false, false) => {}
            }
        }
        if known.len() == before {
            return known;
        }
    }
}

/// What the carcase is set out by.
fn must_be_placed(part: &Part) -> bool {
    matches!(part.kind, PartKind::Post | PartKind::Rail | PartKind::Stile | PartKind::Muntin | PartKind::Top)
}

#[test]
fn what_the_drawings_say_is_right_said_once_and_enough() {
    let mut dice = Dice(20_261_130);
    let (mut drawn, mut figures, mut wrong) = (0, 0, Vec::new());
    while drawn < CASES {
        let Some(design) = design(&mut dice) else { continue };
        let Ok(model) = derive(&design) else { continue };
        let solids = ShapeCache::default().shape(&model);
        let drafting = drafting(&mut dice);
        let pages = pages(&design, &model, &solids, None, &drafting);
        let said = said(&pages);
        let places = [0, 1, 2].map(|axis| places(&model, &solids, axis));
        let mut once = HashSet::new();
        for (text, it, sheet) in &said {
            let read = drafting.read(text).unwrap_or(f64::NAN);
            let is_right = (read - (it.to - it.from)).abs() <= drafting.rounding() && text.starts_with('(') == it.auxiliary;
            if !is_right {
                wrong.push(format!("case {drawn}, {sheet}: {text} for {it:?}"));
            }
            for at in [it.from, it.to] {
                if !has(&places[it.axis], at) {
                    wrong.push(format!("case {drawn}, {sheet}: {text} measures to {at} on axis {}, where nothing is", it.axis));
                }
            }
            let key = (it.axis, (it.from * 50.0).round() as i64, (it.to * 50.0).round() as i64);
            if !once.insert(key) {
                wrong.push(format!("case {drawn}, {sheet}: {text} is said twice: {it:?}"));
            }
        }
        for axis in 0..3 {
            let known = tied(&said, axis, 0.0);
            for part in model.parts.iter().filter(|part| must_be_placed(part)) {
                let block = part.body();
                for at in [block.min[axis], block.max[axis]] {
                    if !known.iter().any(|other| (other - at).abs() < 6e-3) {
                        wrong.push(format!("case {drawn}: {} at {at} on axis {axis} is tied to nothing", part.name));
                    }
                }
            }
        }
        figures += said.len();
        drawn += 1;
    }
    assert!(wrong.is_empty(), "{} are wrong:\n{}", wrong.len(), wrong.iter().take(40).cloned().collect::<Vec<_>>().join("\n"));
    assert!(figures > 40 * CASES, "{figures}");
}
