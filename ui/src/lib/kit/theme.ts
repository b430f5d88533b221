/** Light or dark: the system's choice, unless the person at the desk makes another. */

export type Theme = 'system' | 'light' | 'dark';

const SETTING = 'tearoff.theme';

/** The choice made earlier, or the system's. */
export function chosenTheme(): Theme {
  try {
    const kept = localStorage.getItem(SETTING);
    return kept === 'light' || kept === 'dark' ? kept : 'system';
  } catch {
    return 'system';
  }
}

/** Makes the page light or dark, and keeps the choice for the next start. */
export function setTheme(theme: Theme): void {
  if (theme === 'system') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme;
  try {
    localStorage.setItem(SETTING, theme);
  } catch {
    // Without storage the choice holds until the window is closed.
  }
}
