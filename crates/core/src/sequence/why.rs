//! What the figures of a glue-up rest on.

use super::GlueUp;
use super::glue_up::{CAULS, Clamp, Diagonal};
use crate::design::Gluing;
use crate::worked::Worked;

impl GlueUp {
    /// How long it takes, and how long it may take, seconds.
    pub fn time(&self, gluing: &Gluing) -> [Worked; 2] {
        let inputs = vec![
            Worked::given("joints that close", self.joints.len() as f64, ""),
            Worked::given("to spread and close a joint", gluing.seconds, "s"),
        ];
        let takes = Worked::by("takes", self.seconds, "s", ("joints × seconds for each", "common practice, no source"), inputs);
        let inputs = vec![gluing.worked_open_minutes(), Worked::given("share of it that is used", gluing.share * 100.0, "%")];
        let formula = ("open time × 60 × share, so that the last joint closes while the glue is wet", "common practice, no source");
        [takes, Worked::by("may take", self.allowed, "s", formula, inputs)]
    }
}

impl Clamp {
    /// How far its jaws open.
    pub fn worked(&self) -> Worked {
        let inputs = vec![Worked::given("what is pressed", self.length - CAULS, "mm"), Worked::given("two cauls", CAULS, "mm")];
        Worked::by("between the jaws", self.length, "mm", ("what is pressed + cauls", "common practice, no source"), inputs)
    }
}

impl Diagonal {
    /// How long each must be, and by how much the two differ when a side has slipped by 1 mm.
    pub fn worked(&self) -> [Worked; 2] {
        let [_, b] = self.sides;
        let sides = self.sides.map(|side| Worked::given("a side, from shoulder to shoulder", side, "mm"));
        let length = Worked::by("diagonal", self.length, "mm", ("√(side² + side²)", "Pythagoras"), sides.to_vec());
        let inputs = vec![Worked::given("slip", 1.0, "mm"), Worked::given("the side along which it slipped", b, "mm"), length.clone()];
        let formula = ("2 × slip × side ÷ diagonal, for a slip that is small against the sides", "arithmetic");
        let slipped = Worked::by("one diagonal longer than the other", self.slipped(), "mm", formula, inputs);
        [length, slipped]
    }
}
