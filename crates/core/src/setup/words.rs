//! A set-up in words, the same for every face of the program.

use super::{OnParts, Setup};
use crate::length::trimmed_to;
use crate::sentence::capital;

impl Setup {
    /// What it is for, and with what: `Mortises and slots: Router, plunging, round cutter 8`.
    pub fn title(&self) -> String {
        let cutter = self.cutter.words();
        let with: Vec<&str> = self.tool.as_deref().into_iter().chain((!cutter.is_empty()).then_some(cutter.as_str())).collect();
        let work = capital(self.work.word());
        if with.is_empty() { format!("{work}, to their marks") } else { format!("{work}: {}", with.join(", ")) }
    }

    /// What is set, each by its name: fence, depth, width, further passes.
    pub fn settings(&self) -> Vec<(&'static str, String)> {
        let mut told = Vec::new();
        if let Some(fence) = self.fence {
            let to = if fence.to_middle { "to the middle" } else { "to the near wall" };
            told.push(("Fence", format!("{} {to}; the {} against it", mm(fence.mm), fence.against.words())));
        }
        if self.depth > 0.0 {
            told.push(("Depth", mm(self.depth)));
        }
        if self.width > 0.0 {
            told.push(("Wide", mm(self.width)));
        }
        if !self.passes.is_empty() {
            let at: Vec<String> = self.passes.iter().map(|pass| mm(*pass)).collect();
            told.push(("Then", format!("the fence to {}, which widens it", at.join(", then "))));
        }
        if let Some(turned) = self.turned {
            let of: Vec<&str> = self.cuts.iter().filter(|on| on.turns).map(|on| on.mark.as_str()).collect();
            let of = if of.len() < self.cuts.len() { format!("{}: ", of.join(", ")) } else { String::new() };
            let words = format!(
                "{of}fence {} from the near wall, cut, turn end for end, cut again: centred, from stock of {}",
                mm(turned.fence),
                mm(turned.stock)
            );
            told.push(("Or in two passes", words));
        }
        if !self.otherwise.is_empty() {
            told.push(("Without a tool for it", self.otherwise.to_owned()));
        }
        told
    }
}

impl OnParts {
    /// `P1, 2 parts, in the face edge`.
    pub fn words(&self) -> String {
        let count = if self.parts.len() > 1 { format!(", {} parts", self.parts.len()) } else { String::new() };
        format!("{}{count}, in the {}", self.mark, self.into.words())
    }

    /// Where it is cut, one after the other.
    pub fn places(&self) -> String {
        self.at.iter().map(|at| at.words.as_str()).collect::<Vec<_>>().join("; ")
    }
}

fn mm(mm: f64) -> String {
    trimmed_to(mm, 2)
}
