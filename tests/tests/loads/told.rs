//! What is told: every figure with its reasons, and what could not be judged.

use std::collections::BTreeMap;

use approx::assert_relative_eq;
use casewright_core::DryFit;
use casewright_core::inspect::{Rule, Seriousness};
use casewright_core::loads::{Asked, Bending, UnderLoad, Whole, carries, unjudged_findings, whole};
use casewright_core::model::PartKind;
use casewright_core::strength::Verdict;
use casewright_core::worked::{Basis, Worked};
use casewright_tests::{Case, demo_with};

#[test]
fn the_demo_stands_and_bears_what_it_must_hold() {
    let case = Case::with(&[]);
    let under = UnderLoad::of(&case.design, &case.model);
    assert_eq!(under.verdict(), Verdict::Good);
    let shelves = under.shelves(&case.model);
    assert_eq!(shelves.len(), 13, "ten shelves and three floors");
    assert!(shelves.iter().all(|shelf| shelf.kg > 0.0 && shelf.worst.after() > 0.0), "{shelves:?}");
    let kinds: BTreeMap<PartKind, usize> = under.bending.iter().fold(BTreeMap::new(), |mut kinds, bending| {
        *kinds.entry(case.model.part(bending.part).kind).or_default() += 1;
        kinds
    });
    for (kind, count) in [(PartKind::Slat, 30), (PartKind::Cleat, 20), (PartKind::Floor, 3), (PartKind::Top, 1), (PartKind::Rail, 4)] {
        assert_eq!(kinds.get(&kind), Some(&count), "{kind:?}");
    }
    let told = |rule: Rule| case.findings.iter().any(|finding| finding.rule == rule);
    assert!(!told(Rule::Sags) && !told(Rule::Holds) && !told(Rule::Stands));
}

/// What the labels forbid is found: more is to be kept than the whole case carries, though none of its rails is seen to sag, or one of them is.
#[test]
fn more_than_the_case_carries_in_all_is_found() {
    for (width, seriousness) in [("1360", None), ("2300", Some(Seriousness::Note)), ("2600", Some(Seriousness::AtRisk))] {
        let case = Case::with(&[("carcase.width", width)]);
        let told = case
            .findings
            .iter()
            .find(|finding| finding.message.contains("are to stand in it, and all its shelves and floors together carry"));
        assert_eq!(told.map(|finding| finding.seriousness), seriousness, "{width}: {told:?}");
        let each = carries(&case.design, &case.model);
        let all = whole(&case.design, &case.model, &each).expect("all its shelves are judged");
        let kept: f64 = case.design.contents.iter().map(|kind| kind.mass * f64::from(kind.wanted())).sum();
        assert_eq!(all.is_less_than(kept), told.is_some(), "{width}: {kept} kg of {}", all.kg);
        assert!(each.iter().all(|one| Whole::on_one(Some(all), one.kg) <= all.kg), "no label promises more than the case bears");
    }
}

/// Names and figures that a worked figure rests on, all the way down.
fn rests_on(worked: &Worked, told: &mut Vec<String>) {
    told.push(worked.name.to_string());
    if let Basis::Formula { inputs, source, .. } = &worked.basis {
        assert!(!source.is_empty());
        for input in inputs {
            rests_on(input, told);
        }
    }
}

#[test]
fn every_figure_tells_why() {
    let case = Case::with(&[]);
    let under = UnderLoad::of(&case.design, &case.model);
    let slat = case.model.find("slat.1.1.2").and_then(|slat| under.of_part(slat.id)).expect("it bends");
    let mut told = Vec::new();
    rests_on(&slat.why_after(), &mut told);
    for name in ["creep", "bending under the load", "bending under its own weight", "shear", "modulus of elasticity E", "span L", "years"] {
        assert!(told.iter().any(|it| it == name), "{name}: {told:?}");
    }
    assert_relative_eq!(slat.why_after().value, slat.after(), max_relative = 1e-12);
    assert_relative_eq!(slat.why_bending().0.value, slat.bending().found, max_relative = 1e-12);
    let bears = under.why_bears(&case.design, slat);
    assert_relative_eq!(bears.value, slat.bears.total(), max_relative = 1e-12);
    assert!(bears.explain().iter().any(|line| line.contains(" kg")), "{:?}", bears.explain());
    let rest = under.rests.first().expect("shelves rest");
    assert_relative_eq!(rest.why_bearing().value, rest.bearing.found, max_relative = 1e-12);
    assert_relative_eq!(rest.why_shear().value, rest.shear.found, max_relative = 1e-12);
}

/// What the tables lack is told of every part, of the whole of it or of one stress, and once in the dry fit.
#[test]
fn what_can_not_be_judged_is_told() {
    let told = |changes: &[(&str, &str)]| {
        let case = Case::of(demo_with(changes)).expect("it derives");
        let under = UnderLoad::of(&case.design, &case.model);
        let of = |kind: PartKind, asked: Asked| {
            let of_kind = under.unjudged.iter().filter(|one| case.model.part(one.part).kind == kind && one.asked == asked);
            of_kind.map(|one| one.part).collect::<std::collections::BTreeSet<_>>().len()
        };
        let counts = [
            of(PartKind::Slat, Asked::All),
            of(PartKind::Cleat, Asked::All),
            of(PartKind::Cleat, Asked::Bending),
            of(PartKind::Cleat, Asked::Bearing),
            of(PartKind::Slat, Asked::ShearAtRest),
            of(PartKind::Floor, Asked::Bending),
        ];
        let notes: Vec<String> = DryFit::of(&case.design, &case.model, &case.solids)
            .findings
            .into_iter()
            .filter(|finding| finding.rule == Rule::NotJudged)
            .map(|finding| finding.message)
            .collect();
        (counts, notes)
    };
    // Wild cherry has no modulus of elasticity in the table, birch no strength, oak none in shear and across the grain; the floors are of
    // ready-veneered MDF, of which no strength is known.
    let both = |wood| [("timber.frame", wood), ("timber.shelving", wood)];
    for (wood, counts, words) in [
        ("white_ash", [0, 0, 0, 0, 0, 3], "some stress of 3 floors is not judged: no strength in bending or in shear is known for"),
        (
            "european_cherry",
            [30, 20, 0, 0, 0, 3],
            "is not judged: no modulus of elasticity is known for Cherry, European (wild) and no strength in bending or in shear",
        ),
        ("european_birch", [0, 0, 20, 20, 30, 3], "no strength in bending, in shear or across the grain is known for Birch, European"),
        ("european_oak", [0, 0, 0, 20, 30, 3], "and no strength in shear or across the grain is known for Oak, European"),
    ] {
        let (found, notes) = told(&both(wood));
        assert_eq!(found, counts, "{wood}");
        assert_eq!(notes.len(), 1, "{notes:?}");
        assert!(notes[0].contains(words), "{words}: {notes:?}");
    }
}

/// A top of a wide case spans from cross rail to cross rail, across its grain: white ash has its strengths along the grain (Wood Handbook
/// FPL-GTR-282, table 5-3a), so what is lacking is how strong it is across it, and no other timber would be known better.
#[test]
fn a_top_that_spans_across_its_grain_says_so() {
    let case = Case::with(&[("carcase.width", "2600")]);
    let under = UnderLoad::of(&case.design, &case.model);
    let top = case.model.find("top").expect("a top").id;
    let whys: Vec<String> = under.unjudged.iter().filter(|one| one.part == top).map(|one| one.why.to_string()).collect();
    assert!(!whys.is_empty() && whys.iter().all(|why| why.contains("across its grain") && !why.contains("is known for")), "{whys:?}");
    let note = unjudged_findings(&case.model, &under).pop().expect("a note");
    assert_eq!(note.message.matches("not judged").count(), 1, "{}", note.message);
}

/// In so wide a case the top rails sag past L/144 and the bottom ones only so that it is seen: each is told by its own verdict, and higher top
/// rails are offered, which mend it.
#[test]
fn only_what_fails_is_told_to_fail_and_has_its_own_remedy() {
    let case = Case::with(&[("carcase.width", "2600")]);
    let under = UnderLoad::of(&case.design, &case.model);
    let fails: Vec<_> = case.failures().into_iter().filter(|finding| finding.rule == Rule::Sags).collect();
    assert!(!fails.is_empty());
    for finding in &fails {
        for part in &finding.parts {
            assert_eq!(
                under.of_part(*part).map(Bending::verdict),
                Some(Verdict::Fails),
                "{}: {}",
                case.model.part(*part).title,
                finding.message
            );
        }
    }
    let rails =
        fails.iter().find(|finding| case.model.part(finding.parts[0]).name.strip_suffix(".top").is_some()).expect("the top rails fail");
    let higher =
        rails.remedies.iter().find(|remedy| remedy.changes.iter().any(|(path, _)| path == "carcase.rails.top")).expect("higher ones");
    let after = Case::with(&[("carcase.width", "2600"), ("carcase.rails.top", &higher.changes[0].1)]);
    let left: Vec<_> = after.failures().into_iter().filter(|finding| finding.rule == Rule::Sags).flat_map(|it| after.names(it)).collect();
    assert!(!left.iter().any(|name| name.starts_with("rail.") && name.strip_suffix(".top").is_some()), "{left:?}");
}
