//! The mark of the part and the way of its grain, on each part that is seen and large enough.

use casewright_core::model::{Material, Part};
use glam::DVec2;

use super::drawn::Drawn;
use super::from::Standing;
use super::lettering::{LETTERING, width_of};
use super::page::{Anchor, Pen, Text};

/// Length of an arrow, mm, and how far its head reaches along and aside.
const ARROW: f64 = 8.0;
const HEAD: (f64, f64) = (1.8, 0.55);

/// Draws them where nothing stands before the part and no words are.
pub(super) fn draw(drawn: &mut Drawn<'_>, standing: &Standing<'_>) {
    for part in &standing.parts {
        let along = drawn.from.see(part.pose.basis.x_axis);
        if along.z.abs() > 0.5 || matches!(part.material, Material::Bought(_)) {
            continue;
        }
        let (min, max) = drawn.from.block(&part.block());
        let (a, b) = (drawn.at(min.truncate()), drawn.at(max.truncate()));
        let (low, high) = (a.min(b), a.max(b));
        let upright = along.y.abs() > along.x.abs();
        let size = high - low;
        let (long, across) = if upright { (size.y, size.x) } else { (size.x, size.y) };
        let mark = width_of(&part.mark, LETTERING, false);
        if long < ARROW + mark + 5.0 || across < LETTERING + 1.0 {
            continue;
        }
        // The middle, or a place beside it, where nothing stands before it.
        let way = if upright { DVec2::Y } else { DVec2::X };
        let reach = (ARROW + mark + 1.5) / 2.0;
        let spots = [0.0, -0.12, 0.12, -0.25, 0.25].map(|share| (low + high) / 2.0 + way * share * long);
        let free = |spot: &&DVec2| is_free(drawn, standing, part, **spot, way, reach);
        if let Some(spot) = spots.iter().find(free) {
            arrow(drawn, &part.mark, *spot, upright, reach);
        }
    }
}

fn is_free(drawn: &Drawn<'_>, standing: &Standing<'_>, part: &Part, spot: DVec2, way: DVec2, reach: f64) -> bool {
    let half = way * (reach + 1.0) + way.perp().abs() * (LETTERING / 2.0 + 0.4);
    let (min, max) = (spot - half, spot + half);
    let words = drawn.ink.texts.iter().map(Text::room).any(|(low, high)| low.cmple(max).all() && high.cmpge(min).all());
    let view = |at: DVec2| DVec2::new(at.x, -at.y) * drawn.scale;
    let seen = [min, max, spot, DVec2::new(min.x, max.y), DVec2::new(max.x, min.y)];
    !words && seen.iter().all(|at| !standing.is_covered(drawn.from, part, view(*at)))
}

/// An arrow with half a head at either end, then the mark.
fn arrow(drawn: &mut Drawn<'_>, mark: &str, spot: DVec2, upright: bool, reach: f64) {
    // Read from below or from the right.
    let way = if upright { -DVec2::Y } else { DVec2::X };
    let aside = way.perp();
    let (from, to) = (spot - way * reach, spot - way * (reach - ARROW));
    drawn.ink.line(Pen::Thin, from, to);
    drawn.ink.line(Pen::Thin, from, from + way * HEAD.0 + aside * HEAD.1);
    drawn.ink.line(Pen::Thin, to, to - way * HEAD.0 - aside * HEAD.1);
    let at = to + way * 1.5;
    drawn.ink.text(Text { upright, clears: true, ..Text::new(at, Anchor::Start, LETTERING, mark) });
}
