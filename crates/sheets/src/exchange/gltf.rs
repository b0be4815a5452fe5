//! The whole case to look at in other programs: glTF 2.0 (ISO/IEC 12113:2022) in its binary form, a node a part.

use std::collections::HashMap;
use std::mem::size_of;

use casewright_core::model::Part;
use casewright_core::{Design, Model};
use casewright_solid::Shape;
use gltf_json::accessor::{ComponentType, GenericComponentType, Type};
use gltf_json::buffer::{Target, View};
use gltf_json::material::{AlphaMode, PbrBaseColorFactor, PbrMetallicRoughness, StrengthFactor};
use gltf_json::mesh::{Mode, Primitive, Semantic};
use gltf_json::validation::{Checked, USize64};
use gltf_json::{Accessor, Asset, Buffer, Index, Material, Mesh, Node, Root, Scene};

use super::Kind;
use crate::look::Wood;
use crate::stop::{BrokenOff, Stop};

/// The file: parts by their names, under one node that turns millimetres into metres.
pub(super) fn of(design: &Design, model: &Model, kinds: &[Kind<'_>], stop: Stop<'_>) -> Result<Result<Vec<u8>, String>, BrokenOff> {
    let mut file = Writer::default();
    file.root.asset = Asset { generator: Some("Casewright".to_owned()), version: "2.0".to_owned(), ..Asset::default() };
    let mut children = Vec::new();
    for kind in kinds {
        stop.go_on()?;
        for part in &kind.parts {
            let mesh = file.mesh(model, kind, part);
            children.push(file.node(part, mesh));
        }
    }
    let whole = Index::new(file.root.nodes.len() as u32);
    file.root.nodes.push(Node { children: Some(children), name: Some(design.name.clone()), scale: Some([0.001; 3]), ..Node::default() });
    file.root.scenes.push(Scene { nodes: vec![whole], name: None, extensions: None, extras: gltf_json::Extras::default() });
    file.root.scene = Some(Index::new(0));
    Ok(file.finish())
}

#[derive(Default)]
struct Writer {
    root: Root,
    bytes: Vec<u8>,
    /// The mesh of a kind in a timber.
    meshes: HashMap<(String, u32), Index<Mesh>>,
    materials: HashMap<String, Index<Material>>,
}

impl Writer {
    fn node(&mut self, part: &Part, mesh: Index<Mesh>) -> Index<Node> {
        let (basis, origin) = (part.pose.basis.as_mat3(), part.pose.origin.as_vec3());
        let columns = [basis.x_axis.extend(0.0), basis.y_axis.extend(0.0), basis.z_axis.extend(0.0), origin.extend(1.0)];
        let mut matrix = [0.0; 16];
        for (place, number) in matrix.iter_mut().zip(columns.iter().flat_map(glam::Vec4::to_array)) {
            *place = number;
        }
        let index = Index::new(self.root.nodes.len() as u32);
        let name = Some(format!("{} {}", part.mark, part.title));
        self.root.nodes.push(Node { matrix: Some(matrix), mesh: Some(mesh), name, ..Node::default() });
        index
    }

    fn material(&mut self, model: &Model, part: &Part) -> Index<Material> {
        let name = model.timbers.name(&part.material).to_owned();
        if let Some(known) = self.materials.get(&name) {
            return *known;
        }
        let [red, green, blue] = Wood::of(&part.material, part.kind).light().map(linear);
        let index = Index::new(self.root.materials.len() as u32);
        self.root.materials.push(Material {
            name: Some(name.clone()),
            alpha_mode: Checked::Valid(AlphaMode::Opaque),
            pbr_metallic_roughness: PbrMetallicRoughness {
                base_color_factor: PbrBaseColorFactor([red, green, blue, 1.0]),
                metallic_factor: StrengthFactor(0.0),
                roughness_factor: StrengthFactor(0.7),
                ..PbrMetallicRoughness::default()
            },
            ..Material::default()
        });
        self.materials.insert(name, index);
        index
    }

    /// The mesh of a part; equal parts of one timber share it.
    fn mesh(&mut self, model: &Model, kind: &Kind<'_>, part: &Part) -> Index<Mesh> {
        let material = self.material(model, part);
        let key = (kind.name.clone(), material.value() as u32);
        if let Some(known) = self.meshes.get(&key) {
            return *known;
        }
        let (positions, normals, corners) = corners(&kind.made.shape);
        let least = positions.iter().fold([f32::INFINITY; 3], |a, b| std::array::from_fn(|i| a[i].min(b[i])));
        let most = positions.iter().fold([f32::NEG_INFINITY; 3], |a, b| std::array::from_fn(|i| a[i].max(b[i])));
        let places = self.numbers(&positions, Some((least, most)));
        let normals = self.numbers(&normals, None);
        let indices = self.indices(&corners);
        let primitive = Primitive {
            attributes: [(Checked::Valid(Semantic::Positions), places), (Checked::Valid(Semantic::Normals), normals)].into(),
            extensions: None,
            extras: gltf_json::Extras::default(),
            indices: Some(indices),
            material: Some(material),
            mode: Checked::Valid(Mode::Triangles),
            targets: None,
        };
        let index = Index::new(self.root.meshes.len() as u32);
        let mesh = Mesh {
            extensions: None,
            extras: gltf_json::Extras::default(),
            name: Some(kind.name.clone()),
            primitives: vec![primitive],
            weights: None,
        };
        self.root.meshes.push(mesh);
        self.meshes.insert(key, index);
        index
    }

    fn numbers(&mut self, triples: &[[f32; 3]], bounds: Option<([f32; 3], [f32; 3])>) -> Index<Accessor> {
        let bytes: Vec<u8> = triples.iter().flatten().flat_map(|number| number.to_le_bytes()).collect();
        let view = self.view(&bytes, Target::ArrayBuffer);
        let value = |of: [f32; 3]| serde_json::json!(of);
        self.accessor(view, triples.len(), ComponentType::F32, Type::Vec3, bounds.map(|(least, most)| (value(least), value(most))))
    }

    fn indices(&mut self, corners: &[u32]) -> Index<Accessor> {
        let bytes: Vec<u8> = corners.iter().flat_map(|corner| corner.to_le_bytes()).collect();
        let view = self.view(&bytes, Target::ElementArrayBuffer);
        self.accessor(view, corners.len(), ComponentType::U32, Type::Scalar, None)
    }

    fn view(&mut self, bytes: &[u8], target: Target) -> Index<View> {
        let index = Index::new(self.root.buffer_views.len() as u32);
        self.root.buffer_views.push(View {
            buffer: Index::new(0),
            byte_length: USize64::from(bytes.len()),
            byte_offset: Some(USize64::from(self.bytes.len())),
            byte_stride: None,
            name: None,
            target: Some(Checked::Valid(target)),
            extensions: None,
            extras: gltf_json::Extras::default(),
        });
        // All numbers are four bytes long, so that each begins where it may.
        self.bytes.extend_from_slice(bytes);
        index
    }

    fn accessor(
        &mut self,
        view: Index<View>,
        count: usize,
        component: ComponentType,
        of: Type,
        bounds: Option<(serde_json::Value, serde_json::Value)>,
    ) -> Index<Accessor> {
        let index = Index::new(self.root.accessors.len() as u32);
        let (min, max) = bounds.unzip();
        self.root.accessors.push(Accessor {
            buffer_view: Some(view),
            byte_offset: None,
            count: USize64::from(count),
            component_type: Checked::Valid(GenericComponentType(component)),
            type_: Checked::Valid(of),
            min,
            max,
            name: None,
            normalized: false,
            sparse: None,
            extensions: None,
            extras: gltf_json::Extras::default(),
        });
        index
    }

    /// The head, the description and the numbers, each padded to four bytes.
    fn finish(mut self) -> Result<Vec<u8>, String> {
        self.root.buffers.push(Buffer {
            byte_length: USize64::from(self.bytes.len()),
            uri: None,
            name: None,
            extensions: None,
            extras: gltf_json::Extras::default(),
        });
        let mut text = self.root.to_vec().map_err(|error| error.to_string())?;
        text.resize(text.len().next_multiple_of(size_of::<u32>()), b' ');
        self.bytes.resize(self.bytes.len().next_multiple_of(size_of::<u32>()), 0);
        let length = 12 + 8 + text.len() + 8 + self.bytes.len();
        let small =
            |length: usize| u32::try_from(length).map(u32::to_le_bytes).map_err(|_| "the case has more than 4 GiB of corners".to_owned());
        let mut file = Vec::with_capacity(length);
        file.extend(b"glTF");
        file.extend(2_u32.to_le_bytes());
        file.extend(small(length)?);
        for (kind, chunk) in [(b"JSON", text), (b"BIN\0", self.bytes)] {
            file.extend(small(chunk.len())?);
            file.extend(kind);
            file.extend(chunk);
        }
        Ok(file)
    }
}

/// Corners with their normals, those that are alike once, and triangles of them.
fn corners(shape: &Shape) -> (Vec<[f32; 3]>, Vec<[f32; 3]>, Vec<u32>) {
    let mut known: HashMap<([u32; 3], [u32; 3]), u32> = HashMap::new();
    let (mut positions, mut normals, mut corners) = (Vec::new(), Vec::new(), Vec::new());
    for (triangle, turned) in shape.triangles.iter().zip(&shape.normals) {
        for (vertex, normal) in triangle.iter().zip(turned) {
            let place = shape.positions[*vertex as usize].as_vec3().to_array();
            let normal = normal.as_vec3().normalize_or(glam::Vec3::Z).to_array();
            let next = positions.len() as u32;
            let corner = *known.entry((place.map(f32::to_bits), normal.map(f32::to_bits))).or_insert(next);
            if corner == next {
                positions.push(place);
                normals.push(normal);
            }
            corners.push(corner);
        }
    }
    (positions, normals, corners)
}

/// A part of a colour as it is mixed, from how it is written (IEC 61966-2-1).
fn linear(part: u8) -> f32 {
    let part = f32::from(part) / 255.0;
    if part <= 0.040_45 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
}
