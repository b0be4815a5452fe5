// Timber as a log has it: growth rings are cylinders round a pith somewhere beside the board, so that cathedrals on a
// side, straight lines on an edge and arcs on an end meet at the corners of themselves. Lit by one soft sun and the paper.

#import bevy_pbr::{
    mesh_functions,
    mesh_view_bindings::{lights, view},
    shadows::fetch_directional_shadow,
    view_transformations::position_world_to_clip,
}

struct Timber {
    light: vec4<f32>,      // late wood
    dark: vec4<f32>,       // early wood
    end: vec4<f32>,        // end grain, or the core of a sheet
    figure: vec4<f32>,     // ring spacing mm, contrast, pores, width of the boards it is glued up from (0: one)
    nature: vec4<f32>,     // 1 for a sheet, opacity, sheen, 0
    case_min: vec4<f32>,   // the room inside the case; w: 1 together, 0 taken apart
    case_max: vec4<f32>,
    accent: vec4<f32>,
}

@group(#{MATERIAL_BIND_GROUP}) @binding(0) var<uniform> timber: Timber;

struct Vertex {
    @builtin(instance_index) instance: u32,
    @location(0) position: vec3<f32>,
    @location(1) normal: vec3<f32>,
}

struct Seen {
    @builtin(position) position: vec4<f32>,
    @location(0) world: vec3<f32>,
    @location(1) world_normal: vec3<f32>,
    @location(2) local: vec3<f32>,
    @location(3) local_normal: vec3<f32>,
    @location(4) @interpolate(flat) mark: u32,
}

@vertex
fn vertex(in: Vertex) -> Seen {
    let world_from_local = mesh_functions::get_world_from_local(in.instance);
    let world = mesh_functions::mesh_position_local_to_world(world_from_local, vec4(in.position, 1.0));
    var out: Seen;
    out.position = position_world_to_clip(world.xyz);
    out.world = world.xyz;
    out.world_normal = mesh_functions::mesh_normal_local_to_world(in.normal, in.instance);
    out.local = in.position;
    out.local_normal = in.normal;
    out.mark = mesh_functions::get_tag(in.instance);
    return out;
}

fn mixed(value: u32) -> u32 {
    let state = value * 747796405u + 2891336453u;
    let word = ((state >> ((state >> 28u) + 4u)) ^ state) * 277803737u;
    return (word >> 22u) ^ word;
}

fn chance(seed: u32, n: u32) -> f32 {
    return f32(mixed(seed * 31u + n) & 0xffffu) / 65535.0;
}

fn corner(x: i32, y: i32) -> f32 {
    var h = (u32(x) * 73856093u) ^ (u32(y) * 19349663u);
    h = h * 747796405u;
    h = (h ^ (h >> 15u)) * 277803737u;
    return f32(h >> 16u) / 32767.5 - 1.0;
}

// Smooth noise from -1 to 1. In two dimensions: along the board, and across it or out from the pith.
fn noise(p: vec2<f32>) -> f32 {
    let base = floor(p);
    let c = vec2<i32>(base);
    let f = p - base;
    let s = f * f * (3.0 - 2.0 * f);
    let near = mix(corner(c.x, c.y), corner(c.x + 1, c.y), s.x);
    let far = mix(corner(c.x, c.y + 1), corner(c.x + 1, c.y + 1), s.x);
    return mix(near, far, s.y);
}

struct Grain {
    early: f32,   // 0 late wood to 1 early wood
    streak: f32,  // broad changes along the board
    pore: f32,    // short dark dashes
    tint: f32,    // the board against its neighbours
}

fn grain(local: vec3<f32>, part: u32, pixel: f32) -> Grain {
    var p = local;
    var seed = part;
    if timber.figure.w > 0.0 {
        let board = floor(p.y / timber.figure.w);
        seed = mixed(part + u32(board) * 977u);
        p.y -= board * timber.figure.w;
    }
    let along = p.x + 6000.0 * chance(seed, 1u);
    let pith = vec2(mix(-50.0, 130.0, chance(seed, 2u)), -mix(14.0, 80.0, chance(seed, 3u)));
    let wander = vec2(noise(vec2(along / 430.0, p.y / 120.0)), noise(vec2(along / 350.0 + 91.7, p.y / 140.0)));
    let radius = length(p.yz - pith + wander * 9.0) + along * 0.011;
    let phase = radius / timber.figure.x + 0.3 * noise(vec2(along / 170.0, radius / 15.0));
    let ring = fract(phase);
    let year = chance(u32(i32(floor(phase)) + 4096), seed);
    let sharp = 1.0 - smoothstep(0.28, 0.8, fwidth(phase));
    let early = smoothstep(0.0, 0.14, ring) * (1.0 - smoothstep(0.14, 0.85, ring));
    var out: Grain;
    out.early = mix(0.34, early * (0.45 + 0.75 * year), sharp);
    out.streak = noise(vec2(along / 620.0, radius / 19.0 + 7.3));
    let fine = 1.0 - smoothstep(0.35, 1.3, pixel);
    out.pore = 0.0;
    if fine > 0.0 {
        let dash = noise(vec2(along / 9.0, p.y * 1.7 + p.z * 2.3));
        out.pore = smoothstep(0.25, 0.75, dash) * (0.25 + 0.75 * early) * fine;
    }
    out.tint = chance(seed, 5u) * 2.0 - 1.0;
    return out;
}

fn solid_wood(local: vec3<f32>, normal: vec3<f32>, part: u32, pixel: f32) -> vec3<f32> {
    let g = grain(local, part, pixel);
    let contrast = timber.figure.y;
    let shade = clamp(contrast * g.early + 0.14 * g.streak + 0.35 * timber.figure.z * g.pore, 0.0, 1.0);
    var colour = mix(timber.light.rgb, timber.dark.rgb, shade) * (1.0 + 0.055 * g.tint);
    if abs(normal.x) > 0.75 {
        colour = mix(colour, timber.end.rgb, 0.5) * (0.92 - 0.22 * g.early * contrast);
    }
    return colour;
}

fn sheet(local: vec3<f32>, normal: vec3<f32>, part: u32, pixel: f32) -> vec3<f32> {
    if abs(normal.z) < 0.75 {
        let speck = noise(vec2(local.x, local.y * 1.31 + local.z * 1.77) * 0.9) * (1.0 - smoothstep(0.5, 1.5, pixel));
        return timber.end.rgb * (1.0 + 0.07 * speck);
    }
    // A leaf of veneer is one surface, so depth plays no part in it.
    let g = grain(vec3(local.xy, 0.0), part, pixel);
    let shade = clamp(timber.figure.y * g.early + 0.1 * g.streak + 0.2 * timber.figure.z * g.pore, 0.0, 1.0);
    return mix(timber.light.rgb, timber.dark.rgb, shade) * (1.0 + 0.02 * g.tint);
}

// How much of the sky a place inside the case sees: less toward its back and its corners, all of it outside.
fn openness(world: vec3<f32>, normal: vec3<f32>) -> f32 {
    let at = world + normal * 45.0;
    let side = min(at.xy - timber.case_min.xy, timber.case_max.xy - at.xy);
    let back = at.z - timber.case_min.z;
    let inside = smoothstep(-10.0, 70.0, min(min(side.x, side.y), back));
    let deep = timber.case_max.z - at.z;
    let shut = smoothstep(-30.0, 430.0, deep) * inside;
    return 1.0 - 0.38 * shut * timber.case_min.w;
}

@fragment
fn fragment(in: Seen) -> @location(0) vec4<f32> {
    let pixel = length(fwidth(in.local)) * 0.6;
    let normal = normalize(in.world_normal);
    let part = in.mark & 0xffffffu;
    let state = in.mark >> 24u;
    if timber.nature.y < 1.0 {
        // What is seen through is a thin wash: many lie over each other, so each must be quick.
        return vec4(timber.light.rgb * (0.72 + 0.28 * normal.y), timber.nature.y);
    }
    var albedo: vec3<f32>;
    if timber.nature.x > 0.5 {
        albedo = sheet(in.local, in.local_normal, part, pixel);
    } else {
        albedo = solid_wood(in.local, in.local_normal, part, pixel);
    }

    let sun = lights.directional_lights[0].direction_to_light;
    let facing = dot(normal, sun);
    var lit = 0.0;
    if facing > 0.0 {
        let row = vec4(view.view_from_world[0].z, view.view_from_world[1].z, view.view_from_world[2].z, view.view_from_world[3].z);
        let world = vec4(in.world, 1.0);
        lit = facing * fetch_directional_shadow(0u, world, normal, dot(row, world), in.position.xy);
    }
    let open = openness(in.world, normal);
    let low = mix(0.86, 1.0, smoothstep(0.0, 260.0, in.world.y));
    let sky = vec3(0.545, 0.53, 0.51) * (0.64 + 0.36 * normal.y);
    let bounce = vec3(0.30, 0.265, 0.21) * (0.5 - 0.5 * normal.y);
    let to_eye = normalize(view.world_position - in.world);
    let lamp = vec3(0.17, 0.165, 0.155) * max(dot(normal, to_eye), 0.0);
    var colour = albedo * (vec3(0.76, 0.71, 0.63) * lit + (sky + bounce) * open * low * mix(vec3(1.1, 0.98, 0.82), vec3(1.0), open) + lamp * open);
    // An oiled surface gleams a little where the eye skims it toward the light.
    let half_way = normalize(to_eye + sun);
    let gleam = pow(max(dot(normal, half_way), 0.0), 18.0) * 0.05 + pow(1.0 - max(dot(normal, to_eye), 0.0), 4.0) * 0.035;
    colour += timber.nature.z * gleam * (0.35 + 0.65 * lit) * open;

    // Lit up as by a blue glass: as light or dark as it was, so that the figure stays.
    let glass = normalize(timber.accent.rgb) * 1.9 * dot(colour, vec3(0.3, 0.6, 0.1)) + 0.03;
    if (state & 2u) != 0u {
        colour = mix(colour, glass, 0.5);
    } else if (state & 4u) != 0u {
        colour = mix(colour, glass, 0.3);
    }
    if (state & 1u) != 0u {
        colour = mix(colour, glass, select(0.3, 0.0, (state & 2u) != 0u)) * 1.13 + vec3(0.035, 0.03, 0.022);
    }
    return vec4(colour, timber.nature.y);
}
