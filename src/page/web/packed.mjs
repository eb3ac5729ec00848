// What a page carries packed: the text of an element as base64 of gzip, a third of its size.
export const unpacked = async (id) => (await opened(id)).text();

// The same as a response, for bytes.
export async function opened(id) {
  const packed = Uint8Array.from(atob(document.getElementById(id).textContent), (c) => c.charCodeAt(0));
  return new Response(new Blob([packed]).stream().pipeThrough(new DecompressionStream('gzip')));
}
