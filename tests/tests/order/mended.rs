//! What is offered where something is locked out, binds or stands in something else.

use casewright_core::inspect::Rule;
use casewright_core::model::PartId;
use casewright_core::sequence::{Locked, WayOut, findings};
use casewright_tests::{Case, demo, set};

use super::{assert_whole, order_of};

/// A floor without room round it goes in nowhere and binds in the wet; half a millimetre mends both, which was tried before it is offered. What reaches right
/// across the floor is cut off and not called a notch.
#[test]
fn a_floor_without_clearance_is_offered_some() {
    let case = Case::with(&[("carcase.bottom.clearance", "0")]);
    let told = casewright_core::DryFit::of(&case.design, &case.model, &case.solids).findings;
    let of_floor: Vec<_> = told.iter().filter(|finding| matches!(finding.rule, Rule::LockedOut | Rule::Season)).collect();
    assert!([Rule::LockedOut, Rule::Season].iter().all(|rule| of_floor.iter().any(|finding| finding.rule == *rule)), "{of_floor:#?}");
    for finding in &of_floor {
        let remedy = finding.remedies.first().unwrap_or_else(|| panic!("{}", finding.message));
        assert_eq!(remedy.words, "Leave 0.5 mm all round each piece of the floor", "{}", finding.message);
    }
    let mended = Case::with(&[("carcase.bottom.clearance", "0.5")]);
    let left = casewright_core::DryFit::of(&mended.design, &mended.model, &mended.solids).findings;
    assert!(!left.iter().any(|finding| matches!(finding.rule, Rule::LockedOut | Rule::Season)), "{left:#?}");

    let order = order_of(&case);
    let size = |part: PartId| case.model.part(part).lwt();
    let right_across = order.locked.iter().filter(|locked| {
        let places = locked.ways.iter().filter_map(|way| if let WayOut::Notch(places) = way { Some(places) } else { None });
        places.flatten().any(|[_, _, from, to]| *from <= 0.0 && *to >= size(locked.parts[0]).y)
    });
    let cut: Vec<_> = right_across.map(|locked| &case.model.part(locked.parts[0]).title).collect();
    assert!(!cut.is_empty(), "one at least is cut shorter");
    for finding in
        of_floor.iter().filter(|finding| finding.rule == Rule::LockedOut && cut.contains(&&case.model.part(finding.parts[0]).title))
    {
        let words: Vec<_> = finding.remedies.iter().map(|remedy| remedy.words.as_str()).collect();
        assert!(words.iter().any(|words| words.starts_with("Cut ") && words.contains(" mm off its ")), "{words:?}");
        assert!(!words.iter().any(|words| words.starts_with("Notch")), "{words:?}");
    }
}

/// A shelf on the tooth next to another's stands in it: the cleat of 28 and the slats of 20 take two teeth of 32. With rails set back 12 the standards and
/// what lies between them stand in the panels too. Whatever is offered leaves none of the parts in the same place.
#[test]
fn shelves_on_neighbouring_teeth_and_rails_set_too_far_back_are_offered_what_mends() {
    let near = [("interior.bays.1.opening.shelves.2", "13")];
    let back = [("carcase.rails.reveal", "12")];
    for (changes, wanted) in [
        (near.to_vec(), "Put shelf 2 of bay 1 on tooth 14"),
        (back.to_vec(), "Set the rails back 4 mm"),
        ([near, back].concat(), "Put shelf 2 of bay 1 on tooth 14, and set the rails back"),
    ] {
        let case = Case::with(&changes);
        let told = casewright_core::DryFit::of(&case.design, &case.model, &case.solids).findings;
        let overlaps: Vec<_> = told.iter().filter(|finding| finding.rule == Rule::Overlap).collect();
        assert!(!overlaps.is_empty(), "{wanted}");
        assert!(
            overlaps.iter().any(|finding| finding.remedies.iter().any(|remedy| remedy.words.starts_with(wanted))),
            "{wanted}: {overlaps:#?}"
        );
        for finding in overlaps {
            assert!(!finding.remedies.is_empty(), "{}", finding.message);
            for remedy in &finding.remedies {
                let mut design = case.design.clone();
                for (path, value) in &remedy.changes {
                    set(&mut design, path, value).unwrap_or_else(|error| panic!("{error}"));
                }
                let mended = Case::of(design).unwrap_or_else(|errors| panic!("{}: {errors:?}", remedy.words));
                let both = [finding.parts[0], finding.parts[1]].map(|part| case.model.part(part).name.as_str());
                let same = |other: &casewright_core::Finding| both.iter().all(|name| mended.names(other).contains(name));
                let left: Vec<_> = mended.findings.iter().filter(|other| other.rule == Rule::Overlap && same(other)).collect();
                assert!(left.is_empty(), "{}: {left:#?}", remedy.words);
            }
        }
    }
}

// --- Glue ---

/// A floor that goes in in no one piece is made in two, which is a decision: edge to edge or halved over each other both lie in every bay, and go in by themselves.
#[test]
fn a_floor_that_is_locked_out_is_made_in_two_pieces() {
    let case = Case::of(demo()).expect("it derives");
    let floor = case.model.find("floor.1").expect("a floor").id;
    let mut order = order_of(&case);
    order.locked.push(Locked { parts: vec![floor], blocked_by: Vec::new(), closed: false, place: None, ways: vec![WayOut::TwoPieces(0)] });
    let found = findings(&order, &case.model, &case.design.shop.glue);
    let locked = found.iter().find(|finding| finding.rule == Rule::LockedOut).expect("it is told");
    assert_eq!(locked.remedies[0].changes, [("carcase.bottom.pieces".to_owned(), "butted".to_owned())]);
    for pieces in ["butted", "lapped"] {
        let after = Case::with(&[("carcase.bottom.pieces", pieces)]);
        let size = |name: &str| after.model.find(name).unwrap_or_else(|| panic!("{name}")).lwt();
        // Both together are as long as the one, less what is free between them or more by what they lap.
        let more = size("floor.1.left").x + size("floor.1.right").x - case.model.part(floor).lwt().x;
        assert!(if pieces == "butted" { (more + 1.0).abs() < 1e-9 } else { more > 10.0 }, "{pieces}: {more}");
        assert_whole(&after.model, &after.solids, &order_of(&after));
        let told: Vec<_> = after.findings.iter().map(|finding| &finding.message).collect();
        assert_eq!(told.len(), case.findings.len(), "{pieces}: {told:?}");
    }
}
