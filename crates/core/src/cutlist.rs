//! The cut list: equal parts together, finished and rough sizes.

use crate::design::shop::State;
use crate::design::{Design, Dimension};
use crate::length::trimmed;
use crate::model::{BuildStage, Feature, Material, Model, Part, PartId, PartKind};
use crate::origin::Size;
use crate::rough::{Roughed, beyond, in_lengths};

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
    /// How it is roughed out; none for sheet goods, which are cut to size at once, and for what is bought.
    pub rough: Option<Roughed>,
    /// Which way its grain runs: "along the length", "none".
    pub grain: &'static str,
    /// Where its face side looks in the case: "to the front"; several ways where its parts differ.
    pub face_side: String,
    /// Where its face edge looks.
    pub face_edge: String,
    /// The marks of other solid parts that are as long, and so are crosscut at the same stop: "R2, R3"; empty where there are none.
    pub at_one_stop: String,
    /// Which of its parts are made together: "4 from one blank", "3 and 2 in one length"; empty where each is made by itself.
    pub together: String,
    /// Where the machines of the shop can't take it, and what is done then; and what is cut together out of one blank.
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
    /// Rough length and width, mm; the finished ones of what is cut to size at once, or bought.
    pub fn rough_size(&self) -> [f64; 2] {
        self.rough.map_or([self.finished[0], self.finished[1]], |rough| [rough.length, rough.width])
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
            let rough = match part.material {
                Material::Solid(_) => Some(Roughed::of(&design.timber.rough, finished)),
                Material::Sheet(_) | Material::Bought(_) => None,
            };
            rows.push(Row {
                mark: part.mark.clone(),
                kind: part.kind,
                title: part.title.clone(),
                parts: vec![part.id],
                finished,
                rough,
                grain: model.timbers.grain(&part.material),
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
        let (machines, kerfs) = (&design.shop.machines, design.timber.kerfs(false));
        for row in &mut rows {
            let beyond = row.rough.map(|rough| beyond(machines, &rough, row.finished, row.parts.len(), kerfs.crosscut));
            row.notes = beyond.unwrap_or_default();
            row.face_side = looks(model, &row.parts, Part::face_side_looks);
            row.face_edge = looks(model, &row.parts, Part::face_edge_looks);
            let in_lengths = row.rough.and_then(|rough| in_lengths(machines, &rough, row.finished[0], row.parts.len(), kerfs.crosscut));
            row.together = in_lengths.map(|(shares, _)| one_length(&shares)).unwrap_or_default();
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

    /// How many parts there are in all.
    pub fn count(&self) -> usize {
        self.rows.iter().map(|row| row.parts.len()).sum()
    }
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

/// So many standards are cut out of one blank (common practice, no source).
const GANGED: usize = 4;

/// "6 in one length", "3 and 2 in one length each"; of a single part nothing.
fn one_length(shares: &[usize]) -> String {
    let mut kinds: Vec<usize> = shares.iter().copied().filter(|share| *share > 1).collect();
    kinds.dedup();
    let words: Vec<String> = kinds.iter().map(ToString::to_string).collect();
    match (words.is_empty(), shares.len()) {
        (true, _) => String::new(),
        (false, 1) => format!("{} in one length", words.join(" and ")),
        (false, _) => format!("{} in one length each", words.join(" and ")),
    }
}

/// How strips whose teeth must be alike are cut together, in a few words and in a sentence: sloped teeth right across the face of one blank that is then ripped; half rounds in pairs,
/// bored on the line between two, for what is ripped out of one strip afterwards loses half a saw cut of each seat.
fn ganged(model: &Model, row: &Row, kerf: f64) -> Option<(String, String)> {
    let part = model.part(*row.parts.first()?);
    let together = row.parts.len().min(GANGED);
    let [length, width, thickness] = row.finished;
    let blank = together as f64 * thickness + (together as f64 - 1.0) * kerf;
    part.cuts.iter().find_map(|cut| match cut.feature {
        Feature::Teeth { .. } if together > 1 => Some((
            format!("{together} from one blank"),
            format!(
                "{together} from one blank {} × {} × {}: saw the teeth across its face, then rip it into strips of {}",
                trimmed(length),
                trimmed(blank),
                trimmed(width),
                trimmed(thickness)
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
        // Sloped teeth are cut across one blank for four strips; buttons of 50 are milled in one length and crosscut after.
        let together = |kind: PartKind| list.rows.iter().find(|row| row.kind == kind).map(|row| row.together.as_str());
        assert_eq!(together(PartKind::Standard), Some("4 from one blank"));
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
