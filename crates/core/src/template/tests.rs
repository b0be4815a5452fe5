//! Templates of the demo's teeth, cleats and notches.

use super::*;

fn of(text: &str, changes: &[(&str, &str)]) -> (Model, Vec<Template>) {
    let mut design = crate::design::text::read(text).expect("a design");
    for (path, value) in changes {
        crate::design::decisions::set(&mut design, path, value).expect("a decision");
    }
    let model = crate::derive(&design).expect("a case");
    let templates = templates(&model);
    (model, templates)
}

const DEMO: &str = include_str!("../../../../examples/records_cabinet.ron");
const WORKROOM: &str = include_str!("../../../../examples/workroom_mixed.ron");

fn find<'t>(templates: &'t [Template], title: &str) -> &'t Template {
    templates.iter().find(|it| it.title == title).unwrap_or_else(|| panic!("{title}"))
}

/// The standard: width 34 with seats 16 deep every 32 from 28; each tooth is a level seat, a slope and a flat of 2 (the design's own figures, geometry).
#[test]
fn teeth_lie_where_the_standard_has_them() {
    let (_, templates) = of(DEMO, &[]);
    let teeth = find(&templates, "Teeth");
    assert_eq!((teeth.marks().as_str(), teeth.of, teeth.teeth.len()), ("ST1", Of::Whole, 36));
    assert!(
        teeth
            .teeth
            .iter()
            .all(|tooth| (tooth.seat - 28.0 - 32.0 * f64::from(tooth.number - 1)).abs() < 1e-9
                && (tooth.tip - tooth.seat - 30.0).abs() < 1e-9)
    );
    let [outline] = teeth.outlines.as_slice() else { panic!("one outline") };
    let slope = 30.0_f64.hypot(16.0);
    let wanted = 2.0 * 34.0 + 2.0 * 1224.0 + 36.0 * (16.0 + slope - 30.0);
    assert!((outline.length() - wanted).abs() < 1e-4, "{} {wanted}", outline.length());
    // Seen on the face side with the first end below and the face edge at the left: seats run in from the right.
    for tooth in &teeth.teeth {
        let is_seat = |(from, piece): (DVec2, Segment)| {
            let to = piece.to();
            (from.y - tooth.seat).abs() < 1e-6
                && (to.y - tooth.seat).abs() < 1e-6
                && ((from.x - to.x).abs() - 16.0).abs() < 1e-6
                && from.x.max(to.x) > 33.999
        };
        assert!(outline.pieces().any(is_seat), "seat {}", tooth.number);
    }
}

/// One shape serves every place that has it: cleats at both ends, slats of all bays.
#[test]
fn a_shape_is_drawn_once_and_says_all_it_is_for() {
    let (model, templates) = of(DEMO, &[]);
    let slope = find(&templates, "Slope of an end");
    assert_eq!(slope.uses_in_words(), ["C1 (20 parts): first end; second end, turned over"]);
    assert!(slope.notes.iter().any(|words| words.contains("28.1°")), "{:?}", slope.notes);
    let notches: Vec<&Template> = templates.iter().filter(|it| it.title == "Notch").collect();
    for part in model.parts.iter().filter(|part| part.cuts.iter().any(|cut| cut.feature.name() == "notch")) {
        let ends = part.cuts.iter().filter(|cut| cut.feature.name() == "notch").count();
        let served: usize = notches.iter().map(|it| it.uses.iter().filter(|one| one.mark == part.mark).count()).sum();
        assert_eq!(served, ends, "{}", part.title);
    }
    // Two notches for slats; two for the corners of floors, at posts and at dividers.
    assert!(notches.len() <= 4, "{}", notches.iter().map(|it| it.marks()).collect::<Vec<_>>().join(" | "));
}

#[test]
fn half_rounds_and_round_ends_keep_their_arcs() {
    let (_, templates) = of(WORKROOM, &[("sawtooth.teeth", "half_round")]);
    let arcs = |it: &Template| {
        it.outlines.iter().flat_map(|outline| &outline.segments).filter(|piece| matches!(piece, Segment::Arc { .. })).count()
    };
    let rounds = find(&templates, "Half rounds");
    assert!(arcs(rounds) >= rounds.teeth.len() && rounds.teeth.len() > 20, "{} arcs", arcs(rounds));
    let end = find(&templates, "Round end");
    assert!(arcs(end) >= 1 && end.uses.len() == 2, "{:?}", end.uses);
}

#[test]
fn what_is_cut_needs_no_template() {
    let (_, templates) = of(DEMO, &[]);
    let marks: Vec<String> = templates.iter().map(Template::marks).collect();
    let mut design = crate::design::text::read(DEMO).expect("the demo");
    let model = crate::derive(&design).expect("the demo");
    let all: Vec<(String, String)> = model.parts.iter().map(|part| (format!("made.{}.state", part.name), "cut".to_owned())).collect();
    assert!(crate::design::decisions::set_all(&mut design, &all).is_empty() && !marks.is_empty());
    assert_eq!(super::templates(&crate::derive(&design).expect("a case")), []);
}
