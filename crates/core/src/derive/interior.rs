//! How the room inside is divided: bays, dividers and their cross rails.

use glam::DVec2;

use super::builder::sized;
use super::derive_with;
use super::frames::Frames;
use super::milled::{self, as_milled};
use super::{Builder, DesignError, Levels};
use crate::design::{Along, BaySize, Bottom, Design, Dimension, Fitting, Opening, Side, Split};
use crate::length::trimmed;
use crate::model::{BuildStage, Contact, Material, Meeting, NewPart, PartId, PartKind, Role};
use crate::origin::Size;
use crate::place::{Block, Dir, Lie};

/// A bay: its clear width between posts and stiles, and what stands in it.
#[derive(Clone, Debug)]
pub struct BayPlan {
    /// Its left and its right face, from the left of the case.
    pub left: Size,
    /// Its right face.
    pub right: Size,
    /// What stands in it.
    pub fitting: Fitting,
    /// Path of its opening in the design.
    pub path: String,
    /// Width of the cross rails of the divider to its right; 0 at the last bay.
    pub cross_rail: Size,
}

impl BayPlan {
    /// Its clear width, mm.
    pub fn clear(&self) -> f64 {
        self.right.mm - self.left.mm
    }
}

/// The bays of a design from the left, for those who ask without deriving the whole case.
///
/// # Errors
/// As [`derive()`](crate::derive()).
pub fn bay_plans(design: &Design) -> Result<Vec<BayPlan>, Vec<DesignError>> {
    let all = as_milled(design, &[]);
    let spent = if design.shop.batches.is_empty() { Vec::new() } else { milled::spent(design, &derive_with(&all, None)?) };
    let milled = as_milled(design, &spent);
    let builder = Builder::new(&milled);
    plan(&builder, &Levels::of(&builder)?)
}

/// How deep bays may be divided again. All divisions stand side by side, so deeper ones say nothing that wider ones don't.
const MOST_NESTED: usize = 4;

/// The least clear width of a bay, mm: less is no bay but a slip.
const LEAST_BAY: f64 = 20.0;

/// The bays of the case from the left.
pub(super) fn plan(builder: &Builder<'_>, levels: &Levels) -> Result<Vec<BayPlan>, Vec<DesignError>> {
    let [left, right] = [true, false].map(|left| levels.posts_across(builder, left));
    let left = left.named("left post, inner face");
    let right = Size::sum("right post, inner face", [(1.0, &levels.width), (-1.0, &right)]);
    let mut plans = Vec::new();
    let end = Size::decided("", "no divider", 0.0);
    divide(builder, &builder.design.interior, "interior", (left, right), end, &mut plans).map_err(|error| vec![error])?;
    if plans.len() > 1 && builder.design.carcase.back == Side::Open {
        return Err(vec![DesignError::NoRoom {
            path: "carcase.back".to_owned(),
            problem: "a divider stands between front and back rails, and the back is open".to_owned(),
            remedy: "make the back a frame, or take out the dividers".to_owned(),
        }]);
    }
    Ok(plans)
}

fn divide(
    builder: &Builder<'_>,
    opening: &Opening,
    path: &str,
    (left, right): (Size, Size),
    cross_rail: Size,
    plans: &mut Vec<BayPlan>,
) -> Result<(), DesignError> {
    if path.matches(".bays.").count() > MOST_NESTED {
        return Err(DesignError::NoRoom {
            path: path.to_owned(),
            problem: format!("bays are nested more than {MOST_NESTED} deep"),
            remedy: "divide the bay above into more bays instead".to_owned(),
        });
    }
    match opening {
        Opening::Leaf(fitting) => plans.push(BayPlan { left, right, fitting: fitting.clone(), path: path.to_owned(), cross_rail }),
        Opening::Split(split) => match split.along {
            Along::Width => split_width(builder, split, path, (left, right), &cross_rail, plans)?,
        },
    }
    Ok(())
}

fn split_width(
    builder: &Builder<'_>,
    split: &Split,
    path: &str,
    (left, right): (Size, Size),
    after: &Size,
    plans: &mut Vec<BayPlan>,
) -> Result<(), DesignError> {
    let own_cross_rail = builder.size(&format!("{path}.divider.cross_rail"));
    let dividers = dividers(builder, split, path, plans.len());
    let widths = clear_widths(builder, split, path, &left, &right, &dividers)?;
    let last = split.bays.len() - 1;
    let mut from = left;
    for (index, (bay, width)) in split.bays.iter().zip(&widths).enumerate() {
        let to =
            if index == last { right.clone() } else { Size::sum(format!("right face of bay {}", index + 1), [(1.0, &from), (1.0, width)]) };
        let next = dividers
            .get(index)
            .map_or_else(|| to.clone(), |divider| Size::sum(format!("left face of bay {}", index + 2), [(1.0, &to), (1.0, divider)]));
        let cross_rail = if index == last { after.clone() } else { own_cross_rail.clone() };
        divide(builder, &bay.opening, &format!("{path}.bays.{}.opening", index + 1), (from, to), cross_rail, plans)?;
        from = next;
    }
    Ok(())
}

/// The widths of the dividers of a split, before which there are so many bays: each as its stile and its muntin came out, the wider of the two.
fn dividers(builder: &Builder<'_>, split: &Split, path: &str, before: usize) -> Vec<Size> {
    let planned = builder.size(&format!("{path}.divider.width"));
    let mut bays = before;
    let between = split.bays.iter().take(split.bays.len().saturating_sub(1)).map(|bay| {
        bays += leaves(&bay.opening);
        let made = ["stile", "muntin"].map(|word| builder.as_made(&format!("{word}.{bays}"), Dimension::Width, &planned));
        let [stile, muntin] = made;
        if muntin.mm > stile.mm { muntin } else { stile }
    });
    between.collect()
}

/// How many bays there are in an opening.
fn leaves(opening: &Opening) -> usize {
    match opening {
        Opening::Leaf(_) => 1,
        Opening::Split(split) => split.bays.iter().map(|bay| leaves(&bay.opening)).sum(),
    }
}

/// The clear width of every bay: what was decided, and for the others their shares of the rest.
fn clear_widths(
    builder: &Builder<'_>,
    split: &Split,
    path: &str,
    left: &Size,
    right: &Size,
    dividers: &[Size],
) -> Result<Vec<Size>, DesignError> {
    let no_room = |problem: String, remedy: String| Err(DesignError::NoRoom { path: format!("{path}.bays"), problem, remedy });
    if split.bays.is_empty() {
        return no_room("there is no bay".to_owned(), "give it at least one".to_owned());
    }
    let whole = Size::sum("between the posts", [(1.0, right), (-1.0, left)]);
    let name = |index: usize| format!("{path}.bays.{}.size", index + 1);
    let mut rest = match dividers {
        [first, others @ ..] if others.iter().all(|divider| divider == first) => {
            Size::sum("left for the bays", [(1.0, &whole), (-(dividers.len() as f64), first)])
        }
        _ => {
            let less = |rest: Size, divider| Size::sum("left for the bays", [(1.0, &rest), (-1.0, divider)]);
            dividers.iter().fold(whole.named("left for the bays"), less)
        }
    };
    let mut shares = 0.0;
    for (index, bay) in split.bays.iter().enumerate() {
        match bay.size {
            BaySize::Clear(_) => rest = Size::sum("left for the other bays", [(1.0, &rest), (-1.0, &builder.size(&name(index)))]),
            BaySize::Share(share) => shares += share,
        }
    }
    if shares == 0.0 && rest.mm.abs() > 1e-6 {
        return no_room(
            format!("the bays and dividers differ from the {} between the posts by {}", trimmed(whole.mm), trimmed(rest.mm)),
            "let one bay take a share, or change one by that much".to_owned(),
        );
    }
    let mut widths = Vec::with_capacity(split.bays.len());
    for (index, bay) in split.bays.iter().enumerate() {
        let width = match bay.size {
            BaySize::Clear(_) => builder.size(&name(index)),
            BaySize::Share(share) => {
                Size::ruled(format!("bay {}", index + 1), rest.mm * share / shares, "its share of what the others leave", [&rest])
            }
        };
        if width.mm < LEAST_BAY {
            return no_room(
                format!("bay {} would be {} wide", index + 1, trimmed(width.mm)),
                format!("make the case {} mm wider, or other bays or dividers narrower", trimmed(LEAST_BAY - width.mm)),
            );
        }
        widths.push(width);
    }
    Ok(widths)
}

/// The cross rails of a divider; they run from the front rail to the back rail.
pub(super) struct CrossRails {
    /// The lower one, under the floor.
    pub bottom: PartId,
    /// The stile and the muntin of the divider.
    pub uprights: [PartId; 2],
}

/// Thickness of the floor sheet, or nothing where there is no floor.
pub(super) fn floor_thickness(builder: &Builder<'_>) -> Size {
    match builder.design.carcase.bottom {
        Bottom::LooseFloor(_) => builder.size("timber.floor.measured"),
        Bottom::Open => Size::decided("", "no floor", 0.0),
    }
}

pub(super) fn build_cross_rails(builder: &mut Builder<'_>, levels: &Levels, plans: &[BayPlan], frames: &Frames) -> Vec<CrossRails> {
    let Some(back) = &frames.back else { return Vec::new() };
    let floor = floor_thickness(builder);
    let mut all = Vec::new();
    for (index, pair) in plans.windows(2).enumerate() {
        let middle = f64::midpoint(pair[0].right.mm, pair[1].left.mm);
        let width = &pair[0].cross_rail;
        let low = levels.low.mm - floor.mm;
        let mut place = |place: &str, v: (f64, f64), rails: [PartId; 2]| {
            let title = format!("Cross rail {}, {place}", index + 1);
            let [front, back] = rails.map(|rail| levels.inner_of(builder, rail, Dir::PlusZ));
            let span = if front == back {
                Size::sum("from rail to rail", [(1.0, &levels.depth), (-2.0, &front)])
            } else {
                Size::sum("from rail to rail", [(1.0, &levels.depth), (-1.0, &front), (-1.0, &back)])
            };
            let half = levels.rail.mm / 2.0;
            let id = builder.place(NewPart {
                name: format!("cross_rail.{}.{place}", index + 1),
                title: title.clone(),
                kind: PartKind::CrossRail,
                material: Material::Solid(builder.design.timber.frame.clone()),
                block: Block::new((middle - half, middle + half), v, (back.mm, levels.depth.mm - front.mm)),
                lie: Lie { face: Dir::PlusX, edge: Dir::PlusY },
                size: [
                    sized(&title, Dimension::Length, &span),
                    sized(&title, Dimension::Width, width),
                    sized(&title, Dimension::Thickness, &levels.rail),
                ],
                stage: BuildStage::GlueUp,
            });
            let at = |z: f64| glam::DVec3::new(middle, f64::midpoint(v.0, v.1), z);
            for (rail, z, into) in [(rails[0], levels.depth.mm - front.mm, Dir::PlusZ), (rails[1], back.mm, Dir::MinusZ)] {
                builder.bring_up(Meeting {
                    role: Role::CrossRailToRail,
                    a: id,
                    b: rail,
                    contact: Contact { centre: at(z), into, along: Dir::PlusY, extent: DVec2::new(width.mm, levels.rail.mm) },
                });
            }
            id
        };
        let bottom = place("bottom", (low - width.mm, low), [frames.front.bottom, back.bottom]);
        place("top", (levels.post_height.mm - width.mm, levels.post_height.mm), [frames.front.top, back.top]);
        all.push(CrossRails { bottom, uprights: [frames.front.uprights[index], back.uprights[index]] });
    }
    all
}
