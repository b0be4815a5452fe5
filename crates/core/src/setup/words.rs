//! A set-up in words, the same for every face of the program.

use super::{OnParts, Setup};
use crate::length::trimmed_to;
use crate::model::Face;
use crate::sentence::capital;

impl Setup {
    /// What it is for, and with what: `Mortises and slots: Router, plunging, round cutter 8`.
    pub fn title(&self) -> String {
        let cutter = self.setting.cutter.words();
        let with: Vec<&str> = self.tool.as_deref().into_iter().chain((!cutter.is_empty()).then_some(cutter.as_str())).collect();
        let work = capital(self.setting.work.word());
        if with.is_empty() { format!("{work}, to the line") } else { format!("{work}: {}", with.join(", ")) }
    }

    /// What is set, each by its name: fence, depth, width, further passes.
    pub fn settings(&self) -> Vec<(&'static str, String)> {
        let mut told = Vec::new();
        if let Some(fence) = self.setting.fence {
            let to = if fence.to_middle { "to the middle" } else { "to the near wall" };
            let faces: Vec<Face> = self.cuts.iter().filter_map(|on| on.against).collect();
            let one = faces.first().filter(|first| faces.iter().all(|face| face == *first));
            let against = one.map_or_else(String::new, |face| format!("; the {} against it", face.words()));
            told.push(("Fence", format!("{} {to}{against}", mm(fence.mm))));
        }
        if self.setting.depth > 0.0 {
            told.push(("Depth", mm(self.setting.depth)));
        }
        if let Some((passes, each)) = self.passes_in_depth() {
            told.push(("Passes", format!("{passes}, each {} deeper", trimmed_to(each, 1))));
        }
        if self.setting.width > 0.0 {
            told.push(("Wide", mm(self.setting.width)));
        }
        if !self.setting.passes.is_empty() {
            let on: Vec<String> = self.setting.passes.iter().map(|pass| mm(*pass)).collect();
            let what = if self.setting.fence.is_some() { "fence" } else { "stop" };
            let from = if on.len() > 1 { ", each from the first setting" } else { "" };
            told.push(("Then", format!("the {what} moved on by {}{from}, which widens it", on.join(", then by "))));
        }
        if let Some(turned) = self.turned {
            let all = self.cuts.iter().all(|on| on.turns);
            let mut of: Vec<&str> = self.cuts.iter().filter(|on| on.turns).map(|on| on.mark.as_str()).collect();
            of.dedup();
            let of = if all { String::new() } else { format!("{}: ", of.join(", ")) };
            let words = format!(
                "{of}fence {} from the near wall, cut, turn end for end, cut again: centred, from stock of {}",
                mm(turned.fence),
                mm(turned.stock)
            );
            told.push(("Or in two passes", words));
        }
        if !self.otherwise.is_empty() {
            let name = if self.tool.is_none() && self.setting.work.tool().is_some() { "Without a tool for it" } else { "How" };
            told.push((name, self.otherwise.to_owned()));
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

    /// Where it is cut, one after the other; and which face lies against the fence, where that is not the same for all of the card.
    pub fn places(&self, setup: &Setup) -> String {
        let differ = setup.cuts.iter().any(|other| other.against != self.against);
        let against = self.against.filter(|_| differ).map_or_else(String::new, |face| format!("{} to the fence: ", face.words()));
        against + &self.at.iter().map(|at| at.words.as_str()).collect::<Vec<_>>().join("; ")
    }
}

fn mm(mm: f64) -> String {
    trimmed_to(mm, 2)
}
