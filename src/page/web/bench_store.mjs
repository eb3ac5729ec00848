// The job in the browser's own store, under an id of its own: pages opened from disk may all share one store. Each entry is
// {files: [{name, text}], stamp}; the address holds the id, so that a tab that is closed and opened again finds its job.
const BEFORE = 'linerwright-bench:';

function store() {
  try {
    return window.localStorage;
  } catch {
    return null; // some browsers keep nothing for pages opened from disk
  }
}

const newId = () => Array.from(crypto.getRandomValues(new Uint8Array(6)), (b) => b.toString(16).padStart(2, '0')).join('');

export class Kept {
  constructor(told) {
    this.id = /^#job=([0-9a-f]{12})$/.exec(location.hash)?.[1] ?? null;
    this.stamp = 0;
    window.addEventListener('storage', (e) => {
      if (e.key === BEFORE + this.id && e.newValue !== null && this.entry(this.id)?.stamp !== this.stamp) told();
    });
  }

  entry(id) {
    try {
      const entry = JSON.parse(store().getItem(BEFORE + id));
      if (typeof entry.text === 'string') entry.files = [{ name: entry.name, text: entry.text }]; // as earlier pages kept it
      const whole = entry.files.length > 0 && entry.files.every((file) => typeof file.name === 'string' && typeof file.text === 'string');
      return whole && Number.isFinite(entry.stamp) ? entry : null;
    } catch {
      return null;
    }
  }

  ids() {
    const all = [];
    for (let i = 0; i < (store()?.length ?? 0); i++) {
      const key = store().key(i);
      if (key.startsWith(BEFORE)) all.push(key.slice(BEFORE.length));
    }
    return all;
  }

  // The job of the address, or the one changed last; null without any.
  found() {
    if (this.id === null) {
      const latest = this.ids().map((id) => [this.entry(id)?.stamp ?? 0, id]).sort((a, b) => b[0] - a[0])[0];
      if (latest && latest[0] > 0) this.take(latest[1]);
    }
    const entry = this.id === null ? null : this.entry(this.id);
    if (entry) this.stamp = entry.stamp;
    return entry;
  }

  take(id = newId()) {
    this.id = id;
    this.stamp = 0;
    history.replaceState(null, '', `#job=${id}`);
  }

  // False where another tab has changed the job since, or nothing can be kept.
  keep(files) {
    if (this.id === null) this.take();
    const there = this.entry(this.id);
    if (there && there.stamp !== this.stamp) return false;
    this.stamp = Math.max(Date.now(), this.stamp + 1);
    try {
      store().setItem(BEFORE + this.id, JSON.stringify({ files, stamp: this.stamp }));
      return true;
    } catch {
      return true; // full or forbidden: the job then lasts as long as the page is open
    }
  }

  forget(all) {
    for (const id of all ? this.ids() : [this.id]) store()?.removeItem(BEFORE + id);
    this.take();
  }
}
