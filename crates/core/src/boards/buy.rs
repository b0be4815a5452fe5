//! What to buy from a dealer's list so that all parts come out of it and of what is on hand, for the least money; what is bought to spare; and what if a
//! board turns out bad.

use super::offcuts::remaining_but;
use super::{Cutting, Effort, Left, Marked, cut, cut_some};
use crate::design::dealer::Offer;
use crate::design::pile::{ALIKE, Stuff, Whence};
use crate::design::{Design, Sheet};
use crate::length::trimmed_to;
use crate::model::Model;

/// What to buy.
#[derive(Clone, Debug, PartialEq)]
pub struct Buying {
    /// What is cut from: first what was on hand, then what is bought, to spare and over besides.
    pub pile: Vec<Stuff>,
    /// How many entries of that were on hand before.
    pub on_hand: usize,
    /// What is cut from these; entries are those of [`Buying::pile`].
    pub cutting: Cutting,
    /// What is bought, a line an offer.
    pub lines: Vec<ToBuy>,
    /// What it costs.
    pub total: f64,
    /// What if one of the boards that are cut is bad.
    pub bad: Vec<Bad>,
}

impl Buying {
    /// What finds no place and so is in no sum: `4 × P1`; nothing where all has one.
    pub fn without_place(&self) -> Option<String> {
        let left: Vec<String> = self.cutting.left.iter().map(|left| format!("{} × {}", left.count, left.mark)).collect();
        (!left.is_empty()).then(|| left.join(", "))
    }

    /// What the lines of the list cost together: `1176.74 € in all`, and where not everything can be had of it, what is not in that.
    pub fn total_words(&self, currency: &str) -> String {
        let total = format!("{} {currency}", trimmed_to(self.total, 2));
        match self.without_place() {
            None => format!("{total} in all"),
            Some(left) => format!("{total} for what is to be had; not in it, for they have no board: {left}"),
        }
    }
}

/// An offer of which something is bought.
#[derive(Clone, Debug, PartialEq)]
pub struct ToBuy {
    /// Which offer of the list, counted from 0.
    pub offer: usize,
    /// What the dealer calls it.
    pub name: String,
    /// How many are cut up.
    pub cut: u32,
    /// How many are to spare.
    pub spare: u32,
    /// How many come besides because they are sold together.
    pub over: u32,
    /// What one costs.
    pub each: f64,
}

impl ToBuy {
    /// How many are bought.
    pub fn count(&self) -> u32 {
        self.cut + self.spare + self.over
    }

    /// What they cost.
    pub fn cost(&self) -> f64 {
        f64::from(self.count()) * self.each
    }
}

/// What if a board is bad.
#[derive(Clone, Debug, PartialEq)]
pub struct Bad {
    /// The board, as it is called.
    pub board: String,
    /// The marks of the parts that lose their place, each with how many pieces.
    pub marks: Vec<(String, usize)>,
    /// What of these finds no other place on what is to spare, over or left of the others; nothing where the spare is enough.
    pub left: Vec<Left>,
}

/// What a cubic millimetre counts that is on hand: far less than any that is bought.
const AS_PAID: f64 = 1e-10;

impl Bad {
    /// `Ash 27 (1 of 5) is bad: 2 × SL1 lose their place; the rest takes them`.
    pub fn words(&self) -> String {
        let marks: Vec<String> = self.marks.iter().map(|(mark, count)| format!("{count} × {mark}")).collect();
        let left: Vec<String> = self.left.iter().map(|left| format!("{} × {}", left.count, left.mark)).collect();
        let ends = if left.is_empty() { "the rest takes them".to_owned() } else { format!("no place is left for {}", left.join(", ")) };
        format!("{} is bad: {} lose their place; {ends}", self.board, marks.join(", "))
    }
}

/// Searches that only compare: so many rounds are enough.
const QUICK: u64 = 2;

/// What to buy of some offers besides what is on hand.
pub fn buy(design: &Design, model: &Model, offers: &[Offer], effort: Effort<'_>) -> Buying {
    let mut all: Vec<usize> = (0..offers.len()).collect();
    let mut best = plan(design, model, offers, &all, effort);
    // What is sold together may cost more than what is sold singly once all of it is paid: each such offer is tried to do without.
    for offer in 0..offers.len() {
        if !best.lines.iter().any(|line| line.offer == offer && line.over > 0) {
            continue;
        }
        let others: Vec<usize> = all.iter().copied().filter(|other| *other != offer).collect();
        let without = plan(design, model, offers, &others, Effort::rounds(QUICK));
        if worth(&without) < worth(&best) {
            (best, all) = (without, others);
        }
    }
    best.bad = best.cutting.boards.iter().filter_map(|board| if_bad(design, model, &best, board)).collect();
    best
}

/// The fewer pieces without a place the better, then the less money.
fn worth(buying: &Buying) -> (u32, f64) {
    (buying.cutting.left.iter().map(|left| left.count).sum(), buying.total)
}

/// What to buy of some of the offers.
fn plan(design: &Design, model: &Model, offers: &[Offer], of: &[usize], effort: Effort<'_>) -> Buying {
    let on_hand = design.shop.pile.len();
    let mut wanted = design.clone();
    // What is on hand is paid for; among these, as little of it is cut into as can be.
    wanted
        .shop
        .pile
        .iter_mut()
        .for_each(|stuff| stuff.price = AS_PAID * stuff.length.to_mm() * stuff.width.to_mm() * stuff.thickness.to_mm());
    let most = *ALIKE.end() as u32;
    let chosen: Vec<(usize, &Offer)> = of.iter().filter_map(|at| Some((*at, offers.get(*at)?))).collect();
    wanted.shop.pile.extend(chosen.iter().map(|(_, offer)| as_designed(design, offer.stuff(offer.available.unwrap_or(most).min(most)))));
    let mut cutting = cut(&wanted, model, effort);
    for (stuff, own) in wanted.shop.pile.iter_mut().zip(&design.shop.pile) {
        stuff.price = own.price;
    }
    let used = |nth: usize| cutting.boards.iter().filter(|board| board.entry == on_hand + nth).count();
    let mut lines: Vec<ToBuy> = (0..chosen.len()).filter_map(|nth| line(&chosen, nth, used(nth))).collect();
    let without_spare = add_spare(design.timber.rough.spare, &chosen, &mut lines);
    cutting.told.extend(without_spare);
    cutting.told.extend(lines.iter().filter_map(|line| {
        let (_, offer) = chosen.iter().find(|(at, _)| *at == line.offer)?;
        let (sold, designed) = (offer.thickness, as_designed(design, offer.stuff(1)).thickness);
        (sold != designed).then(|| {
            format!(
                "{}: sold as {sold} mm, and counted on to measure {designed} as is designed: measure it before anything is cut",
                line.name
            )
        })
    }));
    let total = lines.iter().map(ToBuy::cost).sum();
    for (nth, (at, _)) in chosen.iter().enumerate() {
        let bought = lines.iter().find(|line| line.offer == *at).map_or(0, ToBuy::count);
        if let Some(stuff) = wanted.shop.pile.get_mut(on_hand + nth) {
            (stuff.count, stuff.whence) = (bought, Whence::OnHand);
        }
    }
    Buying { pile: wanted.shop.pile, on_hand, cutting, lines, total, bad: Vec::new() }
}

/// A sheet that a dealer lists by the thickness it is sold as: what it measures is found out when it comes, and it is counted on to be what is designed.
fn as_designed(design: &Design, mut stuff: Stuff) -> Stuff {
    let sheets = [&design.timber.panel, &design.timber.floor];
    let sold_as = |sheet: &&&Sheet| sheet.product == stuff.of && (sheet.nominal.to_mm() - stuff.thickness.to_mm()).abs() < 1e-6;
    if let Some(sheet) = sheets.iter().find(sold_as) {
        stuff.thickness = sheet.measured;
    }
    stuff
}

fn line(chosen: &[(usize, &Offer)], nth: usize, used: usize) -> Option<ToBuy> {
    let (at, offer) = chosen.get(nth)?;
    let cut = u32::try_from(used).unwrap_or(u32::MAX);
    let line = ToBuy { offer: *at, name: offer.name.clone(), cut, spare: 0, over: 0, each: offer.each() };
    (cut > 0).then(|| packed(offer, line))
}

/// With as many over as fill the last pack.
fn packed(offer: &Offer, line: ToBuy) -> ToBuy {
    let pack = offer.pack.max(1);
    let wanted = line.cut + line.spare;
    ToBuy { over: wanted.div_ceil(pack) * pack - wanted, ..line }
}

/// Adds what is to spare of each timber and thickness that is bought: of the largest boards among them that are to be had, so that one of these does for any. What comes
/// in a pack besides counts. What is worth knowing where there are not so many.
fn add_spare(spare: u32, chosen: &[(usize, &Offer)], lines: &mut [ToBuy]) -> Vec<String> {
    let offer_of = |line: &ToBuy| chosen.iter().find(|(at, _)| *at == line.offer).map(|(_, offer)| *offer);
    let mut groups: Vec<(String, String)> = Vec::new();
    for offer in lines.iter().filter_map(offer_of) {
        let group = (offer.of.clone(), offer.thickness.to_string());
        if !groups.contains(&group) {
            groups.push(group);
        }
    }
    let mut told = Vec::new();
    for (of, thickness) in groups {
        let is_of = |line: &ToBuy| offer_of(line).is_some_and(|offer| offer.of == of && offer.thickness.to_string() == thickness);
        let size = |line: &ToBuy| offer_of(line).map_or(0.0, |offer| offer.length[0].to_mm() * offer.width[0].to_mm());
        let mut missing = spare.saturating_sub(lines.iter().filter(|line| is_of(line)).map(|line| line.over).max().unwrap_or(0));
        let mut by_size: Vec<usize> = (0..lines.len()).filter(|at| lines.get(*at).is_some_and(is_of)).collect();
        by_size.sort_by(|a, b| lines.get(*b).map_or(0.0, size).total_cmp(&lines.get(*a).map_or(0.0, size)));
        let names: Vec<String> = by_size.iter().filter_map(|at| lines.get(*at)).map(|line| line.name.clone()).collect();
        for at in by_size {
            let Some(line) = lines.get_mut(at) else { continue };
            let Some(offer) = offer_of(line) else { continue };
            let more = offer.available.map_or(missing, |there| missing.min(there.saturating_sub(line.cut + line.spare)));
            if more > 0 {
                *line = packed(offer, ToBuy { spare: line.spare + more, over: 0, ..line.clone() });
                missing -= more;
            }
        }
        if missing > 0 {
            let names = names.join(", ");
            told.push(format!(
                "{names}: {missing} of {spare} to spare are not to be had; should a board be bad, its parts wait for another"
            ));
        }
    }
    told
}

/// What if that board is bad: its pieces are laid on what is to spare, over, not touched or left of the others.
fn if_bad(design: &Design, model: &Model, buying: &Buying, board: &Marked) -> Option<Bad> {
    let stuff = buying.pile.get(board.entry)?;
    let mut now = design.clone();
    now.shop.pile.clone_from(&buying.pile);
    now.shop.pile = remaining_but(&now, model, &buying.cutting, Some((board.entry, board.number)));
    now.shop.placed.clear();
    let lost: Vec<_> = board.pieces.iter().map(|piece| (piece.part, piece.piece)).collect();
    let laid = cut_some(&now, model, Effort::rounds(QUICK), Some((&lost, &buying.cutting.strips)));
    let mut marks: Vec<(String, usize)> = Vec::new();
    for piece in &board.pieces {
        let mark = &piece.mark;
        match marks.iter_mut().find(|(known, _)| known == mark) {
            Some((_, count)) => *count += piece.parts().count(),
            None => marks.push((mark.clone(), piece.parts().count())),
        }
    }
    // Where nothing at all is left, everything is.
    let left = if now.shop.pile.is_empty() {
        let words = "nothing is to spare or left over".to_owned();
        marks
            .iter()
            .map(|(mark, count)| Left { mark: mark.clone(), count: u32::try_from(*count).unwrap_or(u32::MAX), words: words.clone() })
            .collect()
    } else {
        laid.left
    };
    Some(Bad { board: board.called(stuff), marks, left })
}
