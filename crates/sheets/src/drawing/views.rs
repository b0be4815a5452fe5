//! Front, side and plan: what is seen, what is hidden, and what is measured.

use casewright_core::model::{Part, PartKind};
use casewright_core::place::Block;
use casewright_core::{Model, Solids};
use casewright_solid::view::{Line, Looking};
use glam::DVec2;

use super::book::Book;
use super::drafting::Drafting;
use super::drawn::{Drawn, Measured, Places, Stretch};
use super::from::{From, Standing};
use super::grain;
use super::levels;
use super::page::Pen;
use super::rows::Beside;

/// The lines of a view, mm of the view.
#[derive(Clone, Debug, Default)]
pub(super) struct Seen {
    /// Of the carcase.
    pub wide: Vec<Line>,
    /// Of what stands in it.
    pub narrow: Vec<Line>,
    /// What is hidden and worth knowing.
    pub hidden: Vec<Line>,
}

/// The three views of a case, seen once and drawn at any scale.
pub(super) struct Views<'m> {
    pub model: &'m Model,
    pub standing: Standing<'m>,
    pub side_from: From,
    seen: [Seen; 3],
}

/// Whether a part is of the carcase, and drawn wide.
pub(super) fn is_carcase(part: &Part) -> bool {
    match part.kind {
        PartKind::Post
        | PartKind::Rail
        | PartKind::Stile
        | PartKind::Muntin
        | PartKind::CrossRail
        | PartKind::Panel
        | PartKind::Top
        | PartKind::Floor
        | PartKind::Own => true,
        PartKind::Bearer
        | PartKind::Standard
        | PartKind::Cleat
        | PartKind::Slat
        | PartKind::Shelf
        | PartKind::Pin
        | PartKind::Spacer
        | PartKind::Button
        | PartKind::LooseTenon
        | PartKind::Dowel
        | PartKind::Clip
        | PartKind::Plate
        | PartKind::Strip
        | PartKind::Shim => false,
    }
}

/// Whether what is hidden of a part is dashed: joinery and panels from the front and the side, the frame under the top from above. All of
/// the rest would be a tangle, and the sections show it.
fn shows_hidden(from: From, part: &Part) -> bool {
    match part.kind {
        PartKind::LooseTenon | PartKind::Dowel | PartKind::Panel | PartKind::Floor => from != From::Above,
        PartKind::Post | PartKind::Rail | PartKind::Stile | PartKind::Muntin | PartKind::CrossRail => from == From::Above,
        PartKind::Top
        | PartKind::Own
        | PartKind::Bearer
        | PartKind::Standard
        | PartKind::Cleat
        | PartKind::Slat
        | PartKind::Shelf
        | PartKind::Pin
        | PartKind::Spacer
        | PartKind::Button
        | PartKind::Clip
        | PartKind::Plate
        | PartKind::Strip
        | PartKind::Shim => false,
    }
}

/// The box round all parts of a kind.
pub(super) fn span(model: &Model, wanted: impl Fn(&Part) -> bool) -> Option<Block> {
    let blocks = model.parts.iter().filter(|part| wanted(part)).map(Part::block);
    blocks.reduce(|a, b| Block { min: a.min.min(b.min), max: a.max.max(b.max) })
}

impl<'m> Views<'m> {
    /// Looks at the case; the side is looked at from the left or from the right.
    pub fn look(model: &'m Model, solids: &'m Solids, side_from: From) -> Views<'m> {
        let standing = Standing::of(model, solids, |_| true);
        let seen = [From::Front, side_from, From::Above].map(|from| {
            let view = standing.look(from, Looking { hidden: true, ..Looking::default() });
            Seen {
                wide: view.seen(|body| is_carcase(standing.parts[body])),
                narrow: view.seen(|body| !is_carcase(standing.parts[body])),
                hidden: view.hidden(|body| shows_hidden(from, standing.parts[body])),
            }
        });
        Views { model, standing, side_from, seen }
    }

    fn begin<'d>(&self, drafting: &'d Drafting, number: usize, from: From, scale: f64) -> Option<Drawn<'d>> {
        let bounds = from.bounds(self.model.parts.iter().map(Part::block))?;
        let mut drawn = Drawn::new(drafting, from, scale, bounds);
        let seen = &self.seen[number];
        drawn.lines(Pen::Behind, &seen.narrow);
        drawn.lines(Pen::Hidden, &seen.hidden);
        drawn.lines(Pen::Edge, &seen.wide);
        Some(drawn)
    }

    /// Front, side and plan with their dimensions, at a scale; nothing for a case without parts.
    pub fn draw<'d>(&self, drafting: &'d Drafting, scale: f64, book: &mut Book) -> Option<[Drawn<'d>; 3]> {
        let mut front = self.begin(drafting, 0, From::Front, scale)?;
        let mut side = self.begin(drafting, 1, self.side_from, scale)?;
        let mut plan = self.begin(drafting, 2, From::Above, scale)?;
        if let Some(posts) = span(self.model, |part| part.kind == PartKind::Post) {
            self.front(&mut front, &posts, book);
            self.side(&mut side, &posts, book);
            self.plan(&mut plan, &posts, book);
        }
        levels::draw(&mut front, self.model, book);
        for drawn in [&mut front, &mut side, &mut plan] {
            grain::draw(drawn, &self.standing);
        }
        Some([front, side, plan])
    }

    fn rails(&self, start: &str, edge: f64) -> Vec<Stretch> {
        let rails = self.model.parts.iter().filter(|part| part.kind == PartKind::Rail && part.name.starts_with(start));
        rails.map(Part::block).map(|block| Stretch::new(block.min.y, block.max.y, edge)).collect()
    }

    /// Overall width, posts and dividers, where these stand, what is free between them; overall height, rails and top.
    fn front(&self, drawn: &mut Drawn<'_>, posts: &Block, book: &mut Book) {
        let (left, right, ground) = (posts.min.x, posts.max.x, posts.min.y);
        let uprights = self.model.parts.iter().filter(|part| matches!(part.kind, PartKind::Post | PartKind::Stile)).map(Part::block);
        // Below the rail, so that no extension line runs over it.
        let foot = self.rails("rail.front.", left).iter().map(|rail| rail.a).fold(f64::INFINITY, f64::min);
        let under = |block: &Block| if foot.is_finite() { block.min.y.min(foot) } else { block.min.y };
        let mut members: Vec<Stretch> = uprights.map(|block| Stretch::new(block.min.x, block.max.x, under(&block))).collect();
        once(&mut members);
        let (datum, overall) = ((left, ground), Some((right, ground)));
        drawn.measure(book, &Measured { beside: Beside::Below, datum, overall, members, places: Places::Running, openings: true });
        let mut members = self.rails("rail.front.", left);
        let slab = span(self.model, |part| part.kind == PartKind::Top);
        members.extend(slab.map(|slab| Stretch::new(slab.min.y, slab.max.y, slab.min.x)));
        once(&mut members);
        let overall = Some((drawn.bounds.1.y, slab.map_or(left, |slab| slab.min.x)));
        let datum = (ground, left);
        drawn.measure(book, &Measured { beside: Beside::Left, datum, overall, members, places: Places::Running, openings: true });
    }

    /// Overall depth and posts; rails that the front does not show.
    fn side(&self, drawn: &mut Drawn<'_>, posts: &Block, book: &mut Book) {
        let sign = self.side_from.across().1;
        let (back, front, ground) = (posts.min.z * sign, posts.max.z * sign, posts.min.y);
        let uprights = self.model.parts.iter().filter(|part| part.kind == PartKind::Post).map(Part::block);
        let mut members: Vec<Stretch> = uprights.map(|block| Stretch::new(block.min.z * sign, block.max.z * sign, ground)).collect();
        once(&mut members);
        let (datum, overall) = ((back, ground), Some((front, ground)));
        drawn.measure(book, &Measured { beside: Beside::Below, datum, overall, members, places: Places::Running, openings: true });
        let edge = drawn.bounds.1.x;
        // Where the other side has its rails elsewhere, they are measured here too.
        let mut members = self.rails("rail.left.", edge);
        members.extend(self.rails("rail.right.", edge));
        once(&mut members);
        let datum = (ground, if sign > 0.0 { front } else { back });
        drawn.measure(book, &Measured { beside: Beside::Right, datum, overall: None, members, places: Places::Running, openings: true });
    }

    /// The top, and how far it stands over.
    fn plan(&self, drawn: &mut Drawn<'_>, posts: &Block, book: &mut Book) {
        let Some(slab) = span(self.model, |part| part.kind == PartKind::Top) else { return };
        let (min, max) = (DVec2::new(slab.min.x, -slab.max.z), DVec2::new(slab.max.x, -slab.min.z));
        let measured =
            |beside, datum, member| Measured { beside, datum, overall: None, members: vec![member], places: Places::Gaps, openings: false };
        drawn.measure(book, &measured(Beside::Below, (posts.min.x, min.y), Stretch::new(min.x, max.x, min.y)));
        drawn.measure(book, &measured(Beside::Right, (-posts.max.z, max.x), Stretch::new(min.y, max.y, max.x)));
    }
}

/// In order, each once.
pub(super) fn once(members: &mut Vec<Stretch>) {
    members.sort_by(|a, b| a.a.total_cmp(&b.a).then(a.b.total_cmp(&b.b)));
    members.dedup_by(|a, b| (a.a - b.a).abs() < 5e-3 && (a.b - b.b).abs() < 5e-3);
}
