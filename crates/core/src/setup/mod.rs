//! How the machines are set: one set-up for all cuts that are made without moving fence, cutter or depth, in an order in which these move least.
//!
//! ```text
//! Model ──every cut of every part──▶ operations ──alike ones together──▶ set-ups ──in the order of the work──▶ cards
//! ```
//!
//! Mortises come before the tenons that are fitted to them, grooves share their fence, and holes follow when faces are done (common practice, no source).
//! A cut is told as it is marked out: along from the first end, across from the face edge or the face side, which is the face against the fence.

mod operation;
mod turned;
mod words;

pub use operation::{At, Cutter, Fence, Operation, Work};
pub use turned::{Turned, turned};

use crate::cautions::{About, Caution, cautions};
use crate::design::{Design, ToolWork};
use crate::length::trimmed_to;
use crate::model::{Cut, CutState, Face, Material, Model, Part, PartId, PartKind};

/// A setting of a tool, with all that is cut at it.
#[derive(Clone, Debug, PartialEq)]
pub struct Setup {
    /// What is cut.
    pub work: Work,
    /// The tool that the maker says makes it; none where the list has none for this kind of cut, or none is kept for it.
    pub tool: Option<String>,
    /// How it is made without such a tool; empty where there is one.
    pub otherwise: &'static str,
    /// The cutter.
    pub cutter: Cutter,
    /// Where the fence stands; none where there is none to set.
    pub fence: Option<Fence>,
    /// How deep, mm; 0 where the words of each cut tell it.
    pub depth: f64,
    /// How wide the cut comes out, mm; 0 where the words of each cut tell it.
    pub width: f64,
    /// By how much fence or stop is moved on from where it stood first, for each further pass that widens the cut, mm.
    pub passes: Vec<f64>,
    /// Where the cut may be made in two passes, the part turned end for end between them.
    pub turned: Option<Turned>,
    /// What is cut at it, mark by mark.
    pub cuts: Vec<OnParts>,
    /// What to try on a test piece.
    pub test: &'static str,
    /// What would come out otherwise than planned.
    pub warnings: Vec<String>,
    /// What can hurt at this very set-up.
    pub cautions: Vec<String>,
}

/// Equal cuts of the parts of one mark.
#[derive(Clone, Debug, PartialEq)]
pub struct OnParts {
    /// The mark.
    pub mark: String,
    /// What the parts are.
    pub title: String,
    /// The parts.
    pub parts: Vec<PartId>,
    /// The face that is cut into.
    pub into: Face,
    /// The face that lies against the fence; none where none is set.
    pub against: Option<Face>,
    /// Whether they may be made in two passes, the part turned end for end between.
    pub turns: bool,
    /// Where, from the first end on.
    pub at: Vec<At>,
}

/// Parts that differ by no more were to be of one thickness, mm.
const ONE_STOCK: f64 = 1.0;
/// Settings that differ by less are one, mm.
const SAME: f64 = 0.05;

/// The set-ups of all cuts that are still to be made, in the order of the work.
pub fn setups(design: &Design, model: &Model) -> Vec<Setup> {
    let all = cautions(design, model);
    let mut setups: Vec<Setup> = Vec::new();
    for part in model.parts.iter().filter(|part| is_worked(part)) {
        for cut in part.cuts.iter().filter(|cut| is_to_cut(part, cut)) {
            let operation = Operation::of(model, part, cut);
            let at = setups.iter().position(|setup| setup.takes(&operation)).unwrap_or(setups.len());
            if at == setups.len() {
                setups.push(Setup::new(design, &operation));
            }
            if let Some(setup) = setups.get_mut(at) {
                setup.add(part, &operation);
                setup.caution(&all, part, &operation);
            }
        }
    }
    for setup in &mut setups {
        setup.warn(model);
        for on in &mut setup.cuts {
            on.at.sort_by(|a, b| a.from.total_cmp(&b.from));
        }
    }
    setups.sort_by(|a, b| {
        a.place()
            .total_cmp(&b.place())
            .then_with(|| a.numbers().iter().zip(b.numbers()).fold(std::cmp::Ordering::Equal, |order, (a, b)| order.then(a.total_cmp(&b))))
    });
    setups
}

/// Parts that are cut one by one at a machine; loose tenons, dowels and shims are milled in lengths.
fn is_worked(part: &Part) -> bool {
    !matches!(part.kind, PartKind::LooseTenon | PartKind::Dowel | PartKind::Shim) && !matches!(part.material, Material::Bought(_))
}

/// Whether a cut is still to be made: all of them, but in a part that is cut those that are there.
fn is_to_cut(part: &Part, cut: &Cut) -> bool {
    use crate::design::shop::State;
    match part.state {
        State::Planned | State::Roughed => true,
        State::Cut | State::Glued => cut.there == CutState::Missing,
    }
}

impl Setup {
    fn new(design: &Design, operation: &Operation) -> Setup {
        let makes = operation.work.tool();
        let tool = makes.and_then(|makes| design.shop.tools.0.iter().find(|tool| tool.makes == makes));
        let otherwise = match (makes, tool) {
            (Some(makes), None) => by_hand(makes),
            _ => "",
        };
        Setup {
            work: operation.work,
            tool: tool.map(|tool| tool.name.clone()),
            otherwise,
            cutter: operation.cutter,
            fence: operation.fence,
            depth: operation.depth,
            width: operation.width,
            passes: operation.passes.clone(),
            turned: operation.turned,
            cuts: Vec::new(),
            test: operation.work.test(),
            warnings: Vec::new(),
            cautions: Vec::new(),
        }
    }

    /// Whether an operation is made at this very setting. Centred cuts made in two passes share it whatever the stock: it is the fence that is set.
    fn takes(&self, operation: &Operation) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() < SAME;
        let fence = match (self.fence, operation.fence) {
            (None, None) => true,
            (Some(a), Some(b)) => a.to_middle == b.to_middle && (near(a.mm, b.mm) || (self.turned.is_some() && operation.turned.is_some())),
            _ => false,
        };
        let passes = self.passes.len() == operation.passes.len() && self.passes.iter().zip(&operation.passes).all(|(a, b)| near(*a, *b));
        self.work == operation.work
            && self.cutter.is_same(&operation.cutter)
            && fence
            && near(self.depth, operation.depth)
            && near(self.width, operation.width)
            && (passes || self.turned.is_some())
    }

    fn add(&mut self, part: &Part, operation: &Operation) {
        let turns = operation.alike;
        self.turned = self.turned.or(operation.turned);
        let against = operation.fence.map(|fence| fence.against);
        let same = |on: &&mut OnParts| on.mark == part.mark && on.into == operation.into && on.against == against && on.turns == turns;
        match self.cuts.iter_mut().find(same) {
            Some(on) => {
                if !on.parts.contains(&part.id) {
                    on.parts.push(part.id);
                }
                if !on.at.contains(&operation.at) {
                    on.at.push(operation.at.clone());
                }
            }
            None => self.cuts.push(OnParts {
                mark: part.mark.clone(),
                title: part.title.clone(),
                parts: vec![part.id],
                into: operation.into,
                against,
                turns,
                at: vec![operation.at.clone()],
            }),
        }
    }

    /// What can hurt at this set-up, of the cautions of the whole case; each in words of its own.
    fn caution(&mut self, all: &[Caution], part: &Part, operation: &Operation) {
        let is_about = |about: About| all.iter().any(|caution| caution.about == about && caution.parts.contains(&part.id));
        let in_end = matches!(operation.into, Face::FirstEnd | Face::SecondEnd);
        let cautions = [
            (operation.stops && is_about(About::StoppedCuts), STOPPED),
            (!operation.passes.is_empty(), WIDENED),
            (is_about(About::ShortParts) && in_end, SHORT_END),
            (is_about(About::ShortParts) && !in_end, SHORT),
        ];
        for (applies, words) in cautions {
            if applies && !self.cautions.iter().any(|known| known == words) {
                self.cautions.push(words.to_owned());
            }
        }
    }

    /// What comes out otherwise than planned: a cut that is centred by turning the part follows the stock.
    fn warn(&mut self, model: &Model) {
        let Some(turned) = self.turned else { return };
        // Others lie off the middle on purpose.
        let is_of_one_stock = |part: &PartId| (model.part(*part).lwt()[turned.axis] - turned.stock).abs() <= ONE_STOCK;
        for on in &mut self.cuts {
            on.turns = on.turns && on.parts.iter().all(is_of_one_stock);
        }
        let mut told: Vec<String> = Vec::new();
        for on in self.cuts.iter().filter(|on| on.turns) {
            for part in &on.parts {
                let stock = model.part(*part).lwt()[turned.axis];
                let width = turned.comes_out(stock);
                if (width - self.width).abs() > turned::AGREES {
                    let words = format!(
                        "{}: {} thick; turned, its cut comes out {} wide, not {}: plane it to {}, or don't turn it",
                        on.mark,
                        trimmed_to(stock, 2),
                        trimmed_to(width, 2),
                        trimmed_to(self.width, 2),
                        trimmed_to(turned.stock, 2)
                    );
                    if !told.contains(&words) {
                        told.push(words);
                    }
                }
            }
        }
        self.warnings = told;
    }

    /// Where it stands in the order of the work.
    fn place(&self) -> f64 {
        f64::from(self.work.place())
    }

    /// Cutters change least, then depths, then fences.
    fn numbers(&self) -> [f64; 5] {
        let [kind, size] = self.cutter.numbers();
        [kind, size, self.depth, self.fence.map_or(0.0, |fence| fence.mm), self.width]
    }

    /// How many of cutter, depth and fence are moved from the set-up before.
    pub fn changes_from(&self, before: &Setup) -> u32 {
        let fence = match (self.fence, before.fence) {
            (None, None) => false,
            (Some(a), Some(b)) => (a.mm - b.mm).abs() >= SAME,
            _ => true,
        };
        let cutter = self.work != before.work || !self.cutter.is_same(&before.cutter);
        u32::from(cutter) + u32::from((self.depth - before.depth).abs() >= SAME) + u32::from(fence)
    }
}

/// Cautions as they stand on a card (common practice, no source).
const STOPPED: &str = "A cut that stops short: clamp a stop at both ends, feed against the cutter's turn, and let the cutter stand still before it leaves the cut.";
const WIDENED: &str =
    "Widen a cut so that the cutter works against the feed: on the other wall it grabs and pulls the part or the tool along.";
const SHORT: &str =
    "Parts shorter than 300: cut several in one length and crosscut them after, or hold each in a carrier; hands stay 75 from the cutter.";
const SHORT_END: &str = "Ends of parts shorter than 300: clamp each upright in a jig that carries the tool as well; never by hand.";

/// How a kind of cut is made without a tool for it (common practice, no source).
fn by_hand(makes: ToolWork) -> &'static str {
    match makes {
        ToolWork::Slot => "bore side by side to depth within the marks, and pare the walls with a chisel",
        ToolWork::Groove => "knife both walls, saw them to depth, and clear the bottom with a chisel or a router plane",
        ToolWork::Hole => "a brace or hand drill, with a square beside it and a stop on the bit",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Length;
    use crate::design::{Dimension, shop};

    fn demo() -> Design {
        crate::design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo")
    }

    fn set(design: &mut Design, path: &str, mm: f64) {
        let all = [(path.to_owned(), mm.to_string())];
        let told = crate::design::decisions::set_all(design, &all);
        assert!(told.is_empty(), "{told:?}");
    }

    fn of(design: &Design) -> (Model, Vec<Setup>) {
        let model = crate::derive(design).expect("the demo");
        let setups = setups(design, &model);
        (model, setups)
    }

    /// Every cut of every part stands on one card, at its own cutter, fence and depth; the work goes on in its order.
    #[test]
    fn every_cut_is_on_one_card() {
        let design = demo();
        let (model, setups) = of(&design);
        for part in model.parts.iter().filter(|part| is_worked(part)) {
            for cut in &part.cuts {
                let operation = Operation::of(&model, part, cut);
                let taking: Vec<&Setup> = setups.iter().filter(|setup| setup.takes(&operation)).collect();
                let [card] = taking.as_slice() else { panic!("{}: {} is on {} cards", part.title, cut.describe(), taking.len()) };
                let on = card.cuts.iter().find(|on| on.mark == part.mark && on.into == operation.into).expect("its mark is on the card");
                assert!(on.parts.contains(&part.id) && on.at.contains(&operation.at), "{}: {}", part.title, cut.describe());
                assert!((card.depth - operation.depth).abs() < SAME && (card.width - operation.width).abs() < SAME);
            }
        }
        assert!(setups.windows(2).all(|pair| pair[0].place() <= pair[1].place()));
        assert!(setups.iter().any(|setup| setup.cuts.len() > 1), "parts that share a setting share a card");
    }

    /// Rails are set back from the faces of the posts: their mortises stand as much farther from the face side of the posts as from that of the rails, which is
    /// the reveal added (the trade's rule; geometry).
    #[test]
    fn the_reveal_is_added_for_posts() {
        let mut design = demo();
        let fences = |design: &Design, kind: PartKind| {
            let (model, setups) = of(design);
            let mortises = setups.into_iter().filter(|setup| setup.work == Work::Mortise);
            let fence = |setup: Setup| {
                let is_of = setup.cuts.iter().any(|on| on.parts.iter().any(|part| model.part(*part).kind == kind));
                setup.fence.filter(|fence| is_of && matches!(setup.cutter, Cutter::Round(_)) && !fence.to_middle).map(|fence| fence.mm)
            };
            mortises.filter_map(fence).collect::<Vec<f64>>()
        };
        let reveal = 5.0;
        set(&mut design, "carcase.rails.reveal", 0.0);
        let flush = fences(&design, PartKind::Post);
        set(&mut design, "carcase.rails.reveal", reveal);
        let (posts, rails) = (fences(&design, PartKind::Post), fences(&design, PartKind::Rail));
        let has = |all: &[f64], mm: f64| all.iter().any(|at| (at - mm).abs() < 0.06);
        assert!(rails.iter().any(|rail| has(&posts, rail + reveal)), "{rails:?} {posts:?}");
        assert!(flush.iter().any(|at| has(&posts, at + reveal)), "{flush:?} {posts:?}");
    }

    /// A rail that came out 0.2 thinner goes on the same card as the others, and what its groove comes to is told; what is cut is on none.
    #[test]
    fn other_stock_is_told_and_what_is_cut_is_not_set_up_again() {
        let mut design = demo();
        // A cutter narrower than the groove, and wider than half of it.
        set(&mut design, "joinery.groove.cutter", 8.0);
        let (model, planned) = of(&design);
        let Some(card) = planned.iter().find(|setup| setup.turned.is_some()) else { panic!("a centred groove") };
        assert!(card.warnings.is_empty());
        let part = model.part(card.cuts.iter().find(|on| on.turns).expect("parts that are turned").parts[0]);
        let axis = card.turned.map(|turned| turned.axis).expect("turned");
        let dimension = Dimension::ALL[axis];
        let thinner = Length::mm(part.lwt()[axis] - 0.2);
        shop::measure(&mut design, &part.name, dimension, Some(thinner)).expect("it can be measured");
        let (_, after) = of(&design);
        assert!(after.iter().any(|setup| setup.warnings.iter().any(|words| words.contains("turned, its cut comes out"))), "{after:#?}");
        let all: Vec<(String, String)> = model.parts.iter().map(|part| (format!("made.{}.state", part.name), "cut".to_owned())).collect();
        assert!(crate::design::decisions::set_all(&mut design, &all).is_empty());
        assert_eq!(of(&design).1, []);
    }

    /// Who has no router cuts mortises another way, and the card says how.
    #[test]
    fn a_tool_that_is_not_there_is_not_asked_for() {
        let mut design = demo();
        design.shop.tools.0.retain(|tool| tool.makes != ToolWork::Slot);
        let (_, setups) = of(&design);
        let mortises: Vec<_> = setups.iter().filter(|setup| setup.work == Work::Mortise).collect();
        assert!(!mortises.is_empty() && mortises.iter().all(|setup| setup.tool.is_none() && !setup.otherwise.is_empty()));
        assert!(setups.iter().filter(|setup| setup.work == Work::Groove).all(|setup| setup.tool.is_some()));
    }
}
