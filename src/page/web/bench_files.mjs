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

// What lies in a folder, in either of the ways that browsers tell it: Chromium has the older one for pages from a server alone.
async function* inHandle(handle) {
  for await (const one of handle.values()) yield one;
}
async function* inEntry(entry) {
  const reader = entry.createReader();
  for (;;) {
    const some = await new Promise((done, failed) => reader.readEntries(done, failed));
    if (some.length === 0) return;
    yield* some;
  }
}
const WAYS = {
  handle: { isFolder: (one) => one.kind === 'directory', fileOf: (one) => one.getFile(), within: inHandle },
  entry: { isFolder: (one) => one.isDirectory, fileOf: (one) => new Promise((done, failed) => one.file(done, failed)), within: inEntry },
};

// The same of a drop, in which there may be folders. One folder alone gives its files' names as they are within it.
export async function dropped(transfer) {
  // all of it is asked before the drop is over
  const items = [...transfer.items].filter((item) => item.kind === 'file');
  const files = chosen(transfer.files);
  const entries = items.map((item) => item.webkitGetAsEntry?.()).filter(Boolean);
  const handles = items.map((item) => item.getAsFileSystemHandle?.()).filter(Boolean);
  if (!entries.some(WAYS.entry.isFolder)) return files;
  const told = handles.length === items.length ? (await Promise.all(handles)).filter(Boolean) : [];
  const [way, first] = told.length === items.length ? [WAYS.handle, told] : [WAYS.entry, entries];
  const all = [];
  const walk = async (one, path) => {
    if (all.length > 1000) return;
    if (!way.isFolder(one)) {
      if (isOfJob(one.name)) all.push({ name: path + one.name, file: await way.fileOf(one) });
      return;
    }
    for await (const inside of way.within(one)) await walk(inside, first.length === 1 && one === first[0] ? '' : `${path}${one.name}/`);
  };
  for (const one of first) await walk(one, '');
  return all;
}
