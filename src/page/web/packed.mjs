// What a page carries packed: the text of an element as gzip's bytes in digits of base 85, a third of its size.
export const unpacked = async (id) => (await opened(id)).text();

// The same as a response, for bytes.
export async function opened(id) {
  const packed = fromBase85(document.getElementById(id).textContent);
  return new Response(new Blob([packed]).stream().pipeThrough(new DecompressionStream('gzip')));
}

const DIGITS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz!#%()*+,-.:;=?@[]^_{|}~';

// Five digits are four bytes, the highest first; at the end one digit more than bytes.
export function fromBase85(text) {
  const value = new Uint8Array(128);
  for (let i = 0; i < DIGITS.length; i += 1) value[DIGITS.charCodeAt(i)] = i;
  const bytes = new Uint8Array(Math.floor((text.length * 4) / 5));
  for (let from = 0, to = 0; from < text.length; from += 5) {
    let group = 0;
    for (let i = from; i < from + 5; i += 1) group = group * 85 + (i < text.length ? value[text.charCodeAt(i)] : 84);
    for (let shift = 24; shift >= 0 && to < bytes.length; shift -= 8) bytes[to++] = group >>> shift;
  }
  return bytes;
}
