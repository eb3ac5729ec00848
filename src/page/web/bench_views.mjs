// What the chosen fitting looks like: 3D, patterns, bore, pieces, figures. Texts come from the engine as HTML in which all that
// people wrote is escaped; the page's own rules let no script in it run.
import { controls } from './controls.mjs';
import { layers as startLayers, start as startFitting } from './fitting.mjs';
import { theme } from './theme.mjs';
import { Viewer } from './viewer.mjs';

const VIEWS = [['solids', '3D'], ['patterns', 'Patterns'], ['bore', 'Bore'], ['pieces', 'Pieces and steps'], ['facts', 'Figures']];
const byId = (id) => document.getElementById(id);

export class Views {
  constructor(wantScene) {
    this.wantScene = wantScene;
    this.shown = 'solids';
    this.live = null;
    this.viewer = null;
    this.boxes = {};
    for (const [name, title] of VIEWS) {
      const button = document.createElement('button');
      button.type = 'button';
      button.textContent = title;
      button.addEventListener('click', () => this.show(name));
      byId('views').append(button);
      const box = document.createElement('div');
      box.id = `view-${name}`;
      byId('views-shown').append(box);
      this.boxes[name] = { button, box };
    }
    byId('view-solids').append(byId('model-view').content.cloneNode(true));
    this.show('solids');
  }

  show(name) {
    this.shown = name;
    for (const [each, { button, box }] of Object.entries(this.boxes)) {
      button.setAttribute('aria-pressed', String(each === name));
      box.hidden = each !== name;
    }
    if (name === 'solids' && this.live) this.wantScene();
    else this.fill();
  }

  clear(problems) {
    this.live = null;
    if (problems.length > 0 || !byId('fields').firstChild) this.sketch('');
    byId('refused').hidden = problems.length === 0;
    byId('refused').textContent = problems.join('\n');
    byId('notes').hidden = true;
    byId('figures').replaceChildren();
    for (const name of ['patterns', 'bore', 'pieces', 'facts']) this.boxes[name].box.replaceChildren();
    byId('view-solids').inert = true;
  }

  set(live) {
    this.clear([]);
    this.live = live;
    byId('figures').innerHTML = live.figures;
    byId('notes').innerHTML = live.warnings;
    byId('notes').hidden = live.warnings === '';
    byId('view-solids').inert = false;
    this.fill();
  }

  // Only what is looked at is filled in.
  fill() {
    if (!this.live || this.shown === 'solids') return;
    const { box } = this.boxes[this.shown];
    if (box.childElementCount > 0) return;
    const html = { patterns: 'patterns', bore: 'bore', facts: 'facts' }[this.shown];
    box.innerHTML = html ? this.live[html] : `${this.live.pieces}<h3>How it goes in</h3>${this.live.steps}`;
    box.className = this.shown === 'patterns' ? 'patterns' : '';
  }

  scene({ boxes, scene }) {
    const data = JSON.parse(scene);
    if (data.parts.length === 0) return;
    this.unit = data.unit;
    const shown = (mm) => `${+(mm / this.unit.mm).toFixed(this.unit.decimals)} ${this.unit.name}`;
    try {
      document.body.classList.remove('viewless');
      const box = document.querySelector('#view-solids .layers');
      const titles = [...box.querySelectorAll('label')].map((label) => label.textContent).join();
      const hidden = [...box.querySelectorAll('input')].filter((part) => !part.checked).map((part) => part.dataset.part);
      box.innerHTML = boxes;
      if (titles === [...box.querySelectorAll('label')].map((label) => label.textContent).join())
        for (const part of box.querySelectorAll('input')) part.checked = !hidden.includes(part.dataset.part);
      if (this.viewer === null) {
        this.viewer = new Viewer(byId('view'), data);
        controls(this.viewer, shown, () => this.viewer.look('corner'));
        startFitting(this.viewer, data, shown);
      } else {
        this.viewer.load(data);
        startLayers(this.viewer);
      }
      this.viewer.setLook(theme());
    } catch (error) {
      console.warn(error);
      document.body.classList.add('viewless');
    }
  }

  // SVG of the engine's own making.
  sketch(svg) {
    byId('sketch').innerHTML = svg;
  }

  look(name) {
    if (this.viewer) this.viewer.setLook(name);
  }
}
