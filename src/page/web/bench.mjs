// The bench: a job as a table, one of its fittings as a form, and what it looks like. The job is its text; everything else is
// asked of the engine.
import { bytesOfFile, chosen, dropped, filesOf, hand, isOfJob, sheetTextOf, textOf, writeInto, zipped } from './bench_files.mjs';
import { Form } from './bench_form.mjs';
import { Grid } from './bench_grid.mjs';
import { engines } from './bench_engine.mjs';
import { Make } from './bench_make.mjs';
import { Numbers } from './bench_numbers.mjs';
import { Settings } from './bench_settings.mjs';
import { SheetIn } from './bench_sheet.mjs';
import { Kept } from './bench_store.mjs';
import { Views } from './bench_views.mjs';
import { cellsOfWorkbook } from './bench_workbook.mjs';
import { startTheme } from './theme.mjs';

const byId = (id) => document.getElementById(id);
const NEW_JOB = '[job]\nname = "New job"\nunits = "in"\n\n[liner]\nthickness = "1in"\n';
const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
const words = (name) => name.replace(/[_.]/g, ' ');

class Bench {
  constructor(home, engine, schema) {
    this.engine = engine;
    this.schema = schema;
    this.kinds = new Map(schema.kinds.map((kind) => [kind.kind, kind]));
    this.job = null;
    this.chosen = null;
    this.past = []; // files to go back to
    this.numbers = new Numbers();
    this.future = [];
    this.typing = null; // row and key of the last change: a word that is typed is one step back
    this.line = Promise.resolve(); // one change after the other
    this.asked = 0; // states of what is to be shown
    this.seen = 0;
    this.looking = false;
    this.inHand = null;
    this.grid = new Grid(byId('grid'), { change: (cells) => this.cells(cells), choose: (row) => this.choose(row),
      foreign: (text) => this.sheetIn.show({ name: 'pasted cells', text }).catch((error) => this.tell(error.message, true)) });
    this.form = new Form(byId('fields'), {
      change: (key, value) => this.cells([{ row: this.chosen, column: key, value }], true),
      focused: (key) => this.askSketch(key),
    });
    this.settings = new Settings(byId('settings'), schema, {
      change: (changes, typing = null) => this.change(changes, typing),
      asJob: () => this.start(filesOf(this.job), true, true),
    }, this.numbers);
    this.sheetIn = new SheetIn(schema, {
      ask: (question) => this.engine.ask(question),
      add: (rows) => this.change(() => rows.map((values) => ({ do: 'add', values: { ...values, tag: this.freeTag(values.tag, true) } }))),
      open: (text, name) => this.start([{ name, text }], true),
    });
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
    byId('add-kind').append(...this.schema.kinds.map((kind) => new Option(kind.kind.replaceAll('_', ' '), kind.kind)));
    on('new-job', () => this.start([{ name: 'job.toml', text: NEW_JOB }], true));
    on('open-job', () => byId('pick').click());
    on('open-folder', () => byId('pick-folder').click());
    for (const id of ['pick', 'pick-folder'])
      byId(id).addEventListener('change', async (e) => {
        const files = await chosen(e.target.files);
        e.target.value = '';
        this.openAll(id === 'pick' ? files : files.filter(({ name }) => isOfJob(name)));
      });
    on('save-job', () => this.save());
    byId('decimal').value = this.numbers.comma ? 'comma' : 'point';
    byId('decimal').addEventListener('change', (e) => {
      this.numbers.set(e.target.value === 'comma');
      this.drawJob();
      this.drawForm();
    });
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
      if (entry) this.start(entry.files, false);
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
      else if (key === 's') this.save();
      else return;
      e.preventDefault();
    });
    document.addEventListener('dragover', (e) => e.preventDefault());
    document.addEventListener('drop', (e) => {
      e.preventDefault();
      if (!e.dataTransfer.types.includes('Files')) return;
      dropped(e.dataTransfer).then((files) => this.openAll(files)).catch((error) => this.tell(error.message, true));
    });
  }

  // ---- the job's text

  open(file) {
    return this.openAll([{ name: file.name, file }]);
  }

  // A job file with the schedules it names, a schedule, or a sheet with heads of its own.
  async openAll(all) {
    try {
      if (all.length === 0) throw new Error('There is no job file and no schedule in it.');
      const [{ name, file }] = all;
      if (all.length === 1 && /\.(xlsx|xlsm)$/i.test(name))
        return await this.sheetIn.show({ name, rows: cellsOfWorkbook(await bytesOfFile(file), name) });
      if (all.length === 1 && /\.(tsv|tab|txt)$/i.test(name)) return await this.sheetIn.show({ name, text: await sheetTextOf(file) });
      const files = await Promise.all(all.map(async (one) => ({ name: one.name, text: await textOf(one.file) })));
      await this.start(files, true);
    } catch (error) {
      this.tell(error.message, true);
    }
  }

  // Another job in the place of this one; `own` gives it an id of its own in the browser's store.
  start(files, own, asJob = false) {
    return this.next(async () => {
      const job = await this.engine.ask({ ask: 'open', files, as_job: asJob });
      if (job.failed) {
        // a schedule whose heads are not ours can be read all the same
        const foreign = files.length === 1 && /\.csv$/i.test(files[0].name) && job.failed.some((line) => line.includes('heads of its own'));
        if (foreign) this.sheetIn.show(files[0]);
        return this.tell(job.failed.join(' \u2022 '), true);
      }
      if (own) this.kept.take();
      this.past = [];
      this.future = [];
      this.take(job);
      const others = job.unused.length > 0 ? `; the job does not name ${job.unused.slice(0, 5).join(', ')}${job.unused.length > 5 ? ' and others' : ''}` : '';
      this.tell(`${[job.name, ...job.schedules.map((one) => one.name)].join(', ')}: ${job.rows.length} ${job.rows.length === 1 ? 'fitting' : 'fittings'}${others}`);
      this.grid.mark({ row: 0, column: 0 });
    });
  }

  // The job's files as they are: one by itself, several into a folder where the browser can, else in one archive.
  async save() {
    if (!this.job) return;
    const files = filesOf(this.job);
    if (files.length === 1) return hand(files[0].name, files[0].text, 'text/plain');
    const all = files.map(({ name, text }) => [name, text]);
    if ('showDirectoryPicker' in window) {
      const folder = await window.showDirectoryPicker({ mode: 'readwrite' }).catch(() => null);
      if (folder) await writeInto(folder, all, () => {}).catch((error) => this.tell(error.message, true));
    } else hand(this.job.name.replace(/\.[^.]*$/, '') + '.zip', zipped(all), 'application/zip');
  }

  // What is asked of the job comes one after the other.
  next(work) {
    this.line = this.line.then(work).catch((error) => this.tell(error.message, true));
    return this.line;
  }

  // `changes`, or what gives them once all that was asked before is done.
  change(changes, typing = null) {
    return this.next(async () => {
      const before = filesOf(this.job);
      const job = await this.engine.ask({ ask: 'change', changes: typeof changes === 'function' ? changes() : changes });
      if (job.failed) return this.tell(job.failed.join(' \u2022 '), true);
      if (same(filesOf(job), before)) return;
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
      const files = from.pop();
      to.push(filesOf(this.job));
      this.typing = null;
      this.take(await this.engine.ask({ ask: 'open', files }));
    });
  }

  take(job) {
    this.job = job;
    this.keep();
    this.drawJob();
    this.settings.set(job);
    this.make.compare(job);
    this.askFitting();
  }

  keep() {
    if (!this.kept.keep(filesOf(this.job))) byId('other-tab').hidden = false;
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

  // A tag that no fitting has; `same` leaves one that is free as it is.
  freeTag(like, same = false) {
    const tags = new Set(this.job.rows.map((row) => row.cells.tag));
    if (same && !tags.has(like)) return like;
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
    for (const { row, column, value: typed } of cells) {
      if (column === 'state') continue;
      const value = this.writtenIn(row, column, typed);
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

  // In a schedule with semicolons a comma is the file's own mark.
  asInFile(row) {
    const name = this.job.rows[row]?.file ?? this.job.name;
    const schedule = filesOf(this.job).find((file) => file.name === name && /\.csv$/i.test(name));
    return schedule !== undefined && /^[^\n]*;/m.test(schedule.text);
  }

  specOf(row, column) {
    return this.keysOf(this.cellsOf(row).kind).find((key) => key.name === column) ?? this.columns().find((key) => key.name === column);
  }

  writtenIn(row, column, text) {
    return this.asInFile(row) ? text : this.numbers.written(this.specOf(row, column), text);
  }

  shownIn(row, column, text) {
    return this.asInFile(row) ? text : this.numbers.shown(this.specOf(row, column), text);
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

  shownCells(row, cells, columns) {
    if (!this.numbers.comma || this.asInFile(row)) return cells;
    const keys = new Map([...columns.map((key) => [key.name, key]), ...this.keysOf(cells.kind).map((key) => [key.name, key])]);
    return Object.fromEntries(Object.entries(cells).map(([name, text]) => [name, this.numbers.shown(keys.get(name), text)]));
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
        cells: { ...this.shownCells(i, cells, columns), state: can ? 'to be made' : 'not yet' },
        not: columns.map((c) => c.name).filter((name) => !everywhere.has(name) && !keys.has(name) && !(name in cells)),
        wrong: this.wrongIn(i),
      };
    });
    this.grid.set(columns, rows);
    byId('faults').replaceChildren(...job.problems.map((problem) => {
      const item = document.createElement('li');
      const leads = problem.row >= 0 || problem.table >= 0;
      const text = document.createElement(leads ? 'button' : 'span');
      if (leads) {
        text.type = 'button';
        text.addEventListener('click', () => (problem.row >= 0 ? this.grid.go(problem.row) : this.settings.goTo(problem.table)));
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
      this.shownCells(this.chosen, row.cells, this.columns()), this.wrongIn(this.chosen, extra), this.job.units ?? 'mm');
  }

  // What is shown follows the job: the newest state alone, one question after the other, so that keys are not kept waiting.
  async askFitting() {
    this.asked++;
    if (this.looking || !this.job) return;
    this.looking = true;
    while (this.seen !== this.asked) {
      this.seen = this.asked;
      await this.lookAt(this.chosen, this.seen).catch((error) => this.tell(error.message, true));
    }
    this.looking = false;
  }

  async lookAt(row, asked) {
    if (row === null || row >= this.job.rows.length) {
      this.drawForm();
      return this.views.clear([]);
    }
    const answer = await this.engine.ask({ ask: 'fitting', fitting: row });
    if (asked !== this.asked) return; // another one is wanted by now
    if (answer.failed) return this.views.clear(answer.failed);
    this.drawForm(answer.problems);
    if (!answer.live) return this.views.clear(answer.problems.map((problem) => problem.text));
    this.views.set(answer.live);
    if (this.views.shown === 'solids') await this.askScene();
    if (asked === this.asked) await this.askSketch(this.inHand);
  }

  // The outline beside the form, with what changes as the key in hand does.
  async askSketch(key) {
    this.inHand = key;
    const asked = this.asked;
    if (!this.views.live || this.chosen === null) return;
    const answer = await this.engine.ask({ ask: 'sketch', fitting: this.chosen, ...(key ? { key } : {}) });
    if (asked === this.asked && key === this.inHand) this.views.sketch(answer.failed ? '' : answer.svg);
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
    await bench.start(entry?.files ?? [{ name: 'job.toml', text: NEW_JOB }], false);
    document.body.classList.remove('waiting');
    window.bench = bench;
  } catch (error) {
    told.textContent = `The bench does not run here: ${error.message}`;
    told.classList.add('bad');
  }
}

open();
