// What a page carries packed: the text of an element as base64 of gzip, a third of its size.
export async function unpacked(id) {
  const packed = Uint8Array.from(atob(document.getElementById(id).textContent), (c) => c.charCodeAt(0));
  return new Response(new Blob([packed]).stream().pipeThrough(new DecompressionStream('gzip'))).text();
}
