//! Random cases, and ways to draw them.

use casewright_core::design::{Design, Opening, decisions, text};
use casewright_core::length::Units;
use casewright_sheets::drawing::{Angle, Decimal, Drafting, Sheet};

use super::designs;

/// Numbers that are the same every time.
pub struct Dice(pub u64);

impl Dice {
    pub fn below(&mut self, many: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % many
    }

    /// Whole or half millimetres.
    fn length(&mut self, from: u64, to: u64) -> String {
        let half = if self.below(4) == 0 { ".5" } else { "" };
        format!("{}{half}", from + self.below(to - from))
    }
}

/// An example with other sizes: mostly the demo, built in one of its ways, with one to three bays and other frames.
pub fn design(dice: &mut Dice) -> Design {
    let of_demo = dice.below(4) > 0;
    let example = if of_demo { 0 } else { 1 + dice.below(designs::EXAMPLES.len() as u64 - 1) as usize };
    let mut design = text::read(designs::EXAMPLES[example]).expect("an example");
    let mut bays = 1;
    if of_demo {
        bays += dice.below(3);
        if let Opening::Split(split) = &mut design.interior {
            if bays == 1 {
                design.interior = split.bays.pop().expect("three bays").opening;
            } else if bays == 2 {
                split.bays.remove(0);
            }
        }
    }
    let way = if of_demo { designs::WAYS.get(dice.below(2 * designs::WAYS.len() as u64) as usize) } else { None };
    for (name, value) in way.into_iter().copied().flatten() {
        decisions::set(&mut design, name, value).expect("a decision");
    }
    // An example that has no such decision stays as it is there.
    for (name, value) in sizes(dice, bays) {
        let _ = decisions::set(&mut design, name, &value);
    }
    design
}

fn sizes(dice: &mut Dice, bays: u64) -> Vec<(&'static str, String)> {
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
    set
}

pub fn drafting(dice: &mut Dice) -> Drafting {
    Drafting {
        sheet: Sheet::ALL[dice.below(4) as usize],
        angle: if dice.below(2) == 0 { Angle::First } else { Angle::Third },
        decimal: if dice.below(2) == 0 { Decimal::Point } else { Decimal::Comma },
        units: if dice.below(4) == 0 { Units::Inches } else { Units::Millimetres },
        ..Drafting::default()
    }
}
