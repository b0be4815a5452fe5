//! What materials cost and how long work takes: the maker's own prices, and hours that are a first guess until the maker knows better.
//!
//! ```text
//! money: (
//!     currency: "€",
//!     hour: 45,
//!     timber: {"white_ash": 1450},         // a cubic metre, rough sawn and dry
//!     sheets: {"veneered_mdf_12": 38},     // a square metre
//!     veneer: {"white_ash": 9},            // a square metre, bought
//! )
//! ```

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::decisions::DecisionError;
use super::shop::is_default;
use super::{Design, Finish, Timber, find_glue};
use crate::length::Length;

/// Prices and hours. No price ships with the program: what has none is told as such, never taken as free.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Money {
    /// What prices are in, as it is written behind a figure.
    pub currency: String,
    /// What an hour of work is worth; 0 leaves hours out of the sum.
    pub hour: f64,
    /// Solid timber bought besides what the rough sizes add up to, % of it.
    pub waste: f64,
    /// Sheet bought besides what the parts add up to, % of it.
    pub sheet_waste: f64,
    /// Bought veneer besides what the faces add up to, % of it.
    pub veneer_waste: f64,
    /// Price of a cubic metre of sawn timber, by species.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub timber: BTreeMap<String, f64>,
    /// Price of a square metre of sheet, by product.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub sheets: BTreeMap<String, f64>,
    /// Price of a square metre of bought veneer, by species.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub veneer: BTreeMap<String, f64>,
    /// Price of a piece of what is bought ready, by its name: `screw_8_gauge_40`.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub hardware: BTreeMap<String, f64>,
    /// Price of a litre of finish, by its kind: `film`.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub finish: BTreeMap<String, f64>,
    /// Price of a kilogram of glue, by its family: `yellow_pva`.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub glue: BTreeMap<String, f64>,
    /// How long work takes.
    #[serde(skip_serializing_if = "is_default")]
    pub work: Work,
    /// Sizes of what panels can be made up from.
    #[serde(skip_serializing_if = "is_default")]
    pub make_up: MakeUp,
}

impl Default for Money {
    /// 20 % of timber is the upper end of what makers add for square-edged boards (common practice, no source); the other shares are from
    /// memory.
    fn default() -> Money {
        Money {
            currency: "€".to_owned(),
            hour: 0.0,
            waste: 20.0,
            sheet_waste: 15.0,
            veneer_waste: 30.0,
            timber: BTreeMap::new(),
            sheets: BTreeMap::new(),
            veneer: BTreeMap::new(),
            hardware: BTreeMap::new(),
            finish: BTreeMap::new(),
            glue: BTreeMap::new(),
            work: Work::default(),
            make_up: MakeUp::default(),
        }
    }
}

/// Hours for each kind of work. The defaults are from memory, for hand-held and small machines; the maker's own records are better.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Work {
    /// To bring a solid part from rough board to its sizes, hours a part.
    pub part: f64,
    /// To cut and fit a joint, hours a joint.
    pub joint: f64,
    /// To cut grooves and tongues, hours a metre.
    pub groove: f64,
    /// To spread glue in a joint and bring it together, hours a joint.
    pub glue: f64,
    /// To bore for and put in a screw, hours a screw.
    pub fixing: f64,
    /// To smooth a surface for finishing, hours a square metre.
    pub smooth: f64,
    /// To lay on a coat, hours a square metre of coat.
    pub coat: f64,
    /// To saw sheet to size, hours a square metre.
    pub cut: f64,
    /// To resaw boards or saw veneers, hours a square metre of sawn leaf.
    pub resaw: f64,
    /// To joint leaves edge to edge, hours a square metre of them.
    pub edges: f64,
    /// To glue and press veneer on both faces of a panel, hours a square metre of panel.
    pub press: f64,
    /// To plane and sand both faces of a solid panel, hours a square metre of panel.
    pub plane: f64,
    /// To sand both faces of a veneered panel, hours a square metre of panel.
    pub sand: f64,
}

impl Default for Work {
    fn default() -> Work {
        Work {
            part: 0.25,
            joint: 0.15,
            groove: 0.08,
            glue: 0.05,
            fixing: 0.03,
            smooth: 0.15,
            coat: 0.08,
            cut: 0.2,
            resaw: 0.5,
            edges: 0.7,
            press: 0.9,
            plane: 1.0,
            sand: 0.4,
        }
    }
}

/// Sizes of what panels can be made up from.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct MakeUp {
    /// Thickness of veneer sawn in the shop, sanded, mm.
    pub sawn_veneer: Length,
    /// Thickness of bought veneer, mm.
    pub bought_veneer: Length,
    /// What sawing and flattening take off each leaf, mm.
    pub sawing: Length,
}

impl Default for MakeUp {
    /// Common practice, no source.
    fn default() -> MakeUp {
        MakeUp { sawn_veneer: Length::mm(1.5), bought_veneer: Length::mm(0.6), sawing: Length::mm(3.0) }
    }
}

/// Which list of prices.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Priced {
    /// A cubic metre of sawn timber.
    Timber,
    /// A square metre of sheet.
    Sheet,
    /// A square metre of bought veneer.
    Veneer,
    /// A piece of what is bought ready.
    Hardware,
    /// A litre of finish.
    Finish,
    /// A kilogram of glue.
    Glue,
}

impl Priced {
    /// All of them.
    pub const ALL: [Priced; 6] = [Priced::Timber, Priced::Sheet, Priced::Veneer, Priced::Hardware, Priced::Finish, Priced::Glue];

    /// The name of its list in the file.
    pub fn list(self) -> &'static str {
        match self {
            Priced::Timber => "timber",
            Priced::Sheet => "sheets",
            Priced::Veneer => "veneer",
            Priced::Hardware => "hardware",
            Priced::Finish => "finish",
            Priced::Glue => "glue",
        }
    }

    /// What the price is for.
    pub fn measure(self) -> &'static str {
        match self {
            Priced::Timber => "m³",
            Priced::Sheet | Priced::Veneer => "m²",
            Priced::Hardware => "piece",
            Priced::Finish => "litre",
            Priced::Glue => "kg",
        }
    }

    /// The decision that holds the price of `id`.
    pub fn path(self, id: &str) -> String {
        format!("money.{}.{id}", self.list())
    }

    /// Whether there is such a thing to have a price.
    fn knows(self, timber: &Timber, id: &str) -> bool {
        let timbers = timber.timbers();
        match self {
            Priced::Timber | Priced::Veneer => timbers.species(id).is_some(),
            Priced::Sheet => timbers.sheet(id).is_some(),
            Priced::Hardware => !id.is_empty() && id.chars().all(|c| c.is_alphanumeric() || c == '_'),
            Priced::Finish => finish_id(Finish::Open) == id || finish_id(Finish::DryingOil) == id || finish_id(Finish::Film) == id,
            Priced::Glue => find_glue(id).is_some(),
        }
    }
}

/// The name of a finish in the list of prices.
pub fn finish_id(finish: Finish) -> &'static str {
    match finish {
        Finish::Open => "open",
        Finish::Bare => "bare",
        Finish::DryingOil => "drying_oil",
        Finish::Film => "film",
    }
}

/// The name in the list of prices of what is bought ready: small letters and figures of its title.
pub fn hardware_id(title: &str) -> String {
    let words = title.to_lowercase().replace(|c: char| !c.is_alphanumeric(), " ");
    words.split_whitespace().collect::<Vec<_>>().join("_")
}

impl Money {
    /// The price of `id`, where the maker told one; 0 tells none.
    pub fn price(&self, of: Priced, id: &str) -> Option<f64> {
        self.list(of).get(id).copied().filter(|price| *price > 0.0)
    }

    fn list(&self, of: Priced) -> &BTreeMap<String, f64> {
        match of {
            Priced::Timber => &self.timber,
            Priced::Sheet => &self.sheets,
            Priced::Veneer => &self.veneer,
            Priced::Hardware => &self.hardware,
            Priced::Finish => &self.finish,
            Priced::Glue => &self.glue,
        }
    }

    fn list_mut(&mut self, of: Priced) -> &mut BTreeMap<String, f64> {
        match of {
            Priced::Timber => &mut self.timber,
            Priced::Sheet => &mut self.sheets,
            Priced::Veneer => &mut self.veneer,
            Priced::Hardware => &mut self.hardware,
            Priced::Finish => &mut self.finish,
            Priced::Glue => &mut self.glue,
        }
    }
}

/// What takes a price back.
const NONE: &str = "none";

/// Sets or takes back a price, when `path` names one; nothing when it does not.
pub(super) fn set(design: &mut Design, path: &str, text: &str) -> Option<Result<(), DecisionError>> {
    let (list, id) = path.strip_prefix("money.")?.split_once('.')?;
    let of = Priced::ALL.into_iter().find(|of| of.list() == list)?;
    let refused = |expected: String| Some(Err(DecisionError::Unreadable { path: path.to_owned(), found: text.to_owned(), expected }));
    if !of.knows(&design.timber, id) {
        return refused(format!("no {} is called \"{id}\"; the names are those of the tables and of your own", of.noun()));
    }
    if text.trim() == NONE {
        design.money.list_mut(of).remove(id);
        return Some(Ok(()));
    }
    match text.trim().replace(',', ".").parse::<f64>().ok().filter(|price| price.is_finite()) {
        Some(price) => {
            design.money.list_mut(of).insert(id.to_owned(), price);
            Some(Ok(()))
        }
        None => refused(format!("write the price of a {}, or {NONE}", of.measure())),
    }
}

impl Priced {
    fn noun(self) -> &'static str {
        match self {
            Priced::Timber | Priced::Veneer => "species",
            Priced::Sheet => "sheet",
            Priced::Hardware => "thing bought ready",
            Priced::Finish => "finish",
            Priced::Glue => "glue",
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::design::decisions::{list, set};
    use crate::design::text;

    fn demo() -> crate::Design {
        text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo")
    }

    #[test]
    fn a_price_is_told_by_name_and_taken_back() {
        let mut design = demo();
        set(&mut design, "money.timber.iroko", "2100,50").expect("a price");
        assert_eq!(design.money.timber["iroko"].to_string(), "2100.5");
        let told = list(&design).into_iter().find(|decision| decision.spec.path == "money.timber.iroko").expect("a decision");
        assert!(told.spec.label.contains("Iroko"), "{}", told.spec.label);
        let written = text::write(&design).expect("a text");
        assert_eq!(text::read(&written).expect("the same"), design);
        set(&mut design, "money.timber.iroko", "none").expect("the way back");
        assert!(!design.money.timber.contains_key("iroko"));
    }

    #[test]
    fn screws_finish_and_glue_have_prices() {
        let mut design = demo();
        for path in ["money.hardware.screw_8_gauge_40", "money.finish.film", "money.glue.yellow_pva"] {
            set(&mut design, path, "12").expect("a price");
            assert!(list(&design).iter().any(|decision| decision.spec.path == path), "{path}");
        }
        assert_eq!(super::hardware_id("screw, 8 gauge × 40"), "screw_8_gauge_40");
        let written = text::write(&design).expect("a text");
        assert_eq!(text::read(&written).expect("the same"), design);
        let error = set(&mut design, "money.glue.spit", "2").expect_err("no glue").to_string();
        assert!(error.contains("no glue is called \"spit\""), "{error}");
    }

    #[test]
    fn what_can_have_no_price_is_told() {
        let error = set(&mut demo(), "money.sheets.iroko", "20").expect_err("a species is no sheet").to_string();
        assert!(error.contains("no sheet is called \"iroko\""), "{error}");
        let error = set(&mut demo(), "money.veneer.iroko", "dear").expect_err("no figure").to_string();
        assert!(error.contains("m²"), "{error}");
    }

    #[test]
    fn a_price_below_nothing_is_out_of_range() {
        let mut design = demo();
        set(&mut design, "money.timber.iroko", "-1").expect("a figure");
        let errors = crate::design::decisions::check(&design);
        assert!(errors.iter().any(|error| error.path() == "money.timber.iroko"), "{errors:?}");
    }
}
