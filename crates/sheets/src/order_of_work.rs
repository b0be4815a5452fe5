//! The order of work: every job from rough stock to the case in its place with a box to tick, and the care sheet that stays with the case.

use casewright_core::work::Job;
use casewright_core::{Design, Model, OrderOfWork};
use serde::Serialize;

use crate::drawing::Paper;
use crate::figures::Wording;
use crate::typeset::{self, Set, SheetError};

const TEMPLATE: &str = include_str!("../../../assets/sheets/order_of_work.typ");

/// What the template reads.
#[derive(Serialize)]
struct Data<'a> {
    name: &'a str,
    date: &'a str,
    /// In what sizes are.
    unit: &'static str,
    chapters: Vec<Chapter<'a>>,
    care: Vec<Care<'a>>,
}

#[derive(Serialize)]
struct Chapter<'a> {
    title: &'a str,
    told: Vec<String>,
    jobs: Vec<JobData<'a>>,
    cautions: Vec<String>,
}

/// A job, and the things it is done to: their names with a box each, and what is said of them; without names there is one box.
#[derive(Serialize)]
struct JobData<'a> {
    words: String,
    each: Vec<(&'a [String], String)>,
}

#[derive(Serialize)]
struct Care<'a> {
    title: &'a str,
    words: Vec<String>,
}

/// The order of work of a case as PDF, A4 upright; its last page is the care sheet.
///
/// The same order gives the same bytes.
///
/// # Errors
/// When there is nothing to do, or the typesetter fails.
pub fn order_of_work_pdf(design: &Design, model: &Model, order: &OrderOfWork, paper: &Paper) -> Result<Vec<u8>, SheetError> {
    set(design, model, order, paper)?.pdf()
}

/// The same as it was set.
pub(crate) fn set(design: &Design, model: &Model, order: &OrderOfWork, paper: &Paper) -> Result<Set, SheetError> {
    if order.count() == 0 {
        return Err(SheetError::Empty);
    }
    let wording = Wording::of(design, model, paper.figures);
    let thumb = |words: &[String]| words.iter().map(|words| wording.thumb(words)).collect::<Vec<_>>();
    let chapters = order.chapters.iter().map(|it| Chapter {
        title: &it.title,
        told: it.told.iter().map(|words| wording.exact(words)).collect(),
        jobs: it.jobs.iter().map(|it| job(it, &wording)).collect(),
        cautions: thumb(&it.cautions),
    });
    let care = order.care.iter().map(|it| Care { title: it.title, words: thumb(&it.words) });
    let data = Data {
        name: &design.name,
        date: paper.date.as_deref().unwrap_or_default(),
        unit: paper.figures.unit(),
        chapters: chapters.collect(),
        care: care.collect(),
    };
    typeset::set(TEMPLATE, &data)
}

fn job<'j>(job: &'j Job, wording: &Wording) -> JobData<'j> {
    let each = job.each.iter().map(|each| (each.names.as_slice(), wording.exact(&each.words)));
    JobData { words: wording.exact(&job.words), each: each.collect() }
}
