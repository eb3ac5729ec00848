// Rows from a spreadsheet with heads of its own: what they are read as, what is asked, and what each becomes.
import { hand } from './bench_files.mjs';

const byId = (id) => document.getElementById(id);
const make = (tag, properties, ...children) => {
  const made = Object.assign(document.createElement(tag), properties);
  made.append(...children);
  return made;
};
const words = (name) => name.replace(/[_.]/g, ' ');

// What can be read in two ways: answer, label, choices.
const ASKED = [
  ['units', 'lengths without a unit', { in: 'inches', mm: 'millimetres' }],
  ['decimal', 'decimal mark', { point: 'point', comma: 'comma' }],
  ['size_is', 'diameters are', { metal: 'the metal\u2019s inside', clear: 'clear after lining', outside: 'the metal\u2019s outside' }],
  ['gores', 'gores are', { all: 'all pieces of a bend', between: 'those between its ends' }],
  ['wye', 'a wye is', { lateral: 'a lateral', y: 'a Y of two legs' }],
  ['tags', 'tags', { rows: 'by the rows' }],
];

export class SheetIn {
  // `does.ask(question)` asks the engine; `does.add(rows)` adds fittings, `does.open(text, name)` opens a job.
  constructor(schema, does) {
    this.does = does;
    const keys = new Map();
    for (const kind of schema.kinds) for (const key of kind.keys) keys.set(key.name, key);
    for (const key of schema.liner) keys.set(key.name, key);
    this.keys = ['tag', 'kind', 'count', 'note', ...keys.keys()].filter((key, i, all) => all.indexOf(key) === i);
    this.box = byId('sheet-in');
    this.box.addEventListener('close', () => (this.sheet = null));
    byId('sheet-answers').append(...ASKED.map(([name, label, choices]) => {
      const select = make('select', { name }, new Option('as the sheet says', ''), ...Object.entries(choices).map(([value, text]) => new Option(text, value)));
      return make('label', { className: 'pair' }, label, select);
    }), make('label', { className: 'pair' }, 'liner', make('input', { name: 'liner', placeholder: 'as the sheet says', size: 8 })));
    byId('sheet-answers').addEventListener('change', () => this.read());
    byId('sheet-answers').addEventListener('submit', (e) => e.preventDefault());
    byId('sheet-columns').addEventListener('change', (e) => {
      this.columns[e.target.dataset.head] = e.target.value;
      this.read();
    });
    byId('sheet-add').addEventListener('click', () => this.end(() => this.does.add(this.found.fittings)));
    byId('sheet-open').addEventListener('click', () => this.end(() => this.does.open(this.found.job_text, this.sheet.name.replace(/\.[^.]*$/, '') + '.toml')));
    byId('sheet-save').addEventListener('click', () => hand(this.sheet.name.replace(/\.[^.]*$/, '') + '.toml', this.found.job_text, 'application/toml'));
    byId('sheet-leave').addEventListener('click', () => this.box.close());
  }

  // `sheet` is {name, text} or {name, rows} with rows of {text, number}.
  show(sheet) {
    this.sheet = sheet;
    this.columns = {};
    byId('sheet-name').textContent = sheet.name;
    byId('sheet-answers').reset();
    if (!this.box.open) this.box.showModal();
    return this.read();
  }

  end(act) {
    act();
    this.box.close();
  }

  async read() {
    const answers = { columns: this.columns };
    for (const entry of byId('sheet-answers').elements) if (entry.name && entry.value) answers[entry.name] = entry.value;
    const found = await this.does.ask({ ask: 'sheet_in', ...this.sheet, answers });
    if (!this.sheet) return;
    this.found = found.failed ? null : found;
    for (const id of ['sheet-add', 'sheet-open', 'sheet-save']) byId(id).disabled = !this.found || this.found.fittings.length === 0;
    // the command line's own answers stand below as choices
    const said = found.failed?.map((line) => line.replace(/ \(allowed: --.*\)$/, '; choose below')) ?? [...found.problems, ...found.left, ...found.assumed, ...found.told_by_job];
    byId('sheet-said').replaceChildren(...said.map((text) => make('li', { textContent: text })));
    byId('sheet-said').className = found.failed || found.problems.length > 0 ? 'fail' : '';
    byId('sheet-told').textContent = found.failed ? 'Nothing is read yet: what stands below is asked.' : `${found.fittings.length} fittings, ${found.told}`;
    if (!this.found) return;
    byId('sheet-columns').tBodies[0].replaceChildren(...found.columns.map((column) => make('tr', {},
      make('th', { scope: 'row', textContent: column.head }),
      make('td', {}, this.choice(column)),
      make('td', { textContent: column.unit }), make('td', { textContent: column.how }))));
    const heads = [...new Set(found.fittings.flatMap((fitting) => Object.keys(fitting)))];
    byId('sheet-rows').tHead.replaceChildren(make('tr', {}, ...heads.map((head) => make('th', { scope: 'col', textContent: words(head) }))));
    byId('sheet-rows').tBodies[0].replaceChildren(...found.fittings.slice(0, 200).map((fitting) =>
      make('tr', {}, ...heads.map((head) => make('td', { textContent: fitting[head] ?? '' })))));
  }

  choice(column) {
    const select = make('select', { ariaLabel: `what ${column.head} means` }, new Option('left out', ''), ...this.keys.map((key) => new Option(words(key), key)));
    if (column.meaning && !this.keys.includes(column.meaning)) select.append(new Option(words(column.meaning), column.meaning));
    select.value = column.meaning;
    select.dataset.head = column.head;
    return select;
  }
}
