// The page of a fitting.
const byId = (id) => document.getElementById(id);

export const home = (viewer) => viewer.look('corner');

// The boxes of the bodies, and their names in the view.
export function layers(viewer) {
  for (const box of document.querySelectorAll('[data-part]')) {
    const index = Number(box.dataset.part);
    const set = () => viewer.show(index, box.checked);
    box.addEventListener('change', set);
    set();
    const row = box.closest('label');
    row.querySelector('.swatch').style.setProperty('--swatch', viewer.parts[index].colour);
    for (const event of ['pointerenter', 'focusin']) row.addEventListener(event, () => viewer.pick(index));
    for (const event of ['pointerleave', 'focusout']) row.addEventListener(event, () => viewer.pick(-1));
  }
  viewer.name(byId('names'));
}

// Its controls beside those of every view.
export function start(viewer, scene, shown) {
  layers(viewer);
  byId('named').addEventListener('change', (e) => (byId('names').hidden = !e.target.checked));
  byId('see-through').addEventListener('change', (e) => viewer.setSeeThrough(e.target.checked));
  byId('saddle')?.addEventListener('change', (e) => {
    viewer.setHeights(byId('heights'), e.target.checked, shown);
    // cut along the branch, from where the saddle is seen to its full depth
    if (e.target.checked && viewer.section.axis !== scene.axis) viewer.setSection({ axis: scene.axis });
  });
  byId('lost')?.addEventListener('change', (e) => viewer.shadeLost(e.target.checked));

  byId('apart').addEventListener('input', (e) => viewer.pullApart(Number(e.target.value) / 100));
  // what lies under the pointer
  const tip = byId('tip');
  let waiting = false;
  const point = (e) => {
    if (waiting) return;
    waiting = true;
    requestAnimationFrame(() => {
      waiting = false;
      const hit = viewer.at(e.clientX, e.clientY);
      tip.hidden = !hit;
      if (!hit) return;
      const part = viewer.parts[hit.index];
      const lines = [...part.lines, `x, y, z: ${hit.point.toArray().map(shown).join(', ')}`];
      tip.replaceChildren(...[part.title, ...lines].map((text, i) => {
        const line = document.createElement(i === 0 ? 'strong' : 'span');
        line.textContent = text;
        line.dir = 'auto';
        return line;
      }));
      const frame = viewer.canvas.getBoundingClientRect();
      const x = e.clientX - frame.left, y = e.clientY - frame.top;
      tip.style.left = `${Math.max(4, Math.min(x + 14, frame.width - tip.offsetWidth - 4))}px`;
      tip.style.top = `${Math.max(4, Math.min(y + 14, frame.height - tip.offsetHeight - 4))}px`;
    });
  };
  viewer.canvas.addEventListener('pointermove', (e) => e.buttons === 0 && point(e));
  viewer.canvas.addEventListener('pointerup', point);
  viewer.canvas.addEventListener('pointerleave', (e) => {
    if (e.pointerType === 'mouse') tip.hidden = true;
  });

  // distance between two points that are tapped
  const button = byId('measure'), measured = byId('measured');
  let from = null;
  button.addEventListener('click', () => {
    const on = button.getAttribute('aria-pressed') !== 'true';
    button.setAttribute('aria-pressed', String(on));
    from = null;
    viewer.mark([]);
    measured.hidden = !on;
    measured.textContent = 'tap two points';
  });
  let pressed = null;
  viewer.canvas.addEventListener('pointerdown', (e) => (pressed = [e.clientX, e.clientY]));
  viewer.canvas.addEventListener('pointerup', (e) => {
    const still = pressed && Math.hypot(e.clientX - pressed[0], e.clientY - pressed[1]) < 5;
    if (!still || button.getAttribute('aria-pressed') !== 'true') return;
    const hit = viewer.edgeAt(e.clientX, e.clientY);
    if (!hit) return;
    viewer.mark(from ? [from, hit.point] : [hit.point]);
    const on = hit.edge ? (hit.radius ? `on an edge of radius ${shown(hit.radius)}` : 'on an edge') : 'on a face';
    measured.textContent = from ? `${shown(from.distanceTo(hit.point))} in a straight line; the second ${on}` : `${on}; and the second`;
    from = from ? null : hit.point;
  });

  // what is kept of each axis
  for (const axis of [0, 1, 2]) {
    const ends = document.querySelectorAll(`[data-keep="${axis}"]`);
    const keep = () => viewer.keep(axis, Number(ends[0].value) / 1000, Number(ends[1].value) / 1000);
    for (const end of ends) end.addEventListener('input', keep);
  }
  byId('picture').addEventListener('click', () => viewer.picture((blob) => {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(blob);
    link.download = `${document.title.split(':')[0]}.png`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 1000);
  }));
}

// What the page does with or without a view.
export function open() {
  const ordinates = byId('with-ordinates');
  const print = () => document.body.classList.toggle('with-ordinates', ordinates.checked);
  ordinates.addEventListener('change', print);
  print();
  // the job that led here: a fitting's page is the same in every job
  const asked = new URLSearchParams(location.search);
  const job = [asked.get('job'), asked.get('date')].filter(Boolean).join(', ').slice(0, 200);
  for (const place of document.querySelectorAll('[data-job]')) {
    place.textContent = job;
    place.hidden = !job;
  }
}
