// The script of every page with a 3D view; the page says in its body which it is.
import { controls } from './controls.mjs';
import * as fitting from './fitting.mjs';
import * as run from './run.mjs';
import { startTheme } from './theme.mjs';
import { Viewer } from './viewer.mjs';

// It is unpacked when the document stands.
const page = { fitting, run }[document.body.dataset.page];
const data = document.getElementById('scene');
let viewer = null;
if (data) {
  const scene = JSON.parse(data.textContent);
  const shown = (mm) => `${+(mm / scene.unit.mm).toFixed(scene.unit.decimals)} ${scene.unit.name}`;
  try {
    document.body.classList.remove('viewless');
    viewer = new Viewer(document.getElementById('view'), scene);
    controls(viewer, shown, () => page.home(viewer));
    page.start(viewer, scene, shown);
  } catch (error) {
    console.warn(error);
    document.body.classList.add('viewless');
  }
}
startTheme((name) => viewer && viewer.setLook(name));
for (const button of document.querySelectorAll('[data-print]')) button.addEventListener('click', () => window.print());
page.open();
