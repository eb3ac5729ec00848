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

export function theme() {
  return document.documentElement.dataset.theme;
}

function apply(name, told) {
  document.documentElement.dataset.theme = name;
  for (const button of document.querySelectorAll('[data-theme-switch]'))
    button.textContent = name === 'dark' ? 'Light' : 'Dark';
  if (told) told(name);
}

// Sets the theme and wires the switch; `told` hears of every change.
export function startTheme(told) {
  apply(kept() ?? (system.matches ? 'dark' : 'light'), told);
  system.addEventListener('change', () => {
    if (!kept()) apply(system.matches ? 'dark' : 'light', told);
  });
  for (const button of document.querySelectorAll('[data-theme-switch]'))
    button.addEventListener('click', () => {
      const name = theme() === 'dark' ? 'light' : 'dark';
      try {
        localStorage.setItem(KEY, name);
      } catch {
        // it then lasts as long as the page is open
      }
      apply(name, told);
    });
}
