// The page of a run: its 3D view, the walk along its line of centres, its bore by velocity.
import * as THREE from 'three';

const byId = (id) => document.getElementById(id);

// Slow air pale, fast air deep: no tint of the board or the metal. The page's scale is drawn alike.
function shade(share) {
  return new THREE.Color().setHSL(0.5 + 0.33 * share, 0.7, 0.78 - 0.43 * share);
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

// A list of [distance, value, value ...] read between its entries.
function valueAt(list, distance, column = 1) {
  for (let i = 1; i < list.length; i++) {
    const a = list[i - 1][0], b = list[i][0], low = list[i - 1][column], high = list[i][column];
    if (distance > b && i < list.length - 1) continue;
    return b > a ? low + ((high - low) * Math.min(1, Math.max(0, (distance - a) / (b - a)))) : high;
  }
  return list.length ? list[0][column] : 0;
}

export const home = () => byId('leave').click();

// Its controls beside those of every view.
export function start(viewer, scene, shown) {
  const roles = { metal: byId('metal'), liner: byId('liner'), bore: byId('bore-on') };
  let walking = false;
  const show = () => viewer.parts.forEach((part, i) => viewer.show(i, walking ? part.role !== 'bore' : roles[part.role].checked));
  for (const box of Object.values(roles)) box.addEventListener('change', show);
  show();
  const clear = byId('see-through');
  const dress = () => viewer.setSeeThrough(clear.checked);
  clear.addEventListener('change', dress);
  dress();

  // seen from as far away as a run is, a cut's paint would come forward through the metal where it is steep
  for (const part of viewer.parts)
    if (part.role === 'liner') Object.assign(part.back.material, { polygonOffsetFactor: 0, polygonOffsetUnits: -16 });

  // bore by velocity
  const flow = byId('flow');
  const velocity = (distance) =>
    (1e6 * (Number(flow.value) / scene.flow_unit.of_si) * valueAt(scene.area, distance, 2)) / valueAt(scene.area, distance);
  const speed = (v) => {
    const own = v * scene.velocity_unit.of_si;
    return `${own.toFixed(own < 100 ? 2 : 0)} ${scene.velocity_unit.name}`;
  };
  const colourBore = () => {
    const all = scene.area.map(([at]) => velocity(at));
    const low = Math.min(...all), high = Math.max(...all);
    byId('slow').textContent = speed(low);
    byId('fast').textContent = speed(high);
    for (const part of viewer.parts) {
      if (part.role === 'metal') continue;
      const geometry = part.front.geometry, place = geometry.attributes.position;
      const colours = new Float32Array(place.count * 3);
      for (let i = 0; i < place.count; i++) {
        const v = velocity(distanceAt(scene.way, place.getX(i), place.getY(i), place.getZ(i)));
        shade(high > low ? (v - low) / (high - low) : 0).toArray(colours, 3 * i);
      }
      geometry.setAttribute('color', new THREE.BufferAttribute(colours, 3));
      if (part.role !== 'bore') continue;
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
  // on the walk nothing is cut open, and the lining itself is shaded by velocity: air would hide what lies ahead
  let section = true;
  const goInside = (inside) => {
    if (inside === walking) return;
    walking = inside;
    if (inside) section = viewer.section.on;
    viewer.setSection({ on: inside ? false : section });
    document.querySelector('.hint').hidden = inside;
    for (const part of viewer.parts) {
      if (part.role !== 'liner') continue;
      part.front.material.color.set(inside ? '#ffffff' : part.colour);
      Object.assign(part.front.material, { vertexColors: inside, needsUpdate: true });
    }
    show();
  };
  const step = () => {
    goInside(true);
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
    byId('walked').textContent = `${shown(at)} from the start, in ${name}; ${speed(velocity(at))}`;
    viewer.draw();
  };
  walk.addEventListener('input', step);
  byId('leave').addEventListener('click', () => {
    goInside(false);
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
