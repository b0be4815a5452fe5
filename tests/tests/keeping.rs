//! What a case must hold has its place: with hand room, on shelves that carry it, and where shelves were moved, there too.

use casewright_core::contents::arrange::{Arrangement, Effort, ShelvesMay, arrange, laid};
use casewright_core::contents::changes;
use casewright_core::design::{BaySize, Bears, BoxKind, Design, Fitting, Lies, Opening, Shelves, Taken, decisions, text};
use casewright_core::inspect::Rule;
use casewright_core::{DryFit, Finding, Length, ShapeCache, derive};
use proptest::prelude::*;

fn demo() -> Design {
    text::read(include_str!("../../examples/records_cabinet.ron")).expect("the demo")
}

fn arranged(design: &Design, may: ShelvesMay) -> Arrangement {
    let model = derive(design).expect("a case");
    arrange(design, &model, may, Effort::steps(200_000)).expect("an arrangement")
}

/// Everything that must be true of where things stand, worked out from nothing but the places themselves.
fn faults(design: &Design, arrangement: &Arrangement) -> Vec<String> {
    let hand = &design.hand_room;
    let mut faults = Vec::new();
    let mut placed = vec![0; design.contents.len()];
    for row in &arrangement.rows {
        let name = row.name();
        for (index, stack) in row.stacks.iter().enumerate() {
            let kind = &design.contents[stack.kind];
            placed[stack.kind] += stack.count;
            let (low, high) = (stack.block.min - row.space.min, row.space.max - stack.block.max);
            if low.min_element() < -1e-6 || high.min_element() < -1e-6 {
                faults.push(format!("{name}: {} stands out of it", kind.name));
            }
            let over = if kind.taken == Taken::Lifted { hand.lift.to_mm() } else { hand.over.to_mm() };
            if high.y < over - 1e-6 || low.z < hand.behind.to_mm() - 1e-6 {
                faults.push(format!("{name}: no hand room about {}", kind.name));
            }
            let right = row.stacks.get(index + 1).map_or(row.space.max.x, |next| next.block.min.x);
            if right - stack.block.max.x < hand.beside.to_mm() - 1e-3 || low.x < hand.beside.to_mm() - 1e-3 {
                faults.push(format!("{name}: {} stands too close", kind.name));
            }
            if kind.mass > hand.heavy && row.space.min.y > hand.heavy_up_to.to_mm() + 1e-6 {
                faults.push(format!("{name}: {} is too heavy to be so high", kind.name));
            }
        }
        if row.carries.is_some_and(|carries| row.kg() > carries + 1e-3) {
            faults.push(format!("{name}: {} kg", row.kg()));
        }
    }
    for (kind, (listed, placed)) in design.contents.iter().zip(&placed).enumerate() {
        let left: u32 = arrangement.left.iter().filter(|left| left.kind == kind).map(|left| left.count).sum();
        if placed + left != listed.wanted() {
            faults.push(format!("{}: {placed} placed and {left} left of {}", listed.name, listed.wanted()));
        }
    }
    faults
}

fn some_kind() -> impl Strategy<Value = BoxKind> {
    let lies = prop::sample::select(vec![Lies::AsItStands, Lies::Turned, Lies::OnItsSide, Lies::AnyWay]);
    ((60.0..480.0_f64, 80.0..430.0_f64, 50.0..420.0_f64), 0.2..18.0_f64, 1..9_u32, lies, any::<bool>(), 0.0..40.0_f64).prop_map(
        |((width, depth, height), mass, count, lies, lifted, spare)| {
            let round = |mm: f64| (mm * 2.0).round() / 2.0;
            let mut kind = BoxKind::new("thing", [round(width), round(depth), round(height)], mass, count);
            (kind.lies, kind.spare) = (lies, spare);
            if lifted {
                (kind.taken, kind.nests) = (Taken::Lifted, Length::mm(10.0));
            }
            kind
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

    #[test]
    fn whatever_is_listed_is_placed_as_it_must_be_or_told(contents in prop::collection::vec(some_kind(), 1..7)) {
        let design = Design { contents, ..demo() };
        for may in [ShelvesMay::Stay, ShelvesMay::Move, ShelvesMay::Come] {
            let arrangement = arranged(&design, may);
            prop_assert_eq!(faults(&design, &arrangement), Vec::<String>::new(), "{:?}", may);
            prop_assert!(arrangement.placed <= arrangement.most && arrangement.most <= arrangement.wanted);
        }
        // Once the shelves are laid, as much has a place as is said, and no less than before.
        let (after, there) = laid(&design, ShelvesMay::Move, Effort::steps(200_000)).expect("an arrangement").expect("a case");
        prop_assert_eq!(faults(&after, &there), Vec::<String>::new());
        let model = derive(&after).expect("a case");
        prop_assert_eq!(arrange(&after, &model, ShelvesMay::Stay, Effort::steps(200_000)).expect("an arrangement").placed, there.placed);
    }
}

/// What the dry fit says of things without a place.
fn without_place(design: &Design) -> Option<Finding> {
    let model = derive(design).expect("a case");
    let solids = ShapeCache::default().shape(&model);
    DryFit::of(design, &model, &solids).findings.into_iter().find(|finding| finding.rule == Rule::AllPlaced)
}

#[test]
fn what_has_no_place_is_told_and_laying_the_shelves_mends_it() {
    assert!(without_place(&demo()).is_none(), "all of the demo has a place");
    let mut mended = 0;
    for teeth in [[12, 16, 32], [14, 24, 34], [12, 26, 32], [16, 22, 28]] {
        let mut design = demo();
        let Opening::Split(split) = &mut design.interior else { panic!("the demo is divided") };
        split.bays[0].opening = Opening::Leaf(Fitting::Sawtooth(Shelves { shelves: teeth.to_vec() }));
        let Some(finding) = without_place(&design) else { continue };
        assert!(finding.message.contains("of 21 have no place with the shelves as they lie"), "{}", finding.message);
        let Some(remedy) = finding.remedies.first() else { continue };
        for (path, value) in &remedy.changes {
            decisions::set(&mut design, path, value).unwrap_or_else(|error| panic!("{path}: {error}"));
        }
        let after = arranged(&design, ShelvesMay::Stay);
        assert_eq!(remedy.words.contains("all have one"), after.left.is_empty(), "{}: {:?}", remedy.words, after.left);
        mended += 1;
    }
    assert!(mended > 0, "none of these was mended");
}

#[test]
fn the_least_change_gives_everything_a_place_and_a_step_less_does_not() {
    let mut design = demo();
    decisions::set(&mut design, "contents.1.count", "6").expect("a count");
    let found = changes(&design);
    assert!(found.len() >= 2, "more than one way: {:?}", found.iter().map(|change| &change.words).collect::<Vec<_>>());
    for change in &found {
        let stay = arranged(&change.design, ShelvesMay::Stay);
        assert!(stay.left.is_empty(), "{}: {:?}", change.words, stay.left);
        assert_eq!(faults(&change.design, &stay), Vec::<String>::new(), "{}", change.words);
    }
}

/// Common practice, no source: four stacking containers of 594 × 396 × 280 that nest by 15, two columns two high, three gaps of 8, stand in a
/// bay 1212 wide and 410 deep with 580 from shelf to shelf; a fifth of 320 makes the shelves lie otherwise.
#[test]
fn stacking_containers_take_one_row_and_a_higher_one_moves_the_shelves() {
    let mut design = demo();
    design.carcase.width = Length::mm(1212.0 + 2.0 * 48.0);
    let Opening::Split(split) = &mut design.interior else { panic!("the demo is divided") };
    split.bays.truncate(1);
    split.bays[0].size = BaySize::Share(1.0);
    split.bays[0].opening = Opening::Leaf(Fitting::Sawtooth(Shelves { shelves: Vec::new() }));
    (design.hand_room.beside, design.hand_room.behind) = (Length::mm(8.0), Length::mm(14.0));
    let mut low = BoxKind::new("container", [594.0, 396.0, 280.0], 5.0, 4);
    (low.nests, low.taken, low.bears) = (Length::mm(15.0), Taken::Lifted, Bears::One);
    let high = BoxKind { name: "high container".to_owned(), height: Length::mm(320.0), count: 1, ..low.clone() };

    design.contents = vec![low.clone()];
    let four = arranged(&design, ShelvesMay::Move);
    assert_eq!((four.placed, faults(&design, &four)), (4, Vec::new()));
    let full: Vec<_> = four.rows.iter().filter(|row| !row.stacks.is_empty()).collect();
    assert!(full.iter().all(|row| row.stacks.iter().all(|stack| (stack.block.size().x - 594.0).abs() < 1e-9)));
    let [row] = full.as_slice() else { panic!("one row: {full:?}") };
    assert!(row.stacks.len() == 2 && row.stacks.iter().all(|stack| (stack.block.size().y - 545.0).abs() < 1e-9), "{row:?}");
    assert!(row.space.size().y >= 580.0 - 1e-9, "{row:?}");
    design.contents = vec![BoxKind { count: 3, ..low }, high];
    let five = arranged(&design, ShelvesMay::Come);
    assert_eq!((five.placed, faults(&design, &five)), (4, Vec::new()));
    let rows: Vec<f64> = five.rows.iter().filter(|row| !row.stacks.is_empty()).map(|row| row.space.size().y).collect();
    assert!(rows.iter().any(|height| *height >= 355.0), "320 and 35 to lift: {rows:?}");
}
