//! A stick of the rod, drawn upright: its bands lane by lane, and every line with its figure and its name.

use casewright_core::rod::{Band, Lane, Stick};
use glam::DVec2;

use super::labels::{self, Label};
use super::tiles::{BESIDE, Head, Span, Strip, room_across};
use crate::drawing::{Area, Drafting, Fill, Ink, Pen};

/// From the edge of what is printed to the rod: room for register marks, mm.
const LEFT: f64 = 13.0;
/// All lanes together are no wider, mm, unless columns would be narrower than they may.
const LANES: f64 = 66.0;
/// The widest and the narrowest column, mm.
const COLUMN: (f64, f64) = (3.0, 11.0);

/// Where bands lie: a column for each, and where each lane begins.
struct Columns {
    of_band: Vec<usize>,
    lanes: Vec<(Lane, usize, usize)>,
    wide: f64,
}

impl Columns {
    /// Bands of one lane that lie over each other stand side by side.
    fn of(stick: &Stick) -> Columns {
        let mut of_band = vec![0; stick.bands.len()];
        let (mut lanes, mut next) = (Vec::new(), 0);
        for lane in Lane::ALL {
            let mut own: Vec<usize> = (0..stick.bands.len()).filter(|band| stick.bands[*band].lane == lane).collect();
            own.sort_by(|a, b| stick.bands[*a].from.total_cmp(&stick.bands[*b].from));
            let mut ends: Vec<f64> = Vec::new();
            for band in own {
                let (from, to) = (stick.bands[band].from, stick.bands[band].to);
                let column = ends.iter().position(|end| *end <= from + 0.01).unwrap_or(ends.len());
                if column == ends.len() {
                    ends.push(to);
                } else if let Some(end) = ends.get_mut(column) {
                    *end = to;
                }
                of_band[band] = next + column;
            }
            if !ends.is_empty() {
                lanes.push((lane, next, next + ends.len()));
                next += ends.len();
            }
        }
        let wide = (LANES / next.max(1) as f64).clamp(COLUMN.0, COLUMN.1);
        Columns { of_band, lanes, wide }
    }

    fn x(&self, column: usize) -> f64 {
        LEFT + self.wide * column as f64
    }

    fn right(&self) -> f64 {
        self.lanes.last().map_or(LEFT, |(_, _, end)| self.x(*end))
    }
}

/// The stick as a strip.
pub(super) fn draw(stick: &Stick, drafting: &Drafting) -> Strip {
    let columns = Columns::of(stick);
    let (mut ink, mut spans) = (Ink::default(), Vec::new());
    for (number, band) in stick.bands.iter().enumerate() {
        let column = columns.of_band[number];
        let (left, right) = (columns.x(column), columns.x(column + 1));
        draw_band(&mut ink, band, left, right);
        spans.push(Span { left, right, from: band.from, to: band.to, words: band.marks.clone(), clears: true });
    }
    let right = columns.right();
    for line in &stick.lines {
        let is_there = |band: &Band| [band.from, band.to].iter().chain(band.cuts.iter().flatten()).any(|at| (at - line.at).abs() < 0.03);
        let begins = stick.bands.iter().zip(&columns.of_band).filter(|(band, _)| is_there(band)).map(|(_, column)| columns.x(*column));
        let left = begins.fold(right, f64::min);
        let pen = if line.is_of_parts { Pen::Behind } else { Pen::Extension };
        ink.line(pen, DVec2::new(left, -line.at), DVec2::new(right, -line.at));
    }
    let labels: Vec<Label> =
        stick.lines.iter().map(|line| Label { at: line.at, words: labels::gathered(&line.words).join("; ") }).collect();
    labels::write(&mut ink, &labels, right, room_across(drafting.sheet) - BESIDE, drafting);
    let head = |(lane, from, to): &(Lane, usize, usize)| Head { at: f64::midpoint(columns.x(*from), columns.x(*to)), words: lane.word() };
    let title = super::stick_title(stick.way);
    let heads = columns.lanes.iter().map(head).collect();
    Strip { name: format!("rod-{}", stick.way.word()), title, about: format!("Figures {}", stick.way.datum()), ink, spans, heads }
}

fn draw_band(ink: &mut Ink, band: &Band, left: f64, right: f64) {
    let corner = |x: f64, at: f64| DVec2::new(x, -at);
    let outline = vec![corner(left, band.from), corner(right, band.from), corner(right, band.to), corner(left, band.to)];
    ink.areas.push(Area { loops: vec![outline], fill: Fill::Tint });
    ink.rectangle(Pen::Edge, corner(left, band.to), corner(right, band.from));
    let inset = (right - left) * 0.2;
    for cut in &band.cuts {
        ink.rectangle(Pen::Hidden, corner(left + inset, cut[1]), corner(right - inset, cut[0]));
    }
}
