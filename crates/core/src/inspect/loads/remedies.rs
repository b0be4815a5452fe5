//! What mends a sag or a stress: thicker, more of them, stiffer timber; a shorter span and fewer kilograms can only be told.

use super::super::Remedy;
use super::super::proof::Proof;
use super::{Alike, Pressed, Way, past_its_labels, pressed, room_kg, sagging};
use crate::design::{Design, PinOf, decisions};
use crate::length::{trimmed, trimmed_to};
use crate::loads::{Bending, Spans, UnderLoad};
use crate::model::{BuildStage, Material, Model, Part, PartKind};

/// Whether changes of the design mend what is to be mended.
type Mended<'m> = dyn Fn(&[(String, String)]) -> bool + 'm;

/// Whether something holds of the case after changes of what neither its contents nor its limits rest on; not where they give no case.
fn after(proof: &Proof<'_>, design: &Design, changes: &[(String, String)], holds: impl Fn(&Model, &UnderLoad) -> bool) -> bool {
    proof.tried(changes).is_some_and(|tried| holds(&tried.model, &UnderLoad::of(design, &tried.model)))
}

/// A whole millimetre more is tried so many times where sums alone do not do: what is thicker weighs more and leaves less room.
const TRIES: u32 = 3;

/// Then so many times a tenth more: what goes down together with another part gains less by its own size.
const TENTHS: u32 = 8;

pub(super) fn of_sag(
    proof: &Proof<'_>,
    design: &Design,
    model: &Model,
    under: &UnderLoad,
    (alike, worst): (&Alike, &Bending),
) -> Vec<Remedy> {
    let part = model.part(worst.part);
    let kind = part.kind;
    let same = |other: &Alike| (other.kind, other.depth) == (kind, alike.depth);
    let mended = |changes: &[(String, String)]| {
        after(proof, design, changes, |model, under| {
            let sags = sagging(model, under).iter().any(|(other, _)| same(other));
            !sags && (worst.room.is_some() || past_its_labels(design, model, under).is_none())
        })
    };
    let mut remedies = Vec::new();
    if let Some((path, what)) = depth_of(model, part) {
        // A depth counts by its third power.
        let factor = (worst.share() * design.limits.sag.working_after_creep).cbrt();
        remedies.extend(larger(design, path, what, factor, &mended));
    }
    if kind == PartKind::Slat {
        remedies.extend(another_slat(proof, design, &mended));
    }
    if matches!(kind, PartKind::Slat | PartKind::Shelf) {
        remedies.extend(stiffer(model, part, worst.share() * design.limits.sag.seen, &mended));
    }
    if worst.on_points() {
        remedies.extend(on_cleats(proof, design, model, worst));
    }
    if worst.is_board(model) {
        remedies.extend(told(design, model, under, worst));
    }
    remedies
}

pub(super) fn of_stress(proof: &Proof<'_>, design: &Design, model: &Model, worst: &Pressed) -> Vec<Remedy> {
    let part = model.part(worst.part);
    let (kind, way) = (part.kind, worst.way);
    // What mends it stresses nothing else too hard that was not.
    let groups = |model: &Model, under: &UnderLoad| -> Vec<(PartKind, Way)> {
        pressed(model, under).iter().filter_map(|group| group.first()).map(|it| (model.part(it.part).kind, it.way)).collect()
    };
    let before = groups(model, &UnderLoad::of(design, model));
    let gone = |changes: &[(String, String)]| {
        let fine = |group: &(PartKind, Way)| *group != (kind, way) && before.contains(group);
        after(proof, design, changes, |model, under| groups(model, under).iter().all(fine))
    };
    let share = worst.stress.share().unwrap_or(1.0);
    let candidates: Vec<(&str, &str, f64)> = match (way, kind) {
        (Way::Bending, _) => depth_of(model, part).into_iter().map(|(path, what)| (path, what, share.sqrt())).collect(),
        // How a solid shelf is held is told by what it lies on.
        (Way::ShearAtRest | Way::Bearing, PartKind::Shelf) => {
            vec![("pins.diameter", "the pins", share), ("pins.reach", "the pins", share), ("housed.depth", "the housings", share)]
        }
        (Way::PinShears, _) => vec![("pins.diameter", "the pins", share.sqrt())],
        (Way::PinBends, _) => vec![("pins.diameter", "the pins", share.cbrt())],
        (Way::PinPrises, _) => vec![("pins.diameter", "the pins", share), ("pins.depth", "the pins", share.sqrt())],
        (Way::Shear, _) | (Way::ShearAtRest, PartKind::Slat) => {
            depth_of(model, part).into_iter().map(|(path, what)| (path, what, share)).collect()
        }
        (Way::Tooth, _) => vec![("sawtooth.pitch", "the pitch of the teeth", share), ("sawtooth.thickness", "the standards", share)],
        // Of a cleat that is glued or screwed.
        (Way::ShearAtRest, _) => vec![("cleats.height", "the cleats", share)],
        (Way::ByScrews | Way::Screws, _) => Vec::new(),
        (Way::Bearing, _) => vec![("sawtooth.seat", "the seats", share), ("sawtooth.cleat.thickness", "the cleats", share)],
    };
    let larger = candidates.into_iter().filter_map(|(path, what, factor)| larger(design, path, what, factor, &gone));
    otherwise(design, way).into_iter().filter(|remedy| gone(&remedy.changes)).chain(larger).collect()
}

/// What mends a stress besides a larger size: another stuff, another way of holding, a shorter lever.
fn otherwise(design: &Design, way: Way) -> Vec<Remedy> {
    let one = |words: &str, path: &str, value: String| Remedy { words: words.to_owned(), changes: vec![(path.to_owned(), value)] };
    match way {
        Way::PinShears | Way::PinBends | Way::PinPrises => {
            let pins = &design.pins;
            let steel = (pins.of == PinOf::Wood).then(|| one("Take pins of steel", "pins.of", "steel".to_owned()));
            let reach = (pins.reach.to_mm() / 2.0).round();
            let shorter = (way != Way::PinShears && reach >= 5.0)
                .then(|| one(&format!("Let the pins stand out {} mm", trimmed(reach)), "pins.reach", reach.to_string()));
            steel.into_iter().chain(shorter).collect()
        }
        Way::ByScrews | Way::Screws => vec![one("Glue the cleats to the uprights", "cleats.by", "glue".to_owned())],
        Way::Bending | Way::Shear | Way::Bearing | Way::ShearAtRest | Way::Tooth => Vec::new(),
    }
}

/// The decision by which a part is as deep as it bends, and what it is the depth of.
pub(crate) fn depth_of(model: &Model, part: &Part) -> Option<(&'static str, &'static str)> {
    match part.kind {
        PartKind::Slat => Some(("sawtooth.slats.thickness", "the slats")),
        PartKind::Shelf => Some(("shelf.thickness", "the shelves")),
        PartKind::Cleat if part.stage == BuildStage::AfterGlueUp => Some(("cleats.height", "the cleats")),
        PartKind::Cleat => Some(("sawtooth.cleat.height", "the cleats")),
        PartKind::Top => Some(("carcase.top.thickness", "the top")),
        PartKind::Rail if part.name.contains(".middle.") => Some(("carcase.rails.middle", "the middle rails")),
        PartKind::Rail => {
            let middle = model.bounds?.centre().y;
            let low = part.block().centre().y < middle;
            Some(if low { ("carcase.rails.bottom", "the bottom rails") } else { ("carcase.rails.top", "the top rails") })
        }
        PartKind::CrossRail => Some(("interior.divider.cross_rail", "the cross rails")),
        _ => None,
    }
}

/// A size made larger by a factor, to the next whole millimetre at which all is mended.
fn larger(design: &Design, path: &str, what: &str, factor: f64, mended: &Mended<'_>) -> Option<Remedy> {
    let now = decisions::value(design, path)?.number()?;
    let first = (now * factor).ceil().max((now + 0.5).floor() + 1.0);
    let changes = |size: f64| vec![(path.to_owned(), size.to_string())];
    let does = |size: &f64| mended(&changes(*size));
    let size = (0..TRIES).map(|more| first + f64::from(more)).find(does).or_else(|| {
        let tenths = |more: u32| (first * (1.0 + f64::from(more) / 10.0)).ceil();
        let more = (1..=TENTHS).find(|more| does(&tenths(*more)))?;
        // The least of the last tenth.
        let (mut low, mut high) = (tenths(more - 1), tenths(more));
        while high - low > 1.0 {
            let middle = low.midpoint(high).floor();
            if does(&middle) { high = middle } else { low = middle }
        }
        Some(high)
    })?;
    let words = match path {
        "pins.reach" => format!("Let {what} stand out {} mm", trimmed(size)),
        "pins.depth" => format!("Bore the holes of the pins {} mm deep", trimmed(size)),
        "sawtooth.pitch" | "sawtooth.seat" | "housed.depth" => format!("Make {what} {} mm", trimmed(size)),
        path if path.contains("rail") || path.ends_with("height") => format!("Make {what} {} mm high", trimmed(size)),
        _ => format!("Make {what} {} mm thick", trimmed(size)),
    };
    Some(Remedy { words, changes: changes(size) })
}

fn another_slat(proof: &Proof<'_>, design: &Design, mended: &Mended<'_>) -> Option<Remedy> {
    let slats = &design.sawtooth.slats;
    let count = slats.count + 1;
    let changes = vec![("sawtooth.slats.count".to_owned(), count.to_string())];
    // They must still lie side by side.
    let fit = |model: &Model, under: &UnderLoad| {
        under.shelves(model).iter().all(|shelf| {
            let room = model.rooms[shelf.room].space.size().z;
            room >= f64::from(count) * slats.width.to_mm() + slats.play.to_mm()
        })
    };
    let fit = after(proof, design, &changes, fit);
    (fit && mended(&changes)).then(|| Remedy { words: format!("Lay {count} slats a shelf"), changes })
}

/// Cleats along the sides in the place of pins: they hold a shelf all along its ends, where between a back pin and a front pin it hangs through across
/// its grain.
fn on_cleats(proof: &Proof<'_>, design: &Design, model: &Model, worst: &Bending) -> Option<Remedy> {
    let room = model.rooms.get(worst.room?)?;
    let changes = vec![(format!("interior.bays.{}.opening.system", room.bay + 1), "cleats".to_owned())];
    // Where the bay itself is divided its shelves are decided further in.
    decisions::value(design, &changes[0].0)?;
    let holds = |model: &Model, under: &UnderLoad| {
        !sagging(model, under)
            .iter()
            .any(|(_, found)| found.iter().any(|it| it.room.and_then(|it| model.rooms.get(it)).is_some_and(|it| it.bay == room.bay)))
    };
    let words = format!("Let the shelves of bay {} lie on cleats, which hold them all along their ends", room.bay + 1);
    after(proof, design, &changes, holds).then_some(Remedy { words, changes })
}

/// The least stiff species that does: stiffer by so much than the one it is of.
fn stiffer(model: &Model, part: &Part, factor: f64, mended: &Mended<'_>) -> Option<Remedy> {
    let Material::Solid(id) = &part.material else { return None };
    let now = model.timbers.species(id)?.moe.as_ref()?.value;
    let known = model.timbers.all_species().filter_map(|species| Some((species.moe.as_ref()?.value, species)));
    let mut stiff: Vec<_> = known.filter(|(modulus, species)| *modulus >= now * factor && species.density.is_some()).collect();
    stiff.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.id.cmp(&b.1.id)));
    stiff.into_iter().take(TRIES as usize).find_map(|(_, species)| {
        let changes = vec![("timber.shelving".to_owned(), species.id.clone())];
        mended(&changes).then(|| Remedy { words: format!("Make the shelving of {}", species.name), changes })
    })
}

/// What can only be told: a shorter span, and how much the shelf bears as it is.
fn told(design: &Design, model: &Model, under: &UnderLoad, worst: &Bending) -> Vec<Remedy> {
    let mut told = Vec::new();
    let Some(room) = worst.room.and_then(|room| model.rooms.get(room)) else { return told };
    // From front to back a divider shortens nothing.
    if matches!(model.part(worst.part).kind, PartKind::Slat | PartKind::Shelf) && worst.spans == Spans::SideToSide {
        told.push(Remedy {
            words: format!("Divide bay {}: at half the span it sags a sixteenth for each kilogram a metre", room.bay + 1),
            changes: Vec::new(),
        });
    }
    if model.part(worst.part).kind == PartKind::Floor {
        let thick = model.part(worst.part).size[2].mm * (worst.share() * design.limits.sag.seen).cbrt();
        told.push(Remedy {
            words: format!("Lay a floor of the same sheet, {} mm thick or more", trimmed_to(thick.ceil(), 0)),
            changes: Vec::new(),
        });
    }
    if let Some(kg) = room_kg(under, worst) {
        let own = worst.own_share();
        let limit = 1.0 / design.limits.sag.seen;
        let bears = (kg * (limit / worst.share() - own) / (1.0 - own)).floor();
        if bears >= 1.0 {
            told.push(Remedy { words: format!("Put no more than {} kg on {}", trimmed_to(bears, 0), room.name), changes: Vec::new() });
        }
    }
    told
}
