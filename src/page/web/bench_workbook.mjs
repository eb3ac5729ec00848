// The cells of a workbook (ISO/IEC 29500): values of its first sheet that is shown, merged cells repeated downwards.
import { strFromU8, unzipSync } from 'fflate';

const LARGEST_PART = 24 << 20; // unpacked
const MOST_ROWS = 50000, MOST_COLUMNS = 1000;

const local = (node, name) => [...node.getElementsByTagNameNS('*', name)];

// "BC12": row 11, column 54.
function place(address) {
  const [, letters, digits] = /^([A-Z]{1,3})(\d{1,7})$/.exec(address) ?? [];
  if (!letters) return null;
  let column = 0;
  for (const letter of letters) column = 26 * column + letter.charCodeAt(0) - 64;
  return { row: Number(digits) - 1, column: column - 1 };
}

export function cellsOfWorkbook(bytes, name) {
  const refuse = (why) => new Error(`${name}: ${why}`);
  let parts;
  try {
    parts = unzipSync(bytes, { filter: (part) => {
      if (!/^xl\/(workbook|sharedStrings|_rels\/workbook|worksheets\/[^/]+)\.xml(\.rels)?$/.test(part.name)) return false;
      if (part.originalSize > LARGEST_PART) throw refuse('is too large unpacked');
      return true;
    } });
  } catch (error) {
    throw error.message.startsWith(name) ? error : refuse('is no workbook that can be read');
  }
  const xml = (path) => {
    if (!parts[path]) throw refuse(`has no ${path}`);
    const document = new DOMParser().parseFromString(strFromU8(parts[path]), 'application/xml');
    if (document.querySelector('parsererror')) throw refuse(`${path} is no XML`);
    return document;
  };
  const sheet = local(xml('xl/workbook.xml'), 'sheet').find((one) => !['hidden', 'veryHidden'].includes(one.getAttribute('state')));
  if (!sheet) throw refuse('shows no sheet');
  const id = [...sheet.attributes].find((one) => one.localName === 'id')?.value;
  const target = local(xml('xl/_rels/workbook.xml.rels'), 'Relationship').find((one) => one.getAttribute('Id') === id)?.getAttribute('Target');
  if (!target) throw refuse('does not say where its sheet is');
  const shared = parts['xl/sharedStrings.xml']
    ? local(xml('xl/sharedStrings.xml'), 'si').map((si) => local(si, 't').filter((t) => t.parentNode.localName !== 'rPh').map((t) => t.textContent).join(''))
    : [];
  const page = xml(target.startsWith('/') ? target.slice(1) : `xl/${target}`);
  const rows = [];
  const put = (row, column, cell) => {
    if (row >= MOST_ROWS || column >= MOST_COLUMNS) throw refuse(`has more than ${MOST_ROWS} rows or ${MOST_COLUMNS} columns`);
    while (rows.length <= row) rows.push([]);
    while (rows[row].length <= column) rows[row].push({ text: '', number: false });
    rows[row][column] = cell;
  };
  for (const c of local(page, 'c')) {
    const at = place(c.getAttribute('r') ?? '');
    const type = c.getAttribute('t') ?? 'n';
    const value = local(c, type === 'inlineStr' ? 't' : 'v').map((one) => one.textContent).join('');
    if (!at || value === '') continue;
    const number = type === 'n';
    const text = type === 's' ? shared[Number(value)] ?? '' : number ? String(Number(value)) : value;
    put(at.row, at.column, { text: text.trim(), number });
  }
  for (const merged of local(page, 'mergeCell')) {
    const [from, to] = (merged.getAttribute('ref') ?? '').split(':').map(place);
    if (!from || !to || from.column !== to.column) continue;
    const cell = rows[from.row]?.[from.column];
    for (let row = from.row + 1; cell && row <= to.row && row < rows.length; row++) put(row, from.column, cell);
  }
  return rows;
}
