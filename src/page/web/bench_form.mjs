// Keys as a form: greyed defaults, help, what is wrong beside the field.
const words = (name) => name.replace(/[_.]/g, ' ');
const asShown = (key, value) => (key.type === 'flag' ? { true: 'yes', false: 'no' }[value] ?? value : value);

function options(key, value) {
  const usual = key.default ?? (key.type === 'flag' ? 'no' : '');
  const all = key.choices ?? ['yes', 'no'];
  const given = [...all, ...(value && !all.includes(value) ? [value] : [])];
  return [new Option(usual ? `${usual} (usual)` : 'not said', ''), ...given.map((choice) => new Option(choice, choice))];
}

function control(key, units) {
  if (key.choices || key.type === 'flag') return document.createElement('select');
  const unit = key[units] ? ` ${key[units]}` : '';
  const input = document.createElement('input');
  input.placeholder = key.default !== undefined ? key.default : key.needed ? `needed${unit}` : `-${unit}`;
  input.spellcheck = false;
  return input;
}

export class Form {
  // `change(key, value)` is called at every key press; `focused(key)` when a field is entered or left (null).
  constructor(form, does, prefix = 'field') {
    this.form = form;
    this.does = does;
    this.prefix = prefix;
    this.shown = '';
    form.addEventListener('submit', (e) => e.preventDefault());
    form.addEventListener('input', (e) => e.target.name && this.does.change(e.target.name, e.target.value.trim()));
    form.addEventListener('focusin', (e) => this.does.focused?.(e.target.name || null));
    form.addEventListener('focusout', () => this.does.focused?.(null));
  }

  // Groups are [title, keys]; wrong is a text by key.
  set(groups, cells, wrong, units) {
    const layout = JSON.stringify([groups.map(([title, keys]) => [title, keys.map((k) => k.name)]), units]);
    if (layout !== this.shown) this.build(groups, units);
    this.shown = layout;
    for (const [, keys] of groups) for (const key of keys) {
      const { field, entry } = this.fields.get(key.name);
      if (document.activeElement !== entry) {
        const value = asShown(key, cells[key.name] ?? '');
        if (entry.tagName === 'SELECT') entry.replaceChildren(...options(key, value));
        entry.value = value;
      }
      const fault = field.querySelector('.fault');
      fault.textContent = wrong[key.name] ?? '';
      fault.hidden = !wrong[key.name];
      if (wrong[key.name]) entry.setAttribute('aria-invalid', 'true');
      else entry.removeAttribute('aria-invalid');
    }
  }

  build(groups, units) {
    this.fields = new Map();
    this.form.replaceChildren(...groups.filter(([, keys]) => keys.length > 0).map(([title, keys]) => {
      const set = document.createElement('fieldset');
      const legend = document.createElement('legend');
      legend.textContent = title;
      set.append(legend, ...keys.map((key) => this.field(key, units)));
      return set;
    }));
  }

  field(key, units) {
    const field = document.createElement('div');
    field.className = key.needed ? 'field needed' : 'field';
    field.dataset.key = key.name;
    const label = document.createElement('label');
    const entry = control(key, units);
    entry.id = label.htmlFor = `${this.prefix}-${key.name}`;
    entry.name = key.name;
    label.textContent = words(key.name);
    const help = document.createElement('small');
    help.id = `${this.prefix}-help-${key.name}`;
    help.textContent = key.help;
    const fault = document.createElement('small');
    fault.className = 'fault';
    fault.id = `${this.prefix}-fault-${key.name}`;
    fault.hidden = true;
    entry.setAttribute('aria-describedby', `${fault.id} ${help.id}`);
    field.append(label, entry, help, fault);
    this.fields.set(key.name, { field, entry });
    return field;
  }

  clear() {
    this.form.replaceChildren();
    this.shown = '';
  }
}
