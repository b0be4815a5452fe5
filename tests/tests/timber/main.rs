//! Timber against what is published of it: the moisture it comes to, how it moves, and the room that it needs.

mod clearances;
mod moisture;
mod movement;
