//! The part sheets: each mark once, mirrored pairs together, no words on others. What their figures say is read in `dimensions`.

mod designs;

use casewright_core::design::{Design, text};
use casewright_core::model::{Material, PartKind};
use casewright_core::{CutList, Model, ShapeCache, Solids, derive};
use casewright_sheets::drawing::{Drafting, PartDrawing, Pen, Sheet, part_drawings};
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

/// Words split where no letter and no digit stands; without the marks of mirror images that a view names its face for, as "(P2: back side)" does.
fn tokens(text: &str) -> impl Iterator<Item = &str> {
    let words = text.split_whitespace().filter(|word| !(word.starts_with('(') && word.ends_with(':')));
    words.flat_map(|word| word.split(|c: char| !c.is_alphanumeric())).filter(|token| !token.is_empty())
}

/// All that is written on a part, in one line.
fn words(part: &PartDrawing) -> String {
    part.ink.texts.iter().map(|text| text.text.as_str()).collect::<Vec<_>>().join(" ")
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

/// By hand, from the demo: the left posts have their front and back rails at the back edge, which is the back side of the right ones; a right side rail is
/// the left one turned end for end.
#[test]
fn views_of_a_mirrored_pair_are_named_for_both() {
    let case = Case::of(text::read(designs::EXAMPLES[0]).expect("the demo"));
    let parts = case.parts(&Drafting::default());
    let of = |mark: &str| words(parts.iter().find(|part| part.mark == mark).expect("a part"));
    assert!(of("P1").contains("Back edge (P2: back side)"), "{}", of("P1"));
    assert!(of("P1").contains("Back side (P2: back edge)"), "{}", of("P1"));
    let rail = parts.iter().find(|part| part.mirror.is_some() && part.mark.starts_with('R')).expect("a pair of rails");
    let other = rail.mirror.as_deref().expect("its mirror image");
    assert!(words(rail).contains(&format!("({other}: from the second end)")), "{}", words(rail));
}

/// Two heads of two lines each at the ends of a level line: the arrow along the grain, on whatever else is drawn.
fn arrows(part: &PartDrawing) -> usize {
    let thin: Vec<[DVec2; 2]> = part
        .ink
        .strokes
        .iter()
        .filter(|stroke| stroke.pen == Pen::Thin && stroke.points.len() == 2)
        .map(|it| [it.points[0], it.points[1]])
        .collect();
    let heads =
        |tip: DVec2| thin.iter().filter(|[a, b]| a.distance(tip) < 1e-6 && (b.x - a.x).abs() > 1.5 && (b.y - a.y).abs() > 0.5).count();
    thin.iter().filter(|[a, b]| (a.y - b.y).abs() < 1e-6 && (b.x - a.x - 12.0).abs() < 1e-6 && heads(*a) == 2 && heads(*b) == 2).count()
}

#[test]
fn every_part_of_timber_has_the_way_of_its_grain_once() {
    for case in cases() {
        for sheet in [Sheet::A3, Sheet::Letter] {
            for part in case.parts(&Drafting { sheet, ..Drafting::default() }) {
                let of = case.model.parts.iter().find(|of| of.mark == part.mark).expect("a part of that mark");
                let runs = !matches!(of.material, Material::Bought(_)) && case.model.timbers.grain(&of.material) != "none";
                assert_eq!(arrows(&part), usize::from(runs), "{}: {} on {}", case.design.name, part.mark, sheet.name());
            }
        }
    }
}

/// The top front rail of the demo is 1264 long and the sheet 159.9 wide between its binding and its border: at 1:10 the rail is 126.4, with its figures beside it.
#[test]
fn a_long_part_takes_the_width_of_an_upright_sheet() {
    let case = Case::of(text::read(designs::EXAMPLES[0]).expect("the demo"));
    for sheet in [Sheet::A4, Sheet::Letter] {
        let parts = case.parts(&Drafting { sheet, ..Drafting::default() });
        let long = |part: &&PartDrawing| {
            let of = case.model.parts.iter().find(|of| of.mark == part.mark).expect("a part of that mark");
            of.kind == PartKind::Rail && of.lwt().x > 1200.0
        };
        let scales: Vec<f64> = parts.iter().filter(long).map(|part| part.scale).collect();
        assert!(!scales.is_empty() && scales.iter().all(|scale| *scale <= 10.0), "{scales:?} on {}", sheet.name());
    }
}

/// A pin is bought as it is: nobody marks it out.
#[test]
fn what_is_bought_has_no_face_side_and_no_cuts() {
    let case = Case::of(text::read(designs::EXAMPLES[1]).expect("the bookcase"));
    let pin = case.model.parts.iter().find(|part| part.kind == PartKind::Pin).expect("a pin");
    let drawn = case.parts(&Drafting::default()).into_iter().find(|part| part.mark == pin.mark).expect("it is drawn");
    let told = words(&drawn);
    assert!(told.contains("bought") && told.contains('Ø'), "{told}");
    for word in ["face side", "Face side", "edge", "rounded"] {
        assert!(!told.contains(word), "{word} in {told}");
    }
}

#[test]
fn no_words_of_the_part_sheets_stand_on_others_or_off_the_sheet() {
    let mut wrong = Vec::new();
    for case in cases() {
        for sheet in [Sheet::A3, Sheet::A4, Sheet::Letter] {
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
