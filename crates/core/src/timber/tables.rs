//! How the tables in `assets/timber` are read.

use std::borrow::Cow;
use std::sync::LazyLock;

use serde::{Deserialize, Deserializer};

use super::known::{How, Known};

/// The rows of a table that ships with the program; a test reads every row, so a bad one is never met by a user.
pub(super) fn rows<Row: for<'de> Deserialize<'de>>(table: &'static str) -> impl Iterator<Item = Row> {
    csv::Reader::from_reader(table.as_bytes()).into_deserialize().filter_map(Result::ok)
}

/// What a source tells: a group of figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Group {
    Density,
    Shrinkage,
    Movement,
    Strength,
    Thickness,
    Expansion,
    Swell,
}

impl Group {
    fn word(self) -> &'static str {
        match self {
            Group::Density => "density",
            Group::Shrinkage => "shrinkage",
            Group::Movement => "movement",
            Group::Strength => "strength",
            Group::Thickness => "thickness",
            Group::Expansion => "expansion",
            Group::Swell => "swell",
        }
    }
}

#[derive(Deserialize)]
struct SourceRow {
    code: String,
    publication: String,
    tells: String,
}

static SOURCES: LazyLock<Vec<SourceRow>> = LazyLock::new(|| rows(include_str!("../../../../assets/timber/sources.csv")).collect());

/// The source of what was recalled when none of the publications of its row tells it.
const RECALLED: &str = "no publication at hand";

/// The publications behind the codes of a row that tell a group of figures. Movement that none tells follows from the shrinkage.
pub(super) fn publications(codes: &str, group: Group) -> String {
    let tells = |row: &SourceRow| row.tells.split(' ').any(|word| word == group.word());
    let named = codes.split(';').filter_map(|code| SOURCES.iter().find(|row| row.code == code.trim() && tells(row)));
    let own = named.map(|row| row.publication.as_str()).collect::<Vec<_>>().join("; ");
    if !own.is_empty() {
        return own;
    }
    match group {
        Group::Movement => format!("C = S / (3000 − 20 S) on the shrinkage S of {}", publications(codes, Group::Shrinkage)),
        Group::Density | Group::Shrinkage | Group::Strength | Group::Thickness | Group::Expansion | Group::Swell => RECALLED.to_owned(),
    }
}

/// The source of another figure of a row: a code with what is said of it, or the rule by which it follows from the shrinkage.
pub(super) fn spelled_out(source: &str) -> String {
    let (code, rest) = source.split_once(' ').unwrap_or((source, ""));
    match (code, SOURCES.iter().find(|row| row.code == code)) {
        ("rule30", _) => "C = S / (3000 − 20 S) on its own shrinkage S".to_owned(),
        ("rule22", _) => "C = S / (2200 − 12 S) on its own shrinkage S".to_owned(),
        (_, Some(row)) if rest == "(memory)" => format!("{}; from memory", row.publication),
        (_, Some(row)) => format!("{} {rest}", row.publication).trim_end().to_owned(),
        (_, None) => source.to_owned(),
    }
}

/// Every publication behind the codes of a row.
pub(super) fn all_publications(codes: &str) -> String {
    let named = codes.split(';').filter_map(|code| SOURCES.iter().find(|row| row.code == code.trim()));
    named.map(|row| row.publication.as_str()).collect::<Vec<_>>().join("; ")
}

/// How a group of figures was obtained; nothing where there is none.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Obtained(pub Option<How>);

impl<'de> Deserialize<'de> for Obtained {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Obtained, D::Error> {
        let word = Cow::<str>::deserialize(from)?;
        Ok(Obtained(match word.as_ref() {
            "read" => Some(How::Read),
            "derived" => Some(How::Derived),
            "memory" => Some(How::Memory),
            "none" => None,
            other => return Err(serde::de::Error::custom(format!("\"{other}\" is no way to obtain a figure"))),
        }))
    }
}

/// A figure of a row, where the row has it and says how it was obtained.
pub(super) fn known(value: Option<f64>, how: Obtained, codes: &str, group: Group) -> Option<Known> {
    Some(Known::new(value?, how.0?, publications(codes, group)))
}

#[cfg(test)]
mod tests {
    use super::super::{SheetProduct, Species};
    use super::*;

    /// No figure names a publication that does not tell it, and what was read or derived names one; so the stiffness of European larch, which was
    /// recalled, does not cite tables of shrinkage.
    #[test]
    fn a_source_tells_the_figure_that_names_it() {
        let all = super::super::species().iter().flat_map(|species| {
            let Species { density, gravity, shrink_radial, shrink_tangential, radial, tangential, moe, mor, shear, compression, .. } =
                species;
            [density, gravity, shrink_radial, shrink_tangential, radial, tangential, moe, mor, shear, compression]
                .into_iter()
                .flatten()
                .map(|known| (&species.id, known))
        });
        let sheets = super::super::sheet_goods().iter().flat_map(|sheet| {
            let SheetProduct { thickness, density, moe, moe_cross, mor, mor_cross, expansion, swell, .. } = sheet;
            [thickness, density, moe, moe_cross, mor, mor_cross, expansion, swell].into_iter().flatten().map(|known| (&sheet.id, known))
        });
        let bad: Vec<_> = all.chain(sheets).filter(|(_, known)| known.source == RECALLED && known.how != How::Memory).collect();
        assert!(bad.is_empty(), "{bad:?}");
        let larch = super::super::species().iter().find(|species| species.id == "european_larch").expect("larch");
        let stiff = larch.moe.as_ref().expect("its stiffness");
        assert_eq!((stiff.how, stiff.source.as_ref()), (How::Memory, RECALLED));
    }

    /// Every code of a row is spelled out, and every cell has a word that says how it was obtained.
    #[test]
    fn no_figure_is_without_source_and_status() {
        let known = |codes: &str| codes.split(';').all(|code| SOURCES.iter().any(|row| row.code == code.trim()));
        for species in super::super::species() {
            assert!(known(&species.codes), "{}: {}", species.id, species.codes);
        }
        for sheet in super::super::sheet_goods() {
            assert!(known(&sheet.codes), "{}: {}", sheet.id, sheet.codes);
        }
        let columns = |row: &csv::StringRecord, head: &csv::StringRecord| -> Vec<(String, String)> {
            head.iter().map(str::to_owned).zip(row.iter().map(str::to_owned)).collect()
        };
        let pairs = [
            ("density", "how_density"),
            ("shrink_", "how_shrink"),
            ("coeff_", "how_coeff"),
            ("moe_", "how_moe_mor"),
            ("mor_", "how_moe_mor"),
            ("shear_", "how_shear"),
            ("compression_", "how_compression_perp"),
            ("linear_expansion", "how_expansion"),
            ("thickness_swell", "how_swell"),
        ];
        let tables = [include_str!("../../../../assets/timber/species.csv"), include_str!("../../../../assets/timber/sheet_goods.csv")];
        let mut seen = 0;
        for table in tables {
            let mut reader = csv::Reader::from_reader(table.as_bytes());
            let head = reader.headers().expect("a head").clone();
            for row in reader.records() {
                let cells = columns(&row.expect("a row"), &head);
                for (name, value) in cells.iter().filter(|(_, value)| !value.is_empty()) {
                    let Some((_, how)) = pairs.iter().find(|(start, _)| name.starts_with(start)) else { continue };
                    let how = &cells.iter().find(|(column, _)| column == how).expect("a status").1;
                    assert!(["read", "derived", "memory"].contains(&how.as_str()), "{} {name} {value}: {how}", cells[0].1);
                    seen += 1;
                }
            }
        }
        assert!(seen > 600, "{seen}");
    }
}
