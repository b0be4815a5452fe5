//! What a maker marks off from the rod of the demo.

use super::*;

fn sticks() -> (Model, Vec<Stick>) {
    let design = crate::design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo");
    let model = crate::derive(&design).expect("the demo");
    let rod = rod(&model);
    (model, rod)
}

fn says(stick: &Stick, at: f64) -> &[String] {
    stick.lines.iter().find(|line| (line.at - at).abs() < ONE_LINE).map_or(&[], |line| &line.words)
}

#[test]
fn rails_grooves_floors_shelves_reveals_and_shoulders_have_their_lines() {
    let (model, rod) = sticks();
    let [height, width, depth] = rod.as_slice() else { panic!("three sticks") };
    let rail = model.find("rail.front.bottom").expect("a rail");
    // Up from the ground: foot 50 and rail 110; its stiles stand on it, and the back's grooves are 9 deep.
    assert!(says(height, 50.0).iter().any(|words| words.starts_with("lower edge: R1")), "{:?}", says(height, 50.0));
    let upper = says(height, 160.0);
    assert!(
        upper.iter().any(|words| words.starts_with("upper edge: R1")) && upper.iter().any(|words| words.contains("lower shoulder: S1")),
        "{upper:?}"
    );
    assert!(says(height, 151.0).iter().any(|words| words.starts_with("bottom of the groove")), "{:?}", says(height, 151.0));
    for room in &model.rooms {
        assert!(says(height, room.space.min.y).contains(&room.name), "{}", room.name);
    }
    // Posts are 48, and the rail's shoulders stand against them.
    assert!(says(width, 48.0).iter().any(|words| words.contains("left shoulder: R1")), "{:?}", says(width, 48.0));
    // The rail stands back behind the post: both faces have a line of their own.
    let front = rail.block().max.z;
    assert!(says(depth, front).iter().any(|words| words == "front face, reveal 4: R1, R2"), "{:?}", says(depth, front));
    // The top, 1400 × 498, stands out beyond the case all round.
    for (stick, long, case) in [(width, 1400.0, 1360.0), (depth, 498.0, 470.0)] {
        assert!((stick.to - stick.from - long).abs() < 1e-9 && stick.from < 0.0 && stick.to > case, "{} to {}", stick.from, stick.to);
    }
}

/// Every part that is cut for the case has its beginning and its end on every stick, and every line lies on its stick and says what it is.
#[test]
fn every_part_is_on_every_stick() {
    let (model, rod) = sticks();
    for stick in &rod {
        let axis = stick.way.axis();
        assert!(stick.lines.windows(2).all(|pair| pair[1].at - pair[0].at >= ONE_LINE));
        assert!(stick.lines.iter().all(|line| !line.words.is_empty() && line.at >= stick.from - 1e-9 && line.at <= stick.to + 1e-9));
        for part in model.parts.iter().filter(|part| is_on_it(part)) {
            let body = part.body();
            for at in [body.min[axis], body.max[axis]] {
                assert!(
                    says(stick, at).iter().any(|words| words.contains(&part.mark)),
                    "{} at {at} on the {}",
                    part.title,
                    stick.way.word()
                );
            }
            assert!(stick.bands.iter().any(|band| band.marks.contains(&part.mark)));
        }
    }
}
