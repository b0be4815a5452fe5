//! What is told otherwise than it is kept: all shelves of a bay as one decision, `interior.bays.1.opening.shelves` set to "12 22 32", and the
//! slope of teeth, `sawtooth.slope` in degrees from the upright, which gives the depth of a seat.

use super::DecisionError;
use crate::design::edit::{HIGHEST_TOOTH, lay_shelves};
use crate::design::{Design, Fitting, Opening, Teeth};
use crate::joint::seat::{ROUND_PLAY, seat_depth};
use crate::length::Length;

/// Lays all shelves of a bay, where `path` names those; nothing where it names something else.
pub(super) fn set(design: &mut Design, path: &str, text: &str) -> Option<Result<(), DecisionError>> {
    if path == SLOPE {
        return Some(set_slope(design, text));
    }
    let opening = path.strip_suffix(".shelves")?;
    let bay = leaves(&design.interior, "interior").into_iter().position(|(leaf, has_shelves)| leaf == opening && has_shelves)?;
    let words = text.split([' ', ',', ';']).filter(|word| !word.is_empty());
    let teeth: Result<Vec<u32>, DecisionError> = words
        .map(|word| {
            let tooth = word.parse::<u32>().ok().filter(|tooth| (1..=HIGHEST_TOOTH).contains(tooth));
            let expected = format!("write the teeth of all shelves, each 1 to {HIGHEST_TOOTH}, such as 12 22 32");
            tooth.ok_or_else(|| DecisionError::Unreadable { path: path.to_owned(), found: word.to_owned(), expected })
        })
        .collect();
    Some(teeth.map(|teeth| lay_shelves(design, bay, &teeth)))
}

/// The slope of the teeth from the upright, degrees.
const SLOPE: &str = "sawtooth.slope";
/// The slopes that teeth may have, degrees.
const SLOPES: std::ops::RangeInclusive<f64> = 5.0..=60.0;

/// Sets the depth of a seat by the slope above it, to a hundredth of a millimetre.
fn set_slope(design: &mut Design, text: &str) -> Result<(), DecisionError> {
    let degrees = text.trim().parse::<f64>().ok().filter(|degrees| SLOPES.contains(degrees)).ok_or_else(|| DecisionError::Unreadable {
        path: SLOPE.to_owned(),
        found: text.to_owned(),
        expected: format!("write an angle from the upright, {} to {} degrees", SLOPES.start(), SLOPES.end()),
    })?;
    let seat = seat_depth(design.sawtooth.pitch.to_mm(), design.sawtooth.crest.to_mm(), degrees);
    super::set(design, "sawtooth.seat", &((seat * 100.0).round() / 100.0).to_string())
}

/// Lays the shelves of the bay that a choice of its system names where they were, at the nearest levels of the new one; `before` is the design before
/// that choice.
pub(super) fn keep_heights(before: &Design, after: &mut Design, path: &str) {
    let Some(opening) = path.strip_suffix(".system") else { return };
    let Some(bay) = leaves(&before.interior, "interior").into_iter().position(|(leaf, _)| leaf == opening) else { return };
    let of = |design: &Design| fittings(&design.interior).into_iter().nth(bay).cloned();
    let (Some(was), Some(is)) = (of(before), of(after)) else { return };
    let (Some(from), Some(to), Some(shelves)) = (was.system(), is.system(), was.shelves()) else { return };
    if from == to {
        return;
    }
    let [old, new] = [from, to].map(|system| system.levels(before));
    let mut levels: Vec<u32> = Vec::new();
    for level in &shelves.shelves {
        let height = old.0 + old.1 * (f64::from(*level) - 1.0);
        let near = ((height - new.0) / new.1).round().max(0.0) as u32 + 1;
        // Two never come to lie on one.
        let free = (near..=HIGHEST_TOOTH).find(|level| !levels.contains(level));
        levels.push(free.unwrap_or(near).min(HIGHEST_TOOTH));
    }
    lay_shelves(after, bay, &levels);
}

/// The radius of half rounds for a pitch, where the seats that were are too deep for teeth between them (common practice, no source: three quarters of it
/// bored).
const ROUND: f64 = 0.375;

/// Where the teeth become half rounds and have no room in their pitch, takes a radius that leaves some, and cleats that go into them.
pub(super) fn make_room_for_half_rounds(before: &Design, after: &mut Design) {
    let sawtooth = &mut after.sawtooth;
    let pitch = sawtooth.pitch.to_mm();
    if before.sawtooth.teeth == sawtooth.teeth || sawtooth.teeth != Teeth::HalfRound || sawtooth.seat.to_mm() < pitch / 2.0 {
        return;
    }
    let radius = (pitch * ROUND * 2.0).round() / 2.0;
    sawtooth.seat = Length::mm(radius);
    let tallest = 2.0 * radius - ROUND_PLAY;
    if sawtooth.cleat.height.to_mm() > tallest {
        sawtooth.cleat.height = Length::mm(tallest);
    }
}

/// What stands in all bays, from the left.
fn fittings(opening: &Opening) -> Vec<&Fitting> {
    match opening {
        Opening::Leaf(fitting) => vec![fitting],
        Opening::Split(split) => split.bays.iter().flat_map(|bay| fittings(&bay.opening)).collect(),
    }
}

/// The paths of all bays from the left, and whether there may be shelves in them.
fn leaves(opening: &Opening, path: &str) -> Vec<(String, bool)> {
    match opening {
        Opening::Leaf(fitting) => vec![(path.to_owned(), fitting.shelves().is_some())],
        Opening::Split(split) => {
            let each = |(index, bay): (usize, &crate::design::Bay)| leaves(&bay.opening, &format!("{path}.bays.{}.opening", index + 1));
            split.bays.iter().enumerate().flat_map(each).collect()
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::design::decisions;

    /// Half rounds of 16 leave no tooth in a pitch of 32, so they become 12, and the cleats go into them; those that fit stay as they are.
    #[test]
    fn half_rounds_leave_teeth_between_them() {
        let mut demo = crate::design::text::read(include_str!("../../../../../examples/records_cabinet.ron")).expect("the demo");
        decisions::set(&mut demo, "sawtooth.teeth", "half_round").expect("half rounds");
        assert_eq!((demo.sawtooth.seat.to_mm(), demo.sawtooth.cleat.height.to_mm()), (12.0, 23.5));
        assert!(crate::derive(&demo).is_ok());
        for (path, value) in [("sawtooth.teeth", "sloped"), ("sawtooth.seat", "10"), ("sawtooth.teeth", "half_round")] {
            decisions::set(&mut demo, path, value).expect("a value");
        }
        assert!((demo.sawtooth.seat.to_mm() - 10.0).abs() < 1e-9);
    }

    /// Another system lays every shelf at its level nearest to where it was: no farther off than half a step, and back again where it was.
    #[test]
    fn shelves_stay_where_they_are_when_what_holds_them_changes() {
        let demo = crate::design::text::read(include_str!("../../../../../examples/records_cabinet.ron")).expect("the demo");
        let heights = |design: &crate::Design| -> Vec<f64> {
            let model = crate::derive(design).expect("a case");
            model.rooms.iter().filter(|room| room.bay == 0 && room.shelf.is_some()).map(|room| room.space.min.y).collect()
        };
        let before = heights(&demo);
        for (system, step) in [("pins", 32.0), ("cleats", 16.0), ("housed", 16.0)] {
            let mut design = demo.clone();
            decisions::set(&mut design, "interior.bays.1.opening.system", system).expect("a system");
            for (was, is) in before.iter().zip(heights(&design)) {
                assert!((was - is).abs() <= step / 2.0 + 1e-6, "{system}: {was} and {is}");
            }
            decisions::set(&mut design, "interior.bays.1.opening.system", "sawtooth").expect("a system");
            assert_eq!(heights(&design), before, "{system} and back");
        }
    }

    #[test]
    fn all_shelves_of_a_bay_are_laid_at_once() {
        let mut design = crate::design::text::read(include_str!("../../../../../examples/records_cabinet.ron")).expect("the demo");
        let count = |design: &crate::Design| crate::derive(design).expect("a case").rooms.iter().filter(|room| room.bay == 1).count();
        assert_eq!(count(&design), 4);
        decisions::set(&mut design, "interior.bays.2.opening.shelves", "6, 12 18;24,30").expect("teeth");
        assert_eq!(count(&design), 6, "five shelves and the floor");
        decisions::set(&mut design, "interior.bays.2.opening.shelves", "").expect("no teeth");
        assert_eq!(count(&design), 1);
        let error = decisions::set(&mut design, "interior.bays.2.opening.shelves", "6 high").expect_err("no tooth").to_string();
        assert!(error.contains("\"high\"") && error.contains("1 to 400"), "{error}");
        // Told later, all take the place of one; one told later holds among them.
        let pair = |path: &str, value: &str| (format!("interior.bays.2.opening.{path}"), value.to_owned());
        let told = |design: &mut crate::Design, changes: &[(String, String)]| {
            assert!(decisions::set_all(design, changes).is_empty());
            crate::derive(design).expect("a case").findings.len()
        };
        assert_eq!(told(&mut design, &[pair("shelves.9", "43"), pair("shelves", "8 18 28")]), 0);
        assert_eq!(told(&mut design, &[pair("shelves", "8 18 28"), pair("shelves.3", "399")]), 1, "no such tooth");
        assert!(decisions::set(&mut design, "interior.bays.9.opening.shelves", "6").is_err());
    }
}
