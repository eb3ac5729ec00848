// Carried in every page that draws: sets the theme at once, then unpacks the page's drawings, whose
// HTML is the program's own, and its script. Needs DecompressionStream:
// Chromium 80, Firefox 113, Safari 16.4 or later; where a browser has none, the page stays readable without its view. A page
// that shares its script with others loads it itself.
import { unpacked } from './packed.mjs';
import './theme.mjs';

document.addEventListener('DOMContentLoaded', async () => {
  try {
    if (document.getElementById('drawn')) {
      const parts = JSON.parse(await unpacked('drawn'));
      document.querySelectorAll('[data-packed]').forEach((place, i) => (place.innerHTML = parts[i]));
      document.documentElement.classList.add('drawn');
    }
    if (!document.getElementById('packed')) return;
    const script = document.createElement('script');
    script.textContent = await unpacked('packed');
    document.head.append(script);
  } catch (error) {
    console.warn(error);
  }
});
