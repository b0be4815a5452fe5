//! What is bought, and how rough stock comes to size.

use super::{Case, Chapter, Job};
use crate::cautions::About;
use crate::cutlist::Row;
use crate::design::shop::State;
use crate::length::{trimmed, trimmed_to};
use crate::model::{Material, PartKind};
use crate::takeoff::TakeOff;

/// Sizes that differ by less are milled together, mm.
const ALIKE: f64 = 0.05;

impl Case<'_> {
    /// The rows of which something is not milled yet.
    fn rough(&self) -> Vec<&Row> {
        let planned = |row: &&Row| row.parts.iter().any(|part| self.model.part(*part).state == State::Planned);
        self.list.rows.iter().filter(planned).collect()
    }

    /// Those of solid timber that are milled one by one; loose tenons and dowels come out of lengths at the bench.
    fn timber(&self) -> Vec<&Row> {
        let of_length = |row: &Row| matches!(row.kind, PartKind::LooseTenon | PartKind::Dowel | PartKind::Shim);
        self.rough().into_iter().filter(|row| matches!(row.material, Material::Solid(_)) && !of_length(row)).collect()
    }

    fn sheets(&self) -> Vec<&Row> {
        self.rough().into_iter().filter(|row| matches!(row.material, Material::Sheet(_))).collect()
    }
}

/// "P1, P2, R1".
pub(super) fn marks<'r>(rows: impl IntoIterator<Item = &'r Row>) -> String {
    rows.into_iter().map(|row| row.mark.as_str()).collect::<Vec<_>>().join(", ")
}

/// What is sawn of each row: "P1", "BT1 in 2 lengths".
fn sawn(rows: &[&Row]) -> String {
    let of = |row: &&Row| match (row.blanks() == row.parts.len(), row.blanks()) {
        (true, _) => row.mark.clone(),
        (false, 1) => format!("{} in one length", row.mark),
        (false, several) => format!("{} in {several} lengths", row.mark),
    };
    rows.iter().map(of).collect::<Vec<_>>().join(", ")
}

/// Timber, sheets and what is bought ready, and what is done with it before the first cut.
pub(super) fn bought(case: &Case<'_>) -> Chapter {
    let mut chapter = Chapter { title: "Timber, and what else is bought".to_owned(), ..Chapter::default() };
    if case.rough().is_empty() {
        return chapter;
    }
    let taken = TakeOff::of(case.design, case.model);
    let jobs = &mut chapter.jobs;
    for boards in &taken.timber {
        let (made_of, board) = (&boards.made_of, &boards.board);
        let [volume, feet] = [(boards.to_buy.value, 4), (boards.board_feet(), 1)].map(|(value, places)| trimmed_to(value, places));
        let [longest, widest] = [boards.longest, boards.widest].map(|mm| trimmed_to(mm, 0));
        jobs.push(
            format!("{made_of}, {board}: {volume} m³ ({feet} board feet); the longest piece takes {longest}, the widest {widest}").into(),
        );
    }
    jobs.extend(
        taken
            .sheets
            .iter()
            .map(|sheet| format!("{}: {} m², {} pieces", sheet.made_of, trimmed_to(sheet.to_buy.value, 2), sheet.pieces).into()),
    );
    jobs.extend(taken.bought.iter().map(|ready| Job::from(format!("{} × {}", ready.count, ready.title))));
    jobs.extend([taken.finish_words(case.design), taken.glue_words(case.design)].into_iter().flatten().map(Job::from));
    if !taken.timber.is_empty() {
        let built = trimmed(case.design.timber.moisture.built);
        jobs.push(Job::from(format!(
            "Stack the boards on sticks where they will be worked until a meter says {built} %: every clearance is counted from that"
        )));
    }
    let mut told: Vec<(&str, f64)> = Vec::new();
    for row in case.sheets() {
        if !told.iter().any(|(of, thick)| *of == row.made_of && (thick - row.finished[2]).abs() < ALIKE) {
            told.push((&row.made_of, row.finished[2]));
        }
    }
    jobs.extend(told.into_iter().map(|(made_of, thick)| {
        let thick = trimmed(thick);
        Job::from(format!("Measure the sheets, {made_of}: {thick} mm is what the grooves and fits are for; where they measure otherwise, write that into the design first"))
    }));
    chapter
}

/// From rough stock to size, all of one setting together.
pub(super) fn milled(case: &Case<'_>) -> Chapter {
    let (timber, sheets) = (case.timber(), case.sheets());
    let mut chapter = Chapter { title: "From rough stock to size".to_owned(), ..Chapter::default() };
    let jobs = &mut chapter.jobs;
    let rough = grouped(&timber, |row| (row.made_of.clone(), row.rough.map(|rough| rough.words()).unwrap_or_default()));
    let rough = rough.into_iter().map(|((made_of, board), rows)| {
        let board = if board.is_empty() { "as thick as it takes".to_owned() } else { board };
        format!("{made_of}, {board}: {}", sawn(&rows))
    });
    jobs.extend(Job::each("Saw to rough length and width out of", rough));
    if !timber.is_empty() {
        jobs.push("Plane one side flat and one edge square to it: face side and face edge, as the cut list has them".into());
        jobs.push("Leave all of it on sticks over night, and true again what has moved".into());
        for (axis, words) in
            [(2, "Plane to a thickness of"), (1, "Rip and plane to a width of"), (0, "Crosscut, all of one length at one stop:")]
        {
            let mut sizes = grouped(&timber, |row| (row.finished[axis] * 1e3).round() as i64);
            sizes.sort_by_key(|(size, _)| -size);
            let sizes = sizes.into_iter().map(|(size, rows)| format!("{}: {}", trimmed(size as f64 / 1e3), marks(rows)));
            jobs.extend(Job::each(words, sizes));
        }
    }
    let sheet = grouped(&sheets, |row| row.made_of.clone()).into_iter().map(|(made_of, rows)| format!("{made_of}: {}", marks(rows)));
    jobs.extend(Job::each("Cut to size, the way of the grain as the cut list has it, out of", sheet));
    let noted = timber.iter().chain(&sheets).flat_map(|row| row.notes.iter().map(|note| format!("{}: {note}", row.mark)));
    chapter.told = noted.collect();
    chapter.cautions = case.cautions(&[About::Dust, About::Species, About::ShortParts]);
    chapter
}

/// Rows that share something, in the order in which it comes up.
fn grouped<'r, K: PartialEq>(rows: &[&'r Row], of: impl Fn(&Row) -> K) -> Vec<(K, Vec<&'r Row>)> {
    let mut groups: Vec<(K, Vec<&'r Row>)> = Vec::new();
    for row in rows {
        let key = of(row);
        match groups.iter_mut().find(|(known, _)| *known == key) {
            Some((_, rows)) => rows.push(row),
            None => groups.push((key, vec![row])),
        }
    }
    groups
}
