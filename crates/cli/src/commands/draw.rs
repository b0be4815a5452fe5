//! `draw`: the shop drawings and the part sheets as files.

use std::path::PathBuf;
use std::process::ExitCode;

use casewright_core::DryFit;
use casewright_core::length::Units;
use casewright_sheets::drawing::{Angle, Decimal, Drafting, Sheet, TitleBlock, drafted_pdf, pages, part_pages, part_sheets_pdf, svg};
use clap::{Args, ValueEnum};

use crate::arguments::Input;
use crate::commands::check::summary;
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output::{self, Folder};

/// What is asked of `draw`.
#[derive(Debug, Args)]
pub struct DrawWords {
    /// The folder; it is made where it is not there
    #[arg(long, value_name = "DIR")]
    out: PathBuf,
    /// The paper: a4 and letter stand upright, a3 and a2 lie on their side
    #[arg(long, value_enum, default_value_t)]
    sheet: OnSheet,
    /// Where views stand: first has the plan below the front and the view from the left on the right, third has the plan above and the view from the right there
    #[arg(long, value_enum, default_value_t)]
    angle: InAngle,
    /// How figures are written.
    #[command(flatten)]
    figures: Figures,
    /// Title block: date of issue, as it should read; blank without it, as all of these are
    #[arg(long, default_value = "")]
    date: String,
    /// Title block: legal owner
    #[arg(long, default_value = "")]
    owner: String,
    /// Title block: identification number
    #[arg(long, default_value = "")]
    number: String,
    /// Title block: who drew it
    #[arg(long, default_value = "")]
    creator: String,
    /// Title block: who approved it
    #[arg(long, default_value = "")]
    approved: String,
}

/// How figures are written.
#[derive(Clone, Copy, Debug, Args)]
pub struct Figures {
    /// The sign before decimals
    #[arg(long, value_enum, default_value_t)]
    decimal: WithDecimal,
    /// Millimetres, or inches: fractions for what a tape is laid to, three decimals for joints and settings
    #[arg(long, value_enum, default_value_t)]
    units: InUnits,
}

impl Figures {
    /// Drawn so on a sheet.
    pub fn on(self, sheet: Sheet) -> Drafting {
        Drafting {
            sheet,
            decimal: match self.decimal {
                WithDecimal::Point => Decimal::Point,
                WithDecimal::Comma => Decimal::Comma,
            },
            units: match self.units {
                InUnits::Mm => Units::Millimetres,
                InUnits::Inches => Units::Inches,
            },
            ..Drafting::default()
        }
    }
}

/// A sheet of paper.
#[derive(Clone, Copy, Debug, Default, ValueEnum)]
pub enum OnSheet {
    /// 210 × 297, upright
    A4,
    /// 420 × 297, on its side
    #[default]
    A3,
    /// 594 × 420, on its side
    A2,
    /// 8½ × 11 in, upright
    Letter,
}

impl OnSheet {
    /// The sheet that is drawn on.
    pub fn sheet(self) -> Sheet {
        match self {
            OnSheet::A4 => Sheet::A4,
            OnSheet::A3 => Sheet::A3,
            OnSheet::A2 => Sheet::A2,
            OnSheet::Letter => Sheet::Letter,
        }
    }
}

/// A projection.
#[derive(Clone, Copy, Debug, Default, ValueEnum)]
enum InAngle {
    #[default]
    First,
    Third,
}

/// A sign before decimals.
#[derive(Clone, Copy, Debug, Default, ValueEnum)]
enum WithDecimal {
    #[default]
    Point,
    Comma,
}

/// Units of figures.
#[derive(Clone, Copy, Debug, Default, ValueEnum)]
enum InUnits {
    #[default]
    Mm,
    Inches,
}

impl DrawWords {
    fn drafting(&self) -> Drafting {
        let block = TitleBlock {
            owner: self.owner.clone(),
            number: self.number.clone(),
            date: self.date.clone(),
            creator: self.creator.clone(),
            approved: self.approved.clone(),
        };
        let angle = match self.angle {
            InAngle::First => Angle::First,
            InAngle::Third => Angle::Third,
        };
        Drafting { angle, block, ..self.figures.on(self.sheet.sheet()) }
    }
}

/// Writes the drawings into a folder.
pub fn run(input: &Input, words: &DrawWords) -> Result<ExitCode, Failure> {
    let Case { design, model, solids } = load::case(input)?;
    let dry_fit = DryFit::of(&design, &model, &solids);
    let drafting = words.drafting();
    let failed = |error: casewright_sheets::SheetError| Failure::told(error.to_string());
    let pdf = drafted_pdf(&design, &model, &solids, &dry_fit.findings, &drafting).map_err(failed)?;
    let parts = part_sheets_pdf(&design, &model, &solids, &drafting).map_err(failed)?;
    let folder = Folder::made(&words.out)?;
    let mut pages = pages(&design, &model, &solids, Some(&dry_fit.order), &drafting);
    pages.extend(part_pages(&design, &model, &solids, &drafting));
    let sheets = pages.iter().map(|page| (format!("{}.svg", page.name), svg(page).into_bytes()));
    let mut told = Vec::new();
    let together = [("drawings.pdf".to_owned(), pdf), ("part_sheets.pdf".to_owned(), parts)];
    for (name, bytes) in together.into_iter().chain(sheets) {
        told.push(folder.write(&name, &bytes)?);
    }
    told.push(format!("{}: {}\n", model.name, summary(&dry_fit.findings)));
    output::print(&told.join("\n"))?;
    Ok(ExitCode::SUCCESS)
}
