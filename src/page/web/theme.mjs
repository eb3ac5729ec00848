// Light and dark: as the system says until a person chooses.
const KEY = 'linerwright-theme';
const system = window.matchMedia('(prefers-color-scheme: dark)');

function kept() {
  try {
    return localStorage.getItem(KEY);
  } catch {
    return null; // some browsers keep nothing for pages opened from disk
  }
}

function wanted() {
  return kept() ?? (system.matches ? 'dark' : 'light');
}

export function theme() {
  return document.documentElement.dataset.theme;
}

// Before anything is drawn.
document.documentElement.dataset.theme = wanted();

// Wires the switch; `told` hears of the theme now and at every change.
export function startTheme(told) {
  const apply = (name) => {
    document.documentElement.dataset.theme = name;
    for (const button of document.querySelectorAll('[data-theme-switch]'))
      button.textContent = name === 'dark' ? 'Light' : 'Dark';
    if (told) told(name);
  };
  apply(wanted());
  system.addEventListener('change', () => apply(wanted()));
  for (const button of document.querySelectorAll('[data-theme-switch]'))
    button.addEventListener('click', () => {
      const name = theme() === 'dark' ? 'light' : 'dark';
      try {
        localStorage.setItem(KEY, name);
      } catch {
        // it then lasts as long as the page is open
      }
      apply(name);
    });
}
