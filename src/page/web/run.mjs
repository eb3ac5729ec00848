// The page of a run: its 3D view, the walk along its line of centres, its bore by velocity.
import * as THREE from 'three';

const byId = (id) => document.getElementById(id);

// Slow air blue, fast air red.
function shade(share) {
  return new THREE.Color().setHSL(0.62 * (1 - share), 0.75, 0.5);
}

// Distance along the way of the place that is nearest to a point.
function distanceAt(way, x, y, z) {
  let best = Infinity, at = 0;
  for (let i = 1; i < way.length; i++) {
    const a = way[i - 1], b = way[i];
    const ux = b[1] - a[1], uy = b[2] - a[2], uz = b[3] - a[3];
    const square = ux * ux + uy * uy + uz * uz;
    if (square === 0) continue;
    const share = Math.min(1, Math.max(0, ((x - a[1]) * ux + (y - a[2]) * uy + (z - a[3]) * uz) / square));
    const off = Math.hypot(x - a[1] - share * ux, y - a[2] - share * uy, z - a[3] - share * uz);
    if (off >= best) continue;
    best = off;
    at = a[0] + share * (b[0] - a[0]);
  }
  return at;
}

// A list of [distance, value] read between its entries.
function valueAt(list, distance) {
  for (let i = 1; i < list.length; i++) {
    const [a, low] = list[i - 1], [b, high] = list[i];
    if (distance > b && i < list.length - 1) continue;
    return b > a ? low + ((high - low) * Math.min(1, Math.max(0, (distance - a) / (b - a)))) : high;
  }
  return list.length ? list[0][1] : 0;
}

export const home = () => byId('leave').click();

// Its controls beside those of every view.
export function start(viewer, scene, shown) {
  const roles = { metal: byId('metal'), liner: byId('liner'), bore: byId('bore-on') };
  const show = () => viewer.parts.forEach((part, i) => viewer.show(i, roles[part.role].checked));
  for (const box of Object.values(roles)) box.addEventListener('change', show);
  show();
  const clear = byId('see-through');
  const dress = () => viewer.setSeeThrough(clear.checked);
  clear.addEventListener('change', dress);
  dress();

  // bore by velocity
  const flow = byId('flow');
  const colourBore = () => {
    const velocity = (distance) => (1e6 * Number(flow.value)) / valueAt(scene.area, distance);
    const all = scene.area.map(([at]) => velocity(at));
    const low = Math.min(...all), high = Math.max(...all);
    byId('slow').textContent = `${low.toFixed(2)} m/s`;
    byId('fast').textContent = `${high.toFixed(2)} m/s`;
    for (const part of viewer.parts) {
      if (part.role !== 'bore') continue;
      const geometry = part.front.geometry, place = geometry.attributes.position;
      const colours = new Float32Array(place.count * 3);
      for (let i = 0; i < place.count; i++) {
        const v = velocity(distanceAt(scene.way, place.getX(i), place.getY(i), place.getZ(i)));
        shade(high > low ? (v - low) / (high - low) : 0).toArray(colours, 3 * i);
      }
      geometry.setAttribute('color', new THREE.BufferAttribute(colours, 3));
      for (const paint of [part.front.material, part.back.material]) {
        paint.color.set('#ffffff');
        Object.assign(paint, { vertexColors: true, opacity: 0.85, needsUpdate: true });
      }
    }
    viewer.draw();
  };
  flow.addEventListener('input', () => Number(flow.value) > 0 && colourBore());
  colourBore();

  // the walk: the eye goes along the line of centres and looks ahead
  const walk = byId('walk');
  const pointAt = (distance) => {
    const way = scene.way;
    for (let i = 1; i < way.length; i++) {
      const a = way[i - 1], b = way[i];
      if (distance > b[0] && i < way.length - 1) continue;
      const share = b[0] > a[0] ? (distance - a[0]) / (b[0] - a[0]) : 0;
      return new THREE.Vector3(a[1] + share * (b[1] - a[1]), a[2] + share * (b[2] - a[2]), a[3] + share * (b[3] - a[3]));
    }
    return new THREE.Vector3(way[0][1], way[0][2], way[0][3]);
  };
  const length = scene.way[scene.way.length - 1][0];
  const step = () => {
    const at = (Number(walk.value) / 1000) * length;
    const ahead = 0.5 * Math.sqrt(valueAt(scene.area, at));
    const eye = pointAt(at), toward = pointAt(Math.min(length, at + ahead));
    if (eye.distanceTo(toward) < 1e-6) toward.copy(eye).add(eye.clone().sub(pointAt(Math.max(0, at - ahead))));
    viewer.camera.position.copy(eye);
    viewer.camera.near = 5;
    viewer.camera.fov = 62;
    viewer.camera.updateProjectionMatrix();
    viewer.controls.target.copy(toward);
    viewer.controls.update();
    const name = scene.names.reduce((found, [from, tag]) => (from <= at + 1e-6 ? tag : found), '');
    byId('walked').textContent = `${shown(at)} from the start, in ${name}; ${((1e6 * Number(flow.value)) / valueAt(scene.area, at)).toFixed(2)} m/s`;
    viewer.draw();
  };
  walk.addEventListener('input', step);
  byId('leave').addEventListener('click', () => {
    viewer.camera.fov = 28;
    byId('walked').textContent = '';
    viewer.look('corner');
  });

  // a fitting is named under the pointer, and a click opens its page
  const tip = byId('tip');
  let pressed = null;
  viewer.canvas.addEventListener('pointermove', (e) => {
    if (e.buttons !== 0) return;
    const hit = viewer.at(e.clientX, e.clientY);
    viewer.canvas.style.cursor = hit ? 'pointer' : '';
    tip.hidden = !hit;
    if (!hit) return;
    const part = scene.parts[hit.index];
    tip.replaceChildren(...[`${part.title} (${part.role})`, ...part.lines].map((text, i) => {
      const line = document.createElement(i === 0 ? 'strong' : 'span');
      line.textContent = text;
      line.dir = 'auto';
      return line;
    }));
    const frame = viewer.canvas.getBoundingClientRect();
    tip.style.left = `${Math.max(4, Math.min(e.clientX - frame.left + 14, frame.width - tip.offsetWidth - 4))}px`;
    tip.style.top = `${Math.max(4, Math.min(e.clientY - frame.top + 14, frame.height - tip.offsetHeight - 4))}px`;
  });
  viewer.canvas.addEventListener('pointerdown', (e) => (pressed = [e.clientX, e.clientY]));
  viewer.canvas.addEventListener('pointerup', (e) => {
    if (!pressed || Math.hypot(e.clientX - pressed[0], e.clientY - pressed[1]) >= 5) return;
    const hit = viewer.at(e.clientX, e.clientY);
    if (hit && scene.parts[hit.index].page) window.location.href = scene.parts[hit.index].page;
  });
}

export function open() {}
