//! The design at hand with its history: the one resource that holds a [`Design`].
//!
//! Only the system that acts on [`Ask`](crate::ask::Ask)s writes it; everything else reads.

use std::path::{Path, PathBuf};

use bevy::prelude::Resource;
use casewright_core::Design;

/// How many steps back are kept. A design is a few kilobytes, so this is far below what memory would mind.
const DEEPEST: usize = 500;

/// The design at hand, its history and its file.
#[derive(Resource)]
pub struct Session {
    design: Design,
    undo: Vec<Design>,
    redo: Vec<Design>,
    /// The gesture that made the newest step, so that a whole drag is one step.
    gesture: Option<u64>,
    path: Option<PathBuf>,
    /// The design as it was last read or written.
    saved: Design,
    /// Whether the design at hand came back after a crash and is in no file.
    recovered: bool,
    revision: u64,
    piece: u64,
}

impl Session {
    /// A session on a design; `path` is the file it was read from, none for an example.
    pub fn new(design: Design, path: Option<PathBuf>) -> Session {
        Session {
            saved: design.clone(),
            design,
            undo: Vec::new(),
            redo: Vec::new(),
            gesture: None,
            path,
            recovered: false,
            revision: 1,
            piece: 0,
        }
    }

    /// The design before the newest step; none where there is none.
    pub fn before(&self) -> Option<&Design> {
        self.undo.last()
    }

    /// The design as it stands.
    pub fn design(&self) -> &Design {
        &self.design
    }

    /// What the piece is called, with "Unsaved: " before it while there are changes that no file holds.
    pub fn title(&self) -> String {
        let name = if self.design.name.trim().is_empty() { "A case without a name" } else { self.design.name.trim() };
        if self.is_dirty() { format!("Unsaved: {name}") } else { name.to_owned() }
    }

    /// Whether there are changes that no file holds.
    pub fn is_dirty(&self) -> bool {
        self.recovered || !same(&self.design, &self.saved)
    }

    /// The file it was read from or last saved to; none for an example not yet saved.
    pub fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// Whether there is a step to take back.
    pub fn can_undo(&self) -> bool {
        !self.undo.is_empty()
    }

    /// Whether there is a step to take again.
    pub fn can_redo(&self) -> bool {
        !self.redo.is_empty()
    }

    /// Grows by one whenever the design became another.
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// Grows by one whenever another piece was opened, whatever it is called.
    pub fn piece(&self) -> u64 {
        self.piece
    }

    /// Whether `design` is the one at hand.
    pub fn holds(&self, design: &Design) -> bool {
        same(&self.design, design)
    }

    /// Takes `design` as the next step. Steps of one gesture are one step of the history.
    pub fn change(&mut self, design: Design, gesture: Option<u64>) {
        if design == self.design {
            return;
        }
        let goes_on = gesture.is_some() && gesture == self.gesture && !self.undo.is_empty();
        let before = std::mem::replace(&mut self.design, design);
        if !goes_on {
            self.undo.push(before);
            if self.undo.len() > DEEPEST {
                self.undo.remove(0);
            }
        }
        self.gesture = gesture;
        self.redo.clear();
        self.revision += 1;
    }

    /// Takes the newest step back.
    pub fn undo(&mut self) {
        if let Some(before) = self.undo.pop() {
            self.redo.push(std::mem::replace(&mut self.design, before));
            self.gesture = None;
            self.revision += 1;
        }
    }

    /// Takes again the step that was last taken back.
    pub fn redo(&mut self) {
        if let Some(after) = self.redo.pop() {
            self.undo.push(std::mem::replace(&mut self.design, after));
            self.gesture = None;
            self.revision += 1;
        }
    }

    /// Goes over to another design, read from `path`; the history starts anew.
    pub fn open(&mut self, design: Design, path: Option<PathBuf>) {
        *self = Session { revision: self.revision + 1, piece: self.piece + 1, ..Session::new(design, path) };
    }

    /// Goes over to a design that was kept beside its file and not saved: as a step that can be taken back.
    pub fn recover(&mut self, design: Design) {
        self.change(design, None);
        self.recovered = true;
    }

    /// Tells that `design` is now in the file `path`. The design at hand may have gone on since.
    pub fn saved(&mut self, design: Design, path: PathBuf) {
        self.saved = design;
        self.path = Some(path);
        self.recovered = false;
    }
}

/// Whether two designs are the same. A file may hold what is no number, which is unlike itself.
fn same(a: &Design, b: &Design) -> bool {
    a == b || (a.clone() != *a && format!("{a:?}") == format!("{b:?}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn demo() -> Design {
        crate::demo()
    }

    fn wider(design: &Design, by: f64) -> Design {
        let mut design = design.clone();
        design.carcase.width = design.carcase.width + casewright_core::Length::mm(by);
        design
    }

    #[test]
    fn a_whole_drag_is_taken_back_in_one_step() {
        let mut session = Session::new(demo(), None);
        for _ in 0..5 {
            let next = wider(session.design(), 1.0);
            session.change(next, Some(7));
        }
        assert!(session.is_dirty());
        session.undo();
        assert_eq!(*session.design(), demo());
        assert!(!session.can_undo() && session.can_redo() && !session.is_dirty());
        session.redo();
        assert_eq!(*session.design(), wider(&demo(), 5.0));
    }

    #[test]
    fn two_drags_are_two_steps() {
        let mut session = Session::new(demo(), None);
        session.change(wider(&demo(), 1.0), Some(1));
        session.change(wider(&demo(), 2.0), Some(2));
        session.undo();
        assert_eq!(*session.design(), wider(&demo(), 1.0));
    }

    #[test]
    fn a_file_with_no_number_in_it_is_not_unsaved_when_opened() {
        let design = wider(&demo(), f64::NAN);
        let session = Session::new(design, None);
        assert!(!session.is_dirty());
        assert!(!session.holds(&demo()));
    }

    #[test]
    fn a_new_name_is_no_new_piece() {
        let mut session = Session::new(demo(), None);
        let mut named = demo();
        named.name.push('s');
        session.change(named, None);
        assert_eq!(session.piece(), 0);
        session.open(demo(), None);
        assert_eq!(session.piece(), 1);
    }

    #[test]
    fn changes_made_while_a_save_ran_stay_unsaved() {
        let mut session = Session::new(demo(), None);
        let written = wider(&demo(), 1.0);
        session.change(written.clone(), None);
        session.change(wider(&demo(), 2.0), None);
        session.saved(written, PathBuf::from("case.ron"));
        assert!(session.is_dirty());
        assert_eq!(session.title(), "Unsaved: Records cabinet");
        session.undo();
        assert_eq!(session.title(), "Records cabinet");
    }
}
