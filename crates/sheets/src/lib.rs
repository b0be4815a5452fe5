//! Shop papers and exchange files: a model in, text or bytes out, no file in sight.
//!
//! | module | gives |
//! |---|---|
//! | [`cut_list`] | the cut list as CSV |
//! | [`tables`] | take-off, cost and layouts as CSV |
//! | [`drawing`] | the shop drawings as plain pages, SVG and PDF |
//! | [`shelf_plan`] | where everything stands, and a label for each shelf with what it carries, as PDF |
//! | [`board_plans`] | what is cut from which board, and the cuts in their order, as PDF |
//! | [`setup_cards`] | how the machines are set, a card a setting, as PDF |
//! | [`exchange`] | meshes, solids and outlines for other programs |
//! | [`json`] | parts, findings and sizes for other programs |
//! | [`mod@obj`] | the solids of all parts in place, as Wavefront OBJ |
//!
//! Every function gives the same bytes for the same model: nothing here asks for the time.

pub mod board_plans;
pub mod cut_list;
pub mod drawing;
pub mod exchange;
pub mod json;
mod look;
pub mod obj;
mod packet;
pub mod setup_cards;
pub mod shelf_plan;
pub mod tables;
mod typeset;

pub use board_plans::board_plans_pdf;
pub use cut_list::cut_list_csv;
pub use drawing::{Drafting, Page, Paper, drafted_pdf, drawing_pdf, pages};
pub use look::Wood;
pub use obj::obj;
pub use packet::{Named, papers};
pub use setup_cards::setup_cards_pdf;
pub use shelf_plan::shelf_plan_pdf;
pub use tables::{boards_csv, cost_csv, take_off_csv};
pub use typeset::SheetError;
