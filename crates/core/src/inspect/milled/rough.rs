//! Parts that are roughed larger than planned: still to come to their sizes, and taken for planned till then.

use super::large_word;
use crate::design::{Design, Dimension};
use crate::inspect::{Figure, Finding, Rule, Seriousness, TOUCH, mm};
use crate::model::{Material, Model, Part, is_made};

/// A size of a part that is still to be brought to what is planned, and what it measures, mm.
struct Over<'m> {
    part: &'m Part,
    of: Dimension,
    measured: f64,
}

impl Over<'_> {
    fn wanted(&self) -> f64 {
        self.part.size[self.of.index()].mm
    }

    fn is_like(&self, other: &Over<'_>) -> bool {
        let same = |a: f64, b: f64| (a - b).abs() <= TOUCH;
        (self.part.kind, self.of) == (other.part.kind, other.of)
            && same(self.measured, other.measured)
            && same(self.wanted(), other.wanted())
    }
}

/// A note on each size that is still to be sawn or planed; parts alike together.
pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    let records = design.shop.parts.iter().filter(|record| !record.state.is_cut());
    let over = records.filter_map(|record| Some((record, model.find(&record.part)?))).flat_map(|(record, part)| {
        Dimension::ALL.into_iter().filter_map(move |of| {
            let (measured, size) = (record.measured(of)?.to_mm(), &part.size[of.index()]);
            (!is_made(size) && measured > size.mm + TOUCH).then_some(Over { part, of, measured })
        })
    });
    let mut groups: Vec<Vec<Over<'_>>> = Vec::new();
    for over in over {
        match groups.iter_mut().find(|group| group[0].is_like(&over)) {
            Some(group) => group.push(over),
            None => groups.push(vec![over]),
        }
    }
    groups.iter().map(|group| finding(group)).collect()
}

fn finding(group: &[Over<'_>]) -> Finding {
    let first = &group[0];
    let (who, they) = match group.len() {
        1 => (format!("{} is", first.part.title), "it measures"),
        more => (format!("{} and {} more are", first.part.title, more - 1), "they measure"),
    };
    let sawn = first.of == Dimension::Length || matches!(first.part.material, Material::Sheet(_));
    let (how, wanted) = (if sawn { "cut" } else { "planed" }, first.wanted());
    Finding {
        rule: Rule::MadePartFits,
        seriousness: Seriousness::Note,
        parts: group.iter().map(|over| over.part.id).collect(),
        explains: Vec::new(),
        joint: None,
        place: Some(first.part.block().centre()),
        figures: vec![Figure::mm("there", first.measured), Figure::mm("wanted", wanted)],
        message: format!(
            "{who} still to be {how} to {} mm: {they} {}, {} too {}",
            mm(wanted),
            mm(first.measured),
            mm(first.measured - wanted),
            large_word(first.of)
        ),
        source: "the design",
        remedies: Vec::new(),
    }
}
