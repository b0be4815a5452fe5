//! Cases under their load: against worked examples, each with its source; against statics; and against what must hold of any case.

mod frame;
mod housed;
mod pins;
mod plate;
mod recomputed;
mod shelves;
mod sinking;
mod standing;
mod told;
