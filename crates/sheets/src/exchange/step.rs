//! The whole case as solids: ISO 10303-21, application protocol 214. A product a kind of part, an occurrence a part, all under one assembly.

use std::fmt::Write as _;

use casewright_core::model::Part;
use casewright_solid::{Brep, Curve, Edge, Pose, Surface};
use glam::{DMat3, DVec3};

use super::Kind;
use crate::stop::{BrokenOff, Stop};

/// How near points must be to be one, mm; coarser than the shape's own welding.
const CLOSE: &str = "1.E-04";

/// The file. `made` is when it is made; without it the head says none.
pub(super) fn of(name: &str, kinds: &[Kind<'_>], made: Option<&str>, stop: Stop<'_>) -> Result<Vec<u8>, BrokenOff> {
    let mut data = Data::default();
    let common = Common::new(&mut data);
    let whole = common.product(&mut data, name);
    let ground = data.place(&Pose::IDENTITY);
    let mut placed = Vec::new();
    let mut occurrences = Vec::new();
    for kind in kinds {
        stop.go_on()?;
        let title = kind.parts.first().map_or("", |part| part.title.as_str());
        let product = common.product(&mut data, &format!("{} {title}", kind.name));
        let shape = data.solid(&kind.name, &kind.made.shape.brep(), &common);
        data.add(&format!("SHAPE_DEFINITION_REPRESENTATION({},{})", r(product.shape), r(shape.representation)));
        for part in &kind.parts {
            let at = data.place(&part.pose);
            placed.push(at);
            occurrences.push((product.definition, shape, at, *part));
        }
    }
    let items: Vec<String> = std::iter::once(ground).chain(placed).map(r).collect();
    let assembly = data.add(&format!("SHAPE_REPRESENTATION('',({}),{})", items.join(","), r(common.context)));
    data.add(&format!("SHAPE_DEFINITION_REPRESENTATION({},{})", r(whole.shape), r(assembly)));
    for (definition, shape, at, part) in occurrences {
        occurrence(&mut data, whole.definition, assembly, definition, shape, at, part);
    }
    let file = format!(
        "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('{0}'),'2;1');\n\
         FILE_NAME('{0}.step','{1}',(''),(''),'Casewright','Casewright','');\n\
         FILE_SCHEMA(('AUTOMOTIVE_DESIGN {{ 1 0 10303 214 1 1 1 1 }}'));\nENDSEC;\nDATA;\n{2}ENDSEC;\nEND-ISO-10303-21;\n",
        text(name),
        text(made.unwrap_or_default()),
        data.lines
    );
    Ok(file.into_bytes())
}

/// A part in its place: an occurrence of its product, with what moves it there.
fn occurrence(data: &mut Data, whole: u32, assembly: u32, definition: u32, shape: Solid, at: u32, part: &Part) {
    let name = text(&format!("{} {}", part.mark, part.title));
    let id = text(&part.name);
    let used = data.add(&format!("NEXT_ASSEMBLY_USAGE_OCCURRENCE('{id}','{name}','',{},{},$)", r(whole), r(definition)));
    let place = data.add(&format!("PRODUCT_DEFINITION_SHAPE('','',{})", r(used)));
    let moved = data.add(&format!("ITEM_DEFINED_TRANSFORMATION('','',{},{})", r(shape.origin), r(at)));
    let relation = data.add(&format!(
        "(REPRESENTATION_RELATIONSHIP('','',{},{})REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION({})SHAPE_REPRESENTATION_RELATIONSHIP())",
        r(shape.representation),
        r(assembly),
        r(moved)
    ));
    data.add(&format!("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION({},{})", r(relation), r(place)));
}

/// A reference to an instance.
fn r(number: u32) -> String {
    format!("#{number}")
}

/// Text as ISO 10303-21 has it between quotes: what is not plain is written by its code point.
fn text(plain: &str) -> String {
    let mut out = String::new();
    for letter in plain.chars() {
        match letter {
            '\'' => out.push_str("''"),
            '\\' => out.push_str("\\\\"),
            ' '..='~' => out.push(letter),
            // Writing to a string can't fail.
            _ => {
                let _ = write!(out, "\\X4\\{:08X}\\X0\\", u32::from(letter));
            }
        }
    }
    out
}

/// A real number: always with a point.
fn real(number: f64) -> String {
    // No minus before nothing.
    let number = if number.abs() < 5e-13 { 0.0 } else { number };
    let digits = format!("{number:.12}");
    let short = digits.trim_end_matches('0');
    short.to_owned()
}

fn triple(at: DVec3) -> String {
    format!("({},{},{})", real(at.x), real(at.y), real(at.z))
}

/// The instances of the file.
#[derive(Default)]
struct Data {
    lines: String,
    count: u32,
}

/// The representation of a kind of part, and the placement that is its own origin.
#[derive(Clone, Copy)]
struct Solid {
    representation: u32,
    origin: u32,
}

impl Data {
    fn add(&mut self, instance: &str) -> u32 {
        self.count += 1;
        // Writing to a string can't fail.
        let _ = writeln!(self.lines, "#{}={instance};", self.count);
        self.count
    }

    fn point(&mut self, at: DVec3) -> u32 {
        self.add(&format!("CARTESIAN_POINT('',{})", triple(at)))
    }

    fn direction(&mut self, way: DVec3) -> u32 {
        self.add(&format!("DIRECTION('',{})", triple(way)))
    }

    /// A place with a direction for z and one for x.
    fn axes(&mut self, at: DVec3, z: DVec3, x: DVec3) -> u32 {
        let (at, z, x) = (self.point(at), self.direction(z), self.direction(x));
        self.add(&format!("AXIS2_PLACEMENT_3D('',{},{},{})", r(at), r(z), r(x)))
    }

    fn place(&mut self, pose: &Pose) -> u32 {
        let DMat3 { x_axis, z_axis, .. } = pose.basis;
        self.axes(pose.origin, z_axis, x_axis)
    }

    /// The solid of a kind of part, in its own measures: a body for each piece that hangs together.
    fn solid(&mut self, name: &str, brep: &Brep, common: &Common) -> Solid {
        let vertices: Vec<u32> = brep
            .vertices
            .iter()
            .map(|at| {
                let at = self.point(*at);
                self.add(&format!("VERTEX_POINT('',{})", r(at)))
            })
            .collect();
        let edges: Vec<u32> = brep.edges.iter().map(|edge| self.edge(brep, edge, &vertices)).collect();
        let faces: Vec<u32> = (0..brep.faces.len()).map(|face| self.face(brep, face, &edges)).collect();
        let origin = self.place(&Pose::IDENTITY);
        let mut items = vec![r(origin)];
        for body in brep.bodies() {
            let list: Vec<String> = body.iter().map(|face| r(faces[*face])).collect();
            let shell = self.add(&format!("CLOSED_SHELL('',({}))", list.join(",")));
            items.push(r(self.add(&format!("MANIFOLD_SOLID_BREP('{}',{})", text(name), r(shell)))));
        }
        let representation =
            self.add(&format!("ADVANCED_BREP_SHAPE_REPRESENTATION('{}',({}),{})", text(name), items.join(","), r(common.context)));
        Solid { representation, origin }
    }

    fn edge(&mut self, brep: &Brep, edge: &Edge, vertices: &[u32]) -> u32 {
        let [a, b] = edge.ends.map(|vertex| brep.vertices[vertex as usize]);
        let curve = match edge.curve {
            Curve::Line => {
                let (from, way) = (self.point(a), self.direction((b - a).normalize_or(DVec3::X)));
                let vector = self.add(&format!("VECTOR('',{},1.)", r(way)));
                self.add(&format!("LINE('',{},{})", r(from), r(vector)))
            }
            Curve::Circle { centre, about, radius } => {
                let axes = self.axes(centre, about, (a - centre).normalize_or(about.any_orthonormal_vector()));
                self.add(&format!("CIRCLE('',{},{})", r(axes), real(radius)))
            }
        };
        let [from, to] = edge.ends.map(|vertex| r(vertices[vertex as usize]));
        self.add(&format!("EDGE_CURVE('',{from},{to},{},.T.)", r(curve)))
    }

    fn face(&mut self, brep: &Brep, face: usize, edges: &[u32]) -> u32 {
        let patch = &brep.faces[face];
        let start = patch.loops.first().and_then(|outline| outline.first());
        let at = start.map_or(DVec3::ZERO, |(edge, _)| brep.vertices[brep.edges[*edge as usize].ends[0] as usize]);
        let (surface, same) = match patch.surface {
            Surface::Plane { normal } => {
                let axes = self.axes(at, normal, normal.any_orthonormal_vector());
                (self.add(&format!("PLANE('',{})", r(axes))), true)
            }
            Surface::Cylinder { on, along, radius, solid } => {
                let axes = self.axes(on, along, along.any_orthonormal_vector());
                (self.add(&format!("CYLINDRICAL_SURFACE('',{},{})", r(axes), real(radius))), solid)
            }
        };
        let bounds: Vec<String> = patch
            .loops
            .iter()
            .enumerate()
            .map(|(number, outline)| {
                let oriented: Vec<String> = outline
                    .iter()
                    .map(|(edge, forward)| {
                        let way = if *forward { ".T." } else { ".F." };
                        r(self.add(&format!("ORIENTED_EDGE('',*,*,{},{way})", r(edges[*edge as usize]))))
                    })
                    .collect();
                let outline = self.add(&format!("EDGE_LOOP('',({}))", oriented.join(",")));
                let bound = if number == 0 { "FACE_OUTER_BOUND" } else { "FACE_BOUND" };
                r(self.add(&format!("{bound}('',{},.T.)", r(outline))))
            })
            .collect();
        let same = if same { ".T." } else { ".F." };
        self.add(&format!("ADVANCED_FACE('',({}),{},{same})", bounds.join(","), r(surface)))
    }
}

/// What all products share: units, contexts.
struct Common {
    context: u32,
    of_products: u32,
    of_definitions: u32,
}

/// A product with its definition and the place for its shape.
struct Product {
    definition: u32,
    shape: u32,
}

impl Common {
    fn new(data: &mut Data) -> Common {
        let application = data.add("APPLICATION_CONTEXT('core data for automotive mechanical design processes')");
        data.add(&format!("APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,{})", r(application)));
        let of_products = data.add(&format!("PRODUCT_CONTEXT('',{},'mechanical')", r(application)));
        let of_definitions = data.add(&format!("PRODUCT_DEFINITION_CONTEXT('part definition',{},'design')", r(application)));
        let length = data.add("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))");
        let angle = data.add("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))");
        let solid_angle = data.add("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())");
        let close = data.add(&format!(
            "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE({CLOSE}),{},'distance_accuracy_value','how near points must be to be one')",
            r(length)
        ));
        let context = data.add(&format!(
            "(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT(({}))\
             GLOBAL_UNIT_ASSIGNED_CONTEXT(({},{},{}))REPRESENTATION_CONTEXT('',''))",
            r(close),
            r(length),
            r(angle),
            r(solid_angle)
        ));
        Common { context, of_products, of_definitions }
    }

    fn product(&self, data: &mut Data, name: &str) -> Product {
        let name = text(name);
        let product = data.add(&format!("PRODUCT('{name}','{name}','',({}))", r(self.of_products)));
        data.add(&format!("PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,({}))", r(product)));
        let formation = data.add(&format!("PRODUCT_DEFINITION_FORMATION('','',{})", r(product)));
        let definition = data.add(&format!("PRODUCT_DEFINITION('design','',{},{})", r(formation), r(self.of_definitions)));
        let shape = data.add(&format!("PRODUCT_DEFINITION_SHAPE('','',{})", r(definition)));
        Product { definition, shape }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_keeps_to_what_may_stand_between_quotes() {
        assert_eq!(text("Maker's 40 \\ 2"), "Maker''s 40 \\\\ 2");
        assert_eq!(text("é"), "\\X4\\000000E9\\X0\\");
    }

    #[test]
    fn numbers_always_have_a_point() {
        assert_eq!(real(12.0), "12.");
        assert_eq!(real(-0.000_000_000_000_1), "0.");
        assert_eq!(real(1_364.062_5), "1364.0625");
    }
}
