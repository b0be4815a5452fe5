//! Straight moves.

use std::ops::ControlFlow;

use glam::DVec3;

use super::body::{Body, across_edges};
use super::moves::{Hit, Placed, middle, share};
use super::{Cell, Cells, THIN};
use crate::box_tree::Bounds;
use crate::pose::Pose;

/// Moves a part straight by `way` and tells where it first goes deeper than `slack` mm into what stands.
///
/// `pose` is where the part starts; the world's axes hold for `way`. Nothing is sampled: along every direction that may part two convex
/// pieces they overlap for one stretch of the way, and the part strikes where all those stretches have some way in common. So a part may
/// touch, slide along a face, or leave a mortise that fits without play, and hits nothing; but a part that stands deeper than `slack`
/// at the start hits at once. A `slack` below a millionth of a millimetre is taken as that.
///
/// Curves are the facets of the [`Cells`]: two that run in each other strike nothing as long as their facets nest.
///
/// ```
/// use casewright_solid::{Axis, Pose, Prism, Profile, Solid, sweep};
/// use glam::{DVec2, DVec3};
///
/// // A panel in the groove of a rail: it comes out of the groove, but not sideways through its wall.
/// let groove = Prism { axis: Axis::L, from: 0.0, to: 400.0, profile: Profile::rect(DVec2::new(0.0, 7.0), DVec2::new(10.0, 13.0)) };
/// let rail = Solid { size: DVec3::new(400.0, 60.0, 20.0), prisms: vec![groove] }.cells(16)?;
/// let panel = Solid::blank(DVec3::new(400.0, 300.0, 6.0)).cells(16)?;
/// let in_groove = Pose { origin: DVec3::new(0.0, -290.0, 7.0), ..Pose::IDENTITY };
/// let out = |way| sweep(&panel, &in_groove, way, &rail, &Pose::IDENTITY, 0.01);
/// assert_eq!(out(DVec3::new(0.0, -50.0, 0.0)), None);
/// let struck = out(DVec3::new(0.0, 0.0, 50.0)).expect("the wall of the groove");
/// assert!((struck.after - 0.01).abs() < 1e-9);
/// # Ok::<(), casewright_solid::SolidError>(())
/// ```
pub fn sweep(moving: &Cells, pose: &Pose, way: DVec3, standing: &Cells, standing_pose: &Pose, slack: f64) -> Option<Hit> {
    let (mut first, mut deepest) = (None::<(f64, &Cell, &Cell)>, 0.0_f64);
    each_struck(moving, pose, way, standing, standing_pose, slack, |own, other, stretch, tracks| {
        if first.is_none_or(|(from, _, _)| stretch.from < from) {
            first = Some((stretch.from, own, other));
        }
        // No deeper than where it overlaps least; worth working out only past what is known.
        if tracks.iter().map(Track::most).fold(f64::INFINITY, f64::min) > deepest {
            deepest = deepest.max(greatest(tracks, stretch));
        }
        ControlFlow::Continue(())
    });
    let (from, own, other) = first?;
    let there = standing_pose.inverse();
    let (start, along) = (there.then_of(pose), there.vector(way));
    let moved = Pose { origin: start.origin + along * from, ..start };
    let at = standing_pose.point(middle(own, &moved, other));
    Some(Hit { depth: deepest, at, after: from * along.length() })
}

/// Whether a part that moves straight by `way` goes deeper than `slack` mm into what stands: what [`sweep`] finds, but no more than that.
pub fn strikes(moving: &Cells, pose: &Pose, way: DVec3, standing: &Cells, standing_pose: &Pose, slack: f64) -> bool {
    let mut struck = false;
    each_struck(moving, pose, way, standing, standing_pose, slack, |_, _, _, _| {
        struck = true;
        ControlFlow::Break(())
    });
    struck
}

/// Calls `visit` with every two cells that strike, when they do, and how they overlap, until it breaks off.
fn each_struck<'a>(
    moving: &'a Cells,
    pose: &Pose,
    way: DVec3,
    standing: &'a Cells,
    standing_pose: &Pose,
    slack: f64,
    mut visit: impl FnMut(&'a Cell, &'a Cell, Stretch, &[Track]) -> ControlFlow<()>,
) {
    // All in the frame of what stands, so that only the one is turned.
    let there = standing_pose.inverse();
    let (start, along) = (there.then_of(pose), there.vector(way));
    let back = start.inverse();
    let along_own = back.vector(along);
    let slack = slack.max(THIN);
    let square = start.is_square();
    let swept = |(min, max): Bounds| extended(start.bounds_of_box(min, max), along);
    let mut placed = Placed::new(moving, start);
    let mut tracks = Vec::new();
    for i in moving.pieces_where(|bounds| share(swept(bounds), (standing.min, standing.max), slack)) {
        let own = &moving.pieces[i];
        let (own_box, own_bounds) = (moving.piece_bounds(i), start.bounds_of_box(own.min, own.max));
        // Along the axes of the one and those of the other.
        let may = |(min, max): Bounds| {
            boxes(own_bounds, (min, max), along, slack).is_some()
                && (square || boxes(own_box, back.bounds_of_box(min, max), along_own, slack).is_some())
        };
        let ended = standing.tree.near(&may, &mut |j| {
            let Some((mut stretch, upright)) = boxes(own_bounds, standing.piece_bounds(j), along, slack) else {
                return ControlFlow::Continue(());
            };
            let other = &standing.pieces[j];
            tracks.clear();
            tracks.extend(upright);
            if !square || own.hull.is_some() || other.hull.is_some() {
                let Some(found) = bodies(placed.body(i), standing.body(j), along, slack, stretch, &mut tracks) else {
                    return ControlFlow::Continue(());
                };
                stretch = found;
            }
            visit(own, other, stretch, &tracks)
        });
        if ended.is_break() {
            return;
        }
    }
}

/// The upright box in the world around all that a part passes through as it moves by `way`: for finding what may stand in its way.
pub fn swept_bounds(cells: &Cells, pose: &Pose, way: DVec3) -> (DVec3, DVec3) {
    extended(pose.bounds_of_box(cells.min, cells.max), way)
}

/// A box drawn out along a way.
fn extended((min, max): (DVec3, DVec3), way: DVec3) -> (DVec3, DVec3) {
    (min.min(min + way), max.max(max + way))
}

/// A stretch of the way, as parts of the whole.
#[derive(Clone, Copy, Debug)]
struct Stretch {
    from: f64,
    to: f64,
}

/// How two spans overlap along one direction while the one moves.
#[derive(Clone, Copy, Debug)]
struct Track {
    /// At the start, from the near end of what stands to the far end of what moves.
    lead: f64,
    /// At the start, from the near end of what moves to the far end of what stands.
    lag: f64,
    /// How far the one moves along the direction in all.
    speed: f64,
}

/// What moves by less than this along a direction stands still, mm.
const STILL: f64 = 1e-9;

impl Track {
    fn new(moving: (f64, f64), standing: (f64, f64), speed: f64) -> Self {
        Self { lead: moving.1 - standing.0, lag: standing.1 - moving.0, speed }
    }

    /// The way that would part them at a moment, along this direction.
    fn at(&self, moment: f64) -> f64 {
        (self.lead + self.speed * moment).min(self.lag - self.speed * moment)
    }

    /// The most it can ever be.
    fn most(&self) -> f64 {
        f64::midpoint(self.lead, self.lag)
    }

    /// That part of a stretch in which they overlap by more than `slack`.
    fn narrow(&self, slack: f64, within: Stretch) -> Option<Stretch> {
        let (least, most) = (slack - self.lead, self.lag - slack);
        if self.speed.abs() <= STILL {
            return (least < 0.0 && most > 0.0).then_some(within);
        }
        if least >= most {
            return None;
        }
        let (a, b) = (least / self.speed, most / self.speed);
        let (from, to) = (within.from.max(a.min(b)), within.to.min(a.max(b)));
        (from < to).then_some(Stretch { from, to })
    }
}

/// The stretch in which two upright boxes share more than `slack`, and how they do along each axis.
fn boxes(moving: Bounds, standing: Bounds, way: DVec3, slack: f64) -> Option<(Stretch, [Track; 3])> {
    let track = |axis: usize| Track::new((moving.0[axis], moving.1[axis]), (standing.0[axis], standing.1[axis]), way[axis]);
    let tracks = [track(0), track(1), track(2)];
    let whole = Stretch { from: 0.0, to: 1.0 };
    let stretch = tracks.iter().try_fold(whole, |stretch, track| track.narrow(slack, stretch))?;
    Some((stretch, tracks))
}

/// [`boxes`] for any two convex bodies.
fn bodies(moving: &Body, standing: &Body, way: DVec3, slack: f64, within: Stretch, tracks: &mut Vec<Track>) -> Option<Stretch> {
    let mut stretch = within;
    let sides = moving.normals.iter().chain(&standing.normals).copied();
    for direction in sides.chain(across_edges(&moving.edges, &standing.edges)) {
        let track = Track::new(moving.span(direction), standing.span(direction), direction.dot(way));
        stretch = track.narrow(slack, stretch)?;
        tracks.push(track);
    }
    Some(stretch)
}

/// The greatest depth in a stretch: the least of all tracks rises, then falls.
fn greatest(tracks: &[Track], stretch: Stretch) -> f64 {
    let depth = |moment: f64| tracks.iter().map(|track| track.at(moment)).fold(f64::INFINITY, f64::min);
    let (mut low, mut high) = (stretch.from, stretch.to);
    // Each step leaves two thirds: after these less than a ten-millionth of the way.
    for _ in 0..40 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if depth(a) < depth(b) {
            low = a;
        } else {
            high = b;
        }
    }
    depth(f64::midpoint(low, high))
}
