//! What the typeset lists and labels say, held against the tables for spreadsheets and against the parts.

use casewright_core::design::{Veneered, dealer, decisions, text};
use casewright_core::length::trimmed_to;
use casewright_core::table::Bare;
use casewright_core::takeoff::TakeOff;
use casewright_core::{CutList, Design, Model, derive};
use casewright_sheets::labels::labels;
use casewright_sheets::lists::{buying_list, cut_row};
use casewright_sheets::{Figures, LabelSheet, Wording, cut_list_csv};

const DEMO: &str = include_str!("../../../examples/records_cabinet.ron");

fn demo() -> (Design, Model) {
    let design = text::read(DEMO).expect("the demo");
    let model = derive(&design).expect("the demo");
    (design, model)
}

/// On paper stands all that stands in the table: nothing of a row is lost between them.
#[test]
fn the_cut_list_on_paper_says_what_the_table_says() {
    let (design, model) = demo();
    let list = CutList::of(&design, &model);
    let csv = cut_list_csv(&list);
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let names: Vec<String> = reader.headers().expect("names").iter().map(str::to_owned).collect();
    for (record, row) in reader.records().map(|record| record.expect("a row")).zip(&list.rows) {
        let told = cut_row(row, &Wording::default());
        let mut paper =
            [&told.mark, &told.title, &told.count, &told.finished, &told.material, &told.face_side, &told.face_edge, &told.one_stop]
                .map(String::as_str)
                .join(" | ");
        paper = format!("{paper} | {} | {}", told.rough, told.told.join(" | "));
        for (name, cell) in names.iter().zip(record.iter()) {
            // The kind stands in the title, solid or sheet in the material; rough sizes of what is cut to size at once are the finished ones; volumes are bought.
            let elsewhere = ["part", "material", "rough_m3_each", "rough_length_mm", "rough_width_mm"].contains(&name.as_str());
            assert!(elsewhere || paper.contains(cell), "{name} of {}: \"{cell}\" in {paper}", told.mark);
        }
        assert_eq!(told.rough.is_empty(), row.rough.is_none(), "{}", told.mark);
    }
}

/// All that the take-off has is on the buying list; with a dealer's list the boards come from that.
#[test]
fn the_buying_list_has_all_of_the_take_off() {
    let (mut design, model) = demo();
    let taken = TakeOff::of(&design, &model);
    let (groups, _) = buying_list(&design, &model, &Wording::default());
    let lines = |title: &str| groups.iter().find(|group| group.title == title).map_or(0, |group| group.lines.len());
    assert_eq!(lines("Boards"), taken.timber.len());
    assert_eq!(lines("Sheets"), taken.sheets.len());
    assert_eq!(lines("Bought ready"), taken.bought.len());
    assert_eq!(lines("Finish and glue"), 2);
    design.shop.dealer = dealer::read(include_str!("../../../examples/dealer.csv"), Bare::Mm).rows;
    let (groups, told) = buying_list(&design, &model, &Wording::default());
    let bought = groups.iter().find(|group| group.title == "From the dealer's list").expect("offers");
    assert!(!bought.lines.is_empty() && told.contains(&design.money.currency) && !groups.iter().any(|group| group.title == "Boards"));
}

/// Every piece has a label of its own that says where its own faces look; what is smaller than a label has one for the bag.
#[test]
fn every_piece_has_a_label() {
    let (design, model) = demo();
    for sheet in LabelSheet::ALL {
        let all = labels(&design, &model, sheet, Figures::default());
        for row in &CutList::of(&design, &model).rows {
            let own: Vec<_> = all.iter().filter(|label| label.mark == row.mark).collect();
            if row.finished[0] < sheet.form().label[0] {
                assert_eq!(own.len(), 1, "{}", row.mark);
                assert_eq!(own[0].number, format!("{}, for the bag", row.parts.len()));
                continue;
            }
            assert_eq!(own.len(), row.parts.len(), "{}", row.mark);
            for (label, id) in own.iter().zip(&row.parts) {
                let part = model.part(*id);
                assert_eq!(label.title, part.title);
                assert_eq!(label.face, format!("Face side {}, face edge {}", part.face_side_looks(), part.face_edge_looks()));
                assert_eq!(label.finished, part.size_text());
            }
        }
    }
}

/// A piece that stays bare takes no finish.
#[test]
fn what_is_not_needed_is_not_bought() {
    let (mut design, model) = demo();
    decisions::set(&mut design, "timber.finish", "bare").expect("a decision");
    let (groups, _) = buying_list(&design, &model, &Wording::default());
    assert!(!groups.iter().flat_map(|group| &group.lines).any(|(what, _)| what.starts_with("Finish")));
}

/// Veneer that is glued on in the shop is bought too: as much for the balancing sheets as for the faces.
#[test]
fn veneer_is_on_the_buying_list_with_its_balancing_sheets() {
    let (mut design, _) = demo();
    design.timber.facing.panel.veneer = Veneered::Bought;
    let model = derive(&design).expect("the demo");
    let (groups, _) = buying_list(&design, &model, &Wording::default());
    let veneer = groups.iter().find(|group| group.title == "Veneer").expect("veneer");
    let faces = TakeOff::of(&design, &model).veneer[0].faces.value;
    let [(what, of)] = veneer.lines.as_slice() else { panic!("one line: {:?}", veneer.lines) };
    assert!(what.contains("0.6 thick") && what.ends_with("m²"), "{what}");
    let both = format!("{0} m² of faces and {0} m² of balancing sheets", trimmed_to(faces, 2));
    assert!(of.starts_with(&both), "{of}");
}
