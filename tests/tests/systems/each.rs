//! Every system, alone in all bays and mixed: its parts, what it bears, and that the case goes together.

use casewright_core::Finding;
use casewright_core::contents::arrange::{Effort, ShelvesMay, arrange};
use casewright_core::contents::holds::{Shelves, in_bays};
use casewright_core::contents::tilt::tilts;
use casewright_core::design::BoxKind;
use casewright_core::inspect::{Rule, Seriousness};
use casewright_core::joint::JointKind;
use casewright_core::loads::{Asked, UnderLoad};
use casewright_core::model::{LevelKind, PartKind};
use casewright_solid::{Pose, strikes};
use casewright_tests::Case;

use super::{all_findings, told};

const MIDDLE: &str = "interior.bays.2.opening.system";
const SHELVES: &str = "interior.bays.2.opening.shelves";

/// The demo with another system in its middle bay, the shelves about where they were.
fn systems() -> [(&'static str, Case, LevelKind); 4] {
    [
        ("pins", Case::with(&[(MIDDLE, "pins"), (SHELVES, "7 17 27")]), LevelKind::Hole),
        ("cleats", Case::with(&[(MIDDLE, "cleats"), (SHELVES, "10 30 50")]), LevelKind::Step),
        ("slats on cleats", Case::with(&[(MIDDLE, "cleats"), (SHELVES, "10 30 50"), ("cleats.of", "slats")]), LevelKind::Step),
        ("housed", Case::with(&[(MIDDLE, "housed"), (SHELVES, "10 30 50")]), LevelKind::Step),
    ]
}

#[test]
fn each_system_goes_together_and_nothing_is_told_of_it() {
    let demo: Vec<Finding> = all_findings(&Case::with(&[]));
    for (name, case, _) in systems() {
        let found: Vec<Finding> =
            all_findings(&case).into_iter().filter(|finding| !demo.iter().any(|known| known.message == finding.message)).collect();
        let of_middle = |finding: &Finding| {
            case.names(finding).iter().any(|part| part.contains(".2.") || part.contains("muntin") || part.contains("stile"))
        };
        let told_of: Vec<Finding> = found.into_iter().filter(of_middle).collect();
        assert!(told_of.is_empty(), "{name}:\n{}", told(&case, &told_of));
    }
}

#[test]
fn each_system_gives_rooms_levels_and_loads_like_the_others() {
    for (name, case, kind) in systems() {
        let levels = case.model.bays[1].teeth.expect("levels");
        assert_eq!(levels.kind, kind, "{name}");
        let rooms: Vec<_> = case.model.rooms.iter().filter(|room| room.bay == 1).collect();
        assert_eq!(rooms.len(), 4, "{name}: three shelves and the floor");
        for room in rooms.iter().filter(|room| room.shelf.is_some()) {
            let level = (room.space.min.y - levels.lowest) / levels.pitch;
            assert!((level - level.round()).abs() < 1e-9, "{name}: {} lies on a level", room.name);
            let boards: Vec<_> = case
                .model
                .parts
                .iter()
                .filter(|part| {
                    matches!(part.kind, PartKind::Shelf | PartKind::Slat) && (part.block().max.y - room.space.min.y).abs() < 1e-9
                })
                .filter(|part| part.block().centre().x > room.space.min.x && part.block().centre().x < room.space.max.x)
                .collect();
            assert!(!boards.is_empty(), "{name}: {} has a board", room.name);
        }
        let under = UnderLoad::of(&case.design, &case.model);
        assert!(under.unjudged.iter().all(|one| one.asked != Asked::All), "{name}: {:?}", under.unjudged);
        // What boxes and shelves weigh comes to rest: no support is left out.
        let on_rests: f64 =
            under.rests.iter().filter(|rest| rest.room.is_some_and(|room| case.model.rooms[room].bay == 1)).map(|rest| rest.force).sum();
        assert!(on_rests > 100.0, "{name}: {on_rests} N");
        assert!(
            casewright_core::loads::carries(&case.design, &case.model).iter().filter(|one| case.model.rooms[one.room].bay == 1).count()
                == 4,
            "{name}"
        );
    }
}

/// 30 kg on a shelf are 74 N on each of four pins, and 1.5 N/mm² on 5 × 10 of pin (trade check value, derived).
#[test]
fn thirty_kilograms_press_on_four_pins() {
    let case = Case::with(&[(MIDDLE, "pins"), (SHELVES, "7 17 27"), ("pins.fit", "0"), ("pins.reach", "11.25")]);
    let room = case.model.rooms.iter().position(|room| room.bay == 1 && room.shelf == Some(0)).expect("a shelf");
    let load = |kg: f64| {
        let mut stacks = vec![Vec::new(); case.model.rooms.len()];
        let space = case.model.rooms[room].space;
        let one = &UnderLoad::of(&case.design, &case.model).stacks.into_iter().flatten().next().expect("a stack");
        stacks[room] = vec![casewright_core::contents::Stack { kg, block: space, ..one.clone() }];
        let under = UnderLoad::with(&case.design, &case.model, stacks);
        let rests: Vec<f64> = under.rests.iter().filter(|rest| rest.room == Some(room)).map(|rest| rest.force).collect();
        let stress: Vec<f64> = under.rests.iter().filter(|rest| rest.room == Some(room)).map(|rest| rest.bearing.found).collect();
        (rests, stress)
    };
    // What the shelf itself weighs comes on top.
    let ((empty, none), (loaded, full)) = (load(1e-9), load(30.0));
    assert_eq!(loaded.len(), 4);
    // 30 kg are 294.2 N; the shelf stands out farther in front of its pins than behind them, so the front ones bear more. Pushed over by its play of 1.25 it lies on
    // 8.75 of the 10 that a pin stands out, 5 wide.
    let more = |with: &[f64], without: &[f64]| -> Vec<f64> { with.iter().zip(without).map(|(with, without)| with - without).collect() };
    let (forces, stresses) = (more(&loaded, &empty), more(&full, &none));
    assert!((forces.iter().sum::<f64>() - 294.2).abs() < 0.4, "{forces:?}");
    assert!(
        forces.iter().zip(&stresses).all(|(force, stress)| (stress * 5.0 * 8.75 - force).abs() < 0.01 * force),
        "{forces:?} {stresses:?}"
    );
    assert!(forces.iter().all(|force| (force - 73.6).abs() < 0.1 * 73.6), "{forces:?}");
}

/// What is asked of shelves that move is asked of all systems alike: what fits, and where everything goes.
#[test]
fn what_fits_and_where_things_go_is_asked_of_all_alike() {
    let kind = BoxKind::new("tall box", [300.0, 300.0, 500.0], 5.0, 1);
    for (name, case, _) in systems() {
        let bay = in_bays(&case.design, &case.model, &kind)[1];
        let (steps, over) = (bay.teeth.expect(name), bay.over_floor.expect(name));
        // One shelf as low as it says: the floor takes it, and with the next as far above it so does the shelf.
        let lay = format!("{over} {}", over + steps);
        let mut design = case.design.clone();
        casewright_tests::set(&mut design, SHELVES, &lay).expect("levels");
        let after = Case::of(design).expect("a case");
        let taken: Vec<bool> = Shelves::of(&after.design, &after.model)
            .take(&kind)
            .into_iter()
            .filter(|room| after.model.rooms[room.room].bay == 1)
            .map(|room| room.fit.fits())
            .collect();
        assert_eq!(taken[..2], [true, true], "{name} on {lay}");
        let moved = arrange(&case.design, &case.model, ShelvesMay::Move, Effort::steps(20_000));
        let stay = arrange(&case.design, &case.model, ShelvesMay::Stay, Effort::steps(20_000));
        let (Ok(moved), Ok(stay)) = (moved, stay) else { panic!("{name}: arranged") };
        assert!(moved.placed >= stay.placed, "{name}: {} of {}", moved.placed, stay.placed);
    }
}

/// Every bay its own system in one case.
#[test]
fn a_mix_in_one_case() {
    let case = Case::with(&[
        ("interior.bays.1.opening.system", "pins"),
        ("interior.bays.1.opening.shelves", "11 22 31"),
        (MIDDLE, "cleats"),
        (SHELVES, "10 30 50"),
    ]);
    let count = |kind: PartKind| case.model.parts.iter().filter(|part| part.kind == kind).count();
    assert_eq!((count(PartKind::Standard), count(PartKind::Pin), count(PartKind::Shelf)), (4, 12, 6));
    assert_eq!(count(PartKind::Cleat), 6 + 8);
    let kinds: Vec<LevelKind> = case.model.bays.iter().filter_map(|bay| bay.teeth).map(|levels| levels.kind).collect();
    assert_eq!(kinds, [LevelKind::Hole, LevelKind::Step, LevelKind::Tooth]);
    assert!(case.failures().is_empty(), "{}", told(&case, &case.findings));
}

/// What goes in over others is found by turning it about any of its axes: solid shelves about as wide as deep, and a floor below shelves that are
/// glued into stopped housings.
#[test]
fn boards_that_are_about_square_find_their_way_in() {
    let all_bays = |system: &'static str, lay: [&'static str; 3]| -> Vec<(String, &'static str)> {
        let path = |bay: usize, what: &str| format!("interior.bays.{}.opening.{what}", bay + 1);
        (0..3).flat_map(|bay| [(path(bay, "system"), system), (path(bay, "shelves"), lay[bay])]).collect()
    };
    let solid = vec![("sawtooth.of".to_owned(), "solid")];
    let loose = [solid.clone(), vec![("sawtooth.spacers".to_owned(), "none")]].concat();
    let housed = all_bays("housed", ["20 40 60", "15 35 55", "16 28 40"]);
    let stopped = [housed.clone(), vec![("housed.stop".to_owned(), "12")]].concat();
    for changes in [solid, loose, housed, stopped] {
        let changes: Vec<(&str, &str)> = changes.iter().map(|(path, value)| (path.as_str(), *value)).collect();
        let case = Case::with(&changes);
        let locked: Vec<_> = all_findings(&case).into_iter().filter(|finding| finding.rule == Rule::LockedOut).collect();
        assert!(locked.is_empty(), "{changes:?}: {}", told(&case, &locked));
    }
}

/// A shelf goes through its opening at the angle that is told, and not at half a degree less: by the solids, with every other shelf in its place.
#[test]
fn shelves_tilt_out_as_told() {
    let mut asked = 0;
    for changes in [&[][..], &[("sawtooth.of", "solid")], &[("sawtooth.of", "solid"), ("shelf.thickness", "30")]] {
        let case = Case::with(changes);
        for tilt in tilts(&case.model) {
            let board = case.model.part(tilt.board);
            let own = board.block();
            let out = |degrees: f64| {
                let turn = glam::DMat3::from_rotation_z(degrees.to_radians());
                // Its lowest corner as low as it may come, its middle in the middle of the opening.
                let bay = case.model.bays[tilt.bay].space;
                let room = case.model.rooms.iter().find(|room| (room.bay, room.shelf) == (tilt.bay, Some(tilt.shelf))).expect("its room");
                let high = room.space.max.y
                    - 0.05
                    - if tilt.height < bay.size().y { case.model.bays[tilt.bay].teeth.expect("levels").under } else { 0.0 };
                let turned = Pose { basis: turn * board.pose.basis, origin: turn * (board.pose.origin - own.centre()) };
                let (low, top) = turned.bounds_of_box(glam::DVec3::ZERO, board.lwt());
                let centre = glam::DVec3::new(bay.centre().x - f64::midpoint(low.x, top.x), high - top.y, own.centre().z);
                let pose = Pose { origin: turned.origin + centre, ..turned };
                let names = format!(".{}.{}.", tilt.bay + 1, tilt.shelf + 1);
                let others = case.model.parts.iter().filter(|part| {
                    let of_shelf = format!("{}.", part.name).contains(&names)
                        && matches!(part.kind, PartKind::Slat | PartKind::Shelf | PartKind::Cleat);
                    !of_shelf
                });
                let cells = |part: &casewright_core::model::Part| case.solids.cells(part.id).expect("a solid").clone();
                let way = glam::DVec3::Z * 1000.0;
                let all: Vec<_> = others
                    .filter(|other| strikes(&cells(board), &pose, way, &cells(other), &other.pose, 0.02))
                    .map(|other| other.name.clone())
                    .collect();
                all
            };
            assert!(tilt.angle > 10.0 && tilt.comes_out() && tilt.goes_level(), "{changes:?}: {tilt:?}");
            assert_eq!(out(tilt.angle + 0.01), Vec::<String>::new(), "{changes:?}: {tilt:?}");
            assert!(!out(tilt.angle - 0.5).is_empty(), "{changes:?}: {tilt:?}");
            asked += 1;
        }
    }
    assert_eq!(asked, 30);
    let pins = Case::with(&[(MIDDLE, "pins"), (SHELVES, "7 17 27")]);
    let level: Vec<_> = tilts(&pins.model).into_iter().filter(|tilt| tilt.bay == 1).collect();
    assert!(
        level.len() == 3 && level.iter().all(|tilt| tilt.angle <= 0.0 && tilt.comes_out()),
        "what is no longer than its opening comes out level"
    );
}

/// The example designs: nothing in them will fail or is at risk, whatever holds their shelves, everything has its place, and each goes together.
#[test]
fn the_examples_pass_the_checks() {
    let examples = [
        ("bookcase_on_pins", include_str!("../../../examples/bookcase_on_pins.ron")),
        ("linen_shelves_housed", include_str!("../../../examples/linen_shelves_housed.ron")),
        ("jar_store_on_cleats", include_str!("../../../examples/jar_store_on_cleats.ron")),
        ("workroom_mixed", include_str!("../../../examples/workroom_mixed.ron")),
        ("records_cabinet", casewright_tests::DEMO),
    ];
    for (name, text) in examples {
        let case = Case::of(casewright_core::design::text::read(text).expect(name)).expect(name);
        let grave: Vec<_> = all_findings(&case).into_iter().filter(|finding| finding.seriousness < Seriousness::Note).collect();
        assert!(grave.is_empty(), "{name}: {}", told(&case, &grave));
        let there = arrange(&case.design, &case.model, ShelvesMay::Stay, Effort::default()).expect(name);
        assert!(there.left.is_empty() && there.wanted > 10, "{name}: {:?}", there.left);
        // What is written reads back the same.
        let again = casewright_core::design::text::read(&casewright_core::design::text::write(&case.design).expect(name)).expect(name);
        assert_eq!(again, case.design, "{name}");
    }
}

/// A single bay under its top, floor and standards has nothing to find, at any season.
#[test]
fn a_case_of_one_bay_has_nothing_to_find() {
    let mut design = casewright_tests::demo_with(&[("carcase.width", "660"), ("contents.8.count", "0"), ("carcase.wall", "anchored")]);
    let casewright_core::design::Opening::Split(split) = &mut design.interior else { panic!("the demo is divided") };
    split.bays.truncate(1);
    split.bays[0].size = casewright_core::design::BaySize::Share(1.0);
    let case = Case::of(design).expect("a case");
    let found: Vec<_> = all_findings(&case).into_iter().filter(|finding| finding.seriousness < Seriousness::Note).collect();
    assert!(found.is_empty(), "{}", told(&case, &found));
}

/// The dry half of a housing lets the shelf slide when it is wettest and thickest: white ash, of which nobody knows how it was sawn, moves by 0.00274 a percent
/// at most (Wood Handbook FPL-GTR-190, table 13-5), 40 thick from 8 to 13 % by 0.55. The glued half is as wide as it is snug.
#[test]
fn a_housed_shelf_slides_when_it_is_thickest() {
    let case = Case::with(&[(MIDDLE, "housed"), (SHELVES, "10 30 50"), ("shelf.thickness", "40"), ("timber.moisture.wettest", "13")]);
    let housings = case.model.joints.iter().filter_map(|joint| match &joint.kind {
        JointKind::Housing(figures) => Some((joint.glued, figures.width - figures.shelf)),
        _ => None,
    });
    let (glued, dry): (Vec<_>, Vec<_>) = housings.partition(|(glued, _)| *glued);
    assert!(!glued.is_empty() && !dry.is_empty());
    let grown = 40.0 * 0.00274 * 5.0;
    assert!(glued.iter().all(|(_, room)| (room - 0.1).abs() < 1e-9), "{glued:?}");
    assert!(dry.iter().all(|(_, room)| (grown + 0.05..grown + 0.3).contains(room)), "{dry:?}");
    let told: Vec<_> = all_findings(&case).into_iter().filter(|finding| finding.rule == Rule::JointRule).collect();
    assert!(told.is_empty(), "{}", self::told(&case, &told));
}
