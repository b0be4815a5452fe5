//! Bad stock and bad pieces: said by field, and everything else laid out.

use casewright_cutting::boards::{Cuts, Layout, Piece, Reason, Stock, Task};

use crate::made::{laid, rail, stick, task};

fn fields(layout: &Layout) -> Vec<&str> {
    layout.faults.iter().map(|fault| fault.field.as_str()).collect()
}

fn good() -> Task {
    Task { kerf: 3.2, trim: 15.0, stock: vec![stick(2440.0)], pieces: vec![rail(600.0, 4)], ..task(Cuts::Lengths) }
}

#[test]
fn a_board_shorter_than_its_trims_is_told_and_the_rest_laid_out() {
    let mut task = good();
    task.stock.insert(0, stick(30.0));
    let layout = laid(&task, 1);
    assert_eq!(fields(&layout), ["stock[0].length"]);
    let told = layout.faults[0].to_string();
    assert!(told.contains("30 mm") && told.contains("15 mm") && told.contains("more than 30 mm"), "{told}");
    assert_eq!((layout.count, layout.used[0].line), (1, 1));
    assert!(layout.unplaced.is_empty());
}

#[test]
fn a_piece_longer_than_any_board_is_told_and_does_not_spoil_the_proof() {
    let mut task = good();
    task.pieces.insert(0, rail(2410.1, 2));
    let layout = laid(&task, 1);
    assert_eq!(fields(&layout), ["pieces[0].length"]);
    assert_eq!((layout.unplaced[0].count, layout.unplaced[0].reason), (2, Reason::TooLarge));
    assert_eq!(layout.count, 1);
    assert!(layout.proven);
    task.pieces[0].length = 2410.0;
    assert!(laid(&task, 1).unplaced.is_empty());
}

#[test]
fn figures_that_cannot_be_are_told_by_field() {
    for bad in [f64::NAN, f64::INFINITY, -1.0, 2e9] {
        let mut task = good();
        task.stock.push(Stock { cost: bad, ..stick(1000.0) });
        task.stock.push(stick(bad));
        task.pieces.push(rail(bad, 3));
        task.pieces.push(Piece { value: Some(bad), ..rail(100.0, 1) });
        let layout = laid(&task, 1);
        assert_eq!(fields(&layout), ["stock[1].cost", "stock[2].length", "pieces[1].length", "pieces[2].value"], "{bad}");
        assert_eq!(layout.count, 1);
        assert!(layout.unplaced.iter().all(|left| left.reason == Reason::Faulty));
    }
}

#[test]
fn what_spoils_the_whole_is_told_and_nothing_laid_out() {
    let spoilt = [
        ("kerf", Task { kerf: -0.1, ..good() }),
        ("trim", Task { trim: f64::NAN, ..good() }),
        ("stages", Task { stages: Some(4), ..good() }),
        ("pieces", Task { pieces: vec![rail(1.0, u32::MAX)], ..good() }),
    ];
    for (field, task) in spoilt {
        let layout = laid(&task, 1);
        assert_eq!(fields(&layout), [field]);
        assert!(layout.used.is_empty());
        assert_eq!(layout.unplaced.len(), 1);
    }
}

#[test]
fn sheets_need_widths() {
    let task = Task { cuts: Cuts::Guillotine, ..good() };
    let layout = laid(&task, 1);
    assert_eq!(fields(&layout), ["stock[0].width", "pieces[0].width"]);
}

#[test]
fn nothing_asked_or_nothing_in_the_rack_is_an_answer() {
    let nothing = Task { pieces: vec![rail(600.0, 0)], ..good() };
    assert!(laid(&nothing, 1).proven);
    let bare = Task { stock: Vec::new(), ..good() };
    assert_eq!(laid(&bare, 1).unplaced[0].reason, Reason::TooLarge);
    let none = Task { stock: vec![Stock { count: Some(0), ..stick(2440.0) }], ..good() };
    assert_eq!(laid(&none, 1).unplaced[0].reason, Reason::TooLarge);
}

#[test]
fn a_name_that_is_not_known_is_told_with_those_that_are() {
    let told = serde_json::from_str::<Task>(r#"{ "stock": [], "pieces": [], "kref": 3 }"#).expect_err("kref").to_string();
    assert!(told.contains("kref") && told.contains("kerf"), "{told}");
    let told = serde_json::from_str::<Task>(r#"{ "stock": [{ "id": 1.5, "length": 2 }], "pieces": [] }"#).expect_err("id").to_string();
    assert!(told.contains("a name in quotes or a whole number"), "{told}");
}
