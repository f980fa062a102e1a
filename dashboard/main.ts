// The way in: tokens for the whole document, then the shell, which fetches each page when it is first asked for.
import './tokens.css';
import { watchPrinting } from './shell/printing.ts';
import { applyTheme } from './shell/theme.ts';
import './shell/shell.ts';

applyTheme();
watchPrinting();
