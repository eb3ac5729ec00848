// Carried in every page that draws: sets the theme at once, then unpacks the page's script, which stands in the page as base64
// of gzip, a third of its size. Needs DecompressionStream: Chromium 80, Firefox 113, Safari 16.4 or later; where a browser has
// none, the page stays readable without its view.
import './theme.mjs';

document.addEventListener('DOMContentLoaded', async () => {
  try {
    const text = document.getElementById('packed').textContent;
    const packed = Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
    const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream('gzip'));
    const script = document.createElement('script');
    script.textContent = await new Response(stream).text();
    document.head.append(script);
  } catch (error) {
    console.warn(error);
  }
});
