//! How long the drawings of the demo take without typesetting; the aim is 150 ms for all sheets. Run with `cargo bench -p casewright-sheets`.

use casewright_core::{Sequence, ShapeCache, derive};
use casewright_sheets::drawing::{Drafting, svg};
use casewright_sheets::pages;
use divan::{Bencher, black_box};

const DEMO: &str = include_str!("../../../examples/records_cabinet.ron");

fn main() {
    divan::main();
}

/// Views, sections and joints; with `pictures` the case taken apart and the stages of assembly too.
#[divan::bench(args = ["sheets", "sheets and pictures", "sheets and pictures as SVG"])]
fn demo(bencher: Bencher, what: &str) {
    let design = casewright_core::design::text::read(DEMO).expect("the demo");
    let model = derive(&design).expect("a case");
    let solids = ShapeCache::default().shape(&model);
    let order = Sequence::of(&design, &model, &solids);
    let order = (what != "sheets").then_some(&order);
    bencher.bench(|| {
        let pages = pages(black_box(&design), &model, &solids, order, &Drafting::default());
        if what.ends_with("SVG") { pages.iter().map(|page| svg(page).len()).sum() } else { pages.len() }
    });
}
