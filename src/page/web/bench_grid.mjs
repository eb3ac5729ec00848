// Whether the first of the rows names what stands below it: words alone, and numbers under some of them.
function hasHeads([first, ...rest]) {
  const number = (cell) => /^[-+.\u00d8\u2300]?\s*\d/.test(cell ?? '');
  if (rest.length === 0 || first.length < 2 || first.some(number)) return false;
  return first.some((head, k) => head !== '' && 2 * rest.filter((row) => number(row[k])).length > rest.length);
}

// The table of fittings: cells to move among, write into and paste over. It knows rows and columns, not what they mean.
export class Grid {
  // `does` hears: change([{row, column, value}]), choose(row), foreign(text) of a sheet with heads of its own. Rows are {cells, not, wrong}: texts by column, columns that a row
  // does not have, and those that are wrong. The row after the last is where new ones are written.
  constructor(table, does) {
    this.table = table;
    this.does = does;
    this.columns = [];
    this.rows = [];
    this.order = []; // rows as they are shown
    this.at = { row: 0, column: 0 }; // place in `order`, place in `columns`
    this.sorted = null;
    this.only = '';
    table.addEventListener('keydown', (e) => this.key(e));
    table.addEventListener('dblclick', (e) => this.edit(this.placeOf(e.target)));
    table.addEventListener('pointerdown', (e) => {
      const place = this.placeOf(e.target);
      if (place && !(e.target instanceof HTMLInputElement)) this.focus(place.row, place.column);
    });
    table.addEventListener('focusin', (e) => {
      const place = this.placeOf(e.target);
      if (place && !(e.target instanceof HTMLInputElement)) this.mark(place);
    });
    table.addEventListener('paste', (e) => this.paste(e));
    table.addEventListener('copy', (e) => {
      if (this.input) return;
      e.preventDefault();
      e.clipboardData.setData('text/plain', this.textAt(this.at));
    });
  }

  set(columns, rows) {
    if (this.input) {
      this.waiting = [columns, rows]; // until what is being written is kept or not
      return;
    }
    const chosen = this.order[this.at.row] ?? rows.length;
    const focused = this.table.contains(document.activeElement) && !this.input;
    this.columns = columns;
    this.rows = rows;
    this.arrange();
    const row = this.order.indexOf(chosen);
    this.at = { row: row < 0 ? Math.min(this.at.row, this.order.length) : row, column: Math.min(this.at.column, columns.length - 1) };
    this.draw();
    if (focused) this.focus(this.at.row, this.at.column);
  }

  arrange() {
    const shows = (i) => this.only === '' || Object.values(this.rows[i].cells).some((cell) => cell.toLowerCase().includes(this.only));
    this.order = [...this.rows.keys()].filter(shows);
    if (this.sorted === null) return;
    const { column, way } = this.sorted;
    const text = (i) => this.rows[i].cells[column] ?? '';
    this.order.sort((a, b) => way * text(a).localeCompare(text(b), undefined, { numeric: true }) || a - b);
  }

  filter(text) {
    this.only = text.trim().toLowerCase();
    this.arrange();
    this.at.row = Math.min(this.at.row, this.order.length);
    this.draw();
  }

  sort(column) {
    if (this.sorted?.column !== column) this.sorted = { column, way: 1 };
    else this.sorted = this.sorted.way === 1 ? { column, way: -1 } : null;
    this.arrange();
    this.draw();
  }

  draw() {
    const head = document.createElement('tr');
    this.columns.forEach(({ name, title, help }) => {
      const cell = document.createElement('th');
      cell.scope = 'col';
      if (this.sorted?.column === name) cell.ariaSort = this.sorted.way === 1 ? 'ascending' : 'descending';
      const button = document.createElement('button');
      button.type = 'button';
      button.textContent = title;
      button.title = help;
      button.tabIndex = -1;
      button.addEventListener('click', () => this.sort(name));
      cell.append(button);
      head.append(cell);
    });
    this.table.tHead.replaceChildren(head);
    const known = this.drawn ?? new Map();
    this.drawn = new Map();
    const names = this.columns.map((c) => c.name).join();
    const lines = [...this.order, this.rows.length].map((i) => {
      // a row that has not changed keeps its element
      const says = JSON.stringify([names, i < this.rows.length ? this.rows[i] : null]);
      const line = known.get(i)?.says === says ? known.get(i).line : this.line(i);
      this.drawn.set(i, { says, line });
      return line;
    });
    this.table.tBodies[0].replaceChildren(...lines);
    this.mark(this.at);
  }

  line(i) {
    const row = this.rows[i];
    const line = document.createElement('tr');
    this.columns.forEach(({ name, fixed }) => {
      const cell = document.createElement('td');
      cell.setAttribute('role', 'gridcell');
      cell.tabIndex = -1;
      cell.textContent = row?.cells[name] ?? '';
      if (row && row.not.includes(name)) {
        cell.className = 'not';
        cell.ariaReadOnly = 'true';
        cell.ariaLabel = `no ${name} in this kind`;
      }
      if (fixed) cell.ariaReadOnly = 'true';
      if (row && row.wrong[name]) {
        cell.classList.add('wrong');
        cell.ariaInvalid = 'true';
        cell.title = row.wrong[name];
      }
      if (!row && name === this.columns[0].name) cell.ariaLabel = 'a new fitting';
      line.append(cell);
    });
    return line;
  }

  placeOf(element) {
    const cell = element.closest?.('td');
    if (!cell) return null;
    return { row: [...this.table.tBodies[0].rows].indexOf(cell.parentElement), column: cell.cellIndex };
  }

  cell({ row, column }) {
    return this.table.tBodies[0].rows[row]?.cells[column];
  }

  textAt({ row, column }) {
    return this.rows[this.order[row]]?.cells[this.columns[column].name] ?? '';
  }

  // Which cell has the table's one place among the page's tab stops.
  mark(place) {
    const before = this.marked;
    if (before) before.tabIndex = -1;
    this.at = place;
    this.marked = this.cell(place);
    if (!this.marked) return;
    this.marked.tabIndex = 0;
    for (const line of this.table.tBodies[0].querySelectorAll('.chosen')) line.classList.remove('chosen');
    this.marked.parentElement.classList.add('chosen');
    this.does.choose(this.order[place.row] ?? null);
  }

  focus(row, column) {
    const to = { row: Math.max(0, Math.min(row, this.order.length)), column: Math.max(0, Math.min(column, this.columns.length - 1)) };
    this.mark(to);
    this.cell(to)?.focus();
  }

  go(row) {
    const place = this.order.indexOf(row);
    if (place >= 0) this.focus(place, this.at.column);
  }

  may(place) {
    const column = this.columns[place.column];
    const row = this.rows[this.order[place.row]];
    return column && !column.fixed && !(row && row.not.includes(column.name));
  }

  edit(place, first) {
    if (!place || !this.may(place)) return;
    this.mark(place);
    const column = this.columns[place.column];
    const cell = this.cell(place);
    const input = document.createElement('input');
    input.value = first ?? this.textAt(place);
    input.ariaLabel = `${column.title}, ${this.textAt({ row: place.row, column: 0 }) || 'a new fitting'}`;
    if (column.choices) {
      const list = document.createElement('datalist');
      list.id = 'cell-choices';
      list.append(...column.choices.map((choice) => Object.assign(document.createElement('option'), { value: choice })));
      cell.append(list);
      input.setAttribute('list', list.id);
    }
    cell.append(input);
    this.input = input;
    input.focus();
    if (first === undefined) input.select();
    const end = (keep) => {
      if (this.input !== input) return;
      this.input = null;
      const value = input.value.trim();
      input.remove();
      cell.querySelector('datalist')?.remove();
      if (this.waiting) this.set(...this.waiting);
      this.waiting = null;
      if (keep && value !== (this.rows[this.order[place.row]]?.cells[column.name] ?? ''))
        this.does.change([{ row: this.order[place.row] ?? this.rows.length, column: column.name, value }]);
    };
    input.addEventListener('blur', () => end(true));
    input.addEventListener('keydown', (e) => {
      const down = e.key === 'Enter' ? (e.shiftKey ? -1 : 1) : 0, across = e.key === 'Tab' ? (e.shiftKey ? -1 : 1) : 0;
      if (down === 0 && across === 0 && e.key !== 'Escape') return e.stopPropagation();
      e.preventDefault();
      e.stopPropagation();
      end(e.key !== 'Escape');
      this.focus(place.row + down, place.column + across);
    });
  }

  key(e) {
    if (this.input || e.ctrlKey || e.metaKey || e.altKey || !this.placeOf(e.target)) return;
    const { row, column } = this.at;
    const page = 10;
    const moves = {
      ArrowUp: [row - 1, column], ArrowDown: [row + 1, column], ArrowLeft: [row, column - 1], ArrowRight: [row, column + 1],
      Home: [row, 0], End: [row, this.columns.length - 1], PageUp: [row - page, column], PageDown: [row + page, column],
    };
    if (moves[e.key]) this.focus(...moves[e.key]);
    else if (e.key === 'Enter' || e.key === 'F2') this.edit(this.at);
    else if (e.key === 'Delete' || e.key === 'Backspace') {
      if (this.may(this.at) && this.textAt(this.at) !== '')
        this.does.change([{ row: this.order[row], column: this.columns[column].name, value: '' }]);
    } else if (e.key.length === 1) this.edit(this.at, e.key);
    else return;
    e.preventDefault();
  }

  // Rows of cells from a spreadsheet, from the marked cell on; a first row that names columns says where each cell goes. Cells
  // under heads of their own are whoever hears `foreign`'s.
  paste(e) {
    if (this.input) return;
    const text = e.clipboardData.getData('text/plain').replace(/\r\n?/g, '\n').replace(/\n$/, '');
    if (text === '') return;
    e.preventDefault();
    const block = text.split('\n').map((line) => line.split('\t').map((cell) => cell.trim()));
    const heads = block[0].map((name) => name.toLowerCase().replace(/[\s-]+/g, '_'));
    const named = heads.includes('tag') && heads.includes('kind');
    if (!named && hasHeads(block)) this.does.foreign(text);
    else this.lay(block, named ? heads : null);
  }

  lay(block, named) {
    const columns = named ?? block[0].map((_, k) => this.columns[this.at.column + k]?.name);
    const changes = [];
    block.slice(named ? 1 : 0).forEach((line, i) => {
      const place = named ? this.order.length + i : this.at.row + i;
      const row = this.order[place] ?? this.rows.length + place - this.order.length;
      line.forEach((value, k) => {
        const column = columns[k];
        if (!column || this.columns.find((c) => c.name === column)?.fixed) return;
        if (row < this.rows.length ? (this.rows[row].cells[column] ?? '') !== value : value !== '')
          changes.push({ row, column, value });
      });
    });
    if (changes.length > 0) this.does.change(changes);
  }
}
