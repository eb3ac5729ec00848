// The bench: a job as a table, one of its fittings as a form, and what it looks like. The job is its text; everything else is
// asked of the engine.
import { hand, textOf } from './bench_files.mjs';
import { Form } from './bench_form.mjs';
import { Grid } from './bench_grid.mjs';
import { engines } from './bench_engine.mjs';
import { Make } from './bench_make.mjs';
import { Kept } from './bench_store.mjs';
import { Views } from './bench_views.mjs';
import { startTheme } from './theme.mjs';

const byId = (id) => document.getElementById(id);
const NEW_JOB = '[job]\nname = "New job"\nunits = "in"\n\n[liner]\nthickness = "1in"\n';
const words = (name) => name.replace(/[_.]/g, ' ');

class Bench {
  constructor(home, engine, schema) {
    this.engine = engine;
    this.schema = schema;
    this.kinds = new Map(schema.kinds.map((kind) => [kind.kind, kind]));
    this.job = null;
    this.chosen = null;
    this.past = []; // texts to go back to
    this.future = [];
    this.typing = null; // row and key of the last change: a word that is typed is one step back
    this.line = Promise.resolve(); // one change after the other
    this.asked = 0;
    this.grid = new Grid(byId('grid'), { change: (cells) => this.cells(cells), choose: (row) => this.choose(row) });
    this.form = new Form(byId('fields'), { change: (key, value) => this.cells([{ row: this.chosen, column: key, value }], true) });
    this.views = new Views(() => this.askScene());
    this.make = new Make(home, () => this.job, (text, bad) => this.tell(text, bad));
    this.kept = new Kept(() => (byId('other-tab').hidden = false));
    this.wire();
  }

  tell(text, bad = false) {
    byId('told').textContent = text;
    byId('told').classList.toggle('bad', bad);
  }

  wire() {
    const on = (id, act) => byId(id).addEventListener('click', act);
    byId('add-kind').append(...this.schema.kinds.map((kind) => new Option(kind.kind, kind.kind)));
    on('new-job', () => this.start(NEW_JOB, 'job.toml', true));
    on('open-job', () => byId('pick').click());
    byId('pick').addEventListener('change', (e) => e.target.files[0] && this.open(e.target.files[0]));
    on('save-job', () => this.job && hand(this.job.name, this.job.text, 'application/toml'));
    on('undo', () => this.back(this.past, this.future));
    on('redo', () => this.back(this.future, this.past));
    on('add', () => this.add(byId('add-kind').value));
    on('copy', () => this.chosen !== null &&
      this.change([{ do: 'copy', fitting: this.chosen, tag: this.freeTag(this.cellsOf(this.chosen).tag ?? 'F-1') }]));
    on('remove', () => this.chosen !== null && this.change([{ do: 'remove', fitting: this.chosen }]));
    byId('only').addEventListener('input', (e) => this.grid.filter(e.target.value));
    on('forget', () => this.forget(false));
    on('forget-all', () => this.forget(true));
    on('take-theirs', () => {
      byId('other-tab').hidden = true;
      const entry = this.kept.found();
      if (entry) this.start(entry.text, entry.name, false);
    });
    on('keep-mine', () => {
      byId('other-tab').hidden = true;
      this.kept.take();
      this.keep();
    });
    document.addEventListener('keydown', (e) => {
      if (!(e.ctrlKey || e.metaKey) || e.altKey) return;
      const key = e.key.toLowerCase();
      const typed = document.activeElement?.closest?.('input[type=search], td input');
      if (key === 'z' && !typed) this.back(...(e.shiftKey ? [this.future, this.past] : [this.past, this.future]));
      else if (key === 'y' && !typed) this.back(this.future, this.past);
      else if (key === 's') this.job && hand(this.job.name, this.job.text, 'application/toml');
      else return;
      e.preventDefault();
    });
    document.addEventListener('dragover', (e) => e.preventDefault());
    document.addEventListener('drop', (e) => {
      e.preventDefault();
      if (e.dataTransfer.files[0]) this.open(e.dataTransfer.files[0]);
    });
  }

  // ---- the job's text

  async open(file) {
    byId('pick').value = '';
    try {
      await this.start(await textOf(file), file.name, true);
    } catch (error) {
      this.tell(error.message, true);
    }
  }

  // Another job in the place of this one; `own` gives it an id of its own in the browser's store.
  start(text, name, own) {
    return this.next(async () => {
      const job = await this.engine.ask({ ask: 'open', text, name });
      if (job.failed) {
        if (this.job) await this.engine.ask({ ask: 'open', text: this.job.text, name: this.job.name });
        return this.tell(job.failed.join(' \u2022 '), true);
      }
      if (own) this.kept.take();
      this.past = [];
      this.future = [];
      this.take(job);
      this.tell(`${job.name}: ${job.rows.length} ${job.rows.length === 1 ? 'fitting' : 'fittings'}`);
      this.grid.mark({ row: 0, column: 0 });
    });
  }

  // What is asked of the job comes one after the other.
  next(work) {
    this.line = this.line.then(work).catch((error) => this.tell(error.message, true));
    return this.line;
  }

  // `changes`, or what gives them once all that was asked before is done.
  change(changes, typing = null) {
    return this.next(async () => {
      const before = this.job.text;
      const job = await this.engine.ask({ ask: 'change', changes: typeof changes === 'function' ? changes() : changes });
      if (job.failed) return this.tell(job.failed.join(' \u2022 '), true);
      if (job.text === before) return;
      if (typing === null || typing !== this.typing) this.past.push(before);
      this.typing = typing;
      this.future = [];
      this.tell('');
      this.take(job);
    });
  }

  back(from, to) {
    return this.next(async () => {
      if (from.length === 0) return;
      const text = from.pop();
      to.push(this.job.text);
      this.typing = null;
      this.take(await this.engine.ask({ ask: 'open', text, name: this.job.name }));
    });
  }

  take(job) {
    this.job = job;
    this.keep();
    this.drawJob();
    this.make.compare(job.text);
    this.askFitting();
  }

  keep() {
    if (!this.kept.keep(this.job.text, this.job.name)) byId('other-tab').hidden = false;
    byId('kept-as').textContent = `Kept here as ${this.kept.id}.`;
  }

  forget(all) {
    this.kept.forget(all);
    byId('kept-as').textContent = 'Nothing is kept here until the next change.';
  }

  // ---- fittings

  cellsOf(row) {
    return this.job.rows[row]?.cells ?? {};
  }

  keysOf(kind) {
    return this.kinds.get(kind)?.keys ?? [];
  }

  freeTag(like) {
    const tags = new Set(this.job.rows.map((row) => row.cells.tag));
    const [, stem, number] = /^(.*?)(\d*)$/.exec(like);
    let next = number === '' ? 2 : Number(number);
    while (tags.has(stem + next)) next++;
    return stem + next;
  }

  // A fitting that can be made at once: what is needed has the sample's sizes.
  add(kind) {
    const values = { tag: this.freeTag(`${kind[0].toUpperCase()}-1`), kind };
    for (const key of this.keysOf(kind)) if (key.needed || (key.sample && key.default === undefined)) values[key.name] = key.sample ?? '';
    this.change([{ do: 'add', values }]).then(() => this.grid.go(this.job.rows.length - 1));
  }

  // Cells written in the table or the form; rows behind the last become fittings.
  cells(cells, typing = false) {
    return this.change(() => this.changesOf(cells), typing ? `${cells[0].row} ${cells[0].column}` : null);
  }

  changesOf(cells) {
    const changes = [];
    const fresh = new Map();
    for (const { row, column, value } of cells) {
      if (column === 'state') continue;
      if (row < this.job.rows.length) changes.push({ do: 'set', fitting: row, key: column, value });
      else fresh.set(row, { ...fresh.get(row), [column]: value });
    }
    let kind = this.cellsOf(this.job.rows.length - 1).kind ?? 'elbow';
    const taken = new Set();
    for (const values of fresh.values()) {
      kind = values.kind || kind;
      let tag = values.tag || this.freeTag(`${kind[0].toUpperCase()}-1`);
      while (!values.tag && taken.has(tag)) tag = tag.replace(/\d+$/, (n) => Number(n) + 1);
      taken.add(tag);
      changes.push({ do: 'add', values: { ...values, tag, kind } });
    }
    return changes;
  }

  choose(row) {
    if (row === this.chosen) return;
    this.chosen = row;
    this.typing = null;
    this.askFitting();
  }

  // ---- what is shown

  columns() {
    const written = new Set(this.job.rows.flatMap((row) => Object.keys(row.cells)));
    const columns = new Map([
      ['tag', { help: 'what the fitting is called on its pieces' }],
      ['kind', { help: 'kind of fitting', choices: [...this.kinds.keys()] }],
      ['count', { help: 'how many are made' }]]);
    const used = new Set(this.job.rows.map((row) => row.cells.kind));
    for (const kind of this.kinds.values())
      for (const key of used.has(kind.kind) ? kind.keys : [])
        if (key.needed || written.has(key.name)) columns.set(key.name, { ...columns.get(key.name), ...key });
    for (const key of this.schema.liner) if (written.has(key.name)) columns.set(key.name, key);
    for (const name of written) if (!columns.has(name)) columns.set(name, { help: 'no key that is known' });
    columns.set('state', { help: 'whether it can be made', fixed: true });
    return [...columns].map(([name, key]) => ({ ...key, name, title: words(name), help: key.help }));
  }

  wrongIn(row, extra = []) {
    const wrong = {};
    for (const problem of [...this.job.problems, ...extra])
      if (problem.row === row && problem.key) wrong[problem.key] = wrong[problem.key] ?? problem.text;
    return wrong;
  }

  drawJob() {
    const { job } = this;
    byId('job-name').textContent = job.name;
    byId('undo').disabled = this.past.length === 0;
    byId('redo').disabled = this.future.length === 0;
    const columns = this.columns();
    const everywhere = new Set(['tag', 'kind', 'count', 'state', ...this.schema.liner.map((key) => key.name)]);
    const rows = job.rows.map(({ cells, can }, i) => {
      const keys = new Set(this.keysOf(cells.kind).map((key) => key.name));
      return {
        cells: { ...cells, state: can ? 'to be made' : 'not yet' },
        not: columns.map((c) => c.name).filter((name) => !everywhere.has(name) && !keys.has(name) && !(name in cells)),
        wrong: this.wrongIn(i),
      };
    });
    this.grid.set(columns, rows);
    byId('faults').replaceChildren(...job.problems.map((problem) => {
      const item = document.createElement('li');
      const text = document.createElement(problem.row >= 0 ? 'button' : 'span');
      if (problem.row >= 0) {
        text.type = 'button';
        text.addEventListener('click', () => this.grid.go(problem.row));
      }
      text.textContent = problem.text;
      item.append(text);
      return item;
    }));
  }

  drawForm(extra = []) {
    const row = this.job.rows[this.chosen];
    byId('one-title').textContent = row ? row.cells.tag ?? 'without a tag' : 'No fitting chosen';
    byId('one-what').textContent = row ? this.kinds.get(row.cells.kind)?.summary ?? '' : 'Choose a row of the table, or write into the last one.';
    if (!row) return this.form.clear();
    const kind = this.keysOf(row.cells.kind);
    const first = kind.filter((key) => key.needed);
    const rest = kind.filter((key) => !key.needed);
    this.form.set([['Sizes', first], ['More of this kind', rest], ['Liner, instead of the job\u2019s', this.schema.liner]],
      row.cells, this.wrongIn(this.chosen, extra), this.job.units ?? 'mm');
  }

  async askFitting() {
    const asked = ++this.asked;
    const row = this.chosen;
    if (!this.job) return;
    if (row === null || row >= this.job.rows.length) {
      this.drawForm();
      return this.views.clear([]);
    }
    const began = performance.now();
    const answer = await this.engine.ask({ ask: 'fitting', fitting: row });
    if (asked !== this.asked) return; // another one is on its way
    if (answer.failed) return this.views.clear(answer.failed);
    this.drawForm(answer.problems);
    if (answer.live) this.views.set(answer.live);
    else this.views.clear(answer.problems.map((problem) => problem.text));
    document.body.dataset.took = String(Math.round(performance.now() - began));
  }

  async askScene() {
    const asked = this.asked;
    const answer = await this.engine.ask({ ask: 'scene', fitting: this.chosen });
    if (asked === this.asked && !answer.failed) this.views.scene(answer);
  }
}

export async function open() {
  const told = byId('told');
  try {
    const home = await engines();
    const engine = home.start();
    const schema = await engine.ask({ ask: 'schema' });
    if (schema.failed) throw new Error(schema.failed.join(' '));
    const bench = new Bench(home, engine, schema);
    startTheme((name) => bench.views.look(name));
    const entry = bench.kept.found();
    await bench.start(entry?.text ?? NEW_JOB, entry?.name ?? 'job.toml', false);
    document.body.classList.remove('waiting');
    window.bench = bench;
  } catch (error) {
    told.textContent = `The bench does not run here: ${error.message}`;
    told.classList.add('bad');
  }
}

open();
