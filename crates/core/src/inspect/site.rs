//! Where it will stand: whether it fits there, and whether what is glued together gets there.

use glam::DVec3;

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::design::{Design, Passage, Site, Top};
use crate::length::Length;
use crate::model::{BuildStage, Model, Part, PartId};
use crate::place::Block;
use crate::sentence;

/// Free all round while it is carried through, for hands and walls, mm (common practice, no source).
const HANDS: f64 = 10.0;

const SOURCE: &str = "geometry; 10 mm free on either side for hands is common practice, no source";

pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    let (site, Some(bounds)) = (&design.site, model.bounds) else { return Vec::new() };
    let mut findings: Vec<Finding> = stands(design, site, bounds).into_iter().collect();
    findings.extend(off_the_wall(design, site));
    let units = units(model);
    let ways = [("door", passage(site.door)), ("stairs", passage(site.stairs)), ("lift", cabin(site))];
    for (words, openings) in &ways {
        if let Some(opening) = openings {
            findings.extend(units.iter().filter_map(|unit| carried(design, unit, words, opening)));
        }
    }
    findings.extend(units.iter().filter_map(|unit| round_the_landing(site, unit)));
    let door = ways[0].1.as_deref();
    // What is too high to stand there at all is told above.
    let ceiling = Some(site.height.to_mm()).filter(|mm| *mm > 0.0).unwrap_or(f64::INFINITY);
    let fits_under = bounds.size().y <= ceiling + TOUCH;
    findings.extend(units.iter().filter(|_| fits_under).filter_map(|unit| stood_up(design, unit, door)));
    findings
}

/// The case against the niche, all that is lacking told at once.
fn stands(design: &Design, site: &Site, bounds: Block) -> Option<Finding> {
    let size = bounds.size();
    let known = |length: Length| Some(length.to_mm()).filter(|mm| *mm > 0.0);
    let wanted = [
        ("width", "carcase.width", size.x + 2.0 * site.scribe.to_mm(), known(site.width), design.carcase.width),
        ("height", "carcase.height", size.y, known(site.height), design.carcase.height),
        ("depth", "carcase.depth", size.z + stand_off(design, site), known(site.depth), design.carcase.depth),
    ];
    let over: Vec<_> = wanted
        .into_iter()
        .filter_map(|(word, path, needs, there, now)| Some((word, path, needs - there?, now)).filter(|(_, _, over, _)| *over > TOUCH))
        .collect();
    if over.is_empty() {
        return None;
    }
    let told: Vec<String> = over.iter().map(|(word, _, by, _)| format!("{} mm in {word}", mm(*by))).collect();
    let changes = over.iter().map(|(_, path, by, now)| ((*path).to_owned(), (now.to_mm() - by).to_string())).collect();
    let less: Vec<String> = over.iter().map(|(word, _, by, _)| format!("{} mm less {word}", mm(*by))).collect();
    Some(Finding {
        explains: Vec::new(),
        rule: Rule::FitsSite,
        seriousness: Seriousness::WillFail,
        parts: Vec::new(),
        joint: None,
        place: Some(bounds.centre()),
        figures: over.iter().map(|(word, _, by, _)| Figure::mm(over_by(word), *by)).collect(),
        message: format!("It does not go where it is to stand: too large by {}", told.join(" and ")),
        source: "geometry",
        remedies: vec![Remedy { words: format!("Give the case {}", less.join(" and ")), changes }],
    })
}

fn over_by(word: &str) -> &'static str {
    match word {
        "width" => "too wide by",
        "height" => "too high by",
        _ => "too deep by",
    }
}

/// How far the skirting keeps it from the wall beyond what the top reaches back, mm.
fn stand_off(design: &Design, site: &Site) -> f64 {
    (site.skirting.to_mm() - over_back(design)).max(0.0)
}

fn over_back(design: &Design) -> f64 {
    match &design.carcase.top {
        Top::Slab(slab) => slab.over_back.to_mm(),
        Top::Open => 0.0,
    }
}

/// A gap behind the top that the skirting makes.
fn off_the_wall(design: &Design, site: &Site) -> Option<Finding> {
    let gap = stand_off(design, site);
    let remedy = || Remedy {
        words: "Let the top reach back to the wall".to_owned(),
        changes: vec![("carcase.top.over_back".to_owned(), site.skirting.to_string())],
    };
    (gap > TOUCH).then(|| Finding {
        explains: Vec::new(),
        rule: Rule::FitsSite,
        seriousness: Seriousness::Note,
        parts: Vec::new(),
        joint: None,
        place: None,
        figures: vec![Figure::mm("gap at the wall", gap)],
        message: format!("The skirting keeps it {} mm from the wall", mm(gap)),
        source: "geometry",
        remedies: matches!(design.carcase.top, Top::Slab(_)).then(remedy).into_iter().collect(),
    })
}

/// What is glued together, and goes through doors as one.
struct Unit {
    parts: Vec<PartId>,
    name: String,
    /// Its sizes, the least first, mm.
    size: [f64; 3],
    /// Its width, height and depth as it stands, mm.
    upright: DVec3,
}

fn units(model: &Model) -> Vec<Unit> {
    let body = model.bodies(|joint| joint.glued);
    let mut numbers: Vec<usize> = body.clone();
    numbers.sort_unstable();
    numbers.dedup();
    numbers
        .into_iter()
        .filter_map(|number| {
            let parts: Vec<&Part> = model.parts.iter().filter(|part| body[part.id.0] == number).collect();
            let of = |pick: fn(DVec3, DVec3) -> DVec3, at: fn(&Block) -> DVec3| parts.iter().map(|part| at(&part.block())).reduce(pick);
            let size = of(DVec3::max, |block| block.max)? - of(DVec3::min, |block| block.min)?;
            let upright = size;
            let mut size = size.to_array();
            size.sort_by(f64::total_cmp);
            // What is glued together after the glue-up, such as standards and what stands between them, is no carcase.
            let is_carcase = parts.len() > 1 && parts.iter().any(|part| part.stage == BuildStage::GlueUp);
            let name = if is_carcase { "the carcase as glued".to_owned() } else { sentence::inside(&parts.first()?.title) };
            Some(Unit { parts: parts.iter().map(|part| part.id).collect(), name, size, upright })
        })
        .collect()
}

/// What must be passed, the least size first, mm: two sizes for an opening, a third where there is an end to it too. What is not known
/// of it has no end.
fn passage(passage: Passage) -> Option<Vec<f64>> {
    sizes(&[passage.width, passage.height])
}

fn cabin(site: &Site) -> Option<Vec<f64>> {
    sizes(&[site.lift.width, site.lift.depth, site.lift.height])
}

fn sizes(of: &[Length]) -> Option<Vec<f64>> {
    let mut sizes: Vec<f64> = of.iter().map(|length| length.to_mm()).map(|mm| if mm > 0.0 { mm } else { f64::INFINITY }).collect();
    sizes.sort_by(f64::total_cmp);
    sizes.first().is_some_and(|least| least.is_finite()).then_some(sizes)
}

/// Whether something goes through, turned as it likes: square to the opening, its least size through the least, and so on; else tilted.
fn carried(design: &Design, unit: &Unit, through: &str, opening: &[f64]) -> Option<Finding> {
    let over = unit.size.iter().zip(opening).map(|(size, clear)| size + 2.0 * HANDS - clear).fold(f64::NEG_INFINITY, f64::max);
    if over <= TOUCH {
        return None;
    }
    let tilted = match opening {
        [low, high] => goes_tilted([unit.size[0], unit.size[1]], [*low, *high]),
        // Into a lift nothing goes that is longer than from corner to corner, or thicker than its least size.
        _ => unit.size[0] <= opening[0] && unit.size[2] <= opening.iter().map(|mm| mm * mm).sum::<f64>().sqrt(),
    };
    let all: Vec<String> = unit.size.iter().rev().map(|size| mm(*size)).collect();
    let what = format!("The {through} on the way: {} of {}", unit.name, all.join(" × "));
    let (seriousness, message) = if tilted {
        let how = "does not go through square, too large by";
        (Seriousness::AtRisk, format!("{what} {how} {} mm with room for hands; try it tilted, or glue it up where it stands", mm(over)))
    } else {
        let how = "does not go through however it is turned, too large by";
        (Seriousness::WillFail, format!("{what} {how} {} mm with room for hands; glue it up where it stands", mm(over)))
    };
    let figures = vec![Figure::mm("too large by", over)];
    Some(on_the_way(unit, seriousness, figures, message, SOURCE, shallower(design, unit, opening)))
}

/// What is found of something on its way in.
fn on_the_way(
    unit: &Unit,
    seriousness: Seriousness,
    figures: Vec<Figure>,
    message: String,
    source: &'static str,
    remedy: Option<Remedy>,
) -> Finding {
    Finding {
        explains: Vec::new(),
        rule: Rule::Carried,
        seriousness,
        parts: unit.parts.clone(),
        joint: None,
        place: None,
        figures,
        message,
        source,
        remedies: remedy.into_iter().collect(),
    }
}

/// Whether a rectangle goes through another, turned at any angle; of both the lesser side comes first. (Carver, "Solution to problem E 1225",
/// American Mathematical Monthly 64 (1957): a rectangle p × q with p ≥ q goes into a × b with a ≥ b where p ≤ a and q ≤ b, or where p > a,
/// q ≤ b and b ≥ (2 p q a + (p² − q²) √(p² + q² − a²)) / (p² + q²).)
fn goes_tilted([q, p]: [f64; 2], [b, a]: [f64; 2]) -> bool {
    if q > b {
        return false;
    }
    if p <= a {
        return true;
    }
    let squares = p * p + q * q;
    b >= (2.0 * p * q * a + (p * p - q * q) * (squares - a * a).max(0.0).sqrt()) / squares
}

/// Less depth of the case, where that alone gets it through.
fn shallower(design: &Design, unit: &Unit, opening: &[f64]) -> Option<Remedy> {
    let by = unit.size[0] + 2.0 * HANDS - opening[0];
    let others = unit.size.iter().zip(opening).skip(1).all(|(size, clear)| size + 2.0 * HANDS <= clear + TOUCH);
    // What goes through by its depth becomes less when the case does.
    let by_depth = unit.parts.len() > 1 && (unit.upright.z - unit.size[0]).abs() < TOUCH;
    (by > TOUCH && others && by_depth).then(|| Remedy {
        words: format!("Give the case {} mm less depth", mm(by)),
        changes: vec![("carcase.depth".to_owned(), (design.carcase.depth.to_mm() - by).to_string())],
    })
}

/// What comes in lying, because the door is too low for it, and then does not go up under the ceiling: from corner to corner it is higher
/// than it is when it stands.
fn stood_up(design: &Design, unit: &Unit, door: Option<&[f64]>) -> Option<Finding> {
    let ceiling = Some(design.site.height.to_mm()).filter(|mm| *mm > 0.0)?;
    let (high, along) = (unit.upright.y, unit.upright.x.min(unit.upright.z));
    let corner = high.hypot(along);
    // It is set upright from its narrower side. What stands up in the door comes in upright.
    if corner <= ceiling + TOUCH || high > ceiling || high <= unit.upright.x.max(unit.upright.z) {
        return None;
    }
    let known = design.site.door.height.to_mm();
    let upright = known > 0.0 && high + HANDS <= known && door.is_some_and(|door| along + 2.0 * HANDS <= door[0].max(0.0));
    if upright {
        return None;
    }
    let seriousness = if known > 0.0 { Seriousness::WillFail } else { Seriousness::AtRisk };
    let comes_in = if known > 0.0 { "comes in lying and" } else { "if it comes in lying," };
    let lower = ((ceiling * ceiling - along * along).max(0.0).sqrt() - high).min(0.0);
    let by = -(lower - 1e-6).floor();
    let height = design.carcase.height.to_mm() - by;
    let figures = vec![Figure::mm("from corner to corner", corner), Figure::mm("too high by", corner - ceiling)];
    let message = format!(
        "{}, {} × {} mm, {comes_in} can't be stood up: from corner to corner it is {} mm, {} more than there is under the ceiling; glue it up where it stands",
        sentence::capital(&unit.name),
        mm(high),
        mm(along),
        mm(corner),
        mm(corner - ceiling)
    );
    let lower =
        Remedy { words: format!("Make the case {} mm lower", mm(by)), changes: vec![("carcase.height".to_owned(), height.to_string())] };
    Some(on_the_way(unit, seriousness, figures, message, "geometry", (unit.parts.len() > 1).then_some(lower)))
}

/// What does not come round the landing where the stairs turn, whichever side of it is up.
fn round_the_landing(site: &Site, unit: &Unit) -> Option<Finding> {
    let (flight, landing) = (site.stairs.width.to_mm(), site.landing.to_mm());
    if flight <= 0.0 || landing <= 0.0 {
        return None;
    }
    let headroom = Some(site.stairs.height.to_mm()).filter(|mm| *mm > 0.0).unwrap_or(f64::INFINITY);
    let [small, middle, large] = unit.size;
    // Whichever of its sizes is up, the other two have to come round.
    let ways = [(large, (small, middle)), (middle, (small, large)), (small, (middle, large))];
    let upright = ways.into_iter().filter(|(up, _)| up + HANDS <= headroom + TOUCH);
    // What is no wider than the one and no longer than the other need not be turned at all.
    let unturned = |one: f64, other: f64| (flight - 2.0 * HANDS - one).min(landing - 2.0 * HANDS - other);
    let room = |thick: f64, long: f64| {
        let turned = longest_round(flight, landing, thick + 2.0 * HANDS) - long;
        if unturned(thick, long).max(unturned(long, thick)) >= -TOUCH { turned.max(0.0) } else { turned }
    };
    let best = upright.map(|(_, (thick, long))| room(thick, long)).reduce(f64::max);
    let lacks = best.map_or(f64::INFINITY, |room| -room);
    (lacks > TOUCH && lacks.is_finite()).then(|| Finding {
        explains: Vec::new(),
        rule: Rule::Carried,
        seriousness: Seriousness::AtRisk,
        parts: unit.parts.clone(),
        joint: None,
        place: None,
        figures: vec![Figure::mm("too long by", lacks), Figure::mm("stairs", flight), Figure::mm("landing", landing)],
        message: format!(
            "The turn of the stairs: {} of {} × {} × {} mm does not come round a landing {} mm deep off a flight {} mm wide, too long by {} mm whichever side is up; try it tilted, or glue it up where it stands",
            unit.name,
            mm(large),
            mm(middle),
            mm(small),
            mm(landing),
            mm(flight),
            mm(lacks)
        ),
        source: "geometry: the longest rectangle round a corner, a ladder of some thickness; 10 mm free on either side is common practice, no source",
        remedies: Vec::new(),
    })
}

/// The longest rectangle `thick` mm thick that comes round the corner of two passages so wide, mm: while its ends lean on the outer walls its inner
/// side must not pass the inner corner, at the worst angle.
fn longest_round(one: f64, other: f64, thick: f64) -> f64 {
    // Over the angle its length is (one / cos + other / sin) − thick / (sin · cos); the least of that decides.
    let at = |angle: f64| one / angle.cos() + other / angle.sin() - thick / (angle.sin() * angle.cos());
    let steps = 900_u32;
    (1..steps).map(|step| at(f64::from(step) / f64::from(steps) * std::f64::consts::FRAC_PI_2)).fold(f64::INFINITY, f64::min).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn demo() -> Design {
        crate::design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo")
    }

    fn told(settings: &[(&str, &str)]) -> Vec<Finding> {
        let mut design = demo();
        for (path, value) in settings {
            crate::design::decisions::set(&mut design, path, value).unwrap_or_else(|error| panic!("{path}: {error}"));
        }
        let model = crate::derive(&design).expect("a case");
        check(&design, &model)
    }

    #[test]
    fn a_tall_case_that_comes_in_lying_must_go_up_under_the_ceiling() {
        let tall = [("carcase.height", "2380"), ("site.height", "2400"), ("site.door.width", "800"), ("site.door.height", "2000")];
        let found = told(&tall);
        // 2356 of carcase, 470 deep: √(2356² + 470²) = 2402.4.
        let case = found.iter().find(|finding| finding.parts.len() > 1 && finding.message.contains("stood up")).expect("told");
        assert_eq!(case.seriousness, Seriousness::WillFail);
        assert!(case.figures.iter().any(|figure| (figure.value - 2356.0_f64.hypot(470.0)).abs() < 1e-6), "{:?}", case.figures);
        let remedy = case.remedies.first().expect("a lower case");
        let mended: Vec<(&str, &str)> =
            tall.iter().copied().chain(remedy.changes.iter().map(|(path, value)| (path.as_str(), value.as_str()))).collect();
        assert!(told(&mended).iter().all(|finding| !finding.message.contains("stood up")), "{}", remedy.words);
        // Through a door that it stands up in it need not be tilted.
        let high_door = [tall[0], tall[1], ("site.door.width", "800"), ("site.door.height", "2399")];
        assert!(told(&high_door).iter().all(|finding| !finding.message.contains("stood up")));
        // Where the door is not known it is a risk.
        let found = told(&tall[..2]);
        assert!(found.iter().any(|finding| finding.seriousness == Seriousness::AtRisk && finding.message.contains("stood up")));
    }

    #[test]
    fn what_is_thicker_than_the_door_is_wide_goes_through_in_no_way() {
        let found = told(&[("site.door.width", "469"), ("site.door.height", "2000")]);
        let case = found.iter().find(|finding| finding.parts.len() > 1).expect("the carcase");
        assert_eq!(case.seriousness, Seriousness::WillFail, "{}", case.message);
        assert!(case.remedies.iter().any(|remedy| remedy.words.contains("less depth")), "{:?}", case.remedies);
        // One size of an opening is judged too, whatever the others are.
        assert!(told(&[("site.door.width", "469")]).iter().any(|finding| finding.parts.len() > 1));
        assert!(told(&[("site.lift.width", "469"), ("site.lift.depth", "1000")]).iter().any(|finding| finding.parts.len() > 1));
        assert!(told(&[("site.door.width", "800"), ("site.door.height", "2000")]).iter().all(|finding| finding.parts.len() == 1));
    }

    /// A ladder problem done by hand: a strip 1 wide goes into a square of 10 from corner to corner where it is no longer than 10 √2 − 1.
    #[test]
    fn a_rectangle_goes_through_tilted_as_far_as_the_corners_let_it() {
        let most = 10.0 * std::f64::consts::SQRT_2 - 1.0;
        assert!(goes_tilted([1.0, most - 1e-9], [10.0, 10.0]) && !goes_tilted([1.0, most + 1e-6], [10.0, 10.0]));
        assert!(goes_tilted([9.0, 10.0], [9.0, 10.0]) && !goes_tilted([9.1, 9.5], [9.0, 100.0]));
    }

    /// A ladder round a corner (a textbook problem of the calculus): through passages of 8 and 27 feet the longest is (8^⅔ + 27^⅔)^(3/2) = 13^(3/2) = 46.87.
    #[test]
    fn the_longest_ladder_round_a_corner() {
        let long = longest_round(8.0, 27.0, 0.0);
        assert!((long - 13.0_f64.powf(1.5)).abs() < 1e-3, "{long}");
        // Of equal passages of 1 at 45°: 2√2 for a line, less twice its thickness (geometry).
        assert!((longest_round(1.0, 1.0, 0.2) - (8.0_f64.sqrt() - 0.4)).abs() < 1e-4);
    }

    /// What goes into both passages as it is carried comes round unturned, however little could be turned there.
    #[test]
    fn what_need_not_be_turned_comes_round() {
        let landing = |mm: &str| {
            let found = told(&[("site.stairs.width", "1400"), ("site.stairs.height", "2200"), ("site.landing", mm)]);
            found.iter().filter(|finding| finding.figures.iter().any(|figure| figure.name == "landing")).count()
        };
        // The carcase of the demo is 1360 wide and 470 deep.
        assert_eq!((landing("600"), landing("300")), (0, 1));
    }
}
