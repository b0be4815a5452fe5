//! What a dealer offers: boards and sheets with their prices.

use serde::{Deserialize, Serialize};

use super::pile::{ALIKE, ON_HAND, PRICE, Stuff, Whence, as_sawn, id_of};
use super::pile::{is_one, one};
use super::shop::{bare, is_default};
use crate::length::Length;
use crate::rough::BOARD_FOOT;
use crate::table::{self, Bare, Cell, Column, Listed};

/// What a price is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Per {
    /// One board or sheet.
    #[default]
    Piece,
    /// A cubic metre.
    CubicMetre,
    /// A square metre.
    SquareMetre,
    /// A metre of its length.
    Metre,
    /// A board foot of 144 cubic inches.
    BoardFoot,
}

impl Per {
    /// All of them.
    pub const ALL: [Per; 5] = [Per::Piece, Per::CubicMetre, Per::SquareMetre, Per::Metre, Per::BoardFoot];

    /// What may be written for it, its own word first.
    pub fn words(self) -> &'static [&'static str] {
        match self {
            Per::Piece => &["piece", "each", "board", "sheet"],
            Per::CubicMetre => &["m³", "m3", "cubic metre", "cubic meter"],
            Per::SquareMetre => &["m²", "m2", "square metre", "square meter"],
            Per::Metre => &["m", "metre", "meter"],
            Per::BoardFoot => &["board foot", "bf", "bd ft", "fbm"],
        }
    }
}

/// A line of a dealer's list. In a file, among `shop.dealer`:
///
/// ```text
/// (name: "Ash 27", of: "white_ash", length: (2400, 3000), width: (120, 220), thickness: 27, price: 1280, per: CubicMetre)
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Offer {
    /// What the dealer calls it.
    pub name: String,
    /// Its species, or its product in sheets, by its id.
    pub of: String,
    /// Length of each, mm; where boards come as they fall, the shortest and the longest.
    pub length: [Length; 2],
    /// Width of each, mm; of random widths the narrowest and the widest.
    pub width: [Length; 2],
    /// Thickness as sawn, mm.
    pub thickness: Length,
    /// The price.
    pub price: f64,
    /// What it is for.
    #[serde(default, skip_serializing_if = "is_default")]
    pub per: Per,
    /// How many are sold together.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub pack: u32,
    /// How many there are; none for as many as are wanted.
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub available: Option<u32>,
}

impl Offer {
    /// What one costs: by measure, of its mean length and width.
    pub fn each(&self) -> f64 {
        let mean = |range: &[Length; 2]| f64::midpoint(range[0].to_mm(), range[1].to_mm()) / 1e3;
        let (length, width) = (mean(&self.length), mean(&self.width));
        let volume = length * width * self.thickness.to_mm() / 1e3;
        let measure = match self.per {
            Per::Piece => 1.0,
            Per::CubicMetre => volume,
            Per::SquareMetre => length * width,
            Per::Metre => length,
            Per::BoardFoot => volume / BOARD_FOOT,
        };
        self.price * measure
    }

    /// One of them in the rack, as small as it may come, so that whatever comes is large enough.
    pub fn stuff(&self, count: u32) -> Stuff {
        Stuff {
            name: self.name.clone(),
            of: self.of.clone(),
            length: self.length[0],
            width: self.width[0],
            thickness: self.thickness,
            count,
            price: self.each(),
            whence: Whence::Dealer,
            ..Cols::start_of_pile()
        }
    }
}

/// A column of a dealer's list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cols {
    /// What it is called.
    Name,
    /// Species or product.
    Timber,
    /// Along the grain.
    Length,
    /// Across it.
    Width,
    /// Through it.
    Thickness,
    /// The price.
    Price,
    /// What the price is for.
    Per,
    /// How many are sold together.
    Pack,
    /// How many there are.
    Available,
}

impl Cols {
    fn start_of_pile() -> Stuff {
        <super::pile::Of as Column>::start()
    }
}

impl Column for Cols {
    type Row = Offer;

    const ALL: &'static [Cols] =
        &[Cols::Name, Cols::Timber, Cols::Length, Cols::Width, Cols::Thickness, Cols::Price, Cols::Per, Cols::Pack, Cols::Available];

    fn words(self) -> &'static [&'static str] {
        match self {
            Cols::Name => &["name", "board", "sheet", "item", "article"],
            Cols::Timber => &["timber", "species", "product", "of", "material"],
            Cols::Length => &["length", "long", "l"],
            Cols::Width => &["width", "wide", "w"],
            Cols::Thickness => &["thickness", "thick", "t"],
            Cols::Price => &["price", "cost"],
            Cols::Per => &["per", "price per", "a"],
            Cols::Pack => &["pack", "sold in", "packed in"],
            Cols::Available => &["available", "in stock", "how many", "quantity"],
        }
    }

    fn needed(self) -> bool {
        matches!(self, Cols::Timber | Cols::Length | Cols::Width | Cols::Thickness | Cols::Price)
    }

    fn start() -> Offer {
        let none = [Length::mm(0.0); 2];
        Offer {
            name: String::new(),
            of: String::new(),
            length: none,
            width: none,
            thickness: none[0],
            price: 0.0,
            per: Per::Piece,
            pack: 1,
            available: None,
        }
    }

    fn take(self, offer: &mut Offer, cell: &Cell<'_>) -> Result<(), String> {
        match self {
            Cols::Name => cell.text.clone_into(&mut offer.name),
            Cols::Timber => offer.of = id_of(cell.text),
            Cols::Length => offer.length = range(cell)?,
            Cols::Width => offer.width = range(cell)?,
            Cols::Thickness => offer.thickness = as_sawn(cell)?,
            Cols::Price => offer.price = cell.number(PRICE, ("a price", ""))?,
            Cols::Per => offer.per = per(cell.text)?,
            Cols::Pack => offer.pack = cell.count(ALIKE)?,
            Cols::Available => offer.available = Some(cell.count(ALIKE)?),
        }
        Ok(())
    }
}

fn per(text: &str) -> Result<Per, String> {
    let text = text.trim().to_lowercase();
    let known = Per::ALL.into_iter().find(|per| per.words().contains(&text.as_str()));
    known.ok_or_else(|| format!("\"{text}\" is nothing that a price is for: write piece, m³, m², m or board foot"))
}

/// "180", or of random widths "120 to 250".
fn range(cell: &Cell<'_>) -> Result<[Length; 2], String> {
    let split = cell.text.split_once(" to ").or_else(|| cell.text.split_once('–')).or_else(|| cell.text.split_once(".."));
    let Some((least, most)) = split else { return cell.length(ON_HAND).map(|length| [length; 2]) };
    let [least, most] = [least, most].map(|text| cell.part(text.trim()).length(ON_HAND));
    let (least, most) = (least?, most?);
    if least <= most { Ok([least, most]) } else { Err(format!("\"{}\" goes backward: write the least first, 120 to 250", cell.text)) }
}

/// Reads a dealer's list, a row an offer.
pub fn read(text: &str, bare: Bare) -> Listed<Offer> {
    table::read::<Cols>(text, bare)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::BadRow;

    /// By hand: 3 m × 0.185 m × 0.034 m × 1,450 = 27.36; 2.44 × 1.22 m² × 11 = 32.74; 8/4 × 7 in × 8 ft is 9.33 board feet (a worked example of the trade, read), at 12 each 112.
    #[test]
    fn prices_by_measure_are_those_of_one() {
        let text = "Name,Species,Length,Width,Thickness,Price,Per,Pack,Available\n\
                    Ash 34,white_ash,3000,120 to 250,34,1450,m³,,12\n\
                    MDF 12,mdf_en622_5_12,2440,1220,12,11,m2,2,\n\
                    Ash 8/4,white_ash,8',7\",2\",12,board foot,,\n\
                    Bad,white_ash,3000,250 to 120,34,1450,crate,,\n";
        let listed = read(text, Bare::Mm);
        let [ash, mdf, feet] = listed.rows.as_slice() else { panic!("{listed:?}") };
        assert!((ash.each() - 27.361_5).abs() < 1e-3, "{}", ash.each());
        assert!((mdf.each() - 32.744_8).abs() < 1e-3, "{}", mdf.each());
        assert!((feet.each() - 112.0).abs() < 1e-2, "{}", feet.each());
        assert_eq!((ash.available, mdf.pack, mdf.available), (Some(12), 2, None));
        assert_eq!(ash.stuff(1).width, Length::mm(120.0), "the narrowest that may come");
        let told: Vec<String> = listed.bad.iter().flat_map(BadRow::words).collect();
        assert!(told.iter().any(|words| words.contains("row 5") && words.contains("goes backward")), "{told:?}");
        assert!(told.iter().any(|words| words.contains("\"crate\"")), "{told:?}");
    }

    /// 10/4 and 16/4 are grades of the trade as the others are: 2 1/2 in and 4 in. What is no thickness is told with what may be written, quarters among it.
    #[test]
    fn thicknesses_may_be_written_in_quarters() {
        let listed = read(
            "name,of,length,width,thickness,price,per\n\
             Ash 10/4,white_ash,8',7\",10/4,12,board foot\n\
             Ash 16/4,white_ash,8',7\",16/4,12,board foot\n\
             Ash 11/4,white_ash,8',7\",11/4,12,board foot\n",
            Bare::Mm,
        );
        assert_eq!(listed.rows.iter().map(|offer| offer.thickness.to_mm()).collect::<Vec<_>>(), [63.5, 101.6]);
        assert!(
            listed.bad.iter().flat_map(BadRow::words).any(|one| one.contains("11/4") && one.contains("quarters: 4/4, 5/4, 6/4, 8/4, 10/4")),
            "{:?}",
            listed.bad
        );
    }
}
