// The fitting page: its controls and the 3D view.
import { startTheme, theme } from './theme.mjs';
import { Viewer } from './viewer.mjs';

const byId = (id) => document.getElementById(id);

function start(viewer, scene) {
  const shown = (mm) => `${+(mm / scene.unit.mm).toFixed(scene.unit.decimals)} ${scene.unit.name}`;

  // layers
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
  byId('named').addEventListener('change', (e) => (byId('names').hidden = !e.target.checked));
  byId('see-through').addEventListener('change', (e) => viewer.setSeeThrough(e.target.checked));
  byId('lost').addEventListener('change', (e) => viewer.shadeLost(e.target.checked));

  // section
  const level = byId('section-level');
  const refresh = () => {
    const { axis, on } = viewer.section;
    const [low, high] = viewer.range(axis);
    level.disabled = !on;
    level.value = String((1000 * (viewer.section.level - low)) / (high - low));
    tell();
  };
  const tell = () => {
    const { axis, level: at, on } = viewer.section;
    const text = on ? `at ${'xyz'[axis]} = ${shown(at)}` : 'closed';
    byId('section-value').textContent = text;
    level.setAttribute('aria-valuetext', text);
  };
  byId('section-on').addEventListener('change', (e) => {
    viewer.setSection({ on: e.target.checked });
    refresh();
  });
  for (const radio of document.querySelectorAll('[name=section-axis]')) {
    radio.checked = Number(radio.value) === viewer.section.axis;
    radio.addEventListener('change', () => {
      viewer.setSection({ axis: Number(radio.value) });
      refresh();
    });
  }
  byId('section-flip').addEventListener('click', () => viewer.setSection({ flipped: !viewer.section.flipped }));
  level.addEventListener('input', () => {
    const [low, high] = viewer.range(viewer.section.axis);
    viewer.setSection({ level: low + (Number(level.value) / 1000) * (high - low) });
    tell();
  });
  refresh();

  byId('apart').addEventListener('input', (e) => viewer.pullApart(Number(e.target.value) / 100));
  for (const button of document.querySelectorAll('[data-look]'))
    button.addEventListener('click', () => viewer.look(button.dataset.look));

  // keyboard on the canvas
  const keys = {
    ArrowLeft: () => viewer.turn(-0.12, 0),
    ArrowRight: () => viewer.turn(0.12, 0),
    ArrowUp: () => viewer.turn(0, 0.12),
    ArrowDown: () => viewer.turn(0, -0.12),
    '+': () => viewer.nearer(0.88),
    '=': () => viewer.nearer(0.88),
    '-': () => viewer.nearer(1.14),
    0: () => viewer.look('corner'),
  };
  viewer.canvas.addEventListener('keydown', (e) => {
    const act = keys[e.key];
    if (!act || e.ctrlKey || e.metaKey || e.altKey) return;
    e.preventDefault();
    act();
  });

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
      const part = scene.parts[hit.index];
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
    const hit = viewer.at(e.clientX, e.clientY);
    if (!hit) return;
    viewer.mark(from ? [from, hit.point] : [hit.point]);
    measured.textContent = from ? `${shown(from.distanceTo(hit.point))} in a straight line` : 'and the second';
    from = from ? null : hit.point;
  });

  // on paper a still of the view stands in where no drawing was made
  const still = byId('still');
  if (still)
    window.addEventListener('beforeprint', () => {
      viewer.setLook('paper');
      viewer.drawNow();
      still.src = viewer.canvas.toDataURL('image/png');
      viewer.setLook(theme());
    });
}

// The script is unpacked when the document stands.
{
  const data = byId('scene');
  let viewer = null;
  if (data) {
    const scene = JSON.parse(data.textContent);
    try {
      document.body.classList.remove('viewless');
      viewer = new Viewer(byId('view'), scene);
      start(viewer, scene);
    } catch (error) {
      console.warn(error);
      document.body.classList.add('viewless');
    }
  }
  startTheme((name) => viewer && viewer.setLook(name));
  for (const button of document.querySelectorAll('[data-print]')) button.addEventListener('click', () => window.print());
  const ordinates = byId('with-ordinates');
  const print = () => document.body.classList.toggle('with-ordinates', ordinates.checked);
  ordinates.addEventListener('change', print);
  print();
}
