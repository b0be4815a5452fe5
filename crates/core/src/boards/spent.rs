//! What the boards and sheets cost that a case is cut from: those on hand one by one, and what is bought.

use super::{Buying, Cutting};
use crate::design::pile::Stuff;
use crate::design::{Design, Priced};
use crate::worked::Worked;

/// What is spent on boards and sheets.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spent {
    /// Those alike together, in the order of the pile, then what is bought.
    pub lines: Vec<SpentOn>,
    /// What is worth knowing: what is in no sum because it finds no place.
    pub told: Vec<String>,
}

/// Boards or sheets that are alike.
#[derive(Clone, Debug, PartialEq)]
pub struct SpentOn {
    /// What they are called.
    pub name: String,
    /// How many are cut into, or bought.
    pub count: u32,
    /// What one costs: 0 where it is paid for; nothing where nobody says what.
    pub each: Option<f64>,
    /// Whether they are bought for it.
    pub bought: bool,
}

impl SpentOn {
    /// What all of them cost, where that is known.
    pub fn cost(&self) -> Option<f64> {
        self.each.map(|each| each * f64::from(self.count))
    }
}

impl Spent {
    /// On the boards and sheets of the pile of a design that a cutting cuts into, each as a whole.
    pub fn on_hand(design: &Design, cutting: &Cutting) -> Spent {
        Spent::on(design, &design.shop.pile, cutting)
    }

    /// On the boards and sheets of a pile that a cutting cuts into; of those behind it nothing.
    fn on(design: &Design, pile: &[Stuff], cutting: &Cutting) -> Spent {
        let lines = pile.iter().enumerate().filter_map(|(entry, stuff)| {
            let leaves = (stuff.leaves as usize).max(1);
            let mut boards: Vec<usize> =
                cutting.boards.iter().filter(|board| board.entry == entry).map(|board| (board.number.max(1) - 1) / leaves).collect();
            boards.sort_unstable();
            boards.dedup();
            let count = u32::try_from(boards.len()).unwrap_or(u32::MAX);
            (count > 0).then(|| SpentOn { name: stuff.name.clone(), count, each: each(design, stuff), bought: false })
        });
        let left = cutting.left.iter().map(|left| format!("{} × {} find no place and are in no sum", left.count, left.mark));
        Spent { lines: lines.collect(), told: left.collect() }
    }

    /// On what was on hand and is cut into, and on what is bought besides, what comes with it in packs and is to spare too.
    pub fn with_bought(design: &Design, buying: &Buying) -> Spent {
        let on_hand = buying.pile.get(..buying.on_hand).unwrap_or(&buying.pile);
        let mut spent = Spent::on(design, on_hand, &buying.cutting);
        let line = |line: &super::ToBuy| SpentOn { name: line.name.clone(), count: line.count(), each: Some(line.each), bought: true };
        spent.lines.extend(buying.lines.iter().map(line));
        spent
    }

    /// What is paid, line by line, of what has a price.
    pub fn worked(&self) -> impl Iterator<Item = Worked> + '_ {
        self.lines.iter().filter_map(|line| {
            let cost = line.cost()?;
            let inputs = vec![Worked::given("how many", f64::from(line.count), ""), Worked::given("price of one", line.each?, "")];
            Some(Worked::by(line.name.clone(), cost, "", ("how many × price", "arithmetic"), inputs))
        })
    }

    /// The names of what has no price.
    pub fn without_price(&self) -> impl Iterator<Item = &str> {
        self.lines.iter().filter(|line| line.each.is_none()).map(|line| line.name.as_str())
    }
}

/// What one costs: its own price, else by measure at that of its timber or product.
fn each(design: &Design, stuff: &Stuff) -> Option<f64> {
    if stuff.paid {
        return Some(0.0);
    }
    if stuff.price > 0.0 {
        return Some(stuff.price);
    }
    let area = stuff.length.to_mm() * stuff.width.to_mm() / 1e6;
    let timber = design.money.price(Priced::Timber, &stuff.of).map(|price| price * area * stuff.thickness.to_mm() / 1e3);
    timber.or_else(|| design.money.price(Priced::Sheet, &stuff.of).map(|price| price * area))
}
