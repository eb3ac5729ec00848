// Files in and out.
import { strToU8, zipSync } from 'fflate';

// A job's files as the engine takes and gives them, the job file first.
export const filesOf = (job) => [{ name: job.name, text: job.text }, ...job.schedules];

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

export async function bytesOfFile(file) {
  if (file.size > LARGEST) throw new Error(`${file.name}: is larger than ${LARGEST >> 20} MB, no job file is`);
  return new Uint8Array(await file.arrayBuffer());
}

// The text of a file, told why where it has none.
export async function textOf(file) {
  const bytes = await bytesOfFile(file);
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new Error(`${file.name}: is not UTF-8 text`);
  }
}

// A sheet's text, whatever it was saved in, as a person's eye would read it.
export async function sheetTextOf(file) {
  const bytes = await bytesOfFile(file);
  if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff))
    return new TextDecoder(bytes[0] === 0xff ? 'utf-16le' : 'utf-16be').decode(bytes);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new Error(`${file.name}: is not UTF-8 text; save it as UTF-8`);
  }
}

// The job files and schedules among what was chosen or dropped: {name, file} with names as in their folder.
export const isOfJob = (name) => /\.(toml|csv)$/i.test(name);

export async function chosen(files) {
  const all = [...files].map((file) => ({ name: file.webkitRelativePath || file.name, file }));
  if (all.length > 1 && all.every(({ name }) => name.includes('/')))
    for (const one of all) one.name = one.name.slice(one.name.indexOf('/') + 1);
  return all;
}

// The same of a drop, in which there may be folders.
export async function dropped(transfer) {
  const entries = [...transfer.items].map((item) => item.webkitGetAsEntry?.()).filter(Boolean);
  if (!entries.some((entry) => entry.isDirectory)) return chosen(transfer.files);
  const all = [];
  const walk = async (entry, path) => {
    if (all.length > 1000) return;
    if (entry.isFile) {
      if (isOfJob(entry.name)) all.push({ name: path + entry.name, file: await new Promise((done, failed) => entry.file(done, failed)) });
      return;
    }
    const reader = entry.createReader();
    for (;;) {
      const some = await new Promise((done, failed) => reader.readEntries(done, failed));
      if (some.length === 0) return;
      for (const one of some) await walk(one, entries.length === 1 && path === '' && entry === entries[0] ? '' : `${path}${entry.name}/`);
    }
  };
  for (const entry of entries) await walk(entry, '');
  return all;
}
