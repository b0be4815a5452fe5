//! The shop drawings: front, side and plan, sections, joints at 1:1 or 1:2, the case taken apart with its marks, and the stages of assembly.
//!
//! Drawn with reference to ISO 128 (lines), ISO 129 (dimensions), ISO 5455 (scales), ISO 5456 (projection), ISO 5457 (sheets) and ISO 7200
//! (title block), and to common practice in shops: oblique strokes, heights of shelves at small triangles, end grain in slanting lines.
//!
//! ```text
//! Model, Solids ──solid::view──▶ lines and cut faces ──Drawn, Book──▶ Ink: a view at scale with its dimensions ──layout──▶ Page
//! Page ──svg()──▶ a picture      Pages ──typeset──▶ PDF
//! ```
//!
//! [`pages`] gives plain data: lines with pens, words, areas, and what each figure measures. Which distance was said is kept in one book for
//! all sheets, so that each is said once, and one that follows from others stands in parentheses.

mod apart;
mod book;
mod details;
mod drafting;
mod drawn;
mod frame;
mod from;
mod grain;
mod hatch;
mod layout;
mod lettering;
mod levels;
mod notes;
mod page;
mod parts;
mod pictures;
mod rows;
mod sections;
mod svg;
mod typeset;
mod views;

use casewright_core::length::trimmed;
use casewright_core::{Design, Finding, Model, Sequence, Solids};
use glam::DVec2;

pub use crate::figures::Decimal;

pub use self::drafting::{Angle, Drafting, Sheet, TitleBlock};
pub use self::page::{Anchor, Area, Dimension, Fill, Ink, Page, Pen, Stroke, Text};
pub(crate) use self::parts::part_sheets_until;
pub use self::parts::{PartDrawing, part_drawings, part_pages, part_sheets_pdf};
pub use self::svg::svg;
pub use self::typeset::pages_pdf;

pub(crate) use self::hatch::clipped;
pub(crate) use self::lettering::{CAPITAL, width_of};
pub(crate) use self::page::inside;
pub(crate) use self::rows::spread;

use self::book::Book;
use self::drafting::SCALES;
use self::from::From;
use self::sections::Section;
use self::views::Views;
use crate::figures::Figures;
use crate::labels::LabelSheet;
use crate::stop::{BrokenOff, Stop};
use crate::typeset::SheetError;

/// What is said on the paper besides what follows from the design.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Paper {
    /// Date of issue, as it should read; left blank to be written by hand when there is none.
    pub date: Option<String>,
    /// On which sheets stick-on labels are printed.
    pub labels: LabelSheet,
    /// How many labels of the first sheet are used up.
    pub used: u32,
    /// How lengths are written.
    pub figures: Figures,
}

/// The wide line of sheets on which the whole case is drawn small, and of those with joints, mm (ISO 128-2).
const WIDE: f64 = 0.35;
const WIDER: f64 = 0.5;

/// From this scale on the plan may stand beside the other views where there is no room in its line.
const OUT_OF_LINE: f64 = 10.0;

/// The drawings of a case, made as they are by default: see [`drafted_pdf`].
///
/// # Errors
/// When there are no parts, or the typesetter fails.
pub fn drawing_pdf(design: &Design, model: &Model, solids: &Solids, findings: &[Finding], paper: &Paper) -> Result<Vec<u8>, SheetError> {
    let block = TitleBlock { date: paper.date.clone().unwrap_or_default(), ..TitleBlock::default() };
    drafted_pdf(design, model, solids, findings, &Drafting { block, ..Drafting::default() })
}

/// The drawings of a case as PDF, then in words how it is made, what the checks found, the cut list, and the cautions that apply.
///
/// The same design gives the same bytes.
///
/// # Errors
/// When there are no parts, or the typesetter fails.
pub fn drafted_pdf(
    design: &Design,
    model: &Model,
    solids: &Solids,
    findings: &[Finding],
    drafting: &Drafting,
) -> Result<Vec<u8>, SheetError> {
    let order = Sequence::of(design, model, solids);
    drafted_until((design, model, solids), &order, findings, drafting, Stop::default())
}

/// The same of a known order of assembly, broken off between two drawings where it is to stop.
pub(crate) fn drafted_until(
    (design, model, solids): (&Design, &Model, &Solids),
    order: &Sequence,
    findings: &[Finding],
    drafting: &Drafting,
    stop: Stop<'_>,
) -> Result<Vec<u8>, SheetError> {
    let pages = pages_until(design, model, solids, Some(order), drafting, stop)?;
    if pages.is_empty() {
        return Err(SheetError::Empty);
    }
    stop.go_on()?;
    typeset::pdf(&typeset::Papers { design, model, findings, pages: &pages, drafting })
}

/// The sheets of the drawings as plain data, in order; none of a case without parts. The case taken apart and the stages of assembly
/// are among them where its order of assembly is given.
///
/// The same design gives the same pages.
pub fn pages(design: &Design, model: &Model, solids: &Solids, order: Option<&Sequence>, drafting: &Drafting) -> Vec<Page> {
    // Nothing stops it.
    pages_until(design, model, solids, order, drafting, Stop::default()).unwrap_or_default()
}

fn pages_until(
    design: &Design,
    model: &Model,
    solids: &Solids,
    order: Option<&Sequence>,
    drafting: &Drafting,
    stop: Stop<'_>,
) -> Result<Vec<Page>, BrokenOff> {
    stop.go_on()?;
    let mut book = Book::default();
    let mut drafts = Vec::new();
    drafts.extend(three_views(model, solids, drafting, &mut book));
    if drafts.is_empty() {
        return Ok(Vec::new());
    }
    drafts.extend(sections(model, solids, drafting, &mut book, stop)?);
    drafts.extend(joints(model, solids, drafting, &mut book, stop)?);
    if let Some(order) = order {
        drafts.extend(taken_apart(model, solids, order, drafting, stop)?);
    }
    Ok(framed(&design.name, drafts, drafting))
}

/// A sheet before it has its frame.
struct Draft {
    name: &'static str,
    title: &'static str,
    scale: String,
    wide: f64,
    ink: Ink,
}

/// The sheets with their frames and title blocks, numbered.
fn framed(name: &str, drafts: Vec<Draft>, drafting: &Drafting) -> Vec<Page> {
    let sheets = drafts.len();
    let page = |(number, draft): (usize, Draft)| {
        let mut ink = draft.ink;
        ink.clear();
        let told = frame::Told { title: name, content: draft.title, scale: &draft.scale, sheet: number + 1, sheets };
        frame::draw(&mut ink, drafting, &told);
        Page {
            name: format!("{}-{}", number + 1, draft.name),
            title: draft.title.to_owned(),
            size: drafting.sheet.size(),
            wide: draft.wide,
            ink,
        }
    };
    drafts.into_iter().enumerate().map(page).collect()
}

fn side_from(angle: Angle) -> From {
    match angle {
        Angle::First => From::Left,
        Angle::Third => From::Right,
    }
}

fn scale_words(scale: f64) -> String {
    format!("1:{}", trimmed(scale))
}

/// Front, side and plan, as large as they go on the sheet.
fn three_views(model: &Model, solids: &Solids, drafting: &Drafting, book: &mut Book) -> Option<Draft> {
    let from = side_from(drafting.angle);
    let views = Views::look(model, solids, from);
    let planes = sections::planes(model, from);
    let mut last = None;
    for scale in SCALES {
        let mut tried = Book::default();
        let mut drawn = views.draw(drafting, scale, &mut tried)?;
        for plane in &planes {
            sections::mark(&mut drawn[0], plane);
        }
        let [front, side, plan] = &mut drawn;
        front.heading("Front");
        side.heading(if from == From::Left { "From the left" } else { "From the right" });
        plan.heading_beside("Plan");
        let place = |beside| layout::three(&drawn, drafting.sheet, drafting.angle, beside);
        // Rather out of its line than so small that nothing can be read.
        let places = place(false).or_else(|| if scale >= OUT_OF_LINE { place(true) } else { None });
        let fits = places.is_some();
        last = Some((drawn, places, tried, scale));
        if fits {
            break;
        }
    }
    let (drawn, places, said, scale) = last?;
    // A case that goes on no sheet even at the smallest scale runs over the edge rather than being left out.
    let places = places.unwrap_or([DVec2::new(60.0, 120.0); 3]);
    *book = said;
    let mut ink = Ink::default();
    for (drawn, place) in drawn.into_iter().zip(places) {
        ink.add(drawn.ink, place);
    }
    Some(Draft { name: "views", title: "Views", scale: scale_words(scale), wide: WIDE, ink })
}

/// The sections through the whole case, each as large as it goes on a sheet.
fn sections(model: &Model, solids: &Solids, drafting: &Drafting, book: &mut Book, stop: Stop<'_>) -> Result<Vec<Draft>, BrokenOff> {
    let room = frame::room(drafting.sheet.size());
    let mut inks = Vec::new();
    let mut scales: Vec<String> = Vec::new();
    for plane in sections::planes(model, side_from(drafting.angle)) {
        stop.go_on()?;
        let section = Section::cut(model, solids, plane);
        let Some((min, max)) = section.bounds() else { continue };
        let may_go = |scale: &f64| ((max - min) / *scale + 16.0).cmple(room.1 - room.0).all() || *scale >= SCALES[SCALES.len() - 1];
        let mut last = None;
        for scale in SCALES.into_iter().filter(|scale| *scale >= 5.0).filter(may_go) {
            let mut tried = book.clone();
            let Some(drawn) = section.draw(drafting, scale, &mut tried) else { break };
            let fits = !layout::rows(std::slice::from_ref(&drawn.ink), drafting.sheet).is_empty();
            last = Some((drawn.ink, tried, scale));
            if fits {
                break;
            }
        }
        if let Some((ink, said, scale)) = last {
            *book = said;
            inks.push(ink);
            scales.push(scale_words(scale));
        }
    }
    scales.dedup();
    let like = Draft { name: "sections", title: "Sections", scale: scales.join(", "), wide: WIDE, ink: Ink::default() };
    Ok(in_rows(inks, drafting, &like))
}

/// Each kind of joint, its views side by side, as many on a sheet as go there.
fn joints(model: &Model, solids: &Solids, drafting: &Drafting, book: &mut Book, stop: Stop<'_>) -> Result<Vec<Draft>, BrokenOff> {
    let (min, max) = frame::room(drafting.sheet.size());
    let mut inks = Vec::new();
    for (number, details) in details::of(model, solids, side_from(drafting.angle)).into_iter().enumerate() {
        stop.go_on()?;
        let mut together: Option<(Ink, f64)> = None;
        let legend = details.first().map(|detail| detail.legend(drafting)).unwrap_or_default();
        for detail in details {
            let drawn = detail.draw(drafting, &(number + 1).to_string(), book);
            let top = drawn.at(drawn.bounds.1).y;
            let Some((ink, first_top)) = together.as_mut() else {
                together = Some((drawn.ink, top));
                continue;
            };
            let (own, other) = (ink.room().unwrap_or_default(), drawn.ink.room().unwrap_or_default());
            let by = DVec2::new(own.1.x - other.0.x + 7.0, *first_top - top);
            if other.1.x + by.x - own.0.x < max.x - min.x - 12.0 {
                ink.add(drawn.ink, by);
            } else {
                inks.push(std::mem::replace(ink, drawn.ink));
            }
        }
        inks.extend(together.map(|(mut ink, _)| {
            words_under(&mut ink, &legend);
            ink
        }));
    }
    let like = Draft { name: "joints", title: "Joints", scale: "1:1, 1:2".to_owned(), wide: WIDER, ink: Ink::default() };
    Ok(in_rows(inks, drafting, &like))
}

/// Lines of words under what is drawn, no longer than that unless it is narrow.
fn words_under(ink: &mut Ink, lines: &[String]) {
    const NARROW: f64 = 100.0;
    const LONG: f64 = 165.0;
    let (min, max) = ink.room().unwrap_or_default();
    let wide = (max.x - min.x).clamp(NARROW, LONG);
    let mut y = max.y + 3.5;
    for line in lines {
        for (number, part) in drawn::wrapped(line, wide - 3.0, lettering::LETTERING).into_iter().enumerate() {
            let indent = if number == 0 { 0.0 } else { 3.0 };
            ink.text(Text::new(DVec2::new(min.x + indent, y), Anchor::Start, lettering::LETTERING, part));
            y += lettering::LETTERING + 1.4;
        }
    }
}

/// As many drawings on a sheet as go there, on as many sheets as it takes.
fn in_rows(mut inks: Vec<Ink>, drafting: &Drafting, like: &Draft) -> Vec<Draft> {
    let mut drafts = Vec::new();
    while !inks.is_empty() {
        let moves = layout::rows(&inks, drafting.sheet);
        // One that goes on no sheet runs over the edge rather than being left out.
        let moves = if moves.is_empty() { vec![frame::room(drafting.sheet.size()).0 + 30.0] } else { moves };
        let rest = inks.split_off(moves.len().min(inks.len()));
        let mut ink = Ink::default();
        for (own, by) in std::mem::replace(&mut inks, rest).into_iter().zip(moves) {
            ink.add(own, by);
        }
        drafts.push(Draft { scale: like.scale.clone(), ink, ..*like });
    }
    drafts
}

/// The case taken apart, and the stages in which it goes together.
fn taken_apart(model: &Model, solids: &Solids, order: &Sequence, drafting: &Drafting, stop: Stop<'_>) -> Result<Vec<Draft>, BrokenOff> {
    stop.go_on()?;
    let (min, max) = frame::room(drafting.sheet.size());
    let room = (min + 4.0, max - DVec2::new(4.0, frame::BLOCK.y + 4.0));
    let draft = |name, title, wide, ink| Draft { name, title, scale: "not to scale".to_owned(), wide, ink };
    let apart = apart::exploded(model, solids, order, room).map(|ink| draft("apart", "Taken apart", WIDE, ink));
    let stages = pictures::assembly(model, solids, order, room, stop)?;
    let stages = stages.into_iter().map(|ink| draft("assembly", "Stages of assembly", WIDE, ink));
    Ok(apart.into_iter().chain(stages).collect())
}

#[cfg(test)]
mod tests;
