//! A file a command.

pub mod boards;
pub mod cards;
pub mod check;
pub mod compare;
pub mod cost;
pub mod draw;
pub mod explain;
pub mod export;
pub mod holds;
pub mod lay;
pub mod loads;
pub mod milled;
pub mod order;
pub mod packet;
pub mod parts;
pub mod propose;
pub mod rod;
pub mod sizes;
pub mod takeoff;
