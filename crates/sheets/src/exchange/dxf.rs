//! The outline of a part and its cuts by layers, and templates, for a machine or a laser shop: DXF release 2000, a unit a mm.

use casewright_core::shapes::flat::{Outline, turn};
use casewright_core::template::Template;
use casewright_solid::Segment;
use dxf::entities::{Entity, EntityType, LwPolyline};
use dxf::enums::{AcadVersion, Units};
use dxf::tables::Layer as DxfLayer;
use dxf::{Color, Drawing, LwPolylineVertex};
use glam::DVec2;

use super::Kind;
use super::outline;

/// The drawing of a part.
pub(super) fn of(kind: &Kind<'_>) -> Result<Vec<u8>, String> {
    let drawn = outline::of(&kind.made.solid);
    let lines = drawn.iter().map(|it| (it.layer.name(), it.layer.is_seen(), polyline(&it.outline)));
    written(&lines.collect::<Vec<_>>())
}

/// The drawing of a template: round it, and where the part goes on beyond it.
pub(super) fn template(template: &Template) -> Result<Vec<u8>, String> {
    let mut lines: Vec<(String, bool, LwPolyline)> = Vec::new();
    for outline in &template.outlines {
        lines.push(("outline".to_owned(), true, polyline(outline)));
        for (from, piece) in outline.pieces().filter(|(from, piece)| template.is_open(*from, piece.to())) {
            let vertices = vec![vertex(from, 0.0), vertex(piece.to(), 0.0)];
            lines.push(("goes on".to_owned(), false, LwPolyline { vertices, ..LwPolyline::default() }));
        }
    }
    written(&lines)
}

/// A drawing of lines, each with the name of its layer and whether that is seen.
fn written(lines: &[(String, bool, LwPolyline)]) -> Result<Vec<u8>, String> {
    let mut drawing = Drawing::new();
    drawing.header.version = AcadVersion::R2000;
    drawing.header.default_drawing_units = Units::Millimeters;
    let mut layers: Vec<&str> = Vec::new();
    for (name, is_seen, _) in lines {
        if layers.contains(&name.as_str()) {
            continue;
        }
        layers.push(name);
        let line = if *is_seen { "CONTINUOUS" } else { "DASHED" };
        let color = Color::from_index(if *is_seen { 7 } else { 8 });
        drawing.add_layer(DxfLayer { name: name.clone(), line_type_name: line.to_owned(), color, ..DxfLayer::default() });
    }
    drawing.add_line_type(dashed());
    for (name, _, line) in lines {
        let mut entity = Entity::new(EntityType::LwPolyline(line.clone()));
        entity.common.layer.clone_from(name);
        drawing.add_entity(entity);
    }
    let mut bytes = Vec::new();
    drawing.save(&mut bytes).map_err(|error| error.to_string())?;
    Ok(bytes)
}

/// Dashes of 6 with gaps of 3.
fn dashed() -> dxf::tables::LineType {
    dxf::tables::LineType {
        name: "DASHED".to_owned(),
        description: "hidden".to_owned(),
        element_count: 2,
        total_pattern_length: 9.0,
        dash_dot_space_lengths: vec![6.0, -3.0],
        ..dxf::tables::LineType::default()
    }
}

fn polyline(outline: &Outline) -> LwPolyline {
    let mut vertices = Vec::new();
    let mut from = outline.start;
    for segment in &outline.segments {
        match segment {
            Segment::Line { .. } => vertices.push(vertex(from, 0.0)),
            // A full turn is drawn as two halves: one piece that ends where it begins has no bulge.
            Segment::Arc { to, centre, ccw } if from.distance(*to) < 1e-9 => {
                let half = if *ccw { 1.0 } else { -1.0 };
                vertices.extend([vertex(from, half), vertex(*centre * 2.0 - from, half)]);
            }
            Segment::Arc { to, centre, ccw } => vertices.push(vertex(from, bulge(from, *to, *centre, *ccw))),
        }
        from = segment.to();
    }
    let mut polyline = LwPolyline { vertices, ..LwPolyline::default() };
    polyline.set_is_closed(true);
    polyline
}

fn vertex(at: DVec2, bulge: f64) -> LwPolylineVertex {
    LwPolylineVertex { x: at.x, y: at.y, bulge, ..LwPolylineVertex::default() }
}

/// The tangent of a quarter of the angle that an arc turns; below zero clockwise.
fn bulge(from: DVec2, to: DVec2, centre: DVec2, ccw: bool) -> f64 {
    (turn(from, to, centre, ccw) / 4.0).tan() * if ccw { 1.0 } else { -1.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_half_turn_bulges_by_one_and_a_quarter_by_the_tangent_of_a_sixteenth() {
        let at = |x, y| DVec2::new(x, y);
        let near = |bulge: f64, wanted: f64| assert!((bulge - wanted).abs() < 1e-12, "{bulge} for {wanted}");
        let quarter = (std::f64::consts::PI / 8.0).tan();
        near(bulge(at(1.0, 0.0), at(-1.0, 0.0), DVec2::ZERO, true), 1.0);
        near(bulge(at(1.0, 0.0), at(0.0, 1.0), DVec2::ZERO, true), quarter);
        near(bulge(at(0.0, 1.0), at(1.0, 0.0), DVec2::ZERO, false), -quarter);
    }
}
