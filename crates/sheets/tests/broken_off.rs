//! What is being made is broken off between its pages and parts, wherever that is asked.

use std::sync::atomic::{AtomicUsize, Ordering};

use casewright_core::design::pile;
use casewright_core::table::Bare;
use casewright_core::{Sequence, ShapeCache, derive};
use casewright_sheets::{BrokenOff, How, Packed, PacketError, Piece, SheetError, Stop, packet_pdf};

#[test]
fn every_piece_hears_it_within_and_makes_nothing_more() {
    let text = include_str!("../../../examples/records_cabinet.ron");
    let mut design = casewright_core::design::text::read(text).expect("the demo");
    design.shop.pile = pile::read(include_str!("../../../examples/pile.csv"), Bare::Mm).rows;
    let model = derive(&design).expect("the demo");
    let solids = ShapeCache::default().shape(&model);
    let (order, how) = (Sequence::of(&design, &model, &solids), How::default());
    let mut papers = Vec::new();
    for piece in Piece::ALL {
        // Goes on until it was asked so often; how often it was.
        let make = |go_on: usize| {
            let asked = AtomicUsize::new(0);
            let stopped = || asked.fetch_add(1, Ordering::Relaxed) >= go_on;
            let stop = Stop::by(&stopped);
            let (design, model, solids) = (&design, &model, &solids);
            let made = piece.make(&Packed { design, model, solids, findings: &[], order: Some(&order), how: &how, stop });
            (made, asked.into_inner())
        };
        let (whole, times) = make(usize::MAX);
        let whole = whole.expect("it is made");
        let parts = match piece {
            Piece::Stl | Piece::ThreeMf | Piece::Svg | Piece::Dxf => whole.len(),
            Piece::Gltf | Piece::Step | Piece::PartSheets => 20,
            Piece::Drawings | Piece::Tables => 8,
            Piece::Rod
            | Piece::Templates
            | Piece::OrderOfWork
            | Piece::CutList
            | Piece::Labels
            | Piece::SetUpCards
            | Piece::ShelfPlan
            | Piece::BoardPlans => 2,
        };
        assert!(times >= parts, "{}: asked {times} times within", piece.word());
        for last in [0, times / 2, times - 1] {
            let (made, asked) = make(last);
            assert!(matches!(made, Err(PacketError::BrokenOff(BrokenOff))), "{}, asked {last} times", piece.word());
            assert_eq!(asked, last + 1, "{}: it is not asked again", piece.word());
        }
        if piece.is_paper() {
            papers.extend(whole);
        }
    }
    let stopped = || true;
    assert_eq!(packet_pdf("Records cabinet", &papers, Stop::by(&stopped)), Err(SheetError::BrokenOff(BrokenOff)));
}
