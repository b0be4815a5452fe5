//! What a case comes to: how much timber, sheet and mass, what it costs, and how long it takes.

use crate::cutlist::{CutList, Row};
use crate::design::{Money, Priced, Thickness, Work};
use crate::model::{Material, Model};
use crate::timber::{How, Known};
use crate::worked::Worked;

/// How much of everything a case comes to, at finished sizes.
#[derive(Clone, Debug, PartialEq)]
pub struct Amounts {
    /// How many parts there are.
    pub parts: usize,
    /// Solid timber, m³.
    pub timber: Worked,
    /// Sheet goods, m².
    pub sheet: Worked,
    /// Mass of the blanks, kg; none where a density is not known. What is cut out of them is not taken off, and what is bought in counts
    /// for nothing.
    pub mass: Option<Worked>,
}

/// All parts of one material.
struct Together<'m> {
    material: &'m Material,
    parts: usize,
    /// m²: length times width.
    area: f64,
    /// m³.
    volume: f64,
}

impl Amounts {
    /// Of a model.
    pub fn of(model: &Model) -> Amounts {
        let mut all: Vec<Together<'_>> = Vec::new();
        for part in model.parts.iter().filter(|part| !matches!(part.material, Material::Bought(_))) {
            let size = part.lwt() / 1000.0;
            let (area, volume) = (size.x * size.y, size.element_product());
            match all.iter_mut().find(|of| *of.material == part.material) {
                Some(of) => (of.parts, of.area, of.volume) = (of.parts + 1, of.area + area, of.volume + volume),
                None => all.push(Together { material: &part.material, parts: 1, area, volume }),
            }
        }
        let (sheets, solid): (Vec<_>, Vec<_>) = all.iter().partition(|of| matches!(of.material, Material::Sheet(_)));
        let named = |of: &Together<'_>, what: &str| format!("{}, {} {what}", model.timbers.name(of.material), of.parts);
        let timber = solid.iter().map(|of| Worked::given(named(of, "parts at finished sizes"), of.volume, "m³"));
        let sheet = sheets.iter().map(|of| Worked::given(named(of, "parts, length × width"), of.area, "m²"));
        let mass: Option<Vec<Worked>> = all.iter().map(|of| weight(model, of)).collect();
        Amounts {
            parts: model.parts.len(),
            timber: total("timber", "m³", timber.collect()),
            sheet: total("sheet", "m²", sheet.collect()),
            mass: mass.map(|of| total("mass of the blanks", "kg", of)),
        }
    }
}

fn weight(model: &Model, of: &Together<'_>) -> Option<Worked> {
    let density = model.timbers.density(of.material)?;
    let inputs = vec![Worked::given("volume", of.volume, "m³"), Worked::known("density", density, "kg/m³")];
    let name = model.timbers.name(of.material).to_owned();
    Some(Worked::by(name, of.volume * density.value, "kg", ("volume × density", "arithmetic"), inputs))
}

/// What something costs, and what of it has no price.
#[derive(Clone, Debug, PartialEq)]
pub struct Cost {
    /// Hours of work.
    pub hours: Worked,
    /// Material and hours; nothing as long as something has no price.
    pub total: Option<Worked>,
    /// The decisions that would hold the prices that are missing, or boards that have none.
    pub missing: Vec<String>,
}

impl Cost {
    /// Adds up pieces of material and of work.
    pub fn sum(money: &Money, materials: Vec<Bought>, work: Vec<Worked>) -> Cost {
        Cost::sum_with(money, materials, (Vec::new(), Vec::new()), work)
    }

    /// The same, with what is paid besides, and what of that has no price.
    pub fn sum_with(money: &Money, materials: Vec<Bought>, (mut paid, mut missing): (Vec<Worked>, Vec<String>), work: Vec<Worked>) -> Cost {
        let hours = total("hours", "h", work);
        for bought in materials.into_iter().filter(|bought| bought.amount.value > 0.0) {
            match money.price(bought.of, &bought.id) {
                Some(price) => paid.push(bought.at(price)),
                None if missing.iter().any(|path| *path == bought.of.path(&bought.id)) => {}
                None => missing.push(bought.of.path(&bought.id)),
            }
        }
        if money.hour > 0.0 {
            let rate = Worked::given("an hour of work", money.hour, "");
            let formula = ("hours × what an hour is worth", "arithmetic");
            paid.push(Worked::by("work", hours.value * money.hour, "", formula, vec![hours.clone(), rate]));
        }
        let total = missing.is_empty().then(|| total("cost", "", paid));
        Cost { hours, total, missing }
    }
}

/// A material that is bought by measure.
#[derive(Clone, Debug, PartialEq)]
pub struct Bought {
    /// Which list has its price.
    pub of: Priced,
    /// Its name in files.
    pub id: String,
    /// What it is called.
    pub name: String,
    /// How much, waste included, in the measure of its price.
    pub amount: Worked,
}

impl Bought {
    fn at(self, price: f64) -> Worked {
        let rate = Worked::given(format!("price of a {}", self.of.measure()), price, "");
        let cost = self.amount.value * price;
        Worked::by(self.name, cost, "", ("amount × price", "arithmetic"), vec![self.amount, rate])
    }
}

/// Several figures of one unit as one.
pub fn total(name: &'static str, unit: &'static str, of: Vec<Worked>) -> Worked {
    let sum = of.iter().map(|worked| worked.value).sum();
    Worked::by(name, sum, unit, ("added up", "arithmetic"), of)
}

/// An amount with what is bought besides, which is wasted.
pub fn with_waste(amount: Worked, percent: f64) -> Worked {
    let (unit, bought) = (amount.unit, amount.value * (1.0 + percent / 100.0));
    let inputs = vec![amount, Worked::given("bought besides", percent, "%")];
    Worked::by("amount to buy", bought, unit, ("amount × (1 + what is bought besides)", "common practice, no source"), inputs)
}

/// Work that takes so long for each of so many, by one of the maker's rates; those that ship are from memory.
pub fn work(name: &'static str, amount: f64, unit: &'static str, rates: &Work, each: fn(&Work) -> f64) -> Worked {
    let (hours, shipped) = (each(rates), each(&Work::default()));
    let rate = if (hours - shipped).abs() < 1e-9 {
        Worked::known("hours for each", &Known::new(hours, How::Memory, "the rates that ship with the program"), "h")
    } else {
        Worked::given("hours for each", hours, "h")
    };
    let inputs = vec![Worked::given("how much", amount, unit), rate];
    Worked::by(name, amount * hours, "h", ("amount × hours for each", "arithmetic"), inputs)
}

/// The solid timber of the rows of a cut list that are wanted, m³ for each species, and the sheets, m² for each product; waste not counted.
pub fn materials(list: &CutList, wanted: impl Fn(&Row) -> bool, money: &Money) -> Vec<Bought> {
    let mut all: Vec<(Priced, String, String, f64, How)> = Vec::new();
    for row in list.rows.iter().filter(|row| wanted(row)) {
        let count = row.parts.len() as f64;
        let (of, id, amount) = match &row.material {
            Material::Solid(id) => {
                let [length, width, thickness] = row.finished;
                // Thicker than all that is sold it counts as it is.
                (Priced::Timber, id, row.rough_volume().unwrap_or(length * width * thickness / 1e9 * count))
            }
            Material::Sheet(id) => (Priced::Sheet, id, row.sawn[0] * row.sawn[1] / 1e6 * count),
            Material::Bought(_) => continue,
        };
        match all.iter_mut().find(|(kind, known, ..)| *kind == of && known == id) {
            Some((.., sum, how)) => (*sum, *how) = (*sum + amount, (*how).min(roughed(row))),
            None => all.push((of, id.clone(), row.made_of.clone(), amount, roughed(row))),
        }
    }
    let bought = |(of, id, name, amount, how)| Bought { of, id, name, amount: to_buy(of, (amount, how), money) };
    all.into_iter().map(bought).collect()
}

/// How the thickness of board was obtained that a row of a cut list is sawn from; what has none rests on nothing published.
pub fn roughed(row: &Row) -> How {
    row.rough.and_then(|rough| rough.board).map_or(How::Read, Thickness::how)
}

/// So much of a material as parts need, and how that was obtained, with what is bought besides.
pub fn to_buy(of: Priced, (amount, how): (f64, How), money: &Money) -> Worked {
    let (name, unit, waste) = match of {
        Priced::Timber => ("timber at rough sizes", "m³", money.waste),
        Priced::Sheet => ("sheet", "m²", money.sheet_waste),
        Priced::Veneer => ("veneer", "m²", money.veneer_waste),
        Priced::Hardware => ("bought ready", "pieces", 0.0),
        Priced::Finish => ("finish", "l", 0.0),
        Priced::Glue => ("glue", "kg", 0.0),
    };
    let sizes = ("sizes of the cut list, timber as it is sawn out of the thicknesses that are sold, added up", "arithmetic");
    with_waste(Worked::by(name, amount, unit, sizes, Vec::new()).obtained(how), waste)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Design;

    fn demo() -> Design {
        crate::design::text::read(include_str!("../../../examples/records_cabinet.ron")).expect("the demo")
    }

    #[test]
    fn the_demo_weighs_what_a_cabinet_of_its_size_weighs() {
        let amounts = Amounts::of(&crate::derive(&demo()).expect("the demo"));
        assert!((0.04..0.2).contains(&amounts.timber.value), "{amounts:?}");
        let mass = amounts.mass.as_ref().expect("all densities are known");
        assert!((40.0..160.0).contains(&mass.value), "{amounts:?}");
    }

    #[test]
    fn what_has_no_price_is_told_and_never_free() {
        let mut money = Money { hour: 40.0, ..Money::default() };
        let timber = |id: &str| Bought {
            of: Priced::Timber,
            id: id.to_owned(),
            name: id.to_owned(),
            amount: to_buy(Priced::Timber, (0.05, How::Read), &money),
        };
        let both = vec![timber("white_ash"), timber("iroko")];
        let hours = vec![work("milling", 4.0, "parts", &money.work, |work| work.part)];
        let cost = Cost::sum(&money, both.clone(), hours.clone());
        assert_eq!((cost.total, cost.missing.len()), (None, 2));
        money.timber.extend([("white_ash".to_owned(), 1000.0), ("iroko".to_owned(), 2000.0)]);
        let total = Cost::sum(&money, both, hours).total.expect("all has a price");
        // By hand: 0.05 m³ and a fifth besides, twice, and an hour.
        assert!((total.value - (0.06 * 1000.0 + 0.06 * 2000.0 + 40.0)).abs() < 1e-9, "{}", total.value);
        assert_eq!(total.recalled(), ["hours for each"], "the rates that ship are from memory");
        money.work.part = 0.3;
        let own = work("milling", 4.0, "parts", &money.work, |work| work.part);
        assert!((own.value - 1.2).abs() < 1e-9 && own.recalled().is_empty(), "the maker's own are not");
    }
}
