//! What the whole job takes.

use casewright_core::Design;
use casewright_core::amounts::Bought;
use casewright_core::boards::SpentOn;
use casewright_core::job::Job;
use casewright_core::timber::How;
use serde::Serialize;

use super::{SCHEMA, tidy};

/// Hours, material and money; schema `assets/schema/cost.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CostDocument<'a> {
    /// Version of the document.
    pub schema: u32,
    /// What the piece is called.
    pub name: &'a str,
    /// The operations, in the order of the work.
    pub operations: Vec<OperationEntry>,
    /// Hours in all.
    pub hours: f64,
    /// What an hour is worth; 0 where hours are left out of the sum.
    pub hour: f64,
    /// Timber and sheets.
    pub materials: Vec<MaterialEntry<'a>>,
    /// Boards and sheets one by one, where they are laid out or bought.
    pub stock: Vec<StockEntry<'a>>,
    /// What is worth knowing of these.
    pub told: &'a [String],
    /// What is used besides, has no price and is not in the sum.
    pub besides: Vec<BesidesEntry<'a>>,
    /// What all of it costs; none as long as something has no price.
    pub total: Option<f64>,
    /// What prices are in.
    pub currency: &'a str,
    /// The decisions that would hold the prices that are missing.
    pub missing: &'a [String],
}

/// An operation.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OperationEntry {
    /// What is done.
    pub name: &'static str,
    /// How much of it.
    pub amount: f64,
    /// In what that is counted.
    pub unit: &'static str,
    /// Hours for each.
    pub each: f64,
    /// The decision that holds these.
    pub rate: &'static str,
    /// Hours in all.
    pub hours: f64,
    /// Whether they rest on a rate from memory.
    pub from_memory: bool,
}

/// A material that is bought by measure.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MaterialEntry<'a> {
    /// What it is called.
    pub name: &'a str,
    /// How much, waste included.
    pub amount: f64,
    /// In what that is counted.
    pub unit: &'static str,
    /// Whether the amount rests on figures from memory.
    pub from_memory: bool,
    /// Price of one of these, where there is one.
    pub price: Option<f64>,
}

/// Boards or sheets that are alike.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StockEntry<'a> {
    /// What they are called.
    pub name: &'a str,
    /// How many are cut into, or bought.
    pub count: u32,
    /// What one costs: 0 where it is paid for; none where nobody says what.
    pub each: Option<f64>,
    /// Whether they are bought for it.
    pub bought: bool,
}

/// What is used besides.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BesidesEntry<'a> {
    /// What it is.
    pub title: &'a str,
    /// How much.
    pub amount: f64,
    /// In what that is counted.
    pub unit: &'a str,
    /// The decision that would hold its price.
    pub price: String,
}

/// What a job takes as a document.
pub fn cost<'a>(design: &'a Design, job: &'a Job) -> CostDocument<'a> {
    let operations = job.operations.iter().map(|operation| OperationEntry {
        name: operation.name,
        amount: tidy(operation.amount),
        unit: operation.unit,
        each: tidy(operation.each),
        rate: operation.rate,
        hours: tidy(operation.hours.value),
        from_memory: operation.hours.how() == How::Memory,
    });
    let materials = job.materials.iter().map(|bought| MaterialEntry {
        name: &bought.name,
        amount: tidy(bought.amount.value),
        unit: bought.of.measure(),
        from_memory: bought.amount.how() == How::Memory,
        price: design.money.price(bought.of, &bought.id).map(tidy),
    });
    CostDocument {
        schema: SCHEMA,
        name: &design.name,
        operations: operations.collect(),
        hours: tidy(job.cost.hours.value),
        hour: tidy(design.money.hour),
        materials: materials.collect(),
        stock: job.stock.iter().flat_map(|spent| &spent.lines).map(stock).collect(),
        told: job.stock.as_ref().map_or(&[], |spent| spent.told.as_slice()),
        besides: job.besides.iter().map(besides).collect(),
        total: job.cost.total.as_ref().map(|total| tidy(total.value)),
        currency: &design.money.currency,
        missing: &job.cost.missing,
    }
}

fn stock(line: &SpentOn) -> StockEntry<'_> {
    StockEntry { name: &line.name, count: line.count, each: line.each.map(tidy), bought: line.bought }
}

fn besides(bought: &Bought) -> BesidesEntry<'_> {
    BesidesEntry { title: &bought.name, amount: tidy(bought.amount.value), unit: bought.amount.unit, price: bought.of.path(&bought.id) }
}
