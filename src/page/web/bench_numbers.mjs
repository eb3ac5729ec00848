// Numbers with a comma or a point: how a person writes them and how the job's text has them.
const KEY = 'linerwright-bench-decimal';

function kept() {
  try {
    return localStorage.getItem(KEY);
  } catch {
    return null; // it then lasts as long as the page is open
  }
}

export class Numbers {
  constructor() {
    this.comma = (kept() ?? (new Intl.NumberFormat().format(0.5)[1] === ',' ? 'comma' : 'point')) === 'comma';
  }

  set(comma) {
    this.comma = comma;
    try {
      localStorage.setItem(KEY, comma ? 'comma' : 'point');
    } catch {
      // as above
    }
  }

  // Of a key that holds numbers.
  shown(key, text) {
    return this.comma && isNumber(key) ? text.replace(/(\d)\.(?=\d)/g, '$1,') : text;
  }

  // "12,5" is 12.5 where commas are chosen; "1,200.5" is left for the reader to refuse.
  written(key, text) {
    return this.comma && isNumber(key) && !text.includes('.') ? text.replace(/(\d),(?=\d)/g, '$1.') : text;
  }
}

const isNumber = (key) => key?.type === 'quantity' || key?.type === 'integer';
