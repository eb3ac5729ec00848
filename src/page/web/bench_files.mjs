// Files in and out.
import { strToU8, zipSync } from 'fflate';

export const LARGEST = 8 << 20; // bytes of a job; the engine refuses more

export function hand(name, bytes, type) {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([bytes], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
}

export const fromBase64 = (text) => Uint8Array.from(atob(text), (c) => c.charCodeAt(0));

const bytesOf = (content) => (typeof content === 'string' ? strToU8(content) : content);

// Files are [path, text or bytes]; the same files give the same bytes.
export function zipped(files) {
  const tree = {};
  for (const [path, content] of files) tree[path] = [bytesOf(content), { mtime: '1980-01-01T12:00:00' }];
  return zipSync(tree, { level: 6 });
}

// Into a folder that the person chose; folders below it are made.
export async function writeInto(folder, files, told) {
  let done = 0;
  for (const [path, content] of files) {
    const steps = path.split('/');
    let into = folder;
    for (const step of steps.slice(0, -1)) into = await into.getDirectoryHandle(step, { create: true });
    const file = await into.getFileHandle(steps[steps.length - 1], { create: true });
    const stream = await file.createWritable();
    await stream.write(bytesOf(content));
    await stream.close(); // only now does the file change
    told(++done / files.length);
  }
}

// The text of a file, told why where it has none.
export async function textOf(file) {
  if (file.size > LARGEST) throw new Error(`${file.name}: is larger than ${LARGEST >> 20} MB, no job file is`);
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(await file.arrayBuffer());
  } catch {
    throw new Error(`${file.name}: is not UTF-8 text`);
  }
}
