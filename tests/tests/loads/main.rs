//! Cases under their load: against worked examples, each with its source; against statics; and against what must hold of any case.

mod frame;
mod housed;
mod shelves;
mod standing;
mod told;
