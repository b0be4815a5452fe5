//! Plans for models put together by hand: what is refused, and what is locked out.

use casewright_core::design::shop::State;
use casewright_core::design::{Gluing, Tools};
use casewright_core::inspect::Rule;
use casewright_core::joint::room::Beyond;
use casewright_core::joint::{Fixing, Wanted, loose_tenon};
use casewright_core::model::{Assembly, BuildStage, Contact, Material, Meeting, NewPart, PartId, PartKind, Role};
use casewright_core::place::{Block, Dir, Lie};
use casewright_core::sequence::{Flaw, Move, Step, WayOut, findings, plan, verify};
use casewright_core::{Model, Sequence, Seriousness, ShapeCache, Solids};
use casewright_solid::{Axis, Cells, Pose, Prism, Profile, Solid, sweep};
use casewright_tests::demo;
use glam::{DVec2, DVec3};

use super::{assert_whole, names};

const ASH: &str = "white_ash";

/// A model under construction, with the demo's loose tenons for its corners.
struct Bench {
    assembly: Assembly,
    tenons: casewright_core::design::LooseTenons,
}

impl Bench {
    fn new() -> Bench {
        Bench { assembly: Assembly::default(), tenons: demo().joinery.rail_to_post.loose }
    }

    fn part(&mut self, name: &str, block: Block, lie: Lie, stage: BuildStage) -> PartId {
        let new = NewPart::filling(block, lie).called(name, name, PartKind::Own, Material::Solid(ASH.to_owned()));
        self.assembly.place(NewPart { stage, ..new })
    }

    fn tenoned(&mut self, a: PartId, b: PartId, centre: DVec3, into: Dir, along: Dir, extent: DVec2) {
        let wanted =
            Wanted::LooseTenons(loose_tenon::Wanted { sizes: &self.tenons, path: "", timber: ASH, beyond: Beyond::default(), glued: true });
        let contact = Contact { centre, into, along, extent };
        self.assembly.join(&Meeting { role: Role::Own, a, b, contact }, &wanted);
    }

    fn rests(&mut self, a: PartId, b: PartId, centre: DVec3) {
        let contact = Contact { centre, into: Dir::MinusY, along: Dir::PlusX, extent: DVec2::splat(20.0) };
        self.assembly.join(&Meeting { role: Role::Own, a, b, contact }, &Wanted::Plain(Fixing::Rest));
    }

    fn done(self) -> (Model, Solids) {
        let model = self.assembly.finish();
        let solids = ShapeCache::default().shape(&model);
        (model, solids)
    }
}

const UPRIGHT: Lie = Lie { face: Dir::PlusZ, edge: Dir::MinusX };

/// A frame of two stiles, two rails and a panel in grooves all round, as wide as high as wanted.
fn framed_panel() -> (Model, Solids) {
    let mut bench = Bench::new();
    let (w, h, t, stile) = (500.0, 700.0, 24.0, 60.0);
    let part = |bench: &mut Bench, name: &str, x: (f64, f64), y: (f64, f64), z: (f64, f64), lie: Lie| {
        bench.part(name, Block::new(x, y, z), lie, BuildStage::GlueUp)
    };
    let flat = Lie { face: Dir::PlusZ, edge: Dir::PlusY };
    let left = part(&mut bench, "left stile", (0.0, stile), (0.0, h), (0.0, t), UPRIGHT);
    let right = part(&mut bench, "right stile", (w - stile, w), (0.0, h), (0.0, t), UPRIGHT);
    let bottom = part(&mut bench, "bottom rail", (stile, w - stile), (0.0, stile), (0.0, t), flat);
    let top = part(&mut bench, "top rail", (stile, w - stile), (h - stile, h), (0.0, t), flat);
    let sheet = demo().timber.panel;
    let groove = demo().joinery.groove;
    let e = groove.depth.to_mm() - groove.play.to_mm();
    let thick = sheet.measured.to_mm();
    let z = (t / 2.0 - thick / 2.0, t / 2.0 + thick / 2.0);
    let panel = part(&mut bench, "panel", (stile - e, w - stile + e), (stile - e, h - stile + e), z, UPRIGHT);
    for (rail, y) in [(bottom, stile / 2.0), (top, h - stile / 2.0)] {
        for (post, x, into) in [(left, stile, Dir::MinusX), (right, w - stile, Dir::PlusX)] {
            bench.tenoned(rail, post, DVec3::new(x, y, t / 2.0), into, Dir::PlusY, DVec2::new(stile, t));
        }
    }
    let (long, wide) = (h - 2.0 * (stile - e), w - 2.0 * (stile - e));
    for (member, centre, into, along, extent) in [
        (left, DVec3::new(stile, h / 2.0, t / 2.0), Dir::MinusX, Dir::PlusY, long),
        (right, DVec3::new(w - stile, h / 2.0, t / 2.0), Dir::PlusX, Dir::PlusY, long),
        (bottom, DVec3::new(w / 2.0, stile, t / 2.0), Dir::MinusY, Dir::PlusX, wide),
        (top, DVec3::new(w / 2.0, h - stile, t / 2.0), Dir::PlusY, Dir::PlusX, wide),
    ] {
        let contact = Contact { centre, into, along, extent: DVec2::new(extent, thick) };
        bench.assembly.join(&Meeting { role: Role::PanelToFrame, a: panel, b: member, contact }, &Wanted::Groove(&groove, &sheet));
    }
    bench.done()
}

/// The panel goes in before the last stile; a plan that closes both stiles first is refused, and the part in the way is named.
#[test]
fn a_plan_that_closes_the_frame_before_its_panel_is_refused() {
    let (model, solids) = framed_panel();
    let order = plan(&model, &solids, &Gluing::default(), &Tools::default().0);
    assert_whole(&model, &solids, &order);
    let id = |name: &str| model.find(name).expect("a part").id;
    let last_of = |name: &str| order.steps.iter().rposition(|step| step.moves.iter().any(|mv| mv.parts.contains(&id(name))));
    assert!(last_of("panel") < last_of("right stile").max(last_of("left stile")));
    // The same steps, but the panel's last: in from the front, and from the side, where the stile stands.
    let panel = order.steps.iter().find(|step| step.moves[0].parts == [id("panel")]).expect("the panel's step").clone();
    let mut wrong = Sequence { steps: order.steps.iter().filter(|step| **step != panel).cloned().collect(), ..order.clone() };
    wrong.steps.push(panel);
    let flaws = verify(&model, &solids, &wrong);
    let stiles = [id("left stile"), id("right stile")];
    assert!(
        matches!(flaws.first(), Some(Flaw::Blocked { moving, standing, .. }) if *moving == id("panel") && stiles.contains(standing)),
        "{flaws:?}"
    );
}

/// A step that moves a rail and leaves its post behind, and one that is left out, are seen too.
#[test]
fn torn_and_missing_parts_are_seen() {
    let (model, solids) = framed_panel();
    let order = plan(&model, &solids, &Gluing::default(), &Tools::default().0);
    let mut short = order.clone();
    let left_out = short.steps.pop().expect("a last step");
    assert!(verify(&model, &solids, &short).iter().any(|flaw| matches!(flaw, Flaw::Missing { .. })));
    let mut torn = short;
    let one = left_out.moves[0].parts[0];
    torn.steps.push(Step { moves: vec![Move { parts: vec![one], ..left_out.moves[0].clone() }], ..left_out.clone() });
    if left_out.moves[0].parts.len() > 1 {
        assert!(verify(&model, &solids, &torn).iter().any(|flaw| matches!(flaw, Flaw::Torn { .. })));
    }
}

/// Four posts, rails above and below, and a floor in one piece notched round the posts, that reaches under all four upper rails. Between the
/// rails there is no height to tip it through.
fn floored(stage: BuildStage) -> (Model, Solids) {
    let mut bench = Bench::new();
    let (w, d, h, p, t) = (600.0, 420.0, 400.0, 48.0, 24.0);
    let mut posts = Vec::new();
    for (name, x, z) in [("post 1", 0.0, 0.0), ("post 2", w - p, 0.0), ("post 3", 0.0, d - p), ("post 4", w - p, d - p)] {
        posts.push(bench.part(name, Block::new((x, x + p), (0.0, h), (z, z + p)), UPRIGHT, BuildStage::GlueUp));
    }
    let mut lower = Vec::new();
    for (level, y) in [("lower", (60.0, 130.0)), ("upper", (h - 70.0, h))] {
        let mid = f64::midpoint(y.0, y.1);
        for (side, z, ends) in [("back", (12.0, 36.0), [0, 1]), ("front", (d - 36.0, d - 12.0), [2, 3])] {
            let lie = Lie { face: Dir::PlusZ, edge: Dir::PlusY };
            let rail = bench.part(&format!("{level} {side} rail"), Block::new((p, w - p), y, z), lie, BuildStage::GlueUp);
            for (post, x, into) in [(ends[0], p, Dir::MinusX), (ends[1], w - p, Dir::PlusX)] {
                bench.tenoned(rail, posts[post], DVec3::new(x, mid, f64::midpoint(z.0, z.1)), into, Dir::PlusY, DVec2::new(70.0, t));
            }
            if level == "lower" {
                lower.push((rail, DVec3::new(w / 2.0, 130.0, f64::midpoint(z.0, z.1))));
            }
        }
        for (side, x, ends) in [("left", (12.0, 36.0), [0, 2]), ("right", (w - 36.0, w - 12.0), [1, 3])] {
            let lie = Lie { face: Dir::PlusX, edge: Dir::PlusY };
            // A little lower or higher, so that the tenons in a post pass each other.
            let off = 20.0;
            let y = if level == "lower" { (y.0 - off, y.1) } else { (y.0, y.1) };
            let mid = y.0 + 12.0;
            let rail = bench.part(&format!("{level} {side} rail"), Block::new(x, y, (p, d - p)), lie, BuildStage::GlueUp);
            for (post, z, into) in [(ends[0], p, Dir::MinusZ), (ends[1], d - p, Dir::PlusZ)] {
                bench.tenoned(rail, posts[post], DVec3::new(f64::midpoint(x.0, x.1), mid, z), into, Dir::PlusY, DVec2::new(24.0, t));
            }
        }
    }
    let floor =
        bench.part("floor", Block::new((4.0, w - 4.0), (130.0, 148.0), (4.0, d - 4.0)), Lie { face: Dir::PlusY, edge: Dir::PlusZ }, stage);
    for (rail, at) in lower {
        bench.rests(floor, rail, at);
    }
    for post in posts {
        let block = bench.assembly.part(post).block();
        let into = if block.min.x < 1.0 { Dir::MinusX } else { Dir::PlusX };
        let contact =
            Contact { centre: DVec3::new(block.centre().x, 148.0, block.centre().z), into, along: Dir::PlusZ, extent: DVec2::ONE };
        bench.assembly.join(&Meeting { role: Role::FloorRoundPost, a: floor, b: post, contact }, &Wanted::Notch(block, 1.0));
    }
    bench.done()
}

#[test]
fn a_floor_in_one_piece_is_locked_out_of_a_closed_frame() {
    let (model, solids) = floored(BuildStage::AfterGlueUp);
    let order = plan(&model, &solids, &Gluing::default(), &Tools::default().0);
    assert_eq!(order.locked.len(), 1, "{:?}", order.locked);
    let locked = &order.locked[0];
    assert_eq!(names(&model, &locked.parts), ["floor"]);
    let by = names(&model, &locked.blocked_by);
    assert!(!by.is_empty() && by.iter().all(|name| name.contains("upper")), "{by:?}");
    assert!(matches!(&locked.ways[0], WayOut::Before(parts) if *parts == locked.blocked_by), "{:?}", locked.ways);
    let told = findings(&order, &model, &Gluing::default());
    let finding = told.iter().find(|finding| finding.rule == Rule::LockedOut).expect("told");
    assert_eq!(finding.seriousness, Seriousness::WillFail);
    assert!(finding.message.contains("floor") && finding.message.contains("upper"), "{}", finding.message);
    assert!(finding.remedies[0].words.contains("glue-up"), "{}", finding.remedies[0].words);
    // The rest is put together all the same.
    assert_eq!(verify(&model, &solids, &order), []);
}

#[test]
fn the_same_floor_goes_in_with_the_glue_up() {
    let (model, solids) = floored(BuildStage::GlueUp);
    let order = plan(&model, &solids, &Gluing::default(), &Tools::default().0);
    assert_whole(&model, &solids, &order);
    assert!(!findings(&order, &model, &Gluing::default()).iter().any(|finding| finding.rule == Rule::LockedOut));
}

/// The frame is glued round its panel, which lies on the bench. What is offered is tried here on solids of its own: a panel of the size that is told goes
/// straight into the opening; with the lips gone that are told, so does the panel as it is.
#[test]
fn what_gets_a_panel_into_a_closed_frame_does() {
    let (mut model, solids) = framed_panel();
    for part in &mut model.parts {
        if part.name != "panel" {
            part.state = State::Glued;
        }
    }
    let order = plan(&model, &solids, &Gluing::default(), &Tools::default().0);
    assert_eq!(verify(&model, &solids, &order), []);
    let [locked] = &order.locked[..] else { panic!("{:?}", order.locked) };
    assert_eq!(names(&model, &locked.parts), ["panel"]);
    let panel = model.find("panel").expect("a panel");
    let frame: Vec<_> = model.parts.iter().filter(|part| part.id != panel.id).collect();
    let way = DVec3::Z * 1000.0;
    let size = locked.ways.iter().find_map(|way| if let WayOut::Beaded(size) = way { Some(*size) } else { None }).expect("beads");
    // The opening is 500 less two stiles of 60, by 700 less two rails of 60, with 1 mm of room all round.
    assert!((size[0] - 578.0).abs() < 1e-9 && (size[1] - 378.0).abs() < 1e-9, "{size:?}");
    let (small, off) =
        (Solid::blank(DVec3::new(size[0], size[1], panel.lwt().z)), (panel.lwt() - DVec3::new(size[0], size[1], panel.lwt().z)) / 2.0);
    let small = small.cells(16).expect("a board");
    let at = Pose { origin: panel.pose.point(off), ..panel.pose };
    let strikes = |cells: &Cells, pose: &Pose, way: DVec3| {
        frame.iter().any(|part| sweep(cells, pose, way, solids.cells(part.id).expect("cells"), &part.pose, 0.01).is_some())
    };
    assert!(!strikes(&small, &at, way) || !strikes(&small, &at, -way));
    // As it is, it goes neither way.
    let whole = solids.cells(panel.id).expect("cells");
    assert!(strikes(whole, &panel.pose, way) && strikes(whole, &panel.pose, -way));
    let opened = locked.ways.iter().find_map(|way| match way {
        WayOut::Opened { toward, parts, wall, grooves } => Some((*toward, parts.clone(), *wall, *grooves)),
        _ => None,
    });
    let (toward, parts, wall, grooves) = opened.expect("grooves cut open");
    assert!(grooves && parts.len() == 4 && toward.axis() == 2, "{toward:?} {parts:?}");
    // 24 less the groove, which is 0.2 wider than the sheet, and half of that.
    let groove = demo().timber.panel.measured.to_mm() + 0.2;
    assert!((wall - (24.0 - groove) / 2.0).abs() < 1e-6, "{wall}");
    // The lip of each: all of the part from the face to the sheet, as deep as the panel stands in it.
    let block = panel.block();
    let out = if toward.sign() > 0.0 { (block.min.z, 24.0) } else { (0.0, block.max.z) };
    for part in parts {
        let part = model.part(part);
        let lip = Block::new((block.min.x - 2.0, block.max.x + 2.0), (block.min.y - 2.0, block.max.y + 2.0), out);
        let inverse = part.pose.inverse();
        let (low, high) = inverse.bounds_of_box(lip.min, lip.max);
        let mut solid = part.solid();
        let profile = Profile::rect(DVec2::new(low.y, low.z - 1.0), DVec2::new(high.y, high.z + 1.0));
        solid.prisms.push(Prism { axis: Axis::L, from: low.x, to: high.x, profile });
        let cells = solid.cells(16).expect("a part with a rabbet");
        assert!(sweep(whole, &panel.pose, toward.vector() * 1000.0, &cells, &part.pose, 0.01).is_none(), "{}", part.name);
    }
}

/// Where the frame that keeps a floor out is glued already, nobody is told to put the floor in before.
#[test]
fn what_is_glued_already_leaves_no_before() {
    for stage in [BuildStage::AfterGlueUp, BuildStage::GlueUp] {
        let (mut model, solids) = floored(stage);
        for part in &mut model.parts {
            if part.name != "floor" {
                part.state = State::Glued;
            }
        }
        let order = plan(&model, &solids, &Gluing::default(), &Tools::default().0);
        assert_eq!(verify(&model, &solids, &order), []);
        assert_eq!(order.glue_ups, []);
        let [locked] = &order.locked[..] else { panic!("{:?}", order.locked) };
        assert_eq!(names(&model, &locked.parts), ["floor"]);
        assert!(!locked.ways.iter().any(|way| matches!(way, WayOut::Before(_))), "{:?}", locked.ways);
        assert!(locked.ways.iter().any(|way| matches!(way, WayOut::TwoPieces(_) | WayOut::Notch(_))), "{:?}", locked.ways);
    }
}
