//! The cut list: equal parts together, finished and rough sizes.

use crate::design::shop::State;
use crate::design::{Design, Dimension, Facing, Facings, Veneered};
use crate::length::trimmed;
use crate::model::{BuildStage, Feature, Material, Model, Part, PartId, PartKind};
use crate::neighbours;
use crate::origin::Size;
use crate::rough::{Blanks, Roughed, beyond};

/// Equal parts of a case, a row a mark.
#[derive(Clone, Debug, PartialEq)]
pub struct CutList {
    /// The rows, in the order of a maker's list: carcase first, loose tenons last.
    pub rows: Vec<Row>,
}

/// Parts of one mark.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// The mark they share.
    pub mark: String,
    /// What they are.
    pub kind: PartKind,
    /// The title of the first.
    pub title: String,
    /// The parts.
    pub parts: Vec<PartId>,
    /// Finished length, width and thickness, mm.
    pub finished: [f64; 3],
    /// What is sawn of a sheet, mm: less the lippings and veneer that are glued onto it; of all else as finished.
    pub sawn: [f64; 3],
    /// How many lippings of this row each of its sheets has, where it is one of lippings: `parts` are then the sheets, each so many times.
    pub lippings: usize,
    /// How many others each of its sheets has before those: of the lippings across it those along it.
    pub lippings_before: usize,
    /// How what it comes out of is roughed out, a part by itself or several in one length; none for sheet goods, which are cut to size at once, and for what is bought.
    pub rough: Option<Roughed>,
    /// How many of its parts come out of each of these, the most first: one each, but where the machines take none so short.
    pub shares: Vec<usize>,
    /// Which way its grain runs: "along the length", "none".
    pub grain: &'static str,
    /// Where its face side looks in the case: "to the front"; several ways where its parts differ.
    pub face_side: String,
    /// Where its face edge looks.
    pub face_edge: String,
    /// The marks of other solid parts that are as long, and so are crosscut at the same stop: "R2, R3"; empty where there are none.
    pub at_one_stop: String,
    /// Which of its parts are made together: "4 side by side", "3 and 2 in one length"; empty where each is made by itself.
    pub together: String,
    /// Where the machines of the shop can't take it, and what is done then; and what is cut together.
    pub notes: Vec<String>,
    /// What they are made of.
    pub material: Material,
    /// What that is called.
    pub made_of: String,
    /// When they go in.
    pub stage: BuildStage,
    /// What is cut into one of them, by name and number: "2 mortises, groove, stopped".
    pub cuts: String,
    /// How far they are made: "cut", or "1 cut, 3 planned"; empty while nothing is recorded of any part of the case.
    pub state: String,
    /// Which of the finished sizes were measured, with the measure: "length 1252"; empty where none was.
    pub measured: String,
}

impl Row {
    /// How many pieces are sawn for all its parts.
    pub fn blanks(&self) -> usize {
        self.shares.len()
    }

    /// What all its parts take of sawn timber, m³; none where it is not known what boards, or it is no solid timber.
    pub fn rough_volume(&self) -> Option<f64> {
        self.rough.and_then(|rough| rough.volume()).map(|volume| volume * self.blanks() as f64)
    }

    /// Rough length and width, mm; those as sawn of what is cut to size at once, or bought.
    pub fn rough_size(&self) -> [f64; 2] {
        self.rough.map_or([self.sawn[0], self.sawn[1]], |rough| [rough.length, rough.width])
    }
}

impl CutList {
    /// The cut list of a model of a design.
    pub fn of(design: &Design, model: &Model) -> CutList {
        let mut rows: Vec<Row> = Vec::new();
        for part in &model.parts {
            if let Some(row) = rows.iter_mut().find(|row| row.mark == part.mark) {
                row.parts.push(part.id);
                continue;
            }
            let finished = part.lwt().to_array();
            let facing = facing(design, part);
            rows.push(Row {
                sawn: facing.sawn(finished, &design.money.make_up),
                lippings: 0,
                lippings_before: 0,
                mark: part.mark.clone(),
                kind: part.kind,
                title: part.title.clone(),
                parts: vec![part.id],
                finished,
                rough: None,
                shares: Vec::new(),
                grain: if facing.veneer == Veneered::No { model.timbers.grain(&part.material) } else { FACE_GRAIN },
                face_side: String::new(),
                face_edge: String::new(),
                at_one_stop: String::new(),
                together: String::new(),
                notes: Vec::new(),
                material: part.material.clone(),
                made_of: model.timbers.name(&part.material).to_owned(),
                stage: part.stage,
                cuts: cuts(part.cuts.iter().map(|cut| cut.feature.name())),
                state: String::new(),
                measured: String::new(),
            });
        }
        rows.sort_by_key(|row| row.kind);
        let with_lippings = |row: Row| {
            let more = lippings(design, model, &row);
            std::iter::once(row).chain(more)
        };
        let mut rows: Vec<Row> = rows.into_iter().flat_map(with_lippings).collect();
        let (machines, kerfs) = (&design.shop.machines, design.timber.kerfs(false));
        let side_by_side = neighbours::rows(design, model);
        for row in &mut rows {
            row.shares = vec![1; row.parts.len()];
            if matches!(row.material, Material::Solid(_)) {
                let blanks = Blanks::of(&design.timber.rough, machines, row.finished, row.parts.len(), kerfs.crosscut);
                row.notes = beyond(machines, &blanks, [row.finished[1], row.finished[2]]);
                row.together = blanks.words().unwrap_or_default();
                (row.rough, row.shares) = (Some(blanks.rough), blanks.shares);
            }
            row.notes.extend(faced(design, model, row));
            row.notes.extend(in_sequence(design, model, row, &side_by_side));
            row.face_side = looks(model, &row.parts, Part::face_side_looks);
            row.face_edge = looks(model, &row.parts, Part::face_edge_looks);
            if let Some((words, note)) = ganged(model, row, kerfs.rip) {
                row.together = words;
                row.notes.push(note);
            }
        }
        at_one_stop(&mut rows);
        if model.parts.iter().any(|part| part.state != State::Planned || part.size.iter().any(Size::is_measured)) {
            for row in &mut rows {
                row.state = states(model, &row.parts);
                row.measured = measured(model, &row.parts);
            }
        }
        CutList { rows }
    }

    /// How many parts there are in all; lippings are part of their sheets.
    pub fn count(&self) -> usize {
        self.rows.iter().filter(|row| row.lippings == 0).map(|row| row.parts.len()).sum()
    }
}

/// What a sheet shows that is veneered here.
const FACE_GRAIN: &str = "face grain along the length";
/// A lipping is so much wider than its sheet is thick, and planed flush, mm (common practice, no source).
const OVER: f64 = 2.0;

/// What is glued onto a part in the shop: onto sheets alone.
pub(crate) fn facing(design: &Design, part: &Part) -> Facing {
    let Facings { panel, floor } = design.timber.facing;
    let of_kind = match part.kind {
        PartKind::Panel => panel,
        PartKind::Floor => floor,
        PartKind::Post
        | PartKind::Stile
        | PartKind::Top
        | PartKind::Slat
        | PartKind::Shelf
        | PartKind::Own
        | PartKind::Rail
        | PartKind::Muntin
        | PartKind::CrossRail
        | PartKind::Bearer
        | PartKind::Standard
        | PartKind::Cleat
        | PartKind::Pin
        | PartKind::Spacer
        | PartKind::Button
        | PartKind::LooseTenon
        | PartKind::Dowel
        | PartKind::Clip
        | PartKind::Plate
        | PartKind::Strip
        | PartKind::Shim => Facing::default(),
    };
    match part.material {
        Material::Sheet(_) => of_kind,
        Material::Solid(_) | Material::Bought(_) => Facing::default(),
    }
}

/// The lippings of the sheets of a row: those along their length, and those across it.
fn lippings(design: &Design, model: &Model, row: &Row) -> Vec<Row> {
    let Some(first) = row.parts.first().filter(|_| row.lippings == 0) else { return Vec::new() };
    let facing = facing(design, model.part(*first));
    let [along, across] = facing.lippings();
    let thickness = facing.lipping.to_mm();
    let species = Material::Solid(design.timber.frame.clone());
    // Those across lie between those along.
    let of = |(suffix, where_, length, count, before): (&str, &str, f64, usize, usize)| {
        // They are planed flush before veneer goes over them.
        let finished = [length, thickness, row.sawn[2] + OVER];
        (count > 0).then(|| Row {
            mark: format!("{}{suffix}", row.mark),
            title: format!("{}, lipping {where_}", row.title),
            parts: row.parts.iter().flat_map(|part| std::iter::repeat_n(*part, count)).collect(),
            finished,
            sawn: finished,
            lippings: count,
            lippings_before: before,
            grain: model.timbers.grain(&species),
            made_of: model.timbers.name(&species).to_owned(),
            material: species.clone(),
            cuts: String::new(),
            ..row.clone()
        })
    };
    [("L", "along", row.finished[0], along, 0), ("X", "across", row.sawn[1], across, along)].into_iter().filter_map(of).collect()
}

/// What is done to a row that is glued up from a sheet and what is on it.
fn faced(design: &Design, model: &Model, row: &Row) -> Vec<String> {
    let Some(part) = row.parts.first().map(|part| model.part(*part)) else { return Vec::new() };
    if row.lippings > 0 {
        return vec![format!(
            "{} on each {}, {} wider than the sheet is thick: plane them flush once they are glued on{}",
            row.lippings,
            part.title,
            trimmed(OVER),
            if facing(design, part).veneer == Veneered::No { "" } else { ", before it is veneered" }
        )];
    }
    let facing = facing(design, part);
    let mut told = Vec::new();
    let size = row.sawn.map(trimmed);
    if facing.veneer != Veneered::No {
        told.push(format!("saw the sheet {} thick and veneer both faces at once, so that it stays flat: the face, and a balancing sheet as thick on the other", size[2]));
    }
    if facing.lippings() != [0, 0] {
        let lipping = trimmed(facing.lipping.to_mm());
        told.push(if facing.within {
            format!("saw the sheet {} × {}; its lippings of {lipping} make up the rest", size[0], size[1])
        } else {
            format!("its lippings of {lipping} come besides its size")
        });
    }
    told
}

/// How the figure goes on from each face to the next: of those that stand side by side in the order in which they stand, and of the others that are veneered here leaf after leaf.
fn in_sequence(design: &Design, model: &Model, row: &Row, side_by_side: &[Vec<PartId>]) -> Vec<String> {
    let Some(first) = row.parts.first().filter(|_| row.lippings == 0).map(|part| model.part(*part)) else { return Vec::new() };
    let veneered = match facing(design, first).veneer {
        Veneered::No => false,
        Veneered::Bought | Veneered::Sawn => true,
    };
    let from = |count: usize| {
        if veneered {
            format!("number the leaves of the faces as they come off the bundle, and take {count} that follow each other, same end up")
        } else {
            format!("cut {count} beside each other from one sheet where it can be")
        }
    };
    let mut told: Vec<String> = Vec::new();
    let own = |standing: &&Vec<PartId>| standing.iter().any(|part| row.parts.contains(part));
    for standing in side_by_side.iter().filter(own) {
        let marks: Vec<&str> = standing.iter().map(|part| model.part(*part).mark.as_str()).collect();
        let alike = marks.chunk_by(|a, b| a == b).map(|alike| match alike {
            [one] => (*one).to_owned(),
            several => format!("{} × {}", several.len(), several.first().copied().unwrap_or_default()),
        });
        let order = alike.collect::<Vec<_>>().join(", ");
        let words =
            format!("{}: from left to right {order}, numbered so on the board plans, so that the figure goes on", from(standing.len()));
        if !told.contains(&words) {
            told.push(words);
        }
    }
    let others = row.parts.iter().filter(|part| !side_by_side.iter().flatten().any(|other| other == *part)).count();
    if veneered && others > 1 {
        told.push(format!("{}, for those that stand one above the other", from(others)));
    }
    told
}

/// "to the front", or "to the left, to the right" where parts differ.
fn looks(model: &Model, parts: &[PartId], way: fn(&Part) -> &'static str) -> String {
    let mut ways: Vec<&str> = Vec::new();
    for part in parts {
        let words = way(model.part(*part));
        if !ways.contains(&words) {
            ways.push(words);
        }
    }
    ways.join(", ")
}

/// Lengths that differ by less are set at one stop, mm.
const ONE_STOP: f64 = 0.05;

/// Finds the marks that are as long as others.
fn at_one_stop(rows: &mut [Row]) {
    let lengths: Vec<(String, f64, bool)> = rows.iter().map(|row| (row.mark.clone(), row.finished[0], row.rough.is_some())).collect();
    for row in rows.iter_mut().filter(|row| row.rough.is_some()) {
        let same =
            |(mark, length, solid): &&(String, f64, bool)| *solid && *mark != row.mark && (length - row.finished[0]).abs() < ONE_STOP;
        row.at_one_stop = lengths.iter().filter(same).map(|(mark, ..)| mark.as_str()).collect::<Vec<_>>().join(", ");
    }
}

/// So many standards are clamped side by side (common practice, no source).
const GANGED: usize = 4;

/// How strips whose teeth must be alike are cut together, in a few words and in a sentence: sloped teeth right across several that are clamped side by side; half rounds in pairs,
/// bored on the line between two, for what is ripped out of one strip afterwards loses half a saw cut of each seat.
fn ganged(model: &Model, row: &Row, kerf: f64) -> Option<(String, String)> {
    let part = model.part(*row.parts.first()?);
    let together = row.parts.len().min(GANGED);
    let [_, width, thickness] = row.finished;
    part.cuts.iter().find_map(|cut| match cut.feature {
        Feature::Teeth { .. } if together > 1 => Some((
            format!("{together} side by side"),
            format!(
                "Clamp {together} side by side, ends flush, {} together: saw the teeth across all of them at one setting",
                trimmed(together as f64 * thickness)
            ),
        )),
        Feature::HalfRounds { radius, pitch, .. } if together > 1 => Some((
            "2 edge to edge".to_owned(),
            format!(
                "In pairs, edge to edge, {} wide: bore {} every {} on the line between the two; ripped out of one strip of double width afterwards, each seat is \
                 {} shallower",
                trimmed(2.0 * width),
                trimmed(2.0 * radius),
                trimmed(pitch),
                trimmed(kerf / 2.0)
            ),
        )),
        _ => None,
    })
}

/// "cut", or "1 cut, 3 planned".
fn states(model: &Model, parts: &[PartId]) -> String {
    let count = |state: State| parts.iter().filter(|part| model.part(**part).state == state).count();
    let there: Vec<_> = State::ALL.into_iter().rev().map(|state| (count(state), state.word())).filter(|(count, _)| *count > 0).collect();
    match there.as_slice() {
        [(_, word)] => (*word).to_owned(),
        several => several.iter().map(|(count, word)| format!("{count} {word}")).collect::<Vec<_>>().join(", "),
    }
}

/// "length 1252, thickness 23.6".
fn measured(model: &Model, parts: &[PartId]) -> String {
    let of = |of: Dimension| parts.iter().map(|part| &model.part(*part).size[of.index()]).find(|size| size.is_measured());
    let words = Dimension::ALL.into_iter().filter_map(|dimension| Some(format!("{} {}", dimension.word(), trimmed(of(dimension)?.mm))));
    words.collect::<Vec<_>>().join(", ")
}

/// "2 × mortise, groove, stopped".
fn cuts<'n>(names: impl Iterator<Item = &'n str>) -> String {
    let mut counted: Vec<(&str, u32)> = Vec::new();
    for name in names {
        match counted.iter_mut().find(|(known, _)| *known == name) {
            Some((_, count)) => *count += 1,
            None => counted.push((name, 1)),
        }
    }
    let words: Vec<_> =
        counted.into_iter().map(|(name, count)| if count == 1 { name.to_owned() } else { format!("{count} × {name}") }).collect();
    words.join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: the floor with a lipping of 8 on its front edge is sawn 8 narrower, and each floor has one strip as long as it is, 8 thick and 2 wider than the sheet is thick; all round it is sawn
    /// 16 smaller both ways, with two strips between the others. Counted besides it is sawn as drawn. Veneer of 0.6 on both faces asks for a sheet 1.2 thinner.
    #[test]
    fn lippings_and_veneer_come_off_the_sheet() {
        let mut design: Design = crate::design::text::read(include_str!("../../../examples/records_cabinet.ron")).expect("the demo");
        let listed = |design: &Design| CutList::of(design, &crate::derive(design).expect("the demo")).rows;
        let floors = |rows: &[Row]| rows.iter().filter(|row| row.kind == PartKind::Floor && row.lippings == 0).cloned().collect::<Vec<_>>();
        let plain = listed(&design);
        design.timber.facing.floor.lipping = crate::Length::mm(8.0);
        let rows = listed(&design);
        for (floor, was) in floors(&rows).iter().zip(floors(&plain)) {
            assert!((0..3).all(|of| (floor.finished[of] - was.finished[of]).abs() < 1e-9), "{floor:?}");
            assert!((was.sawn[1] - floor.sawn[1] - 8.0).abs() < 1e-9 && (was.sawn[0] - floor.sawn[0]).abs() < 1e-9, "{floor:?}");
            let strip = rows.iter().find(|row| row.mark == format!("{}L", floor.mark)).expect("its lippings");
            assert_eq!((strip.parts.len(), strip.lippings), (floor.parts.len(), 1));
            let [length, width, thickness] = strip.finished;
            assert!(
                (length - floor.finished[0]).abs() < 1e-9
                    && (width - 8.0).abs() < 1e-9
                    && (thickness - floor.finished[2] - 2.0).abs() < 1e-9
            );
            assert!(matches!(strip.material, Material::Solid(_)) && strip.rough.is_some());
        }
        design.timber.facing.floor.edges = crate::design::Lipped::AllRound;
        let rows = listed(&design);
        let (floor, was) = (&floors(&rows)[0], &floors(&plain)[0]);
        assert!((0..2).all(|way| (was.sawn[way] - floor.sawn[way] - 16.0).abs() < 1e-9), "{floor:?}");
        let across = rows.iter().find(|row| row.mark == format!("{}X", floor.mark)).expect("its lippings");
        assert!((across.finished[0] - floor.sawn[1]).abs() < 1e-9 && across.parts.len() == 2 * floor.parts.len(), "{across:?}");
        design.timber.facing.floor.within = false;
        let besides = floors(&listed(&design))[0].sawn;
        assert!((0..3).all(|of| (besides[of] - was.sawn[of]).abs() < 1e-9), "{besides:?}");
        // Lippings are planed flush with the sheet before veneer goes over them: 18.4 less twice 0.6, and 2 over.
        design.timber.facing.floor.veneer = Veneered::Bought;
        let rows = listed(&design);
        let strip = rows.iter().find(|row| row.lippings > 0).expect("a lipping");
        assert!((strip.finished[2] - (was.finished[2] - 1.2 + 2.0)).abs() < 1e-9, "{strip:?}");
        design.timber.facing.panel.veneer = Veneered::Bought;
        let panel = listed(&design).into_iter().find(|row| row.kind == PartKind::Panel).expect("a panel");
        assert!(
            (panel.finished[2] - panel.sawn[2] - 1.2).abs() < 1e-9 && panel.notes.iter().any(|note| note.contains("balancing sheet")),
            "{panel:?}"
        );
    }

    /// By hand: the front rail of the demo shows its face side to the front; the top and bottom rail of the front are as long, and so are crosscut at one stop; the
    /// panels of veneered MDF keep their grain, and of bare MDF have none.
    #[test]
    fn rows_tell_faces_stops_and_grain() {
        let mut design: Design = crate::design::text::read(include_str!("../../../examples/records_cabinet.ron")).expect("the demo");
        let listed = |design: &Design| CutList::of(design, &crate::derive(design).expect("the demo"));
        let list = listed(&design);
        let row = |list: &CutList, title: &str| list.rows.iter().find(|row| row.title == title).expect("a row").clone();
        let bottom = row(&list, "Front rail, bottom");
        assert_eq!(bottom.face_side, "to the front");
        assert!(!bottom.at_one_stop.is_empty());
        for mark in bottom.at_one_stop.split(", ") {
            let other = list.rows.iter().find(|row| row.mark == mark).expect("a mark");
            assert!((other.finished[0] - 1264.0).abs() < 0.05 && other.at_one_stop.contains(&bottom.mark), "{other:?}");
        }
        // Sloped teeth are cut across four strips at a time; buttons of 50 are milled in one length and crosscut after.
        let together = |kind: PartKind| list.rows.iter().find(|row| row.kind == kind).map(|row| row.together.as_str());
        assert_eq!(together(PartKind::Standard), Some("4 side by side"));
        assert!(
            together(PartKind::Button).is_some_and(|words| words.ends_with("in one length") || words.ends_with("in one length each")),
            "{:?}",
            together(PartKind::Button)
        );
        assert_eq!(together(PartKind::Post), Some(""));
        let grain = |list: &CutList| list.rows.iter().find(|row| row.kind == PartKind::Panel).map(|row| row.grain);
        assert_eq!(grain(&list), Some("face grain along the length"));
        design.timber.panel.product = "mdf_en622_5_12".to_owned();
        assert_eq!(grain(&listed(&design)), Some("none"));
    }
}
