// The script of every page with a 3D view; the page says in its body which it is.
import { controls } from './controls.mjs';
import * as fitting from './fitting.mjs';
import { unpacked } from './packed.mjs';
import * as run from './run.mjs';
import { startTheme } from './theme.mjs';
import { Viewer } from './viewer.mjs';

// It is unpacked when the document stands.
const page = { fitting, run }[document.body.dataset.page];
let viewer = null;
async function show() {
  try {
    const scene = JSON.parse(await unpacked('scene'));
    const shown = (mm) => `${+(mm / scene.unit.mm).toFixed(scene.unit.decimals)} ${scene.unit.name}`;
    document.body.classList.remove('viewless');
    viewer = new Viewer(document.getElementById('view'), scene);
    controls(viewer, shown, () => page.home(viewer));
    page.start(viewer, scene, shown);
  } catch (error) {
    console.warn(error);
    document.body.classList.add('viewless');
  }
  document.body.dataset.unpacked = 'yes';
}
if (document.getElementById('scene')) show();
startTheme((name) => viewer && viewer.setLook(name));
for (const button of document.querySelectorAll('[data-print]')) button.addEventListener('click', () => window.print());
page.open();
