//! Edges of outlines in pairs.

use glam::DVec3;

use super::skin::Skin;

/// An edge without a partner.
pub(super) const ALONE: u32 = u32::MAX;

/// For each place in `loop_vertices` the edge that starts there: where it ends, its face, and
/// the edge that runs the other way.
pub(super) struct Mates {
    pub end: Vec<u32>,
    pub face: Vec<u32>,
    pub mate: Vec<u32>,
}

/// Rounds of splitting after which a surface is taken not to close.
const ROUNDS: usize = 4;

/// Pairs every edge with one that runs the other way, splitting edges at vertices that lie on
/// them, and parting edges in which more than two faces meet. Nothing when some edge is left.
pub(super) fn stitch(skin: &mut Skin) -> Option<Mates> {
    for _ in 0..ROUNDS {
        let mut mates = Mates::of(skin);
        let mut crowded = Vec::new();
        mates.pair(skin, &mut crowded);
        if mates.mate.contains(&ALONE) {
            if !split_at_vertices(skin, &mates) {
                return None;
            }
            skin.tidy();
        } else if crowded.is_empty() {
            return Some(mates);
        } else {
            part(skin, &mates, &crowded);
        }
    }
    None
}

impl Mates {
    fn of(skin: &Skin) -> Self {
        let count = skin.loop_vertices.len();
        let (mut end, mut face) = (vec![0; count], vec![0; count]);
        for (index, f) in skin.faces.iter().enumerate() {
            for l in f.loops.clone() {
                let range = skin.loops[l as usize].clone();
                let first = range.start as usize;
                let last = range.end as usize - 1;
                end[first..last].copy_from_slice(&skin.loop_vertices[first + 1..=last]);
                end[last] = skin.loop_vertices[first];
                face[first..=last].fill(index as u32);
            }
        }
        Self { end, face, mate: vec![ALONE; count] }
    }

    /// Finds the partners. Edges in which more than two faces meet are noted in `crowded`, one of
    /// each pair.
    fn pair(&mut self, skin: &Skin, crowded: &mut Vec<u32>) {
        let starts = &skin.loop_vertices;
        let buckets = Buckets::new(skin.positions.len(), starts, &self.end);
        let mut same = Vec::new();
        for bucket in buckets.iter() {
            for (i, &edge) in bucket.iter().enumerate() {
                if self.mate[edge as usize] != ALONE {
                    continue;
                }
                let high = starts[edge as usize].max(self.end[edge as usize]);
                same.clear();
                same.extend(bucket[i..].iter().copied().filter(|&e| starts[e as usize].max(self.end[e as usize]) == high));
                self.pair_between(skin, &same, crowded);
            }
        }
    }

    /// Pairs the edges between one pair of vertices.
    fn pair_between(&mut self, skin: &Skin, same: &[u32], crowded: &mut Vec<u32>) {
        let starts = &skin.loop_vertices;
        let forward = |e: u32| starts[e as usize] < self.end[e as usize];
        if let &[a, b] = same {
            if forward(a) != forward(b) {
                self.join(a, b);
            }
            return;
        }
        let (ahead, mut back): (Vec<u32>, Vec<u32>) = same.iter().partition(|&&e| forward(e));
        if ahead.len() != back.len() {
            return;
        }
        let Some(&first) = ahead.first() else {
            return;
        };
        let (a, b) = (starts[first as usize], self.end[first as usize]);
        let along = skin.positions[b as usize] - skin.positions[a as usize];
        // The direction from the edge into its face, as an angle around the edge.
        let zero = along.any_orthonormal_vector();
        let quarter = along.cross(zero).normalize_or_zero();
        let angle = |e: u32, along: DVec3| {
            let into = skin.faces[self.face[e as usize] as usize].normal.cross(along);
            into.dot(quarter).atan2(into.dot(zero))
        };
        let mut pairs = Vec::new();
        for &e in &ahead {
            // Turning from a face against its normal, one passes through the material and comes
            // to the face on its other side.
            let from = angle(e, along);
            let turn = |other: u32| (from - angle(other, -along)).rem_euclid(std::f64::consts::TAU);
            let nearest = (0..back.len()).min_by(|&i, &j| turn(back[i]).total_cmp(&turn(back[j])));
            if let Some(nearest) = nearest {
                pairs.push((e, back.swap_remove(nearest)));
            }
        }
        for (nth, (a, b)) in pairs.into_iter().enumerate() {
            self.join(a, b);
            if nth > 0 {
                crowded.push(a);
            }
        }
    }

    fn join(&mut self, a: u32, b: u32) {
        self.mate[a as usize] = b;
        self.mate[b as usize] = a;
    }
}

/// Edges by the lower of their two vertices.
struct Buckets {
    ends: Vec<u32>,
    edges: Vec<u32>,
}

impl Buckets {
    fn new(vertices: usize, starts: &[u32], ends: &[u32]) -> Self {
        let mut places = vec![0_u32; vertices + 1];
        let low = |e: usize| starts[e].min(ends[e]) as usize;
        for e in 0..starts.len() {
            places[low(e) + 1] += 1;
        }
        for v in 0..vertices {
            places[v + 1] += places[v];
        }
        let mut edges = vec![0; starts.len()];
        for e in 0..starts.len() {
            let place = &mut places[low(e)];
            edges[*place as usize] = e as u32;
            *place += 1;
        }
        // Each place has moved on to where the next bucket began.
        places.truncate(vertices);
        Self { ends: places, edges }
    }

    fn iter(&self) -> impl Iterator<Item = &[u32]> {
        self.ends.iter().enumerate().map(|(v, &end)| {
            let start = if v == 0 { 0 } else { self.ends[v - 1] };
            &self.edges[start as usize..end as usize]
        })
    }
}

/// Splits edges without a partner at the ends of others that lie on them; whether any was.
fn split_at_vertices(skin: &mut Skin, mates: &Mates) -> bool {
    let lonely: Vec<usize> = (0..mates.mate.len()).filter(|&e| mates.mate[e] == ALONE).collect();
    let mut ends: Vec<u32> = lonely.iter().flat_map(|&e| [skin.loop_vertices[e], mates.end[e]]).collect();
    ends.sort_unstable();
    ends.dedup();
    split_edges(skin, mates, &lonely, &ends)
}

/// Splits every edge at every welded vertex that lies on it, for surfaces whose outlines pair up
/// but cannot be filled: outlines of one face may touch in the middle of an edge. Whether any was.
pub(super) fn split_wherever_touched(skin: &mut Skin, welded: usize) -> bool {
    let mates = Mates::of(skin);
    let all: Vec<usize> = (0..mates.end.len()).collect();
    let vertices: Vec<u32> = (0..welded as u32).collect();
    split_edges(skin, &mates, &all, &vertices)
}

/// Splits `edges`, in rising order, at those of `vertices` that lie on them; whether any was.
fn split_edges(skin: &mut Skin, mates: &Mates, edges: &[usize], vertices: &[u32]) -> bool {
    let mut splits: Vec<(usize, Vec<u32>)> = Vec::new();
    for &e in edges {
        let (a, b) = (skin.loop_vertices[e], mates.end[e]);
        let on = vertices_on(&skin.positions, a, b, vertices, skin.weld * 2.0);
        if !on.is_empty() {
            splits.push((e, on));
        }
    }
    if splits.is_empty() {
        return false;
    }
    insert(skin, &splits);
    true
}

/// Those of `candidates` that lie on the edge from `a` to `b` but not at its ends, in order.
pub(super) fn vertices_on(positions: &[DVec3], a: u32, b: u32, candidates: &[u32], reach: f64) -> Vec<u32> {
    let from = positions[a as usize];
    let along = positions[b as usize] - from;
    let length = along.length();
    let unit = along / length;
    let mut on: Vec<(f64, u32)> = candidates
        .iter()
        .filter_map(|&v| {
            let offset = positions[v as usize] - from;
            let at = offset.dot(unit);
            let inside = at > 0.0 && at < length && v != a && v != b;
            (inside && (offset - unit * at).length_squared() <= reach * reach).then_some((at, v))
        })
        .collect();
    on.sort_by(|x, y| x.0.total_cmp(&y.0));
    on.into_iter().map(|(_, v)| v).collect()
}

/// Puts a vertex of their own in the middle of edges that share both ends with another pair.
fn part(skin: &mut Skin, mates: &Mates, crowded: &[u32]) {
    let mut splits: Vec<(usize, Vec<u32>)> = Vec::with_capacity(crowded.len() * 2);
    for &edge in crowded {
        let (a, b) = (skin.loop_vertices[edge as usize], mates.end[edge as usize]);
        let middle = (skin.positions[a as usize] + skin.positions[b as usize]) / 2.0;
        let vertex = skin.apart(middle);
        splits.push((edge as usize, vec![vertex]));
        splits.push((mates.mate[edge as usize] as usize, vec![vertex]));
    }
    splits.sort_unstable();
    insert(skin, &splits);
}

/// Inserts vertices after given places of `loop_vertices`; the places rise.
fn insert(skin: &mut Skin, splits: &[(usize, Vec<u32>)]) {
    let (mut place, mut next) = (0, 0);
    skin.rebuild(|vertices, out| {
        for &vertex in vertices {
            out.push(vertex);
            if let Some((at, more)) = splits.get(next)
                && *at == place
            {
                out.extend(more);
                next += 1;
            }
            place += 1;
        }
    });
}

/// Whether every directed edge of the triangles occurs once, and its reverse once.
pub(super) fn closes(triangles: &[[u32; 3]], vertices: usize) -> bool {
    let count = triangles.len() * 3;
    let (mut starts, mut ends) = (Vec::with_capacity(count), Vec::with_capacity(count));
    for &[a, b, c] in triangles {
        if a == b || b == c || c == a || (a.max(b).max(c) as usize) >= vertices {
            return false;
        }
        starts.extend([a, b, c]);
        ends.extend([b, c, a]);
    }
    let buckets = Buckets::new(vertices, &starts, &ends);
    let mut highs: Vec<(u32, bool)> = Vec::new();
    for bucket in buckets.iter() {
        highs.clear();
        highs.extend(bucket.iter().map(|&e| {
            let (a, b) = (starts[e as usize], ends[e as usize]);
            (a.max(b), a < b)
        }));
        highs.sort_unstable();
        let paired = |pair: &[(u32, bool)]| matches!(pair, [a, b] if a.0 == b.0 && a.1 != b.1);
        let repeats = highs.windows(2).any(|w| w[0] == w[1]);
        if repeats || !highs.chunks(2).all(paired) {
            return false;
        }
    }
    true
}
