//! Which scale, and where each view stands: first-angle, the view from the left to the right of the front, the plan below.

use casewright_core::Model;
use casewright_core::model::{Part, PartKind};
use glam::DVec2;

use super::view::{Line, View};

/// The scales drawn to, largest first (ISO 5455).
const SCALES: [f64; 6] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0];

/// The room for views, mm on paper: left of the column of notes, inside the frame.
const ROOM: (DVec2, DVec2) = (DVec2::new(22.0, 12.0), DVec2::new(286.0, 285.0));

/// Room for dimensions left of the front, between front and side, and right of the side, mm.
const ACROSS: [f64; 3] = [30.0, 20.0, 18.0];
/// Room above the front, between front and plan, and below the plan, mm.
const DOWN: [f64; 3] = [21.0, 34.0, 16.0];

/// A view at its place on paper.
#[derive(Clone, Copy, Debug)]
pub(super) struct Placed {
    /// Which view.
    pub view: View,
    /// The least and the greatest place in it, across and up, mm at full size.
    pub bounds: (DVec2, DVec2),
    /// Upper left corner on paper, mm.
    pub corner: DVec2,
    /// Full size over paper.
    pub scale: f64,
}

impl Placed {
    /// A place of the view on paper.
    pub fn at(&self, across: f64, up: f64) -> DVec2 {
        let (min, max) = self.bounds;
        self.corner + DVec2::new(across - min.x, max.y - up) / self.scale
    }

    /// A line of the view on paper.
    pub fn line(&self, line: &Line) -> Line {
        Line { a: self.at(line.a.x, line.a.y), b: self.at(line.b.x, line.b.y) }
    }
}

/// Whether a part is drawn in a view: from above, the top would hide all the rest and is taken off.
pub(super) fn is_shown(view: View, part: &Part) -> bool {
    match view {
        View::Front | View::Left => true,
        View::Above => part.kind != PartKind::Top,
    }
}

/// Front, left and plan at their places; nothing for a case without parts.
pub(super) fn place(model: &Model) -> Option<[Placed; 3]> {
    let views = [View::Front, View::Left, View::Above];
    // With the top, also where it is taken off: views line up by what they have in common.
    let mut bounds = [(DVec2::ZERO, DVec2::ZERO); 3];
    for (view, bounds) in views.into_iter().zip(&mut bounds) {
        *bounds = view.bounds(model.parts.iter())?;
    }
    let [front, left, plan] = bounds.map(|(min, max)| max - min);
    let needs = |scale: f64| {
        let across = (front.x.max(plan.x) + left.x) / scale + ACROSS.iter().sum::<f64>();
        let down = (front.y.max(left.y) + plan.y) / scale + DOWN.iter().sum::<f64>();
        DVec2::new(across, down)
    };
    let room = ROOM.1 - ROOM.0;
    let fits = |scale: &f64| needs(*scale).cmple(room).all();
    let scale = SCALES.into_iter().find(fits).unwrap_or(SCALES[SCALES.len() - 1]);
    let spare = ((room - needs(scale)) / 2.0).max(DVec2::ZERO);
    let front_at = ROOM.0 + spare + DVec2::new(ACROSS[0], DOWN[0]);
    let left_at = front_at + DVec2::new(front.x / scale + ACROSS[1], 0.0);
    let plan_at = front_at + DVec2::new(0.0, front.y / scale + DOWN[1]);
    let corners = [front_at, left_at, plan_at];
    Some([0, 1, 2].map(|index| Placed { view: views[index], bounds: bounds[index], corner: corners[index], scale }))
}
