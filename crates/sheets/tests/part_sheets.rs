//! The part sheets, read back: each mark once, each figure right, and enough of them to cut every part.

use casewright_core::design::{Design, decisions, text};
use casewright_core::length::Units;
use casewright_core::model::{Feature, Part, Stop};
use casewright_core::{CutList, Model, ShapeCache, Solids, derive};
use casewright_sheets::drawing::{Decimal, Dimension, Drafting, PartDrawing, Sheet, part_drawings};
use casewright_sheets::part_pages;
use casewright_solid::{Axis, Facets, Prism, Segment};
use glam::{DVec2, DVec3};

const EXAMPLES: [&str; 5] = [
    include_str!("../../../examples/records_cabinet.ron"),
    include_str!("../../../examples/bookcase_on_pins.ron"),
    include_str!("../../../examples/jar_store_on_cleats.ron"),
    include_str!("../../../examples/linen_shelves_housed.ron"),
    include_str!("../../../examples/workroom_mixed.ron"),
];

/// Other ways to build the demo, so that other cuts are on the sheets.
const WAYS: [&[(&str, &str)]; 5] = [
    &[("joinery.rail_to_post.by", "mortise_and_tenon"), ("carcase.top.fixing", "clips")],
    &[("joinery.rail_to_post.by", "dowels"), ("carcase.top.fixing", "plates"), ("carcase.top.edges.shape", "chamfer")],
    &[
        ("sawtooth.teeth", "half_round"),
        ("sawtooth.seat", "10"),
        ("carcase.top.fixing", "slotted_screws"),
        ("carcase.top.edges.shape", "round"),
    ],
    &[("joinery.rail_to_post.meeting", "mitred"), ("joinery.rail_to_post.by", "mortise_and_tenon"), ("carcase.bottom.pieces", "lapped")],
    &[("joinery.groove.cutter_kind", "slot"), ("joinery.stile_to_rail.by", "mortise_and_tenon")],
];

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

    /// The part that a drawing is of, and the one that is its mirror image.
    fn part(&self, mark: &str) -> &Part {
        self.model.parts.iter().find(|part| part.mark == mark).expect("a part of that mark")
    }
}

fn cases() -> Vec<Case> {
    let mut designs: Vec<Design> = EXAMPLES.map(|example| text::read(example).expect("an example")).into();
    for way in WAYS {
        let mut design = text::read(EXAMPLES[0]).expect("the demo");
        for (name, value) in way {
            decisions::set(&mut design, name, value).expect("a decision");
        }
        designs.push(design);
    }
    designs.into_iter().map(Case::of).collect()
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
    let case = Case::of(text::read(EXAMPLES[0]).expect("the demo"));
    let parts = case.parts(&Drafting::default());
    let posts: Vec<_> = parts.iter().filter(|part| part.mark.starts_with('P') && !part.mark.starts_with("PA")).collect();
    assert_eq!(posts.iter().map(|part| part.mark.as_str()).collect::<Vec<_>>(), ["P1", "P3"]);
    assert_eq!(posts.iter().map(|part| part.mirror.as_deref()).collect::<Vec<_>>(), [Some("P2"), Some("P4")]);
    assert!(posts.iter().all(|part| part.ink.texts.iter().any(|text| text.text.contains("the mirror image"))));
}

/// All numbers among words, mm.
fn numbers(text: &str, drafting: &Drafting) -> Vec<f64> {
    let number = |c: char| c.is_ascii_digit() || c == '.' || c == ',';
    let words = text.split(|c: char| !number(c)).map(|word| word.trim_end_matches(['.', ',']));
    words.filter(|word| !word.is_empty()).filter_map(|word| drafting.read(word)).collect()
}

#[test]
fn every_figure_says_what_it_measures_in_any_unit() {
    let draftings = [
        Drafting::default(),
        Drafting { decimal: Decimal::Comma, sheet: Sheet::A4, ..Drafting::default() },
        Drafting { units: Units::Inches, sheet: Sheet::Letter, ..Drafting::default() },
    ];
    let mut figures = 0;
    for case in cases() {
        for drafting in &draftings {
            // Half of a thousandth of an inch, or of a hundredth of a millimetre.
            let rounding = if drafting.units == Units::Inches { 0.0128 } else { 0.00501 };
            for part in case.parts(drafting) {
                let size = case.part(&part.mark).lwt();
                for it in &part.ink.dimensions {
                    let text = &part.ink.texts[it.text].text;
                    let said = numbers(text, drafting);
                    let right = said.iter().any(|figure| (figure - (it.to - it.from)).abs() <= rounding);
                    assert!(right, "{}, {}: \"{text}\" for {it:?}", case.design.name, part.mark);
                    assert!(it.axis < 3 && it.from > -60.0 && it.to < size[it.axis] + 60.0, "{}: {it:?}", part.mark);
                    figures += 1;
                }
            }
        }
    }
    assert!(figures > 3000, "{figures}");
}

/// The places of a part that its figures lead to: a figure that begins or ends at a place leads to its other end, and one whose middle is a place to both.
fn known(dimensions: &[Dimension], axis: usize) -> Vec<f64> {
    let mut known = vec![0.0];
    let knows = |known: &[f64], at: f64| known.iter().any(|other| (other - at).abs() < 6e-3);
    loop {
        let before = known.len();
        for it in dimensions.iter().filter(|it| it.axis == axis) {
            if [it.from, it.to, f64::midpoint(it.from, it.to)].iter().any(|at| knows(&known, *at)) {
                for at in [it.from, it.to] {
                    if !knows(&known, at) {
                        known.push(at);
                    }
                }
            }
        }
        if known.len() == before {
            return known;
        }
    }
}

/// Where a round crosses another cut the corner lies on a facet of it, no farther from the true round than this, mm.
const FACETS: f64 = 0.06;

/// Whether a corner lies on a round of a prism, and is not as far out as the prism goes along an axis.
fn on_a_round(prism: &Prism, corner: DVec3, axis: usize) -> bool {
    let (u, v, along) = match prism.axis {
        Axis::L => (1, 2, 0),
        Axis::W => (2, 0, 1),
        Axis::T => (0, 1, 2),
    };
    if axis == along {
        return false;
    }
    let at = DVec2::new(corner[u], corner[v]);
    let corners = prism.profile.facets(Facets::PerTurn(4));
    let of = |at: DVec2| if axis == u { at.x } else { at.y };
    let extreme = corners.iter().map(|at| of(*at)).fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), at| (a.min(at), b.max(at)));
    let is_extreme = (of(at) - extreme.0).abs() < 1e-6 || (of(at) - extreme.1).abs() < 1e-6;
    let mut from = prism.profile.start();
    let mut on = false;
    for segment in prism.profile.segments() {
        if let Segment::Arc { centre, .. } = segment {
            on |= (at.distance(*centre) - from.distance(*centre)).abs() < FACETS;
        }
        from = segment.to();
    }
    on && !is_extreme
}

/// Where the cuts of a row begin and end, which its pitch leads to.
fn in_rows(part: &Part, axis: usize) -> Vec<f64> {
    let mut all = Vec::new();
    for cut in &part.cuts {
        match cut.feature {
            Feature::Teeth { first, pitch, crest, count, .. } if axis == 0 => {
                all.extend((0..count).flat_map(|tooth| [0.0, pitch - crest].map(|at| first + pitch * f64::from(tooth) + at)));
            }
            Feature::HalfRounds { first, pitch, radius, count } if axis == 0 => {
                all.extend((0..count).flat_map(|round| [0.0, radius, 2.0 * radius].map(|at| first + pitch * f64::from(round) + at)));
            }
            Feature::HoleRow { first, pitch, count, diameter, .. } if axis == 0 => {
                all.extend((0..count).flat_map(|hole| [-0.5, 0.0, 0.5].map(|at| first.x + pitch * f64::from(hole) + at * diameter)));
            }
            _ => {}
        }
    }
    all
}

#[test]
fn the_figures_are_enough_to_cut_every_part() {
    let drafting = Drafting::default();
    let (mut corners, mut wrong) = (0, Vec::new());
    for case in cases() {
        for drawing in case.parts(&drafting) {
            let part = case.part(&drawing.mark);
            let Some(shape) = case.solids.shape(part.id) else { continue };
            let prisms = part.solid().prisms;
            for axis in 0..3 {
                let mut known = known(&drawing.ink.dimensions, axis);
                known.extend(in_rows(part, axis));
                let length = part.lwt()[axis];
                if !known.iter().any(|at| (at - length).abs() < 6e-3) {
                    wrong.push(format!("{}, {}: how large it is on axis {axis}", case.design.name, drawing.mark));
                }
                for corner in &shape.positions {
                    corners += 1;
                    let round = prisms.iter().any(|prism| on_a_round(prism, *corner, axis));
                    if !round && !known.iter().any(|at| (at - corner[axis]).abs() < 6e-3) {
                        wrong.push(format!("{}, {}, axis {axis}: {:.3}", case.design.name, drawing.mark, corner[axis]));
                    }
                }
                for cut in &part.cuts {
                    if let (0, Feature::Groove { from, to, through, stop, width, depth, .. }) = (axis, &cut.feature) {
                        let out = match stop {
                            Stop::Round => 0.0,
                            Stop::Ramp { .. } => stop.run_out(*width, *depth),
                        };
                        let ends = [(through[0], [*from, from - out]), (through[1], [*to, to + out])];
                        for at in ends.into_iter().filter(|(through, _)| !through).flat_map(|(_, at)| at) {
                            if at > 1e-3 && at < length - 1e-3 && !known.iter().any(|known| (known - at).abs() < 6e-3) {
                                wrong.push(format!("{}, {}: groove at {at}", case.design.name, drawing.mark));
                            }
                        }
                    }
                }
            }
        }
    }
    wrong.sort();
    wrong.dedup();
    assert!(wrong.is_empty(), "{} are missing:\n{}", wrong.len(), wrong.iter().take(40).cloned().collect::<Vec<_>>().join("\n"));
    assert!(corners > 10_000, "{corners}");
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
