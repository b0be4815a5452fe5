//! What was measured and done in the shop, against what was planned.
//!
//! A [`Batch`] is stock as it measures: a decision such as the width of the posts, and what it came out at. It holds wherever that
//! decision is used, but for parts already cut. A [`PartRecord`] is one part: how far it is made, and its own measures, which hold
//! for that part alone. A part that is cut or glued keeps the sizes and cuts it was given, whatever is decided or measured later;
//! [`set_state`] writes them down. [`derive()`](crate::derive()) makes what is not yet cut fit what is there, and the checks
//! name what is cut and no longer fits.
//!
//! ```text
//! shop: (
//!     batches: [(of: "carcase.post.width", measured: 44.6)],
//!     parts: [(part: "rail.front.bottom", state: Cut, length: 1252)],
//! )
//! ```
//!
//! Besides the functions here, [`decisions::set`] takes `measured.DECISION` for a batch, and `made.PART.state`, `.length`, `.width`,
//! `.thickness`, `.first_shim`, `.second_shim`, `.sawn_first_end`, `.sawn_second_end`, `.note` and `.cuts` for a part.

use serde::{Deserialize, Serialize};

use super::decisions::{self, DecisionError, Value};
use super::{Design, Dimension, Gluing, Tools};
use crate::derive::derive;
use crate::length::{Length, parse, trimmed};
use crate::model::{Cut, JointId, Model, Part, PrismBox};
use crate::origin::Origin;
use crate::place::Dir;

/// What was measured and done in the shop.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shop {
    /// Stock as it measures, a line a decision.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub batches: Vec<Batch>,
    /// Parts that something was done to or measured on.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<PartRecord>,
    /// How the maker glues.
    #[serde(default, skip_serializing_if = "is_default")]
    pub glue: Gluing,
    /// The tools at hand.
    #[serde(default, skip_serializing_if = "is_default")]
    pub tools: Tools,
}

impl Shop {
    /// Whether there is nothing to write: nothing measured or done, the glue and the tools those that every shop begins with.
    pub fn is_empty(&self) -> bool {
        is_default(self)
    }

    /// What is recorded of the part of that name.
    pub fn record(&self, part: &str) -> Option<&PartRecord> {
        self.parts.iter().find(|record| record.part == part)
    }

    /// How far the part of that name is made.
    pub fn state(&self, part: &str) -> State {
        self.record(part).map_or(State::Planned, |record| record.state)
    }
}

/// Whether a value need not be written.
pub(super) fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

/// Stock as it measures.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Batch {
    /// The decision it stands for, such as `carcase.post.width` or `timber.panel.measured`: one that [`stock`] lists.
    pub of: String,
    /// What the stock measures, mm.
    pub measured: Length,
}

/// How far a part is made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum State {
    /// Nothing of it is there.
    #[default]
    Planned,
    /// Sawn with room to spare, or brought to some of its sizes.
    Roughed,
    /// At its sizes and with its joints cut.
    Cut,
    /// Glued to others.
    Glued,
}

impl State {
    /// All four, in their order.
    pub const ALL: [State; 4] = [State::Planned, State::Roughed, State::Cut, State::Glued];

    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            State::Planned => "planned",
            State::Roughed => "roughed",
            State::Cut => "cut",
            State::Glued => "glued",
        }
    }

    /// Whether sizes and cuts are made and stay.
    pub fn is_cut(self) -> bool {
        self >= State::Cut
    }
}

/// What was measured on one part and done to it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PartRecord {
    /// The part's name, such as `rail.front.bottom`.
    pub part: String,
    /// How far it is made.
    #[serde(default)]
    pub state: State,
    /// Measured along the grain, mm.
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub length: Option<Length>,
    /// Measured across the grain, mm.
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub width: Option<Length>,
    /// Measured through it, mm.
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub thickness: Option<Length>,
    /// How thick a shim is glued to the shoulder of its first end, mm.
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub first_shim: Option<Length>,
    /// How thick a shim is glued to the shoulder of its second end, mm.
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub second_shim: Option<Length>,
    /// Length, width and thickness it was cut to, mm, as far as nobody measured: what was planned when it became [`State::Cut`].
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub finished: Option<[Length; 3]>,
    /// What was cut into it then.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cuts: Vec<PrismBox>,
    /// Words of the maker's own.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

impl PartRecord {
    /// What was measured of a size.
    pub fn measured(&self, of: Dimension) -> Option<Length> {
        match of {
            Dimension::Length => self.length,
            Dimension::Width => self.width,
            Dimension::Thickness => self.thickness,
        }
    }

    /// The place of a measure.
    pub(crate) fn measured_mut(&mut self, of: Dimension) -> &mut Option<Length> {
        match of {
            Dimension::Length => &mut self.length,
            Dimension::Width => &mut self.width,
            Dimension::Thickness => &mut self.thickness,
        }
    }

    /// The size that holds for this part against the rules: as measured, or as it was cut to.
    pub fn holds(&self, of: Dimension) -> Option<Length> {
        let cut_to = self.finished.filter(|_| self.state.is_cut()).map(|finished| finished[of.index()]);
        self.measured(of).or(cut_to)
    }

    /// Whether nothing is left to record.
    fn is_idle(&self) -> bool {
        let shims = self.first_shim.is_some() || self.second_shim.is_some();
        self.state == State::Planned && !shims && self.note.is_empty() && Dimension::ALL.iter().all(|of| self.measured(*of).is_none())
    }
}

/// A value that is written where there is one, without a word for "some".
pub(super) mod bare {
    #![allow(clippy::ref_option, reason = "serde hands over a reference to the field")]

    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    pub(in crate::design) fn serialize<T: Serialize, S: Serializer>(value: &Option<T>, to: S) -> Result<S::Ok, S::Error> {
        match value {
            Some(value) => value.serialize(to),
            None => to.serialize_unit(),
        }
    }

    pub(in crate::design) fn deserialize<'de, T: Deserialize<'de>, D: Deserializer<'de>>(from: D) -> Result<Option<T>, D::Error> {
        T::deserialize(from).map(Some)
    }
}

/// Stock that can be measured as a batch: a decision, what was planned, and what it measures.
#[derive(Clone, Debug, PartialEq)]
pub struct Stock {
    /// The decision's name.
    pub path: String,
    /// The heading it stands under, and a few words for it.
    pub label: String,
    /// As decided, mm.
    pub planned: Length,
    /// As measured, where it was.
    pub measured: Option<Length>,
}

/// All stock of a design that can be measured as a batch, in the order of the decisions.
pub fn stock(design: &Design) -> Vec<Stock> {
    decisions::list(design)
        .into_iter()
        .filter(|decision| is_stock(&decision.spec.path))
        .filter_map(|decision| {
            let Value::Length(planned) = decision.value else { return None };
            let measured = design.shop.batches.iter().find(|batch| batch.of == decision.spec.path).map(|batch| batch.measured);
            Some(Stock { label: format!("{}: {}", decision.spec.group, decision.spec.label), path: decision.spec.path, planned, measured })
        })
        .collect()
}

/// Sections and thicknesses of wood and sheet; not distances, which are decided and not milled.
const STOCK: [(&str, &[&str]); 10] = [
    ("carcase.post.", &["width", "depth"]),
    ("carcase.rails.", &["thickness", "top", "bottom", "middle"]),
    ("carcase.top.", &["thickness"]),
    ("carcase.top.buttons.", &["length", "width", "thickness"]),
    ("carcase.bottom.", &["bearer"]),
    ("sawtooth.", &["thickness"]),
    ("sawtooth.cleat.", &["height", "thickness"]),
    ("sawtooth.slats.", &["width", "thickness"]),
    ("timber.panel.", &["measured"]),
    ("timber.floor.", &["measured"]),
];

/// Whether a decision is a size of stock that is milled or bought, and so can be measured.
pub(crate) fn is_stock(path: &str) -> bool {
    let Some((before, name)) = path.rsplit_once('.') else { return false };
    let listed = STOCK.iter().any(|(group, names)| group.strip_suffix('.') == Some(before) && names.contains(&name));
    let divider = path.starts_with("interior.") && before.ends_with("divider") && ["width", "cross_rail"].contains(&name);
    let tenon = path.starts_with("joinery.") && before.matches('.').count() == 1 && ["thickness", "width", "length"].contains(&name);
    listed || divider || tenon
}

/// The least and the greatest that can be measured, mm.
pub const MEASURABLE: std::ops::RangeInclusive<f64> = 0.1..=6000.0;

fn in_range(path: &str, measured: Length) -> Result<Length, DecisionError> {
    if MEASURABLE.contains(&measured.to_mm()) {
        return Ok(measured);
    }
    let found = measured.to_mm();
    Err(DecisionError::OutOfRange {
        path: path.to_owned(),
        found: if found.is_finite() { trimmed(found) } else { found.to_string() },
        least: trimmed(*MEASURABLE.start()),
        greatest: trimmed(*MEASURABLE.end()),
        unit: "mm",
    })
}

/// Records what the stock of a decision measures, or with `None` takes it back.
///
/// # Errors
/// When the decision is none of [`stock`], or the measure is out of its range. The design is then unchanged.
pub fn measure_batch(design: &mut Design, of: &str, measured: Option<Length>) -> Result<(), DecisionError> {
    let path = format!("measured.{of}");
    let decision = decisions::list(design).into_iter().find(|decision| decision.spec.path == of && is_stock(of));
    let Some(decision) = decision else {
        let expected = "it must be stock that is milled or bought, such as carcase.post.width or timber.panel.measured";
        return Err(unreadable(&path, of, expected));
    };
    if let (Some(measured), Some(range)) = (measured, decision.spec.range) {
        in_range(&path, measured)?;
        if !range.contains(&measured.to_mm()) {
            return Err(DecisionError::OutOfRange {
                path,
                found: trimmed(measured.to_mm()),
                least: trimmed(*range.start()),
                greatest: trimmed(*range.end()),
                unit: "mm",
            });
        }
    }
    let batches = &mut design.shop.batches;
    match (batches.iter_mut().find(|batch| batch.of == of), measured) {
        (Some(batch), Some(measured)) => batch.measured = measured,
        (None, Some(measured)) => batches.push(Batch { of: of.to_owned(), measured }),
        (_, None) => batches.retain(|batch| batch.of != of),
    }
    Ok(())
}

/// Changes the record of a part, makes one where there is none, and drops it when nothing is left in it.
fn change(design: &mut Design, part: &str, change: impl FnOnce(&mut PartRecord)) {
    let parts = &mut design.shop.parts;
    let at = parts.iter().position(|record| record.part == part).unwrap_or_else(|| {
        parts.push(PartRecord { part: part.to_owned(), ..PartRecord::default() });
        parts.len() - 1
    });
    change(&mut parts[at]);
    if parts[at].is_idle() {
        parts.remove(at);
    }
}

/// Records a size measured on one part, or with `None` takes it back. What is measured is there: a planned part becomes roughed.
///
/// # Errors
/// When the measure is out of range. The design is then unchanged. A part that is not there is no error: the checks tell.
pub fn measure(design: &mut Design, part: &str, of: Dimension, measured: Option<Length>) -> Result<(), DecisionError> {
    let measured = measured.map(|measured| in_range(&format!("made.{part}.{}", of.word()), measured)).transpose()?;
    change(design, part, |record| {
        let before = record.holds(of);
        *record.measured_mut(of) = measured;
        if let (Some(before), Some(now)) = (before, record.holds(of)) {
            move_cuts(&mut record.cuts, of.index(), before.to_mm(), now.to_mm());
        }
        if measured.is_some() {
            record.state = record.state.max(State::Roughed);
        }
    });
    Ok(())
}

/// Cuts that reach the far end or face of a part stay at it when the part turns out other than it was taken for.
fn move_cuts(cuts: &mut [PrismBox], axis: usize, before: f64, now: f64) {
    for cut in cuts {
        *cut = tidied(cut.in_longer(axis, before, now));
    }
}

/// An end of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// The end from which it is measured.
    First,
    /// The other.
    Second,
}

impl End {
    /// Both.
    pub const ALL: [End; 2] = [End::First, End::Second];

    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            End::First => "first",
            End::Second => "second",
        }
    }
}

/// Records a shim that makes a part up at an end, or with `None` takes it back.
///
/// # Errors
/// As [`measure`].
pub fn put_shim(design: &mut Design, part: &str, end: End, thickness: Option<Length>) -> Result<(), DecisionError> {
    let path = format!("made.{part}.{}_shim", end.word());
    let thickness = thickness.map(|thickness| in_range(&path, thickness)).transpose()?;
    change(design, part, |record| match end {
        End::First => record.first_shim = thickness,
        End::Second => record.second_shim = thickness,
    });
    Ok(())
}

/// Records that so much was sawn off an end of a part that is cut: its joint at that end is gone with the offcut, and is still to be cut anew.
///
/// # Errors
/// As [`measure`]; when it is not known how long the part was; and when the case can't be built as decided.
pub fn saw_off(design: &mut Design, part: &str, end: End, by: Length) -> Result<(), DecisionError> {
    let path = format!("made.{part}.sawn_{}_end", end.word());
    let before = design.shop.record(part).and_then(|record| record.holds(Dimension::Length));
    let Some(before) = before else { return Err(unreadable(&path, &by.to_string(), "first record how long the part is")) };
    in_range(&path, by)?;
    let now = in_range(&path, before - by)?;
    let model = derive_or_tell(design, &path, &by.to_string())?;
    let joined = model.find(part).map_or_else(Vec::new, |part| cut_at(&model, part, end));
    let (before, by) = (before.to_mm(), by.to_mm());
    let first = end == End::First;
    change(design, part, |record| {
        record.length = Some(now);
        let left = |cut: &PrismBox| {
            let touched = if first { cut.1[0] < by } else { cut.2[0] > before - by };
            let gone = touched && joined.contains(&cut.0);
            (!gone).then(|| cut.sawn(if first { (by, before) } else { (0.0, before - by) })).flatten()
        };
        record.cuts = record.cuts.iter().filter_map(left).map(tidied).collect();
    });
    Ok(())
}

/// What the cuts of a part are called that join it with one of its ends.
pub(crate) fn cut_at(model: &Model, part: &Part, end: End) -> Vec<String> {
    let out = part.pose.basis.x_axis * if end == End::First { -1.0 } else { 1.0 };
    let there = |joint: JointId| {
        let joint = model.joint(joint);
        joint.a == part.id && joint.contact.into == Dir::nearest(out)
    };
    let cuts = part.cuts.iter().filter(|cut| cut.joint.is_some_and(there));
    cuts.map(|cut| cut.feature.name().to_owned()).collect()
}

/// Records words of the maker's own on a part; empty ones take them back.
pub fn note(design: &mut Design, part: &str, words: &str) {
    change(design, part, |record| words.trim().clone_into(&mut record.note));
}

/// Records how far a part is made.
///
/// [`State::Cut`] and [`State::Glued`] write down, once, what it was cut to: its sizes as far as nobody measured them, and its
/// cuts, as they are planned now. [`State::Planned`] takes back all that was recorded of it: it is to be made, or made anew.
///
/// # Errors
/// When a part is to be cut and the case can't be built as decided. The design is then unchanged. A part that is not there
/// is no error: the checks tell.
pub fn set_state(design: &mut Design, part: &str, state: State) -> Result<(), DecisionError> {
    if state == State::Planned {
        design.shop.parts.retain(|record| record.part != part);
        return Ok(());
    }
    let known = design.shop.record(part).is_some_and(|record| record.state.is_cut() && record.finished.is_some());
    if state.is_cut() && !known {
        write_down_cuts(design, part, cuts_from_one_side)?;
    }
    change(design, part, |record| {
        record.state = state;
        if !state.is_cut() {
            record.finished = None;
            record.cuts.clear();
        }
    });
    Ok(())
}

/// Writes down that a part is cut as planned now, its cuts too, whatever was written before.
///
/// # Errors
/// As [`set_state`].
pub fn write_down(design: &mut Design, part: &str) -> Result<(), DecisionError> {
    write_down_cuts(design, part, cuts_of)
}

fn write_down_cuts(design: &mut Design, part: &str, cuts_of: impl Fn(&Part) -> Vec<PrismBox>) -> Result<(), DecisionError> {
    // What was measured on it is what it is cut to, though it is more than planned.
    let mut cut = design.clone();
    change(&mut cut, part, |record| record.state = record.state.max(State::Cut));
    let model = derive_or_tell(&cut, &format!("made.{part}.state"), State::Cut.word())?;
    let Some(placed) = model.find(part) else { return Ok(()) };
    let finished = placed.size.each_ref().map(|size| Length::mm(tidy(size.mm)));
    let cuts = cuts_of(placed);
    change(design, part, |record| {
        record.state = record.state.max(State::Cut);
        record.finished = Some(finished);
        record.cuts = cuts;
    });
    Ok(())
}

/// The model of a design, for what is recorded at `path`.
fn derive_or_tell(design: &Design, path: &str, found: &str) -> Result<Model, DecisionError> {
    derive(design).map_err(|errors| {
        let why: Vec<_> = errors.iter().map(ToString::to_string).collect();
        unreadable(path, found, &format!("first make a case that can be built: {}", why.join("; ")))
    })
}

/// The cuts of a part as they are written down.
pub(crate) fn cuts_of(part: &Part) -> Vec<PrismBox> {
    part.cuts.iter().flat_map(|cut| cuts_of_one(part, cut)).collect()
}

/// The cuts of a part that was made longer or shorter than planned: marked out from the left, lower or back end of the case, as all that stand beside
/// it are, whichever of its ends is the first.
fn cuts_from_one_side(part: &Part) -> Vec<PrismBox> {
    let length = &part.size[0];
    let off = match &length.origin {
        Origin::Measured { planned, .. } if part.pose.basis.x_axis.element_sum() < 0.0 => length.mm - planned.mm,
        Origin::Measured { .. } | Origin::Decision { .. } | Origin::Sum(_) | Origin::Rule { .. } => 0.0,
    };
    cuts_of(part).into_iter().map(|cut| tidied(cut.moved_along(off, length.mm))).collect()
}

/// One of the cuts of a part as it is written down.
pub(crate) fn cuts_of_one(part: &Part, cut: &Cut) -> Vec<PrismBox> {
    cut.feature.boxes(part.lwt()).into_iter().map(tidied).collect()
}

fn tidied(PrismBox(what, from, to): PrismBox) -> PrismBox {
    PrismBox(what, from.map(tidy), to.map(tidy))
}

/// Rounded to a millionth, so that 12.75 + 0.2 is written 12.95.
fn tidy(mm: f64) -> f64 {
    (mm * 1e6).round() / 1e6 + 0.0
}

/// The paths beside the decisions that [`decisions::set`] takes; none when `path` is no such.
pub(super) fn set(design: &mut Design, path: &str, text: &str) -> Option<Result<(), DecisionError>> {
    if let Some(of) = path.strip_prefix("measured.") {
        return Some(read(path, text).and_then(|measured| measure_batch(design, of, measured)));
    }
    if let Some((part, of)) = measure_at(design, path) {
        return Some(read(path, text).and_then(|measured| measure(design, &part, of, measured)));
    }
    let (part, what) = path.strip_prefix("made.")?.rsplit_once('.')?;
    if let Some(of) = Dimension::ALL.into_iter().find(|of| of.word() == what) {
        return Some(read(path, text).and_then(|measured| measure(design, part, of, measured)));
    }
    match what {
        "note" => {
            note(design, part, text);
            Some(Ok(()))
        }
        "first_shim" => Some(read(path, text).and_then(|shim| put_shim(design, part, End::First, shim))),
        "second_shim" => Some(read(path, text).and_then(|shim| put_shim(design, part, End::Second, shim))),
        "sawn_first_end" => Some(read(path, text).and_then(|by| sawn(design, part, path, End::First, by))),
        "sawn_second_end" => Some(read(path, text).and_then(|by| sawn(design, part, path, End::Second, by))),
        "state" => Some(match State::ALL.into_iter().find(|state| state.word() == text.trim()) {
            Some(state) => set_state(design, part, state),
            None => Err(unreadable(path, text, "write planned, roughed, cut or glued")),
        }),
        "cuts" => Some(if text.trim() == AS_PLANNED { write_down(design, part) } else { Err(unreadable(path, text, "write planned")) }),
        _ => None,
    }
}

fn sawn(design: &mut Design, part: &str, path: &str, end: End, by: Option<Length>) -> Result<(), DecisionError> {
    let by = by.ok_or_else(|| unreadable(path, NONE, "write how much was sawn off"))?;
    saw_off(design, part, end, by)
}

/// How late a name must be set where several are: what was measured after what was decided, then what was made, then how far, which writes
/// down what all the rest gives, and last what was done to it after: what was sawn off it, and cut anew.
pub(super) fn comes_late(path: &str) -> u8 {
    match (path.starts_with("measured."), path.starts_with("made."), path.rsplit('.').next()) {
        (_, true, Some("cuts")) => 5,
        (_, true, Some("sawn_first_end" | "sawn_second_end")) => 4,
        (_, true, Some("state")) => 3,
        (_, true, _) => 2,
        (true, ..) => 1,
        (false, false, _) => 0,
    }
}

/// The part and the size that `shop.parts.N.length` stands for, where it was measured.
fn measure_at(design: &Design, path: &str) -> Option<(String, Dimension)> {
    let (number, word) = path.strip_prefix("shop.parts.")?.split_once('.')?;
    let record = design.shop.parts.get(number.parse::<usize>().ok()?.checked_sub(1)?)?;
    let of = Dimension::ALL.into_iter().find(|of| of.word() == word && record.measured(*of).is_some())?;
    Some((record.part.clone(), of))
}

/// The cuts of a part are those planned now.
const AS_PLANNED: &str = "planned";
/// What takes a measure back.
const NONE: &str = "none";

fn read(path: &str, text: &str) -> Result<Option<Length>, DecisionError> {
    if text.trim() == NONE {
        return Ok(None);
    }
    parse(text).map(Some).map_err(|error| unreadable(path, text, &format!("{}, or \"{NONE}\" to take it back", error.expected())))
}

fn unreadable(path: &str, found: &str, expected: &str) -> DecisionError {
    DecisionError::Unreadable { path: path.to_owned(), found: found.to_owned(), expected: expected.to_owned() }
}
