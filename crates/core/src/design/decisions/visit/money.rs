//! Prices and hours.

use std::collections::BTreeMap;
use std::ops::RangeInclusive;

use super::{Stage, Unit, Walk};
use crate::design::{MakeUp, Money, Priced, Work, find_glue};
use crate::timber::Timbers;

const HOURS: RangeInclusive<f64> = 0.0..=100.0;
const PRICES: RangeInclusive<f64> = 0.0..=1_000_000.0;
const SHARE: RangeInclusive<f64> = 0.0..=300.0;

/// Names what the maker tells of money and time.
pub(super) fn money(walk: &mut Walk<'_>, money: &mut Money, timbers: &Timbers) {
    let Money { currency, hour, waste, sheet_waste, veneer_waste, timber, sheets, veneer, hardware, finish, glue, work, make_up } = money;
    walk.under(Stage::Timber, "Money");
    walk.text("currency", "Currency", "What prices are in, as it is written behind a figure.", currency);
    let meaning = "What an hour of your work is worth; 0 leaves hours out of the sum.";
    walk.number("hour", "An hour of work", meaning, Unit::Price, PRICES, hour);
    let meaning = "Solid timber bought besides what the rough sizes add up to, % of it.";
    walk.number("waste", "Timber besides", meaning, Unit::Percent, SHARE, waste);
    let meaning = "Sheet bought besides what the parts add up to, % of it.";
    walk.number("sheet_waste", "Sheet besides", meaning, Unit::Percent, SHARE, sheet_waste);
    let meaning = "Bought veneer besides what the faces add up to, % of it.";
    walk.number("veneer_waste", "Veneer besides", meaning, Unit::Percent, SHARE, veneer_waste);
    let species = |id: &str| timbers.species(id).map(|species| species.name.clone());
    prices(walk, Priced::Timber, timber, species);
    prices(walk, Priced::Sheet, sheets, |id| timbers.sheet(id).map(|sheet| sheet.name.clone()));
    prices(walk, Priced::Veneer, veneer, species);
    prices(walk, Priced::Hardware, hardware, |id| Some(id.replace('_', " ")));
    prices(walk, Priced::Finish, finish, |id| Some(id.replace('_', " ")));
    prices(walk, Priced::Glue, glue, |id| find_glue(id).map(|glue| glue.name.clone()));
    walk.inside("work", |walk| hours(walk, work));
    walk.inside("make_up", |walk| leaves(walk, make_up));
}

fn prices(walk: &mut Walk<'_>, of: Priced, list: &mut BTreeMap<String, f64>, name: impl Fn(&str) -> Option<String>) {
    let (group, meaning) = match of {
        Priced::Timber => ("Price of timber", "Price of a cubic metre, dry and rough sawn."),
        Priced::Sheet => ("Price of sheets", "Price of a square metre of sheet."),
        Priced::Veneer => ("Price of bought veneer", "Price of a square metre of veneer."),
        Priced::Hardware => ("Price of hardware", "Price of a piece."),
        Priced::Finish => ("Price of finish", "Price of a litre of finish."),
        Priced::Glue => ("Price of glue", "Price of a kilogram of glue."),
    };
    walk.under(Stage::Timber, group);
    walk.inside(of.list(), |walk| {
        for (id, price) in list {
            let label = format!("{}, a {}", name(id).unwrap_or_else(|| id.clone()), of.measure());
            walk.number(id, &label, meaning, Unit::Price, PRICES, price);
        }
    });
}

fn hours(walk: &mut Walk<'_>, work: &mut Work) {
    let Work { part, joint, groove, glue, fixing, smooth, coat, cut, resaw, edges, press, plane, sand } = work;
    walk.under(Stage::Timber, "Hours of work");
    let rows = [
        ("part", "A solid part", "From rough board to its sizes, hours a part.", part),
        ("joint", "A joint", "To cut and fit it, hours a joint.", joint),
        ("groove", "Grooves, a metre", "To cut grooves and tongues, hours a metre.", groove),
        ("glue", "A joint glued", "To spread glue in a joint and bring it together, hours a joint.", glue),
        ("fixing", "A screw", "To bore for a screw and put it in, hours a screw.", fixing),
        ("smooth", "Smoothed, a m²", "To smooth a surface for finishing, hours a square metre.", smooth),
        ("coat", "Coated, a m²", "To lay on a coat, hours a square metre of coat.", coat),
        ("cut", "Sheet sawn, a m²", "To saw sheet to size, hours a square metre.", cut),
        ("resaw", "Resawn, a m² of leaf", "To resaw boards or saw veneers, hours a square metre of sawn leaf.", resaw),
        ("edges", "Edges joined, a m²", "To joint leaves edge to edge, hours a square metre of them.", edges),
        ("press", "Veneered, a m²", "To glue and press veneer on both faces, hours a square metre of panel.", press),
        ("plane", "Planed, a m²", "To plane and sand both faces of a solid panel, hours a square metre of panel.", plane),
        ("sand", "Sanded, a m²", "To sand both faces of a veneered panel, hours a square metre of panel.", sand),
    ];
    for (name, label, meaning, slot) in rows {
        walk.number(name, label, meaning, Unit::Hours, HOURS, slot);
    }
}

fn leaves(walk: &mut Walk<'_>, make_up: &mut MakeUp) {
    let MakeUp { sawn_veneer, bought_veneer, sawing } = make_up;
    walk.under(Stage::Timber, "Panels made up in the shop");
    walk.length("sawn_veneer", "Veneer sawn here", "Thickness of veneer sawn in the shop, sanded, mm.", 0.5..=6.0, sawn_veneer);
    walk.length("bought_veneer", "Bought veneer", "Thickness of bought veneer, mm.", 0.2..=3.0, bought_veneer);
    walk.length("sawing", "Lost with each leaf", "What sawing and flattening take off each leaf, mm.", 0.0..=12.0, sawing);
}
