//! The solid top, and the buttons that hold it and let it move. Other fixings: `fixings.rs`.

use glam::{DVec2, DVec3};

use super::builder::sized;
use super::edges;
use super::frames::Frames;
use super::interior::BayPlan;
use super::{Builder, DesignError, Levels};
use crate::design::{Dimension, FixedLine, Season, Slab, Top, TopFixing};
use crate::inspect::{Figure, Finding, Remedy, Rule, Seriousness};
use crate::joint::Detail;
use crate::joint::button::{CLOSE_ROOM, DRAW, Figures, SLOT_ROOM};
use crate::joint::plate::gives_along;
use crate::joint::room::least_wall;
use crate::length::{trimmed, trimmed_to};
use crate::model::{BuildStage, Contact, Feature, HeldLine, Material, Meeting, NewPart, PartId, PartKind, Role};
use crate::origin::Size;
use crate::place::{Block, Dir, Lie};
use crate::timber::{Rates, Sawn, movement};

pub(super) fn build(builder: &mut Builder<'_>, levels: &Levels, plans: &[BayPlan], frames: &Frames) -> Result<(), Vec<DesignError>> {
    let Top::Slab(slab) = &builder.design.carcase.top else { return Ok(()) };
    let top = place_top(builder, levels, slab, frames);
    sizes_leave_something(slab)?;
    let mut maker = Maker { builder, levels, slab, top, made: 0 };
    maker.long_rail(frames.front.top, plans, Dir::PlusZ);
    if let Some(back) = &frames.back {
        maker.long_rail(back.top, plans, Dir::MinusZ);
    }
    for (side, into) in [(&frames.left, Dir::MinusX), (&frames.right, Dir::PlusX)] {
        if let Some(side) = side {
            maker.side_rail(side.top, into);
        }
    }
    Ok(())
}

/// Refuses sizes of which nothing would be left.
fn sizes_leave_something(slab: &Slab) -> Result<(), Vec<DesignError>> {
    let (buttons, clips) = (&slab.buttons, &slab.clips);
    let no_room = |path: &str, problem: String, remedy: String| Err(vec![DesignError::NoRoom { path: path.to_owned(), problem, remedy }]);
    match slab.fixing {
        TopFixing::Buttons | TopFixing::Plates if buttons.tongue >= buttons.thickness || buttons.tongue >= buttons.length => no_room(
            "carcase.top.buttons.tongue",
            format!("a tongue of {} leaves nothing of a button {} × {}", buttons.tongue, buttons.length, buttons.thickness),
            format!("it must be less than {} mm", trimmed(buttons.thickness.to_mm().min(buttons.length.to_mm()))),
        ),
        TopFixing::Clips if clips.depth.to_mm() + clips.metal.to_mm() >= clips.length.to_mm() => no_room(
            "carcase.top.clips.length",
            format!("a clip of {} is all tongue in a kerf {} deep", clips.length, clips.depth),
            format!("it must be more than {} mm", trimmed(clips.depth.to_mm() + clips.metal.to_mm())),
        ),
        TopFixing::Buttons | TopFixing::Clips | TopFixing::Plates | TopFixing::SlottedScrews => Ok(()),
    }
}

fn place_top(builder: &mut Builder<'_>, levels: &Levels, slab: &Slab, frames: &Frames) -> PartId {
    let size = |path: &str| builder.size(path);
    let (front, back, sides) = (size("carcase.top.over_front"), size("carcase.top.over_back"), size("carcase.top.over_sides"));
    let title = "Top";
    let length = Size::sum("Top: length", [(1.0, &levels.width), (2.0, &sides)]);
    let width = Size::sum("Top: width", [(1.0, &levels.depth), (1.0, &front), (1.0, &back)]);
    let thick = size("carcase.top.thickness");
    let y = (levels.post_height.mm, levels.post_height.mm + builder.as_made("top", Dimension::Thickness, &thick).mm);
    let thickness = sized(title, Dimension::Thickness, &thick);
    let id = builder.place(NewPart {
        name: "top".to_owned(),
        title: title.to_owned(),
        kind: PartKind::Top,
        material: Material::Solid(builder.design.timber.top.clone()),
        block: Block::new((-sides.mm, levels.width.mm + sides.mm), y, (-back.mm, levels.depth.mm + front.mm)),
        lie: Lie { face: Dir::PlusY, edge: Dir::PlusZ },
        size: [length, width, thickness],
        stage: BuildStage::AfterGlueUp,
    });
    edges::work(builder, id, &slab.edges);
    builder.hold(HeldLine { part: id, axis: 2, at: fixed_line(levels, slab) });
    for post in frames.posts {
        let block = builder.part(post).block();
        let (centre, extent) = (block.centre(), block.size());
        builder.meet(
            &Meeting {
                role: Role::TopToPost,
                a: id,
                b: post,
                contact: Contact {
                    centre: DVec3::new(centre.x, y.0, centre.z),
                    into: Dir::MinusY,
                    along: Dir::PlusX,
                    extent: DVec2::new(extent.x, extent.z),
                },
            },
            &Detail::None,
        );
    }
    id
}

/// Where along z the top stays when it moves, mm.
fn fixed_line(levels: &Levels, slab: &Slab) -> f64 {
    let (front, back) = (levels.depth.mm - levels.inner.mm, levels.inner.mm);
    match slab.buttons.fixed {
        FixedLine::Front => front,
        FixedLine::Centre => f64::midpoint(front, back),
        FixedLine::Back => back,
    }
}

/// Sets fixings along rails.
pub(super) struct Maker<'b, 'd> {
    pub builder: &'b mut Builder<'d>,
    pub levels: &'b Levels,
    pub slab: &'b Slab,
    pub top: PartId,
    pub made: usize,
}

/// The place of one fixing, and how the top moves there.
pub(super) struct Spot {
    pub rail: PartId,
    /// On the inner face of the rail; the height is ignored.
    pub at: DVec3,
    /// From the room into the rail.
    pub into: Dir,
    /// How far the top moves along z when driest and when wettest, mm.
    pub travel: [f64; 2],
    /// Whether it keeps the top where it is: that nearest to the fixed line on a rail along which the top moves.
    pub holds: bool,
}

impl Spot {
    /// Whether the top moves square to the rail.
    pub fn is_across(&self) -> bool {
        self.into.axis() == 2
    }

    /// How far the top moves out over the rail at most, and in, mm; nothing where it moves along it.
    pub fn out_and_in(&self) -> (f64, f64) {
        if !self.is_across() {
            return (0.0, 0.0);
        }
        let outward = self.travel.map(|mm| mm * self.into.sign());
        (outward[0].max(outward[1]).max(0.0), (-outward[0]).max(-outward[1]).max(0.0))
    }

    /// How far the top moves along the rail, to the back and to the front, mm: not more than nothing, and not less.
    pub fn along(&self) -> (f64, f64) {
        if self.is_across() {
            return (0.0, 0.0);
        }
        (self.travel[0].min(self.travel[1]).min(0.0), self.travel[0].max(self.travel[1]).max(0.0))
    }
}

impl Maker<'_, '_> {
    /// Fixings along the front or the back rail, bay by bay. The top moves square to these rails.
    fn long_rail(&mut self, rail: PartId, plans: &[BayPlan], into: Dir) {
        let inner = self.levels.inner_of(self.builder, rail, into).mm;
        let inner = if into == Dir::PlusZ { self.levels.depth.mm - inner } else { inner };
        let by = self.fixing_across(inner);
        if by != self.slab.fixing {
            self.tell_other(rail, self.travel(inner));
        }
        for (bay, plan) in plans.iter().enumerate() {
            let (from, to) = self.between_ends(rail, (plan.left.mm, plan.right.mm), Dir::PlusX, by);
            let spots = self.spread(plan.left.mm, plan.right.mm, by).into_iter().filter(|x| (from..=to).contains(x)).map(|x| Spot {
                rail,
                at: DVec3::new(x, 0.0, inner),
                into,
                travel: self.travel(inner),
                holds: false,
            });
            let spots: Vec<_> = spots.collect();
            self.hold(by, &spots, (plan.left.mm, plan.right.mm), bay + 1);
        }
    }

    /// Fixings along a side rail, along which the top moves.
    fn side_rail(&mut self, rail: PartId, into: Dir) {
        let inner = self.levels.inner_of(self.builder, rail, into).mm;
        let inner = if into == Dir::PlusX { self.levels.width.mm - inner } else { inner };
        let body = self.builder.part(rail).body();
        let (from, to) = (body.min.z, body.max.z);
        let by = self.slab.fixing;
        let (near, far) = self.between_ends(rail, (from, to), Dir::PlusZ, by);
        let mut along: Vec<f64> = self.spread(from, to, by).into_iter().filter(|z| (near..=far).contains(z)).collect();
        let line = fixed_line(self.levels, self.slab);
        self.one_on_the_line(&mut along, line, (near, far), by);
        let nearest = along.iter().copied().min_by(|a, b| (a - line).abs().total_cmp(&(b - line).abs()));
        let spot = |z: f64| Spot { rail, at: DVec3::new(inner, 0.0, z), into, travel: self.travel(z), holds: Some(z) == nearest };
        let (holding, others): (Vec<Spot>, Vec<Spot>) = along.into_iter().map(spot).partition(|spot| spot.holds && by == TopFixing::Plates);
        // A plate along its rail swings: where the line is held there, it is by a button.
        if self.slab.buttons.fixed == FixedLine::Centre {
            self.hold(TopFixing::Buttons, &holding, (from, to), 1);
            self.hold(by, &others, (from, to), 1);
        } else {
            let mut all: Vec<Spot> = others.into_iter().chain(holding).collect();
            all.sort_by(|a, b| a.at.z.total_cmp(&b.at.z));
            self.hold(by, &all, (from, to), 1);
        }
    }

    /// Where the middle stays put a fixing stands there: one more, or the nearest where there is no room for one more.
    fn one_on_the_line(&self, along: &mut Vec<f64>, line: f64, (near, far): (f64, f64), by: TopFixing) {
        if self.slab.buttons.fixed != FixedLine::Centre || !(near..=far).contains(&line) {
            return;
        }
        let least = 2.0 * self.width(by).max(self.width(TopFixing::Buttons));
        let nearest = along.iter_mut().min_by(|a, b| (**a - line).abs().total_cmp(&(**b - line).abs()));
        match nearest {
            Some(place) if (*place - line).abs() < least => *place = line,
            Some(_) | None => {
                along.push(line);
                along.sort_by(f64::total_cmp);
            }
        }
    }

    /// What holds the top on a rail to which it moves square, whose inner face is at `z`: what the design has, but buttons where plates give way by
    /// less than the top moves there.
    fn fixing_across(&self, z: f64) -> TopFixing {
        let [dry, wet] = self.travel(z);
        let enough = (wet - dry).abs() <= gives_along(self.slab.plates.centres.to_mm());
        match self.slab.fixing {
            TopFixing::Plates if !enough => TopFixing::Buttons,
            by @ (TopFixing::Buttons | TopFixing::Clips | TopFixing::Plates | TopFixing::SlottedScrews) => by,
        }
    }

    /// Tells that something else holds the top on a rail than what the design has, and why.
    fn tell_other(&mut self, rail: PartId, [dry, wet]: [f64; 2]) {
        let (moves, gives) = ((wet - dry).abs(), gives_along(self.slab.plates.centres.to_mm()));
        let rail = self.builder.part(rail);
        self.builder.found(Finding {
            rule: Rule::ButtonHolds,
            seriousness: Seriousness::Note,
            parts: vec![rail.id, self.top],
            explains: Vec::new(),
            joint: None,
            place: Some(rail.block().centre()),
            figures: vec![Figure::mm("moves", moves), Figure::mm("gives way", gives)],
            message: format!(
                "Buttons hold the top on {}, not plates: it moves by {} mm there, and plates square to a rail give way by {} mm",
                rail.title,
                trimmed_to(moves, 1),
                trimmed_to(gives, 1)
            ),
            source: "a plate gives way along itself by r·(1 − cos θ), 30° to either side: arithmetic",
            remedies: vec![Remedy {
                words: "Hold all of it by buttons".to_owned(),
                changes: vec![("carcase.top.fixing".to_owned(), "buttons".to_owned())],
            }],
        });
    }

    /// Sets what holds the top.
    fn hold(&mut self, by: TopFixing, spots: &[Spot], span: (f64, f64), run: usize) {
        match by {
            TopFixing::Buttons => spots.iter().for_each(|spot| self.held_by_button(spot)),
            TopFixing::Clips => spots.iter().for_each(|spot| self.clip(spot)),
            TopFixing::Plates => spots.iter().for_each(|spot| self.plate(spot)),
            TopFixing::SlottedScrews => self.strip(spots, span, run),
        }
    }

    fn held_by_button(&mut self, spot: &Spot) {
        let (growth, shrinkage) = spot.out_and_in();
        let (low, high) = spot.along();
        let tongue = self.slab.buttons.tongue.to_mm();
        let [length, width, thickness] = self.next_button().map(|(_, made)| made);
        let gap = if growth + shrinkage > 0.0 { growth + SLOT_ROOM / 2.0 } else { 0.0 };
        let slot = width + if spot.holds { self.close(width) } else { 2.0 * SLOT_ROOM } + high - low;
        let (growth, shrinkage) = if spot.is_across() { (growth, shrinkage) } else { (spot.travel[1].abs(), spot.travel[0].abs()) };
        let figures =
            Figures { tongue, behind: length - tongue, width, step: thickness - tongue, gap, slot, holds: spot.holds, growth, shrinkage };
        self.button(spot.rail, spot.at, spot.into, figures, f64::midpoint(low, high));
    }

    /// How far the top moves along z at `z` when driest and when wettest, mm.
    fn travel(&self, z: f64) -> [f64; 2] {
        let fixed = fixed_line(self.levels, self.slab);
        let moisture = &self.builder.design.timber.moisture;
        let top = self.builder.part(self.top);
        let rate = Rates::of(&top.material, top.sawn, self.builder.timbers()).along(Dimension::Width);
        [Season::Driest, Season::Wettest].map(|season| movement(z - fixed, rate, moisture.built, moisture.at(season)))
    }

    /// The room of something so wide, of the top's timber, in a slot in which it keeps the top where it is, mm: it must still go in when it has grown.
    pub fn close(&self, width: f64) -> f64 {
        let moisture = &self.builder.design.timber.moisture;
        let material = Material::Solid(self.builder.design.timber.top.clone());
        let rate = Rates::of(&material, Sawn::Unknown, self.builder.timbers()).along(Dimension::Width);
        CLOSE_ROOM + movement(width, rate, moisture.built, moisture.wettest()).max(0.0)
    }

    /// How wide a fixing is along its rail, mm.
    fn width(&self, by: TopFixing) -> f64 {
        match by {
            TopFixing::Buttons => self.slab.buttons.width.to_mm(),
            TopFixing::Clips => self.slab.clips.width.to_mm(),
            TopFixing::Plates => self.slab.plates.diameter.to_mm(),
            TopFixing::SlottedScrews => self.slab.strips.section.to_mm(),
        }
    }

    /// Where along a rail the middle of a fixing may stand: its slot clear of what is cut into the ends of the rail.
    fn between_ends(&self, rail: PartId, span: (f64, f64), along: Dir, by: TopFixing) -> (f64, f64) {
        let part = self.builder.part(rail);
        let deep = |feature: &Feature| match *feature {
            Feature::Mortise { face, depth, .. } | Feature::Hole { face, depth, .. } if face.axis() == 0 => depth,
            _ => 0.0,
        };
        let reach = part.cuts.iter().map(|cut| deep(&cut.feature)).fold(0.0, f64::max);
        let keep = reach + least_wall(part, self.builder.timbers()) + self.width(by) / 2.0 + SLOT_ROOM;
        let (body, axis) = (part.body(), along.axis());
        if reach == 0.0 { span } else { (span.0.max(body.min[axis] + keep), span.1.min(body.max[axis] - keep)) }
    }

    /// The middles of the fixings between two uprights: the first and last near them, the rest evenly between.
    fn spread(&self, from: f64, to: f64, by: TopFixing) -> Vec<f64> {
        let buttons = &self.slab.buttons;
        let (first, last) = (from + buttons.first.to_mm(), to - buttons.first.to_mm());
        let room = last - first;
        let wide = self.width(by);
        if to - from < wide + 2.0 * SLOT_ROOM {
            return Vec::new();
        }
        if room < wide * 1.5 {
            return vec![f64::midpoint(from, to)];
        }
        let steps = (room / buttons.spacing.to_mm()).ceil().max(1.0);
        (0..=steps as u32).map(|step| first + room * f64::from(step) / steps).collect()
    }

    /// Length, width and thickness of the button that is placed next, each as planned and what it measures, mm.
    fn next_button(&self) -> [(Size, f64); 3] {
        let name = format!("button.{}", self.made + 1);
        let sizes = [
            (Dimension::Length, "carcase.top.buttons.length"),
            (Dimension::Width, "carcase.top.buttons.width"),
            (Dimension::Thickness, "carcase.top.buttons.thickness"),
        ];
        sizes.map(|(of, path)| {
            let planned = self.builder.size(path);
            let made = self.builder.as_made(&name, of, &planned).mm;
            (sized("Button", of, &planned), made)
        })
    }

    /// One button against the inner face of a rail at `at`, whose height is ignored.
    fn button(&mut self, rail: PartId, at: DVec3, into: Dir, figures: Figures, shift: f64) {
        let [(long, length), (wide, width), (thick, thickness)] = self.next_button();
        self.made += 1;
        let number = self.made;
        let title = format!("Button {number}");
        let high = self.levels.post_height.mm - DRAW;
        let (tongue, behind) = (figures.tongue, figures.behind);
        let tip = at.dot(into.vector()) + tongue - figures.gap;
        let (near, far) = (into.vector() * tip, into.vector() * (tip - length));
        let across = into.vector().cross(DVec3::Y).abs();
        let middle = across * at.dot(across);
        let (a, b) = (near + middle - across * width / 2.0, far + middle + across * width / 2.0);
        let block = Block { min: DVec3::new(0.0, high - thickness, 0.0) + a.min(b), max: DVec3::new(0.0, high, 0.0) + a.max(b) };
        // The first end is the tongue's; the face side is the one under the top.
        let edge = Dir::nearest(Dir::PlusY.vector().cross(into.opposite().vector()));
        let id = self.builder.place(NewPart {
            name: format!("button.{number}"),
            title,
            kind: PartKind::Button,
            material: Material::Solid(self.builder.design.timber.top.clone()),
            block,
            lie: Lie { face: Dir::PlusY, edge },
            size: [long, wide, thick],
            stage: BuildStage::AfterGlueUp,
        });
        let tongue_middle = high - thickness + figures.tongue / 2.0;
        let along = Dir::nearest(across);
        self.builder.meet(
            &Meeting {
                role: Role::ButtonToRail,
                a: id,
                b: rail,
                contact: Contact { centre: DVec3::new(at.x, tongue_middle, at.z), into, along, extent: DVec2::new(width, figures.tongue) },
            },
            &Detail::Button { figures, shift },
        );
        // The screw stands in the middle of what is behind the tongue.
        let under = across * at.dot(across) + into.vector() * (tip - tongue - behind / 2.0);
        self.builder.meet(
            &Meeting {
                role: Role::ButtonToTop,
                a: id,
                b: self.top,
                contact: Contact {
                    centre: DVec3::new(under.x, self.levels.post_height.mm, under.z),
                    into: Dir::PlusY,
                    along,
                    extent: DVec2::new(width, behind),
                },
            },
            &Detail::Screwed(thickness),
        );
    }
}
