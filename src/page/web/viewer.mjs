// The 3D view: metal, liner pieces and bore, cut by a plane, pulled apart, drawn only when something changed.
import * as THREE from 'three';
import { OrbitControls } from 'three/examples/jsm/controls/OrbitControls.js';
import { nearestOnEdges, radiusOfEdge } from './snap.mjs';
import { cutLines, decode, shaded, sharpEdges } from './solids.mjs';

// Liner pieces take these in turn, so that neighbours differ.
const LINER = ['#d9a441', '#e6c27a', '#c98f3c', '#edd6a3', '#b98545'];
const METAL = '#8fa3b3';
const BORE = '#5fb0d9';
const LOST = '#d4502f';
const LOOKS = { light: { ground: '#eef1f0', line: '#1d2a33' }, dark: { ground: '#182127', line: '#0b0f12' }, paper: { ground: '#ffffff', line: '#000000' } };

// A surface seen from inside a body that is cut open: painted flat and hatched, it reads as the cut itself.
// `forward`: it wins over a neighbour's face in the same place; sheet metal is too thin for that.
function cutPaint(colour, hatch, planes, forward) {
  const paint = new THREE.MeshBasicMaterial({ color: colour, side: THREE.BackSide, clippingPlanes: planes });
  Object.assign(paint, { polygonOffset: forward, polygonOffsetFactor: -1, polygonOffsetUnits: -2 });
  if (hatch === 0) return paint;
  paint.onBeforeCompile = (shader) => {
    shader.fragmentShader = shader.fragmentShader.replace(
      '#include <dithering_fragment>',
      `#include <dithering_fragment>
      if (mod(gl_FragCoord.x + float(${hatch}) * gl_FragCoord.y, 9.0) < 1.6) gl_FragColor.rgb *= 0.62;`
    );
  };
  paint.customProgramCacheKey = () => `cut${hatch}`;
  return paint;
}

// The slope of a cut's hatching: neighbours differ; air has none.
function hatchOf(part, order) {
  if (part.role === 'bore') return 0;
  return order % 2 === 0 ? 1 : -1;
}

function partColour(part, order) {
  if (part.role === 'metal') return METAL;
  if (part.role === 'bore') return BORE;
  return LINER[order % LINER.length];
}

export class Viewer {
  constructor(canvas, scene) {
    this.canvas = canvas;
    this.plane = new THREE.Plane(new THREE.Vector3(0, 1, 0), 0);
    this.section = { on: true, axis: 1, level: 0, flipped: false };
    // what is kept of each axis, as shares of its range; two planes for each
    this.kept = [[0, 1], [0, 1], [0, 1]];
    this.walls = [0, 1, 2].flatMap((axis) => [1, -1].map((sign) =>
      new THREE.Plane(new THREE.Vector3().setComponent(axis, sign), 1e9)));
    this.apart = 0;
    this.seeThrough = false;
    this.renderer = new THREE.WebGLRenderer({ canvas, antialias: true, preserveDrawingBuffer: true });
    this.renderer.localClippingEnabled = true;
    this.past = []; // what was shown before the next picture
    this.scene = new THREE.Scene();
    this.camera = new THREE.PerspectiveCamera(28, 1, 1, 1e6);
    this.camera.up.set(0, 0, 1);
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.enableDamping = false;
    this.controls.addEventListener('change', () => this.draw());
    this.lights();
    this.marks = new THREE.Group();
    this.scene.add(this.marks);
    this.parts = [];
    this.add(scene);
    this.section.axis = scene.axis;
    this.section.level = this.middle(scene.axis);
    this.setLook('light');
    this.cut();
    this.resize();
    this.look('corner');
    new ResizeObserver(() => this.resize()).observe(canvas.parentElement);
  }

  add(scene) {
    this.parts = scene.parts.map((part, i) => this.addPart(part, i));
    this.box = new THREE.Box3();
    for (const part of this.parts) this.box.union(part.box);
    this.size = this.box.getSize(new THREE.Vector3()).length();
  }

  // Another fitting in the place of this one, seen and cut from the same side.
  load(scene) {
    const before = this.size;
    for (const part of this.parts) {
      this.scene.remove(part.group);
      this.past.push(...part.group.children);
    }
    this.marks.clear();
    this.add(scene);
    const [low, high] = this.range(this.section.axis);
    if (this.section.level <= low || this.section.level >= high) this.section.level = this.middle(this.section.axis);
    if (Math.abs(Math.log(this.size / before)) > 0.2) this.look('corner');
    for (const part of this.parts) part.group.position.fromArray(part.apart).multiplyScalar(this.apart);
    this.dressMetal();
    this.cut();
  }

  lights() {
    this.scene.add(new THREE.HemisphereLight('#ffffff', '#8d8a80', 2.1));
    this.lamp = new THREE.DirectionalLight('#ffffff', 1.7);
    this.scene.add(this.lamp, this.lamp.target);
  }

  addPart(data, index) {
    const mesh = decode(data.mesh);
    const geometry = shaded(mesh);
    const colour = partColour(data, index);
    const planes = [this.plane, ...this.walls];
    const body = new THREE.MeshLambertMaterial({ color: colour, clippingPlanes: planes });
    const inside = cutPaint(colour, hatchOf(data, index), planes, data.role !== 'metal');
    if (data.role === 'bore') {
      for (const paint of [body, inside]) Object.assign(paint, { transparent: true, opacity: 0.5, depthWrite: false });
    }
    const line = new THREE.LineBasicMaterial({ color: LOOKS.light.line, clippingPlanes: planes });
    const seam = new THREE.LineBasicMaterial({ color: LOOKS.light.line, clippingPlanes: this.walls });
    const group = new THREE.Group();
    const front = new THREE.Mesh(geometry, body);
    const back = new THREE.Mesh(geometry, inside);
    const edges = new THREE.LineSegments(sharpEdges(mesh), line);
    const cut = new THREE.LineSegments(new THREE.BufferGeometry(), seam);
    cut.frustumCulled = false;
    group.add(front, back, edges, cut);
    this.scene.add(group);
    geometry.computeBoundingBox();
    return { ...data, mesh, colour, group, front, back, edges, cut, box: geometry.boundingBox };
  }

  middle(axis) {
    return (this.box.min.getComponent(axis) + this.box.max.getComponent(axis)) / 2;
  }

  // ---- what is shown ----

  show(index, on) {
    this.parts[index].group.visible = on;
    this.draw();
  }

  setSeeThrough(on) {
    this.seeThrough = on;
    this.dressMetal();
  }

  // The metal hides nothing that is pulled out of it.
  dressMetal() {
    const clear = this.seeThrough || this.apart > 0;
    for (const part of this.parts) {
      if (part.role !== 'metal') continue;
      const paint = part.front.material;
      Object.assign(paint, { transparent: clear, opacity: clear ? 0.28 : 1, depthWrite: !clear, needsUpdate: true });
      part.back.visible = !clear;
    }
    this.draw();
  }

  // The liner in a warning colour: what it takes from the bare bore.
  shadeLost(on) {
    for (const part of this.parts)
      if (part.role === 'liner')
        for (const paint of [part.front.material, part.back.material]) paint.color.set(on ? LOST : part.colour);
    this.draw();
  }

  pick(index) {
    this.parts.forEach((part, i) => {
      if (part.front.material.emissive) part.front.material.emissive.set(i === index ? '#3a2a00' : '#000000');
    });
    this.draw();
  }

  // Parts move along their own direction of insertion, as far as the share of `apart` says.
  pullApart(share) {
    this.apart = share;
    for (const part of this.parts) part.group.position.fromArray(part.apart).multiplyScalar(share);
    this.dressMetal();
    this.cut();
    this.way = this.camera.position.clone().sub(this.controls.target).normalize();
    this.fit();
  }

  setSection(change) {
    if (change.axis !== undefined && change.axis !== this.section.axis) change.level = this.middle(change.axis);
    Object.assign(this.section, change);
    this.cut();
  }

  // Keeps what lies between two shares of an axis's range.
  keep(axis, low, high) {
    this.kept[axis] = [Math.min(low, high), Math.max(low, high)];
    this.boxed();
    this.draw();
  }

  boxed() {
    for (let axis = 0; axis < 3; axis++) {
      const [from, to] = this.range(axis);
      const [low, high] = this.kept[axis];
      this.walls[2 * axis].constant = low > 0 ? -(from + low * (to - from)) : 1e9;
      this.walls[2 * axis + 1].constant = high < 1 ? from + high * (to - from) : 1e9;
    }
  }

  range(axis) {
    return [this.box.min.getComponent(axis), this.box.max.getComponent(axis)];
  }

  cut() {
    const { on, axis, level, flipped } = this.section;
    // the half toward the corner that everything is first seen from is taken away
    const sign = flipped === (axis === 2) ? 1 : -1;
    this.plane.normal.set(0, 0, 0).setComponent(axis, sign);
    this.plane.constant = on ? -sign * level : 1e9;
    for (const part of this.parts) {
      const lines = on ? cutLines(part.mesh, axis, level - part.group.position.getComponent(axis)) : new Float32Array(0);
      part.cut.geometry.dispose();
      part.cut.geometry = new THREE.BufferGeometry();
      part.cut.geometry.setAttribute('position', new THREE.BufferAttribute(lines, 3));
      part.cut.visible = lines.length > 0;
    }
    this.draw();
  }

  // ---- where it is seen from ----

  look(from) {
    const ways = { corner: [-0.55, -1, 0.5], front: [0, -1, 0], side: [1, 0, 0], top: [0, -0.001, 1], back: [0.55, 1, 0.5] };
    this.way = new THREE.Vector3(...ways[from]).normalize();
    this.fit();
  }

  // Stands back along `way` as far as it takes to have everything in view.
  fit() {
    const box = new THREE.Box3();
    for (const part of this.parts) box.union(part.box.clone().translate(part.group.position));
    const centre = box.getCenter(new THREE.Vector3());
    this.camera.position.copy(centre).add(this.way);
    this.camera.lookAt(centre);
    this.camera.updateMatrixWorld();
    const up = Math.tan((this.camera.fov * Math.PI) / 360), across = up * this.camera.aspect;
    let far = 0;
    for (let i = 0; i < 8; i++) {
      const corner = new THREE.Vector3(
        i & 1 ? box.max.x : box.min.x, i & 2 ? box.max.y : box.min.y, i & 4 ? box.max.z : box.min.z
      ).applyMatrix4(this.camera.matrixWorldInverse);
      far = Math.max(far, 1 + corner.z + Math.max(Math.abs(corner.x) / across, Math.abs(corner.y) / up));
    }
    far *= 1.06;
    this.camera.near = far / 50;
    this.camera.far = far * 20;
    this.camera.position.copy(centre).addScaledVector(this.way, far);
    this.camera.updateProjectionMatrix();
    this.controls.target.copy(centre);
    this.controls.update();
    this.draw();
  }

  turn(right, up) {
    const offset = this.camera.position.clone().sub(this.controls.target);
    const place = new THREE.Spherical().setFromVector3(new THREE.Vector3(offset.x, offset.z, -offset.y));
    place.theta += right;
    place.phi = Math.min(Math.PI - 0.01, Math.max(0.01, place.phi - up));
    const v = new THREE.Vector3().setFromSpherical(place);
    this.camera.position.copy(this.controls.target).add(new THREE.Vector3(v.x, -v.z, v.y));
    this.controls.update();
    this.draw();
  }

  nearer(factor) {
    this.camera.position.sub(this.controls.target).multiplyScalar(factor).add(this.controls.target);
    this.controls.update();
    this.draw();
  }

  setLook(name) {
    const look = LOOKS[name];
    this.scene.background = new THREE.Color(look.ground);
    for (const part of this.parts) {
      part.edges.material.color.set(look.line);
      part.cut.material.color.set(look.line);
    }
    this.draw();
  }

  // Dots at points that were measured, and the line between two.
  mark(points) {
    this.marks.clear();
    const paint = new THREE.MeshBasicMaterial({ color: LOST, depthTest: false });
    for (const point of points) {
      const dot = new THREE.Mesh(new THREE.SphereGeometry(this.size / 160, 12, 8), paint);
      dot.position.copy(point);
      this.marks.add(dot);
    }
    if (points.length > 1)
      this.marks.add(new THREE.Line(new THREE.BufferGeometry().setFromPoints(points),
        new THREE.LineBasicMaterial({ color: LOST, depthTest: false })));
    for (const thing of this.marks.children) thing.renderOrder = 9;
    this.draw();
  }

  // A name beside each liner piece, in `layer` on top of the canvas.
  name(layer) {
    layer.replaceChildren();
    this.names = this.parts.map((part) => {
      if (part.role !== 'liner') return null;
      const name = document.createElement('span');
      name.textContent = part.id;
      layer.append(name);
      return name;
    });
    this.draw();
  }

  placeNames() {
    if (!this.names) return;
    const { clientWidth, clientHeight } = this.canvas;
    this.parts.forEach((part, i) => {
      const name = this.names[i];
      if (!name) return;
      const box = part.box.clone().translate(part.group.position);
      const { x, y, z } = this.plane.normal;
      // the corner that the section takes last
      const last = new THREE.Vector3(
        x > 0 ? box.max.x : box.min.x, y > 0 ? box.max.y : box.min.y, z > 0 ? box.max.z : box.min.z);
      name.hidden = !part.group.visible || this.plane.distanceToPoint(last) <= 0;
      const at = box.getCenter(new THREE.Vector3()).project(this.camera);
      name.style.left = `${((at.x + 1) / 2) * clientWidth}px`;
      name.style.top = `${((1 - at.y) / 2) * clientHeight}px`;
    });
  }

  // From a branch's square end to its saddle at each station, and how long that is, in `layer`; `shown` writes mm.
  setHeights(layer, on, shown) {
    layer.replaceChildren();
    for (const { line } of this.rods ?? []) {
      line.removeFromParent();
      line.geometry.dispose();
    }
    this.rods = !on ? [] : this.parts.flatMap((part) => (part.heights ?? []).map(({ from, to, mm }) => {
      const points = [from, to].map((p) => new THREE.Vector3(...p));
      const line = new THREE.Line(new THREE.BufferGeometry().setFromPoints(points),
        new THREE.LineBasicMaterial({ color: LOST, depthTest: false, clippingPlanes: this.walls }));
      line.renderOrder = 8;
      part.group.add(line);
      const label = document.createElement('span');
      label.textContent = shown(mm);
      layer.append(label);
      return { part, line, label, at: points[1] };
    }));
    this.draw();
  }

  // Those on the half that the section leaves; a number that would cover another waits until one comes nearer.
  placeHeights() {
    const { clientWidth, clientHeight } = this.canvas;
    const taken = [];
    for (const { part, line, label, at } of this.rods ?? []) {
      const place = at.clone().add(part.group.position);
      line.visible = this.plane.distanceToPoint(place) > -this.size / 2000;
      label.hidden = !line.visible || !part.group.visible;
      place.project(this.camera);
      const [x, y] = [((place.x + 1) / 2) * clientWidth, ((1 - place.y) / 2) * clientHeight];
      label.style.left = `${x}px`;
      label.style.top = `${y}px`;
      const covers = taken.some((other) =>
        Math.abs(other.x - x) < label.offsetWidth && Math.abs(other.y - y) < label.offsetHeight);
      label.style.visibility = covers ? 'hidden' : '';
      if (!label.hidden && !covers) taken.push({ x, y });
    }
  }

  // ---- what lies under a point of the canvas ----

  // Index of the part and the point on it, in mm; null where nothing is.
  at(clientX, clientY) {
    const frame = this.canvas.getBoundingClientRect();
    const spot = new THREE.Vector2(
      ((clientX - frame.left) / frame.width) * 2 - 1, 1 - ((clientY - frame.top) / frame.height) * 2);
    const ray = new THREE.Raycaster();
    ray.setFromCamera(spot, this.camera);
    let best = null;
    this.parts.forEach((part, index) => {
      if (!part.group.visible) return;
      for (const hit of ray.intersectObjects([part.front, part.back], false)) {
        if ([this.plane, ...this.walls].some((plane) => plane.distanceToPoint(hit.point) < 0)) continue;
        if (!best || hit.distance < best.distance) best = { index, point: hit.point, distance: hit.distance };
        break;
      }
    });
    return best;
  }

  // The same, on the nearest edge where one is near, with that edge's radius.
  edgeAt(clientX, clientY) {
    const hit = this.at(clientX, clientY);
    if (!hit) return null;
    const part = this.parts[hit.index];
    const segments = part.edges.geometry.getAttribute('position').array;
    const local = hit.point.clone().sub(part.group.position);
    const reach = hit.distance * Math.tan((this.camera.fov * Math.PI) / 360) * 0.03;
    const near = nearestOnEdges(segments, local.toArray(), reach);
    if (!near) return { ...hit, edge: false, radius: null };
    return { ...hit, point: new THREE.Vector3(...near.at).add(part.group.position), edge: true,
      radius: radiusOfEdge(segments, near.segment) };
  }

  // The view as it is, with what is written on it, as a PNG.
  picture(done) {
    this.drawNow();
    const { width, height, clientWidth } = this.canvas;
    const sheet = Object.assign(document.createElement('canvas'), { width, height });
    const pen = sheet.getContext('2d');
    pen.drawImage(this.canvas, 0, 0);
    const scale = width / clientWidth;
    const dark = document.documentElement.dataset.theme === 'dark';
    Object.assign(pen, { font: `600 ${13 * scale}px sans-serif`, textAlign: 'center', textBaseline: 'middle', lineJoin: 'round', lineWidth: 4 * scale, strokeStyle: dark ? '#182127' : '#ffffff', fillStyle: dark ? '#e8eef0' : '#16242c' });
    for (const label of this.canvas.parentElement.querySelectorAll('.labels:not([hidden]) > span:not([hidden])')) {
      const at = [parseFloat(label.style.left) * scale, parseFloat(label.style.top) * scale];
      pen.strokeText(label.textContent, ...at);
      pen.fillText(label.textContent, ...at);
    }
    sheet.toBlob(done, 'image/png');
  }

  // ---- drawing ----

  resize() {
    const { clientWidth, clientHeight } = this.canvas.parentElement;
    if (clientWidth === 0 || clientHeight === 0) return;
    const finer = Math.min(2, window.devicePixelRatio);
    const sized = [clientWidth, clientHeight, finer].join();
    if (sized === this.sized) return; // an observer tells the first size, too, for which all stands already
    const first = !this.sized;
    this.sized = sized;
    this.renderer.setPixelRatio(finer);
    this.renderer.setSize(clientWidth, clientHeight, false);
    this.camera.aspect = clientWidth / clientHeight;
    this.camera.updateProjectionMatrix();
    if (first) this.draw();
    else this.drawNow(); // at once: a canvas is empty after a change of size
  }

  draw() {
    if (this.waiting) return;
    this.waiting = true;
    requestAnimationFrame(() => this.drawNow());
  }

  drawNow() {
    this.waiting = false;
    this.lamp.position.copy(this.camera.position);
    this.lamp.target.position.copy(this.controls.target);
    this.placeHeights();
    this.renderer.render(this.scene, this.camera);
    // not before: with the last material that uses it a shader is thrown away, and the next one would be made anew
    for (const thing of this.past.splice(0)) {
      thing.geometry.dispose();
      thing.material.dispose();
    }
    this.placeNames();
  }
}
