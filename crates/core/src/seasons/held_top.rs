//! How a solid top is held: how far it travels at each of its fixings, how far it can be slid there, and what is then left of a tongue in its slot.
//!
//! The line that stays put is where the design has it. What really holds it there is the fixing with the least room along the way in which the
//! top moves: until that stops it, the top can be slid, and a tongue comes out of its slot by as much. So tongues are judged with the top slid
//! over, as panels are in their grooves.

use glam::DVec3;

use crate::design::{Design, Dimension, Moisture, Season};
use crate::joint::JointKind;
use crate::joint::button::SLOT_ROOM;
use crate::joint::clip::KERF_ROOM;
use crate::model::{Joint, JointId, Model, Part, PartKind};
use crate::timber::movement::worked_movement;
use crate::timber::{Rates, movement};
use crate::worked::Worked;

/// The axis of the case along which a top moves: from back to front.
const WAY: usize = 2;

/// A solid top on its fixings.
#[derive(Debug)]
pub struct HeldTop<'m> {
    model: &'m Model,
    moisture: &'m Moisture,
    top: &'m Part,
    /// The line that stays put, mm from the back.
    line: f64,
    rates: Rates,
}

/// The tongue of a fixing that is held least, with the top slid as far as its fixings let it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tongue {
    /// The joint of fixing and rail.
    pub joint: JointId,
    /// At which moisture it is held least.
    pub season: Season,
    /// How far the top is then slid away from that rail, mm; without end where nothing stops it.
    pub slid: f64,
    /// What is left in the slot, mm.
    pub held: f64,
}

impl<'m> HeldTop<'m> {
    /// The top of a model; nothing where it has none that is held along a line.
    pub fn of(design: &'m Design, model: &'m Model) -> Option<HeldTop<'m>> {
        let top = model.parts.iter().find(|part| part.kind == PartKind::Top)?;
        let line = model.held_lines.iter().find(|line| line.part == top.id && line.axis == WAY)?.at;
        let rates = Rates::of(&top.material, top.sawn, &model.timbers);
        Some(HeldTop { model, moisture: &design.timber.moisture, top, line, rates })
    }

    /// How far the top moves to the front at a place of the case, mm, from as built to a season.
    fn travel(&self, at: DVec3, season: Season) -> f64 {
        movement(at[WAY] - self.line, self.rates.along(Dimension::Width), self.moisture.built, self.moisture.at(season))
    }

    /// How far one fixing lets the top be slid in a season, to the back and to the front, mm.
    fn room(&self, joint: &Joint, season: Season) -> Option<[f64; 2]> {
        let at = joint.contact.centre;
        let travel = self.travel(at, season);
        // The shoulder stands off a rail by so much as built; the other way only the tongue comes out.
        let shoulder = |gap: f64| {
            if joint.contact.into.sign() > 0.0 { [f64::INFINITY, gap - travel] } else { [gap + travel, f64::INFINITY] }
        };
        let slot = |spare: f64| {
            let ends = Season::ALL.map(|season| self.travel(at, season));
            let (low, high) = ends.iter().fold((0.0_f64, 0.0_f64), |(low, high), end| (low.min(*end), high.max(*end)));
            let middle = f64::midpoint(low, high);
            [travel - (middle - spare / 2.0), middle + spare / 2.0 - travel]
        };
        let across = joint.contact.into.axis() == WAY;
        let room = match &joint.kind {
            JointKind::Button(figures) if across => shoulder(figures.gap),
            JointKind::Button(figures) => slot(figures.slot - figures.width),
            JointKind::Clip(figures) if across => shoulder(figures.gap),
            JointKind::Clip(figures) => slot(figures.along - joint.contact.extent.x),
            JointKind::SlottedScrew(figures) => slot(figures.slot() - figures.shank),
            // A plate square to its rail is as good as stiff; one along it swings.
            JointKind::Plate(_) => {
                let along = joint.contact.along.axis() == WAY;
                if along { [0.0; 2] } else { [f64::INFINITY; 2] }
            }
            _ => return None,
        };
        Some(room.map(|mm| mm.max(0.0)))
    }

    /// How far the top can be slid in a season before a fixing stops it, to the back and to the front, mm; without end where none does.
    pub fn slides(&self, season: Season) -> [f64; 2] {
        let rooms = self.model.joints.iter().filter_map(|joint| self.room(joint, season));
        rooms.fold([f64::INFINITY; 2], |least, room| [least[0].min(room[0]), least[1].min(room[1])])
    }

    /// How much of the tongue of a button or a clip is in its slot when the top is slid away from its rail as far as it goes, at the season in which
    /// that is least; nothing for what has no tongue across the way in which the top moves.
    pub fn tongue(&self, joint: &Joint) -> Option<Tongue> {
        if joint.contact.into.axis() != WAY {
            return None;
        }
        let in_rail = match &joint.kind {
            JointKind::Button(figures) => figures.tongue - figures.gap,
            JointKind::Clip(figures) => figures.tongue - figures.gap,
            _ => return None,
        };
        let front = joint.contact.into.sign() > 0.0;
        let at = |season: Season| {
            let travel = self.travel(joint.contact.centre, season) * joint.contact.into.sign();
            let slid = self.slides(season)[usize::from(!front)];
            Tongue { joint: joint.id, season, slid, held: in_rail + travel - slid }
        };
        Season::ALL.map(at).into_iter().min_by(|a, b| a.held.total_cmp(&b.held))
    }

    /// The movement of the top at a fixing to a season, mm, with where it comes from.
    fn moves(&self, joint: &Joint, season: Season) -> Worked {
        let from = Worked::given("from the line that stays put", (joint.contact.centre[WAY] - self.line).abs(), "mm");
        let worked = worked_movement(from, self.rates.worked(Dimension::Width), self.moisture.built, self.moisture.at(season));
        worked.named(format!("the top moves there, {}", season.words()))
    }

    /// Why a fixing stands off its rail as it does, and why its slot is as long as it is; nothing for what is no button and no clip.
    pub fn why(&self, joint: &Joint) -> Vec<Worked> {
        let across = joint.contact.into.axis() == WAY;
        let (gap, spare, slot, width) = match &joint.kind {
            JointKind::Button(figures) => (figures.gap, SLOT_ROOM / 2.0, figures.slot, figures.width),
            JointKind::Clip(figures) => (figures.gap, KERF_ROOM, figures.along, joint.contact.extent.x),
            _ => return Vec::new(),
        };
        let [driest, wettest] = [Season::Driest, Season::Wettest].map(|season| self.moves(joint, season));
        let mut all = Vec::new();
        if across {
            let out = driest.value.max(wettest.value).max(0.0);
            let spare = if gap > 0.0 { gap - out } else { spare.min(gap) };
            let formula = ("the most that the top moves out there + spare, 0 where it does not move", "common practice, no source");
            all.push(Worked::by("free at the shoulder", gap, "mm", formula, vec![driest, wettest, Worked::given("spare", spare, "mm")]));
            let tongue = self.tongue(joint);
            all.extend(tongue.filter(|tongue| tongue.slid.is_finite()).map(|tongue| self.why_tongue(joint, &tongue)));
        } else {
            let travel = (driest.value.max(wettest.value).max(0.0) - driest.value.min(wettest.value).min(0.0)).max(0.0);
            let inputs = vec![
                Worked::given("what goes into it, wide", width, "mm"),
                driest,
                wettest,
                Worked::given("spare, both ends together", slot - width - travel, "mm"),
            ];
            let formula = ("width + from the driest to the wettest, as built among them, + spare", "common practice, no source");
            all.push(Worked::by("length of the slot", slot, "mm", formula, inputs));
        }
        all
    }

    /// How far a tongue is held where it is held least.
    pub fn why_tongue(&self, joint: &Joint, tongue: &Tongue) -> Worked {
        let (length, gap) = match &joint.kind {
            JointKind::Button(figures) => (figures.tongue, figures.gap),
            JointKind::Clip(figures) => (figures.tongue, figures.gap),
            _ => (tongue.held, 0.0),
        };
        let out = self.travel(joint.contact.centre, tongue.season) * joint.contact.into.sign();
        let when = tongue.season.words();
        let inputs = vec![
            Worked::given("tongue", length, "mm"),
            Worked::given("free at the shoulder", gap, "mm"),
            Worked::given(format!("the top moves out there, {when}"), out, "mm"),
            Worked::given("it can be slid away from the rail until another fixing stops it", tongue.slid, "mm"),
        ];
        let formula = ("tongue − free at the shoulder + what the top moves out − what it can be slid", "geometry");
        Worked::by(format!("tongue held, {when}, the top slid over"), tongue.held, "mm", formula, inputs)
    }

    /// The top itself.
    pub fn part(&self) -> &'m Part {
        self.top
    }
}
