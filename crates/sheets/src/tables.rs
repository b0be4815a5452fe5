//! What a case takes, costs and is cut from, as tables that any spreadsheet opens. Lengths are millimetres.

use casewright_core::boards::Cutting;
use casewright_core::job::Job;
use casewright_core::length::trimmed_to;
use casewright_core::takeoff::TakeOff;
use casewright_core::timber::How;
use casewright_core::worked::Worked;
use casewright_core::{Design, Model};

/// A row of names, then the rows.
fn table<const N: usize>(head: [&str; N], rows: impl IntoIterator<Item = [String; N]>) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing to memory can't fail, and every record has as many fields as the first.
    let mut write = |record: [String; N]| writer.write_record(&record).unwrap_or_default();
    write(head.map(str::to_owned));
    rows.into_iter().for_each(write);
    String::from_utf8_lossy(&writer.into_inner().unwrap_or_default()).into_owned()
}

fn figure(value: f64) -> String {
    trimmed_to(value, 6)
}

/// The take-off: timber by boards, sheets, what is bought ready, finish and glue, a line each with what is bought of it.
pub fn take_off_csv(taken: &TakeOff) -> String {
    let TakeOff { timber, sheets, veneer, bought, finish, litres, glue } = taken;
    let line = |[what, name, board]: [&str; 3], pieces: usize, amount: f64, to_buy: f64, unit: &str, how: &str| {
        [what, name, board, &pieces.to_string(), &figure(amount), &figure(to_buy), unit, how].map(str::to_owned)
    };
    let of = |what: [&str; 3], pieces: usize, amount: &Worked, to_buy: &Worked, unit: &str| {
        line(what, pieces, amount.value, to_buy.value, unit, &obtained(to_buy))
    };
    let timber = timber.iter().map(|it| of(["timber", &it.made_of, &it.board], it.pieces, &it.volume, &it.to_buy, "m³"));
    let sheets = sheets.iter().map(|it| of(["sheet", &it.made_of, &figure(it.thickness)], it.pieces, &it.area, &it.to_buy, "m²"));
    let veneer = veneer.iter().flat_map(|it| {
        let both = Worked::given("both", it.faces.value + it.balancing.value, "m²");
        let unit = it.to_buy.unit;
        [of(["veneer", &it.made_of, &figure(it.thickness)], 0, &both, &it.to_buy, unit)]
    });
    let ready = bought.iter().map(|it| line(["bought", &it.title, ""], it.count, it.count as f64, it.count as f64, "pieces", ""));
    let finish = finish.iter().map(|area| of(["finish", "area", ""], 0, area, area, "m²"));
    let litres = litres.iter().map(|litres| of(["finish", "finish", ""], 0, litres, litres, "l"));
    let glue = [of(["glue", "glue", ""], 0, glue, glue, "g")];
    let head = ["what", "name", "board", "pieces", "amount", "to_buy", "unit", "how"];
    table(head, timber.chain(sheets).chain(veneer).chain(ready).chain(finish).chain(litres).chain(glue))
}

/// How a figure was obtained, where it is no better than memory.
fn obtained(figure: &Worked) -> String {
    if figure.how() == How::Memory { How::Memory.words().to_owned() } else { String::new() }
}

/// The hours of a job and its material, a line an operation or a material, with what it costs where that is known.
pub fn cost_csv(design: &Design, job: &Job) -> String {
    let money = &design.money;
    let work = job.operations.iter().map(|of| {
        let cost = if money.hour > 0.0 { figure(of.hours.value * money.hour) } else { String::new() };
        let [each, hours] = [of.each, of.hours.value].map(figure);
        ["work".to_owned(), of.name.to_owned(), figure(of.amount), of.unit.to_owned(), each, hours, cost, obtained(&of.hours)]
    });
    let material = job.materials.iter().map(|of| {
        let price = money.price(of.of, &of.id);
        let [each, cost] = [price, price.map(|price| price * of.amount.value)].map(|money| money.map(figure).unwrap_or_default());
        let amount = figure(of.amount.value);
        ["material".to_owned(), of.name.clone(), amount, of.of.measure().to_owned(), each, String::new(), cost, obtained(&of.amount)]
    });
    let stock = job.stock.iter().flat_map(|spent| &spent.lines).map(|line| {
        let [each, cost] = [line.each, line.cost()].map(|money| money.map(figure).unwrap_or_default());
        let what = if line.bought { "bought" } else { "on hand" };
        let [count, none] = [line.count.to_string(), String::new()];
        [what.to_owned(), line.name.clone(), count, "pieces".to_owned(), each, none.clone(), cost, none]
    });
    table(["what", "name", "amount", "unit", "each", "hours", "cost", "how"], work.chain(stock).chain(material))
}

/// Which piece lies where on which board, a line a piece; then what finds no place, with the reason in place of the board.
pub fn boards_csv(design: &Design, model: &Model, cutting: &Cutting) -> String {
    let placed = cutting.boards.iter().flat_map(|board| {
        let stuff = design.shop.pile.get(board.entry);
        let name = stuff.map(|stuff| board.called(stuff)).unwrap_or_default();
        board.pieces.iter().map(move |piece| {
            let [x, y, length, width] = [piece.x, piece.y, piece.length, piece.width].map(figure);
            [name.clone(), piece.words.clone(), model.part(piece.part).name.clone(), x, y, length, width]
        })
    });
    let left = cutting.left.iter().map(|left| {
        let none = String::new;
        [left.words.clone(), format!("{} × {}", left.count, left.mark), none(), none(), none(), none(), none()]
    });
    table(["board", "piece", "part", "x_mm", "y_mm", "length_mm", "width_mm"], placed.chain(left))
}

#[cfg(test)]
mod tests {
    use casewright_core::boards::{Effort, cut};
    use casewright_core::derive;
    use casewright_core::design::{pile, text};
    use casewright_core::table::Bare;

    use super::*;

    fn rows(csv: &str) -> Vec<csv::StringRecord> {
        csv::Reader::from_reader(csv.as_bytes()).records().map(|row| row.expect("as many fields as names")).collect()
    }

    #[test]
    fn every_table_has_a_line_for_all_that_it_tells() {
        let mut design = text::read(include_str!("../../../examples/records_cabinet.ron")).expect("the demo");
        design.shop.pile = pile::read(include_str!("../../../examples/pile.csv"), Bare::Mm).rows;
        let model = derive(&design).expect("the demo");
        let taken = TakeOff::of(&design, &model);
        let told = rows(&take_off_csv(&taken));
        assert_eq!(told.len(), taken.timber.len() + taken.sheets.len() + taken.bought.len() + 3);
        let job = Job::of(&design, &model);
        let told = rows(&cost_csv(&design, &job));
        let sum: f64 = told.iter().map(|row| row[6].parse::<f64>().expect("a cost")).sum();
        assert!((sum - job.cost.total.as_ref().expect("all has a price").value).abs() < 0.01, "{sum}");
        let cutting = cut(&design, &model, Effort::rounds(1));
        let told = rows(&boards_csv(&design, &model, &cutting));
        assert_eq!(told.len(), cutting.boards.iter().map(|board| board.pieces.len()).sum::<usize>() + cutting.left.len());
        assert!(told.iter().any(|row| row[0].starts_with("D4 (1 of 2)")));
    }
}
