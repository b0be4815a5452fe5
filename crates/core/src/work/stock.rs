//! What is bought, and how rough stock comes to size.

use super::{Case, Chapter, Job};
use crate::cautions::About;
use crate::cutlist::{Row, facing};
use crate::design::Veneered;
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
    jobs.extend(taken.sheets.iter().map(|sheet| {
        format!(
            "{}: {} m², {} pieces; to measure {}",
            sheet.made_of,
            trimmed_to(sheet.to_buy.value, 2),
            sheet.pieces,
            sheet.measure_words()
        )
        .into()
    }));
    jobs.extend(taken.veneer.iter().map(|veneer| {
        let thick = trimmed_to(veneer.thickness, 2);
        Job::from(format!("{}, veneer {thick} thick: {}; faces, and balancing sheets as large", veneer.made_of, veneer.takes_words()))
    }));
    jobs.extend(taken.bought.iter().map(|ready| Job::from(format!("{} × {}", ready.count, ready.title))));
    jobs.extend([taken.finish_words(case.design), taken.glue_words(case.design)].into_iter().flatten().map(Job::from));
    if !taken.timber.is_empty() {
        let built = trimmed(case.design.timber.moisture.built);
        jobs.push(Job::from(format!(
            "Stack the boards on sticks where they will be worked until a meter says {built} %: every clearance is counted from that"
        )));
    }
    let mut told: Vec<&Row> = Vec::new();
    for row in case.sheets() {
        if !told.iter().any(|of| of.made_of == row.made_of && (of.sawn[2] - row.sawn[2]).abs() < ALIKE) {
            told.push(row);
        }
    }
    jobs.extend(told.into_iter().map(|row| {
        let (made_of, [sawn, thick]) = (&row.made_of, [row.sawn[2], row.finished[2]].map(trimmed));
        Job::from(if thick == sawn {
            format!("Measure the sheets, {made_of}: {thick} mm is what the grooves and fits are for; where they measure otherwise, write that into the design first")
        } else {
            format!(
                "Measure the sheets, {made_of}: {sawn} mm is wanted; with the veneer it is {thick}, and the grooves and fits are for that; where they measure otherwise, write what they come to with the \
                 veneer into the design first"
            )
        })
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
    jobs.extend(glued_on(case, &timber, &sheets));
    let noted = timber.iter().chain(&sheets).flat_map(|row| row.notes.iter().map(|note| format!("{}: {note}", row.mark)));
    chapter.told = noted.collect();
    chapter.cautions = case.cautions(&[About::Dust, About::Species, About::ShortParts]);
    chapter
}

/// What is glued onto sheets once they are cut: lippings, which are planed flush, and over them veneer.
fn glued_on(case: &Case<'_>, timber: &[&Row], sheets: &[&Row]) -> Vec<Job> {
    let of = |row: &&&Row| {
        timber.iter().filter(|other| other.lippings > 0 && other.parts.first() == row.parts.first()).copied().collect::<Vec<_>>()
    };
    let lipped = sheets.iter().map(|row| (row, of(&row))).filter(|(_, lippings)| !lippings.is_empty());
    // Those across lie between those along.
    let lipped = lipped.map(|(row, lippings)| {
        format!("{}: {}", row.mark, lippings.iter().rev().map(|row| row.mark.as_str()).collect::<Vec<_>>().join(", then "))
    });
    let mut jobs: Vec<Job> = Job::each("Glue lippings onto the sheets and plane them flush:", lipped).into_iter().collect();
    let facing_of = |row: &Row| row.parts.first().map(|part| facing(case.design, case.model.part(*part))).unwrap_or_default();
    let veneered: Vec<&Row> = sheets.iter().copied().filter(|row| facing_of(row).veneer != Veneered::No).collect();
    let is_sawn = |row: &&&Row| facing_of(row).veneer == Veneered::Sawn;
    let make_up = &case.design.money.make_up;
    let sawn: Vec<&Row> = veneered.iter().filter(is_sawn).copied().collect();
    if !sawn.is_empty() {
        let thick = trimmed(make_up.sawn_veneer.to_mm());
        jobs.push(format!("Saw veneer, leaves {thick} thick, numbered as they come off, for {}", marks(sawn)).into());
    }
    let leaves = |row: &&Row| {
        let [length, width] = facing_of(row).faces(row.finished).map(trimmed);
        format!("{}: {} of {length} × {width}", row.mark, 2 * row.parts.len())
    };
    jobs.extend(Job::each(
        "Join leaves of veneer edge to edge, to a face and a balancing sheet for each that reach over it all round:",
        veneered.iter().map(leaves),
    ));
    let pressed = veneered.iter().map(|row| format!("{}: {} to {} thick", row.mark, row.parts.len(), trimmed(row.finished[2])));
    jobs.extend(Job::each("Press the veneer onto both faces at once, face and balancing sheet, and trim it flush:", pressed));
    jobs
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
