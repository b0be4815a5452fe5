//! How a sag grows over years under a load that stays.

use crate::model::Material;
use crate::timber::sheets::EDGE_GLUED;
use crate::timber::{How, Known};

/// How a stuff creeps.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Creep {
    /// Dry solid timber.
    Timber,
    /// Boards made of pieces, fibres or veneers.
    Panel,
}

impl Creep {
    /// How a part of that stuff creeps; nothing for what is bought in.
    pub fn of(material: &Material) -> Option<Creep> {
        match material {
            Material::Solid(_) => Some(Creep::Timber),
            // Boards glued edge to edge are sold as a sheet and are solid timber.
            Material::Sheet(_) => Some(if Board::of(material) == Some(Board::Timber) { Creep::Timber } else { Creep::Panel }),
            Material::Bought(_) => None,
        }
    }

    /// How many times the sag at once it is in the end.
    ///
    /// 1.5 for dry solid timber, as in NDS 3.5.2 (read second-hand). For panels 2.0: a university's shelf tests support doubling, board
    /// makers say up to 1.5 (read second-hand).
    pub fn in_the_end(self) -> f64 {
        match self {
            Creep::Timber => 1.5,
            Creep::Panel => 2.0,
        }
    }
}

/// From how many years on a sag is taken to grow no more.
pub const YEARS: f64 = 10.0;

/// The power of time in [`creep`].
const POWER: f64 = 0.25;

/// Where [`creep`] comes from.
pub const CREEP_SOURCE: &str = "at once 1; from 10 years on 1.5 for dry solid timber (NDS 3.5.2) and 2.0 for panels (shelf tests), both read \
                                second-hand; between them Findley's power law with the exponent 1/4, from memory";

/// How many times the sag at once a shelf sags after so many years under the same load.
///
/// 1 at once, and [`in_the_end`](Creep::in_the_end) from ten years on. Between them Findley's power law of creep, 1 + a·tⁿ, with n = 1/4:
/// published exponents for wood in bending lie about between 0.2 and 0.33 (W. N. Findley's law and the exponents are from memory, no copy
/// was read). Most of the creep comes early. No year or one before the load counts as at once.
pub fn creep(of: Creep, years: f64) -> f64 {
    let share = if years > 0.0 { (years / YEARS).min(1.0).powf(POWER) } else { 0.0 };
    1.0 + (of.in_the_end() - 1.0) * share
}

/// Where a part lives, by EN 1995-1-1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ServiceClass {
    /// Heated rooms: about 20 °C, over 65 % relative humidity for a few weeks a year only.
    One,
    /// Under a roof: over 85 % for a few weeks a year only.
    Two,
    /// Out of doors.
    Three,
}

/// Stuffs for which EN 1995-1-1 table 3.2 has a deformation factor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Board {
    /// Solid timber, glulam, laminated veneer lumber.
    Timber,
    /// Plywood to EN 636.
    Plywood,
    /// Oriented strand board OSB/2.
    Osb2,
    /// OSB/3 and OSB/4.
    Osb3,
    /// Particleboard P4; the nearest to furniture board P2, which has no factor of its own.
    ParticleP4,
    /// Particleboard P5.
    ParticleP5,
    /// Particleboard P6.
    ParticleP6,
    /// Particleboard P7.
    ParticleP7,
    /// Hardboard HB.LA.
    Hardboard,
    /// MDF.LA; the nearest to plain MDF, which has no factor of its own.
    Mdf,
    /// MDF.HLS.
    MdfHumid,
}

/// What the names of sheets tell of their kind; the first that fits counts.
const KINDS: [(&str, Board); 10] = [
    (EDGE_GLUED, Board::Timber),
    ("osb2", Board::Osb2),
    ("osb", Board::Osb3),
    ("particleboard_p5", Board::ParticleP5),
    ("particleboard_p6", Board::ParticleP6),
    ("particleboard_p7", Board::ParticleP7),
    ("particleboard", Board::ParticleP4),
    ("hardboard", Board::Hardboard),
    ("plywood", Board::Plywood),
    ("mdf", Board::Mdf),
];

impl Board {
    /// In words; of furniture boards, which have no factor of their own, that it is the nearest.
    pub fn words(self) -> &'static str {
        match self {
            Board::Timber => "solid timber",
            Board::Plywood => "plywood",
            Board::Osb2 => "OSB/2",
            Board::Osb3 => "OSB/3",
            Board::ParticleP4 => "particleboard P4, the nearest to furniture board",
            Board::ParticleP5 => "particleboard P5",
            Board::ParticleP6 => "particleboard P6",
            Board::ParticleP7 => "particleboard P7",
            Board::Hardboard => "hardboard HB.LA",
            Board::Mdf => "MDF.LA, the nearest to plain MDF",
            Board::MdfHumid => "MDF.HLS",
        }
    }

    /// The kind that a part's stuff is, or the nearest that has a factor; nothing where the name of a sheet does not tell.
    pub fn of(material: &Material) -> Option<Board> {
        let sheet = match material {
            Material::Solid(_) => return Some(Board::Timber),
            Material::Bought(_) => return None,
            Material::Sheet(id) => id,
        };
        KINDS.iter().find(|(word, _)| sheet.contains(word)).map(|(_, board)| *board)
    }
}

/// The deformation factor `k_def` of EN 1995-1-1 table 3.2; nothing where the standard has none for that class.
///
/// Read in copies, but for those of OSB/4, of P5 in class 1 and of P7, which are from memory.
pub fn eurocode_k_def(board: Board, class: ServiceClass) -> Option<f64> {
    let [one, two, three] = match board {
        Board::Timber => [Some(0.60), Some(0.80), Some(2.00)],
        Board::Plywood => [Some(0.80), Some(1.00), Some(2.50)],
        Board::Osb3 | Board::ParticleP7 => [Some(1.50), Some(2.25), None],
        Board::ParticleP6 => [Some(1.50), None, None],
        Board::ParticleP5 | Board::MdfHumid => [Some(2.25), Some(3.00), None],
        Board::Osb2 | Board::ParticleP4 | Board::Hardboard | Board::Mdf => [Some(2.25), None, None],
    };
    match class {
        ServiceClass::One => one,
        ServiceClass::Two => two,
        ServiceClass::Three => three,
    }
}

/// The same factor with its source and how it was obtained.
pub fn eurocode_known(board: Board, class: ServiceClass) -> Option<Known> {
    let how = match (board, class) {
        (Board::ParticleP7, _) | (Board::ParticleP5, ServiceClass::One) | (Board::Osb3, ServiceClass::Two | ServiceClass::Three) => {
            How::Memory
        }
        (
            Board::Timber
            | Board::Plywood
            | Board::Osb2
            | Board::Osb3
            | Board::ParticleP4
            | Board::ParticleP5
            | Board::ParticleP6
            | Board::Hardboard
            | Board::Mdf
            | Board::MdfHumid,
            _,
        ) => How::Read,
    };
    Some(Known::new(eurocode_k_def(board, class)?, how, "EN 1995-1-1, table 3.2, in copies"))
}

/// The share of its short-term strength that a stuff keeps under a load that stays: for solid timber bent for ten years the handbook's, for
/// boards `k_mod` of EN 1995-1-1 table 3.1 for a permanent load in service class 1.
pub fn keeps(board: Board) -> Known {
    let by_eurocode = |share| Known::new(share, How::Read, "k_mod of EN 1995-1-1, table 3.1, permanent load, service class 1, in copies");
    match board {
        Board::Timber => Known::new(0.6, How::Read, "Wood Handbook FPL-GTR-282: bent for ten years"),
        Board::Plywood => by_eurocode(0.60),
        Board::Osb3 | Board::ParticleP6 | Board::ParticleP7 => by_eurocode(0.40),
        Board::Osb2 | Board::ParticleP4 | Board::ParticleP5 | Board::Hardboard => by_eurocode(0.30),
        Board::Mdf | Board::MdfHumid => by_eurocode(0.20),
    }
}

impl ServiceClass {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            ServiceClass::One => "service class 1, heated rooms",
            ServiceClass::Two => "service class 2, under a roof",
            ServiceClass::Three => "service class 3, out of doors",
        }
    }
}

/// The final sag by EN 1995-1-1: a lasting load's sag at once times 1 + `k_def`, and a passing load's times 1 + ψ₂·`k_def`.
///
/// `lasting` and `passing` are the sags at once, mm; `psi_2` is the share of the passing load that lasts, 0 to 1. A shelf that stays
/// loaded is best taken as lasting.
pub fn eurocode_final(lasting: f64, passing: f64, psi_2: f64, k_def: f64) -> f64 {
    lasting * (1.0 + k_def) + passing * (1.0 + psi_2 * k_def)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn creep_begins_at_once_ends_after_ten_years_and_never_falls() {
        for (of, end) in [(Creep::Timber, 1.5), (Creep::Panel, 2.0)] {
            let near = |years: f64, wanted: f64| (creep(of, years) - wanted).abs() < 1e-12;
            assert!(near(0.0, 1.0) && near(-3.0, 1.0) && near(f64::NAN, 1.0) && near(10.0, end) && near(80.0, end));
            let years: Vec<f64> = (0..=40).map(|quarter| f64::from(quarter) / 4.0).collect();
            assert!(years.windows(2).all(|pair| creep(of, pair[0]) < creep(of, pair[1])));
            assert!(creep(of, 1.0) - 1.0 > 0.5 * (end - 1.0), "most of it comes early");
        }
    }

    #[test]
    fn every_sheet_of_the_table_has_a_factor_beside_it() {
        for sheet in crate::timber::sheet_goods() {
            let board = Board::of(&Material::Sheet(sheet.id.clone()));
            assert!(board.is_some_and(|board| eurocode_k_def(board, ServiceClass::One).is_some()), "{}", sheet.id);
        }
        assert_eq!(Board::of(&Material::Bought("steel clip".to_owned())), None);
    }
}
