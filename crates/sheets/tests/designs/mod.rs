//! The examples, and other ways to build the demo.

use casewright_core::design::{Design, decisions, text};

/// The designs that come with the project.
pub const EXAMPLES: [&str; 5] = [
    include_str!("../../../../examples/records_cabinet.ron"),
    include_str!("../../../../examples/bookcase_on_pins.ron"),
    include_str!("../../../../examples/jar_store_on_cleats.ron"),
    include_str!("../../../../examples/linen_shelves_housed.ron"),
    include_str!("../../../../examples/workroom_mixed.ron"),
];

/// Other ways to build the demo, so that other cuts are on the sheets.
pub const WAYS: [&[(&str, &str)]; 5] = [
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

/// All of them.
pub fn all() -> Vec<Design> {
    let mut designs: Vec<Design> = EXAMPLES.map(|example| text::read(example).expect("an example")).into();
    for way in WAYS {
        let mut design = text::read(EXAMPLES[0]).expect("the demo");
        for (name, value) in way {
            decisions::set(&mut design, name, value).expect("a decision");
        }
        designs.push(design);
    }
    designs
}
