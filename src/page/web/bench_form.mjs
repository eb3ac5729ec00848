// The chosen fitting as a form: every key of its kind, greyed defaults, what is wrong beside the field.
const words = (name) => name.replace(/[_.]/g, ' ');

function control(key, value, units) {
  const unit = key[units] ? ` ${key[units]}` : '';
  if (key.choices || key.type === 'flag') {
    const select = document.createElement('select');
    const usual = key.default ?? (key.type === 'flag' ? 'no' : '');
    const all = key.choices ?? ['yes', 'no'];
    const shown = key.type === 'flag' && value ? { true: 'yes', false: 'no' }[value] ?? value : value;
    const given = [...all, ...(shown && !all.includes(shown) ? [shown] : [])];
    select.append(new Option(usual ? `${usual} (usual)` : 'not said', ''), ...given.map((choice) => new Option(choice, choice)));
    select.value = shown ?? '';
    return select;
  }
  const input = document.createElement('input');
  input.value = value ?? '';
  input.placeholder = key.default !== undefined ? key.default : key.needed ? `needed${unit}` : `-${unit}`;
  input.spellcheck = false;
  return input;
}

export class Form {
  // `change(key, value)` is called at every key press; `focused(key)` when a field is entered or left (null).
  constructor(form, does) {
    this.form = form;
    this.does = does;
    this.shown = '';
    form.addEventListener('submit', (e) => e.preventDefault());
    const told = (e) => e.target.name && this.does.change(e.target.name, e.target.value.trim());
    form.addEventListener('input', told);
  }

  // Groups are [title, keys]; wrong is a text by key.
  set(groups, cells, wrong, units) {
    const layout = JSON.stringify([groups.map(([title, keys]) => [title, keys.map((k) => k.name)]), units]);
    if (layout !== this.shown) this.build(groups, units);
    this.shown = layout;
    for (const field of this.form.querySelectorAll('.field')) {
      const name = field.dataset.key;
      const entry = field.querySelector('input, select');
      const fault = field.querySelector('.fault');
      if (document.activeElement !== entry) {
        const key = groups.flatMap(([, keys]) => keys).find((k) => k.name === name);
        if (entry.tagName === 'SELECT') {
          const fresh = control(key, cells[name], units);
          entry.replaceChildren(...fresh.childNodes);
          entry.value = fresh.value;
          if (key.type === 'flag' && cells[name]) entry.value = { true: 'yes', false: 'no' }[cells[name]] ?? cells[name];
          else entry.value = cells[name] ?? '';
        } else entry.value = cells[name] ?? '';
      }
      fault.textContent = wrong[name] ?? '';
      fault.hidden = !wrong[name];
      if (wrong[name]) entry.setAttribute('aria-invalid', 'true');
      else entry.removeAttribute('aria-invalid');
    }
  }

  build(groups, units) {
    this.form.replaceChildren(...groups.filter(([, keys]) => keys.length > 0).map(([title, keys]) => {
      const set = document.createElement('fieldset');
      const legend = document.createElement('legend');
      legend.textContent = title;
      set.append(legend, ...keys.map((key) => {
        const field = document.createElement('div');
        field.className = key.needed ? 'field needed' : 'field';
        field.dataset.key = key.name;
        const label = document.createElement('label');
        const entry = control(key, '', units);
        entry.id = label.htmlFor = `field-${key.name}`;
        entry.name = key.name;
        label.textContent = words(key.name);
        const help = document.createElement('small');
        help.id = `help-${key.name}`;
        help.textContent = key.help;
        const fault = document.createElement('small');
        fault.className = 'fault';
        fault.id = `fault-${key.name}`;
        fault.hidden = true;
        entry.setAttribute('aria-describedby', `${fault.id} ${help.id}`);
        field.append(label, entry, help, fault);
        return field;
      }));
      return set;
    }));
  }

  clear() {
    this.form.replaceChildren();
    this.shown = '';
  }
}
