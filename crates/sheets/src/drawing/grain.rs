//! The mark of the part and the way of its grain, on each part that is seen; beside it where it is too narrow for words.

use casewright_core::model::{Material, Part};
use glam::DVec2;

use super::drawn::Drawn;
use super::from::Standing;
use super::lettering::{LETTERING, width_of};
use super::page::{Anchor, Ink, Pen, Text, inside};

/// Length of an arrow, mm, and how far its head reaches along and aside.
const ARROW: f64 = 8.0;
const HEAD: (f64, f64) = (1.8, 0.55);
/// From an arrow to the mark in its line, mm.
const TO_MARK: f64 = 1.5;
/// Where they may stand along a part and across it, shares of its length and of its width from the middle: the first that is free.
const ALONG: [f64; 11] = [0.0, -0.12, 0.12, -0.25, 0.25, -0.06, 0.06, -0.18, 0.18, -0.34, 0.34];
const ACROSS: [f64; 5] = [0.0, -0.15, 0.15, -0.3, 0.3];

/// Least and greatest corner on paper, mm.
type Room = (DVec2, DVec2);

/// Draws them where nothing stands before the part and no words are.
pub(super) fn draw(drawn: &mut Drawn<'_>, standing: &Standing<'_>) {
    let rooms: Vec<(Room, f64)> = standing.parts.iter().map(|part| on_paper(drawn, part)).collect();
    let all = drawn.ink.room().unwrap_or_default();
    for (part, (room, near)) in standing.parts.iter().zip(&rooms) {
        let along = drawn.from.see(part.pose.basis.x_axis);
        if along.z.abs() > 0.5 || matches!(part.material, Material::Bought(_)) {
            continue;
        }
        let face = Face { mark: &part.mark, room: *room, upright: along.y.abs() > along.x.abs() };
        let before = rooms.iter().filter(|(other, other_near)| *other_near > near + 0.5 && meet(*other, *room)).map(|(other, _)| *other);
        face.draw(&mut drawn.ink, &before.collect::<Vec<_>>(), all);
    }
}

/// What a part takes on paper, and how near it is.
fn on_paper(drawn: &Drawn<'_>, part: &Part) -> (Room, f64) {
    let (min, max) = drawn.from.block(&part.block());
    let (a, b) = (drawn.at(min.truncate()), drawn.at(max.truncate()));
    ((a.min(b), a.max(b)), max.z)
}

fn meet(a: Room, b: Room) -> bool {
    a.0.cmplt(b.1).all() && b.0.cmplt(a.1).all()
}

/// A face of a part on paper.
struct Face<'p> {
    mark: &'p str,
    room: Room,
    /// Whether its grain runs up the sheet.
    upright: bool,
}

impl Face<'_> {
    /// The way in which words along it are read: from below, or from the right.
    fn way(&self) -> DVec2 {
        if self.upright { -DVec2::Y } else { DVec2::X }
    }

    /// How long it is along the grain and across, mm on paper.
    fn size(&self) -> (f64, f64) {
        let size = self.room.1 - self.room.0;
        if self.upright { (size.y, size.x) } else { (size.x, size.y) }
    }

    /// Where something of so much reach along and across may stand on it.
    fn spots(&self) -> impl Iterator<Item = DVec2> {
        let (middle, way, (long, across)) = ((self.room.0 + self.room.1) / 2.0, self.way(), self.size());
        ACROSS.into_iter().flat_map(move |aside| ALONG.map(|share| middle + way * share * long + way.perp() * aside * across))
    }

    /// Arrow and mark on it, else the arrow on it and the mark beside it, with a line that leads there.
    fn draw(&self, ink: &mut Ink, before: &[Room], all: Room) {
        let mark = width_of(self.mark, LETTERING, false);
        let ((long, across), way) = (self.size(), self.way());
        if long < ARROW + mark + 5.0 {
            return;
        }
        let box_at = |spot: DVec2, along: f64, aside: f64| {
            let half = (way * along + way.perp() * aside).abs();
            (spot - half, spot + half)
        };
        let within = |room: Room| room.0.cmpge(self.room.0).all() && room.1.cmple(self.room.1).all();
        let seen = |room: Room| within(room) && !before.iter().any(|other| meet(*other, room));
        let reach = (ARROW + mark + TO_MARK) / 2.0;
        if across >= LETTERING + 1.0 {
            let free = |spot: &DVec2| {
                let room = box_at(*spot, reach + 1.0, LETTERING / 2.0 + 0.4);
                seen(room) && !on_words(ink, room)
            };
            if let Some(spot) = self.spots().find(free) {
                arrow(ink, spot - way * reach, way);
                self.write(ink, spot + way * (ARROW + TO_MARK - reach), Anchor::Start);
                return;
            }
        }
        let out = way.perp().abs() * (across / 2.0 + 1.4 + LETTERING / 2.0);
        let (middle, axis) = ((self.room.0 + self.room.1) / 2.0, way.perp());
        // In the line of the arrow the mark would have stood; now it stands aside of that place.
        let on_axis = self.spots().map(|spot| spot + axis * (middle - spot).dot(axis));
        let both = on_axis.flat_map(|spot| [out, -out].map(|out| (spot, out)));
        let words_at = |spot: DVec2| spot + way * (ARROW + TO_MARK - reach + mark / 2.0);
        let free = |(spot, out): &(DVec2, DVec2)| {
            let room = box_at(words_at(*spot) + *out, mark / 2.0 + 0.4, LETTERING / 2.0 + 0.3);
            let inner = room.0.cmpge(all.0).all() && room.1.cmple(all.1).all();
            seen(box_at(*spot, reach, 0.3)) && inner && !on_words(ink, room) && !on_lines(ink, room)
        };
        let mut both = both.filter(|_| across >= 2.0 * HEAD.1);
        let Some((spot, out)) = both.find(free) else { return };
        arrow(ink, spot - way * reach, way);
        let words = words_at(spot);
        ink.circle(Pen::Thin, words, 0.3);
        ink.line(Pen::Thin, words, words + out - out.normalize_or_zero() * (LETTERING / 2.0 + 0.3));
        self.write(ink, words + out, Anchor::Middle);
    }

    fn write(&self, ink: &mut Ink, at: DVec2, anchor: Anchor) {
        ink.text(Text { upright: self.upright, clears: true, ..Text::new(at, anchor, LETTERING, self.mark) });
    }
}

fn on_words(ink: &Ink, room: Room) -> bool {
    ink.texts.iter().map(Text::room).any(|other| meet(other, room))
}

/// Whether lines that don't break off round words run there, or edges that should not.
fn on_lines(ink: &Ink, room: Room) -> bool {
    let stays = |pen: Pen| match pen {
        Pen::Edge | Pen::Thin | Pen::Extension | Pen::Tick | Pen::Centre | Pen::Frame => true,
        Pen::Behind | Pen::Hidden | Pen::Hatch => false,
    };
    let mut lines = ink.strokes.iter().filter(|stroke| stays(stroke.pen)).flat_map(|stroke| stroke.points.windows(2));
    lines.any(|ends| inside(ends[0], ends[1], room).is_some())
}

/// An arrow with half a head at either end.
fn arrow(ink: &mut Ink, from: DVec2, way: DVec2) {
    let (to, aside) = (from + way * ARROW, way.perp());
    ink.line(Pen::Thin, from, to);
    ink.line(Pen::Thin, from, from + way * HEAD.0 + aside * HEAD.1);
    ink.line(Pen::Thin, to, to - way * HEAD.0 - aside * HEAD.1);
}
