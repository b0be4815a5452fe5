//! What presses on a part, and where it comes from.

use super::lying::{Lying, Pressed};
use crate::contents::Stack;
use crate::design::BoxKind;
use crate::strength::GRAVITY;
use crate::timber::How;
use crate::worked::{Worked, figure};

/// Where the share of a floor that is held along three edges comes from.
const PLATES: (&str, &str) = (
    "deflection of a plate held along three edges over that of a beam: 0.497, 0.677, 0.9 and 1 for a width of 1/2, 2/3, 1 and 2 spans, straight between",
    "Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells",
);

/// What presses on a part, and where it comes from; all N.
#[derive(Clone, Debug, PartialEq)]
pub enum Bears {
    /// Boxes that stand on it: which stack of its room, and with how much of it.
    Boxes {
        /// Each stack that stands on it.
        stacks: Vec<OnIt>,
        /// How much of that spans from end to end; the rest goes to another edge.
        spans: f64,
        /// The width of a floor that is held along another edge too over its span; nothing for what is not.
        over: Option<f64>,
    },
    /// Other things, each by what it is.
    Others(Vec<Bearing>),
}

/// A stack of boxes that stands on a part, and with how much of its depth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnIt {
    /// The stack, by its place in the room's.
    pub stack: usize,
    /// What it presses on the part with, N.
    pub newtons: f64,
    /// How much of the part it covers, across the way in which the part spans, mm.
    pub covers: f64,
    /// The same of all that it stands on, mm.
    pub of: f64,
}

/// One thing that a part bears besides boxes that stand on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Bearing {
    /// What it is.
    pub what: String,
    /// Where it begins, mm from the part's first end.
    pub from: f64,
    /// Where it ends, mm from the part's first end; the same for what presses at one place.
    pub to: f64,
    /// What of it is always there, N.
    pub always: f64,
    /// What of it comes and goes, at its heaviest, N.
    pub heaviest: f64,
    /// How much of that counts, where there are not boxes enough to fill all that the part bears.
    pub counts: Option<Counts>,
    /// Whether it is what a divider that is glued into two rails carries over between them; upward where negative.
    pub is_tie: bool,
}

/// How much of what a shelf takes counts for a part that bears several, when all boxes that there are stand where they bend it most. All kg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Counts {
    /// All boxes that there are.
    pub there: f64,
    /// Those of them that stand where they bend the part more.
    pub before: f64,
    /// The heaviest that this shelf takes.
    pub heaviest: f64,
}

impl Counts {
    /// The share of the heaviest that counts, 0 to 1.
    pub fn share(&self) -> f64 {
        if self.heaviest > 0.0 { ((self.there - self.before) / self.heaviest).clamp(0.0, 1.0) } else { 1.0 }
    }

    fn why(&self) -> Worked {
        let inputs = vec![
            Worked::given("all boxes to be kept", self.there, "kg"),
            Worked::given("of them where they bend it more", self.before, "kg"),
            Worked::given("the heaviest that this shelf takes", self.heaviest, "kg"),
        ];
        let formula = ("(all boxes − those where they bend it more) ÷ the heaviest that this shelf takes, 0 to 1", "ours");
        Worked::by("share that counts", self.share(), "", formula, inputs)
    }
}

impl Bearing {
    /// One thing of which all counts.
    pub(super) fn one(what: &str, lying: &Lying, pressed: &Pressed) -> Bearing {
        let [from, to] = [pressed.from, pressed.to].map(|at| at - lying.from);
        Bearing { what: what.to_owned(), from, to, always: 0.0, heaviest: pressed.force, counts: None, is_tie: false }
    }

    /// N, as much of it as counts.
    pub fn newtons(&self) -> f64 {
        self.always + self.heaviest * self.counts.map_or(1.0, |counts| counts.share())
    }

    fn why(&self) -> Worked {
        let place = if self.to - self.from < 0.01 {
            format!("at {} mm", figure(self.from))
        } else {
            format!("from {} to {} mm", figure(self.from), figure(self.to))
        };
        let name = format!("{}, {place}", self.what);
        if self.is_tie {
            let inputs = vec![Worked::given("by what is always there", self.always, "N"), Worked::given("by boxes", self.heaviest, "N")];
            let formula = "what makes both rails sag alike at each divider that is glued into both";
            return Worked::by(name, self.newtons(), "N", (formula, "statics, flexibility method"), inputs);
        }
        let Some(counts) = self.counts else { return Worked::given(name, self.newtons(), "N") };
        let inputs =
            vec![Worked::given("of wood", self.always, "N"), Worked::given("of boxes at their heaviest", self.heaviest, "N"), counts.why()];
        Worked::by(name, self.newtons(), "N", ("of wood + of boxes at their heaviest × share that counts", "arithmetic"), inputs)
    }
}

impl Bears {
    /// The same with its origin: boxes by their names.
    pub(super) fn why(&self, stacks: &[Stack], contents: &[BoxKind]) -> Worked {
        match self {
            Bears::Boxes { stacks: each, spans, over } => {
                let told = each.iter().filter_map(|on| {
                    let stack = stacks.get(on.stack)?;
                    let name = &contents.get(stack.kind)?.name;
                    let inputs = vec![
                        Worked::given("mass", stack.kg, "kg"),
                        Worked::given("acceleration of free fall", GRAVITY, "m/s²"),
                        Worked::given("stands on so much of it", on.covers, "mm"),
                        Worked::given("stands in all on", on.of, "mm"),
                    ];
                    let formula = ("mass × free fall × what stands on it ÷ what stands in all", "ours");
                    Some(Worked::by(format!("of {} × {name}", stack.count), on.newtons, "N", formula, inputs))
                });
                let mut inputs: Vec<Worked> = told.collect();
                if let Some(over) = over {
                    let over = vec![Worked::given("width over span", *over, "")];
                    inputs.push(Worked::by("share that goes to these ends", *spans, "", PLATES, over).obtained(How::Memory));
                }
                let formula = if over.is_some() {
                    ("the heaviest boxes that the shelf takes, shared by what they stand on × share that goes to these ends", "ours")
                } else {
                    ("the heaviest boxes that the shelf takes, shared by what they stand on", "ours")
                };
                Worked::by("load", self.total(), "N", formula, inputs)
            }
            Bears::Others(each) => {
                let formula = if each.iter().any(|bearing| bearing.counts.is_some()) {
                    "sum; of all your boxes as many as there are, each shelf at its heaviest, those first that bend it most"
                } else {
                    "sum, each shelf at its heaviest"
                };
                Worked::by("load", self.total(), "N", (formula, "arithmetic"), each.iter().map(Bearing::why).collect())
            }
        }
    }

    /// N in all.
    pub fn total(&self) -> f64 {
        match self {
            Bears::Boxes { stacks, spans, .. } => spans * stacks.iter().map(|on| on.newtons).sum::<f64>(),
            Bears::Others(each) => each.iter().map(Bearing::newtons).sum(),
        }
    }
}
