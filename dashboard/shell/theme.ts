// Light, dark or as the machine is set: kept in this browser, applied to the whole document.
import { say } from '../../shared/language/index.ts';

const KEY = 'counterpoise-theme';

export const THEMES = ['machine', 'light', 'dark'] as const;
export type Theme = (typeof THEMES)[number];

export const THEME_WORDS: Readonly<Record<Theme, string>> = {
  machine: say`auto`,
  light: say`light`,
  dark: say`dark`,
};

export function chosenTheme(): Theme {
  const kept = read();
  return THEMES.find((theme) => theme === kept) ?? 'machine';
}

export function chooseTheme(theme: Theme): void {
  try {
    localStorage.setItem(KEY, theme);
  } catch {
    // Storage is refused in some kiosks: the choice then lasts as long as the page.
  }
  applyTheme(theme);
}

export function applyTheme(theme: Theme = chosenTheme()): void {
  if (theme === 'machine') document.documentElement.removeAttribute('data-theme');
  else document.documentElement.setAttribute('data-theme', theme);
  // Canvases take their colours when they are drawn.
  window.dispatchEvent(new Event('counterpoise-theme'));
}

function read(): string | null {
  try {
    return localStorage.getItem(KEY);
  } catch {
    return null;
  }
}
