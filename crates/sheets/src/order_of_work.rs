//! The order of work: every job from rough stock to the case in its place with a box to tick, and the care sheet that stays with the case.

use casewright_core::OrderOfWork;
use casewright_core::work::Job;
use serde::Serialize;

use crate::drawing::Paper;
use crate::typeset::{self, Set, SheetError};

const TEMPLATE: &str = include_str!("../../../assets/sheets/order_of_work.typ");

/// What the template reads.
#[derive(Serialize)]
struct Data<'a> {
    name: &'a str,
    date: &'a str,
    chapters: Vec<Chapter<'a>>,
    care: Vec<Care<'a>>,
}

#[derive(Serialize)]
struct Chapter<'a> {
    title: &'a str,
    told: &'a [String],
    jobs: Vec<JobData<'a>>,
    cautions: &'a [String],
}

/// A job, and the things it is done to: their names with a box each, and what is said of them; without names there is one box.
#[derive(Serialize)]
struct JobData<'a> {
    words: &'a str,
    each: Vec<(&'a [String], &'a str)>,
}

#[derive(Serialize)]
struct Care<'a> {
    title: &'a str,
    words: &'a [String],
}

/// The order of work of a case as PDF, A4 upright; its last page is the care sheet.
///
/// The same order gives the same bytes.
///
/// # Errors
/// When there is nothing to do, or the typesetter fails.
pub fn order_of_work_pdf(name: &str, order: &OrderOfWork, paper: &Paper) -> Result<Vec<u8>, SheetError> {
    set(name, order, paper)?.pdf()
}

/// The same as it was set.
pub(crate) fn set(name: &str, order: &OrderOfWork, paper: &Paper) -> Result<Set, SheetError> {
    if order.count() == 0 {
        return Err(SheetError::Empty);
    }
    let chapters = order.chapters.iter().map(|it| Chapter {
        title: &it.title,
        told: &it.told,
        jobs: it.jobs.iter().map(job).collect(),
        cautions: &it.cautions,
    });
    let care = order.care.iter().map(|it| Care { title: it.title, words: &it.words });
    let data = Data { name, date: paper.date.as_deref().unwrap_or_default(), chapters: chapters.collect(), care: care.collect() };
    typeset::set(TEMPLATE, &data)
}

fn job(job: &Job) -> JobData<'_> {
    JobData { words: &job.words, each: job.each.iter().map(|each| (each.names.as_slice(), each.words.as_str())).collect() }
}
