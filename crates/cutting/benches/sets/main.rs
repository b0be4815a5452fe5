//! Open instances with known values: `cargo bench -p casewright-cutting -- --sets PATH`.
//!
//! PATH is a folder with the published sets, which the project doesn't contain: `csp1d`, `csp1d_multi`, `bpp2d`, `vsbpp2d`,
//! `staged2d`, `glass_defects`, `realistic`. Each is laid out for some seconds on one core, and a table by family and class says how far
//! the answers are from the best that is known. Further words: `--seconds S` (1), `--every N` (1: all of them), `--only WORD`
//! (families with it in their name), `--each` (a line an instance), `--seed K` (1). `--tasks PATH` takes a folder of tasks as the command line's `lay` reads them.

mod family;
mod read;

use std::path::PathBuf;

fn main() {
    let mut words = std::env::args().skip(1);
    let mut asked = family::Asked::default();
    let mut sets: Option<PathBuf> = None;
    let mut tasks: Option<PathBuf> = None;
    while let Some(word) = words.next() {
        match word.as_str() {
            "--sets" => sets = words.next().map(PathBuf::from),
            "--tasks" => tasks = words.next().map(PathBuf::from),
            "--seconds" => asked.seconds = words.next().and_then(|text| text.parse().ok()).unwrap_or(asked.seconds),
            "--every" => asked.every = words.next().and_then(|text| text.parse().ok()).unwrap_or(1).max(1),
            "--only" => asked.only = words.next(),
            "--seed" => asked.seed = words.next().and_then(|text| text.parse().ok()).unwrap_or(asked.seed),
            "--each" => asked.each = true,
            // cargo's own.
            _ => {}
        }
    }
    if sets.is_none() && tasks.is_none() {
        println!("sets: give the folder of the published sets with --sets PATH, or one of tasks with --tasks PATH");
    }
    let families = sets.iter().flat_map(|sets| read::families(sets)).chain(tasks.iter().map(|tasks| read::tasks(tasks)));
    for family in families {
        if asked.only.as_ref().is_none_or(|word| family.name.contains(word.as_str())) {
            family.run(&asked);
        }
    }
}
