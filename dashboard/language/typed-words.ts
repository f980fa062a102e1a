// What somebody has typed into a field of the page and not sent yet: asked about before the page begins anew.

type TextField = HTMLInputElement | HTMLTextAreaElement;

const typedInto = new Set<TextField>();
/** Where nothing is lost: what is looked for, and what is pressed or drawn instead of typed. */
const NOT_TYPED = new Set(['search', 'range', 'checkbox', 'radio', 'file', 'button', 'submit', 'color']);

const isTextField = (target: EventTarget | undefined): target is TextField =>
  target instanceof HTMLTextAreaElement || (target instanceof HTMLInputElement && !NOT_TYPED.has(target.type));

/** From here on it is remembered which fields were typed into, whichever element's own tree they stand in. */
export function watchTyping(): void {
  document.addEventListener('input', (event) => {
    const [field] = event.composedPath();
    for (const one of typedInto) if (!one.isConnected) typedInto.delete(one);
    if (isTextField(field)) typedInto.add(field);
  });
}

/** Whether a field that is still on the page holds what was typed into it. */
export function wordsAreTyped(): boolean {
  return [...typedInto].some(
    (field) => field.isConnected && field.value.trim() !== '' && field.closest('[role="search"]') === null,
  );
}
