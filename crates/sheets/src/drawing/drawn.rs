//! A view while it is drawn: its lines at scale, and rows of dimensions round it. Its own origin lies where the case's lies in the view.

use casewright_solid::view::{CutFace, Line};
use glam::DVec2;

use super::book::{Book, Said};
use super::drafting::Drafting;
use super::from::From;
use super::lettering::{LETTERING, width_of};
use super::page::{Anchor, Dimension, Ink, Pen, Text};
use super::rows::{Beside, Figure, Row, Span, Stop};

/// From a view to its first row of dimensions, mm.
const FIRST: f64 = 7.0;
/// From a row to the next, beyond what the row takes, mm.
const NEXT: f64 = 4.5;

/// A stretch along a side of a view, mm of the view.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stretch {
    /// Where it begins.
    pub a: f64,
    /// Where it ends.
    pub b: f64,
    /// Across: where what is measured ends, so that the extension lines begin there.
    pub edge: f64,
}

impl Stretch {
    pub fn new(a: f64, b: f64, edge: f64) -> Stretch {
        Stretch { a: a.min(b), b: a.max(b), edge }
    }

    fn overlaps(&self, other: &Stretch) -> bool {
        self.a < other.b - 1e-6 && other.a < self.b - 1e-6
    }
}

/// How the places of members are found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Places {
    /// By dimensions that run from the datum: errors would add up.
    Running,
    /// From the nearest place that is known.
    Gaps,
    /// From the datum itself, one beside the other: it is the face from which the part is marked out.
    Face,
}

/// What is measured along one side of a view.
#[derive(Clone, Debug)]
pub(super) struct Measured {
    /// Where it is written.
    pub beside: Beside,
    /// From where places are measured, mm of the view, and where that edge ends.
    pub datum: (f64, f64),
    /// The whole, from the datum to there.
    pub overall: Option<(f64, f64)>,
    /// What is so thick or so wide.
    pub members: Vec<Stretch>,
    /// How their places are found.
    pub places: Places,
    /// Whether the room between them is said too, in parentheses where it follows.
    pub openings: bool,
}

/// A view that is drawn.
pub(super) struct Drawn<'d> {
    pub drafting: &'d Drafting,
    pub from: From,
    /// Full size over paper.
    pub scale: f64,
    /// Whether its figures are those that a joint needs, finer than the 64ths of inches.
    pub fine: bool,
    /// What the view takes, mm of the view.
    pub bounds: (DVec2, DVec2),
    pub ink: Ink,
    /// How far rows reach out below, to the left and to the right, mm.
    out: [f64; 3],
}

impl<'d> Drawn<'d> {
    pub fn new(drafting: &'d Drafting, from: From, scale: f64, bounds: (DVec2, DVec2)) -> Drawn<'d> {
        Drawn { drafting, from, scale, fine: false, bounds, ink: Ink::default(), out: [0.0; 3] }
    }

    /// A place of the view on paper, from its origin.
    pub fn at(&self, place: DVec2) -> DVec2 {
        DVec2::new(place.x, -place.y) / self.scale
    }

    pub fn lines(&mut self, pen: Pen, lines: &[Line]) {
        for line in lines {
            let (a, b) = (self.at(line.a), self.at(line.b));
            self.ink.line(pen, a, b);
        }
    }

    /// The name of the view over its left end; farther to the right where something stands there, as long as it is over the view, else above that.
    pub fn heading(&mut self, text: &str) {
        let (min, max) = self.bounds;
        let (left, right) = (self.at(DVec2::new(min.x, max.y)), self.at(max).x);
        let wide = width_of(text, LETTERING, true) + 1.0;
        let top = |from: f64| {
            let over = |a: DVec2, b: DVec2| a.min(b).x < from + wide && a.max(b).x > from - 1.0;
            let lines = self.ink.strokes.iter().flat_map(|stroke| stroke.points.windows(2)).map(|ends| (ends[0], ends[1]));
            let words = self.ink.texts.iter().map(Text::room);
            lines.chain(words).filter(|(a, b)| over(*a, *b)).map(|(a, b)| a.y.min(b.y)).fold(left.y, f64::min)
        };
        let steps = (0..).map(|step| left.x + f64::from(step) * 2.0).take_while(|from| from + wide <= right);
        let from = steps.into_iter().find(|from| top(*from) >= left.y - 1e-6).unwrap_or(left.x);
        let at = DVec2::new(from, top(from) - 3.5);
        self.ink.text(Text { bold: true, ..Text::new(at, Anchor::Start, LETTERING, text) });
    }

    /// The name of the view, to the left of its upper edge, where nothing is written beside it.
    pub fn heading_beside(&mut self, text: &str) {
        let (min, max) = self.bounds;
        let corner = self.at(DVec2::new(min.x, max.y));
        let left = self.ink.room().map_or(corner.x, |room| room.0.x.min(corner.x)) - 3.0;
        let at = DVec2::new(left, corner.y + LETTERING / 2.0);
        self.ink.text(Text { bold: true, ..Text::new(at, Anchor::End, LETTERING, text) });
    }

    /// Words over all that is there, in lines as wide as the view.
    pub fn heading_over(&mut self, text: &str) {
        let (min, max) = self.bounds;
        let (left, right) = (self.at(DVec2::new(min.x, max.y)), self.at(max));
        let mut base = self.ink.room().map_or(left.y, |room| room.0.y.min(left.y)) - 2.6;
        for line in wrapped(text, (right.x - left.x).max(62.0), LETTERING).iter().rev() {
            self.ink.text(Text::new(DVec2::new(left.x, base), Anchor::Start, LETTERING, line.as_str()));
            base -= LETTERING + 1.4;
        }
    }

    /// Writes dimensions along one side: those that `book` doesn't know.
    pub fn measure(&mut self, book: &mut Book, measured: &Measured) {
        let Measured { beside, datum, overall, members, places, openings } = measured;
        let mut spans: Vec<(Stretch, Said)> = Vec::new();
        let mut running: Vec<(Stretch, Said)> = Vec::new();
        let (axis, sign) = if beside.is_upright() { self.from.up() } else { self.from.across() };
        let mut say = |stretch: Stretch| book.say(axis, stretch.a * sign, stretch.b * sign).map(|said| (stretch, said));
        let whole = overall.map(|(far, edge)| Stretch::new(datum.0, far, edge));
        let whole_said = whole.and_then(&mut say);
        spans.extend(members.iter().filter_map(|member| say(*member)));
        for member in members {
            // The edge that looks at the datum; either, where the datum lies within it.
            let within = member.a < datum.0 && datum.0 < member.b;
            let nearer_end = (member.b - datum.0).abs() < (member.a - datum.0).abs();
            let place = if member.b <= datum.0 || (within && nearer_end) { member.b } else { member.a };
            if book.knows(axis, datum.0 * sign, place * sign) {
                continue;
            }
            let from = match places {
                Places::Gaps => book.nearest(axis, datum.0 * sign, place * sign) * sign,
                Places::Running | Places::Face => datum.0,
            };
            let stretch = Stretch::new(from, place, member.edge);
            let said = book.say(axis, stretch.a * sign, stretch.b * sign).map(|said| (stretch, said));
            match places {
                Places::Running => running.extend(said),
                Places::Gaps | Places::Face => spans.extend(said),
            }
        }
        if *openings {
            let mut order = members.clone();
            order.sort_by(|a, b| a.a.total_cmp(&b.a));
            let gaps =
                order.windows(2).filter(|pair| pair[1].a > pair[0].b + 1e-6).map(|pair| Stretch::new(pair[0].b, pair[1].a, pair[1].edge));
            let gaps: Vec<Stretch> = gaps.collect();
            spans.extend(gaps.into_iter().filter_map(|gap| book.say(axis, gap.a * sign, gap.b * sign).map(|said| (gap, said))));
        }
        // The whole runs from the datum as well where anything does.
        if let Some(whole) = whole_said {
            if running.is_empty() { spans.push(whole) } else { running.push(whole) }
        }
        self.tiers(*beside, spans);
        self.run(*beside, *datum, &running);
    }

    /// Rows of dimensions, the shortest nearest to the view, none over another.
    fn tiers(&mut self, beside: Beside, mut spans: Vec<(Stretch, Said)>) {
        spans.sort_by(|a, b| (a.0.b - a.0.a).total_cmp(&(b.0.b - b.0.a)).then(a.0.a.total_cmp(&b.0.a)));
        let mut tiers: Vec<Vec<(Stretch, Said)>> = Vec::new();
        for span in spans {
            // Beyond every row that has something within it, so that no extension line crosses a dimension line more than it must.
            let within = |tier: &Vec<(Stretch, Said)>| tier.iter().any(|other| other.0.overlaps(&span.0));
            let row = tiers.iter().rposition(within).map_or(0, |row| row + 1);
            if row == tiers.len() {
                tiers.push(Vec::new());
            }
            tiers[row].push(span);
        }
        for tier in tiers {
            let line = self.next_line(beside);
            let spans: Vec<Span> = tier.iter().map(|(stretch, said)| self.span(beside, *stretch, *said)).collect();
            let reach = Row { beside, line: line.0 }.chain(&mut self.ink, &spans);
            self.out[line.1] += reach;
        }
    }

    /// Writes dimensions that run from a datum, where there are any.
    pub fn run(&mut self, beside: Beside, datum: (f64, f64), ends: &[(Stretch, Said)]) {
        if ends.is_empty() {
            return;
        }
        let line = self.next_line(beside);
        let far = |stretch: &Stretch| if (stretch.a - datum.0).abs() > (stretch.b - datum.0).abs() { stretch.a } else { stretch.b };
        let ends: Vec<(Stop, Figure)> = ends
            .iter()
            .map(|(stretch, said)| (self.stop(beside, far(stretch), stretch.edge), self.figure(beside, *stretch, *said)))
            .collect();
        let from = self.stop(beside, datum.0, datum.1);
        let reach = Row { beside, line: line.0 }.running(&mut self.ink, from, &ends);
        self.out[line.1] += reach;
    }

    /// Where the next row's line lies on a side, and the number of that side.
    fn next_line(&mut self, beside: Beside) -> (f64, usize) {
        let (min, max) = self.bounds;
        let (low, high) = (self.at(min), self.at(max));
        let side = match beside {
            Beside::Below => 0,
            Beside::Left => 1,
            Beside::Right => 2,
        };
        self.out[side] = if self.out[side] > 0.0 { self.out[side] + NEXT } else { FIRST };
        let out = self.out[side];
        let line = match beside {
            Beside::Below => low.y + out,
            Beside::Left => low.x - out,
            Beside::Right => high.x + out,
        };
        (line, side)
    }

    fn stop(&self, beside: Beside, along: f64, edge: f64) -> Stop {
        if beside.is_upright() {
            let at = self.at(DVec2::new(edge, along));
            Stop { at: at.y, edge: at.x }
        } else {
            let at = self.at(DVec2::new(along, edge));
            Stop { at: at.x, edge: at.y }
        }
    }

    fn span(&self, beside: Beside, stretch: Stretch, said: Said) -> Span {
        let (a, b) = (self.stop(beside, stretch.a, stretch.edge), self.stop(beside, stretch.b, stretch.edge));
        Span { a, b, figure: self.figure(beside, stretch, said) }
    }

    fn figure(&self, beside: Beside, stretch: Stretch, said: Said) -> Figure {
        let (axis, sign) = if beside.is_upright() { self.from.up() } else { self.from.across() };
        let (a, b) = (stretch.a * sign, stretch.b * sign);
        let long = stretch.b - stretch.a;
        let figure = if self.fine { self.drafting.exact(long) } else { self.drafting.figure(long) };
        let auxiliary = said == Said::Auxiliary;
        let text = if auxiliary { format!("({figure})") } else { figure };
        Figure { text, dimension: Dimension { axis, from: a.min(b), to: a.max(b), auxiliary, text: 0 } }
    }

    /// A place on paper within a cut face and a window, mm of the view, where words have room and touch no others.
    pub fn free_spot(&self, cut: &CutFace, window: (DVec2, DVec2), words: &str) -> Option<DVec2> {
        let half = DVec2::new(width_of(words, LETTERING, false) / 2.0 + 0.8, LETTERING / 2.0 + 0.8);
        let middle = (window.0 + window.1) / 2.0;
        let step = (window.1 - window.0) / 25.0;
        let all = (1..25).flat_map(|x| (1..25).map(move |y| DVec2::new(f64::from(x), f64::from(y)))).map(|at| window.0 + step * at);
        let free = |at: &DVec2| {
            let place = self.at(*at);
            let own = (place - half, place + half);
            let reach = half * self.scale;
            let corners = [reach, -reach, DVec2::new(reach.x, -reach.y), DVec2::new(-reach.x, reach.y)];
            let inside = corners.iter().all(|corner| {
                cut.contains(*at + *corner) && (*at + *corner).cmpgt(window.0).all() && (*at + *corner).cmplt(window.1).all()
            });
            inside && !self.ink.texts.iter().map(Text::room).any(|room| room.0.cmplt(own.1).all() && own.0.cmplt(room.1).all())
        };
        // Away from the middle, where the joint is.
        let spot = all.filter(free).max_by(|a, b| a.distance(middle).total_cmp(&b.distance(middle)))?;
        Some(self.at(spot))
    }

    /// The mark of a part at a place on paper.
    pub fn mark_at(&mut self, at: DVec2, mark: &str) {
        self.ink.text(Text { clears: true, ..Text::new(at, Anchor::Middle, LETTERING, mark) });
    }
}

/// Words in lines no wider than so much, mm, with capitals so high; a longer word has a line of its own.
pub(super) fn wrapped(text: &str, wide: f64, height: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if width_of(&format!("{line} {word}"), height, false) <= wide => {
                line.push(' ');
                line.push_str(word);
            }
            Some(_) | None => lines.push(word.to_owned()),
        }
    }
    lines
}
