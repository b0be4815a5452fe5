// The floor: paper, with the shadow of the case laid on it as a wash. Where there is no shadow it is the very colour of
// the ground behind, so that it has no edge and no horizon.

#import bevy_pbr::{
    mesh_functions,
    mesh_view_bindings::{lights, view},
    shadows::fetch_directional_shadow,
    view_transformations::position_world_to_clip,
}

struct Floor {
    paper: vec4<f32>,
    wash: vec4<f32>,    // what the paper is multiplied by in full shadow; w: samples of the shadow
    foot: vec4<f32>,    // footprint of the case: least x, least z, greatest x, greatest z
    fall: vec4<f32>,    // where shadow may fall, as the footprint
    reach: vec4<f32>,   // 1 together to 0 taken apart, 0, 0, 0
}

@group(#{MATERIAL_BIND_GROUP}) @binding(0) var<uniform> ground: Floor;

struct Vertex {
    @builtin(instance_index) instance: u32,
    @location(0) position: vec3<f32>,
}

struct Seen {
    @builtin(position) position: vec4<f32>,
    @location(0) world: vec3<f32>,
}

@vertex
fn vertex(in: Vertex) -> Seen {
    let world_from_local = mesh_functions::get_world_from_local(in.instance);
    let world = mesh_functions::mesh_position_local_to_world(world_from_local, vec4(in.position, 1.0));
    var out: Seen;
    out.position = position_world_to_clip(world.xyz);
    out.world = world.xyz;
    return out;
}

fn blurred(x: f32, least: f32, most: f32, blur: f32) -> f32 {
    return 1.0 / (1.0 + exp(-1.7 * (x - least) / blur)) - 1.0 / (1.0 + exp(-1.7 * (x - most) / blur));
}

fn under(at: vec2<f32>, blur: f32) -> f32 {
    return blurred(at.x, ground.foot.x, ground.foot.z, blur) * blurred(at.y, ground.foot.y, ground.foot.w, blur);
}

@fragment
fn fragment(in: Seen) -> @location(0) vec4<f32> {
    let at = in.world.xz;
    let edge = min(at - ground.fall.xy, ground.fall.zw - at);
    let fade = smoothstep(0.0, 160.0, min(edge.x, edge.y));
    var shade = 0.0;
    let near = clamp(at, ground.foot.xy, ground.foot.zw);
    let away = length(at - near);
    let sun = lights.directional_lights[0].direction_to_light;
    if fade > 0.0 {
        let row = vec4(view.view_from_world[0].z, view.view_from_world[1].z, view.view_from_world[2].z, view.view_from_world[3].z);
        // A shadow is the softer the farther it falls from what throws it.
        let blur = mix(10.0, 75.0, smoothstep(0.0, 900.0, away));
        let samples = u32(ground.wash.w);
        let turn = fract(52.9829189 * fract(dot(floor(in.position.xy), vec2(0.06711056, 0.00583715)))) * 6.2831853;
        var sum = 0.0;
        for (var i = 0u; i < samples; i++) {
            let angle = f32(i) * 2.3999632 + turn;
            let spread = sqrt((f32(i) + 0.5) / f32(samples)) * blur;
            let place = vec4(in.world + vec3(cos(angle), 0.0, sin(angle)) * spread, 1.0);
            sum += 1.0 - fetch_directional_shadow(0u, place, vec3(0.0, 1.0, 0.0), dot(row, place), in.position.xy);
        }
        shade = sum / f32(samples) * fade * mix(1.0, 0.55, smoothstep(0.0, 1100.0, away));
    }
    let contact = (0.5 * under(at, 28.0) + 0.42 * under(at, 150.0)) * ground.reach.x;
    let dark = clamp(1.0 - (1.0 - 0.72 * shade) * (1.0 - contact), 0.0, 1.0);
    return vec4(ground.paper.rgb * mix(vec3(1.0), ground.wash.rgb, dark), 1.0);
}
