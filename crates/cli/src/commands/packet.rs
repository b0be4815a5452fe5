//! `packet`: everything there is of a case, papers, tables and files for other programs, into one folder. `papers`: the papers alone.

use std::io::{self, Write as _};
use std::process::ExitCode;

use casewright_core::DryFit;
use casewright_core::design::pile;
use casewright_sheets::exchange::File;
use casewright_sheets::{Packed, Piece, Stop, packet_pdf};

use crate::arguments::{Input, PapersWords};
use crate::commands::check::{count, summary};
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output::{self, Folder};

/// Writes all of it, and says on the error output what is being made.
pub fn run(input: &Input, words: &PapersWords) -> Result<ExitCode, Failure> {
    let (mut told, case) = case(input, words)?;
    progress("dry fit and order of assembly");
    let dry_fit = DryFit::of(&case.design, &case.model, &case.solids);
    let folder = Folder::made(&words.out)?;
    let (mut papers, mut written) = (Vec::new(), 1);
    for piece in Piece::ALL {
        progress(piece.word());
        let files = make(piece, &case, &dry_fit, words)?;
        for file in &files {
            folder.write(&file.name, &file.bytes)?;
        }
        written += files.len();
        if piece.is_paper() {
            papers.extend(files);
        }
    }
    progress("all papers in one");
    let all = packet_pdf(&case.design.name, &papers, Stop::default()).map_err(|error| Failure::told(error.to_string()))?;
    folder.write("packet.pdf", &all)?;
    told.push(format!("{} in {}", count(written, "file"), words.out.display()));
    told.push(format!("{}: {}\n", case.model.name, summary(&dry_fit.findings)));
    output::print(&told.join("\n"))?;
    Ok(ExitCode::SUCCESS)
}

/// Writes the papers.
pub fn papers(input: &Input, words: &PapersWords) -> Result<ExitCode, Failure> {
    let (mut told, case) = case(input, words)?;
    let dry_fit = DryFit::of(&case.design, &case.model, &case.solids);
    let folder = Folder::made(&words.out)?;
    for piece in Piece::papers() {
        for file in make(piece, &case, &dry_fit, words)? {
            told.push(folder.write(&file.name, &file.bytes)?);
        }
    }
    told.push(format!("{}: {}\n", case.model.name, summary(&dry_fit.findings)));
    output::print(&told.join("\n"))?;
    Ok(ExitCode::SUCCESS)
}

/// The case with the pile that was named, and what is wrong with that.
fn case(input: &Input, words: &PapersWords) -> Result<(Vec<String>, Case), Failure> {
    let mut case = load::case(input)?;
    let mut told = Vec::new();
    if let Some(path) = &words.pile {
        case.design.shop.pile = load::rows(path, pile::read, &mut told)?;
    }
    Ok((told, case))
}

fn make(piece: Piece, case: &Case, dry_fit: &DryFit, words: &PapersWords) -> Result<Vec<File>, Failure> {
    let Case { design, model, solids } = case;
    let how = words.how();
    let of = Packed { design, model, solids, findings: &dry_fit.findings, order: Some(&dry_fit.order), how: &how, stop: Stop::default() };
    piece.make(&of).map_err(|error| Failure::told(format!("{}: {error}", piece.word())))
}

/// A line of progress; when nobody listens there, nothing is left to be done.
fn progress(what: &str) {
    let _ = writeln!(io::stderr().lock(), "making {what}");
}
