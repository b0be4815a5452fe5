//! Where the tenons of a row stand: as many as there is room for, mitred or staggered where another row crosses.

use super::{Figures, LEAST_PLAY, Mitre, Wanted};
use crate::design::{LooseMeeting, LooseTenons};
use crate::joint::room::{Crossing, least_wall};
use crate::model::{Assembly, Joint};

/// What two mitred tenons leave between their ends, each, mm (common practice, no source).
const MITRE_GAP: f64 = 1.0;

impl Figures {
    /// Mitres the ends for others of the same sizes that cross: no deeper than lets the two meet, and shorter by as much.
    fn mitred(self, crossing: Crossing) -> Figures {
        let (_, far) = crossing.pocket(self.thickness);
        let (room, most) = (self.room().max(0.0) / 2.0, far - MITRE_GAP);
        if most <= self.thickness + 1.0 {
            return self;
        }
        let too_deep = (self.reach_in_face() - most).max(0.0);
        let depth_in_face = if too_deep > 0.0 { most + room } else { self.depth_in_face };
        let mitre = Some(Mitre { long: crossing.into, at_most: most });
        Figures { depth_in_face, length: self.length - too_deep, mitre, ..self }
    }

    /// Stands the row in its share of the contact, from the middle outward; the margin gives way before the wall between the two rows does.
    fn staggered(self, sizes: &LooseTenons, share: (f64, f64), extent: f64) -> Figures {
        let margin = sizes.margin.to_mm();
        // The share reaches one edge of the part, and keeps half of the wall at its other end.
        let below = share.0 <= -extent / 2.0 + 1e-9;
        let (inner, outer) = if below { (share.1, share.0 + margin) } else { (share.0, share.1 - margin) };
        let (room, out) = ((outer - inner).abs(), if below { -1.0 } else { 1.0 });
        let each = self.width + self.play;
        let count = (((room + margin) / (each + margin) + 1e-9).floor() as u32).clamp(1, sizes.at_most.max(1));
        let half = if count == 1 { self.width + self.fit } else { each } / 2.0;
        let last = (room - 2.0 * half).max(0.0);
        let at = |index: u32| {
            let along = if count == 1 { last / 2.0 } else { last * f64::from(index) / f64::from(count - 1) };
            inner + out * (half + along)
        };
        let mut at: Vec<f64> = (0..count).map(at).collect();
        at.sort_by(f64::total_cmp);
        Figures { at, ..self }.between_edges(extent)
    }

    /// With what is left between its mortises and the nearer edge of a part so wide.
    fn between_edges(self, extent: f64) -> Figures {
        let half = |index: usize| self.width_in_face(index) / 2.0;
        let beside = self.at.iter().enumerate().map(|(index, at)| extent / 2.0 - at.abs() - half(index));
        let edge = beside.fold(f64::INFINITY, f64::min);
        Figures { edge, ..self }
    }
}

/// The row of loose tenons that a contact `extent` mm long takes: as many as fit with the margins, at most as many as wanted.
pub fn figures(wanted: &LooseTenons, extent: f64) -> Figures {
    let (width, margin) = (wanted.width.to_mm(), wanted.margin.to_mm());
    let fit = wanted.fit.to_mm();
    let play = wanted.play.to_mm().max(fit);
    let room = extent - 2.0 * margin;
    // Counted as if all had play: n mortises and n - 1 margins between them.
    let count = |play: f64| (((room + margin) / (width + play + margin) + 1e-9).floor() as u32).clamp(1, wanted.at_most.max(1));
    let (at_best, count) = (count(play.min(LEAST_PLAY)) as usize, count(play));
    // The outermost mortises stand the margin from the edges; one alone stands in the middle.
    let span = (room - width - play).max(0.0);
    let at = (0..count).map(|index| if count == 1 { 0.0 } else { span * (f64::from(index) / f64::from(count - 1) - 0.5) }).collect();
    let figures = Figures {
        thickness: wanted.thickness.to_mm(),
        width,
        length: wanted.length.to_mm(),
        depth_in_end: wanted.depth_in_end.to_mm(),
        depth_in_face: wanted.depth_in_face.to_mm(),
        at,
        fit,
        play,
        mitre: None,
        margin,
        edge: 0.0,
        alone: count as usize,
        at_best,
    };
    figures.between_edges(extent)
}

/// The row where it is to be cut: as decided, and where others cross that it would meet, as the design has it for two that meet.
pub(super) fn in_place(assembly: &Assembly, joint: &Joint, wanted: &Wanted<'_>) -> Figures {
    let (sizes, extent) = (wanted.sizes, joint.contact.extent.x);
    let figures = figures(sizes, extent);
    let wall = least_wall(assembly.part(joint.b), assembly.timbers());
    let meets = |crossing: &Crossing| crossing.meets(figures.thickness + figures.fit, figures.depth_in_face, wall);
    match (sizes.meeting, wanted.beyond.crossing.filter(meets)) {
        (LooseMeeting::AsDecided, _) | (_, None) => figures,
        (LooseMeeting::Mitred, Some(crossing)) => figures.mitred(crossing),
        (LooseMeeting::Staggered, Some(crossing)) => {
            let share = crossing.share((-extent / 2.0, extent / 2.0), joint.contact.into, wall);
            figures.staggered(sizes, share, extent)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Length;

    fn wanted(width: f64, at_most: u32) -> LooseTenons {
        let mm = Length::mm;
        LooseTenons {
            thickness: mm(8.0),
            length: mm(50.0),
            width: mm(width),
            at_most,
            margin: mm(14.0),
            depth_in_end: mm(26.5),
            depth_in_face: mm(24.5),
            fit: mm(0.1),
            play: mm(5.0),
            meeting: LooseMeeting::AsDecided,
        }
    }

    #[test]
    fn as_many_tenons_as_fit_and_no_more_than_wanted() {
        assert_eq!(figures(&wanted(22.0, 3), 60.0).at.len(), 1);
        assert_eq!(figures(&wanted(22.0, 3), 96.0).at.len(), 2);
        assert_eq!(figures(&wanted(22.0, 3), 140.0).at.len(), 3);
        assert_eq!(figures(&wanted(22.0, 2), 400.0).at.len(), 2);
    }

    #[test]
    fn every_mortise_keeps_the_margins() {
        for extent in 50..400 {
            let figures = figures(&wanted(22.0, 8), f64::from(extent));
            let half = figures.width_in_face(1) / 2.0;
            let edge = f64::from(extent) / 2.0 - 14.0;
            if figures.at.len() > 1 {
                assert!(figures.at.iter().all(|at| at.abs() + half <= edge + 1e-9), "{extent}");
                assert!(figures.at.windows(2).all(|pair| pair[1] - pair[0] - 2.0 * half >= 14.0 - 1e-9), "{extent}");
            }
        }
    }
}
