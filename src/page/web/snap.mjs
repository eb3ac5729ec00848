// A point that is tapped near an edge is on the edge: where it lies there, and how the edge is curved.
const from = (a, i) => [a[i], a[i + 1], a[i + 2]];
const minus = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const length = (a) => Math.hypot(a[0], a[1], a[2]);

// The nearest point of the segments (x y z of both ends after each other) within `reach` of `point`, or null.
export function nearestOnEdges(segments, point, reach) {
  let best = null;
  for (let i = 0; i < segments.length; i += 6) {
    const a = from(segments, i), d = minus(from(segments, i + 3), a);
    const share = Math.min(1, Math.max(0, dot(minus(point, a), d) / (dot(d, d) || 1)));
    const at = [a[0] + share * d[0], a[1] + share * d[1], a[2] + share * d[2]];
    const far = length(minus(point, at));
    if (far <= reach && (!best || far < best.far)) best = { at, far, segment: i };
  }
  return best;
}

// The segments' ends one after the other along the edge that a segment belongs to, some to either side.
function along(segments, first, steps) {
  const key = (i) => from(segments, i).map((x) => x.toFixed(3)).join(' ');
  const ends = new Map();
  for (let i = 0; i < segments.length; i += 3) ends.set(key(i), [...(ends.get(key(i)) ?? []), i]);
  const walk = (end) => {
    const points = [from(segments, end)];
    for (let i = 0; i < steps; i++) {
      // corners, where more than two meet, end the edge
      const next = ends.get(key(end)).filter((other) => Math.floor(other / 6) !== Math.floor(end / 6));
      if (next.length !== 1) break;
      end = next[0] % 6 === 0 ? next[0] + 3 : next[0] - 3;
      points.push(from(segments, end));
    }
    return points;
  };
  return [...walk(first).reverse(), ...walk(first + 3)];
}

function radiusThrough(a, b, c) {
  const ab = minus(b, a), bc = minus(c, b), ca = minus(a, c);
  const area = length([ab[1] * ca[2] - ab[2] * ca[1], ab[2] * ca[0] - ab[0] * ca[2], ab[0] * ca[1] - ab[1] * ca[0]]);
  return area < 1e-9 ? Infinity : (length(ab) * length(bc) * length(ca)) / (2 * area);
}

// Radius of the circle that the edge runs on there; null where it is straight or no circle.
export function radiusOfEdge(segments, segment) {
  const points = along(segments, segment, 6);
  if (points.length < 5) return null;
  const last = points.length - 1;
  const radii = [[0, last >> 1, last], [0, last >> 2, last >> 1], [last >> 1, (3 * last) >> 2, last]].map(([i, j, k]) =>
    radiusThrough(points[i], points[j], points[k]));
  const spread = Math.max(...radii) / Math.min(...radii);
  const span = length(minus(points[last], points[0]));
  return Number.isFinite(radii[0]) && spread < 1.01 && radii[0] < 50 * span ? radii[0] : null;
}
