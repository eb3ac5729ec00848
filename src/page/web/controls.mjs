// What every 3D view has beside it: where it is cut open, and where it is looked at from.
const byId = (id) => document.getElementById(id);

// `shown` writes millimetres in the page's unit; `home` is what the key 0 does.
export function controls(viewer, shown, home) {
  const level = byId('section-level');
  const tell = () => {
    const { axis, level: at, on } = viewer.section;
    const text = on ? `at ${'xyz'[axis]} = ${shown(at)}` : 'closed';
    byId('section-value').textContent = text;
    level.setAttribute('aria-valuetext', text);
  };
  const refresh = () => {
    const { axis, on } = viewer.section;
    const [low, high] = viewer.range(axis);
    level.disabled = !on;
    level.value = String((1000 * (viewer.section.level - low)) / (high - low));
    tell();
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
  viewer.setSection({ on: byId('section-on').checked });
  refresh();
  for (const button of document.querySelectorAll('[data-look]'))
    button.addEventListener('click', () => viewer.look(button.dataset.look));

  const keys = {
    ArrowLeft: () => viewer.turn(-0.12, 0),
    ArrowRight: () => viewer.turn(0.12, 0),
    ArrowUp: () => viewer.turn(0, 0.12),
    ArrowDown: () => viewer.turn(0, -0.12),
    '+': () => viewer.nearer(0.88),
    '=': () => viewer.nearer(0.88),
    '-': () => viewer.nearer(1.14),
    0: home,
  };
  viewer.canvas.addEventListener('keydown', (e) => {
    const act = keys[e.key];
    if (!act || e.ctrlKey || e.metaKey || e.altKey) return;
    e.preventDefault();
    act();
  });
}
