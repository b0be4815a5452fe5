//! How long the panels of the demo take in a frame, from what is known to the triangles of it: 16 ms is all that a frame has.

#[path = "../tests/hand/mod.rs"]
mod hand;

use casewright::ask::Selection;
use casewright::laid::{Bought, Laid, Leaf, Sought};
use casewright::panels::{self, Out, Stage};
use casewright::theme;
use casewright_core::boards::{Effort, buy, cut};
use casewright_core::design::{dealer, pile};
use casewright_core::table::Bare;
use divan::{Bencher, black_box};
use hand::Hand;

fn main() {
    divan::main();
}

/// The demo with a pile of boards and a dealer's list, laid out in a few rounds.
fn demo(stage: Stage, leaf: Leaf) -> Hand {
    let mut design = casewright::demo();
    design.shop.pile = pile::read(include_str!("../../../examples/pile.csv"), Bare::Mm).rows;
    design.shop.dealer = dealer::read(include_str!("../../../examples/dealer.csv"), Bare::Mm).rows;
    let mut hand = Hand::new(design, stage, Selection::default());
    let (design, model, now) = (hand.session.design(), &hand.derived.model, hand.derived.generation);
    (hand.laid, hand.bought) = (
        Laid(Sought::known(now, cut(design, model, Effort::rounds(1)))),
        Bought(Sought::known(now, buy(design, model, &design.shop.dealer, Effort::rounds(1)))),
    );
    hand.leaf = leaf;
    hand
}

/// Frames of a window in which nothing is pointed at; letters and layouts are known from the frames before.
fn frames(bencher: Bencher, hand: &Hand) {
    let context = egui::Context::default();
    let size = egui::Rect::from_min_size(egui::Pos2::ZERO, egui::vec2(1440.0, 900.0));
    let frame = || {
        let input = egui::RawInput { screen_rect: Some(size), ..egui::RawInput::default() };
        let drawn = context.run_ui(input, |ui| panels::ui(ui, &hand.view(), &mut Out::default()));
        context.tessellate(drawn.shapes, drawn.pixels_per_point).len()
    };
    theme::apply(&context);
    for _ in 0..4 {
        frame();
    }
    bencher.bench_local(|| black_box(frame()));
}

#[divan::bench(args = Stage::ALL)]
fn stages(bencher: Bencher, stage: Stage) {
    frames(bencher, &demo(stage, Leaf::Parts));
}

#[divan::bench(args = Leaf::ALL)]
fn leaves_of_boards(bencher: Bencher, leaf: Leaf) {
    frames(bencher, &demo(Stage::Boards, leaf));
}
