//! Pieces out of boards: every layout is checked by rules that know nothing of how it was found.

mod bounds;
mod check;
mod classes;
mod effort;
mod faults;
mod judged;
mod lengths;
mod made;
mod order;
mod realistic;
mod sheets;
