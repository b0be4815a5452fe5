//! Parts that meet face to face, with nothing cut: one lies on the other, is glued or is screwed.

use super::Joining;
use crate::model::Contact;
use crate::place::Dir;

/// What holds two parts whose faces meet uncut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fixing {
    /// Weight alone.
    Rest,
    /// Glue, face to face.
    Glue,
    /// A screw.
    Screw,
}

impl Joining for Fixing {
    fn describe(&self) -> String {
        let words = match self {
            Fixing::Rest => "lies on it",
            Fixing::Glue => "glued face to face",
            Fixing::Screw => "screwed",
        };
        words.to_owned()
    }

    /// Away, and sideways all round: nothing is in the way.
    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        Dir::ALL.into_iter().filter(|dir| *dir != contact.into).collect()
    }

    fn has_shoulder(&self) -> bool {
        match self {
            Fixing::Rest | Fixing::Glue => true,
            // A button is drawn up to its top by the screw.
            Fixing::Screw => false,
        }
    }

    fn strength(&self) -> &'static str {
        match self {
            Fixing::Rest => "",
            Fixing::Glue => "long grain to long grain is as strong as the wood; end grain holds little (common practice, no source)",
            Fixing::Screw => "7 diameters of thread in side grain, 10 in end grain (from memory)",
        }
    }
}
