//! The frame of a sheet and its title block, with the fields of ISO 7200.

use glam::DVec2;

use super::drafting::{Angle, Drafting};
use super::lettering::width_of;
use super::page::{Anchor, Ink, Pen, Text};

/// From the edge of the sheet to the frame: left, where it is bound, and elsewhere, mm (ISO 5457, from memory).
pub(super) const BINDING: f64 = 20.0;
pub(super) const BORDER: f64 = 10.0;

/// Width and height of the title block, mm; ISO 7200 has it 180 wide.
pub(super) const BLOCK: DVec2 = DVec2::new(180.0, 36.0);

/// What the block says of one sheet.
pub(super) struct Told<'a> {
    pub title: &'a str,
    pub content: &'a str,
    pub scale: &'a str,
    pub sheet: usize,
    pub sheets: usize,
}

/// Width of a field, mm, its label, and what stands in it.
type Field<'a> = (f64, &'a str, &'a str);

/// Upper left and lower right corner of the frame.
pub(super) fn room(size: DVec2) -> (DVec2, DVec2) {
    (DVec2::new(BINDING, BORDER), size - BORDER)
}

/// Draws frame and block.
pub(super) fn draw(ink: &mut Ink, drafting: &Drafting, told: &Told<'_>) {
    let size = drafting.sheet.size();
    let (min, max) = room(size);
    ink.rectangle(Pen::Frame, min, max);
    let corner = max - BLOCK;
    ink.rectangle(Pen::Frame, corner, max);
    let block = &drafting.block;
    let units = match drafting.units {
        casewright_core::length::Units::Millimetres => "Millimetres, finished",
        casewright_core::length::Units::Inches => "Inches, finished",
    };
    let sheet = format!("{} of {}", told.sheet, told.sheets);
    let rows: [(f64, &[Field<'_>]); 4] = [
        (
            9.0,
            &[(60.0, "Legal owner", &block.owner), (70.0, "Document type", told.content), (50.0, "Identification number", &block.number)],
        ),
        (10.0, &[(110.0, "Title", told.title), (40.0, "Date of issue", &block.date), (30.0, "Sheet", &sheet)]),
        (
            9.0,
            &[
                (45.0, "Creator", &block.creator),
                (45.0, "Approval person", &block.approved),
                (35.0, "General tolerance", ""),
                (55.0, "Sizes", units),
            ],
        ),
        (8.0, &[(30.0, "Scale", told.scale), (25.0, "Paper", drafting.sheet.name()), (125.0, "", "")]),
    ];
    let mut y = corner.y;
    for (row, (height, fields)) in rows.iter().enumerate() {
        let mut x = corner.x;
        for (column, (width, label, words)) in fields.iter().enumerate() {
            if column > 0 {
                ink.line(Pen::Thin, DVec2::new(x, y), DVec2::new(x, y + height));
            }
            field(ink, DVec2::new(x, y), DVec2::new(*width, *height), label, words);
            x += width;
        }
        if row > 0 {
            ink.line(Pen::Thin, DVec2::new(corner.x, y), DVec2::new(max.x, y));
        }
        y += height;
    }
    let middle = DVec2::new(max.x - 11.0, max.y - 4.0);
    symbol(ink, middle, drafting.angle);
    let words = "Drawn with reference to ISO 128, 129, 5455, 5456, 5457 and 7200.";
    ink.text(Text::new(DVec2::new(corner.x + 57.0, middle.y), Anchor::Start, 1.8, words));
}

/// A label and what is said; smaller where it would not fit, and cut short where even that would not.
fn field(ink: &mut Ink, at: DVec2, size: DVec2, label: &str, words: &str) {
    ink.text(Text::new(at + DVec2::new(1.2, 1.9), Anchor::Start, 1.5, label));
    if words.is_empty() {
        return;
    }
    let room = size.x - 2.4;
    let large = if label == "Title" { 3.5 } else { 2.5 };
    let heights = [large, 2.5, 1.8];
    let height = heights.into_iter().find(|height| width_of(words, *height, label == "Title") <= room).unwrap_or(1.8);
    let mut short = words.to_owned();
    while width_of(&short, height, label == "Title") > room && short.chars().count() > 2 {
        short = short.chars().take(short.chars().count() - 2).chain(['…']).collect();
    }
    let at = at + DVec2::new(1.2, size.y - 1.2 - height / 2.0);
    ink.text(Text { bold: label == "Title", ..Text::new(at, Anchor::Start, height, short) });
}

/// A cone cut short, from its side and from its narrow end: the first angle puts that view on the far side, the third on the near one.
fn symbol(ink: &mut Ink, middle: DVec2, angle: Angle) {
    let (narrow, wide, length) = (1.1, 2.2, 4.6);
    let way = match angle {
        Angle::First => 1.0,
        Angle::Third => -1.0,
    };
    let (cone, round) = (middle - DVec2::X * 4.2 * way, middle + DVec2::X * 4.2 * way);
    let corner = |x: f64, y: f64| cone + DVec2::new(x, y);
    let (left, right) = (-length / 2.0, length / 2.0);
    let corners = [corner(left, -narrow), corner(right, -wide), corner(right, wide), corner(left, narrow)];
    for index in 0..4 {
        ink.line(Pen::Tick, corners[index], corners[(index + 1) % 4]);
    }
    ink.circle(Pen::Tick, round, narrow);
    ink.circle(Pen::Tick, round, wide);
    ink.line(Pen::Centre, corner(left - 1.0, 0.0), corner(right + 1.0, 0.0));
    for way in [DVec2::X, DVec2::Y] {
        ink.line(Pen::Centre, round - way * (wide + 0.8), round + way * (wide + 0.8));
    }
}
