//! The cut list as a table that any spreadsheet opens.

use casewright_core::CutList;
use casewright_core::cutlist::Row;
use casewright_core::length::{trimmed, trimmed_to};
use casewright_core::model::Material;

/// The columns, in their order; lengths are millimetres.
pub const COLUMNS: [&str; 21] = [
    "mark",
    "part",
    "title",
    "count",
    "length_mm",
    "width_mm",
    "thickness_mm",
    "rough_length_mm",
    "rough_width_mm",
    "board",
    "grain",
    "material",
    "species_or_product",
    "stage",
    "cuts",
    "notes",
    "face_side",
    "face_edge",
    "same_stop",
    "rough_m3_each",
    "together",
];

/// What follows them once anything was measured or made in the shop.
pub const SHOP_COLUMNS: [&str; 2] = ["state", "measured_mm"];

/// The cut list as CSV: a line of names, then a line a mark, with a decimal point and at most two decimals. Once anything was
/// measured or made in the shop, two columns tell that too.
pub fn cut_list_csv(list: &CutList) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing to memory can't fail, and every record has as many fields as the first.
    let mut write = |record: &[String]| writer.write_record(record).unwrap_or_default();
    let recorded = list.rows.iter().any(|row| !row.state.is_empty());
    let shop = |row: [String; 2]| if recorded { row.to_vec() } else { Vec::new() };
    write(&[COLUMNS.map(str::to_owned).to_vec(), shop(SHOP_COLUMNS.map(str::to_owned))].concat());
    for row in &list.rows {
        write(&[record(row).to_vec(), shop([row.state.clone(), row.measured.clone()])].concat());
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8_lossy(&bytes).into_owned()
}

fn record(row: &Row) -> [String; 21] {
    let material = match row.material {
        Material::Solid(_) => "solid",
        Material::Sheet(_) => "sheet",
        Material::Bought(_) => "bought",
    };
    let [rough_length, rough_width] = row.rough_size();
    [
        row.mark.clone(),
        row.kind.words().0.to_owned(),
        row.title.clone(),
        row.parts.len().to_string(),
        trimmed(row.finished[0]),
        trimmed(row.finished[1]),
        trimmed(row.finished[2]),
        trimmed(rough_length),
        trimmed(rough_width),
        row.rough.map(|rough| rough.words()).unwrap_or_default(),
        row.grain.to_owned(),
        material.to_owned(),
        row.made_of.clone(),
        row.stage.words().to_owned(),
        row.cuts.clone(),
        row.notes.join("; "),
        row.face_side.clone(),
        row.face_edge.clone(),
        row.at_one_stop.clone(),
        row.rough_volume().map(|volume| trimmed_to(volume / row.parts.len().max(1) as f64, 6)).unwrap_or_default(),
        row.together.clone(),
    ]
}

#[cfg(test)]
mod tests {
    use casewright_core::design::shop::{self, State};
    use casewright_core::design::{Dimension, text};
    use casewright_core::{CutList, Length, derive};

    use super::*;

    #[test]
    fn the_demo_lists_each_mark_once_with_its_sizes() {
        let design = text::read(include_str!("../../../examples/records_cabinet.ron")).expect("the demo");
        let model = derive(&design).expect("the demo");
        let csv = cut_list_csv(&CutList::of(&design, &model));
        assert_eq!(csv, cut_list_csv(&CutList::of(&design, &model)));
        let mut reader = csv::Reader::from_reader(csv.as_bytes());
        assert_eq!(reader.headers().expect("names").iter().collect::<Vec<_>>(), COLUMNS);
        let records: Vec<_> = reader.records().map(|record| record.expect("as many fields as names")).collect();
        let pieces: usize = records.iter().map(|record| record[3].parse::<usize>().expect("a count")).sum();
        assert_eq!(pieces, model.parts.len());
        // The bottom front rail runs from post to post: 1360 less two posts of 48; 25 and 6 are added for the rough size.
        let rail = records.iter().find(|record| &record[2] == "Front rail, bottom").expect("the rail");
        assert_eq!(rail.iter().skip(3).take(7).collect::<Vec<_>>(), ["1", "1264", "110", "24", "1289", "116", "32 mm"]);
        // Sheet goods are cut to size at once, as thick as they measure.
        let panel = records.iter().find(|record| &record[1] == "Panel").expect("a panel");
        assert_eq!((&panel[4], &panel[5], &panel[6]), (&panel[7], &panel[8], "12.75"));
    }

    #[test]
    fn what_was_made_and_measured_has_columns_of_its_own() {
        let mut design = text::read(include_str!("../../../examples/records_cabinet.ron")).expect("the demo");
        shop::measure(&mut design, "rail.front.bottom", Dimension::Length, Some(Length::mm(1252.0))).expect("a length");
        shop::set_state(&mut design, "rail.front.bottom", State::Cut).expect("the demo can be built");
        let csv = cut_list_csv(&CutList::of(&design, &derive(&design).expect("the demo")));
        let mut reader = csv::Reader::from_reader(csv.as_bytes());
        assert_eq!(reader.headers().expect("names").iter().skip(COLUMNS.len()).collect::<Vec<_>>(), SHOP_COLUMNS);
        let records: Vec<_> = reader.records().map(|record| record.expect("as many fields as names")).collect();
        let told = |title: &str| {
            let record = records.iter().find(|record| &record[2] == title).expect("listed");
            (record[4].to_owned(), record[21].to_owned(), record[22].to_owned())
        };
        assert_eq!(told("Front rail, bottom"), ("1252".to_owned(), "cut".to_owned(), "length 1252".to_owned()));
        assert_eq!(told("Top"), ("1400".to_owned(), "planned".to_owned(), String::new()));
    }
}
