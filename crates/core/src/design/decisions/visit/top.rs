//! The top, and what holds it.

use super::{Stage, Walk};
use crate::design::{Buttons, Clips, EdgeShape, Edges, Plates, Slab, SlottedStrips, TopFixing};

pub(super) fn top_slab(walk: &mut Walk<'_>, slab: &mut Slab) {
    let Slab { thickness, over_front, over_back, over_sides, edges, fixing, buttons, clips, plates, strips } = slab;
    walk.under(Stage::Case, "Top");
    walk.length("thickness", "Thickness", "Thickness of the top, mm.", 8.0..=80.0, thickness);
    walk.length("over_front", "Over front", "How far the top stands over the front of the posts, mm.", 0.0..=200.0, over_front);
    walk.length("over_back", "Over back", "How far the top stands over the back of the posts, mm.", 0.0..=200.0, over_back);
    walk.length("over_sides", "Over sides", "How far the top stands over the posts left and right, mm.", 0.0..=200.0, over_sides);
    walk.inside("edges", |walk| {
        let Edges { shape, size, arrises, sides } = edges;
        walk.choice("shape", "Edges", "What is taken off the arrises of the top; breaking them by 0.5 to 1 mm is bench work.", shape);
        if *shape != EdgeShape::Square {
            walk.length("size", "Edge size", "Radius of the round, or width of the chamfer, mm.", 0.0..=80.0, size);
            walk.choice("arrises", "Which arrises", "Which arrises of an edge are worked.", arrises);
            walk.choice("sides", "Along", "Along which edges of the top.", sides);
        }
    });
    walk.under(Stage::Joints, "What holds the top");
    walk.choice("fixing", "Held by", "What holds the top down and lets it move.", fixing);
    walk.inside("buttons", |walk| {
        let Buttons { length, width, thickness, tongue, first, spacing, fixed } = buttons;
        walk.choice("fixed", "Stays put", "The line of the top that stays where it is while the rest moves.", fixed);
        // Plates leave to buttons what moves too far for them.
        if matches!(fixing, TopFixing::Buttons | TopFixing::Plates) {
            walk.length("length", "Button length", "Length of a button along the grain, tongue included, mm.", 20.0..=120.0, length);
            walk.length("width", "Button width", "Width of a button along the rail, mm.", 10.0..=100.0, width);
            walk.length("thickness", "Button thickness", "Thickness of a button, mm.", 8.0..=50.0, thickness);
            walk.length("tongue", "Tongue", "Length and thickness of the tongue of a button, mm.", 4.0..=30.0, tongue);
        }
        walk.length(
            "first",
            "First from a post",
            "From a post, stile or cross rail to the middle of the first fixing, mm.",
            20.0..=300.0,
            first,
        );
        walk.length("spacing", "At most apart", "Greatest distance from fixing to fixing, mm.", 80.0..=800.0, spacing);
    });
    match fixing {
        TopFixing::Buttons => {}
        TopFixing::Clips => walk.inside("clips", |walk| clip_sizes(walk, clips)),
        TopFixing::Plates => walk.inside("plates", |walk| plate_sizes(walk, plates)),
        TopFixing::SlottedScrews => walk.inside("strips", |walk| strip_sizes(walk, strips)),
    }
}

fn clip_sizes(walk: &mut Walk<'_>, clips: &mut Clips) {
    let Clips { length, width, metal, offset, kerf, depth } = clips;
    walk.length("length", "Clip length", "Length of a clip across the rail, tongue included, mm.", 15.0..=80.0, length);
    walk.length("width", "Clip width", "Width of a clip along the rail, mm.", 8.0..=60.0, width);
    walk.length("metal", "Metal", "Thickness of the metal of a clip, mm.", 0.8..=6.0, metal);
    walk.length("offset", "Offset", "From the underside of the top to the upper face of the tongue, mm.", 3.0..=40.0, offset);
    walk.length("kerf", "Kerf", "Width of the kerf for the tongues, upward, mm.", 1.0..=12.0, kerf);
    walk.length("depth", "Kerf depth", "Depth of the kerf, mm.", 4.0..=30.0, depth);
}

fn plate_sizes(walk: &mut Walk<'_>, plates: &mut Plates) {
    let Plates { diameter, centres, metal, deeper } = plates;
    walk.length("diameter", "Ring", "Diameter of each ring of a plate, mm.", 10.0..=40.0, diameter);
    walk.length("centres", "Centres", "From the middle of one ring to the middle of the other, mm.", 8.0..=40.0, centres);
    walk.length("metal", "Metal", "Thickness of the metal of a plate, mm.", 1.0..=6.0, metal);
    walk.length("deeper", "Deeper", "How much deeper the recess is than the plate is thick, mm.", 0.0..=2.0, deeper);
}

fn strip_sizes(walk: &mut Walk<'_>, strips: &mut SlottedStrips) {
    let SlottedStrips { section, shank, washer } = strips;
    walk.length("section", "Strips", "Section of the strips under the top, width and height alike, mm.", 12.0..=60.0, section);
    walk.length("shank", "Shank", "Diameter of the shank of the screws, mm.", 2.5..=8.0, shank);
    walk.length("washer", "Washer", "Diameter of the washers under the heads, mm.", 5.0..=40.0, washer);
}
