//! The solids of all parts where they stand, as Wavefront OBJ, for programs that read meshes.

use std::fmt::Write as _;

use casewright_core::{Model, Solids};

/// Every part as an object of its own name: vertices in mm, triangles counter-clockwise seen from outside.
///
/// Parts that their cuts leave nothing of are left out. Vertices are written with nine decimals, so that volumes keep.
pub fn obj(model: &Model, solids: &Solids) -> String {
    let mut text = String::from("# Parts of a case in place; millimetres; x right, y up, z toward the front.\n");
    let mut before = 1;
    for part in &model.parts {
        let Some(shape) = solids.shape(part.id) else { continue };
        let mut line = |args: std::fmt::Arguments<'_>| text.write_fmt(args).unwrap_or_default();
        line(format_args!("o {}\n", part.name));
        for &position in &shape.positions {
            let at = part.pose.point(position);
            line(format_args!("v {:.9} {:.9} {:.9}\n", at.x + 0.0, at.y + 0.0, at.z + 0.0));
        }
        for triangle in &shape.triangles {
            let [a, b, c] = triangle.map(|vertex| vertex + before);
            line(format_args!("f {a} {b} {c}\n"));
        }
        before += shape.positions.len() as u32;
    }
    text
}
