//! Shop papers and exchange files: a model in, text or bytes out, no file in sight.
//!
//! | module | gives |
//! |---|---|
//! | [`cut_list`] | the cut list as CSV |
//! | [`tables`] | take-off, cost and layouts as CSV |
//! | [`drawing`] | the shop drawings and the part sheets as plain pages, SVG and PDF |
//! | [`rod`] | the setting-out rod and the templates in full size, over sheets or on one long page, as plain pages, SVG and PDF |
//! | [`shelf_plan`] | where everything stands, and a label for each shelf with what it carries, as PDF |
//! | [`board_plans`] | what is cut from which board, and the cuts in their order, as PDF |
//! | [`setup_cards`] | how the machines are set, a card a setting, as PDF |
//! | [`order_of_work`] | every job with a box to tick, and the care sheet, as PDF |
//! | [`lists`] | cut list and buying list as PDF |
//! | [`labels`] | stick-on labels, one a piece, as PDF |
//! | [`figures`] | how lengths are written on all of them |
//! | [`packet`] | all of it piece by piece, as files and as pages for a screen, and all papers in one |
//! | [`exchange`] | meshes, solids and outlines for other programs |
//! | [`json`] | parts, findings and sizes for other programs |
//! | [`mod@obj`] | the solids of all parts in place, as Wavefront OBJ |
//!
//! Every function gives the same bytes for the same model: nothing here asks for the time.

pub mod board_plans;
pub mod cut_list;
pub mod drawing;
pub mod exchange;
pub mod figures;
pub mod json;
pub mod labels;
pub mod lists;
mod look;
pub mod obj;
pub mod order_of_work;
pub mod packet;
pub mod rod;
mod seen;
pub mod setup_cards;
pub mod shelf_plan;
mod stop;
pub mod tables;
mod typeset;

pub use board_plans::board_plans_pdf;
pub use cut_list::cut_list_csv;
pub use drawing::{Drafting, Page, Paper, drafted_pdf, drawing_pdf, pages, part_pages, part_sheets_pdf};
pub use figures::{Decimal, Figures, Wording};
pub use labels::{LabelSheet, labels_pdf};
pub use lists::lists_pdf;
pub use look::Wood;
pub use obj::obj;
pub use order_of_work::order_of_work_pdf;
pub use packet::{How, Packed, PacketError, Piece, packet_pdf};
pub use rod::{Over, rod_pages, rod_pdf, template_pages, templates_pdf};
pub use setup_cards::setup_cards_pdf;
pub use shelf_plan::shelf_plan_pdf;
pub use stop::{BrokenOff, Stop};
pub use tables::{boards_csv, cost_csv, take_off_csv};
pub use typeset::SheetError;
