//! The order of work: from rough stock to the case in its place, a box to tick for each job, and what is left with whoever keeps the case.
//!
//! ```text
//! CutList, TakeOff ─▶ timber, milling ┐
//! Setups ──────────▶ joinery         ├─▶ Chapters, each with its jobs and with the cautions that belong to it
//! Sequence ────────▶ dry fit, glue-ups, what goes in after │
//! seasons, loads ──▶ finish, its place, care ┘
//! ```
//!
//! A chapter is there only where the case has something in it, and a caution stands only in the chapter whose work it is about.

mod bench;
mod care;
mod glue;
mod job;
mod place;
mod stock;

use crate::cautions::{About, Caution, cautions};
use crate::loads::Lift;
use crate::sequence::Sequence;
use crate::shapes::Solids;
use crate::{CutList, Design, Model};

pub use care::Care;
pub use job::{Each, Job};

/// The order of work of a case.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderOfWork {
    /// In the order in which they are done.
    pub chapters: Vec<Chapter>,
    /// What whoever keeps the case must know, a heading each.
    pub care: Vec<Care>,
}

/// Jobs that belong together.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Chapter {
    /// What is done in it: "Milling".
    pub title: String,
    /// What holds for all of its jobs.
    pub told: Vec<String>,
    /// The jobs, with a box to tick for each piece of work.
    pub jobs: Vec<Job>,
    /// What can hurt at this work.
    pub cautions: Vec<String>,
}

/// What the chapters are written from.
struct Case<'c> {
    design: &'c Design,
    model: &'c Model,
    solids: &'c Solids,
    sequence: &'c Sequence,
    lifts: &'c [Lift],
    list: CutList,
    cautions: Vec<Caution>,
}

impl OrderOfWork {
    /// That of a design with its order of assembly, and with what of it is too heavy for one.
    pub fn of(design: &Design, model: &Model, solids: &Solids, sequence: &Sequence, lifts: &[Lift]) -> OrderOfWork {
        let (list, cautions) = (CutList::of(design, model), cautions(design, model));
        let case = Case { design, model, solids, sequence, lifts, list, cautions };
        let mut chapters = vec![stock::bought(&case), stock::milled(&case), bench::marked_out(&case), bench::joined(&case)];
        chapters.push(bench::loose_parts(&case));
        chapters.push(glue::dry_fit(&case));
        chapters.push(glue::finished_first(&case));
        chapters.extend(glue::put_together(&case));
        chapters.push(place::in_its_place(&case));
        chapters.retain(|chapter| !chapter.jobs.is_empty());
        OrderOfWork { chapters, care: care::of(&case) }
    }

    /// How many boxes there are to tick.
    pub fn count(&self) -> usize {
        self.chapters.iter().flat_map(|chapter| &chapter.jobs).map(Job::boxes).sum()
    }
}

impl Case<'_> {
    /// The cautions about some subjects.
    fn cautions(&self, about: &[About]) -> Vec<String> {
        self.cautions.iter().filter(|caution| about.contains(&caution.about)).map(|caution| caution.words.clone()).collect()
    }
}
