//! Rough sizes, and what the machines take.

use super::{Stage, Unit, Walk};
use crate::design::dealer::Offer;
use crate::design::decisions::words::{Hides, Yes};
use crate::design::pile::{ALIKE, ENDS, Flaw, LEAVES, ON_HAND, PRICE, Stuff, THICK};
use crate::design::placed::{AT, Placed};
use crate::design::{Coating, Machine, Machines, Rough};

/// Rough sizes; each saw takes `kerf`, mm, unless the maker says otherwise.
pub(super) fn rough(walk: &mut Walk<'_>, rough: &mut Rough, kerf: f64) {
    let Rough {
        length,
        width,
        sold,
        planed,
        planed_long,
        rip_kerf,
        crosscut_kerf,
        sheet_kerf,
        resaw_kerf,
        resaw_flat,
        edge,
        keep_length,
        keep_width,
        spare,
        rings,
        first,
        sheets,
        sheet_off,
    } = rough;
    walk.under(Stage::Boards, "Rough sizes");
    walk.length("length", "Longer by", "Added to the finished length of solid parts, mm.", 0.0..=300.0, length);
    walk.length("width", "Wider by", "Added to the finished width of solid parts, mm.", 0.0..=60.0, width);
    walk.choice("sold", "Boards are sold", "In what thicknesses boards are sold; the next that comes out thick enough is taken.", sold);
    let meaning = "What planing takes off boards to 1,500 mm, both faces together, where the table of thicknesses tells nothing else, mm.";
    walk.length("planed", "Planed off", meaning, 0.0..=30.0, planed);
    walk.length("planed_long", "Planed off long ones", "The same of boards that are longer, mm.", 0.0..=30.0, planed_long);
    walk.ruled("rip_kerf", "Ripping takes", "The saw cut of the saw that rips boards, mm; by rule the kerf.", KERF, rip_kerf, kerf);
    let meaning = "The saw cut of the saw that crosscuts boards, mm; by rule the kerf.";
    walk.ruled("crosscut_kerf", "Crosscutting takes", meaning, KERF, crosscut_kerf, kerf);
    let meaning = "The saw cut of the saw that cuts sheets, mm; by rule the kerf.";
    walk.ruled("sheet_kerf", "Sawing sheets takes", meaning, KERF, sheet_kerf, kerf);
    walk.length("resaw_kerf", "Resawing takes", "The saw cut between two leaves of a board that is resawn, mm.", KERF, resaw_kerf);
    let meaning = "What flattening each leaf again takes off it once it is resawn, mm.";
    walk.length("resaw_flat", "Off each leaf", meaning, 0.0..=10.0, resaw_flat);
    walk.length("edge", "Off each edge", "Taken off each edge of a board or sheet before it is cut, mm.", 0.0..=60.0, edge);
    walk.length("keep_length", "Kept from, long", "What is left of a board is kept from this length on, mm.", 1.0..=3000.0, keep_length);
    walk.length("keep_width", "Kept from, wide", "What is left of a board is kept from this width on, mm.", 1.0..=1000.0, keep_width);
    let meaning = "How many boards of each species and thickness are bought besides, should one be bad.";
    walk.count("spare", "Boards to spare", meaning, 0.0..=20.0, spare);
    let meaning = "How the strips of a wide part are turned before they are glued up: rings alternating, or matched for the figure.";
    walk.choice("rings", "Strips", meaning, rings);
    let meaning = "Which cut is made first on a board; where one is, the other follows and no third.";
    walk.choice("first", "First", meaning, first);
    walk.choice("sheets", "Sheets are cut", "How often a sheet is turned while it is cut up.", sheets);
    let meaning =
        "By how much a sheet may measure otherwise than its parts and their grooves are made for, mm; beyond that nothing is cut from it.";
    walk.length("sheet_off", "Sheets may be off by", meaning, 0.0..=3.0, sheet_off);
}

/// What a saw may take, mm.
const KERF: std::ops::RangeInclusive<f64> = 0.0..=10.0;

pub(super) fn coating(walk: &mut Walk<'_>, coating: &mut Coating) {
    let Coating { coats, covers } = coating;
    walk.under(Stage::Boards, "Finish");
    walk.count("coats", "Coats", "How many coats of finish.", 1.0..=20.0, coats);
    walk.number("covers", "A litre covers", "What a litre covers in one coat, m².", Unit::Number, 0.5..=50.0, covers);
}

pub(super) fn pile(walk: &mut Walk<'_>, pile: &mut [Stuff]) {
    for (index, stuff) in pile.iter_mut().enumerate() {
        let Stuff { name, of, length, width, thickness, count, price, paid, leaves, ends, planed, trimmed, good, colour, flaws, whence: _ } =
            stuff;
        walk.entry(index, |walk| {
            walk.under(Stage::Boards, format!("On hand: {name}"));
            walk.text("name", "Name", "What you call it, such as the number chalked on it.", name);
            walk.text("of", "Timber", "Its species, or its product in sheets, by its id.", of);
            walk.length("length", "Length", "Along the grain, mm.", ON_HAND, length);
            walk.length("width", "Width", "Across the grain, mm.", ON_HAND, width);
            walk.length("thickness", "Thickness", "As it lies in the rack, mm.", THICK, thickness);
            walk.count("count", "How many", "How many are alike.", ALIKE, count);
            walk.number("price", "Price", "What one costs; 0 where that is not known.", Unit::Price, PRICE, price);
            walk.choice("paid", "Paid for", "Whether it is paid for, so that it costs nothing more.", &mut Yes(paid));
            let meaning = "Into how many leaves each is resawn before anything is cut from it; 1 where it is used as it is.";
            walk.count("leaves", "Resawn into", meaning, LEAVES, leaves);
            walk.length("ends", "End checks", "How far checks go in from each end, mm.", ENDS, ends);
            let meaning = "Whether it is flat and clean on both faces, so that nothing more is planed off.";
            walk.choice("planed", "Planed", meaning, &mut Yes(planed));
            let meaning = "Whether its ends and edges are sawn, so that nothing is trimmed off them before it is cut.";
            walk.choice("trimmed", "Ends and edges sawn", meaning, &mut Yes(trimmed));
            walk.choice("good", "Good face", "Which of its faces is good; nothing that is seen comes from a board that has none.", good);
            walk.text("colour", "Colour", "Parts that are to match come from boards of one colour.", colour);
            walk.inside("flaws", |walk| {
                for (index, Flaw { x, y, length, width, what, hides }) in flaws.iter_mut().enumerate() {
                    walk.entry(index, |walk| {
                        walk.length("x", "Flaw, along", "Where it begins along the board, mm.", 0.0..=9000.0, x);
                        walk.length("y", "Flaw, across", "Where it begins across the board, mm.", 0.0..=9000.0, y);
                        walk.length("length", "Flaw, long", "How long it is, mm.", 1.0..=9000.0, length);
                        walk.length("width", "Flaw, wide", "How wide it is, mm.", 1.0..=9000.0, width);
                        walk.text("what", "Flaw", "What it is.", what);
                        let meaning = "Whether it may lie in a part where nobody sees it.";
                        walk.choice("hides", "Flaw, hidden", meaning, &mut Hides(hides));
                    });
                }
            });
        });
    }
}

pub(super) fn dealer(walk: &mut Walk<'_>, offers: &mut [Offer]) {
    for (index, offer) in offers.iter_mut().enumerate() {
        let Offer { name, of, length: [short, long], width: [narrow, wide], thickness, price, per, pack, available } = offer;
        walk.entry(index, |walk| {
            walk.under(Stage::Boards, format!("Dealer: {name}"));
            walk.text("name", "Name", "What the dealer calls it.", name);
            walk.text("of", "Timber", "Its species, or its product in sheets, by its id.", of);
            walk.length("length_from", "Length", "Along the grain; where boards come as they fall, the shortest, mm.", ON_HAND, short);
            walk.length("length_to", "Length, to", "Along the grain; where boards come as they fall, the longest, mm.", ON_HAND, long);
            walk.length("width_from", "Width", "Across the grain; of random widths the narrowest, mm.", ON_HAND, narrow);
            walk.length("width_to", "Width, to", "Across the grain; of random widths the widest, mm.", ON_HAND, wide);
            walk.length("thickness", "Thickness", "As sawn, mm.", THICK, thickness);
            walk.number("price", "Price", "The price.", Unit::Price, PRICE, price);
            walk.choice("per", "Price is for", "What the price is for.", per);
            walk.count("pack", "Sold in", "How many are sold together.", ALIKE, pack);
            if let Some(available) = available {
                walk.count("available", "There are", "How many there are.", ALIKE, available);
            }
        });
    }
}

pub(super) fn placed(walk: &mut Walk<'_>, placed: &mut [Placed]) {
    for (index, placed) in placed.iter_mut().enumerate() {
        let Placed { part, piece, board, number: _, x, y, turned: _ } = placed;
        walk.entry(index, |walk| {
            walk.under(Stage::Boards, "Placed by hand");
            let label = if *piece > 1 { format!("{part}, piece {piece}, on {board}") } else { format!("{part} on {board}") };
            walk.length("x", &format!("{label}: along"), "Where it begins along the board, from its untrimmed corner, mm.", AT, x);
            walk.length("y", &format!("{label}: across"), "Where it begins across the board, mm.", AT, y);
        });
    }
}

pub(super) fn machines(walk: &mut Walk<'_>, machines: &mut Machines) {
    for (index, machine) in machines.0.iter_mut().enumerate() {
        let Machine { name, does, least_length, least_thickness, greatest_width, greatest_thickness, greatest_length } = machine;
        walk.entry(index, |walk| {
            walk.under(Stage::Boards, format!("Machine: {name}"));
            walk.text("name", "Name", "What you call the machine.", name);
            walk.choice("does", "Does", "What it does; of those that do the same, the first that takes a piece is used.", does);
            walk.length(
                "least_length",
                "Least length",
                "A shorter piece is not held, or too near to hands, mm.",
                10.0..=2000.0,
                least_length,
            );
            walk.length("least_thickness", "Least thickness", "The least thickness that it leaves, mm.", 0.5..=100.0, least_thickness);
            walk.length("greatest_width", "Greatest width", "The greatest width that goes in, mm.", 20.0..=3000.0, greatest_width);
            walk.length(
                "greatest_thickness",
                "Greatest thickness",
                "The greatest thickness that goes in, mm.",
                5.0..=1000.0,
                greatest_thickness,
            );
            walk.length(
                "greatest_length",
                "Greatest length",
                "For which there is room before and behind it, mm.",
                200.0..=9000.0,
                greatest_length,
            );
        });
    }
}
