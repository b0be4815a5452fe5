//! What is measured on the sheets of rods and templates: read back from their pictures, sheet by sheet, and laid together by the register marks.

use casewright_core::design::{decisions, text};
use casewright_core::model::Feature;
use casewright_core::rod::{Stick, rod};
use casewright_core::{Model, derive};
use casewright_sheets::drawing::{Drafting, Page, Sheet, svg};
use casewright_sheets::{Over, rod_pages, template_pages};
use glam::DVec2;

const EXAMPLES: [(&str, &str); 5] = [
    ("records_cabinet", include_str!("../../../examples/records_cabinet.ron")),
    ("workroom_mixed", include_str!("../../../examples/workroom_mixed.ron")),
    ("bookcase_on_pins", include_str!("../../../examples/bookcase_on_pins.ron")),
    ("jar_store_on_cleats", include_str!("../../../examples/jar_store_on_cleats.ron")),
    ("linen_shelves_housed", include_str!("../../../examples/linen_shelves_housed.ron")),
];

/// What the issue asks of the page, mm.
const RIGHT_TO: f64 = 0.1;

fn model(text_of: &str, changes: &[(&str, &str)]) -> Model {
    let mut design = text::read(text_of).expect("a design");
    for (path, value) in changes {
        decisions::set(&mut design, path, value).expect("a decision");
    }
    derive(&design).expect("a case")
}

/// A page as it is read back from its picture, a unit a mm.
struct Sheets {
    name: String,
    lines: Vec<Vec<DVec2>>,
    texts: Vec<(DVec2, String)>,
}

fn attribute<'t>(element: &'t str, name: &str) -> Option<&'t str> {
    let from = element.find(&format!("{name}=\""))? + name.len() + 2;
    element.get(from..)?.split('"').next()
}

fn read(page: &Page) -> Sheets {
    let picture = svg(page);
    let size = DVec2::new(page.size.x, page.size.y);
    assert!(
        picture.contains(&format!("width=\"{}mm\" height=\"{}mm\" viewBox=\"0 0 {} {}\"", size.x, size.y, size.x, size.y)),
        "a unit is no mm"
    );
    let mut read = Sheets { name: page.name.clone(), lines: Vec::new(), texts: Vec::new() };
    let number = |text: &str| text.trim().parse::<f64>().expect("a number");
    for element in picture.lines() {
        if element.starts_with("<path fill=\"none\"") {
            for line in attribute(element, " d").expect("a path").split('M').filter(|line| !line.is_empty()) {
                let points = line.split('L').map(|at| at.split_once(' ').expect("two numbers"));
                read.lines.push(points.map(|(x, y)| DVec2::new(number(x), number(y))).collect());
            }
        } else if element.starts_with("<text x=") {
            let at = DVec2::new(number(attribute(element, "<text x").expect("x")), number(attribute(element, " y").expect("y")));
            let words = element.split_once('>').and_then(|(_, rest)| rest.strip_suffix("</text>")).expect("words");
            read.texts.push((at, words.to_owned()));
        }
    }
    read
}

impl Sheets {
    fn pieces(&self) -> impl Iterator<Item = (DVec2, DVec2)> + '_ {
        self.lines.iter().flat_map(|line| line.windows(2).map(|ends| (ends[0], ends[1])))
    }

    /// Level pieces of a length.
    fn level(&self, long: f64) -> Vec<(DVec2, DVec2)> {
        self.pieces().filter(|(a, b)| (a.y - b.y).abs() < 1e-6 && ((a.x - b.x).abs() - long).abs() < 0.01).collect()
    }

    /// The bars of a page, along it and across it, by the rectangles that are nearly so long.
    fn bars(&self) -> [Vec<f64>; 2] {
        let mut bars = [Vec::new(), Vec::new()];
        for line in self.lines.iter().filter(|line| line.len() == 5 && line[0].distance(line[4]) < 1e-9) {
            let size = (line[2] - line[0]).abs();
            for (axis, found) in bars.iter_mut().enumerate() {
                if (95.0..105.0).contains(&size[axis]) && (2.0..3.0).contains(&size[1 - axis]) {
                    found.push(size[axis]);
                }
            }
        }
        bars
    }

    /// Register marks: crosses of two lines of 8, each with its letter beside it.
    fn marks(&self) -> Vec<(DVec2, &str)> {
        let middle = |(a, b): (DVec2, DVec2)| (a + b) / 2.0;
        let upright = |centre: DVec2| {
            self.pieces()
                .any(|(a, b)| (a.x - b.x).abs() < 1e-6 && ((a.y - b.y).abs() - 8.0).abs() < 1e-3 && middle((a, b)).distance(centre) < 1e-3)
        };
        let crosses = self.level(8.0).into_iter().map(middle).filter(|centre| upright(*centre));
        let letter = |centre: DVec2| {
            let near = self.texts.iter().min_by(|a, b| a.0.distance(centre).total_cmp(&b.0.distance(centre)));
            near.map_or("", |(_, words)| words.as_str())
        };
        crosses.map(|centre| (centre, letter(centre))).collect()
    }
}

/// How far each sheet is to be moved to lie on the first, by its register marks; they must agree at both sides.
fn laid_together(sheets: &[Sheets]) -> Vec<DVec2> {
    let mut moves = vec![DVec2::ZERO];
    for (number, pair) in sheets.windows(2).enumerate() {
        let letter = char::from(b'A' + number as u8).to_string();
        let [below, above] = [0, 1].map(|sheet: usize| {
            let mut marks: Vec<DVec2> = pair[sheet].marks().into_iter().filter(|(_, own)| *own == letter).map(|(at, _)| at).collect();
            marks.sort_by(|a, b| a.x.total_cmp(&b.x));
            assert_eq!(marks.len(), 2, "{}: two marks {letter}", pair[sheet].name);
            marks
        });
        let by = [below[0] - above[0], below[1] - above[1]];
        assert!(by[0].distance(by[1]) < 1e-3 && by[0].x.abs() < 1e-3, "{}: the marks of neighbours coincide: {by:?}", pair[1].name);
        assert!(below[1].x - below[0].x > 100.0, "they stand far apart");
        moves.push(moves[number] + by[0]);
    }
    moves
}

/// Width of the strip, and first, pitch, depth and number of the seats of each row of teeth.
fn rows(model: &Model) -> Vec<[f64; 5]> {
    let mut rows: Vec<[f64; 5]> = Vec::new();
    for (part, cut) in model.parts.iter().flat_map(|part| part.cuts.iter().map(move |cut| (part, cut))) {
        if let Feature::Teeth { first, pitch, seat, count, .. } = cut.feature {
            let row = [part.lwt().y, first, pitch, seat, f64::from(count)];
            if !rows.contains(&row) {
                rows.push(row);
            }
        }
    }
    rows
}

fn all_pages(model: &Model, drafting: &Drafting, over: Over) -> Vec<Page> {
    let mut pages = rod_pages(model, drafting, over);
    pages.extend(template_pages(model, drafting, over));
    pages
}

#[test]
fn every_sheet_has_its_two_bars_of_100() {
    let mut seen = 0;
    for (name, of) in EXAMPLES {
        let model = model(of, &[]);
        for (sheet, over) in [(Sheet::A4, Over::Sheets), (Sheet::Letter, Over::Sheets), (Sheet::A4, Over::OnePage)] {
            for page in all_pages(&model, &Drafting { sheet, ..Drafting::default() }, over) {
                for bars in read(&page).bars() {
                    let [bar] = bars.as_slice() else { panic!("{name}, {}: {bars:?}", page.name) };
                    assert!((bar - 100.0).abs() < RIGHT_TO, "{name}, {}: {bar}", page.name);
                }
                seen += 1;
            }
        }
    }
    assert!(seen > 100, "{seen}");
}

#[test]
fn teeth_stand_on_the_page_where_the_model_has_them() {
    let other = [("sawtooth.pitch", "25.4"), ("sawtooth.seat", "13"), ("sawtooth.first", "31.3")];
    for (of, changes) in [(EXAMPLES[0].1, &[][..]), (EXAMPLES[0].1, &other[..]), (EXAMPLES[1].1, &[])] {
        let model = model(of, changes);
        let rows = rows(&model);
        assert!(!rows.is_empty());
        for (sheet, over) in [(Sheet::A4, Over::Sheets), (Sheet::Letter, Over::Sheets), (Sheet::A4, Over::OnePage)] {
            let pages = template_pages(&model, &Drafting { sheet, ..Drafting::default() }, over);
            let sheets: Vec<Sheets> = pages.iter().filter(|page| page.title.starts_with("Teeth")).map(read).collect();
            assert!(over == Over::OnePage || sheets.len() > 3);
            let moves = laid_together(&sheets);
            for [wide, first, pitch, seat, count] in &rows {
                let seats: Vec<f64> =
                    sheets.iter().zip(&moves).flat_map(|(sheet, by)| sheet.level(*seat).into_iter().map(|(a, _)| a.y + by.y)).collect();
                // The lower end of the standard, from the sheet that shows it.
                let low = sheets[0].level(*wide).into_iter().map(|(a, _)| a.y).fold(f64::NEG_INFINITY, f64::max);
                for tooth in 0..*count as u32 {
                    let wanted = low - (first + pitch * f64::from(tooth));
                    let nearest = seats.iter().map(|at| (at - wanted).abs()).fold(f64::INFINITY, f64::min);
                    assert!(nearest < RIGHT_TO, "tooth {tooth} is {nearest} off on {sheet:?}, {over:?}");
                }
                // And no others: what stands twice stands on the overlap of two sheets.
                let strange = seats
                    .iter()
                    .filter(|at| ((low - **at - first) / pitch).fract().abs() > 0.01 && ((low - **at - first) / pitch).fract() < 0.99);
                assert_eq!(strange.count(), 0);
            }
        }
    }
}

/// Each stick's lines, laid together: the lowest line of the first sheet is where the stick begins.
fn lines_of(stick: &Stick, pages: &[Page]) {
    let name = format!("rod-{}", stick.way.word());
    let sheets: Vec<Sheets> = pages.iter().filter(|page| page.name.starts_with(&name)).map(read).collect();
    let moves = laid_together(&sheets);
    let is_foot = |sheet: &Sheets, at: DVec2| sheet.bars().iter().flatten().count() == 2 && at.y > pages[0].size.y - 33.0;
    let mut levels: Vec<f64> = Vec::new();
    for (sheet, by) in sheets.iter().zip(&moves) {
        let level = sheet.pieces().filter(|(a, b)| (a.y - b.y).abs() < 1e-6 && (a.x - b.x).abs() > 1.0 && !is_foot(sheet, *a));
        levels.extend(level.map(|(a, _)| a.y + by.y));
    }
    // In bands and lines the rod reaches from its least to its greatest.
    let words = |at: f64| Drafting::default().figure(at + 0.0);
    let mut datums: Vec<f64> = levels.iter().map(|level| level + stick.from).collect();
    datums.retain(|datum| stick.lines.iter().all(|line| levels.iter().any(|level| (datum - line.at - level).abs() < RIGHT_TO)));
    assert!(!datums.is_empty(), "{name}: its lines stand nowhere as the model has them");
    for line in &stick.lines {
        let figure = words(line.at);
        assert!(sheets.iter().any(|sheet| sheet.texts.iter().any(|(_, own)| *own == figure)), "{name}: {figure} is not written");
    }
}

#[test]
fn the_lines_of_every_rod_lie_where_the_model_has_them_and_are_named() {
    for (_, of) in EXAMPLES {
        let model = model(of, &[]);
        let pages = rod_pages(&model, &Drafting::default(), Over::Sheets);
        for stick in rod(&model) {
            lines_of(&stick, &pages);
        }
    }
}

/// What is printed stands on the sheet, and no words stand on others.
#[test]
fn no_words_stand_on_others_or_off_the_sheet() {
    for (name, of) in EXAMPLES {
        let model = model(of, &[]);
        for sheet in [Sheet::A4, Sheet::Letter] {
            for page in all_pages(&model, &Drafting { sheet, ..Drafting::default() }, Over::Sheets) {
                for (index, one) in page.ink.texts.iter().enumerate() {
                    let (min, max) = one.room();
                    let on = min.cmpgt(DVec2::splat(7.0)).all() && max.cmplt(page.size - 7.0).all();
                    assert!(on, "{name}, {}: \"{}\" is off the sheet", page.name, one.text);
                    for other in &page.ink.texts[index + 1..] {
                        let (low, high) = other.room();
                        let apart = min.cmpge(high - 0.1).any() || low.cmpge(max - 0.1).any();
                        assert!(apart, "{name}, {}: \"{}\" and \"{}\" stand on each other", page.name, one.text, other.text);
                    }
                }
            }
        }
    }
}
