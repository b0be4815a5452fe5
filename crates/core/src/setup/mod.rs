//! How the machines are set: one set-up for all cuts that are made without moving fence, cutter or depth, in an order in which these move least.
//!
//! ```text
//! Model ──every cut of every part──▶ operations ──alike ones together──▶ set-ups ──in the order of the work──▶ cards
//! ```
//!
//! Mortises come before the tenons that are fitted to them, grooves share their fence, and holes follow when faces are done (common practice, no source).
//! A cut is told as it is marked out: along from the first end, across from the face edge or the face side, which is the face against the fence.

mod operation;
mod order;
mod setting;
mod trial;
mod turned;
mod words;

pub use operation::{At, Operation};
pub use setting::{Cutter, Fence, Setting, Work};
pub use turned::{Turned, turned};

use crate::cautions::{About, Caution, cautions};
use crate::design::{Design, ToolWork};
use crate::length::trimmed_to;
use crate::model::{Cut, CutState, Face, Material, Model, Part, PartId, PartKind};

/// A setting of a tool, with all that is cut at it.
#[derive(Clone, Debug, PartialEq)]
pub struct Setup {
    /// How it is set.
    pub setting: Setting,
    /// The tool that the maker says makes it; none where the list has none for this kind of cut, or none is kept for it.
    pub tool: Option<String>,
    /// How it is made without such a tool, or where no setting tells it; empty where there is one and it does.
    pub otherwise: &'static str,
    /// Where the cut may be made in two passes, the part turned end for end between them.
    pub turned: Option<Turned>,
    /// What is cut at it, mark by mark.
    pub cuts: Vec<OnParts>,
    /// What to try on a test piece.
    pub test: String,
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

/// The set-ups of all cuts that are still to be made, in the order of the work.
pub fn setups(design: &Design, model: &Model) -> Vec<Setup> {
    let all = cautions(design, model);
    let mut setups: Vec<Setup> = Vec::new();
    for part in model.parts.iter().filter(|part| is_worked(part)) {
        for cut in part.cuts.iter().filter(|cut| is_to_cut(part, cut)) {
            let operation = Operation::of(design, model, part, cut);
            let at = setups.iter().position(|setup| setup.takes(&operation)).unwrap_or(setups.len());
            if at == setups.len() {
                setups.push(Setup::new(design, &operation));
            }
            if let Some(setup) = setups.get_mut(at) {
                setup.add(part, &operation);
                setup.try_out(&operation);
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
    order::least_moves(setups)
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
        let work = operation.setting.work;
        let tool = work.tool().and_then(|makes| design.shop.tools.0.iter().find(|tool| tool.makes == makes));
        let otherwise = match (work.tool(), tool) {
            (Some(makes), None) => by_hand(makes),
            (Some(_), Some(_)) | (None, _) => work.way(),
        };
        Setup {
            setting: operation.setting.clone(),
            tool: tool.map(|tool| tool.name.clone()),
            otherwise,
            turned: operation.turned,
            cuts: Vec::new(),
            test: String::new(),
            warnings: Vec::new(),
            cautions: Vec::new(),
        }
    }

    /// Whether an operation is made at this very setting. Centred cuts made in two passes share it whatever the stock: it is the fence that is set.
    fn takes(&self, operation: &Operation) -> bool {
        let both_turned = self.turned.is_some() && operation.turned.is_some();
        self.setting.is(&operation.setting) || both_turned && self.setting.is_but_for_the_fence(&operation.setting)
    }

    fn add(&mut self, part: &Part, operation: &Operation) {
        let (against, turns) = (operation.against, operation.alike);
        self.turned = self.turned.or(operation.turned);
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

    /// What is tried of a cut at this set-up, each once; and what can't be made so.
    fn try_out(&mut self, operation: &Operation) {
        if !self.test.split("; ").any(|known| known == operation.test) {
            self.test.push_str(if self.test.is_empty() { "" } else { "; " });
            self.test.push_str(operation.test);
        }
        let long = self.setting.cutter.must_be_long(self.setting.depth);
        let reach = "Deeper than four of the cutter's diameters: take a long one, or bore most of it out before";
        for words in [operation.wrong.as_str(), if long { reach } else { "" }].into_iter().filter(|words| !words.is_empty()) {
            if !self.warnings.iter().any(|known| known == words) {
                self.warnings.push(words.to_owned());
            }
        }
    }

    /// In how many passes, each deeper than the one before, and how deep each goes, mm; none where the tool goes there at once.
    pub fn passes_in_depth(&self) -> Option<(u32, f64)> {
        let passes = self.setting.cutter.passes_to(self.setting.depth);
        (passes > 1).then(|| (passes, self.setting.depth / f64::from(passes)))
    }

    /// What can hurt at this set-up, of the cautions of the whole case; each in words of its own.
    fn caution(&mut self, all: &[Caution], part: &Part, operation: &Operation) {
        let is_about = |about: About| all.iter().any(|caution| caution.about == about && caution.parts.contains(&part.id));
        let in_end = matches!(operation.into, Face::FirstEnd | Face::SecondEnd);
        let narrow = match operation.setting.work {
            Work::Mortise | Work::Groove | Work::Housing => operation.stands_on(part) < STANDS,
            Work::Tenon | Work::Rabbet | Work::Cutout | Work::Dovetail | Work::Teeth | Work::Hole | Work::Pilot | Work::Shape => false,
        };
        let cautions = [
            (operation.stops && is_about(About::StoppedCuts), STOPPED),
            (narrow && self.tool.is_some(), TIPS),
            (!operation.setting.passes.is_empty(), WIDENED),
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
                if (width - self.setting.width).abs() > turned::AGREES {
                    let words = format!(
                        "{}: {} thick; turned, its cut comes out {} wide, not {}: plane it to {}, or don't turn it",
                        on.mark,
                        trimmed_to(stock, 2),
                        trimmed_to(width, 2),
                        trimmed_to(self.setting.width, 2),
                        trimmed_to(turned.stock, 2)
                    );
                    if !told.contains(&words) {
                        told.push(words);
                    }
                }
            }
        }
        self.warnings.extend(told);
    }
}

/// Cautions as they stand on a card (common practice, no source).
const STOPPED: &str = "A cut that stops short: clamp a stop at both ends, feed against the cutter's turn, and let the cutter stand still before it leaves the cut.";
const WIDENED: &str =
    "Widen a cut so that the cutter works against the feed: on the other wall it grabs and pulls the part or the tool along.";
const SHORT: &str =
    "Parts shorter than 300: cut several in one length and crosscut them after, or hold each in a carrier; hands stay 75 from the cutter.";
const SHORT_END: &str = "Ends of parts shorter than 300: clamp each upright in a jig that carries the tool as well; never by hand.";

/// A hand-held router stands safely on a face that is so wide, mm (common practice, no source).
const STANDS: f64 = 40.0;
const TIPS: &str = "The face is too narrow for the tool to stand on: clamp straight blocks flush with it on both sides, or cut several parts clamped together.";

/// How a kind of cut is made without a tool for it (common practice, no source).
fn by_hand(makes: ToolWork) -> &'static str {
    match makes {
        ToolWork::Slot => "bore side by side to depth within the marks, and pare the walls with a chisel",
        ToolWork::Groove => "knife both walls, saw them to depth, and clear the bottom with a chisel or a router plane",
        ToolWork::Hole => "a brace or hand drill, with a square beside it and a stop on the bit",
    }
}

#[cfg(test)]
mod tests;
