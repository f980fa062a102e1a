// Light, dark, high contrast or as the machine is set: kept in this browser, applied to the whole document.
import { say } from '../../shared/language/index.ts';

const KEY = 'counterpoise-theme';

const MORE = '(prefers-contrast: more)';
const DARK = '(prefers-color-scheme: dark)';

export const THEMES = ['machine', 'light', 'dark', 'contrast'] as const;
export type Theme = (typeof THEMES)[number];

export const THEME_WORDS: Readonly<Record<Theme, string>> = {
  machine: say`auto`,
  light: say`light`,
  dark: say`dark`,
  contrast: say`high contrast`,
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
  const root = document.documentElement;
  // High contrast is light or dark as the machine is set.
  if (theme === 'machine' || theme === 'contrast') root.removeAttribute('data-theme');
  else root.setAttribute('data-theme', theme);
  const wantsMore = theme === 'contrast' || (theme === 'machine' && matchMedia(MORE).matches);
  root.toggleAttribute('data-contrast', wantsMore);
  colourTheFrame();
  // Canvases take their colours when they are drawn.
  window.dispatchEvent(new Event('counterpoise-theme'));
}

/** The machine may be set otherwise while the page stands. */
export function watchContrast(): void {
  for (const asked of [MORE, '(forced-colors: active)'])
    matchMedia(asked).addEventListener('change', () => applyTheme());
  matchMedia(DARK).addEventListener('change', colourTheFrame);
}

/** What the browser draws around the page: by itself it would follow the machine, whatever was chosen here. */
function colourTheFrame(): void {
  const ground = getComputedStyle(document.documentElement).backgroundColor;
  for (const frame of document.querySelectorAll<HTMLMetaElement>('meta[name=theme-color]')) frame.content = ground;
}

function read(): string | null {
  try {
    return localStorage.getItem(KEY);
  } catch {
    return null;
  }
}
