// A pencil line of a width in pixels between two places of the case, drawn as a thin quad that faces the eye. Its edges
// fade over a pixel, so that it is smooth where the adapter takes one sample a pixel.

#import bevy_pbr::{
    mesh_functions,
    mesh_view_bindings::view,
    view_transformations::position_world_to_clip,
}

struct Pencil {
    colour: vec4<f32>,
    accent: vec4<f32>,
    stroke: vec4<f32>, // width in pixels, pixels it is drawn nearer, pixels it runs over at the ends, 0
}

@group(#{MATERIAL_BIND_GROUP}) @binding(0) var<uniform> pencil: Pencil;

struct Vertex {
    @builtin(instance_index) instance: u32,
    @location(0) position: vec3<f32>,  // this end
    @location(1) normal: vec3<f32>,    // from this end to the other, mm
    @location(2) uv: vec2<f32>,        // which side of the line; how dark it is, below 0 at the second end
}

struct Seen {
    @builtin(position) position: vec4<f32>,
    @location(0) across: f32,
    @location(1) half_width: f32,
    @location(2) colour: vec4<f32>,
}

@vertex
fn vertex(in: Vertex) -> Seen {
    let world_from_local = mesh_functions::get_world_from_local(in.instance);
    let here = mesh_functions::mesh_position_local_to_world(world_from_local, vec4(in.position, 1.0));
    let there = mesh_functions::mesh_position_local_to_world(world_from_local, vec4(in.position + in.normal, 1.0));
    var a = position_world_to_clip(here.xyz);
    var b = position_world_to_clip(there.xyz);
    // An end behind the eye is brought before it along the line.
    let near = 1.0;
    if a.w < near && b.w > near {
        a = mix(a, b, (near - a.w) / (b.w - a.w));
    } else if b.w < near && a.w > near {
        b = mix(b, a, (near - b.w) / (a.w - b.w));
    }
    let half_view = view.viewport.zw * 0.5;
    let way = (b.xy / b.w - a.xy / a.w) * half_view;
    let size = length(way);
    let dir = select(vec2(1.0, 0.0), way / size, size > 1e-4);
    let state = mesh_functions::get_tag(in.instance) >> 24u;
    var width = pencil.stroke.x;
    var colour = vec4(pencil.colour.rgb, pencil.colour.a * abs(in.uv.y));
    // Pointed at, selected, told of: in the accent, as on a board plan.
    if (state & 7u) != 0u {
        colour = vec4(pencil.accent.rgb, 1.0);
        width = width * select(1.5, 2.0, (state & 1u) != 0u);
    }
    if (state & 8u) != 0u {
        colour.a *= 0.35;
    }
    let half_width = width * 0.5;
    let reach = half_width + 0.5;
    let off = vec2(-dir.y, dir.x) * in.uv.x * reach - dir * pencil.stroke.z;
    // Drawn nearer by about what a pixel covers, so that it lies on the faces it bounds, but not through a wall.
    let pixel = a.w / (view.clip_from_view[1][1] * half_view.y);
    let nearer = clamp(pixel * pencil.stroke.y, 0.4, 5.0);
    var out: Seen;
    out.position = vec4(a.xy + off / half_view * a.w, a.z * a.w / max(a.w - nearer, 0.5), a.w);
    // Each end looks toward the other, so the second sees the sides the other way round; it has the sign of its darkness.
    out.across = in.uv.x * sign(in.uv.y) * reach;
    out.half_width = half_width;
    out.colour = colour;
    return out;
}

@fragment
fn fragment(in: Seen) -> @location(0) vec4<f32> {
    let cover = clamp(in.half_width + 0.5 - abs(in.across), 0.0, 1.0);
    return vec4(in.colour.rgb, in.colour.a * cover);
}
