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

// Files are [path, text]; the same files give the same bytes.
export function zipped(files) {
  const tree = {};
  for (const [path, text] of files) tree[path] = [strToU8(text), { mtime: '1980-01-01T12:00:00' }];
  return zipSync(tree, { level: 6 });
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
