//! The part sheets: each mark once, mirrored pairs together, no words on others. What their figures say is read in `dimensions`.

mod designs;

use casewright_core::design::{Design, text};
use casewright_core::{CutList, Model, ShapeCache, Solids, derive};
use casewright_sheets::drawing::{Drafting, PartDrawing, Sheet, part_drawings};
use casewright_sheets::part_pages;
use glam::DVec2;

struct Case {
    design: Design,
    model: Model,
    solids: Solids,
}

impl Case {
    fn of(design: Design) -> Case {
        let model = derive(&design).expect("a case");
        let solids = ShapeCache::default().shape(&model);
        Case { design, model, solids }
    }

    fn parts(&self, drafting: &Drafting) -> Vec<PartDrawing> {
        part_drawings(&self.design, &self.model, &self.solids, drafting)
    }
}

fn cases() -> Vec<Case> {
    designs::all().into_iter().map(Case::of).collect()
}

/// Words split where no letter and no digit stands.
fn tokens(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !c.is_alphanumeric()).filter(|token| !token.is_empty())
}

#[test]
fn every_mark_of_the_cut_list_stands_once_on_the_part_sheets() {
    for case in cases() {
        for sheet in [Sheet::A3, Sheet::A4] {
            let pages = part_pages(&case.design, &case.model, &case.solids, &Drafting { sheet, ..Drafting::default() });
            let said: Vec<&str> = pages.iter().flat_map(|page| &page.ink.texts).flat_map(|text| tokens(&text.text)).collect();
            for row in &CutList::of(&case.design, &case.model).rows {
                let times = said.iter().filter(|token| **token == row.mark).count();
                assert_eq!(times, 1, "{}: {} stands {times} times", case.design.name, row.mark);
            }
        }
    }
}

#[test]
fn a_mirrored_pair_is_drawn_once_and_says_so() {
    let case = Case::of(text::read(designs::EXAMPLES[0]).expect("the demo"));
    let parts = case.parts(&Drafting::default());
    let posts: Vec<_> = parts.iter().filter(|part| part.mark.starts_with('P') && !part.mark.starts_with("PA")).collect();
    assert_eq!(posts.iter().map(|part| part.mark.as_str()).collect::<Vec<_>>(), ["P1", "P3"]);
    assert_eq!(posts.iter().map(|part| part.mirror.as_deref()).collect::<Vec<_>>(), [Some("P2"), Some("P4")]);
    assert!(posts.iter().all(|part| part.ink.texts.iter().any(|text| text.text.contains("the mirror image"))));
}

#[test]
fn no_words_of_the_part_sheets_stand_on_others_or_off_the_sheet() {
    let mut wrong = Vec::new();
    for case in cases() {
        for sheet in [Sheet::A3, Sheet::A4] {
            for page in part_pages(&case.design, &case.model, &case.solids, &Drafting { sheet, ..Drafting::default() }) {
                for (index, one) in page.ink.texts.iter().enumerate() {
                    let (min, max) = one.room();
                    if !(min.cmpgt(DVec2::splat(9.0)).all() && max.cmplt(page.size - 9.0).all()) {
                        wrong.push(format!("{}: \"{}\" is off sheet {}", case.design.name, one.text, page.name));
                    }
                    for other in &page.ink.texts[index + 1..] {
                        let (low, high) = other.room();
                        if !(min.cmpge(high - 0.1).any() || low.cmpge(max - 0.1).any()) {
                            wrong.push(format!("{}: \"{}\" on \"{}\", {}", case.design.name, one.text, other.text, page.name));
                        }
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}:\n{}", wrong.len(), wrong.iter().take(30).cloned().collect::<Vec<_>>().join("\n"));
}
