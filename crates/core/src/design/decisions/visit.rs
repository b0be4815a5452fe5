//! The walk through a design: the one place that names every decision, with its unit, range and meaning.

mod contents;
mod glue;
mod joinery;
mod limits;
mod money;
mod own;
mod rough;
mod shelving;
mod site;
mod top;

use std::ops::RangeInclusive;

use super::words::{Product, Species, Yes};
use super::{Choice, Slot, Spec, Stage, Unit};
use crate::design::shop::{Batch, MEASURABLE, Shop};
use crate::design::{
    Along, Bay, BaySize, Bottom, Carcase, Design, Dimension, Divider, Facing, Facings, Frame, LooseFloor, Moisture, Opening, Place, Rails,
    Ruled, SawnAs, Section, Sheet, Side, Split, Sticks, Timber, Top,
};
use crate::length::Length;
use crate::timber::moisture::{HUMIDITIES, TEMPERATURES};
use crate::timber::{Air, Sawn, Timbers};

/// Calls `each` with every decision and the place where its value lives.
pub fn visit(design: &mut Design, each: &mut dyn FnMut(Spec, Slot<'_>)) {
    let mut walk = Walk { each, stage: Stage::Case, group: String::new(), at: Vec::new() };
    walk.under(Stage::Case, "Piece");
    walk.text("name", "Name", "What the piece is called.", &mut design.name);
    walk.inside("carcase", |walk| carcase(walk, &mut design.carcase));
    walk.inside("interior", |walk| interior(walk, &mut design.interior, "Bay"));
    walk.inside("sawtooth", |walk| shelving::sawtooth(walk, &mut design.sawtooth));
    shelving::others(&mut walk, design);
    walk.inside("contents", |walk| {
        for (index, kind) in design.contents.iter_mut().enumerate() {
            walk.entry(index, |walk| contents::kind(walk, kind));
        }
    });
    walk.inside("joinery", |walk| {
        let (j, rail) = (&mut design.joinery, design.carcase.rails.thickness.to_mm());
        walk.inside("rail_to_post", |walk| joinery::end_joint(walk, "Rails to posts", rail, &mut j.rail_to_post));
        walk.inside("stile_to_rail", |walk| joinery::end_joint(walk, "Stiles and muntins to rails", rail, &mut j.stile_to_rail));
        walk.inside("cross_rail_to_rail", |walk| joinery::end_joint(walk, "Cross rails to rails", rail, &mut j.cross_rail_to_rail));
        walk.inside("standard_to_post", |walk| joinery::loose_tenons(walk, "Standards, not glued", &mut j.standard_to_post));
        walk.inside("groove", |walk| joinery::groove(walk, &mut j.groove));
    });
    walk.inside("timber", |walk| timber_choice(walk, &mut design.timber));
    let timbers = design.timber.timbers();
    walk.inside("money", |walk| money::money(walk, &mut design.money, &timbers));
    walk.inside("overrides", |walk| {
        for (index, own) in design.overrides.iter_mut().enumerate() {
            walk.entry(index, |walk| {
                walk.under(Stage::Case, "Own sizes");
                let label = format!("{}: {}", own.part, own.of.word());
                walk.length("value", &label, "A size of one part that you set against the rules, mm.", 0.1..=6000.0, &mut own.value);
            });
        }
    });
    walk.inside("shop", |walk| {
        as_milled(walk, &mut design.shop);
        walk.inside("glue", |walk| glue::gluing(walk, &mut design.shop.glue));
        walk.inside("tools", |walk| glue::tools(walk, &mut design.shop.tools));
        walk.inside("pile", |walk| rough::pile(walk, &mut design.shop.pile));
        walk.inside("dealer", |walk| rough::dealer(walk, &mut design.shop.dealer));
        walk.inside("placed", |walk| rough::placed(walk, &mut design.shop.placed));
        walk.inside("machines", |walk| rough::machines(walk, &mut design.shop.machines));
    });
    walk.inside("carcase", |walk| limits::wall(walk, &mut design.carcase.wall));
    walk.inside("sawtooth", |walk| limits::slats(walk, &mut design.sawtooth.slats));
    walk.inside("limits", |walk| limits::limits(walk, &mut design.limits));
    walk.inside("contents", |walk| {
        for (index, kind) in design.contents.iter_mut().enumerate() {
            walk.entry(index, |walk| contents::handling(walk, kind));
        }
    });
    walk.inside("timber", |walk| {
        let kerf = design.timber.sticks.kerf.to_mm();
        walk.inside("rough", |walk| rough::rough(walk, &mut design.timber.rough, kerf));
        walk.inside("coating", |walk| rough::coating(walk, &mut design.timber.coating));
    });
    walk.inside("hand_room", |walk| contents::hand_room(walk, &mut design.hand_room));
    walk.inside("site", |walk| site::site(walk, &mut design.site));
}

/// What was measured. The states are not among these: what else must be written with them is [`shop`](crate::design::shop)'s to do.
fn as_milled(walk: &mut Walk<'_>, shop: &mut Shop) {
    walk.under(Stage::Boards, "As milled");
    walk.inside("batches", |walk| {
        for (index, Batch { of, measured }) in shop.batches.iter_mut().enumerate() {
            let label = format!("{of}, measured");
            walk.entry(index, |walk| walk.length("measured", &label, "What this stock measures, mm.", MEASURABLE, measured));
        }
    });
    walk.inside("parts", |walk| {
        for (index, record) in shop.parts.iter_mut().enumerate() {
            walk.entry(index, |walk| {
                for of in Dimension::ALL {
                    let label = format!("{}: {}, measured", record.part, of.word());
                    if let Some(measured) = record.measured_mut(of) {
                        walk.length(of.word(), &label, "A size measured on this part, mm.", MEASURABLE, measured);
                    }
                }
            });
        }
    });
}

/// Keeps the path, stage and heading while walking through a design.
struct Walk<'e> {
    each: &'e mut dyn FnMut(Spec, Slot<'_>),
    stage: Stage,
    group: String,
    at: Vec<String>,
}

impl Walk<'_> {
    fn under(&mut self, stage: Stage, group: impl Into<String>) {
        self.stage = stage;
        self.group = group.into();
    }

    fn inside(&mut self, name: &str, walk: impl FnOnce(&mut Self)) {
        self.at.push(name.to_owned());
        walk(self);
        self.at.pop();
    }

    fn entry(&mut self, index: usize, walk: impl FnOnce(&mut Self)) {
        self.inside(&(index + 1).to_string(), walk);
    }

    fn spec(&self, name: &str, label: &str, meaning: &'static str, unit: Unit, range: Option<RangeInclusive<f64>>) -> Spec {
        let mut path = self.at.join(".");
        if !name.is_empty() {
            if !path.is_empty() {
                path.push('.');
            }
            path.push_str(name);
        }
        Spec { path, label: label.to_owned(), meaning, unit, range, stage: self.stage, group: self.group.clone() }
    }

    fn length(&mut self, name: &str, label: &str, meaning: &'static str, range: RangeInclusive<f64>, slot: &mut Length) {
        let spec = self.spec(name, label, meaning, Unit::Millimetres, Some(range));
        (self.each)(spec, Slot::Length(slot));
    }

    /// A length that follows a rule, with what the rule gives, mm.
    fn ruled(&mut self, name: &str, label: &str, meaning: &'static str, range: RangeInclusive<f64>, slot: &mut Ruled, rule: f64) {
        let spec = self.spec(name, label, meaning, Unit::Millimetres, Some(range));
        (self.each)(spec, Slot::Ruled(slot, Length::mm(rule)));
    }

    fn number(&mut self, name: &str, label: &str, meaning: &'static str, unit: Unit, range: RangeInclusive<f64>, slot: &mut f64) {
        let spec = self.spec(name, label, meaning, unit, Some(range));
        (self.each)(spec, Slot::Number(slot));
    }

    fn count(&mut self, name: &str, label: &str, meaning: &'static str, range: RangeInclusive<f64>, slot: &mut u32) {
        let spec = self.spec(name, label, meaning, Unit::Count, Some(range));
        (self.each)(spec, Slot::Count(slot));
    }

    fn choice(&mut self, name: &str, label: &str, meaning: &'static str, slot: &mut dyn Choice) {
        let spec = self.spec(name, label, meaning, Unit::Word, None);
        (self.each)(spec, Slot::Choice(slot));
    }

    fn text(&mut self, name: &str, label: &str, meaning: &'static str, slot: &mut String) {
        let spec = self.spec(name, label, meaning, Unit::Word, None);
        (self.each)(spec, Slot::Text(slot));
    }
}

fn carcase(walk: &mut Walk<'_>, case: &mut Carcase) {
    let Carcase { width, height, depth, post, rails, left, right, back, top, bottom, wall: _ } = case;
    walk.under(Stage::Case, "Outside");
    walk.length("width", "Width", "Width of the case over the posts, mm.", 200.0..=4000.0, width);
    walk.length("height", "Height", "Height from the floor to the upper face of the top, mm.", 200.0..=3000.0, height);
    walk.length("depth", "Depth", "Depth of the case over the posts, mm.", 120.0..=1500.0, depth);
    walk.under(Stage::Case, "Posts and rails");
    walk.inside("post", |walk| {
        let Section { width, depth } = post;
        walk.length("width", "Post width", "Section of the corner posts along the width of the case, mm.", 20.0..=200.0, width);
        walk.length("depth", "Post depth", "Section of the corner posts along the depth of the case, mm.", 20.0..=200.0, depth);
    });
    walk.inside("rails", |walk| {
        let Rails { thickness, top, bottom, middle, foot, reveal } = rails;
        walk.length("thickness", "Rail thickness", "Thickness of every rail, mm.", 10.0..=100.0, thickness);
        walk.length("top", "Top rails", "Width of the rails under the top, mm.", 20.0..=400.0, top);
        walk.length("bottom", "Bottom rails", "Width of the rails at the bottom, mm.", 20.0..=400.0, bottom);
        walk.length("middle", "Middle rails", "Width of the rails between top and bottom, mm.", 20.0..=400.0, middle);
        walk.length("foot", "Foot", "From the floor to the lower edge of the bottom rails, mm.", 0.0..=600.0, foot);
        walk.length("reveal", "Reveal", "How far the rails stand back from the outer face of the posts, mm.", 0.0..=60.0, reveal);
    });
    walk.under(Stage::Case, "Frames");
    walk.inside("left", |walk| side(walk, "Left", left));
    walk.inside("right", |walk| side(walk, "Right", right));
    walk.inside("back", |walk| side(walk, "Back", back));
    walk.inside("top", |walk| {
        if let Top::Slab(slab) = top {
            top::top_slab(walk, slab);
        }
    });
    walk.inside("bottom", |walk| {
        if let Bottom::LooseFloor(LooseFloor { clearance, bearer, pieces }) = bottom {
            walk.under(Stage::Case, "Floor");
            walk.length("clearance", "Clearance", "Free room round each piece of the floor, mm.", 0.0..=10.0, clearance);
            walk.length("bearer", "Bearers", "Section of the bearers under the floor, width and height alike, mm.", 8.0..=60.0, bearer);
            let meaning = "The floor of a bay: in one piece, or in two that meet from front to back and go in one after the other.";
            walk.choice("pieces", "Floor of a bay", meaning, pieces);
        }
    });
}

fn side(walk: &mut Walk<'_>, name: &str, side: &mut Side) {
    if let Side::Frame(Frame { middle_rails, filling }) = side {
        let label = format!("{name}: middle rails");
        walk.count(
            "middle_rails",
            &label,
            "How many rails stand between the top and the bottom rail, evenly spaced.",
            0.0..=6.0,
            middle_rails,
        );
        walk.choice("filling", &format!("{name}: filling"), "What fills the frame: sheet panels in grooves, or nothing.", filling);
    }
}

fn interior(walk: &mut Walk<'_>, opening: &mut Opening, name: &str) {
    match opening {
        Opening::Leaf(fitting) => shelving::bay(walk, fitting, name),
        Opening::Split(Split { along, divider, bays }) => {
            // There is one way to divide so far; a second one becomes a decision here.
            match along {
                Along::Width => {}
            }
            walk.under(Stage::Case, if name == "Bay" { "Bays".to_owned() } else { format!("{name}, bays") });
            walk.inside("divider", |walk| {
                let Divider { width, cross_rail } = divider;
                walk.length("width", "Divider width", "Width of the stile and the muntin of a divider, mm.", 15.0..=200.0, width);
                walk.length("cross_rail", "Cross rails", "Width of the cross rails of a divider, mm.", 15.0..=400.0, cross_rail);
            });
            walk.inside("bays", |walk| all_bays(walk, bays, name));
        }
    }
}

fn all_bays(walk: &mut Walk<'_>, bays: &mut [Bay], name: &str) {
    for (index, bay) in bays.iter_mut().enumerate() {
        let label = format!("{name} {}", index + 1);
        walk.entry(index, |walk| match &mut bay.size {
            BaySize::Clear(width) => walk.length("size", &label, "Clear width between the posts and stiles, mm.", 20.0..=4000.0, width),
            BaySize::Share(share) => {
                walk.number("size", &label, "Share of the width that the other bays leave.", Unit::Share, 0.01..=100.0, share);
            }
        });
    }
    for (index, bay) in bays.iter_mut().enumerate() {
        let label = format!("{name} {}", index + 1);
        walk.entry(index, |walk| walk.inside("opening", |walk| interior(walk, &mut bay.opening, &label)));
    }
}

fn timber_choice(walk: &mut Walk<'_>, timber: &mut Timber) {
    let timbers = &timber.timbers();
    let Timber {
        frame,
        top,
        shelving,
        panel,
        floor,
        sawn,
        finish,
        moisture,
        sticks,
        own_species,
        own_sheets,
        library: _,
        rough: _,
        coating: _,
        facing,
    } = timber;
    walk.under(Stage::Timber, "Species");
    walk.choice("frame", "Carcase", "Species of posts, rails, stiles, muntins and bearers.", &mut Species(frame, timbers));
    walk.choice("top", "Top", "Species of the top and its buttons.", &mut Species(top, timbers));
    walk.choice("shelving", "Shelving", "Species of standards, cleats, slats and solid shelves.", &mut Species(shelving, timbers));
    walk.inside("sawn", |walk| sawn_as(walk, sawn));
    walk.choice("finish", "Finish", "What it is finished with: rags with a drying oil can set themselves on fire.", finish);
    walk.under(Stage::Timber, "Sheet for the panels");
    walk.inside("panel", |walk| sheet(walk, panel, timbers));
    walk.under(Stage::Timber, "Sheet for the floor");
    walk.inside("floor", |walk| sheet(walk, floor, timbers));
    walk.inside("facing", |walk| {
        let Facings { panel, floor } = facing;
        walk.inside("panel", |walk| facings(walk, "Panels", panel));
        walk.inside("floor", |walk| facings(walk, "Floors", floor));
    });
    walk.under(Stage::Timber, "Moisture");
    walk.inside("moisture", |walk| moisture_of(walk, moisture));
    own::timber(walk, own_species, own_sheets);
    walk.under(Stage::Boards, "Sticks");
    walk.inside("sticks", |walk| {
        let Sticks { length, kerf, trim } = sticks;
        walk.length("length", "Stick length", "Length of the sticks that solid parts are crosscut from, mm.", 300.0..=8000.0, length);
        walk.length("kerf", "Kerf", "Width of the saw cut, mm; each saw may have its own, under Rough sizes.", 0.0..=10.0, kerf);
        walk.length("trim", "End trim", "Cut off each end of a stick, mm.", 0.0..=200.0, trim);
    });
}

fn moisture_of(walk: &mut Walk<'_>, moisture: &mut Moisture) {
    let Moisture { built, place } = moisture;
    let percent =
        |walk: &mut Walk<'_>, name, label, meaning, range, slot: &mut f64| walk.number(name, label, meaning, Unit::Percent, range, slot);
    let meaning = "Moisture of the timber when it is built, measured, % of dry mass.";
    percent(walk, "built", "When built", meaning, 4.0..=20.0, built);
    walk.choice("by", "Its place told by", "How its place is told: by the moisture of timber there, or by the air of the room.", place);
    match place {
        Place::Range { driest, wettest } => {
            percent(walk, "driest", "Driest", "The driest the timber will be in its place, % of dry mass.", 3.0..=20.0, driest);
            percent(walk, "wettest", "Wettest", "The wettest the timber will be in its place, % of dry mass.", 3.0..=25.0, wettest);
        }
        Place::Climate { winter, summer } => {
            walk.inside("winter", |walk| air(walk, "Winter", winter));
            walk.inside("summer", |walk| air(walk, "Summer", summer));
        }
    }
}

fn air(walk: &mut Walk<'_>, season: &str, air: &mut Air) {
    let Air { temperature, humidity } = air;
    let meaning = "Usual temperature of the room in that season, °C.";
    walk.number("temperature", &format!("{season}, temperature"), meaning, Unit::Celsius, TEMPERATURES, temperature);
    let meaning = "Usual relative humidity of the room in that season, %.";
    walk.number("humidity", &format!("{season}, humidity"), meaning, Unit::Percent, HUMIDITIES, humidity);
}

fn sawn_as(walk: &mut Walk<'_>, sawn: &mut SawnAs) {
    let SawnAs { frame, top, shelving } = sawn;
    for (name, label, slot) in [("frame", "Carcase", frame), ("top", "Top", top), ("shelving", "Shelving", shelving)] {
        let meaning = "How its boards were sawn: it tells how much they move across their width. Unknown is taken as flat-sawn.";
        walk.choice(name, &format!("{label}, sawn"), meaning, slot);
        if let Sawn::Rift { rings } = slot {
            let meaning = "Angle between the growth rings and the wide face, seen on the end grain: 0 flat, 90 quartered.";
            walk.inside(name, |walk| {
                walk.number("rings", &format!("{label}, rings to the face"), meaning, Unit::Degrees, 0.0..=90.0, rings);
            });
        }
    }
}

fn sheet(walk: &mut Walk<'_>, sheet: &mut Sheet, timbers: &Timbers) {
    walk.choice("product", "Product", "What the sheet is, by the table of sheet goods.", &mut Product(&mut sheet.product, timbers));
    walk.length("nominal", "Sold as", "Thickness the sheet is sold as, mm.", 2.0..=60.0, &mut sheet.nominal);
    walk.length(
        "measured",
        "Measured",
        "Thickness measured on the sheet in the shop, mm. Grooves follow this one.",
        2.0..=60.0,
        &mut sheet.measured,
    );
}

fn facings(walk: &mut Walk<'_>, name: &str, facing: &mut Facing) {
    let Facing { lipping, edges, within, veneer } = facing;
    walk.under(Stage::Timber, format!("{name}, glued on in the shop"));
    let meaning = "How thick the solid strips on the edges of the sheet are, mm; 0 for none.";
    walk.length("lipping", "Lippings", meaning, 0.0..=60.0, lipping);
    if lipping.to_mm() > 0.0 {
        walk.choice("edges", "Lippings on", "On which edges of the sheet.", edges);
        let meaning = "Whether the lippings are within the size as drawn, so that the sheet is sawn smaller; else it comes out larger.";
        walk.choice("within", "Lippings within its size", meaning, &mut Yes(within));
    }
    let meaning =
        "Veneer that is glued onto both faces here: a face and its balancing sheet. The sheet is then so much thinner than measured.";
    walk.choice("veneer", "Veneer", meaning, veneer);
}
