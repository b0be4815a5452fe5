//! Which lines of a task can be worked with, and what is wrong with the others.

use super::layout::Fault;
use super::task::{Cuts, DEAREST, LONGEST, MOST_LINES, MOST_PIECES, Piece, SHORTEST, Stock, Task};

/// The lines that can be worked with, in order, and what was found on the way.
#[derive(Debug)]
pub(super) struct Lines {
    pub stock: Vec<usize>,
    pub pieces: Vec<usize>,
    pub faults: Vec<Fault>,
}

/// Looks at every figure. Where something concerns the whole task no line is left.
pub(super) fn sound(task: &Task) -> Lines {
    let mut faults = of_the_whole(task);
    if !faults.is_empty() {
        return Lines { stock: Vec::new(), pieces: Vec::new(), faults };
    }
    let mut lines = |count: usize, find: &dyn Fn(usize) -> Vec<Fault>| -> Vec<usize> {
        let sound = |&line: &usize| {
            let found = find(line);
            let sound = found.is_empty();
            faults.extend(found);
            sound
        };
        (0..count).filter(sound).collect()
    };
    let stock = lines(task.stock.len(), &|line| of_stock(task, line, &task.stock[line]));
    let pieces = lines(task.pieces.len(), &|line| of_piece(task, line, &task.pieces[line]));
    Lines { stock, pieces, faults }
}

/// A piece that no board takes.
pub(super) fn too_large(task: &Task, line: usize) -> Fault {
    let Piece { id, length, width, .. } = &task.pieces[line];
    let (field, found) = match (task.cuts, width) {
        (Cuts::Guillotine, Some(width)) => ("", format!("{length} × {width} mm")),
        _ => (".length", format!("{length} mm")),
    };
    let wanted = "it fits no board that there is, even with nothing else on it: add a larger board, or make it smaller or turn it";
    Fault { field: format!("pieces[{line}]{field}"), id: id.clone(), found, wanted: wanted.to_owned() }
}

fn of_the_whole(task: &Task) -> Vec<Fault> {
    let fault = |field: &str, found: String, wanted: String| Fault { field: field.to_owned(), id: String::new(), found, wanted };
    let mut faults = Vec::new();
    for (field, figure) in [("kerf", task.kerf), ("trim", task.trim)] {
        if !(0.0..=LONGEST).contains(&figure) {
            faults.push(fault(field, format!("{figure} mm"), format!("it must be 0 to {LONGEST} mm")));
        }
    }
    if let Some(stages) = task.stages.filter(|stages| !(2..=3).contains(stages)) {
        faults.push(fault("stages", stages.to_string(), "it must be 2 or 3, or null for as many as it takes".to_owned()));
    }
    for (field, count) in [("stock", task.stock.len()), ("pieces", task.pieces.len())] {
        if count > MOST_LINES {
            faults.push(fault(field, format!("{count} lines"), format!("one task takes at most {MOST_LINES}")));
        }
    }
    let count: u64 = task.pieces.iter().map(|piece| u64::from(piece.count)).sum();
    if count > MOST_PIECES {
        faults.push(fault("pieces", format!("{count} pieces"), format!("one task takes at most {MOST_PIECES}")));
    }
    faults
}

fn of_stock(task: &Task, line: usize, stock: &Stock) -> Vec<Fault> {
    let mut found = Found { list: "stock", line, id: &stock.id, faults: Vec::new() };
    if found.sawable("length", Some(stock.length)) {
        found.longer_than_trims("length", stock.length, task.trim);
    }
    if task.cuts == Cuts::Guillotine && found.sawable("width", stock.width) {
        found.longer_than_trims("width", stock.width.unwrap_or_default(), task.trim);
    }
    if !(0.0..=DEAREST).contains(&stock.cost) {
        found.add("cost", stock.cost.to_string(), format!("it must be 0 to {DEAREST}"));
    }
    for (number, zone) in stock.defects.iter().enumerate() {
        let field = |name: &str| format!("defects[{number}].{name}");
        let starts = [("x", zone.x), ("y", zone.y)];
        for (name, start) in starts.into_iter().filter(|(_, start)| !(0.0..=LONGEST).contains(start)) {
            found.add(&field(name), format!("{start} mm"), format!("it must be 0 to {LONGEST} mm, from the untrimmed corner"));
        }
        found.sawable(&field("length"), Some(zone.length));
        if zone.width.is_some() {
            found.sawable(&field("width"), zone.width);
        }
    }
    found.faults
}

fn of_piece(task: &Task, line: usize, piece: &Piece) -> Vec<Fault> {
    let mut found = Found { list: "pieces", line, id: &piece.id, faults: Vec::new() };
    found.sawable("length", Some(piece.length));
    if task.cuts == Cuts::Guillotine {
        found.sawable("width", piece.width);
    }
    if let Some(value) = piece.value.filter(|value| !(0.0..=DEAREST).contains(value)) {
        found.add("value", value.to_string(), format!("it must be 0 to {DEAREST}, or left out"));
    }
    found.faults
}

/// What was found on one line.
struct Found<'a> {
    list: &'static str,
    line: usize,
    id: &'a str,
    faults: Vec<Fault>,
}

impl Found<'_> {
    fn add(&mut self, field: &str, found: String, wanted: String) {
        let field = format!("{}[{}].{field}", self.list, self.line);
        self.faults.push(Fault { field, id: self.id.to_owned(), found, wanted });
    }

    /// Whether a length is one that can be sawn.
    fn sawable(&mut self, field: &str, length: Option<f64>) -> bool {
        let wanted = format!("it must be {SHORTEST} to {LONGEST} mm");
        match length {
            Some(length) if (SHORTEST..=LONGEST).contains(&length) => return true,
            Some(length) => self.add(field, format!("{length} mm"), wanted),
            None => self.add(field, "not given".to_owned(), format!("{wanted}; with \"cuts\": \"lengths\" widths are not asked for")),
        }
        false
    }

    fn longer_than_trims(&mut self, field: &str, length: f64, trim: f64) {
        if length <= 2.0 * trim {
            let found = format!("{length} mm, and {trim} mm comes off each side");
            self.add(field, found, format!("it must be more than {} mm, or the trim less", 2.0 * trim));
        }
    }
}
