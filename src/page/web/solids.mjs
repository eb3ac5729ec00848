// Solids from the page's data: one group for each part of the fitting.
import * as THREE from 'three';

const CREASE = Math.cos((32 * Math.PI) / 180); // facets that turn by more meet in an edge

const DIGITS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
const VALUES = new Uint8Array(128);
[...DIGITS].forEach((digit, value) => (VALUES[digit.charCodeAt(0)] = value));

// Whole numbers by threes, from three columns of digits: how many digits a number has, then all lowest digits, all
// next ones ...; its lowest bit is the sign. Each is told by its difference from the one above it.
function whole(columns) {
  const digit = (text, at) => VALUES[text.charCodeAt(at)];
  const rows = (columns[0].length - 1) / digit(columns[0], 0);
  const out = new Int32Array(3 * rows);
  columns.forEach((text, column) => {
    const digits = digit(text, 0);
    for (let row = 0, sum = 0; row < rows; row++) {
      let step = 0;
      for (let d = 0; d < digits; d++) step += digit(text, 1 + d * rows + row) * 64 ** d;
      sum += step % 2 ? -(step + 1) / 2 : step / 2;
      out[3 * row + column] = sum;
    }
  });
  return out;
}

// Positions come as whole steps of `step` from `origin`, three numbers a point.
export function decode(mesh) {
  const steps = whole(mesh.points);
  const points = new Float32Array(steps.length);
  for (let i = 0; i < steps.length; i++) points[i] = mesh.origin[i % 3] + steps[i] * mesh.step;
  return { points, triangles: Uint32Array.from(whole(mesh.triangles)) };
}

function facetNormals({ points, triangles }) {
  const normals = new Float32Array(triangles.length); // not normalised: as long as twice the area
  for (let t = 0; t < triangles.length; t += 3) {
    const a = 3 * triangles[t], b = 3 * triangles[t + 1], c = 3 * triangles[t + 2];
    const ux = points[b] - points[a], uy = points[b + 1] - points[a + 1], uz = points[b + 2] - points[a + 2];
    const vx = points[c] - points[a], vy = points[c + 1] - points[a + 1], vz = points[c + 2] - points[a + 2];
    normals[t] = uy * vz - uz * vy;
    normals[t + 1] = uz * vx - ux * vz;
    normals[t + 2] = ux * vy - uy * vx;
  }
  return normals;
}

// Facets around each point: those of point p are facets[start[p]] to facets[start[p + 1]].
function facetsAround({ points, triangles }) {
  const start = new Uint32Array(points.length / 3 + 1);
  for (const p of triangles) start[p + 1]++;
  for (let p = 1; p < start.length; p++) start[p] += start[p - 1];
  const fill = start.slice();
  const facets = new Uint32Array(triangles.length);
  for (let k = 0; k < triangles.length; k++) facets[fill[triangles[k]]++] = k - (k % 3);
  return { start, facets };
}

// Smooth across gentle turns, sharp at edges.
export function shaded(mesh) {
  const { points, triangles } = mesh;
  const flat = facetNormals(mesh);
  const { start, facets } = facetsAround(mesh);
  const position = new Float32Array(3 * triangles.length);
  const normal = new Float32Array(3 * triangles.length);
  for (let k = 0; k < triangles.length; k++) {
    const own = k - (k % 3), p = triangles[k];
    const nx = flat[own], ny = flat[own + 1], nz = flat[own + 2];
    const length = Math.hypot(nx, ny, nz);
    let x = 0, y = 0, z = 0;
    for (let j = start[p]; j < start[p + 1]; j++) {
      const f = facets[j];
      const dot = nx * flat[f] + ny * flat[f + 1] + nz * flat[f + 2];
      if (dot < CREASE * length * Math.hypot(flat[f], flat[f + 1], flat[f + 2])) continue;
      x += flat[f];
      y += flat[f + 1];
      z += flat[f + 2];
    }
    position.set(points.subarray(3 * p, 3 * p + 3), 3 * k);
    normal[3 * k] = x;
    normal[3 * k + 1] = y;
    normal[3 * k + 2] = z;
  }
  const geometry = new THREE.BufferGeometry();
  geometry.setAttribute('position', new THREE.BufferAttribute(position, 3));
  geometry.setAttribute('normal', new THREE.BufferAttribute(normal, 3));
  geometry.normalizeNormals();
  return geometry;
}

// Edges at which facets turn sharply, and those of one facet alone.
export function sharpEdges(mesh) {
  const { points, triangles } = mesh;
  const flat = facetNormals(mesh);
  const count = points.length / 3;
  const open = new Map(); // edge, as a number of both its ends: its first facet
  const out = [];
  const draw = (p, q) => out.push(points[3 * p], points[3 * p + 1], points[3 * p + 2], points[3 * q], points[3 * q + 1], points[3 * q + 2]);
  for (let k = 0; k < triangles.length; k++) {
    const facet = k - (k % 3), p = triangles[k], q = triangles[k % 3 === 2 ? facet : k + 1];
    const edge = p < q ? p * count + q : q * count + p;
    const other = open.get(edge);
    if (other === undefined) {
      open.set(edge, facet);
      continue;
    }
    open.delete(edge);
    const dot = flat[facet] * flat[other] + flat[facet + 1] * flat[other + 1] + flat[facet + 2] * flat[other + 2];
    const long = (f) => Math.hypot(flat[f], flat[f + 1], flat[f + 2]);
    if (dot < CREASE * long(facet) * long(other)) draw(p, q);
  }
  for (const edge of open.keys()) draw(Math.floor(edge / count), edge % count);
  const geometry = new THREE.BufferGeometry();
  geometry.setAttribute('position', new THREE.BufferAttribute(new Float32Array(out), 3));
  return geometry;
}

// Where the plane axis = level cuts the mesh: ends of segments, x y z after each other.
export function cutLines({ points, triangles }, axis, level) {
  const out = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const corner = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
    const side = corner.map((p) => points[p + axis] > level);
    if (side[0] === side[1] && side[1] === side[2]) continue;
    for (let e = 0; e < 3; e++) {
      if (side[e] === side[(e + 1) % 3]) continue;
      const a = corner[e], b = corner[(e + 1) % 3];
      const share = (level - points[a + axis]) / (points[b + axis] - points[a + axis]);
      for (let i = 0; i < 3; i++) out.push(points[a + i] + share * (points[b + i] - points[a + i]));
    }
  }
  return new Float32Array(out);
}
