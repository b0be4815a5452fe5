//! Sawtooth standards, and loose cleats in them that carry slats or a solid shelf.

use glam::{DVec2, DVec3};

use super::super::builder::sized;
use super::super::interior::{BayPlan, floor_thickness};
use super::super::{Builder, DesignError, Levels};
use super::spacers::{self, Beside, Gap};
use super::{Depth, Flank, LEAST_CLEAT, Laid, LevelsIn, Place, boards, is_solid, lay, no_room};
use crate::design::{Dimension, MidStandards, Sawtooth, Shelves, System, Teeth};
use crate::inspect::TOUCH;
use crate::joint::{Detail, seat};
use crate::length::trimmed;
use crate::model::{BuildStage, Contact, Feature, LevelKind, Material, Meeting, NewPart, PartId, PartKind, Role, ShelfLevels};
use crate::origin::Size;
use crate::place::{Block, Dir, Lie};

/// The common figures of all standards and cleats.
pub(super) struct Fitted<'s> {
    sawtooth: &'s Sawtooth,
    seats: u32,
    /// Width of a standard, seats and backing.
    width: Size,
    thickness: Size,
    /// Of a cleat between standards as planned.
    cleat_length: Size,
}

impl<'s> Fitted<'s> {
    /// Those of a case; none where no bay has standards.
    pub(super) fn of(builder: &Builder<'s>, levels: &Levels, plans: &[BayPlan]) -> Result<Option<Fitted<'s>>, Vec<DesignError>> {
        if !plans.iter().any(has_standards) {
            return Ok(None);
        }
        let sawtooth = &builder.design.sawtooth;
        let size = |path: &str| builder.size(path);
        let width = Size::sum("standard: width", [(1.0, &size("sawtooth.backing")), (1.0, &size("sawtooth.seat"))]);
        let between = Size::sum("between the posts, front to back", [(1.0, &levels.depth), (-2.0, &levels.post_depth)]);
        let cleat_length = Size::sum(
            "cleat: length at its lower edge",
            [(1.0, &between), (-2.0, &size("sawtooth.backing")), (-1.0, &size("sawtooth.cleat.play"))],
        );
        teeth_are_there(sawtooth)?;
        if cleat_length.mm - 2.0 * seat::bevel_inset(sawtooth) < LEAST_CLEAT {
            let problem = format!("the standards leave {} for a cleat", trimmed(cleat_length.mm));
            return Err(no_room("carcase.depth", problem, "make the case deeper, the posts thinner or the backing less".to_owned()));
        }
        let seats = seat::seats(sawtooth, levels.opening.mm);
        Ok(Some(Fitted { sawtooth, seats, width, thickness: size("sawtooth.thickness"), cleat_length }))
    }
}

/// Whether the sizes of the teeth leave teeth.
fn teeth_are_there(sawtooth: &Sawtooth) -> Result<(), Vec<DesignError>> {
    let (pitch, half) = (sawtooth.pitch, sawtooth.pitch.to_mm() / 2.0);
    let (path, value, what) = match sawtooth.teeth {
        Teeth::Sloped => ("sawtooth.crest", sawtooth.crest, "a flat"),
        Teeth::HalfRound => ("sawtooth.seat", sawtooth.seat, "half circles of radius"),
    };
    if half > value.to_mm() {
        return Ok(());
    }
    let problem = match sawtooth.teeth {
        Teeth::Sloped => format!("{what} of {value} mm leaves no tooth worth the name in a pitch of {pitch} mm"),
        Teeth::HalfRound => format!("{what} {value} mm leave no tooth between them in a pitch of {pitch} mm"),
    };
    Err(no_room(path, problem, format!("it must be less than half the pitch, {} mm", trimmed(half))))
}

impl Place<'_> {
    /// The room for strips between a side of the bay and the outer face of the posts there.
    fn side(&self, builder: &Builder<'_>, side: usize) -> Gap {
        let flank = &self.flanks[side];
        let post = builder.part(flank.uprights[0]).block();
        Gap::side(flank.word, (post.min.x, post.max.x))
    }
}

fn has_standards(plan: &BayPlan) -> bool {
    plan.fitting.system() == Some(System::Sawtooth)
}

/// The standards on the right of the bay before, and whether they are this one's too.
pub(super) struct Before {
    standards: [PartId; 2],
    shared: bool,
}

/// The standards of a bay and its shelves. `last` is what the bay before has on its right, and then what this one has.
pub(super) fn build(
    builder: &mut Builder<'_>,
    levels: &Levels,
    fitted: &Fitted<'_>,
    at: &Place<'_>,
    (shelves, depth): (&Shelves, &Depth),
    [previous, next]: [Option<&BayPlan>; 2],
    last: &mut Option<Before>,
) -> Laid {
    let shared = next.filter(|next| has_standards(next)).filter(|_| fitted.sawtooth.mid == MidStandards::OnePiece);
    let left = match last.take() {
        Some(before) if before.shared => before.standards,
        before => {
            let own = standards(builder, levels, fitted, at, 0, None);
            let (gap, beside) = match previous {
                Some(plan) => {
                    let gap = Gap::divider(at.bay, (plan.right.mm, at.plan.left.mm));
                    (gap, Beside::Each([before.map(|before| before.standards), Some(own)]))
                }
                None => (at.side(builder, 0), Beside::Side(own, at.flanks[0].out)),
            };
            spacers::build(builder, levels, &gap, beside);
            own
        }
    };
    let right = standards(builder, levels, fitted, at, 1, shared.map(|next| next.left.mm));
    match next {
        Some(plan) if shared.is_some() || !has_standards(plan) => {
            let beside = if shared.is_some() { Beside::One(right) } else { Beside::Each([Some(right), None]) };
            spacers::build(builder, levels, &Gap::divider(at.bay + 1, (at.plan.right.mm, plan.left.mm)), beside);
        }
        // The next bay builds them, between its standards and these.
        Some(_) => {}
        None => spacers::build(builder, levels, &at.side(builder, 1), Beside::Side(right, at.flanks[1].out)),
    }
    *last = next.filter(|next| has_standards(next)).map(|_| Before { standards: right, shared: shared.is_some() });
    let both = [left, right];
    let solid = is_solid(builder, &at.plan.fitting);
    let thickness = if solid { builder.size("shelf.thickness") } else { builder.slat_thickness() };
    let height = fitted.sawtooth.cleat.height.to_mm();
    let of_bay = ShelfLevels {
        kind: LevelKind::Tooth,
        lowest: levels.low.mm + seat::seat_height(fitted.sawtooth, 1) + height + thickness.mm,
        pitch: fitted.sawtooth.pitch.to_mm(),
        count: fitted.seats,
        thickness: thickness.mm,
        under: height,
    };
    let there = teeth_of(builder, fitted, &both);
    lay(builder, at, shelves, of_bay, there, |builder, tooth, index| {
        let names = at.names(index);
        let seat = builder.part(there.part).block().min.y + seat::seat_height(fitted.sawtooth, tooth);
        let cleats = [0, 1].map(|side| cleat(builder, fitted, &names, &at.flanks[side], both[side], tooth, seat));
        // The shelf lies on the higher of the two.
        let under = cleats.map(|cleat| builder.part(cleat).block().max.y).into_iter().fold(seat, f64::max);
        let boards = on_cleats(builder, levels, fitted, at, &names, depth, (&both, cleats), under);
        boards::heights(builder, &boards, under)
    })
}

/// The teeth that all standards of a bay have, and the standard that has the fewest.
fn teeth_of(builder: &Builder<'_>, fitted: &Fitted<'_>, standards: &[[PartId; 2]; 2]) -> LevelsIn {
    let count = |standard: &PartId| {
        let teeth = builder.part(*standard).cuts.iter().find_map(|cut| match cut.feature {
            Feature::Teeth { count, .. } | Feature::HalfRounds { count, .. } => Some(count),
            _ => None,
        });
        teeth.unwrap_or(0).min(fitted.seats)
    };
    let part = standards.as_flattened().iter().copied().min_by_key(count).unwrap_or(standards[0][0]);
    LevelsIn { part, count: count(&part) }
}

/// Slats or a solid shelf on two cleats, notched round the standards.
#[allow(clippy::too_many_arguments, reason = "a shelf lies on two cleats of a bay and passes four standards")]
fn on_cleats(
    builder: &mut Builder<'_>,
    levels: &Levels,
    fitted: &Fitted<'_>,
    at: &Place<'_>,
    names: &(String, String),
    depth: &Depth,
    (standards, cleats): (&[[PartId; 2]; 2], [PartId; 2]),
    under: f64,
) -> Vec<PartId> {
    let solid = is_solid(builder, &at.plan.fitting);
    let play = builder.size(if solid { "shelf.play" } else { "sawtooth.slats.play" });
    let length = Size::sum("slat: length", [(1.0, &at.clear()), (2.0, &fitted.thickness), (-2.0, &play)]);
    let reach = fitted.thickness.mm - play.mm;
    let across = boards::Across { x: (at.plan.left.mm - reach, at.plan.right.mm + reach), length };
    let (boards, clearance) = if solid {
        // What stands between the teeth grows between them.
        let tips = [0, 1].map(|end| builder.part(standards[0][end]).block());
        let room = boards::room_to_grow(builder, tips[0].min.z - tips[1].max.z).mm;
        (vec![boards::solid(builder, names, &across, depth, under, BuildStage::Loose)], [play.mm, room.max(play.mm)])
    } else {
        (boards::slats(builder, names, &across, depth, under), [play.mm; 2])
    };
    for board in &boards {
        for side in [0, 1] {
            for (end, front) in [(0, true), (1, false)] {
                boards::notch(builder, levels, *board, standards[side][end], front, clearance);
            }
            boards::rest_on_cleat(builder, *board, cleats[side]);
        }
    }
    boards
}

fn span(a: f64, b: f64) -> (f64, f64) {
    (a.min(b), a.max(b))
}

/// The front and the back standard on one side of a bay; as far as the face of the next bay where both share them.
fn standards(builder: &mut Builder<'_>, levels: &Levels, fitted: &Fitted<'_>, at: &Place<'_>, side: usize, to: Option<f64>) -> [PartId; 2] {
    let flank = &at.flanks[side];
    let planned = match to {
        Some(to) => {
            let next = Size::decided("", "left face of the next bay", to);
            Size::sum("divider width", [(1.0, &next), (-1.0, &at.plan.right)])
        }
        None => fitted.thickness.clone(),
    };
    let foot = foot(builder, levels, at.bay);
    let opening = if foot == levels.low {
        levels.opening.clone()
    } else {
        Size::sum("from the floor to the top rail", [(1.0, &levels.high), (-1.0, &foot)])
    };
    let [front, back] = flank.uprights;
    let front = builder.made_face(front, Dir::MinusZ).unwrap_or(levels.depth.mm - levels.post_depth.mm);
    let back = builder.made_face(back, Dir::PlusZ).unwrap_or(levels.post_depth.mm);
    let places = [("front", front, Dir::PlusZ, flank.uprights[0]), ("back", back, Dir::MinusZ, flank.uprights[1])];
    places.map(|(word, back_to, into, upright)| {
        let of = if to.is_some() { "both bays at the divider".to_owned() } else { flank.word.to_owned() };
        let title = format!("Standard, bay {}, {word} {of}", at.bay + 1);
        let name = format!("standard.{}.{word}.{}", at.bay + 1, flank.word);
        let size = [(Dimension::Length, &opening), (Dimension::Width, &fitted.width), (Dimension::Thickness, &planned)];
        // Its foot, its back and its face towards the bay are where they should be, whatever it measures.
        let [length, width, thickness] = size.map(|(of, planned)| builder.as_made(&name, of, planned).mm);
        let x = span(flank.face, flank.out_by(thickness));
        let y = (foot.mm, foot.mm + length);
        let z = span(back_to, back_to - into.sign() * width);
        let id = builder.place(NewPart {
            name,
            title: title.clone(),
            kind: PartKind::Standard,
            material: Material::Solid(builder.design.timber.shelving.clone()),
            block: Block::new(x, y, z),
            lie: Lie { face: Dir::nearest(DVec3::Y.cross(into.vector())), edge: into },
            size: size.map(|(of, planned)| sized(&title, of, planned)),
            stage: BuildStage::AfterGlueUp,
        });
        let count = seat::seats_in(fitted.sawtooth, length, opening.mm);
        if count > 0 {
            builder.cut(id, teeth(fitted.sawtooth, count));
        }
        let contact = Contact {
            centre: DVec3::new(f64::midpoint(x.0, x.1), f64::midpoint(y.0, y.1), back_to),
            into,
            along: Dir::PlusY,
            extent: DVec2::new(length, thickness),
        };
        builder.meet(&Meeting { role: Role::StandardToPost, a: id, b: upright, contact }, &Detail::None);
        id
    })
}

/// What the standards of a bay stand on: the bottom rails, or a floor that came out thicker and so reaches higher.
fn foot(builder: &Builder<'_>, levels: &Levels, bay: usize) -> Size {
    let planned = floor_thickness(builder);
    let floor = builder.as_bought(&crate::derive::floor::first_name(builder.design, bay), &planned);
    if floor.mm <= planned.mm + TOUCH {
        return levels.low.clone();
    }
    Size::sum("upper face of the floor", [(1.0, &levels.low), (1.0, &floor), (-1.0, &planned)])
}

fn teeth(sawtooth: &Sawtooth, count: u32) -> Feature {
    let (first, pitch, seat) = (sawtooth.first.to_mm(), sawtooth.pitch.to_mm(), sawtooth.seat.to_mm());
    match sawtooth.teeth {
        Teeth::Sloped => Feature::Teeth { first, pitch, seat, crest: sawtooth.crest.to_mm(), count },
        Teeth::HalfRound => Feature::HalfRounds { first, pitch, radius: seat, count },
    }
}

fn cleat(
    builder: &mut Builder<'_>,
    fitted: &Fitted<'_>,
    names: &(String, String),
    flank: &Flank,
    standards: [PartId; 2],
    tooth: u32,
    seat: f64,
) -> PartId {
    let title = format!("Cleat, {}, {}", names.1, flank.word);
    let name = format!("cleat.{}.{}", names.0, flank.word);
    let (front, back) = (builder.part(standards[0]).block().min.z, builder.part(standards[1]).block().max.z);
    let length = between_risers(builder, fitted, standards);
    let size = [
        (Dimension::Length, length),
        (Dimension::Width, builder.size("sawtooth.cleat.height")),
        (Dimension::Thickness, builder.size("sawtooth.cleat.thickness")),
    ];
    let [long, high, thick] = size.each_ref().map(|(of, planned)| builder.as_made(&name, *of, planned).mm);
    let (middle, half) = (f64::midpoint(front, back), long / 2.0);
    let x = span(flank.face, flank.out_by(thick));
    let id = builder.place(NewPart {
        name,
        title: title.clone(),
        kind: PartKind::Cleat,
        material: Material::Solid(builder.design.timber.shelving.clone()),
        block: Block::new(x, (seat, seat + high), (middle - half, middle + half)),
        lie: Lie { face: Dir::PlusX, edge: Dir::MinusY },
        size: size.each_ref().map(|(of, planned)| sized(&title, *of, planned)),
        stage: BuildStage::Loose,
    });
    for (standard, z, into) in [(standards[0], front, Dir::PlusZ), (standards[1], back, Dir::MinusZ)] {
        let block = builder.part(standard).block();
        let on = (x.0.max(block.min.x), x.1.min(block.max.x));
        builder.meet(
            &Meeting {
                role: Role::CleatToStandard,
                a: id,
                b: standard,
                contact: Contact {
                    centre: DVec3::new(f64::midpoint(on.0, on.1), seat, z),
                    into,
                    along: Dir::PlusX,
                    extent: DVec2::new((on.1 - on.0).max(0.0), fitted.sawtooth.seat.to_mm()),
                },
            },
            &Detail::Tooth(tooth),
        );
    }
    id
}

/// The length of a cleat between two standards as they are: from riser to riser less its play.
fn between_risers(builder: &Builder<'_>, fitted: &Fitted<'_>, [front, back]: [PartId; 2]) -> Size {
    let [front, back] = [front, back].map(|standard| builder.part(standard));
    let risers = front.block().min.z - back.block().max.z + 2.0 * fitted.sawtooth.seat.to_mm();
    let mm = risers - fitted.sawtooth.cleat.play.to_mm();
    let planned = &fitted.cleat_length;
    if (mm - planned.mm).abs() <= TOUCH {
        return planned.clone();
    }
    let rule = "from riser to riser of its two standards as they stand, less its play";
    Size::ruled(planned.name.clone(), mm, rule, [planned, &front.size[1], &back.size[1]])
}
