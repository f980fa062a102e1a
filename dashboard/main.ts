// The way in: tokens for the whole document, then the language, then the shell, which fetches each page when it is first asked for.
import './tokens.css';
import { keepShell } from './installed/register.ts';
import { beginToSpeak } from './language/begin.ts';
import { watchTyping } from './language/typed-words.ts';

await beginToSpeak();
// Whatever makes texts is read only now.
const [{ applyTheme, watchContrast }, { watchPrinting }] = await Promise.all([
  import('./shell/theme.ts'),
  import('./shell/printing.ts'),
  import('./shell/shell.ts'),
]);
applyTheme();
watchContrast();
watchPrinting();
watchTyping();
keepShell();
