// What holds for the whole job: [job], [liner], [[stock]] and the other tables, each as a form.
import { Form } from './bench_form.mjs';

const words = (name) => name.replace(/[_.]/g, ' ');
const button = (text, act, pressed) => {
  const made = Object.assign(document.createElement('button'), { type: 'button', textContent: text });
  if (pressed !== undefined) made.ariaPressed = String(pressed);
  made.addEventListener('click', act);
  return made;
};

export class Settings {
  // `does.change(changes, typing)` changes the job; `does.asJob()` makes a job file of a schedule.
  constructor(box, schema, does, numbers) {
    this.tables = schema.tables;
    this.does = does;
    this.numbers = numbers;
    this.at = { table: 'job', index: 0 };
    [this.tabs, this.line, this.formBox] = box.querySelectorAll('[data-of]');
    this.form = new Form(this.formBox, {
      change: (key, value) => {
        const { table, index } = this.at;
        const spec = this.tables.find((one) => one.table === table).keys.find((one) => one.name === key);
        this.does.change([{ do: 'set_table', table, index, key, value: this.numbers.written(spec, value) }], `${table} ${index} ${key}`);
      },
    }, 'table');
  }

  // Those that the job has of a table, in the order of its text.
  of(table) {
    return this.job.tables.map((one, place) => ({ ...one, place })).filter((one) => one.table === table);
  }

  set(job) {
    this.job = job;
    const { at } = this;
    const listed = this.tables.find((one) => one.table === at.table).listed;
    if (listed && at.index >= this.of(at.table).length) this.at = { table: 'job', index: 0 };
    this.draw();
  }

  go(table, index) {
    this.at = { table, index };
    this.draw();
  }

  // To the table in which a problem stands, counted in the job's text.
  goTo(place) {
    const { table } = this.job.tables[place];
    if (!this.tables.some((one) => one.table === table)) return;
    this.go(table, this.of(table).findIndex((one) => one.place === place));
    this.tabs.scrollIntoView({ block: 'nearest' });
  }

  draw() {
    const { job, at } = this;
    this.line.replaceChildren();
    if (job.is_schedule) {
      this.tabs.replaceChildren();
      this.form.clear();
      this.line.append('A schedule holds fittings alone. ', button('Make a job file of it', () => this.does.asJob()));
      return;
    }
    const wrong = new Set(job.problems.filter((problem) => problem.table >= 0).map((problem) => problem.table));
    this.tabs.replaceChildren(...this.tables.flatMap(({ table, listed }) => {
      const there = this.of(table);
      const mark = (one) => (one && wrong.has(one.place) ? ' !' : '');
      if (!listed) return [button(words(table) + mark(there[0]), () => this.go(table, 0), at.table === table)];
      return there.map((one, i) => button(`${words(table)} ${i + 1}${mark(one)}`, () => this.go(table, i), at.table === table && at.index === i));
    }));
    const spec = this.tables.find((one) => one.table === at.table);
    for (const { table, listed } of this.tables)
      if (listed) this.line.append(button(`Add ${words(table)}`, () => this.add(table)), ' ');
    const here = this.of(at.table)[at.index];
    if (spec.listed && here) this.line.append(button(`Take out ${words(at.table)} ${at.index + 1}`, () => this.remove()));
    const faults = {};
    for (const problem of job.problems)
      if (here && problem.table === here.place && problem.key) faults[problem.key] ??= problem.text;
    const first = spec.keys.filter((key) => key.needed);
    const cells = Object.fromEntries(Object.entries(here?.cells ?? {}).map(([name, text]) =>
      [name, this.numbers.shown(spec.keys.find((key) => key.name === name), text)]));
    this.form.set([['Needed', first], ['What may be said', spec.keys.filter((key) => !key.needed)]], cells, faults, job.units ?? 'mm');
  }

  add(table) {
    const spec = this.tables.find((one) => one.table === table);
    const values = {};
    for (const key of spec.keys) if (key.needed || (key.sample && key.default === undefined)) values[key.name] = key.sample ?? '';
    const next = this.of(table).length;
    this.does.change([{ do: 'add_table', table, values }]).then(() => this.of(table).length > next && this.go(table, next));
  }

  remove() {
    const { table, index } = this.at;
    this.does.change([{ do: 'remove_table', table, index }]);
  }
}
