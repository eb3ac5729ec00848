// The job page: sorting and filtering the table of fittings.
import { startTheme } from './theme.mjs';

const byId = (id) => document.getElementById(id);
const order = new Intl.Collator(undefined, { numeric: true, sensitivity: 'base' });

function sorting(table) {
  const body = table.tBodies[0];
  const heads = [...table.tHead.rows[0].cells];
  heads.forEach((head, column) => {
    if (!head.dataset.by) return;
    const button = document.createElement('button');
    button.type = 'button';
    button.append(...head.childNodes);
    head.append(button);
    head.setAttribute('aria-sort', 'none');
    const key = (row) => {
      const cell = row.cells[column];
      const text = cell.dataset.sort ?? cell.textContent;
      return head.dataset.by === 'number' ? parseFloat(text) || 0 : text;
    };
    button.addEventListener('click', () => {
      const down = head.getAttribute('aria-sort') === 'ascending';
      for (const other of heads) if (other.dataset.by) other.setAttribute('aria-sort', 'none');
      head.setAttribute('aria-sort', down ? 'descending' : 'ascending');
      const sign = down ? -1 : 1;
      const rows = [...body.rows].map((row) => [key(row), row]);
      rows.sort(([a], [b]) => sign * (typeof a === 'number' ? a - b : order.compare(a, b)));
      body.append(...rows.map(([, row]) => row));
    });
  });
}

function filtering(table) {
  const rows = [...table.tBodies[0].rows].map((row) => [row, row.textContent.toLowerCase()]);
  const find = byId('find'), kind = byId('kind'), noted = byId('noted');
  const apply = () => {
    const words = find.value.toLowerCase().split(/\s+/).filter(Boolean);
    let shown = 0;
    for (const [row, text] of rows) {
      row.hidden = !(
        words.every((word) => text.includes(word)) &&
        (kind.value === '' || row.dataset.kind === kind.value) &&
        (!noted.checked || row.dataset.noted === '1')
      );
      if (!row.hidden) shown++;
    }
    byId('shown').textContent = shown === rows.length ? `all ${shown} lines` : `${shown} of ${rows.length} lines`;
  };
  for (const control of [find, kind, noted]) control.addEventListener('input', apply);
  find.form.hidden = false;
  find.form.addEventListener('submit', (e) => e.preventDefault());
  apply();
}

document.addEventListener('DOMContentLoaded', () => {
  startTheme();
  const table = byId('list');
  sorting(table);
  filtering(table);
  for (const button of document.querySelectorAll('[data-print]')) button.addEventListener('click', () => window.print());
});
