//! Papers in inches: no figure in millimetres is left on any of them, and what is sold by a name keeps it.

use std::collections::BTreeSet;

use casewright_core::design::pile;
use casewright_core::length::Units;
use casewright_core::setup::setups;
use casewright_core::table::Bare;
use casewright_core::takeoff::TakeOff;
use casewright_core::{CutList, Design, Model, Sequence, ShapeCache, Solids, derive};
use casewright_sheets::{Drafting, Figures, How, Packed, Piece, Stop};

/// The designs that come with the project.
const EXAMPLES: [&str; 5] = [
    include_str!("../../../examples/records_cabinet.ron"),
    include_str!("../../../examples/bookcase_on_pins.ron"),
    include_str!("../../../examples/jar_store_on_cleats.ron"),
    include_str!("../../../examples/linen_shelves_housed.ron"),
    include_str!("../../../examples/workroom_mixed.ron"),
];

struct Case {
    design: Design,
    model: Model,
    solids: Solids,
    order: Sequence,
}

impl Case {
    fn of(mut design: Design) -> Case {
        design.shop.pile = pile::read(include_str!("../../../examples/pile.csv"), Bare::Mm).rows;
        let model = derive(&design).expect("a case");
        let solids = ShapeCache::default().shape(&model);
        let order = Sequence::of(&design, &model, &solids);
        Case { design, model, solids, order }
    }

    /// All that stands on a paper, a line each.
    fn texts(&self, piece: Piece, units: Units) -> Vec<String> {
        let how = How { drafting: Drafting { units, ..Drafting::default() }, ..How::default() };
        let Case { design, model, solids, order } = self;
        let packed = Packed { design, model, solids, findings: &[], order: Some(order), how: &how, stop: Stop::default() };
        let pages = piece.pages(&packed).expect("a paper");
        pages.into_iter().flat_map(|page| page.ink.texts).map(|text| text.text).collect()
    }

    /// What is called by figures in millimetres whatever the unit: boards and sheets as they are sold.
    fn names(&self) -> Vec<String> {
        let boards = TakeOff::of(&self.design, &self.model).timber.into_iter().map(|boards| boards.board);
        let materials = self.model.parts.iter().map(|part| self.model.timbers.name(&part.material).to_owned());
        let rough = CutList::of(&self.design, &self.model).rows.into_iter().filter_map(|row| row.rough.map(|rough| rough.words()));
        boards.chain(materials).chain(rough).chain(["100 mm".to_owned()]).collect()
    }
}

fn cases() -> Vec<Case> {
    EXAMPLES.iter().map(|text| Case::of(casewright_core::design::text::read(text).expect("an example"))).collect()
}

/// Numbers in a text, as they stand there.
fn numbers(text: &str) -> Vec<&str> {
    let words = text.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == '/'));
    words.map(|word| word.trim_end_matches('.')).filter(|word| !word.is_empty()).collect()
}

/// Numbers in a text that stand by themselves, and are not the whole inches before a fraction.
fn without_fraction(text: &str) -> Vec<&str> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let is_fraction = |word: Option<&&str>| word.is_some_and(|word| word.starts_with(|c: char| c.is_ascii_digit()) && word.contains('/'));
    words.iter().enumerate().filter(|(at, _)| !is_fraction(words.get(at + 1))).flat_map(|(_, word)| numbers(word)).collect()
}

/// "12 mm" at each place where a number is said in millimetres.
fn in_millimetres(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let is_mm = |word: &str| word.trim_end_matches([',', '.', ';', ':', ')']) == "mm";
    words.windows(2).filter(|pair| is_mm(pair[1])).filter_map(|pair| Some(format!("{} mm", numbers(pair[0]).last()?))).collect()
}

#[test]
fn nothing_is_said_in_millimetres_but_what_is_sold_so() {
    let mut wrong = BTreeSet::new();
    for case in cases() {
        let names = case.names();
        for piece in Piece::papers() {
            for text in case.texts(piece, Units::Inches) {
                for figure in in_millimetres(&text).into_iter().filter(|figure| !names.iter().any(|name| name.contains(figure.as_str()))) {
                    wrong.insert(format!("{}, {}: {figure} in \"{text}\"", case.design.name, piece.word()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// A length of 40 mm or more is never the same number in inches, and nothing on these papers is counted that far but pieces, teeth and holes.
#[test]
fn no_length_keeps_its_number() {
    let papers = [Piece::CutList, Piece::Labels, Piece::SetUpCards, Piece::BoardPlans, Piece::Rod, Piece::Templates, Piece::PartSheets];
    let mut wrong = BTreeSet::new();
    let mut lengths = 0;
    for case in cases() {
        let list = CutList::of(&case.design, &case.model);
        let counted: BTreeSet<String> = list.rows.iter().map(|row| row.parts.len().to_string()).chain([list.count().to_string()]).collect();
        let names = case.names();
        for piece in papers {
            let metric: BTreeSet<String> = case
                .texts(piece, Units::Millimetres)
                .iter()
                .flat_map(|text| numbers(text))
                .filter(|number| number.parse::<f64>().is_ok_and(|mm| mm >= 40.0) && !counted.contains(*number))
                .map(str::to_owned)
                .collect();
            lengths += metric.len();
            for text in case.texts(piece, Units::Inches) {
                let is_sold = |number: &str| names.iter().any(|name| name.starts_with(&format!("{number} mm")));
                let kept = without_fraction(&text).into_iter().filter(|number| metric.contains(*number) && !is_sold(number));
                let kept: Vec<&str> = kept.collect();
                let name = names.iter().any(|name| name.len() > 2 && text.contains(name.as_str()));
                // Of another unit, or counted.
                let other = ["m²", "m³", " kg", " g ", " %", "°", " pieces", " marks"].iter().any(|unit| text.contains(unit));
                if !kept.is_empty() && !name && !other && !text.starts_with("Drawn with reference") {
                    wrong.insert(format!("{}, {}: {kept:?} in \"{text}\"", case.design.name, piece.word()));
                }
            }
        }
    }
    assert!(lengths > 1000, "{lengths}");
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// The cards say in inches what they say in millimetres: fences, depths and widths to a thousandth, the places of the cuts with them (25.4 mm to the inch,
/// the international inch of 1959).
#[test]
fn cards_say_the_same_in_inches() {
    let inches = Figures { units: Units::Inches, ..Figures::default() };
    for case in cases() {
        let told = case.texts(Piece::SetUpCards, Units::Inches).join(" ");
        let all = numbers(&told);
        assert!(told.contains("; inches"), "the unit stands at the head");
        for setup in setups(&case.design, &case.model) {
            let setting = &setup.setting;
            let own = setting.fence.map(|fence| fence.mm).into_iter().chain([setting.depth, setting.width]).filter(|mm| *mm > 0.0);
            // From what is printed in millimetres.
            for figure in own.map(|mm| inches.exact((mm * 100.0).round() / 100.0)) {
                assert!(all.contains(&figure.as_str()), "{}: {figure} of {}", case.design.name, setup.title());
            }
        }
    }
}
